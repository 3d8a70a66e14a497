package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// At returns where a carried point stands at the pose, body axes, mm.
func (m *Mechanism) At(p *Pose, pl *Place) r3.Vec {
	switch pl.On {
	case OnFrame:
		return pl.At
	case OnAxle:
		return p.Point(pl.At)
	case OnLink:
		l := &m.Links[pl.Index]
		b := m.linkBar(p, l)
		return r3.Add(l.Frame, b.carry(pl.At))
	case OnRocker:
		return r3.Add(m.At(p, &m.Rockers[pl.Index].Pivot), m.Carry(p, pl.Carrier, pl.At))
	}
	at := r3.Add(m.Arms[pl.Index].Frame[0], m.Carry(p, pl.Carrier, pl.At))
	if k := m.armState(pl.Index); k >= 0 {
		at = r3.Add(at, p.arms[k].move)
	}
	return at
}

// Carry returns a direction, given in body axes at ride, as its carrier turns it to the pose.
func (m *Mechanism) Carry(p *Pose, c Carrier, dir r3.Vec) r3.Vec {
	switch c.On {
	case OnFrame:
		return dir
	case OnAxle:
		return p.Offset(dir)
	case OnLink:
		b := m.linkBar(p, &m.Links[c.Index])
		return b.carry(dir)
	case OnRocker:
		r := &m.Rockers[c.Index]
		t := &p.rockers[c.Index]
		return m.Carry(p, r.Pivot.Carrier, spun(r.Axis, t.c, t.s, dir))
	}
	if k := m.armState(c.Index); k >= 0 {
		return p.arms[k].turn(dir)
	}
	a := &m.Arms[c.Index]
	t := m.armTurn(p, a)
	return spun(a.line, t.c, t.s, dir)
}

// Seen returns a body-axes direction at the pose as the carrier sees it, in its own axes of ride height: the inverse of Carry.
func (m *Mechanism) Seen(p *Pose, c Carrier, dir r3.Vec) r3.Vec {
	switch c.On {
	case OnFrame:
		return dir
	case OnAxle:
		return p.Unturn(dir)
	case OnLink:
		b := m.linkBar(p, &m.Links[c.Index])
		return b.seen(dir)
	case OnRocker:
		r := &m.Rockers[c.Index]
		t := &p.rockers[c.Index]
		return spun(r.Axis, t.c, -t.s, m.Seen(p, r.Pivot.Carrier, dir))
	}
	if k := m.armState(c.Index); k >= 0 {
		return p.arms[k].unturn(dir)
	}
	a := &m.Arms[c.Index]
	t := m.armTurn(p, a)
	return spun(a.line, t.c, -t.s, dir)
}

// armState is the place of an arm among the radius arms of a pose, -1 for an A-arm.
func (m *Mechanism) armState(arm int) int {
	for k, i := range m.radius {
		if i == arm {
			return k
		}
	}
	return -1
}

// armTurn is the turn of an A-arm about its frame line since ride, as the plane of its three pivots turns.
func (m *Mechanism) armTurn(p *Pose, a *Arm) pair {
	v := r3.Sub(p.Point(a.Axle[0]), a.Frame[0])
	c, s := r3.Dot(v, a.out), r3.Dot(v, r3.Cross(a.line, a.out))
	n := math.Sqrt(c*c + s*s)
	if !(n > 0) {
		return pair{0, 1}
	}
	return pair{s / n, c / n}
}

// Speed returns the velocity of a carried point in the heave and the roll motion, mm per mm of travel.
func (m *Mechanism) Speed(p *Pose, r *Rates, pl *Place) (heave, roll r3.Vec) {
	switch pl.On {
	case OnFrame:
		return r3.Vec{}, r3.Vec{}
	case OnAxle:
		o := p.Offset(pl.At)
		return r.Heave.At(o), r.Roll.At(o)
	case OnLink:
		return m.linkSpeed(p, &r.Heave, pl), m.linkSpeed(p, &r.Roll, pl)
	case OnRocker:
		k := &m.Rockers[pl.Index]
		at := m.Carry(p, pl.Carrier, pl.At)
		about := r3.Cross(m.Carry(p, k.Pivot.Carrier, k.Axis), at)
		h, l := m.ownRates(p, OnRocker, pl.Index)
		heave, roll = r3.Scale(h[0], about), r3.Scale(l[0], about)
		if k.Pivot.On == OnAxle {
			o := r3.Add(p.Offset(k.Pivot.At), at)
			heave, roll = r3.Add(heave, r.Heave.At(o)), r3.Add(roll, r.Roll.At(o))
		}
		return heave, roll
	}
	at := m.Carry(p, pl.Carrier, pl.At)
	if k := m.armState(pl.Index); k >= 0 {
		h, l := m.ownRates(p, OnArm, k)
		return bodySpeed(&h, at), bodySpeed(&l, at)
	}
	a := &m.Arms[pl.Index]
	about := r3.Cross(a.line, at)
	t := m.armTurn(p, a)
	v := r3.Sub(p.Point(a.Axle[0]), a.Frame[0])
	across := spun(a.line, t.c, t.s, r3.Cross(a.line, a.out)) // the way its point goes
	dist := norm(r3.Cross(a.line, v))
	o := p.Offset(a.Axle[0])
	heave = r3.Scale(r3.Dot(across, r.Heave.At(o))/dist, about)
	return heave, r3.Scale(r3.Dot(across, r.Roll.At(o))/dist, about)
}

// bodySpeed is the velocity of a radius arm's point, at being that point less the arm's own.
func bodySpeed(d *[own]float64, at r3.Vec) r3.Vec {
	return r3.Add(r3.Vec{X: d[0], Y: d[1], Z: d[2]}, r3.Cross(r3.Vec{X: d[3], Y: d[4], Z: d[5]}, at))
}

// ownRates are the rates of a rocker's or (as a pose keeps them) radius arm's own unknowns in the two unit motions.
func (m *Mechanism) ownRates(p *Pose, on On, i int) (heave, roll [own]float64) {
	var w work
	m.foldAt(p, &w)
	f := &w.fs.arms[i]
	if on == OnRocker {
		f = &w.fs.rockers[i]
	}
	h, l := m.axleRates(p)
	return f.moves(&h, false), f.moves(&l, false)
}

// rateStep is the travel, mm, either side at which the spin of a link is differenced: third derivatives (1e-8 per mm3) leave 1e-12 rad/mm,
// round-off of the spin (1e-15 rad) 1e-13.
const rateStep = 0.01

// linkSpeed is the velocity of a point carried by a link in one unit motion. The link turns with its direction u by
//
//	u x u' - u (u0.(u x u'))/(1 + u0.u) + u spin'
//
// the first two parts being the rate of the least turn from u0 to u. The spin's own rate is its central difference along the motion.
func (m *Mechanism) linkSpeed(p *Pose, r *Rate, pl *Place) r3.Vec {
	l := &m.Links[pl.Index]
	b := m.linkBar(p, l)
	v := r.At(p.Offset(l.Axle))
	du := r3.Scale(1/b.length, r3.Sub(v, r3.Scale(r3.Dot(v, b.u), b.u)))
	w := r3.Cross(b.u, du)
	at := b.carry(pl.At)
	if along := r3.Scale(r3.Dot(at, b.u), b.u); norm(r3.Sub(at, along)) < 1e-9 { // on its own line: the spin says nothing
		return r3.Cross(w, at)
	}
	a, c := moved(p, r, -rateStep), moved(p, r, rateStep)
	before, after := m.linkBar(&a, l), m.linkBar(&c, l)
	var s Seat
	s0, s1 := before.settle(&s), after.settle(&s)
	spin := math.Atan2(s1.s*s0.c-s1.c*s0.s, s1.c*s0.c+s1.s*s0.s) / (2 * rateStep)
	spin -= r3.Dot(b.u0, w) / (1 + r3.Dot(b.u0, b.u))
	return r3.Cross(r3.Add(w, r3.Scale(spin, b.u)), at)
}

// moved is the axle's place and axes a short way along a motion, as if its rate stayed; nothing else of the pose counts.
func moved(p *Pose, r *Rate, by float64) (q Pose) {
	turned := func(v r3.Vec) r3.Vec { // by the half-angle formula
		h := r3.Scale(by/2, r.W)
		k := 2 / (1 + r3.Norm2(h))
		hv := r3.Cross(h, v)
		return r3.Add(v, r3.Scale(k, r3.Add(hv, r3.Cross(h, hv))))
	}
	q.C = r3.Add(p.C, r3.Scale(by, r.V))
	q.Ex, q.Ey, q.Ez = turned(p.Ex), turned(p.Ey), turned(p.Ez)
	return q
}

// leastTurn turns v by the least turn that brings the unit vector a to b: v - (a + b) ((a + b).v)/(1 + a.b) + 2 b (a.v).
func leastTurn(a, b, v r3.Vec) r3.Vec {
	sum := r3.Add(a, b)
	k := 1 + r3.Dot(a, b)
	if k < 1e-12 { // turned end for end: any of the half turns will do
		return spun(crosswise(a), -1, 0, v)
	}
	return r3.Add(r3.Sub(v, r3.Scale(r3.Dot(sum, v)/k, sum)), r3.Scale(2*r3.Dot(a, v), b))
}

// crosswise is a unit vector square to u.
func crosswise(u r3.Vec) r3.Vec {
	if math.Abs(u.X) < 0.6 {
		return r3.Unit(r3.Cross(u, r3.Vec{X: 1}))
	}
	return r3.Unit(r3.Cross(u, r3.Vec{Y: 1}))
}

// spun turns v about the unit vector u by the angle of cosine c and sine s, right-hand.
func spun(u r3.Vec, c, s float64, v r3.Vec) r3.Vec {
	along := r3.Scale(r3.Dot(u, v)*(1-c), u)
	return r3.Add(r3.Add(r3.Scale(c, v), r3.Scale(s, r3.Cross(u, v))), along)
}

// carry turns a direction from ride as the bar has turned: the least turn of its direction, then its spin.
func (b *bar) carry(v r3.Vec) r3.Vec {
	var s Seat
	t := b.settle(&s)
	return spun(b.u, t.c, t.s, leastTurn(b.u0, b.u, v))
}

// seen is the inverse of carry.
func (b *bar) seen(v r3.Vec) r3.Vec {
	var s Seat
	t := b.settle(&s)
	return leastTurn(b.u, b.u0, spun(b.u, t.c, -t.s, v))
}

// RockerTurn is the turn of rocker i about its axis since ride, rad, right-hand.
func (m *Mechanism) RockerTurn(p *Pose, i int) float64 {
	return math.Atan2(p.rockers[i].s, p.rockers[i].c)
}

// ArmGive returns how far the arm's point is from its mount at each of the three pivots of radius arm i (its index in Arms), frame first: the give
// in mm and the force in N, sizes, not signed. An A-arm gives nothing.
func (m *Mechanism) ArmGive(p *Pose, i int) (mm, newton [3]float64) {
	k := m.armState(i)
	if k < 0 {
		return mm, newton
	}
	e, force := m.Arms[i].gives(p, &p.arms[k])
	for j := range e {
		mm[j], newton[j] = norm(e[j]), norm(force[j])
	}
	return mm, newton
}
