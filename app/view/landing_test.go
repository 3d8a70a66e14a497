package view

import (
	"math"
	"strings"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// frameDrag is a drag of a pivot of the frame from a place, taken in its middle.
func frameDrag(p Plane, t Transform, at r3.Vec) Drag {
	s := Scene{plane: p}
	x, y := t.Place(at)
	return s.NewDrag(Handle{At: at, X: x, Y: y}, x, y)
}

func TestLandingNeverChangesTheThirdAxisAndStaysNearThePointer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := somePlane(t)
		eye := Eye{At: vec(t, "at"), Scale: rapid.Float64Range(0.1, 5).Draw(t, "scale")}
		tr := eye.Transform(p, sizes[p])
		at := vec(t, "pivot")
		d := frameDrag(p, tr, at)
		var list []edit.Landing
		for range rapid.IntRange(0, 6).Draw(t, "n") {
			to := r3.Add(at, r3.Scale(0.1, vec(t, "landing")))
			kind := rapid.SampledFrom([]edit.Lands{edit.LandLevel, edit.LandFace, edit.LandOther, edit.LandLength}).Draw(t, "kind")
			l := edit.Landing{Kind: kind, Axis: edit.Z, Value: to.Z, At: to, Length: rapid.Float64Range(10, 900).Draw(t, "length")}
			if kind == edit.LandFace {
				l.Axis = rapid.SampledFrom([]edit.Axis{edit.X, edit.Y, edit.Z}).Draw(t, "axis")
				l.Value = coord(to, l.Axis)
				l.Face = [2]job.Point{{-1e4, -1e4, -1e4}, {1e4, 1e4, 1e4}}
			}
			list = append(list, l)
		}
		x, y := tr.Place(at)
		x += rapid.Float64Range(-150, 150).Draw(t, "dx")
		y += rapid.Float64Range(-150, 150).Draw(t, "dy")
		step := Step(eye.Scale, false)
		free, raw := d.To(tr, x, y, step), d.To(tr, x, y, 0)
		got := d.Land(list, tr, x, y, step)
		if got.N == 0 && got.To != free {
			t.Fatalf("landed on nothing and yet not on whole steps: %v, %v", got.To, free)
		}
		axes := p.coordinates()
		for a := edit.X; a <= edit.Z; a++ {
			if a != axes[0] && a != axes[1] && coord(got.To, a) != coord(at, a) {
				t.Fatalf("the third axis went from %v to %v", at, got.To)
			}
		}
		if far := apartIn(axes, got.To, raw); far > (1.5*landNear+landNear)/eye.Scale+2*step {
			t.Fatalf("%.1f mm from the pointer at %.2f units a mm", far, eye.Scale)
		}
		for _, i := range got.On[:got.N] {
			if !p.Holds(&list[i], got.To) {
				t.Fatalf("said to stand on %+v at %v", list[i], got.To)
			}
		}
		for _, a := range axes {
			if coord(free, a) == coord(at, a) && got.N > 0 && list[got.On[0]].Kind != edit.LandOther && coord(got.To, a) != coord(at, a) {
				t.Fatalf("an axis the hand had not moved moved: %v to %v", at, got.To)
			}
		}
		if n := testing.AllocsPerRun(3, func() { d.Land(list, tr, x, y, step) }); n > 0 {
			t.Fatalf("%v allocations", n)
		}
	})
}

func TestLandingOnEachKind(t *testing.T) {
	tr := Eye{Scale: 0.2}.Transform(Side, sizes[Side])
	at := r3.Vec{X: 100, Y: 40, Z: 300}
	d := frameDrag(Side, tr, at)
	to := func(x, z float64) (float64, float64) { return tr.Place(r3.Vec{X: x, Y: 40, Z: z}) }
	level := edit.Landing{Kind: edit.LandLevel, Axis: edit.Z, Value: 371.5, At: r3.Vec{X: -500, Z: 371.5}}
	face := edit.Landing{Kind: edit.LandFace, Axis: edit.X, Value: 212.25, Face: [2]job.Point{{200, 0, 350}, {200, 80, 450}}}
	long := edit.Landing{Kind: edit.LandLength, At: r3.Vec{X: -300, Y: 0, Z: 300}, Length: 500}
	other := edit.Landing{Kind: edit.LandOther, At: r3.Vec{X: 20.5, Y: -1, Z: 333.25}}
	for _, tc := range []struct {
		what string
		list []edit.Landing
		x, z float64
		want r3.Vec
		on   []int
	}{
		{"level", []edit.Landing{level}, 160, 380, r3.Vec{X: 160, Y: 40, Z: 371.5}, []int{0}},
		{"too far to be level", []edit.Landing{level}, 160, 410, r3.Vec{X: 160, Y: 40, Z: 410}, nil},
		{"face and level", []edit.Landing{level, face}, 220, 365, r3.Vec{X: 212.25, Y: 40, Z: 371.5}, []int{1, 0}},
		{"beside the face", []edit.Landing{face}, 220, 600, r3.Vec{X: 220, Y: 40, Z: 600}, nil},
		{"the nearer of two levels", []edit.Landing{level, {Kind: edit.LandLevel, Axis: edit.Z, Value: 384}}, 160, 380, r3.Vec{X: 160, Y: 40, Z: 384}, []int{1}},
		{"length and level", []edit.Landing{long, level}, 190, 375, r3.Vec{X: -300 + math.Sqrt(500*500-40*40-71.5*71.5), Y: 40, Z: 371.5}, []int{1, 0}},
		{"the other side's place", []edit.Landing{level, other}, 30, 345, r3.Vec{X: 20.5, Y: 40, Z: 333.25}, []int{1}},
		{"not moved up: still level, not lifted", []edit.Landing{{Kind: edit.LandLevel, Axis: edit.Z, Value: 300}, {Kind: edit.LandLevel, Axis: edit.Z, Value: 302}}, 160, 300, r3.Vec{X: 160, Y: 40, Z: 300}, []int{0}},
		{"what it stood on does not hold it", []edit.Landing{{Kind: edit.LandLevel, Axis: edit.Z, Value: 300}}, 100, 305, r3.Vec{X: 100, Y: 40, Z: 305}, nil},
	} {
		x, y := to(tc.x, tc.z)
		got := d.Land(tc.list, tr, x, y, 5)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(got.To, tc.want)), 1e-5, "%s: %v, not %v", tc.what, got.To, tc.want)
		assert.Equal(t, tc.on, append([]int(nil), got.On[:got.N]...), tc.what)
	}
	x, y := to(220, 375)
	off := d.Land([]edit.Landing{long}, tr, x, y, 5)
	assert.InDelta(t, 500, r3.Norm(r3.Sub(off.To, long.At)), 1e-5, "straight out from the other end")
}

func TestLinesOfALandingStartAndEndThere(t *testing.T) {
	at := r3.Vec{X: 10, Y: 20, Z: 30}
	level := edit.Landing{Kind: edit.LandLevel, At: r3.Vec{X: 500, Z: 30}}
	assert.Equal(t, [][2]r3.Vec{{level.At, at}}, Side.Lines(&level, at))
	face := edit.Landing{Kind: edit.LandFace, Axis: edit.Y, Value: 20, Face: [2]job.Point{{0, 42, 0}, {90, 42, 60}}}
	assert.Equal(t, [][2]r3.Vec{{{X: 0, Y: 42, Z: 30}, {X: 90, Y: 42, Z: 30}}, {{X: 10, Y: 42, Z: 30}, at}}, Plan.Lines(&face, at), "at the pivot's own height")
}

func TestReadoutSaysWhereHowLongAndWhatIsInTheWay(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	was := s.Job
	now := was.Clone()
	var p edit.Pivot
	for _, q := range edit.Pivots(now) {
		if edit.Name(now, q) == "Panhard rod, frame end" {
			p = q
		}
	}
	require.NoError(t, edit.SetMeasured(now, p, false))
	require.NoError(t, edit.Move(now, p, r3.Vec{X: -230, Y: -412, Z: 500}))
	require.NoError(t, edit.AddDatum(now, edit.DatumText{Name: "floor", Z: "-5"}))
	require.NoError(t, edit.SetDatum(now, p, edit.Z, "floor"))
	for _, inch := range []bool{false, true} {
		full := study.Compile(now)
		scene := New(Input{Plane: Rear, Now: full, At: at(t, full, 0, 0), Held: &p, Inch: inch})
		text := scene.Readout(was, now, p, All)
		require.Len(t, text, 4, "%q", text)
		if !inch {
			assert.Equal(t, "X −230  Y −412  Z 505 from floor mm", text[0])
			assert.Equal(t, "length 882.2, 19.1 shorter", text[1])
			assert.Equal(t, "0.0 deg from level", text[2])
			assert.Regexp(t, `^(gap|tight:) \d+ mm to `, text[3])
		} else {
			assert.True(t, strings.HasPrefix(text[0], "X −9.055  Y −16.22 "), text[0])
			assert.Contains(t, text[1], "0.753 shorter")
		}
		assert.Len(t, scene.Readout(was, now, p, Short), 3)
		assert.Equal(t, text[1:2], scene.Readout(was, now, p, Least)[:1], "the card says where it is")
	}
	// twins are one member: pushed into the rail it says so whichever the hand took
	full := at(t, s, 109, 109)
	scene := New(Input{Plane: Side, Now: s, At: full, Held: &p})
	assert.Contains(t, strings.Join(scene.Readout(was, was, p, Short), "; "), "hits Tank shelf, 29 mm in")
	assert.Empty(t, scene.Readout(was, was, edit.Pivot{List: edit.Links, Index: 99}, All))
}

func BenchmarkLandAndReadout(b *testing.B) {
	s := demo(b, "orchard-sprayer")
	var p edit.Pivot
	for _, q := range edit.Pivots(s.Job) {
		if edit.Name(s.Job, q) == "Panhard rod, frame end" {
			p = q
		}
	}
	tr := Fit(s, sizes).Transform(Rear, sizes[Rear])
	scene := New(Input{Plane: Rear, Now: s, At: at(b, s, 0, 0), Held: &p})
	place, _ := edit.At(s.Job, p)
	d := frameDrag(Rear, tr, place)
	list := edit.Landings(s.Job, p, edit.LandAll, math.NaN())
	x, y := tr.Place(place)
	for b.Loop() {
		d.Land(list, tr, x+15, y+15, 5)
		scene.Readout(s.Job, s.Job, p, All)
	}
}
