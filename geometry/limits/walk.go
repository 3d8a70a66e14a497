package limits

import (
	"math"
	"slices"

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

// Within reports whether a pose lies in the range, by the limits themselves to 1e-6 mm of its edge; how it was come by is the caller's to know.
func (r *Range) Within(p *motion.Pose) bool { return r.Bounded && r.inside(p) }

// Holds makes a test, for one goroutine, of whether a pose of a proof's cells lies in the range. Where rockers and radius arms stand, and so what their springs are forced, such a pose does not hold: it is solved for.
func (r *Range) Holds() func(*motion.Pose) bool {
	if len(r.m.Rockers) == 0 && !slices.ContainsFunc(r.m.Arms, func(a motion.Arm) bool { return a.Radius }) {
		return r.Within
	}
	solver := r.m.NewSolver()
	var whole motion.Pose
	return func(p *motion.Pose) bool { return solver.Solve(p.Left, p.Right, &whole) == nil && r.Within(&whole) }
}

// Reach is how far from a position in the range, in lengths of the direction (dl, dr), the range goes on before it ends or is broken off; 0 where
// the position itself lies outside.
func (r *Range) Reach(left, right, dl, dr float64) float64 {
	s := r.solvers.Get().(*motion.Solver)
	defer r.solvers.Put(s)
	var at, p motion.Pose
	long := math.Hypot(dl, dr)
	if !r.Bounded || long == 0 || s.Solve(left, right, &at) != nil || !r.inside(&at) {
		return 0
	}
	lo, step := 0.0, marchStep/long
	for step*long > edgeTol/2 {
		x := lo + step
		if s.Near(&at, left+x*dl, right+x*dr, rowTries, &p) && r.inside(&p) {
			lo, at = x, p
			continue
		}
		step /= 2
	}
	return lo
}

// Try brings a position that a search comes upon to a pose, from a pose near by and inside; one outside the range is brought back to its outline
// along the ray from ride height. back is about how far from the outline the search's step makes likely, mm. false where it cannot be had at small cost.
func (r *Range) Try(s *motion.Solver, from *motion.Pose, left, right, back float64, p *motion.Pose) bool {
	if radius, links := r.outline(left, right); links && math.Hypot(left, right) > radius {
		// where the links end the travel its polygon will do for the edge
		k := nearEnd * radius / math.Hypot(left, right)
		left, right = k*left, k*right
	}
	if s.Near(from, left, right, nearTries, p) && r.inside(p) {
		return true
	}
	far := math.Hypot(left, right)
	if far == 0 {
		return false
	}
	e := r.bring(s, from, left, right, far, back)
	return (e.Left != 0 || e.Right != 0) && s.Near(from, e.Left, e.Right, nearTries, p)
}

const (
	nearTries = 24    // steps of a march a search waits for
	nearEnd   = 0.999 // of the outline where the links end the travel
	edgeStep  = 0.25  // mm: the outline's polygon lies about so near the edge between its rays
)

// bring brings a position outside the range back to its edge along its ray, starting from a pose near by and inside: first from where the outline's
// polygon has the edge, then from as little short of the pose as the search's step makes likely. The zero By where that cannot be had at small cost.
func (r *Range) bring(s *motion.Solver, from *motion.Pose, l, rr, far, back float64) By {
	dl, dr := l/far, rr/far
	near := math.Min(far, math.Hypot(from.Left, from.Right))
	radius, _ := r.outline(l, rr)
	var p motion.Pose
	for i, at := range [3]float64{radius - edgeStep/100, near - back, 0.97 * near} {
		if at > 0 && at <= far && s.Near(from, at*dl, at*dr, nearTries, &p) {
			if _, v := r.worst(&p); v >= 0 {
				step := firstStep(far)
				if i == 0 {
					step = edgeStep
				}
				return r.along(s, p, at, step, dl, dr, far)
			}
		}
	}
	return By{}
}
