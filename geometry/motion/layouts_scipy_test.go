package motion_test

import (
	"math"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// position is what the reference prints of where the axle stands: mm, N, rad. Stretches and forces in the order of Mechanism.Distances, gives as
// mm and N, arm by arm, frame first.
type position struct {
	Left              float64 `json:"left_mm"`
	Right             float64 `json:"right_mm"`
	Centre            [3]float64
	Axes              [3][3]float64
	HeaveV            [3]float64 `json:"heave_v"`
	HeaveW            [3]float64 `json:"heave_w"`
	RollV             [3]float64 `json:"roll_v"`
	RollW             [3]float64 `json:"roll_w"`
	Stretches, Forces []float64
	Turns             []float64
	Gives             [][2]float64
	Held              float64
	Weakest           motion.Free
}

// positions runs the reference, which shares no code with this project: unknowns of their own for every rocker and radius arm, SciPy's least
// squares, derivatives by complex steps, rates by central differences.
func positions(t *testing.T, j *job.Job, travels [][2]float64) (poses []position, singular float64, over bool) {
	t.Helper()
	var ref struct {
		Singular float64
		Over     bool
		Poses    []position
	}
	scipy.Run(t, j, travels, &ref, "positions")
	require.Len(t, ref.Poses, len(travels))
	return ref.Poses, ref.Singular, ref.Over
}

// Every layout at positions all round ride height. Tolerances: both sides settle to round-off, so positions agree to 1e-10 mm and directions to
// 1e-12 (seen: 4e-13 and 4e-16); rates as well as central differences of 0.01 mm tell them (third derivatives of
// 1e-5/mm2 leave 2e-10, positions to 1e-13 mm another 1e-11; seen: 1e-9 and 4e-12); forces the positions' times the stiffest end, 1e5 N/mm.
func TestLayoutsAgainstSciPy(t *testing.T) {
	var travels [][2]float64
	for a := 0; a < 360; a += 30 {
		sin, cos := math.Sincos(float64(a) * math.Pi / 180)
		travels = append(travels, [2]float64{90 * cos, 90 * sin})
	}
	travels = append(travels, [2]float64{-105, -105}, [2]float64{85, 85})
	for name, j := range scipy.Layouts(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			ref, singular, over := positions(t, j, travels)
			m, err := motion.Compile(j)
			require.NoError(t, err)
			require.Equal(t, over, m.OverLocated)
			most := map[string]float64{}
			least, greatest := math.Inf(1), 0.0
			near := func(what string, w *position, want, got, tol float64) {
				t.Helper()
				d := math.Abs(want - got)
				most[what] = max(most[what], d)
				if !(d <= tol) {
					t.Errorf("(%v, %v): %s = %v, SciPy has %v (difference %.2g, allowed %.2g)", w.Left, w.Right, what, got, want, d, tol)
				}
			}
			vec := func(what string, w *position, want [3]float64, got r3.Vec, tol float64) {
				t.Helper()
				near(what, w, 0, r3.Norm(r3.Sub(r3.Vec{X: want[0], Y: want[1], Z: want[2]}, got)), tol)
			}
			near("smallest singular value", &position{}, singular, m.Singular, 1e-12)
			s := m.NewSolver()
			for i := range ref {
				w := &ref[i]
				var p motion.Pose
				var r motion.Rates
				require.NoError(t, s.Solve(w.Left, w.Right, &p))
				require.NoError(t, s.Rates(&p, &r))
				vec("axle centre", w, w.Centre, p.C, 1e-10)
				for k, axis := range []r3.Vec{p.Ex, p.Ey, p.Ez} {
					vec("axes", w, w.Axes[k], axis, 1e-12)
				}
				vec("heave, velocity", w, w.HeaveV, r.Heave.V, 5e-9)
				vec("heave, turn", w, w.HeaveW, r.Heave.W, 2e-11)
				vec("roll, velocity", w, w.RollV, r.Roll.V, 5e-9)
				vec("roll, turn", w, w.RollW, r.Roll.W, 2e-11)
				require.Len(t, w.Stretches, len(m.Distances))
				for k := range m.Distances {
					mm, n := m.Stretch(&p, k)
					near("stretch", w, w.Stretches[k], mm, 1e-10)
					near("force", w, w.Forces[k], n, 1e-5)
				}
				// What the position tells of how well it is held is a lower bound, at most a factor of two below, in the four unknowns: within some
				// percent of that in six.
				ratio := p.Held / w.Held
				least, greatest = min(least, ratio), max(greatest, ratio)
				require.LessOrEqual(t, ratio, 1.05)
				require.GreaterOrEqual(t, ratio, 0.45)
				value, weakest := m.WeakestAt(&p)
				near("singular value", w, w.Held, value, 1e-12)
				dot, long := 0.0, 0.0
				for k := range weakest {
					dot += weakest[k] * w.Weakest[k]
					long += weakest[k] * weakest[k]
				}
				near("motion it is held least in", w, 1, math.Abs(dot)/math.Sqrt(long), 1e-12)
				require.Len(t, w.Turns, len(m.Rockers))
				for k := range m.Rockers {
					near("turn of a rocker", w, w.Turns[k], m.RockerTurn(&p, k), 1e-12)
				}
				k := 0
				for a := range m.Arms {
					if !m.Arms[a].Radius {
						continue
					}
					mm, n := m.ArmGive(&p, a)
					for e := range mm {
						near("give", w, w.Gives[k][0], mm[e], 1e-10)
						near("force of a give", w, w.Gives[k][1], n[e], 1e-5)
						k++
					}
				}
				require.Len(t, w.Gives, k)
			}
			t.Logf("held, as the position tells it, is %.3f to %.3f of the smallest singular value", least, greatest)
			for what, d := range most {
				t.Logf("%-24s differs by %.1e at most", what, d)
			}
		})
	}
}
