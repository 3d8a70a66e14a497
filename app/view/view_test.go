package view

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

var sizes = [3]Size{{624, 224}, {316, 224}, {624, 316}}

func demo(t testing.TB, name string) *study.Study {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	return study.Compile(j)
}

func at(t testing.TB, s *study.Study, left, right float64) *study.Position {
	t.Helper()
	p := s.At(left, right)
	require.Empty(t, p.Err)
	return p
}

func vec(t *rapid.T, name string) r3.Vec {
	g := rapid.Float64Range(-3000, 3000)
	return r3.Vec{X: g.Draw(t, name+"X"), Y: g.Draw(t, name+"Y"), Z: g.Draw(t, name+"Z")}
}

func someEye(t *rapid.T) Eye {
	return Eye{At: vec(t, "at"), Scale: rapid.Float64Range(LeastScale, MostScale).Draw(t, "scale")}
}

func somePlane(t *rapid.T) Plane { return Plane(rapid.IntRange(0, 2).Draw(t, "plane")) }

func TestProjectionsAreAFirstAngleDrawing(t *testing.T) {
	nose, left, up := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	for _, tc := range []struct {
		plane     Plane
		v         r3.Vec
		right, up float64
		depth     float64
	}{
		{Side, nose, 1, 0, 0}, {Side, up, 0, 1, 0}, {Side, left, 0, 0, -1},
		{Rear, left, -1, 0, 0}, {Rear, up, 0, 1, 0}, {Rear, nose, 0, 0, -1},
		{Plan, nose, 1, 0, 0}, {Plan, left, 0, 1, 0}, {Plan, up, 0, 0, 1},
	} {
		a, b := tc.plane.Project(tc.v)
		assert.Equal(t, [3]float64{tc.right, tc.up, tc.depth}, [3]float64{a + 0, b + 0, tc.plane.Depth(tc.v) + 0}, "%v %v", tc.plane, tc.v)
	}
}

func TestTransformThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := somePlane(t)
		tr := someEye(t).Transform(p, sizes[p])
		v := vec(t, "v")
		x, y := tr.Place(v)
		got := tr.Lift(v, x, y)
		if d := r3.Norm(r3.Sub(got, v)); d > 1e-8 {
			t.Fatalf("there and back moved by %g", d)
		}
		right, up := tr.ToWorld(17, 31)
		if x, y := tr.ToScreen(right, up); math.Hypot(x-17, y-31) > 1e-6 {
			t.Fatalf("back and there: %v %v", x, y)
		}
	})
}

func TestZoomKeepsThePlaceUnderThePointer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, e := somePlane(t), someEye(t)
		s := sizes[p]
		x, y := rapid.Float64Range(0, s.W).Draw(t, "x"), rapid.Float64Range(0, s.H).Draw(t, "y")
		z := e.ZoomAt(p, s, x, y, rapid.Float64Range(0.01, 100).Draw(t, "factor"))
		if z.Scale < LeastScale || z.Scale > MostScale {
			t.Fatalf("scale %v", z.Scale)
		}
		a0, b0 := e.Transform(p, s).ToWorld(x, y)
		a1, b1 := z.Transform(p, s).ToWorld(x, y)
		if math.Hypot(a0-a1, b0-b1) > 1e-7 {
			t.Fatalf("moved %v %v", a0-a1, b0-b1)
		}
	})
}

func TestPanMovesEveryViewThatSharesAnAxis(t *testing.T) {
	e := Eye{Scale: 0.5}
	v := r3.Vec{X: 100, Y: 200, Z: 300}
	x0, y0 := e.Transform(Side, sizes[Side]).Place(v)
	px, _ := e.Transform(Plan, sizes[Plan]).Place(v)
	e2 := e.Pan(Side, 10, 5)
	x1, y1 := e2.Transform(Side, sizes[Side]).Place(v)
	assert.InDeltaSlice(t, []float64{x0 + 10, y0 + 5}, []float64{x1, y1}, 1e-9)
	qx, _ := e2.Transform(Plan, sizes[Plan]).Place(v)
	assert.InDelta(t, px+10, qx, 1e-9)
}

func TestStepIsAtLeastOneUnit(t *testing.T) {
	for _, tc := range []struct {
		scale float64
		inch  bool
		want  float64
	}{
		{1, false, 1}, {0.999, false, 2}, {0.5, false, 2}, {0.213, false, 5}, {0.1, false, 10}, {0.02, false, 10}, {20, false, 1},
		{1, true, 25.4 / 16}, {0.213, true, 25.4 / 4}, {0.1, true, 25.4 / 2},
	} {
		assert.Equal(t, tc.want, Step(tc.scale, tc.inch), "%v %v", tc.scale, tc.inch)
	}
}

func TestFitFramesTheLinksOfTheDemos(t *testing.T) {
	for _, name := range assets.Demos() {
		s := demo(t, name)
		e := Fit(s, sizes)
		for p := Side; p <= Plan; p++ {
			tr := e.Transform(p, sizes[p])
			for i := range s.Parts.Job.Links {
				for _, q := range []job.Point{s.Parts.Job.Links[i].Frame, s.Parts.Job.Links[i].Axle} {
					x, y := tr.Place(q.Vec())
					assert.True(t, x > 0 && y > 0 && x < sizes[p].W && y < sizes[p].H, "%s %s", name, s.Parts.Job.Links[i].Name)
				}
			}
		}
		all := FitAll(s, sizes)
		assert.Less(t, all.Scale, e.Scale, name)
		sc := New(Input{Plane: Rear, Now: s})
		for _, side := range []job.Side{job.Left, job.Right} {
			tyre, ok := sc.tyre(side)
			require.True(t, ok)
			b := bounds(sc.screen(all.Transform(Rear, sizes[Rear]), silhouette(Rear, &tyre)))
			assert.True(t, box{0, 0, sizes[Rear].W, sizes[Rear].H}.holds(b), name)
		}
	}
	// The rear view sets it: 316 units over the links' 1184 mm of width and 150 mm each side.
	assert.InDelta(t, 316.0/1484, Fit(demo(t, "orchard-sprayer"), sizes).Scale, 1e-9)
}

func TestFitOfNothingIsAView(t *testing.T) {
	for _, s := range []*study.Study{nil, {}, {Parts: job.Expand(&job.Job{Title: "empty"})}} {
		e := Fit(s, sizes)
		assert.True(t, e.Scale >= LeastScale && e.Scale <= MostScale)
		assert.False(t, math.IsNaN(e.At.X+e.At.Y+e.At.Z))
		assert.NotPanics(t, func() { New(Input{Now: s}).Picture(e.Transform(Side, sizes[Side]), paper.Measure, nil) })
	}
	assert.Positive(t, Fit(demo(t, "orchard-sprayer"), [3]Size{}).Scale)
}

func TestClipKeepsWhatIsInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.Float64Range(-50, 150)
		x1, y1, x2, y2 := g.Draw(t, "x1"), g.Draw(t, "y1"), g.Draw(t, "x2"), g.Draw(t, "y2")
		a, b, c, d, ok := Clip(0, 0, 100, 100, x1, y1, x2, y2)
		in := func(x, y float64) bool { return x >= -1e-9 && y >= -1e-9 && x <= 100+1e-9 && y <= 100+1e-9 }
		if ok && (!in(a, b) || !in(c, d)) {
			t.Fatalf("outside: %v %v %v %v", a, b, c, d)
		}
		for k := 0.0; k <= 1; k += 0.125 {
			x, y := x1+k*(x2-x1), y1+k*(y2-y1)
			if x > 0 && y > 0 && x < 100 && y < 100 && !ok {
				t.Fatalf("lost %v %v", x, y)
			}
		}
	})
	_, _, _, _, ok := Clip(0, 0, 1, 1, math.NaN(), 0, 1, 1)
	assert.False(t, ok)
}

func TestPressTakesTheNearest(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	for p := Side; p <= Plan; p++ {
		sc := New(Input{Plane: p, Now: s, At: at(t, s, 60, -20)})
		hs := sc.Handles(Fit(s, sizes).Transform(p, sizes[p]))
		require.NotEmpty(t, hs)
		rapid.Check(t, func(t *rapid.T) {
			x, y := rapid.Float64Range(0, sizes[p].W).Draw(t, "x"), rapid.Float64Range(0, sizes[p].H).Draw(t, "y")
			near := Near(p, hs, x, y)
			least, wheel := math.Inf(1), false
			for _, h := range hs {
				if h.Wheel == job.Single || h.box[0] == h.box[2] {
					least = math.Min(least, math.Hypot(h.X-x, h.Y-y))
				} else if h.apart(x, y) <= Reach {
					wheel = true
				}
			}
			switch {
			case len(near) == 0:
				if least <= Reach || wheel {
					t.Fatalf("nothing taken %v from a pivot", least)
				}
			case least <= Reach:
				if math.Hypot(near[0].X-x, near[0].Y-y) > least+0.5 {
					t.Fatalf("took %+v, nearest is %v off", near[0], least)
				}
			case near[0].Wheel == job.Single:
				t.Fatalf("took a pivot %v off", least)
			}
		})
	}
}

func TestTwinsInOnePlaceTakeTheNearOne(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	sc := New(Input{Plane: Side, Now: s, At: at(t, s, 0, 0)})
	tr := Fit(s, sizes).Transform(Side, sizes[Side])
	x, y := tr.Place(s.Parts.Job.Links[0].Frame.Vec())
	near := Near(Side, sc.Handles(tr), x, y)
	require.GreaterOrEqual(t, len(near), 2)
	assert.Equal(t, edit.Pivot{List: edit.Links, Index: 0, End: edit.FrameEnd, Side: job.Right}, near[0].Pivot)
	assert.Equal(t, job.Left, near[1].Pivot.Side)
}

func TestTyresHaveGripsAtTheEdgeThatReachInward(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	sc := New(Input{Plane: Rear, Now: s, At: at(t, s, 0, 0)})
	tr := Fit(s, sizes).Transform(Rear, sizes[Rear])
	for _, tc := range []struct {
		x    float64
		side job.Side
	}{{2, job.Left}, {30, job.Left}, {314, job.Right}, {286, job.Right}} {
		_, y := tr.Place(r3.Vec{Z: 445})
		near := Near(Rear, sc.Handles(tr), tc.x, y)
		require.NotEmpty(t, near, tc.x)
		assert.Equal(t, tc.side, near[0].Wheel, tc.x)
	}
	all := sc.Handles(FitAll(s, sizes).Transform(Rear, sizes[Rear]))
	assert.Equal(t, job.Right, all[len(all)-1].Wheel)
	for p := Side; p <= Plan; p += 2 {
		for _, h := range New(Input{Plane: p, Now: s}).Handles(tr) {
			assert.Equal(t, job.Single, h.Wheel)
		}
	}
}

// A pivot on the axle, dragged where the axle stands, follows the pointer: carried by the pose the new place is drawn under it.
func TestDragOfACarriedPivotFollowsThePointer(t *testing.T) {
	s := demo(t, "rescue-tender")
	pos := at(t, s, 150, -140)
	for p := Side; p <= Plan; p++ {
		sc := New(Input{Plane: p, Now: s, At: pos})
		tr := Fit(s, sizes).Transform(p, sizes[p])
		for _, h := range sc.Handles(tr) {
			if h.Wheel != job.Single {
				continue
			}
			d := sc.NewDrag(h, h.X+3, h.Y-2)
			ride := d.ride
			assert.Equal(t, ride, d.To(tr, h.X+3, h.Y-2, 1), "not moved")
			to := d.To(tr, h.X+43, h.Y-32, 0)
			shown := to
			if h.Pivot.End == edit.AxleEnd && !h.Ride {
				shown = sc.carry(to)
			}
			x, y := tr.Place(shown)
			assert.InDeltaSlice(t, []float64{h.X + 40, h.Y - 30}, []float64{x, y}, 1e-6)
			moved := r3.Sub(to, ride)
			switch p { // the third axis stays to the last digit
			case Side:
				assert.Zero(t, moved.Y)
			case Rear:
				assert.Zero(t, moved.X)
			default:
				assert.Zero(t, moved.Z)
			}
			step := d.To(tr, h.X+43, h.Y-32, 5)
			for k, v := range []float64{step.X, step.Y, step.Z} {
				was := []float64{ride.X, ride.Y, ride.Z}[k]
				assert.True(t, v == was || math.Mod(v, 5) == 0, "%v", v)
			}
		}
	}
}

func TestRidePlacesAreShownWhereTheAxleIsElsewhere(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	count := func(pos *study.Position) (rides int) {
		sc := New(Input{Plane: Side, Now: s, At: pos})
		for _, h := range sc.Handles(Eye{Scale: 0.2}.Transform(Side, sizes[Side])) {
			if h.Ride {
				assert.Equal(t, edit.AxleEnd, h.Pivot.End)
				rides++
			}
		}
		return rides
	}
	assert.Zero(t, count(at(t, s, 0, 0)))
	assert.Equal(t, 8, count(at(t, s, 109, 109))) // four links, two struts, hose, pinion
}

func wordsIn(p drawing.Picture) (all []string) {
	for _, it := range p.Items {
		if it.Kind == drawing.Text {
			all = append(all, it.Words)
		}
	}
	return all
}

// Everything a picture must be whatever it shows.
func checkPicture(t *testing.T, p drawing.Picture, what string) {
	t.Helper()
	layer := drawing.Layer(0)
	var boxes []box
	for _, it := range p.Items {
		require.GreaterOrEqual(t, it.Layer, layer, what)
		layer = it.Layer
		for _, q := range it.Points {
			require.False(t, math.IsNaN(q.X+q.Y) || math.Abs(q.X)+math.Abs(q.Y) > 1e4, "%s: %+v", what, it)
		}
		if it.Kind == drawing.Text {
			b := box{it.Points[0].X, it.Points[0].Y, it.Points[0].X + it.Points[1].X, it.Points[0].Y + it.Points[1].Y}
			assert.GreaterOrEqual(t, it.Size, 15.0, what)
			assert.True(t, box{0, 0, p.Width, p.Height}.holds(b), "%s: %q leaves the view", what, it.Words)
			for k, o := range boxes {
				assert.False(t, o.overlaps(b), "%s: %q stands on word %d", what, it.Words, k)
			}
			boxes = append(boxes, b)
			low := strings.ToLower(it.Words)
			for _, never := range []string{"pose", "envelope", "heave", "safe", "misalignment", "ghost"} {
				assert.NotContains(t, low, never)
			}
		}
	}
}

func TestPicturesOfTheDemos(t *testing.T) {
	for _, name := range assets.Demos() {
		s := demo(t, name)
		for _, lr := range [][2]float64{{0, 0}, {80, 80}, {-110, -110}, {140, -150}, {-150, 140}} {
			pos := at(t, s, lr[0], lr[1])
			held := edit.Pivot{List: edit.Links, Index: 0, End: edit.AxleEnd, Side: job.Right}
			for k, e := range []Eye{Fit(s, sizes), FitAll(s, sizes), GoTo(r3.Vec{X: -200, Z: 500}), {At: r3.Vec{Z: 500}, Scale: MostScale}} {
				in := Input{Now: s, At: pos, Demo: true, Held: &held, Selected: &edit.Part{List: edit.Envelopes, Index: 1}}
				for _, v := range Sheet(in, e, sizes, paper.Measure) {
					checkPicture(t, v.Picture, fmt.Sprint(name, lr, k))
					assert.Contains(t, wordsIn(v.Picture), "DEMO, not your vehicle")
				}
			}
		}
	}
}

func TestCaptionsSayWhichViewItIs(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	v := Sheet(Input{Now: s, At: at(t, s, 0, 0)}, Fit(s, sizes), sizes, paper.Measure)
	assert.Subset(t, wordsIn(v[Side].Picture), []string{"SIDE", "NOSE", "driveshaft"})
	assert.Subset(t, wordsIn(v[Rear].Picture), []string{"REAR", "from behind", "LEFT", "RIGHT"})
	assert.Subset(t, wordsIn(v[Plan].Picture), []string{"PLAN", "LEFT", "NOSE"})
	for i := range v {
		assert.NotContains(t, wordsIn(v[i].Picture), "DEMO, not your vehicle")
	}
	x := func(word string) float64 {
		for _, it := range v[Rear].Picture.Items {
			if it.Words == word {
				return it.Points[0].X
			}
		}
		return math.NaN()
	}
	assert.Less(t, x("LEFT"), x("RIGHT"))
}

func TestHitsAreStripedAndSaidInWords(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	for _, inch := range []bool{false, true} {
		for _, v := range Sheet(Input{Now: s, At: at(t, s, 109.3, 109.3), Inch: inch}, Fit(s, sizes), sizes, paper.Measure) {
			want := "hits 29 mm"
			if inch {
				want = "hits 1 1/8 in"
			}
			assert.Contains(t, wordsIn(v.Picture), want)
			n := 0
			for _, it := range v.Picture.Items {
				if it.Kind == drawing.Stripes {
					n++
					assert.Equal(t, "Panhard rod / Tank shelf", it.Name)
					assert.GreaterOrEqual(t, across(it.Points), 11.5)
				}
			}
			assert.Equal(t, 1, n)
		}
	}
	for _, v := range Sheet(Input{Now: s, At: at(t, s, 0, 0)}, Fit(s, sizes), sizes, paper.Measure) {
		for _, it := range v.Picture.Items {
			assert.NotEqual(t, drawing.Stripes, it.Kind)
		}
	}
}

func TestGapIsADimensionBetweenItsTwoPoints(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	pos := at(t, s, 0, 0)
	pair := -1
	for i, p := range s.Gaps.Pairs {
		if s.Gaps.Parts[p.A].Name+s.Gaps.Parts[p.B].Name == "Panhard rodTank shelf" {
			pair = i
		}
	}
	require.GreaterOrEqual(t, pair, 0)
	g := pos.Gaps[pair]
	e := GoTo(g.PointA)
	p := New(Input{Plane: Side, Now: s, At: pos, ShowGap: true, Pair: pair}).Picture(e.Transform(Side, sizes[Side]), paper.Measure, nil)
	assert.Contains(t, wordsIn(p), "35 mm")
	ax, ay := e.Transform(Side, sizes[Side]).Place(g.PointA)
	bx, by := e.Transform(Side, sizes[Side]).Place(g.PointB)
	found := false
	for _, it := range p.Items {
		if it.Kind == drawing.Line && it.Stroke == ink.Measure && len(it.Points) == 2 {
			found = found || math.Hypot(it.Points[0].X-ax, it.Points[0].Y-ay)+math.Hypot(it.Points[1].X-bx, it.Points[1].Y-by) < 1e-6
		}
	}
	assert.True(t, found)
}

func TestSolidIsThereOpenCanMove(t *testing.T) {
	yes, no := true, false
	for _, tc := range []struct {
		e    job.Envelope
		want ink.Role
	}{{job.Envelope{}, ink.None}, {job.Envelope{Measured: &yes}, ink.PartFill}, {job.Envelope{Measured: &no}, ink.None}, {job.Envelope{Measured: &yes, Movable: true}, ink.None}} {
		assert.Equal(t, tc.want, fillOf(&tc.e))
	}
}

func TestPencilLineShowsWhatDiffers(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	j := s.Job.Clone()
	for i := range j.Links {
		if j.Links[i].Name == "Panhard rod" {
			j.Links[i].Frame[2] -= 55
			j.Links[i].Axle[2] -= 55
		}
	}
	other := study.Compile(j)
	in := Input{Plane: Rear, Now: s, At: at(t, s, 0, 0), Pencils: []Pencil{{Study: other, At: at(t, other, 0, 0)}}}
	var names []string
	for _, it := range New(in).Picture(Fit(s, sizes).Transform(Rear, sizes[Rear]), paper.Measure, nil).Items {
		if it.Kind == drawing.Dashed {
			names = append(names, it.Name)
		}
	}
	assert.Equal(t, []string{"Panhard rod"}, names)
	in.Pencils = []Pencil{{Study: s, At: in.At}}
	for _, it := range New(in).Picture(Fit(s, sizes).Transform(Rear, sizes[Rear]), paper.Measure, nil).Items {
		assert.NotEqual(t, drawing.Dashed, it.Kind)
	}
}

func TestAJobThatCannotMoveIsDrawnAllTheSame(t *testing.T) {
	j := demo(t, "orchard-sprayer").Job.Clone()
	j.Links = j.Links[:1]
	s := study.Compile(j)
	require.NotEmpty(t, s.Refusal)
	p := s.At(0, 0)
	for _, v := range Sheet(Input{Now: s, At: p}, Fit(s, sizes), sizes, paper.Measure) {
		checkPicture(t, v.Picture, "refused")
	}
	assert.NotEmpty(t, New(Input{Plane: Side, Now: s, At: p}).Handles(Fit(s, sizes).Transform(Side, sizes[Side])))
}

func TestWordsStayWhereTheyWere(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	tr := Fit(s, sizes).Transform(Side, sizes[Side])
	var m Memory
	place := func(p drawing.Picture) map[string]point {
		out := map[string]point{}
		for _, it := range p.Items {
			if it.Kind == drawing.Text {
				out[it.Words] = it.Points[0]
			}
		}
		return out
	}
	was := place(New(Input{Plane: Side, Now: s, At: at(t, s, 0, 0)}).Picture(tr, paper.Measure, &m))
	for h := 2.0; h < 30; h += 2 {
		now := place(New(Input{Plane: Side, Now: s, At: at(t, s, h, h)}).Picture(tr, paper.Measure, &m))
		for w, p := range now {
			if q, ok := was[w]; ok {
				assert.Less(t, math.Hypot(p.X-q.X, p.Y-q.Y), 6.0, "%q jumped at %v", w, h)
			}
		}
		was = now
	}
}

func BenchmarkThreeViews(b *testing.B) {
	s := demo(b, "orchard-sprayer")
	pos := at(b, s, 109, 109)
	e := Fit(s, sizes)
	measure := func(w string, size float64, bold bool) (float64, float64) {
		return float64(len(w)) * size / 2, size * 1.3
	}
	b.ReportAllocs()
	for b.Loop() {
		Sheet(Input{Now: s, At: pos, Demo: true}, e, sizes, measure)
	}
}
