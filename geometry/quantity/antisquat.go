package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// parallel is the turn of the heave motion, rad/mm, below which the instant centre counts as at infinity: it then lies over 1000 km away, and
// its place would be round-off.
const parallel = 1e-9

// antiSquat fills anti-squat and anti-lift:
//
//	100 p (-v_x/v_z) L/h
//
// with v the velocity of the contact in the heave motion, the contact taken as fixed to the axle for that instant (a live axle reacts drive and
// brake torque in its housing), L the wheelbase and h the height of the whole vehicle's CG above ground, both at the pose, and p this axle's
// share of the tractive or the braking force. Axle inertia neglected.
func antiSquat(m *motion.Mechanism, p *motion.Pose, heave *motion.Rate, load *Load, g *Ground, dst *Values) {
	if !load.Has {
		dst.AntiSquatPct, dst.AntiLiftPct = math.NaN(), math.NaN()
		return
	}
	v := heave.At(r3.Sub(g.Contact, p.C))
	slope := (0 - r3.Dot(v, g.Ex)) / r3.Dot(v, g.Ez)
	height := r3.Dot(r3.Sub(load.CG, g.Contact), g.Ez) // the CG is held by the body
	full := 100 * slope * g.Wheelbase / height
	dst.AntiSquatPct, dst.AntiLiftPct = m.DriveShare*full, m.BrakeShare*full
}

// instantCentre fills the side-view instant centre: the point of the X-Z plane at rest in the heave motion, x = xC + v_z/w_y, z = zC - v_x/w_y.
func instantCentre(p *motion.Pose, heave *motion.Rate, dst *Values) {
	w := heave.W.Y
	if math.Abs(w) < parallel {
		dst.ICX, dst.ICZ = math.NaN(), math.NaN()
		return
	}
	dst.ICX = p.C.X + heave.V.Z/w
	dst.ICZ = p.C.Z - heave.V.X/w
}
