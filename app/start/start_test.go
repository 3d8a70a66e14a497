package start

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestUsualNumbersMakeAJobOfGuesses(t *testing.T) {
	for l := range Layouts() {
		s := Usual()
		s.Layout = Layout(l)
		j, err := Make(s)
		require.NoError(t, err)
		c := edit.Measured(j)
		assert.Zero(t, c.Known, "every value is a guess")
		assert.Positive(t, c.Total)
		var b bytes.Buffer
		require.NoError(t, job.Write(&b, j))
		_, err = job.Read(&b)
		require.NoError(t, err)
		again, err := Make(s)
		require.NoError(t, err)
		assert.Equal(t, j, again, "the same numbers give the same job")
	}
}

func TestNonsenseIsRefusedInWords(t *testing.T) {
	for name, change := range map[string]func(*Six){
		"wheelbase":   func(s *Six) { s.Wheelbase = 330 },
		"track":       func(s *Six) { s.Track = math.NaN() },
		"tyre":        func(s *Six) { s.Tyre.LoadedRadius = 0 },
		"bump":        func(s *Six) { s.Bump = -100 },
		"droop":       func(s *Six) { s.Droop = math.Inf(1) },
		"radius":      func(s *Six) { s.Tyre.LoadedRadius = 750; s.Track = 1300 },
		"layout":      func(s *Six) { s.Layout = 9 },
		"wide":        func(s *Six) { s.Tyre.Width = 700; s.Track = 1300 },
		"bump of 290": func(s *Six) { s.Bump = 290 },
	} {
		s := Usual()
		change(&s)
		_, err := Make(s)
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), name)
		assert.Regexp(t, `\.$`, err.Error())
	}
}

func TestTyresAsTyped(t *testing.T) {
	// 215/65R15: free radius 15*25.4/2 + 215*0.65 = 330.25 mm
	for text, want := range map[string]Tyre{
		"420":           {LoadedRadius: 420},
		"16 1/2 in":     {LoadedRadius: 419.1},
		"215/65R15":     {LoadedRadius: 317, FreeRadius: 330, Width: 215},
		" 265/75 r16 ":  {LoadedRadius: 386, FreeRadius: 402, Width: 265},
		"LT265/75R16":   {LoadedRadius: 386, FreeRadius: 402, Width: 265},
		"215/75R17,5":   {LoadedRadius: 368, FreeRadius: 384, Width: 215},
		"33x12.50R15":   {LoadedRadius: 402, FreeRadius: 419, Width: 318},
		"33X12,5-15 LT": {LoadedRadius: 402, FreeRadius: 419, Width: 318},
	} {
		got, err := ParseTyre(text, "mm")
		require.NoError(t, err, text)
		assert.InDelta(t, want.LoadedRadius, got.LoadedRadius, 0.51, text)
		assert.InDelta(t, want.FreeRadius, got.FreeRadius, 0.51, text)
		assert.InDelta(t, want.Width, got.Width, 0.51, text)
	}
	got, err := ParseTyre("16.5", "in")
	require.NoError(t, err)
	assert.InDelta(t, 419.1, got.LoadedRadius, 1e-9)
	for _, bad := range []string{"", "round", "20", "5000", "15x10R16", "265/75", "999/99R99"} {
		_, err := ParseTyre(bad, "mm")
		assert.Error(t, err, bad)
	}
}

// The study of a job just started: nothing hits, nothing runs out, nothing is out of reach.
func TestAJobJustStartedHasNothingToRepair(t *testing.T) {
	for l := range Layouts() {
		for _, change := range []func(*Six){
			func(*Six) {},
			func(s *Six) { s.Wheelbase, s.Track, s.Tyre = 2200, 1300, Tyre{LoadedRadius: 300} },
			func(s *Six) {
				s.Wheelbase, s.Track, s.Tyre, s.Bump, s.Droop = 5000, 2100, Tyre{LoadedRadius: 560}, 180, 180
			},
		} {
			s := Usual()
			s.Layout = Layout(l)
			change(&s)
			j, err := Make(s)
			require.NoError(t, err)
			st := study.New(context.Background(), j, study.Full)
			require.Empty(t, st.Refusal)
			require.True(t, st.Bounded(), st.RangeNote)
			assert.Empty(t, st.Both.Note)
			for i := range st.Findings {
				f := &st.Findings[i]
				if s.Layout.overLocated() && strings.Contains(f.Sentence, "fight each other") {
					continue // what this layout is
				}
				assert.NotContains(t, []study.Kind{study.Hits, study.RunsOut, study.Tight}, f.Kind, f.Sentence)
			}
		}
	}
}
