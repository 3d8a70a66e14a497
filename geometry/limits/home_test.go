package limits_test

import (
	"context"
	"math"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a get-home case says holds at its position: a side that is down stands on the first of its stops and closed struts, the other strut has its ride length.
func TestGetHomeStandsOnWhatItSays(t *testing.T) {
	const tol = 2e-6 // mm: the margins are brought to 1e-6, the position is marched to again
	for _, name := range assets.Demos() {
		m, _, _ := demo(t, name)
		r, err := limits.Find(m, 96)
		require.NoError(t, err)
		homes := r.GetHome()
		require.Len(t, homes, 3)
		for k, h := range homes {
			require.Empty(t, h.Note)
			require.Equal(t, limits.HomeCase(k), h.Case)
			var p motion.Pose
			require.NoError(t, m.NewSolver().Solve(h.Left, h.Right, &p))
			down := map[float64]float64{} // by side: the least that is left of what it stands on
			for _, side := range []float64{1, -1} {
				down[side] = math.Inf(1)
				for i := range m.Stops {
					if m.Stops[i].Axle.Y*side > 0 {
						length, _ := m.StopLength(&p, i)
						down[side] = math.Min(down[side], length-m.Stops[i].Closed)
					}
				}
				for i := range m.Struts {
					if m.Struts[i].Axle.Y*side > 0 {
						down[side] = math.Min(down[side], m.StrutLength(&p, i)-m.Struts[i].Closed)
					}
				}
			}
			ride := func(name string) {
				for i := range m.Struts {
					if m.Struts[i].Name == name {
						assert.InDelta(t, m.Struts[i].Length, m.StrutLength(&p, i), tol)
						return
					}
				}
				t.Fatalf("no strut %q", name)
			}
			switch h.Case {
			case limits.LeftDown:
				assert.InDelta(t, 0, down[1], tol)
				ride(h.AtRide)
			case limits.RightDown:
				assert.InDelta(t, 0, down[-1], tol)
				ride(h.AtRide)
			case limits.BothDown:
				assert.InDelta(t, 0, down[1], tol)
				assert.InDelta(t, 0, down[-1], tol)
				assert.Len(t, h.On, 2)
			}
			for _, b := range h.On {
				assert.Contains(t, []limits.Cause{limits.StopSolid, limits.StrutClosed}, b.Cause)
			}
		}
		if name == "rescue-tender" { // drawn alike on both sides
			assert.InDelta(t, homes[0].Left, homes[1].Right, tol)
			assert.InDelta(t, homes[0].Right, homes[1].Left, tol)
			assert.InDelta(t, homes[2].Left, r.Bump, tol)
		}
	}
}

// A strut on the centre plane has one case, both wheels together; struts without a closed length and no stop have a sentence instead of a position.
func TestGetHomeOfOtherStruts(t *testing.T) {
	travel := 80.0
	one := func(edit func(*job.Job)) []limits.Home {
		j := demoJob(t, "rescue-tender")
		j.Travel = &job.Travel{Bump: &travel, Droop: &travel}
		edit(j)
		m, err := motion.Compile(j)
		require.NoError(t, err)
		r, err := limits.Find(m, 24)
		require.NoError(t, err)
		return r.GetHome()
	}
	homes := one(func(j *job.Job) {
		j.Struts[0].Pair = false
		j.Struts[0].Frame[1], j.Struts[0].Axle[1] = 0, 0
	})
	require.Len(t, homes, 1)
	assert.Equal(t, limits.BothDown, homes[0].Case)
	assert.Empty(t, homes[0].Note)
	assert.Positive(t, homes[0].Left)
	assert.InDelta(t, homes[0].Left, homes[0].Right, 1e-9)
	homes = one(func(j *job.Job) { j.Struts[0].Closed = nil })
	require.Len(t, homes, 3)
	for _, h := range homes {
		assert.Equal(t, "Nothing says how far a strut can go down: give the struts a closed length, or a bump stop.", h.Note)
	}
	assert.Empty(t, one(func(j *job.Job) { j.Struts = nil }))
}

// The rubber of a stop is met before the stop is home, where its length is the length it touches at, and it stops nothing.
func TestRubberIsMetBeforeMetal(t *testing.T) {
	m, c, _ := demo(t, "survey-wagon")
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	ring, err := limits.Ring(context.Background(), m, c, r, 1)
	require.NoError(t, err)
	up := ring[3] // 45 deg, both up
	require.NotEmpty(t, up.Rubber)
	solid := map[int]float64{}
	for _, b := range up.By {
		assert.NotEqual(t, limits.RubberTouch, b.Cause)
		if b.Cause == limits.StopSolid {
			solid[b.Index] = b.Left
		}
	}
	for _, b := range up.Rubber {
		var p motion.Pose
		require.NoError(t, m.NewSolver().Solve(b.Left, b.Right, &p))
		length, _ := m.StopLength(&p, b.Index)
		assert.InDelta(t, m.Stops[b.Index].Touch, length, 1e-5) // travel found to 1e-6
		assert.Less(t, b.Left, solid[b.Index])
		assert.Equal(t, "rubber "+m.Stops[b.Index].Name, b.What)
	}
	assert.Empty(t, ring[15].Rubber) // both down
}

// The ring is the same to the last bit on any number of goroutines.
func TestRingOnAnyNumberOfGoroutines(t *testing.T) {
	for _, name := range assets.Demos() {
		m, c, _ := demo(t, name)
		r, err := limits.Find(m, 48)
		require.NoError(t, err)
		one, err := limits.Ring(context.Background(), m, c, r, 1)
		require.NoError(t, err)
		many, err := limits.Ring(context.Background(), m, c, r, 5)
		require.NoError(t, err)
		assert.Equal(t, one, many)
	}
}

// A row gives the positions of its range and no other, each where the travels say.
func TestRowVisitsTheRange(t *testing.T) {
	m, _, _ := demo(t, "orchard-sprayer")
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	lo, hi := r.Box()
	const n = 21
	in, out := 0, 0
	for i := range n {
		left := lo.Left + (hi.Left-lo.Left)*float64(i)/(n-1)
		rights := make([]float64, n)
		for k := range rights {
			rights[k] = lo.Right + (hi.Right-lo.Right)*float64(k)/(n-1)
		}
		seen := map[int]bool{}
		r.Row(m.NewSolver(), left, rights, func(k int, inside bool, p *motion.Pose) {
			seen[k] = inside
			assert.Equal(t, left, p.Left)
			assert.Equal(t, rights[k], p.Right)
		})
		for k := range rights {
			assert.Equal(t, r.Contains(left, rights[k]), seen[k], "%v %v", left, rights[k])
			if seen[k] {
				in++
			} else {
				out++
			}
		}
	}
	assert.Greater(t, in, n*n/3)
	assert.Greater(t, out, n)
}
