package clearance

import (
	"axleloft/geometry/motion"
)

// everywhere is no solid's number: a bar is placed wherever it counts.
const everywhere = -1

// PlacePair moves the two sides of pair i to the pose and nothing else: until the next Place only that pair can be measured. The spin of a bent link is that of Bind at the pose. No
// allocation.
func (s *Scratch) PlacePair(i int, p *motion.Pose) {
	for _, n := range s.model.sides[i] {
		s.placeOne(n, p)
	}
}

func (s *Scratch) placeOne(n int, p *motion.Pose) {
	c := s.model
	if n < len(c.Parts) {
		switch c.Parts[n].Body {
		case OnFrame:
			return
		case OnAxle:
			from, to := c.fixed[n].Pieces, s.solids[n].Pieces
			for k := range from {
				from[k].Place(p.C, p.Ex, p.Ey, p.Ez, &to[k])
			}
		}
	}
	for i := range c.bars {
		b := &c.bars[i]
		if !b.countsIn(n) {
			continue
		}
		spin := 0.0
		if len(b.bends) > 0 {
			c.mech.LinkSeat(p, b.link, &s.seat)
			spin = s.seat.Spin
		}
		s.placeBar(b, p, spin, n)
	}
	s.boxes[n] = boxOf(&s.solids[n])
}

// countsIn reports whether the bar fills pieces of a solid.
func (b *bar) countsIn(solid int) bool {
	for i := range b.rests {
		if b.rests[i].solid == solid {
			return true
		}
	}
	return false
}

// Bent reports whether a link is bent, so that its spin counts in placing it.
func (c *Model) Bent() bool {
	for i := range c.bars {
		if len(c.bars[i].bends) > 0 {
			return true
		}
	}
	return false
}
