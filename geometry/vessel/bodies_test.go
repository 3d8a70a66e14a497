package vessel

import (
	"testing"

	"axleloft/geometry/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// What a cut takes is told by its corners: they lie within the cut and in the vessel, and of a box cut by a box from its corner they are as far apart as the cut's sizes.
func TestBodies(t *testing.T) {
	s := sceneNamed(t, "shelf")
	k := s.keepOut(t, 16)
	for _, c := range s.v.Cuts(k) {
		list := s.v.Bodies(&c)
		require.Len(t, list, 1, c.Words)
		lo, hi := list[0][0], list[0][0]
		for _, p := range list[0] {
			assert.True(t, c.Lies(p), "%s: %v", c.Words, p)
			lo = r3.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y), Z: min(lo.Z, p.Z)}
			hi = r3.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y), Z: max(hi.Z, p.Z)}
		}
		if c.Kind == "corner" {
			d := r3.Sub(hi, lo)
			assert.InDelta(t, 1e6*c.Litres, d.X*d.Y*d.Z, 1e-3)
		}
	}
}

// Of a vessel that is not flat the box that holds it stands for it.
func TestBodiesOfABottle(t *testing.T) {
	s := sceneNamed(t, "bottle")
	c := Cut{planes: []plane{{r3.Vec{Z: 1}, 1e4}}}
	list := s.v.Bodies(&c)
	require.Len(t, list, 1)
	q := s.v.outer()
	assert.InDelta(t, (s.v.hi[0]-s.v.lo[0])*(s.v.hi[1]-s.v.lo[1])*(s.v.hi[2]-s.v.lo[2]), q.volume(), 1e-3)
}

func TestCutsWordedInInches(t *testing.T) {
	s := sceneNamed(t, "shelf")
	all := s.v.Cuts(s.keepOut(t, 16))
	require.NotEmpty(t, all)
	text := all[0].Worded(func(mm float64) string { v, _ := measure.Fraction(mm, 16); return v })
	assert.Contains(t, text, " in from the ")
	assert.Contains(t, text, ": ")
}
