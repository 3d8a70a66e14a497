package bench

import (
	"testing"

	"axleloft/app/panel"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The things to try stand under the tight line on a demo, cover nothing, go for a drawer or a low window, and stay closed once closed.
func TestThingsToTryStandAndStayClosed(t *testing.T) {
	b := open(t, Options{})
	b.app.Preferences().SetBool(keyTries, false)
	b.root.Resize(fyne.NewSize(1366, 688))
	b.arrange()
	require.True(t, b.tries.Visible())
	end := b.tries.Position().Y + b.tries.Size().Height
	assert.Equal(t, b.tight.Position().Y+b.tight.Size().Height, b.tries.Position().Y)
	for _, o := range []fyne.CanvasObject{b.views[0], b.views[1], b.readings.Object} {
		assert.Equal(t, end, o.Position().Y)
	}
	b.show(panel.ChartsDrawer)
	assert.False(t, b.tries.Visible(), "a drawer needs the room")
	b.show(panel.NoDrawer)
	assert.True(t, b.tries.Visible())
	b.root.Resize(fyne.NewSize(1093, 550))
	assert.False(t, b.tries.Visible(), "a low window has no room")
	b.root.Resize(fyne.NewSize(1366, 688))

	test.Tap(b.tries.Close)
	assert.False(t, b.tries.Visible())
	require.NoError(t, b.openDemo("rescue-tender"))
	b.root.Resize(fyne.NewSize(1366, 688))
	assert.False(t, b.tries.Visible(), "closed once")
}

// Ctrl+H explains what has the keys; a press on a finding gives it them.
func TestExplainsWhatHasTheKeys(t *testing.T) {
	b := open(t, Options{})
	b.win.Canvas().Focus(b.readings.Row("Anti-squat").(fyne.Focusable))
	b.run("explain")
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "Anti-squat", b.boxes[0].title)
	b.escape()

	b.win.Canvas().Focus(b.pad)
	b.run("explain")
	require.Len(t, b.boxes, 1)
	assert.Contains(t, b.boxes[0].words, "both wheels up")
	b.escape()

	b.win.Canvas().Unfocus()
	b.run("explain")
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "What is this?", b.boxes[0].title)
	b.escape()

	s, _ := b.doc.Study()
	for i := range s.Findings {
		def := panel.DefineFinding(&s.Findings[i], b.doc)
		b.showDefinition(def)
		require.Len(t, b.boxes, 1)
		x := b.boxes[0].pop.Content
		assert.LessOrEqual(t, x.MinSize().Height, b.win.Canvas().Size().Height, def.Title)
		b.escape()
	}
}
