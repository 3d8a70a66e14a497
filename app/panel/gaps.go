package panel

import (
	"strings"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// onlyDrawn heads every list of gaps.
const onlyDrawn = "Only the parts drawn are checked; wiring, heat, bush give, frame flex and weld size are not, unless entered. Whole travel, at the heights and loads given. Under 12 mm: rubber and frame move more than this."

// onlyTried stands where nothing is proved.
const onlyTried = "only tried"

// practiceGaps is what is common practice of gaps, no source.
func practiceGaps(unit string) string {
	l := func(mm float64) string { return length(mm, unit) }
	return words.F("Common practice (no rule, your call): %s %s between what moves and what stands, never under %s; tyres %s to %s; an unshielded exhaust %s from a tank, hose, loom or air bag.",
		l(25), unit, l(12), l(40), l(50), l(100))
}

// gapRowKind is what a line of the list of gaps is.
type gapRowKind uint8

const (
	pairRow   gapRowKind = iota
	noteRow              // words
	ruledRow             // a heading with a rule above
	leftRow              // a pair that is left out, and why
	columnRow            // what the columns are
)

// gapRow is one line of the list of gaps.
type gapRow struct {
	kind                      gapRowKind
	pair                      int
	a, b                      string // the parts of a pair
	name                      string
	now, least, where, wanted string
	bound                     string     // what the gap is nowhere less than
	trouble                   study.Kind // Hits, Tight, or Outside for none
	left, right               float64
	stale                     bool
	rests                     string // the guesses it rests on, in words; "" none
}

// gaps lists every pair, worst first, and after them those that are left out.
type gaps struct {
	h     *Host
	head_ *look.Label
	only  *Entry // names of parts the list is to be kept to
	top   *fyne.Container
	warn  *look.Para
	cols  *columns
	list  *gapList
	box   *fyne.Container
	rows  []gapRow
	rests restsOf
}

func newGaps(h *Host) *gaps {
	g := &gaps{h: h, head_: look.NewLabel("", look.Small, ink.Second, false).Shrinks(40), warn: look.NewPara("", words.T(onlyDrawn), ink.Second), cols: newColumns(columnRow, nil)}
	g.only = NewEntry("", func() { h.focus(g.list) }, func() {
		g.only.SetText("")
		h.focus(g.list)
	}).Wide(150)
	g.only.SetPlaceHolder(words.T("Only this part"))
	g.only.OnChanged = func(string) { g.update(document.StudyChanged) }
	g.top = container.New(&besideEntry{}, g.head_, g.only)
	g.list = newGapList(g)
	g.box = container.NewBorder(container.New(&look.Stack{}, container.New(&look.Stack{Inset: look.Inset, Below: 2}, g.warn), g.cols), nil, nil, nil, look.Calm(g.list))
	return g
}

func (g *gaps) object() fyne.CanvasObject { return g.box }
func (g *gaps) head() fyne.CanvasObject   { return g.top }
func (g *gaps) bare() bool                { return false }

// named finds the field for a part's name and the list itself.
func (g *gaps) named(name string) fyne.CanvasObject {
	switch name {
	case "Only this part":
		return g.only
	case "list":
		return g.list
	}
	return nil
}

// goTo brings axle and views to where a line's pair is tightest.
func (g *gaps) goTo(i int) {
	if i >= 0 && i < len(g.rows) && g.rows[i].kind == pairRow {
		g.h.GoPlace(g.rows[i].left, g.rows[i].right, g.rows[i].pair)
	}
}

// chart lays the gap of a line's pair on the travel pad.
func (g *gaps) chart(i int) {
	if i >= 0 && i < len(g.rows) && g.rows[i].kind == pairRow {
		g.h.ShowPair(g.rows[i].a, g.rows[i].b)
	}
}

// wants reports whether a pair is to be listed: every word typed is in one of its two names.
func (g *gaps) wants(a, b string) bool {
	names := strings.ToLower(a + " / " + b)
	for _, w := range strings.Fields(strings.ToLower(g.only.Text)) {
		if w != "/" && !strings.Contains(names, w) {
			return false
		}
	}
	return true
}

func (g *gaps) update(document.Change) {
	d := g.h.Doc
	s, _ := d.Study()
	live := d.Freshness().Live
	unit := d.Unit()
	now := d.Now()
	pos := d.Position()
	g.rows = g.rows[:0]
	rests := g.rests.words(s)
	if s.Gaps == nil {
		g.head_.SetText(words.T("There are no two parts to compare."))
		g.list.Refresh()
		return
	}
	order := s.Order()
	worked := len(order) == len(s.Gaps.Pairs)
	if !worked {
		order = order[:0]
		for i := range s.Gaps.Pairs {
			order = append(order, i)
		}
	}
	same := now.Gaps != nil && len(now.Gaps.Pairs) == len(s.Gaps.Pairs) && pos != nil && pos.Err == "" && len(pos.Gaps) == len(now.Gaps.Pairs)
	for _, i := range order {
		a, b := s.PairNames(i)
		if !g.wants(a, b) {
			continue
		}
		p := s.Gaps.Pairs[i]
		r := gapRow{pair: i, a: a, b: b, name: a + " / " + study.Lower(b), wanted: lengthUnit(p.Required, unit), trouble: study.Outside, stale: !live, rests: rests[i]}
		if same {
			r.now = gapWords(pos.Gaps[i].Gap, unit)
		}
		if worked {
			m := s.Smallest[i]
			r.least, r.where = gapWords(m.Gap.Gap, unit), where(m.Left, m.Right, unit)
			r.left, r.right = m.Left, m.Right
			r.bound = s.BoundWords(i)
			switch {
			case s.GapFar(i):
				r.least, r.bound, r.where = s.GapWords(i), "", words.T("not looked at more closely")
			case r.bound == "":
				r.bound = words.T(onlyTried)
			}
			switch {
			case m.Gap.Gap < 0:
				r.trouble = study.Hits
			case m.Gap.Gap < p.Required:
				r.trouble = study.Tight
			}
			if !live {
				r.least, r.bound = words.F("was %s", r.least), ""
			}
		}
		g.rows = append(g.rows, r)
	}
	shown := len(g.rows)
	phrase := count(shown, words.Mark("pair"), words.Mark("pairs"))
	if shown < len(order) {
		phrase = words.F("%d of %s", shown, count(len(order), words.Mark("pair"), words.Mark("pairs")))
	}
	phrase += words.T(", worst first")
	if how := s.GapsChecked(); how != "" && shown == len(order) {
		phrase += "; " + how
	}
	switch {
	case !live:
		phrase = words.T("working out; the figures are of the geometry before")
	case !d.Freshness().Full:
		phrase += words.T(" so far")
	}
	g.head_.SetText(phrase)
	g.after(s, unit)
	g.list.fit()
	g.list.Refresh()
}

// after adds what stands below the pairs: what is practice, and the pairs that are left out.
func (g *gaps) after(s *study.Study, unit string) {
	if len(g.rows) == 0 {
		g.rows = append(g.rows, gapRow{kind: noteRow, name: words.T("No pair that is compared has such a part.")})
	} else {
		g.rows = append(g.rows, gapRow{kind: noteRow, name: practiceGaps(unit)})
	}
	var left []gapRow
	for _, o := range s.Gaps.LeftOut {
		if !g.wants(o.A, o.B) {
			continue
		}
		name := o.A + " / " + study.Lower(o.B)
		if o.B == "" {
			name = o.A
		}
		left = append(left, gapRow{kind: leftRow, name: name, where: o.Why})
	}
	if len(left) == 0 {
		return
	}
	g.rows = append(append(g.rows, gapRow{kind: ruledRow, name: words.F("Left out, whole or in part: %s", count(len(left), words.Mark("pair"), words.Mark("pairs")))}), left...)
}

// gapWords writes a gap: "34 mm", "9.6 mm", "29 mm in", "1.15 in deep".
func gapWords(mm float64, unit string) string {
	if mm < 0 {
		if unit == "in" {
			return words.F("%s deep", gapWords(-mm, unit))
		}
		return words.F("%s in", gapWords(-mm, unit))
	}
	if unit == "mm" && mm < smallGap-0.05 {
		return num(mm, 1) + " mm"
	}
	return lengthUnit(mm, unit)
}

// smallGap is the gap under which tenths of a mm are shown, mm.
const smallGap = 10

func (g *gaps) lines() []string {
	var out []string
	for _, r := range g.rows {
		switch r.kind {
		case pairRow:
			line := strings.Join([]string{r.name, r.now, r.least, r.bound, r.where, r.wanted}, " | ")
			if r.rests != "" {
				line += " | " + r.rests
			}
			out = append(out, line)
		case leftRow:
			out = append(out, r.name+": "+r.where)
		default:
			out = append(out, r.name)
		}
	}
	return out
}

// gapList is the list's rows; up and down go through them, Enter and Space go to the place, M shows the pair's map.
type gapList struct {
	look.List
	g  *gaps
	at int // the row the keys are on
}

func newGapList(g *gaps) *gapList {
	l := &gapList{g: g}
	l.Length = func() int { return len(g.rows) }
	l.CreateItem = func() fyne.CanvasObject { return newColumns(pairRow, l.g.h) }
	l.UpdateItem = func(i int, o fyne.CanvasObject) {
		if i < len(g.rows) {
			o.(*columns).set(&g.rows[i])
		}
	}
	l.HideSeparators = true
	l.OnSelected = func(i int) {
		l.at = i
		g.goTo(i)
		l.UnselectAll()
	}
	l.ExtendBaseWidget(l)
	return l
}

// Resize is the toolkit's.
func (l *gapList) Resize(s fyne.Size) {
	changed := (s.Width < gapsNarrow) != (l.Size().Width < gapsNarrow)
	l.List.Resize(s)
	if changed {
		l.fit()
		l.Refresh()
	}
}

// fit gives lines of words the height they take.
func (l *gapList) fit() {
	for i := range l.g.rows {
		h := float32(gapLine)
		if l.Size().Width < gapsNarrow {
			h = narrowLine
		}
		switch l.g.rows[i].kind {
		case noteRow:
			h = noteLine
		case leftRow, ruledRow:
			h = leftLine
		case pairRow:
			if l.g.rows[i].rests != "" {
				h += look.Lead
			}
		}
		l.SetItemHeight(i, h)
	}
}

// TypedKey is the toolkit's.
func (l *gapList) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyDown:
		l.at = min(l.at+1, max(0, len(l.g.rows)-1))
	case fyne.KeyUp:
		l.at = max(0, l.at-1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
	default:
		look.HandOn(l, e)
		return
	}
	l.List.TypedKey(e)
}

// TypedRune shows the map of the pair the keys are on.
func (l *gapList) TypedRune(r rune) {
	if r == 'm' || r == 'M' {
		l.g.chart(l.at)
	}
}

// besideEntry is a line of words with a field at its right.
type besideEntry struct{}

// MinSize is the toolkit's.
func (besideEntry) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(o[0].MinSize().Width+8+o[1].MinSize().Width, look.Row)
}

// Layout is the toolkit's.
func (besideEntry) Layout(o []fyne.CanvasObject, s fyne.Size) {
	m := o[1].MinSize()
	o[1].Resize(m)
	o[1].Move(fyne.NewPos(s.Width-m.Width, (s.Height-m.Height)/2))
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(fyne.NewSize(max(0, s.Width-m.Width-12), s.Height))
}
