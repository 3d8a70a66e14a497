package card

import (
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func item(t *testing.T, m *fyne.Menu, label string) *fyne.MenuItem {
	t.Helper()
	for _, i := range m.Items {
		if i.Label == label {
			return i
		}
	}
	require.Fail(t, "no item", label)
	return nil
}

func TestACoordinateIsCountedFromADatum(t *testing.T) {
	d, c, _ := open(t)
	require.NoError(t, d.AddDatum(edit.DatumText{Name: "Rail top", Z: "600"}))
	p := rod(d.Current(), document.FrameEnd)
	before, _ := edit.At(d.Current(), p)
	d.Hold(p)
	assert.Len(t, c.datums(edit.X).Items, 4, "it fixes no X: only as the job counts, a line, how it was measured, a line")
	m := c.datums(edit.Z)
	assert.True(t, item(t, m, "above ground").Checked)
	item(t, m, "from Rail top").Action()
	at, _ := edit.At(d.Current(), p)
	assert.Equal(t, before, at, "the pivot stays")
	assert.Contains(t, wordsOn(c), "mm from Rail top")
	assert.Equal(t, "−55", c.entries[2].Text) // 545 less 600
	assert.True(t, item(t, c.datums(edit.Z), "from Rail top").Checked)
	c.entries[2].SetText("-30")
	c.entries[2].OnSubmitted("")
	at, _ = edit.At(d.Current(), p)
	assert.InDelta(t, 570, at.Z, 1e-9)
	assert.Equal(t, "−30", c.entries[2].Text)
	said, err := d.CorrectDatum(0, edit.DatumText{Name: "Rail top", Z: "595"})
	require.NoError(t, err)
	assert.Equal(t, "Rail top: 1 number moved with it.", said)
	at, _ = edit.At(d.Current(), p)
	assert.InDelta(t, 565, at.Z, 1e-9)
	assert.Equal(t, "−30", c.entries[2].Text, "what was measured is what was measured")
	item(t, c.datums(edit.Z), "above ground").Action()
	assert.Equal(t, "565", c.entries[2].Text)

	asked := ""
	c.OnTapes, c.OnDatums = func() { asked += "tapes " }, func() { asked += "datums" }
	item(t, c.datums(edit.X), "By tapes...").Action()
	item(t, c.datums(edit.X), "Datums...").Action()
	assert.Equal(t, "tapes datums", asked)
}

// How a coordinate was measured and how far off it may be are given from the same menu; the pivot stays, and Undo takes each back.
func TestHowACoordinateWasMeasured(t *testing.T) {
	d, c, _ := open(t)
	p := rod(d.Current(), document.FrameEnd)
	before, _ := edit.At(d.Current(), p)
	d.Hold(p)
	way := func() *fyne.Menu { return item(t, c.datums(edit.Z), "How it was measured").ChildMenu }
	item(t, way(), "plumb bob").Action()
	g, ok := edit.GivenOf(d.Current(), p, edit.Z)
	assert.True(t, ok)
	assert.Equal(t, "plumb bob", g.Source)
	assert.True(t, item(t, way(), "plumb bob").Checked)
	var labels []string
	c.AskMany = func(_ string, l, _ []string, f func([]string) error) {
		labels = l
		assert.Error(t, f([]string{"about"}))
		require.NoError(t, f([]string{"2.5"}))
	}
	item(t, c.datums(edit.Z), "How far off it may be...").Action()
	assert.Equal(t, []string{"± mm, empty for not known"}, labels)
	g, _ = edit.GivenOf(d.Current(), p, edit.Z)
	require.NotNil(t, g.PlusMinus)
	assert.InDelta(t, 2.5, *g.PlusMinus, 1e-9)
	assert.Contains(t, wordsOn(c), "±2.5 plumb bob")
	item(t, way(), "guess").Action()
	assert.True(t, edit.IsGuess(d.Current(), p, edit.Z))
	at, _ := edit.At(d.Current(), p)
	assert.Equal(t, before, at)
	d.Undo()
	assert.False(t, edit.IsGuess(d.Current(), p, edit.Z))
}
