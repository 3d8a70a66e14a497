package panel

import (
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestReadingsOutOfSightArePaintedOnlyOnceTheyAreScrolledIn(t *testing.T) {
	n := open(t, "orchard-sprayer")
	p := NewReadings(n.h)
	w := test.NewTempWindow(t, p.Object)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(410, Standing*40))
	painted := func(i int) *readingRenderer {
		r := test.WidgetRenderer(p.rows[i]).(*readingRenderer)
		if len(r.Objects()) == 0 {
			return nil
		}
		return r
	}
	require.Greater(t, len(p.rows), 2*Standing)
	low := len(p.rows) - Standing // the first of those seen at the bottom
	var was []string
	for i := low; i < len(p.rows); i++ {
		assert.Nil(t, painted(i))
		was = append(was, p.rows[i].r.Value)
	}
	n.d.MoveAxle(60, 40)
	p.Update(document.PositionChanged)
	assert.Equal(t, p.rows[0].r.Value, painted(0).value.Text)
	p.scroll.ScrollToBottom()
	assert.Nil(t, painted(0))
	changed := 0
	for i := low; i < len(p.rows); i++ {
		if r := painted(i); assert.NotNil(t, r) {
			assert.Equal(t, p.rows[i].r.Value, r.value.Text)
		}
		if p.rows[i].r.Value != was[i-low] {
			changed++
		}
	}
	assert.Positive(t, changed)
}

func TestFindingsOutOfSightAreNotBehindWhenTheyAreShown(t *testing.T) {
	n := open(t, "orchard-sprayer")
	p := NewFindings(n.h)
	w := test.NewTempWindow(t, p)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(410, 84))
	require.True(t, p.short)
	before := p.Texts()
	j := n.d.Current()
	for i := range j.Links {
		if j.Links[i].Name == "Panhard rod" {
			require.NoError(t, n.d.NudgePivot(document.Pivot{List: edit.Links, Index: i, End: edit.FrameEnd}, r3.Vec{Z: -60}))
		}
	}
	n.d.Settle()
	p.Update(document.StudyChanged)
	assert.True(t, p.late, "nobody sees the list")
	w.Resize(fyne.NewSize(410, 400))
	assert.False(t, p.late)
	after := p.list.Texts()
	assert.NotEqual(t, before, after)
	fresh := NewFindingList(n.h)
	s, _ := n.d.Study()
	fresh.Update(s, true)
	assert.Equal(t, fresh.Texts(), after)
}
