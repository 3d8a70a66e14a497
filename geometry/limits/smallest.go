package limits

import (
	"context"
	"math"

	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// Search says how the smallest gaps are looked for.
type Search struct {
	Grid    int  // positions along each side of the box round the range
	Refine  bool // search on from the best positions of each pair
	Workers int  // the figures do not depend on it

	// Unproved, unless it is empty, is why GapsFrom shall prove nothing and only try positions, as half a sentence.
	Unproved string
	// Tell is called by GapsFrom, from any goroutine, with how much of its work is done, 0 to 1; it may be nil.
	Tell func(done float64)
}

const (
	refineGap   = 200.0 // mm: pairs further apart than this are not refined
	refineStart = 2     // positions of each pair the search goes on from
	refineLeast = 1e-3  // mm: last step of the search
	refineGain  = 1e-7  // mm: less than this is no gain
	refineMost  = 400   // rounds
)

// candidate is a position with its gap.
type candidate struct {
	gap         clearance.Gap
	left, right float64
}

// Smallest finds the smallest gap of every pair over the range: at ride height, on a grid, on the outline; then, if asked, by a search on from the
// best of them. "At the positions tried": found, not proved. The same bits however many workers. A cancelled context gives its error.
func Smallest(ctx context.Context, m *motion.Mechanism, c *clearance.Model, r *Range, how Search) ([]clearance.Smallest, error) {
	n := len(c.Pairs)
	rows := r.rows(how.Grid)
	best := make([][]candidate, len(rows)+1) // by row, by pair; the last are the ends and corners of the range
	workers := max(1, how.Workers)
	ends := []Corner{{0, 0}, {r.Bump, r.Bump}, {-r.Droop, -r.Droop}}
	for _, k := range []*Corner{r.LeftUp, r.RightUp} {
		if k != nil {
			ends = append(ends, *k)
		}
	}
	seed := newProbe(m, c).row(r, ends, nil)
	best[len(rows)] = seed
	Spread(workers, len(rows), func() func(int) {
		w := newProbe(m, c)
		return func(i int) {
			if ctx.Err() == nil {
				best[i] = w.row(r, rows[i], seed)
			}
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	out := make([]clearance.Smallest, n)
	ride := newProbe(m, c)
	start := m.Ride()
	ride.place(&start)
	for i := range out {
		var g clearance.Gap
		ride.sc.Gap(i, &g)
		out[i] = clearance.Smallest{Gap: g, AtRide: g.Gap}
	}
	Spread(workers, n, func() func(int) {
		w := newProbe(m, c)
		return func(i int) {
			if ctx.Err() != nil {
				return
			}
			var top [refineStart]candidate
			count := 0
			for _, row := range best {
				if len(row) == 0 || math.IsInf(row[i].gap.Gap, 1) {
					continue
				}
				top, count = keep(top, count, row[i])
			}
			for k := range count {
				b := top[k]
				if how.Refine && b.gap.Gap < refineGap {
					b = w.refine(ctx, r, i, b, how.Grid)
				}
				if b.gap.Gap < out[i].Gap.Gap {
					out[i].Gap, out[i].Left, out[i].Right = b.gap, b.left, b.right
				}
			}
		}
	})
	return out, ctx.Err()
}

// keep inserts a candidate into the best few.
func keep(top [refineStart]candidate, count int, b candidate) ([refineStart]candidate, int) {
	for k := range top {
		if k >= count || b.gap.Gap < top[k].gap.Gap {
			copy(top[k+1:], top[k:])
			top[k] = b
			return top, min(count+1, refineStart)
		}
	}
	return top, count
}

// rows are the positions to try: the grid's rows (those outside are passed over later) and the outline in runs.
func (r *Range) rows(n int) [][]Corner {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	var edge []Corner
	for i := range r.Edge {
		e := &r.Edge[i]
		lo[0], hi[0] = math.Min(lo[0], e.Left), math.Max(hi[0], e.Left)
		lo[1], hi[1] = math.Min(lo[1], e.Right), math.Max(hi[1], e.Right)
		edge = append(edge, Corner{e.Left, e.Right})
	}
	for _, c := range []*Corner{r.LeftUp, r.RightUp} {
		if c != nil {
			edge = append(edge, *c)
		}
	}
	var rows [][]Corner
	for i := range n {
		row := make([]Corner, n)
		for k := range n {
			row[k] = Corner{lo[0] + (hi[0]-lo[0])*float64(i)/float64(n-1), lo[1] + (hi[1]-lo[1])*float64(k)/float64(n-1)}
		}
		rows = append(rows, row)
	}
	const run = 16
	for len(edge) > 0 {
		k := min(run, len(edge))
		rows = append(rows, edge[:k])
		edge = edge[k:]
	}
	return rows
}

// probe is one goroutine's work space for gaps.
type probe struct {
	m      *motion.Mechanism
	c      *clearance.Model
	solver *motion.Solver
	sc     *clearance.Scratch
	uses   []quantity.LinkUse // nil where no link is bent: then spins do not count
	ride   motion.Pose
	sharp  []motion.Pose // where two limits meet on the outline; nil: not yet asked for
}

func newProbe(m *motion.Mechanism, c *clearance.Model) *probe {
	w := &probe{m: m, c: c, solver: m.NewSolver(), sc: c.NewScratch(), ride: m.Ride()}
	if c.Bent() {
		w.uses = make([]quantity.LinkUse, len(m.Links))
	}
	return w
}

func (w *probe) place(p *motion.Pose) {
	if w.uses != nil {
		quantity.Links(w.m, p, w.uses)
	}
	w.sc.Place(p, w.uses)
}

// row measures every pair at the positions of a row that lie inside the range. Positions that cannot be below the seed's gap of a pair are passed over.
func (w *probe) row(r *Range, row []Corner, seed []candidate) []candidate {
	best := make([]candidate, len(w.c.Pairs))
	limit := make([]float64, len(best))
	for i := range best {
		best[i].gap.Gap = math.Inf(1)
		limit[i] = math.Inf(1)
		if seed != nil {
			limit[i] = seed[i].gap.Gap
		}
	}
	last := w.ride
	var p motion.Pose
	var g clearance.Gap
	for _, c := range row {
		if r.wellOutside(c.Left, c.Right) {
			continue
		}
		if !w.solver.Near(&last, c.Left, c.Right, rowTries, &p) {
			continue
		}
		last = p
		if !r.inside(&p) {
			continue
		}
		w.place(&p)
		for i := range best {
			if w.sc.AtLeast(i) >= limit[i] {
				continue
			}
			w.sc.Gap(i, &g)
			if g.Gap < best[i].gap.Gap {
				best[i] = candidate{g, c.Left, c.Right}
				limit[i] = math.Min(limit[i], g.Gap)
			}
		}
	}
	return best
}

// corners searches on from the lowest of the range's corners where one is lower than what a search came to: into a sharp one it does not find, the gap being no lower a step before it.
func (w *probe) corners(ctx context.Context, r *Range, pair int, b candidate, grid int) candidate {
	if w.sharp == nil {
		w.sharp = []motion.Pose{w.ride}
		for i := range r.Edge {
			for _, k := range [2]int{i, (i + 1) % len(r.Edge)} {
				var p motion.Pose
				if e, n := &r.Edge[i], &r.Edge[(i+1)%len(r.Edge)]; (e.Cause != n.Cause || e.Index != n.Index) && w.solver.Solve(r.Edge[k].Left, r.Edge[k].Right, &p) == nil && r.inside(&p) {
					w.sharp = append(w.sharp, p)
				}
			}
		}
	}
	low := b
	for i := range w.sharp {
		p := &w.sharp[i]
		if w.sc.PlacePair(pair, p); w.sc.AtLeast(pair) >= low.gap.Gap-refineGain {
			continue
		}
		var g clearance.Gap
		if w.sc.Gap(pair, &g); g.Gap < low.gap.Gap-refineGain {
			low = candidate{g, p.Left, p.Right}
		}
	}
	if low.gap.Gap < b.gap.Gap {
		return w.refine(ctx, r, pair, low, grid)
	}
	return b
}

// refine searches on from a position in steps that are halved when none of eight neighbours is better. A neighbour outside the range is brought
// back to the outline along its ray.
func (w *probe) refine(ctx context.Context, r *Range, pair int, b candidate, grid int) candidate {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range r.Edge {
		lo, hi = math.Min(lo, r.Edge[i].Left), math.Max(hi, r.Edge[i].Left)
	}
	var p motion.Pose
	var g clearance.Gap
	at := w.ride
	if w.solver.Solve(b.left, b.right, &at) != nil {
		return b
	}
	step := (hi - lo) / float64(grid)
	for n := 0; n < refineMost && step > refineLeast && ctx.Err() == nil; n++ {
		better := false
		base := b
		for _, d := range [8][2]float64{{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {1, 1}, {-1, -1}, {1, -1}, {-1, 1}} {
			l, rr := base.left+step*d[0], base.right+step*d[1]
			if !r.Try(w.solver, &at, l, rr, 2*step, &p) {
				continue
			}
			w.sc.PlacePair(pair, &p)
			w.sc.Gap(pair, &g)
			if g.Gap < b.gap.Gap-refineGain {
				b, better = candidate{g, p.Left, p.Right}, true
			}
		}
		if !better {
			step /= 2
			continue
		}
		if w.solver.SolveFrom(&at, b.left, b.right, &p) == nil {
			at = p
		}
	}
	return b
}
