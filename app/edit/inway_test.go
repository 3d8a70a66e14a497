package edit

import (
	"math"
	"strings"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// How far off the whole of a part in the way may be, and where it is from: kept with its numbers, empty where they differ; a ± alone leaves it a guess,
// and the guess is as far off as it says.
func TestHowAPartInTheWayIsKnown(t *testing.T) {
	for kind, n := range map[string]int{"box": 6, "prism": 2, "ball": 1, "tube": 1} {
		j := sprayer(t)
		at := -1
		for i := range j.Envelopes {
			if j.Envelopes[i].Kind == kind {
				at = i
			}
		}
		if at < 0 {
			var part Part
			var err error
			part, err = Add(j, Envelopes, map[string]string{"ball": "Ball", "tube": "Pipe"}[kind])
			require.NoError(t, err, kind)
			at = part.Index
		}
		part := Part{Envelopes, at}
		e := &j.Envelopes[at]
		e.Measured, e.Given = nil, nil
		guesses := len(Measured(j).Guesses)
		off, source := PartGiven(e)
		assert.True(t, math.IsNaN(off), kind)
		assert.Empty(t, source, kind)

		require.NoError(t, Set(j, part, "plusMinus", "5"), kind)
		assert.Len(t, e.Given, n, kind)
		off, _ = PartGiven(e)
		assert.Equal(t, 5.0, off, kind)
		assert.Len(t, Measured(j).Guesses, guesses, "a ± alone gives nothing")
		g := Guess{Part: part}
		assert.Equal(t, 5.0, g.Off(j), kind)

		require.NoError(t, Set(j, part, "source", " tape "), kind)
		_, source = PartGiven(e)
		assert.Equal(t, "tape", source, kind)
		assert.Len(t, Measured(j).Guesses, guesses-1, "where it is from makes it known")
		require.Empty(t, job.Check(j), kind)
		require.Error(t, Set(j, part, "plusMinus", "-1"), kind)
		require.Error(t, Set(j, part, "source", strings.Repeat("x", 100)), kind)

		if kind == "box" {
			two := 2.0
			setGiven(&e.Given, "max.z", job.GivenValue{PlusMinus: &two, Source: "plumb bob"})
			off, source = PartGiven(e)
			assert.True(t, math.IsNaN(off), "its numbers differ")
			assert.Empty(t, source)
		}
		require.NoError(t, Set(j, part, "plusMinus", ""), kind)
		require.NoError(t, Set(j, part, "source", ""), kind)
		assert.Empty(t, e.Given, kind)
	}
}
