package sight

import (
	"math"
	"strings"
	"testing"

	"axleloft/app/edit"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// read is all that is written in a view.
func read(v *View) string {
	v.draw()
	var out []string
	v.pool.Texts(func(s string, _ fyne.Position, _ fyne.Size) { out = append(out, s) })
	return strings.Join(out, "\n")
}

// toLevel drags the rod's frame end ahead and down till it is nearly as high as its axle end, and leaves the button down.
func (b *bench) toLevel(v *View) (held, before r3.Vec) {
	b.Helper()
	p, before := b.pivot(rodFrame)
	from := b.where(v, rodFrame)
	press(v, from, desktop.MouseButtonPrimary)
	dragOn(v, from, from.AddXY(20, float32((before.Z-502)*b.eye.Scale())))
	v.hand.lead.Now()
	at, _ := edit.At(b.doc.Current(), p)
	return at, before
}

func TestADraggedPivotLandsAndSaysOnWhat(t *testing.T) {
	b := open(t, "orchard-sprayer")
	b.eye.Land(Landing{On: edit.LandLevel, Off: math.NaN()}, nil, nil)
	at, before := b.toLevel(b.side)
	assert.Equal(t, 500.0, at.Z, "level with its own axle end")
	assert.NotEqual(t, before.X, at.X)
	assert.Equal(t, before.Y, at.Y, "the third axis stays")
	words := read(b.side)
	assert.Contains(t, words, "level with its own axle end")
	assert.Contains(t, words, "Z 500 mm")
	assert.Contains(t, words, "length ")
	assert.NotContains(t, read(b.rear), "level with", "at the pointer only")
	release(b.side, b.side.hand.at, desktop.MouseButtonPrimary)
	b.side.DragEnd()
	assert.NotContains(t, read(b.side), "level with", "put down: nothing stands in the way")
	label, _ := b.doc.CanUndo()
	assert.Equal(t, "move "+rodFrame, label)
}

func TestCtrlLeavesLandingOutAndSoDoesTheChoice(t *testing.T) {
	for _, tc := range []struct {
		what string
		on   edit.Lands
		mod  fyne.KeyModifier
	}{{"Ctrl", edit.LandAll, fyne.KeyModifierControl}, {"nothing chosen", 0, 0}} {
		b := open(t, "orchard-sprayer")
		b.eye.Land(Landing{On: tc.on, Off: math.NaN()}, nil, nil)
		b.side.modifiers = func() fyne.KeyModifier { return tc.mod }
		at, _ := b.toLevel(b.side)
		assert.InDelta(t, 0, math.Mod(at.Z, b.eye.Step()), 1e-9, tc.what)
		assert.NotContains(t, read(b.side), "level with", tc.what)
	}
}

func TestAKeptLengthIsNotSaidToBeLevel(t *testing.T) {
	b := open(t, "orchard-sprayer")
	b.eye.Land(Landing{On: edit.LandLevel, Off: math.NaN()}, nil, nil)
	p, _ := b.pivot(rodFrame)
	require.NoError(t, b.doc.SetKeepLength(p.Index, true))
	at, _ := b.toLevel(b.side)
	if math.Abs(at.Z-500) > 0.01 {
		assert.NotContains(t, read(b.side), "level with")
	}
	assert.InDelta(t, edit.LinkLength(b.side.hand.was, p.Index), edit.LinkLength(b.doc.Current(), p.Index), 1e-5)
}

func TestARefusalStandsAtThePointer(t *testing.T) {
	b := open(t, "orchard-sprayer")
	const lower = "Lower left, frame end"
	from := b.where(b.plan, lower)
	press(b.plan, from, desktop.MouseButtonPrimary)
	dragOn(b.plan, from, from.AddXY(0, 100))
	b.plan.hand.lead.Now()
	assert.Contains(t, strings.ReplaceAll(read(b.plan), "\n", " "), "cannot cross the middle of the vehicle")
	assert.Equal(t, 1, strings.Count(read(b.plan), "cannot cross"), "once")
}

func TestArrowsSayWhatTheyAreOnAndDoNotLand(t *testing.T) {
	b := open(t, "orchard-sprayer")
	b.eye.Land(Landing{On: edit.LandLevel, Off: math.NaN()}, nil, nil)
	p, at := b.pivot(rodFrame)
	b.doc.Hold(p)
	require.NoError(t, b.doc.NudgePivot(p, r3.Vec{Z: 501 - at.Z}))
	b.side.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	at, _ = edit.At(b.doc.Current(), p)
	assert.Equal(t, 500.0, at.Z)
	assert.Equal(t, "1 mm a press; level with its own axle end", b.side.note)
	b.side.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	at, _ = edit.At(b.doc.Current(), p)
	assert.Equal(t, 499.0, at.Z)
	assert.Equal(t, "1 mm a press", b.side.note)
}

func TestTheChoiceOfLandingsIsAMenuAndIsKept(t *testing.T) {
	b := open(t, "orchard-sprayer")
	var kept []Landing
	asked := 0
	b.eye.Land(Landing{On: edit.LandAll, Off: math.NaN()}, func(l Landing) { kept = append(kept, l) }, func(now float64, f func(float64)) {
		asked++
		f(31.5)
	})
	_, ok := b.side.Where("Lands")
	assert.False(t, ok, "no pivot is held")
	p, _ := b.pivot(rodFrame)
	b.doc.Hold(p)
	_, ok = b.side.Where("Lands")
	assert.True(t, ok)
	assert.Equal(t, "Lands on: all", b.eye.landText())
	m := b.eye.landMenu()
	for _, i := range m.Items[:len(landKinds())] {
		assert.True(t, i.Checked, i.Label)
	}
	m.Items[0].Action() // no longer level
	assert.Equal(t, edit.LandAll&^edit.LandLevel, b.eye.Landing().On)
	assert.Equal(t, "Lands on: 4 kinds", b.eye.landText())
	b.eye.landMenu().Items[len(m.Items)-1].Action()
	assert.Equal(t, 1, asked)
	require.Len(t, kept, 2)
	assert.Equal(t, Landing{On: edit.LandAll &^ edit.LandLevel, Off: 31.5}, kept[1])
	last := b.eye.landMenu().Items
	assert.Equal(t, "Off a face: 32 mm...", last[len(last)-1].Label)
	_, ok = b.rear.Where("Lands")
	assert.False(t, ok, "in one view only")
	press(b.rear, b.where(b.rear, rodFrame), desktop.MouseButtonPrimary)
	_, ok = b.rear.Where("Lands")
	assert.True(t, ok, "where the hand took it last")
	_, ok = b.side.Where("Lands")
	assert.False(t, ok)
}
