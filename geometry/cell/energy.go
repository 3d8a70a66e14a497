package cell

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// An over-located axle stands where the energy sum of k s^2/2 of its members is least, s = |d| - L. Its four equations are the slopes
//
//	g_a = sum of k s s_a = 0,  s_a = u.P_a,  u = d/|d|,  P = (e_x, e_y, e_z x r, a3 x r)
//
// and their matrix of derivatives H_ab = sum of k (s_a s_b + s s_ab), s_ab = (P_a.P_b - s_a s_b)/|d| + u.P_ab.

// stretch is a member at a place.
type stretch struct {
	r, d, u r3.Vec
	l, s    float64
	p       [4]r3.Vec
	a       [4]float64
	ab      mat
	arm, k  float64
}

func (t *Tree) stretches(p *place, i int, e *stretch) {
	w := &t.rows[i]
	e.arm, e.k = w.arm, w.k
	e.r = p.offset(w.p)
	e.d = sub(add(p.c, e.r), w.f)
	e.l = norm(e.d)
	e.u = scale(1/e.l, e.d)
	e.s = e.l - w.l
	e.p = [4]r3.Vec{{X: 1}, {Y: 1}, {X: -e.r.Y, Y: e.r.X}, cross(p.ey, e.r)}
	for a := range e.a {
		e.a[a] = dot(e.u, e.p[a])
	}
	for a := range 4 {
		for b := range 4 {
			e.ab[a][b] = (dot(e.p[a], e.p[b]) - e.a[a]*e.a[b]) / e.l
		}
	}
	turned := func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.Y, Y: v.X} }
	e.ab[2][2] += dot(e.u, turned(e.p[2]))
	m := dot(e.u, turned(e.p[3]))
	e.ab[2][3] += m
	e.ab[3][2] += m
	e.ab[3][3] += dot(e.u, cross(p.ey, e.p[3]))
}

// along is how the member's s_a change where its axle end moves by dd and the axle turns by w.
func (e *stretch) along(dd, w r3.Vec) (s float64, a [4]float64) {
	s = dot(e.u, dd)
	du := scale(1/e.l, sub(dd, scale(s, e.u)))
	for n := range a {
		a[n] = dot(du, e.p[n])
	}
	wr := cross(w, e.r)
	a[2] += dot(e.u, r3.Vec{X: -wr.Y, Y: wr.X})
	a[3] += dot(e.u, cross(w, e.p[3]))
	return s, a
}

// slopes fills g and H; it returns false where a member has no direction.
func (t *Tree) slopes(p *place, g *[4]float64, h *mat) bool {
	*g, *h = [4]float64{}, mat{}
	var e stretch
	for i := range t.rows {
		t.stretches(p, i, &e)
		if !(e.l > 0) {
			return false
		}
		for a := range 4 {
			g[a] += e.k * e.s * e.a[a]
			for b := range 4 {
				h[a][b] += e.k * (e.a[a]*e.a[b] + e.s*e.ab[a][b])
			}
		}
	}
	return true
}

const (
	lastStep = 1e-9  // mm and 1000 rad: the next step is below round-off
	roundMM  = 1e-9  // mm: what round-off leaves of the centre's place
	roundRad = 1e-12 // rad
)

// solveEnergy is solve for an over-located axle; y is the inverse of H.
func (t *Tree) solveEnergy(h, a float64, q [4]float64, p *place, y *mat) bool {
	var g [4]float64
	for range newtons {
		t.stand(h, a, q, p)
		if !t.slopes(p, &g, y) || !y.invert() {
			return false
		}
		var d [4]float64
		for i := range q {
			for n := range g {
				d[i] -= y[i][n] * g[n]
			}
			q[i] += d[i]
		}
		if !(math.Abs(q[2]) < 1 && math.Abs(q[3]) < 1) {
			return false
		}
		if math.Abs(d[0])+math.Abs(d[1])+1000*(math.Abs(d[2])+math.Abs(d[3])) <= lastStep {
			t.stand(h, a, q, p)
			return t.slopes(p, &g, y) && y.invert()
		}
	}
	return false
}

// ratesEnergy fills S = -H^-1 dg/du.
func (t *Tree) ratesEnergy(c *Cell, y *mat) {
	var e stretch
	var mixed [4][2]float64
	turn := scale(c.RA, c.at.a2)
	for i := range t.rows {
		t.stretches(&c.at, i, &e)
		for k := range 2 {
			dd, w := r3.Vec{Z: c.RH}, r3.Vec{}
			if k == 1 {
				dd, w = cross(turn, e.r), turn
			}
			s, a := e.along(dd, w)
			for n := range a {
				mixed[n][k] += e.k * (s*e.a[n] + e.s*a[n])
			}
		}
	}
	for n := range c.s {
		c.s[n] = [2]float64{}
		for m := range 4 {
			c.s[n][0] -= y[n][m] * mixed[m][0]
			c.s[n][1] -= y[n][m] * mixed[m][1]
		}
	}
}

// member is a stretch and what it does along the prediction over a cell.
type member struct {
	stretch
	size   [4]float64 // of P_a
	s1, s2 float64    // |s'| at the centre, |s''| anywhere
	da, a2 [4]float64 // |s_a'| and |s_a''| anywhere
	move   float64    // how far its axle end moves
}

// sharpest bounds the second derivative of d/|d| by the square of what d moves over |d|.
var sharpest = 2 / math.Sqrt(3)

// proveEnergy is prove on the slopes of the energy. Along the prediction
//
//	g_a'' = sum of k (s'' s_a + 2 s' s_a' + s s_a'')
//
// is bounded member by member, its first part through H^-1 k s_a of the centre; H changes over the box by first-order parts, taken exactly, and the rest, by its size.
func (t *Tree) proveEnergy(c *Cell, y *mat) bool {
	k, w := c.sway.k, c.sway.w
	var e0, slope [4]float64
	var first [2]mat // H' along each coordinate
	members := t.members[:len(t.rows)]
	for i := range members {
		m := &members[i]
		t.stretches(&c.at, i, &m.stretch)
		m.size = [4]float64{1, 1, m.arm, m.arm}
		m.s1 = 0
		var dd [2]r3.Vec
		for x := range 2 {
			dd[x] = add(c.vc[x], cross(c.w[x], m.r))
			s, a := m.along(dd[x], c.w[x])
			m.s1 += math.Abs(s)
			for p := range 4 {
				for q := range 4 {
					first[x][p][q] += m.k * (a[p]*m.a[q] + m.a[p]*a[q] + s*m.ab[p][q])
				}
			}
		}
		bend := m.arm * k
		v := larger(dd[0], dd[1])
		m.move = v + bend/2
		least, fast := m.l-m.move, v+bend
		if !(least > m.l/2) {
			return false
		}
		m.s2 = bend + fast*fast/least
		most := math.Abs(m.s) + m.s1 + m.s2/2
		for p := range 4 {
			m.da[p] = fast / least * m.size[p]
			m.a2[p] = (bend/least + sharpest*fast*fast/(least*least)) * m.size[p]
			if p >= 2 {
				m.da[p] += m.arm * w
				m.a2[p] += 2*fast/least*m.arm*w + m.arm*k
			}
			slope[p] += m.k * (m.s2/2*m.da[p] + (m.s1+m.s2)*m.da[p] + most/2*m.a2[p])
		}
		for p := range 4 {
			through := 0.0
			for q := range 4 {
				through += y[p][q] * m.a[q]
			}
			e0[p] += math.Abs(through) * m.k * m.s2 / 2
		}
	}
	var change [2]mat // H^-1 H'
	for p := range 4 {
		for q := range 4 {
			e0[p] += math.Abs(y[p][q]) * slope[q]
			for x := range 2 {
				for m := range 4 {
					change[x][p][q] += y[p][m] * first[x][m][q]
				}
			}
		}
		e0[p] += [4]float64{roundMM, roundMM, roundRad, roundRad}[p]
	}
	return c.enclose(e0, func(e *[4]float64) (by [4][4]float64) {
		var rest mat
		for i := range members {
			members[i].rest(e, w+e[2]+e[3], &rest)
		}
		for p := range 4 {
			for q := range 4 {
				by[p][q] = math.Abs(change[0][p][q]) + math.Abs(change[1][p][q])
				for m := range 4 {
					by[p][q] += math.Abs(y[p][m]) * rest[m][q]
				}
			}
		}
		return by
	})
}

// rest adds what H may change by beyond its first-order parts where q strays by up to e from the prediction and the axle turns by turn in all.
func (m *member) rest(e *[4]float64, turn float64, dst *mat) {
	stray := math.Hypot(e[0], e[1]) + m.arm*(e[2]+e[3]) // of the axle end
	move := m.move + stray
	least := m.l - move
	if !(least > m.l/4) {
		dst[0][0] = math.Inf(1)
		return
	}
	angles := func(a, b int) float64 { // of P_ab
		if a >= 2 && b >= 2 {
			return m.arm
		}
		return 0
	}
	var rho, change [4]float64 // of s_a: beyond first order, and all
	for a := range 4 {
		own := 0.0
		for b := range 4 {
			own += (m.size[a]*m.size[b]/least + angles(a, b)) * e[b]
		}
		rho[a] = m.a2[a]/2 + own
		change[a] = m.da[a] + own
	}
	sRest := m.s2 / 2
	for b := range 4 {
		sRest += m.size[b] * e[b]
	}
	sAll := math.Abs(m.s) + m.s1 + sRest
	for a := range 4 {
		for b := range 4 {
			size := m.size[a] * m.size[b]
			ab := (2*turn*size+change[a]*m.size[b]+m.size[a]*change[b])/least + size*move/(m.l*least) + angles(a, b)*(move/least+turn)
			dst[a][b] += m.k * (rho[a]*math.Abs(m.a[b]) + math.Abs(m.a[a])*rho[b] + change[a]*change[b] + sRest*math.Abs(m.ab[a][b]) + sAll*ab)
		}
	}
}
