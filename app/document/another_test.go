package document

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestASecondPosition(t *testing.T) {
	d := sprayer(t)
	d.Settle()
	_, _, ok := d.Other()
	assert.False(t, ok)
	require.True(t, d.Against(FullBump, FullDroop))
	s, _ := d.Study()
	l, r := d.Travels()
	assert.InDelta(t, s.Range.Bump, l, 1e-6)
	assert.InDelta(t, s.Range.Bump, r, 1e-6)
	c, at, ok := d.Other()
	require.True(t, ok)
	assert.Equal(t, FullDroop, c)
	assert.InDelta(t, -s.Range.Droop, at.Pose.Left, 1e-6)
	_, again, _ := d.Other()
	assert.Same(t, at, again, "worked out once")

	require.NoError(t, d.NudgePivot(rodEnd(t, d, AxleEnd), r3.Vec{Z: -5}))
	d.Settle()
	_, moved, ok := d.Other()
	require.True(t, ok)
	assert.NotSame(t, at, moved, "it is of the geometry as it stands")
	assert.NotEqual(t, at.Pose.C.Y, moved.Pose.C.Y)

	require.True(t, d.GoCorner(FullDroop))
	c, _, ok = d.Other()
	assert.False(t, ok, "the axle stands there")
	assert.Equal(t, FullDroop, c)
	require.True(t, d.SetOther(LeftUp))
	_, at, ok = d.Other()
	require.True(t, ok)
	assert.Greater(t, at.Pose.Left, at.Pose.Right)
	d.ClearOther()
	_, chosen := d.OtherChosen()
	assert.False(t, chosen)
	assert.False(t, d.SetOther(nowhere))
	label, _ := d.CanUndo()
	assert.Contains(t, label, "move", "a second position is no step")
}
