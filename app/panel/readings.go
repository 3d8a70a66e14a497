package panel

import (
	"math"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Standing is how many readings always stand; the rest come by scrolling.
const Standing = 6

// ReadingsPanel is the list of readings, rows of 40.
type ReadingsPanel struct {
	h      *Host
	rows   []*readingRow
	box    *fyne.Container
	scroll *container.Scroll
	Object fyne.CanvasObject
}

// NewReadings makes the list.
func NewReadings(h *Host) *ReadingsPanel {
	p := &ReadingsPanel{h: h, box: container.New(&look.Stack{})}
	p.scroll = container.NewVScroll(p.box)
	p.Object = container.NewStack(look.NewPlate(ink.Panel), look.Calm(p.scroll))
	p.Update(^document.Change(0))
	return p
}

// Update looks at what changed.
func (p *ReadingsPanel) Update(document.Change) {
	list := Readings(p.h.Doc)
	for len(p.rows) < len(list) {
		row := &readingRow{first: len(p.rows) == 0, in: p.scroll}
		row.seen = func() { reveal(p.scroll, row) }
		row.press = func() { p.h.Explain(&row.r, row) }
		row.ExtendBaseWidget(row)
		p.rows = append(p.rows, row)
		p.box.Add(row)
	}
	for i := range list {
		p.rows[i].set(list[i])
	}
}

// Texts are name, word, value and unit of each reading, for tests and for whoever drives the window from outside.
func (p *ReadingsPanel) Texts() []string {
	var out []string
	for _, r := range p.rows {
		out = append(out, r.r.Name+": "+r.r.Value+" "+r.r.Unit+" "+r.r.Word)
	}
	return out
}

// Row is the row of a reading by its name, nil where there is none.
func (p *ReadingsPanel) Row(name string) fyne.CanvasObject {
	for _, r := range p.rows {
		if r.r.Name == name || r.r.Key == name {
			return r
		}
	}
	return nil
}

// readingRow is one reading: name, word, value, unit and the bar. A press, Space or Enter opens what it is.
type readingRow struct {
	widget.BaseWidget
	r       Reading
	first   bool
	in      *container.Scroll // that the row lies in
	press   func()
	seen    func() // brings the row into view
	late    bool   // it changed out of sight
	focused bool
	hovered bool
}

var (
	_ fyne.Tappable     = (*readingRow)(nil)
	_ fyne.Focusable    = (*readingRow)(nil)
	_ desktop.Hoverable = (*readingRow)(nil)
)

func (r *readingRow) set(x Reading) {
	if sameReading(&r.r, &x) {
		r.r = x
		return
	}
	r.r = x
	if r.late = r.away(); !r.late {
		r.Refresh()
	}
}

// away reports whether the row is scrolled out of sight.
func (r *readingRow) away() bool {
	y := r.Position().Y - r.in.Offset.Y
	return y+r.Size().Height <= 0 || y >= r.in.Size().Height
}

func sameReading(a, b *Reading) bool {
	eq := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	if a.Key != b.Key || a.Name != b.Name || a.Word != b.Word || a.Value != b.Value || a.Unit != b.Unit || a.Lo != b.Lo || a.Hi != b.Hi || a.Under != b.Under ||
		a.HasExtent != b.HasExtent || a.Stale != b.Stale || len(a.Ticks) != len(b.Ticks) {
		return false
	}
	for i := range a.Ticks {
		if !eq(a.Ticks[i], b.Ticks[i]) {
			return false
		}
	}
	return eq(a.Now, b.Now) && eq(a.Extent.Min, b.Extent.Min) && eq(a.Extent.Max, b.Extent.Max) && eq(a.BandLo, b.BandLo) && eq(a.BandHi, b.BandHi) && eq(a.Limit, b.Limit) && eq(a.Before, b.Before) && eq(a.Measured, b.Measured)
}

func (r *readingRow) Tapped(*fyne.PointEvent)        { r.press() }
func (r *readingRow) FocusGained()                   { r.focused = true; r.seen(); r.Refresh() }
func (r *readingRow) FocusLost()                     { r.focused = false; r.Refresh() }
func (r *readingRow) TypedRune(rune)                 {}
func (r *readingRow) MouseIn(*desktop.MouseEvent)    { r.hovered = true; r.Refresh() }
func (r *readingRow) MouseMoved(*desktop.MouseEvent) {}
func (r *readingRow) MouseOut()                      { r.hovered = false; r.Refresh() }
func (r *readingRow) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		r.press()
	default:
		look.HandOn(r, e)
	}
}

func (r *readingRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	x := &readingRenderer{r: r, back: &canvas.Rectangle{}, ring: &canvas.Rectangle{StrokeWidth: 2}, rule: &canvas.Rectangle{}, band: &canvas.Rectangle{},
		thin: &canvas.Rectangle{}, thick: &canvas.Rectangle{}, now: &canvas.Rectangle{CornerRadius: 1.5, StrokeWidth: 1.5}, before: &canvas.Rectangle{}, measured: &canvas.Rectangle{}, limit: &canvas.Rectangle{}}
	x.name = look.Text("", look.Body, ink.Text, false)
	x.word = look.Text("", look.Small, ink.Second, false)
	x.value = look.Text("", look.Value, ink.Text, false)
	x.unit = look.Text("", look.Small, ink.Second, false)
	x.lo = look.Text("", look.Small, ink.Second, false)
	x.hi = look.Text("", look.Small, ink.Second, false)
	x.under = look.Text("", look.Small, ink.Second, false)
	x.all = []fyne.CanvasObject{x.back, x.rule, x.band, x.thin, x.thick}
	for i := range x.ticks {
		x.ticks[i] = &canvas.Rectangle{}
		x.all = append(x.all, x.ticks[i])
	}
	x.all = append(x.all, x.before, x.measured, x.limit, x.now, x.name, x.word, x.value, x.unit, x.lo, x.hi, x.under, x.ring)
	return x
}

const mostTicks = 6

type readingRenderer struct {
	r                                        *readingRow
	back, ring, rule, band, thin, thick, now *canvas.Rectangle
	before, measured, limit                  *canvas.Rectangle
	ticks                                    [mostTicks]*canvas.Rectangle
	name, word, value, unit, lo, hi, under   *canvas.Text
	all                                      []fyne.CanvasObject
}

// Objects are none while the row is scrolled out of sight: the toolkit would paint them all the same, and cut them off.
func (x *readingRenderer) Objects() []fyne.CanvasObject {
	if x.r.away() {
		return nil
	}
	if x.r.late { // what changed meanwhile
		x.r.late = false
		x.Layout(x.r.Size())
	}
	return x.all
}
func (x *readingRenderer) Destroy()           {}
func (x *readingRenderer) MinSize() fyne.Size { return fyne.NewSize(260, look.Row) }
func (x *readingRenderer) Refresh() {
	x.Layout(x.r.Size())
	canvas.Refresh(x.r)
}

// Layout draws the row; it never allocates but where words are shortened.
func (x *readingRenderer) Layout(s fyne.Size) {
	r := &x.r.r
	text, second := look.Color(ink.Text), look.Color(ink.Second)
	x.back.FillColor = look.Clear
	if x.r.hovered {
		x.back.FillColor = look.Veil(ink.Press, 0x14)
	}
	x.back.Resize(s)
	x.ring.Hidden, x.ring.FillColor, x.ring.StrokeColor = !x.r.focused, look.Clear, look.Color(ink.Press)
	x.ring.Move(fyne.NewPos(2, 1))
	x.ring.Resize(fyne.NewSize(s.Width-4, s.Height-2))
	x.rule.FillColor, x.rule.Hidden = look.Color(ink.Rule), x.r.first
	x.rule.Move(fyne.NewPos(look.Inset, 0))
	x.rule.Resize(fyne.NewSize(s.Width-2*look.Inset, 1))

	barRight := s.Width - 43
	barLeft := barRight - 102
	unitRight := barLeft - 54 // right edge of value and unit
	look.Paint(x.name, r.Name, text)
	look.PlaceLeft(x.name, look.Inset, 17)
	look.Paint(x.word, r.Word, second)
	look.PlaceLeft(x.word, look.Inset, 34)
	look.Paint(x.unit, r.Unit, second)
	unitWidth := look.Width(r.Unit, look.Small, false)
	look.PlaceRight(x.unit, unitRight, 27)
	look.Paint(x.value, r.Value, text)
	x.value.TextSize = look.Value
	if named := max(look.Width(r.Name, look.Body, false), look.Width(r.Word, look.Small, false)); look.Inset+named+8+look.Width(r.Value, look.Value, false)+5+unitWidth > unitRight {
		x.value.TextSize = look.Large
		if look.Inset+named+8+look.Width(r.Value, look.Large, false)+5+unitWidth > unitRight {
			x.value.TextSize = look.Body
		}
	}
	gap := float32(5)
	if r.Unit == "" {
		gap = 0
	}
	look.PlaceRight(x.value, unitRight-unitWidth-gap, 27)

	bar := r.HasExtent
	for _, o := range []*canvas.Rectangle{x.thin, x.thick, x.band, x.now, x.before, x.measured, x.limit} {
		o.Hidden = true
	}
	for _, t := range x.ticks {
		t.Hidden = true
	}
	x.lo.Hidden, x.hi.Hidden, x.under.Hidden = !bar, !bar, r.Under == ""
	faint := text
	if r.Stale {
		faint = look.Color(ink.Edge)
	}
	under, roomUnder := r.Under, s.Width-4-unitRight
	if r.Stale && bar {
		under = words.T("was; working out")
	}
	look.Paint(x.under, look.Shorten(under, look.Small, false, roomUnder), second)
	mid := (barLeft + barRight) / 2
	if w := look.Width(x.under.Text, look.Small, false); mid+w/2 > s.Width-4 {
		look.PlaceRight(x.under, s.Width-4, 34)
	} else {
		look.PlaceMid(x.under, mid, 34)
	}
	if !bar {
		return
	}
	lo, hi := r.Extent.Min, r.Extent.Max
	for _, v := range []float64{r.BandLo, r.BandHi, r.Limit, r.Now, r.Before, r.Measured} {
		if !math.IsNaN(v) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	if hi-lo < 1e-9 {
		lo, hi = lo-1, hi+1
	}
	at := func(v float64) float32 { return barLeft + float32((v-lo)/(hi-lo))*(barRight-barLeft) }
	const y = 12 // middle of the bar
	put := func(o *canvas.Rectangle, x0, y0, x1, y1 float32, role ink.Role) {
		o.Hidden, o.FillColor = false, look.Color(role)
		o.Move(fyne.NewPos(x0, y0))
		o.Resize(fyne.NewSize(x1-x0, y1-y0))
	}
	if !math.IsNaN(r.BandLo) || !math.IsNaN(r.BandHi) {
		b0, b1 := barLeft, barRight
		if !math.IsNaN(r.BandLo) {
			b0 = at(r.BandLo)
		}
		if !math.IsNaN(r.BandHi) {
			b1 = at(r.BandHi)
		}
		put(x.band, b0, y-10, b1, y+10, ink.Practice)
	}
	put(x.thin, barLeft, y-0.75, barRight, y+0.75, ink.Edge)
	put(x.thick, at(r.Extent.Min), y-2.5, max(at(r.Extent.Max), at(r.Extent.Min)+1), y+2.5, ink.Text)
	x.thick.FillColor = faint
	for i, v := range r.Ticks {
		if i >= mostTicks {
			break
		}
		put(x.ticks[i], at(v)-0.75, y+4.5, at(v)+0.75, y+10, ink.Text)
		x.ticks[i].FillColor = faint
	}
	if !math.IsNaN(r.Before) {
		put(x.before, at(r.Before)-1.5, y-10, at(r.Before)+1.5, y+10, ink.Pencil)
	}
	if !math.IsNaN(r.Measured) { // hangs from above, a pencil line crosses the bar
		put(x.measured, at(r.Measured)-1.5, y-10, at(r.Measured)+1.5, y-3, ink.Pencil)
	}
	if !math.IsNaN(r.Limit) {
		put(x.limit, at(r.Limit)-1.5, y-10, at(r.Limit)+1.5, y+10, ink.Trouble)
	}
	if !math.IsNaN(r.Now) {
		put(x.now, at(r.Now)-4.5, y-11, at(r.Now)+4.5, y+11, ink.Press)
		x.now.StrokeColor = look.Color(ink.Panel)
	}
	look.Paint(x.lo, r.Lo, second)
	look.PlaceRight(x.lo, barLeft-6, 17)
	look.Paint(x.hi, r.Hi, second)
	if w := look.Width(r.Hi, look.Small, false); barRight+7+w > s.Width-3 { // a long figure comes nearer to the bar
		look.PlaceRight(x.hi, s.Width-3, 17)
	} else {
		look.PlaceLeft(x.hi, barRight+7, 17)
	}
}
