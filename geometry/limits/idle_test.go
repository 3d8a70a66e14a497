package limits_test

import (
	"context"
	"math"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The bound is not idle: of every pair that is not stopped as far apart, what is found is a true position of the range with that gap, worked out anew, and is within the width of the bound,
// however narrow the width; and proofs of different widths fit each other.
func TestProofsOfEveryWidth(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			m, c, _ := demo(t, name)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			solver, sc, uses := m.NewSolver(), c.NewScratch(), make([]quantity.LinkUse, len(m.Links))
			var p motion.Pose
			var g clearance.Gap
			proofs := map[float64][]limits.Proved{}
			for _, width := range []float64{0.1, 0.5, 2, 5} {
				for _, far := range []float64{150, math.Inf(1)} {
					pairs, why, err := limits.Prove(context.Background(), m, c, r, clearance.Closeness{Width: width, Far: far, Most: 100_000}, 2)
					require.NoError(t, err)
					require.Empty(t, why)
					for i := range pairs {
						k := &pairs[i]
						what := pairName(c, i)
						require.Empty(t, k.Why, what)
						require.LessOrEqual(t, k.NotLess, k.Gap.Gap, what)
						if k.NotLess < far {
							require.LessOrEqual(t, k.Gap.Gap-k.NotLess, width+1e-6, what)
						}
						require.NoError(t, solver.Solve(k.Left, k.Right, &p), what)
						require.True(t, r.Within(&p), what)
						quantity.Links(m, &p, uses)
						sc.Place(&p, uses)
						sc.Gap(i, &g)
						require.InDelta(t, k.Gap.Gap, g.Gap, 1e-6, what)
					}
					if math.IsInf(far, 1) {
						proofs[width] = pairs
					}
				}
			}
			for narrow, a := range proofs {
				for wide, b := range proofs {
					if narrow >= wide {
						continue
					}
					for i := range a { // both hold the one true gap
						require.LessOrEqual(t, b[i].NotLess, a[i].Gap.Gap, "%s: %v in %v", pairName(c, i), narrow, wide)
						require.LessOrEqual(t, a[i].NotLess, b[i].Gap.Gap, "%s: %v in %v", pairName(c, i), narrow, wide)
						require.LessOrEqual(t, a[i].Gap.Gap, b[i].Gap.Gap+narrow, "%s: a narrower proof finds no worse than its width", pairName(c, i))
					}
				}
			}
		})
	}
}

func pairName(c *clearance.Model, i int) string {
	p := c.Pairs[i]
	return c.Parts[p.A].Name + " / " + c.Parts[p.B].Name
}

// A grid of positions over 24 mm round what the search on from the proof found, another over 1 mm round the grid's best, a third over 0.05 mm: none is below the bound, and none below what was
// found by more than a hundredth (of gaps over 100 mm a tenth). Of every pair that comes nearer than 150 mm. The grids are 25 x 25; 401 x 401 where AXLELOFT_LONG is set.
func TestDenseSearchGetsNoLower(t *testing.T) {
	n := long(25, 401)
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			m, c, _ := demo(t, name)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			pairs, err := limits.Gaps(context.Background(), m, c, r, closely, limits.Search{Grid: 41, Refine: true, Workers: 2})
			require.NoError(t, err)
			lowest := make([]float64, len(pairs))
			limits.Spread(2, len(pairs), func() func(int) {
				solver, sc, uses := m.NewSolver(), c.NewScratch(), make([]quantity.LinkUse, len(m.Links))
				var p, at motion.Pose
				var g clearance.Gap
				return func(i int) {
					k := &pairs[i]
					lowest[i] = math.Inf(1)
					if k.Gap.Gap >= 150 || solver.Solve(k.Left, k.Right, &at) != nil {
						return
					}
					left, right := k.Left, k.Right
					for _, half := range []float64{24, 1, 0.05} {
						l0, r0 := left, right
						for a := range n * n {
							l, rr := l0+half*(2*float64(a%n)/float64(n-1)-1), r0+half*(2*float64(a/n)/float64(n-1)-1)
							if !solver.Near(&at, l, rr, 20, &p) || !r.Within(&p) {
								continue
							}
							quantity.Links(m, &p, uses)
							sc.Place(&p, uses)
							if sc.AtLeast(i) >= lowest[i] {
								continue
							}
							if sc.Gap(i, &g); g.Gap < lowest[i] {
								lowest[i], left, right = g.Gap, l, rr
							}
						}
					}
				}
			})
			searched, worst := 0, math.Inf(-1)
			for i := range pairs {
				k := &pairs[i]
				if math.IsInf(lowest[i], 1) {
					require.GreaterOrEqual(t, k.Gap.Gap, 150.0, pairName(c, i))
					continue
				}
				searched++
				assert.GreaterOrEqual(t, lowest[i], k.NotLess, pairName(c, i))
				near := 0.01
				if k.Gap.Gap > 100 {
					near = 0.1 // a search on may stop short in a corner of the range
				}
				assert.GreaterOrEqual(t, lowest[i], k.Gap.Gap-near, pairName(c, i))
				worst = math.Max(worst, k.Gap.Gap-lowest[i])
			}
			assert.Greater(t, searched, 30)
			t.Logf("%d pairs; lower than found by %.2g mm at most", searched, worst)
		})
	}
}
