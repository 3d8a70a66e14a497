package panel

import (
	"fmt"
	"strings"
	"time"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// FindingsPanel lists what is wrong, by kind, worst first. While a pivot is held there is room for four lines only: the worst in two,
// then what else there is, then what was checked.
type FindingsPanel struct {
	widget.BaseWidget
	h       *Host
	ground  *look.Plate
	scroll  *container.Scroll
	calm    fyne.CanvasObject
	list    *FindingList
	brief   *briefRow
	checked *checkedRow
	short   bool
	late    bool // the list is older than the study: it is not seen
	live    bool // what is shown is of the geometry as it stands
	refusal string
	at      time.Time // shown since
}

// calm is how long figures that are not of the geometry as it stands are left as they are, so that they can be read while a hand moves.
const calm = 250 * time.Millisecond

// NewFindings makes the panel.
func NewFindings(h *Host) *FindingsPanel {
	p := &FindingsPanel{h: h, ground: look.NewPlate(ink.Panel), list: NewFindingList(h)}
	p.scroll = p.list.Scroll
	p.calm = look.Calm(p.scroll)
	p.brief = newBriefRow(h)
	p.checked = newCheckedRow(h)
	p.ExtendBaseWidget(p)
	p.Update(^document.Change(0))
	return p
}

// Update looks at what changed.
func (p *FindingsPanel) Update(c document.Change) {
	s, _ := p.h.Doc.Study()
	live := p.h.Doc.Freshness().Live
	if !live && !p.live && s.Refusal == p.refusal && time.Since(p.at) < calm {
		return
	}
	p.live, p.refusal, p.at, p.late = live, s.Refusal, time.Now(), true
	p.brief.set(s, live)
	p.checked.set(s, live)
	if !p.short && p.catchUp() { // other lines end elsewhere
		p.Refresh()
	}
}

// catchUp brings the list up to date, and tells whether any words changed.
func (p *FindingsPanel) catchUp() bool {
	if !p.late {
		return false
	}
	p.late = false
	s, _ := p.h.Doc.Study()
	high := p.list.Box.MinSize().Height
	if !p.list.Update(s, p.live) {
		return false
	}
	if p.list.Box.MinSize().Height != high {
		p.scroll.Refresh()
	}
	return true
}

// Texts are the findings' words.
func (p *FindingsPanel) Texts() []string {
	p.catchUp()
	return p.list.Texts()
}

// Checked is the line of what was checked.
func (p *FindingsPanel) Checked() string { return p.checked.Text() }

// CreateRenderer is the toolkit's.
func (p *FindingsPanel) CreateRenderer() fyne.WidgetRenderer {
	p.ExtendBaseWidget(p)
	return &findingsRenderer{p}
}

type findingsRenderer struct{ p *FindingsPanel }

const briefHeight = 110 // below this the panel is brief

func (r *findingsRenderer) Layout(s fyne.Size) {
	p := r.p
	p.ground.Resize(s)
	if p.short = s.Height < briefHeight; !p.short {
		p.catchUp()
	}
	look.Show(p.brief, p.short)
	look.Show(p.calm, !p.short)
	p.checked.short = p.short
	h := p.checked.HeightFor(s.Width)
	if p.short {
		h = 24
		p.brief.Move(fyne.NewPos(0, 0))
		p.brief.Resize(fyne.NewSize(s.Width, s.Height-h))
	} else {
		p.calm.Move(fyne.NewPos(0, 2))
		p.calm.Resize(fyne.NewSize(s.Width, p.list.whole(s.Width, max(0, s.Height-h-2))))
	}
	p.checked.Move(fyne.NewPos(0, s.Height-h))
	p.checked.Resize(fyne.NewSize(s.Width, h))
	p.checked.Refresh()
}
func (r *findingsRenderer) MinSize() fyne.Size { return fyne.NewSize(200, 84) }
func (r *findingsRenderer) Refresh()           { r.Layout(r.p.Size()) }
func (r *findingsRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.p.ground, r.p.calm, r.p.brief, r.p.checked}
}
func (r *findingsRenderer) Destroy() {}

// FindingList is the rows of findings; the panel and the drawer share it.
type FindingList struct {
	h      *Host
	Box    *fyne.Container
	Scroll *container.Scroll // that holds Box
	rows   []*findingRow
	said   []string // what each row shows
	rule   *headRow
	aside  *headRow
	none   *headRow
	last   string
}

// NewFindingList makes the rows.
func NewFindingList(h *Host) *FindingList {
	l := &FindingList{h: h, Box: container.New(&look.Stack{Above: 2, Below: 4}), rule: newHeadRow(study.Outside.String(), true), aside: newHeadRow(words.T("Set aside"), true), none: newHeadRow("", false)}
	l.Scroll = container.NewVScroll(l.Box)
	return l
}

// Update puts the findings of a study into the rows and tells whether any words changed; equal ones cost nothing.
func (l *FindingList) Update(s *study.Study, live bool) (changed bool) {
	var key strings.Builder
	fmt.Fprint(&key, live, s.Refusal, s.RangeNote)
	for i := range s.Findings {
		f := &s.Findings[i]
		fmt.Fprintf(&key, "|%d%s%s%v", f.Kind, f.Key, f.Sentence, f.SetAside != nil)
	}
	if key.String() == l.last {
		for i, r := range l.rows { // the same words, newer places
			for k := range s.Findings {
				if r.f.Key == s.Findings[k].Key && !r.Hidden {
					l.rows[i].f = s.Findings[k]
				}
			}
		}
		return false
	}
	l.last = key.String()
	var objects []fyne.CanvasObject
	n := 0
	put := func(f *study.Finding) {
		if n == len(l.rows) {
			row := newFindingRow(l.h)
			row.seen = func() { reveal(l.Scroll, row) }
			l.rows, l.said = append(l.rows, row), append(l.said, "")
		}
		if says := fmt.Sprint(f.Kind, f.Key, f.Sentence, f.Pair, f.Place, live, f.SetAside); l.said[n] != says {
			l.said[n] = says
			l.rows[n].set(f, live)
		} else {
			l.rows[n].f = *f // the same words, perhaps newer places
		}
		objects = append(objects, l.rows[n])
		n++
	}
	group := func(of func(*study.Finding) bool, head *headRow) {
		first := true
		for i := range s.Findings {
			if f := &s.Findings[i]; of(f) {
				if first && head != nil {
					objects = append(objects, head)
				}
				first = false
				put(f)
			}
		}
	}
	for k := study.Hits; k < study.Outside; k++ {
		group(func(f *study.Finding) bool { return f.Kind == k && f.SetAside == nil }, nil)
	}
	if n == 0 {
		phrase := words.T("No contact found between the parts drawn.")
		switch {
		case s.Refusal != "":
			phrase = s.Refusal
		case s.RangeNote != "" && len(s.Smallest) == 0:
			phrase = s.RangeNote
		case !live:
			phrase = words.T("Working out.")
		}
		l.none.setText(phrase)
		objects = append(objects, l.none)
	}
	group(func(f *study.Finding) bool { return f.Kind == study.Outside && f.SetAside == nil }, l.rule)
	group(func(f *study.Finding) bool { return f.SetAside != nil }, l.aside)
	l.Box.Objects = objects
	l.Box.Layout.Layout(objects, l.Box.Size()) // the rows whose words changed have drawn themselves
	brush.Repaint(l.Box)
	return true
}

// whole is how much of a height the rows fill without cutting a line of words in two.
func (l *FindingList) whole(width, room float32) float32 {
	at := float32(2)
	fit := float32(0)
	for _, o := range l.Box.Objects {
		t, ok := o.(look.Tall)
		if !ok {
			continue
		}
		h := t.HeightFor(width)
		first := float32(3) // above the words of a row
		if _, head := o.(*headRow); head {
			first = 8
		}
		for y := at + first + look.Lead; y <= at+h && y <= room; y += look.Lead {
			fit = y
		}
		if at+h <= room {
			fit = at + h
		}
		at += h
	}
	if at+4 <= room || fit == 0 {
		return room
	}
	return fit
}

// Texts are the findings' words, as shown.
func (l *FindingList) Texts() []string {
	var out []string
	for _, o := range l.Box.Objects {
		switch r := o.(type) {
		case *findingRow:
			out = append(out, r.para.Text())
		case *headRow:
			out = append(out, r.para.Text())
		}
	}
	return out
}
