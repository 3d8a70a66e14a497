package motion_test

import (
	"math"
	"testing"

	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// At ride height the weakest motion at a pose is the mechanism's own, and its singular value too; the bracket every pose carries holds it.
func TestWeakestAtAPose(t *testing.T) {
	j, _ := demo(t, "orchard-sprayer")
	m, err := motion.Compile(j)
	require.NoError(t, err)
	s := m.NewSolver()
	var p motion.Pose
	require.NoError(t, s.Solve(0, 0, &p))
	sv, f := m.WeakestAt(&p)
	assert.InDelta(t, m.Singular, sv, 1e-9)
	dot, size := 0.0, 0.0
	for i := range f {
		dot += f[i] * m.Weakest[i]
		size += f[i] * f[i]
	}
	assert.InDelta(t, 1, math.Abs(dot), 1e-6)
	assert.InDelta(t, 1, size, 1e-9)
	require.NoError(t, s.Solve(60, -40, &p))
	sv, _ = m.WeakestAt(&p)
	assert.GreaterOrEqual(t, sv, p.Held-1e-12)
	assert.LessOrEqual(t, sv, 2.5*p.Held)
}

// The rod that is stretched out as far as it goes is the one that holds the axle there.
func TestHoldersAtTheEndOfReach(t *testing.T) {
	m, err := motion.Compile(parallelogram(100))
	require.NoError(t, err)
	s := m.NewSolver()
	var p motion.Pose
	var e *motion.Error
	require.ErrorAs(t, s.Solve(150, 150, &p), &e)
	require.NoError(t, s.Solve(e.Left*0.999, e.Right*0.999, &p))
	assert.Equal(t, []string{"Panhard rod"}, m.Holders(&p))
}
