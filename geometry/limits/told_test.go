package limits_test

import (
	"context"
	"math"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// provedPairs are all pairs of a job, proved to half a millimetre and searched on.
func provedPairs(t *testing.T, j *job.Job) (*motion.Mechanism, *clearance.Model, *limits.Range, []limits.Proved) {
	t.Helper()
	m, err := motion.Compile(j)
	require.NoError(t, err)
	c, err := clearance.Compile(j, m)
	require.NoError(t, err)
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	pairs, err := limits.Gaps(context.Background(), m, c, r, everyPair, limits.Search{Grid: 41, Refine: true, Workers: 2})
	require.NoError(t, err)
	return m, c, r, pairs
}

func pairNamed(t *testing.T, c *clearance.Model, a, b string) int {
	t.Helper()
	for i, p := range c.Pairs {
		x, y := c.Parts[p.A].Name, c.Parts[p.B].Name
		if x == a && y == b || x == b && y == a {
			return i
		}
	}
	require.Fail(t, "no pair "+a+" / "+b)
	return -1
}

// The ten tightest pairs of each demo by an independent calculation (poses by least squares or least energy, gaps by dense search and refinement, found within 0.005 mm and printed to 0.01, their
// positions to 0.1 mm): its figure lies within what is proved, and either its position is ours or the gap there is as small.
func TestTightestPairsAreWhereTheyAreTold(t *testing.T) {
	const printed = 0.011 // mm: of a gap, its own error included
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			_, _, f := demo(t, name)
			require.Len(t, f.Pairs, 10)
			m, c, r, all := provedPairs(t, demoJob(t, name))
			solver, sc, uses := m.NewSolver(), c.NewScratch(), make([]quantity.LinkUse, len(m.Links))
			var p motion.Pose
			var g clearance.Gap
			for _, w := range f.Pairs {
				i := pairNamed(t, c, w.A, w.B)
				k, what := &all[i], pairName(c, i)
				require.Empty(t, k.Why, what)
				assert.Equal(t, w.Required, c.Pairs[i].Required, what)
				assert.InDelta(t, w.Ride, k.AtRide, 0.051, what)
				assert.InDelta(t, w.Gap, k.Gap.Gap, printed, what)
				assert.LessOrEqual(t, k.NotLess, w.Gap+printed, what)
				assert.LessOrEqual(t, w.Gap-k.NotLess, everyPair.Width+printed, what)
				if math.Hypot(k.Left-w.Left, k.Right-w.Right) < 0.15 {
					continue
				}
				l, rr, _ := r.Clamp(w.Left, w.Right) // its printed digits may lie just outside
				require.InDelta(t, 0, math.Hypot(l-w.Left, rr-w.Right), 0.15, what)
				require.NoError(t, solver.Solve(l, rr, &p), what)
				quantity.Links(m, &p, uses)
				sc.Place(&p, uses)
				sc.Gap(i, &g)
				assert.InDelta(t, w.Gap, g.Gap, 0.05, "%s: ours at %.1f, %.1f", what, k.Left, k.Right)
			}
			// No pair is tighter against what is wanted of it than the list's last but for those on it.
			last := math.Inf(-1)
			on := map[int]bool{}
			for _, w := range f.Pairs {
				last = math.Max(last, w.Gap-w.Required)
				on[pairNamed(t, c, w.A, w.B)] = true
			}
			for i := range all {
				if !on[i] {
					assert.GreaterOrEqual(t, all[i].Gap.Gap-c.Pairs[i].Required, last-printed, pairName(c, i))
				}
			}
		})
	}
}

// What the demo vehicles are there to show of gaps, by the same independent calculation, printed to 0.1 mm; each with its proof.
func TestDemoStoriesOfGaps(t *testing.T) {
	is := func(t *testing.T, c *clearance.Model, all []limits.Proved, a, b string, want float64) {
		t.Helper()
		i := pairNamed(t, c, a, b)
		require.Empty(t, all[i].Why)
		assert.InDelta(t, want, all[i].Gap.Gap, 0.06, "%s / %s", a, b)
		assert.LessOrEqual(t, all[i].NotLess, all[i].Gap.Gap)
		assert.LessOrEqual(t, all[i].Gap.Gap-all[i].NotLess, everyPair.Width+1e-6)
	}
	// The sprayer's Panhard rod 55 mm lower at both ends: the overlap with the tank shelf becomes a gap, the gap to the housing becomes smaller.
	sprayer := demoJob(t, "orchard-sprayer")
	_, c, _, all := provedPairs(t, sprayer)
	is(t, c, all, "Panhard rod", "Tank shelf", -29.1)
	is(t, c, all, "Panhard rod", "Housing", 24.8)
	lowered := 0
	for i := range sprayer.Links {
		if l := &sprayer.Links[i]; l.Name == "Panhard rod" {
			l.Frame[2] -= 55
			l.Axle[2] -= 55
			lowered++
		}
	}
	require.Equal(t, 1, lowered)
	_, c, _, all = provedPairs(t, sprayer)
	is(t, c, all, "Panhard rod", "Tank shelf", 25.6)
	is(t, c, all, "Panhard rod", "Housing", 22.7)
	// The tender's trial.
	tender := demoJob(t, "rescue-tender")
	_, c, r, all := provedPairs(t, tender)
	is(t, c, all, "Upper left", "Side tank", 10.2)
	is(t, c, all, "Driveshaft", "Side tank", -1.1)
	k := all[pairNamed(t, c, "Upper left", "Side tank")]
	assert.InDelta(t, -r.Droop, k.Left, 0.1, "at full droop")
	assert.InDelta(t, -r.Droop, k.Right, 0.1, "at full droop")
	tender, err := tender.WithTrial("Uppers raised 24")
	require.NoError(t, err)
	_, c, _, all = provedPairs(t, tender)
	is(t, c, all, "Upper left", "Side tank", 25.3)
	is(t, c, all, "Driveshaft", "Side tank", 1.0)
}
