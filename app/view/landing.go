package view

import (
	"math"

	"axleloft/app/edit"

	"gonum.org/v1/gonum/spatial/r3"
)

// landNear is how near a pointer must come for its pivot to land, units.
const landNear = 6.0

// stoodOn is how near a pivot stands to what it already stood on when it was taken, mm.
const stoodOn = 1e-6

const tidyPlace = 1e6 // places on a circle are kept to 1e-6 mm, so that files stay short

// Landed is where a dragged pivot has landed: on at most two of the landings, by index.
type Landed struct {
	To r3.Vec // body axes at ride height, mm
	On [2]int
	N  int
}

// Land is Drag.To with landing: the pivot lands on what the pointer comes near to, and stands on whole steps where it lands on nothing. The third axis
// never changes but in a hole, and an axis the hand has not moved stays: there it is only told what it stands on. It allocates nothing.
func (d *Drag) Land(list []edit.Landing, t Transform, x, y, step float64) Landed {
	out := Landed{To: d.To(t, x, y, step)}
	raw := d.To(t, x, y, 0)
	if out.To == d.ride {
		return out
	}
	near := landNear / t.Scale
	axes := d.plane.coordinates()
	if i := d.place(list, raw, near, axes); i >= 0 {
		if list[i].Kind == edit.LandHole { // a hole is a place, whichever view it is taken in
			out.To = list[i].At
		}
		for _, a := range axes {
			setCoord(&out.To, a, coord(list[i].At, a))
		}
		out.On[0], out.N = i, 1
		return out
	}
	var fixed [2]bool
	for k, a := range axes {
		moved := coord(out.To, a) != coord(d.ride, a)
		best, apart := -1, near
		for i := range list {
			l := &list[i]
			if l.Kind != edit.LandLevel && l.Kind != edit.LandFace || l.Axis != a || l.Kind == edit.LandFace && !l.Over(raw) {
				continue
			}
			off := math.Abs(coord(raw, a) - l.Value)
			if stood := math.Abs(coord(d.ride, a)-l.Value) < stoodOn; stood == moved {
				continue // what it stood on does not hold it back
			}
			if !moved {
				off = 0
			}
			if off < apart {
				best, apart = i, off
			}
		}
		fixed[k] = best >= 0 || !moved
		if best < 0 {
			continue
		}
		if moved {
			setCoord(&out.To, a, list[best].Value)
		}
		out.On[out.N] = best
		out.N++
	}
	d.long(list, raw, near, axes, fixed, &out)
	return out
}

// place finds the nearest place of both axes, -1 where none is near.
func (d *Drag) place(list []edit.Landing, raw r3.Vec, near float64, axes [2]edit.Axis) int {
	best, apart := -1, 1.5*near
	for i := range list {
		l := &list[i]
		if l.Kind != edit.LandOther && l.Kind != edit.LandHole || apartIn(axes, d.ride, l.At) < stoodOn {
			continue
		}
		if off := apartIn(axes, raw, l.At); off < apart {
			best, apart = i, off
		}
	}
	return best
}

// apartIn is how far two places lie apart as a view shows them, mm.
func apartIn(axes [2]edit.Axis, a, b r3.Vec) float64 {
	return math.Hypot(coord(a, axes[0])-coord(b, axes[0]), coord(a, axes[1])-coord(b, axes[1]))
}

// long puts the pivot at a length where one is near: straight out from the link's other end, or along the axis that has not landed yet.
func (d *Drag) long(list []edit.Landing, raw r3.Vec, near float64, axes [2]edit.Axis, fixed [2]bool, out *Landed) {
	if fixed[0] && fixed[1] {
		return
	}
	best, apart := -1, near
	var to r3.Vec
	for i := range list {
		l := &list[i]
		if l.Kind != edit.LandLength || math.Abs(r3.Norm(r3.Sub(d.ride, l.At))-l.Length) < stoodOn {
			continue
		}
		c, p := l.At, raw
		rest := l.Length * l.Length
		for a := edit.X; a <= edit.Z; a++ {
			switch {
			case a == axes[0] && !fixed[0], a == axes[1] && !fixed[1]:
			default:
				off := coord(out.To, a) - coord(c, a)
				rest -= off * off
				setCoord(&p, a, coord(out.To, a))
			}
		}
		if rest <= 0 {
			continue
		}
		reach := 0.0
		for k, a := range axes {
			if !fixed[k] {
				off := coord(p, a) - coord(c, a)
				reach += off * off
			}
		}
		if reach == 0 {
			continue
		}
		f := math.Sqrt(rest / reach)
		moved := 0.0
		for k, a := range axes {
			if !fixed[k] {
				v := math.Round((coord(c, a)+(coord(p, a)-coord(c, a))*f)*tidyPlace) / tidyPlace
				moved = math.Hypot(moved, v-coord(raw, a))
				setCoord(&p, a, v)
			}
		}
		if moved < apart {
			best, apart, to = i, moved, p
		}
	}
	if best >= 0 {
		out.To = to
		out.On[out.N] = best
		out.N++
	}
}

func coord(v r3.Vec, a edit.Axis) float64 {
	switch a {
	case edit.X:
		return v.X
	case edit.Y:
		return v.Y
	default:
		return v.Z
	}
}

func setCoord(v *r3.Vec, a edit.Axis, to float64) {
	switch a {
	case edit.X:
		v.X = to
	case edit.Y:
		v.Y = to
	default:
		v.Z = to
	}
}

// landedTol is within what a pivot stands on what it landed on, mm: links that keep their length lead it away again.
const landedTol = 0.01

// Holds reports whether a pivot at a place stands on a landing, as a view shows it.
func (p Plane) Holds(l *edit.Landing, at r3.Vec) bool {
	switch l.Kind {
	case edit.LandLength:
		return math.Abs(r3.Norm(r3.Sub(at, l.At))-l.Length) < landedTol
	case edit.LandHole:
		return r3.Norm(r3.Sub(at, l.At)) < landedTol
	case edit.LandOther:
		return apartIn(p.coordinates(), at, l.At) < landedTol
	case edit.LandFace:
		return math.Abs(coord(at, l.Axis)-l.Value) < landedTol && l.Over(at)
	}
	return math.Abs(coord(at, l.Axis)-l.Value) < landedTol
}

// Lines are the thin lines that show what a pivot at a place landed on, body axes: from the one end to the other.
func (p Plane) Lines(l *edit.Landing, at r3.Vec) [][2]r3.Vec {
	if l.Kind == edit.LandFace { // the face itself, and how far it is
		lo, hi := l.Face[0].Vec(), l.Face[1].Vec()
		foot := at
		setCoord(&foot, l.Axis, coord(lo, l.Axis))
		for a := edit.X; a <= edit.Z; a++ { // drawn at the pivot's own depth
			if a != p.coordinates()[0] && a != p.coordinates()[1] {
				setCoord(&lo, a, coord(at, a))
				setCoord(&hi, a, coord(at, a))
			}
		}
		return [][2]r3.Vec{{lo, hi}, {foot, at}}
	}
	return [][2]r3.Vec{{l.At, at}}
}
