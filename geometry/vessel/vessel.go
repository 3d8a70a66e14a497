// Package vessel knows tanks: what a keep-out round everything that moves takes from one over the whole range, how it is cut clear with flat faces, and how deep it is filled.
//
// The keep-out is every place nearer to a mover than the gap wanted of the two, at any position of the range. Lengths are mm in body axes (X forward, Y left, Z up), volumes litres unless said.
package vessel

import (
	"errors"
	"fmt"
	"math"
	"slices"

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
	Litres float64 // gross, outside
	Flat   bool    // all its faces are flat: it can be cut and dipped

	solid  shape.Solid
	polys  []poly    // of a flat one
	axes   [3]r3.Vec // its own, nearest to X, Y and Z
	lo, hi [3]float64
	fill   *job.Fill
}

// ErrMesh is returned for a tank whose shape is a mesh.
var ErrMesh = errors.New("a tank drawn as a mesh is not cut or dipped; draw it as a box, prism, ball or tube")

// New builds a tank from an envelope as it is in an expanded job. The error is half a sentence.
func New(e *job.Envelope) (*Vessel, error) {
	if e.Kind == "mesh" {
		return nil, ErrMesh
	}
	s, err := clearance.EnvelopeSolid(e)
	if err != nil {
		return nil, err
	}
	v := &Vessel{Name: e.Name, solid: s, Flat: true, fill: e.Fill}
	v.axes = [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	var ok bool
	if v.Litres, ok = clearance.Volume(e); !ok {
		return nil, fmt.Errorf("the volume of a tube bent so sharply is not known")
	}
	for i := range s.Pieces {
		p := &s.Pieces[i]
		if p.Kind != shape.Polytope {
			v.Flat = false
			continue
		}
		v.polys = append(v.polys, polyOf(p))
	}
	if e.Kind == "box" {
		v.axes = ownAxes(&s.Pieces[0], v.axes)
	}
	for k, a := range v.axes {
		v.lo[k], v.hi[k] = math.Inf(1), math.Inf(-1)
		for i := range s.Pieces {
			p := &s.Pieces[i]
			v.lo[k] = math.Min(v.lo[k], r3.Dot(a, p.Support(r3.Scale(-1, a))))
			v.hi[k] = math.Max(v.hi[k], r3.Dot(a, p.Support(a)))
		}
	}
	return v, nil
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

// cover tells how much of a box along the vessel's own axes lies in it.
type cover uint8

const (
	nothing cover = iota
	partly
	wholly
)

func (v *Vessel) cover(b *clearance.Block) cover {
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

func pieceCover(p *shape.Piece, b *clearance.Block) cover {
	if p.Kind == shape.Polytope {
		all := wholly
		for i, n := range p.Hull.N {
			off := r3.Dot(n, r3.Sub(b.At, p.Hull.V[p.Hull.Faces[i][0]]))
			h := 0.0
			for k, a := range b.Axes {
				h += math.Abs(r3.Dot(n, a)) * b.Half[k]
			}
			if off-h >= -onPlane {
				return nothing
			}
			if off+h > onPlane {
				all = partly
			}
		}
		return all
	}
	// A ball or bar: places within its radius of a segment.
	from := func(x r3.Vec) float64 {
		if p.Kind == shape.Point {
			return r3.Norm(r3.Sub(x, p.A))
		}
		d := r3.Sub(p.B, p.A)
		t := math.Min(1, math.Max(0, r3.Dot(d, r3.Sub(x, p.A))/r3.Norm2(d)))
		return r3.Norm(r3.Sub(x, r3.Add(p.A, r3.Scale(t, d))))
	}
	r := math.Sqrt(b.Half[0]*b.Half[0] + b.Half[1]*b.Half[1] + b.Half[2]*b.Half[2])
	if from(b.At) >= p.Radius+r {
		return nothing
	}
	for i := range 8 {
		if from(b.Corner(i)) > p.Radius {
			return partly
		}
	}
	return wholly
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
