package bench

import (
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/panel"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The drawer comes up for the pivot in hand, shows in the views what its numbers come to, takes it by Enter, and leaves nothing in the views when it is
// closed.
func TestAxleAsMeasuredInTheWindow(t *testing.T) {
	b := open(t, Options{})
	p := document.Pivot{Index: -1}
	for _, q := range edit.Pivots(b.doc.Current()) {
		if strings.HasPrefix(edit.Name(b.doc.Current(), q), "Panhard rod, axle") {
			p = q
		}
	}
	require.GreaterOrEqual(t, p.Index, 0)
	require.NoError(t, b.doc.SetMeasured(p, false))
	_, err := b.doc.SetStood(edit.OnStands, "pinion", "12")
	require.NoError(t, err)
	b.doc.Hold(p)
	b.run("standing")
	require.Equal(t, panel.StandingDrawer, b.open)
	f := b.drawers[panel.StandingDrawer]
	for _, s := range [][2]float32{{1366, 688}, {1093, 550}, {960, 480}, {1920, 1080}} {
		b.root.Resize(fyne.NewSize(s[0], s[1]))
		assert.True(t, f.Visible())
	}
	assert.Contains(t, f.Lines(), "Panhard rod, axle end")
	var last *panel.Entry
	for _, v := range [][2]string{{"Ahead", "-150"}, {"Left", "410"}, {"Up", "95"}} {
		last = f.Named(v[0]).(*panel.Entry)
		last.SetText(v[1])
	}
	assert.Len(t, b.eye.Laid(), 1)
	was, _ := edit.At(b.doc.Current(), p)
	last.OnSubmitted("")
	now, _ := edit.At(b.doc.Current(), p)
	assert.NotEqual(t, was, now)
	assert.Empty(t, b.eye.Laid())
	last.SetText("99")
	assert.Len(t, b.eye.Laid(), 1)
	last.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Equal(t, "95", last.Text, "as it was taken")
	last.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Equal(t, panel.NoDrawer, b.open)
	assert.Empty(t, b.eye.Laid())
	b.doc.Undo()
	back, _ := edit.At(b.doc.Current(), p)
	assert.Equal(t, was, back)
}
