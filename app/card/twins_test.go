package card

import (
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestUnlinkAndLinkAgainFromTheCard(t *testing.T) {
	for hold, want := range []float64{1100, 1050} { // this side's place, then the other side's
		d, c, _ := open(t)
		d.Hold(document.Pivot{List: document.Links, Index: 0, End: document.FrameEnd, Side: job.Right})
		require.NoError(t, d.Edit("free", "", func(j *job.Job) error { j.Links[0].Measured = nil; return nil }))
		assert.Contains(t, wordsOn(c), "and its twin")
		m := c.twinMenu()
		require.Len(t, m.Items, 1)
		m.Items[0].Action()
		held, ok := d.Held()
		require.True(t, ok)
		assert.Equal(t, "Lower right, frame end", edit.Name(d.Current(), held), "the side the hand took stays in it")
		c.draw()
		assert.Contains(t, wordsOn(c), "unlinked from Lower left")
		left, _ := edit.At(d.Current(), document.Pivot{List: document.Links, Index: 0, End: document.FrameEnd})
		require.NoError(t, d.NudgePivot(held, r3.Vec{X: 50}))
		still, _ := edit.At(d.Current(), document.Pivot{List: document.Links, Index: 0, End: document.FrameEnd})
		assert.Equal(t, left, still, "the other side stays")
		m = c.twinMenu()
		require.Len(t, m.Items, 2)
		assert.Equal(t, "Link again: Lower right holds, Lower left follows", m.Items[0].Label)
		m.Items[hold].Action()
		held, ok = d.Held()
		require.True(t, ok)
		assert.Equal(t, "Lower right, frame end", edit.Name(d.Current(), held))
		at, _ := edit.At(d.Current(), held)
		assert.Equal(t, want, at.X)
		assert.Less(t, at.Y, 0.0)
		label, _ := d.CanUndo()
		assert.Contains(t, label, "link again, as Lower")
		d.Undo()
		assert.False(t, d.Current().Links[0].Pair)
	}
}

func TestARefusalToLinkAgainStandsOnTheCard(t *testing.T) {
	d, c, _ := open(t)
	p := document.Pivot{List: document.Links, Index: 0, End: document.FrameEnd, Side: job.Left}
	d.Hold(p)
	c.twinMenu().Items[0].Action()
	require.NoError(t, d.SetMeasured(document.Pivot{List: document.Links, Index: 0, End: document.FrameEnd}, false))
	held, _ := d.Held()
	require.NoError(t, d.NudgePivot(held, r3.Vec{X: 50}))
	c.twinMenu().Items[0].Action() // the other side is measured
	assert.Contains(t, c.rows[0].refused, "Lower right, frame end is measured")
	assert.False(t, d.Current().Links[0].Pair)
}
