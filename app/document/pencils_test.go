package document

import (
	"fmt"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func pencilNames(list []Pencil) (out []string) {
	for _, p := range list {
		out = append(out, p.Name)
	}
	return out
}

func TestPencilLine(t *testing.T) {
	d := sprayer(t)
	require.NoError(t, d.AddPencil(AsItWas))
	before := d.Current()
	require.NoError(t, d.NudgePivot(rodEnd(t, d, FrameEnd), r3.Vec{Z: -20}))
	d.Settle()
	d.MoveAxle(30, 30)
	p, ok := d.Pencil()
	require.True(t, ok)
	assert.Equal(t, AsItWas, p.Name)
	assert.Same(t, before, p.Study.Job)
	require.NotNil(t, p.Study.Range)
	assert.Equal(t, 30.0, p.At.Pose.Left)
	assert.NotEqual(t, d.Position().Values[0].RollCentre, p.At.Values[0].RollCentre)

	require.NoError(t, d.KeepTrial("t"))
	d.ClearPencils()
	require.NoError(t, d.AddPencil("t"))
	require.NoError(t, d.NudgePivot(rodEnd(t, d, FrameEnd), r3.Vec{Z: -5}))
	d.Settle()
	p, ok = d.Pencil()
	require.True(t, ok)
	assert.Equal(t, d.Current().Links, p.Study.Job.Links, "the pencil line is that of its trial as it stands")
	assert.Equal(t, study.Live, p.Study.Depth)
	require.NoError(t, d.RemoveTrial("t"))
	_, ok = d.Pencil()
	assert.False(t, ok)
	require.Error(t, d.AddPencil("nobody"))
	require.NoError(t, d.AddPencil(""))
	d.ClearPencils()
	_, ok = d.Pencil()
	assert.False(t, ok)
}

func TestFourPencilLinesEachWithItsPlace(t *testing.T) {
	d := sprayer(t)
	for i := range MostPencils {
		require.NoError(t, d.NudgePivot(rodEnd(t, d, FrameEnd), r3.Vec{Z: -5}))
		require.NoError(t, d.KeepTrial(fmt.Sprint("t", i)))
		require.NoError(t, d.AddPencil(fmt.Sprint("t", i)))
	}
	d.Settle()
	for i, p := range d.Pencils() {
		assert.Equal(t, i, p.Place)
		require.NotNil(t, p.Study.Range, "%s is worked out", p.Name)
		assert.Equal(t, p.Name, d.Trials()[i])
	}
	require.Error(t, d.AddPencil(""), "a fifth")
	require.NoError(t, d.AddPencil("t2"), "one drawn already is no fifth")
	was := d.Pencils()
	d.RemovePencil("t1")
	require.NoError(t, d.AddPencil(""))
	d.Settle()
	assert.Equal(t, []string{"t0", "t2", "t3", ""}, pencilNames(d.Pencils()))
	now := d.Pencils()
	assert.Equal(t, []int{0, 2, 3, 1}, []int{now[0].Place, now[1].Place, now[2].Place, now[3].Place}, "a place is kept, a free one is taken")
	assert.Same(t, was[0].Study, now[0].Study, "worked out once")
	assert.Same(t, was[3].Study, now[2].Study)

	require.NoError(t, d.RenameTrial("t2", "two"))
	assert.Equal(t, []string{"t0", "two", "t3", ""}, pencilNames(d.Pencils()))
	d.Undo()
	assert.Equal(t, []string{"t0", "t2", "t3", ""}, pencilNames(d.Pencils()))
	d.Redo()
	assert.Equal(t, []string{"t0", "two", "t3", ""}, pencilNames(d.Pencils()))
	d.Settle()
	assert.Same(t, now[1].Study, d.Pencils()[1].Study, "another name is no other geometry")
	require.NoError(t, d.RemoveTrial("two"))
	assert.Equal(t, []string{"t0", "t3", ""}, pencilNames(d.Pencils()))
	assert.True(t, d.HasPencil("t3"))
	assert.False(t, d.HasPencil("two"))
}

// A hand that drags a pivot leaves the pencil lines' figures as they are: none is worked out again.
func TestADragWorksOutNoPencilLine(t *testing.T) {
	d := sprayer(t)
	require.NoError(t, d.KeepTrial("a"))
	require.NoError(t, d.SetTrial(""))
	require.NoError(t, d.AddPencil("a"))
	require.NoError(t, d.AddPencil(AsItWas))
	d.Settle()
	was := d.Pencils()
	p := rodEnd(t, d, AxleEnd)
	d.Hold(p)
	d.BeginDrag("rod")
	at, _ := edit.At(d.Current(), p)
	for i := range 5 {
		require.NoError(t, d.DragPivot(p, r3.Add(at, r3.Vec{Z: -float64(i)})))
		d.Settle()
	}
	d.Commit()
	d.Settle()
	now := d.Pencils()
	for i := range was {
		assert.Same(t, was[i].Study, now[i].Study)
		assert.Same(t, was[i].At, now[i].At)
	}
}
