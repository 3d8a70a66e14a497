// Package vessel knows tanks: what a keep-out round everything that moves takes from one over the whole range, how it is cut clear with flat faces, and how deep it is filled.
//
// The keep-out is every place nearer to a mover than the gap wanted of the two, at any position of the range. Lengths are mm in body axes (X forward, Y left, Z up), volumes litres unless said.
package vessel

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// Litres in a gallon, exact by definition.
const (
	USGallon       = 3.785411784 // 231 in3
	ImperialGallon = 4.54609
)

const mm3 = 1e-6 // litres

// Vessel is the shape of a tank.
type Vessel struct {
	Name   string
	Litres float64 // gross, outside; NaN where Why says that it is not known
	Why    string  // why its litres are not known, half a sentence; it is then neither cut nor dipped. "" where they are
	Flat   bool    // all its faces are flat: its litres are exact, of a round one cut or in part filled to 1e-6 L

	solid  shape.Solid
	polys  []poly    // of a box or prism
	skin   skin      // of a mesh
	rounds []round   // of a ball or pipe
	axes   [3]r3.Vec // its own, nearest to X, Y and Z
	lo, hi [3]float64
	fill   *job.Fill
}

// New builds a tank from an envelope as it is in an expanded job. A mesh that is not closed, or a pipe so bent that its runs overlap, has no litres: Why says so. The error is half a sentence.
func New(e *job.Envelope) (*Vessel, error) {
	s, err := clearance.EnvelopeSolid(e)
	if err != nil {
		return nil, errors.New(strings.TrimSuffix(err.Error(), "."))
	}
	v := &Vessel{Name: e.Name, Litres: math.NaN(), solid: s, Flat: e.Kind == "box" || e.Kind == "prism" || e.Kind == "mesh", fill: e.Fill}
	v.axes = [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	if e.Kind == "box" {
		v.axes = ownAxes(&s.Pieces[0], v.axes)
	}
	for k, a := range v.axes {
		v.lo[k], v.hi[k] = v.reach(a)
	}
	litres, ok := clearance.Volume(e)
	switch {
	case ok:
		v.Litres = litres
	case e.Kind == "mesh":
		m := s.Pieces[0].Mesh
		switch {
		case m.Holes > 0:
			v.Why = fmt.Sprintf("its surface has holes (%d open edges), so that it holds nothing for certain: close it in the program that drew it", m.Holes)
		case m.Turned > 0:
			v.Why = fmt.Sprintf("its triangles do not all face outwards (%d edges), so that it holds nothing for certain: turn them in the program that drew it", m.Turned)
		case m.Closed:
			v.Why = "its file holds bodies that lie in each other, so that litres would count twice: join them in the program that drew it"
		default:
			v.Why = "there is no room inside its surface"
		}
		return v, nil
	default:
		v.Why = "its pipe is bent so sharply, or runs so near to itself, that its runs share room: draw it with wider bends, or as a box, prism or mesh"
		return v, nil
	}
	for i := range s.Pieces {
		switch p := &s.Pieces[i]; p.Kind {
		case shape.Polytope:
			v.polys = append(v.polys, polyOf(p))
		case shape.Surface:
			v.skin = skinOf(p.Mesh)
		}
	}
	if !v.Flat {
		v.rounds = roundsOf(e)
	}
	return v, nil
}

// reach is the least and the largest n.x over the vessel; n unit.
func (v *Vessel) reach(n r3.Vec) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range v.solid.Pieces {
		p := &v.solid.Pieces[i]
		lo = math.Min(lo, r3.Dot(n, p.Support(r3.Scale(-1, n))))
		hi = math.Max(hi, r3.Dot(n, p.Support(n)))
	}
	return lo, hi
}

// within is the part of the vessel inside every plane, litres: exact to round-off but for a round one, to 1e-6 L.
func (v *Vessel) within(planes ...plane) float64 {
	sum := within(v.polys, planes...) + v.skin.within(planes)
	for i := range v.rounds {
		sum += v.rounds[i].within(planes)
	}
	return mm3 * sum
}

// ownAxes are a box's own directions, put beside the body axes nearest to them.
func ownAxes(box *shape.Piece, body [3]r3.Vec) (best [3]r3.Vec) {
	var own []r3.Vec // one of each two opposite faces
	for _, n := range box.Hull.N {
		if !slices.ContainsFunc(own, func(o r3.Vec) bool { return math.Abs(r3.Dot(o, n)) > 0.5 }) {
			own = append(own, n)
		}
	}
	most := -1.0
	for _, order := range [6][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		var axes [3]r3.Vec
		sum := 0.0
		for k, i := range order {
			t := r3.Dot(own[i], body[k])
			axes[k] = r3.Scale(math.Copysign(1, t), own[i])
			sum += math.Abs(t)
		}
		if sum > most {
			best, most = axes, sum
		}
	}
	return best
}

// room is what of a vessel lies in a box.
type room struct {
	polys []poly
	skin  skin
}

// cut returns what is left at n.x <= at.
func (r *room) cut(by plane) room {
	var out room
	for _, q := range r.polys {
		if q = q.cut(by); len(q.faces) > 0 {
			out.polys = append(out.polys, q)
		}
	}
	out.skin = r.skin.cut(by)
	return out
}

// volume in mm3.
func (r *room) volume() float64 {
	sum := r.skin.volume()
	for _, q := range r.polys {
		sum += q.volume()
	}
	return sum
}

// cover tells how much of a box along the vessel's own axes lies in it.
type cover uint8

const (
	nothing cover = iota
	partly
	wholly
)

// sliver: a share of a box smaller than this is round-off.
const sliver = 1e-9

// cover of a box with what of the vessel lies in it.
func (v *Vessel) cover(b *clearance.Block, r *room) cover {
	if v.Flat {
		all, share := 8*b.Half[0]*b.Half[1]*b.Half[2], r.volume()
		switch {
		case share <= sliver*all:
			return nothing
		case share >= (1-sliver)*all:
			return wholly
		}
		return partly
	}
	out := nothing
	for i := range v.solid.Pieces {
		switch pieceCover(&v.solid.Pieces[i], b) {
		case wholly:
			return wholly
		case partly:
			out = partly
		}
	}
	return out
}

// pieceCover is of a ball or bar: places within its radius of a segment.
func pieceCover(p *shape.Piece, b *clearance.Block) cover {
	r := math.Sqrt(b.Half[0]*b.Half[0] + b.Half[1]*b.Half[1] + b.Half[2]*b.Half[2])
	if r3.Norm(r3.Sub(b.At, onLine(p, b.At))) >= p.Radius+r {
		return nothing
	}
	for i := range 8 {
		if c := b.Corner(i); r3.Norm(r3.Sub(c, onLine(p, c))) > p.Radius {
			return partly
		}
	}
	return wholly
}

// onLine is the place of a ball's or bar's centre line nearest to x.
func onLine(p *shape.Piece, x r3.Vec) r3.Vec {
	if p.Kind == shape.Point {
		return p.A
	}
	d := r3.Sub(p.B, p.A)
	t := math.Min(1, math.Max(0, r3.Dot(d, r3.Sub(x, p.A))/r3.Norm2(d)))
	return r3.Add(p.A, r3.Scale(t, d))
}

// block is a box along the vessel's own axes.
func (v *Vessel) block(lo, hi [3]float64) clearance.Block {
	b := clearance.Block{Axes: v.axes}
	for k, a := range v.axes {
		b.At = r3.Add(b.At, r3.Scale((lo[k]+hi[k])/2, a))
		b.Half[k] = (hi[k] - lo[k]) / 2
	}
	return b
}

// Bounds is the smallest box along the body axes that holds the vessel, mm.
func (v *Vessel) Bounds() (lo, hi r3.Vec) {
	for i := range v.solid.Pieces {
		l, h := v.solid.Pieces[i].Bounds()
		if i == 0 {
			lo, hi = l, h
			continue
		}
		lo = r3.Vec{X: math.Min(lo.X, l.X), Y: math.Min(lo.Y, l.Y), Z: math.Min(lo.Z, l.Z)}
		hi = r3.Vec{X: math.Max(hi.X, h.X), Y: math.Max(hi.Y, h.Y), Z: math.Max(hi.Z, h.Z)}
	}
	return lo, hi
}
