// Package brush is what the drawing widgets share: canvas objects that are kept and used again, drawn in the order asked for, lines cut
// to a box, long dashes with two dots, words on a plate, and the stripes and dots that mark trouble.
//
// Places are widget units from the widget's upper left corner.
package brush

import (
	"image/color"
	"math"

	"axleloft/app/look"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Pool keeps canvas objects between redraws. Begin, draw, then hand Objects to the renderer. A redraw that draws no more than the one
// before makes no new object. One goroutine at a time.
type Pool struct {
	objects []fyne.CanvasObject
	lines   []*canvas.Line
	circles []*canvas.Circle
	rects   []*canvas.Rectangle
	texts   []*canvas.Text
	nl, nc  int
	nr, nt  int
	dressed map[fyne.CanvasObject]ink.Scheme // the colours the caller's own objects were last drawn in
}

// Begin starts a redraw: everything drawn before is free to be used again.
func (p *Pool) Begin() {
	p.objects = p.objects[:0]
	p.nl, p.nc, p.nr, p.nt = 0, 0, 0, 0
}

// Objects is what was drawn since Begin, back to front; valid until the next Begin.
func (p *Pool) Objects() []fyne.CanvasObject { return p.objects }

// Repaint asks for a new frame with what was drawn. A refresh of the widget would throw away the textures of all it shows, so that every
// raster would be painted and sent again; a raster that has changed is refreshed by its owner.
func Repaint(w fyne.CanvasObject) {
	if c, ok := fyne.CurrentApp().Driver().CanvasForObject(w).(interface{ SetDirty() }); ok {
		c.SetDirty()
		return
	}
	canvas.Refresh(w)
}

// Put draws an object of the caller's own (a raster, say) at this place in the order. When the colours change, the toolkit has all that is shown
// drawn again; what was out of sight then is drawn again here.
func (p *Pool) Put(o fyne.CanvasObject) {
	now := look.Scheme()
	if last, ok := p.dressed[o]; !ok || last != now {
		if p.dressed == nil {
			p.dressed = map[fyne.CanvasObject]ink.Scheme{}
		}
		p.dressed[o] = now
		if ok {
			o.Refresh()
		}
	}
	p.objects = append(p.objects, o)
}

// Line draws a straight line.
func (p *Pool) Line(x1, y1, x2, y2, width float32, c color.Color) {
	if p.nl == len(p.lines) {
		p.lines = append(p.lines, &canvas.Line{})
	}
	l := p.lines[p.nl]
	p.nl++
	l.Position1, l.Position2 = fyne.NewPos(x1, y1), fyne.NewPos(x2, y2)
	l.StrokeColor, l.StrokeWidth = c, width
	p.objects = append(p.objects, l)
}

// Circle draws a circle about a centre; nil colours are left out. The stroke lies inside the radius.
func (p *Pool) Circle(x, y, r, width float32, stroke, fill color.Color) {
	if p.nc == len(p.circles) {
		p.circles = append(p.circles, &canvas.Circle{})
	}
	c := p.circles[p.nc]
	p.nc++
	c.Position1, c.Position2 = fyne.NewPos(x-r, y-r), fyne.NewPos(x+r, y+r)
	c.StrokeColor, c.StrokeWidth, c.FillColor = orNone(stroke), width, orNone(fill)
	p.objects = append(p.objects, c)
}

// Rect draws a rectangle with rounded corners; nil colours are left out. The stroke lies inside the box.
func (p *Pool) Rect(x, y, w, h, radius, width float32, stroke, fill color.Color) {
	if p.nr == len(p.rects) {
		p.rects = append(p.rects, &canvas.Rectangle{})
	}
	r := p.rects[p.nr]
	p.nr++
	r.StrokeColor, r.StrokeWidth, r.FillColor, r.CornerRadius = orNone(stroke), width, orNone(fill), radius
	r.Move(fyne.NewPos(x, y))
	r.Resize(fyne.NewSize(w, h))
	p.objects = append(p.objects, r)
}

func orNone(c color.Color) color.Color {
	if c == nil {
		return color.Transparent
	}
	return c
}

// Type is how words are set.
type Type struct {
	Size   float32
	Bold   bool
	Italic bool
}

func (t Type) style() fyne.TextStyle { return fyne.TextStyle{Bold: t.Bold, Italic: t.Italic} }

// Measure is the room words take.
func Measure(s string, t Type) fyne.Size { return fyne.MeasureText(s, t.Size, t.style()) }

// Text draws words with their upper left corner at a place, and tells the room they take.
func (p *Pool) Text(s string, x, y float32, t Type, c color.Color) fyne.Size {
	if p.nt == len(p.texts) {
		p.texts = append(p.texts, &canvas.Text{})
	}
	o := p.texts[p.nt]
	p.nt++
	o.Text, o.TextSize, o.TextStyle, o.Color = s, t.Size, t.style(), c
	size := Measure(s, t)
	o.Move(fyne.NewPos(x, y))
	o.Resize(size)
	p.objects = append(p.objects, o)
	return size
}

// Texts calls f for every word drawn since Begin and where it stands; a test and a probe read the drawing with it.
func (p *Pool) Texts(f func(s string, at fyne.Position, size fyne.Size)) {
	for _, t := range p.texts[:p.nt] {
		f(t.Text, t.Position(), t.Size())
	}
}

// Box is an upright box, in widget units.
type Box struct{ X0, Y0, X1, Y1 float64 }

// Inset returns the box smaller by d all round.
func (b Box) Inset(d float64) Box { return Box{b.X0 + d, b.Y0 + d, b.X1 - d, b.Y1 - d} }

// Overlaps reports whether two boxes share any area.
func (b Box) Overlaps(o Box) bool { return b.X0 < o.X1 && o.X0 < b.X1 && b.Y0 < o.Y1 && o.Y0 < b.Y1 }

// Clip cuts a line to a box; ok is false where nothing of it lies inside.
func Clip(b Box, x1, y1, x2, y2 float64) (a1, b1, a2, b2 float64, ok bool) {
	return drawing.ClipLine(b.X0, b.Y0, b.X1, b.Y1, x1, y1, x2, y2)
}

// ClipLine draws what of a line lies in the box.
func (p *Pool) ClipLine(b Box, x1, y1, x2, y2 float64, width float32, c color.Color) {
	if u1, v1, u2, v2, ok := Clip(b, x1, y1, x2, y2); ok {
		p.Line(float32(u1), float32(v1), float32(u2), float32(v2), width, c)
	}
}

// The long dash with two dots of ISO 128 for the other position of a moving part: dash 20, dots 2, gaps 3.
var pencil = [...]struct {
	length float64
	ink    bool
}{{20, true}, {3, false}, {2, true}, {3, false}, {2, true}, {3, false}}

const pencilPeriod = 33

// Dashed draws a line in long dashes with two dots, cut to the box. from is how far along the pattern it starts; it returns how far it
// has got, so that the pattern runs on along the next line of an outline.
func (p *Pool) Dashed(b Box, x1, y1, x2, y2, from float64, width float32, c color.Color) float64 {
	length := math.Hypot(x2-x1, y2-y1)
	end := math.Mod(from+length, pencilPeriod)
	u1, v1, u2, v2, ok := Clip(b, x1, y1, x2, y2)
	if !ok || length == 0 {
		return end
	}
	ux, uy := (x2-x1)/length, (y2-y1)/length
	start := math.Hypot(u1-x1, v1-y1)
	stop := math.Hypot(u2-x1, v2-y1)
	at := start
	phase := math.Mod(from+start, pencilPeriod)
	i := 0
	for phase >= pencil[i].length {
		phase -= pencil[i].length
		i = (i + 1) % len(pencil)
	}
	for at < stop {
		step := math.Min(pencil[i].length-phase, stop-at)
		if pencil[i].ink {
			p.Line(float32(x1+ux*at), float32(y1+uy*at), float32(x1+ux*(at+step)), float32(y1+uy*(at+step)), width, c)
		}
		at += step
		phase = 0
		i = (i + 1) % len(pencil)
	}
	return end
}

// Plate draws words on a plate of the ground 4 wider than they are, so that no line runs through them. It tells the plate's box.
func (p *Pool) Plate(s string, x, y float32, t Type, c, ground color.Color) Box {
	size := Measure(s, t)
	p.Rect(x-4, y, size.Width+8, size.Height, 0, 0, nil, ground)
	p.Text(s, x, y, t, c)
	return Box{float64(x - 4), float64(y), float64(x + size.Width + 4), float64(y + size.Height)}
}

// Tag draws bold words in a frame of trouble's colour. It tells the tag's box.
func (p *Pool) Tag(s string, x, y, size float32, words, frame, ground color.Color) Box {
	t := Type{Size: size, Bold: true}
	m := Measure(s, t)
	w, h := m.Width+10, m.Height+2
	p.Rect(x, y, w, h, 3, 1.5, frame, ground)
	p.Text(s, x+5, y+1, t, words)
	return Box{float64(x), float64(y), float64(x + w), float64(y + h)}
}

// TagSize is the room a tag takes.
func TagSize(s string, size float32) fyne.Size {
	m := Measure(s, Type{Size: size, Bold: true})
	return fyne.NewSize(m.Width+10, m.Height+2)
}
