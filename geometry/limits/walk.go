package limits

import (
	"math"

	"axleloft/geometry/motion"
)

// Box is the smallest box round the range's outline: least and largest travels, mm. Zero where there is no range.
func (r *Range) Box() (lo, hi Corner) {
	take := func(left, right float64) {
		lo = Corner{math.Min(lo.Left, left), math.Min(lo.Right, right)}
		hi = Corner{math.Max(hi.Left, left), math.Max(hi.Right, right)}
	}
	for i := range r.Edge {
		take(r.Edge[i].Left, r.Edge[i].Right)
	}
	for _, c := range []*Corner{r.LeftUp, r.RightUp} {
		if c != nil {
			take(c.Left, c.Right)
		}
	}
	return lo, hi
}

// Row goes through the positions (left, rights[k]), rights rising, from the one nearest ride height outwards, and hands visit each that can be
// reached, with whether it lies in the range; positions well outside it are passed over. The pose is the caller's until visit returns. What is
// visited, to the last bit, depends on the row alone.
func (r *Range) Row(s *motion.Solver, left float64, rights []float64, visit func(k int, in bool, p *motion.Pose)) {
	if !r.Bounded || len(rights) == 0 {
		return
	}
	first := 0
	for k := range rights {
		if math.Abs(rights[k]) < math.Abs(rights[first]) {
			first = k
		}
	}
	ride := r.m.Ride()
	var p motion.Pose
	run := func(from, to, by int) {
		last, have := ride, false
		for k := from; k != to; k += by {
			if r.wellOutside(left, rights[k]) {
				have = false
				continue
			}
			start := &ride
			if have {
				start = &last
			}
			if have = s.Near(start, left, rights[k], rowTries, &p); !have {
				continue
			}
			last = p
			visit(k, r.inside(&p), &p)
		}
	}
	run(first, len(rights), 1)
	run(first-1, -1, -1)
}

// rowTries is how many steps of a march a row waits for: from ride height to the far corner of a range takes ten or so.
const rowTries = 40
