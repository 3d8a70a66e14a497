package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

var kinds = []Kind{Point, Segment, Polytope, Drum}

func kindName(k Kind) string { return [...]string{"point", "segment", "polytope", "drum"}[k] }

func eachPair(t *testing.T, f func(t *testing.T, ka, kb Kind)) {
	for _, ka := range kinds {
		for _, kb := range kinds {
			t.Run(kindName(ka)+"-"+kindName(kb), func(t *testing.T) { f(t, ka, kb) })
		}
	}
}

// Two points, one in each body, at the distance of two planes that part the bodies: neither can be bettered, so this is a proof of the distance, not a comparison.
func TestGapApartProved(t *testing.T) {
	const tol = 1e-7 // mm, the accuracy promised
	eachPair(t, func(t *testing.T, ka, kb Kind) {
		r := rand.New(rand.NewPCG(1, uint64(ka)*8+uint64(kb)))
		var s Scratch
		var g Result
		worst := 0.0
		apart := 0
		for range 4000 {
			a, b := anyPiece(r, ka, 900), anyPiece(r, kb, 900)
			s.Gap(&a, &b, &g)
			require.InDelta(t, 1, r3.Norm(g.N), 1e-12)
			require.InDelta(t, 0, r3.Norm(r3.Sub(r3.Sub(g.PointA, g.PointB), r3.Scale(g.Gap, g.N))), 1e-9)
			if g.Deep {
				continue
			}
			apart++
			worst = math.Max(worst, math.Abs(sep(&a, &b, g.N)-g.Gap))
			worst = math.Max(worst, math.Max(outside(&a, g.PointA), outside(&b, g.PointB)))
		}
		assert.Less(t, worst, tol)
		assert.Greater(t, apart, 400)
	})
}

func TestGapOverlapAgainstSearch(t *testing.T) {
	const tol = 1e-6 // mm
	eachPair(t, func(t *testing.T, ka, kb Kind) {
		if ka == Point && kb == Point {
			return // two points do not meet at random
		}
		r := rand.New(rand.NewPCG(2, uint64(ka)*8+uint64(kb)))
		var s Scratch
		var g Result
		deep, n := 0, 60
		for range n {
			a, b := anyPiece(r, ka, 150), anyPiece(r, kb, 150)
			s.Gap(&a, &b, &g)
			if g.Gap >= 0 {
				continue
			}
			if g.Deep {
				deep++
				// Parting along N takes exactly -Gap ...
				assert.InDelta(t, g.Gap, sep(&a, &b, g.N), tol)
				// ... the two points belong to the two bodies (along a smooth least value the direction is known to the root of the value's error) ...
				assert.Less(t, math.Max(outside(&a, g.PointA), outside(&b, g.PointB)), 1e-4)
			}
			// ... and no other direction parts them sooner.
			assert.LessOrEqual(t, -g.Gap, slowDepth(&a, &b, r)+tol)
		}
		if ka >= Polytope && kb >= Polytope {
			assert.Greater(t, deep, n/4)
		}
	})
}

func TestGapClosedForms(t *testing.T) {
	o := r3.Vec{}
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	box, err := NewBox(r3.Vec{X: -100, Y: -50, Z: -20}, r3.Vec{X: 100, Y: 50, Z: 20}, x, y, z)
	require.NoError(t, err)
	c, sn := math.Cos(math.Pi/4), math.Sin(math.Pi/4)
	diamond, err := NewBox(r3.Vec{X: -50, Y: -50, Z: -50}, r3.Vec{X: 50, Y: 50, Z: 50}, r3.Vec{X: c, Y: sn}, r3.Vec{X: -sn, Y: c}, z)
	require.NoError(t, err)
	ball := func(at r3.Vec, r float64) Piece { return Piece{Kind: Point, A: at, Radius: r} }
	bar := func(a, b r3.Vec, r float64) Piece { return Piece{Kind: Segment, A: a, B: b, Radius: r} }
	drum := Piece{Kind: Drum, A: o, Axis: y, Half: 100, Rho: 400, Radius: 25}
	moved := func(p Piece, v r3.Vec) Piece { p.Place(v, x, y, z, &p); return p }
	cases := []struct {
		name string
		a, b Piece
		want float64
	}{
		{"balls apart", ball(o, 10), ball(r3.Vec{X: 30, Y: 40}, 15), 25},
		{"balls overlap", ball(o, 30), ball(r3.Vec{X: 30, Y: 40}, 30), -10},
		{"balls on one centre", ball(o, 30), ball(o, 20), -50},
		{"ball beside bar", ball(r3.Vec{X: 50, Z: 40}, 10), bar(o, r3.Vec{X: 100}, 5), 25},
		{"ball past the end of a bar", ball(r3.Vec{X: 130, Z: 40}, 10), bar(o, r3.Vec{X: 100}, 5), 35},
		{"crossed bars", bar(r3.Vec{X: -100}, r3.Vec{X: 100}, 20), bar(r3.Vec{Y: -100, Z: 70}, r3.Vec{Y: 100, Z: 70}, 30), 20},
		{"crossing bars", bar(r3.Vec{X: -100}, r3.Vec{X: 100}, 20), bar(r3.Vec{Y: -100}, r3.Vec{Y: 100}, 30), -50},
		{"parallel bars", bar(o, r3.Vec{X: 100}, 20), bar(r3.Vec{X: 20, Z: 60}, r3.Vec{X: 300, Z: 60}, 30), 10},
		{"parallel bars past each other", bar(o, r3.Vec{X: 100}, 20), bar(r3.Vec{X: 130, Z: 40}, r3.Vec{X: 300, Z: 40}, 30), 0},
		{"one bar on another", bar(o, r3.Vec{X: 100}, 20), bar(r3.Vec{X: 20}, r3.Vec{X: 300}, 30), -50},
		{"bar without length", bar(o, o, 20), bar(r3.Vec{X: 100, Y: -5}, r3.Vec{X: 100, Y: 5}, 30), 50},
		{"two bars without length, on one point", bar(o, o, 20), bar(o, o, 30), -50},
		{"ball over box", ball(r3.Vec{X: 60, Z: 100}, 30), box, 50},
		{"ball off a box corner", ball(r3.Vec{X: 103, Y: 54, Z: 32}, 3), box, 10},
		{"ball inside box", ball(r3.Vec{X: 60, Z: 5}, 3), box, -18},
		{"bar over box, face to side", bar(r3.Vec{X: -300, Z: 50}, r3.Vec{X: 300, Z: 50}, 10), box, 20},
		{"bar through box", bar(r3.Vec{X: -300, Z: 5}, r3.Vec{X: 300, Z: 5}, 10), box, -25},
		{"bar in the plane of a face", bar(r3.Vec{X: -300, Z: 20}, r3.Vec{X: 300, Z: 20}, 10), box, -10},
		{"box beside box", box, moved(box, r3.Vec{X: 230}), 30},
		{"box on box, sharing a face", box, moved(box, r3.Vec{X: 200}), 0},
		{"box in box", box, moved(box, r3.Vec{X: 10, Y: 20, Z: 12}), -28},
		{"box edge to box edge", diamond, moved(diamond, r3.Vec{X: 200}), 200 - 100*math.Sqrt2},
		{"drum side to ball", drum, ball(r3.Vec{X: 500}, 50), 25},
		{"drum face to ball", drum, ball(r3.Vec{X: 300, Y: 200}, 50), 25},
		{"drum rim to ball", drum, ball(r3.Vec{X: 430, Y: 140}, 10), 15},
		{"ball on the drum's axis", drum, ball(r3.Vec{Y: 160}, 10), 25},
		{"ball at the drum's centre", drum, ball(o, 10), -135},
		{"drum face to a bar along it", drum, bar(r3.Vec{X: -600, Y: 200}, r3.Vec{X: 600, Y: 200}, 30), 45},
		{"drum side to a bar along its axis", drum, bar(r3.Vec{X: 500, Y: -30}, r3.Vec{X: 500, Y: 30}, 30), 45},
		{"drum under box", drum, moved(box, r3.Vec{Z: 500}), 55},
		{"drum and box beside it", drum, moved(box, r3.Vec{Y: 300}), 125},
		{"bar through the drum along its axis", drum, bar(r3.Vec{Y: -600}, r3.Vec{Y: 600}, 10), -435},
		{"bar through the drum across", drum, bar(r3.Vec{X: -600, Y: 40}, r3.Vec{X: 600, Y: 40}, 10), -95},
		{"box in drum", drum, box, -(100 + 50 + 25)},
		{"drums side by side", drum, moved(drum, r3.Vec{Y: 300}), 50},
		{"drums one behind the other", drum, moved(drum, r3.Vec{X: 900}), 50},
		{"drums in each other", drum, moved(drum, r3.Vec{X: 10, Y: 30}), -(200 - 30 + 50)},
	}
	var s Scratch
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			var g, h Result
			s.Gap(&tc.a, &tc.b, &g)
			assert.InDelta(t, tc.want, g.Gap, 1e-7)
			s.Gap(&tc.b, &tc.a, &h)
			assert.InDelta(t, tc.want, h.Gap, 1e-7)
			// Moved apart by what the answer says, they just touch.
			p := moved(tc.a, r3.Scale(-g.Gap, g.N))
			s.Gap(&p, &tc.b, &h)
			assert.InDelta(t, 0, h.Gap, 1e-6)
		})
	}
}

// Poses as symmetrical as an axle at ride height, where simplices come out flat.
func TestGapMirrorSymmetric(t *testing.T) {
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	var s Scratch
	var g Result
	for _, h := range []float64{1, 0.5, 1e-3, 1e-6} {
		box, err := NewBox(r3.Vec{X: -620, Y: -180, Z: -15}, r3.Vec{X: 620, Y: 180, Z: 15}, x, y, z)
		require.NoError(t, err)
		tyre := Piece{Kind: Drum, A: r3.Vec{Z: -441 - 15 - h - 25}, Axis: y, Half: 134, Rho: 441, Radius: 25}
		s.Gap(&tyre, &box, &g)
		assert.InDelta(t, h, g.Gap, 1e-9)
		bar := Piece{Kind: Segment, A: r3.Vec{X: -900, Z: 15 + h}, B: r3.Vec{X: 900, Z: 15 + h}}
		s.Gap(&bar, &box, &g)
		assert.InDelta(t, h, g.Gap, 1e-9)
		other := box
		other.Place(r3.Vec{Z: 30 + h}, x, y, z, &other)
		s.Gap(&other, &box, &g)
		assert.InDelta(t, h, g.Gap, 1e-9)
		assert.InDelta(t, 1, g.N.Z, 1e-12)
	}
}

func drawPiece(t *rapid.T, name string) Piece {
	seed := rapid.Uint64().Draw(t, name)
	k := kinds[rapid.IntRange(0, 3).Draw(t, name+" kind")]
	return anyPiece(rand.New(rand.NewPCG(3, seed)), k, 500)
}

func TestGapProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawPiece(t, "a"), drawPiece(t, "b")
		r := rand.New(rand.NewPCG(4, rapid.Uint64().Draw(t, "move")))
		var s, fresh Scratch
		var g, h Result
		s.Gap(&a, &b, &g)

		s.Gap(&b, &a, &h)
		assert.InDelta(t, g.Gap, h.Gap, 2e-6, "the other way round")

		fresh.Gap(&a, &b, &h)
		assert.Equal(t, g, h, "what was measured before plays no part")

		ex, ey, ez := frame(r)
		shift := place(r, 2000)
		var am, bm Piece
		a.Place(shift, ex, ey, ez, &am)
		b.Place(shift, ex, ey, ez, &bm)
		s.Gap(&am, &bm, &h)
		assert.InDelta(t, g.Gap, h.Gap, 2e-6, "moved together")

		d := place(r, 50)
		a.Place(d, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, &am)
		s.Gap(&am, &b, &h)
		assert.LessOrEqual(t, math.Abs(h.Gap-g.Gap), r3.Norm(d)+2e-6, "no gap changes faster than its parts move")

		if g.Gap < 0 {
			a.Place(r3.Scale(-g.Gap, g.N), r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, &am)
			s.Gap(&am, &b, &h)
			assert.InDelta(t, 0, h.Gap, 2e-6, "parted")
		}
	})
}

// Cores brought to within a hair of touching, where the difference is too short to give a direction.
func TestGapCoresNearlyTouching(t *testing.T) {
	eachPair(t, func(t *testing.T, ka, kb Kind) {
		r := rand.New(rand.NewPCG(8, uint64(ka)*8+uint64(kb)))
		tol := 2e-7 // mm
		if ka == Drum || kb == Drum {
			tol = 1e-4
		}
		var s Scratch
		var g, h Result
		for range 400 {
			a, b := anyPiece(r, ka, 700), anyPiece(r, kb, 700)
			s.Gap(&a, &b, &g)
			radii := a.Radius + b.Radius
			for _, e := range []float64{1e-9, 1e-7, 1e-5, 1e-3, 0.1} {
				var am Piece
				a.Place(r3.Scale(e-g.Gap-radii, g.N), r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, &am)
				s.Gap(&am, &b, &h)
				require.InDelta(t, e-radii, h.Gap, tol)
				if !h.Deep {
					require.InDelta(t, h.Gap, sep(&am, &b, h.N), 2*tol, "the direction parts them")
				}
			}
		}
	})
}

func TestSolidGapIsLeastOfPieces(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	var s Scratch
	for range 300 {
		var a, b Solid
		for range 1 + r.IntN(4) {
			a.Pieces = append(a.Pieces, anyPiece(r, kinds[r.IntN(4)], 1500))
		}
		for range 1 + r.IntN(4) {
			b.Pieces = append(b.Pieces, anyPiece(r, kinds[r.IntN(4)], 1500))
		}
		want, g := math.Inf(1), Result{}
		for i := range a.Pieces {
			for j := range b.Pieces {
				s.Gap(&a.Pieces[i], &b.Pieces[j], &g)
				want = math.Min(want, g.Gap)
			}
		}
		s.SolidGap(&a, &b, &g)
		require.Equal(t, want, g.Gap)
		var h Result
		s.Gap(&a.Pieces[g.PieceA], &b.Pieces[g.PieceB], &h)
		require.Equal(t, want, h.Gap)
	}
}

func TestGapDoesNotAllocate(t *testing.T) {
	eachPair(t, func(t *testing.T, ka, kb Kind) {
		r := rand.New(rand.NewPCG(6, 6))
		var s Scratch
		var g Result
		for _, spread := range []float64{900, 50} {
			a, b := anyPiece(r, ka, spread), anyPiece(r, kb, spread)
			assert.Zero(t, testing.AllocsPerRun(20, func() { s.Gap(&a, &b, &g) }))
		}
	})
}

// The features name vertices whose hull holds the nearest point.
func TestGapFeatures(t *testing.T) {
	box, err := NewBox(r3.Vec{X: -100, Y: -50, Z: -20}, r3.Vec{X: 100, Y: 50, Z: 20}, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1})
	require.NoError(t, err)
	bar := Piece{Kind: Segment, A: r3.Vec{X: 50, Y: -300, Z: 90}, B: r3.Vec{X: 180, Y: 300, Z: -20}}
	var s Scratch
	var g Result
	s.Gap(&bar, &box, &g)
	require.EqualValues(t, 2, g.FeatureA.N)
	require.EqualValues(t, 2, g.FeatureB.N)
	e := r3.Sub(box.Hull.V[g.FeatureB.V[0]], box.Hull.V[g.FeatureB.V[1]])
	assert.InDelta(t, 0, r3.Dot(g.N, r3.Unit(e)), 1e-9)
	assert.InDelta(t, 0, r3.Dot(g.N, r3.Unit(r3.Sub(bar.B, bar.A))), 1e-9)
}

func BenchmarkGap(b *testing.B) {
	for _, spread := range []float64{1500, 60} {
		for i, ka := range kinds {
			for _, kb := range kinds[i:] {
				word := "apart"
				if spread < 100 {
					word = "overlapping"
				}
				b.Run(fmt.Sprintf("%s/%s-%s", word, kindName(ka), kindName(kb)), func(b *testing.B) {
					r := rand.New(rand.NewPCG(7, 7))
					var as, bs [64]Piece
					for k := range as {
						as[k], bs[k] = anyPiece(r, ka, spread), anyPiece(r, kb, spread)
					}
					var s Scratch
					var g Result
					b.ReportAllocs()
					for k := 0; b.Loop(); k++ {
						s.Gap(&as[k%64], &bs[k%64], &g)
					}
				})
			}
		}
	}
}
