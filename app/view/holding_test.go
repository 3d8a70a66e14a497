package view

import (
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// wordsOf are what a picture says.
func wordsOf(p drawing.Picture) map[string]bool {
	out := map[string]bool{}
	for _, it := range p.Items {
		if it.Kind == drawing.Text {
			out[it.Words] = true
		}
	}
	return out
}

// A rod that hardly lies across holds the axle poorly sideways: arrows say which way where the view shows it, and words.
func TestPoorlyHeldIsMarkedWithArrows(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	j := loose(t).Job.Clone()
	j.Links = append(j.Links, job.Link{Name: "Panhard rod", Frame: job.Point{-210, -300, 500}, Axle: job.Point{-1110, -240, 500}}) // it hardly lies across
	poor := study.Compile(j)
	require.NotNil(t, poor.Mech, poor.Refusal)
	require.Contains(t, poor.Mech.PoorlyHeld, "sideways")
	for p := Side; p <= Plan; p++ {
		pic := New(Input{Plane: p, Now: poor, At: at(t, poor, 0, 0)}).Picture(Fit(poor, sizes).Transform(p, sizes[p]), paper.Measure, nil)
		arrows := 0
		for _, it := range pic.Items {
			if it.Layer == drawing.Trouble && it.Kind == drawing.Line && it.Stroke == ink.Trouble && it.Width == heavy && it.Name == "" {
				arrows++
			}
		}
		if p == Side { // seen along it
			assert.Zero(t, arrows)
			assert.False(t, wordsOf(pic)["little stops it moving sideways"])
			continue
		}
		assert.GreaterOrEqual(t, arrows, 3, "a line and two points")
		assert.True(t, wordsOf(pic)["little stops it moving sideways"])
	}
	pic := New(Input{Plane: Plan, Now: s, At: at(t, s, 0, 0)}).Picture(Fit(s, sizes).Transform(Plan, sizes[Plan]), paper.Measure, nil)
	assert.False(t, wordsOf(pic)["little stops it moving sideways"])
}

// Where the links end the travel, those that hold the axle are drawn in trouble's colour, with words.
func TestTheLinksThatEndTheTravelAreMarked(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	j := s.Job.Clone()
	rod := &j.Links[len(j.Links)-1]
	rod.Frame = job.Point{-210, -30, 500} // so short that it stretches out within the travel
	rod.Axle = job.Point{-210, 30, 500}
	j.Struts, j.Stops, j.Straps, j.Travel = nil, nil, nil, &job.Travel{}
	far := 400.0
	j.Travel.Bump, j.Travel.Droop = &far, &far
	short := study.WithRange(j)
	require.True(t, short.Bounded(), short.RangeNote)
	_, _, by := short.Range.Clamp(300, 300)
	require.NotNil(t, by)
	require.Equal(t, limits.NoAssembly, by.Cause)
	assert.True(t, AtLinksEnd(short.Range, by.Left, by.Right))
	assert.False(t, AtLinksEnd(short.Range, by.Left/2, by.Right/2))
	assert.False(t, AtLinksEnd(nil, 0, 0))
	pos := at(t, short, by.Left, by.Right)
	draw := func(end bool) drawing.Picture {
		return New(Input{Plane: Rear, Now: short, At: pos, LinksEnd: end}).Picture(Fit(short, sizes).Transform(Rear, sizes[Rear]), paper.Measure, nil)
	}
	strokes := func(p drawing.Picture) (out []ink.Role) {
		for _, it := range p.Items {
			if it.Name == "Panhard rod" && it.Layer == drawing.Links {
				out = append(out, it.Stroke)
			}
		}
		return out
	}
	marked := draw(true)
	assert.Contains(t, strokes(marked), ink.Trouble)
	words := wordsOf(marked)
	assert.True(t, words["holds the axle here"] || words["these hold the axle here"], "%v", words)
	assert.NotContains(t, strokes(draw(false)), ink.Trouble)
}
