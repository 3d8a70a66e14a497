package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// ground is the ground of a load at a pose, in the X-Z plane of the body: contact is the point one loaded radius below the axle centre along
// body Z, ex runs along the ground forward, ez square to it, L is the wheelbase along it.
type ground struct {
	contact, ex, ez r3.Vec
	wheelbase       float64
}

// groundOf is the ground in force. With the front wheels travelling too it stays level; with the front still it runs from the front contact
// of ride height to this axle's.
func groundOf(m *motion.Mechanism, p *motion.Pose, load *Load) ground {
	g := ground{contact: r3.Sub(p.C, r3.Vec{Z: load.Radius}), ex: r3.Vec{X: 1}, ez: r3.Vec{Z: 1}, wheelbase: m.Wheelbase - p.X}
	if m.FrontStill {
		dx, dz := m.Wheelbase-g.contact.X, -g.contact.Z
		g.wheelbase = math.Sqrt(dx*dx + dz*dz)
		g.ex = r3.Vec{X: dx / g.wheelbase, Z: dz / g.wheelbase}
		g.ez = r3.Vec{X: 0 - g.ex.Z, Z: g.ex.X}
	}
	return g
}
