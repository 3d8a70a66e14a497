package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// segments measures two pieces whose cores are points or segments, in closed form.
func segments(a, b *Piece, dst *Result) {
	d1, d2 := r3.Vec{}, r3.Vec{}
	if a.Kind == Segment {
		d1 = sub(a.B, a.A)
	}
	if b.Kind == Segment {
		d2 = sub(b.B, b.A)
	}
	s, t := nearestSegments(a.A, d1, b.A, d2)
	pa, pb := along(a.A, s, d1), along(b.A, t, d2)
	v := sub(pa, pb)
	d := norm(v)
	var n r3.Vec
	if d > coresApart {
		n = scale(1/d, v)
	} else {
		// Crossing centre lines part fastest square to both; parallel or degenerate ones square to the longer.
		dst.Deep = true
		c := cross(d1, d2)
		l1, l2 := dot(d1, d1), dot(d2, d2)
		switch l := norm(c); {
		case l > 1e-12*math.Sqrt(l1*l2) && l > 0:
			n = scale(1/l, c)
		case l1 >= l2:
			n = square(d1)
		default:
			n = square(d2)
		}
		if d = dot(v, n); d < 0 {
			n, d = scale(-1, n), -d
		}
	}
	dst.N = n
	dst.Gap = d - a.Radius - b.Radius
	dst.PointA = along(pa, -a.Radius, n)
	dst.PointB = along(dst.PointA, -dst.Gap, n)
	touch(&dst.FeatureA, s, a.Kind)
	touch(&dst.FeatureB, t, b.Kind)
}

func touch(f *Feature, t float64, k Kind) {
	if k == Point || t < 1 {
		f.add(0)
	}
	if k == Segment && t > 0 {
		f.add(1)
	}
}

// nearestSegments returns the fractions of the nearest points of p + s*d and q + t*e, both in [0, 1]. Either segment may be a point.
// The lines' nearest points come from the cross product, which stays exact for nearly parallel segments where d.d e.e - (d.e)^2 does not.
func nearestSegments(p, d, q, e r3.Vec) (s, t float64) {
	dd, ee := dot(d, d), dot(e, e)
	switch {
	case dd == 0 && ee == 0:
		return 0, 0
	case dd == 0:
		return 0, clamp01(dot(sub(p, q), e) / ee)
	case ee == 0:
		return clamp01(dot(sub(q, p), d) / dd), 0
	}
	c := cross(d, e)
	cc := dot(c, c)
	r := sub(q, p)
	const parallel = 1e-24 // sine squared: over 1e4 mm such lines part by 1e-8 mm
	if cc > parallel*dd*ee {
		s = dot(cross(r, e), c) / cc
		t = dot(cross(r, d), c) / cc
		if s >= 0 && s <= 1 && t >= 0 && t <= 1 {
			return s, t
		}
	}
	// Otherwise an end of one is nearest.
	best := math.Inf(1)
	for i := 0; i < 4; i++ {
		var u, w float64
		switch i {
		case 0, 1:
			u = float64(i)
			w = clamp01(dot(sub(along(p, u, d), q), e) / ee)
		default:
			w = float64(i - 2)
			u = clamp01(dot(sub(along(q, w, e), p), d) / dd)
		}
		v := sub(along(p, u, d), along(q, w, e))
		if l := dot(v, v); l < best {
			best, s, t = l, u, w
		}
	}
	return s, t
}

func clamp01(t float64) float64 {
	if !(t > 0) {
		return 0
	}
	if t > 1 {
		return 1
	}
	return t
}

// pointDrum measures a ball against a drum, in closed form.
func pointDrum(a, b *Piece, dst *Result) {
	p := sub(a.A, b.A)
	h := dot(p, b.Axis)
	rv := cross(b.Axis, cross(p, b.Axis))
	r := norm(rv)
	var u r3.Vec // radial unit direction
	if r > 0 {
		u = scale(1/r, rv)
	} else {
		u = square(b.Axis)
	}
	side := math.Copysign(1, h)
	over, out := math.Abs(h)-b.Half, r-b.Rho
	var n r3.Vec
	var d float64
	switch {
	case over > 0 && out > 0:
		n = add(scale(over*side, b.Axis), scale(out, u))
		d = math.Hypot(over, out)
		n = scale(1/norm(n), n)
	case over > out:
		n, d = scale(side, b.Axis), over
	default:
		n, d = u, out
	}
	dst.Deep = d < 0
	dst.N = n
	dst.Gap = d - a.Radius - b.Radius
	dst.PointA = along(a.A, -a.Radius, n)
	dst.PointB = along(dst.PointA, -dst.Gap, n)
	dst.FeatureA.add(0)
}
