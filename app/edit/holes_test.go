package edit

import (
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestHolesOfAPivot(t *testing.T) {
	j := members(t)
	var p Pivot // of a pair of links
	for i := range j.Links {
		if j.Links[i].Pair {
			p = Pivot{List: Links, Index: i, End: FrameEnd, Side: job.Left}
			j.Links[i].Measured = nil
		}
	}
	at, ok := At(j, p)
	require.True(t, ok)
	assert.Nil(t, Holes(j, p))
	assert.Error(t, SetHoles(j, p, at, r3.Vec{Z: 20}, 1))
	assert.Error(t, SetHoles(j, p, at, r3.Vec{}, 3))
	first := r3.Sub(at, r3.Vec{Z: 20})
	require.NoError(t, SetHoles(j, p, first, r3.Vec{Z: 20}, 4))
	require.Empty(t, job.Check(j))
	assert.Len(t, Holes(j, p), 4)
	assert.Equal(t, 2, HoleOf(j, p))
	right := p
	right.Side = job.Right
	assert.InDelta(t, -first.Y, Holes(j, right)[0].Y, 1e-9)
	assert.Equal(t, 2, HoleOf(j, right))

	require.NoError(t, TakeHole(j, p, 4))
	assert.Equal(t, 4, HoleOf(j, p))
	now, _ := At(j, p)
	assert.InDelta(t, first.Z+60, now.Z, 1e-9)
	assert.Error(t, TakeHole(j, p, 5))

	// What it lands on, renamed, unlinked, taken out.
	assert.Equal(t, "in hole 3 of 4", Landings(j, p, LandHole, 0)[2].Words)
	name := PartName(j, PartOf(p))
	require.NoError(t, Rename(j, PartOf(p), "Other"))
	assert.Len(t, Holes(j, p), 4)
	assert.NotEqual(t, "Other", name)
	require.NoError(t, Unlink(j, PartOf(p)))
	require.Empty(t, job.Check(j))
	require.Len(t, j.Holes, 2)
	p.Side = job.Single
	q := p
	q.Index++
	assert.InDelta(t, -Holes(j, p)[1].Y, Holes(j, q)[1].Y, 1e-9)
	require.NoError(t, SetHoles(j, q, r3.Vec{}, r3.Vec{}, 0))
	assert.Nil(t, Holes(j, q))
	require.NoError(t, Remove(j, PartOf(p)))
	assert.Nil(t, j.Holes)
}
