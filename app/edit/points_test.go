package edit

import (
	"math"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func shaped(t *testing.T, add func(j *job.Job) (Part, error)) (*job.Job, Part, *job.Envelope) {
	t.Helper()
	j := sprayer(t)
	p, err := add(j)
	require.NoError(t, err)
	return j, p, &j.Envelopes[p.Index]
}

// copied is a copy of a part in the way as it is.
func copied(j *job.Job, p Part) job.Envelope { return j.Clone().Envelopes[p.Index] }

func TestACornerOfABoxLeavesTheOppositeOneWhereItIs(t *testing.T) {
	j, p, e := shaped(t, func(j *job.Job) (Part, error) {
		return AddBox(j, "Winch", r3.Vec{X: -100, Y: -50, Z: 700}, r3.Vec{X: 100, Y: 50, Z: 800})
	})
	setGiven(&e.Given, "max.x", job.GivenValue{Typed: "100"})
	setGiven(&e.Given, "min.y", job.GivenValue{Typed: "-50"})
	corner := PartPoint{BoxCorner, 0b101} // upper X, lower Y, upper Z
	at, ok := PointAt(e, corner)
	require.True(t, ok)
	assert.Equal(t, r3.Vec{X: 100, Y: -50, Z: 800}, at)
	require.NoError(t, MovePoint(j, p, corner, r3.Vec{X: 140, Y: -50, Z: 760}))
	assert.Equal(t, job.Point{-100, -50, 700}, *e.Min)
	assert.Equal(t, job.Point{140, 50, 760}, *e.Max)
	assert.NotContains(t, e.Given, "max.x", "what was typed no longer holds")
	assert.Equal(t, "-50", e.Given["min.y"].Typed)
	was := copied(j, p)
	assert.ErrorContains(t, MovePoint(j, p, corner, r3.Vec{X: -100, Y: -50, Z: 760}), "no thickness")
	assert.ErrorContains(t, MovePoint(j, p, corner, r3.Vec{X: math.NaN()}), "within 100 m")
	assert.Equal(t, was, copied(j, p))
}

// Of a turned box the opposite corner stays in space, and the led one comes to where it was led.
func TestACornerOfATurnedBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		e := &job.Envelope{Name: "Tank", Kind: "box", Min: &job.Point{-50, -40, 600}, Max: &job.Point{50, 40, 700},
			Turn: &job.Point{f(-180, 180, "about X"), f(-180, 180, "about Y"), f(-180, 180, "about Z")}}
		j := &job.Job{Envelopes: []job.Envelope{*e}}
		e = &j.Envelopes[0]
		corner := rapid.IntRange(0, 7).Draw(t, "corner")
		at, _ := PointAt(e, PartPoint{BoxCorner, corner})
		opposite, _ := PointAt(e, PartPoint{BoxCorner, 7 - corner})
		to := r3.Add(at, r3.Vec{X: f(-20, 20, "x"), Y: f(-20, 20, "y"), Z: f(-20, 20, "z")})
		if err := MovePoint(j, Part{Envelopes, 0}, PartPoint{BoxCorner, corner}, to); err != nil {
			t.Fatal(err)
		}
		now, _ := PointAt(e, PartPoint{BoxCorner, corner})
		stays, _ := PointAt(e, PartPoint{BoxCorner, 7 - corner})
		if r3.Norm(r3.Sub(now, to)) > 1e-6 || r3.Norm(r3.Sub(stays, opposite)) > 1e-6 {
			t.Fatalf("led to %v, came to %v; opposite went from %v to %v", to, now, opposite, stays)
		}
	})
}

// Whatever is done to an outline in whatever order, it is never one that crosses or touches itself, a refusal changes nothing, and a corner that is
// taken out where it was put in leaves the outline as it was.
func TestAnOutlineNeverCrossesItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plane := rapid.SampledFrom(planes).Draw(t, "plane")
		from, to := -100.0, 100.0
		j := &job.Job{Envelopes: []job.Envelope{{Name: "Guard", Kind: "prism", Plane: plane, Outline: []job.Point2{{0, 0}, {300, 0}, {300, 200}, {0, 200}}, From: &from, To: &to}}}
		p := Part{Envelopes, 0}
		e := &j.Envelopes[0]
		for range rapid.IntRange(1, 20).Draw(t, "steps") {
			was := copied(j, p)
			i := rapid.IntRange(0, len(e.Outline)-1).Draw(t, "corner")
			place := offPlane(plane, job.Point2{rapid.Float64Range(-50, 350).Draw(t, "u"), rapid.Float64Range(-50, 250).Draw(t, "w")}, 0)
			var err error
			switch rapid.IntRange(0, 2).Draw(t, "what") {
			case 0:
				err = MovePoint(j, p, PartPoint{OutlinePoint, i}, place)
			case 1:
				var q PartPoint
				if q, err = AddPoint(j, p, i, place); err == nil {
					again := j.Clone()
					if RemovePoint(again, p, q) == nil {
						assert.Equal(t, was.Outline, again.Envelopes[0].Outline)
					}
				}
			default:
				err = RemovePoint(j, p, PartPoint{OutlinePoint, i})
			}
			if err != nil && !assert.Equal(t, was, copied(j, p)) {
				t.Fatal("a refusal changed it")
			}
			if _, _, ok := job.Crossing(e.Outline); !ok {
				t.Fatalf("it crosses itself: %v", e.Outline)
			}
		}
	})
}

func TestEndsOfAnOutlinedPart(t *testing.T) {
	j, p, e := shaped(t, func(j *job.Job) (Part, error) {
		return AddOutline(j, "Guard", "rear", []job.Point2{{0, 600}, {100, 600}, {100, 700}}, 200, 300)
	})
	at, ok := PointAt(e, PartPoint{ToEnd, 0})
	require.True(t, ok)
	assert.Equal(t, r3.Vec{X: 300, Y: 50, Z: 650}, at)
	require.NoError(t, MovePoint(j, p, PartPoint{ToEnd, 0}, r3.Vec{X: 340, Y: 9, Z: 9}))
	assert.Equal(t, []float64{200, 340}, []float64{*e.From, *e.To})
	assert.ErrorContains(t, MovePoint(j, p, PartPoint{FromEnd, 0}, r3.Vec{X: 350}), "no thickness")
	assert.Equal(t, 200.0, *e.From)
	assert.ErrorContains(t, MovePoint(j, p, PartPoint{OutlinePoint, 0}, r3.Vec{Y: 100.2, Z: 600}), "one place")
}

func TestPointsOfPipesAndBalls(t *testing.T) {
	j, p, e := shaped(t, func(j *job.Job) (Part, error) {
		return AddPipe(j, "Exhaust", []r3.Vec{{X: 900, Y: -300, Z: 600}, {X: 0, Y: -330, Z: 800}}, 76)
	})
	q, err := AddPoint(j, p, 0, r3.Vec{X: 500, Y: -310, Z: 700})
	require.NoError(t, err)
	require.NoError(t, MovePoint(j, p, q, r3.Vec{X: 500, Y: -310, Z: 750}))
	assert.Equal(t, job.Point{500, -310, 750}, e.Path[1])
	assert.ErrorContains(t, MovePoint(j, p, q, e.Path[2].Vec()), "one place")
	require.NoError(t, RemovePoint(j, p, q))
	assert.Len(t, e.Path, 2)
	assert.ErrorContains(t, RemovePoint(j, p, PartPoint{PathPoint, 0}), "at least two points")

	ball, err := AddBall(j, "Pot", r3.Vec{X: -700, Z: 600}, 100)
	require.NoError(t, err)
	e = &j.Envelopes[ball.Index]
	require.NoError(t, MovePoint(j, ball, PartPoint{Middle, 0}, r3.Vec{X: -650, Z: 600}))
	require.NoError(t, MovePoint(j, ball, PartPoint{Rim, 0}, r3.Vec{X: -650, Y: 120, Z: 600}))
	assert.Equal(t, job.Point{-650, 0, 600}, *e.Centre)
	assert.Equal(t, 120.0, *e.Radius)
	assert.ErrorContains(t, RemovePoint(j, ball, PartPoint{Middle, 0}), "Only a corner")
	_, err = AddPoint(j, ball, 0, r3.Vec{})
	assert.ErrorContains(t, err, "outline or a pipe")
}

func TestMeasuredPartsKeepTheirPoints(t *testing.T) {
	j, p, _ := shaped(t, func(j *job.Job) (Part, error) {
		return AddOutline(j, "Rail", "side", []job.Point2{{0, 600}, {100, 600}, {100, 700}, {0, 700}}, 200, 300)
	})
	require.NoError(t, SetPartMeasured(j, p, true))
	was := copied(j, p)
	require.ErrorContains(t, MovePoint(j, p, PartPoint{OutlinePoint, 1}, r3.Vec{X: 120, Z: 600}), "press Free to move it")
	_, err := AddPoint(j, p, 0, r3.Vec{X: 50, Z: 590})
	require.ErrorContains(t, err, "press Free to move it")
	require.ErrorContains(t, RemovePoint(j, p, PartPoint{OutlinePoint, 1}), "press Free to move it")
	assert.Equal(t, was, copied(j, p))
	assert.ErrorIs(t, MovePoint(j, Part{Links, 0}, PartPoint{}, r3.Vec{}), errGone)
}

func TestDrawnParts(t *testing.T) {
	j := sprayer(t)
	p, err := AddDrawn(j, Drawn{Kind: "box", Plane: "side", Points: []r3.Vec{{X: -900, Y: 7, Z: 560}, {X: -500, Y: 7, Z: 760}}, From: -100, To: 100}, [2]string{"80", "-120"})
	require.NoError(t, err)
	e := &j.Envelopes[p.Index]
	assert.Equal(t, job.Point{-900, -120, 560}, *e.Min)
	assert.Equal(t, job.Point{-500, 80, 760}, *e.Max)
	assert.Equal(t, "-120", e.Given["min.y"].Typed)
	assert.Equal(t, "80", e.Given["max.y"].Typed)

	p, err = AddDrawn(j, Drawn{Kind: "prism", Plane: "rear", Points: []r3.Vec{{Y: 100, Z: 600}, {Y: 300, Z: 600}, {Y: 200, Z: 700}}, From: -50, To: 60}, [2]string{})
	require.NoError(t, err)
	e = &j.Envelopes[p.Index]
	assert.Equal(t, []job.Point2{{100, 600}, {300, 600}, {200, 700}}, e.Outline)
	assert.Equal(t, []float64{-50, 60}, []float64{*e.From, *e.To})
	assert.Empty(t, e.Given)

	p, err = AddDrawn(j, Drawn{Kind: "tube", Plane: "plan", Points: []r3.Vec{{X: 100, Y: 200}, {X: 400, Y: 250}}, From: 700}, [2]string{"", "60"})
	require.NoError(t, err)
	e = &j.Envelopes[p.Index]
	assert.Equal(t, []job.Point{{100, 200, 700}, {400, 250, 700}}, e.Path)
	assert.Equal(t, 60.0, *e.Outside)

	p, err = AddDrawn(j, Drawn{Kind: "ball", Plane: "side", Points: []r3.Vec{{X: 100, Z: 200}}, From: 30, Radius: 80}, [2]string{})
	require.NoError(t, err)
	assert.Equal(t, job.Point{100, 30, 200}, *j.Envelopes[p.Index].Centre)

	n := len(j.Envelopes)
	for _, d := range []Drawn{{Kind: "box"}, {Kind: "ball", Points: []r3.Vec{{}}}, {Kind: "tube", Points: []r3.Vec{{}, {X: 9}}},
		{Kind: "prism", Plane: "side", Points: []r3.Vec{{}, {X: 100}, {Z: 100}, {X: 100, Z: 100}}, To: 9}} {
		_, err := AddDrawn(j, d, [2]string{})
		assert.Error(t, err, d.Kind)
	}
	_, err = AddDrawn(j, Drawn{Kind: "box", Plane: "side", Points: []r3.Vec{{}, {X: 9, Z: 9}}, To: 9}, [2]string{"wide", ""})
	assert.ErrorContains(t, err, "wide")
	assert.Len(t, j.Envelopes, n)
}
