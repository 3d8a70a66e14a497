package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// parting is how far A must go along the unit direction n to stand clear of B; negative where n already parts them.
func parting(a, b *Piece, n r3.Vec) float64 {
	pb, _ := b.support(n)
	pa, _ := a.support(r3.Vec{X: -n.X, Y: -n.Y, Z: -n.Z})
	return dot(sub(pb, pa), n)
}

// search keeps the direction of least parting.
type search struct {
	a, b  *Piece
	n     r3.Vec
	depth float64
}

// try tests the direction d (any length) one way.
func (s *search) try(d r3.Vec) {
	l := norm(d)
	if !(l > 1e-12) {
		return
	}
	n := scale(1/l, d)
	if p := parting(s.a, s.b, n); p < s.depth {
		s.n, s.depth = n, p
	}
}

// both tests d and its reverse.
func (s *search) both(d r3.Vec) {
	s.try(d)
	s.try(scale(-1, d))
}

// depth finds the shortest translation that parts two overlapping cores: A moves by depth along n. For points, segments and polytopes the difference A - B is a
// polytope, so the normals of its faces are all that can be least: face normals of either and products of an edge of each. Negative where a
// direction that parts them turns up. With a drum a few candidates more and a descent from the best, and from the last difference v of the simplex: cores that
// only just touch part along it.
func (g *Scratch) depth(a, b *Piece, v r3.Vec) (n r3.Vec, depth float64) {
	s := search{a: a, b: b, depth: math.Inf(1)}
	switch {
	case a.Kind == Drum && b.Kind == Drum:
		g.drums(&s)
	case a.Kind == Drum:
		s.drum(a, b, 1)
	case b.Kind == Drum:
		s.drum(b, a, -1)
	}
	if a.Kind == Drum || b.Kind == Drum {
		g.descend(&s, s.n, s.depth)
		if l := norm(v); l > 0 && l < coresNear {
			w := scale(1/l, v)
			g.descend(&s, w, parting(a, b, w))
		}
		return s.n, s.depth
	}
	if a.Kind == Polytope {
		for _, f := range a.Hull.N {
			s.try(scale(-1, a.turn(f)))
		}
	}
	if b.Kind == Polytope {
		for _, f := range b.Hull.N {
			s.try(b.turn(f))
		}
	}
	for i := range a.edgeDirections() {
		e := a.edgeDirection(i)
		for j := range b.edgeDirections() {
			c := cross(e, b.edgeDirection(j))
			if l := norm(c); l > sameDir {
				s.both(c)
			}
		}
	}
	if math.IsInf(s.depth, 1) { // no faces, no crossing edges
		s.both(square(a.edgeDirection(0)))
	}
	return s.n, s.depth
}

// edgeDirections returns how many different edge directions the core has.
func (p *Piece) edgeDirections() int {
	switch p.Kind {
	case Segment:
		if p.A != p.B {
			return 1
		}
	case Polytope:
		return len(p.Hull.E)
	}
	return 0
}

// edgeDirection returns edge direction i, a unit vector in body coordinates (nothing for a point).
func (p *Piece) edgeDirection(i int) r3.Vec {
	switch p.Kind {
	case Segment:
		d := sub(p.B, p.A)
		if l := norm(d); l > 0 {
			return scale(1/l, d)
		}
	case Polytope:
		return p.turn(p.Hull.E[i])
	}
	return r3.Vec{}
}

// drum tests the directions in which the drum d and the core q can part least. side is +1 where the drum is A. The parting length as a
// function of direction has its least value where one of these holds: n is the drum's axis or a face normal of q (three corners touched); n is radial through a corner of q (one touched);
// n is square to an edge of q (two touched), where it is a smooth function of one angle between the edge's two faces.
func (s *search) drum(d, q *Piece, side float64) {
	s.both(d.Axis)
	if q.Kind == Polytope {
		for _, f := range q.Hull.N {
			s.try(scale(side, q.turn(f)))
		}
	}
	for i := 0; i < q.vertices(); i++ {
		r := cross(d.Axis, cross(sub(q.Vertex(i), d.A), d.Axis))
		if norm(r) <= 1e-9*(1+d.Rho) {
			r = square(d.Axis)
		}
		s.both(r)
	}
	for i := range q.edgeDirections() {
		s.both(cross(d.Axis, q.edgeDirection(i)))
	}
	switch q.Kind {
	case Segment:
		if q.A == q.B {
			return
		}
		e := q.edgeDirection(0)
		f := square(e)
		g := cross(e, f)
		const arcs = 8
		for k := 0; k < arcs; k++ {
			t0, t1 := 2*math.Pi*float64(k)/arcs, 2*math.Pi*float64(k+1)/arcs
			s.arc(f, g, t0, t1)
		}
	case Polytope:
		for k, fs := range q.Hull.EdgeFaces {
			// Directions in which q shows this edge to the drum: A moves along n, so q touches with its side n if it is B.
			f := scale(side, q.turn(q.Hull.N[fs[0]]))
			g := scale(side, q.turn(q.Hull.N[fs[1]]))
			ed := q.Hull.Edges[k]
			e := q.turn(sub(q.Hull.V[ed[1]], q.Hull.V[ed[0]]))
			e = scale(1/norm(e), e)
			h := cross(e, f)
			t := math.Atan2(dot(g, h), dot(g, f))
			if t < 0 {
				h, t = scale(-1, h), -t
			}
			s.arc(f, h, 0, t)
		}
	}
}

// arc looks for the least parting over n = f cos t + g sin t, f and g unit and square to each other.
func (s *search) arc(f, g r3.Vec, from, to float64) {
	const steps = 8
	at := func(t float64) (r3.Vec, float64) {
		n := add(scale(math.Cos(t), f), scale(math.Sin(t), g))
		return n, parting(s.a, s.b, n)
	}
	h := (to - from) / steps
	var val [steps + 1]float64
	for k := range val {
		_, val[k] = at(from + h*float64(k))
	}
	for k := range val {
		if k > 0 && val[k-1] < val[k] || k < steps && val[k+1] < val[k] {
			continue
		}
		lo, hi := from+h*float64(max(k-1, 0)), from+h*float64(min(k+1, steps))
		const golden = 0.6180339887498949
		x1, x2 := hi-golden*(hi-lo), lo+golden*(hi-lo)
		_, f1 := at(x1)
		_, f2 := at(x2)
		for range 45 { // 0.2 rad * 0.618^45 < 1e-10 rad
			if f1 < f2 {
				hi, x2, f2 = x2, x1, f1
				x1 = hi - golden*(hi-lo)
				_, f1 = at(x1)
			} else {
				lo, x1, f1 = x1, x2, f2
				x2 = lo + golden*(hi-lo)
				_, f2 = at(x2)
			}
		}
		if n, p := at((lo + hi) / 2); p < s.depth {
			s.n, s.depth = n, p
		}
	}
}

// drums looks for the least parting of two drums: both axes, the radial directions and, from a spread of starts, a descent.
func (g *Scratch) drums(s *search) {
	a, b := s.a, s.b
	s.both(a.Axis)
	s.both(b.Axis)
	c := sub(b.A, a.A)
	s.both(cross(a.Axis, b.Axis))
	s.both(cross(a.Axis, cross(c, a.Axis)))
	s.both(cross(b.Axis, cross(c, b.Axis)))
	s.both(square(a.Axis))
	g.descend(s, s.n, s.depth)
	const starts = 240
	type start struct {
		n r3.Vec
		p float64
	}
	var best [8]start
	for i := range best {
		best[i].p = math.Inf(1)
	}
	for i := range starts { // a spiral of equal areas
		z := 1 - (2*float64(i)+1)/starts
		w := float64(i) * math.Pi * (3 - math.Sqrt(5))
		r := math.Sqrt(1 - z*z)
		n := r3.Vec{X: r * math.Cos(w), Y: r * math.Sin(w), Z: z}
		p := parting(a, b, n)
		for k := range best {
			if p < best[k].p {
				copy(best[k+1:], best[k:])
				best[k] = start{n, p}
				break
			}
		}
	}
	for _, st := range best {
		g.descend(s, st.n, st.p)
	}
}

// descend walks to a least parting near n: A is set off along n until the cores are d0 apart, and the direction of their nearest points taken next. With
// p the parting along n and d >= d0 the distance, the parting along the new direction m is (p + d0) n.m - d <= p, so it never gets worse. Where the
// difference is rounded by rho the turn left shrinks by d0 / (rho + d0) a round, so d0 becomes smaller in the end; a small one alone would be lost in round-off.
func (g *Scratch) descend(s *search, n r3.Vec, p float64) {
	for _, d0 := range [...]float64{setOff, setOff / 10, setOff / 100} {
		for range 60 {
			v, meet := g.nearest(s.a, s.b, n, scale(p+d0, n))
			if meet {
				break
			}
			m := scale(1/norm(v), v)
			q := parting(s.a, s.b, m)
			if q < s.depth {
				s.n, s.depth = m, q
			}
			if q >= p {
				break
			}
			gain := p - q
			n, p = m, q
			if gain <= 1e-11 {
				break
			}
		}
	}
}
