package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

const deg = 180 / math.Pi

// NewValues returns values with room for the members of m.
func NewValues(m *motion.Mechanism) *Values {
	v := &Values{
		Links: make([]LinkUse, len(m.Links)), Arms: make([]ArmUse, len(m.Arms)), Rockers: make([]RockerUse, len(m.Rockers)),
		Sensors: make([]SensorUse, len(m.Sensors)), Struts: make([]StrutUse, len(m.Struts)), Stops: make([]StopUse, len(m.Stops)),
		Straps: make([]float64, len(m.Straps)), Lines: make([]float64, len(m.Lines)),
	}
	for i := range m.Arms {
		v.Arms[i].size(&m.Arms[i])
	}
	return v
}

// Joint is the use of a joint of the mechanism's list.
func (v *Values) Joint(j *motion.Joint) *EndUse {
	switch j.Of {
	case motion.OnLink:
		if j.Sub == 0 {
			return &v.Links[j.Member].FrameEnd
		}
		return &v.Links[j.Member].AxleEnd
	case motion.OnArm:
		return &v.Arms[j.Member].Ends[j.Sub]
	}
	rod := &v.Rockers[j.Member].Rods[j.Sub/2]
	if j.Sub%2 == 0 {
		return &rod.FrameEnd
	}
	return &rod.AxleEnd
}

// Stretch is how far a distance of the mechanism's list is stretched, mm.
func (v *Values) Stretch(d *motion.Distance) float64 {
	switch d.Of {
	case motion.OnLink:
		return v.Links[d.Member].Stretch
	case motion.OnArm:
		return v.Arms[d.Member].Stretches[d.Sub]
	}
	return v.Rockers[d.Member].Rods[d.Sub].Stretch
}

// Pull is the force in a distance of the mechanism's list, N, tension positive.
func (v *Values) Pull(d *motion.Distance) float64 {
	switch d.Of {
	case motion.OnLink:
		return v.Links[d.Member].Force
	case motion.OnArm:
		return v.Arms[d.Member].Forces[d.Sub]
	}
	return v.Rockers[d.Member].Rods[d.Sub].Force
}

func (u *ArmUse) size(a *motion.Arm) {
	u.Ends = make([]EndUse, len(a.Frame)+len(a.Axle))
	if a.Radius {
		u.Gives, u.GiveForces = make([]float64, 3), make([]float64, 3)
		return
	}
	u.Lengths, u.Stretches, u.Forces = make([]float64, 2), make([]float64, 2), make([]float64, 2)
}

// Eval works out everything at a pose into dst; no allocation. Ground conventions (frontTravel) are the mechanism's.
func Eval(m *motion.Mechanism, p *motion.Pose, r *motion.Rates, load *Load, dst *Values) {
	dst.Left, dst.Right, dst.Heave = p.Left, p.Right, p.Heave
	dst.ArticulationDeg = p.Alpha * deg
	dst.X, dst.Y, dst.Z = p.X, p.Y, p.Heave
	a := p.Ey     // the axle's own Y axis, right wheel to left wheel
	ax := 0 - a.X // and not -a.X: an axle that stands square reads 0, not -0
	dst.SteerDeg = math.Atan2(ax, a.Y) * deg
	dst.Squareness = m.Track * ax
	dst.PitchDeg = math.Asin(0-p.Ex.Z) * deg
	dst.RollDeg = math.Atan2(p.Ey.Z, p.Ez.Z) * deg
	dst.Wheelbase = m.Wheelbase - p.X
	instantCentre(p, &r.Heave, dst)
	driveline(m, p, dst)
	for i := range m.Struts {
		strut(m, p, r, i, &dst.Struts[i])
	}
	for i := range m.Stops {
		dst.Stops[i].Length, dst.Stops[i].Off = m.StopLength(p, i)
	}
	for i := range m.Straps {
		dst.Straps[i] = m.StrapLength(p, i)
	}
	for i := range m.Lines {
		l := &m.Lines[i]
		dst.Lines[i] = length(r3.Sub(p.Point(l.Axle), l.Frame))
	}
	for i := range m.Sensors {
		sensor(m, p, i, &dst.Sensors[i])
	}
	Joints(m, p, dst)
	ForLoad(m, p, r, load, dst)
}

// ForLoad works out again only what depends on the load (anti-squat, anti-lift, roll centre, and the ground) into dst, which Eval has filled
// at the same pose.
func ForLoad(m *motion.Mechanism, p *motion.Pose, r *motion.Rates, load *Load, dst *Values) {
	g := GroundOf(m, p, load)
	dst.PinionGroundDeg = math.NaN()
	if m.Drive.HasPinion {
		axis := p.Offset(m.Drive.PinionAxis)
		dst.PinionGroundDeg = math.Atan2(r3.Dot(axis, g.Ez), r3.Dot(axis, g.Ex)) * deg
	}
	antiSquat(m, p, &r.Heave, load, &g, dst)
	rollCentre(p, &r.Roll, &g, dst)
}
