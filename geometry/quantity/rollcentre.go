package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// rollCentre fills roll centre, roll axis and roll steer.
//
// Roll centre height (SAE J670: where a lateral force on the sprung mass makes no suspension roll), by virtual work with the axle held: the height
// over the contact point, along the ground's normal, where the roll motion has no lateral velocity,
//
//	v_y(contact) / (w.e_x) = R + v_y/w_x at the axle centre on level ground.
//
// The roll axis is where the roll motion has no lateral velocity in the axle's centre plane, slope (w.e_z)/(w.e_x), rising forward positive;
// roll steer is the same ratio in percent: axle steer per axle roll.
func rollCentre(p *motion.Pose, rolling *motion.Rate, g *Ground, dst *Values) {
	w := rolling.W
	roll := r3.Dot(w, g.Ex)
	slope := r3.Dot(w, g.Ez) / roll
	dst.RollCentre = rolling.At(r3.Sub(g.Contact, p.C)).Y / roll
	dst.RollAxisDeg = math.Atan(slope) * deg
	dst.RollSteerPct = 100 * slope
}
