package view

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestSnap(t *testing.T) {
	for _, tc := range []struct{ from, to, step, want float64 }{
		{-230, -228, 5, -230}, {-230, -227.4, 5, -225}, {-232.4, -230.5, 5, -232.4}, {-232.4, -229, 5, -230}, {0, -0.4, 1, 0}, {3.2, 6.4, 1, 6}, {-1, -0.2, 1, 0},
	} {
		got := snap(tc.from, tc.to, tc.step)
		assert.Equal(t, tc.want, got, "%+v", tc)
		assert.False(t, got == 0 && 1/got < 0, "no minus nothing")
	}
}

// The ground stays under the tyres: with both axles moving it is level and comes nearer in bump, with the front standing still it runs to the
// front contact of ride height.
func TestGroundComesNearerInBump(t *testing.T) {
	for _, still := range []bool{false, true} {
		s := demo(t, "orchard-sprayer")
		if still {
			s.Mech.FrontStill = true
		}
		pos := at(t, s, 80, 80)
		sc := New(Input{Plane: Side, Now: s, At: pos})
		assert.InDelta(t, 80, sc.groundAt(pos.Pose.C.X), 1e-9)
		want := 80.0
		if still {
			want = 0
		}
		assert.InDelta(t, want, sc.groundAt(s.Mech.Wheelbase), 1e-9)
	}
}

func itemsOf(p drawing.Picture, name string, k drawing.Kind) (out []drawing.Item) {
	for _, it := range p.Items {
		if it.Name == name && it.Kind == k {
			out = append(out, it)
		}
	}
	return out
}

func TestLinksAreDrawnToTrueDiameterOrAsALine(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	e := Fit(s, sizes)
	draw := func() drawing.Picture {
		return New(Input{Plane: Plan, Now: s, At: at(t, s, 0, 0)}).Picture(e.Transform(Plan, sizes[Plan]), paper.Measure, nil)
	}
	bars := itemsOf(draw(), "Lower left", drawing.Bar)
	require.Len(t, bars, 1)
	assert.InDelta(t, 32*e.Scale, bars[0].Radius, 1e-9)
	assert.Equal(t, 3.0, bars[0].Width)
	assert.Equal(t, ink.Ground, bars[0].Fill)
	for i := range s.Parts.Job.Links {
		s.Parts.Job.Links[i].Tube = nil
	}
	lines := itemsOf(draw(), "Lower left", drawing.Line)
	require.Len(t, lines, 1)
	assert.Equal(t, 3.0, lines[0].Width)
}

func TestFarAndHugePartsAreLightAndOpen(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	yes := true
	for i := range s.Parts.Job.Envelopes {
		s.Parts.Job.Envelopes[i].Measured, s.Parts.Job.Envelopes[i].Movable = &yes, false
	}
	draw := func(p Plane, e Eye, sel *edit.Part) drawing.Picture {
		return New(Input{Plane: p, Now: s, At: at(t, s, 0, 0), Selected: sel}).Picture(e.Transform(p, sizes[p]), paper.Measure, nil)
	}
	fit := Fit(s, sizes)
	assert.Len(t, itemsOf(draw(Plan, fit, nil), "Tank shelf", drawing.Fill), 1)
	assert.Empty(t, itemsOf(draw(Plan, fit, nil), "Wheel arch left", drawing.Fill), "over 150 mm from every link")
	near := Eye{At: r3.Vec{X: -310, Z: 690}, Scale: 4}
	assert.Empty(t, itemsOf(draw(Plan, near, nil), "Tank shelf", drawing.Fill), "larger than half the view")
	shelf := edit.Part{List: edit.Envelopes}
	for i := range s.Job.Envelopes {
		if s.Job.Envelopes[i].Name == "Tank shelf" {
			shelf.Index = i
		}
	}
	for _, it := range itemsOf(draw(Plan, fit, &shelf), "Tank shelf", drawing.Line) {
		assert.Equal(t, ink.Press, it.Stroke, "what is selected is the hand's")
	}
}

// A pivot is a guess in a view that shows a coordinate nobody gave; in one that shows none it is not.
func TestPivotsByWhatIsKnownOfThem(t *testing.T) {
	rough, one := 20.0, 1.5
	of := func(g job.Given, measured ...string) pivot {
		j := &job.Job{Links: []job.Link{{Frame: job.Point{1, 2, 3}, Axle: job.Point{4, 5, 6}, Given: g, Measured: measured}}}
		sc := &Scene{stage: stage{job: j}}
		return sc.pivot(edit.Pivot{}, edit.Pivot{})
	}
	guesses := func(p pivot) [3]bool { return [3]bool{p.guess(Side), p.guess(Rear), p.guess(Plan)} }
	all, none := [3]bool{true, true, true}, [3]bool{}
	assert.Equal(t, all, guesses(of(nil)))
	assert.Equal(t, all, guesses(of(job.Given{"frame.x": {PlusMinus: &one}, "frame.y": {PlusMinus: &one}, "frame.z": {PlusMinus: &one}})), "how far off it may be does not say that it was measured")
	assert.Equal(t, all, guesses(of(job.Given{"frame.x": {PlusMinus: &one, Source: "tape"}})), "each view shows one that is a guess still")
	xz := job.Given{"frame.x": {PlusMinus: &one, Source: "tape"}, "frame.z": {Typed: "3"}}
	assert.Equal(t, [3]bool{false, true, true}, guesses(of(xz)))
	xz["frame.y"] = job.GivenValue{PlusMinus: &rough}
	assert.Equal(t, [3]bool{false, true, true}, guesses(of(xz)))
	assert.Equal(t, [3]float64{edit.GuessPlusMinus, edit.GuessPlusMinus, edit.GuessPlusMinus}, of(nil).plusMinus, "where nobody says")
	assert.Equal(t, [3]float64{one, rough, 0}, of(xz).plusMinus)
	xz["frame.y"] = job.GivenValue{PlusMinus: &rough, Source: "through obstructions"}
	assert.Equal(t, none, guesses(of(xz)))
	assert.True(t, of(nil, "frame").measured)
	assert.Equal(t, none, guesses(of(nil, "frame")))
	assert.False(t, of(nil, "axle").measured)
}

func TestHeldPivotShowsItsBracketAndItsBolt(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	index := len(s.Job.Links) - 1
	require.Equal(t, "Panhard rod", s.Job.Links[index].Name)
	held := edit.Pivot{List: edit.Links, Index: index, End: edit.FrameEnd}
	e := Fit(s, sizes)
	rings := func(p Plane) (r []float64, lines int) {
		pic := New(Input{Plane: p, Now: s, At: at(t, s, 0, 0), Held: &held, Grips: true}).Picture(e.Transform(p, sizes[p]), paper.Measure, nil)
		for _, it := range pic.Items {
			if it.Layer == drawing.Held && it.Kind == drawing.Circle {
				r = append(r, it.Radius)
			}
			if it.Layer == drawing.Held && it.Kind == drawing.Line {
				lines++
			}
		}
		return r, lines
	}
	side, lines := rings(Side) // its bolt lies fore-and-aft: a line with ends
	assert.Equal(t, []float64{80 * e.Scale, 12, 5, 5, 5}, side, "bracket, held, the two grips, the pivot")
	assert.Equal(t, 14, lines)
	rear, lines := rings(Rear) // seen end on: a dot
	assert.Equal(t, []float64{80 * e.Scale, 12, 2, 5}, rear)
	assert.Zero(t, lines)
}
