package panel

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTrialsSideBySideFollowTheJob(t *testing.T) {
	w := openWorked(t, "rescue-tender")
	f := w.drawer(t, TrialsDrawer)
	w.wait(t, f)
	line(t, f, "Tightest gap | 1.1 mm in; Driveshaft / side tank | 1 mm; Driveshaft / side tank; 2.1 mm more, better")
	b := f.in.(*trials)
	b.grid.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	assert.Equal(t, "Uppers raised 24", b.chose)
	line(t, f, "Upper, frame end: 24 mm higher.")
	b.grid.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	assert.True(t, w.d.HasPencil("Uppers raised 24"))
	b.grid.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDelete})
	assert.Empty(t, w.d.Trials())
	_, ok := w.d.Undo()
	require.True(t, ok)
	assert.Equal(t, []string{"Uppers raised 24"}, w.d.Trials(), "Undo brings it back")
}
