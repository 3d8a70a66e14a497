package limits

import (
	"context"
	"math"
	"slices"
	"sync/atomic"

	"axleloft/geometry/cell"
	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
)

// Gaps bounds the smallest gap of every pair over the range and finds it: by proof, and, where how.Refine is set, by a search on from what the proof found. Where no proof can be had, of
// a pair or of all, the figure is what Smallest finds with how, and Why says so. The same bits however many workers. A cancelled context gives its error.
func Gaps(ctx context.Context, m *motion.Mechanism, c *clearance.Model, r *Range, near clearance.Closeness, how Search) ([]Proved, error) {
	w, err := GapsFrom(ctx, m, c, r, near, how, nil)
	if err != nil {
		return nil, err
	}
	return w.Pairs, nil
}

// GapWork is what one pass over the smallest gaps came to, kept so that the next one need not do again what has stayed the same. Read-only.
type GapWork struct {
	Pairs []Proved // by pair of the model
	Fresh int      // how many of them this pass worked out itself

	m    *motion.Mechanism
	c    *clearance.Model
	r    *Range
	tree *cell.Cover // nil: not made, or why
	why  string      // why no tree can be had
	near clearance.Closeness
	how  Search
	took map[int]took // pairs taken over
}

// took is a pair of one of the passes before.
type took struct{ pass, pair int }

// Took tells of which pass before, by its number, and which pair there a pair's figures were taken over; ok is false where they were worked out. What else was found of that pair over the range holds for this one.
func (w *GapWork) Took(pair int) (pass, there int, ok bool) {
	k, ok := w.took[pair]
	return k.pass, k.pair, ok
}

// GapsFrom is Gaps that takes from earlier passes what holds for this one too: the cells, where the motion is the same; a pair's figures, where besides its two shapes are, and what was asked of
// them. To the last bit it gives what it would without them.
func GapsFrom(ctx context.Context, m *motion.Mechanism, c *clearance.Model, r *Range, near clearance.Closeness, how Search, before []*GapWork) (*GapWork, error) {
	w := &GapWork{Pairs: make([]Proved, len(c.Pairs)), m: m, c: c, r: r, near: near, how: how}
	w.how.Tell = nil
	todo := w.take(before)
	w.Fresh = len(todo)
	if len(todo) == 0 {
		return w, ctx.Err()
	}
	var told atomic.Int64
	done := func() {
		if how.Tell != nil {
			how.Tell(float64(told.Add(1)) / float64(2*len(todo)))
		}
	}
	if how.Unproved == "" {
		var err error
		if w.tree, w.why, err = w.Cover(ctx); err != nil {
			return nil, err
		}
	}
	switch {
	case how.Unproved != "" || w.tree == nil:
		for _, i := range todo {
			if w.Pairs[i].Why = how.Unproved; how.Unproved == "" {
				w.Pairs[i].Why = w.why
			}
		}
	default:
		if err := proveSome(ctx, m, c, r, w.tree, near, how.Workers, todo, w.Pairs, done); err != nil {
			return nil, err
		}
	}
	var tried []int
	for _, i := range todo {
		if w.Pairs[i].Why != "" {
			tried = append(tried, i)
		}
	}
	if len(tried) > 0 {
		found, err := Smallest(ctx, m, c.Some(tried), r, how)
		if err != nil {
			return nil, err
		}
		for n, i := range tried {
			w.Pairs[i].Smallest = found[n]
		}
	}
	if !how.Refine {
		return w, nil
	}
	Spread(min(max(1, how.Workers), len(todo)), len(todo), func() func(int) {
		p := newProbe(m, c)
		return func(n int) {
			i := todo[n]
			k := &w.Pairs[i]
			if ctx.Err() != nil {
				return
			}
			if k.Why == "" && k.Gap.Gap < refineGap {
				b := p.refine(ctx, r, i, candidate{k.Gap, k.Left, k.Right}, how.Grid)
				b = p.corners(ctx, r, i, b, how.Grid)
				k.Gap, k.Left, k.Right = b.gap, b.left, b.right
				if k.Rest > 0 {
					k.NotLess = math.Min(k.NotLess, k.Gap.Gap)
				}
			}
			done()
		}
	})
	return w, ctx.Err()
}

// Cover is what the pass has of where the axle stands, or else it is made. As the function of that name.
func (w *GapWork) Cover(ctx context.Context) (c *cell.Cover, why string, err error) {
	if w.tree != nil || w.why != "" {
		return w.tree, w.why, ctx.Err()
	}
	return Cover(ctx, w.m, w.r)
}

// take takes over what earlier passes have of this one, the first that has it; the pairs that are left to do are returned.
func (w *GapWork) take(before []*GapWork) (todo []int) {
	have := make([]bool, len(w.Pairs))
	w.took = map[int]took{}
	for n, o := range before {
		if o == nil || len(have) > 0 && !slices.Contains(have, false) || !w.m.SameMotion(o.m) || w.r.rays != o.r.rays {
			continue
		}
		if w.tree == nil && w.why == "" {
			w.tree, w.why = o.tree, o.why
		}
		if w.near != o.near || !w.how.same(&o.how) {
			continue
		}
		for i, k := range w.c.Matches(o.c) {
			if k >= 0 && !have[i] {
				w.Pairs[i], w.took[i], have[i] = o.Pairs[k], took{n, k}, true
			}
		}
	}
	for i := range have {
		if !have[i] {
			todo = append(todo, i)
		}
	}
	return todo
}

// same reports whether the same is asked for.
func (h *Search) same(o *Search) bool {
	return h.Grid == o.Grid && h.Refine == o.Refine && h.Unproved == o.Unproved
}
