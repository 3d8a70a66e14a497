package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// Common practice, no source: a sensor's lever and rod within OverCentreDeg of straight may flip over; between SensorLeastDeg and SensorMostDeg to
// each other the lever follows well.
const (
	OverCentreDeg  = 20.0
	SensorLeastDeg = 40.0
	SensorMostDeg  = 140.0
)

// straightTol is by how much, of the distance to the shaft, the rod may be too short or too long and still reach: round-off of a lever drawn
// straight at ride height.
const straightTol = 1e-12

// OverCentre reports whether lever and rod stand within OverCentreDeg of straight, either way, where the lever may flip over; never where the rod
// cannot reach.
func (u *SensorUse) OverCentre() bool {
	return u.Reached && (u.RodAngle < OverCentreDeg/deg || u.RodAngle > math.Pi-OverCentreDeg/deg)
}

// sensor fills turn and rod angle of a height sensor.
//
// The rod's end moves on a circle about the shaft. With the far end at F, g = F less the circle's centre, e1 the lever's direction square to the
// shaft at ride, e2 = axis x e1, r the circle's radius and l the rod's length, the turn t obeys
//
//	(g.e1) cos t + (g.e2) sin t = (r^2 + g.g - l^2)/(2 r)
//
// Of its two solutions the lever keeps to the one on the side of the dead centre on which it stands at ride height. The lever is square to its
// shaft: where along its line the shaft is given changes no angle.
func sensor(m *motion.Mechanism, p *motion.Pose, i int, u *SensorUse) {
	s := &m.Sensors[i]
	arm := r3.Sub(s.Lever, s.Shaft)
	along := r3.Scale(r3.Dot(arm, s.Axis), s.Axis)
	centre := r3.Add(s.Shaft, along)
	out := r3.Sub(arm, along)
	r := length(out)
	e1 := r3.Scale(1/r, out)
	e2 := r3.Cross(s.Axis, e1)
	far := m.At(p, &s.Far)
	g := r3.Sub(far, centre)
	g1, g2 := r3.Dot(g, e1), r3.Dot(g, e2)
	k := (r*r + r3.Norm2(g) - s.Rod*s.Rod) / (2 * r)
	flat := math.Hypot(g1, g2)
	if u.Reached = math.Abs(k) <= flat*(1+straightTol); !u.Reached {
		u.Turn, u.RodAngle = math.NaN(), math.NaN()
		return
	}
	// At ride t = 0: the far end's side of the lever tells which of the two it is.
	side := math.Atan2(math.Sqrt(math.Max(0, (flat-k)*(flat+k))), k)
	if r3.Dot(r3.Sub(m.AtRide(&s.Far), centre), e2) > 0 {
		side = -side
	}
	sin2, cos2 := math.Sincos(math.Atan2(g2, g1) + side)
	u.Turn = math.Atan2(sin2, cos2)
	end := r3.Add(centre, r3.Add(r3.Scale(r*cos2, e1), r3.Scale(r*sin2, e2)))
	u.RodAngle = angle(r3.Sub(centre, end), r3.Sub(far, end))
}
