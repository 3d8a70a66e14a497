package panel

import (
	"fmt"
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
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
}

// NewFindings makes the panel.
func NewFindings(h *Host) *FindingsPanel {
	p := &FindingsPanel{h: h, ground: look.NewPlate(ink.Panel), list: NewFindingList(h)}
	p.scroll = container.NewVScroll(p.list.Box)
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
	p.list.Update(s, live)
	p.brief.set(s, live)
	p.checked.set(s, live)
	p.scroll.Refresh()
}

// Texts are the findings' words.
func (p *FindingsPanel) Texts() []string { return p.list.Texts() }

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
	p.short = s.Height < briefHeight
	show(p.brief, p.short)
	show(p.calm, !p.short)
	p.checked.short = p.short
	h := p.checked.HeightFor(s.Width)
	if p.short {
		h = 24
		p.brief.Move(fyne.NewPos(0, 2))
		p.brief.Resize(fyne.NewSize(s.Width, s.Height-h-2))
	} else {
		p.calm.Move(fyne.NewPos(0, 2))
		p.calm.Resize(fyne.NewSize(s.Width, max(0, s.Height-h-2)))
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
	h     *Host
	Box   *fyne.Container
	rows  []*findingRow
	rule  *headRow
	aside *headRow
	none  *headRow
	last  string
}

// NewFindingList makes the rows.
func NewFindingList(h *Host) *FindingList {
	l := &FindingList{h: h, Box: container.New(&look.Stack{Above: 2, Below: 4}), rule: newHeadRow(kindWords[study.Outside], true), aside: newHeadRow("Set aside", true), none: newHeadRow("", false)}
	return l
}

// Update puts the findings of a study into the rows; equal ones cost nothing.
func (l *FindingList) Update(s *study.Study, live bool) {
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
		return
	}
	l.last = key.String()
	var objects []fyne.CanvasObject
	n := 0
	put := func(f *study.Finding) {
		if n == len(l.rows) {
			l.rows = append(l.rows, newFindingRow(l.h))
		}
		l.rows[n].set(f, live)
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
		words := "No contact found between the parts drawn."
		switch {
		case s.Refusal != "":
			words = s.Refusal
		case s.RangeNote != "" && len(s.Smallest) == 0:
			words = s.RangeNote
		case !live:
			words = "Working out."
		}
		l.none.setText(words)
		objects = append(objects, l.none)
	}
	group(func(f *study.Finding) bool { return f.Kind == study.Outside && f.SetAside == nil }, l.rule)
	group(func(f *study.Finding) bool { return f.SetAside != nil }, l.aside)
	l.Box.Objects = objects
	l.Box.Refresh()
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

// headRow is a heading between findings, with a rule above.
type headRow struct {
	widget.BaseWidget
	para *look.Para
	rule bool
}

func newHeadRow(words string, rule bool) *headRow {
	r := &headRow{rule: rule}
	if rule {
		r.para = look.NewPara(words, "", ink.Text)
	} else {
		r.para = look.NewPara("", words, ink.Text)
	}
	r.ExtendBaseWidget(r)
	return r
}

func (r *headRow) setText(words string) {
	if r.para.Set("", words, ink.Text) {
		r.Refresh()
	}
}

func (r *headRow) HeightFor(w float32) float32 { return r.para.HeightFor(w-24-look.Inset) + 9 }

func (r *headRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	return &headRenderer{r, &canvas.Rectangle{FillColor: look.Color(ink.Edge)}}
}

type headRenderer struct {
	r    *headRow
	line *canvas.Rectangle
}

func (x *headRenderer) Layout(s fyne.Size) {
	x.line.Hidden, x.line.FillColor = !x.r.rule, look.Color(ink.Edge)
	x.line.Move(fyne.NewPos(look.Inset, 3))
	x.line.Resize(fyne.NewSize(s.Width-2*look.Inset, 1.5))
	x.r.para.Move(fyne.NewPos(24, 8))
	x.r.para.Resize(fyne.NewSize(s.Width-24-look.Inset, s.Height-9))
}
func (x *headRenderer) MinSize() fyne.Size           { return fyne.NewSize(40, 28) }
func (x *headRenderer) Refresh()                     { x.Layout(x.r.Size()); canvas.Refresh(x.r) }
func (x *headRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{x.line, x.r.para} }
func (x *headRenderer) Destroy()                     {}

// findingRow is one finding. A press goes there; the words at its end set it aside or bring it back.
type findingRow struct {
	widget.BaseWidget
	h       *Host
	f       study.Finding
	live    bool
	mark    *mark
	para    *look.Para
	aside   *look.Button
	focused bool
	hovered bool
}

var (
	_ fyne.Tappable     = (*findingRow)(nil)
	_ fyne.Focusable    = (*findingRow)(nil)
	_ desktop.Hoverable = (*findingRow)(nil)
)

func newFindingRow(h *Host) *findingRow {
	r := &findingRow{h: h, mark: newMark(study.Hits, 1), para: look.NewPara("", "", ink.Text)}
	r.aside = look.NewButton("set aside", look.Link, func() {
		if r.f.SetAside != nil {
			h.Tell(h.Doc.BringBack(&r.f))
			return
		}
		PopUp(asideMenu(h, &r.f), r.aside)
	}).Type(look.Small, false).Tall(22, 22)
	r.ExtendBaseWidget(r)
	return r
}

// asideMenu offers the ready reasons, and to type one.
func asideMenu(h *Host, f *study.Finding) *fyne.Menu {
	m := fyne.NewMenu("")
	for _, reason := range edit.ReadyReasons {
		m.Items = append(m.Items, fyne.NewMenuItem(upper(reason), func() { h.Tell(h.Doc.SetAside(f, reason)) }))
	}
	m.Items = append(m.Items, fyne.NewMenuItemSeparator(), fyne.NewMenuItem("Another reason...", func() {
		h.Ask("Set aside", "Why", "", func(reason string) error { return h.Doc.SetAside(f, reason) })
	}))
	return m
}

func (r *findingRow) set(f *study.Finding, live bool) {
	r.f, r.live = *f, live
	lead, words, role := kindWords[f.Kind], f.Sentence, ink.Text
	if f.Kind == study.Outside {
		lead = ""
	}
	if !live {
		lead, role = strings.TrimSpace("Was: "+lower(lead)), ink.Second
		words += " Working out."
	}
	r.aside.SetText("set aside")
	r.mark.Show()
	r.mark.set(f.Kind)
	if f.SetAside != nil {
		words += " Set aside: " + f.SetAside.Reason + "."
		role = ink.Second
		r.aside.SetText("bring back")
		r.mark.Hide()
	}
	r.para.Tail(r.aside.MinSize().Width + 6)
	r.para.Set(lead, words, role)
	r.Refresh()
}

func (r *findingRow) HeightFor(w float32) float32 {
	return max(r.para.HeightFor(w-24-look.Inset)+7, 28)
}

func (r *findingRow) Tapped(*fyne.PointEvent) {
	if r.f.Place {
		r.h.GoThere(&r.f)
	}
}
func (r *findingRow) FocusGained()                   { r.focused = true; r.Refresh() }
func (r *findingRow) FocusLost()                     { r.focused = false; r.Refresh() }
func (r *findingRow) TypedRune(rune)                 {}
func (r *findingRow) MouseIn(*desktop.MouseEvent)    { r.hovered = true; r.Refresh() }
func (r *findingRow) MouseMoved(*desktop.MouseEvent) {}
func (r *findingRow) MouseOut()                      { r.hovered = false; r.Refresh() }
func (r *findingRow) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		r.Tapped(nil)
	}
}

func (r *findingRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	return &findingRenderer{r, &canvas.Rectangle{}}
}

type findingRenderer struct {
	r    *findingRow
	back *canvas.Rectangle
}

func (x *findingRenderer) Layout(s fyne.Size) {
	r := x.r
	x.back.FillColor, x.back.StrokeWidth = look.Clear, 0
	if r.hovered && r.f.Place {
		x.back.FillColor = look.Veil(ink.Press, 0x14)
	}
	if r.focused {
		x.back.StrokeColor, x.back.StrokeWidth = look.Color(ink.Press), 2
	}
	x.back.Move(fyne.NewPos(2, 0))
	x.back.Resize(fyne.NewSize(s.Width-4, s.Height))
	r.mark.Move(fyne.NewPos(6, 4))
	r.mark.Resize(fyne.NewSize(8, s.Height-8))
	w := s.Width - 24 - look.Inset
	r.para.Move(fyne.NewPos(24, 3))
	r.para.Resize(fyne.NewSize(w, r.para.HeightFor(w)))
	m := r.aside.MinSize()
	r.aside.Move(fyne.NewPos(s.Width-look.Inset-m.Width, 3+r.para.HeightFor(w)-look.Lead-2))
	r.aside.Resize(m)
}
func (x *findingRenderer) MinSize() fyne.Size { return fyne.NewSize(100, 28) }
func (x *findingRenderer) Refresh()           { x.Layout(x.r.Size()); canvas.Refresh(x.r) }
func (x *findingRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.back, x.r.mark, x.r.para, x.r.aside}
}
func (x *findingRenderer) Destroy() {}

// briefRow is the findings in three lines.
type briefRow struct {
	widget.BaseWidget
	h    *Host
	mark *mark
	para *look.Para
	rest *look.Label
	all  *look.Button
	f    *study.Finding

	words string
	role  ink.Role
}

func newBriefRow(h *Host) *briefRow {
	r := &briefRow{h: h, mark: newMark(study.Hits, 1), para: look.NewPara("", "", ink.Text).Most(2), rest: look.NewLabel("", look.Small, ink.Text, false).Shrinks(20)}
	r.all = look.NewButton("all", look.Link, func() { h.Toggle(FindingsDrawer) }).Tall(22, 24).Caret(look.CaretUp)
	r.ExtendBaseWidget(r)
	return r
}

func (r *briefRow) Tapped(*fyne.PointEvent) {
	if r.f != nil && r.f.Place {
		r.h.GoThere(r.f)
	}
}

func (r *briefRow) set(s *study.Study, live bool) {
	r.f = Worst(s)
	n := map[study.Kind]int{}
	all := 0
	for i := range s.Findings {
		if f := &s.Findings[i]; f.SetAside == nil {
			n[f.Kind]++
			all++
		}
	}
	words, role := "No contact found between the parts drawn.", ink.Text
	if s.RangeNote != "" && len(s.Smallest) == 0 {
		words = s.RangeNote
	}
	r.mark.Hidden = r.f == nil
	if r.f != nil {
		words = r.f.Sentence
		r.mark.set(r.f.Kind)
		n[r.f.Kind]--
	} else if s.Refusal != "" {
		words = s.Refusal
	}
	if !live {
		role = ink.Second
		words = "Was: " + words
	}
	r.words, r.role = words, role
	var parts []string
	for k, w := range [...]string{"hits", "runs out", "tight", "not known", "outside"} {
		if c := n[study.Kind(k)]; c > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", c, w))
		}
	}
	rest := "nothing else"
	if len(parts) > 0 {
		rest = "then " + strings.Join(parts, ", ")
	}
	r.rest.Set(rest, role)
	r.all.SetText(fmt.Sprintf("all %d", all))
	r.Refresh()
}

func (r *briefRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	return &briefRenderer{r}
}

type briefRenderer struct{ r *briefRow }

func (x *briefRenderer) Layout(s fyne.Size) {
	r := x.r
	r.mark.Move(fyne.NewPos(6, 3))
	r.mark.Resize(fyne.NewSize(8, 26))
	r.para.Set("", inLines(r.words, s.Width-24-look.Inset, 2), r.role)
	r.para.Move(fyne.NewPos(24, 1))
	r.para.Resize(fyne.NewSize(s.Width-24-look.Inset, 2*look.Lead))
	m := r.all.MinSize()
	y := float32(2*look.Lead - 1)
	r.all.Move(fyne.NewPos(s.Width-look.Inset-m.Width, y))
	r.all.Resize(m)
	r.rest.Move(fyne.NewPos(24, y+1))
	r.rest.Resize(fyne.NewSize(s.Width-24-look.Inset-m.Width-8, 20))
}

// inLines shortens a sentence to some lines: what stands in brackets goes first, then clause by clause from its end.
func inLines(words string, width float32, lines int) string {
	fits := func(s string) bool { return len(look.Wrap(s, look.Small, false, width)) <= lines }
	if fits(words) {
		return words
	}
	for {
		a := strings.Index(words, " (")
		b := strings.Index(words, ")")
		if a < 0 || b < a {
			break
		}
		words = words[:a] + words[b+1:]
	}
	for s := strings.TrimSuffix(words, "."); ; {
		if fits(s + ".") {
			return s + "."
		}
		i := max(strings.LastIndex(s, "; "), strings.LastIndex(s, ". "))
		if i < 0 {
			return words
		}
		s = s[:i]
	}
}

func (x *briefRenderer) MinSize() fyne.Size { return fyne.NewSize(100, 58) }
func (x *briefRenderer) Refresh()           { x.Layout(x.r.Size()); canvas.Refresh(x.r) }
func (x *briefRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.r.mark, x.r.para, x.r.rest, x.r.all}
}
func (x *briefRenderer) Destroy() {}

// checkedRow says what was looked at, and opens what was left out.
type checkedRow struct {
	widget.BaseWidget
	h     *Host
	para  *look.Para
	why   *look.Button
	words string
	short bool
}

func newCheckedRow(h *Host) *checkedRow {
	r := &checkedRow{h: h, para: look.NewPara("", "", ink.Second)}
	r.why = look.NewButton("which and why", look.Link, func() { h.Toggle(LeftOutDrawer) }).Tall(22, 24)
	r.para.Tail(r.why.MinSize().Width + 8)
	r.ExtendBaseWidget(r)
	return r
}

func (r *checkedRow) set(s *study.Study, live bool) {
	heights, loads := 0, len(s.Loads)
	if s.Job != nil && s.Job.Vehicle != nil {
		heights = len(s.Job.Vehicle.Heights)
	}
	left := 0
	if s.Gaps != nil {
		left = len(s.Gaps.LeftOut)
	}
	travel := "whole travel"
	if !s.Bounded() {
		travel = "no travel yet"
	}
	words := fmt.Sprintf("Checked: %s, %s, %s; %s left out", count(heights, "height"), count(loads, "load"), travel, count(left, "pair"))
	if !live {
		words = "Was checked" + strings.TrimPrefix(words, "Checked")
	}
	if r.words != words {
		r.words = words
		r.Refresh()
	}
}

// Tapped opens what was left out.
func (r *checkedRow) Tapped(*fyne.PointEvent) { r.h.Toggle(LeftOutDrawer) }

// Text is the words of the line.
func (r *checkedRow) Text() string { return r.words }

func (r *checkedRow) HeightFor(w float32) float32 {
	if r.short {
		return 24
	}
	r.para.Set("", r.words, ink.Second)
	return r.para.HeightFor(w-24-look.Inset) + 12
}

func (r *checkedRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	return &checkedRenderer{r, &canvas.Rectangle{}}
}

type checkedRenderer struct {
	r    *checkedRow
	line *canvas.Rectangle
}

func (x *checkedRenderer) Layout(s fyne.Size) {
	r := x.r
	x.line.FillColor, x.line.Hidden = look.Color(ink.Rule), r.short
	x.line.Move(fyne.NewPos(look.Inset, 2))
	x.line.Resize(fyne.NewSize(s.Width-2*look.Inset, 1))
	w := s.Width - 24 - look.Inset
	m := r.why.MinSize()
	show(r.why, !r.short)
	if r.short { // the whole line is the press
		r.para.Tail(0).Most(1)
		r.para.Set("", strings.Replace(r.words, " pairs left", " left", 1), ink.Second)
		r.para.Move(fyne.NewPos(24, 0))
		r.para.Resize(fyne.NewSize(w, look.Lead))
		return
	}
	r.why.SetText("which and why")
	r.para.Set("", r.words, ink.Second)
	r.para.Most(0).Tail(r.why.MinSize().Width + 8)
	m = r.why.MinSize()
	h := r.para.HeightFor(w)
	r.para.Move(fyne.NewPos(24, 7))
	r.para.Resize(fyne.NewSize(w, h))
	r.why.Move(fyne.NewPos(s.Width-look.Inset-m.Width, 7+h-look.Lead-3))
	r.why.Resize(m)
}
func (x *checkedRenderer) MinSize() fyne.Size { return fyne.NewSize(100, 24) }
func (x *checkedRenderer) Refresh()           { x.Layout(x.r.Size()); canvas.Refresh(x.r) }
func (x *checkedRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.line, x.r.para, x.r.why}
}
func (x *checkedRenderer) Destroy() {}
