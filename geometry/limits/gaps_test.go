package limits_test

import (
	"context"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var closely = clearance.Closeness{Width: 0.5, Far: 150, Most: 4000}

// The tightest pairs of an independent calculation (found by dense search and refinement, printed to 0.01 mm), each with its proof.
func TestDemoGapsAreProved(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			m, c, f := demo(t, name)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			how := limits.Search{Grid: 41, Refine: true, Workers: 2}
			all, err := limits.Gaps(context.Background(), m, c, r, closely, how)
			require.NoError(t, err)
			how.Workers = 1
			again, err := limits.Gaps(context.Background(), m, c, r, closely, how)
			require.NoError(t, err)
			require.Equal(t, all, again, "the same bits however many workers")
			require.NotEmpty(t, f.Pairs)
			for _, w := range f.Pairs {
				found := false
				for i, p := range c.Pairs {
					a, b := c.Parts[p.A].Name, c.Parts[p.B].Name
					if (a == w.A && b == w.B) || (a == w.B && b == w.A) {
						found = true
						assert.Empty(t, all[i].Why)
						assert.InDelta(t, w.Gap, all[i].Gap.Gap, 0.011, "%s / %s", a, b)
						assert.InDelta(t, w.Ride, all[i].AtRide, 0.051, "%s / %s", a, b)
						assert.LessOrEqual(t, all[i].NotLess, all[i].Gap.Gap, "%s / %s", a, b)
						assert.LessOrEqual(t, all[i].Gap.Gap-all[i].NotLess, closely.Width+1e-6, "%s / %s", a, b)
					}
				}
				assert.True(t, found, "%s / %s", w.A, w.B)
			}
		})
	}
}

// Where no proof can be had the figures are those of the search, and it is said why.
func TestGapsWithoutProofAreSearchedFor(t *testing.T) {
	j := demoJob(t, "rescue-tender") // links so nearly in line that they hold the axle poorly
	j.Links[0].Frame[1] = j.Links[0].Axle[1]
	j.Links[1].Frame[1] = j.Links[1].Axle[1] + 2
	m, err := motion.Compile(j)
	require.NoError(t, err)
	c, err := clearance.Compile(j, m)
	require.NoError(t, err)
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	how := limits.Search{Grid: 15, Workers: 2}
	all, err := limits.Gaps(context.Background(), m, c, r, closely, how)
	require.NoError(t, err)
	found, err := limits.Smallest(context.Background(), m, c, r, how)
	require.NoError(t, err)
	require.Len(t, all, len(c.Pairs))
	for i := range all {
		assert.NotEmpty(t, all[i].Why)
		assert.Equal(t, found[i], all[i].Smallest)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = limits.Gaps(ctx, m, c, r, closely, how)
	assert.ErrorIs(t, err, context.Canceled)
}

// At no place of the outline is a gap lower than the one a search from the proof's came to, the sharp corners where two limits meet not left out.
func TestNothingIsLowerOnTheOutline(t *testing.T) {
	corners := 0
	for _, name := range assets.Demos() {
		m, c, _ := demo(t, name)
		r, err := limits.Find(m, 96)
		require.NoError(t, err)
		pairs, err := limits.Gaps(context.Background(), m, c, r, clearance.Closeness{Width: 0.5, Far: 150, Most: 20_000}, limits.Search{Grid: 25, Refine: true, Workers: 2})
		require.NoError(t, err)
		solver, sc := m.NewSolver(), c.NewScratch()
		var p motion.Pose
		var g clearance.Gap
		for e := range r.Edge {
			if require.NoError(t, solver.Solve(r.Edge[e].Left, r.Edge[e].Right, &p)); !r.Within(&p) {
				continue
			}
			if n := &r.Edge[(e+1)%len(r.Edge)]; n.Cause != r.Edge[e].Cause || n.Index != r.Edge[e].Index {
				corners++
			}
			for i := range pairs {
				if pairs[i].Gap.Gap > 150 {
					continue
				}
				if sc.PlacePair(i, &p); sc.AtLeast(i) >= pairs[i].Gap.Gap {
					continue
				}
				sc.Gap(i, &g)
				assert.Greater(t, g.Gap, pairs[i].Gap.Gap-1e-3, "%s: %s / %s at %v, %v", name, c.Parts[c.Pairs[i].A].Name, c.Parts[c.Pairs[i].B].Name, p.Left, p.Right)
			}
		}
	}
	assert.Greater(t, corners, 8)
}
