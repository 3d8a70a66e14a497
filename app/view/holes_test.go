package view

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// The held pivot's holes are drawn with their numbers; a drag lands in them, in all three coordinates.
func TestHolesAreDrawnAndLandedIn(t *testing.T) {
	j := demo(t, "orchard-sprayer").Job.Clone()
	p := edit.Pivot{List: edit.Links, Index: 2, End: edit.FrameEnd}
	here, ok := edit.At(j, p)
	require.True(t, ok)
	require.NoError(t, edit.SetHoles(j, p, r3.Sub(here, r3.Vec{Z: 60, X: 4}), r3.Vec{Z: 30}, 5))
	require.Empty(t, job.Check(j))
	s := study.WithRange(j)
	size := Size{900, 500}
	tr := Eye{At: here, Scale: 1}.Transform(Side, size)
	scene := New(Input{Plane: Side, Now: s, At: at(t, s, 0, 0), Held: &p})
	pic := scene.Picture(tr, paper.Measure, nil)
	rings, numbers := 0, map[string]bool{}
	for _, it := range pic.Items {
		if it.Kind == drawing.Circle && it.Layer == drawing.Held && it.Radius == holeRound {
			rings++
		}
		if it.Kind == drawing.Text {
			numbers[it.Words] = true
		}
	}
	assert.Equal(t, 5, rings)
	assert.True(t, numbers["1"] && numbers["5"], "%v", numbers)

	list := edit.Landings(j, p, edit.LandHole, 0)
	require.Len(t, list, 5)
	var h Handle
	for _, x := range scene.Handles(tr) {
		if x.Pivot.Same(p) && x.Wheel == job.Single && !x.Ride {
			h = x
		}
	}
	d := scene.NewDrag(h, h.X, h.Y)
	x, y := tr.Place(list[3].At)
	got := d.Land(list, tr, x+3, y-3, 1)
	assert.Equal(t, list[3].At, got.To)
	require.Equal(t, 1, got.N)
	assert.Equal(t, "in hole 4 of 5", list[got.On[0]].Words)
	assert.True(t, Side.Holds(&list[3], got.To))
}
