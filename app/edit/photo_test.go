package edit

import (
	"math"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// onPhoto is where a pixel of a photo of w by h lies in its view, from the definition: the middle at At, so large, turned against the clock.
func onPhoto(p *job.Photo, w, h, px, py float64) Place2 {
	turn := 0.0
	if p.Turn != nil {
		turn = *p.Turn * math.Pi / 180
	}
	dx, dy := (px-w/2)**p.MmPerPixel, (h/2-py)**p.MmPerPixel
	return Place2{p.At[0] + dx*math.Cos(turn) - dy*math.Sin(turn), p.At[1] + dx*math.Sin(turn) + dy*math.Cos(turn)}
}

// Whatever a photo is scaled, levelled and moved by, in any order: two pixels come to lie as far apart as was typed, level or upright, and where they were put.
func TestPhotoIsPlaced(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := &job.Job{}
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		w, h := 4000.0, 3000.0
		require.NoError(t, SetPhoto(j, "rear", "a.jpg", Place2{f("x", -3000, 3000), f("z", 0, 2000)}, f("scale", 0.1, 3)))
		p := &j.Photos[0]
		a, b := [2]float64{f("ax", 0, w), f("ay", 0, h)}, [2]float64{f("bx", 0, w), f("by", 0, h)}
		if math.Hypot(b[0]-a[0], b[1]-a[1]) < 50 {
			t.Skip("too near each other")
		}
		at := func(q [2]float64) Place2 { return onPhoto(p, w, h, q[0], q[1]) }
		first := at(a)
		turned, level, err := LevelPhoto(j, "rear", at(a), at(b))
		require.NoError(t, err)
		assert.LessOrEqual(t, math.Abs(turned), 45+1e-9)
		k := 1
		if !level {
			k = 0
		}
		assert.InDelta(t, at(a)[k], at(b)[k], 1e-6)
		assert.InDelta(t, 0, apart(first, at(a)), 1e-6, "the first point stays")
		require.NoError(t, ScalePhoto(j, "rear", at(a), at(b), "1127.5"))
		assert.InDelta(t, 1127.5, apart(at(a), at(b)), 1e-6)
		assert.InDelta(t, 0, apart(first, at(a)), 1e-6, "the first point stays")
		assert.InDelta(t, at(a)[k], at(b)[k], 1e-6, "still level")
		assert.Equal(t, "1127.5", p.Typed)
		to := Place2{f("tx", -500, 500), f("ty", -500, 500)}
		from := at(b)
		require.NoError(t, ShiftPhoto(j, "rear", Place2{to[0] - from[0], to[1] - from[1]}))
		assert.InDelta(t, 0, apart(to, at(b)), 1e-6)
	})
}

func TestPhotoRefusals(t *testing.T) {
	j := &job.Job{}
	require.Error(t, SetPhoto(j, "top", "a.jpg", Place2{}, 1))
	for _, err := range []error{RemovePhoto(j, "side"), ShiftPhoto(j, "side", Place2{}), FadePhoto(j, "side", 1), HidePhoto(j, "side", true), ScalePhoto(j, "side", Place2{}, Place2{1, 1}, "5")} {
		assert.EqualError(t, err, "There is no photo behind that view any more.")
	}
	require.NoError(t, SetPhoto(j, "side", "a.jpg", Place2{100, 500}, 1))
	before := *j.Clone()
	assert.ErrorContains(t, ScalePhoto(j, "side", Place2{1, 1}, Place2{1, 1}, "500"), "two points are one")
	assert.ErrorContains(t, ScalePhoto(j, "side", Place2{1, 1}, Place2{9, 1}, "long"), "long")
	assert.ErrorContains(t, ScalePhoto(j, "side", Place2{1, 1}, Place2{9, 1}, "-5"), "more than nothing")
	assert.ErrorContains(t, ScalePhoto(j, "side", Place2{0, 0}, Place2{0.01, 0}, "90000"), "a pixel of the photo")
	assert.ErrorContains(t, ShiftPhoto(j, "side", Place2{2e5, 0}), "within 100 m")
	_, _, err := LevelPhoto(j, "side", Place2{3, 3}, Place2{3, 3})
	assert.ErrorContains(t, err, "two points are one")
	assert.Equal(t, before.Photos, j.Photos, "a refusal changes nothing")
	for range 9 {
		require.NoError(t, FadePhoto(j, "side", 1))
	}
	assert.Equal(t, 1.0, Opacity(&j.Photos[0]))
	for range 9 {
		require.NoError(t, FadePhoto(j, "side", -1))
	}
	assert.Equal(t, 0.1, Opacity(&j.Photos[0]))
	require.NoError(t, SetPhoto(j, "side", "b.jpg", Place2{}, 2))
	require.Len(t, j.Photos, 1, "one a view")
	assert.Equal(t, 0.1, Opacity(&j.Photos[0]))
	require.NoError(t, RemovePhoto(j, "side"))
	assert.Nil(t, j.Photos)
}
