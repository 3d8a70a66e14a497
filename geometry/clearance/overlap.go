package clearance

import (
	"math"

	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// Overlap tells where two parts share space, for drawing it: a box along the body axes that holds the shared space of the deepest two pieces, and the two points that
// would part. mm.
type Overlap struct {
	Min, Max       r3.Vec
	PointA, PointB r3.Vec
}

// overlapSteps is how finely a bar's centre line is tried: the box is drawn, nothing is measured from it.
const overlapSteps = 48

// Overlap reports whether pair i overlaps as placed and where. No allocation.
func (s *Scratch) Overlap(i int, dst *Overlap) bool {
	var g Gap
	s.Gap(i, &g)
	if g.Gap >= 0 {
		return false
	}
	a, b := s.Sides(i)
	pa, pb := &a.Pieces[g.PieceA], &b.Pieces[g.PieceB]
	lo, hi := s.within(pa, pb)
	lo2, hi2 := s.within(pb, pa)
	lo = r3.Vec{X: math.Max(lo.X, lo2.X), Y: math.Max(lo.Y, lo2.Y), Z: math.Max(lo.Z, lo2.Z)}
	hi = r3.Vec{X: math.Min(hi.X, hi2.X), Y: math.Min(hi.Y, hi2.Y), Z: math.Min(hi.Z, hi2.Z)}
	// The parting points lie in both skins, so whatever the steps missed, they are in.
	for _, p := range []r3.Vec{g.PointA, g.PointB} {
		lo = r3.Vec{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y), Z: math.Min(lo.Z, p.Z)}
		hi = r3.Vec{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y), Z: math.Max(hi.Z, p.Z)}
	}
	*dst = Overlap{Min: lo, Max: hi, PointA: g.PointA, PointB: g.PointB}
	return true
}

// within returns the bounds of p; of a bar only of that stretch whose ball reaches into q.
func (s *Scratch) within(p, q *shape.Piece) (lo, hi r3.Vec) {
	if p.Kind != shape.Segment {
		return p.Bounds()
	}
	d := r3.Sub(p.B, p.A)
	ball := shape.Piece{Kind: shape.Point, Radius: p.Radius}
	first, last := -1, -1
	var g Gap
	for k := 0; k <= overlapSteps; k++ {
		ball.A = r3.Add(p.A, r3.Scale(float64(k)/overlapSteps, d))
		if s.shape.Gap(&ball, q, &g); g.Gap < 0 {
			if first < 0 {
				first = k
			}
			last = k
		}
	}
	if first < 0 {
		return p.Bounds()
	}
	cut := shape.Piece{Kind: shape.Segment, Radius: p.Radius}
	cut.A = r3.Add(p.A, r3.Scale(float64(max(first-1, 0))/overlapSteps, d))
	cut.B = r3.Add(p.A, r3.Scale(float64(min(last+1, overlapSteps))/overlapSteps, d))
	return cut.Bounds()
}
