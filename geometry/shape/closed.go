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
		n = scale(1/d, sharpen(v, d, d1, d2, s, t))
		n = scale(1/norm(n), n)
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

// sharpen makes the difference v of two nearest points square to the segments touched between their ends, where v is so short that round-off would turn it.
func sharpen(v r3.Vec, d float64, d1, d2 r3.Vec, s, t float64) r3.Vec {
	if d > coresNear {
		return v
	}
	in1, in2 := s > 0 && s < 1, t > 0 && t < 1
	switch {
	case in1 && in2:
		if c := cross(d1, d2); dot(c, c) > 1e-12*dot(d1, d1)*dot(d2, d2) {
			return scale(math.Copysign(d/norm(c), dot(c, v)), c)
		}
	case in1:
		return scale(1/dot(d1, d1), cross(d1, cross(v, d1)))
	case in2:
		return scale(1/dot(d2, d2), cross(d2, cross(v, d2)))
	}
	return v
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

// offDrum returns how far the point p lies outside the core of drum b (negative: minus the way out) and the unit direction of it.
func offDrum(p r3.Vec, b *Piece) (d float64, n r3.Vec) {
	o := sub(p, b.A)
	h := dot(o, b.Axis)
	rv := cross(b.Axis, cross(o, b.Axis))
	r := norm(rv)
	var u r3.Vec // radial unit direction
	if r > 0 {
		u = scale(1/r, rv)
	} else {
		u = square(b.Axis)
	}
	side := math.Copysign(1, h)
	over, out := math.Abs(h)-b.Half, r-b.Rho
	switch {
	case over > 0 && out > 0:
		n = add(scale(over*side, b.Axis), scale(out, u))
		return math.Sqrt(over*over + out*out), scale(1/norm(n), n)
	case over > out:
		return over, scale(side, b.Axis)
	}
	return out, u
}

// pointDrum measures a ball against a drum, in closed form.
func pointDrum(a, b *Piece, dst *Result) {
	d, n := offDrum(a.A, b)
	barDrum(a, b, a.A, d, n, dst)
	dst.Deep = d < 0
	dst.FeatureA.add(0)
}

func barDrum(a, b *Piece, at r3.Vec, d float64, n r3.Vec, dst *Result) {
	dst.N = n
	dst.Gap = d - a.Radius - b.Radius
	dst.PointA = along(at, -a.Radius, n)
	dst.PointB = along(dst.PointA, -dst.Gap, n)
}

// nearDrum: a bar's centre line nearer than this to a drum's core is left to the general way, mm.
const nearDrum = 1e-4

// segmentDrum measures a bar against a drum where the bar's centre line stays well outside the drum's core; else it reports false. The distance along the
// centre line is convex and its slope is the direction's part along it, so the nearest point is where the slope changes sign.
func segmentDrum(a, b *Piece, dst *Result) bool {
	e := sub(a.B, a.A)
	long := norm(e)
	lo, hi := 0.0, 1.0
	d, n := offDrum(a.A, b)
	gLo := dot(n, e)
	t := 0.0
	if d > coresApart && gLo < 0 {
		var gHi float64
		t = 1
		d, n = offDrum(a.B, b)
		gHi = dot(n, e)
		last := 0
		for round := 0; d > coresApart && gHi > 0 && round < 100; round++ {
			if round%4 == 3 {
				t = (lo + hi) / 2
			} else {
				t = (lo*gHi - hi*gLo) / (gHi - gLo)
			}
			d, n = offDrum(along(a.A, t, e), b)
			g := dot(n, e)
			// The planes square to n part the two by d less |g|; nearer than the second figure round-off of the direction does not let it come.
			if math.Abs(g) <= math.Max(10*gjkTol, 4e-13*long/d) {
				break
			}
			if g < 0 {
				lo, gLo = t, g
				if last < 0 {
					gHi /= 2 // the end that stays counts half (Illinois), so that both close in
				}
				last = -1
			} else {
				hi, gHi = t, g
				if last > 0 {
					gLo /= 2
				}
				last = 1
			}
		}
	}
	if d <= nearDrum {
		return false
	}
	barDrum(a, b, along(a.A, t, e), d, n, dst)
	touch(&dst.FeatureA, t, Segment)
	return true
}
