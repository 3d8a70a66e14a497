package bench

import (
	"testing"

	"axleloft/app/look"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
)

// What is hidden while the colours change is drawn in the new ones when it is shown again.
func TestHiddenCardFollowsTheColours(t *testing.T) {
	b := open(t, Options{})
	b.win.Resize(fyne.NewSize(1366, 688))
	b.root.Resize(fyne.NewSize(1366, 688))
	t.Cleanup(func() { look.SetScheme(ink.Light) })
	hold(b)
	b.setScheme(ink.Bright)
	want := drawn(b.card)
	b.setScheme(ink.Dark)
	b.doc.LetGo()
	b.setScheme(ink.Bright)
	hold(b)
	got := drawn(b.card)
	assert.Equal(t, len(want), len(got))
	for k := range want {
		_, ok := got[k]
		assert.True(t, ok, k)
	}
}
