package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// Links works out only the joints (and spins) of the links; what gaps of bent links and limits need. No allocation.
func Links(m *motion.Mechanism, p *motion.Pose, dst []LinkUse) {
	var seat motion.Seat
	for i := range m.Links {
		l, u := &m.Links[i], &dst[i]
		m.LinkSeat(p, i, &seat)
		u.Stretch, u.Force = m.Stretch(p, i)
		u.sit(&seat, &l.FrameEnd, &l.AxleEnd)
	}
}

// Joints works out only what can bind: every end of every link, arm and rod, stretches and forces with them, and which is the worst. No allocation.
func Joints(m *motion.Mechanism, p *motion.Pose, dst *Values) {
	Links(m, p, dst.Links)
	for i := range m.Arms {
		arm(m, p, i, &dst.Arms[i])
	}
	for i := range m.Rockers {
		rocker(m, p, i, &dst.Rockers[i])
	}
	bars(m, p, dst)
	worst(m, dst)
}

// sit fills the use of a bar's two ends.
func (u *LinkUse) sit(s *motion.Seat, first, second *motion.End) {
	u.Length, u.Spin = s.Length, s.Spin
	u.FrameEnd.Misalignment, u.AxleEnd.Misalignment = s.Misalignment[0], s.Misalignment[1]
	u.FrameEnd.Torsion, u.AxleEnd.Torsion = s.Torsion[0], s.Torsion[1]
	u.FrameEnd.judge(first)
	u.AxleEnd.judge(second)
}

func length(v r3.Vec) float64 { return math.Sqrt(r3.Norm2(v)) }

// judge fills the use: the larger of misalignment/limit and torsion/limit, NaN where no limit is known.
func (e *EndUse) judge(end *motion.End) {
	e.Use, e.ByTorsion = e.Misalignment/end.MisLimit, false
	if t := math.Abs(e.Torsion) / end.TorLimit; t > e.Use || (t == t && e.Use != e.Use) {
		e.Use, e.ByTorsion = t, true
	}
}

// even is the difference in use below which two joints count as equally used; the first named stands.
const even = 1e-9

// worst finds the joint closest to its limit.
func worst(m *motion.Mechanism, dst *Values) {
	dst.WorstBind, dst.WorstJoint, dst.WorstTorsion = math.NaN(), -1, false
	for i := range m.Joints {
		e := dst.Joint(&m.Joints[i])
		if e.Use > dst.WorstBind+even || (dst.WorstJoint < 0 && e.Use == e.Use) {
			dst.WorstBind, dst.WorstJoint, dst.WorstTorsion = e.Use, i, e.ByTorsion
		}
	}
	// At ride height nothing is used: the first joint that has a limit is named by its misalignment.
	if dst.WorstJoint >= 0 && dst.WorstBind < even {
		limit := m.Joints[dst.WorstJoint].End.MisLimit
		dst.WorstTorsion = limit != limit
	}
}

// WorstName names the worst joint as the csv column worst_bind_at does: "Upper left, frame end, torsion"; "" where none is known.
func WorstName(m *motion.Mechanism, v *Values) string {
	if v.WorstJoint < 0 {
		return ""
	}
	if v.WorstTorsion {
		return m.Joints[v.WorstJoint].Name + ", torsion"
	}
	return m.Joints[v.WorstJoint].Name + ", misalignment"
}
