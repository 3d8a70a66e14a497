package cell

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// limitKind is what bounds the travel.
type limitKind uint8

const (
	atLeast limitKind = iota // a strut's closed length
	atMost                   // a strut's open one, a strap's
	solid                    // a stop
	bump
	droop
	crossed // articulation either way
)

type limit struct {
	kind  limitKind
	frame r3.Vec
	foot  motion.Place
	axis  r3.Vec
	by    float64
}

func onAxle(at r3.Vec) motion.Place {
	return motion.Place{Carrier: motion.Carrier{On: motion.OnAxle}, At: at}
}

// limitsOf lists what bounds the travel of a mechanism.
func limitsOf(m *motion.Mechanism) []limit {
	var list []limit
	for i := range m.Struts {
		s := &m.Struts[i]
		if !math.IsNaN(s.Closed) {
			list = append(list, limit{kind: atLeast, frame: s.Frame, foot: s.Foot, by: s.Closed})
		}
		if !math.IsNaN(s.Open) {
			list = append(list, limit{kind: atMost, frame: s.Frame, foot: s.Foot, by: s.Open})
		}
	}
	for i := range m.Stops {
		s := &m.Stops[i]
		list = append(list, limit{kind: solid, frame: s.Frame, foot: onAxle(s.Axle), axis: s.Axis, by: s.Closed})
	}
	for i := range m.Straps {
		s := &m.Straps[i]
		list = append(list, limit{kind: atMost, frame: s.Frame, foot: onAxle(s.Axle), by: s.Open})
	}
	for i, v := range [...]float64{m.TravelBump, m.TravelDroop, m.TravelArticulation} {
		if !math.IsNaN(v) {
			list = append(list, limit{kind: bump + limitKind(i), by: v})
		}
	}
	if len(list) == 0 {
		return nil
	}
	list = append(list, limit{kind: crossed, by: math.Asin(motion.CrossedMost)})
	if !m.OverLocated {
		return list
	}
	forced := func(frame, axle r3.Vec, long float64) {
		list = append(list, limit{kind: atMost, frame: frame, foot: onAxle(axle), by: long + motion.ForcedMost}, limit{kind: atLeast, frame: frame, foot: onAxle(axle), by: long - motion.ForcedMost})
	}
	for i := range m.Links {
		l := &m.Links[i]
		forced(l.Frame, l.Axle, l.Length)
	}
	for i := range m.Arms {
		a := &m.Arms[i]
		if a.Radius {
			continue // its pivots are left out, and the rods of rockers: the range is smaller for them, if anything
		}
		for n := range a.Frame {
			forced(a.Frame[n], a.Axle[0], a.Lengths[n])
		}
	}
	return list
}

// clip cuts off the cell what lies outside a limit for certain: each limit is bounded from above by a straight-line function over the cell.
func (t *Tree) clip(c *Cell) {
	c.Poly = [corners][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}
	c.N = 4
	for i := range t.turned {
		t.turned[i].known = false // the cell has not been asked for as it is now
	}
	for i := range t.limits {
		k := &t.limits[i]
		switch k.kind {
		case bump:
			c.cut(k.by-c.H+eps, -c.RH, 0)
		case droop:
			c.cut(k.by+c.H+eps, c.RH, 0)
		case crossed:
			c.cut(k.by-c.A+1e-9, 0, -c.RA)
			c.cut(k.by+c.A+1e-9, 0, c.RA)
		case solid:
			t.cutStop(c, k)
		default:
			t.cutLength(c, k)
		}
	}
}

// cutLength: with l0 and u of the centre, a length changed by D is between l0 + u.D and l0 + u.D + |D|^2/(2 (l0 - |D|)).
func (t *Tree) cutLength(c *Cell, k *limit) {
	p, ok := t.Point(c, &k.foot)
	if !ok {
		return
	}
	d := sub(p.X, k.frame)
	l := norm(d)
	u := scale(1/l, d)
	a, b, dev := dot(u, p.V[0]), dot(u, p.V[1]), p.Dev(u, 1)
	if k.kind == atMost {
		c.cut(k.by-l+dev, -a, -b)
		return
	}
	q := p.Most()
	if !(q < 0.7*l) {
		return
	}
	c.cut(l-k.by+dev+q*q/(2*(l-q)), a, b)
}

// cutStop: the stop is not home where n.(d - closed axis) >= 0, n its axis as the axle carries it, while n.axis > 0.
func (t *Tree) cutStop(c *Cell, k *limit) {
	p := c.Carried(k.foot.At)
	n := c.at.offset(k.axis)
	if !(dot(n, k.axis) > c.sway.turn) {
		return
	}
	d := sub(sub(p.X, k.frame), scale(k.by, k.axis))
	far := norm(d)
	slack := p.Dev(n, 1) + (c.sway.k/2+c.E[2]+c.E[3])*far + c.sway.turn*p.Most()
	c.cut(dot(n, d)+slack, dot(n, p.V[0])+dot(cross(c.w[0], n), d), dot(n, p.V[1])+dot(cross(c.w[1], n), d))
}

// cut keeps of the cell where a + b u0 + c u1 >= 0.
func (c *Cell) cut(a, b, g float64) {
	if c.N == 0 || a >= math.Abs(b)+math.Abs(g) {
		return
	}
	var out [corners][2]float64
	n := 0
	push := func(p [2]float64) bool {
		if n == corners {
			return false
		}
		out[n] = p
		n++
		return true
	}
	for i := range c.N {
		p, q := c.Poly[i], c.Poly[(i+1)%c.N]
		fp, fq := a+b*p[0]+g*p[1], a+b*q[0]+g*q[1]
		if fp >= 0 && !push(p) {
			return
		}
		if (fp >= 0) != (fq >= 0) {
			s := fp / (fp - fq)
			if !push([2]float64{p[0] + s*(q[0]-p[0]), p[1] + s*(q[1]-p[1])}) {
				return
			}
		}
	}
	c.Poly, c.N = out, n
}
