package bench

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/app/panel"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// From the list of what to measure next to the number and back by keys alone: Enter puts the keys into the coordinate's row, what is typed takes the number's
// place, Escape gives the keys back to the list, which is one shorter.
func TestWhatToMeasureNextIsTypedByKeysAlone(t *testing.T) {
	b, settle := openQuiet(t)
	require.NoError(t, b.doc.Edit("nobody measured it", "", func(j *job.Job) error { j.Links[0].Given, j.Links[0].Measured = nil, nil; return nil }))
	b.doc.Settle()
	settle()
	c := b.win.Canvas()
	key := func(k fyne.KeyName) { c.Focused().TypedKey(&fyne.KeyEvent{Name: k}) }
	b.run("measure")
	require.Equal(t, panel.MeasureDrawer, b.open)
	list := c.Focused()
	require.NotNil(t, list)
	before := b.doc.Measured()
	key(fyne.KeyDown)
	key(fyne.KeyUp)
	key(fyne.KeyReturn)
	p, held := b.doc.Held()
	require.True(t, held)
	first := b.drawers[b.open].Lines()[0]
	require.NotSame(t, list, c.Focused())
	for _, r := range "712" {
		c.Focused().TypedRune(r)
	}
	key(fyne.KeyReturn)
	took := 0
	for a := edit.X; a <= edit.Z; a++ {
		if g, ok := edit.GivenOf(b.doc.Current(), p, a); ok && g.Typed == "712" {
			took++
			pair := p
			pair.Side = job.Single
			assert.Contains(t, first, edit.Name(b.doc.Current(), pair)+": "+a.String(), "the one that was pressed")
		}
	}
	assert.Equal(t, 1, took)
	assert.Equal(t, before.Known+1, b.doc.Measured().Known)
	key(fyne.KeyEscape)
	_, held = b.doc.Held()
	assert.False(t, held)
	assert.Same(t, list, c.Focused())
	assert.Equal(t, panel.MeasureDrawer, b.open)
}
