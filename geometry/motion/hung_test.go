package motion_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Wherever a demo axle stands within its travel: its two struts' lengths alone bring it back there.
func TestHangFindsThePositionByItsStruts(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, name := range assets.Demos() {
		j, f := demo(t, name)
		m, err := motion.Compile(j)
		require.NoError(t, err)
		left, right := -1, -1
		for i := range m.Struts {
			switch m.Struts[i].Ref.Side {
			case job.Left:
				left = i
			case job.Right:
				right = i
			}
		}
		require.True(t, left >= 0 && right >= 0, name)
		s, other := m.NewSolver(), m.NewSolver()
		for range 40 {
			l := -f.Range.Droop + (f.Range.Droop+f.Range.Bump)*rng.Float64()
			r := -f.Range.Droop + (f.Range.Droop+f.Range.Bump)*rng.Float64()
			var p, q motion.Pose
			if s.Solve(l, r, &p) != nil {
				continue
			}
			require.NoError(t, other.Hang(left, right, m.StrutLength(&p, left), m.StrutLength(&p, right), &q), "%s at %v, %v", name, l, r)
			for _, o := range []r3.Vec{{}, {X: 300, Z: 50}, {Y: 600}, {X: -200, Y: -500, Z: 300}} {
				assert.LessOrEqual(t, r3.Norm(r3.Sub(p.Point(o), q.Point(o))), 1e-7, "%s at %v, %v", name, l, r) // mm: 1e-9 of a strut's length, many times over where it leans
			}
		}
	}
}

func TestHangRefusesInSentences(t *testing.T) {
	j, _ := demo(t, assets.Demos()[0])
	m, err := motion.Compile(j)
	require.NoError(t, err)
	s := m.NewSolver()
	for _, w := range [][2]float64{{math.NaN(), 500}, {500, -1}, {500, math.Inf(1)}, {3000, 3000}, {5, 5}} {
		var p motion.Pose
		var e *motion.Error
		require.True(t, errors.As(s.Hang(0, 1, w[0], w[1], &p), &e), "%v", w)
		assert.Regexp(t, `\.$`, e.Words)
		assert.False(t, math.IsNaN(p.C.X+p.C.Y+p.C.Z))
	}
	var p motion.Pose
	assert.Error(t, s.Hang(0, 0, 400, 410, &p), "one strut has one length")
}

// A strut in the middle tells both wheels' travel at once: straight down by as much as it grows.
func TestHangByOneStrutInTheMiddle(t *testing.T) {
	j := parallelogram(900)
	j.Struts = []job.Strut{{Name: "Strut", Frame: job.Point{0, 0, 900}, Axle: job.Point{0, 0, 420}}}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	s := m.NewSolver()
	var p motion.Pose
	require.NoError(t, s.Hang(0, 0, 530, 530, &p))
	assert.InDelta(t, p.Left, p.Right, 1e-12)
	assert.InDelta(t, 530, m.StrutLength(&p, 0), 1e-9)
	assert.InDelta(t, -50, p.Left, 0.01) // the Panhard rod leads it 1.4 mm aside
}
