package cell

import (
	"errors"
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// row is a kept distance: from f on the frame to p on the axle (offset from its centre at ride), l long.
type row struct {
	f, p r3.Vec
	l    float64
	arm  float64 // |p|
	k    float64 // N/mm
}

// ErrLayout is returned for layouts whose positions are not proved.
var ErrLayout = errors.New("positions are proved only of axles located by links, or exactly by links and A-arms, with struts on axle, A-arm or the very line of a link")

// rowsOf collects the distances: four that are kept or more that are stretched as little as may be.
func rowsOf(m *motion.Mechanism) ([]row, error) {
	if len(m.Rockers) > 0 {
		return nil, ErrLayout
	}
	var rows []row
	add := func(f, p r3.Vec, l, k float64) { rows = append(rows, row{f: f, p: p, l: l, arm: norm(p), k: k}) }
	for i := range m.Links {
		l := &m.Links[i]
		add(l.Frame, l.Axle, l.Length, l.K)
	}
	for i := range m.Arms {
		a := &m.Arms[i]
		if a.Radius || m.OverLocated {
			return nil, ErrLayout
		}
		for n := range a.Frame {
			add(a.Frame[n], a.Axle[0], a.Lengths[n], 0)
		}
	}
	if !m.OverLocated && len(rows) != 4 {
		return nil, ErrLayout
	}
	return rows, nil
}

// place is where the axle stands: q = (x, y, psi, theta) at (h, alpha), R = Rz(psi) Rx(alpha) Ry(theta).
type place struct {
	h, a       float64
	q          [4]float64
	c          r3.Vec // axle centre
	ex, ey, ez r3.Vec // columns of R
	a2         r3.Vec // axis of alpha; psi turns about Z, theta about ey
}

func (t *Tree) stand(h, a float64, q [4]float64, p *place) {
	sp, cp := math.Sincos(q[2])
	sa, ca := math.Sincos(a)
	st, ct := math.Sincos(q[3])
	*p = place{h: h, a: a, q: q,
		c:  r3.Vec{X: q[0], Y: q[1], Z: t.radius + h},
		ex: r3.Vec{X: cp*ct - sp*sa*st, Y: sp*ct + cp*sa*st, Z: -ca * st},
		ey: r3.Vec{X: -sp * ca, Y: cp * ca, Z: sa},
		ez: r3.Vec{X: cp*st + sp*sa*ct, Y: sp*st - cp*sa*ct, Z: ca * ct},
		a2: r3.Vec{X: cp, Y: sp},
	}
}

// offset is R p.
func (p *place) offset(o r3.Vec) r3.Vec {
	return r3.Vec{
		X: p.ex.X*o.X + p.ey.X*o.Y + p.ez.X*o.Z,
		Y: p.ex.Y*o.X + p.ey.Y*o.Y + p.ez.Y*o.Z,
		Z: p.ex.Z*o.X + p.ey.Z*o.Y + p.ez.Z*o.Z,
	}
}

// unturn is R' v.
func (p *place) unturn(v r3.Vec) r3.Vec {
	return r3.Vec{X: dot(p.ex, v), Y: dot(p.ey, v), Z: dot(p.ez, v)}
}

type mat [4][4]float64

// jacobian fills f = (|d|^2 - L^2)/(2L) and its derivatives; it returns the largest residual.
func (t *Tree) jacobian(p *place, f *[4]float64, j *mat) float64 {
	worst := 0.0
	for i := range t.rows {
		w := &t.rows[i]
		r := p.offset(w.p)
		d := sub(add(p.c, r), w.f)
		f[i] = (dot(d, d) - w.l*w.l) / (2 * w.l)
		worst = math.Max(worst, math.Abs(f[i]))
		g := cross(r, d)
		j[i] = [4]float64{d.X / w.l, d.Y / w.l, g.Z / w.l, dot(p.ey, g) / w.l}
	}
	return worst
}

const (
	residual = 1e-10 // mm, of the centre of a cell
	newtons  = 12
)

// solveExact corrects q at (h, a) by Newton; y is the inverse of the matrix of derivatives at the solution. false where it does not settle.
func (t *Tree) solveExact(h, a float64, q [4]float64, p *place, y *mat) bool {
	var f [4]float64
	for k := range newtons {
		t.stand(h, a, q, p)
		worst := t.jacobian(p, &f, y)
		if worst != worst || !y.invert() {
			return false
		}
		if worst <= residual {
			return true
		}
		if k == newtons-1 {
			break
		}
		for i := range q {
			for n := range f {
				q[i] -= y[i][n] * f[n]
			}
		}
		if !(math.Abs(q[2]) < 1 && math.Abs(q[3]) < 1) {
			return false
		}
	}
	return false
}

// invert replaces the matrix by its inverse (Gauss and Jordan, pivots by column); false where it has none.
func (m *mat) invert() bool {
	var b mat
	for i := range b {
		b[i][i] = 1
	}
	for c := range 4 {
		best := c
		for r := c + 1; r < 4; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[best][c]) {
				best = r
			}
		}
		if !(math.Abs(m[best][c]) > 1e-12) {
			return false
		}
		m[c], m[best], b[c], b[best] = m[best], m[c], b[best], b[c]
		k := 1 / m[c][c]
		for n := range 4 {
			m[c][n] *= k
			b[c][n] *= k
		}
		for r := range 4 {
			if r == c {
				continue
			}
			k := m[r][c]
			for n := range 4 {
				m[r][n] -= k * m[c][n]
				b[r][n] -= k * b[c][n]
			}
		}
	}
	*m = b
	return true
}

func dot(a, b r3.Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

func cross(a, b r3.Vec) r3.Vec {
	return r3.Vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}

func add(a, b r3.Vec) r3.Vec { return r3.Vec{X: a.X + b.X, Y: a.Y + b.Y, Z: a.Z + b.Z} }

func sub(a, b r3.Vec) r3.Vec { return r3.Vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z} }

func scale(k float64, a r3.Vec) r3.Vec { return r3.Vec{X: k * a.X, Y: k * a.Y, Z: k * a.Z} }

func norm(a r3.Vec) float64 { return math.Sqrt(dot(a, a)) }
