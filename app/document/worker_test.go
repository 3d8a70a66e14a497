package document

import (
	"context"
	"testing"
	"time"

	"axleloft/app/study"
	"axleloft/geometry/alike"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Along a way of edits, undone steps and trials the worker's figures are to the last bit those worked out from the job alone, and few studies are kept for that.
func TestFiguresAreThoseOfTheJobAlone(t *testing.T) {
	d := sprayer(t)
	var tank Part
	for i, e := range d.Current().Envelopes {
		if e.Name == "Rear tank" {
			tank = Part{List: Envelopes, Index: i}
		}
	}
	check := func(what string) {
		t.Helper()
		d.Settle()
		s, current := d.Study()
		require.True(t, current, what)
		require.Equal(t, study.Full, s.Depth)
		want := study.New(context.Background(), d.Current(), study.Full)
		assert.True(t, alike.Same(want.Smallest, s.Smallest), what)
		assert.True(t, alike.Same(want.Findings, s.Findings), what)
		assert.True(t, alike.Same(want.Extents, s.Extents), what)
		assert.True(t, alike.Same(want.Ring, s.Ring), what)
		assert.True(t, alike.Same(want.Range.Edge, s.Range.Edge), what)
	}
	check("as opened")
	require.NoError(t, d.NudgePart(tank, 0, r3.Vec{X: -5}))
	check("tank moved")
	require.NoError(t, d.KeepTrial("rod lower"))
	require.NoError(t, d.NudgePivot(rodEnd(t, d, FrameEnd), r3.Vec{Z: -20}))
	check("rod lower")
	require.NoError(t, d.SetTrial(""))
	check("as drawn")
	require.NoError(t, d.SetTrial("rod lower"))
	check("rod lower again")
	d.Undo()
	check("undone")
	d.SetUnit("in")
	check("in inches")
	for range 6 {
		require.NoError(t, d.NudgePart(tank, 0, r3.Vec{X: 1}))
		d.Settle()
	}
	assert.Len(t, d.worker.lives, kept)
	assert.Len(t, d.worker.fulls, kept)
}

// How far the fine figures are is told once they have taken a second, never goes back, and never of another geometry.
func TestHowFar(t *testing.T) {
	posts, told := make(chan func(), 10), 0
	w := &worker{post: func(f func()) { posts <- f }, told: func() { told++ }}
	far := func(gen uint64) float64 {
		if done, ok := w.far(gen); ok {
			return done
		}
		return -1
	}
	w.tell(0.5)
	assert.Equal(t, -1.0, far(7), "nothing is worked out")
	w.begin(7)
	w.tell(0.2)
	assert.Equal(t, -1.0, far(7), "it has only begun")
	w.share.begun = time.Now().Add(-2 * tellAfter)
	w.tell(0.3)
	w.tell(0.25)
	w.tell(0.4)
	assert.Equal(t, 0.4, far(7))
	assert.Equal(t, -1.0, far(8))
	(<-posts)()
	assert.Equal(t, 1, told, "the window is told now and then")
	w.share.posted = time.Now().Add(-2 * tellEvery)
	w.tell(0.6)
	(<-posts)()
	assert.Equal(t, 2, told)
	w.begin(0)
	assert.Equal(t, -1.0, far(7))
	assert.Equal(t, -1.0, far(0))
	assert.Empty(t, posts)
}
