package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// vert is a point of the difference A - B with the core points it comes from.
type vert struct {
	w, a   r3.Vec
	ia, ib int32
}

const (
	gjkRounds = 128
	gjkTol    = 1e-10 // mm, between the distance reached and the bound from below
	flat      = 1e-11 // a simplex whose volume is below this part of its edges' product is flat
)

// nearest walks the simplex of Gilbert, Johnson and Keerthi ("A fast procedure for computing the distance between complex
// objects in three-dimensional space", IEEE J. Robotics and Automation 4(2), 1988) to the point of the difference
// (A + off) - B nearest to the origin. It starts along v and returns that point, or meet where the origin is inside or
// nearer than coresApart. The simplex and its weights stay in s.
func (s *Scratch) nearest(a, b *Piece, v, off r3.Vec) (at r3.Vec, meet bool) {
	s.n = 0
	vv := math.Inf(1)
	for round := 0; round < gjkRounds; round++ {
		pa, ia := a.support(r3.Vec{X: -v.X, Y: -v.Y, Z: -v.Z})
		pb, ib := b.support(v)
		pa = add(pa, off)
		w := sub(pa, pb)
		if s.n > 0 {
			if vv-dot(v, w) <= gjkTol*math.Sqrt(vv) {
				return v, false
			}
			for i := 0; i < s.n; i++ {
				if s.s[i].w == w {
					return v, false
				}
			}
		}
		s.s[s.n] = vert{w, pa, ia, ib}
		lam, nv, inside := s.reduce()
		if inside {
			return v, true
		}
		nn := dot(nv, nv)
		if nn >= vv {
			return v, false // no nearer: round-off decides now
		}
		v, vv = nv, nn
		k := 0
		for i := 0; i <= s.n; i++ {
			if lam[i] > 0 {
				s.s[k], s.lam[k] = s.s[i], lam[i]
				k++
			}
		}
		s.n = k
		if vv <= coresApart*coresApart {
			return v, true
		}
	}
	return v, false
}

// reduce finds the point of the hull of s.s[0..n] (n+1 points, the last one new) nearest to the origin and its weights.
func (s *Scratch) reduce() (lam [4]float64, v r3.Vec, inside bool) {
	switch s.n {
	case 0:
		lam[0] = 1
		return lam, s.s[0].w, false
	case 1:
		t, v, _ := nearSegment(s.s[0].w, s.s[1].w)
		lam[0], lam[1] = 1-t, t
		return lam, v, false
	case 2:
		l, v, _ := nearTriangle(s.s[0].w, s.s[1].w, s.s[2].w)
		lam[0], lam[1], lam[2] = l.X, l.Y, l.Z
		return lam, v, false
	}
	p, q, r, t := s.s[0].w, s.s[1].w, s.s[2].w, s.s[3].w
	e1, e2, e3 := sub(p, t), sub(q, t), sub(r, t)
	n3 := cross(e1, e2) // face t p q, opposite r
	det := dot(n3, e3)
	isFlat := math.Abs(det) <= flat*math.Sqrt(dot(e1, e1)*dot(e2, e2)*dot(e3, e3))
	sg := math.Copysign(1, det)
	best := math.Inf(1)
	inside = !isFlat
	try := func(i, j, k int, out bool) {
		if !out && !isFlat {
			return
		}
		inside = false
		l, w, ww := nearTriangle(s.s[i].w, s.s[j].w, s.s[k].w)
		if ww < best {
			best, v = ww, w
			lam = [4]float64{}
			lam[i], lam[j], lam[k] = l.X, l.Y, l.Z
		}
	}
	// The origin is beyond a face where it lies on the other side than the fourth point.
	try(3, 0, 1, sg*-dot(n3, t) <= 0)
	try(3, 1, 2, sg*-dot(cross(e2, e3), t) <= 0)
	try(3, 2, 0, sg*-dot(cross(e3, e1), t) <= 0)
	f := cross(sub(q, p), sub(r, p)) // face p q r: the fourth point lies at dot(f, t-p)
	ft := dot(f, sub(t, p))
	try(0, 1, 2, math.Copysign(1, ft)*-dot(f, p) <= 0)
	return lam, v, inside
}

// nearSegment returns the point of p q nearest to the origin, its fraction and its distance squared.
func nearSegment(p, q r3.Vec) (t float64, v r3.Vec, vv float64) {
	e := sub(q, p)
	ee := dot(e, e)
	if ee > 0 {
		t = clamp01(-dot(p, e) / ee)
	}
	switch t {
	case 0:
		v = p
	case 1:
		v = q
	default:
		v = along(p, t, e)
	}
	return t, v, dot(v, v)
}

// nearTriangle returns the point of p q r nearest to the origin, its weights and its distance squared. A needle is taken by its edges.
func nearTriangle(p, q, r r3.Vec) (l r3.Vec, v r3.Vec, vv float64) {
	e, f := sub(q, p), sub(r, p)
	n := cross(e, f)
	nn := dot(n, n)
	needle := nn <= 1e-28*dot(e, e)*dot(f, f)
	if !needle {
		v = scale(dot(p, n)/nn, n)
		o := sub(v, p) // in the plane, from p to the foot of the origin
		l.Y = dot(cross(o, f), n) / nn
		l.Z = dot(cross(e, o), n) / nn
		l.X = 1 - l.Y - l.Z
		if l.X >= 0 && l.Y >= 0 && l.Z >= 0 {
			return l, v, dot(v, v)
		}
	}
	x, y, z := l.X < 0 || needle, l.Y < 0 || needle, l.Z < 0 || needle
	vv = math.Inf(1)
	if z {
		if t, w, ww := nearSegment(p, q); ww < vv {
			l, v, vv = r3.Vec{X: 1 - t, Y: t}, w, ww
		}
	}
	if x {
		if t, w, ww := nearSegment(q, r); ww < vv {
			l, v, vv = r3.Vec{Y: 1 - t, Z: t}, w, ww
		}
	}
	if y {
		if t, w, ww := nearSegment(r, p); ww < vv {
			l, v, vv = r3.Vec{Z: 1 - t, X: t}, w, ww
		}
	}
	return l, v, vv
}
