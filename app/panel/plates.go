package panel

import (
	"math"

	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
	"axleloft/geometry/plate"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// plates is a picture of a bracket's flat plates beside its form, all to one scale: outline, holes, folds and the mounting face.
type plates struct {
	widget.BaseWidget
	pool brush.Pool
	list []plate.Plate
	unit measure.Unit
}

func newPlates() *plates {
	p := &plates{}
	p.ExtendBaseWidget(p)
	return p
}

// show draws the plates of a bracket; a job in which they cannot be is refused before it comes here.
func (p *plates) show(b *job.Bracket, unit measure.Unit) {
	p.list, _ = plate.Of(b)
	p.unit = unit
	p.Refresh()
}

func (p *plates) length(mm float64) string { return measure.Typed(mm, p.unit) + " " + p.unit.String() }

// MinSize is the toolkit's.
func (p *plates) MinSize() fyne.Size { return fyne.NewSize(platesWide, 60) }

const (
	platesWide = 236
	plateWords = 18 // room for a plate's words under it
)

// CreateRenderer is the toolkit's.
func (p *plates) CreateRenderer() fyne.WidgetRenderer {
	p.ExtendBaseWidget(p)
	return &platesRenderer{p}
}

type platesRenderer struct{ p *plates }

func (r *platesRenderer) Layout(fyne.Size)             { r.p.draw() }
func (r *platesRenderer) MinSize() fyne.Size           { return r.p.MinSize() }
func (r *platesRenderer) Objects() []fyne.CanvasObject { return r.p.pool.Objects() }
func (r *platesRenderer) Destroy()                     {}
func (r *platesRenderer) Refresh()                     { r.p.draw() }

// draw lays the plates beside one another, or under one another where that leaves them larger.
func (p *plates) draw() {
	g, s := &p.pool, p.Size()
	g.Begin()
	g.Rect(0, 0, s.Width, s.Height, look.Radius, 1, look.Color(ink.Edge), look.Color(ink.Ground))
	if len(p.list) == 0 || s.Width < 60 || s.Height < 50 {
		return
	}
	const inset = 12
	n := float32(len(p.list))
	cell := fyne.NewSize((s.Width-inset)/n-inset, s.Height-2*inset-plateWords)
	down := false
	if tall := fyne.NewSize(s.Width-2*inset, (s.Height-inset)/n-inset-plateWords); p.fit(tall) > p.fit(cell) {
		cell, down = tall, true
	}
	k := p.fit(cell)
	x, y := float32(inset), float32(inset)
	for i := range p.list {
		p.plate(&p.list[i], x, y, cell, k)
		if down {
			y += cell.Height + inset + plateWords
		} else {
			x += cell.Width + inset
		}
	}
}

// fit is how many units a mm may take so that every plate has room.
func (p *plates) fit(room fyne.Size) float64 {
	k := math.Inf(1)
	for i := range p.list {
		x0, y0, x1, y1 := p.list[i].Bounds()
		k = math.Min(k, math.Min(float64(room.Width)/(x1-x0), float64(room.Height)/(y1-y0)))
	}
	return math.Max(k, 0)
}

// plate draws one in the middle of its room, and says under it what it is.
func (p *plates) plate(l *plate.Plate, x, y float32, room fyne.Size, k float64) {
	g := &p.pool
	x0, y0, x1, y1 := l.Bounds()
	left, top := float64(x)+(float64(room.Width)-k*(x1-x0))/2, float64(y)+(float64(room.Height)-k*(y1-y0))/2
	at := func(u, v float64) (float32, float32) { return float32(left + k*(u-x0)), float32(top + k*(y1-v)) }
	box := brush.Box{X0: 0, Y0: 0, X1: float64(p.Size().Width), Y1: float64(p.Size().Height)}
	line := func(l *plate.Line, role ink.Role) {
		a, b := at(l.X1, l.Y1)
		c, d := at(l.X2, l.Y2)
		g.Dashed(box, float64(a), float64(b), float64(c), float64(d), 0, 1, look.Color(role))
	}
	path := l.Path(24)
	for i, a := range path {
		b := path[(i+1)%len(path)]
		ax, ay := at(a.X, a.Y)
		bx, by := at(b.X, b.Y)
		g.Line(ax, ay, bx, by, 2, look.Color(ink.Text))
	}
	if l.Face != nil {
		line(l.Face, ink.Press)
	}
	for i := range l.Folds {
		line(&l.Folds[i], ink.Measure)
	}
	for _, h := range l.Holes {
		cx, cy := at(h.X, h.Y)
		g.Circle(cx, cy, float32(math.Max(2, k*h.Diameter/2)), 1.5, look.Color(ink.Text), nil)
	}
	text := look.Shorten(words.F("%d off, %s", l.Count, p.length(l.Thickness)), look.Small, false, room.Width)
	w := look.Width(text, look.Small, false)
	g.Text(text, x+(room.Width-w)/2, y+room.Height+2, brush.Type{Size: look.Small}, look.Color(ink.Second))
}

// Texts are what the picture says: read by tests and the probe.
func (p *plates) Texts() []string {
	var out []string
	p.pool.Texts(func(s string, _ fyne.Position, _ fyne.Size) { out = append(out, s) })
	return out
}
