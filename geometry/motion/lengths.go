package motion

import (
	"math"
	"slices"
)

// WithLengths returns the mechanism with some links made as long as given (mm, by their index; of the others and of everything else nothing changes), and where the axle then stands with no
// travel of its wheels: its ride. The links are lengthened bit by bit, so that the axle stays on the side it is on. Bolts and
// bores lie as drawn; how well the axle is held (Singular) is of the drawing. The error is an *Error: the links then let it stand nowhere near.
func (m *Mechanism) WithLengths(lengths map[int]float64) (*Mechanism, error) {
	const steps = 8
	pose := m.ride
	var c *Mechanism
	for k := 1; k <= steps; k++ {
		c = m.lengthened(lengths, float64(k)/steps)
		c.ride = pose
		s := c.NewSolver()
		if !s.rest(&pose) {
			return nil, &Error{Kind: OutOfReach, Words: "With links of those lengths the axle finds no place near where it is drawn."}
		}
		c.hand(&s.try, &pose)
	}
	c.ride = pose
	return c, nil
}

// rest finds where the axle stands at the travels of a pose that does not hold all its distances yet, into s.try; false where that is on the other side of a dead centre, or nowhere.
func (s *Solver) rest(from *Pose) bool {
	p := &s.try
	p.Left, p.Right, p.Heave, p.Alpha, p.perRoll = from.Left, from.Right, from.Heave, from.Alpha, from.perRoll
	sa := (from.Left - from.Right) / s.m.Track
	ca := math.Sqrt((1 - sa) * (1 + sa))
	var q state
	var still [4]float64
	q.set(&from.q)
	if _, ok := s.correct(from, &q, &still, 0, 0, sa, ca); !ok {
		return false
	}
	s.take(&q)
	return p.Held > 0
}

// lengthened is the mechanism with a share of the wanted change of its links' lengths.
func (m *Mechanism) lengthened(lengths map[int]float64, share float64) *Mechanism {
	c := *m
	c.Links, c.rows = slices.Clone(m.Links), slices.Clone(m.rows)
	for i, to := range lengths {
		if i < 0 || i >= len(c.Links) || !(to > shortest) || math.IsInf(to, 0) {
			continue
		}
		l := &c.Links[i]
		l.Length += share * (to - l.Length)
		c.rows[i] = rowOf(l.Frame, l.Axle, l.Length, l.K) // rows begin with the links, in their order
	}
	copy(c.four[:], c.rows)
	return &c
}
