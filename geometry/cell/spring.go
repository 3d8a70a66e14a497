package cell

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// A radius arm is a body of its own, kept as the axle sees it: its point, midway between its axle pivots, moves by (x, y, z), and it turns by
// Ra = Rz(psi) Rx(phi) Ry(theta), all in the axle's axes. So what its axle pivots give does not know where the axle is. A point of it is at C + R v,
// v = home + (x, y, z) + Ra at. Each pivot is a spring from mount to the arm's point, e long:
//
//	axle pivot (axle's axes): e = (x, y, z) + Ra at - at    frame pivot (body axes): e = C + R v - F
//
// with the energy e.K e/2, K = k + along b b', b the bolt, which its mount carries: constant in either's axes.

// armOwn is how many unknowns a radius arm has: they come after all others.
const armOwn = 6

// spring is one pivot of a radius arm.
type spring struct {
	arm      int    // among the radius arms
	first    int    // which unknown is its arm's first
	at, home r3.Vec // axle's axes: the arm's point less its own at ride; its own point's offset from the axle centre
	onFrame  bool
	mount    r3.Vec // of a frame pivot, body axes
	bolt     r3.Vec
	k, along float64
	out      float64 // |at|
}

// springsOf lists the pivots of every radius arm, whose unknowns start at first.
func springsOf(m *motion.Mechanism, first int) (list []spring, arms []int) {
	for i := range m.Arms {
		a := &m.Arms[i]
		if !a.Radius {
			continue
		}
		base := spring{arm: len(arms), first: first + armOwn*len(arms), home: scale(0.5, add(a.Axle[0], a.Axle[1]))}
		pivot := func(e *motion.End, offset r3.Vec) spring {
			k := base
			k.at = sub(offset, k.home)
			k.bolt, k.k, k.along, k.out = e.Bolt, e.Stiffness, e.Axial-e.Stiffness, norm(k.at)
			return k
		}
		k := pivot(&a.FrameEnds[0], sub(a.Frame[0], r3.Vec{Z: m.Radius}))
		k.onFrame, k.mount = true, a.Frame[0]
		list = append(list, k)
		for n := range a.Axle {
			list = append(list, pivot(&a.AxleEnds[n], a.Axle[n]))
		}
		arms = append(arms, i)
	}
	return list, arms
}

// What a spring knows: its arm's six and, at the frame, the axle's four.
const springOwn = armOwn + own

func (k *spring) knows() int {
	if k.onFrame {
		return springOwn
	}
	return armOwn
}

// unknown is the place of one of those in q.
func (k *spring) unknown(a int) int {
	if a < armOwn {
		return k.first + a
	}
	return a - armOwn
}

// stiff is K v.
func (k *spring) stiff(v r3.Vec) r3.Vec {
	return add(scale(k.k, v), scale(k.along*dot(k.bolt, v), k.bolt))
}

// give is a spring at a place: e and its derivatives by what it knows.
type give struct {
	e, rho, r r3.Vec // rho: Ra at, axle's axes; r: R v
	a         [springOwn]r3.Vec
	ab        [springOwn][springOwn]r3.Vec
}

func (k *spring) stands(p *place, g *give) {
	arm := &p.arms[k.arm]
	q := p.q[k.first:]
	move := r3.Vec{X: q[0], Y: q[1], Z: q[2]}
	g.rho = arm.turn(k.at)
	see := func(v r3.Vec) r3.Vec { return v }
	if k.onFrame {
		see = p.offset
	}
	g.a[0], g.a[1], g.a[2] = see(r3.Vec{X: 1}), see(r3.Vec{Y: 1}), see(r3.Vec{Z: 1})
	axes := [3]r3.Vec{{Z: 1}, arm.a2, arm.ey} // outer first
	for a := range 3 {
		g.a[3+a] = see(cross(axes[a], g.rho))
		for b := a; b < 3; b++ {
			v := see(cross(axes[a], cross(axes[b], g.rho)))
			g.ab[3+a][3+b], g.ab[3+b][3+a] = v, v
		}
	}
	if !k.onFrame {
		g.e = sub(add(move, g.rho), k.at)
		return
	}
	g.r = p.offset(add(add(k.home, move), g.rho))
	g.e = sub(add(p.c, g.r), k.mount)
	turns := [2]r3.Vec{{Z: 1}, p.ey}
	g.a[armOwn], g.a[armOwn+1] = r3.Vec{X: 1}, r3.Vec{Y: 1}
	for a := range 2 {
		g.a[armOwn+2+a] = cross(turns[a], g.r)
		for b := a; b < 2; b++ {
			v := cross(turns[a], cross(turns[b], g.r))
			g.ab[armOwn+2+a][armOwn+2+b], g.ab[armOwn+2+b][armOwn+2+a] = v, v
		}
		for b := range armOwn {
			v := cross(turns[a], g.a[b])
			g.ab[armOwn+2+a][b], g.ab[b][armOwn+2+a] = v, v
		}
	}
}

// pull is how e and its derivatives change with a motion.
func (k *spring) pull(p *place, g *give, m *pushed, da *[springOwn]r3.Vec) (de r3.Vec) {
	arm := &p.arms[k.arm]
	drho := cross(m.turn, g.rho)
	dv := add(m.move, drho)
	*da = [springOwn]r3.Vec{}
	da[3] = upTo(drho)
	da[4] = add(cross(cross(m.psi, arm.a2), g.rho), cross(arm.a2, drho))
	da[5] = add(cross(cross(m.in, arm.ey), g.rho), cross(arm.ey, drho))
	if !k.onFrame {
		return dv
	}
	for a := range armOwn {
		da[a] = add(p.offset(da[a]), cross(m.w, g.a[a]))
	}
	dr := add(cross(m.w, g.r), p.offset(dv))
	da[armOwn+2] = upTo(dr)
	da[armOwn+3] = add(cross(cross(m.axleIn, p.ey), g.r), cross(p.ey, dr))
	return add(m.c, dr)
}

// springSlopes adds the springs' part of the slopes and their derivatives.
func (t *Tree) springSlopes(p *place, f *vec, h *mat) {
	var g give
	for i := range t.springs {
		k := &t.springs[i]
		k.stands(p, &g)
		n := k.knows()
		force := k.stiff(g.e)
		for a := range n {
			x := k.unknown(a)
			f[x] += dot(force, g.a[a])
			pull := k.stiff(g.a[a])
			for b := range n {
				h[x][k.unknown(b)] += dot(pull, g.a[b]) + dot(force, g.ab[a][b])
			}
		}
	}
}

// springDrift adds the springs' part of drift.
func (t *Tree) springDrift(c *Cell, out *[most][2]float64) {
	var g give
	var da [springOwn]r3.Vec
	for i := range t.springs {
		k := &t.springs[i]
		if !k.onFrame {
			continue
		}
		k.stands(&c.at, &g)
		force := k.stiff(g.e)
		for x := range 2 {
			m := pushed{c: r3.Vec{Z: c.RH}}
			if x == 1 {
				w := scale(c.RA, c.at.a2)
				m = pushed{w: w, axleIn: w}
			}
			pull := k.stiff(k.pull(&c.at, &g, &m, &da))
			for a := range springOwn {
				out[k.unknown(a)][x] += dot(pull, g.a[a]) + dot(force, da[a])
			}
		}
	}
}

// given is a spring and what it does along the prediction over a cell, in sizes.
type given struct {
	give
	k              *spring
	size, d1, d2   [springOwn]float64 // of e_a, and its first and second derivative
	v, e2          float64            // of e' at the centre, e'' anywhere
	far            float64            // of R v
	w, armW, moved float64            // how far the axle and, seen from it, the arm turn; how far v moves
	// Through Y, for every unknown: |Y g K|; |K Y g_ab| by b; |(Y g_ac).K g_b| by c and b. What stiff pivots do to one another is small, their parts are not.
	through [most]float64
	bent    [most][springOwn]float64
	both    [most][springOwn][springOwn]float64
}

// sizes fills what the spring does along the prediction.
func (g *given) sizes(c *Cell, de *[2]r3.Vec) {
	k := g.k
	w, curl, move := c.armSway(k)
	out := k.out
	g.armW, g.moved = w, move+out*w
	// of q = axis x rho in the axle's axes, and its derivatives
	q1 := [3]float64{out * w, 2 * out * w, out * w}
	q2 := [3]float64{out * curl, out * (curl + 3*w*w), out * curl}
	g.size = [springOwn]float64{1, 1, 1, out, out, out}
	g.d1, g.d2 = [springOwn]float64{}, [springOwn]float64{}
	g.w = 0
	g.e2 = out * curl
	for a := range 3 {
		g.d1[3+a], g.d2[3+a] = q1[a], q2[a]
	}
	if k.onFrame {
		aw, acurl := c.sway.w, c.sway.k
		g.w = aw
		g.far = norm(g.r) + g.moved
		g.e2 = g.far*acurl + 2*aw*g.moved + out*curl
		for a := range 3 {
			g.d1[a], g.d2[a] = aw, acurl
			g.d1[3+a], g.d2[3+a] = out*aw+q1[a], out*acurl+2*aw*q1[a]+q2[a]
			if a < 2 {
				g.size[armOwn+a] = 1
				g.size[armOwn+2+a], g.d1[armOwn+2+a], g.d2[armOwn+2+a] = g.far, g.far*aw+g.moved, g.e2
			}
		}
	}
	g.v = larger(de[0], de[1])
}

// proveSprings adds the springs' part of proveEnergy: to e0 and slope what the slopes come to along the prediction, to first the exact change of H.
func (t *Tree) proveSprings(c *Cell, y *mat, e0, slope *vec, first *[2]mat) {
	var da [springOwn]r3.Vec
	for i := range t.springs {
		g := &t.gives[i]
		k := &t.springs[i]
		g.k = k
		k.stands(&c.at, &g.give)
		n := k.knows()
		force := k.stiff(g.e)
		var pull [springOwn]r3.Vec
		for a := range n {
			pull[a] = k.stiff(g.a[a])
		}
		var de [2]r3.Vec
		for x := range 2 {
			m := c.motionOf(k, x)
			de[x] = k.pull(&c.at, &g.give, &m, &da)
			more := k.stiff(de[x])
			for a := range n {
				for b := range n {
					// The third derivative of e by a, b and the motion, times the force, is left to rest.
					first[x][k.unknown(a)][k.unknown(b)] += dot(da[a], pull[b]) + dot(pull[a], da[b]) + dot(more, g.ab[a][b])
				}
			}
		}
		g.sizes(c, &de)
		// g_a'' = K e''.e_a + 2 K e'.e_a' + K e.e_a''
		stiff := k.k + math.Max(0, k.along)
		fast := g.v + g.e2
		pushes := norm(force) + stiff*(g.v+g.e2/2)
		for a := range n {
			slope[k.unknown(a)] += stiff*(g.e2/2*g.d1[a]+fast*g.d1[a]) + pushes/2*g.d2[a]
		}
		for p := range t.n {
			var through r3.Vec
			for a := range n {
				through = add(through, scale(y[p][k.unknown(a)], pull[a]))
			}
			g.through[p] = norm(through)
			e0[p] += g.through[p] * g.e2 / 2
			for b := range n {
				var bent r3.Vec
				for a := range n {
					bent = add(bent, scale(y[p][k.unknown(a)], g.ab[a][b]))
				}
				g.bent[p][b] = norm(k.stiff(bent))
				for a := range n {
					g.both[p][b][a] = math.Abs(dot(bent, pull[a]))
				}
			}
		}
	}
}

// second bounds e_ab.
func (g *given) second(a, b int) float64 {
	turns := func(a int) bool { return a >= 3 && a < armOwn }
	axle := func(a int) bool { return a >= armOwn+2 }
	switch {
	case axle(a) && axle(b):
		return g.far
	case axle(a) && b < armOwn:
		return g.size[b]
	case axle(b) && a < armOwn:
		return g.size[a]
	case turns(a) && turns(b):
		return g.k.out
	}
	return 0
}

// rest adds what H may change by beyond its first-order parts where q strays by up to e from the prediction: to dst or, where Y is known with it, to through.
func (g *given) rest(e *vec, unknowns int, dst, through *mat) {
	k := g.k
	n := k.knows()
	arm := math.Sqrt(e[k.first]*e[k.first]+e[k.first+1]*e[k.first+1]+e[k.first+2]*e[k.first+2]) + k.out*(e[k.first+3]+e[k.first+4]+e[k.first+5])
	armTurn := g.armW + e[k.first+3] + e[k.first+4] + e[k.first+5]
	stray, turn := arm, 0.0
	if k.onFrame {
		stray += math.Hypot(e[0], e[1]) + (g.far+arm)*(e[2]+e[3])
		turn = g.w + e[2] + e[3]
	}
	off := g.e2/2 + stray
	// How far e_ab is anywhere from where it is at the centre.
	bends := func(a, b int) float64 {
		s := g.second(a, b)
		moved := s * 2 * turn
		if a < armOwn || b < armOwn {
			moved += s * 3 * armTurn
		} else if s > 0 {
			moved += g.moved + arm
		}
		return moved
	}
	var rho, change, beyond own10 // of e_a: beyond first order, all, and beyond what e_ab of the centre tells too
	for a := range n {
		own, far := 0.0, 0.0
		for b := range n {
			own += g.second(a, b) * e[k.unknown(b)]
			far += bends(a, b) * e[k.unknown(b)]
		}
		if a >= armOwn+2 {
			own += arm * (e[2] + e[3]) // v strays too
			far += arm * (e[2] + e[3])
		}
		rho[a], change[a], beyond[a] = g.d2[a]/2+own, g.d1[a]+own, g.d2[a]/2+far
	}
	stiff := k.k + math.Max(0, k.along)
	force := k.stiff(g.e)
	pushes := norm(force) + stiff*(g.v+off)
	for a := range n {
		for b := range n {
			dst[k.unknown(a)][k.unknown(b)] += beyond[a]*norm(k.stiff(g.a[b])) + stiff*change[a]*change[b] + pushes*bends(a, b)
		}
	}
	for p := range unknowns {
		for b := range n {
			sum := g.through[p]*rho[b] + g.bent[p][b]*off
			for c := range n {
				sum += g.both[p][c][b] * e[k.unknown(c)]
			}
			through[p][k.unknown(b)] += sum
		}
	}
}

// own10 has a number for each of what a spring knows.
type own10 [springOwn]float64
