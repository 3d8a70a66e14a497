package clearance

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"axleloft/geometry/cell"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pairOf finds a pair by its parts' names, "A / B".
func pairOf(t testing.TB, c *Model, name string) int {
	t.Helper()
	a, b, _ := strings.Cut(name, " / ")
	for i := range c.Pairs {
		if c.Parts[c.Pairs[i].A].Name == a && c.Parts[c.Pairs[i].B].Name == b {
			return i
		}
	}
	require.Fail(t, "no such pair", name)
	return -1
}

// Where the demos' parts first touch, along three ways, agrees with the independent calculation that gives the ring of the demos' figures; between what is proved and what is found lies less than 0.1 mm.
func TestFirst(t *testing.T) {
	none := math.Inf(1)
	d := math.Sqrt2 / 2
	for _, tc := range []struct {
		job, pair           string
		dl, dr, far, expect float64 // mm along the way
	}{
		{"orchard-sprayer", "Panhard rod / Tank shelf", d, d, 109.358 / d, 77.90 / d},
		{"orchard-sprayer", "Panhard rod / Tank shelf", 1, 0, 134, 105.45},
		{"orchard-sprayer", "Panhard rod / Tank shelf", 0, 1, 134.9, none},
		{"orchard-sprayer", "Panhard rod / Tank shelf", d, -d, 173 / d, 165.79 / d},
		{"rescue-tender", "Driveshaft / Side tank", d, -d, 179 / d, 175.09 / d},
		{"rescue-tender", "Driveshaft / Side tank", -d, d, 179 / d, none},
		{"rescue-tender", "Driveshaft / Side tank", d, d, 108.9 / d, none},
	} {
		m, c := build(t, demo(t, tc.job))
		tree, err := cell.Build(context.Background(), m)
		require.NoError(t, err)
		w := c.NewProver(tree, within(m))
		way, err := w.First(context.Background(), pairOf(t, c, tc.pair), 0, tc.dl, tc.dr, tc.far)
		require.NoError(t, err)
		if tc.expect == none {
			assert.Equal(t, none, way.By)
			assert.Equal(t, tc.far, way.NotBefore, tc.pair)
			continue
		}
		assert.InDelta(t, tc.expect, way.By, 0.01, "%s %v", tc.pair, tc.dl)
		assert.LessOrEqual(t, way.By-way.NotBefore, 0.1)
		assert.Less(t, way.NotBefore, way.By)
	}
}

// Of random positions of the range none lies on another side of a level than is proved, ride height lies outside the region of a touch, and the place of the smallest gap within.
func TestBelow(t *testing.T) {
	for _, tc := range []struct {
		job, pair   string
		left, right float64 // of the smallest gap
		n           int     // positions
	}{
		{"orchard-sprayer", "Panhard rod / Tank shelf", 109.3, 109.3, 100_000},
		{"rescue-tender", "Driveshaft / Side tank", 181.0, -179.3, 20_000},
		{"survey-wagon", "Strut left / Tyre left", 151.9, -177.6, 20_000},
		{"rescue-tender", "Upper left / Side tank", -118.7, -118.7, 20_000},
	} {
		t.Run(tc.pair, func(t *testing.T) {
			m, c := build(t, demo(t, tc.job))
			tree, err := cell.Build(context.Background(), m)
			require.NoError(t, err)
			w := c.NewProver(tree, within(m))
			pair := pairOf(t, c, tc.pair)
			levels := []float64{0, c.Pairs[pair].Required}
			var regions []*Region
			for _, level := range levels {
				r, err := w.Below(context.Background(), pair, level, 1, 60_000)
				require.NoError(t, err)
				regions = append(regions, r)
				t.Logf("below %v: %.4f to %.4f of the range, squares of %.2f mm where not known", level, r.Surely/r.Whole, r.Perhaps/r.Whole, r.Width)
				assert.LessOrEqual(t, r.Width, 1.0)
				assert.LessOrEqual(t, (r.Perhaps-r.Surely)/r.Whole, 0.02)
			}
			ride := m.Ride()
			s, solver, last := c.NewScratch(), m.NewSolver(), ride
			var p motion.Pose
			var g Gap
			rnd := rand.New(rand.NewPCG(9, 9))
			in := within(m)
			count := map[Zone]int{}
			n := tc.n
			if testing.Short() {
				n = min(n, 5_000)
			}
			for tried := 0; tried < n; {
				if !solver.Near(&last, 400*rnd.Float64()-200, 400*rnd.Float64()-200, 40, &p) || !in(&p) {
					continue
				}
				tried++
				last = p
				s.PlacePair(pair, &p)
				s.Gap(pair, &g)
				for _, r := range regions {
					zone := r.At(p.Left, p.Right)
					count[zone]++
					switch zone {
					case Outside:
						require.Fail(t, "a position of the range has no square", "%v %v", p.Left, p.Right)
					case Over:
						require.GreaterOrEqual(t, g.Gap, r.Level)
					case Under:
						require.Less(t, g.Gap, r.Level)
					}
				}
			}
			assert.Equal(t, c.at(t, m, pair, 0, 0) >= levels[0], regions[0].At(0, 0) == Over)
			tight := c.at(t, m, pair, tc.left, tc.right)
			for i, r := range regions {
				if tight < levels[i] {
					assert.GreaterOrEqual(t, r.At(tc.left, tc.right), NearUnder, "level %v", levels[i])
				}
			}
			t.Log(count)
		})
	}
}

// at is a pair's gap at a position.
func (c *Model) at(t testing.TB, m *motion.Mechanism, pair int, left, right float64) float64 {
	t.Helper()
	var p motion.Pose
	require.NoError(t, m.NewSolver().Solve(left, right, &p))
	s := c.NewScratch()
	s.PlacePair(pair, &p)
	var g Gap
	s.Gap(pair, &g)
	return g.Gap
}

// How near to ride height a touch comes: no position on a fine grid that touches is nearer than is proved, and the one found touches.
func TestNearest(t *testing.T) {
	for job, name := range map[string]string{"orchard-sprayer": "Panhard rod / Tank shelf", "rescue-tender": "Driveshaft / Side tank"} {
		m, c := build(t, demo(t, job))
		tree, err := cell.Build(context.Background(), m)
		require.NoError(t, err)
		w := c.NewProver(tree, within(m))
		pair := pairOf(t, c, name)
		near, err := w.Nearest(context.Background(), pair, 0, 0.1, 100_000)
		require.NoError(t, err)
		require.True(t, near.Found)
		found := math.Hypot(near.Left, near.Right)
		assert.LessOrEqual(t, found-near.NotNearer, 0.1)
		assert.Less(t, c.at(t, m, pair, near.Left, near.Right), 0.0)
		s, solver, last := c.NewScratch(), m.NewSolver(), m.Ride()
		var p motion.Pose
		var g Gap
		in, nearest := within(m), math.Inf(1)
		for i := -60; i <= 60; i++ { // 1 deg apart round the place found, 0.5 mm apart along
			sn, cs := math.Sincos(math.Atan2(near.Right, near.Left) + float64(i)*math.Pi/180)
			for far := found - 20; far < found+4; far += 0.5 {
				if solver.Near(&last, far*cs, far*sn, 60, &p) && in(&p) {
					last = p
					s.PlacePair(pair, &p)
					if s.Gap(pair, &g); g.Gap < 0 {
						nearest = math.Min(nearest, far)
					}
				}
			}
		}
		assert.GreaterOrEqual(t, nearest, near.NotNearer, name)
		assert.Less(t, nearest, found+1, name)
	}
}

// Parts read as closed meshes: no square is on the other side than with the same parts as boxes.
func TestBelowMesh(t *testing.T) {
	box := demo(t, "orchard-sprayer")
	name := "Panhard rod / Tank shelf"
	mBox, cBox := build(t, box)
	m, c := build(t, intoMeshes(t, box))
	a, b := regionOf(t, mBox, cBox, name), regionOf(t, m, c, name)
	rnd := rand.New(rand.NewPCG(3, 3))
	differ := 0
	for range 20_000 {
		l, r := 400*rnd.Float64()-200, 400*rnd.Float64()-200
		x, y := a.At(l, r), b.At(l, r)
		if x == Under && y == Over || x == Over && y == Under {
			differ++
		}
	}
	assert.Zero(t, differ)
	assert.InDelta(t, a.Surely/a.Whole, b.Surely/b.Whole, 0.01)
}

func regionOf(t testing.TB, m *motion.Mechanism, c *Model, name string) *Region {
	t.Helper()
	tree, err := cell.Build(context.Background(), m)
	require.NoError(t, err)
	r, err := c.NewProver(tree, within(m)).Below(context.Background(), pairOf(t, c, name), 0, 1, 60_000)
	require.NoError(t, err)
	return r
}

func BenchmarkBelow(b *testing.B) {
	for job, name := range map[string]string{"orchard-sprayer": "Panhard rod / Tank shelf", "survey-wagon": "Strut left / Tyre left"} {
		m, c := build(b, demo(b, job))
		tree, err := cell.Build(context.Background(), m)
		require.NoError(b, err)
		pair := pairOf(b, c, name)
		b.Run(job+"/region", func(b *testing.B) {
			for b.Loop() {
				if _, err := c.NewProver(tree, within(m)).Below(context.Background(), pair, c.Pairs[pair].Required, 1, 60_000); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(job+"/first", func(b *testing.B) {
			for b.Loop() {
				if _, err := c.NewProver(tree, within(m)).First(context.Background(), pair, c.Pairs[pair].Required, math.Sqrt2/2, -math.Sqrt2/2, 190); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(job+"/nearest", func(b *testing.B) {
			for b.Loop() {
				if _, err := c.NewProver(tree, within(m)).Nearest(context.Background(), pair, c.Pairs[pair].Required, 0.1, 100_000); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A ball of the frame that the housing grazes by a hundred-thousandth of a mm half way up, over a quarter of a mm of travel: steps of half a mm can go over it, the proof cannot.
func TestFirstDoesNotStepOverAThinOverlap(t *testing.T) {
	const far = 100.0
	d := math.Sqrt2 / 2
	at := func(radius float64) (m *motion.Mechanism, c *Model, pair int) {
		j := demo(t, "orchard-sprayer")
		j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Lug", Kind: "ball", Centre: &job.Point{310, 0, 490}, Radius: &radius})
		require.Empty(t, job.Check(j))
		m, c = build(t, j)
		return m, c, pairOf(t, c, "Housing / Lug")
	}
	m, c, pair := at(20)
	gap := func(s float64) float64 { return c.at(t, m, pair, s*d, s*d) }
	lo, hi := 1.0, far
	for range 200 { // the least along the way, by thirds
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if gap(a) < gap(b) {
			hi = b
		} else {
			lo = a
		}
	}
	least := (lo + hi) / 2
	require.Greater(t, least, 20.0)
	require.Less(t, least, far-20)
	const deep = 1e-5
	m, c, pair = at(20 + gap(least) + deep)
	require.InDelta(t, -deep, gap(least), 1e-7)
	assert.Positive(t, gap(least-0.25), "it is thin")
	assert.Positive(t, gap(least+0.25))
	tree, err := cell.Build(context.Background(), m)
	require.NoError(t, err)
	way, err := c.NewProver(tree, within(m)).First(context.Background(), pair, 0, d, d, far)
	require.NoError(t, err)
	assert.InDelta(t, least, way.By, 0.2)
	assert.Negative(t, gap(way.By))
	assert.InDelta(t, way.By, way.NotBefore, 0.5)
	assert.LessOrEqual(t, way.NotBefore, way.By)
	near, err := c.NewProver(tree, within(m)).Below(context.Background(), pair, 0, 1, 60_000)
	require.NoError(t, err)
	assert.Positive(t, near.Perhaps)
	assert.NotEqual(t, Over, near.At(way.By*d, way.By*d))
}
