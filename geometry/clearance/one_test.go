package clearance

import (
	"testing"

	"axleloft/assets"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A pair placed by itself has, to the last bit, the gap it has among all.
func TestPlacePair(t *testing.T) {
	for _, name := range assets.Demos() {
		m, c := build(t, demo(t, name))
		solver := m.NewSolver()
		all, one := c.NewScratch(), c.NewScratch()
		uses := make([]quantity.LinkUse, len(m.Links))
		p := m.Ride()
		for _, at := range [][2]float64{{40, -30}, {-60, -20}, {0, 0}, {25, 70}} {
			require.NoError(t, solver.Solve(at[0], at[1], &p))
			quantity.Links(m, &p, uses)
			all.Place(&p, uses)
			var a, b Gap
			for i := range c.Pairs {
				one.PlacePair(i, &p)
				one.Gap(i, &b)
				all.Gap(i, &a)
				require.Equal(t, a, b)
				require.Equal(t, all.AtLeast(i), one.AtLeast(i))
			}
		}
		assert.Zero(t, testing.AllocsPerRun(20, func() { one.PlacePair(len(c.Pairs)/2, &p) }))
	}
}
