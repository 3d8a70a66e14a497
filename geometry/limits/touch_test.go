package limits_test

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// gapWork is a demo's pass over its gaps, and a pair of it by its parts' names, "A / B".
func gapWork(t testing.TB, name, pair string) (w *limits.GapWork, m *motion.Mechanism, c *clearance.Model, r *limits.Range, i int) {
	t.Helper()
	m, c, _ = demo(t, name)
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	w, err = limits.GapsFrom(context.Background(), m, c, r, clearance.Closeness{Width: 0.5, Far: 150, Most: 4000}, limits.Search{Grid: 15, Refine: true, Workers: 2}, nil)
	require.NoError(t, err)
	a, b, _ := strings.Cut(pair, " / ")
	for i := range c.Pairs {
		if c.Parts[c.Pairs[i].A].Name == a && c.Parts[c.Pairs[i].B].Name == b {
			return w, m, c, r, i
		}
	}
	require.Fail(t, "no such pair", pair)
	return nil, nil, nil, nil, -1
}

// The ways in which the demos' parts first touch, against the independent calculation of their figures (printed to 0.01 mm).
func TestTouch(t *testing.T) {
	type at = limits.Corner
	for _, tc := range []struct {
		job, pair string
		ways      map[int]at
	}{
		{"orchard-sprayer", "Panhard rod / Tank shelf", map[int]at{limits.WayBothUp: {77.90, 77.90}, limits.WayLeftUp: {105.45, 0}, limits.WayCrossedLeft: {165.79, -165.79}}},
		{"rescue-tender", "Driveshaft / Side tank", map[int]at{limits.WayCrossedLeft: {175.09, -175.09}}},
	} {
		w, _, _, r, pair := gapWork(t, tc.job, tc.pair)
		touch, err := w.Touch(context.Background(), pair, 0)
		require.NoError(t, err)
		require.Empty(t, touch.Why)
		assert.True(t, touch.Anywhere)
		nearest := math.Hypot(touch.Nearest.Left, touch.Nearest.Right)
		assert.LessOrEqual(t, nearest-touch.NotIn, 0.1)
		for i := range touch.Ways {
			way := &touch.Ways[i]
			want, touches := tc.ways[i]
			require.Equal(t, touches, way.Touches, "%s, way %d", tc.pair, i)
			if !touches {
				assert.InDelta(t, way.End.Left, way.NotBefore.Left, 1e-9)
				assert.InDelta(t, way.End.Right, way.NotBefore.Right, 1e-9)
				continue
			}
			assert.InDelta(t, want.Left, way.At.Left, 0.006)
			assert.InDelta(t, want.Right, way.At.Right, 0.006)
			assert.LessOrEqual(t, math.Hypot(way.At.Left-way.NotBefore.Left, way.At.Right-way.NotBefore.Right), 0.1)
			assert.GreaterOrEqual(t, math.Hypot(way.At.Left, way.At.Right), touch.NotIn)
			assert.True(t, r.Contains(way.At.Left, way.At.Right))
		}
	}
}

// The loops round a region: the place of the smallest gap lies within, ride height without, and of random positions only those within the squares' width of a loop may lie on another side than measured.
func TestRegion(t *testing.T) {
	for _, tc := range []struct {
		job, pair string
		n         int
	}{
		{"orchard-sprayer", "Panhard rod / Tank shelf", 20_000},
		{"rescue-tender", "Driveshaft / Side tank", 4_000},
	} {
		w, m, c, r, pair := gapWork(t, tc.job, tc.pair)
		for _, level := range []float64{0, c.Pairs[pair].Required} {
			region, err := w.Region(context.Background(), pair, level)
			require.NoError(t, err)
			require.Empty(t, region.Why)
			require.NotEmpty(t, region.Loops)
			least := w.Pairs[pair]
			assert.False(t, in(region.Loops, 0, 0))
			assert.True(t, in(region.Loops, least.Left*0.994, least.Right*0.994), "a square in from the corner of the range")
			assert.Equal(t, clearance.Over, region.At(0, 0))
			area := 0.0
			for _, l := range region.Loops {
				for i, p := range l {
					q := l[(i+1)%len(l)]
					area += (p.Left*q.Right - p.Right*q.Left) / 2
					assert.True(t, r.Contains(p.Left, p.Right), "%v", p)
				}
			}
			assert.InDelta(t, (region.Surely+region.Perhaps)/2, area, (region.Perhaps-region.Surely)/2, "the region lies to the left of its loops")
			s, sc, last := m.NewSolver(), c.NewScratch(), m.Ride()
			var p motion.Pose
			var g clearance.Gap
			rnd := rand.New(rand.NewPCG(4, 4))
			for range tc.n {
				if !s.Near(&last, 400*rnd.Float64()-200, 400*rnd.Float64()-200, 40, &p) || !r.Within(&p) {
					continue
				}
				last = p
				sc.PlacePair(pair, &p)
				sc.Gap(pair, &g)
				if inside := in(region.Loops, p.Left, p.Right); inside != (g.Gap < level) {
					require.Contains(t, []clearance.Zone{clearance.NearOver, clearance.NearUnder}, region.At(p.Left, p.Right), "%v %v %v", p.Left, p.Right, g.Gap)
				}
			}
		}
	}
}

// Pairs that come nearer than a level only at the very edge of the range: the nearest place is found there, and all within 0.2 mm of it.
func TestNearestAtTheEdge(t *testing.T) {
	w, m, c, r, _ := gapWork(t, "survey-wagon", "Tyre right / Wheel arch right")
	found := 0
	for i := range c.Pairs {
		level := w.Pairs[i].Gap.Gap + 3
		if level > 100 {
			continue
		}
		touch, err := w.Touch(context.Background(), i, level)
		require.NoError(t, err)
		require.True(t, touch.Anywhere)
		found++
		at := math.Hypot(touch.Nearest.Left, touch.Nearest.Right)
		assert.LessOrEqual(t, touch.NotIn, at)
		assert.LessOrEqual(t, at-touch.NotIn, 0.2)
		assert.True(t, r.Contains(touch.Nearest.Left, touch.Nearest.Right))
		var p motion.Pose
		require.NoError(t, m.NewSolver().Solve(touch.Nearest.Left, touch.Nearest.Right, &p))
		sc := c.NewScratch()
		sc.PlacePair(i, &p)
		var g clearance.Gap
		sc.Gap(i, &g)
		assert.Less(t, g.Gap, level)
	}
	assert.Greater(t, found, 20)
}

// Where the links end the travel the last of a way is only tried, and so it is said; nearer than any place of which nothing is proved the rest holds. Where no proof can be had at all the ways are tried.
func TestTouchWhereTheLinksEnd(t *testing.T) {
	for name, change := range map[string]func(j *job.Job){
		"the last of it": func(j *job.Job) {
			j.Links[0].Axle[0] = j.Links[0].Frame[0] - 170
			j.Links[1].Frame[2] -= 248
			j.Links[1].Axle[2] -= 208
		},
		"nothing proved": func(j *job.Job) { // two links square to what they should hold
			j.Links[0].Frame[1] = j.Links[0].Axle[1]
			j.Links[1].Frame[1] = j.Links[1].Axle[1] + 2
		},
	} {
		j, err := job.Read(bytes.NewReader(assets.Demo(map[string]string{"the last of it": "orchard-sprayer", "nothing proved": "rescue-tender"}[name])))
		require.NoError(t, err)
		change(j)
		m, err := motion.Compile(j)
		require.NoError(t, err)
		c, err := clearance.Compile(j, m)
		require.NoError(t, err)
		r, err := limits.Find(m, 96)
		require.NoError(t, err)
		w, err := limits.GapsFrom(context.Background(), m, c, r, clearance.Closeness{Width: 5, Far: 150, Most: 4000}, limits.Search{Grid: 15, Workers: 2}, nil)
		require.NoError(t, err)
		s, sc, last := m.NewSolver(), c.NewScratch(), m.Ride()
		var p motion.Pose
		var g clearance.Gap
		gap := func(pair int, at limits.Corner) float64 {
			require.NoError(t, s.SolveFrom(&last, at.Left, at.Right, &p))
			sc.PlacePair(pair, &p)
			sc.Gap(pair, &g)
			return g.Gap
		}
		touched, open := 0, 0
		for pair := 0; pair < len(c.Pairs); pair += 4 {
			touch, err := w.Touch(context.Background(), pair, c.Pairs[pair].Required)
			require.NoError(t, err)
			require.Equal(t, name == "nothing proved", touch.Why != "")
			if touch.Why == "" && !touch.Anywhere && !math.IsInf(touch.NotIn, 1) {
				open++
				assert.Greater(t, touch.NotIn, 50.0)
			}
			for i := range touch.Ways {
				way := &touch.Ways[i]
				far := math.Hypot(way.NotBefore.Left, way.NotBefore.Right)
				if way.Touches {
					touched++
					assert.Less(t, gap(pair, way.At), touch.Level+1e-6)
					assert.GreaterOrEqual(t, math.Hypot(way.At.Left, way.At.Right), far-1e-9)
				}
				for k := range 20 {
					if far == 0 { // at ride height already
						break
					}
					f := float64(k) / 20
					assert.GreaterOrEqual(t, gap(pair, limits.Corner{Left: f * way.NotBefore.Left, Right: f * way.NotBefore.Right}), touch.Level-1e-6)
				}
			}
		}
		assert.Positive(t, touched, name)
		assert.Equal(t, name == "the last of it", open > 0, name)
	}
}

// in reports whether a position lies within the loops, by how often a ray from it crosses them.
func in(loops [][]limits.Corner, left, right float64) bool {
	odd := false
	for _, l := range loops {
		for i, p := range l {
			q := l[(i+1)%len(l)]
			if (p.Right > right) != (q.Right > right) && left < p.Left+(right-p.Right)/(q.Right-p.Right)*(q.Left-p.Left) {
				odd = !odd
			}
		}
	}
	return odd
}

func BenchmarkTouch(b *testing.B) {
	for job, pair := range map[string]string{"orchard-sprayer": "Panhard rod / Tank shelf", "rescue-tender": "Driveshaft / Side tank"} {
		w, _, _, _, i := gapWork(b, job, pair)
		b.Run(job+"/ways", func(b *testing.B) {
			for b.Loop() {
				if _, err := w.Touch(context.Background(), i, 0); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(job+"/region", func(b *testing.B) {
			for b.Loop() {
				if _, err := w.Region(context.Background(), i, 0); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
