package motion

import (
	"bytes"
	"math"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"axleloft/assets"
)

// With links of other lengths the axle stands where every link is as long as it is to be, and a mechanism made with the lengths it has stays as it is.
func TestWithLengths(t *testing.T) {
	for _, demo := range []string{"orchard-sprayer", "rescue-tender"} {
		j, err := job.Read(bytes.NewReader(assets.Demo(demo)))
		require.NoError(t, err)
		m, err := Compile(j)
		require.NoError(t, err)
		require.False(t, m.OverLocated)
		same, err := m.WithLengths(map[int]float64{0: m.Links[0].Length})
		require.NoError(t, err)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(same.Ride().C, m.Ride().C)), 1e-9)

		want := map[int]float64{0: m.Links[0].Length + 6, 2: m.Links[2].Length - 4}
		c, err := m.WithLengths(want)
		require.NoError(t, err)
		assert.Equal(t, m.Links[0].Length+6, c.Links[0].Length)
		assert.NotEqual(t, c.Links[0].Length, m.Links[0].Length, "the first one is as it was")
		assert.InDelta(t, 1, r3.Norm(c.Links[0].Along), 1e-12, "a direction, whatever the length")
		s := c.NewSolver()
		var p Pose
		for _, at := range [][2]float64{{0, 0}, {40, 40}, {-60, -60}, {50, -50}} {
			require.NoError(t, s.Solve(at[0], at[1], &p))
			for i := range c.Links {
				l := &c.Links[i]
				assert.InDelta(t, l.Length, r3.Norm(r3.Sub(p.Point(l.Axle), l.Frame)), 1e-8, "%s link %d at %v", demo, i, at)
			}
			assert.InDelta(t, (at[0]+at[1])/2, p.Heave, 1e-9)
		}
		require.NoError(t, s.Solve(0, 0, &p))
		assert.Greater(t, math.Abs(p.Theta)+math.Abs(p.Psi)+math.Abs(p.X), 1e-3, "it has moved")
		// there and back
		back, err := c.WithLengths(map[int]float64{0: m.Links[0].Length, 2: m.Links[2].Length})
		require.NoError(t, err)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(back.Ride().C, m.Ride().C)), 1e-6)
		assert.InDelta(t, 0, back.Ride().Theta, 1e-9)

		_, err = m.WithLengths(map[int]float64{0: m.Links[0].Length * 0.3})
		assert.Error(t, err)
	}
}
