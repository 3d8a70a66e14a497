package start

import (
	"testing"

	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// at returns the figures of the layout's usual job with both wheels at h.
func at(t *testing.T, l Layout, h float64) (*motion.Mechanism, *quantity.Values) {
	s := Usual()
	s.Layout = l
	j, err := Make(s)
	require.NoError(t, err)
	m, err := motion.Compile(j)
	require.NoError(t, err)
	var pose motion.Pose
	var rates motion.Rates
	solver := m.NewSolver()
	require.NoError(t, solver.Solve(h, h, &pose))
	require.NoError(t, solver.Rates(&pose, &rates))
	v := quantity.NewValues(m)
	load := quantity.Loads(j)[1]
	quantity.Eval(m, &pose, &rates, &load, v)
	return m, v
}

// The rules of construction: the axle turns about the frame ends of radius arms; about the point of the lowers' line under a torque arm's front
// end; an A-arm's ball and a Watt's rocker's bolt are roll centres (for the lowers' slope see slopes).
func TestEachLayoutTurnsAboutWhatHoldsIt(t *testing.T) {
	m, v := at(t, RadiusArms, 0)
	require.Len(t, m.Arms, 2)
	assert.True(t, m.Arms[0].Radius)
	assert.InDelta(t, m.Arms[0].Frame[0].X, v.ICX, 0.5)
	assert.InDelta(t, m.Arms[0].Frame[0].Z, v.ICZ, 0.5)

	m, v = at(t, TorqueArm, 0)
	lower, arm := &m.Links[0], &m.Links[2]
	require.Equal(t, "Torque arm", arm.Name)
	assert.InDelta(t, arm.Frame.X, v.ICX, 0.5)
	axleZ := lower.Axle.Z + m.Radius
	assert.InDelta(t, axleZ+(lower.Frame.Z-axleZ)*arm.Frame.X/lower.Frame.X, v.ICZ, 0.5)

	m, v = at(t, Watts, 0)
	require.Len(t, m.Rockers, 1)
	bolt := m.Rockers[0].Pivot.At
	assert.InDelta(t, bolt.Z+m.Radius-bolt.X*v.RollSteerPct/100, v.RollCentre, 0.5, "from the bolt along the roll axis")

	m, v = at(t, AArm, 0)
	require.Len(t, m.Arms, 1)
	assert.False(t, m.Arms[0].Radius)
	ball := m.Arms[0].Axle[0]
	assert.InDelta(t, ball.Z+m.Radius-ball.X*v.RollSteerPct/100, v.RollCentre, 0.5, "from the ball along the roll axis")
}

// What the trade chooses them for: a Watt's linkage and an A-arm keep the axle in the middle, a Panhard rod does not.
func TestWhatKeepsTheAxleInTheMiddle(t *testing.T) {
	for l, most := range map[Layout]float64{FourLink: 1e-9, AArm: 1e-9, Watts: 1} {
		for _, h := range []float64{-110, -75, 75, 100} {
			_, v := at(t, l, h)
			assert.InDelta(t, 0, v.Y, most, "%s at %v", Layouts()[l], h)
		}
	}
	for _, l := range []Layout{ThreeLink, FiveLink, RadiusArms, TorqueArm} {
		_, v := at(t, l, -110)
		assert.Less(t, v.Y, -5.0, Layouts()[l])
	}
}
