package cell

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// The spin of a link, counted from that at which its leading end is misaligned least, is c; delta is that at which the other end is. With b a bolt and n a bore,
//
//	cos m = x(c) = (b.u) n_u + P cos c + Q sin c
//
// at either end. Two bushes share by least m_1^2 + m_2^2; a bush has its way as far as the free end's limit; two free ends make the larger of m/limit smallest. In each case c lies between nothing and delta,
// and is where a function G that rises with c changes sign between the two, or that end of the two at which it has not changed:
//
//	bushes       G = F'(x_1) x_1' + F'(x_2) x_2',  F(cos m) = m^2/2
//	bush, free   G = x_2 - cos limit_2
//	free         G = F(x_1)/limit_1^2 - F(x_2)/limit_2^2; also of a bush and a free end that cannot stay within its limit
//
// for delta above nothing, else mirrored. So any straight-line function of the cell's place at which G is above nothing all over the cell bounds c from above, and below from below.

// sharing says how the two ends of a link settle its spin.
type sharing uint8

const (
	alone   sharing = iota // one end has its way
	squares                // two bushes
	stopped                // a bush, as far as the free end's limit
	even                   // two free ends
)

// shares returns how a link's spin is settled, which end leads (0 frame, 1 axle), and what 1/limit^2 weighs the leading and the other end.
func shares(l *motion.Link) (how sharing, lead int, weigh [2]float64) {
	ends := [2]*motion.End{&l.FrameEnd, &l.AxleEnd}
	known := func(k int) bool { return !math.IsNaN(ends[k].MisLimit) }
	bush := func(k int) bool { return ends[k].Kind == motion.Bush }
	square := func(x float64) float64 { return x * x }
	switch {
	case bush(0) && bush(1):
		return squares, 0, weigh
	case bush(0) || bush(1):
		if bush(1) {
			lead = 1
		}
		if known(1 - lead) {
			how = stopped
		}
		return how, lead, [2]float64{square(1 / ends[lead].MisLimit), square(1 / ends[1-lead].MisLimit)}
	case known(0) != known(1):
		if known(1) {
			lead = 1
		}
		return alone, lead, weigh
	case !known(0):
		return even, 0, [2]float64{1, 1}
	}
	return even, 0, [2]float64{square(1 / ends[0].MisLimit), square(1 / ends[1].MisLimit)}
}

// turned is a link over the last cell asked for: its own axes at ride, and where the second and third have turned to.
type turned struct {
	of           [4]float64 // the cell's place and size
	known, ok    bool       // ok: else the link may have any spin
	u0, e20, e30 r3.Vec
	e2, e3       Point
}

func (t *Tree) turnedLink(c *Cell, i int) *turned {
	k := &t.turned[i]
	if of := [4]float64{c.H, c.A, c.RH, c.RA}; !k.known || k.of != of {
		*k = turned{of: of, known: true}
		t.turnLink(c, &t.mech.Links[i], k)
	}
	return k
}

// seat is one end of a link over a cell: x = a + p cos c + q sin c.
type seat struct{ a, p, q number }

func (e *seat) x(cos, sin *number) number {
	p, q := e.p.by(cos), e.q.by(sin)
	return e.a.plus(1, &p).plus(1, &q)
}

// slope is dx/dc.
func (e *seat) slope(cos, sin *number) number {
	q, p := e.q.by(cos), e.p.by(sin)
	return q.plus(-1, &p)
}

const (
	wide    = 0.866 // cos 30 deg: two bushes further off may have several spins of least squares
	steep   = 0.5   // cos 60 deg: the least x at which F is used
	curveF  = 0.53  // F'' from there on: it is largest there
	curveF1 = 0.6   // |F'''|, the same
	ample   = 1.2   // of what is left over, tried first
	widened = 5     // times doubled
	narrow  = 24    // times halved
	close   = 0.05  // of delta: a spin bounded as closely need not be bounded otherwise

	nearRoot = 1e-9 // rad
	sideStep = 1e-5 // rad, either side for a slope
)

// half is F(cos m) = m^2/2 and its first two derivatives by cos m; x may be past 1 by round-off.
func half(x float64) (f, slope, bend float64) {
	y := math.Max(0, 1-x)
	m := 2 * math.Atan2(math.Sqrt(y), math.Sqrt(1+x))
	if y < 1e-4 {
		return m * m / 2, -1 - y/3 - 2*y*y/15, 1./3 + 4*y/15
	}
	sin2 := y * (1 + x)
	slope = m / math.Sqrt(sin2)
	return m * m / 2, -slope, (1 - slope*x) / sin2
}

// spinning is the two ends of a link over a cell, leading one first.
type spinning struct {
	how         sharing
	first, then seat
	delta       number
	weigh       [2]float64
	least       float64 // cosine of the other's limit
}

// turnLink finds where the link's axes are over a cell.
func (t *Tree) turnLink(c *Cell, l *motion.Link, k *turned) {
	how, lead, weigh := shares(l)
	ends := [2]*motion.End{&l.FrameEnd, &l.AxleEnd}
	k.u0, k.e20, k.e30 = linkAxes(l, ends[lead])
	from, to := Fixed(l.Frame), c.Carried(l.Axle)
	tip, ok := Along(&from, &to, l.Length)
	if !ok {
		return
	}
	u := combined(part{1 / l.Length, &tip}, part{-1 / l.Length, &from})
	b, o := c.direction(ends[lead].Bolt, lead == 1), c.direction(ends[1-lead].Bolt, lead == 0)
	e2, ok := square(&b, &u)
	if !ok {
		return
	}
	e3 := product(&u, &e2)
	if how == alone {
		k.e2, k.e3, k.ok = e2, e3, true
		return
	}
	s := spinning{how: how, weigh: weigh, least: math.Cos(ends[1-lead].MisLimit)}
	seated := func(bolt *Point, bore r3.Vec) seat {
		n2, n3 := dot(bore, k.e20), dot(bore, k.e30)
		b1, b2, b3 := inner(bolt, &u), inner(bolt, &e2), inner(bolt, &e3)
		p, q := b2.times(n2), b3.times(n2)
		return seat{a: b1.times(dot(bore, k.u0)), p: p.plus(n3, &b3), q: q.plus(-n3, &b2)}
	}
	s.first, s.then = seated(&b, ends[lead].Bore), seated(&o, ends[1-lead].Bore)
	s.first.q = number{}
	if s.delta, ok = angle(&s.then.p, &s.then.q); !ok {
		return
	}
	spin, ok := s.spin()
	if !ok {
		return
	}
	cos, sin := spin.turns()
	c2, s3, s2, c3 := cos.scaled(&e2), sin.scaled(&e3), sin.scaled(&e2), cos.scaled(&e3)
	k.e2, k.e3, k.ok = combined(part{1, &c2}, part{1, &s3}), combined(part{-1, &s2}, part{1, &c3}), true
}

// spin bounds c over the cell. false where it may be any.
func (s *spinning) spin() (number, bool) {
	if s.how == squares {
		return s.between(&s.delta, 1)
	}
	one := number{x: 1}
	a, b := s.first.x(&one, &number{}), s.then.x(&one, &number{})
	if !(a.least() > 0 && b.least() > 0) { // else a bore may be nearer its bolt the other way round
		return number{}, false
	}
	side := 1.0
	delta := s.delta
	switch {
	case delta.most() >= math.Abs(delta.x): // the sign is not known
		return hull(&s.delta)
	case delta.x < 0:
		side = -1
		delta = delta.times(-1)
	}
	if !(delta.greatest() < math.Pi/2) {
		return number{}, false
	}
	end, okEnd := s.sign(&delta, side)
	if s.how == stopped && !(end.least() > 0) {
		// The free end cannot stay within its limit, or only perhaps: if not, the two share as free ends do.
		switch {
		case end.greatest() >= 0:
			return hull(&s.delta)
		case math.IsNaN(s.weigh[0]):
			return s.delta, true
		}
		s.how = even
		end, okEnd = s.sign(&delta, side)
	}
	start, okStart := s.sign(&number{}, side)
	switch {
	case okStart && start.least() >= 0:
		return number{}, true
	case okEnd && end.greatest() <= 0:
		return s.delta, true
	}
	c, ok := s.between(&delta, side)
	if ok && c.s < close*delta.greatest() {
		return c.times(side), true
	}
	// Where it turns from one to another: as much of the way as G has surely not, or surely, changed sign.
	far := delta.greatest()
	low, high := number{}, delta
	for k, by := 0, far/2; k < narrow && by > 1e-6; k, by = k+1, by/2 {
		c := number{x: by}
		if g, ok := s.sign(&c, side); !ok || !(g.least() >= 0) {
			break
		}
		high = c
	}
	for k, by := 0, far/2; k < narrow && by > 1e-6; k, by = k+1, by/2 {
		c := delta
		c.x -= by
		if g, ok := s.sign(&c, side); !ok || !(g.greatest() <= 0) {
			break
		}
		low = c
	}
	mid := low.plus(1, &high).times(0.5)
	gap := high.plus(-1, &low)
	mid.s += math.Max(0, gap.greatest()) / 2
	if ok && c.s <= mid.s {
		mid = c
	}
	return mid.times(side), true
}

// hull is all from nothing to delta.
func hull(delta *number) (number, bool) {
	c := delta.times(0.5)
	c.s += math.Max(math.Abs(delta.least()), math.Abs(delta.greatest())) / 2
	return c, c.most() < math.Pi/2
}

// sign is G at c, mirrored by side; false where it is not bounded.
func (s *spinning) sign(c *number, side float64) (number, bool) {
	cos, sin := c.turns()
	sin = sin.times(side)
	b := s.then.x(&cos, &sin)
	if s.how == stopped {
		b.x -= s.least
		return b, true
	}
	a := s.first.x(&cos, &sin)
	if !(a.least() > steep && b.least() > steep) {
		return number{}, false
	}
	fa, da, ea := half(a.x)
	fb, db, eb := half(b.x)
	if s.how == even {
		ga, gb := a.through(fa, da, curveF), b.through(fb, db, curveF)
		return ga.times(s.weigh[0]).plus(-s.weigh[1], &gb), true
	}
	// F is convex in c where x is above a, so there is one place of least squares where both are nearer than 30 deg and that.
	if !(a.least() > math.Max(wide, s.first.a.greatest()) && b.least() > math.Max(wide, s.then.a.greatest())) {
		return number{}, false
	}
	ga, gb := a.through(da, ea, curveF1), b.through(db, eb, curveF1)
	va, vb := s.first.slope(&cos, &sin), s.then.slope(&cos, &sin)
	va, vb = va.times(side), vb.times(side)
	ga, gb = ga.by(&va), gb.by(&vb)
	return ga.plus(1, &gb), true
}

// between bounds c where it is where G changes sign, as a straight-line function of the cell's place and what strays from it.
func (s *spinning) between(delta *number, side float64) (number, bool) {
	still := s.still()
	value := func(c float64) (float64, bool) {
		g, ok := still.sign(&number{x: c}, side)
		return g.x, ok
	}
	lo, hi := math.Min(0, delta.x), math.Max(0, delta.x)
	below, ok := value(lo)
	if !ok || below > 0 {
		return number{}, false
	}
	above, ok := value(hi)
	if !ok || above < 0 {
		return number{}, false
	}
	at := number{x: lo}
	for last, round := 0, 0; hi-lo > nearRoot && above > below && round < 40; round++ { // false position (Illinois)
		at.x = (lo*above - hi*below) / (above - below)
		g, ok := value(at.x)
		switch {
		case !ok:
			return number{}, false
		case math.Abs(g) < nearRoot:
			lo, hi = at.x, at.x
		case g > 0:
			hi, above = at.x, g
			if last > 0 {
				below /= 2
			}
			last = 1
		default:
			lo, below = at.x, g
			if last < 0 {
				above /= 2
			}
			last = -1
		}
	}
	above, _ = value(at.x + sideStep)
	below, _ = value(at.x - sideStep)
	rise := (above - below) / (2 * sideStep)
	if !(rise > 0) {
		return number{}, false
	}
	left, ok := s.sign(&at, side)
	if !ok {
		return number{}, false
	}
	left.s = 0
	c := at.plus(-1/rise, &left)
	if left, ok = s.sign(&c, side); !ok {
		return number{}, false
	}
	by := ample*(math.Abs(left.x)+left.most())/rise + nearRoot
	for range widened {
		high, low := c, c
		high.x += by
		low.x -= by
		over, okOver := s.sign(&high, side)
		under, okUnder := s.sign(&low, side)
		in := okOver && okUnder && over.least() >= 0 && under.greatest() <= 0
		if in && s.how != squares { // past an end of the two the sign of G says nothing
			room := delta.plus(-1, &low)
			in = high.least() >= 0 && room.least() >= 0
		}
		if in {
			c.s += by
			return c, true
		}
		by *= 2
	}
	return number{}, false
}

// still is what the ends come to at the cell's centre.
func (s *spinning) still() spinning {
	k := *s
	for _, n := range [7]*number{&k.first.a, &k.first.p, &k.first.q, &k.then.a, &k.then.p, &k.then.q, &k.delta} {
		*n = number{x: n.x}
	}
	return k
}
