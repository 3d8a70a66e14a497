package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// arm fills what an A-arm or a radius arm does at a pose.
//
// Every bore lies on its bolt at ride and is carried by the arm: an A-arm turns with its frame line and the plane of its three pivots, a radius arm
// as the body it is. Misalignment of an end is the angle between bolt and bore, taken as lines; torsion of a bush is the turn of the line from the
// single pivot to the middle of the pair, seen from the part that holds the bolt and projected square to it, right-hand about the bolt as written.
// An A-arm's line runs between its mounts, a radius arm's between its own points.
func arm(m *motion.Mechanism, p *motion.Pose, i int, u *ArmUse) {
	a := &m.Arms[i]
	own := motion.Carrier{On: motion.OnArm, Index: i}
	var ride, now r3.Vec // the line, single pivot to middle of the pair, in body axes
	if a.Radius {
		middle := r3.Scale(0.5, r3.Add(a.Axle[0], a.Axle[1]))
		middle.Z += m.Radius
		ride = r3.Sub(middle, a.Frame[0])
		now = m.Carry(p, own, ride)
	} else {
		middle := r3.Scale(0.5, r3.Add(a.Frame[0], a.Frame[1]))
		ride = r3.Sub(middle, r3.Vec{X: a.Axle[0].X, Y: a.Axle[0].Y, Z: a.Axle[0].Z + m.Radius})
		now = r3.Sub(middle, p.Point(a.Axle[0]))
	}
	for k := range a.FrameEnds {
		e := &a.FrameEnds[k]
		u.Ends[k].held(e, e.Bolt, m.Carry(p, own, e.Bore), ride, now)
	}
	seen := p.Unturn(now)
	for k := range a.AxleEnds {
		e := &a.AxleEnds[k]
		u.Ends[len(a.FrameEnds)+k].held(e, p.Offset(e.Bolt), m.Carry(p, own, e.Bore), ride, seen)
	}
	if a.Radius {
		mm, newton := m.ArmGive(p, i)
		copy(u.Gives, mm[:])
		copy(u.GiveForces, newton[:])
	}
}

// held fills the use of an arm's end: its bolt and bore as they are carried now, and the arm's line at ride and now as the part that holds the bolt
// sees it.
func (u *EndUse) held(e *motion.End, bolt, bore, ride, seen r3.Vec) {
	u.Misalignment = lines(bolt, bore)
	u.Torsion = math.NaN()
	if e.Kind == motion.Bush {
		b := e.Bolt
		u.Torsion = math.Atan2(r3.Dot(b, r3.Cross(ride, seen)), r3.Dot(ride, seen)-r3.Dot(b, ride)*r3.Dot(b, seen))
	}
	u.judge(e)
}

// bars fills lengths, stretches and forces of the bars of A-arms and of the rods of rockers.
func bars(m *motion.Mechanism, p *motion.Pose, dst *Values) {
	for i := range m.Distances {
		d := &m.Distances[i]
		switch d.Of {
		case motion.OnArm:
			u := &dst.Arms[d.Member]
			u.Stretches[d.Sub], u.Forces[d.Sub] = m.Stretch(p, i)
			u.Lengths[d.Sub] = m.Arms[d.Member].Lengths[d.Sub] + u.Stretches[d.Sub]
		case motion.OnRocker:
			u := &dst.Rockers[d.Member].Rods[d.Sub]
			u.Stretch, u.Force = m.Stretch(p, i)
		}
	}
}

// rocker fills what a Watt's rocker does at a pose: its turn, and how its rods sit between it and the body it does not turn on.
func rocker(m *motion.Mechanism, p *motion.Pose, i int, u *RockerUse) {
	u.Turn = m.RockerTurn(p, i)
	var seat motion.Seat
	for k := range u.Rods {
		r := &m.Rockers[i].Rods[k]
		m.RodSeat(p, i, k, &seat)
		u.Rods[k].sit(&seat, &r.RockerEnd, &r.FarEnd)
	}
}

// lines is the angle between two directions taken as lines, 0 to a quarter turn, exact for small ones too.
func lines(a, b r3.Vec) float64 { return math.Atan2(length(r3.Cross(a, b)), math.Abs(r3.Dot(a, b))) }
