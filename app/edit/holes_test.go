package edit

import (
	"bytes"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestARowOfHolesIsTypedFromWhereThePivotStands(t *testing.T) {
	j := sprayer(t)
	left := pivotOf(t, j, "Lower left, frame end")
	right := left
	right.Side = job.Right
	at, _ := At(j, left)
	require.NoError(t, TypeHoles(j, right, HoleText{Stands: "2", Count: "4", Step: [3]string{"", "-3/4\"", "20"}}))
	step := r3.Vec{Y: 19.05, Z: 20} // typed for the right twin, so mirrored for the left
	list := Holes(j, left)
	require.Len(t, list, 4)
	for i, h := range list {
		assert.InDelta(t, 0, r3.Norm(r3.Sub(h, r3.Add(at, r3.Scale(float64(i-1), step)))), 1e-6, "hole %d", i+1)
	}
	assert.Equal(t, 2, HoleOf(j, left))
	assert.Equal(t, 2, HoleOf(j, right))
	assert.Equal(t, HoleText{Stands: "2", Count: "4", Step: [3]string{"", "-3/4\"", "20"}}, HolesTyped(j, right))
	for i, h := range Holes(j, right) {
		assert.Equal(t, list[i], r3.Vec{X: h.X, Y: -h.Y, Z: h.Z})
	}
	require.NoError(t, TakeHole(j, right, 3))
	assert.Equal(t, 3, HoleOf(j, left))
	assert.Equal(t, list, Holes(j, left), "the row stays where it is")
	require.NoError(t, Move(j, left, r3.Add(at, r3.Vec{X: 5})))
	assert.Equal(t, 0, HoleOf(j, left))
	require.NoError(t, TypeHoles(j, left, HoleText{Count: "2", Step: [3]string{"", "", "30"}}), "in no hole: the row stays")
	assert.Equal(t, list[0], Holes(j, left)[0])
	assert.Equal(t, 2, len(Landings(j, left, LandHole, 0)))
	assert.Equal(t, "in hole 2 of 2", Landings(j, left, LandHole, 0)[1].Words)

	var file bytes.Buffer
	require.NoError(t, job.Write(&file, j))
	again, err := job.Read(&file)
	require.NoError(t, err)
	assert.Equal(t, j.Holes, again.Holes)

	require.NoError(t, TypeHoles(j, left, HoleText{}))
	assert.Nil(t, j.Holes)
}

func TestHolesRefuse(t *testing.T) {
	j := sprayer(t)
	p := pivotOf(t, j, "Panhard rod, frame end")
	for _, x := range []struct {
		says  string
		field int
		text  HoleText
	}{
		{"from 1 to 4", HoleStands, HoleText{Stands: "5", Count: "4", Step: [3]string{"", "", "20"}}},
		{"whole number", HoleCount, HoleText{Count: "four", Step: [3]string{"", "", "20"}}},
		{"from 2 to 40 holes", HoleCount, HoleText{Count: "41", Step: [3]string{"", "", "20"}}},
		{"from 2 to 40 holes", HoleCount, HoleText{Stands: "3", Count: "1", Step: [3]string{"", "", "20"}}},
		{"at least 1 mm", HoleStep, HoleText{Count: "4"}},
		{"to the next hole, Y", HoleStep + 1, HoleText{Count: "4", Step: [3]string{"", "abc", ""}}},
	} {
		err := TypeHoles(j, p, x.text)
		assert.ErrorContains(t, err, x.says)
		var at *FieldError
		require.ErrorAs(t, err, &at)
		assert.Equal(t, x.field, at.Field, x.says)
	}
	assert.Nil(t, j.Holes)
	assert.ErrorContains(t, TakeHole(j, p, 1), "has no hole 1")
	assert.Equal(t, HoleText{}, HolesTyped(j, p))
}

func TestHolesStayWithTheirPart(t *testing.T) {
	j := sprayer(t)
	left := pivotOf(t, j, "Lower left, frame end")
	require.NoError(t, TypeHoles(j, left, HoleText{Stands: "1", Count: "3", Step: [3]string{"", "10", "20"}}))
	list := Holes(j, left)
	require.NoError(t, Unlink(j, PartOf(left)))
	l, r := pivotOf(t, j, "Lower left, frame end"), pivotOf(t, j, "Lower right, frame end")
	assert.Equal(t, list, Holes(j, l))
	for i, h := range Holes(j, r) {
		assert.Equal(t, list[i], r3.Vec{X: h.X, Y: -h.Y, Z: h.Z})
	}
	assert.Equal(t, 1, HoleOf(j, r))
	require.NoError(t, TypeHoles(j, r, HoleText{Stands: "1", Count: "5", Step: [3]string{"", "", "10"}}), "one of its own")
	assert.Len(t, Holes(j, r), 5)
	assert.Len(t, Holes(j, l), 3)
	require.NoError(t, LinkAgain(j, PartOf(l)))
	p := pivotOf(t, j, "Lower left, frame end")
	assert.Equal(t, list, Holes(j, p))

	require.NoError(t, Rename(j, PartOf(p), "Bottom"))
	j.Tidy()
	assert.Equal(t, list, Holes(j, pivotOf(t, j, "Bottom left, frame end")))
	for _, h := range j.Holes {
		assert.NotContains(t, h.Of, "Lower", "nothing goes by it any more")
	}
}
