package study_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func pairNamed(t *testing.T, s *study.Study, a, b string) int {
	t.Helper()
	for i := range s.Gaps.Pairs {
		if x, y := s.PairNames(i); x == a && y == b || x == b && y == a {
			return i
		}
	}
	t.Fatalf("no pair %s / %s", a, b)
	return -1
}

// A gap rests on the guesses of its two parts alone, and its finding says so.
func TestAGapRestsOnTheGuessesOfItsParts(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	rod := slices.IndexFunc(j.Links, func(l job.Link) bool { return l.Name == "Panhard rod" })
	p := edit.Pivot{List: edit.Links, Index: rod, End: edit.FrameEnd}
	for a := edit.X; a <= edit.Z; a++ {
		require.NoError(t, edit.SetGiven(j, p, a, "", 1.5, "tape"))
		require.NoError(t, edit.SetGiven(j, edit.Pivot{List: edit.Links, Index: rod, End: edit.AxleEnd}, a, "", 1.5, "tape"))
	}
	shelf := slices.IndexFunc(j.Envelopes, func(e job.Envelope) bool { return e.Name == "Tank shelf" })
	require.GreaterOrEqual(t, shelf, 0)
	require.NoError(t, edit.SetPartMeasured(j, edit.Part{List: edit.Envelopes, Index: shelf}, true))
	s := study.New(context.Background(), j, study.Live)
	i := pairNamed(t, s, "Panhard rod", "Tank shelf")
	assert.Empty(t, s.RestsWords(i))
	assert.NotContains(t, s.Findings[0].Sentence, "rests on")

	require.NoError(t, edit.SetSource(j, p, edit.Z, edit.GuessSource))
	s = study.New(context.Background(), j, study.Live)
	assert.Equal(t, "rests on a guess: Panhard rod, frame end Z", s.RestsWords(i))
	require.Equal(t, i, s.Findings[0].Pair)
	assert.True(t, strings.HasSuffix(s.Findings[0].Sentence, " Rests on a guess: Panhard rod, frame end Z."), s.Findings[0].Sentence)

	require.NoError(t, edit.SetSource(j, p, edit.X, edit.GuessSource))
	j.Envelopes[shelf].Measured, j.Envelopes[shelf].Given = nil, nil
	s = study.New(context.Background(), j, study.Live)
	assert.Equal(t, "rests on guesses: Panhard rod, frame end X, Z; Tank shelf", s.RestsWords(i))
	assert.Nil(t, s.RestsOn(-1))

	j.Lines[0].Given, j.Lines[0].Measured = nil, nil
	s = study.New(context.Background(), j, study.Live)
	for i := range s.Gaps.Pairs {
		a, b := s.PairNames(i)
		if !strings.Contains(a+b, j.Lines[0].Name) {
			assert.NotContains(t, s.RestsWords(i), j.Lines[0].Name, "%s / %s", a, b)
		} else {
			assert.Contains(t, s.RestsWords(i), j.Lines[0].Name, "%s / %s", a, b)
		}
	}
}
