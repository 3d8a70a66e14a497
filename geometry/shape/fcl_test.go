package shape

import (
	"bufio"
	"context"
	"encoding/binary"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// fclProgram builds the reference program; the test is skipped where that cannot be done and is not asked for.
func fclProgram(t *testing.T) string {
	needed := os.Getenv("AXLELOFT_REQUIRE_REFERENCES") == "1"
	_, noHeaders := os.Stat("/usr/include/fcl/narrowphase/distance.h")
	if _, err := exec.LookPath("g++"); (err != nil || noHeaders != nil) && !needed {
		t.Skip("the reference library is not installed (Debian: g++ libfcl-dev)")
	}
	program := filepath.Join(t.TempDir(), "fcl_gap")
	for _, f := range []string{"testdata/reference/fcl_gap.cpp", "../../testdata/reference/fcl.h"} { // also tells the test cache what the result hangs on
		_, err := os.Stat(f)
		require.NoError(t, err)
	}
	out, err := exec.Command("g++", "-std=c++17", "-O2", "-pthread", "-I/usr/include/eigen3", "testdata/reference/fcl_gap.cpp", "-o", program, "-lfcl", "-lccd", "-loctomap", "-loctomath").CombinedOutput()
	require.NoError(t, err, string(out))
	return program
}

// known is a shape as this package has it and as the reference library is told of it: a union of numbers as fcl.h reads them.
type known struct {
	solid  Solid
	told   []float64
	pieces int
	off    float64 // what of its radius the library is not told, mm
	// of a prism that is not convex: what is inside it
	outline [][2]float64
	half    float64
}

func (k *known) tell(kind int, radius float64, v ...float64) {
	k.told = append(append(k.told, float64(kind), radius), v...)
	k.pieces++
	if kind > 0 {
		k.off = radius
	}
}

func flat3(v ...r3.Vec) (f []float64) {
	for _, p := range v {
		f = append(f, p.X, p.Y, p.Z)
	}
	return f
}

func (k *known) mesh(v []r3.Vec, t [][3]int32) {
	f := append([]float64{float64(len(v))}, flat3(v...)...)
	f = append(f, float64(len(t)))
	for _, c := range t {
		f = append(f, float64(c[0]), float64(c[1]), float64(c[2]))
	}
	k.tell(5, 0, f...)
}

// someShape makes a shape of a kind about its own origin. round: of whole sizes along its own axes, so that faces and edges of two such shapes come to lie in one plane or line.
func someShape(t testing.TB, r *rand.Rand, kind string, round bool) *known {
	size := func(most float64) float64 {
		if round {
			return 50 * float64(1+r.IntN(int(most/50)))
		}
		return 5 + (most-5)*r.Float64()
	}
	k := &known{}
	bar := func(a, b r3.Vec, radius float64) {
		k.solid.Pieces = append(k.solid.Pieces, Piece{Kind: Segment, A: a, B: b, Radius: radius})
		k.tell(1, radius, flat3(a, b)...)
	}
	prism := func(outline [][2]float64) {
		half := size(150)
		s, err := NewPrism(outline, -half, half, func(u, v, w float64) r3.Vec { return r3.Vec{X: u, Y: v, Z: w} })
		require.NoError(t, err)
		k.solid, k.outline, k.half = s, outline, half
	}
	star := func(n int, least float64) [][2]float64 { // anticlockwise, the origin sees all of it
		out := make([][2]float64, n)
		for i := range out {
			s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.7*r.Float64()) / float64(n))
			d := least + (300-least)*r.Float64()
			out[i] = [2]float64{d * c, d * s}
		}
		return out
	}
	// ends and sides as triangles, from the outline alone: from its own origin, not by the package's cutting
	surface := func() {
		n := int32(len(k.outline))
		var v []r3.Vec
		for _, z := range []float64{-k.half, k.half} {
			for _, p := range k.outline {
				v = append(v, r3.Vec{X: p[0], Y: p[1], Z: z})
			}
		}
		v = append(v, r3.Vec{Z: -k.half}, r3.Vec{Z: k.half})
		var f [][3]int32
		for i := range n {
			j := (i + 1) % n
			f = append(f, [3]int32{2 * n, j, i}, [3]int32{2*n + 1, n + i, n + j}, [3]int32{i, j, n + j}, [3]int32{i, n + j, n + i})
		}
		k.mesh(v, f)
	}
	switch kind {
	case "ball":
		radius := size(150)
		k.solid.Pieces = []Piece{{Kind: Point, Radius: radius}}
		k.tell(0, radius, 0, 0, 0)
	case "bar":
		h := r3.Vec{X: size(600)}
		bar(r3.Scale(-1, h), h, size(60))
	case "tube": // bent in space
		at, radius := r3.Vec{}, size(50)
		for range 2 + r.IntN(3) {
			next := r3.Add(at, r3.Vec{X: size(400), Y: size(300) - 150, Z: size(300) - 150})
			bar(at, next, radius)
			at = next
		}
	case "tyre":
		shoulder := 25.0
		if !round {
			shoulder = 60 * r.Float64()
		}
		p := Piece{Kind: Drum, Axis: r3.Vec{Y: 1}, Half: size(150), Rho: size(450), Radius: shoulder}
		k.solid.Pieces = []Piece{p}
		k.tell(2, p.Radius, 0, 0, 0, 0, 1, 0, p.Half, p.Rho)
	case "box":
		h := r3.Vec{X: size(500), Y: size(300), Z: size(150)}
		p, err := NewBox(r3.Scale(-1, h), h, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1})
		require.NoError(t, err)
		k.solid.Pieces = []Piece{p}
		k.tell(3, 0, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1, h.X, h.Y, h.Z)
	case "prism": // convex: corners on an ellipse
		n := 3 + r.IntN(6)
		out := make([][2]float64, n)
		a, b := size(400), size(400)
		for i := range out {
			at := 2 * math.Pi * float64(i) / float64(n)
			if !round {
				at += 5 / float64(n) * r.Float64()
			}
			s, c := math.Sincos(at)
			out[i] = [2]float64{a * c, b * s}
		}
		prism(out)
		require.Len(t, k.solid.Pieces, 1)
		f := []float64{float64(2 * n)}
		for _, z := range []float64{-k.half, k.half} {
			for _, p := range out {
				f = append(f, p[0], p[1], z)
			}
		}
		f = append(f, float64(n+2), float64(n))
		for i := n - 1; i >= 0; i-- {
			f = append(f, float64(i))
		}
		f = append(f, float64(n))
		for i := range n {
			f = append(f, float64(n+i))
		}
		for i := range n {
			j := (i + 1) % n
			f = append(f, 4, float64(i), float64(j), float64(n+j), float64(n+i))
		}
		k.tell(4, 0, f...)
	case "notched": // a prism that is not convex; the library has its surface
		for {
			out := star(5+r.IntN(4), 60)
			if round { // an L
				a, b := size(300)+50, size(300)+50
				out = [][2]float64{{-50, -50}, {a, -50}, {a, 0}, {0, 0}, {0, b}, {-50, b}}
			}
			if prism(out); len(k.solid.Pieces) > 1 {
				break
			}
		}
		surface()
	case "triangle":
		v := []r3.Vec{{X: size(400)}, {X: -size(400), Y: size(300)}, {Y: -size(300), Z: size(100) - 50}}
		if round {
			v[2].Z = 0
		}
		m := mesh(t, v)
		k.solid.Pieces = []Piece{m.Piece()}
		k.mesh(m.V, m.T)
	case "mesh":
		v := ballMesh(4, 1, r3.Vec{})
		sx, sy, sz := size(300), size(200), size(200)
		for i := range v {
			v[i] = r3.Vec{X: sx * v[i].X, Y: sy * v[i].Y, Z: sz * v[i].Z}
		}
		m := mesh(t, v)
		k.solid.Pieces = []Piece{m.Piece()}
		k.mesh(m.V, m.T)
	default:
		t.Fatal(kind)
	}
	return k
}

// pairKinds are the kinds compared; each is a list of its own.
var pairKinds = [][2]string{
	{"ball", "bar"}, {"ball", "tyre"}, {"ball", "box"}, {"ball", "prism"}, {"ball", "notched"}, {"ball", "mesh"},
	{"bar", "bar"}, {"bar", "box"}, {"bar", "prism"}, {"bar", "notched"}, {"bar", "tyre"}, {"bar", "triangle"}, {"bar", "mesh"},
	{"tyre", "tyre"}, {"tyre", "box"}, {"tyre", "prism"}, {"tyre", "notched"}, {"tyre", "mesh"},
	{"box", "box"}, {"box", "prism"}, {"box", "notched"}, {"box", "triangle"}, {"box", "mesh"},
	{"tube", "bar"}, {"tube", "box"}, {"tube", "tyre"}, {"tube", "notched"},
	{"mesh", "mesh"},
}

// variety is how many different shapes of a kind there are; half of them round.
const variety = 200

// pose is a rigid motion.
type pose struct{ shift, ex, ey, ez r3.Vec }

func (p *pose) place(from *Solid, to *Solid) {
	to.Pieces = to.Pieces[:0]
	for i := range from.Pieces {
		to.Pieces = append(to.Pieces, Piece{})
		from.Pieces[i].Place(p.shift, p.ex, p.ey, p.ez, &to.Pieces[i])
	}
}

// somePose is any turn or, of round shapes, one of the 24 along the axes.
func somePose(r *rand.Rand, round bool) (p pose) {
	if !round {
		p.ex, p.ey, p.ez = frame(r)
		return p
	}
	axes := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	i := r.IntN(3)
	j := (i + 1 + r.IntN(2)) % 3
	sign := func(v r3.Vec) r3.Vec { return r3.Scale(float64(1-2*r.IntN(2)), v) }
	p.ex, p.ey = sign(axes[i]), sign(axes[j])
	p.ez = r3.Cross(p.ex, p.ey)
	return p
}

func ballOf(s *Solid) (c r3.Vec, radius float64) {
	lo, hi := s.Pieces[0].Bounds()
	for i := range s.Pieces {
		l, h := s.Pieces[i].Bounds()
		lo = r3.Vec{X: min(lo.X, l.X), Y: min(lo.Y, l.Y), Z: min(lo.Z, l.Z)}
		hi = r3.Vec{X: max(hi.X, h.X), Y: max(hi.Y, h.Y), Z: max(hi.Z, h.Z)}
	}
	return r3.Scale(0.5, r3.Add(lo, hi)), r3.Norm(r3.Sub(hi, lo)) / 2
}

// trial is a placed pair with our gap of it.
type trial struct {
	a, b   int // of the shapes of the two kinds
	pa, pb pose
	gap    float64
	deep   bool
}

// try makes pair n of a kind: apart and overlapping by anything, deep in each other, brought to touch within a hair, far from the origin, or of round shapes with faces, edges and centre
// lines in common.
func (k *trial) make(r *rand.Rand, as, bs []*known, s *Scratch, a, b *Solid) {
	way := r.IntN(10)
	round := way == 9
	pick := func() int {
		i := r.IntN(variety / 2)
		if round {
			i += variety / 2
		}
		return i
	}
	k.a, k.b = pick(), pick()
	k.pa, k.pb = somePose(r, round), somePose(r, round)
	ka, kb := &as[k.a].solid, &bs[k.b].solid
	_, ra := ballOf(ka)
	_, rb := ballOf(kb)
	far := (ra + rb) * 1.6 * r.Float64()
	switch {
	case ka.Pieces[0].Kind == Drum || kb.Pieces[0].Kind == Drum: // how deep a tyre's core is in another takes hundreds of times as long
		if r.IntN(40) > 0 {
			far = (ra + rb) * (0.6 + r.Float64())
		}
	case way == 0:
		far *= 0.2
	}
	off := r3.Scale(far, unit(r))
	if round { // along one or two axes, in steps
		off = r3.Vec{X: 25 * math.Round(off.X/25), Y: 25 * math.Round(off.Y/25) * float64(r.IntN(2))}
	}
	if way == 8 || round && r.IntN(4) == 0 {
		k.pa.shift = r3.Vec{X: 1e4 * float64(1-2*r.IntN(2)), Y: 1e4 * float64(r.IntN(2)), Z: 1e4 * float64(r.IntN(2))}
	}
	k.pb.shift = r3.Add(k.pa.shift, off)
	k.pa.place(ka, a)
	k.pb.place(kb, b)
	var g Result
	s.SolidGap(a, b, &g)
	if way == 6 || way == 7 {
		hair := []float64{0, 1e-9, 1e-6, 1e-3, 0.1, -1e-9, -1e-6, -1e-3, -0.1}[r.IntN(9)]
		k.pb.shift = r3.Add(k.pb.shift, r3.Scale(g.Gap-hair, g.N))
		k.pb.place(kb, b)
		s.SolidGap(a, b, &g)
	}
	k.gap, k.deep = g.Gap, g.Deep
}

// Gaps of 1e5 random pairs of each kind (of the slow ones, with surfaces, 5000 unless AXLELOFT_LONG is set) against the Flexible Collision Library (Debian's libfcl-dev 0.7; J. Pan, S. Chitta, D. Manocha, "FCL: a general purpose library for collision and
// proximity queries", ICRA 2012), an independent program, its own iteration asked for 1e-9. Of prisms that are not convex and of meshes it has the surface as a tree of triangles.
//
// Where the two differ by more than tol a third way decides: planes that part the two and points in both, found by the pair of definitions beside this test, which prove a distance whoever
// came by them (proved); of prisms that are not convex and meshes, whether one lies inside the other. Few may differ, and each of those must be settled for this package.
//
// Of cores that meet the library is asked no more. Then parting along N takes exactly what the gap says (checked of all), and that no other way is shorter is checked by Qhull below.
func TestAgainstFCL(t *testing.T) {
	program := fclProgram(t)
	each := func(kinds [2]string) int {
		slow := kinds[1] == "notched" || kinds[1] == "mesh" || kinds[1] == "triangle"
		switch {
		case testing.Short():
			return 1000
		case slow && os.Getenv("AXLELOFT_LONG") == "":
			return 5000
		}
		return 100_000
	}
	r := rand.New(rand.NewPCG(21, 21))
	var told []float64
	shapes := map[string][]*known{}
	first := map[string]int{}
	for _, kind := range []string{"ball", "bar", "tube", "tyre", "box", "prism", "notched", "triangle", "mesh"} {
		first[kind] = variety * len(first)
		for i := range variety {
			k := someShape(t, r, kind, i >= variety/2)
			shapes[kind] = append(shapes[kind], k)
			told = append(append(told, float64(k.pieces)), k.told...)
		}
	}
	told = append([]float64{float64(len(told) + 1), float64(variety * len(first))}, told...)

	ctx, stop := context.WithTimeout(t.Context(), 30*time.Minute)
	defer stop()
	cmd := exec.CommandContext(ctx, program)
	cmd.Stderr = os.Stderr
	stdin, err := cmd.StdinPipe()
	require.NoError(t, err)
	stdout, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	batches := make(chan []trial, 1)
	go func() {
		defer stdin.Close()
		defer close(batches)
		w := bufio.NewWriterSize(stdin, 1<<20)
		put := func(v ...float64) {
			var b [8]byte
			for _, f := range v {
				binary.LittleEndian.PutUint64(b[:], math.Float64bits(f))
				if _, err := w.Write(b[:]); err != nil {
					return // told by the reading side
				}
			}
		}
		put(told...)
		var s Scratch
		var a, b Solid
		for n, kinds := range pairKinds {
			r := rand.New(rand.NewPCG(22, uint64(n)))
			list := make([]trial, each(kinds))
			put(float64(len(list)))
			for i := range list {
				k := &list[i]
				k.make(r, shapes[kinds[0]], shapes[kinds[1]], &s, &a, &b)
				put(float64(first[kinds[0]] + k.a))
				put(flat3(k.pa.shift, k.pa.ex, k.pa.ey, k.pa.ez)...)
				put(float64(first[kinds[1]] + k.b))
				put(flat3(k.pb.shift, k.pb.ex, k.pb.ey, k.pb.ez)...)
			}
			w.Flush()
			batches <- list
		}
		put(0)
		w.Flush()
	}()
	from := bufio.NewReaderSize(stdout, 1<<20)
	n := 0
	for list := range batches {
		kinds := pairKinds[n]
		n++
		buf := make([]byte, 8*len(list))
		if _, err := io.ReadFull(from, buf); err != nil {
			t.Fatalf("the reference program stopped: %v", err)
		}
		compareFCL(t, kinds, shapes, list, buf)
	}
	require.NoError(t, cmd.Wait())
	require.Equal(t, len(pairKinds), n)
}

const (
	fclTol  = 2e-6 // mm: largest seen 6e-7, of tyres
	ownTol  = 1e-6 // mm: what overlaps are said to be good to; apart it is 1e-7
	nearTol = 1e-4 // mm: of drums whose cores are within 0.1 mm of touching
)

func compareFCL(t *testing.T, kinds [2]string, shapes map[string][]*known, list []trial, buf []byte) {
	apart, meet, settled, gaveUp, inside := 0, 0, 0, 0, 0
	worst := 0.0
	var s Scratch
	var a, b Solid
	bad := func(k *trial, d float64, why string) {
		assert.Fail(t, why, "%s-%s: ours %.9g, FCL (cores) %.9g\n%+v", kinds[0], kinds[1], k.gap, d, *k)
	}
	for i := range list {
		k := &list[i]
		d := math.Float64frombits(binary.LittleEndian.Uint64(buf[8*i:]))
		ka, kb := shapes[kinds[0]][k.a], shapes[kinds[1]][k.b]
		core := k.gap + ka.off + kb.off
		if d > 0 && math.Abs(d-core) <= fclTol {
			apart++
			worst = max(worst, math.Abs(d-core))
			continue
		}
		k.pa.place(&ka.solid, &a)
		k.pb.place(&kb.solid, &b)
		tol := ownTol
		if (a.Pieces[0].Kind == Drum || b.Pieces[0].Kind == Drum) && math.Abs(core) < coresNear {
			tol = nearTol
		}
		const none = 1e-9 // mm: of cores that meet
		switch {
		case d <= none && core <= tol: // both say that they meet
			meet++
			if a.Pieces[0].Kind != Surface && b.Pieces[0].Kind != Surface && !partsBy(&s, &a, &b, k.gap, tol) {
				bad(k, d, "does not part along N")
			}
		case !(d <= none) && k.gap < 0 && (kb.holds(&k.pb, &a) || ka.holds(&k.pa, &b)):
			// The library knows the surface alone. Wholly inside a mesh the way out is at least to there (of a prism in pieces the gap is that of the deepest piece).
			inside++
			if kb.outline == nil && k.gap > -(d+ka.off)+tol {
				bad(k, d, "less deep inside than the surface is away")
			}
		case proved(&s, &a, &b, tol):
			settled++
			if math.IsNaN(d) {
				gaveUp++
			}
		default:
			bad(k, d, "not settled")
		}
	}
	t.Logf("%s-%s: %d apart (largest difference %.2g mm), %d meet, %d inside, %d settled by proof (FCL gave up on %d)", kinds[0], kinds[1], apart, worst, meet, inside, settled, gaveUp)
	assert.Greater(t, apart, len(list)/4)
	assert.Less(t, settled, len(list)/30) // most where a ball's centre lies in the plane of a triangle: there the library's distance is what was left in memory
	assert.Equal(t, len(list), apart+meet+inside+settled)
}

// holds reports whether a point of the other solid's cores lies inside the prism that is not convex, or the mesh: by counting crossings of its outline, or of its triangles by a ray. Tried are a
// corner and, along a bar, eighths.
func (k *known) holds(at *pose, other *Solid) bool {
	if k.outline == nil && k.solid.Pieces[0].Kind != Surface {
		return false
	}
	p := &other.Pieces[0]
	if p.Kind != Segment {
		return k.around(at, p.Vertex(0))
	}
	for i := range 9 {
		if k.around(at, r3.Add(p.A, r3.Scale(float64(i)/8, r3.Sub(p.B, p.A)))) {
			return true
		}
	}
	return false
}

func (k *known) around(at *pose, x r3.Vec) bool {
	o := r3.Sub(x, at.shift)
	p := r3.Vec{X: r3.Dot(o, at.ex), Y: r3.Dot(o, at.ey), Z: r3.Dot(o, at.ez)}
	if k.outline != nil {
		return math.Abs(p.Z) <= k.half && inside(k.outline, [2]float64{p.X, p.Y})
	}
	in := false
	m := k.solid.Pieces[0].Mesh
	for _, f := range m.T {
		if t := windowed(m.V[f[0]], m.V[f[1]], m.V[f[2]], p); t > 0 {
			in = !in
		}
	}
	return in
}

// windowed is how far from p along a fixed odd direction a triangle is met; 0 where it is not.
func windowed(a, b, c, p r3.Vec) float64 {
	d := r3.Vec{X: 0.3179, Y: 0.6137, Z: 0.7227}
	e, f := r3.Sub(b, a), r3.Sub(c, a)
	n := r3.Cross(e, f)
	den := r3.Dot(n, d)
	t := r3.Dot(n, r3.Sub(a, p)) / den
	q := r3.Sub(r3.Add(p, r3.Scale(t, d)), a)
	nn := r3.Dot(n, n)
	u, v := r3.Dot(n, r3.Cross(q, f))/nn, r3.Dot(n, r3.Cross(e, q))/nn
	if u < 0 || v < 0 || u+v > 1 || t < 0 {
		return 0
	}
	return t
}

// partsBy reports whether moving the deepest two pieces apart along the direction told takes exactly the gap told.
func partsBy(s *Scratch, a, b *Solid, gap, tol float64) bool {
	var g Result
	s.SolidGap(a, b, &g)
	return math.Abs(g.Gap-gap) < 1e-12 && math.Abs(sep(&a.Pieces[g.PieceA], &b.Pieces[g.PieceB], g.N)-gap) <= tol
}

// proved reports whether the gap is proved: of every two convex pieces a plane square to their N parts them by at least as much, and a point of one is no further from the other
// (of cores that overlap only that they part so). Of a mesh, every triangle is a piece.
func proved(s *Scratch, a, b *Solid, tol float64) bool {
	var whole, g Result
	s.SolidGap(a, b, &whole)
	reached := false
	for _, p := range convexes(a) {
		for _, q := range convexes(b) {
			s.Gap(&p, &q, &g)
			if sep(&p, &q, g.N) < whole.Gap-tol {
				return false
			}
			for i := 0; !reached && p.Kind == Drum && i < q.vertices(); i++ { // a corner is a point of the other too
				var h Result
				s.Gap(&p, &Piece{Kind: Point, A: q.Vertex(i), Radius: q.Radius}, &h)
				reached = h.Gap <= whole.Gap+tol
			}
			if reached = reached || g.Deep && g.Gap <= whole.Gap+tol; reached {
				continue
			}
			var h Result
			s.Gap(&Piece{Kind: Point, A: g.PointA}, &q, &h)
			reached = off(&p, g.PointA)+h.Gap <= whole.Gap+2*tol || max(off(&p, g.PointA), off(&q, g.PointB)) <= tol && g.Gap <= whole.Gap+tol
		}
	}
	return reached
}

// convexes are the pieces of a solid, each triangle of a mesh one of its own.
func convexes(s *Solid) []Piece {
	var out []Piece
	for i := range s.Pieces {
		p := &s.Pieces[i]
		if p.Kind != Surface {
			out = append(out, *p)
			continue
		}
		for _, f := range p.Mesh.T {
			v := []r3.Vec{p.Vertex(int(f[0])), p.Vertex(int(f[1])), p.Vertex(int(f[2]))}
			out = append(out, Piece{Kind: Polytope, Radius: p.Radius, Hull: hullOf(v, [][]int32{{0, 1, 2}, {0, 2, 1}})})
		}
	}
	return out
}

// off is outside, of a triangle too.
func off(p *Piece, x r3.Vec) float64 {
	if p.Kind == Polytope && len(p.Hull.V) == 3 {
		v := p.Hull.V
		_, _, dd := nearTriangle(r3.Sub(v[0], x), r3.Sub(v[1], x), r3.Sub(v[2], x))
		return math.Sqrt(dd) - p.Radius
	}
	return outside(p, x)
}
