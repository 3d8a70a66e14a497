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

func TestWhatIsSetAsideHoldsInItsOwnTrial(t *testing.T) {
	d := New(demo(t, "rescue-tender"), true, Options{})
	defer d.Discard()
	d.Settle()
	s, _ := d.Study()
	require.NotEmpty(t, s.Findings)
	f := s.Findings[0]
	require.NoError(t, d.SetAside(&f, "can be moved"))
	d.Settle()
	aside := func() int {
		s, _ := d.Study()
		n := 0
		for i := range s.Findings {
			if s.Findings[i].SetAside != nil {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 1, aside())
	require.NoError(t, d.SetTrial(d.Trials()[0]))
	d.Settle()
	assert.Equal(t, 0, aside(), "another geometry")
	s, _ = d.Study()
	f = s.Findings[0]
	require.NoError(t, d.SetAside(&f, "will be cut away"))
	d.Settle()
	assert.Equal(t, 1, aside())
	require.NoError(t, d.SetTrial(""))
	d.Settle()
	assert.Equal(t, 1, aside())
	assert.Len(t, d.Job().SetAside, 2, "both are kept")
	s, _ = d.Study()
	for i := range s.Findings {
		if s.Findings[i].SetAside != nil {
			require.NoError(t, d.BringBack(&s.Findings[i]))
		}
	}
	require.Len(t, d.Job().SetAside, 1)
	assert.Equal(t, d.Trials()[0], d.Job().SetAside[0].Trial)
}
