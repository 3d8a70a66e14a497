package cell

import (
	"math"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// member is a distance: from f on the frame to p on the axle (offset from its centre at ride), l long at ride. A rocker's rod has at one of its two ends, as rocker says, the rocker's pivot in place
// of its own, and stands off it by arm, turned about axis.
type member struct {
	f, p      r3.Vec
	l         float64
	k         float64 // N/mm
	turn      int     // which unknown its rocker's turn is, 0: none
	onAxle    bool    // the rocker turns on the axle
	arm, axis r3.Vec
	size, out float64 // the most |r| can be, r its axle end from the axle centre; |arm|
}

// membersOf collects the distances: as many as there are unknowns, or more that are stretched as little as may be.
func membersOf(m *motion.Mechanism) ([]member, error) {
	var list []member
	plain := func(f, p r3.Vec, l, k float64) { list = append(list, member{f: f, p: p, l: l, k: k, size: norm(p)}) }
	for i := range m.Links {
		l := &m.Links[i]
		plain(l.Frame, l.Axle, l.Length, l.K)
	}
	for i := range m.Arms {
		a := &m.Arms[i]
		if a.Radius {
			continue // springs
		}
		for n := range a.Frame {
			plain(a.Frame[n], a.Axle[0], a.Lengths[n], a.Stiffness(n))
		}
	}
	if len(m.Rockers) > job.MostRockers {
		return nil, ErrLayout
	}
	for i := range m.Rockers {
		r := &m.Rockers[i]
		for n := range r.Rods {
			rod := &r.Rods[n]
			k := member{l: rod.Length, k: rod.K, turn: own + i, arm: rod.Rocker.At, axis: r.Axis, out: norm(rod.Rocker.At)}
			if k.onAxle = r.Pivot.On == motion.OnAxle; k.onAxle {
				k.f, k.p = rod.Far.At, r.Pivot.At
				k.size = norm(k.p) + k.out
			} else {
				k.f, k.p = r.Pivot.At, rod.Far.At
				k.size = norm(k.p)
			}
			list = append(list, k)
		}
	}
	if !m.OverLocated && len(list) != own+len(m.Rockers) {
		return nil, ErrLayout
	}
	return list, nil
}

// What a member knows: x, y, psi, theta and, of a rod, its rocker's turn.
const (
	memberOwn = own + 1
	rockers   = own // the turn among those
)

// own5 has a number for each of those.
type own5 [memberOwn]float64

func (k *member) knows() int {
	if k.turn > 0 {
		return memberOwn
	}
	return own
}

// unknown is the place of one of those in q.
func (k *member) unknown(a int) int {
	if a < own {
		return a
	}
	return k.turn
}

// bar is a member at a place: d from its frame end to its axle end, r from the axle centre to that, p how d changes with what it knows, back how p of its rocker's turn changes with that.
type bar struct {
	r, d r3.Vec
	p    [memberOwn]r3.Vec
	back r3.Vec
}

func (k *member) at(p *place, b *bar) {
	b.r = p.offset(k.p)
	f := k.f
	if k.turn > 0 {
		s, c := math.Sincos(p.q[k.turn])
		arm := spun(k.axis, c, s, k.arm)
		way := cross(k.axis, arm)
		back := cross(k.axis, way)
		if k.onAxle {
			b.r = add(b.r, p.offset(arm))
			b.p[rockers], b.back = p.offset(way), p.offset(back)
		} else {
			f = add(f, arm)
			b.p[rockers], b.back = scale(-1, way), scale(-1, back)
		}
	}
	b.d = sub(add(p.c, b.r), f)
	b.p[0], b.p[1], b.p[2], b.p[3] = r3.Vec{X: 1}, r3.Vec{Y: 1}, upTo(b.r), cross(p.ey, b.r)
}

// along is how d and its derivatives change where the axle's centre moves by v, the axle turns by w and the rocker by turn.
func (k *member) along(p *place, b *bar, v, w r3.Vec, turn float64, dp *[memberOwn]r3.Vec) (dd r3.Vec) {
	dr := cross(w, b.r)
	dd = add(v, dr)
	dp[3] = cross(w, b.p[3])
	if k.turn > 0 {
		dd = add(dd, scale(turn, b.p[rockers]))
		dp[rockers] = scale(turn, b.back)
		if k.onAxle {
			dp[rockers] = add(dp[rockers], cross(w, b.p[rockers]))
			dr = add(dr, scale(turn, b.p[rockers]))
			dp[3] = add(dp[3], cross(p.ey, scale(turn, b.p[rockers])))
		}
	}
	dp[2] = upTo(dr)
	return dd
}

// sizes are bounds on a member over a cell: of |p_a|, of how p_a changes along the prediction, first and second derivative, and of d's second derivative.
type sizes struct {
	p, d1, d2 own5
	bend      float64
	rocker    float64 // how far its rocker turns by the prediction
}

func (k *member) sizes(c *Cell) (z sizes) {
	w, curl := c.sway.w, c.sway.k
	z.p = own5{1, 1, k.size, k.size}
	z.bend = k.size * curl
	z.d1 = own5{2: k.size * w, 3: k.size * w}
	z.d2 = own5{2: z.bend, 3: z.bend}
	if k.turn == 0 {
		return z
	}
	f := math.Abs(c.s[k.turn][0]) + math.Abs(c.s[k.turn][1])
	z.rocker = f
	z.p[rockers] = k.out
	if !k.onAxle {
		z.d1[rockers], z.d2[rockers] = k.out*f, k.out*f*f
		z.bend += k.out * f * f
		return z
	}
	z.bend += k.out * (2*w*f + f*f)
	z.d1[2], z.d2[2] = z.d1[2]+k.out*f, z.bend
	z.d1[3], z.d2[3] = z.d1[2], z.bend
	z.d1[rockers], z.d2[rockers] = k.out*(w+f), k.out*(curl+2*w*f+f*f)
	return z
}

// second bounds the second derivative of d by two of what it knows.
func (k *member) second(a, b int) float64 {
	switch {
	case a < 2 || b < 2:
		return 0
	case a < own && b < own:
		return k.size
	case a == b || k.onAxle:
		return k.out
	}
	return 0
}
