package bench

import (
	"testing"

	"axleloft/app/panel"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTheFocusDoesNotStayWhereItIsHidden(t *testing.T) {
	b := open(t, Options{})
	c := b.win.Canvas()
	b.show(panel.PartsDrawer)
	field, ok := b.drawers[panel.PartsDrawer].Named("Name").(fyne.Focusable)
	require.True(t, ok)
	c.Focus(field)
	b.show(panel.PartsDrawer)
	assert.Equal(t, field, c.Focused(), "what is seen keeps it")
	b.show(panel.GapsDrawer)
	assert.Nil(t, c.Focused())
	b.show(panel.NoDrawer)
	c.Focus(b.pad)
	b.show(panel.ChartsDrawer)
	assert.Nil(t, c.Focused(), "the pad lies under the drawer")
	c.(fyne.Shortcutable).TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.Key3, Modifier: fyne.KeyModifierControl})
	assert.Equal(t, panel.GapsDrawer, b.open)
	c.Focus(b.views[0])
	b.show(panel.NoDrawer)
	assert.Equal(t, fyne.Focusable(b.views[0]), c.Focused())
}
