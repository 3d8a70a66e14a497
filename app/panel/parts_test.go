package panel

import (
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestRowsTellWhatIsThereTwice(t *testing.T) {
	n := open(t, "orchard-sprayer")
	p := newParts(n.h)
	for _, l := range []edit.List{edit.Stops, edit.Straps} {
		p.put(l, "")
		require.NoError(t, n.told)
	}
	twice := map[edit.List]bool{}
	for i := range shelves {
		p.turn(i)
		for k, row := range p.rows {
			pair := edit.IsPair(n.d.Current(), row)
			assert.Equal(t, pair, strings.Contains(p.names[k], ", both sides"), p.names[k])
			twice[row.List] = twice[row.List] || pair
		}
	}
	assert.True(t, twice[edit.Links] && twice[edit.Stops] && twice[edit.Straps], "%v", twice)
}

func TestListOfPartsByKeys(t *testing.T) {
	n := open(t, "orchard-sprayer")
	d := NewDrawer(n.h, WayDrawer)
	w := test.NewTempWindow(t, d)
	w.Resize(fyne.NewSize(948, 316))
	n.h.Window = w
	p := d.in.(*parts)
	d.Update(document.JobChanged | document.SelectionChanged)
	p.list.Select(1)
	assert.Equal(t, fyne.Focusable(p.list), w.Canvas().Focused(), "a pressed row has the keys")
	d.Update(document.JobChanged | document.SelectionChanged)
	count := len(n.d.Current().Envelopes)
	first := n.d.Current().Envelopes[1].Name

	p.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF2})
	e, ok := d.Named("name").(*Entry)
	require.True(t, ok)
	assert.Equal(t, fyne.Focusable(e), w.Canvas().Focused())

	p.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyInsert})
	assert.NotNil(t, w.Canvas().Overlays().Top(), "what can be added is offered")
	w.Canvas().Overlays().Remove(w.Canvas().Overlays().Top())

	p.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDelete})
	require.NoError(t, n.told)
	require.Len(t, n.d.Current().Envelopes, count-1)
	assert.NotEqual(t, first, n.d.Current().Envelopes[1].Name)
	n.d.Undo()
	assert.Equal(t, first, n.d.Current().Envelopes[1].Name)
}
