package panel

import (
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A bracket is added to the held pivot, typed, drawn beside its form, handed to another pivot while it stays chosen, and shown full size.
func TestBracketsInTheirDrawer(t *testing.T) {
	n := open(t, "orchard-sprayer")
	asked := ""
	n.h.ShowPaper = func(label string) { asked = label }
	d := NewDrawer(n.h, PartsDrawer)
	w := test.NewTempWindow(t, d)
	w.Resize(fyne.NewSize(948, 316))
	n.h.Window = w
	p := d.in.(*parts)
	after := func() { d.Update(document.JobChanged | document.SelectionChanged) }
	shelf := -1
	for i := range shelves {
		if shelves[i].name == "Brackets" {
			shelf = i
		}
	}
	require.GreaterOrEqual(t, shelf, 0)
	p.turn(shelf)
	assert.Empty(t, p.rows)
	assert.False(t, p.plates.Visible())
	assert.Contains(t, p.form.empty.Text(), "No brackets yet")

	var rod edit.Pivot
	for _, v := range edit.Pivots(n.d.Current()) {
		if edit.Name(n.d.Current(), v) == "Panhard rod, axle end" {
			rod = v
		}
	}
	n.d.Hold(rod)
	p.put(edit.Brackets, edit.BracketKinds()[1])
	require.NoError(t, n.told)
	after()
	require.Len(t, n.d.Current().Brackets, 1)
	assert.Equal(t, "Panhard rod", n.d.Current().Brackets[0].Of)
	assert.Equal(t, []string{"Panhard rod, axle end"}, p.lines())
	require.True(t, p.plates.Visible())
	assert.False(t, p.copy.Visible())
	p.plates.Resize(fyne.NewSize(240, 240))
	assert.Equal(t, []string{"2 off, 8 mm"}, p.plates.Texts())

	require.NoError(t, n.d.SetField(edit.Part{List: edit.Brackets}, "kind", edit.BracketKinds()[2]))
	after()
	assert.Len(t, p.plates.Texts(), 2, "a saddle has a folded plate too")
	require.NoError(t, n.d.SetField(edit.Part{List: edit.Brackets}, "of", "Lower, frame end"))
	after()
	chosen, ok := p.chosen()
	assert.True(t, ok)
	assert.Equal(t, edit.Part{List: edit.Brackets}, chosen)
	assert.Equal(t, []string{"Lower, frame end"}, p.lines())
	assert.Error(t, n.d.SetField(edit.Part{List: edit.Brackets}, "edge", "5"), "the hole would break out")

	test.Tap(d.Named("Full size").(*look.Button))
	assert.Equal(t, "Lower, frame end", asked)

	p.takeOut()
	after()
	require.NoError(t, n.told)
	assert.Empty(t, n.d.Current().Brackets)
	assert.Empty(t, p.gone, "nothing goes with a bracket")
	assert.False(t, p.plates.Visible())
	assert.True(t, p.copy.Visible())
}

// A bracket belongs to the job, whichever trial is shown: what is typed while one is shown is there as drawn too.
func TestBracketsAreTheJobsInATrial(t *testing.T) {
	n := open(t, "orchard-sprayer")
	require.NoError(t, n.d.Edit("bracket", "", func(j *job.Job) error {
		_, err := edit.Add(j, edit.Brackets, "")
		return err
	}))
	require.NoError(t, n.d.KeepTrial("With tabs"))
	require.NoError(t, n.d.SetField(edit.Part{List: edit.Brackets}, "base", "75"))
	assert.Equal(t, 75.0, n.d.Current().Brackets[0].Base)
	require.NoError(t, n.d.SetTrial(""))
	assert.Equal(t, 75.0, n.d.Current().Brackets[0].Base)
}
