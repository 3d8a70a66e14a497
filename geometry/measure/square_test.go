package measure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A frame 800 by 1500 with diagonals of 1700, pushed and tilted by known amounts.
func TestSquare(t *testing.T) {
	c := [4]r3.Vec{{Y: -400, Z: 600}, {Y: 400, Z: 600}, {X: 1500, Y: 400, Z: 600}, {X: 1500, Y: -400, Z: 600}}
	q, err := Square(c, [2]float64{1703, 0})
	require.NoError(t, err)
	assert.Equal(t, [2]float64{800, 1500}, q.Sides)
	assert.Equal(t, [2]float64{1700, 1700}, q.Diagonals)
	assert.Equal(t, 3., q.Misfit[0])
	assert.True(t, math.IsNaN(q.Misfit[1]))
	assert.Zero(t, q.Skew, "one typed diagonal says nothing of squareness")

	q, err = Square(c, [2]float64{1703, 1697})
	require.NoError(t, err)
	assert.InDelta(t, 4*1700*3/(4*800.), q.Skew, 1e-9) // D1^2 - D2^2 = (D1 + D2)(D1 - D2) = 3400 x 6

	pushed := c
	pushed[2].Y += 10
	pushed[3].Y += 10
	q, err = Square(pushed, [2]float64{})
	require.NoError(t, err)
	assert.InDelta(t, 10, q.Skew, 1e-9)

	tilted := c
	tilted[2].Z += 12
	tilted[3].Z += 8
	q, err = Square(tilted, [2]float64{})
	require.NoError(t, err)
	assert.Equal(t, [2]float64{2, 10}, q.Rise)
	assert.Equal(t, 4., q.Twist)

	c[1], c[2] = c[2], c[1]
	_, err = Square(c, [2]float64{})
	require.ErrorContains(t, err, "order round")

	c[1] = c[0]
	_, err = Square(c, [2]float64{})
	require.ErrorContains(t, err, "one place")
}
