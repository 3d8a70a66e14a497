package sight

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/app/view"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// draws begins a part and tells what came of it.
func (b *bench) draws(s view.DraftShape) (steps *[]view.DraftStep, left *bool) {
	b.eye.Frame(r3.Vec{X: 2500, Y: -400, Z: 400}, r3.Vec{X: 3500, Y: 400, Z: 1200})
	steps, left = &[]view.DraftStep{}, new(bool)
	b.eye.Draw(view.NewDraft(s, false), func(x view.DraftStep) { *steps = append(*steps, x) }, func() { *left = true; b.eye.EndDraft() })
	return steps, left
}

func tap(v *View, at fyne.Position) {
	move(v, at)
	v.hand.lead.Now()
	press(v, at, desktop.MouseButtonPrimary)
	release(v, at, desktop.MouseButtonPrimary)
}

func TestABoxIsDrawnByADragAndAnotherInTheNextView(t *testing.T) {
	b := open(t, "orchard-sprayer")
	steps, _ := b.draws(view.DraftBox)
	was := b.doc.Current()
	dragPath(b.side, place(b.side, r3.Vec{X: 2800, Z: 600}), place(b.side, r3.Vec{X: 3200, Z: 800}), desktop.MouseButtonPrimary)
	require.True(t, b.eye.Draft().Deep())
	dragPath(b.plan, place(b.plan, r3.Vec{X: 3000, Y: 150}), place(b.plan, r3.Vec{X: 3000, Y: -100}), desktop.MouseButtonPrimary)
	require.Equal(t, []view.DraftStep{view.DraftDone}, *steps)
	assert.Same(t, was, b.doc.Current(), "what is done with it is the window's")
	d := b.eye.Draft().Drawn()
	step := b.eye.Step()
	assert.InDelta(t, 150, d.To, step)
	assert.InDelta(t, -100, d.From, step)
	assert.InDelta(t, 2800, d.Points[0].X, step)
	assert.InDelta(t, 800, d.Points[1].Z, step)
}

func TestAnOutlineIsPressedAndSaysWhatToPressNext(t *testing.T) {
	b := open(t, "orchard-sprayer")
	b.draws(view.DraftOutline)
	corners := []r3.Vec{{X: 2800, Z: 600}, {X: 3300, Z: 600}, {X: 3300, Z: 900}}
	for _, c := range corners {
		tap(b.side, place(b.side, c))
	}
	b.side.draw()
	said := ""
	b.side.pool.Texts(func(s string, _ fyne.Position, _ fyne.Size) { said += s + " " })
	assert.Contains(t, said, "first, or Enter, closes it")
	tap(b.side, place(b.side, r3.Vec{X: 3000, Z: 500}))
	b.side.draw()
	said = ""
	b.side.pool.Texts(func(s string, _ fyne.Position, _ fyne.Size) { said += s + " " })
	assert.Contains(t, said, "cross or touch itself there")
	key(b.side, fyne.KeyBackspace)
	tap(b.side, place(b.side, corners[2]))
	tap(b.side, place(b.side, corners[0]).AddXY(5, -4))
	assert.True(t, b.eye.Draft().Deep())
	assert.Len(t, b.eye.Draft().Drawn().Points, 3)
}

func TestEscapeLeavesADrawingAndNothingElseIsTakenMeanwhile(t *testing.T) {
	b := open(t, "orchard-sprayer")
	p, at := b.pivot(rodFrame)
	_, left := b.draws(view.DraftPipe)
	was := b.doc.Current()
	b.eye.Frame(r3.Sub(at, r3.Vec{X: 400, Y: 400, Z: 400}), r3.Add(at, r3.Vec{X: 400, Y: 400, Z: 400}))
	tap(b.side, place(b.side, at))
	_, held := b.doc.Held()
	assert.False(t, held, "the press is the pipe's")
	key(b.side, fyne.KeyPageDown)
	_, held = b.doc.Held()
	assert.False(t, held)
	key(b.side, fyne.KeyEscape)
	assert.True(t, *left)
	assert.Nil(t, b.eye.Draft())
	assert.Same(t, was, b.doc.Current())
	tap(b.side, place(b.side, at))
	got, held := b.doc.Held()
	assert.True(t, held)
	assert.True(t, got.Same(p))
}

func TestABallIsDrawnByKeys(t *testing.T) {
	b := open(t, "orchard-sprayer")
	steps, _ := b.draws(view.DraftBox)
	v := b.plan
	v.FocusGained()
	test.Type(v, "r")
	assert.Equal(t, view.DraftBall, b.eye.Draft().Shape)
	assert.False(t, v.AcceptsTab())
	key(v, fyne.KeyRight)
	key(v, fyne.KeyReturn)
	v.modifiers = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	for range 12 {
		key(v, fyne.KeyUp)
	}
	key(v, fyne.KeyEnter)
	require.True(t, b.eye.Draft().Deep())
	assert.Equal(t, 120.0, b.eye.Draft().Drawn().Radius)
	test.Type(v, "t")
	key(v, fyne.KeyReturn)
	assert.Equal(t, []view.DraftStep{view.DraftType, view.DraftDone}, *steps)
}

// Of two drawings the first is left.
func TestAChoiceEndsADrawing(t *testing.T) {
	b := open(t, "orchard-sprayer")
	_, left := b.draws(view.DraftBox)
	c := &view.Choice{Lit: -1}
	c.Leave = func() { b.eye.Choose(nil) }
	b.eye.Choose(c)
	assert.True(t, *left)
	_, left = b.draws(view.DraftBox)
	assert.Nil(t, b.eye.choice)
	assert.False(t, *left)
	_, err := edit.AddDrawn(b.doc.Current().Clone(), b.eye.Draft().Drawn(), [2]string{})
	assert.Error(t, err, "nothing drawn is no part")
}
