package bench

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/app/panel"
	"axleloft/app/view"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// pressedAt presses a view at units from its middle.
func pressedAt(b *Bench, p view.Plane, x, y float32) {
	v := b.views[p]
	at := fyne.NewPos(v.Size().Width/2+x, v.Size().Height/2+y)
	e := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary}
	v.MouseDown(e)
	v.MouseUp(e)
}

// Drawn from the drawer, a part comes back to it chosen, as one step; its third axis as the eye has it or as typed.
func TestAPartIsDrawnInAView(t *testing.T) {
	b := open(t, Options{})
	b.show(panel.WayDrawer)
	before := b.doc.Current()
	b.draw(view.DraftBox)
	assert.Equal(t, panel.NoDrawer, b.open, "the drawer makes room")
	b.eye.Frame(r3.Vec{X: 2500, Y: -400, Z: 400}, r3.Vec{X: 3500, Y: 400, Z: 1200})
	pressedAt(b, view.Side, -40, -20)
	pressedAt(b, view.Side, 40, 20)
	pressedAt(b, view.Side, 0, 0) // asks
	require.Len(t, b.boxes, 1)
	fields := b.boxes[0].fields
	require.Len(t, fields, 2)
	fields[0].SetText("  ")
	fields[0].OnSubmitted("")
	require.Len(t, b.boxes, 1, "an empty field is refused")
	fields[0].SetText("-150")
	fields[0].OnSubmitted("")
	require.Empty(t, b.boxes)
	part, ok := b.doc.Selected()
	require.True(t, ok)
	e := b.doc.Current().Envelopes[part.Index]
	assert.Equal(t, "box", e.Kind)
	assert.Equal(t, -150.0, e.Min[1])
	assert.Equal(t, "-150", e.Given["min.y"].Typed)
	assert.NotContains(t, e.Given, "max.y", "nobody typed it")
	assert.Equal(t, panel.WayDrawer, b.open)
	assert.Nil(t, b.eye.Draft())
	label, _ := b.doc.CanUndo()
	assert.Equal(t, "draw box", label)
	b.doc.Undo()
	assert.Equal(t, before, b.doc.Current())
}

func TestEscapeLeavesADrawingFromWhereverTheKeysAre(t *testing.T) {
	b := open(t, Options{})
	before := b.doc.Current()
	b.run("draw")
	require.NotNil(t, b.eye.Draft())
	pressedAt(b, view.Plan, 20, 20)
	step, _ := b.doc.CanUndo()
	b.run("undo")
	assert.False(t, b.eye.Draft().Begun(), "a point goes back, no step")
	now, _ := b.doc.CanUndo()
	assert.Equal(t, step, now)
	b.win.Canvas().Unfocus()
	b.escape()
	assert.Nil(t, b.eye.Draft())
	assert.Same(t, before, b.doc.Current())
}

func TestAPipeAsksItsDiameter(t *testing.T) {
	b := open(t, Options{})
	n := edit.Len(b.doc.Current(), edit.Envelopes)
	b.draw(view.DraftPipe)
	pressedAt(b, view.Plan, -60, 20)
	pressedAt(b, view.Plan, 60, 40)
	v := b.views[view.Plan]
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	require.Len(t, b.boxes, 1)
	b.boxes[0].fields[1].SetText("none")
	b.boxes[0].fields[1].OnSubmitted("")
	require.Len(t, b.boxes, 1, "refused, and the question stays")
	b.boxes[0].fields[1].SetText("48")
	b.boxes[0].fields[1].OnSubmitted("")
	require.Empty(t, b.boxes)
	require.Equal(t, n+1, edit.Len(b.doc.Current(), edit.Envelopes))
	assert.Equal(t, 48.0, *b.doc.Current().Envelopes[n].Outside)
}
