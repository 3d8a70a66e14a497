package limits_test

import (
	"bytes"
	"context"
	"errors"
	"math"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func edited(t testing.TB, name string, f func(*job.Job)) (*motion.Mechanism, *clearance.Model) {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	f(j)
	m, err := motion.Compile(j)
	require.NoError(t, err)
	c, err := clearance.Compile(j, m)
	require.NoError(t, err)
	return m, c
}

func ptr(v float64) *float64 { return &v }

func TestNothingBoundsTheTravel(t *testing.T) {
	m, c := edited(t, "orchard-sprayer", func(j *job.Job) { j.Struts[0].Closed, j.Struts[0].Open = nil, nil })
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	assert.False(t, r.Bounded)
	assert.Empty(t, r.Edge)
	assert.False(t, r.Contains(0, 0))
	l, rr, by := r.Clamp(300, 20)
	assert.Equal(t, []float64{300, 20}, []float64{l, rr})
	assert.Nil(t, by)
	ring, err := limits.Ring(context.Background(), m, c, r, 2)
	require.NoError(t, err)
	assert.Equal(t, "touch Panhard rod + Tank shelf", ring[3].By[0].What, "a job without a range still has a ring")
}

func TestRideOutsideALimitIsSaid(t *testing.T) {
	m, _ := edited(t, "orchard-sprayer", func(j *job.Job) { j.Struts[0].Closed = ptr(530) })
	_, err := limits.Find(m, 96)
	require.ErrorContains(t, err, "Strut left is 521.5 mm between its pivots at ride height, shorter than its closed length of 530.0")
	m, _ = edited(t, "survey-wagon", func(j *job.Job) { j.Straps[0].Open = 170 })
	_, err = limits.Find(m, 96)
	require.ErrorContains(t, err, "Limit strap left is too short for ride height")
	m, _ = edited(t, "survey-wagon", func(j *job.Job) { j.Stops[0].Closed = 150; j.Stops[0].Touch = nil })
	_, err = limits.Find(m, 96)
	require.ErrorContains(t, err, "Bump stop left is solid at ride height already")
}

// The travel entered is heave and articulation: its range is exact.
func TestTravelEntered(t *testing.T) {
	m, _ := edited(t, "rescue-tender", func(j *job.Job) {
		j.Struts[0].Closed, j.Struts[0].Open = nil, nil
		j.Travel = &job.Travel{Bump: ptr(80), Droop: ptr(90), Articulation: ptr(4)}
	})
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	assert.InDelta(t, 80, r.Bump, 1e-6)
	assert.InDelta(t, 90, r.Droop, 1e-6)
	assert.Nil(t, r.LeftUp, "the articulation entered is itself the edge there")
	assert.Nil(t, r.RightUp)
	half := m.Track / 2 * math.Sin(4*math.Pi/180)
	assert.True(t, r.Contains(half-1e-3, -half+1e-3))
	assert.False(t, r.Contains(half+1e-3, -half-1e-3))
	assert.False(t, r.Contains(80.001, 80.001))
	l, rr, by := r.Clamp(200, 200)
	assert.InDelta(t, 80, l, 1e-6)
	assert.InDelta(t, 80, rr, 1e-6)
	require.NotNil(t, by)
	assert.Equal(t, "travel entered bump", by.What)
}

// A mirrored position of a job that is its own mirror image is in the range with it, and its first stop is the twin's.
func TestMirrorImage(t *testing.T) {
	m, c, _ := demo(t, "rescue-tender")
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	assert.InDelta(t, r.LeftUp.Left, r.RightUp.Right, 1e-5)
	assert.InDelta(t, r.LeftUp.Right, r.RightUp.Left, 1e-5)
	for _, e := range r.Edge {
		l, rr, _ := r.Clamp(2*e.Right, 2*e.Left)
		if math.Abs(2*e.Right-2*e.Left) < m.Track {
			assert.InDelta(t, e.Right, l, 2e-5)
			assert.InDelta(t, e.Left, rr, 2e-5)
		}
	}
	_ = c
}

// What the ring meets first of struts, stops and straps is the range's own edge in that direction.
func TestRingAgreesWithTheRange(t *testing.T) {
	for _, name := range assets.Demos() {
		m, _, _ := demo(t, name)
		r, err := limits.Find(m, 96)
		require.NoError(t, err)
		ring, err := limits.Ring(context.Background(), m, nil, r, 2)
		require.NoError(t, err)
		for i, ray := range ring {
			for _, b := range ray.By {
				if b.Cause.Metal() {
					a := float64(i) * 15 * math.Pi / 180
					l, rr, by := r.Clamp(400*math.Cos(a), 400*math.Sin(a))
					require.NotNil(t, by)
					assert.InDelta(t, l, b.Left, 1e-5, "%s %v", name, ray.Angle)
					assert.InDelta(t, rr, b.Right, 1e-5, "%s %v", name, ray.Angle)
					break
				}
			}
		}
	}
}

func TestFirstTried(t *testing.T) {
	m, c, f := demo(t, "orchard-sprayer")
	pair := -1
	for i, p := range c.Pairs {
		if c.Parts[p.A].Name == "Panhard rod" && c.Parts[p.B].Name == "Tank shelf" {
			pair = i
		}
	}
	require.GreaterOrEqual(t, pair, 0)
	x, ok := limits.FirstTried(m, c, pair, 0, f.Range.Bump, f.Range.Bump)
	require.True(t, ok)
	assert.InDelta(t, 77.90, x*f.Range.Bump, 0.006) // independent calculation, printed to 0.01 mm
	_, ok = limits.FirstTried(m, c, pair, 0, -50, -50)
	assert.False(t, ok)
}

func TestCancelled(t *testing.T) {
	m, c, _ := demo(t, "orchard-sprayer")
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = limits.Smallest(ctx, m, c, r, limits.Search{Grid: 15, Workers: 2})
	assert.ErrorIs(t, err, context.Canceled)
	_, err = limits.Ring(ctx, m, c, r, 2)
	assert.ErrorIs(t, err, context.Canceled)
}

// The links of this axle are short and level: they let it no further than their own length allows.
func TestTheLinksEndTheTravel(t *testing.T) {
	m, _ := edited(t, "orchard-sprayer", func(j *job.Job) {
		j.Struts[0].Closed, j.Struts[0].Open = nil, nil
		j.Travel = &job.Travel{Bump: ptr(5000), Droop: ptr(5000)}
	})
	r, err := limits.Find(m, 48)
	require.NoError(t, err)
	seen := false
	for _, e := range r.Edge {
		seen = seen || e.Cause == limits.NoAssembly
	}
	assert.True(t, seen)
	assert.Less(t, r.Bump, 5000.0)
}

// A finer grid costs some memory a row, none a position.
func TestNoAllocationPerPosition(t *testing.T) {
	m, c, _ := demo(t, "orchard-sprayer")
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	allocs := func(grid int) float64 {
		return testing.AllocsPerRun(3, func() {
			_, err := limits.Smallest(context.Background(), m, c, r, limits.Search{Grid: grid, Workers: 1})
			require.NoError(t, err)
		})
	}
	const coarse, fine, perRow = 10, 40, 5.0
	assert.LessOrEqual(t, allocs(fine)-allocs(coarse), perRow*(fine-coarse), "%d positions more", fine*fine-coarse*coarse)
}

// Where the links end the travel the outline lies a little short of it, at a position that can be stood on, and not beyond; on any number of goroutines
// the range is the same to the last bit.
func TestTheLinksEndIsWorkedOut(t *testing.T) {
	for _, name := range []string{"orchard-sprayer", "rescue-tender"} {
		m, _ := edited(t, name, func(j *job.Job) { j.Struts[0].Open, j.Straps = nil, nil })
		r, err := limits.FindWith(m, 48, 1)
		require.NoError(t, err)
		many, err := limits.FindWith(m, 48, 5)
		require.NoError(t, err)
		assert.Equal(t, r.Edge, many.Edge)
		assert.Equal(t, r.LeftUp, many.LeftUp)
		s, n := m.NewSolver(), 0
		for _, e := range r.Edge {
			far := math.Hypot(e.Left, e.Right)
			if e.Cause != limits.NoAssembly || (far+3)*math.Abs(e.Left-e.Right)/far >= m.Track {
				continue
			}
			var p motion.Pose
			require.NoError(t, s.Solve(e.Left, e.Right, &p))
			k := (far + 3) / far
			var stop *motion.Error
			if !errors.As(s.Solve(k*e.Left, k*e.Right, &p), &stop) || stop.Kind != motion.OutOfReach {
				continue
			}
			n++
			assert.InDelta(t, 0.25, math.Hypot(stop.Left, stop.Right)-far, 0.2, "%v", e) // what is worked out is good to about a tenth
		}
		assert.Greater(t, n, 5)
	}
}

// Springs would follow an over-located axle for ever: its range ends where a member would be forced further than any bush gives.
func TestForcedEndsTheTravel(t *testing.T) {
	m, _ := edited(t, "survey-wagon", func(j *job.Job) { j.Struts[0].Open, j.Straps = nil, nil })
	require.True(t, m.OverLocated)
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	assert.Less(t, r.Droop, 500.0)
	s, ends := m.NewSolver(), 0
	for _, e := range r.Edge {
		require.Less(t, math.Hypot(e.Left, e.Right), 2000.0)
		var p motion.Pose
		if s.Solve(e.Left, e.Right, &p) != nil {
			continue
		}
		most := 0.0
		for i := range m.Distances {
			mm, _ := m.Stretch(&p, i)
			most = math.Max(most, math.Abs(mm))
		}
		assert.Less(t, most, limits.ForcedMost+1e-3, "%v", e)
		if e.Cause == limits.NoAssembly && most > limits.ForcedMost-1e-3 {
			ends++
		}
	}
	assert.Positive(t, ends)
}
