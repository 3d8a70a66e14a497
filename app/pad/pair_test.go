package pad

import (
	"math"
	"slices"
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/geometry/limits"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The gap of one pair laid in the patch: its names head the pad, what touches and what is nearer than wanted is marked as proved, the sentence says it, and a press goes back.
func TestPairMap(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	p.Lay("rollsteer")
	p.LayPair("Tank shelf", "Panhard rod") // in either order
	require.True(t, p.laidCurrent())
	k := p.laid.pair
	assert.InDelta(t, -29.11, k.least, 0.01)
	assert.Equal(t, 25.0, k.wanted)
	all := strings.Join(wordsOn(p), "|")
	assert.Contains(t, all, "Tank shelf / rod")
	assert.NotContains(t, all, "Travel pad")
	assert.Contains(t, all, "29 mm in")
	assert.Contains(t, all, "At ride height: 35 mm apart.")
	assert.Contains(t, all, "Stripes: touches (9 % of the travel). Dots:|under 25 mm wanted.")
	assert.Contains(t, all, "|25") // on its line
	require.Len(t, k.begins, 1, "where it begins is one line from edge to edge")
	for _, end := range []place{k.begins[0][0], k.begins[0][len(k.begins[0])-1]} {
		_, _, r, _, ok := locate(p.edge, end.left, end.right)
		require.True(t, ok)
		assert.InDelta(t, 1, r, 0.02)
	}
	hits := func(left, right float64) [2]bool {
		h, tight := p.laid.marked(left, right)
		return [2]bool{h, tight}
	}
	assert.Equal(t, [2]bool{true, true}, hits(90, 90))
	assert.Equal(t, [2]bool{false, true}, hits(70, 70))
	assert.Equal(t, [2]bool{false, false}, hits(0, 0))
	assert.Equal(t, [2]bool{true, true}, hits(78.6, 78.6), "first touch at 77.90")
	assert.Equal(t, [2]bool{false, true}, hits(77.2, 77.2))

	require.True(t, d.GoCorner(document.FullBump))
	assert.Contains(t, strings.Join(wordsOn(p), "|"), "Both up 109: 29 mm in.")
	at, ok := p.Where("Back")
	require.True(t, ok)
	assert.Less(t, at.X, float32(316))
	_, ok = p.Where("Walk the edge")
	assert.False(t, ok)
	p.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Equal(t, "rollsteer", p.laying.key, "back to what was laid before")
	assert.Contains(t, strings.Join(wordsOn(p), "|"), "Travel pad")
}

// A pair that never comes near, one that is only tight, one that is not there, and one after a part has been renamed.
func TestPairMapOfOthers(t *testing.T) {
	_, p := open(t, read(t, "rescue-tender"))
	p.LayPair("Upper left", "Side tank")
	all := strings.Join(wordsOn(p), " ")
	assert.Contains(t, all, "Upper left / side tank", "there is room for the whole")
	assert.Contains(t, all, "least 10 mm")
	assert.Regexp(t, `Dots: under 25 mm wanted \(\d+ % of the travel\)`, all)
	assert.Nil(t, p.laid.pair.touch)
	p.LayPair("Strut left", "Housing")
	assert.Contains(t, strings.Join(wordsOn(p), "|"), "Nowhere under 12 mm wanted.")
	hits, tight := p.laid.marked(50, 50)
	assert.False(t, hits || tight)
	p.LayPair("Strut left", "no such part")
	assert.Contains(t, strings.Join(wordsOn(p), " "), "These two parts are not compared as the job now stands.")
	assert.False(t, math.IsNaN(float64(p.Size().Width)))
}

// Of a closed loop the runs off the outline are kept, each to the outline at both ends; a loop that never comes near it is one run that closes.
func TestOffEdge(t *testing.T) {
	var edge []place
	for i := range 96 {
		s, c := math.Sincos(-math.Pi + 2*math.Pi*float64(i)/96)
		edge = append(edge, place{50 * c, 50 * s})
	}
	var free, across []limits.Corner
	for i := range 40 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 40)
		free = append(free, limits.Corner{Left: 10 + 10*c, Right: 10 * s})
	}
	runs := offEdge(edge, free)
	require.Len(t, runs, 1)
	assert.Equal(t, runs[0][0], runs[0][len(runs[0])-1], "it closes")
	for a := -90; a <= 90; a += 3 { // half of the outline, then back along the middle
		s, c := math.Sincos(float64(a) * math.Pi / 180)
		across = append(across, limits.Corner{Left: 49.9 * c, Right: 49.9 * s})
	}
	for y := 45.0; y >= -45; y -= 5 {
		across = append(across, limits.Corner{Right: y})
	}
	for range 7 { // wherever the loop begins
		runs = offEdge(edge, across)
		require.Len(t, runs, 1)
		assert.InDelta(t, 49.9, runs[0][0].right, 1e-9)
		assert.InDelta(t, -49.9, runs[0][len(runs[0])-1].right, 1e-9)
		assert.Len(t, runs[0], 21)
		across = append(slices.Clone(across[11:]), across[:11]...)
	}
}
