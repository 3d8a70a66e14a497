package view

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestChoiceTakesTheNearestAndGoesThroughThoseBehindEachOther(t *testing.T) {
	at := Eye{Scale: 0.5}.Transform(Side, Size{W: 400, H: 300})
	c := Choice{Places: []r3.Vec{{X: 0, Z: 100}, {X: 200, Z: 100}, {X: 200, Y: 50, Z: 100}}, Lit: -1}
	press := func(v r3.Vec, dx float64) int {
		x, y := at.Place(v)
		return c.Nearest(at, x+dx, y)
	}
	assert.Equal(t, 0, press(c.Places[0], 5))
	assert.Equal(t, -1, press(c.Places[0], Reach+1))
	assert.Equal(t, 1, press(c.Places[1], 0))
	c.Lit = 1
	assert.Equal(t, 2, press(c.Places[1], 0), "the one behind it")
	c.Lit = 2
	assert.Equal(t, 1, press(c.Places[1], 0))
}
