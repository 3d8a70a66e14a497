package document

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// With the pinion kept every move of a pivot takes the chosen frame end along, in the same step; the keep itself can be undone.
func TestPinionIsKeptInTheSameStep(t *testing.T) {
	d := New(demo(t, "rescue-tender"), true, Options{})
	t.Cleanup(d.Discard)
	upper, lower := link(t, d.Current(), "Upper"), link(t, d.Current(), "Lower")
	p := Pivot{List: Links, Index: lower, End: FrameEnd, Side: job.Left}
	require.NoError(t, d.SetKeepPinion(upper, -100, 80))
	k, ok := edit.KeptPinion(d.Current())
	require.True(t, ok)
	require.NotNil(t, k.Value)
	was := d.Current().Links[upper].Frame
	at, _ := edit.At(d.Current(), p)
	d.BeginDrag("move")
	require.NoError(t, d.DragPivot(p, r3.Add(at, r3.Vec{Z: 15})))
	assert.NotEqual(t, was, d.Current().Links[upper].Frame, "while it is dragged already")
	d.Commit()
	turns, err := study.PinionChange(d.Current(), -100, 80)
	require.NoError(t, err)
	assert.InDelta(t, *k.Value, turns, 2e-5)
	_, ok = d.Undo()
	require.True(t, ok)
	assert.Equal(t, was, d.Current().Links[upper].Frame)
	now, _ := edit.At(d.Current(), p)
	assert.Equal(t, at, now, "one step")
	require.NoError(t, d.SetKeepLength(upper, true))
	d.BeginDrag("move")
	err = d.DragPivot(p, r3.Add(at, r3.Vec{Z: 15}))
	var f *edit.Fight
	require.ErrorAs(t, err, &f)
	assert.Equal(t, [2]string{"Keep pinion", "Keep length"}, f.Keeps)
	d.Cancel()
	require.NoError(t, d.LeaveKeep(Pivot{List: Links, Index: upper, End: FrameEnd}))
	assert.Empty(t, d.Current().Keep)
	require.NoError(t, d.SetKeepLine(p, edit.WayUp))
	require.NoError(t, d.NudgePivot(p, r3.Vec{Z: 1}))
	assert.ErrorContains(t, d.NudgePivot(p, r3.Vec{X: 1}), "it is kept on an upright line")
}
