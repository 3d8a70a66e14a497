package panel

import (
	"fmt"
	"math"
	"strings"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/plotting/chart"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// heights is every quantity at each height and load: a table, the chosen row as a chart beside it, and in words what a height changes.
type heights struct {
	h      *Host
	note   *look.Label
	table  *heightGrid
	scroll *container.Scroll
	plot   *plotted
	words  *fyne.Container
	read   *container.Scroll
	box    *fyne.Container
	said   string
	own    []float64            // the heights' own travels, without a load's
	cell   [2]fyne.CanvasObject // the two scrolls, calmed
}

func newHeights(h *Host) *heights {
	b := &heights{h: h, note: look.NewLabel("", look.Small, ink.Second, false).Shrinks(40)}
	b.table = newHeightGrid(func() { b.draw() })
	b.table.go_ = func(travel float64) { h.Doc.MoveAxle(travel, travel) }
	b.scroll = container.NewScroll(b.table)
	b.table.seen = func(y, tall float32) { bring(b.scroll, y, tall) }
	b.plot = newPlotted(h)
	b.words = container.New(&look.Stack{Gap: 4, Inset: 4, Below: 6})
	b.read = container.NewVScroll(b.words)
	b.cell = [2]fyne.CanvasObject{look.Calm(b.scroll), look.Calm(b.read)}
	b.box = container.New(&heightsLayout{b}, b.cell[0], b.plot, b.cell[1])
	return b
}

// heightsLayout puts the table left as wide as it is, the chart right of it and the words under the chart.
type heightsLayout struct{ b *heights }

func (l *heightsLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(500, 160) }
func (l *heightsLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	least := max(250, s.Width*0.32) // of the chart
	w := l.b.table.whole(s.Width - least - look.Inset)
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(max(0, w), max(0, h)))
	}
	look.Show(o[0], l.b.table.t != nil)
	if l.b.table.t == nil {
		put(o[1], look.Inset, 0, s.Width-2*look.Inset, s.Height-4)
		return
	}
	rows := float32(int((s.Height - 4 - gridHead) / gridRow))
	put(o[0], look.Inset, 0, w, min(gridHead+rows*gridRow+2, s.Height-4))
	x := look.Inset + w + look.Gap
	right := s.Width - x - look.Gap
	phrase := l.b.words.MinSize().Height
	tall := max(s.Height*0.6, min(s.Height, 156), s.Height-phrase-8)
	put(o[1], x, 0, right, tall-4)
	put(o[2], x, tall, right, wholeLines(l.b.words.Objects, right-8, s.Height-tall-4))
}

// wholeLines is how much of a height paragraphs 4 apart fill without cutting a line in two.
func wholeLines(list []fyne.CanvasObject, width, room float32) float32 {
	fit, at := room, float32(0)
	for _, o := range list {
		t, ok := o.(look.Tall)
		if !ok {
			continue
		}
		end := at + t.HeightFor(width)
		for y := at + look.Lead; y <= end; y += look.Lead {
			if y > room {
				return fit
			}
			fit = y
		}
		at = end + 4
	}
	return room
}

func (b *heights) object() fyne.CanvasObject { return b.box }
func (b *heights) head() fyne.CanvasObject   { return b.note }
func (b *heights) bare() bool                { return false }

func (b *heights) update(document.Change) {
	d := b.h.Doc
	s, _ := d.Study()
	live := d.Freshness().Live
	t := s.HeightTable()
	b.table.set(t, d.Load(), d.Unit(), !live)
	note := words.T("both wheels at each height and load; heavy figures are outside common practice (no rule, your call)")
	switch {
	case t == nil:
		note = words.T("no figures yet")
	case !live:
		note = words.T("working out; the figures are of the geometry before")
	case s.Mech != nil && s.Mech.FrontStill:
		note = words.T("the front stays still; heavy figures are outside common practice (no rule, your call)")
	}
	b.note.SetText(note)
	var captions []string
	b.own = b.own[:0]
	if t != nil {
		for h := range t.Heights {
			b.own = append(b.own, t.Travel[h][0]-s.Loads[0].Heave)
		}
		captions = t.Captions
		if len(captions) == 0 {
			captions = []string{words.T("No height changes the way the roll steer goes or leaves common practice.")}
		}
	}
	if key := fmt.Sprint(live, captions); key != b.said {
		b.said = key
		role := ink.Text
		if !live {
			role = ink.Second
		}
		b.words.Objects = nil
		for _, c := range captions {
			b.words.Add(look.NewPara("", c, role))
		}
		b.words.Refresh()
	}
	b.box.Refresh()
	b.draw()
}

// draw has the chosen row drawn.
func (b *heights) draw() {
	d := b.h.Doc
	spec := heightSpec(b.table.row(), b.table.t, b.own, d.Load(), d.Unit(), b.table.stale)
	if s, _ := d.Study(); b.table.t == nil && s.Refusal != "" {
		spec.Why = s.Refusal
	}
	b.plot.set(spec, b.table.stale)
}

func (b *heights) lines() []string {
	var out []string
	g := b.table
	if g.t == nil {
		return nil
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
	return append(out, g.t.Captions...)
}

func (b *heights) named(name string) fyne.CanvasObject {
	switch name {
	case "table":
		return b.table
	case "chart":
		return b.plot
	}
	return nil
}

// heightSpec is a row as a chart: a line for each load over the heights the driver can choose.
func heightSpec(r *study.HeightRow, t *study.HeightTable, own []float64, load int, unit string, stale bool) chart.Spec {
	if r == nil {
		return chart.Spec{Cursor: math.NaN(), Why: words.T("There is nothing to draw.")}
	}
	per, x := 1.0, 1.0
	out := chart.Spec{Title: r.Title, Unit: r.Unit, Up: r.Up, Down: r.Down, Cursor: math.NaN()}
	if unit == "in" {
		x = 1 / mmPerInch
		if r.Unit == "mm" {
			out.Unit, per = unit, x
		}
	}
	if stale {
		out.Title = words.F("was: %s", out.Title)
	}
	out.XTitle = words.F("height, %s: − raised, + lowered", unit)
	order := heightOrder(own)
	for l, name := range t.Loads {
		c := chart.Curve{Name: name, Present: l == load}
		same := false
		for _, h := range order {
			c.X = append(c.X, own[h]*x)
			c.Y = append(c.Y, r.Cells[h][l].Value*per)
		}
		for i := range out.Curves { // loads that give the same are one line
			k := &out.Curves[i]
			if equal(k.Y, c.Y) {
				k.Name, k.Present, same = k.Name+", "+name, k.Present || c.Present, true
			}
		}
		if !same {
			out.Curves = append(out.Curves, c)
		}
	}
	if len(out.Curves) == 1 {
		out.Curves[0].Name, out.Curves[0].Present = "", true
	}
	for _, h := range order {
		out.Ticks = append(out.Ticks, chart.Tick{X: own[h] * x, Name: t.Heights[h]})
	}
	if lo, hi := r.BandLo, r.BandHi; !math.IsNaN(lo) || !math.IsNaN(hi) {
		b := chart.Band{Lo: lo * per, Hi: hi * per, Words: r.BandWords}
		if math.IsNaN(lo) {
			b.Lo = math.Inf(-1)
		}
		if math.IsNaN(hi) {
			b.Hi = math.Inf(1)
		}
		out.Bands = append(out.Bands, b)
	}
	return out
}

// heightOrder is the heights by their own travel, that of a load left out.
func heightOrder(own []float64) []int {
	var order []int
	for h := range own {
		i := len(order)
		for i > 0 && own[order[i-1]] > own[h] {
			i--
		}
		order = append(order[:i], append([]int{h}, order[i:]...)...)
	}
	return order
}

func equal(a, b []float64) bool {
	for i := range a {
		if !(math.Abs(a[i]-b[i]) < 1e-6 || math.IsNaN(a[i]) && math.IsNaN(b[i])) {
			return false
		}
	}
	return true
}

// shortTitles stand where a quantity's whole name is too long for the table.
var shortTitles = map[string]string{"shaftfront": words.Mark("Shaft, front joint"), "shaftbearing": words.Mark("Shaft, bearing joint"), "shaftrear": words.Mark("Shaft, rear joint"),
	"rollcentre": words.Mark("Roll centre"), "antilift": words.Mark("Anti-lift")}

func rowTitle(r *study.HeightRow, unit string) string {
	title, u := r.Title, r.Unit
	if s, ok := shortTitles[r.Key]; ok {
		title = words.T(s)
	}
	if u == "mm" {
		u = unit
	}
	u, _, _ = strings.Cut(u, " of ")
	return title + ", " + words.T(u)
}

// sideWords are what + and - are called in a cell.
var sideWords = map[string][2]string{"pinion": {words.Mark("up"), words.Mark("down")}, "rollsteer": {words.Mark("over"), words.Mark("under")}, "sideshift": {words.Mark("left"), words.Mark("right")}, "squareness": {words.Mark("left"), words.Mark("right")}, "slip": {words.Mark("out"), words.Mark("in")}}

// cellWords is a figure of the table.
func cellWords(r *study.HeightRow, h, l int, unit string) string {
	v := r.Cells[h][l].Value
	switch {
	case math.IsNaN(v) && r.Key == keySlope:
		return ""
	case math.IsNaN(v):
		return "?"
	}
	side, sided := sideWords[r.Key]
	size := v
	if sided {
		size = math.Abs(v)
	}
	text := ""
	switch {
	case r.Unit == "mm" && unit == "in":
		text = fmt.Sprintf("%.2f", size/mmPerInch)
	case r.Unit == "mm" && (r.Key == "squareness" || r.Key == "gap" && math.Abs(size) < 10):
		text = fmt.Sprintf("%.1f", size)
	case r.Unit == "deg":
		text = fmt.Sprintf("%.1f", size)
	default:
		text = fmt.Sprintf("%.0f", size)
	}
	zero := strings.Trim(text, "-0.") == ""
	text = strings.TrimPrefix(text, "-")
	switch {
	case zero:
	case sided && v > 0:
		text += " " + words.T(side[0])
	case sided:
		text += " " + words.T(side[1])
	case v < 0:
		text = measure.Minus + text
	}
	return text
}
