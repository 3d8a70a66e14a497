package view

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// Drag is a pivot in the hand: it tells where a pointer's place in a view puts the pivot at ride height. What carries the pivot stays as it was at
// the press, so that the pivot follows the pointer though the axle moves as links are re-set.
type Drag struct {
	plane   Plane
	ride    r3.Vec // where the pivot was at ride, body axes, mm
	now     r3.Vec // where it stood
	carried bool   // the hand holds it where it is carried now
	right   r3.Vec // the view's own axes of ride height, as they are carried
	up      r3.Vec
	dx, dy  float64 // from the pointer to the pivot at the press, units
}

// NewDrag begins a drag of a handle of the scene, the pointer at x, y.
func (s *Scene) NewDrag(h Handle, x, y float64) Drag {
	d := Drag{plane: s.plane, ride: h.At, now: h.At, dx: h.X - x, dy: h.Y - y}
	for i := range s.pivots {
		if p := &s.pivots[i]; p.id == h.Pivot && !h.Ride && p.mount.On != motion.OnFrame {
			d.carried = true
			d.ride = p.ride // to the last digit
			right, up := s.plane.axes()
			d.right, d.up = s.turn(p.mount, right), s.turn(p.mount, up)
		}
	}
	return d
}

// To returns the pivot's place at ride height for the pointer at x, y, on whole steps of the view's two axes (step 0: none). The third axis
// stays as it was; an axis the hand has not moved a step stays too.
func (d *Drag) To(t Transform, x, y, step float64) r3.Vec {
	right, up := t.ToWorld(x+d.dx, y+d.dy)
	to := d.ride
	if !d.carried {
		a, b := d.plane.Project(d.ride)
		to = d.plane.Shift(d.ride, right-a, up-b)
	} else {
		// Where the point is carried depends on all three of its coordinates; the third is kept, so the other two follow from two equations.
		a, b := d.plane.Project(d.now)
		c00, c10 := d.plane.Project(d.right)
		c01, c11 := d.plane.Project(d.up)
		det := c00*c11 - c01*c10
		if math.Abs(det) < 0.1 {
			return d.ride // seen almost along the plane it may move in
		}
		ea, eb := right-a, up-b
		to = d.plane.Shift(d.ride, (c11*ea-c01*eb)/det, (c00*eb-c10*ea)/det)
	}
	if step > 0 {
		to = Stepped(d.ride, to, step)
	}
	return to
}

// Stepped moves each coordinate from one place to the whole step nearest to another; less than half a step is no move. mm.
func Stepped(from, to r3.Vec, step float64) r3.Vec {
	return r3.Vec{X: snap(from.X, to.X, step), Y: snap(from.Y, to.Y, step), Z: snap(from.Z, to.Z, step)}
}

// Whole brings a place to whole steps along the view's two axes; the third stays. mm.
func (p Plane) Whole(v r3.Vec, step float64) r3.Vec {
	right, up := p.Project(v)
	return Tidy(p.Shift(v, math.Round(right/step)*step-right, math.Round(up/step)*step-up))
}

// Tidy rounds a place to 1e-6 mm, so that steps of 0.1 do not leave tails.
func Tidy(v r3.Vec) r3.Vec {
	t := func(x float64) float64 { return math.Round(x*1e6)/1e6 + 0 }
	return r3.Vec{X: t(v.X), Y: t(v.Y), Z: t(v.Z)}
}

// snap moves from to the whole step nearest to; less than half a step is no move.
func snap(from, to, step float64) float64 {
	if math.Abs(to-from) < step/2 {
		return from
	}
	return math.Round(to/step)*step + 0
}
