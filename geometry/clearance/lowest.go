package clearance

import (
	"axleloft/geometry/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Stands reports whether a part's height above the ground is told: every part but the tyres, which stand on it.
func (p *Part) Stands() bool { return p.Kind != TyrePart }

// Lowest finds the lowest point of a part as placed, whole, and its height above the ground, mm; below nothing the part is in the ground. Exact from
// the shape: the point furthest along the ground's normal downwards. No allocation.
func (s *Scratch) Lowest(part int, g *quantity.Ground) (height float64, at r3.Vec) {
	down := r3.Scale(-1, g.Ez)
	pieces := s.solids[part].Pieces
	for i := range pieces {
		p := pieces[i].Support(down)
		if h := g.Height(p); i == 0 || h < height {
			height, at = h, p
		}
	}
	return height, at
}
