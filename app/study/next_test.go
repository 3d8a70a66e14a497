package study_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// least is the least gap to spare over the range and roll steer and anti-squat at the laden ride height, as a whole study of depth Full has them.
func least(t testing.TB, j *job.Job) (gap, rollSteer, antiSquat float64) {
	t.Helper()
	s := study.New(context.Background(), j, study.Full)
	require.Empty(t, s.Refusal)
	order := s.Order()
	require.NotEmpty(t, order)
	gap = s.Smallest[order[0]].Gap.Gap - s.Gaps.Pairs[order[0]].Required
	load := s.Laden()
	p := s.At(s.Loads[load].Heave, s.Loads[load].Heave)
	require.Empty(t, p.Err)
	return gap, p.Values[load].RollSteerPct, p.Values[load].AntiSquatPct
}

// Each guess's changes against those of whole studies of the job with it moved there and back by hand in the file.
func TestNextAgainstWholeStudies(t *testing.T) {
	for _, name := range []string{"orchard-sprayer", "survey-wagon"} {
		j := demo(t, name, "")
		for i := range j.Links { // nothing of them is known
			j.Links[i].Given, j.Links[i].Measured = nil, nil
		}
		list := study.New(context.Background(), j, study.Full).Next(context.Background())
		require.NotEmpty(t, list)
		gap0, roll0, squat0 := least(t, j)
		seen := 0
		for n, at := range list {
			if !at.IsPivot || at.Pivot.List != edit.Links || n%4 != 0 && n > 3 { // whole studies take their time
				continue
			}
			seen++
			assert.Equal(t, edit.GuessPlusMinus, at.Off)
			var gap, roll, squat float64
			for _, by := range []float64{-at.Off, at.Off} {
				moved := j.Clone()
				l := &moved.Links[at.Pivot.Index]
				p := &l.Frame
				if at.Pivot.End == edit.AxleEnd {
					p = &l.Axle
				}
				p[at.Axis] += by
				g, r, a := least(t, moved)
				gap, roll, squat = math.Max(gap, math.Abs(g-gap0)), math.Max(roll, math.Abs(r-roll0)), math.Max(squat, math.Abs(a-squat0))
			}
			assert.InDelta(t, roll, at.RollSteer, 1e-6, "%s: %s, roll steer", name, at.Short())
			assert.InDelta(t, squat, at.AntiSquat, 1e-5, "%s: %s, anti-squat", name, at.Short())
			assert.InDelta(t, gap, at.Gap, math.Max(1, 0.1*gap), "%s: %s, tightest gap", name, at.Short())
		}
		assert.Greater(t, seen, 4)
	}
}

func TestNextIsInOrderOfWhatMovesMost(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	for i := range j.Links {
		j.Links[i].Given, j.Links[i].Measured = nil, nil
	}
	j.Envelopes[0].Given, j.Envelopes[0].Measured = nil, nil
	s := study.New(context.Background(), j, study.Full)
	list := s.Next(context.Background())
	assert.Equal(t, list, s.Next(context.Background()), "it is kept")
	count := edit.Measured(j)
	require.Len(t, list, len(count.Guesses), "each guess once")
	weight := func(n study.Next) float64 {
		most := -1.0
		for _, v := range []float64{n.Gap / 5, n.RollSteer, n.AntiSquat / 10} {
			if v > most {
				most = v
			}
		}
		return most
	}
	nothing := slices.IndexFunc(list, func(n study.Next) bool { return n.Gap < 0.5 && n.RollSteer < 0.05 && n.AntiSquat < 0.5 })
	require.Greater(t, nothing, 3)
	for i := nothing + 1; i < len(list); i++ {
		if a, b := list[i-1].Own, list[i].Own; !math.IsNaN(b) {
			assert.LessOrEqual(t, a, b, "what moves nothing: by how tight it is itself")
		}
	}
	assert.True(t, slices.IsSortedFunc(list[:nothing], func(a, b study.Next) int {
		switch x, y := weight(a), weight(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	}))
	var file []string
	for _, g := range count.Guesses {
		file = append(file, g.Name)
	}
	var listed []string
	for _, n := range list {
		listed = append(listed, n.Name)
	}
	assert.ElementsMatch(t, file, listed)
	assert.Greater(t, weight(list[0]), 0.5)
}

// A guess with a +- of its own is moved by that.
func TestNextMovesAGuessByItsOwnPlusMinus(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	i := slices.IndexFunc(j.Links, func(l job.Link) bool { return l.Name == "Panhard rod" })
	require.GreaterOrEqual(t, i, 0)
	p := edit.Pivot{List: edit.Links, Index: i, End: edit.FrameEnd}
	j.Links[i].Given, j.Links[i].Measured = nil, nil
	find := func() study.Next {
		for _, n := range study.New(context.Background(), j, study.Live).Next(context.Background()) {
			if n.IsPivot && n.Pivot.Same(p) && n.Axis == edit.Z {
				return n
			}
		}
		t.Fatal("not listed")
		return study.Next{}
	}
	whole := find()
	assert.InDelta(t, 20, whole.Off, 1e-12)
	require.NoError(t, edit.SetPlusMinus(j, p, edit.Z, "±5"))
	part := find()
	assert.InDelta(t, 5, part.Off, 1e-12)
	assert.Less(t, part.Gap, 0.5*whole.Gap)
	assert.Greater(t, part.Gap, 0.0)
}

func TestNextInWords(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	s := study.Compile(j)
	n := study.Next{Guess: edit.Guess{IsPivot: true, Axis: edit.Z, Name: "Upper, frame end: Z"}, Off: 20, Gap: 8, RollSteer: 1.24, AntiSquat: 0.2}
	assert.Equal(t, "20 mm moves the tightest gap by 8 mm, roll steer by 1.2 %", s.NextMoves(&n))
	n.AntiSquat = 31
	assert.True(t, strings.HasSuffix(s.NextMoves(&n), ", anti-squat by 31 %"))
	n.Gap, n.RollSteer, n.AntiSquat = 0.2, 0, math.NaN()
	n.Own = math.NaN()
	assert.Equal(t, "20 mm moves neither the tightest gap nor roll steer", s.NextMoves(&n))
	n.Own = 12
	assert.Equal(t, "20 mm moves neither the tightest gap nor roll steer, but its own gap is nearer than that", s.NextMoves(&n))
	n.Gap, n.RollSteer = math.NaN(), math.NaN()
	assert.Equal(t, "what hangs on it cannot be worked out here", s.NextMoves(&n))
	j.Shown = &job.Shown{Length: "in"}
	n.Gap, n.Off = 25.4, 12.7
	assert.Equal(t, "1/2 in moves the tightest gap by 1 in", s.NextMoves(&n))
}

// What cannot be worked out is listed all the same, and giving up gives nothing.
func TestNextWithoutARangeOrGivenUp(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	j.Links = j.Links[:1]
	s := study.New(context.Background(), j, study.Live)
	require.NotEmpty(t, s.Refusal)
	assert.Empty(t, s.Next(context.Background()))

	stopped, stop := context.WithCancel(context.Background())
	s = study.New(context.Background(), demo(t, "orchard-sprayer", ""), study.Live)
	stop()
	assert.Nil(t, s.Next(stopped))
	assert.NotEmpty(t, s.Next(context.Background()))
}

// BenchmarkNext is the whole list of a demo, on one core.
func BenchmarkNext(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		s := study.NewWith(context.Background(), demo(b, "orchard-sprayer", ""), study.Live, 1)
		b.StartTimer()
		s.Next(context.Background())
	}
}
