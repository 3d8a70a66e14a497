package card

import (
	"bytes"
	"math"
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/assets"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func open(t *testing.T) (*document.Document, *Card, fyne.Window) {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo("orchard-sprayer")))
	require.NoError(t, err)
	d := document.New(j, true, document.Options{StateDir: t.TempDir()})
	t.Cleanup(d.Close)
	test.NewTempApp(t)
	c := New(d)
	t.Cleanup(c.Close)
	w := test.NewTempWindow(t, c)
	w.SetPadded(false)
	w.Resize(Size)
	return d, c, w
}

func rod(j *job.Job, e document.End) document.Pivot {
	for i := range j.Links {
		if j.Links[i].Name == "Panhard rod" {
			return document.Pivot{List: document.Links, Index: i, End: e}
		}
	}
	return document.Pivot{Index: -1}
}

func wordsOn(c *Card) []string {
	return c.Texts()
}

func TestNothingHeldShowsNothing(t *testing.T) {
	d, c, _ := open(t)
	assert.Empty(t, wordsOn(c))
	_, ok := c.Where("X")
	assert.False(t, ok)
	d.Hold(rod(d.Current(), document.FrameEnd))
	assert.Contains(t, wordsOn(c), "Panhard rod, frame end")
	d.LetGo()
	assert.Empty(t, wordsOn(c))
}

func TestTypedNumberMovesThePivotAndIsShownInBothUnits(t *testing.T) {
	d, c, _ := open(t)
	p := rod(d.Current(), document.FrameEnd)
	d.Hold(p)
	assert.Equal(t, "−230", c.rows[0].value.Text)
	c.rows[0].value.SetText("-225")
	c.rows[0].value.OnSubmitted("")
	at, ok := edit.At(d.Current(), p)
	require.True(t, ok)
	assert.InDelta(t, -225, at.X, 1e-9)
	assert.Contains(t, wordsOn(c), "mm = −8 7/8 in +0.4 mm") // -225 mm is 8.858 in: 8 7/8 in less 0.4 mm
	d.Undo()
	assert.Equal(t, "−230", c.rows[0].value.Text)
}

func TestWhatWasTypedIsKeptAndShownAgain(t *testing.T) {
	d, c, _ := open(t)
	p := rod(d.Current(), document.FrameEnd)
	d.Hold(p)
	c.rows[2].value.SetText(`20 1/2"`)
	c.rows[2].value.OnSubmitted("")
	at, _ := edit.At(d.Current(), p)
	require.InDelta(t, 20.5*25.4, at.Z, 1e-9)
	d.LetGo()
	d.Hold(p)
	assert.Equal(t, `20 1/2"`, c.rows[2].value.Text)
	assert.Contains(t, wordsOn(c), "= 520.7 mm = 20 1/2 in even")
}

func TestLeavingTheFieldTakesTheNumber(t *testing.T) {
	d, c, w := open(t)
	p := rod(d.Current(), document.FrameEnd)
	d.Hold(p)
	w.Canvas().Focus(c.rows[1].value.entry)
	c.rows[1].value.SetText("-400")
	w.Canvas().Unfocus()
	at, _ := edit.At(d.Current(), p)
	assert.InDelta(t, -400, at.Y, 1e-9)
}

func TestRefusedTextGetsItsSentenceAndStays(t *testing.T) {
	d, c, _ := open(t)
	p := rod(d.Current(), document.FrameEnd)
	before, _ := edit.At(d.Current(), p)
	d.Hold(p)
	c.rows[0].value.SetText("ten")
	c.rows[0].value.OnSubmitted("")
	after, _ := edit.At(d.Current(), p)
	assert.Equal(t, before, after)
	assert.NotEmpty(t, c.rows[0].refused)
	assert.Equal(t, "ten", c.rows[0].value.Text)
	d.LetGo()
	d.Hold(p)
	assert.Equal(t, "−230", c.rows[0].value.Text)
	assert.Empty(t, c.rows[0].refused)
}

func TestEscapePutsBackThenCloses(t *testing.T) {
	d, c, _ := open(t)
	d.Hold(rod(d.Current(), document.FrameEnd))
	e := c.rows[0].value
	e.SetText("12")
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Equal(t, "−230", e.Text)
	_, held := d.Held()
	require.True(t, held)
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	_, held = d.Held()
	assert.False(t, held)
}

func TestEscapeGivesUpWhatWasRefused(t *testing.T) {
	d, c, _ := open(t)
	d.Hold(rod(d.Current(), document.FrameEnd))
	r := &c.rows[0]
	for _, f := range []figure{r.value, r.off} {
		was := f.Text
		f.SetText("ten")
		f.OnSubmitted("")
		require.NotEmpty(t, r.refused)
		f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		assert.Empty(t, r.refused)
		assert.Equal(t, was, f.Text)
		_, held := d.Held()
		assert.True(t, held)
	}
}

func TestMeasuredIsLockedUntilFreed(t *testing.T) {
	d, c, _ := open(t)
	p := rod(d.Current(), document.FrameEnd)
	d.Hold(p)
	c.setMeasured(0)
	require.True(t, edit.IsMeasured(d.Current(), p))
	c.rows[0].value.SetText("-200")
	c.rows[0].value.OnSubmitted("")
	assert.Contains(t, c.rows[0].refused, "press Free to move it")
	at, _ := edit.At(d.Current(), p)
	assert.InDelta(t, -230, at.X, 1e-9)
	c.setMeasured(1)
	assert.False(t, edit.IsMeasured(d.Current(), p))
	d.Undo()
	assert.True(t, edit.IsMeasured(d.Current(), p))
}

func TestKeepLength(t *testing.T) {
	d, c, _ := open(t)
	p := rod(d.Current(), document.FrameEnd)
	d.Hold(p)
	assert.Contains(t, wordsOn(c), "links re-set")
	before := edit.LinkLength(d.Current(), p.Index)
	c.keepMenu().Items[0].Action()
	assert.NotContains(t, wordsOn(c), "links re-set")
	assert.Equal(t, "Keep: length", c.keep.Text())
	assert.True(t, c.keepMenu().Items[0].Checked)
	c.rows[2].value.SetText("500")
	c.rows[2].value.OnSubmitted("")
	assert.InDelta(t, before, edit.LinkLength(d.Current(), p.Index), 1e-3)
	assert.Empty(t, c.rows[2].refused)
}

// What is kept stands on the button as far as there is room, ticked in its menu; a number that would leave the line is refused beside it, and a press
// on what is kept leaves it.
func TestKeepOnLineAndPinion(t *testing.T) {
	d, c, _ := open(t)
	p := rod(d.Current(), document.FrameEnd)
	d.Hold(p)
	c.Resize(fyne.NewSize(410, 208))
	item := func(label string) *fyne.MenuItem {
		for _, m := range c.keepMenu().Items {
			if m.Label == label {
				return m
			}
		}
		require.FailNow(t, label)
		return nil
	}
	assert.Equal(t, "Keep", c.keep.Text())
	item("On an upright line").Action()
	assert.Equal(t, edit.WayUp, edit.WayOf(d.Current(), p))
	assert.True(t, item("On an upright line").Checked)
	assert.Equal(t, "Keep: on line", c.keep.Text())
	c.rows[0].value.SetText("-200")
	c.rows[0].value.OnSubmitted("")
	assert.Contains(t, c.rows[0].refused, "it is kept on an upright line")
	item("Length of its link").Action()
	item("On an upright line").Action()
	assert.Equal(t, edit.WayNone, edit.WayOf(d.Current(), p))
	item("Keep nothing").Action()
	assert.Empty(t, d.Current().Keep)

	d.Settle()
	pinion := item("Pinion's change over the travel, by the height of").ChildMenu
	labels := []string{}
	for _, m := range pinion.Items {
		labels = append(labels, m.Label)
	}
	assert.Equal(t, []string{"Lower, frame end", "Centre upper, frame end"}, labels)
	pinion.Items[1].Action()
	k, ok := edit.KeptPinion(d.Current())
	require.True(t, ok)
	s, _ := d.Study()
	assert.InDelta(t, -s.Range.Droop, k.From, 1e-5)
	assert.InDelta(t, s.Range.Bump, k.To, 1e-5)
	require.NotNil(t, k.Value)
	d.Hold(document.Pivot{List: document.Links, Index: 1, End: document.FrameEnd})
	assert.Contains(t, c.keep.Text(), "pinion")
}

func TestTwinsAndBoltAreInWords(t *testing.T) {
	d, c, _ := open(t)
	d.Hold(rod(d.Current(), document.FrameEnd))
	assert.Contains(t, wordsOn(c), "no twin")
	assert.Contains(t, c.turn.Text(), "fore-and-aft")
	d.Hold(document.Pivot{List: document.Links, Index: 0, End: document.FrameEnd, Side: job.Right})
	assert.Contains(t, wordsOn(c), "and its twin")
	assert.Equal(t, "−437", c.rows[1].value.Text) // the right twin's own side
	// It is measured in the demo: freed first.
	require.NoError(t, d.Edit("free", "", func(j *job.Job) error { j.Links[0].Measured = nil; return nil }))
	c.rows[1].value.SetText("-440")
	c.rows[1].value.OnSubmitted("")
	assert.InDelta(t, 440, d.Current().Links[0].Frame[1], 1e-9)
}

func TestInchesFirstWhenShownInInches(t *testing.T) {
	d, c, _ := open(t)
	d.SetUnit("in")
	d.Hold(rod(d.Current(), document.FrameEnd))
	assert.Equal(t, "−9 1/16", c.rows[0].value.Text)
	assert.Contains(t, wordsOn(c), "in +0.2 mm = −230 mm")
}

func TestNextOfSeveral(t *testing.T) {
	d, c, _ := open(t)
	called := 0
	c.Near = func() (int, int) { return 0, 3 }
	c.OnNext = func() { called++ }
	d.Hold(rod(d.Current(), document.FrameEnd))
	assert.Equal(t, "next of 3", c.next.Text())
	c.next.Tapped(nil)
	assert.Equal(t, 1, called)
}

func TestShowMM(t *testing.T) {
	for _, tc := range []struct {
		mm   float64
		want string
	}{{-230, "−230"}, {459.4, "459.4"}, {0, "0"}, {-0.04, "0"}, {1126.97, "1127"}} {
		assert.Equal(t, tc.want, showMM(tc.mm))
	}
	assert.NotPanics(t, func() { showMM(math.Inf(1)) })
}
