package shape

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// ballMesh is a ball of meridians and parallels, closed, facing outwards.
func ballMesh(n int, r float64, c r3.Vec) []r3.Vec {
	at := func(i, j int) r3.Vec {
		p, q := math.Pi*float64(i)/float64(n), math.Pi*float64(j%(2*n))/float64(n)
		if i == 0 || i == n {
			return r3.Vec{X: c.X, Y: c.Y, Z: c.Z + r*math.Copysign(1, math.Cos(p))}
		}
		return r3.Vec{X: c.X + r*math.Sin(p)*math.Cos(q), Y: c.Y + r*math.Sin(p)*math.Sin(q), Z: c.Z + r*math.Cos(p)}
	}
	var out []r3.Vec
	for i := range n {
		for j := range 2 * n {
			a, b, d, e := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			if i < n-1 {
				out = append(out, a, b, d)
			}
			if i > 0 {
				out = append(out, a, d, e)
			}
		}
	}
	return out
}

// hullMesh is the surface of a convex polytope, each face as a fan.
func hullMesh(h *Hull) []r3.Vec {
	var out []r3.Vec
	for _, f := range h.Faces {
		for i := 1; i+1 < len(f); i++ {
			out = append(out, h.V[f[0]], h.V[f[i]], h.V[f[i+1]])
		}
	}
	return out
}

func boxHull(t testing.TB, lo, hi r3.Vec) *Hull {
	p, err := NewBox(lo, hi, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1})
	require.NoError(t, err)
	return p.Hull
}

// binary and text write a mesh as STL.
func binaryOf(corners []r3.Vec) []byte {
	b := make([]byte, stlHead, stlHead+stlTriangle*len(corners)/3)
	copy(b, "solid, but binary")
	binary.LittleEndian.PutUint32(b[80:], uint32(len(corners)/3))
	for i := 0; i < len(corners); i += 3 {
		b = append(b, make([]byte, 12)...)
		for _, p := range corners[i : i+3] {
			for _, x := range []float64{p.X, p.Y, p.Z} {
				b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(x)))
			}
		}
		b = append(b, 0, 0)
	}
	return b
}

func textOf(corners []r3.Vec) string {
	var b strings.Builder
	b.WriteString("solid a part with a name\n")
	for i := 0; i < len(corners); i += 3 {
		b.WriteString("  facet normal nan nan nan\n    outer loop\n")
		for _, p := range corners[i : i+3] {
			fmt.Fprintf(&b, "      vertex %.17e %.17e %.17e\n", p.X, p.Y, p.Z)
		}
		b.WriteString("    endloop\n  endfacet\n")
	}
	b.WriteString("endsolid a part with a name\n")
	return b.String()
}

func mesh(t testing.TB, corners []r3.Vec) *Mesh {
	m, err := NewMesh(corners)
	require.NoError(t, err)
	return m
}

func TestReadSTL(t *testing.T) {
	corners := ballMesh(8, 100, r3.Vec{X: 900, Y: 300, Z: 500})
	text, err := ReadSTL(strings.NewReader(textOf(corners)))
	require.NoError(t, err)
	bin, err := ReadSTL(bytes.NewReader(binaryOf(corners)))
	require.NoError(t, err)
	for _, m := range []*Mesh{text, bin} {
		assert.Len(t, m.T, len(corners)/3)
		assert.Len(t, m.V, 7*16+2) // seven parallels of sixteen, two poles
		assert.True(t, m.Closed)
		assert.Zero(t, m.Holes+m.Turned)
	}
	a, ok := text.Volume()
	assert.True(t, ok)
	b, _ := bin.Volume()
	assert.InEpsilon(t, a, b, 1e-6)
	several, err := ReadSTL(strings.NewReader(textOf(corners[:300]) + textOf(corners[300:])))
	require.NoError(t, err)
	assert.True(t, several.Closed)
}

func TestReadSTLRefuses(t *testing.T) {
	corners := ballMesh(4, 100, r3.Vec{})
	bin, text := binaryOf(corners), textOf(corners)
	huge := append([]byte(nil), bin...)
	binary.LittleEndian.PutUint32(huge[80:], 4_000_000_000)
	far := append([]r3.Vec(nil), corners...)
	far[4].Y = 2e5
	none := append([]r3.Vec(nil), corners...)
	none[7].Z = math.NaN()
	for _, c := range []struct{ name, file, want string }{
		{"empty", "", "It is empty."},
		{"short", "solid", "cut short"},
		{"other", strings.Repeat("PK\x03\x04", 40), "no STL file"},
		{"binary cut", string(bin[:len(bin)-1]), "Its head tells of 48 triangles and 47 are there"},
		{"binary longer", string(bin) + "x", "there is more after them"},
		{"binary huge", string(huge), "cut short"},
		{"text cut", text[:len(text)/2], "cut short"},
		{"text without end", strings.TrimSuffix(text, "endsolid a part with a name\n"), "without \"endsolid\""},
		{"text word", strings.Replace(text, "outer loop", "outer circle", 1), `Line 3 has "circle" where "loop" was expected.`},
		{"text number", strings.Replace(text, "vertex ", "vertex x", 1), "where a number was expected"},
		{"no triangles", "solid a\nendsolid a\n", "It holds no triangles."},
		{"no number", textOf(none), "Triangle 3 has a corner that is no number."},
		{"too large a number", strings.Replace(text, "vertex ", "vertex 1e999 ", 1), "expected"},
		{"far", string(binaryOf(far)), "Triangle 2 has a corner more than 100 m from the origin."},
		{"lines only", textOf([]r3.Vec{{}, {X: 1}, {X: 1}}), "None of its triangles has an area."},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadSTL(strings.NewReader(c.file))
			assert.ErrorContains(t, err, c.want)
		})
	}
	many := make([]r3.Vec, 3*(MaxTriangles+1))
	_, err := ReadSTL(bytes.NewReader(binaryOf(many)))
	assert.ErrorContains(t, err, "300001 triangles; at most 300000")
}

func FuzzReadSTL(f *testing.F) {
	corners := ballMesh(3, 10, r3.Vec{})
	f.Add(binaryOf(corners))
	f.Add([]byte(textOf(corners)))
	f.Add([]byte("solid\nfacet normal 0 0 0 outer loop vertex 1 2 3"))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := ReadSTL(bytes.NewReader(data))
		if err != nil {
			require.Nil(t, m)
			require.True(t, strings.HasSuffix(err.Error(), "."))
			return
		}
		var corners []r3.Vec
		for _, c := range m.T {
			corners = append(corners, m.V[c[0]], m.V[c[1]], m.V[c[2]])
		}
		again, err := NewMesh(corners)
		require.NoError(t, err)
		require.LessOrEqual(t, len(again.T), len(m.T))
		a, b := m.Piece(), Piece{Kind: Segment, A: r3.Vec{X: 5}, B: r3.Vec{Y: 5, Z: 5}, Radius: 1}
		var s Scratch
		var g Result
		s.Gap(&a, &b, &g)
		require.False(t, math.IsNaN(g.Gap) || math.IsInf(g.Gap, 0))
	})
}

// What keeps a mesh from being closed is counted.
func TestMeshClosed(t *testing.T) {
	box := hullMesh(boxHull(t, r3.Vec{X: -1, Y: -2, Z: -3}, r3.Vec{X: 1, Y: 2, Z: 3}))
	m := mesh(t, box)
	v, ok := m.Volume()
	assert.True(t, ok)
	assert.InDelta(t, 48, v, 1e-12)

	m = mesh(t, box[3:])
	assert.False(t, m.Closed)
	assert.Equal(t, 3, m.Holes)

	one := append([]r3.Vec(nil), box...)
	one[0], one[1] = one[1], one[0]
	m = mesh(t, one)
	assert.False(t, m.Closed)
	assert.Equal(t, 3, m.Turned)

	inward := append([]r3.Vec(nil), box...)
	for i := 0; i < len(inward); i += 3 {
		inward[i], inward[i+1] = inward[i+1], inward[i]
	}
	m = mesh(t, inward)
	assert.True(t, m.Closed, "turned over as a whole")
	v, _ = m.Volume()
	assert.InDelta(t, 48, v, 1e-12)

	// Corners a little apart are one, across the borders of the grid too.
	rng := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		off := r3.Vec{X: rng.Float64(), Y: rng.Float64(), Z: rng.Float64()}
		rough := append([]r3.Vec(nil), box...)
		for i := range rough {
			rough[i] = r3.Add(rough[i], r3.Add(off, r3.Vec{X: 2e-4 * rng.Float64(), Y: 2e-4 * rng.Float64(), Z: 2e-4 * rng.Float64()}))
		}
		m = mesh(t, rough)
		require.Len(t, m.V, 8)
		require.True(t, m.Closed)
	}

	two := mesh(t, append(append([]r3.Vec(nil), box...), ballMesh(6, 1, r3.Vec{X: 10})...))
	assert.Len(t, two.shells, 2)
	assert.True(t, two.Closed)
}

func TestMeshMirrored(t *testing.T) {
	m := mesh(t, ballMesh(6, 50, r3.Vec{X: 10, Y: 300, Z: 20}))
	w := m.Mirrored()
	assert.True(t, w.Closed)
	a, _ := m.Volume()
	b, _ := w.Volume()
	assert.InEpsilon(t, a, b, 1e-12)
	assert.True(t, w.Holds(r3.Vec{X: 10, Y: -300, Z: 20}))
	assert.False(t, w.Holds(r3.Vec{X: 10, Y: 300, Z: 20}))
}

// strewn is one of each kind of convex piece, somewhere within reach of the origin.
func strewn(t testing.TB, rng *rand.Rand, reach float64) Piece {
	v := func(k float64) r3.Vec {
		return r3.Vec{X: k * (2*rng.Float64() - 1), Y: k * (2*rng.Float64() - 1), Z: k * (2*rng.Float64() - 1)}
	}
	c := v(reach)
	switch rng.IntN(4) {
	case 0:
		return Piece{Kind: Point, A: c, Radius: 40 * rng.Float64()}
	case 1:
		return Piece{Kind: Segment, A: c, B: r3.Add(c, v(200)), Radius: 40 * rng.Float64()}
	case 2:
		return Piece{Kind: Drum, A: c, Axis: r3.Unit(v(1)), Half: 60 * rng.Float64(), Rho: 20 + 80*rng.Float64(), Radius: 20 * rng.Float64()}
	}
	p := Piece{Kind: Polytope, Hull: boxHull(t, r3.Vec{X: -30, Y: -40, Z: -50}, r3.Vec{X: 60, Y: 20, Z: 10})}
	z := r3.Unit(v(1))
	x := square(z)
	p.Place(c, x, cross(z, x), z, &p)
	return p
}

// A convex body's surface against the body itself: apart they are one; where they overlap the mesh tells at most what the body does.
func TestMeshGapAgainstTheBody(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	hull := boxHull(t, r3.Vec{X: -100, Y: -150, Z: -80}, r3.Vec{X: 120, Y: 90, Z: 70})
	body := Piece{Kind: Polytope, Hull: hull}
	m := mesh(t, hullMesh(hull))
	skin := m.Piece()
	var s Scratch
	var g, w Result
	apart, over := 0, 0
	for range 4000 {
		q := strewn(t, rng, 350)
		z := r3.Unit(r3.Vec{X: rng.Float64() - 0.5, Y: rng.Float64() - 0.5, Z: rng.Float64() - 0.5})
		x := square(z)
		shift := r3.Vec{X: 1000 * rng.Float64(), Y: 20, Z: -500 * rng.Float64()}
		var b1, b2, p Piece
		body.Place(shift, x, cross(z, x), z, &b1)
		skin.Place(shift, x, cross(z, x), z, &b2)
		q.Place(shift, x, cross(z, x), z, &p)
		s.Gap(&b1, &p, &w)
		s.Gap(&b2, &p, &g)
		require.InDelta(t, g.Gap, r3.Dot(r3.Sub(g.PointA, g.PointB), g.N), 1e-6)
		require.InDelta(t, 1, r3.Norm(g.N), 1e-9)
		if w.Gap > 0 {
			apart++
			require.InDelta(t, w.Gap, g.Gap, 1e-6)
		} else {
			over++
			require.GreaterOrEqual(t, g.Gap, w.Gap-1e-4)
			require.Less(t, g.Gap, 1e-6, "%+v", q)
		}
		var back Result
		s.Gap(&p, &b2, &back)
		require.Equal(t, g.Gap, back.Gap)
		require.Equal(t, g.PointA, back.PointB)
	}
	assert.Greater(t, apart, 200)
	assert.Greater(t, over, 200)
}

// A ball in a ball: as deep as the two balls are, less the chord error.
func TestMeshHoldsWhole(t *testing.T) {
	const r = 200.0
	m := mesh(t, ballMesh(40, r, r3.Vec{}))
	chord := r * (1 - math.Cos(math.Pi/40)*math.Cos(math.Pi/80)) // of a flat quarter, both ways
	skin := m.Piece()
	var s Scratch
	var g Result
	for _, d := range []float64{10, 60, 120, 180, 199} {
		p := r3.Scale(d, r3.Unit(r3.Vec{X: 1, Y: 2, Z: -0.5}))
		require.True(t, m.Holds(p))
		s.Gap(&skin, &Piece{Kind: Point, A: p, Radius: 5}, &g)
		assert.InDelta(t, d-r-5, g.Gap, chord+1e-9)
		assert.LessOrEqual(t, d-r-5, g.Gap)
	}
	assert.False(t, m.Holds(r3.Vec{X: 201}))
	// A bar wholly within, and one that sticks out.
	s.Gap(&skin, &Piece{Kind: Segment, A: r3.Vec{X: -50}, B: r3.Vec{X: 50}, Radius: 10}, &g)
	assert.InDelta(t, -210, g.Gap, chord+1e-9)
	s.Gap(&skin, &Piece{Kind: Segment, A: r3.Vec{}, B: r3.Vec{X: 500}, Radius: 10}, &g)
	assert.InDelta(t, -210, g.Gap, chord+1e-9)
	// Two meshes, one in the other; the other way round too.
	small := mesh(t, ballMesh(12, 30, r3.Vec{X: 60}))
	in := small.Piece()
	s.Gap(&skin, &in, &g)
	assert.Less(t, g.Gap, -100.0)
	n := g.Gap
	s.Gap(&in, &skin, &g)
	assert.Equal(t, n, g.Gap)
	var far Piece
	in.Place(r3.Vec{X: 300}, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, &far)
	s.Gap(&skin, &far, &g)
	assert.InDelta(t, 360-200-30, g.Gap, 2*chord)
	assert.InDelta(t, g.Gap, r3.Dot(r3.Sub(g.PointA, g.PointB), g.N), 1e-9)
	// With a hole only touching is noticed.
	open := mesh(t, ballMesh(40, r, r3.Vec{})[3:])
	skin = open.Piece()
	s.Gap(&skin, &Piece{Kind: Point, A: r3.Vec{X: 50}, Radius: 5}, &g)
	assert.InDelta(t, 145, g.Gap, chord)
}

// The tree leaves out nothing: every triangle one by one gives the same.
func TestMeshTreeAgainstAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 3))
	m := mesh(t, ballMesh(9, 100, r3.Vec{})[6:])
	skin := m.Piece()
	var s Scratch
	var f facet
	var g, r Result
	for range 1500 {
		q := strewn(t, rng, 300)
		s.Gap(&skin, &q, &g)
		least := math.Inf(1)
		for i := range m.T {
			s.Gap(&Piece{Kind: Polytope, Hull: f.set(m, int32(i))}, &q, &r)
			least = min(least, r.Gap)
		}
		require.InDelta(t, least, g.Gap, 1e-5)
	}
}

// A ray that meets edges and corners is counted once there.
func TestMeshHoldsOnEdges(t *testing.T) {
	m := mesh(t, hullMesh(boxHull(t, r3.Vec{X: -1, Y: -1, Z: -1}, r3.Vec{X: 1, Y: 1, Z: 1})))
	for i := range 3 {
		for k := range m.T {
			// From a corner, or the middle of an edge, back along the ray: the ray meets just that.
			for _, at := range []r3.Vec{m.V[m.T[k][i]], r3.Scale(0.5, r3.Add(m.V[m.T[k][i]], m.V[m.T[k][(i+1)%3]]))} {
				p := r3.Sub(at, r3.Scale(0.01, rayZ))
				inside := math.Abs(p.X) < 1 && math.Abs(p.Y) < 1 && math.Abs(p.Z) < 1
				assert.Equal(t, inside, m.Holds(p), "%v", p)
			}
		}
	}
}

func TestMeshGapDoesNotAllocate(t *testing.T) {
	m := mesh(t, ballMesh(30, 200, r3.Vec{}))
	skin := m.Piece()
	bar := Piece{Kind: Segment, A: r3.Vec{X: -400, Y: 250}, B: r3.Vec{X: 400, Y: 230}, Radius: 20}
	var beside Piece
	skin.Place(r3.Vec{X: 500}, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, &beside)
	var s Scratch
	var g Result
	assert.Zero(t, testing.AllocsPerRun(20, func() {
		s.Gap(&skin, &bar, &g)
		s.Gap(&skin, &beside, &g)
	}))
}

func BenchmarkMeshGap(b *testing.B) {
	for _, n := range []int{16, 71, 224} {
		m := mesh(b, ballMesh(n, 300, r3.Vec{}))
		skin := m.Piece()
		for _, c := range []struct {
			name string
			q    Piece
		}{
			{"bar beside", Piece{Kind: Segment, A: r3.Vec{X: -400, Y: 330, Z: 20}, B: r3.Vec{X: 400, Y: 350, Z: -30}, Radius: 20}},
			{"bar through", Piece{Kind: Segment, A: r3.Vec{X: -400, Y: 270, Z: 20}, B: r3.Vec{X: 400, Y: 250, Z: -30}, Radius: 20}},
			{"tyre beside", Piece{Kind: Drum, A: r3.Vec{Y: 500}, Axis: r3.Vec{Y: 1}, Half: 100, Rho: 380, Radius: 25}},
			{"tyre through", Piece{Kind: Drum, A: r3.Vec{Y: 350}, Axis: r3.Vec{Y: 1}, Half: 100, Rho: 380, Radius: 25}},
		} {
			b.Run(fmt.Sprintf("%d/%s", len(m.T), c.name), func(b *testing.B) {
				var s Scratch
				var g Result
				b.ReportAllocs()
				for b.Loop() {
					s.Gap(&skin, &c.q, &g)
				}
			})
		}
	}
}

// A ball's outline from any side is one ring of its radius; a box's from the front the front face.
func TestContour(t *testing.T) {
	skin := mesh(t, ballMesh(24, 100, r3.Vec{X: 10})).Piece()
	var placed Piece
	skin.Place(r3.Vec{Z: 5}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, r3.Vec{X: 1}, &placed)
	for _, d := range []r3.Vec{{X: 2}, {Y: -1}, {Z: 1}, {X: 1, Y: 2, Z: 3}} {
		lines := placed.Contour(d)
		require.Len(t, lines, 1)
		assert.Equal(t, lines[0][0], lines[0][len(lines[0])-1])
		for _, p := range lines[0] {
			assert.InDelta(t, 100, r3.Norm(r3.Sub(p, r3.Vec{Y: 10, Z: 5})), 1e-9)
			assert.Less(t, math.Abs(r3.Dot(r3.Unit(d), r3.Sub(p, r3.Vec{Y: 10, Z: 5}))), 15.0)
		}
	}
	box := mesh(t, hullMesh(boxHull(t, r3.Vec{X: -1, Y: -2, Z: -3}, r3.Vec{X: 1, Y: 2, Z: 3}))).Piece()
	lines := box.Contour(r3.Vec{Y: 1})
	require.Len(t, lines, 1)
	assert.Len(t, lines[0], 5)
	for _, p := range lines[0] {
		assert.Equal(t, 2.0, p.Y)
	}
	open := mesh(t, []r3.Vec{{}, {X: 1}, {Y: 1}}).Piece()
	lines = open.Contour(r3.Vec{Z: 1})
	require.Len(t, lines, 1)
	assert.Len(t, lines[0], 4)
}

// The furthest corner along a direction is found through the tree.
func TestMeshSupport(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	m := mesh(t, ballMesh(9, 100, r3.Vec{X: 7}))
	p := m.Piece()
	p.Radius = 3
	for range 500 {
		d := r3.Unit(r3.Vec{X: rng.Float64() - 0.5, Y: rng.Float64() - 0.5, Z: rng.Float64() - 0.5})
		want := math.Inf(-1)
		for _, v := range m.V {
			want = max(want, r3.Dot(d, v))
		}
		require.InDelta(t, want+3, r3.Dot(d, p.Support(d)), 1e-12)
	}
	lo, hi := p.Bounds()
	assert.InDelta(t, -96, lo.X, 1.6) // the chord of a ninth
	assert.InDelta(t, 110, hi.X, 1.6)
}
