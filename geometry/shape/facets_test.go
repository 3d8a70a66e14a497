package shape

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func closedMesh(t require.TestingT, corners []r3.Vec) *Mesh {
	m, err := NewMesh(corners)
	require.NoError(t, err)
	require.Zero(t, m.Holes)
	require.Zero(t, m.Turned)
	require.True(t, m.Closed)
	return m
}

// Flats of a circle lie within what was asked for.
func TestSides(t *testing.T) {
	for _, r := range []float64{1, 20, 45, 150, 600} {
		n := Sides(r, 0.05)
		assert.Zero(t, n%4)
		if n < 256 {
			assert.LessOrEqual(t, r*(1-math.Cos(math.Pi/float64(n))), 0.05+1e-12, r)
		}
	}
	assert.Equal(t, 24, Sides(0.01, 0.05))
	assert.Equal(t, 256, Sides(1e5, 0.05))
}

// A ball's surface is closed and, with more flats, comes to 4/3 pi r^3 as the square of their number.
func TestBallFacets(t *testing.T) {
	whole := 4.0 / 3 * math.Pi * 90 * 90 * 90
	last := math.Inf(1)
	for _, n := range []int{24, 48, 96} {
		v, ok := closedMesh(t, BallFacets(r3.Vec{X: 10, Y: -20, Z: 30}, 90, n)).Volume()
		require.True(t, ok)
		short := whole - v
		assert.Positive(t, short, "its corners lie on the ball")
		if !math.IsInf(last, 1) {
			assert.InDelta(t, 4, last/short, 0.1)
		}
		last = short
	}
}

// A straight pipe is a cylinder and a ball: pi r^2 l + 4/3 pi r^3; along a square bend the ball swept has pi r^2 (a+b) + 4/3 pi r^3 + (2/3) (pi/2) r^3 - (4/3) r^3
// (tan 45 deg = 1), as the runs share (4/3) r^3 tan(b/2) inside and a slice (2/3) b r^3 of the ball fills the outside.
func TestPipeFacets(t *testing.T) {
	const r, n = 30.0, 256
	ball := 4.0 / 3 * math.Pi * r * r * r
	for _, c := range []struct {
		path []r3.Vec
		mm3  float64
	}{
		{[]r3.Vec{{}, {X: 500}}, math.Pi*r*r*500 + ball},
		{[]r3.Vec{{}, {X: 200}, {X: 500}}, math.Pi*r*r*500 + ball}, // a point on the straight is none
		{[]r3.Vec{{}, {X: 300}, {X: 300, Z: 400}}, math.Pi*r*r*700 + ball + 2.0/3*math.Pi/2*r*r*r - 4.0/3*r*r*r},
		{[]r3.Vec{{}, {X: 300}, {X: 300, Z: 400}, {X: 300, Y: 200, Z: 400}}, math.Pi*r*r*900 + ball + 2*(2.0/3*math.Pi/2*r*r*r-4.0/3*r*r*r)},
		{[]r3.Vec{{X: 5, Y: 6, Z: 7}, {X: 305, Y: 106, Z: -93}}, math.Pi*r*r*math.Sqrt(300*300+100*100+100*100) + ball},
	} {
		v, ok := closedMesh(t, PipeFacets(c.path, r, n)).Volume()
		require.True(t, ok)
		assert.InEpsilon(t, c.mm3, v, 3e-4, "%v", c.path)
		assert.Less(t, v, c.mm3)
	}
}

// Any path whose runs leave room for their bends gives one closed surface of the volume of the ball swept; every corner lies on it.
func TestPipesOfAnyPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-400, 400)
		n := rapid.IntRange(2, 5).Draw(t, "n")
		path := make([]r3.Vec, n)
		for i := range path {
			path[i] = r3.Vec{X: c.Draw(t, "x"), Y: c.Draw(t, "y"), Z: c.Draw(t, "z")}
			if i > 0 && norm(sub(path[i], path[i-1])) < 1 {
				t.Skip("two in one place")
			}
		}
		const r = 25.0
		corners := PipeFacets(path, r, 64)
		for _, p := range corners {
			near := math.Inf(1)
			for i := 1; i < n; i++ {
				near = math.Min(near, toSegment(p, path[i-1], path[i]))
			}
			if math.Abs(near-r) > 1e-6 && near > r { // on another run's inside it may lie within
				t.Fatalf("%v lies %v from the path", p, near)
			}
		}
		m := closedMesh(t, corners)
		if !bendsFit(withoutStraights(path), r) {
			return
		}
		want := 4.0 / 3 * math.Pi * r * r * r
		for i := 1; i < n; i++ {
			d := sub(path[i], path[i-1])
			want += math.Pi * r * r * norm(d)
			if i+1 < n {
				e := sub(path[i+1], path[i])
				b := math.Atan2(norm(cross(d, e)), dot(d, e))
				want += 2.0/3*b*r*r*r - 4.0/3*r*r*r*math.Tan(b/2)
			}
		}
		v, ok := m.Volume()
		if !ok || math.Abs(v-want) > 0.006*want { // 64 flats take 0.16 % of a circle, 0.4 % of a ball
			t.Fatalf("volume %v, %v expected", v, want)
		}
	})
}

func toSegment(p, a, b r3.Vec) float64 {
	d := sub(b, a)
	u := math.Min(1, math.Max(0, dot(sub(p, a), d)/dot(d, d)))
	return norm(sub(p, add(a, scale(u, d))))
}

// A prism's surface is closed and holds area times length, whichever way its outline runs and whatever corners lie on its edges.
func TestPrismFacets(t *testing.T) {
	to3 := func(u, v, w float64) r3.Vec { return r3.Vec{X: u, Y: w, Z: v} }
	ell := [][2]float64{{0, 0}, {300, 0}, {300, 100}, {100, 100}, {100, 50}, {100, 400}, {0, 400}, {0, 200}}
	ell = append(ell[:4:4], ell[5:]...)
	for _, outline := range [][][2]float64{ell, {{0, 0}, {100, 0}, {200, 0}, {200, 50}, {0, 50}}, {{0, 0}, {0, 50}, {200, 50}, {200, 0}}} {
		corners, err := PrismFacets(outline, -20, 60, to3)
		require.NoError(t, err)
		v, ok := closedMesh(t, corners).Volume()
		require.True(t, ok)
		assert.InEpsilon(t, math.Abs(PolygonArea(outline))*80, v, 1e-9)
	}
	_, err := PrismFacets([][2]float64{{0, 0}, {100, 100}, {100, 0}, {0, 100}}, 0, 1, to3)
	assert.ErrorIs(t, err, ErrOutline)
	_, err = PrismFacets(ell, 1, 1, to3)
	assert.Error(t, err)
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 { // stars
		n := 3 + r.IntN(12)
		var outline [][2]float64
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.4*r.Float64()) / float64(n))
			far := 50 + 300*r.Float64()
			outline = append(outline, [2]float64{far * c, far * s})
		}
		corners, err := PrismFacets(outline, 0, 10, to3)
		require.NoError(t, err)
		v, ok := closedMesh(t, corners).Volume()
		require.True(t, ok)
		assert.InEpsilon(t, math.Abs(PolygonArea(outline))*10, v, 1e-9)
	}
}

// What is written reads back as the same closed body.
func TestWriteSTLReadsBack(t *testing.T) {
	m := closedMesh(t, BallFacets(r3.Vec{Z: 500}, 40, 24))
	var file bytes.Buffer
	require.NoError(t, WriteSTL(&file, "a ball", m.V, m.T))
	assert.Equal(t, 84+50*len(m.T), file.Len())
	back, err := ReadSTL(bytes.NewReader(file.Bytes()))
	require.NoError(t, err)
	assert.True(t, back.Closed)
	a, _ := m.Volume()
	b, _ := back.Volume()
	assert.InEpsilon(t, a, b, 1e-6)
}
