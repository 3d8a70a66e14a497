package view

import (
	"math"
	"testing"

	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func area(p []point) float64 {
	sum := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		sum += a.X*b.Y - b.X*a.Y
	}
	return sum / 2
}

func somePolygon(t *rapid.T, name string) []point {
	n := rapid.IntRange(3, 9).Draw(t, name)
	var p []point
	for range n {
		p = append(p, point{rapid.Float64Range(-100, 100).Draw(t, "x"), rapid.Float64Range(-100, 100).Draw(t, "y")})
	}
	return hull(p)
}

func TestHullHoldsItsPoints(t *testing.T) {
	assert.Equal(t, []point{{0, 0}, {2, 0}, {2, 2}, {0, 2}}, hull([]point{{0, 0}, {2, 2}, {1, 1}, {2, 0}, {0, 2}, {1, 0}, {0, 0}}))
	rapid.Check(t, func(t *rapid.T) {
		h := somePolygon(t, "n")
		if len(h) < 3 {
			return
		}
		for i := range h {
			if turn(h[i], h[(i+1)%len(h)], h[(i+2)%len(h)]) < -1e-9 { // round-off of a nearly flat one
				t.Fatal("not convex")
			}
		}
	})
}

// What two polygons share lies in both, and is no less when asked the other way round.
func TestCommonAreaLiesInBoth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := somePolygon(t, "a"), somePolygon(t, "b")
		if len(a) < 3 || len(b) < 3 {
			return
		}
		ab, ba := common(a, b), common(b, a)
		if d := math.Abs(area(ab) - area(ba)); d > 1e-6 {
			t.Fatalf("areas differ by %g", d)
		}
		for _, p := range ab {
			for _, q := range [][]point{a, b} {
				for i := range q {
					u, v := q[i], q[(i+1)%len(q)]
					if turn(u, v, p) < -1e-6*(1+math.Hypot(v.X-u.X, v.Y-u.Y)) {
						t.Fatalf("%v lies outside", p)
					}
				}
			}
		}
	})
}

func TestMarksAreAtLeastTwelveAcross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "n")
		var p []point
		for range n {
			p = append(p, point{rapid.Float64Range(-30, 30).Draw(t, "x"), rapid.Float64Range(-2, 2).Draw(t, "y")})
		}
		m := mark(p)
		if w := across(m); w < 12*math.Cos(math.Pi/rounding)-1e-9 {
			t.Fatalf("%v across", w)
		}
		for _, q := range p {
			if !inside(m, q) {
				t.Fatalf("%v is not marked", q)
			}
		}
	})
}

func TestSilhouettes(t *testing.T) {
	tyre := shape.Piece{Kind: shape.Drum, A: r3.Vec{Y: 800, Z: 450}, Axis: r3.Vec{Y: 1}, Half: 134, Rho: 441, Radius: 25}
	b := bounds(silhouette(Rear, &tyre))
	assert.InDeltaSlice(t, []float64{-959, -16, -641, 916}, []float64{b.x0, b.y0, b.x1, b.y1}, 1)
	side := silhouette(Side, &tyre)
	for _, p := range side {
		assert.InDelta(t, 466, math.Hypot(p.X, p.Y-450), 1e-9)
	}
	box, err := shape.NewBox(r3.Vec{X: -100, Y: -50, Z: 0}, r3.Vec{X: 100, Y: 50, Z: 30}, r3.Vec{X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2}, r3.Vec{X: -math.Sqrt2 / 2, Y: math.Sqrt2 / 2}, r3.Vec{Z: 1})
	require.NoError(t, err)
	plan := silhouette(Plan, &box)
	require.Len(t, plan, 4)
	assert.InDelta(t, 200*100, area(plan), 1e-6)
	w := bounds(plan)
	assert.InDelta(t, (200+100)*math.Sqrt2/2, w.x1-w.x0, 1e-9)
}
