package cell

import (
	"errors"
	"math"

	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrLayout is returned for layouts whose positions are not proved.
var ErrLayout = errors.New("its members are none whose positions are proved")

// The unknowns: x, y, psi, theta, then the turn of every rocker, then six of every radius arm.
const (
	own  = 4
	most = own + job.MostRockers + armOwn*job.MostRadiusArms
)

// place is where the axle stands: q = (x, y, psi, theta, rockers' turns, radius arms' six) at (h, alpha), R = Rz(psi) Rx(alpha) Ry(theta).
type place struct {
	h, a       float64
	q          vec
	c          r3.Vec // axle centre
	ex, ey, ez r3.Vec // columns of R
	a2         r3.Vec // axis of alpha; psi turns about Z, theta about ey
	arms       [job.MostRadiusArms]body
}

func (t *Tree) stand(h, a float64, q *vec, p *place) {
	sp, cp := math.Sincos(q[2])
	sa, ca := math.Sincos(a)
	st, ct := math.Sincos(q[3])
	*p = place{h: h, a: a, q: *q,
		c:  r3.Vec{X: q[0], Y: q[1], Z: t.radius + h},
		ex: r3.Vec{X: cp*ct - sp*sa*st, Y: sp*ct + cp*sa*st, Z: -ca * st},
		ey: r3.Vec{X: -sp * ca, Y: cp * ca, Z: sa},
		ez: r3.Vec{X: cp*st + sp*sa*ct, Y: sp*st - cp*sa*ct, Z: ca * ct},
		a2: r3.Vec{X: cp, Y: sp},
	}
	t.bodies(p)
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

// solve corrects q at (h, a) by Newton; y is the inverse of the matrix of derivatives there. false where it does not settle.
func (t *Tree) solve(h, a float64, q vec, p *place, y *mat) bool {
	var f vec
	return t.settle(h, a, q, p, y) && t.equations(p, &f, &t.rest) && y.inverse(&t.rest, t.n)
}

// settle is solve that leaves in y an inverse of somewhere near. While the steps shrink fast the first inverse does for all.
func (t *Tree) settle(h, a float64, q vec, p *place, y *mat) bool {
	var f vec
	j := &t.rest
	last := math.Inf(1)
	for k := range newtons {
		t.stand(h, a, &q, p)
		if !t.equations(p, &f, j) {
			return false
		}
		if k == 0 || last > fastStep {
			if !y.inverse(j, t.n) {
				return false
			}
		}
		size := 0.0
		for i := range t.n {
			d := 0.0
			for n := range t.n {
				d += y[i][n] * f[n]
			}
			q[i] -= d
			t.step[i] = math.Abs(d)
			if t.turns(i) {
				d *= 1000
			}
			size += math.Abs(d)
		}
		if !(size < 1000) {
			return false
		}
		done := size <= lastStep || size <= roundStep && size > last/2
		last = size
		if done {
			t.stand(h, a, &q, p)
			return true
		}
	}
	return false
}

const (
	newtons   = 20
	fastStep  = 1.0   // mm and 1000 rad: smaller steps shrink a hundredfold a time with the inverse in hand
	lastStep  = 1e-9  // mm and 1000 rad: the next step is below round-off
	roundStep = 1e-6  // mm and 1000 rad: a step this small that is no smaller than half the one before is round-off of very stiff members
	roundMM   = 1e-9  // mm: what the last step and round-off leave of a place
	roundRad  = 1e-12 // rad
)

// turns reports whether an unknown is a turn, rad, and no move, mm.
func (t *Tree) turns(i int) bool {
	if arm := i - (t.n - armOwn*len(t.arms)); arm >= 0 {
		return arm%armOwn >= 3
	}
	return i >= 2
}

// left is what the last step and round-off leave of an unknown.
func (t *Tree) left(i int) float64 {
	if t.turns(i) {
		return roundRad + 4*t.step[i]
	}
	return roundMM + 4*t.step[i]
}

// equations fills what must be nothing and its derivatives by the unknowns: f = (|d|^2 - L^2)/(2L) of every member or, over-located, the slopes of the energy.
func (t *Tree) equations(p *place, f *vec, j *mat) bool {
	if t.over {
		return t.slopes(p, f, j)
	}
	for i := range t.n {
		clear(j[i][:t.n])
	}
	var b bar
	for i := range t.members {
		k := &t.members[i]
		k.at(p, &b)
		f[i] = (dot(b.d, b.d) - k.l*k.l) / (2 * k.l)
		for a := range k.knows() {
			j[i][k.unknown(a)] = dot(b.d, b.p[a]) / k.l
		}
	}
	return true
}

// drift fills, for a unit of each of the cell's coordinates with the unknowns held, how the equations change.
func (t *Tree) drift(c *Cell, out *[most][2]float64) {
	if t.over {
		t.driftEnergy(c, out)
		return
	}
	var b bar
	var dp [memberOwn]r3.Vec
	for i := range t.members {
		k := &t.members[i]
		k.at(&c.at, &b)
		out[i][0] = b.d.Z / k.l * c.RH
		out[i][1] = dot(b.d, k.along(&c.at, &b, r3.Vec{}, scale(c.RA, c.at.a2), 0, &dp)) / k.l
	}
}

// rates fills S = -Y df/du.
func (t *Tree) rates(c *Cell, y *mat) {
	var out [most][2]float64
	t.drift(c, &out)
	c.s = [most][2]float64{}
	for n := range t.n {
		for i := range t.n {
			c.s[n][0] -= y[n][i] * out[i][0]
			c.s[n][1] -= y[n][i] * out[i][1]
		}
	}
}
