package clearance

import (
	"math"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// The gross volumes of the demos' vessels, litres to one decimal.
func TestVolumeOfDemoVessels(t *testing.T) {
	want := map[string]float64{"Side tank": 164.0, "Rear tank": 149.9, "Tank shelf": 28.8, "Tank": 126.7}
	seen := 0
	for _, name := range []string{"orchard-sprayer", "rescue-tender", "survey-wagon"} {
		j := demo(t, name)
		for i := range j.Envelopes {
			e := &j.Envelopes[i]
			if !e.Vessel {
				continue
			}
			v, ok := Volume(e)
			require.True(t, ok)
			assert.InDelta(t, want[e.Name], v, 0.05, e.Name)
			seen++
		}
	}
	assert.Equal(t, len(want), seen)
}

func ptr[T any](v T) *T { return &v }

func TestVolumeByKind(t *testing.T) {
	cases := []struct {
		name string
		e    job.Envelope
		want float64
		ok   bool
	}{
		{"box", job.Envelope{Kind: "box", Min: &job.Point{0, 0, 0}, Max: &job.Point{100, 200, 300}, Turn: &job.Point{10, 20, 30}}, 6, true},
		{"prism, L", job.Envelope{Kind: "prism", Plane: "rear", Outline: []job.Point2{{0, 0}, {0, 100}, {50, 100}, {50, 50}, {100, 50}, {100, 0}}, From: ptr(-100.0), To: ptr(100.0)}, 1.5, true},
		{"ball", job.Envelope{Kind: "ball", Centre: &job.Point{}, Radius: ptr(100.0)}, 4.1887902, true},
		{"straight tube", job.Envelope{Kind: "tube", Path: []job.Point{{0, 0, 0}, {1000, 0, 0}}, Outside: ptr(100.0)}, math.Pi*2.5 + math.Pi/6, true},
		{"mesh", job.Envelope{Kind: "mesh", File: "tank.stl"}, 0, false},
		{"box without max", job.Envelope{Kind: "box", Min: &job.Point{}}, 0, false},
		{"tube folded on itself", job.Envelope{Kind: "tube", Path: []job.Point{{0, 0, 0}, {100, 0, 0}, {0, 1, 0}}, Outside: ptr(100.0)}, 0, false},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			v, ok := Volume(&tc.e)
			assert.Equal(t, tc.ok, ok)
			assert.InDelta(t, tc.want, v, 1e-6)
		})
	}
}

// A bent tube's volume against counting small cubes.
func TestVolumeOfBentTube(t *testing.T) {
	e := job.Envelope{Kind: "tube", Path: []job.Point{{0, 0, 0}, {300, 0, 0}, {420, 250, 0}}, Outside: ptr(100.0)}
	s, err := EnvelopeSolid(&e)
	require.NoError(t, err)
	var sc shape.Scratch
	var g shape.Result
	const h = 4.0
	n := 0
	for x := -61.3; x < 480; x += h {
		for y := -62.1; y < 310; y += h {
			for z := -60.7; z < 60; z += h {
				q := shape.Solid{Pieces: []shape.Piece{{Kind: shape.Point, A: r3.Vec{X: x, Y: y, Z: z}}}}
				if sc.SolidGap(&q, &s, &g); g.Gap < 0 {
					n++
				}
			}
		}
	}
	v, ok := Volume(&e)
	require.True(t, ok)
	assert.InEpsilon(t, float64(n)*h*h*h*1e-6, v, 2e-3)
}

func TestEnvelopeShapes(t *testing.T) {
	o := r3.Vec{}
	gapTo := func(e job.Envelope, at r3.Vec) float64 {
		s, err := EnvelopeSolid(&e)
		require.NoError(t, err)
		var sc shape.Scratch
		var g shape.Result
		q := shape.Solid{Pieces: []shape.Piece{{Kind: shape.Point, A: at}}}
		sc.SolidGap(&q, &s, &g)
		return g.Gap
	}
	tri := []job.Point2{{0, 0}, {100, 0}, {0, 200}}
	// Each plane's outline lies in its two axes, in this order, and from..to on the third.
	assert.InDelta(t, 50, gapTo(job.Envelope{Kind: "prism", Plane: "side", Outline: tri, From: ptr(-10.0), To: ptr(10.0)}, r3.Vec{Z: 250}), 1e-9)
	assert.InDelta(t, 50, gapTo(job.Envelope{Kind: "prism", Plane: "plan", Outline: tri, From: ptr(-10.0), To: ptr(10.0)}, r3.Vec{Y: 250}), 1e-9)
	assert.InDelta(t, 50, gapTo(job.Envelope{Kind: "prism", Plane: "rear", Outline: tri, From: ptr(-10.0), To: ptr(10.0)}, r3.Vec{Z: 250}), 1e-9)
	assert.InDelta(t, 50, gapTo(job.Envelope{Kind: "prism", Plane: "rear", Outline: tri, From: ptr(-10.0), To: ptr(10.0)}, r3.Vec{X: 60, Y: 10, Z: 10}), 1e-9)
	// A box turned about its centre: about X by 90 deg its height lies along Y.
	box := job.Envelope{Kind: "box", Min: &job.Point{-10, -20, -100}, Max: &job.Point{10, 20, 100}, Turn: &job.Point{90, 0, 0}}
	assert.InDelta(t, 25, gapTo(box, r3.Vec{Y: 125}), 1e-9)
	assert.InDelta(t, 30, gapTo(box, r3.Vec{Z: 50}), 1e-9)
	// R = Rz Ry Rx: X is turned first.
	box.Turn = &job.Point{90, 0, 90}
	assert.InDelta(t, 25, gapTo(box, r3.Vec{X: 125}), 1e-9)
	tube := job.Envelope{Kind: "tube", Path: []job.Point{{0, 0, 0}, {100, 0, 0}, {100, 100, 0}}, Outside: ptr(20.0)}
	assert.InDelta(t, 40, gapTo(tube, r3.Vec{X: -50}), 1e-9)
	assert.InDelta(t, 40, gapTo(tube, r3.Vec{X: 150, Y: 60}), 1e-9)
	assert.InDelta(t, 20, gapTo(job.Envelope{Kind: "ball", Centre: &job.Point{30, 0, 0}, Radius: ptr(10.0)}, o), 1e-9)

	for _, bad := range []job.Envelope{
		{Kind: "box"}, {Kind: "box", Min: &job.Point{1, 0, 0}, Max: &job.Point{0, 1, 1}}, {Kind: "ball"}, {Kind: "tube"}, {Kind: "mesh"}, {Kind: "cone"},
		{Kind: "prism"}, {Kind: "prism", Plane: "top", From: ptr(0.0), To: ptr(1.0)}, {Kind: "prism", Plane: "side", Outline: tri, From: ptr(1.0), To: ptr(1.0)},
		{Kind: "prism", Plane: "side", Outline: []job.Point2{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, From: ptr(0.0), To: ptr(1.0)},
	} {
		_, err := EnvelopeSolid(&bad)
		assert.Error(t, err)
	}
}
