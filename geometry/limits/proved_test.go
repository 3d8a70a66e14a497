package limits_test

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is proved and what a search finds must fit: the search cannot go below the bound, and finds what the proof found within the proof's width (and the search's own miss).
func TestProveAgainstSearch(t *testing.T) {
	how := clearance.Closeness{Width: 0.5, Far: math.Inf(1), Most: 20_000}
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			m, c, _ := demo(t, name)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			one, why, err := limits.Prove(context.Background(), m, c, r, how, 1)
			require.NoError(t, err)
			require.Empty(t, why)
			three, _, err := limits.Prove(context.Background(), m, c, r, how, 3)
			require.NoError(t, err)
			assert.Equal(t, one, three, "the same bits however many workers")
			found, err := limits.Smallest(context.Background(), m, c, r, limits.Search{Grid: 21, Refine: true, Workers: 1})
			require.NoError(t, err)
			for i := range one {
				p := &c.Pairs[i]
				what := c.Parts[p.A].Name + " / " + c.Parts[p.B].Name
				require.Empty(t, one[i].Why, what)
				assert.LessOrEqual(t, one[i].NotLess, found[i].Gap.Gap, what)
				assert.LessOrEqual(t, one[i].Gap.Gap-one[i].NotLess, 0.5+1e-6, what)
				assert.Equal(t, found[i].AtRide, one[i].AtRide, what)
				assert.True(t, r.Contains(one[i].Left, one[i].Right), what)
			}
			far, _, err := limits.Prove(context.Background(), m, c, r, clearance.Closeness{Width: 0.5, Far: 150, Most: 20_000}, 1)
			require.NoError(t, err)
			stopped := 0
			for i := range far {
				assert.LessOrEqual(t, far[i].NotLess, found[i].Gap.Gap)
				if far[i].Gap.Gap-far[i].NotLess > 0.5+1e-6 {
					stopped++
					assert.GreaterOrEqual(t, far[i].NotLess, 150.0)
				}
			}
			assert.Greater(t, stopped, 10)
		})
	}
}

// Vehicles whose pivots lie up to 60 mm from the demos': all proved, and no random position is below.
func TestProveOfRandomVehicles(t *testing.T) {
	how := clearance.Closeness{Width: 0.5, Far: math.Inf(1), Most: 20_000}
	n, unproved := long(12, 60), 0
	if testing.Short() {
		n = 6
	}
	shaken(t, n, func(t *testing.T, m *motion.Mechanism, c *clearance.Model, r *limits.Range, rnd *rand.Rand) {
		pairs, why, err := limits.Prove(context.Background(), m, c, r, how, 2)
		require.NoError(t, err)
		if why != "" {
			unproved++
			require.Less(t, m.Singular, 0.1, "only what is poorly held")
			return
		}
		for i := range pairs {
			require.Empty(t, pairs[i].Why)
			require.LessOrEqual(t, pairs[i].Gap.Gap-pairs[i].NotLess, how.Width+1e-6)
		}
		s, solver, last := c.NewScratch(), m.NewSolver(), m.Ride()
		var p motion.Pose
		var g clearance.Gap
		for range 150 {
			if !solver.Near(&last, 400*rnd.Float64()-200, 400*rnd.Float64()-200, 60, &p) || !inLimits(m, &p) {
				continue
			}
			last = p
			if len(pairs) > 0 && pairs[0].Rest > 0 && fromEdge(r, p.Left, p.Right) <= pairs[0].Rest {
				continue
			}
			s.Place(&p, nil)
			for i := range pairs {
				if s.AtLeast(i) < pairs[i].NotLess {
					s.Gap(i, &g)
					require.GreaterOrEqual(t, g.Gap, pairs[i].NotLess)
				}
			}
		}
	})
	assert.LessOrEqual(t, unproved, n/30)
}

// Every layout: what a coarse search finds is nowhere below, and the proof comes as close as asked.
func TestProveOfEveryLayout(t *testing.T) {
	files, err := filepath.Glob("../../testdata/layouts/*.axleloft")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".axleloft"), func(t *testing.T) {
			b, err := os.ReadFile(file)
			require.NoError(t, err)
			j, err := job.Read(bytes.NewReader(b))
			require.NoError(t, err)
			m, err := motion.Compile(j)
			require.NoError(t, err)
			c, err := clearance.Compile(j, m)
			require.NoError(t, err)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			pairs, why, err := limits.Prove(context.Background(), m, c, r, clearance.Closeness{Width: 0.5, Far: 150, Most: 20_000}, 2)
			require.NoError(t, err)
			require.Empty(t, why)
			found, err := limits.Smallest(context.Background(), m, c, r, limits.Search{Grid: 11, Workers: 2})
			require.NoError(t, err)
			for i := range pairs {
				p := &c.Pairs[i]
				what := c.Parts[p.A].Name + " / " + c.Parts[p.B].Name
				require.Empty(t, pairs[i].Why, what)
				require.LessOrEqual(t, pairs[i].NotLess, found[i].Gap.Gap, what)
				require.True(t, pairs[i].NotLess >= 150 || pairs[i].Gap.Gap-pairs[i].NotLess <= 0.5+1e-6, what)
			}
		})
	}
}

func TestProveSaysWhyNot(t *testing.T) {
	j := demoJob(t, "rescue-tender") // links so nearly in line that they hold the axle poorly
	j.Links[0].Frame[1] = j.Links[0].Axle[1]
	j.Links[1].Frame[1] = j.Links[1].Axle[1] + 2
	m, err := motion.Compile(j)
	require.NoError(t, err)
	c, err := clearance.Compile(j, m)
	require.NoError(t, err)
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	pairs, why, err := limits.Prove(context.Background(), m, c, r, clearance.Closeness{Width: 0.5, Far: math.Inf(1), Most: 1000}, 1)
	require.NoError(t, err)
	assert.Empty(t, pairs)
	assert.Contains(t, why, "the links hold the axle poorly")

	m, c, _ = demo(t, "rescue-tender")
	r, err = limits.Find(m, 96)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, _, err = limits.Prove(ctx, m, c, r, clearance.Closeness{Width: 0.5, Far: math.Inf(1), Most: 1000}, 2)
	assert.ErrorIs(t, err, context.Canceled)
}

func BenchmarkProve(b *testing.B) {
	for _, name := range assets.Demos() {
		for _, far := range []float64{150, math.Inf(1)} {
			label := name + " all"
			if far < 1e9 {
				label = name + " to 150 mm"
			}
			b.Run(label, func(b *testing.B) {
				m, c, _ := demo(b, name)
				r, err := limits.Find(m, 96)
				require.NoError(b, err)
				for b.Loop() {
					_, _, err := limits.Prove(context.Background(), m, c, r, clearance.Closeness{Width: 0.5, Far: far, Most: 20_000}, 1)
					require.NoError(b, err)
				}
			})
		}
	}
}
