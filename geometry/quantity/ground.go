package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// Ground is the ground of a load at a pose, in body axes, mm.
type Ground struct {
	Contact   r3.Vec  // one loaded radius below the axle centre along body Z
	Ex, Ez    r3.Vec  // unit: along the ground forward, in the X-Z plane of the body; square to it, up
	Wheelbase float64 // along Ex, from Contact to below the front wheels
}

// Height is how far a point is above the ground, mm.
func (g *Ground) Height(p r3.Vec) float64 { return r3.Dot(r3.Sub(p, g.Contact), g.Ez) }

// GroundOf is the ground in force. With the front wheels travelling too it stays level; with the front still it runs from the front contact
// of ride height to this axle's.
func GroundOf(m *motion.Mechanism, p *motion.Pose, load *Load) Ground {
	g := Ground{Contact: r3.Sub(p.C, r3.Vec{Z: load.Radius}), Ex: r3.Vec{X: 1}, Ez: r3.Vec{Z: 1}, Wheelbase: m.Wheelbase - p.X}
	if m.FrontStill {
		dx, dz := m.Wheelbase-g.Contact.X, -g.Contact.Z
		g.Wheelbase = math.Sqrt(dx*dx + dz*dz)
		g.Ex = r3.Vec{X: dx / g.Wheelbase, Z: dz / g.Wheelbase}
		g.Ez = r3.Vec{X: 0 - g.Ex.Z, Z: g.Ex.X}
	}
	return g
}
