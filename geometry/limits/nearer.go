package limits

import (
	"context"
	"math"

	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
)

// Floor is what a pair is to keep: Wanted, and Zero under which it counts as touching, both mm, Zero the lower. Wanted NaN: the pair does not count.
type Floor struct{ Wanted, Zero float64 }

// Nearer looks for the pairs that come nearer than their floors, or within over mm of that, at ride height, on a grid of so many positions along each side of the box round the range and on its
// outline. Of every other pair the gap is infinite. visit, unless nil, is handed every position; the pose is the caller's until it returns. Found, not proved; one goroutine. A cancelled context gives its error.
func Nearer(ctx context.Context, m *motion.Mechanism, c *clearance.Model, r *Range, floors []Floor, over float64, grid int, visit func(*motion.Pose)) ([]clearance.Smallest, error) {
	check(c, floors)
	w := newProbe(m, c)
	limit := make([]float64, len(c.Pairs))
	best := make([]candidate, len(c.Pairs))
	for i := range limit {
		if limit[i] = floors[i].Wanted + over; math.IsNaN(limit[i]) {
			limit[i] = math.Inf(-1)
		}
		best[i].gap.Gap = math.Inf(1)
	}
	var g clearance.Gap
	look := func(p *motion.Pose) {
		if visit != nil {
			visit(p)
		}
		w.place(p)
		for i := range best {
			if w.sc.AtLeast(i) >= limit[i] {
				continue
			}
			if w.sc.Gap(i, &g); g.Gap < limit[i] {
				best[i], limit[i] = candidate{g, p.Left, p.Right}, g.Gap
			}
		}
	}
	look(&w.ride)
	var p motion.Pose
	for _, row := range r.rows(grid) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		last := w.ride
		for _, k := range row {
			if r.wellOutside(k.Left, k.Right) || !w.solver.Near(&last, k.Left, k.Right, rowTries, &p) {
				continue
			}
			if last = p; r.inside(&p) {
				look(&p)
			}
		}
	}
	out := make([]clearance.Smallest, len(best))
	for i := range best {
		out[i] = clearance.Smallest{Gap: best[i].gap, Left: best[i].left, Right: best[i].right, AtRide: math.NaN()}
	}
	return out, ctx.Err()
}

func check(c *clearance.Model, floors []Floor) {
	if len(floors) != len(c.Pairs) {
		panic("limits: floors for another number of pairs")
	}
}

// Keeps proves of every pair that its gap is nowhere in the range, between positions too, less than its Wanted. Where it cannot, pair is the first of which it cannot, and found the smallest gap found of that
// one, less than Wanted or so little above it that no proof was had; pair is -1 where nothing can be proved of the job at all. One goroutine. A cancelled context gives its error.
func Keeps(ctx context.Context, m *motion.Mechanism, c *clearance.Model, r *Range, floors []Floor) (ok bool, pair int, found clearance.Proof, err error) {
	check(c, floors)
	tree, _, err := Cover(ctx, m, r)
	if err != nil || tree == nil || tree.Last > 0 {
		return false, -1, found, err
	}
	w := c.NewProver(tree.Tree, r.Holds())
	for i, floor := range floors {
		if math.IsNaN(floor.Wanted) {
			continue
		}
		found, err = w.Prove(ctx, i, clearance.Closeness{Width: keepsWithin, Far: floor.Wanted, Most: keepsMost})
		if err != nil || found.NotLess < floor.Wanted {
			return false, i, found, err
		}
	}
	return true, -1, found, nil
}

const (
	keepsWithin = 0.25 // mm between what is found and what is proved, at which a proof ends
	keepsMost   = 4000 // cells looked at for one pair
)
