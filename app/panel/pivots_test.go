package panel

import (
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryPivotHasOneLine(t *testing.T) {
	test.NewTempApp(t)
	for _, name := range []string{"orchard-sprayer", "rescue-tender", "survey-wagon"} {
		h := open(t, name).h
		k := newPivots(h)
		k.update(^document.Change(0))
		j := h.Doc.Current()
		all := edit.Pivots(j)
		require.Len(t, k.rows, len(all))
		seen := map[string]bool{}
		for i, r := range k.rows {
			assert.False(t, seen[r.name], "%s: twice %s", name, r.name)
			seen[r.name] = true
			assert.Equal(t, r.pivot.Side == job.Left, strings.Contains(r.name, ", both sides"), r.name)
			at, _ := edit.At(j, all[i])
			assert.Equal(t, length(at.X, "mm"), r.at[0])
			assert.Equal(t, length(at.Z, "mm"), r.at[2])
			assert.Equal(t, edit.IsMeasured(j, r.pivot), r.mark == "measured", r.name)
		}
	}
}

// Unlinked twins are two lines each, in the names the job gives them.
func TestUnlinkedTwinsAreTwoLines(t *testing.T) {
	test.NewTempApp(t)
	h := open(t, "orchard-sprayer").h
	k := newPivots(h)
	k.update(^document.Change(0))
	pair := -1
	for i, l := range h.Doc.Current().Links {
		if l.Pair {
			pair = i
			break
		}
	}
	require.GreaterOrEqual(t, pair, 0)
	had := len(k.rows)
	require.NoError(t, h.Doc.Edit("unlink", "", func(j *job.Job) error { return edit.Unlink(j, edit.Part{List: edit.Links, Index: pair}) }))
	k.update(document.JobChanged)
	assert.Len(t, k.rows, had+2)
	for _, r := range k.rows {
		if r.pivot.List == edit.Links && (r.pivot.Index == pair || r.pivot.Index == pair+1) {
			assert.NotContains(t, r.name, "both sides")
		}
	}
}

func TestListOfPivotsByTypingAndKeys(t *testing.T) {
	test.NewTempApp(t)
	p := open(t, "orchard-sprayer")
	h := p.h
	var shown []document.Pivot
	h.Show = func(p document.Pivot) { shown = append(shown, p) }
	k := newPivots(h)
	w := test.NewTempWindow(t, k.box)
	w.Resize(fyne.NewSize(940, 320))
	k.update(^document.Change(0))
	all := len(k.rows)
	k.only.SetText("panhard AXLE")
	require.Len(t, k.rows, 1)
	assert.Equal(t, "Panhard rod, axle end", k.rows[0].name)
	assert.Contains(t, k.said.Text(), "1 of ")
	k.only.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	held, ok := h.Doc.Held()
	require.True(t, ok)
	assert.Equal(t, "Panhard rod, axle end", edit.Name(h.Doc.Current(), held))
	assert.Equal(t, []document.Pivot{held}, shown)
	k.update(document.SelectionChanged)
	assert.True(t, k.rows[0].held)
	k.only.SetText("no such thing")
	assert.Empty(t, k.rows)
	assert.Contains(t, k.said.Text(), "None of")
	k.only.SetText("")
	require.Len(t, k.rows, all)
	k.list.FocusGained()
	k.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	k.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	now, _ := h.Doc.Held()
	assert.Equal(t, k.rows[1].pivot, now)
	h.Doc.SetUnit("in")
	k.update(document.ShownChanged)
	at, _ := edit.At(h.Doc.Current(), k.rows[0].pivot)
	assert.Equal(t, length(at.X, "in"), k.rows[0].at[0])
}
