package panel

import (
	"context"
	"fmt"
	"math"
	"strings"
	"sync/atomic"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"gonum.org/v1/gonum/spatial/r3"
)

// lowFound is what was worked out of the lowest points.
type lowFound struct {
	s     *study.Study
	t     *study.Lowest
	table *study.HeightTable // the same as a table: angles, then parts, the whole range as the first height
}

// lowest is how high everything stands above the ground at each height and load, the slopes it clears, and where it comes lowest.
type lowest struct {
	h      *Host
	found  behind[lowFound]
	nth    numbered
	note   *look.Label
	table  *heightGrid
	scroll *container.Scroll
	words  *look.Para
	ground *look.Para
	form   *form
	box    *fyne.Container
	said   string
	went   bool // a place was gone to: it is marked in the views
}

// keySlope is the key of rows of slopes: over the range there is no figure.
const keySlope = "slope"

// wholeRange heads the first columns.
const wholeRange = "whole range"

func newLowest(h *Host) *lowest {
	b := &lowest{h: h, note: look.NewLabel("", look.Small, ink.Second, false).Shrinks(40), words: look.NewPara("", "", ink.Text), ground: look.NewPara("", "", ink.Second)}
	b.found = behind[lowFound]{post: h.Post, changed: b.refresh}
	b.table = newHeightGrid(b.chosen)
	b.table.go_ = func(travel float64) { h.Doc.MoveAxle(travel, travel) }
	b.table.cell = b.goTo
	b.scroll = container.NewScroll(b.table)
	b.table.seen = func(y, tall float32) { bring(b.scroll, y, tall) }
	b.table.across = func(x, wide float32) { // the names at its left go with it
		at := b.scroll.Offset
		switch w := b.scroll.Size().Width; {
		case b.table.col == 0:
			at.X = 0
		case x < at.X:
			at.X = x
		case x+wide > at.X+w:
			at.X = x + wide - w
		default:
			return
		}
		b.scroll.ScrollToOffset(at)
	}
	b.form = newForm(h)
	b.form.only = func(f *edit.Field) bool { return strings.HasPrefix(f.Key, "overhang.") }
	b.box = container.New(&lowestLayout{b}, look.Calm(b.scroll), container.New(&look.Stack{Gap: 6}, b.words, b.ground), b.form.calm)
	return b
}

func (b *lowest) object() fyne.CanvasObject { return b.box }
func (b *lowest) head() fyne.CanvasObject   { return b.note }
func (b *lowest) bare() bool                { return false }
func (b *lowest) closed() {
	b.found.drop()
	b.mark(nil)
}

// lowestLayout puts the table left, the words right of it and the places to type under them.
type lowestLayout struct{ b *lowest }

func (l *lowestLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(500, 160) }
func (l *lowestLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	b := l.b
	right := max(270, s.Width*0.34)
	w := b.table.whole(s.Width - right - look.Inset - look.Gap)
	if b.table.t == nil {
		w = 0
	}
	look.Show(o[0], w > 0)
	rows := float32(int((s.Height - 4 - gridHead) / gridRow))
	o[0].Move(fyne.NewPos(look.Inset, 0))
	o[0].Resize(fyne.NewSize(w, min(gridHead+rows*gridRow+2, s.Height-4)))
	x := look.Inset + w + look.Gap
	width := s.Width - x - look.Gap
	tall := b.words.HeightFor(width) + b.ground.HeightFor(width) + 6
	o[1].Move(fyne.NewPos(x, 0))
	o[1].Resize(fyne.NewSize(width, tall))
	o[2].Move(fyne.NewPos(x-8, tall+4))
	o[2].Resize(fyne.NewSize(width+8, max(0, s.Height-tall-8)))
}

// bring scrolls till a part of what a scroll shows can be seen.
func bring(s *container.Scroll, y, tall float32) {
	at := s.Offset
	switch {
	case y < at.Y:
		at.Y = y
	case y+tall > at.Y+s.Size().Height:
		at.Y = y + tall - s.Size().Height
	default:
		return
	}
	s.ScrollToOffset(at)
}

func (b *lowest) update(c document.Change) {
	if c&^(document.PositionChanged|document.SelectionChanged) == 0 {
		return
	}
	b.refresh()
}

// fresh reports whether what is worked out is of the geometry as it stands, and asks for it where it is not.
func (b *lowest) fresh() bool {
	s, _ := b.h.Doc.Study()
	if !b.h.Doc.Freshness().Full {
		b.found.drop() // a hand moves something: the processors are the views'
		return false
	}
	key := fmt.Sprint(b.nth.of(s))
	b.found.ask(key, func(ctx context.Context, _ *atomic.Int64) (lowFound, error) {
		t := s.Lowest(ctx)
		if t == nil {
			if ctx.Err() != nil {
				return lowFound{}, ctx.Err()
			}
			return lowFound{}, fmt.Errorf("%s", s.Refusal)
		}
		return lowFound{s, t, lowTable(s, t)}, nil
	})
	return b.found.fresh(key)
}

func (b *lowest) refresh() {
	if b.h.Opened() != LowestDrawer {
		return
	}
	d := b.h.Doc
	fresh := b.fresh()
	note := words.T("both wheels at each height and load; a press goes there")
	switch {
	case b.found.err != nil:
		note = ""
	case !fresh && b.found.has:
		note = words.T("working out; the figures are of the geometry before")
	case !fresh:
		note = words.T("working out")
	}
	b.note.SetText(note)
	if !fresh || !b.went {
		b.mark(nil)
	}
	if b.table.t == nil && b.found.has { // the lowest part is what one looks for
		for i := range b.found.got.table.Rows {
			if b.found.got.table.Rows[i].Key != keySlope {
				b.table.at = i
				break
			}
		}
	}
	b.form.show(edit.Part{List: edit.Vehicle}, d.Current())
	phrase := ""
	if s, _ := d.Study(); s.Mech != nil {
		phrase = words.F("%s Only what is drawn is told.", s.GroundWords())
	}
	key := fmt.Sprint(fresh, b.found.gotKey, b.found.err, d.Load(), d.Unit(), phrase)
	if key == b.said {
		return
	}
	b.said = key
	b.ground.Set("", phrase, ink.Second)
	b.table.set(b.found.got.table, d.Load(), d.Unit(), !fresh)
	b.chosen()
}

// cellOf is what a row and column of the table are of: a part's lowest point, or a slope.
func (f *lowFound) cellOf(row, height, load int) (low *study.Low, slope *study.Slope, name string) {
	if f.s.Bounded() {
		height-- // the whole range comes first
	}
	for _, a := range f.t.Angles() {
		if !a.Told() {
			continue
		}
		if row == 0 {
			if height >= 0 {
				slope = &a.Of[height][load]
			}
			return nil, slope, a.Title
		}
		row--
	}
	p := &f.t.Parts[row]
	if height < 0 {
		return &p.Least[load], nil, p.Name
	}
	return &p.Cells[height][load], nil, p.Name
}

// chosen says in words what the chosen figure is.
func (b *lowest) chosen() {
	f, g := &b.found.got, b.table
	phrase := ""
	role := ink.Text
	if g.stale {
		role = ink.Second
	}
	switch {
	case b.found.err != nil:
		phrase = b.found.err.Error()
	case g.row() != nil && g.columns() > 0:
		g.col = min(g.col, g.columns()-1)
		phrase = f.words(g.at, g.col/len(g.t.Loads), g.col%len(g.t.Loads))
	}
	b.words.Set("", phrase, role)
	b.box.Refresh()
}

// words are a figure in a sentence.
func (f *lowFound) words(row, height, load int) string {
	low, slope, name := f.cellOf(row, height, load)
	of := f.table.Heights[height]
	if l := f.table.Loads[load]; l != "" {
		of += ", " + l
	}
	place := func(p r3.Vec) string {
		return fmt.Sprintf("X %s, Y %s, Z %s", f.s.Length(p.X), f.s.Length(p.Y), f.s.Length(p.Z))
	}
	switch {
	case slope == nil && low == nil:
		return words.F("%s is told at the heights only.", name)
	case slope != nil && math.IsNaN(slope.Deg), low != nil && math.IsNaN(low.Height):
		return words.F("%s, %s: there is no figure.", name, of)
	case slope != nil:
		return words.F("%s, %s: %.1f deg, set by the %s at %s.", name, of, slope.Deg, study.Lower(slope.Of), place(slope.At))
	}
	return words.F("%s, %s: its lowest point is %s above the ground, at %s, with the axle at %s.", name, of, f.s.Length(low.Height), place(low.At), f.s.Travels(low.Left, low.Right))
}

// goTo sets the axle where a figure is of, brings the views to its place and draws its height there.
func (b *lowest) goTo(row, height, load int) {
	f := &b.found.got
	if b.table.stale || f.t == nil {
		return
	}
	low, slope, name := f.cellOf(row, height, load)
	const around = 260.0 // mm
	m := r3.Vec{X: around, Y: around, Z: around}
	switch {
	case slope != nil && !math.IsNaN(slope.Deg):
		t := f.table.Travel[height][load]
		b.h.GoPlace(t, t, -1)
		b.h.Frame(r3.Sub(slope.At, m), r3.Add(slope.At, m))
	case low != nil && !math.IsNaN(low.Height):
		b.h.GoPlace(low.Left, low.Right, -1)
		b.h.Frame(r3.Sub(low.At, m), r3.Add(low.At, m))
		b.went = true
		b.mark([]view.Laid{{Name: words.F("height of %s", name), Look: view.AnyOther, Span: &[2]r3.Vec{low.Foot, low.At}, Words: f.s.Length(low.Height)}})
	}
}

func (b *lowest) mark(list []view.Laid) {
	if list == nil {
		b.went = false
	}
	b.h.Lay("lowest", list)
}

// lowTable is what was found as a table of heights: the angles that are told, then the parts, lowest first.
func lowTable(s *study.Study, t *study.Lowest) *study.HeightTable {
	out := &study.HeightTable{Loads: t.Loads}
	first := 0 // of the columns that are heights
	if s.Bounded() {
		first = 1
		out.Heights = append(out.Heights, words.T(wholeRange))
		none := make([]float64, len(t.Loads))
		for i := range none {
			none[i] = math.NaN()
		}
		out.Travel = append(out.Travel, none)
	}
	out.Heights, out.Travel = append(out.Heights, t.Heights...), append(out.Travel, t.Travel...)
	row := func(title, unit string, value func(h, l int) float64) {
		r := study.HeightRow{Reading: study.Reading{Key: map[string]string{"deg": keySlope}[unit], Title: title, Unit: unit, BandLo: math.NaN(), BandHi: math.NaN()}}
		for h := range out.Heights {
			cells := make([]study.HeightCell, len(t.Loads))
			for l := range cells {
				cells[l].Value = value(h, l)
			}
			r.Cells = append(r.Cells, cells)
		}
		out.Rows = append(out.Rows, r)
	}
	for _, a := range t.Angles() {
		if a.Told() {
			row(a.Title, "deg", func(h, l int) float64 {
				if h >= first {
					return a.Of[h-first][l].Deg
				}
				return math.NaN()
			})
		}
	}
	for i := range t.Parts {
		p := &t.Parts[i]
		row(p.Name, "mm", func(h, l int) float64 {
			if h >= first {
				return p.Cells[h-first][l].Height
			}
			return p.Least[l].Height
		})
	}
	return out
}

func (b *lowest) lines() []string {
	out := []string{b.note.Text(), b.words.Text(), b.ground.Text()}
	g := b.table
	if g.t == nil {
		return out
	}
	for i := range g.t.Rows {
		r := &g.t.Rows[i]
		line := rowTitle(r, g.unit)
		for h := range r.Cells {
			for l := range r.Cells[h] {
				line += " | " + cellWords(r, h, l, g.unit)
			}
		}
		out = append(out, line)
	}
	return out
}

func (b *lowest) named(name string) fyne.CanvasObject {
	if name == "table" { // what can be seen of it
		return b.scroll
	}
	return b.form.named(name)
}
