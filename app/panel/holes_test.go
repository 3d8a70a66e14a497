package panel

import (
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Every combination of the holes is listed, the present one marked by a word; a press on a head sorts, and the other way round; a row is taken over in one step.
func TestHolesPanel(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	f := w.drawer(t, HolesDrawer)
	assert.Contains(t, strings.Join(f.Lines(), " "), "No pivot has holes.")
	rod := edit.Pivot{List: edit.Links, Index: 2, End: edit.FrameEnd}
	upper := edit.Pivot{List: edit.Links, Index: 1, End: edit.FrameEnd}
	require.NoError(t, w.d.Edit("holes", "", func(j *job.Job) error {
		for p, step := range map[edit.Pivot]r3.Vec{rod: {Z: -25}, upper: {Z: 20}} {
			at, _ := edit.At(j, p)
			if err := edit.SetHoles(j, p, at, step, 3); err != nil {
				return err
			}
		}
		return nil
	}))
	w.d.Settle()
	f.Update(document.JobChanged | document.StudyChanged)
	w.wait(t, f)
	b := f.in.(*holes)
	table := b.table()
	require.NotNil(t, table)
	require.Len(t, table.Rows, 9)
	for _, l := range f.Lines() {
		refuseWords(t, l)
	}
	now := 0
	for _, l := range f.Lines() {
		if strings.HasPrefix(l, "now | hole 1 | hole 1 | ") {
			now++
		}
	}
	assert.Equal(t, 1, now)

	head, ok := f.Named("Roll steer").(*look.Button)
	require.True(t, ok)
	test.Tap(head)
	assert.Equal(t, "% ↑", b.heads.Objects[b.sorted].(*fyne.Container).Objects[1].(*look.Label).Text())
	for i := 1; i < len(b.order); i++ {
		x, y := table.Rows[b.order[i-1]].RollSteer, table.Rows[b.order[i]].RollSteer
		assert.LessOrEqual(t, x*x, y*y)
	}
	first := b.order[0]
	test.Tap(head)
	assert.Equal(t, first, b.order[len(b.order)-1], "the largest first")

	assert.True(t, b.take.Disabled())
	row := -1
	for i, r := range b.order {
		if table.Rows[r].Holes[0] == 2 && table.Rows[r].Holes[1] == 3 {
			row = i
		}
	}
	require.GreaterOrEqual(t, row, 0)
	b.list.Select(row)
	require.False(t, b.take.Disabled())
	test.Tap(b.take)
	require.NoError(t, w.told)
	assert.Equal(t, 2, edit.HoleOf(w.d.Current(), table.Pivots[0]))
	assert.Equal(t, 3, edit.HoleOf(w.d.Current(), table.Pivots[1]))
	label, _ := w.d.CanUndo()
	assert.Equal(t, "holes: Centre upper, frame end 2, Panhard rod, frame end 3", label)
	w.d.Settle()
	f.Update(document.JobChanged | document.StudyChanged)
	w.wait(t, f)
	assert.Equal(t, []int{2, 3}, b.table().Rows[b.table().Now].Holes)

	b.mode.Tapped(&fyne.PointEvent{Position: b.mode.Centre(1)})
	w.wait(t, f)
	b.list.Select(0)
	assert.True(t, b.take.Disabled(), "with the links kept the axle moves: nothing to take over")
	assert.Contains(t, b.said.Text(), "Choose Links re-set")
}
