package view

import (
	"math"
	"testing"

	"axleloft/app/edit"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func TestPointsOfAnOutlineAreItsCornersInItsViewAndItsEndsInTheOthers(t *testing.T) {
	from, to := -200.0, 100.0
	j := &job.Job{Envelopes: []job.Envelope{{Name: "Guard", Kind: "prism", Plane: "side", Outline: []job.Point2{{0, 600}, {400, 600}, {400, 800}}, From: &from, To: &to}}}
	part := edit.Part{List: edit.Envelopes}
	kinds := func(p Plane) (out []edit.PointKind) {
		for _, h := range AppendPointHandles(nil, j, part, Transform{Plane: p, Scale: 1}) {
			out = append(out, h.Kind)
		}
		return out
	}
	assert.Equal(t, []edit.PointKind{edit.OutlinePoint, edit.OutlinePoint, edit.OutlinePoint}, kinds(Side))
	assert.Equal(t, []edit.PointKind{edit.FromEnd, edit.ToEnd}, kinds(Rear))
	assert.Equal(t, []edit.PointKind{edit.FromEnd, edit.ToEnd}, kinds(Plan))
	assert.Empty(t, AppendPointHandles(nil, j, edit.Part{List: edit.Envelopes, Index: 1}, Transform{Scale: 1}))
	assert.Empty(t, AppendPointHandles(nil, j, edit.Part{List: edit.Links}, Transform{Scale: 1}))
	_, ok := EdgeAt(j, part, Transform{Plane: Plan, Scale: 1}, 200, 0, 30)
	assert.False(t, ok, "only where it was drawn")
	words := PointWords(Side, j, part, PointHandle{PartPoint: edit.PartPoint{Kind: edit.OutlinePoint, Index: 1}}, false)
	assert.Equal(t, []string{"X 400  Z 600 mm", "edges 400 and 200 mm"}, words)
	words = PointWords(Rear, j, part, PointHandle{PartPoint: edit.PartPoint{Kind: edit.ToEnd}}, true)
	assert.Equal(t, []string{"from −7.874 to 3.937, 11.811 in"}, words)
}

// A place found on a pipe's run is on it, within reach of where it was asked for, and no nearer one lies on that twin's run.
func TestEdgesFoundAreNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string) float64 { return rapid.Float64Range(-300, 300).Draw(t, name) }
		outside := rapid.Float64Range(1, 80).Draw(t, "outside")
		e := job.Envelope{Kind: "tube", Outside: &outside, Pair: rapid.Bool().Draw(t, "pair")}
		for range rapid.IntRange(2, 5).Draw(t, "points") {
			e.Path = append(e.Path, job.Point{f("x"), f("y"), f("z")})
		}
		j := &job.Job{Envelopes: []job.Envelope{e}}
		tr := Transform{Plane: Plane(rapid.IntRange(0, 2).Draw(t, "plane")), Scale: rapid.Float64Range(0.1, 2).Draw(t, "scale"), Size: Size{W: 600, H: 300}}
		x, y, reach := f("px"), f("py"), rapid.Float64Range(1, 100).Draw(t, "reach")
		got, ok := EdgeAt(j, edit.Part{List: edit.Envelopes}, tr, x, y, reach)
		if !ok {
			return
		}
		off := math.Hypot(got.X-x, got.Y-y)
		if off > math.Max(reach, outside/2*tr.Scale)+1e-9 {
			t.Fatalf("%g away", off)
		}
		if px, py := tr.Place(got.At); math.Hypot(px-got.X, py-got.Y) > 1e-6 {
			t.Fatalf("%v is drawn at %g, %g, not %g, %g", got.At, px, py, got.X, got.Y)
		}
		at := PointHandle{Side: got.Side}.InFile(got.At)
		a, b := e.Path[got.Edge].Vec(), e.Path[got.Edge+1].Vec()
		if d := r3.Norm(r3.Sub(at, a)) + r3.Norm(r3.Sub(at, b)) - r3.Norm(r3.Sub(a, b)); d > 1e-6 {
			t.Fatalf("%g off its run", d)
		}
	})
}

func TestWholeStepsAlongAView(t *testing.T) {
	assert.Equal(t, r3.Vec{X: 10, Y: 3.3, Z: -20}, Side.Whole(r3.Vec{X: 12, Y: 3.3, Z: -18}, 10))
	assert.Equal(t, r3.Vec{X: 12, Y: 5, Z: -20}, Rear.Whole(r3.Vec{X: 12, Y: 3.3, Z: -18}, 5))
}

func TestHandlesCostNoAllocation(t *testing.T) {
	from, to, outside := -200.0, 100.0, 60.0
	j := &job.Job{Envelopes: []job.Envelope{
		{Kind: "box", Pair: true, Min: &job.Point{0, 100, 600}, Max: &job.Point{100, 200, 700}},
		{Kind: "prism", Plane: "side", Outline: []job.Point2{{0, 600}, {400, 600}, {400, 800}}, From: &from, To: &to},
		{Kind: "tube", Path: []job.Point{{0, 0, 600}, {400, 0, 600}, {400, 100, 700}}, Outside: &outside},
	}}
	list := make([]PointHandle, 0, 32)
	for i := range j.Envelopes {
		part, tr := edit.Part{List: edit.Envelopes, Index: i}, Transform{Plane: Side, Scale: 0.2, Size: Size{W: 600, H: 300}}
		assert.Zero(t, testing.AllocsPerRun(100, func() {
			list = AppendPointHandles(list[:0], j, part, tr)
			EdgeAt(j, part, tr, 100, 100, 7)
		}))
		assert.NotEmpty(t, list)
	}
}
