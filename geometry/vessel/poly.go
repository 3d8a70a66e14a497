package vessel

import (
	"cmp"
	"math"
	"slices"

	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// plane keeps what lies at n.x <= at; n unit, mm.
type plane struct {
	n  r3.Vec
	at float64
}

func (p plane) reversed() plane { return plane{r3.Scale(-1, p.n), -p.at} }

// poly is a convex polytope by its faces, each a loop anticlockwise seen from outside. mm.
type poly struct{ faces [][]r3.Vec }

func polyOf(p *shape.Piece) poly {
	var q poly
	for _, f := range p.Hull.Faces {
		var loop []r3.Vec
		for _, i := range f {
			loop = append(loop, p.Vertex(int(i)))
		}
		q.faces = append(q.faces, loop)
	}
	return q
}

// onPlane: a corner nearer than this to a plane lies on it, mm; ten times the round-off of places 10 m away.
const onPlane = 1e-8

// cut returns what is left of q at n.x <= at.
func (q poly) cut(by plane) poly {
	var out poly
	var edge []r3.Vec // of the new face
	for _, f := range q.faces {
		var loop []r3.Vec
		over := false
		for i, a := range f {
			b := f[(i+1)%len(f)]
			da, db := r3.Dot(by.n, a)-by.at, r3.Dot(by.n, b)-by.at
			if da <= onPlane {
				loop = append(loop, a)
			} else {
				over = true
			}
			if da > onPlane && db < -onPlane || da < -onPlane && db > onPlane {
				loop = append(loop, r3.Add(a, r3.Scale(da/(da-db), r3.Sub(b, a))))
			}
		}
		if len(loop) < 3 {
			continue
		}
		out.faces = append(out.faces, loop)
		if over {
			for _, v := range loop {
				if math.Abs(r3.Dot(by.n, v)-by.at) <= 2*onPlane {
					edge = append(edge, v)
				}
			}
		}
	}
	if len(edge) >= 3 {
		out.faces = append(out.faces, ordered(edge, by.n))
	}
	return out
}

// ordered puts points of a convex loop in order, anticlockwise seen against n. Each may be there twice.
func ordered(pts []r3.Vec, n r3.Vec) []r3.Vec {
	var mid r3.Vec
	for _, p := range pts {
		mid = r3.Add(mid, r3.Scale(1/float64(len(pts)), p))
	}
	e := r3.Cross(n, r3.Vec{X: 1})
	if math.Abs(n.X) > 0.8 {
		e = r3.Cross(n, r3.Vec{Y: 1})
	}
	e = r3.Unit(e)
	f := r3.Cross(n, e)
	angle := func(p r3.Vec) float64 { d := r3.Sub(p, mid); return math.Atan2(r3.Dot(d, f), r3.Dot(d, e)) }
	slices.SortFunc(pts, func(a, b r3.Vec) int { return cmp.Compare(angle(a), angle(b)) })
	return pts
}

// volume is by the divergence theorem, mm3.
func (q poly) volume() float64 {
	if len(q.faces) == 0 {
		return 0
	}
	o := q.faces[0][0]
	six := 0.0
	for _, f := range q.faces {
		a := r3.Sub(f[0], o)
		for i := 1; i+1 < len(f); i++ {
			six += r3.Dot(a, r3.Cross(r3.Sub(f[i], o), r3.Sub(f[i+1], o)))
		}
	}
	return math.Max(0, six/6)
}

// within returns the part of the polytopes inside every plane, mm3.
func within(list []poly, planes ...plane) float64 {
	sum := 0.0
	for _, q := range list {
		for _, p := range planes {
			if q = q.cut(p); len(q.faces) == 0 {
				break
			}
		}
		sum += q.volume()
	}
	return sum
}
