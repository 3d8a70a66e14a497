package motion_test

import (
	"errors"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two radius arms, splayed in plan, and nothing across: little more than nothing holds the axle sideways. Where its place is lost, the words say so
// and do not blame the arms' reach.
func TestNearlyLooseAxle(t *testing.T) {
	j := layout()
	j.Links = nil
	bolt := job.Point{0.1, 1, 0.05}
	j.Arms = []job.Arm{{Name: "Radius arm", Pair: true, Frame: []job.Point{{900, 455, 365}}, Axle: []job.Point{{35, 525, 475}, {20, 525, 300}},
		FrameEnds: []job.End{{Kind: "bush", Bolt: &bolt}}, AxleEnds: []job.End{{Kind: "bush"}, {Kind: "ball"}}}}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	require.Less(t, m.Singular, 0.005)
	assert.Equal(t, "The axle is poorly held: little stops it moving sideways.", m.PoorlyHeld)
	var p motion.Pose
	err = m.NewSolver().Solve(-200, -200, &p)
	var e *motion.Error
	require.True(t, errors.As(err, &e), "%v", err)
	assert.Contains(t, e.Words, "so little stops the axle moving sideways that where it stands can no longer be told.")
	assert.Less(t, p.Left, 0.0)
}
