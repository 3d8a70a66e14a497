package study_test

import (
	"context"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Every combination has the figures a study of the job with its pivots there has; with the links kept the axle moves and the links are as long as they were.
func TestHoles(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	frame := edit.Pivot{List: edit.Links, Index: 0, End: edit.FrameEnd, Side: job.Left}
	upper := edit.Pivot{List: edit.Links, Index: 1, End: edit.FrameEnd}
	require.NoError(t, edit.SetMeasured(j, frame, false))
	for _, x := range []struct {
		p     edit.Pivot
		below float64
		n     int
	}{{frame, 25, 3}, {upper, 0, 2}} {
		at, ok := edit.At(j, x.p)
		require.True(t, ok)
		require.NoError(t, edit.SetHoles(j, x.p, r3.Sub(at, r3.Vec{Z: x.below}), r3.Vec{Z: 25}, x.n))
	}
	require.NoError(t, edit.SetMeasured(j, frame, true)) // a measured bracket has holes all the same
	s := study.New(context.Background(), j, study.Live)
	told := 0
	table, err := s.Holes(context.Background(), false, func(done, all int) { told = done; assert.Equal(t, 6, all) })
	require.NoError(t, err)
	assert.Equal(t, 6, told)
	require.Len(t, table.Rows, 6)
	assert.Equal(t, []int{2, 1}, table.Rows[table.Now].Holes)
	assert.Len(t, table.Links, 2)
	for i := range table.Rows {
		r := &table.Rows[i]
		require.Empty(t, r.Why)
		k := j.Clone()
		require.NoError(t, edit.SetMeasured(k, frame, false))
		require.NoError(t, edit.TakeHole(k, frame, r.Holes[0]))
		require.NoError(t, edit.TakeHole(k, upper, r.Holes[1]))
		n := study.New(context.Background(), k, study.Live)
		v := n.At(0, 0).Values[n.Laden()]
		assert.InDelta(t, v.AntiSquatPct, r.AntiSquat, 1e-9)
		assert.InDelta(t, v.RollSteerPct, r.RollSteer, 1e-9)
		assert.InDelta(t, n.Extents.Pinion.Max-n.Extents.Pinion.Min, r.Pinion, 1e-9)
		assert.InDelta(t, n.Smallest[n.Order()[0]].Gap.Gap, r.Gap, 1e-9)
		assert.InDelta(t, edit.LinkLength(k, 0), r.Lengths[0], 1e-9)
		assert.InDelta(t, edit.LinkLength(k, 1), r.Lengths[1], 1e-9)
		assert.InDelta(t, 0, r.SideShift, 1e-9, "the axle stays")
	}
	kept, err := s.Holes(context.Background(), true, nil)
	require.NoError(t, err)
	moved := false
	for i := range kept.Rows {
		r := &kept.Rows[i]
		require.Empty(t, r.Why)
		assert.InDelta(t, edit.LinkLength(j, 0), r.Lengths[0], 1e-9)
		assert.InDelta(t, edit.LinkLength(j, 1), r.Lengths[1], 1e-9)
		moved = moved || r.PinionRide-table.Rows[i].PinionRide > 0.05 || table.Rows[i].PinionRide-r.PinionRide > 0.05
		if i == kept.Now {
			assert.InDelta(t, table.Rows[i].AntiSquat, r.AntiSquat, 1e-6, "where nothing is moved both are alike")
		}
	}
	assert.True(t, moved, "the axle turns")
	j.Holes = nil
	_, err = study.New(context.Background(), j, study.Live).Holes(context.Background(), false, nil)
	assert.ErrorContains(t, err, "No pivot has holes")
}
