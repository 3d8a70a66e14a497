package cell

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// body is a radius arm at a place: its axes, and the axis of phi, in the axle's axes.
type body struct{ ex, ey, ez, a2 r3.Vec }

// armAt is the place in q of the first unknown of radius arm i.
func (t *Tree) armAt(i int) int { return t.n - armOwn*(len(t.arms)-i) }

func (t *Tree) bodies(p *place) {
	for i := range t.arms {
		q := p.q[t.armAt(i):]
		sp, cp := math.Sincos(q[3])
		sa, ca := math.Sincos(q[4])
		st, ct := math.Sincos(q[5])
		p.arms[i] = body{
			ex: r3.Vec{X: cp*ct - sp*sa*st, Y: sp*ct + cp*sa*st, Z: -ca * st},
			ey: r3.Vec{X: -sp * ca, Y: cp * ca, Z: sa},
			ez: r3.Vec{X: cp*st + sp*sa*ct, Y: sp*st - cp*sa*ct, Z: ca * ct},
			a2: r3.Vec{X: cp, Y: sp},
		}
	}
}

func (b *body) turn(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: b.ex.X*v.X + b.ey.X*v.Y + b.ez.X*v.Z,
		Y: b.ex.Y*v.X + b.ey.Y*v.Y + b.ez.Y*v.Z,
		Z: b.ex.Z*v.X + b.ey.Z*v.Y + b.ez.Z*v.Z,
	}
}

// pushed is a motion: of the arm as the axle sees it, and of the axle. psi and in are the parts of a turn that turn the axis of phi and that of theta.
type pushed struct {
	move, turn, psi, in r3.Vec
	c, w, axleIn        r3.Vec
}

// motionOf is the prediction's motion along one coordinate as a spring sees it.
func (c *Cell) motionOf(k *spring, x int) pushed {
	arm := &c.at.arms[k.arm]
	s := func(a int) float64 { return c.s[k.first+a][x] }
	psi := r3.Vec{Z: s(3)}
	in := add(psi, scale(s(4), arm.a2))
	m := pushed{move: r3.Vec{X: s(0), Y: s(1), Z: s(2)}, psi: psi, in: in, turn: add(in, scale(s(5), arm.ey))}
	m.c, m.w = c.vc[x], c.w[x]
	m.axleIn = r3.Vec{Z: c.s[2][x]}
	if x == 1 {
		m.axleIn = add(m.axleIn, scale(c.RA, c.at.a2))
	}
	return m
}

// armSway is sway's w and k of a radius arm, as the axle sees it, and how far its own point moves.
func (c *Cell) armSway(k *spring) (w, curl, move float64) {
	span := func(a int) float64 { return math.Abs(c.s[k.first+a][0]) + math.Abs(c.s[k.first+a][1]) }
	a, b, d := span(3), span(4), span(5)
	steep := math.Min(1, math.Abs(math.Sin(c.at.q[k.first+4]))+b)
	w2 := a*a + b*b + d*d + 2*a*d*steep
	m := func(x int) r3.Vec { return r3.Vec{X: c.s[k.first][x], Y: c.s[k.first+1][x], Z: c.s[k.first+2][x]} }
	return math.Sqrt(w2), w2 + a*b + d*math.Sqrt(a*a+b*b), larger(m(0), m(1))
}

// onArm is a point of radius arm i over a cell, given from the arm's frame pivot at ride; seen in body axes or, with onAxle, from the axle.
func (t *Tree) onArm(c *Cell, i int, at r3.Vec, onAxle bool) Point {
	k := t.armPoint(i, at)
	q, e := c.at.q[k.first:], c.E[k.first:]
	rho := c.at.arms[i].turn(k.at)
	v := add(add(k.home, r3.Vec{X: q[0], Y: q[1], Z: q[2]}), rho)
	_, curl, _ := c.armSway(&k)
	p := Point{X: v, S: k.out*(curl/2+e[3]+e[4]+e[5]) + norm(r3.Vec{X: e[0], Y: e[1], Z: e[2]}) + eps}
	for x := range 2 {
		m := c.motionOf(&k, x)
		p.V[x] = add(m.move, cross(m.turn, rho))
	}
	if onAxle {
		return p
	}
	out := c.Carried(v)
	moves := larger(p.V[0], p.V[1]) + k.out*curl
	for x := range 2 {
		out.V[x] = add(out.V[x], c.at.offset(p.V[x]))
	}
	// Carried holds for a point that stays on the axle; this one moves on it meanwhile.
	out.S += p.S + c.sway.w*moves + moves*(c.sway.k/2+2*(c.E[2]+c.E[3])) + p.S*(c.E[2]+c.E[3])
	return out
}

// armPoint is a point of radius arm i as a spring's arm side, given from the arm's frame pivot at ride.
func (t *Tree) armPoint(i int, at r3.Vec) spring {
	a := &t.mech.Arms[t.arms[i]]
	k := spring{arm: i, first: t.armAt(i), home: scale(0.5, add(a.Axle[0], a.Axle[1]))}
	k.at = sub(sub(add(a.Frame[0], at), r3.Vec{Z: t.radius}), k.home)
	k.out = norm(k.at)
	return k
}
