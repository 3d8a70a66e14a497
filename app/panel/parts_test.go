package panel

import (
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
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

// Ctrl with an arrow moves the chosen row, Ctrl+C copies it, the other button offers the same; what a removal takes along is said.
func TestListOfPartsMovedCopiedAndRemoved(t *testing.T) {
	n := open(t, "orchard-sprayer")
	d := NewDrawer(n.h, PartsDrawer)
	w := test.NewTempWindow(t, d)
	w.Resize(fyne.NewSize(948, 316))
	n.h.Window = w
	p := d.in.(*parts)
	after := func() { d.Update(document.JobChanged | document.SelectionChanged) }
	names := func() (out []string) {
		for _, l := range n.d.Current().Links {
			out = append(out, l.Name)
		}
		return out
	}
	was := names()
	p.turn(0)
	n.d.Select(edit.Part{List: edit.Links, Index: 0})
	after()
	ctrl := func(k fyne.KeyName) fyne.Shortcut {
		return &desktop.CustomShortcut{KeyName: k, Modifier: fyne.KeyModifierControl}
	}
	p.list.TypedShortcut(ctrl(fyne.KeyDown))
	after()
	p.list.TypedShortcut(ctrl(fyne.KeyDown))
	after()
	assert.Equal(t, []string{was[1], was[2], was[0]}, names())
	p.list.TypedShortcut(ctrl(fyne.KeyDown)) // the end of the list
	assert.Equal(t, []string{was[1], was[2], was[0]}, names())
	for range 2 { // a run of moves is one step, unless the machine paused in it
		if names()[0] != was[0] || names()[1] != was[1] {
			_, ok := n.d.Undo()
			require.True(t, ok)
			after()
		}
	}
	assert.Equal(t, was, names())

	n.d.Select(edit.Part{List: edit.Links, Index: 2})
	after()
	p.list.TypedShortcut(&fyne.ShortcutCopy{})
	require.NoError(t, n.told)
	after()
	assert.Len(t, names(), 4)
	var labels []string
	for _, m := range p.rowMenu().Items {
		labels = append(labels, m.Label)
	}
	assert.Equal(t, []string{"Rename", "Copy", "Up in the list", "Down in the list", "Remove"}, labels)
	assert.True(t, p.rowMenu().Items[3].Disabled, "the copy is the last of them")

	n.d.Select(edit.Part{List: edit.Links, Index: 2})
	after()
	p.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDelete})
	require.NoError(t, n.told)
	after()
	after() // when what follows from it is known too
	assert.True(t, p.form.plate.Visible())
	assert.Contains(t, p.form.refused.Text(), "With Panhard rod goes: ")
	assert.Contains(t, p.form.refused.Text(), "Undo brings all of it back.")
	sel, _ := n.d.Selected()
	assert.Equal(t, edit.Part{List: edit.Links, Index: 2}, sel, "the row that takes its place is the chosen one")
	p.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	after()
	sel, _ = n.d.Selected()
	assert.Equal(t, edit.Part{List: edit.Links, Index: 1}, sel, "the arrows choose")
	assert.False(t, p.form.plate.Visible(), "it has been read")

	loads := n.d.Current().Vehicle.Loads
	n.d.SetLoad(1)
	n.d.Select(edit.Part{List: edit.Loads, Index: 1})
	after()
	p.list.TypedShortcut(ctrl(fyne.KeyUp))
	assert.Equal(t, loads[1].Name, n.d.Current().Vehicle.Loads[0].Name)
	assert.Equal(t, 0, n.d.Load(), "the load that is shown stays the one that is shown")
}

// A row of In the way says under the name what a tank holds, whether it can move, the gap wanted and how it is known.
func TestRowsOfWhatIsInTheWay(t *testing.T) {
	five, ten := 5.0, 10.0
	lo, hi := job.Point{0, 0, 0}, job.Point{1000, 500, 200}
	e := job.Envelope{Kind: "box", Min: &lo, Max: &hi}
	j := &job.Job{Envelopes: []job.Envelope{e}}
	assert.Equal(t, "cannot move, gap 25 mm", wayWords(j, &e, "mm"))
	e.Vessel, e.Movable, e.Clearance = true, true, &ten
	e.Given = job.Given{}
	for _, k := range []string{"min.x", "min.y", "min.z", "max.x", "max.y", "max.z"} {
		e.Given[k] = job.GivenValue{PlusMinus: &five, Source: "tape"}
	}
	assert.Equal(t, "100.0 L, can move, gap 10 mm, ±5 tape", wayWords(j, &e, "mm"))
	assert.Equal(t, "100.0 L, can move, gap 0.39 in, ±0.20 tape", wayWords(j, &e, "in"))
}
