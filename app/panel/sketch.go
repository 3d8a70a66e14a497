package panel

import (
	"math"

	"axleloft/app/look"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// The box a sketch is drawn in, before it is laid out; y goes down.
const (
	sketchWide = 420
	sketchTall = 128
)

// sketch is a small drawing: lines, rings and words by role. It shows what a figure is, not to scale.
type sketch struct {
	lines []sketchLine
	rings []sketchRing
	words []sketchWords
}

type sketchLine struct {
	x0, y0, x1, y1, width float32
	role                  ink.Role
}

type sketchRing struct {
	x, y, r float32
	role    ink.Role
	full    bool
}

type sketchWords struct {
	x, y float32 // of the beginning, on the base line
	text string
	role ink.Role
}

func (s *sketch) line(role ink.Role, width float32, at ...float32) *sketch {
	for i := 0; i+3 < len(at); i += 2 {
		s.lines = append(s.lines, sketchLine{at[i], at[i+1], at[i+2], at[i+3], width, role})
	}
	return s
}

func (s *sketch) ring(role ink.Role, x, y, r float32) *sketch {
	s.rings = append(s.rings, sketchRing{x, y, r, role, false})
	return s
}

func (s *sketch) dot(role ink.Role, x, y float32) *sketch {
	s.rings = append(s.rings, sketchRing{x, y, 4, role, true})
	return s
}

func (s *sketch) say(x, y float32, text string) *sketch {
	s.words = append(s.words, sketchWords{x, y, text, ink.Text})
	return s
}

// arrow is the quantity itself: a line with a head at its end.
func (s *sketch) arrow(x0, y0, x1, y1 float32) *sketch {
	s.line(ink.Measure, 2.5, x0, y0, x1, y1)
	dx, dy := float64(x1-x0), float64(y1-y0)
	n := math.Hypot(dx, dy)
	if n == 0 {
		return s
	}
	dx, dy = dx/n*9, dy/n*9
	s.line(ink.Measure, 2.5, x1, y1, x1-float32(dx-dy*0.45), y1-float32(dy+dx*0.45))
	return s.line(ink.Measure, 2.5, x1, y1, x1-float32(dx+dy*0.45), y1-float32(dy-dx*0.45))
}

// span is the quantity as a length: a line with heads at both ends.
func (s *sketch) span(x0, y0, x1, y1 float32) *sketch {
	mx, my := (x0+x1)/2, (y0+y1)/2
	return s.arrow(mx, my, x0, y0).arrow(mx, my, x1, y1)
}

// arc is the quantity as an angle, from and to in deg against the clock from the right.
func (s *sketch) arc(x, y, r float32, from, to float64) *sketch {
	const steps = 12
	at := func(i int) (float32, float32) {
		a := (from + (to-from)*float64(i)/steps) * math.Pi / 180
		return x + r*float32(math.Cos(a)), y - r*float32(math.Sin(a))
	}
	for i := range steps {
		x0, y0 := at(i)
		x1, y1 := at(i + 1)
		s.line(ink.Measure, 2.5, x0, y0, x1, y1)
	}
	return s
}

// Sketch shows a sketch.
type Sketch struct {
	widget.BaseWidget
	s *sketch
}

func newSketch(s *sketch) *Sketch {
	k := &Sketch{s: s}
	k.ExtendBaseWidget(k)
	return k
}

// CreateRenderer is the toolkit's.
func (k *Sketch) CreateRenderer() fyne.WidgetRenderer {
	k.ExtendBaseWidget(k)
	r := &sketchRenderer{k: k, ground: &canvas.Rectangle{CornerRadius: look.Radius}}
	r.all = append(r.all, r.ground)
	for range k.s.lines {
		l := &canvas.Line{}
		r.lines, r.all = append(r.lines, l), append(r.all, l)
	}
	for range k.s.rings {
		c := &canvas.Circle{}
		r.rings, r.all = append(r.rings, c), append(r.all, c)
	}
	for range k.s.words {
		t := look.Text("", look.Small, ink.Text, false)
		r.words, r.all = append(r.words, t), append(r.all, t)
	}
	return r
}

type sketchRenderer struct {
	k      *Sketch
	ground *canvas.Rectangle
	lines  []*canvas.Line
	rings  []*canvas.Circle
	words  []*canvas.Text
	all    []fyne.CanvasObject
}

func (r *sketchRenderer) MinSize() fyne.Size { return fyne.NewSize(sketchWide, sketchTall) }
func (r *sketchRenderer) Layout(size fyne.Size) {
	dx := max(0, (size.Width-sketchWide)/2)
	r.ground.FillColor = look.Color(ink.Ground)
	r.ground.Resize(size)
	for i, l := range r.k.s.lines {
		o := r.lines[i]
		o.StrokeColor, o.StrokeWidth = look.Color(l.role), l.width*look.Weight()
		o.Position1, o.Position2 = fyne.NewPos(dx+l.x0, l.y0), fyne.NewPos(dx+l.x1, l.y1)
	}
	for i, c := range r.k.s.rings {
		o := r.rings[i]
		o.StrokeColor, o.StrokeWidth, o.FillColor = look.Color(c.role), 2*look.Weight(), look.Clear
		if c.full {
			o.FillColor = look.Color(c.role)
		}
		o.Move(fyne.NewPos(dx+c.x-c.r, c.y-c.r))
		o.Resize(fyne.NewSize(2*c.r, 2*c.r))
	}
	for i, w := range r.k.s.words {
		look.Paint(r.words[i], w.text, look.Color(w.role))
		look.PlaceLeft(r.words[i], dx+w.x, w.y)
	}
}
func (r *sketchRenderer) Refresh()                     { r.Layout(r.k.Size()); canvas.Refresh(r.k) }
func (r *sketchRenderer) Objects() []fyne.CanvasObject { return r.all }
func (r *sketchRenderer) Destroy()                     {}
