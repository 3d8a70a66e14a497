package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// The least and the largest scale an eye can be given, units a mm.
const (
	LeastScale = 0.02
	MostScale  = 20.0
	GoScale    = 1.0 // at a place that is gone to: about 1 mm a pixel
)

// Size is the room of a view, units.
type Size struct{ W, H float64 }

// Eye is what the three views share: one point in space, in the middle of each, and one scale. So zooming or panning one moves the others.
type Eye struct {
	At    r3.Vec  // body axes, mm
	Scale float64 // units a mm
}

// Transform is how a view of a size shows the world.
func (e Eye) Transform(p Plane, s Size) Transform {
	a, b := p.Project(e.At)
	return Transform{Plane: p, Right: a, Up: b, Scale: e.Scale, Size: s}
}

// ZoomAt changes the scale by a factor and keeps what lies at a place of a view where it is.
func (e Eye) ZoomAt(p Plane, s Size, x, y, factor float64) Eye {
	scale := math.Max(LeastScale, math.Min(MostScale, e.Scale*factor))
	k := 1/e.Scale - 1/scale
	e.At = p.Shift(e.At, (x-s.W/2)*k, -(y-s.H/2)*k)
	e.Scale = scale
	return e
}

// Pan moves the picture of a view by units, y down.
func (e Eye) Pan(p Plane, dx, dy float64) Eye {
	e.At = p.Shift(e.At, -dx/e.Scale, dy/e.Scale)
	return e
}

// GoTo looks at a place (body axes, mm) at about 1 mm a pixel.
func GoTo(at r3.Vec) Eye { return Eye{At: at, Scale: GoScale} }

// Transform takes a view's own axes (right and up, mm) to units on the screen, y down from the upper left corner, and back.
type Transform struct {
	Plane     Plane
	Right, Up float64 // what lies in the middle, mm
	Scale     float64 // units a mm
	Size      Size
}

// ToScreen returns where a place of the view's own axes is drawn.
func (t Transform) ToScreen(right, up float64) (x, y float64) {
	return t.Size.W/2 + (right-t.Right)*t.Scale, t.Size.H/2 - (up-t.Up)*t.Scale
}

// ToWorld is the inverse of ToScreen.
func (t Transform) ToWorld(x, y float64) (right, up float64) {
	return t.Right + (x-t.Size.W/2)/t.Scale, t.Up - (y-t.Size.H/2)/t.Scale
}

// Place returns where a body point is drawn.
func (t Transform) Place(v r3.Vec) (x, y float64) { return t.ToScreen(t.Plane.Project(v)) }

// Lift returns the body point that is drawn at x, y and has the depth of v.
func (t Transform) Lift(v r3.Vec, x, y float64) r3.Vec {
	right, up := t.ToWorld(x, y)
	a, b := t.Plane.Project(v)
	return t.Plane.Shift(v, right-a, up-b)
}

// Step is the drag step, mm: the smallest of 1, 2, 5, 10 mm (1/16, 1/8, 1/4, 1/2 in) that is at least one unit on screen.
func Step(scale float64, inch bool) float64 {
	steps := [4]float64{1, 2, 5, 10}
	if inch {
		steps = [4]float64{25.4 / 16, 25.4 / 8, 25.4 / 4, 25.4 / 2}
	}
	for _, s := range steps {
		if s*scale >= 1-1e-9 {
			return s
		}
	}
	return steps[3]
}
