package shape

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// simplePolygon makes a simple polygon: random corners, untangled by turning round the stretch between two edges that cross (each turn shortens the outline).
func simplePolygon(r *rand.Rand, n int, grid bool) [][2]float64 {
	for {
		p := make([][2]float64, n)
		for i := range p {
			p[i] = [2]float64{1000 * r.Float64(), 1000 * r.Float64()}
		}
		if grid { // many corners in line
			n = min(n, 16)
			p = p[:n]
			for i, k := range r.Perm(49)[:n] {
				p[i] = [2]float64{float64(k%7) * 100, float64(k/7) * 100}
			}
		}
		for range 200 {
			i, j, ok := SimplePolygon(p)
			if ok {
				return p
			}
			if i > j {
				i, j = j, i
			}
			for a, b := i+1, j; a < b; a, b = a+1, b-1 {
				p[a], p[b] = p[b], p[a]
			}
		}
	}
}

func inConvex(c [][2]float64, q [2]float64) float64 {
	d := math.Inf(1)
	for i := range c {
		a, b := c[i], c[(i+1)%len(c)]
		d = math.Min(d, orient(a, b, q)/math.Hypot(b[0]-a[0], b[1]-a[1]))
	}
	return d
}

// inside counts crossings of a ray: the plain definition.
func inside(p [][2]float64, q [2]float64) bool {
	in := false
	for i := range p {
		a, b := p[i], p[(i+1)%len(p)]
		if (a[1] > q[1]) != (b[1] > q[1]) && q[0] < a[0]+(q[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

func TestConvexesOfRandomPolygons(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(11, rapid.Uint64().Draw(t, "seed")))
		p := simplePolygon(r, rapid.IntRange(3, 30).Draw(t, "corners"), rapid.Bool().Draw(t, "grid"))
		pieces, err := Convexes(p)
		require.NoError(t, err)
		sum := 0.0
		for _, c := range pieces {
			sum += PolygonArea(c)
			for i := range c {
				a, b, d := c[i], c[(i+1)%len(c)], c[(i+2)%len(c)]
				require.Greater(t, orient(a, b, d), 0.0, "convex and anticlockwise")
			}
		}
		require.InEpsilon(t, math.Abs(PolygonArea(p)), sum, 1e-9, "areas add up")
		for range 200 {
			q := [2]float64{1000 * r.Float64(), 1000 * r.Float64()}
			hits, near := 0, false
			for _, c := range pieces {
				d := inConvex(c, q)
				near = near || math.Abs(d) < 1e-6
				if d > 0 {
					hits++
				}
			}
			if near {
				continue
			}
			want := 0
			if inside(p, q) {
				want = 1
			}
			require.Equal(t, want, hits, "every place inside lies in exactly one piece")
		}
	})
}

func TestConvexesOfKnownOutlines(t *testing.T) {
	cases := []struct {
		name   string
		p      [][2]float64
		pieces int
		area   float64
	}{
		{"square", [][2]float64{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 1, 100},
		{"square, clockwise", [][2]float64{{0, 0}, {0, 10}, {10, 10}, {10, 0}}, 1, 100},
		{"square with corners on its edges", [][2]float64{{0, 0}, {3, 0}, {5, 0}, {10, 0}, {10, 5}, {10, 10}, {0, 10}, {0, 2}}, 1, 100},
		{"L", [][2]float64{{0, 0}, {10, 0}, {10, 4}, {4, 4}, {4, 10}, {0, 10}}, 2, 64},
		{"U", [][2]float64{{0, 0}, {12, 0}, {12, 10}, {8, 10}, {8, 4}, {4, 4}, {4, 10}, {0, 10}}, 3, 96},
		{"triangle", [][2]float64{{0, 0}, {10, 0}, {0, 10}}, 1, 50},
		{"arrowhead", [][2]float64{{0, 0}, {10, -10}, {4, 0}, {10, 10}}, 2, 40},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			got, err := Convexes(tc.p)
			require.NoError(t, err)
			assert.Len(t, got, tc.pieces)
			assert.InDelta(t, tc.area, math.Abs(PolygonArea(tc.p)), 1e-12)
		})
	}
}

func TestSimplePolygon(t *testing.T) {
	cases := []struct {
		name string
		p    [][2]float64
		i, j int
		ok   bool
	}{
		{"square", [][2]float64{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 0, 0, true},
		{"bow tie", [][2]float64{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, 0, 2, false},
		{"two corners", [][2]float64{{0, 0}, {10, 0}}, 0, 1, false},
		{"a corner twice in a row", [][2]float64{{0, 0}, {10, 0}, {10, 0}, {0, 10}}, 0, 2, false},
		{"a corner on a far edge", [][2]float64{{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}}, 0, 2, false},
		{"back on itself", [][2]float64{{0, 0}, {10, 0}, {4, 0}, {4, 10}}, 0, 1, false},
		{"not a number", [][2]float64{{0, 0}, {10, 0}, {math.NaN(), 10}}, 2, 1, false},
		{"edges in line but apart", [][2]float64{{0, 0}, {10, 0}, {10, 5}, {20, 5}, {20, 0}, {30, 0}, {30, -10}, {0, -10}}, 0, 0, true},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			i, j, ok := SimplePolygon(tc.p)
			assert.Equal(t, tc.ok, ok)
			if !tc.ok {
				assert.Equal(t, [2]int{tc.i, tc.j}, [2]int{i, j})
				_, err := Convexes(tc.p)
				assert.ErrorIs(t, err, ErrOutline)
			}
		})
	}
}

func TestPrismVolumeAndGap(t *testing.T) {
	side := func(u, v, w float64) r3.Vec { return r3.Vec{X: u, Y: w, Z: v} } // mirrors: X, Z, Y is left-handed
	plan := func(u, v, w float64) r3.Vec { return r3.Vec{X: u, Y: v, Z: w} }
	r := rand.New(rand.NewPCG(12, 12))
	var s Scratch
	for _, to3 := range []func(u, v, w float64) r3.Vec{side, plan} {
		for range 40 {
			p := simplePolygon(r, 3+r.IntN(12), false)
			solid, err := NewPrism(p, -50, 170, to3)
			require.NoError(t, err)
			v := 0.0
			for _, c := range solid.Pieces {
				v += c.Hull.Volume()
				for k, n := range c.Hull.N {
					for _, q := range c.Hull.V {
						require.LessOrEqual(t, r3.Dot(n, r3.Sub(q, c.Hull.V[c.Hull.Faces[k][0]])), 1e-9, "normals point out")
					}
				}
			}
			require.InEpsilon(t, 220*math.Abs(PolygonArea(p)), v, 1e-9)
			// A ball as high as the middle: its gap is the plane distance to the outline less its radius.
			q := [2]float64{1000 * r.Float64(), 1000 * r.Float64()}
			if inside(p, q) {
				continue
			}
			want := math.Inf(1)
			for i := range p {
				a, b := p[i], p[(i+1)%len(p)]
				ex, ey := b[0]-a[0], b[1]-a[1]
				f := clamp01(((q[0]-a[0])*ex + (q[1]-a[1])*ey) / (ex*ex + ey*ey))
				want = math.Min(want, math.Hypot(a[0]+f*ex-q[0], a[1]+f*ey-q[1]))
			}
			ball := Solid{Pieces: []Piece{{Kind: Point, A: to3(q[0], q[1], 60), Radius: 7}}}
			var g Result
			s.SolidGap(&ball, &solid, &g)
			require.InDelta(t, want-7, g.Gap, 1e-7)
		}
	}
}

func TestShapesRefused(t *testing.T) {
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	_, err := NewBox(r3.Vec{}, r3.Vec{X: 1, Y: 1}, x, y, z)
	assert.Error(t, err)
	_, err = NewBox(r3.Vec{}, r3.Vec{X: 1, Y: math.NaN(), Z: 1}, x, y, z)
	assert.Error(t, err)
	flatTo3 := func(u, v, w float64) r3.Vec { return r3.Vec{X: u, Y: v, Z: w} }
	_, err = NewPrism([][2]float64{{0, 0}, {1, 0}, {0, 1}}, 5, 5, flatTo3)
	assert.Error(t, err)
	_, err = NewPrism([][2]float64{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, 0, 5, flatTo3)
	assert.ErrorIs(t, err, ErrOutline)
	_, err = NewHull([]r3.Vec{{}, {X: 1}, {Y: 1}, {X: 1, Y: 1}, {X: 3, Y: 2}})
	assert.ErrorIs(t, err, ErrFlat)
	_, err = NewHull(nil)
	assert.ErrorIs(t, err, ErrFlat)
	_, err = NewHull([]r3.Vec{{}, {X: 1}, {Y: 1}, {Z: math.Inf(1)}})
	assert.Error(t, err)
}

func TestHull(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 13))
	t.Run("random points", func(t *testing.T) {
		for range 60 {
			var pts []r3.Vec
			for range 4 + r.IntN(80) {
				pts = append(pts, place(r, 500))
			}
			h, err := NewHull(pts)
			require.NoError(t, err)
			for k, n := range h.N {
				for _, p := range pts {
					require.LessOrEqual(t, r3.Dot(n, r3.Sub(p, h.V[h.Faces[k][0]])), 1e-6, "every point is inside")
				}
			}
			require.Equal(t, 2, len(h.V)-len(h.Edges)+len(h.Faces), "Euler: corners - edges + faces = 2")
			for _, f := range h.EdgeFaces {
				require.NotEqual(t, f[0], f[1], "two faces at every edge")
			}
		}
	})
	t.Run("a cube with points on faces, edges and inside", func(t *testing.T) {
		var pts []r3.Vec
		for x := -1.0; x <= 1; x++ {
			for y := -1.0; y <= 1; y++ {
				for z := -1.0; z <= 1; z++ {
					pts = append(pts, r3.Vec{X: 50 * x, Y: 50 * y, Z: 50 * z})
				}
			}
		}
		for range 20 {
			r.Shuffle(len(pts), func(i, j int) { pts[i], pts[j] = pts[j], pts[i] })
			h, err := NewHull(pts)
			require.NoError(t, err)
			assert.Len(t, h.V, 8)
			assert.Len(t, h.Faces, 6)
			assert.Len(t, h.Edges, 12)
			assert.Len(t, h.E, 3)
			assert.InEpsilon(t, 1e6, h.Volume(), 1e-12)
		}
	})
	t.Run("volume of a tetrahedron", func(t *testing.T) {
		h, err := NewHull([]r3.Vec{{}, {X: 30}, {Y: 40}, {Z: 50}})
		require.NoError(t, err)
		assert.InEpsilon(t, 30.0*40*50/6, h.Volume(), 1e-12)
	})
	t.Run("the same points, the same hull", func(t *testing.T) {
		var pts []r3.Vec
		for range 60 {
			pts = append(pts, place(r, 500))
		}
		a, err := NewHull(pts)
		require.NoError(t, err)
		b, err := NewHull(pts)
		require.NoError(t, err)
		assert.Equal(t, a, b)
	})
}

func TestBoundsAndBallHold(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 14))
	for range 500 {
		p := anyPiece(r, kinds[r.IntN(4)], 500)
		lo, hi := p.Bounds()
		c, rad := p.Ball()
		n := unit(r)
		q := p.Support(n)
		assert.InDelta(t, reachOf(&p, n), r3.Dot(n, q), 1e-9)
		assert.LessOrEqual(t, r3.Norm(r3.Sub(q, c)), rad+1e-9)
		for _, d := range [][3]float64{{lo.X, q.X, hi.X}, {lo.Y, q.Y, hi.Y}, {lo.Z, q.Z, hi.Z}} {
			assert.True(t, d[0] <= d[1]+1e-9 && d[1] <= d[2]+1e-9)
		}
		assert.InDelta(t, reachOf(&p, r3.Vec{Z: -1}), -lo.Z, 1e-9)
	}
}
