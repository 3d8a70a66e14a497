package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// driveline fills the pinion angle, atan2(p_z, p_x) of the axis pointing forward out of the housing, and joint angles, slip, speed fluctuation and phase error of a shaft with two cardan joints.
//
// s points from the front joint to the rear one. Front angle: between the output axis (pointing rearward) and s; rear: between s reversed and
// the pinion axis (pointing forward): true angles in space.
func driveline(m *motion.Mechanism, p *motion.Pose, dst *Values) {
	d := &m.Drive
	dst.PinionDeg = math.NaN()
	var pinion r3.Vec
	if d.HasPinion {
		pinion = p.Offset(d.PinionAxis)
		dst.PinionDeg = math.Atan2(pinion.Z, pinion.X) * deg
	}
	if !d.Has {
		n := math.NaN()
		dst.ShaftFrontDeg, dst.ShaftRearDeg, dst.ShaftLength, dst.Slip, dst.FluctuationPct, dst.ShaftPhase = n, n, n, n, n, n
		return
	}
	run := r3.Sub(p.Point(d.Pinion), d.Output)
	dst.ShaftLength = length(run)
	dst.Slip = dst.ShaftLength - d.Length
	s := r3.Scale(1/dst.ShaftLength, run)
	back := r3.Vec{X: -pinion.X, Y: -pinion.Y, Z: -pinion.Z}
	n1, n2 := r3.Cross(d.OutputAxis, s), r3.Cross(s, back)
	sin1, cos1 := length(n1), r3.Dot(d.OutputAxis, s)
	sin2, cos2 := length(n2), r3.Dot(s, back)
	dst.ShaftFrontDeg = math.Atan2(sin1, cos1) * deg
	dst.ShaftRearDeg = math.Atan2(sin2, cos2) * deg
	// The angle between the planes of the two bends, right-hand about s; a straight joint has no plane and takes the other's.
	between := 0.0
	if sin1 > 0 && sin2 > 0 {
		between = math.Atan2(r3.Dot(s, r3.Cross(n1, n2)), r3.Dot(n1, n2))
	}
	dst.ShaftPhase = between - d.YokePhase
	dst.FluctuationPct = 100 * fluctuation(cos1, cos2, dst.ShaftPhase)
}

// fluctuation is the largest ratio of output to input speed, less one, over a turn through two cardan joints with the given cosines and phase
// error, from tan(out) = tan(in) cos(beta) for each, "in" measured from where the driving cross arm lies square to the plane of the two shafts:
// the singular values of
//
//	M = diag(1, cos b2) Rot(90 deg + phase) diag(1, cos b1)
//
// have larger/smaller = largest ratio. Worked out from their sum and difference, so that a smooth shaft reads 0 to round-off.
// NaN where a joint stands at a right angle or beyond.
func fluctuation(cos1, cos2, phase float64) float64 {
	if !(cos1 > 0 && cos2 > 0) {
		return math.NaN()
	}
	s, c := math.Sincos(phase)
	sum := math.Hypot(s*(1+cos1*cos2), c*(cos1+cos2))
	dif := math.Hypot(s*(1-cos1*cos2), c*(cos1-cos2))
	return 2 * dif / (sum - dif)
}

// Accelerations returns the shaft accelerations at a shaft speed in rad/s: torsional and the inertia of each joint, rad/s2:
//
//	torsional w^2 sqrt(f^4 + r^4 - 2 f^2 r^2 cos 2d),  inertia w^2 f^2 and w^2 r^2
//
// with f, r the joint angles and d the phase error. From memory of SAE AE-7, there for joints in one plane.
func Accelerations(v *Values, speed float64) (torsional, inertiaFront, inertiaRear float64) {
	f, r := v.ShaftFrontDeg/deg, v.ShaftRearDeg/deg
	f2, r2, w2 := f*f, r*r, speed*speed
	// f^4 + r^4 - 2 f^2 r^2 cos 2d = (f^2 - r^2)^2 + (2 f r sin d)^2
	return w2 * math.Hypot(f2-r2, 2*f*r*math.Sin(v.ShaftPhase)), w2 * f2, w2 * r2
}
