package look

import (
	"image/color"
	"math"

	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Plate is a ground in a role's colour, with an edge if wanted; it follows light and dark.
type Plate struct {
	widget.BaseWidget
	fill  ink.Role
	edge  ink.Role
	width float32
	round float32
	least fyne.Size
}

// NewPlate makes a ground without an edge.
func NewPlate(fill ink.Role) *Plate {
	p := &Plate{fill: fill}
	p.ExtendBaseWidget(p)
	return p
}

// Edged gives the ground an edge; returns the plate.
func (p *Plate) Edged(edge ink.Role, width, radius float32) *Plate {
	p.edge, p.width, p.round = edge, width, radius
	return p
}

// Least sets the least size; returns the plate.
func (p *Plate) Least(w, h float32) *Plate { p.least = fyne.NewSize(w, h); return p }

// SetFill changes the role of the ground.
func (p *Plate) SetFill(fill ink.Role) {
	if p.fill != fill {
		p.fill = fill
		p.Refresh()
	}
}

// CreateRenderer is the toolkit's.
func (p *Plate) CreateRenderer() fyne.WidgetRenderer {
	p.ExtendBaseWidget(p)
	r := &plateRenderer{p: p, box: &canvas.Rectangle{}}
	r.paint()
	return Made(p, r)
}

type plateRenderer struct {
	p    *Plate
	slab Slab
	box  *canvas.Rectangle // where it has an edge or round corners
}

func (r *plateRenderer) plain() bool { return r.p.width <= 0 && r.p.round <= 0 }

func (r *plateRenderer) paint() {
	if r.plain() {
		r.slab.Paint(r.p, r.p.Size(), Color(r.p.fill))
		return
	}
	if r.box == nil {
		r.box = &canvas.Rectangle{}
	}
	r.box.Resize(r.p.Size())
	r.box.FillColor, r.box.CornerRadius = Color(r.p.fill), r.p.round
	if r.box.StrokeWidth = r.p.width; r.p.width > 0 {
		r.box.StrokeColor = Color(r.p.edge)
	}
}

func (r *plateRenderer) Layout(fyne.Size)   { r.paint() }
func (r *plateRenderer) MinSize() fyne.Size { return r.p.least }
func (r *plateRenderer) Refresh()           { r.paint(); canvas.Refresh(r.p) }
func (r *plateRenderer) Objects() []fyne.CanvasObject {
	if r.plain() {
		return r.slab.Objects()
	}
	return []fyne.CanvasObject{r.box}
}
func (r *plateRenderer) Destroy() {}

// leastSlab is how many pixels a ground has across to be drawn as a line: a strip shows that the sides are soft at scales above 1.
const leastSlab = 24

// Slab is a ground of one colour without an edge. The toolkit's painter takes for a pixel of a thick line less than half of what it takes for one
// of a rectangle, and the grounds of panels are four tenths of a frame's pixels; so it is drawn as a line from side to side. The painter puts
// a line's middle on a whole device pixel, so that the line runs the way across which their number is even; where both are odd it is a rectangle.
type Slab struct {
	objects [1]fyne.CanvasObject
	line    *canvas.Line
	box     *canvas.Rectangle
}

// Objects is what is drawn, after Paint.
func (f *Slab) Objects() []fyne.CanvasObject {
	if f.objects[0] == nil {
		return nil
	}
	return f.objects[:]
}

// Paint sets the ground's size and colour; on is what it belongs to, which tells the scale of the window it is in.
func (f *Slab) Paint(on fyne.CanvasObject, s fyne.Size, c color.Color) {
	k := float32(1)
	if w := fyne.CurrentApp().Driver().CanvasForObject(on); w != nil && w.Scale() > 0 {
		k = w.Scale()
	}
	wide, high := math.Round(float64(s.Width*k)), math.Round(float64(s.Height*k))
	even := func(pixels float64) bool { return math.Mod(pixels, 2) == 0 }
	if min(wide, high) < leastSlab || !even(wide) && !even(high) {
		if f.box == nil {
			f.box = &canvas.Rectangle{}
		}
		f.box.FillColor = c
		f.box.Resize(s)
		f.objects[0] = f.box
		return
	}
	if f.line == nil {
		f.line = &canvas.Line{}
	}
	f.line.StrokeColor = c
	const feather = 0.5 // the painter widens a line by it and softens that much of its sides
	if even(high) {
		f.line.StrokeWidth = float32(high)/k - feather
		f.line.Position1, f.line.Position2 = fyne.NewPos(0, float32(high)/2/k), fyne.NewPos(float32(wide)/k, float32(high)/2/k)
	} else {
		f.line.StrokeWidth = float32(wide)/k - feather
		f.line.Position1, f.line.Position2 = fyne.NewPos(float32(wide)/2/k, 0), fyne.NewPos(float32(wide)/2/k, float32(high)/k)
	}
	f.objects[0] = f.line
}
