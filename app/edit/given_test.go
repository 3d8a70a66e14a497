package edit

import (
	"strings"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A coordinate is a guess till somebody gives it, and a +- alone gives nothing; typing one takes the guess off that one only.
func TestGuessesAreTakenOffOneByOne(t *testing.T) {
	j := sprayer(t)
	p := Pivot{List: Links, Index: 0, End: FrameEnd}
	j.Links[0].Given, j.Links[0].Measured = nil, nil
	known := Measured(j).Known
	guesses := func() (out string) {
		for a := X; a <= Z; a++ {
			if IsGuess(j, p, a) {
				out += a.String()
			}
		}
		return out
	}
	require.Equal(t, "XYZ", guesses())
	assert.Equal(t, GuessPlusMinus, PlusMinus(j, p, Y))
	require.NoError(t, SetPlusMinus(j, p, Y, "± 30"))
	assert.Equal(t, "XYZ", guesses(), "a ± alone gives nothing")
	assert.Equal(t, 30.0, PlusMinus(j, p, Y))

	require.NoError(t, Type(j, p, Y, "470"))
	assert.Equal(t, "XZ", guesses())
	assert.Equal(t, 0.0, PlusMinus(j, p, Y), "the ± was the guess's")
	assert.Equal(t, known+1, Measured(j).Known)

	require.NoError(t, SetSource(j, p, Y, GuessSource))
	assert.Equal(t, "XYZ", guesses(), "typed, and still a guess")
	g, ok := GivenOf(j, p, Y)
	assert.False(t, ok)
	assert.Equal(t, "470", g.Typed)
	require.NoError(t, SetSource(j, p, Y, "tape"))
	assert.Equal(t, "XZ", guesses())
	require.NoError(t, SetSource(j, p, Z, "plumb bob"))
	assert.Equal(t, "X", guesses(), "where it is from gives it")
}

// The ± of a ready source comes with it and goes with it; one that was typed stays.
func TestSourceBringsItsUsualPlusMinus(t *testing.T) {
	j := sprayer(t)
	p := Pivot{List: Links, Index: 0, End: AxleEnd}
	j.Links[0].Given, j.Links[0].Measured = nil, nil
	at, _ := At(j, p)
	for _, s := range []struct {
		source string
		off    float64
	}{{"tape", 1.5}, {"through obstructions", 3}, {"plumb bob", 3}, {"drawing", 0}, {"tape", 1.5}, {"my own words", 0}} {
		require.NoError(t, SetSource(j, p, X, s.source))
		assert.Equal(t, s.off, PlusMinus(j, p, X), s.source)
	}
	require.NoError(t, SetPlusMinus(j, p, X, "1/16"))
	require.NoError(t, SetSource(j, p, X, "tape"))
	assert.InDelta(t, 1.5875, PlusMinus(j, p, X), 1e-12)
	require.NoError(t, SetPlusMinus(j, p, X, " "))
	assert.Equal(t, 0.0, PlusMinus(j, p, X))
	require.NoError(t, SetSource(j, p, X, ""))
	assert.Equal(t, job.Given(nil), j.Links[0].Given, "nothing is left of it")
	now, _ := At(j, p)
	assert.Equal(t, at, now)
}

func TestPlusMinusAndSourceRefuseInSentences(t *testing.T) {
	j := sprayer(t)
	p := Pivot{List: Links, Index: 0, End: FrameEnd}
	for _, text := range []string{"-2", "abc", "1 2", "±"} {
		err := SetPlusMinus(j, p, X, text)
		if text == "±" {
			assert.NoError(t, err, "nothing typed takes it away")
			continue
		}
		require.Error(t, err, text)
		assert.True(t, strings.HasSuffix(err.Error(), "."), err)
	}
	assert.Error(t, SetSource(j, p, X, strings.Repeat("a", 41)))
	assert.Error(t, SetSource(j, p, X, "tapes"), "no tapes are kept for it")
	gone := Pivot{List: Links, Index: 99}
	assert.Error(t, SetPlusMinus(j, gone, X, "1"))
	assert.Error(t, SetSource(j, gone, X, "tape"))
}

// A guess is shifted along its own axis, the other coordinates and what its link keeps stay out of it.
func TestGuessShift(t *testing.T) {
	j := sprayer(t)
	j.Links[0].Given, j.Links[0].Measured = nil, nil
	require.NoError(t, SetKeepLength(j, 0, true))
	for _, g := range Measured(j).Guesses {
		if !g.IsPivot || g.Pivot.List != Links || g.Pivot.Index != 0 {
			continue
		}
		k := j.Clone()
		before, _ := At(k, g.Pivot)
		require.NoError(t, g.Shift(k, g.Axis, 7))
		after, _ := At(k, g.Pivot)
		want := [3]float64{before.X, before.Y, before.Z}
		want[g.Axis] += 7
		assert.Equal(t, want, [3]float64{after.X, after.Y, after.Z})
		assert.Len(t, k.Keep, 1)
		assert.Equal(t, Name(j, Pivot{List: Links, End: g.Pivot.End})+" "+g.Axis.String(), g.Short())
	}
}
