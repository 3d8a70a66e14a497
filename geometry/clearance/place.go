package clearance

import (
	"math"
	"slices"

	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// Scratch is one goroutine's placed parts. Nothing but the last Place decides what Gap gives.
type Scratch struct {
	model  *Model
	solids []shape.Solid // the parts whole, then what counts of some against their own brackets
	boxes  []box         // per solid, along the body axes
	knots  []r3.Vec
	cut    []r3.Vec
	seat   motion.Seat
	shape  shape.Scratch
}

// box holds a placed solid.
type box struct{ lo, hi r3.Vec }

func boxOf(s *shape.Solid) box {
	var b box
	for i := range s.Pieces {
		lo, hi := s.Pieces[i].Bounds()
		if i == 0 {
			b = box{lo, hi}
			continue
		}
		b.lo = r3.Vec{X: min(b.lo.X, lo.X), Y: min(b.lo.Y, lo.Y), Z: min(b.lo.Z, lo.Z)}
		b.hi = r3.Vec{X: max(b.hi.X, hi.X), Y: max(b.hi.Y, hi.Y), Z: max(b.hi.Z, hi.Z)}
	}
	return b
}

// NewScratch returns a work space. Place must be called before anything is measured.
func (c *Model) NewScratch() *Scratch {
	s := &Scratch{model: c, solids: make([]shape.Solid, len(c.fixed)), boxes: make([]box, len(c.fixed))}
	for i := range c.fixed {
		if i < len(c.Parts) && c.Parts[i].Body == OnFrame {
			s.solids[i] = c.fixed[i] // never written
			s.boxes[i] = boxOf(&c.fixed[i])
			continue
		}
		s.solids[i] = shape.Solid{Pieces: append([]shape.Piece(nil), c.fixed[i].Pieces...)}
	}
	most := 0
	for i := range c.bars {
		most = max(most, c.bars[i].pieces()+1)
	}
	s.knots, s.cut = make([]r3.Vec, 0, most), make([]r3.Vec, 0, most)
	return s
}

// Place moves every part to the pose; links must hold the joints of the pose where any link is bent (its spin is taken from there;
// nil counts as no spin). All else follows from the pose alone. No allocation.
func (s *Scratch) Place(p *motion.Pose, links []quantity.LinkUse) {
	c := s.model
	for i := range c.bars {
		b := &c.bars[i]
		spin := 0.0
		if b.link >= 0 && b.link < len(links) {
			spin = links[b.link].Spin
		}
		s.placeBar(b, p, spin, everywhere)
	}
	for i := range c.fixed {
		if i < len(c.Parts) {
			switch c.Parts[i].Body {
			case OnFrame:
				continue
			case OnAxle:
				from, to := c.fixed[i].Pieces, s.solids[i].Pieces
				for k := range from {
					from[k].Place(p.C, p.Ex, p.Ey, p.Ez, &to[k])
				}
			}
		}
		s.boxes[i] = boxOf(&s.solids[i])
	}
}

// placeBar fills the pieces of a bar wherever it counts, or in one solid only. A straight bar runs from end to end; a bent one is rigid: held at its frame pivot, turned
// from its direction at ride by the least turn, then by the spin about its own axis.
func (s *Scratch) placeBar(b *bar, p *motion.Pose, spin float64, only int) {
	m := s.model.mech
	start, end := m.At(p, &b.ends[0]), m.At(p, &b.ends[1])
	radius := b.radiusAt(r3.Norm(r3.Sub(end, start)))
	knots := append(s.knots[:0], start)
	if len(b.bends) > 0 {
		u := r3.Unit(r3.Sub(end, start))
		for _, o := range b.bends {
			knots = append(knots, r3.Add(start, spun(u, spin, leastTurn(b.dir, u, o))))
		}
		end = r3.Add(start, r3.Scale(b.length, u))
	}
	knots = append(knots, end)
	for i := range b.rests {
		r := &b.rests[i]
		if only != everywhere && r.solid != only {
			continue
		}
		k := append(s.cut[:0], knots...)
		trim(k, r.cut[0])
		slices.Reverse(k)
		trim(k, r.cut[1])
		pieces := s.solids[r.solid].Pieces[r.first : r.first+b.pieces()]
		for i := range pieces {
			n := len(k) - 1 - i
			pieces[i].A, pieces[i].B, pieces[i].Radius = k[n], k[n-1], radius
		}
	}
}

// trim takes reach off the front of a line of knots; knots passed over move to where the rest begins.
func trim(k []r3.Vec, reach float64) {
	if reach <= 0 {
		return
	}
	for i := 1; i < len(k); i++ {
		d := r3.Sub(k[i], k[i-1])
		l := r3.Norm(d)
		if l > reach {
			at := r3.Add(k[i-1], r3.Scale(reach/l, d))
			for j := 0; j < i; j++ {
				k[j] = at
			}
			return
		}
		reach -= l
	}
	for j := range k {
		k[j] = k[len(k)-1]
	}
}

// leastTurn turns v by the least turn that takes the unit direction a to the unit direction b.
func leastTurn(a, b, v r3.Vec) r3.Vec {
	w := r3.Cross(a, b)
	c := r3.Dot(a, b)
	if 1+c < 1e-12 { // straight back: half a turn about anything square to it
		return r3.Sub(r3.Scale(2*r3.Dot(b, v), b), v)
	}
	return r3.Add(r3.Add(r3.Scale(c, v), r3.Cross(w, v)), r3.Scale(r3.Dot(w, v)/(1+c), w))
}

// spun turns v about the unit axis u, right-hand, rad.
func spun(u r3.Vec, angle float64, v r3.Vec) r3.Vec {
	if angle == 0 {
		return v
	}
	sn, cs := math.Sincos(angle)
	return r3.Add(r3.Add(r3.Scale(cs, v), r3.Scale(sn, r3.Cross(u, v))), r3.Scale((1-cs)*r3.Dot(u, v), u))
}

// Gap measures pair i as placed. No allocation.
func (s *Scratch) Gap(i int, dst *Gap) {
	n := s.model.sides[i]
	s.shape.SolidGap(&s.solids[n[0]], &s.solids[n[1]], dst)
}

// Gaps measures every pair as placed; dst has the length of Pairs. No allocation.
func (s *Scratch) Gaps(dst []Gap) {
	for i := range dst {
		s.Gap(i, &dst[i])
	}
}

// AtLeast returns a cheap bound from below on the gap of pair i as placed: the distance of the boxes round the two parts, mm; minus infinity where the boxes
// meet. A search for the smallest gap may leave out the pair at this position where the bound is not below the smallest so far. No allocation.
func (s *Scratch) AtLeast(i int) float64 {
	n := s.model.sides[i]
	a, b := &s.boxes[n[0]], &s.boxes[n[1]]
	x := max(a.lo.X-b.hi.X, b.lo.X-a.hi.X, 0)
	y := max(a.lo.Y-b.hi.Y, b.lo.Y-a.hi.Y, 0)
	z := max(a.lo.Z-b.hi.Z, b.lo.Z-a.hi.Z, 0)
	if x == 0 && y == 0 && z == 0 {
		return math.Inf(-1)
	}
	return math.Sqrt(x*x+y*y+z*z) - 1e-9 // round-off of the boxes
}

// Solid returns the placed shape of a part, whole (shared, read-only, valid until the next Place), for drawing.
func (s *Scratch) Solid(part int) *shape.Solid { return &s.solids[part] }

// Sides returns the two placed shapes of a pair as they count: bars less what lies within their own brackets (shared, read-only, valid until the next Place).
func (s *Scratch) Sides(pair int) (a, b *shape.Solid) {
	n := s.model.sides[pair]
	return &s.solids[n[0]], &s.solids[n[1]]
}
