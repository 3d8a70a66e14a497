package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// strut fills length, lean, end tilts and motion ratios. A strut stands on the axle, or on a link or arm: then its axle end moves with that, and
// AxleTilt is the turn of its direction seen from there.
//
// A motion ratio is -d(length)/d(travel of the strut's own wheel); the own wheel is the one on the side of its axle pivot. In the roll motion the
// left wheel moves +1 and the right one -1; a strut on the centre plane has no ratio there (NaN).
func strut(m *motion.Mechanism, p *motion.Pose, r *motion.Rates, i int, u *StrutUse) {
	s := &m.Struts[i]
	d := r3.Sub(m.At(p, &s.Foot), s.Frame)
	u.Length = length(d)
	n := r3.Scale(1/u.Length, d)
	ride := r3.Vec{X: s.Axle.X - s.Frame.X, Y: s.Axle.Y - s.Frame.Y, Z: s.Axle.Z + m.Radius - s.Frame.Z}
	u.Lean = math.Atan2(math.Sqrt(n.X*n.X+n.Y*n.Y), math.Abs(n.Z))
	u.FrameTilt = angle(ride, n)
	u.AxleTilt = angle(ride, m.Seen(p, s.Foot.Carrier, n))
	heave, roll := m.Speed(p, r, &s.Foot)
	u.RatioHeave = 0 - r3.Dot(n, heave)
	u.RatioRoll = 0 - r3.Dot(n, roll)
	switch {
	case s.Axle.Y == 0:
		u.RatioRoll = math.NaN()
	case s.Axle.Y < 0:
		u.RatioRoll = 0 - u.RatioRoll
	}
}

// angle is the angle between two directions, 0 to a half turn, exact for small ones too.
func angle(a, b r3.Vec) float64 { return math.Atan2(length(r3.Cross(a, b)), r3.Dot(a, b)) }
