package view

import (
	"math"

	"axleloft/geometry/shape"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// How a bolt is drawn, units.
const (
	boltHalf  = 14.0 // half the line of a bolt seen true; the held one's is longer
	heldHalf  = 24.0
	gripAway  = 46.0 // from the held pivot to the grips of its bolt
	gripSize  = 5.0
	gripTick  = 11.0 // half the arrow across a grip that says it turns
	endOn     = 0.2  // a bolt of which a view shows less is seen end on: there is nothing to turn there
	nearEndOn = 0.4  // one of which it shows less is left out where its pivot is not held
)

// along is which way a bolt lies in a view's picture (y down), and how much of it is seen.
func (p Plane) along(bolt r3.Vec) (u point, seen float64) {
	a, b := p.Project(bolt)
	if seen = math.Hypot(a, b); seen < 1e-9 {
		return point{}, 0
	}
	return point{a / seen, -b / seen}, seen
}

// drawBolt draws which way a pivot's bolt lies: a thin line through it, as long as the view sees of it.
func (s *Scene) drawBolt(d *drafter, p *pivot) {
	u, seen := s.plane.along(p.bolt)
	if seen < nearEndOn {
		return
	}
	x, y := d.t.Place(p.at)
	if !d.room.grown(boltHalf).holds(box{x, y, x, y}) {
		return
	}
	a, b := point{x - u.X*boltHalf*seen, y - u.Y*boltHalf*seen}, point{x + u.X*boltHalf*seen, y + u.Y*boltHalf*seen}
	d.line(drawing.Pivots, thin, ink.Text, a, b)
	d.ink = append(d.ink, trace{a, b, thin / 2, onFar, drawing.Pivots, ""})
}

// drawHeldBolt draws the bolt of the pivot in hand: a line with ends, and beyond them a grip that turns it; a dot where it is seen end on.
func (s *Scene) drawHeldBolt(d *drafter, p *pivot) {
	const tick, tip = 4.0, 4.0
	if p.bolt == (r3.Vec{}) {
		return
	}
	x, y := d.t.Place(p.at)
	u, seen := s.plane.along(p.bolt)
	if seen < endOn {
		d.circle(drawing.Held, x, y, 2, 0, ink.None, ink.Press)
		return
	}
	long := 12 + (heldHalf-12)*seen
	for _, sign := range []float64{1, -1} {
		at := func(along, across float64) point {
			return point{x + sign*along*u.X - across*u.Y, y + sign*along*u.Y + across*u.X}
		}
		d.line(drawing.Held, light, ink.Press, at(12, 0), at(long, 0))
		d.line(drawing.Held, light, ink.Press, at(long, -tick), at(long, tick))
		if !s.in.Grips {
			continue
		}
		d.line(drawing.Held, thin, ink.Press, at(long, 0), at(gripAway-gripSize, 0))
		for _, way := range []float64{1, -1} { // the way it turns
			d.line(drawing.Held, thin, ink.Press, at(gripAway, way*(gripSize+1)), at(gripAway-1, way*gripTick))
			d.line(drawing.Held, thin, ink.Press, at(gripAway-1-tip, way*(gripTick-tip)), at(gripAway-1, way*gripTick), at(gripAway-1+tip, way*(gripTick-tip)))
		}
		fill := ink.Ground
		if s.in.Turning {
			fill = ink.Press
		}
		g := at(gripAway, 0)
		d.circle(drawing.Held, g.X, g.Y, gripSize, light, ink.Press, fill)
	}
}

// drawWayOut draws the room the held pivot's bolt needs to be drawn out: an outline in long dashes with two dots, as what is not there is drawn.
func (s *Scene) drawWayOut(d *drafter, bar *shape.Piece) {
	pts := s.screen(d.t, silhouette(s.plane, bar))
	if len(pts) < 3 {
		return
	}
	for _, run := range clipLines(d.room, append(pts, pts[0]), false) {
		d.item(drawing.Item{Kind: drawing.Dashed, Layer: drawing.Held, Stroke: ink.Press, Fill: ink.None, Width: thin, Points: run})
	}
}

// boltGrips are the grips at both ends of a held pivot's bolt, where the view shows enough of it to turn it.
func (s *Scene) boltGrips(t Transform, p *pivot) []Handle {
	u, seen := s.plane.along(p.bolt)
	if seen < endOn || !s.in.Grips {
		return nil
	}
	x, y := t.Place(p.at)
	var out []Handle
	for _, end := range []int{1, -1} {
		out = append(out, Handle{Pivot: p.id, Bolt: end, At: p.at, X: x + float64(end)*u.X*gripAway, Y: y + float64(end)*u.Y*gripAway})
	}
	return out
}

// Turn is a bolt in the hand: it tells where a pointer's place in a view turns it, about that view's own normal.
type Turn struct {
	plane      Plane
	x, y       float64   // the pivot, units
	bolt       r3.Vec    // as it stood, body axes
	ride       r3.Vec    // as it lay at ride height
	axes       [3]r3.Vec // body axes of ride height as they are carried
	from, grab float64   // deg in the view, anticlockwise: of the bolt, and of the pointer
}

// NewTurn begins a turn of the held pivot's bolt, the pointer at x, y; ok is false where the view has no such grip.
func (s *Scene) NewTurn(t Transform, h Handle, x, y float64) (Turn, bool) {
	for i := range s.pivots {
		p := &s.pivots[i]
		if p.id != h.Pivot || p.bolt == (r3.Vec{}) {
			continue
		}
		u, seen := s.plane.along(p.bolt)
		if seen < endOn {
			return Turn{}, false
		}
		k := Turn{plane: s.plane, bolt: p.bolt}
		k.x, k.y = t.Place(p.at)
		for a, e := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			k.axes[a] = s.turn(p.mount, e)
		}
		k.ride = k.undo(p.bolt)
		k.from = math.Atan2(-u.Y, u.X) * 180 / math.Pi
		k.grab = math.Atan2(k.y-y, x-k.x) * 180 / math.Pi
		return k, true
	}
	return Turn{}, false
}

// undo is a direction that is carried, as it lay at ride height.
func (k *Turn) undo(v r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(k.axes[0], v), Y: r3.Dot(k.axes[1], v), Z: r3.Dot(k.axes[2], v)}
}

// To is the bolt at ride height for the pointer at x, y: it stands at whole steps of deg from the view's own axes; less than half a step is no turn
// (step 0: none).
func (k *Turn) To(x, y, step float64) r3.Vec {
	if math.Hypot(x-k.x, y-k.y) < gripSize {
		return k.ride // on the pivot itself every way is the same
	}
	by := math.Atan2(k.y-y, x-k.x)*180/math.Pi - k.grab
	if by = math.Remainder(by, 360); step > 0 {
		by = snap(k.from, k.from+by, step) - k.from
	}
	return k.By(by)
}

// By is the bolt at ride height turned by deg from where it stood, anticlockwise in the view.
func (k *Turn) By(deg float64) r3.Vec {
	if deg == 0 {
		return k.ride
	}
	return k.undo(r3.Rotate(k.bolt, deg*math.Pi/180, k.plane.toEye()))
}

// toEye is the direction out of the view toward the eye: about it a turn is seen anticlockwise.
func (p Plane) toEye() r3.Vec {
	right, up := p.axes()
	return r3.Cross(right, up)
}
