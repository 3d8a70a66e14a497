package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Feature names what of a core is touched: up to three vertices (of a segment 0 and 1, of a polytope the hull's, of a mesh its own) whose
// hull holds the nearest point. A drum has none: there N . Axis tells face, rim or side.
type Feature struct {
	N int8
	V [3]int32
}

// Result is the gap of two pieces or solids.
type Result struct {
	Gap            float64 // mm; negative: minus the shortest translation that parts the two
	PointA, PointB r3.Vec  // nearest surface points (of an overlap: the two that would part); PointA - PointB = Gap * N
	N              r3.Vec  // unit direction from B to A: moving A by -Gap*N parts an overlap
	FeatureA       Feature // what of A's core is touched
	FeatureB       Feature
	FacetA, FacetB int32 // which triangles of two meshes
	PieceA, PieceB int   // which pieces of two solids; 0 for pieces
	Deep           bool  // the cores themselves overlap (of a bar: its centre line is inside the other part)
}

// Scratch is the work space of one goroutine for Gap; the zero value is ready. Nothing is remembered between calls, so the
// same two pieces give the same bits whatever was measured before.
type Scratch struct {
	s   [4]vert
	n   int
	lam [4]float64

	one, two facet
}

// coresApart: cores nearer than this are measured as overlapping, mm (there the direction of the difference is round-off).
const coresApart = 1e-7

// coresNear: cores nearer than this have their direction found with A set off by setOff, mm. Nearer, round-off turns the direction of so short a difference,
// and the simplex stops short at a drum's rim (seen: 1e-4 mm of error with cores 1e-3 mm apart).
const coresNear = 0.1

// stalled: where the planes square to the difference of a drum's core and another part them by less than the difference is long by more than this, the simplex stopped short and the direction is
// found with A set off, mm (seen of a drum's flat side along a face: 2.4e-6 mm too far).
const stalled = 1e-7

// setOff is how far apart the cores are put to find the points and the direction in which they part, mm.
const setOff = 10.0

// Gap measures two pieces (a mesh as said above surface): |error| <= 1e-7 mm apart, 1e-6 overlapping where one is a drum; where a drum's core and another are within 0.1 mm of touching,
// 1e-4 mm (their skins then overlap by both radii). No allocation.
func (s *Scratch) Gap(a, b *Piece, dst *Result) {
	*dst = Result{}
	switch {
	case a.Kind == Surface:
		s.surface(a, b, dst)
		return
	case b.Kind == Surface:
		s.surface(b, a, dst)
		swapResult(dst)
		return
	}
	if a.Kind <= Segment && b.Kind <= Segment {
		segments(a, b, dst)
		return
	}
	switch {
	case a.Kind == Drum && b.Kind == Point:
		pointDrum(b, a, dst)
		swapResult(dst)
		return
	case a.Kind == Point && b.Kind == Drum:
		pointDrum(a, b, dst)
		return
	case a.Kind == Drum && b.Kind == Segment:
		if segmentDrum(b, a, dst) {
			swapResult(dst)
			return
		}
	case a.Kind == Segment && b.Kind == Drum:
		if segmentDrum(a, b, dst) {
			return
		}
	}
	ca, _ := a.Ball()
	cb, _ := b.Ball()
	start := sub(ca, cb)
	if start == (r3.Vec{}) {
		start = r3.Vec{X: 1}
	}
	v, meet := s.nearest(a, b, start, r3.Vec{})
	var n r3.Vec
	var depth float64
	if meet {
		n, depth = s.depth(a, b, v)
		if depth < -coresApart {
			// A direction that parts them exists: the simplex that claimed an overlap was flat. Start again from it.
			if w, again := s.nearest(a, b, n, r3.Vec{}); !again {
				v, meet = w, false
			}
		}
	}
	if !meet {
		d := norm(v)
		n = scale(1/d, v)
		if d > coresNear {
			var off r3.Vec
			if a.Kind == Drum || b.Kind == Drum {
				n, d, off = s.further(a, b, n, d)
			}
			s.finish(a, b, n, d, off, dst)
			return
		}
		near := search{a: a, b: b, n: n, depth: parting(a, b, n)}
		s.descend(&near, n, near.depth)
		n, depth = near.n, near.depth
	}
	// Overlapping or nearly: set A off along n until the cores are well apart; the nearest points are those that part last.
	off := scale(depth+setOff, n)
	s.nearest(a, b, n, off)
	s.finish(a, b, n, -depth, off, dst)
	dst.Deep = meet
}

// further takes the direction of a drum's core and another d apart further where the simplex stopped short. The simplex left is that whose points fit the direction better, the first or one with A
// set off by off.
func (s *Scratch) further(a, b *Piece, n r3.Vec, d float64) (to r3.Vec, core float64, off r3.Vec) {
	near := search{a: a, b: b, n: n, depth: parting(a, b, n)}
	if d+near.depth <= stalled {
		return n, d, off
	}
	first, count, lam := s.s, s.n, s.lam
	s.descend(&near, n, near.depth)
	n, d = near.n, -near.depth
	off = scale(setOff-d, n)
	v, meet := s.nearest(a, b, n, off)
	if miss := norm(sub(sub(v, off), scale(d, n))); !meet {
		var w r3.Vec
		for i := range count {
			w = along(w, lam[i], first[i].w)
		}
		if norm(sub(w, scale(d, n))) >= miss {
			return n, d, off
		}
	}
	s.s, s.n, s.lam = first, count, lam
	return n, d, r3.Vec{}
}

// finish writes the result from the last simplex: the core points by their weights, the radii taken off. off is how far A
// was moved for the simplex.
func (s *Scratch) finish(a, b *Piece, n r3.Vec, core float64, off r3.Vec, dst *Result) {
	var pa r3.Vec
	for i := 0; i < s.n; i++ {
		pa = along(pa, s.lam[i], s.s[i].a)
	}
	pa = sub(pa, off)
	dst.N = n
	dst.Gap = core - a.Radius - b.Radius
	dst.PointA = along(pa, -a.Radius, n)
	dst.PointB = along(dst.PointA, -dst.Gap, n)
	for i := 0; i < s.n && i < 3; i++ {
		if a.Kind != Drum {
			dst.FeatureA.add(s.s[i].ia)
		}
		if b.Kind != Drum {
			dst.FeatureB.add(s.s[i].ib)
		}
	}
}

func (f *Feature) add(v int32) {
	for i := int8(0); i < f.N; i++ {
		if f.V[i] == v {
			return
		}
	}
	f.V[f.N] = v
	f.N++
}

func swapResult(r *Result) {
	r.PointA, r.PointB = r.PointB, r.PointA
	r.FeatureA, r.FeatureB = r.FeatureB, r.FeatureA
	r.FacetA, r.FacetB = r.FacetB, r.FacetA
	r.N = scale(-1, r.N)
}

// SolidGap measures two unions: the smallest gap over their pieces. Both must have a piece. No allocation.
func (s *Scratch) SolidGap(a, b *Solid, dst *Result) {
	if len(a.Pieces) == 1 && len(b.Pieces) == 1 {
		s.Gap(&a.Pieces[0], &b.Pieces[0], dst)
		return
	}
	var r Result
	best := math.Inf(1)
	for i := range a.Pieces {
		ca, ra := a.Pieces[i].Ball()
		for j := range b.Pieces {
			if best < math.Inf(1) {
				cb, rb := b.Pieces[j].Ball()
				// Nearer than their balls they cannot be (the slack covers round-off of the balls).
				if d := norm(sub(ca, cb)) - ra - rb; d > best+1e-6 && d > 0 {
					continue
				}
			}
			s.Gap(&a.Pieces[i], &b.Pieces[j], &r)
			if r.Gap < best {
				best = r.Gap
				r.PieceA, r.PieceB = i, j
				*dst = r
			}
		}
	}
}
