package limits_test

import (
	"context"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/limits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// With links of other lengths than they are drawn the axle stands elsewhere at ride, and what is proved still holds: no position looked at is below, and the proof comes as close as asked.
func TestProveWithLinksOfOtherLengths(t *testing.T) {
	how := clearance.Closeness{Width: 0.5, Far: 150, Most: 20_000}
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			drawn, _, _ := demo(t, name)
			j := demoJob(t, name)
			lengths := map[int]float64{}
			for i, by := range []float64{12, 12, -9} {
				lengths[i] = drawn.Links[i].Length + by
			}
			m, err := drawn.WithLengths(lengths)
			require.NoError(t, err)
			c, err := clearance.Compile(j, m)
			require.NoError(t, err)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			require.True(t, r.Bounded)
			pairs, why, err := limits.Prove(context.Background(), m, c, r, how, 2)
			require.NoError(t, err)
			require.Empty(t, why)
			found, err := limits.Smallest(context.Background(), m, c, r, limits.Search{Grid: 31, Refine: true, Workers: 2})
			require.NoError(t, err)
			ride := m.Ride()
			s := c.NewScratch()
			s.Place(&ride, nil)
			for i := range pairs {
				what := c.Parts[c.Pairs[i].A].Name + " / " + c.Parts[c.Pairs[i].B].Name
				require.Empty(t, pairs[i].Why, what)
				require.LessOrEqual(t, pairs[i].NotLess, found[i].Gap.Gap+1e-9, what)
				if pairs[i].NotLess < how.Far {
					require.LessOrEqual(t, pairs[i].Gap.Gap-pairs[i].NotLess, how.Width+1e-6, what)
				}
				var g clearance.Gap
				s.Gap(i, &g)
				assert.InDelta(t, g.Gap, pairs[i].AtRide, 1e-9, what)
			}
		})
	}
}
