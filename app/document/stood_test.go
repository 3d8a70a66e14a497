package document

import (
	"testing"

	"axleloft/app/edit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A corrected pinion angle takes all places measured on stands along in one step, in a trial too, and Undo takes the whole of it back.
func TestStoodIsOneStep(t *testing.T) {
	d := sprayer(t)
	said, err := d.SetStood(edit.OnStands, "pinion", "10")
	require.NoError(t, err)
	assert.Empty(t, said, "nothing is measured so yet")
	var taken []Pivot
	for _, p := range edit.Pivots(d.Current()) {
		if edit.CanStand(d.Current(), p, edit.OnStands) && p.List == Links {
			require.NoError(t, d.SetMeasured(p, false))
			at, off, err := d.StoodAt(edit.OnStands, edit.StoodText{Typed: [3]string{"60", "400", "-50"}})
			require.NoError(t, err)
			assert.Greater(t, off.X, 1.4)
			require.NoError(t, d.TakeStood(p, edit.OnStands, edit.StoodText{Typed: [3]string{"60", "400", "-50"}}))
			now, _ := edit.At(d.Current(), p)
			assert.InDelta(t, at.Z, now.Z, 1e-6)
			taken = append(taken, p)
			break
		}
	}
	require.Len(t, taken, 1)
	require.NoError(t, d.KeepTrial("Trial 1"))
	before, _ := edit.At(d.Current(), taken[0])
	said, err = d.SetStood(edit.OnStands, "pinion", "12")
	require.NoError(t, err)
	assert.Contains(t, said, "All moved with it")
	after, _ := edit.At(d.Current(), taken[0])
	assert.NotEqual(t, before, after)
	label, ok := d.Undo()
	assert.True(t, ok)
	assert.Equal(t, "Axle on stands: corrected", label)
	now, _ := edit.At(d.Current(), taken[0])
	assert.Equal(t, before, now)

	// what is taken out leaves the pivots and says what is missing
	said, err = d.SetStood(edit.OnStands, "pinion", "")
	require.NoError(t, err)
	assert.Contains(t, said, "stay where they are")
	now, _ = edit.At(d.Current(), taken[0])
	assert.Equal(t, before, now)
	_, err = d.SetStood(edit.OnStands, "pinion", "steep")
	assert.Error(t, err)
}

// A corrected datum takes along what was measured from it as the axle hung, in its own one step.
func TestDatumTakesHungPlacesAlong(t *testing.T) {
	d := sprayer(t)
	require.NoError(t, d.AddDatum(edit.DatumText{Name: "Rail edge", Z: "700"}))
	for _, v := range [][2]string{{"pinion", "5"}, {"leftEnd.x", "0"}, {"leftEnd.y", "600"}, {"leftEnd.z", "300"}, {"rightEnd.x", "0"}, {"rightEnd.y", "-600"}, {"rightEnd.z", "300"}} {
		_, err := d.SetStood(edit.Hanging, v[0], v[1])
		require.NoError(t, err)
	}
	p := Pivot{List: Links, Index: 0, End: AxleEnd}
	for _, q := range edit.Pivots(d.Current()) {
		if q.Same(p) {
			p = q
		}
	}
	require.NoError(t, d.SetMeasured(p, false))
	require.NoError(t, d.TakeStood(p, edit.Hanging, edit.StoodText{Typed: [3]string{"50", "450", "-420"}, From: [3]string{"", "", "Rail edge"}}))
	before, _ := edit.At(d.Current(), p)
	i := 0
	for k, x := range d.DatumTexts() {
		if x.Name == "Rail edge" {
			i = k
		}
	}
	_, err := d.CorrectDatum(i, edit.DatumText{Name: "Rail edge", Z: "704"})
	require.NoError(t, err)
	after, _ := edit.At(d.Current(), p)
	assert.InDelta(t, 4, after.Z-before.Z, 0.1)
	d.Undo()
	now, _ := edit.At(d.Current(), p)
	assert.Equal(t, before, now)
}
