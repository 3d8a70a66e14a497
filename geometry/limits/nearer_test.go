package limits_test

import (
	"context"
	"math"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is found at positions is never nearer than what a fine search finds, every position handed out lies in the range, and a pair that is passed over is as far off as it was allowed to be. What is
// proved to be kept is kept; what cannot be has a pair that does come nearer.
func TestNearerAndKeeps(t *testing.T) {
	ctx := context.Background()
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			m, c, _ := demo(t, name)
			r, err := limits.FindWith(m, 24, 1)
			require.NoError(t, err)
			fine, err := limits.Smallest(ctx, m, c, r, limits.Search{Grid: 21, Refine: true, Workers: 2})
			require.NoError(t, err)
			const over, coarse = 60.0, 30.0 // mm; what so few positions may miss
			floors := make([]limits.Floor, len(c.Pairs))
			for i := range floors {
				floors[i].Wanted = c.Pairs[i].Required
			}
			floors[0].Wanted = math.NaN()
			looked := 0
			near, err := limits.Nearer(ctx, m, c, r, floors, over, 5, func(p *motion.Pose) {
				looked++
				assert.True(t, r.Within(p))
			})
			require.NoError(t, err)
			assert.Greater(t, looked, 25)
			assert.True(t, math.IsInf(near[0].Gap.Gap, 1), "it does not count")
			found := 0
			for i := 1; i < len(near); i++ {
				what := pairName(c, i)
				if math.IsInf(near[i].Gap.Gap, 1) {
					assert.Greater(t, fine[i].Gap.Gap, floors[i].Wanted+over-coarse, what)
					continue
				}
				found++
				assert.Less(t, near[i].Gap.Gap, floors[i].Wanted+over, what)
				assert.Greater(t, near[i].Gap.Gap, fine[i].Gap.Gap-1e-3, what)
			}
			assert.Positive(t, found)

			proved, why, err := limits.Prove(ctx, m, c, r, clearance.Closeness{Width: 0.5, Far: math.Inf(1), Most: 20_000}, 2)
			require.NoError(t, err)
			require.Empty(t, why)
			for i := range floors {
				floors[i].Wanted = proved[i].NotLess - 1
			}
			ok, pair, _, err := limits.Keeps(ctx, m, c, r, floors)
			require.NoError(t, err)
			assert.True(t, ok, pair)
			last := len(floors) - 1
			floors[last].Wanted = proved[last].Gap.Gap + 1
			ok, pair, got, err := limits.Keeps(ctx, m, c, r, floors)
			require.NoError(t, err)
			assert.False(t, ok)
			assert.Equal(t, last, pair)
			assert.Less(t, got.Found, floors[last].Wanted)
			for i := range floors {
				floors[i].Wanted = math.NaN()
			}
			ok, _, _, err = limits.Keeps(ctx, m, c, r, floors)
			require.NoError(t, err)
			assert.True(t, ok, "nothing is asked")
			gone, stop := context.WithCancel(ctx)
			stop()
			_, err = limits.Nearer(gone, m, c, r, floors, over, 5, nil)
			assert.ErrorIs(t, err, context.Canceled)
			assert.Panics(t, func() { _, _ = limits.Nearer(ctx, m, c, r, floors[1:], over, 5, nil) })
		})
	}
}
