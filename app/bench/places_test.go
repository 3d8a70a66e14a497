package bench

import (
	"testing"

	"axleloft/app/panel"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where the held pivot could sit stands under its card in every window; where there is little room the findings give way, never the tight line.
func TestWhereThePivotCouldSitHasRoom(t *testing.T) {
	b, settle := openQuiet(t)
	assert.False(t, b.enabled("places"), "nothing is held")
	b.root.Resize(fyne.NewSize(1366, 688))
	assert.False(t, b.sit.Visible())
	hold(b)
	settle()
	b.refresh()
	require.True(t, b.sit.Visible())
	test.Tap(b.sit)
	require.True(t, b.places.IsOn())
	for _, s := range [][2]float32{{1366, 688}, {1093, 550}, {960, 488}, {1920, 1080}} {
		b.root.Resize(fyne.NewSize(s[0], s[1]))
		o := b.places.Object
		require.True(t, o.Visible(), s)
		assert.InDelta(t, b.card.Position().Y+b.card.Size().Height, o.Position().Y, 9, "%v", s)
		foot := b.foot.Position().Y
		end := o.Position().Y + o.Size().Height
		assert.LessOrEqual(t, end, foot+0.1, "%v", s)
		if b.findings.Visible() {
			assert.GreaterOrEqual(t, b.findings.Size().Height, float32(leastFindings-0.1), "%v", s)
			assert.InDelta(t, foot, b.findings.Position().Y+b.findings.Size().Height, 0.1, "%v", s)
		} else {
			assert.InDelta(t, foot, end, 0.1, "%v", s)
		}
		at, size := b.sit.Position(), b.sit.Size()
		side := b.views[0]
		assert.LessOrEqual(t, at.X+size.Width, side.Position().X+side.Size().Width)
		assert.LessOrEqual(t, at.Y+size.Height, side.Position().Y+side.Size().Height)
	}
	b.root.Resize(fyne.NewSize(1366, 688))
	assert.True(t, b.findings.Visible())
	b.run("tapes")
	assert.False(t, b.places.Object.Visible(), "the tapes take the column")
	b.tapes.Close()
	assert.True(t, b.places.Object.Visible())
	b.show(panel.PivotsDrawer)
	assert.True(t, b.places.IsOn())
	b.escape()
	b.run("places")
	assert.False(t, b.places.IsOn())
	assert.False(t, b.places.Object.Visible())
	assert.True(t, b.readings.Object.Visible())
	test.Tap(b.sit)
	b.doc.LetGo()
	b.refresh()
	assert.False(t, b.places.IsOn())
	assert.False(t, b.sit.Visible())
	settle()
}
