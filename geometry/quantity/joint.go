package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// seat is one end of a link as its spin moves it. With the spin c of the link about its own axis,
//
//	cos(misalignment) = |a + rho cos(c - c0)|
//
// a = product of the bolt's and the bore's parts along the link, rho = product of their parts square to it.
type seat struct {
	a, rho, c0 float64
	bush       bool
	limit      float64 // rad, NaN
}

// x is the signed cosine at spin c.
func (s *seat) x(c float64) float64 { return s.a + s.rho*math.Cos(c-s.c0) }

// mis is the misalignment at spin c.
func (s *seat) mis(c float64) float64 { return math.Acos(math.Min(1, math.Abs(s.x(c)))) }

// slope is the derivative of mis^2/2; m/sin(m) is smooth through 0.
func (s *seat) slope(c float64) float64 {
	x := s.x(c)
	m := math.Acos(math.Min(1, math.Abs(x)))
	k := 1.0
	if sin := math.Sqrt(math.Max(0, (1-x)*(1+x))); sin > 1e-8 {
		k = m / sin
	}
	return math.Copysign(k, x) * s.rho * math.Sin(c-s.c0)
}

// best is the spin of least misalignment on the side of ride height, nearest to a reference. Half a turn more would turn the eye over; it makes
// no difference where bolt or bore lies square to the link.
func (s *seat) best(ref float64) float64 {
	period := 2 * math.Pi
	if math.Abs(s.a) < 1e-12 {
		period = math.Pi
	}
	return s.c0 - period*math.Round((s.c0-ref)/period)
}

// Links works out only the joints (and spins) of the links; what gaps of bent links and limits need. No allocation.
func Links(m *motion.Mechanism, p *motion.Pose, dst []LinkUse) {
	for i := range m.Links {
		link(m, p, i, &dst[i])
	}
}

func link(m *motion.Mechanism, p *motion.Pose, i int, dst *LinkUse) {
	l := &m.Links[i]
	d := r3.Sub(p.Point(l.Axle), l.Frame)
	dst.Length = r3.Norm(d)
	u := r3.Scale(1/dst.Length, d)
	u0 := r3.Scale(1/l.Length, r3.Sub(r3.Add(l.Axle, r3.Vec{Z: m.Radius}), l.Frame))
	dst.Stretch, dst.Force = m.Stretch(p, i)

	turn := leastTurn{w: r3.Cross(u0, u), f: 1 / (1 + r3.Dot(u0, u))}
	boltA := p.Offset(l.AxleEnd.Bolt)
	boreF, boreA := turn.apply(l.FrameEnd.Bore), turn.apply(l.AxleEnd.Bore)
	f := seatOf(&l.FrameEnd, l.FrameEnd.Bolt, boreF, u)
	a := seatOf(&l.AxleEnd, boltA, boreA, u)
	dst.Spin = settle(&f, &a)

	sin, cos := math.Sincos(dst.Spin)
	spin := func(n r3.Vec) r3.Vec {
		along := r3.Dot(n, u)
		flat := r3.Sub(n, r3.Scale(along, u))
		return r3.Add(r3.Scale(along, u), r3.Add(r3.Scale(cos, flat), r3.Scale(sin, r3.Cross(u, flat))))
	}
	endUse(&l.FrameEnd, l.FrameEnd.Bolt, spin(boreF), torsion(l.FrameEnd.Bolt, u0, u), &dst.FrameEnd)
	endUse(&l.AxleEnd, boltA, spin(boreA), torsion(l.AxleEnd.Bolt, u0, p.Unturn(u)), &dst.AxleEnd)
}

// leastTurn is the smallest turn that takes one direction into another: w = u0 x u, f = 1/(1 + u0.u).
type leastTurn struct {
	w r3.Vec
	f float64
}

func (t *leastTurn) apply(n r3.Vec) r3.Vec {
	c := r3.Cross(t.w, n)
	return r3.Add(n, r3.Add(c, r3.Scale(t.f, r3.Cross(t.w, c))))
}

func seatOf(e *motion.End, bolt, bore, u r3.Vec) seat {
	bu, nu := r3.Dot(bolt, u), r3.Dot(bore, u)
	flat := r3.Sub(bore, r3.Scale(nu, u))
	x, y := r3.Dot(bolt, flat), r3.Dot(bolt, r3.Cross(u, flat))
	return seat{a: bu * nu, rho: math.Hypot(x, y), c0: math.Atan2(y, x), bush: e.Kind == motion.Bush, limit: e.MisLimit}
}

// torsion is the angle about the bolt b from the link's direction at ride, u0, to u, both seen from the part that holds the bolt and
// projected square to it, right-hand about b.
func torsion(b, u0, u r3.Vec) float64 {
	return math.Atan2(r3.Dot(b, r3.Cross(u0, u)), r3.Dot(u0, u)-r3.Dot(b, u0)*r3.Dot(b, u))
}

func endUse(e *motion.End, bolt, bore r3.Vec, tor float64, dst *EndUse) {
	dst.Misalignment = math.Atan2(r3.Norm(r3.Cross(bolt, bore)), math.Abs(r3.Dot(bolt, bore)))
	dst.Torsion = math.NaN()
	dst.Use, dst.ByTorsion = dst.Misalignment/e.MisLimit, false // NaN where no limit is known
	if e.Kind != motion.Bush {
		return
	}
	dst.Torsion = tor
	if t := math.Abs(tor) / e.TorLimit; t > dst.Use || (t == t && dst.Use != dst.Use) {
		dst.Use, dst.ByTorsion = t, true
	}
}

// settle is the spin at which the link sits: two bushes share by least misalignment_1^2 + misalignment_2^2; one bush has its own way as far as
// the free end's limit allows; two free ends make the larger use smallest.
func settle(f, a *seat) float64 {
	cf := f.best(0)
	ca := a.best(cf)
	switch {
	case f.bush && a.bush:
		return leastSquares(f, a, cf, ca)
	case f.bush:
		return within(f, a, cf, ca)
	case a.bush:
		ca = a.best(0)
		return within(a, f, ca, f.best(ca))
	}
	return smallestLargest(f, a, cf, ca)
}

// leastSquares finds the root of the slope between the two best spins, where it must lie, by Newton steps kept inside the bracket.
func leastSquares(f, a *seat, cf, ca float64) float64 {
	lo, hi := math.Min(cf, ca), math.Max(cf, ca)
	if hi-lo < 1e-15 {
		return lo
	}
	g := func(c float64) float64 { return f.slope(c) + a.slope(c) }
	c := (f.rho*cf + a.rho*ca) / (f.rho + a.rho)
	for range 60 {
		v := g(c)
		if v > 0 {
			hi = c
		} else {
			lo = c
		}
		if v == 0 || hi-lo < 1e-15 {
			return c
		}
		const h = 1e-6
		next := c - v*2*h/(g(c+h)-g(c-h))
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-c) < 1e-14 {
			return next
		}
		c = next
	}
	return c
}

// within gives the bush its best spin, but no further than the free end's limit; if no spin keeps the free end within it, the spin that makes
// the larger use smallest. A free end without a limit does not hold the link back.
func within(bush, free *seat, cb, cf float64) float64 {
	if !(free.mis(cb) > free.limit) {
		return cb
	}
	best, least := math.NaN(), math.Inf(1)
	for _, x := range [2]float64{math.Cos(free.limit), -math.Cos(free.limit)} {
		k := (x - free.a) / free.rho
		if !(math.Abs(k) <= 1) {
			continue
		}
		t := math.Acos(k)
		for _, c := range [2]float64{free.c0 + t, free.c0 - t} {
			if m := bush.mis(c); m < least {
				best, least = c, m
			}
		}
		if best == best {
			break // the eye is not turned over where it need not be
		}
	}
	if best == best {
		return best - 2*math.Pi*math.Round((best-cb)/(2*math.Pi))
	}
	return smallestLargest(bush, free, cb, cf)
}

// smallestLargest is the spin that makes the larger of the two uses smallest. An end without a limit gives way to one that has it; two
// without are weighed alike.
func smallestLargest(f, a *seat, cf, ca float64) float64 {
	lf, la := f.limit, a.limit
	switch {
	case lf != lf && la != la:
		lf, la = 1, 1
	case lf != lf:
		return ca
	case la != la:
		return cf
	}
	g := func(c float64) float64 { return f.mis(c)/lf - a.mis(c)/la }
	if g(cf) >= 0 {
		return cf
	}
	if g(ca) <= 0 {
		return ca
	}
	lo, hi := cf, ca // g(lo) < 0 < g(hi)
	for range 60 {
		c := (lo + hi) / 2
		if g(c) < 0 {
			lo = c
		} else {
			hi = c
		}
	}
	return (lo + hi) / 2
}

// even is the difference in use below which two joints count as equally used; the first named stands.
const even = 1e-9

// worst finds the joint closest to its limit.
func worst(m *motion.Mechanism, dst *Values) {
	dst.WorstBind, dst.WorstLink, dst.WorstAxleEnd, dst.WorstTorsion = math.NaN(), -1, false, false
	take := func(i int, e *EndUse, axle bool) {
		if e.Use > dst.WorstBind+even || (dst.WorstLink < 0 && e.Use == e.Use) {
			dst.WorstBind, dst.WorstLink, dst.WorstAxleEnd, dst.WorstTorsion = e.Use, i, axle, e.ByTorsion
		}
	}
	for i := range dst.Links {
		take(i, &dst.Links[i].FrameEnd, false)
		take(i, &dst.Links[i].AxleEnd, true)
	}
	// At ride height nothing is used: the first joint that has a limit is named by its misalignment.
	if dst.WorstLink >= 0 && dst.WorstBind < even {
		e := &m.Links[dst.WorstLink].FrameEnd
		if dst.WorstAxleEnd {
			e = &m.Links[dst.WorstLink].AxleEnd
		}
		dst.WorstTorsion = e.MisLimit != e.MisLimit
	}
}

// WorstName names the worst joint as the csv column worst_bind_at does: "Upper left, frame end, torsion"; "" where none is known.
func WorstName(m *motion.Mechanism, v *Values) string {
	if v.WorstLink < 0 {
		return ""
	}
	name := m.Links[v.WorstLink].Name + ", frame end"
	if v.WorstAxleEnd {
		name = m.Links[v.WorstLink].Name + ", axle end"
	}
	if v.WorstTorsion {
		return name + ", torsion"
	}
	return name + ", misalignment"
}
