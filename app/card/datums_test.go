package card

import (
	"slices"
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/geometry/job"

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
	assert.Len(t, c.datums(edit.X).Items, 1, "it fixes no X: only as the job counts")
	m := c.datums(edit.Z)
	assert.True(t, item(t, m, "above ground").Checked)
	item(t, m, "from Rail top").Action()
	at, _ := edit.At(d.Current(), p)
	assert.Equal(t, before, at, "the pivot stays")
	assert.Contains(t, wordsOn(c), "from Rail top")
	assert.Equal(t, "−55", c.rows[2].value.Text) // 545 less 600
	assert.True(t, item(t, c.datums(edit.Z), "from Rail top").Checked)
	c.rows[2].value.SetText("-30")
	c.rows[2].value.OnSubmitted("")
	at, _ = edit.At(d.Current(), p)
	assert.InDelta(t, 570, at.Z, 1e-9)
	assert.Equal(t, "−30", c.rows[2].value.Text)
	said, err := d.CorrectDatum(0, edit.DatumText{Name: "Rail top", Z: "595"})
	require.NoError(t, err)
	assert.Equal(t, "Rail top: 1 number moved with it.", said)
	at, _ = edit.At(d.Current(), p)
	assert.InDelta(t, 565, at.Z, 1e-9)
	assert.Equal(t, "−30", c.rows[2].value.Text, "what was measured is what was measured")
	item(t, c.datums(edit.Z), "above ground").Action()
	assert.Equal(t, "565", c.rows[2].value.Text)

	asked := ""
	c.OnTapes, c.OnDatums = func() { asked += "tapes " }, func() { asked += "datums" }
	item(t, c.sources(edit.X), "By tapes...").Action()
	item(t, c.datums(edit.X), "Datums...").Action()
	assert.Equal(t, "tapes datums", asked)
}

// How a coordinate was come by and how far off it may be are given in its row; the pivot stays, and Undo takes each back.
func TestHowACoordinateWasMeasured(t *testing.T) {
	d, c, w := open(t)
	p := rod(d.Current(), document.FrameEnd)
	before, _ := edit.At(d.Current(), p)
	d.Hold(p)
	assert.Equal(t, "tape", c.rows[2].source.Text())
	assert.Equal(t, "±1.5", c.rows[2].off.Text)
	item(t, c.sources(edit.Z), "plumb bob").Action()
	g, ok := edit.GivenOf(d.Current(), p, edit.Z)
	assert.True(t, ok)
	assert.Equal(t, "plumb bob", g.Source)
	assert.True(t, item(t, c.sources(edit.Z), "plumb bob").Checked)
	assert.Equal(t, "plumb bob", c.rows[2].source.Text())
	assert.Equal(t, "±3", c.rows[2].off.Text, "what is usual for it")

	off := c.rows[2].off
	w.Canvas().Focus(off.entry)
	assert.Equal(t, "±3", off.SelectedText(), "what is typed takes its place")
	for _, r := range "2.5" {
		off.TypedRune(r)
	}
	off.OnSubmitted("")
	g, _ = edit.GivenOf(d.Current(), p, edit.Z)
	require.NotNil(t, g.PlusMinus)
	assert.InDelta(t, 2.5, *g.PlusMinus, 1e-9)
	assert.Equal(t, "±2.5", off.Text)
	off.SetText(" ")
	off.OnSubmitted("")
	g, _ = edit.GivenOf(d.Current(), p, edit.Z)
	assert.Nil(t, g.PlusMinus)
	assert.Empty(t, off.Text)
	assert.Equal(t, "±?", off.PlaceHolder, "not known")
	d.Undo()
	assert.Equal(t, "±2.5", off.Text)

	item(t, c.sources(edit.Z), "guess").Action()
	assert.True(t, edit.IsGuess(d.Current(), p, edit.Z))
	at, _ := edit.At(d.Current(), p)
	assert.Equal(t, before, at)
	d.Undo()
	assert.False(t, edit.IsGuess(d.Current(), p, edit.Z))

	c.AskMany = func(_ string, labels, now []string, f func([]string) error) {
		assert.Equal(t, []string{"plumb bob"}, now)
		require.NoError(t, f([]string{"laser on the pit floor"}))
	}
	item(t, c.sources(edit.Z), "own words...").Action()
	assert.True(t, item(t, c.sources(edit.Z), "own words...").Checked)
	assert.Contains(t, c.rows[2].source.Text(), "laser")
	assert.Equal(t, "±2.5", c.rows[2].off.Text, "what was typed stays")
}

// A guess nobody has put a number on shows what then counts, as a hint; typed it is the guess's own.
func TestHowFarOffAGuessIs(t *testing.T) {
	d, c, _ := open(t)
	require.NoError(t, d.Edit("free", "", func(j *job.Job) error { j.Links[0].Measured, j.Links[0].Given = nil, nil; return nil }))
	p := document.Pivot{List: document.Links, Index: 0, End: document.AxleEnd, Side: job.Left}
	d.Hold(p)
	r := &c.rows[1]
	assert.Equal(t, "by hand", r.source.Text(), "it was given when the job was opened")
	assert.Equal(t, [2]string{"", "±20"}, [2]string{r.off.Text, r.off.PlaceHolder})
	d.SetUnit("in")
	assert.Equal(t, "±0.79", r.off.PlaceHolder)
	r.off.SetText("1/8")
	r.off.OnSubmitted("")
	assert.Equal(t, "±1/8", r.off.Text)
	assert.True(t, edit.IsGuess(d.Current(), p, edit.Y))
	assert.InDelta(t, 25.4/8, edit.PlusMinus(d.Current(), p, edit.Y), 1e-9)
}

// What is no +- is refused in a sentence that stands whole, and stays in its field to be mended; the number's field gives way to the sentence.
func TestARefusedPlusMinusStays(t *testing.T) {
	d, c, _ := open(t)
	d.Hold(rod(d.Current(), document.FrameEnd))
	r := &c.rows[2]
	for _, text := range []string{"-2", "two fingers", "1 2"} {
		r.off.SetText(text)
		r.off.OnSubmitted("")
		assert.Equal(t, text, r.off.Text)
		require.NotEmpty(t, r.refused)
		assert.NotContains(t, r.refused, "Panhard", "whose it is stands over it")
		said := strings.Join(wordsOn(c), " ")
		assert.Contains(t, said, r.refused, "whole")
	}
	r.off.SetText("2")
	r.off.OnSubmitted("")
	assert.Empty(t, r.refused)
	assert.Equal(t, "±2", r.off.Text)
}

// A refused number's sentence stands whole too, however long: over as many rows as it takes.
func TestARefusalStandsWhole(t *testing.T) {
	d, c, _ := open(t)
	d.Hold(rod(d.Current(), document.FrameEnd))
	for i := range c.rows {
		r := &c.rows[i]
		r.value.SetText("12 furlongs and a half")
		r.value.OnSubmitted("")
		require.Greater(t, len(r.refused), 60)
		assert.Contains(t, strings.Join(wordsOn(c), " "), r.refused)
		assert.True(t, shows(c, r.value.box), "to be mended")
		r.value.SetText("-200")
		r.value.OnSubmitted("")
		assert.Empty(t, r.refused)
	}
}

func shows(c *Card, o fyne.CanvasObject) bool {
	return slices.Contains(c.pool.Objects(), o)
}
