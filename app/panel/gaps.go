package panel

import (
	"image/color"
	"sort"
	"strings"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// onlyDrawn heads every list of gaps.
const onlyDrawn = "Only the parts drawn are checked; wiring, heat, bush give, frame flex and weld size are not, unless entered. Checked at these heights and loads only. Where a gap is under 12 mm: rubber and frame move more than this."

// gapRow is one line of the list of gaps.
type gapRow struct {
	pair                      int
	name                      string
	now, least, where, wanted string
	bound                     string     // what the gap is nowhere less than
	trouble                   study.Kind // Hits, Tight, or Outside for none
	left, right               float64
	stale                     bool
}

// gaps lists every pair, tightest first.
type gaps struct {
	h     *Host
	head_ *look.Label
	warn  *look.Para
	cols  *columns
	list  *widget.List
	box   *fyne.Container
	rows  []gapRow
}

func newGaps(h *Host) *gaps {
	g := &gaps{h: h, head_: look.NewLabel("", look.Small, ink.Second, false).Shrinks(40), warn: look.NewPara("", onlyDrawn, ink.Second), cols: newColumns(true)}
	g.list = widget.NewList(func() int { return len(g.rows) }, func() fyne.CanvasObject { return newColumns(false) }, func(i int, o fyne.CanvasObject) {
		if i < len(g.rows) {
			o.(*columns).set(&g.rows[i])
		}
	})
	g.list.HideSeparators = true
	g.list.OnSelected = func(i int) {
		if i < len(g.rows) {
			h.GoPlace(g.rows[i].left, g.rows[i].right, g.rows[i].pair)
		}
		g.list.UnselectAll()
	}
	g.box = container.NewBorder(container.New(&look.Stack{}, container.New(&look.Stack{Inset: look.Inset, Below: 2}, g.warn), g.cols), nil, nil, nil, look.Calm(g.list))
	return g
}

func (g *gaps) object() fyne.CanvasObject { return g.box }
func (g *gaps) head() fyne.CanvasObject   { return g.head_ }
func (g *gaps) bare() bool                { return false }

func (g *gaps) update(c document.Change) {
	d := g.h.Doc
	s, _ := d.Study()
	live := d.Freshness().Live
	unit := d.Unit()
	now := d.Now()
	pos := d.Position()
	g.rows = g.rows[:0]
	if s.Gaps == nil {
		g.head_.SetText("There are no two parts to compare.")
		g.list.Refresh()
		return
	}
	order := make([]int, len(s.Gaps.Pairs))
	for i := range order {
		order[i] = i
	}
	if len(s.Smallest) == len(order) {
		sort.SliceStable(order, func(a, b int) bool {
			return s.Smallest[order[a]].Gap.Gap < s.Smallest[order[b]].Gap.Gap
		})
	}
	same := now.Gaps != nil && len(now.Gaps.Pairs) == len(s.Gaps.Pairs) && pos != nil && pos.Err == "" && len(pos.Gaps) == len(now.Gaps.Pairs)
	for _, i := range order {
		p := s.Gaps.Pairs[i]
		r := gapRow{pair: i, name: s.Gaps.Parts[p.A].Name + " / " + study.Lower(s.Gaps.Parts[p.B].Name), wanted: lengthUnit(p.Required, unit), trouble: study.Outside, stale: !live}
		if same {
			r.now = gapWords(pos.Gaps[i].Gap, unit)
		}
		if len(s.Smallest) == len(order) {
			m := s.Smallest[i]
			r.least, r.where = gapWords(m.Gap.Gap, unit), where(m.Left, m.Right, unit)
			r.left, r.right = m.Left, m.Right
			r.bound = s.BoundWords(i)
			switch {
			case s.GapFar(i):
				r.least, r.bound, r.where = s.GapWords(i), "", "not looked at more closely"
			case r.bound == "":
				r.bound = "only tried"
			}
			switch {
			case m.Gap.Gap < 0:
				r.trouble = study.Hits
			case m.Gap.Gap < p.Required:
				r.trouble = study.Tight
			}
			if !live {
				r.least, r.bound = "was "+r.least, ""
			}
		}
		g.rows = append(g.rows, r)
	}
	words := count(len(g.rows), "pair") + ", tightest first"
	if how := s.GapsChecked(); how != "" {
		words += "; " + how
	}
	if !live {
		words = "working out; the figures are of the geometry before"
	} else if !d.Freshness().Full {
		words += " so far"
	}
	g.head_.SetText(words + ". Press one to go there.")
	g.list.Refresh()
}

// gapWords writes a gap: "34 mm", "hits, 29 mm in".
func gapWords(mm float64, unit string) string {
	if mm < 0 {
		return lengthUnit(-mm, unit) + " in"
	}
	return lengthUnit(mm, unit)
}

func (g *gaps) lines() []string {
	var out []string
	for _, r := range g.rows {
		out = append(out, strings.Join([]string{r.name, r.now, r.least, r.bound, r.where, r.wanted}, " | "))
	}
	return out
}

// columns is one line of the list, or its heading.
type columns struct {
	widget.BaseWidget
	row  gapRow
	head bool
}

func newColumns(head bool) *columns {
	c := &columns{head: head}
	if head {
		c.row = gapRow{name: "Between", now: "Now", least: "Least", bound: "Not less than", where: "where", wanted: "Gap wanted", trouble: study.Outside}
	}
	c.ExtendBaseWidget(c)
	return c
}

func (c *columns) set(r *gapRow) {
	if c.row == *r {
		return
	}
	c.row = *r
	c.Refresh()
}

func (c *columns) CreateRenderer() fyne.WidgetRenderer {
	c.ExtendBaseWidget(c)
	r := &columnsRenderer{c: c, mark: newMark(study.Outside, 1), rule: &canvas.Rectangle{}}
	for i := range r.text {
		r.text[i] = look.Text("", look.Small, ink.Text, c.head || i == 2)
	}
	return r
}

type columnsRenderer struct {
	c    *columns
	mark *mark
	text [6]*canvas.Text
	rule *canvas.Rectangle
}

func (x *columnsRenderer) Layout(s fyne.Size) {
	r := &x.c.row
	base := s.Height/2 + 5
	w := s.Width - 24 - 2*look.Inset
	at := [6]float32{24, 24 + w*0.42, 24 + w*0.53, 24 + w*0.67, 24 + w, 24 + w*0.65}
	name, where := w*0.33, w*0.23
	narrow := s.Width < 900
	if narrow { // the places keep their room
		at[1], at[2], at[3] = 24+w*0.41, 24+w*0.53, 24+w*0.55
		name, where = w*0.31, w*0.34
	}
	wanted := r.wanted
	if x.c.head && look.Width(wanted, look.Small, true) > w*0.11 {
		wanted = "Wanted"
	}
	role := ink.Text
	if r.stale {
		role = ink.Second
	}
	var c color.Color = look.Color(role)
	put := func(i int, s string, x0, room float32, right bool) {
		t := x.text[i]
		look.Paint(t, look.Shorten(s, look.Small, t.TextStyle.Bold, room), c)
		if right {
			look.PlaceRight(t, x0, base)
		} else {
			look.PlaceLeft(t, x0, base)
		}
	}
	put(0, r.name, at[0], name, false)
	put(1, r.now, at[1], w*0.14, true)
	put(2, r.least, at[2], w*0.15, true)
	put(3, r.where, at[3], where, false)
	x.text[5].Hidden = narrow
	put(5, r.bound, at[5], w*0.13, true)
	put(4, wanted, at[4], w*0.11, true)
	x.mark.Hidden = r.trouble == study.Outside
	x.mark.set(r.trouble)
	x.mark.Move(fyne.NewPos(8, 4))
	x.mark.Resize(fyne.NewSize(8, s.Height-8))
	x.rule.FillColor = look.Color(ink.Rule)
	x.rule.Move(fyne.NewPos(look.Inset, s.Height-1))
	x.rule.Resize(fyne.NewSize(s.Width-2*look.Inset, 1))
}
func (x *columnsRenderer) MinSize() fyne.Size {
	if x.c.head {
		return fyne.NewSize(200, 24)
	}
	return fyne.NewSize(200, 32)
}
func (x *columnsRenderer) Refresh() { x.Layout(x.c.Size()); canvas.Refresh(x.c) }
func (x *columnsRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{x.mark, x.rule}
	for _, t := range x.text {
		out = append(out, t)
	}
	return out
}
func (x *columnsRenderer) Destroy() {}
