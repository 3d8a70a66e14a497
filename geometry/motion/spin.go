package motion

import "math"

// seat is one end of a link as the link's spin c about its own axis moves it. The bolt b is held by frame or axle, the bore n turns with the link:
//
//	b.n = x(c) = a + p cos c + q sin c
//
// with a the product of their parts along the link and (p, q) that of their parts square to it, so that the misalignment m of the two, taken as
// lines, has cos m = |x|. Spins are kept as (cos, sin) pairs.
type seat struct {
	a, p, q    float64
	bolt, bore float64 // their parts along the link
	flat       float64 // the length of the bore's part square to it
	bush       bool
	limit      float64 // rad, NaN where not known
}

// spin is an angle as its (cos, sin) pair.
type spin struct{ c, s float64 }

func (t spin) turned(c, s float64) spin { return spin{t.c*c - t.s*s, t.s*c + t.c*s} }

func (e *seat) x(t spin) float64 { return e.a + e.p*t.c + e.q*t.s }

// slope is dx/dc; up to its sign also the product b x n along the link.
func (e *seat) slope(t spin) float64 { return e.q*t.c - e.p*t.s }

// mis is the misalignment at a spin, exact for small ones: the product b x n has its parts along the link (the slope) and square to it.
func (e *seat) mis(t spin) float64 {
	v := e.slope(t)
	k := 0.0
	if e.flat > 0 {
		k = e.bore / e.flat
	}
	v1, v2 := e.bolt*e.flat*t.c-k*e.p, e.bolt*e.flat*t.s-k*e.q
	return math.Atan2(math.Sqrt(v*v+v1*v1+v2*v2), math.Abs(e.x(t)))
}

// over returns the end with its bore turned round: the same line.
func (e seat) over() seat {
	e.a, e.p, e.q, e.bore, e.flat = -e.a, -e.p, -e.q, -e.bore, -e.flat
	return e
}

// best is the spin of largest x: that of least misalignment on the side on which the bore sits at ride height. Any spin will do where bolt or
// bore has come to lie along the link.
func (e *seat) best() spin {
	rho := math.Sqrt(e.p*e.p + e.q*e.q)
	if rho < 1e-12 {
		return spin{1, 0}
	}
	return spin{e.p / rho, e.q / rho}
}

// facing returns the end seen as the line that is nearer at a spin.
func (e *seat) facing(t spin) seat {
	if e.x(t) < 0 {
		return e.over()
	}
	return *e
}

const (
	settled   = 1e-7  // rad: a Newton step after which the next is below round-off
	seriesTo  = 0.01  // 1 - cos m up to which the series of m/sin m is used
	cosWide   = 0.866 // cos 30 deg: beyond it, least squares may have several minima
	scanSteps = 180
)

// halfSquare gives the first two derivatives of m^2/2 by x = cos m: -m/sin m and (sin m - m cos m)/sin^3 m.
func halfSquare(x float64) (d1, d2 float64) {
	if y := 1 - x; y < seriesTo {
		d1 = 1 + y*(1./3+y*(2./15+y*(2./35+y*(8./315+y*(8./693+y*(16./3003))))))
		d2 = 1./3 + y*(4./15+y*(6./35+y*(32./315+y*(40./693+y*(96./3003)))))
		return -d1, d2
	}
	sin2 := (1 - x) * (1 + x)
	d1 = math.Acos(x) / math.Sqrt(sin2)
	return -d1, (1 - d1*x) / sin2
}

// settle is the spin at which the link sits: two bushes share by least misalignment_1^2 + misalignment_2^2; one bush has its own way as far as
// the free end's limit allows, and where that end cannot stay within its limit the larger use is made smallest; so it is with two free ends.
// A free end without a limit does not hold the link back; two of them are weighed alike.
func settle(f, a *seat) spin {
	switch {
	case f.bush && a.bush:
		return leastSquares(f, a)
	case f.bush:
		return within(f, a)
	case a.bush:
		return within(a, f)
	}
	return smallestLargest(f, a)
}

// leastSquares finds the least sum of squares by Newton, from the spin at which x_1 + x_2 is largest. Where the ends stand so far apart that
// there may be another minimum, all round is searched.
func leastSquares(f, a *seat) spin {
	t := (&seat{p: f.p + a.p, q: f.q + a.q}).best()
	for range 20 {
		x1, x2 := f.x(t), a.x(t)
		if !(x1 > 0 && x2 > 0 && x1 <= 1+1e-9 && x2 <= 1+1e-9) {
			break
		}
		v1, v2 := f.slope(t), a.slope(t)
		d1, e1 := halfSquare(math.Min(x1, 1))
		d2, e2 := halfSquare(math.Min(x2, 1))
		bend := e1*v1*v1 - d1*(x1-f.a) + e2*v2*v2 - d2*(x2-a.a) // x'' = a - x
		if !(bend > 0) {
			break
		}
		step := -(d1*v1 + d2*v2) / bend
		if !(math.Abs(step) < 1) {
			break
		}
		t = t.stepped(step)
		if math.Abs(step) < settled {
			if f.x(t) > cosWide && a.x(t) > cosWide {
				return t
			}
			break
		}
	}
	return scan(func(t spin) float64 {
		m1, m2 := f.mis(t), a.mis(t)
		return m1*m1 + m2*m2
	})
}

// stepped turns the spin by a small angle, half-angle formula.
func (t spin) stepped(d float64) spin {
	h := d / 2
	n := 1 / (1 + h*h)
	t = t.turned((1-h*h)*n, d*n)
	f := 1.5 - (t.c*t.c+t.s*t.s)/2
	return spin{t.c * f, t.s * f}
}

// scan searches a half turn either side of ride for the least of a function, and refines it by thirds.
func scan(f func(spin) float64) spin {
	best, least := 0.0, math.Inf(1)
	const width = 2 * math.Pi / scanSteps
	for i := range scanSteps {
		// from ride outwards, so that the nearer of two equal ones is taken
		c := width * float64((i+1)/2)
		if i%2 == 1 {
			c = -c
		}
		if v := f(angled(c)); v < least-1e-12 {
			best, least = c, v
		}
	}
	lo, hi := best-width, best+width
	for range 80 {
		c1, c2 := lo+(hi-lo)/3, hi-(hi-lo)/3
		if f(angled(c1)) < f(angled(c2)) {
			hi = c2
		} else {
			lo = c1
		}
	}
	return angled((lo + hi) / 2)
}

func angled(c float64) spin {
	s, k := math.Sincos(c)
	return spin{k, s}
}

// within gives the bush its best spin, but no further than the free end's limit.
func within(bush, free *seat) spin {
	t := bush.best()
	if free.limit != free.limit {
		return t
	}
	least := math.Cos(free.limit)
	if math.Abs(free.x(t)) >= least {
		return t
	}
	for _, e := range [2]seat{free.facing(t), free.facing(t).over()} {
		rho := math.Sqrt(e.p*e.p + e.q*e.q)
		c := (least - e.a) / rho // of the angle from the free end's best spin to its limit
		if !(math.Abs(c) <= 1) {
			continue
		}
		s := math.Sqrt((1 - c) * (1 + c))
		b := e.best()
		if b.c*t.s-b.s*t.c < 0 { // towards the bush's best
			s = -s
		}
		return b.turned(c, s)
	}
	return smallestLargest(bush, free)
}

// smallestLargest is the spin that makes the larger of misalignment/limit smallest: an end's best spin where that end is the worse one there,
// else the spin between the two at which both are used alike.
func smallestLargest(f, a *seat) spin {
	wf, wa := 1/f.limit, 1/a.limit
	switch {
	case wf != wf && wa != wa:
		wf, wa = 1, 1
	case wf != wf:
		return a.best()
	case wa != wa:
		return f.best()
	}
	tf := f.best()
	o := a.facing(tf)
	ta := o.best()
	if wf*f.mis(tf) >= wa*o.mis(tf) {
		return tf
	}
	if wa*o.mis(ta) >= wf*f.mis(ta) {
		return ta
	}
	// From tf (less used) to ta (more used), by Newton kept inside the bracket.
	lo, hi := 0.0, math.Atan2(tf.c*ta.s-tf.s*ta.c, tf.c*ta.c+tf.s*ta.s)
	c := hi * wa / (wf + wa) // exact where both can be brought to nothing
	t := tf
	for range 100 {
		t = tf.turned(math.Cos(c), math.Sin(c))
		m1, m2 := f.mis(t), o.mis(t)
		g := wf*m1 - wa*m2
		if g < 0 {
			lo = c
		} else {
			hi = c
		}
		dg := -wf*f.slope(t)/math.Sin(m1) + wa*o.slope(t)/math.Sin(m2)
		next := c - g/dg
		if !((next-lo)*(next-hi) < 0) {
			next = (lo + hi) / 2
		}
		step := next - c
		c = next
		if math.Abs(step) < settled/10 {
			break
		}
	}
	return tf.turned(math.Cos(c), math.Sin(c))
}
