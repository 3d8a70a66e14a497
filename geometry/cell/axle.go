package cell

import (
	"errors"
	"math"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrLayout is returned for layouts whose positions are not proved.
var ErrLayout = errors.New("no bound is known on the foot of a strut that stands beside a link's line, on a link whose two ends share its turn")

// The unknowns: x, y, psi, theta, then the turn of every rocker, then six of every radius arm.
const (
	own  = 4
	most = own + job.MostRockers + armOwn*job.MostRadiusArms
)

type (
	vec [most]float64
	mat [most][most]float64
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

// What a member knows: x, y, psi, theta and, of a rod, its rocker's turn.
const (
	memberOwn = own + 1
	rockers   = own // the turn among those
)

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

// solve corrects q at (h, a) by Newton; y is the inverse of the matrix of derivatives there. false where it does not settle. While the steps shrink fast the first inverse
// does for all.
func (t *Tree) solve(h, a float64, q vec, p *place, y *mat) bool {
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
			if t.turns(i) {
				d *= 1000
			}
			size += math.Abs(d)
		}
		if !(size < 1000) {
			return false
		}
		last = size
		if size <= lastStep {
			t.stand(h, a, &q, p)
			return t.equations(p, &f, j) && y.inverse(j, t.n)
		}
	}
	return false
}

const (
	newtons  = 20
	fastStep = 1.0   // mm and 1000 rad: smaller steps shrink a hundredfold a time with the inverse in hand
	lastStep = 1e-9  // mm and 1000 rad: the next step is below round-off
	roundMM  = 1e-9  // mm: what the last step and round-off leave of a place
	roundRad = 1e-12 // rad
)

// turns reports whether an unknown is a turn, rad, and no move, mm.
func (t *Tree) turns(i int) bool {
	if arm := i - (t.n - armOwn*len(t.arms)); arm >= 0 {
		return arm%armOwn >= 3
	}
	return i >= 2
}

// left is what they leave of an unknown.
func (t *Tree) left(i int) float64 {
	if t.turns(i) {
		return roundRad
	}
	return roundMM
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

// inverse fills the matrix with the inverse of the first n rows of j, in place (Gauss and Jordan, pivots by column); false where there is none.
func (m *mat) inverse(j *mat, n int) bool {
	for i := range n {
		copy(m[i][:n], j[i][:n])
	}
	var from [most]int
	for c := range n {
		best := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[best][c]) {
				best = r
			}
		}
		if !(math.Abs(m[best][c]) > 1e-12) {
			return false
		}
		from[c] = best
		if best != c {
			for i := range n {
				m[c][i], m[best][i] = m[best][i], m[c][i]
			}
		}
		pivot := m[c][:n]
		k := 1 / pivot[c]
		pivot[c] = 1
		for i := range pivot {
			pivot[i] *= k
		}
		for r := range n {
			row := m[r][:n]
			if k := row[c]; r != c && k != 0 {
				row[c] = 0
				for i := range row {
					row[i] -= k * pivot[i]
				}
			}
		}
	}
	for c := n - 1; c >= 0; c-- { // rows changed places: columns change back
		if b := from[c]; b != c {
			for r := range n {
				m[r][c], m[r][b] = m[r][b], m[r][c]
			}
		}
	}
	return true
}

// upTo is e_z x v.
func upTo(v r3.Vec) r3.Vec { return r3.Vec{X: -v.Y, Y: v.X} }

// spun turns v about the unit vector u by the angle of cosine c and sine s, right-hand.
func spun(u r3.Vec, c, s float64, v r3.Vec) r3.Vec {
	return add(add(scale(c, v), scale(s, cross(u, v))), scale(dot(u, v)*(1-c), u))
}

func dot(a, b r3.Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

func cross(a, b r3.Vec) r3.Vec {
	return r3.Vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}

func add(a, b r3.Vec) r3.Vec { return r3.Vec{X: a.X + b.X, Y: a.Y + b.Y, Z: a.Z + b.Z} }

func sub(a, b r3.Vec) r3.Vec { return r3.Vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z} }

func scale(k float64, a r3.Vec) r3.Vec { return r3.Vec{X: k * a.X, Y: k * a.Y, Z: k * a.Z} }

func norm(a r3.Vec) float64 { return math.Sqrt(dot(a, a)) }
