package study

import (
	"context"
	"fmt"
	"math"
	"runtime"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// Field is a reading over the range, on a grid of N by N positions of the smallest box round it.
type Field struct {
	Reading
	N           int
	Left, Right []float64 // mm of travel: Values[i*N+k] is at Left[i], Right[k]
	Values      []float64 // in the reading's unit; NaN outside the range and where there is none
	// Beyond is Values with figures also at the positions next to the range that the links can reach, so that a line drawn through them runs up to
	// the range's edge, where it must be cut.
	Beyond   []float64
	Min, Max float64 // of Values, NaN where there is none
}

// At is a value between the grid's positions, straight from its four neighbours; NaN where one of them is.
func (f *Field) At(left, right float64) float64 {
	along := func(v []float64, x float64) (int, float64) {
		t := (x - v[0]) / (v[f.N-1] - v[0]) * float64(f.N-1)
		i := min(max(int(t), 0), f.N-2)
		return i, t - float64(i)
	}
	i, a := along(f.Left, left)
	k, b := along(f.Right, right)
	v := f.Beyond[i*f.N+k:]
	w := f.Beyond[(i+1)*f.N+k:]
	return (1-a)*((1-b)*v[0]+b*v[1]) + a*((1-b)*w[0]+b*w[1])
}

// grid is every position of a box round the range, row by row: what fields and clocking are worked out at.
type grid struct {
	n           int
	left, right []float64
	have, in    []bool
	poses       []motion.Pose
}

// leastField is the coarsest grid a field is drawn on.
const leastField = 3

// Field is the values of a reading on an n by n grid over the range, of the load that is heaviest where it depends on the load; nil where there is no
// range, no such reading or the context is cancelled. It is kept: asked again it costs nothing. Safe for concurrent use.
func (s *Study) Field(ctx context.Context, key string, n int) *Field {
	return s.FieldOf(ctx, key, s.Laden(), n)
}

// FieldOf is Field for a load by its index; what does not depend on the load is the same for all of them.
func (s *Study) FieldOf(ctx context.Context, key string, load, n int) *Field {
	r, ok := ReadingOf(key)
	if !ok || !s.Bounded() || n < leastField || load < 0 || load >= len(s.Loads) {
		return nil
	}
	if !r.PerLoad {
		load = 0
	}
	return s.fieldBy(ctx, fmt.Sprintf("%s/%d", key, load), &r, n, func() func(*motion.Pose) float64 { return s.reader(&r, load) })
}

// PairField is the gap of one pair on an n by n grid over the range, as Field is of a reading; nil also where there is no such pair.
func (s *Study) PairField(ctx context.Context, pair, n int) *Field {
	if !s.Bounded() || s.Gaps == nil || pair < 0 || pair >= len(s.Gaps.Pairs) || n < leastField {
		return nil
	}
	a, b := s.PairNames(pair)
	r := Reading{Key: "pair", Title: words.F("Gap of %s / %s", a, Lower(b)), Unit: "mm", Down: words.T("overlap"), BandLo: math.NaN(), BandHi: math.NaN()}
	return s.fieldBy(ctx, words.F("pair %d", pair), &r, n, func() func(*motion.Pose) float64 {
		sc := s.Gaps.NewScratch()
		return func(p *motion.Pose) float64 {
			sc.PlacePair(pair, p)
			var g clearance.Gap
			sc.Gap(pair, &g)
			return g.Gap
		}
	})
}

// fieldBy works a field out, unless it is known by what it is of; reader returns a function that reads a solved position, for one goroutine.
func (s *Study) fieldBy(ctx context.Context, of string, r *Reading, n int, reader func() func(*motion.Pose) float64) *Field {
	s.gridMu.Lock()
	defer s.gridMu.Unlock()
	id := fmt.Sprintf("%s/%d", of, n)
	if f, ok := s.fields[id]; ok {
		return f
	}
	g := s.grid(ctx, n)
	if g == nil {
		return nil
	}
	f := &Field{Reading: *r, N: n, Left: g.left, Right: g.right, Values: make([]float64, n*n), Beyond: make([]float64, n*n)}
	limits.Spread(s.cores(), n, func() func(int) {
		of := reader()
		return func(i int) {
			for k := range n {
				at := i*n + k
				f.Values[at], f.Beyond[at] = math.NaN(), math.NaN()
				if !g.have[at] || ctx.Err() != nil {
					continue
				}
				f.Beyond[at] = of(&g.poses[at])
				if g.in[at] {
					f.Values[at] = f.Beyond[at]
				}
			}
		}
	})
	if ctx.Err() != nil {
		return nil
	}
	e := newExtent()
	for _, v := range f.Values {
		e.add(v, 0, 0)
	}
	f.Min, f.Max = math.NaN(), math.NaN()
	if e.Known() {
		f.Min, f.Max = e.Min, e.Max
	}
	s.fields[id] = f
	return f
}

// cores is how many goroutines work that no figure depends on may use.
func (s *Study) cores() int {
	if s.workers > 0 {
		return s.workers
	}
	return runtime.GOMAXPROCS(0)
}

// grid solves the positions once for each size; nil where the context is cancelled. The caller holds gridMu.
func (s *Study) grid(ctx context.Context, n int) *grid {
	if g, ok := s.grids[n]; ok {
		return g
	}
	lo, hi := s.Range.Box()
	g := &grid{n: n, left: steps(lo.Left, hi.Left, n), right: steps(lo.Right, hi.Right, n),
		have: make([]bool, n*n), in: make([]bool, n*n), poses: make([]motion.Pose, n*n)}
	limits.Spread(s.cores(), n, func() func(int) {
		solver := s.Mech.NewSolver()
		return func(i int) {
			if ctx.Err() != nil {
				return
			}
			s.Range.Row(solver, g.left[i], g.right, func(k int, in bool, p *motion.Pose) {
				at := i*n + k
				g.have[at], g.in[at], g.poses[at] = true, in, *p
			})
		}
	})
	if ctx.Err() != nil {
		return nil
	}
	// of what lies outside, only what is next to the range counts
	keep := make([]bool, n*n)
	for at := range g.in {
		i, k := at/n, at%n
		for a := max(i-1, 0); a <= min(i+1, n-1); a++ {
			for b := max(k-1, 0); b <= min(k+1, n-1); b++ {
				keep[at] = keep[at] || g.in[a*n+b]
			}
		}
	}
	for at := range g.have {
		g.have[at] = g.have[at] && keep[at]
	}
	s.grids[n] = g
	return g
}

// steps are n numbers from lo to hi.
func steps(lo, hi float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = lo + (hi-lo)*float64(i)/float64(n-1)
	}
	return out
}

// reader returns a function that reads a solved position, for one goroutine.
func (s *Study) reader(r *Reading, load int) func(*motion.Pose) float64 {
	solver := s.Mech.NewSolver()
	vals := quantity.NewValues(s.Mech)
	var rates motion.Rates
	eval := func(p *motion.Pose) bool {
		if solver.Rates(p, &rates) != nil {
			return false
		}
		quantity.Eval(s.Mech, p, &rates, &s.Loads[load], vals)
		return true
	}
	if r.of != nil {
		return func(p *motion.Pose) float64 {
			if !eval(p) {
				return math.NaN()
			}
			return r.of(vals)
		}
	}
	if s.Gaps == nil || len(s.Gaps.Pairs) == 0 {
		return func(*motion.Pose) float64 { return math.NaN() }
	}
	sc := s.Gaps.NewScratch()
	return func(p *motion.Pose) float64 {
		if !eval(p) {
			return math.NaN()
		}
		sc.Place(p, vals.Links)
		_, gap := s.tightest(sc, r.Key == keySpare)
		return gap
	}
}

// tightest is the pair of smallest gap, or of least gap to spare, at the position placed last, and that number; -1 and NaN where nothing is tested.
func (s *Study) tightest(sc *clearance.Scratch, spare bool) (pair int, least float64) {
	pair, least = -1, math.Inf(1)
	var g clearance.Gap
	for i := range s.Gaps.Pairs {
		wanted := 0.0
		if spare {
			wanted = s.Gaps.Pairs[i].Required
		}
		if sc.AtLeast(i)-wanted >= least {
			continue
		}
		if sc.Gap(i, &g); g.Gap-wanted < least {
			pair, least = i, g.Gap-wanted
		}
	}
	if pair < 0 {
		least = math.NaN()
	}
	return pair, least
}
