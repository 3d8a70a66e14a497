package cell

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// An over-located axle stands where the energy sum of k s^2/2 of its members is least, s = |d| - L. Its equations are the slopes
//
//	g_a = sum of k s s_a = 0,  s_a = u.p_a,  u = d/|d|,  p_a = dd/dq_a
//
// and their matrix of derivatives H_ab = sum of k (s_a s_b + s s_ab), s_ab = (p_a.p_b - s_a s_b)/|d| + u.p_ab.

// stretch is a member's stretch at a place and its derivatives by what it knows.
type stretch struct {
	bar
	u    r3.Vec
	l, s float64
	a    own5
	ab   [memberOwn]own5
}

func (k *member) stretched(p *place, e *stretch) {
	k.at(p, &e.bar)
	e.l = norm(e.d)
	e.u = scale(1/e.l, e.d)
	e.s = e.l - k.l
	n := k.knows()
	for a := range n {
		e.a[a] = dot(e.u, e.p[a])
	}
	for a := range n {
		for b := range n {
			e.ab[a][b] = (dot(e.p[a], e.p[b]) - e.a[a]*e.a[b]) / e.l
		}
	}
	both := func(a, b int, v r3.Vec) {
		m := dot(e.u, v)
		e.ab[a][b] += m
		if a != b {
			e.ab[b][a] += m
		}
	}
	both(2, 2, upTo(e.p[2]))
	both(2, 3, upTo(e.p[3]))
	both(3, 3, cross(p.ey, e.p[3]))
	if k.turn > 0 {
		both(rockers, rockers, e.back)
		if k.onAxle {
			both(2, rockers, upTo(e.p[rockers]))
			both(3, rockers, cross(p.ey, e.p[rockers]))
		}
	}
}

// pulled is how s and s_a change as d and its derivatives do.
func (e *stretch) pulled(dd r3.Vec, dp *[memberOwn]r3.Vec, n int) (s float64, a own5) {
	s = dot(e.u, dd)
	du := scale(1/e.l, sub(dd, scale(s, e.u)))
	for i := range n {
		a[i] = dot(du, e.p[i])
		if i >= 2 {
			a[i] += dot(e.u, dp[i])
		}
	}
	return s, a
}

// slopes fills g and H; it returns false where a member has no direction.
func (t *Tree) slopes(p *place, g *vec, h *mat) bool {
	for i := range t.n {
		g[i] = 0
		clear(h[i][:t.n])
	}
	var e stretch
	for i := range t.members {
		k := &t.members[i]
		k.stretched(p, &e)
		if !(e.l > 0) {
			return false
		}
		n := k.knows()
		for a := range n {
			x := k.unknown(a)
			g[x] += k.k * e.s * e.a[a]
			for b := range n {
				h[x][k.unknown(b)] += k.k * (e.a[a]*e.a[b] + e.s*e.ab[a][b])
			}
		}
	}
	t.springSlopes(p, g, h)
	return true
}

// driftEnergy is drift of the slopes.
func (t *Tree) driftEnergy(c *Cell, out *[most][2]float64) {
	var e stretch
	var dp [memberOwn]r3.Vec
	for i := range t.members {
		k := &t.members[i]
		k.stretched(&c.at, &e)
		n := k.knows()
		for x := range 2 {
			v, w := r3.Vec{Z: c.RH}, r3.Vec{}
			if x == 1 {
				v, w = r3.Vec{}, scale(c.RA, c.at.a2)
			}
			s, a := e.pulled(k.along(&c.at, &e.bar, v, w, 0, &dp), &dp, n)
			for i := range n {
				out[k.unknown(i)][x] += k.k * (s*e.a[i] + e.s*a[i])
			}
		}
	}
	t.springDrift(c, out)
}

// swayed is a stretch and what it does along the prediction over a cell.
type swayed struct {
	stretch
	sizes
	k      *member
	s1, s2 float64 // |s'| at the centre, |s''| anywhere
	da, a2 own5    // |s_a'| and |s_a''| anywhere
	move   float64 // how far its axle end moves
}

// sharpest bounds the second derivative of d/|d| by the square of what d moves over |d|.
var sharpest = 2 / math.Sqrt(3)

// proveEnergy is prove on the slopes of the energy. Along the prediction
//
//	g_a'' = sum of k (s'' s_a + 2 s' s_a' + s s_a'')
//
// is bounded member by member, its first part through H^-1 k s_a of the centre; H changes over the box by first-order parts, taken exactly, and the rest, by its size.
func (t *Tree) proveEnergy(c *Cell, y *mat) bool {
	var e0, slope vec
	first := &t.first // H' along each coordinate
	for x := range first {
		for i := range t.n {
			clear(first[x][i][:t.n])
		}
	}
	members := t.work[:len(t.members)]
	for i := range members {
		m := &members[i]
		k := &t.members[i]
		m.k = k
		k.stretched(&c.at, &m.stretch)
		m.sizes = k.sizes(c)
		m.s1 = 0
		n := k.knows()
		var dd [2]r3.Vec
		var dp [memberOwn]r3.Vec
		for x := range 2 {
			dd[x] = k.along(&c.at, &m.bar, c.vc[x], c.w[x], c.s[k.turn][x], &dp)
			s, a := m.pulled(dd[x], &dp, n)
			m.s1 += math.Abs(s)
			for p := range n {
				for q := range n {
					first[x][k.unknown(p)][k.unknown(q)] += k.k * (a[p]*m.a[q] + m.a[p]*a[q] + s*m.ab[p][q])
				}
			}
		}
		v := larger(dd[0], dd[1])
		m.move = v + m.bend/2
		least, fast := m.l-m.move, v+m.bend
		if !(least > m.l/2) {
			return false
		}
		m.s2 = m.bend + fast*fast/least
		most := math.Abs(m.s) + m.s1 + m.s2/2
		for p := range n {
			m.da[p] = fast/least*m.sizes.p[p] + m.d1[p]
			m.a2[p] = (m.bend/least+sharpest*fast*fast/(least*least))*m.sizes.p[p] + 2*fast/least*m.d1[p] + m.d2[p]
			slope[k.unknown(p)] += k.k * (m.s2/2*m.da[p] + (m.s1+m.s2)*m.da[p] + most/2*m.a2[p])
		}
		for p := range t.n {
			through := 0.0
			for q := range n {
				through += y[p][k.unknown(q)] * m.a[q]
			}
			e0[p] += math.Abs(through) * k.k * m.s2 / 2
		}
	}
	t.proveSprings(c, y, &e0, &slope, first)
	for p := range t.n {
		for q := range t.n {
			e0[p] += math.Abs(y[p][q]) * slope[q]
		}
	}
	return t.enclose(c, y, &e0, func(e *vec, rest, through *mat) {
		for i := range members {
			members[i].rest(e, c.sway.w+e[2]+e[3], rest)
		}
		for i := range t.springs {
			t.gives[i].rest(e, t.n, rest, through)
		}
	})
}

// rest adds what H may change by beyond its first-order parts where q strays by up to e from the prediction and the axle turns by turn in all.
func (m *swayed) rest(e *vec, turn float64, dst *mat) {
	k := m.k
	stray := k.stray(e)
	move := m.move + stray
	least := m.l - move
	if !(least > m.l/4) {
		dst[0][0] = math.Inf(1)
		return
	}
	if k.turn > 0 {
		turn += m.rocker + e[k.turn]
	}
	n := k.knows()
	size := &m.sizes.p
	var rho, change own5 // of s_a: beyond first order, and all
	for a := range n {
		own := 0.0
		for b := range n {
			own += (size[a]*size[b]/least + k.second(a, b)) * e[k.unknown(b)]
		}
		rho[a] = m.a2[a]/2 + own
		change[a] = m.da[a] + own
	}
	sRest := m.s2/2 + stray
	sAll := math.Abs(m.s) + m.s1 + sRest
	for a := range n {
		for b := range n {
			both := size[a] * size[b]
			ab := (2*turn*both+change[a]*size[b]+size[a]*change[b])/least + both*move/(m.l*least) + k.second(a, b)*(move/least+turn)
			dst[k.unknown(a)][k.unknown(b)] += k.k * (rho[a]*math.Abs(m.a[b]) + math.Abs(m.a[a])*rho[b] + change[a]*change[b] + sRest*math.Abs(m.ab[a][b]) + sAll*ab)
		}
	}
}

// stray bounds how far the member's axle end strays from the prediction (its rocker's end the other way).
func (k *member) stray(e *vec) float64 {
	s := math.Hypot(e[0], e[1]) + k.size*(e[2]+e[3])
	if k.turn > 0 {
		s += k.out * e[k.turn]
	}
	return s
}
