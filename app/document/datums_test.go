package document

import (
	"bytes"
	"testing"

	"axleloft/app/edit"
	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A datum corrected while a trial is shown takes along what hangs on it in the job and in the trial, in one step back.
func TestCorrectedDatumIsOneStepInJobAndTrial(t *testing.T) {
	j, err := job.Read(bytes.NewReader(assets.Demo("orchard-sprayer")))
	require.NoError(t, err)
	d := New(j, false, Options{})
	t.Cleanup(d.Close)
	p := Pivot{Index: -1}
	for i := range j.Links {
		if j.Links[i].Name == "Panhard rod" {
			p = Pivot{List: Links, Index: i, End: edit.FrameEnd}
		}
	}
	require.NoError(t, d.SetMeasured(p, false))
	require.NoError(t, d.AddDatum(edit.DatumText{Name: "Rail top", Z: "600"}))
	require.NoError(t, d.SetDatum(p, edit.Z, "Rail top"))
	require.NoError(t, d.TypePivot(p, edit.Z, "-70"))
	require.NoError(t, d.KeepTrial("Higher"))
	require.NoError(t, d.SetTrial("Higher"))
	require.NoError(t, d.TypePivot(p, edit.Z, "-50"))
	z := func(trial string) float64 {
		w, err := d.Job().WithTrial(trial)
		require.NoError(t, err)
		at, ok := edit.At(w, p)
		require.True(t, ok)
		return at.Z
	}
	require.InDelta(t, 530, z(""), 1e-9)
	require.InDelta(t, 550, z("Higher"), 1e-9)

	words, err := d.CorrectDatum(0, edit.DatumText{Name: "Rail top", Z: "608"})
	require.NoError(t, err)
	assert.Equal(t, "Rail top: 2 numbers moved with it.", words)
	assert.InDelta(t, 538, z(""), 1e-9)
	assert.InDelta(t, 558, z("Higher"), 1e-9)
	assert.Equal(t, "Higher", d.Trial())
	at, _ := edit.At(d.Current(), p)
	assert.InDelta(t, 558, at.Z, 1e-9, "what is shown follows at once")
	label, ok := d.Undo()
	require.True(t, ok)
	assert.Equal(t, "correct datum Rail top", label)
	assert.InDelta(t, 530, z(""), 1e-9)
	assert.InDelta(t, 550, z("Higher"), 1e-9)
	assert.Equal(t, "600", d.DatumTexts()[0].Z)

	var out bytes.Buffer
	require.NoError(t, job.Write(&out, d.Job()))
	_, err = job.Read(&out)
	require.NoError(t, err, "it reads back")

	n, err := d.RemoveDatum(0)
	require.NoError(t, err)
	assert.Equal(t, 2, n)
	assert.InDelta(t, 530, z(""), 1e-9)
}
