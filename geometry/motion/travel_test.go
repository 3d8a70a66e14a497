package motion_test

import (
	"errors"
	"math"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// parallelogram is an axle on level trailing links so long that it goes straight up and down, with a Panhard rod level at ride height.
func parallelogram(rod float64) *job.Job {
	const far = 1e7
	return layout(
		pair("Lower", job.Point{far, 450, 350}, job.Point{0, 450, 350}),
		bar("Upper", job.Point{far, 0, 550}, job.Point{0, 0, 550}),
		bar("Panhard rod", job.Point{0, rod / 2, 420}, job.Point{0, -rod / 2, 420}))
}

// Derived, exact: a Panhard rod of length L, level at ride height, shifts the axle by L - sqrt(L^2 - z^2) at travel z.
func TestPanhardShift(t *testing.T) {
	for _, tc := range []struct {
		rod   float64
		shift map[float64]float64 // as worked out by hand, to 0.01 mm
	}{
		{900, map[float64]float64{25: 0.35, 50: 1.39, 75: 3.13, 100: 5.57, 150: 12.59}},
		{700, map[float64]float64{25: 0.45, 50: 1.79, 75: 4.03, 100: 7.18, 150: 16.26}},
	} {
		m, err := motion.Compile(parallelogram(tc.rod))
		require.NoError(t, err)
		s := m.NewSolver()
		for z, want := range tc.shift {
			for _, z := range []float64{z, -z} {
				var p motion.Pose
				require.NoError(t, s.Solve(z, z, &p))
				assert.InDelta(t, want, p.Y, 0.005, "rod %v at %v", tc.rod, z)
				assert.InDelta(t, tc.rod-math.Sqrt(tc.rod*tc.rod-z*z), p.Y, 1e-4)
			}
		}
	}
}

// Level parallel trailing links of length L with staggered pivots lead the axle centre round a circle: x = L - sqrt(L^2 - z^2), no turn.
func TestParallelLinks(t *testing.T) {
	const l = 800.0
	m := compile(t,
		pair("Lower", job.Point{l, 450, 350}, job.Point{0, 450, 350}),
		bar("Upper", job.Point{l - 90, 0, 550}, job.Point{-90, 0, 550}),
		bar("Panhard rod", job.Point{0, 1e7, 420}, job.Point{0, -450, 420}))
	s := m.NewSolver()
	for _, z := range []float64{-200, -60, 35, 180} {
		var p motion.Pose
		require.NoError(t, s.Solve(z, z, &p))
		assert.InDelta(t, l-math.Sqrt(l*l-z*z), p.X, 1e-8) // the rod across swings by z^2/2e7
		assert.InDelta(t, 0, p.Theta, 1e-12)
	}
}

// Both wheel travels hold to the last bits, and so do the distances of an exactly located axle; the answer does not depend on what was solved
// before.
func TestTravelsHoldExactly(t *testing.T) {
	for _, name := range assets.Demos() {
		j, f := demo(t, name)
		m, err := motion.Compile(j)
		require.NoError(t, err)
		s, other := m.NewSolver(), m.NewSolver()
		var p, q motion.Pose
		for _, w := range f.Poses {
			require.NoError(t, s.Solve(w.Left, w.Right, &p))
			up := r3.Scale(m.Track/2, p.Ey)
			assert.InDelta(t, w.Left, p.C.Z+up.Z-m.Radius, 3e-13)
			assert.InDelta(t, w.Right, p.C.Z-up.Z-m.Radius, 3e-13)
			assert.InDelta(t, 1, r3.Norm(p.Ex), 1e-15)
			assert.InDelta(t, 0, r3.Dot(p.Ex, p.Ez), 1e-15)
			if !m.OverLocated {
				assert.Less(t, p.Residual, 1e-9)
				for i := range m.Links {
					mm, force := m.Stretch(&p, i)
					assert.InDelta(t, 0, mm, 1e-9)
					assert.Zero(t, force)
				}
			}
			require.NoError(t, other.Solve(w.Right, w.Left, &q))
			require.NoError(t, other.Solve(w.Left, w.Right, &q))
			assert.Equal(t, p, q)
			require.NoError(t, s.SolveFrom(&p, w.Left, w.Right, &q))
			assert.Equal(t, p, q)
		}
	}
}

// On from pose to pose and back again comes to the pose it started from.
func TestForwardAndBack(t *testing.T) {
	for _, name := range assets.Demos() {
		j, _ := demo(t, name)
		m, err := motion.Compile(j)
		require.NoError(t, err)
		s := m.NewSolver()
		p := m.Ride()
		for _, to := range [][2]float64{{60, 60}, {100, -80}, {-40, -90}, {-100, 20}, {-10, -10}, {0, 0}} {
			require.NoError(t, s.SolveFrom(&p, to[0], to[1], &p))
		}
		ride := m.Ride()
		assert.InDelta(t, 0, r3.Norm(r3.Sub(p.C, ride.C)), 1e-10)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(p.Ex, ride.Ex)), 1e-13)
	}
}

// Short links come to their end: level parallel links of 120 mm let the axle rise by their length and no further. The march ends within a
// thousandth of a millimetre of it and says what holds the axle.
func TestEndOfReach(t *testing.T) {
	for _, way := range []float64{1, -1} {
		// The upper pivots stand ahead (behind, in droop), else the four pivots of the parallelogram come into line before the end.
		ahead := way * 40
		s := compile(t,
			pair("Lower", job.Point{120, 450, 350}, job.Point{0, 450, 350}),
			bar("Upper", job.Point{120 + ahead, 0, 550}, job.Point{ahead, 0, 550}),
			bar("Panhard rod", job.Point{0, 1e7, 420}, job.Point{0, -450, 420})).NewSolver()
		var p motion.Pose
		err := s.Solve(way*200, way*200, &p)
		var e *motion.Error
		require.True(t, errors.As(err, &e), "%v", err)
		assert.Equal(t, motion.OutOfReach, e.Kind, e.Words)
		assert.InDelta(t, way*120, e.Left, 1e-3)
		assert.LessOrEqual(t, math.Abs(e.Left), 120.0)
		assert.Equal(t, e.Left, p.Left, "the last pose on the way comes with the error")
		assert.Contains(t, e.Words, map[float64]string{1: "120 mm of bump", -1: "120 mm of droop"}[way])
		assert.Contains(t, e.Words, "Lower left")
		assert.Contains(t, e.Words, "Figures stop there; the rest stands.")
		require.NoError(t, s.Solve(way*119.9, way*119.9, &p))
	}
}

// A parallelogram whose four pivots come into line may go on as a crossed one. It is not gone through: the dead centre is named.
func TestDeadCentre(t *testing.T) {
	m := compile(t,
		pair("Lower", job.Point{120, 450, 350}, job.Point{0, 450, 350}),
		bar("Upper", job.Point{120, 0, 550}, job.Point{0, 0, 550}),
		bar("Panhard rod", job.Point{0, 1e7, 420}, job.Point{0, -450, 420}))
	s := m.NewSolver()
	var p motion.Pose
	var e *motion.Error
	require.True(t, errors.As(s.Solve(200, 200, &p), &e))
	assert.LessOrEqual(t, e.Left, 120.0)
	assert.Greater(t, e.Left, 119.0)
	assert.InDelta(t, 120-math.Sqrt(120*120-p.Heave*p.Heave), p.X, 1e-5, "still the uncrossed one")
}

// Two assemblies of the same links meet the same wheel travels; the one reached from ride height is kept wherever the march goes.
func TestNoJumpToAnotherAssembly(t *testing.T) {
	// A Panhard rod so short that its other assembly, axle to the far side of the frame pivot, is near.
	m := compile(t, lowers, single, bar("Panhard rod", job.Point{-150, -250, 440}, job.Point{-150, -450, 430}))
	s := m.NewSolver()
	for a := 0; a < 360; a += 10 {
		dl, dr := 400*math.Cos(float64(a)*math.Pi/180), 400*math.Sin(float64(a)*math.Pi/180)
		last := m.Ride()
		for k := 1.0; k <= 100; k++ {
			var p motion.Pose
			if s.Solve(dl*k/100, dr*k/100, &p) != nil {
				break
			}
			// 4 mm of wheel travel never moves the axle by a tenth of the way to the other assembly, about 400 mm off.
			require.Less(t, r3.Norm(r3.Sub(p.C, last.C)), 40.0, "towards %d deg at step %v", a, k)
			last = p
		}
	}
}

func TestBadTravel(t *testing.T) {
	s := compile(t, lowers, angled).NewSolver()
	for _, w := range [][2]float64{{math.NaN(), 0}, {0, math.Inf(1)}, {math.Inf(-1), math.Inf(-1)}, {900, -900}, {850, -850}} {
		var p motion.Pose
		var e *motion.Error
		require.True(t, errors.As(s.Solve(w[0], w[1], &p), &e))
		assert.Equal(t, motion.BadTravel, e.Kind)
		assert.Zero(t, p.X)
	}
}

func TestNoAllocation(t *testing.T) {
	for _, name := range assets.Demos() {
		j, _ := demo(t, name)
		m, err := motion.Compile(j)
		require.NoError(t, err)
		s := m.NewSolver()
		var p motion.Pose
		var r motion.Rates
		step := 0.0
		assert.Zero(t, testing.AllocsPerRun(200, func() {
			step++
			h := 50 * math.Sin(step)
			if s.Solve(h, -h, &p) != nil || s.SolveFrom(&p, h+1, 2-h, &p) != nil || s.Rates(&p, &r) != nil {
				t.Error("not solved")
			}
			_ = m.PoorlyHeldAt(&p)
		}), name)
	}
}
