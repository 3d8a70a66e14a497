package swept

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// often is a number of tries, or how fine: the second where AXLELOFT_LONG is set.
func often(usual, all int) int {
	if os.Getenv("AXLELOFT_LONG") != "" {
		return all
	}
	return usual
}

// planar is an axle that goes straight up and down: its lower links lie along X and turn in their own planes, its housing is one ball.
func planar(t testing.TB) *scene {
	t.Helper()
	j := demo(t, "rescue-tender")
	for i := range j.Links {
		if l := &j.Links[i]; l.Name == "Lower" {
			l.Frame[1] = l.Axle[1]
		}
	}
	almost := 1e-4 // deg: as good as none
	bump, droop := 90.0, 110.0
	j.Travel = &job.Travel{Bump: &bump, Droop: &droop, Articulation: &almost}
	return sceneOf(t, j)
}

// heaves solves n positions of both wheels, droop first.
func (s *scene) heaves(t testing.TB, n int) []motion.Pose {
	t.Helper()
	solver := s.m.NewSolver()
	out := make([]motion.Pose, n)
	for i := range out {
		h := -s.r.Droop + (s.r.Bump+s.r.Droop)*float64(i)/float64(n-1)
		require.NoError(t, solver.Solve(h, h, &out[i]))
	}
	return out
}

// sector is what a link that turns in its own plane sweeps: its pivot, length, and the directions of the other end from the pivot, rad, in the X-Z plane.
type sector struct {
	pivot    r3.Vec
	long     float64
	from, to float64
}

func (s *scene) sector(t testing.TB, link string) sector {
	t.Helper()
	all := s.heaves(t, 2)
	for i := range s.m.Links {
		if l := &s.m.Links[i]; l.Name == link {
			a, b := r3.Sub(all[0].Point(l.Axle), l.Frame), r3.Sub(all[1].Point(l.Axle), l.Frame)
			return sector{l.Frame, l.Length, math.Atan2(-a.Z, -a.X), math.Atan2(-b.Z, -b.X)}
		}
	}
	require.Fail(t, "no link")
	return sector{}
}

// off is the distance of a place from the sector, mm.
func (k *sector) off(p r3.Vec) float64 {
	d := r3.Sub(p, k.pivot)
	u, v := -d.X, -d.Z
	lo, hi := min(k.from, k.to), max(k.from, k.to)
	a := math.Max(lo, math.Min(hi, math.Atan2(v, u)))
	along := math.Max(0, math.Min(k.long, u*math.Cos(a)+v*math.Sin(a)))
	if math.Atan2(v, u) == a {
		along = math.Min(k.long, math.Hypot(u, v))
	}
	return math.Sqrt(math.Pow(u-along*math.Cos(a), 2) + math.Pow(v-along*math.Sin(a), 2) + d.Y*d.Y)
}

// A bar of radius r that turns about one end by an angle sweeps a sector of area A and outline P, and r round it: A + P r + pi r2 in its own plane, 2 r A + pi/2 r2 P + 4/3 pi r3 in space (J. Steiner's formula of
// parallel bodies).
func TestBarTurningAboutItsEnd(t *testing.T) {
	s := planar(t)
	part := s.part(t, "Lower left")
	k := s.sector(t, "Lower left")
	turn := math.Abs(k.to - k.from)
	require.Greater(t, turn, 0.15)
	const bar = 32.0 // radius
	flat, outline := turn*k.long*k.long/2, 2*k.long+turn*k.long
	for _, margin := range []float64{0, 25} {
		m := s.o.Mover(part, margin)
		require.True(t, m.Proved)
		r := bar + margin
		sec, err := m.Cut(context.Background(), 1, k.pivot.Y, 0.25, Fine{Step: 2, Workers: 2})
		require.NoError(t, err)
		require.Len(t, sec.Loops, 1)
		want := flat + outline*r + math.Pi*r*r
		assert.Greater(t, sec.Area, want)
		assert.Less(t, sec.Area, want+sec.Larger*(outline+2*math.Pi*r))
		assert.Less(t, sec.Larger, 0.7)
		for i, p := range sec.Loops[0] {
			q := sec.Loops[0][(i+1)%len(sec.Loops[0])]
			for f := range 8 {
				at := r3.Add(p, r3.Scale(float64(f)/8, r3.Sub(q, p)))
				assert.LessOrEqual(t, k.off(at)-r, sec.Larger+1e-3, "%v", at)
				assert.GreaterOrEqual(t, k.off(at)-r, -1e-9, "%v", at)
			}
		}
		solid, err := m.Solid(context.Background(), Fine{Step: 12, Workers: 2})
		require.NoError(t, err)
		want = 2*r*flat + math.Pi/2*r*r*outline + 4*math.Pi/3*r*r*r
		assert.Greater(t, solid.Volume, want)
		surface := 2*flat + math.Pi*r*outline + 4*math.Pi*r*r
		assert.Less(t, solid.Volume, want+solid.Larger*surface*1.05)
		for _, v := range solid.V {
			assert.GreaterOrEqual(t, k.off(v)-r, 0.0)
			assert.LessOrEqual(t, k.off(v)-r, solid.Larger+1e-3)
		}
	}
}

// A ball of radius r carried along a path of length L in a plane takes 2 r L + pi r2 of that plane.
func TestBallOnItsPath(t *testing.T) {
	s := planar(t)
	m := s.o.Mover(s.part(t, "Housing"), 10)
	var ball shape.Piece
	sc := s.c.NewScratch()
	long := 0.0
	var last r3.Vec
	uses := make([]quantity.LinkUse, len(s.m.Links))
	for i, p := range s.heaves(t, 400) {
		sc.Place(&p, uses)
		ball = sc.Solid(m.Part).Pieces[0]
		if i > 0 {
			long += r3.Norm(r3.Sub(ball.A, last))
		}
		last = ball.A
	}
	require.Len(t, sc.Solid(m.Part).Pieces, 1)
	sec, err := m.Cut(context.Background(), 1, ball.A.Y, 0, Fine{Step: 2, Workers: 2})
	require.NoError(t, err)
	r := ball.Radius + 10
	want := 2*r*long + math.Pi*r*r
	assert.Greater(t, sec.Area, want)
	assert.Less(t, sec.Area, want+sec.Larger*(2*long+2*math.Pi*r))
	assert.Less(t, sec.Larger, 0.3)
}

// within reports whether a place of a section's plane lies within its loops.
func (s *Section) within(p r3.Vec) bool {
	u, v := (s.Axis+1)%3, (s.Axis+2)%3
	x, y := xyz(p)[u], xyz(p)[v]
	in := false
	for _, l := range s.Loops {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			au, av, bu, bv := xyz(a)[u], xyz(a)[v], xyz(b)[u], xyz(b)[v]
			if (av > y) != (bv > y) && x < au+(y-av)/(bv-av)*(bu-au) {
				in = !in
			}
		}
	}
	return in
}

// inPlane is a random place of a plane nearer to a piece than a margin; false where there is none found.
func inPlane(rng *rand.Rand, p *shape.Piece, margin float64, axis int, at float64, sc *shape.Scratch) (r3.Vec, bool) {
	lo, hi := p.Bounds()
	l, h := xyz(lo), xyz(hi)
	if at < l[axis]-margin || at > h[axis]+margin {
		return r3.Vec{}, false
	}
	for range 20 {
		var c [3]float64
		for k := range c {
			c[k] = l[k] - margin + rng.Float64()*(h[k]-l[k]+2*margin)
		}
		c[axis] = at
		x := r3.Vec{X: c[0], Y: c[1], Z: c[2]}
		var g shape.Result
		ball := shape.Piece{Kind: shape.Point, A: x}
		sc.Gap(&ball, p, &g)
		if g.Gap > 0 && g.Gap >= margin {
			// brought to the surface of what is taken, where it tells most
			x = r3.Add(x, r3.Scale(-(g.Gap-margin)*(1+1e-9)-1e-9, g.N))
			if c = xyz(x); math.Abs(c[axis]-at) > 1e-9 {
				continue
			}
			return x, true
		}
		if g.Gap < margin {
			return x, true
		}
	}
	return r3.Vec{}, false
}

// No place of a mover, its margin round it, lies outside its section at any of many random positions.
func TestNothingLiesOutsideASection(t *testing.T) {
	n := often(20_000, 40_000) // each
	if testing.Short() {
		n = 4_000
	}
	for _, c := range []struct {
		job, part string
		axis      int
		off       float64 // of the station from the part's middle
		margin    float64
	}{
		{"orchard-sprayer", "Panhard rod", 1, 60, 25}, {"orchard-sprayer", "Panhard rod", 0, 4, 0}, {"rescue-tender", "Upper left", 2, 10, 12}, {"rescue-tender", "Driveshaft", 0, -300, 25},
		{"survey-wagon", "Strut left", 2, 40, 0}, {"survey-wagon", "Tyre left", 1, 30, 40}, {"orchard-sprayer", "Housing", 0, 20, 25}, {"survey-wagon", "Axle tube", 1, 200, 12},
		{"bent-lowers", "Lower left", 1, 5, 10}, {"radius-arms-panhard", "Radius arm left", 2, 10, 20}, {"watts-on-axle", "Watt's rod left", 0, 3, 5}, {"four-link-struts-on-lowers", "Air bag left", 2, 0, 10},
	} {
		t.Run(c.job+" "+c.part, func(t *testing.T) {
			s := sceneOf(t, demo(t, c.job))
			m := s.o.Mover(s.part(t, c.part), c.margin)
			require.True(t, m.Proved)
			ride := s.m.Ride()
			at := xyz(m.Middle(&ride))[c.axis] + c.off
			sec, err := m.Cut(context.Background(), c.axis, at, 0.5, Fine{Step: 4, Workers: 2})
			require.NoError(t, err)
			require.NotEmpty(t, sec.Loops)
			rng := rand.New(rand.NewPCG(5, 6))
			sc, place := &shape.Scratch{}, s.c.NewScratch()
			uses := make([]quantity.LinkUse, len(s.m.Links))
			seen := 0
			var p motion.Pose
			for i := range n {
				if i%10 == 0 {
					p = s.somewhere(t, rng)
					quantity.Links(s.m, &p, uses)
					place.Place(&p, uses)
				}
				pieces := place.Solid(m.Part).Pieces
				x, ok := inPlane(rng, &pieces[rng.IntN(len(pieces))], c.margin, c.axis, at, sc)
				if !ok {
					continue
				}
				seen++
				require.True(t, sec.within(x), "%v at %v, %v", x, p.Left, p.Right)
			}
			assert.Greater(t, seen, n/20)
		})
	}
}

// somewhere is a random position of the range, one in four on its outline.
func (s *scene) somewhere(t testing.TB, rng *rand.Rand) (p motion.Pose) {
	t.Helper()
	solver := s.m.NewSolver()
	lo, hi := s.r.Box()
	for {
		l, r := lo.Left+rng.Float64()*(hi.Left-lo.Left), lo.Right+rng.Float64()*(hi.Right-lo.Right)
		if rng.IntN(4) == 0 {
			l, r, _ = s.r.Clamp(4*l, 4*r)
		}
		if solver.Solve(l, r, &p) == nil && s.r.Within(&p) {
			return p
		}
	}
}

// Solids hold the mover at random positions, are closed and plain by our own check, and by ADMesh's (Debian's admesh; A. D. Martin), which also finds the same volume.
func TestSolids(t *testing.T) {
	program, err := exec.LookPath("admesh")
	if err != nil {
		require.NotEqual(t, "1", os.Getenv("AXLELOFT_REQUIRE_REFERENCES"), "the references are required: install admesh")
	}
	for _, c := range []struct {
		job, part    string
		margin, step float64
	}{{"orchard-sprayer", "Panhard rod", 25, 12}, {"rescue-tender", "Strut left", 0, 8}, {"survey-wagon", "Housing", 10, 20}} {
		t.Run(c.part, func(t *testing.T) {
			s := sceneOf(t, demo(t, c.job))
			m := s.o.Mover(s.part(t, c.part), c.margin)
			c.step *= float64(often(2, 1))
			solid, err := m.Solid(context.Background(), Fine{Step: c.step, Workers: 2})
			require.NoError(t, err)
			require.NoError(t, solid.Check())
			assert.Positive(t, solid.Volume)
			assert.Less(t, solid.Larger, c.step)
			var file bytes.Buffer
			require.NoError(t, solid.WriteSTL(&file, "room taken"))
			mesh, err := shape.ReadSTL(bytes.NewReader(file.Bytes()))
			require.NoError(t, err)
			assert.True(t, mesh.Closed)
			v, _ := mesh.Volume()
			assert.InEpsilon(t, solid.Volume, v, 1e-6)

			rng := rand.New(rand.NewPCG(7, 8))
			place, sc := s.c.NewScratch(), &shape.Scratch{}
			uses := make([]quantity.LinkUse, len(s.m.Links))
			whole := mesh.Piece()
			for range often(500, 1500) {
				p := s.somewhere(t, rng)
				quantity.Links(s.m, &p, uses)
				place.Place(&p, uses)
				pieces := place.Solid(m.Part).Pieces
				n := r3.Unit(r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
				x := r3.Add(pieces[rng.IntN(len(pieces))].Support(n), r3.Scale(c.margin, n)) // the furthest one way
				var g shape.Result
				sc.Gap(&shape.Piece{Kind: shape.Point, A: x}, &whole, &g)
				require.LessOrEqual(t, g.Gap, 0.0, "%v", x)
			}
			if program == "" {
				return
			}
			name := filepath.Join(t.TempDir(), "room.stl")
			require.NoError(t, os.WriteFile(name, file.Bytes(), 0o600))
			out, err := exec.Command(program, "--exact", "--normal-directions", "--normal-values", name).CombinedOutput()
			require.NoError(t, err, string(out))
			figure := func(label string) float64 {
				k := regexp.MustCompile(regexp.QuoteMeta(label) + `\s*[:=]\s*(-?[0-9.]+)`).FindSubmatch(out)
				require.NotNil(t, k, "%s\n%s", label, out)
				v, err := strconv.ParseFloat(string(k[1]), 64)
				require.NoError(t, err)
				return v
			}
			assert.EqualValues(t, len(solid.T), figure("Number of facets"))
			assert.EqualValues(t, 1, figure("Number of parts"))
			for _, label := range []string{"Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges", "Normals fixed"} {
				assert.Zero(t, figure(label), label)
			}
			assert.InEpsilon(t, solid.Volume, figure("Volume"), 1e-3) // it reckons in single precision
		})
	}
}

// What comes out is the same, to the bit, on any number of goroutines.
func TestSameOnAnyNumberOfCores(t *testing.T) {
	s := sceneOf(t, demo(t, "orchard-sprayer"))
	m := s.o.Mover(s.part(t, "Panhard rod"), 25)
	var first *Section
	var solid *Solid
	for _, workers := range []int{1, 2, 5} {
		sec, err := m.Cut(context.Background(), 1, 0, 0.25, Fine{Step: 5, Workers: workers})
		require.NoError(t, err)
		whole, err := m.Solid(context.Background(), Fine{Step: float64(often(60, 30)), Workers: workers})
		require.NoError(t, err)
		if first == nil {
			first, solid = sec, whole
		}
		assert.Equal(t, first, sec)
		assert.Equal(t, solid, whole)
	}
}

// Where nothing is proved the positions tried are what is shown, and said so.
func TestPositionsTried(t *testing.T) {
	s := sceneOf(t, demo(t, "orchard-sprayer"))
	proved, err := s.o.Mover(s.part(t, "Panhard rod"), 25).Cut(context.Background(), 1, 0, 0, Fine{Step: 3, Workers: 1})
	require.NoError(t, err)
	s.o.over = nil
	m := s.o.Mover(s.part(t, "Panhard rod"), 25)
	assert.False(t, m.Proved)
	tried, err := m.Cut(context.Background(), 1, 0, 0, Fine{Step: 3, Workers: 1})
	require.NoError(t, err)
	assert.False(t, tried.Proved)
	assert.InEpsilon(t, proved.Area, tried.Area, 0.06)
	assert.Less(t, tried.Area, proved.Area)
}

func TestNowhereThere(t *testing.T) {
	s := sceneOf(t, demo(t, "orchard-sprayer"))
	m := s.o.Mover(s.part(t, "Panhard rod"), 25)
	sec, err := m.Cut(context.Background(), 0, 4000, 0.25, Fine{Step: 3, Workers: 1})
	require.NoError(t, err)
	assert.Empty(t, sec.Loops)
	assert.Zero(t, sec.Area)
	_, err = m.Cut(context.Background(), 1, 0, 0.25, Fine{Step: 1e-3, Workers: 1})
	assert.ErrorIs(t, err, ErrGrid)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = m.Solid(ctx, Fine{Step: 20, Workers: 2})
	assert.ErrorIs(t, err, context.Canceled)
}

// Simplified loops hold what they held before, move no further than they say and than they may, and do not meet.
func TestSimplify(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(5, 60).Draw(t, "n")
		rough := rapid.Float64Range(0, 3).Draw(t, "rough")
		tolerance := rapid.Float64Range(0.01, 5).Draw(t, "tolerance")
		around := func(r float64, way float64) (l [][2]float64) {
			for i := range n {
				sn, cs := math.Sincos(way * 2 * math.Pi * float64(i) / float64(n))
				k := r + rapid.Float64Range(-rough, rough).Draw(t, "r")
				l = append(l, [2]float64{k * cs, k * sn})
			}
			return l
		}
		loops := [][][2]float64{around(100, 1), around(60, -1)}
		var before [][][2]float64
		for _, l := range loops {
			before = append(before, append([][2]float64(nil), l...))
		}
		moved := simplify(loops, tolerance)
		if moved > tolerance {
			t.Fatalf("moved %v of %v", moved, tolerance)
		}
		outer, hole := loops[0], loops[1]
		for _, p := range before[0] {
			if !holds(outer, p, 1e-9) {
				t.Fatalf("%v is cut off", p)
			}
		}
		for _, p := range before[1] {
			if holds(hole, p, -1e-9) {
				t.Fatalf("%v of the hole's edge is in the hole", p)
			}
		}
		for i, l := range loops {
			for k, p := range l {
				q := l[(k+1)%len(l)]
				for f := range 5 {
					x := [2]float64{p[0] + float64(f)/5*(q[0]-p[0]), p[1] + float64(f)/5*(q[1]-p[1])}
					if d := from(before[i], x); d > moved+1e-9 {
						t.Fatalf("%v has moved by %v of %v", x, d, moved)
					}
				}
			}
		}
	})
}

// from is the distance of a place from a closed line.
func from(l [][2]float64, x [2]float64) float64 {
	best := math.Inf(1)
	for i, p := range l {
		q := l[(i+1)%len(l)]
		u, v := q[0]-p[0], q[1]-p[1]
		t := math.Max(0, math.Min(1, ((x[0]-p[0])*u+(x[1]-p[1])*v)/(u*u+v*v)))
		best = math.Min(best, math.Hypot(x[0]-p[0]-t*u, x[1]-p[1]-t*v))
	}
	return best
}

// holds reports whether a place is within a loop or no further from it than off; off negative: well within.
func holds(l [][2]float64, x [2]float64, off float64) bool {
	in := false
	for i, a := range l {
		b := l[(i+1)%len(l)]
		if (a[1] > x[1]) != (b[1] > x[1]) && x[0] < a[0]+(x[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	if off >= 0 {
		return in || from(l, x) <= off
	}
	return in && from(l, x) > -off
}

func BenchmarkSection(b *testing.B) {
	s := sceneOf(b, demo(b, "orchard-sprayer"))
	m := s.o.Mover(s.part(b, "Panhard rod"), 25)
	for b.Loop() {
		if _, err := m.Cut(context.Background(), 1, 0, 0.25, Fine{Step: 2, Workers: 2}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSolid(b *testing.B) {
	s := sceneOf(b, demo(b, "orchard-sprayer"))
	m := s.o.Mover(s.part(b, "Panhard rod"), 25)
	for b.Loop() {
		if _, err := m.Solid(context.Background(), Fine{Step: 10, Workers: 2}); err != nil {
			b.Fatal(err)
		}
	}
}
