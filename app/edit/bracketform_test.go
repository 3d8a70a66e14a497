package edit

import (
	"math"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/plate"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each kind that can be added is whole as it stands: the job's own checks and the plates take it; the next goes to the next pivot.
func TestBracketsAreAdded(t *testing.T) {
	j := sprayer(t)
	free, _ := unbracketed(j)
	was := len(j.Brackets)
	for i, kind := range Kinds(Brackets) {
		part, err := Add(j, Brackets, kind)
		require.NoError(t, err, kind)
		assert.Equal(t, Part{Brackets, was + i}, part)
		assert.Equal(t, free[i], PartName(j, part))
		require.Empty(t, job.Check(j), kind)
		_, err = plate.Of(&j.Brackets[part.Index])
		require.NoError(t, err, kind)
	}
	rest, _ := unbracketed(j)
	assert.Equal(t, free[len(Kinds(Brackets)):], rest)
	for range rest {
		_, err := Add(j, Brackets, "")
		require.NoError(t, err)
	}
	require.Empty(t, job.Check(j))
	_, err := Add(j, Brackets, "")
	assert.ErrorContains(t, err, "Every pivot has its bracket already")
	_, err = AddBracket(j, Pivot{List: Links, End: FrameEnd}, "Flat tab")
	assert.ErrorContains(t, err, "has its bracket already")
	_, err = AddBracket(j, Pivot{List: Pinion}, "Flat tab")
	assert.ErrorContains(t, err, "not held by a bracket")
}

// A bracket is found by either side of its pair, and tells whose it is; one of no pivot says so.
func TestBracketIsOfAPivot(t *testing.T) {
	j := sprayer(t)
	i := linkAt(t, j, "Lower")
	part, err := AddBracket(j, Pivot{List: Links, Index: i, End: AxleEnd, Side: job.Right}, "Flat tab")
	require.NoError(t, err)
	assert.Equal(t, "Lower, axle end", PartName(j, part))
	for _, side := range []job.Side{job.Left, job.Right, job.Single} {
		got, ok := BracketPart(j, Pivot{List: Links, Index: i, End: AxleEnd, Side: side})
		assert.True(t, ok)
		assert.Equal(t, part, got)
	}
	_, ok := BracketPart(j, Pivot{List: Links, Index: i, End: FrameEnd})
	assert.False(t, ok)
	p, ok := Holds(j, part.Index)
	assert.True(t, ok)
	assert.Equal(t, Pivot{List: Links, Index: i, End: AxleEnd}, p)
	require.NoError(t, Set(j, part, "of", "Panhard rod, frame end"))
	assert.Equal(t, "Panhard rod", j.Brackets[part.Index].Of)
	assert.Equal(t, "frame", j.Brackets[part.Index].End)
	require.NoError(t, Rename(j, Part{Links, linkAt(t, j, "Panhard rod")}, "Cross rod"))
	assert.Equal(t, "Cross rod, frame end", PartName(j, part))
	j.Brackets[part.Index].End = "nowhere"
	assert.Equal(t, "Cross rod, nowhere: no such pivot", PartName(j, part))
	require.NoError(t, Remove(j, part))
	assert.Empty(t, j.Brackets)
}

// Becoming another kind brings what that needs and takes what it cannot have; the sizes both have stay.
func TestBracketBecomesAnotherKind(t *testing.T) {
	j := sprayer(t)
	part, err := Add(j, Brackets, "Flat tab")
	require.NoError(t, err)
	b := &j.Brackets[part.Index]
	require.NoError(t, Set(j, part, "edge", "30"))
	kinds := BracketKinds()
	for _, k := range []int{1, 2, 0, 2, 1, 0} {
		require.NoError(t, Set(j, part, "kind", kinds[k]))
		assert.Equal(t, bracketKinds[k], b.Kind)
		assert.Equal(t, k > 0, b.Gap != nil)
		assert.Equal(t, k == 2, b.Rail != nil)
		assert.Equal(t, 30.0, b.Edge)
		require.Empty(t, job.Check(j), kinds[k])
	}
}

// Every field of every kind can be typed, in either unit, and reads back.
func TestBracketIsTyped(t *testing.T) {
	j := sprayer(t)
	part, err := Add(j, Brackets, BracketKinds()[2])
	require.NoError(t, err)
	b := &j.Brackets[part.Index]
	require.NoError(t, Set(j, part, "pattern.count", "3"))
	require.Empty(t, job.Check(j), "a row to begin from fits")
	for key, typed := range map[string]string{"thickness": "10", "steel": "S355", "hole": "20.5", "edge": "35", "base": "70", "width": "120", "offset": "-5", "gap": "76.6",
		"rail.width": "102", "rail.leg": "90", "rail.along": "160", "rail.thickness": "6", "rail.bend": "9", "pattern.count": "3", "pattern.hole": "11", "pattern.pitch": "40", "pattern.in": "30"} {
		require.NoError(t, Set(j, part, key, typed), key)
		got := ""
		for _, x := range Fields(j, part) {
			if x.Key == key {
				got = x.Text
			}
		}
		assert.Equal(t, typed, got, key)
	}
	require.Empty(t, job.Check(j))
	require.NoError(t, Set(j, part, "base", "3 in"))
	assert.InDelta(t, 76.2, b.Base, 1e-9)
	for _, key := range []string{"width", "offset", "rail.along", "rail.thickness", "rail.bend", "pattern.count"} {
		require.NoError(t, Set(j, part, key, ""), key)
	}
	assert.Nil(t, b.Pattern)
	assert.Nil(t, b.Width)
	require.Empty(t, job.Check(j))
	assert.Error(t, Set(j, part, "edge", "0"))
	assert.Error(t, Set(j, part, "gap", "-1"))
	assert.ErrorContains(t, Set(j, part, "pattern.count", "2.5"), "must be a whole number")
	assert.Error(t, Set(j, part, "kind", "hook"))
	require.NoError(t, Set(j, part, "kind", BracketKinds()[0]))
	for n := 1; n <= 3; n++ { // rows of a plate as it comes
		require.NoError(t, Set(j, part, "pattern.count", ""))
		require.NoError(t, Set(j, part, "pattern.count", []string{"1", "2", "3"}[n-1]))
		assert.Equal(t, n, b.Pattern.Count)
		require.Empty(t, job.Check(j), n)
	}
	for _, x := range Fields(j, part) {
		if x.Unit == Length && x.Text != "" {
			assert.False(t, math.IsNaN(x.Value), x.Key)
		}
	}
}
