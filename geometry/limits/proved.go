package limits

import (
	"context"
	"math"

	"axleloft/geometry/cell"
	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
)

// Proved is the smallest gap of a pair over the whole range: nowhere less than NotLess, and Gap at Left, Right. Why says in half a sentence why nothing is proved of it ("" where
// something is): then NotLess has no meaning, and Gap is that of ride height. Where Rest is more than nothing, the links end the travel somewhere: nearer than Rest to the edge of the range, there, NotLess is not proved and
// only positions were tried.
type Proved struct {
	clearance.Smallest
	NotLess float64 // mm
	Rest    float64 // mm in left against right travel
	Why     string
}

// Prove bounds the smallest gap of every pair over the range, between positions too. The same bits however many workers. why says in half a sentence why nothing can be proved of
// this job at all; then there are no pairs. A cancelled context gives its error.
func Prove(ctx context.Context, m *motion.Mechanism, c *clearance.Model, r *Range, how clearance.Closeness, workers int) (pairs []Proved, why string, err error) {
	tree, why, err := Cover(ctx, m, r)
	if tree == nil {
		return nil, why, err
	}
	all := make([]int, len(c.Pairs))
	for i := range all {
		all[i] = i
	}
	pairs = make([]Proved, len(c.Pairs))
	return pairs, "", proveSome(ctx, m, c, r, tree, how, workers, all, pairs, nil)
}

// proveSome proves those of the pairs that are in todo; done, unless nil, is called after each, from any goroutine.
func proveSome(ctx context.Context, m *motion.Mechanism, c *clearance.Model, r *Range, tree *cell.Cover, how clearance.Closeness, workers int, todo []int, pairs []Proved, done func()) error {
	Spread(min(max(1, workers), len(todo)), len(todo), func() func(int) {
		solver := m.NewSolver()
		w := c.NewProver(tree.Tree, r.Holds())
		sc := c.NewScratch()
		ride := m.Ride()
		gap := func(i int, p *motion.Pose, dst *clearance.Gap) {
			sc.PlacePair(i, p)
			sc.Gap(i, dst)
		}
		return func(n int) {
			if ctx.Err() != nil {
				return
			}
			i := todo[n]
			k := &pairs[i]
			gap(i, &ride, &k.Gap)
			k.AtRide = k.Gap.Gap
			found, err := w.Prove(ctx, i, how)
			if err != nil {
				return
			}
			k.NotLess = found.NotLess
			var p motion.Pose
			if solver.Solve(found.Left, found.Right, &p) == nil {
				k.Left, k.Right = found.Left, found.Right
				gap(i, &p, &k.Gap)
			} else {
				k.Why = cell.ErrProof.Error()
			}
			if k.Rest = tree.Last; k.Why == "" && k.Rest > 0 {
				k.try(tree.Tried, i, sc)
			}
			if done != nil {
				done()
			}
		}
	})
	return ctx.Err()
}

// try looks at positions for a smaller gap of pair i than is known.
func (k *Proved) try(poses []motion.Pose, i int, sc *clearance.Scratch) {
	var g clearance.Gap
	for n := range poses {
		p := &poses[n]
		if sc.PlacePair(i, p); sc.AtLeast(i) >= k.Gap.Gap {
			continue
		}
		if sc.Gap(i, &g); g.Gap < k.Gap.Gap {
			k.Gap, k.Left, k.Right = g, p.Left, p.Right
		}
	}
	k.NotLess = math.Min(k.NotLess, k.Gap.Gap)
}
