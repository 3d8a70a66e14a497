package view

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/plotting/drawing"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestUnlinkedPairsAreMarkedAndTheHeldOneSaysSo(t *testing.T) {
	j := demo(t, "orchard-sprayer").Job.Clone()
	strokes := func(held *edit.Pivot) (n int, words []string) {
		s := study.Compile(j)
		tr := Fit(s, sizes).Transform(Plan, sizes[Plan])
		pic := New(Input{Plane: Plan, Now: s, At: at(t, s, 0, 0), Held: held}).Picture(tr, paper.Measure, nil)
		for _, it := range pic.Items {
			if (it.Layer == drawing.Pivots || it.Layer == drawing.Held) && it.Kind == drawing.Line && it.Width == light && len(it.Points) == 2 {
				n++
			}
		}
		return n, wordsIn(pic)
	}
	before, words := strokes(nil)
	assert.NotContains(t, words, "unlinked")
	require.NoError(t, edit.Unlink(j, edit.Part{List: edit.Links, Index: 0}))
	after, words := strokes(nil)
	assert.Equal(t, before+4*3, after, "three strokes at each of the four pivots")
	assert.NotContains(t, words, "unlinked", "words at the held one only")
	_, words = strokes(&edit.Pivot{List: edit.Links, Index: 1, End: edit.FrameEnd})
	assert.Contains(t, words, "unlinked")
}
