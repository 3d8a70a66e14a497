package shape

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Bodies of one file: apart, touching, one hollow in another and a body in that hollow count once; crossing ones, and one in another, twice.
func TestSingle(t *testing.T) {
	box := func(lo, hi float64) []r3.Vec {
		return hullMesh(boxHull(t, r3.Vec{X: lo, Y: lo, Z: lo}, r3.Vec{X: hi, Y: hi, Z: hi}))
	}
	moved := func(list []r3.Vec, x float64) []r3.Vec {
		out := slices.Clone(list)
		for i := range out {
			out[i].X += x
		}
		return out
	}
	turned := func(list []r3.Vec) []r3.Vec {
		out := slices.Clone(list)
		for i := 0; i < len(out); i += 3 {
			out[i+1], out[i+2] = out[i+2], out[i+1]
		}
		return out
	}
	whole := box(0, 100)
	for name, c := range map[string]struct {
		parts [][]r3.Vec
		want  bool
		mm3   float64
	}{
		"one":              {[][]r3.Vec{whole}, true, 1e6},
		"apart":            {[][]r3.Vec{whole, moved(whole, 150)}, true, 2e6},
		"touching":         {[][]r3.Vec{whole, moved(box(20, 80), 80)}, true, 1e6 + 216e3},
		"hollow":           {[][]r3.Vec{whole, turned(box(20, 80))}, true, 1e6 - 216e3},
		"body in a hollow": {[][]r3.Vec{box(30, 60), turned(box(20, 80)), whole}, true, 1e6 - 216e3 + 27e3},
		"inside out":       {[][]r3.Vec{turned(whole), box(20, 80)}, true, 1e6 - 216e3},
		"crossing":         {[][]r3.Vec{whole, moved(box(20, 80), 50)}, false, 0},
		"a hollow across":  {[][]r3.Vec{whole, turned(moved(box(20, 80), 50))}, false, 0},
		"one in another":   {[][]r3.Vec{whole, box(20, 80)}, false, 0},
		"a hollow outside": {[][]r3.Vec{whole, turned(moved(box(20, 80), 150))}, false, 0},
	} {
		m, err := NewMesh(slices.Concat(c.parts...))
		require.NoError(t, err)
		assert.Equal(t, c.want, m.Single(), name)
		if v, ok := m.Volume(); c.want {
			assert.True(t, ok)
			assert.InDelta(t, c.mm3, v, 1e-3, name)
		}
	}
	open, err := NewMesh(whole[3:])
	require.NoError(t, err)
	assert.False(t, open.Single())
}
