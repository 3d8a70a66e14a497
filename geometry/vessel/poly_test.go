package vessel

import (
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/shape"
	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func cube(t testing.TB, lo, hi r3.Vec) poly {
	t.Helper()
	p, err := shape.NewBox(lo, hi, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1})
	require.NoError(t, err)
	return polyOf(&p)
}

func planeOf(n r3.Vec, at float64) plane {
	l := r3.Norm(n)
	return plane{r3.Scale(1/l, n), at / l}
}

// Exact: the corner of a box cut by x/a + y/b + z/c <= 1 has a b c / 6, its edge by x/a + y/b <= 1 a b / 2 times its length.
func TestCutVolumes(t *testing.T) {
	const tol = 1e-6 // mm3 of 6e6
	q := cube(t, r3.Vec{}, r3.Vec{X: 300, Y: 200, Z: 100})
	assert.InDelta(t, 6e6, q.volume(), tol)
	assert.InDelta(t, 50*40*30/6.0, q.cut(planeOf(r3.Vec{X: 1. / 50, Y: 1. / 40, Z: 1. / 30}, 1)).volume(), tol)
	assert.InDelta(t, 6e6-50*40*30/6.0, q.cut(planeOf(r3.Vec{X: 1. / 50, Y: 1. / 40, Z: 1. / 30}, 1).reversed()).volume(), tol)
	assert.InDelta(t, 50*40/2.0*100, q.cut(planeOf(r3.Vec{X: 1. / 50, Y: 1. / 40}, 1)).volume(), tol)
	assert.InDelta(t, 100*200*100, q.cut(plane{r3.Vec{X: 1}, 100}).volume(), tol)
	for _, face := range []float64{0, -5} {
		assert.InDelta(t, 0, q.cut(plane{r3.Vec{X: 1}, face}).volume(), tol, "at or beyond a face")
		assert.InDelta(t, 6e6, q.cut(plane{r3.Vec{X: -1}, -face}).volume(), tol)
	}
	// Through corners and along a diagonal.
	assert.InDelta(t, 3e6, q.cut(planeOf(r3.Vec{X: 200, Y: -300}, 0)).volume(), tol)
	assert.InDelta(t, 5e6, q.cut(planeOf(r3.Vec{X: 1. / 300, Y: 1. / 200, Z: 1. / 100}, 1).reversed()).volume(), tol)
}

// A box cut by random planes against Qhull over its corners.
func TestVolumesAgainstConvexHull(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	var ours []float64
	var corners [][][3]float64
	for len(ours) < 200 {
		q := cube(t, r3.Vec{X: -1100, Y: -380, Z: 500}, r3.Vec{X: -420, Y: 380, Z: 790})
		for range 1 + rng.IntN(6) {
			n := r3.Unit(r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
			in := r3.Vec{X: -1100 + 680*rng.Float64(), Y: -380 + 760*rng.Float64(), Z: 500 + 290*rng.Float64()}
			q = q.cut(plane{n, r3.Dot(n, in)})
		}
		v := q.volume()
		if v < 1e4 {
			continue
		}
		var pts [][3]float64
		for _, f := range q.faces {
			for _, p := range f {
				pts = append(pts, [3]float64{p.X, p.Y, p.Z})
			}
		}
		ours, corners = append(ours, v), append(corners, pts)
	}
	for i, v := range scipy.HullVolumes(t, corners) {
		assert.InEpsilon(t, v, ours[i], 1e-9)
	}
}

// The share of a tetrahedron below a straight-line function, against counting.
func TestNegative(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	const n = 40_000
	for range 60 {
		var f [4]float64
		for i := range f {
			f[i] = rng.NormFloat64()
		}
		if rng.IntN(4) == 0 {
			f[1] = f[0]
		}
		in := 0
		for range n {
			var sum, all float64
			for i := range f {
				e := rng.ExpFloat64() // Dirichlet(1, 1, 1, 1): evenly over the tetrahedron
				sum, all = sum+e*f[i], all+e
			}
			if sum/all < 0 {
				in++
			}
		}
		p := negative(f)
		assert.InDelta(t, float64(in)/n, p, 5*math.Sqrt(0.25/n), "%v", f)
	}
	assert.Equal(t, 1.0, negative([4]float64{math.Inf(-1), 1, 1, 1}), "nothing known from below: all of it may be")
	assert.Equal(t, 0.0, negative([4]float64{-1, -1, math.Inf(1), math.Inf(1)}), "nothing known from above: none of it surely is")
	assert.InDelta(t, 0.5, below(&[8]float64{-1, -1, -1, -1, 1, 1, 1, 1}), 1e-12)
}
