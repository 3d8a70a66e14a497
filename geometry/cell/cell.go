// Package cell proves where an axle stands over whole patches of wheel travel, between positions too, whether its members locate it exactly or with least energy.
//
// A cell is a rectangle of heave h and articulation alpha. Over it the unknowns q = (x, y, psi, theta, the turn of every rocker, six of every radius arm), R = Rz(psi) Rx(alpha) Ry(theta), are
//
//	q in q0 + S u + E
//
// u being the place within the cell in its own coordinates (each in [-1, 1]), E a box of half widths, proved by Krawczyk's test (R. Krawczyk, "Newton-Algorithmen
// zur Bestimmung von Nullstellen mit Fehlerschranken", Computing 4, 1969; from memory). From that follow bounds on where any carried point can be. Units: mm, rad, N; body axes.
package cell

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// corners is the most a clipped cell keeps; a limit that would need more is left out there, which only makes the cell larger.
const corners = 12

// Cell is a patch of positions with a proved box round the axle's place.
type Cell struct {
	H, A, RH, RA float64             // centre and half widths: heave mm, articulation rad
	E            vec                 // half widths of the box, in the order of q: mm of moves, rad of turns
	Poly         [corners][2]float64 // what the limits leave of the cell, in its own coordinates, in order; the first N
	N            int                 // 0: nothing
	Proved       bool                // its centre is a pose; else it only holds its parts
	Parts        [4]int32            // indices of its parts in Tree.Cells, -1 where there is none
	split        bool

	at   place
	s    [most][2]float64 // dq per unit of u
	vc   [2]r3.Vec        // of the centre, mm per unit of u
	w    [2]r3.Vec        // turn, rad per unit of u
	sway sway
}

// Tree holds the cells of a job's range. Split adds to it, so one goroutine at a time; Clone gives another its own.
type Tree struct {
	Cells []Cell
	Roots []int32 // the largest cells; together they hold every position of the range
	Ride  int32   // a proved cell whose centre is ride height
	Rest  []Cell  // squares next to the tiles of which nothing is proved: none that Build gives

	mech          *motion.Mechanism
	members       []member
	work          []swayed // one a member
	springs       []spring // of radius arms
	gives         []given  // one a spring
	arms          []int    // the radius arms among the mechanism's
	turned        []turned // links over the last cell asked for
	first         [2]mat   // work space
	exact, rest   mat
	through       mat
	step          vec  // the last of the last solve
	n             int  // unknowns
	over          bool // over-located
	radius, track float64
	limits        []limit
}

// Clone returns a copy that can be split on its own.
func (t *Tree) Clone() *Tree {
	c := *t
	c.Cells = append([]Cell(nil), t.Cells...)
	c.work, c.gives, c.turned = make([]swayed, len(t.work)), make([]given, len(t.gives)), make([]turned, len(t.turned))
	return &c
}

// Travels are the wheel travels at a place u of the cell, mm.
func (t *Tree) Travels(c *Cell, u [2]float64) (left, right float64) {
	h, half := c.H+u[0]*c.RH, math.Sin(c.A+u[1]*c.RA)*t.track/2
	return h + half, h - half
}

// Standing is a proved pose. Pose holds of it what axle, links and A-arms come to, not the rockers and radius arms.
type Standing struct {
	Pose motion.Pose
	at   place
	t    *Tree
}

// Stand finds the proved pose at a place u of the cell. false where it cannot be had, or where the cell is not proved.
func (t *Tree) Stand(c *Cell, u [2]float64, dst *Standing) bool {
	if !c.Proved {
		return false
	}
	dst.t = t
	p := &dst.at
	var y mat
	if !t.settle(c.H+u[0]*c.RH, c.A+u[1]*c.RA, c.predicted(u), p, &y) || !c.holds(u, &p.q) {
		return false
	}
	l, r := t.Travels(c, u)
	dst.Pose = motion.Pose{Left: l, Right: r, Heave: p.h, Alpha: p.a, X: p.q[0], Y: p.q[1], Psi: p.q[2], Theta: p.q[3], C: p.c, Ex: p.ex, Ey: p.ey, Ez: p.ez}
	return true
}

// At is where a carried point stands, in body axes.
func (s *Standing) At(pl *motion.Place) r3.Vec {
	if pl.On == motion.OnArm {
		for i, k := range s.t.arms {
			if k == pl.Index {
				at := s.t.armPoint(i, pl.At)
				q := s.at.q[at.first:]
				return s.Pose.Point(add(add(at.home, r3.Vec{X: q[0], Y: q[1], Z: q[2]}), s.at.arms[i].turn(at.at)))
			}
		}
	}
	if pl.On != motion.OnRocker {
		return s.t.mech.At(&s.Pose, pl)
	}
	k := &s.t.mech.Rockers[pl.Index]
	sin, cos := math.Sincos(s.at.q[own+pl.Index])
	arm := spun(k.Axis, cos, sin, pl.At)
	if k.Pivot.On == motion.OnAxle {
		return s.Pose.Point(add(k.Pivot.At, arm))
	}
	return add(k.Pivot.At, arm)
}

// predicted is q0 + S u.
func (c *Cell) predicted(u [2]float64) vec {
	q := c.at.q
	for i := range q {
		q[i] += c.s[i][0]*u[0] + c.s[i][1]*u[1]
	}
	return q
}

// holds reports whether q lies in the cell's box at u.
func (c *Cell) holds(u [2]float64, q *vec) bool {
	p := c.predicted(u)
	for i := range q {
		if !(math.Abs(q[i]-p[i]) <= c.E[i]+1e-11) {
			return false
		}
	}
	return true
}

// Inside reports whether the cell's centre is left by the limits.
func (c *Cell) Inside() bool {
	if c.N < 3 {
		return false
	}
	for i := range c.N {
		p, q := c.Poly[i], c.Poly[(i+1)%c.N]
		if p[0]*q[1]-p[1]*q[0] < 0 {
			return false
		}
	}
	return true
}
