package limits

import (
	"context"

	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
)

// Gaps bounds the smallest gap of every pair over the range and finds it: by proof, and, where how.Refine is set, by a search on from what the proof found. Where no proof can be had, of
// a pair or of all, the figure is what Smallest finds with how, and Why says so. The same bits however many workers. A cancelled context gives its error.
func Gaps(ctx context.Context, m *motion.Mechanism, c *clearance.Model, r *Range, near clearance.Closeness, how Search) ([]Proved, error) {
	pairs, why, err := Prove(ctx, m, c, r, near, how.Workers)
	if err != nil {
		return nil, err
	}
	sampled := why != ""
	if sampled {
		pairs = make([]Proved, len(c.Pairs))
		for i := range pairs {
			pairs[i].Why = why
		}
	}
	for i := range pairs {
		sampled = sampled || pairs[i].Why != ""
	}
	if sampled {
		found, err := Smallest(ctx, m, c, r, how)
		if err != nil {
			return nil, err
		}
		for i := range pairs {
			if pairs[i].Why != "" {
				pairs[i].Smallest = found[i]
			}
		}
	}
	if !how.Refine {
		return pairs, nil
	}
	Spread(max(1, how.Workers), len(pairs), func() func(int) {
		w := newProbe(m, c)
		return func(i int) {
			k := &pairs[i]
			if ctx.Err() != nil || k.Why != "" || k.Gap.Gap >= refineGap {
				return
			}
			b := w.refine(r, i, candidate{k.Gap, k.Left, k.Right}, how.Grid)
			k.Gap, k.Left, k.Right = b.gap, b.left, b.right
		}
	})
	return pairs, ctx.Err()
}
