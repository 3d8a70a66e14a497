package view

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lowered is the demo with its Panhard rod so much lower, at ride height.
func lowered(t *testing.T, s *study.Study, by float64) Pencil {
	t.Helper()
	j := s.Job.Clone()
	for i := range j.Links {
		if j.Links[i].Name == "Panhard rod" {
			j.Links[i].Frame[2] -= by
			j.Links[i].Axle[2] -= by
		}
	}
	o := study.Compile(j)
	return Pencil{Study: o, At: at(t, o, 0, 0)}
}

func TestFourPencilLinesAreNamedAndOutOfStep(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	in := Input{Plane: Rear, Now: s, At: at(t, s, 0, 0)}
	want := map[string]bool{}
	for i, name := range []string{"pencil: a", "pencil: b", "pencil: c", "pencil: d"} {
		p := lowered(t, s, float64(30+30*i))
		p.Words, p.Place = name, i
		in.Pencils = append(in.Pencils, p)
		want[name] = true
	}
	shifts := map[float64]bool{}
	for _, it := range New(in).Picture(Fit(s, sizes).Transform(Rear, sizes[Rear]), paper.Measure, nil).Items {
		if it.Kind == drawing.Dashed {
			shifts[it.Shift] = true
		}
		if it.Kind == drawing.Text {
			delete(want, it.Words)
		}
	}
	assert.Len(t, shifts, 4)
	assert.Empty(t, want, "each is named in the view")
}

func TestASecondPositionShowsTheAxleItself(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	here, there := at(t, s, 60, 60), at(t, s, -60, -60)
	for p := Side; p <= Plan; p++ {
		in := Input{Plane: p, Now: s, At: here, Pencils: []Pencil{{Study: s, At: there, Words: "at full droop", Axle: true}}}
		seen, said := map[string]bool{}, false
		for _, it := range New(in).Picture(FitAll(s, sizes).Transform(p, sizes[p]), paper.Measure, nil).Items {
			if it.Kind == drawing.Dashed {
				seen[it.Name] = true
			}
			said = said || it.Words == "at full droop"
		}
		for _, name := range []string{job.AxleTubeName, job.HousingName, job.TyreLeftName, "Panhard rod", "Lower left"} {
			assert.True(t, seen[name], "%d %s", p, name)
		}
		assert.True(t, said, "%d", p)
		in.Pencils[0].At = here
		for _, it := range New(in).Picture(FitAll(s, sizes).Transform(p, sizes[p]), paper.Measure, nil).Items {
			assert.NotEqual(t, drawing.Dashed, it.Kind, "the same position draws nothing")
		}
	}
}

func TestHowFarAPivotMovesBetweenTwoPositions(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	up, down := at(t, s, 80, 80), at(t, s, -80, -80)
	rod := -1
	for i := range s.Job.Links {
		if s.Job.Links[i].Name == "Panhard rod" {
			rod = i
		}
	}
	require.GreaterOrEqual(t, rod, 0)
	end := edit.Pivot{List: edit.Links, Index: rod, End: edit.AxleEnd}
	a, b, ok := Moved(s, up, down, end)
	require.True(t, ok)
	assert.InDelta(t, -160, b.Z-a.Z, 15, "it goes down with the axle")
	words := MovedWords(s, up, down, &end, nil)
	assert.Regexp(t, `^Panhard rod, axle end moves 172 mm: 3.1 forward, 8.3 right, 172 down\.$`, words)
	end.End = edit.FrameEnd
	assert.Equal(t, "Panhard rod, frame end stays where it is.", MovedWords(s, up, down, &end, nil))
	part := edit.Part{List: edit.Links, Index: rod}
	assert.Equal(t, words, MovedWords(s, up, down, nil, &part), "of a part the pivot that moves most")
	assert.Regexp(t, `^The axle's middle moves 160 mm: .*160 down\.$`, MovedWords(s, up, down, nil, nil))
	part = edit.Part{List: edit.Envelopes, Index: 0}
	assert.Contains(t, MovedWords(s, up, down, nil, &part), "fixed to the frame")
	end = edit.Pivot{List: edit.Links, Index: 99}
	_, _, ok = Moved(s, up, down, end)
	assert.False(t, ok)
	assert.Empty(t, MovedWords(s, up, nil, nil, nil))
}
