package document

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestKeepChangesPutsTheDrawingBack(t *testing.T) {
	d := New(demo(t, "rescue-tender"), true, Options{})
	defer d.Discard()
	require.Error(t, d.KeepChanges("a"), "nothing was moved")
	i := link(t, d.Current(), "Upper")
	p := Pivot{List: Links, Index: i}
	at, _ := edit.At(d.Current(), p)
	was := at
	at.Z += 24
	require.NoError(t, d.Edit("up", "", func(j *job.Job) error { return edit.Move(j, p, at) }))
	require.NoError(t, d.KeepChanges("up 24"))
	assert.Equal(t, "up 24", d.Trial())
	assert.Equal(t, was.Z+24, d.Current().Links[i].Frame[2])
	assert.Equal(t, was.Z, d.Job().Links[i].Frame[2], "as drawn is as it was")
	require.Error(t, d.KeepChanges("again"), "a trial is chosen")
	_, ok := d.Undo()
	require.True(t, ok)
	assert.Equal(t, "", d.Trial())
	assert.Equal(t, was.Z+24, d.Job().Links[i].Frame[2])
}
