package limits_test

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type figures struct {
	Range struct {
		Bump, Droop     float64
		LeftUp, RightUp [2]float64
	}
	Stops []struct {
		Angle       float64
		What        string
		Left, Right float64
	}
	Pairs []struct {
		A, B                             string
		Gap, Left, Right, Ride, Required float64
	}
}

func demo(t testing.TB, name string) (*motion.Mechanism, *clearance.Model, figures) {
	t.Helper()
	j := demoJob(t, name)
	m, err := motion.Compile(j)
	require.NoError(t, err)
	c, err := clearance.Compile(j, m)
	require.NoError(t, err)
	b, err := os.ReadFile("../../testdata/demos/figures.json")
	require.NoError(t, err)
	var all map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(b, &all))
	var f figures
	require.NoError(t, json.Unmarshal(all[name], &f))
	return m, c, f
}

func demoJob(t testing.TB, name string) *job.Job {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	return j
}

// Ranges of an independent calculation, printed to three decimals.
func TestDemoRange(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			m, _, f := demo(t, name)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			require.True(t, r.Bounded)
			const tol = 0.0006
			assert.InDelta(t, f.Range.Bump, r.Bump, tol)
			assert.InDelta(t, f.Range.Droop, r.Droop, tol)
			assert.InDelta(t, f.Range.LeftUp[0], r.LeftUp.Left, tol)
			assert.InDelta(t, f.Range.LeftUp[1], r.LeftUp.Right, tol)
			assert.InDelta(t, f.Range.RightUp[0], r.RightUp.Left, tol)
			assert.InDelta(t, f.Range.RightUp[1], r.RightUp.Right, tol)
			for _, e := range r.Edge {
				assert.True(t, r.Contains(e.Left, e.Right), "%v", e)
				assert.False(t, r.Contains(e.Left*1.001, e.Right*1.001), "%v", e)
			}
		})
	}
}

// First stops of an independent calculation, printed to 0.01 mm. Where two twins are met together, which is named is round-off's choice.
func TestDemoRing(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			m, c, f := demo(t, name)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			ring, err := limits.Ring(context.Background(), m, c, r, 2)
			require.NoError(t, err)
			require.Len(t, ring, 24)
			for _, w := range f.Stops {
				ray := ring[int(w.Angle/15)]
				require.Equal(t, w.Angle, ray.Angle)
				require.NotEmpty(t, ray.By)
				first := ray.By[0]
				if len(ray.By) > 1 && math.Hypot(ray.By[1].Left-first.Left, ray.By[1].Right-first.Right) < 0.01 && ray.By[1].What == w.What {
					first = ray.By[1]
				}
				assert.Equal(t, w.What, first.What, "at %v deg", w.Angle)
				assert.InDelta(t, w.Left, first.Left, 0.006, "at %v deg", w.Angle)
				assert.InDelta(t, w.Right, first.Right, 0.006, "at %v deg", w.Angle)
				for i := 1; i < len(ray.By); i++ {
					assert.LessOrEqual(t, math.Hypot(ray.By[i-1].Left, ray.By[i-1].Right), math.Hypot(ray.By[i].Left, ray.By[i].Right)+1e-6)
				}
			}
		})
	}
}

// Tightest pairs of an independent calculation: found by dense search and refinement, printed to 0.01 mm.
func TestDemoSmallest(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			m, c, f := demo(t, name)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			all, err := limits.Smallest(context.Background(), m, c, r, limits.Search{Grid: 41, Refine: true, Workers: 2})
			require.NoError(t, err)
			again, err := limits.Smallest(context.Background(), m, c, r, limits.Search{Grid: 41, Refine: true, Workers: 1})
			require.NoError(t, err)
			require.Equal(t, all, again, "the same bits however many workers")
			for _, w := range f.Pairs {
				found := false
				for i, p := range c.Pairs {
					a, b := c.Parts[p.A].Name, c.Parts[p.B].Name
					if (a == w.A && b == w.B) || (a == w.B && b == w.A) {
						found = true
						assert.InDelta(t, w.Gap, all[i].Gap.Gap, 0.011, "%s / %s", a, b)
						assert.InDelta(t, w.Ride, all[i].AtRide, 0.051, "%s / %s", a, b)
						assert.Equal(t, w.Required, p.Required, "%s / %s", a, b)
					}
				}
				assert.True(t, found, "%s / %s", w.A, w.B)
			}
		})
	}
}
