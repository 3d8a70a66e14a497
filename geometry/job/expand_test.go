package job_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func TestExpand(t *testing.T) {
	j := demo(t, "rescue-tender")
	x := job.Expand(j)
	require.Len(t, x.Job.Links, 4)
	assert.Equal(t, "Lower left", x.Job.Links[0].Name)
	assert.Equal(t, "Lower right", x.Job.Links[1].Name)
	assert.Equal(t, job.Point{1050, -437, 430}, x.Job.Links[1].Frame)
	assert.Equal(t, job.Point{0, -1, 0}, *x.Job.Links[1].FrameEnd.Bolt)
	assert.Equal(t, []job.Ref{{0, job.Left}, {0, job.Right}, {1, job.Left}, {1, job.Right}}, x.Links)
	assert.Equal(t, []job.Ref{{0, job.Single}}, x.Lines)
	assert.Equal(t, "Rail ahead right", x.Job.Envelopes[1].Name)
	assert.Equal(t, -475.0, *x.Job.Envelopes[1].From)
	assert.Equal(t, -400.0, *x.Job.Envelopes[1].To)
	assert.Nil(t, x.Job.Trials)
	assert.True(t, j.Links[0].Pair, "the job itself stays")
	assert.Equal(t, job.Point{0, 1, 0}, *j.Links[0].FrameEnd.Bolt)
	for _, l := range x.Job.Links {
		assert.False(t, l.Pair)
	}
}

func TestCarried(t *testing.T) {
	assert.True(t, job.Carried([]string{"Lower", "Upper"}, "Upper left"))
	assert.True(t, job.Carried([]string{"Upper left"}, "Upper left"))
	assert.False(t, job.Carried([]string{"Upper left"}, "Upper right"))
	assert.False(t, job.Carried([]string{"Upper"}, "Lower left"))
	assert.True(t, job.Carried([]string{"Panhard rod"}, "Panhard rod"))
	assert.False(t, job.Carried(nil, "Panhard rod"))
}

func TestWithTrial(t *testing.T) {
	j := demo(t, "rescue-tender")
	w, err := j.WithTrial("Uppers raised 24")
	require.NoError(t, err)
	assert.Equal(t, 634.0, w.Links[1].Frame[2])
	assert.Equal(t, 610.0, j.Links[1].Frame[2])
	assert.Len(t, w.Struts, 1)
	assert.Nil(t, w.Trials)
	w.Links[1].Frame[2] = 0
	assert.Equal(t, 634.0, j.Trials[0].Links[1].Frame[2], "a deep copy")

	w, err = j.WithTrial("")
	require.NoError(t, err)
	assert.Equal(t, 610.0, w.Links[1].Frame[2])

	_, err = j.WithTrial("uppers raised 42")
	require.ErrorContains(t, err, `Did you mean "Uppers raised 24"?`)

	j.Trials[0].Links = []job.Link{}
	w, err = j.WithTrial("Uppers raised 24")
	require.NoError(t, err)
	assert.Empty(t, w.Links, "an empty list is none, not as drawn")
}

// Every kind of part, mirrored by hand.
func TestExpandMirrorsEverything(t *testing.T) {
	j, err := job.Read(strings.NewReader(fullJob))
	require.NoError(t, err)
	x := job.Expand(j)
	c := x.Job

	assert.Equal(t, []job.Point{{600, -500, 470}}, c.Links[1].Bends)
	assert.Equal(t, []job.Point{{600, 500, 470}}, c.Links[0].Bends)
	assert.Equal(t, []float64{4.5, -4.5}, []float64{*c.Links[0].Clock, *c.Links[1].Clock}, "a turn about the mirrored link is the opposite one")
	assert.Equal(t, []string{"A-arm", "Radius arm left", "Radius arm right"}, []string{c.Arms[0].Name, c.Arms[1].Name, c.Arms[2].Name})
	assert.Equal(t, []job.Point{{150, -500, 420}, {-150, -500, 430}}, c.Arms[2].Axle)
	assert.Equal(t, []job.Ref{{0, job.Single}, {1, job.Left}, {1, job.Right}}, x.Arms)
	assert.Equal(t, []job.Ref{{0, job.Single}}, x.Rockers)
	assert.Equal(t, "Lower left", c.Struts[0].On)
	assert.Equal(t, "Lower right", c.Struts[1].On)
	assert.Equal(t, job.Point{-90, -560, 380}, c.Struts[1].Axle)
	assert.Equal(t, []job.Point2{{200, 220}, {400, 190}}, c.Struts[3].Diameters, "a length and a diameter have no side")
	assert.Equal(t, job.Point{90, -560, 480}, c.Struts[3].Axle)
	assert.Equal(t, job.Point{0, 0, -1}, *c.Stops[1].Axis)
	assert.Equal(t, job.Point{0, -470, 690}, c.Stops[1].Frame)
	assert.Equal(t, job.Point{40, -520, 760}, c.Straps[1].Frame)
	assert.Equal(t, job.Point{30, -250, 560}, c.Lines[1].Axle)

	s := c.Sensors[1]
	assert.Equal(t, "Lower right", s.On)
	assert.Equal(t, job.Point{0, -1, 0}, s.Axis)
	assert.Equal(t, [2]float64{-40, 45}, *s.Swing)
	assert.Equal(t, [2]float64{-45, 40}, *c.Sensors[0].Swing)

	rail := c.Envelopes[1]
	assert.Equal(t, job.Point{-900, -470, 640}, *rail.Min)
	assert.Equal(t, job.Point{2600, -400, 820}, *rail.Max)
	assert.Equal(t, job.Point{-1, 0.5, 2}, *rail.Turn)
	assert.Equal(t, []string{"Lower", "Strut left", "Driveshaft"}, rail.Carries, "as written")
	assert.Equal(t, []job.Ref{{0, job.Left}, {0, job.Right}, {1, 0}, {2, 0}, {3, 0}, {4, 0}}, x.Envelopes)
}

func TestExpandMirrorsShapes(t *testing.T) {
	lo, hi, r := 10.0, 30.0, 5.0
	pair := func(e job.Envelope) job.Envelope {
		e.Name, e.Pair = "Part", true
		x := job.Expand(&job.Job{Envelopes: []job.Envelope{e}})
		require.Len(t, x.Job.Envelopes, 2)
		return x.Job.Envelopes[1]
	}
	outline := []job.Point2{{1, 2}, {3, 2}, {3, 4}}
	side := pair(job.Envelope{Kind: "prism", Plane: "side", Outline: outline, From: &lo, To: &hi})
	assert.Equal(t, outline, side.Outline)
	assert.Equal(t, []float64{-30, -10}, []float64{*side.From, *side.To})
	plan := pair(job.Envelope{Kind: "prism", Plane: "plan", Outline: outline, From: &lo, To: &hi})
	assert.Equal(t, []job.Point2{{1, -2}, {3, -2}, {3, -4}}, plan.Outline)
	assert.Equal(t, []float64{10, 30}, []float64{*plan.From, *plan.To})
	rear := pair(job.Envelope{Kind: "prism", Plane: "rear", Outline: outline, From: &lo, To: &hi})
	assert.Equal(t, []job.Point2{{-1, 2}, {-3, 2}, {-3, 4}}, rear.Outline)
	ball := pair(job.Envelope{Kind: "ball", Centre: &job.Point{1, 2, 3}, Radius: &r})
	assert.Equal(t, job.Point{1, -2, 3}, *ball.Centre)
	tube := pair(job.Envelope{Kind: "tube", Path: []job.Point{{1, 2, 3}, {4, 0, 6}}, Outside: &r})
	assert.Equal(t, []job.Point{{1, -2, 3}, {4, 0, 6}}, tube.Path)
	assert.False(t, math.Signbit(tube.Path[1][1]), "no -0")
	assert.Equal(t, []float64{10, 30}, []float64{lo, hi}, "what was given stays")
}

// A turned box and its mirrored twin have mirrored corners: the rule for the turn, against the rotation itself.
func TestMirroredTurnMirrorsTheBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		deg := rapid.Float64Range(-180, 180)
		turn := job.Point{deg.Draw(t, "x"), deg.Draw(t, "y"), deg.Draw(t, "z")}
		x := job.Expand(&job.Job{Envelopes: []job.Envelope{{
			Name: "Box", Pair: true, Kind: "box", Min: &job.Point{-100, 500, 200}, Max: &job.Point{300, 620, 260}, Turn: &turn,
		}}})
		left, right := corners(x.Job.Envelopes[0]), corners(x.Job.Envelopes[1])
		for _, p := range left {
			near := math.Inf(1)
			for _, q := range right {
				near = min(near, r3.Norm(r3.Sub(q, r3.Vec{X: p.X, Y: -p.Y, Z: p.Z})))
			}
			if near > 1e-9 {
				t.Fatalf("corner %v of the left box has no mirror among %v", p, right)
			}
		}
	})
}

// corners are those of a box turned by R = Rz Ry Rx about its centre.
func corners(e job.Envelope) []r3.Vec {
	c := r3.Scale(0.5, r3.Add(e.Min.Vec(), e.Max.Vec()))
	h := r3.Sub(e.Max.Vec(), c)
	const rad = math.Pi / 180
	var out []r3.Vec
	for i := range 8 {
		v := r3.Vec{X: h.X * float64(i&1*2-1), Y: h.Y * float64(i>>1&1*2-1), Z: h.Z * float64(i>>2&1*2-1)}
		v = r3.Rotate(v, e.Turn[0]*rad, r3.Vec{X: 1})
		v = r3.Rotate(v, e.Turn[1]*rad, r3.Vec{Y: 1})
		v = r3.Rotate(v, e.Turn[2]*rad, r3.Vec{Z: 1})
		out = append(out, r3.Add(c, v))
	}
	return out
}

func TestCloneSharesNothing(t *testing.T) {
	j, err := job.Read(strings.NewReader(fullJob))
	require.NoError(t, err)
	c := j.Clone()
	require.Equal(t, j, c)
	scramble(reflect.ValueOf(c).Elem())
	fresh, err := job.Read(strings.NewReader(fullJob))
	require.NoError(t, err)
	assert.Equal(t, fresh, j, "the original after the copy was scrambled")
	assert.Nil(t, (*job.Job)(nil).Clone())
}

// scramble changes every number, text and list entry it can reach.
func scramble(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			scramble(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			scramble(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			scramble(v.Field(i))
		}
	case reflect.Map:
		v.Clear()
	case reflect.Float64:
		v.SetFloat(-12345)
	case reflect.String:
		v.SetString("scrambled")
	case reflect.Bool:
		v.SetBool(!v.Bool())
	}
}

func TestDefaults(t *testing.T) {
	j := demo(t, "rescue-tender")
	v, tyre := j.Vehicle, j.Vehicle.Tyre
	assert.Equal(t, 466.0, tyre.Free())
	assert.Equal(t, 25.0, tyre.Rounding())
	assert.Equal(t, 40.0, tyre.Gap())
	assert.Equal(t, 0.4, v.Brake())
	bare := &job.Vehicle{Tyre: &job.Tyre{LoadedRadius: 480}}
	assert.Equal(t, 1.0, bare.Drive())
	assert.Equal(t, 0.4, bare.Brake())
	assert.False(t, bare.FrontStill())
	assert.Equal(t, 500.0, bare.Tyre.Free())
	assert.Zero(t, bare.Tyre.WidthOr0())
	width := 40.0
	bare.Tyre.Width = &width
	assert.Equal(t, 20.0, bare.Tyre.Rounding(), "no more than half the width")
	assert.Equal(t, 445.0, v.Loads[0].Radius(tyre))
	assert.Equal(t, 25.0, j.Driveline.Gap())
	assert.Equal(t, 12.0, j.Links[0].Gap())
	assert.Equal(t, 12.0, j.Axle.HousingGap())
	assert.Equal(t, 80.0, j.Links[0].FrameEnd.Reach())
	assert.Equal(t, 80.0, (*job.End)(nil).Reach())
	k, assumed := j.Links[0].FrameEnd.Stiff()
	assert.Equal(t, 10_000.0, k)
	assert.True(t, assumed)
	k, _ = (*job.End)(nil).Stiff()
	assert.Equal(t, 100_000.0, k)
	assert.Equal(t, 25.0, (&job.Envelope{}).Gap())
	assert.Equal(t, job.Point{0, 0, -1}, (&job.Stop{}).Direction())
}

func TestDiameterAt(t *testing.T) {
	for _, tc := range []struct{ length, want float64 }{{150, 220}, {200, 220}, {250, 205}, {300, 190}, {350, 200}, {400, 210}, {500, 210}} {
		s := &job.Strut{Diameters: []job.Point2{{200, 220}, {300, 190}, {400, 210}}}
		mm, ok := s.DiameterAt(tc.length)
		assert.True(t, ok)
		assert.InDelta(t, tc.want, mm, 1e-12, "at %v mm", tc.length)
	}
	thick := 85.0
	mm, ok := (&job.Strut{Diameter: &thick}).DiameterAt(300)
	assert.True(t, ok)
	assert.Equal(t, 85.0, mm)
	_, ok = (&job.Strut{}).DiameterAt(300)
	assert.False(t, ok, "no diameter: no gaps")
}

// What a pair stands on is taken along to each side; a single part and the axle stay as they are.
func TestExpandStandsOnItsOwnSide(t *testing.T) {
	links := []job.Link{{Name: "Lower", Pair: true}, {Name: "Torque arm"}}
	arms := []job.Arm{{Name: "Radius arm", Pair: true}}
	for _, tc := range []struct {
		on   string
		pair bool
		want []string
	}{
		{"Lower", true, []string{"Lower left", "Lower right"}},
		{"Lower left", true, []string{"Lower left", "Lower right"}},
		{"Radius arm", true, []string{"Radius arm left", "Radius arm right"}},
		{"Torque arm", true, []string{"Torque arm", "Torque arm"}},
		{"axle", true, []string{"axle", "axle"}},
		{"Lower right", false, []string{"Lower right"}},
		{"", false, []string{""}},
	} {
		x := job.Expand(&job.Job{Links: links, Arms: arms,
			Struts:  []job.Strut{{Name: "Strut", Pair: tc.pair, On: tc.on}},
			Sensors: []job.Sensor{{Name: "Sensor", Pair: tc.pair, On: tc.on}}})
		var struts, sensors []string
		for i := range x.Job.Struts {
			struts, sensors = append(struts, x.Job.Struts[i].On), append(sensors, x.Job.Sensors[i].On)
		}
		assert.Equal(t, tc.want, struts, tc.on)
		assert.Equal(t, tc.want, sensors, tc.on)
	}
}

func TestCrossing(t *testing.T) {
	for _, tc := range []struct {
		name    string
		outline []job.Point2
		ok      bool
	}{
		{"triangle", []job.Point2{{0, 0}, {10, 0}, {0, 10}}, true},
		{"clockwise", []job.Point2{{0, 0}, {0, 10}, {10, 0}}, true},
		{"tank with a step", []job.Point2{{420, 400}, {760, 400}, {760, 390}, {2250, 390}, {2250, 750}, {760, 750}, {760, 545}, {420, 545}}, true},
		{"corner in a straight side", []job.Point2{{0, 0}, {5, 0}, {10, 0}, {0, 10}}, true},
		{"bow tie", []job.Point2{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, false},
		{"corner on a side", []job.Point2{{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}}, false},
		{"corner on a corner", []job.Point2{{0, 0}, {10, 0}, {5, 5}, {10, 10}, {0, 10}, {5, 5}}, false},
		{"side along a side", []job.Point2{{0, 0}, {10, 0}, {10, 5}, {8, 0}, {2, 0}, {0, 5}}, false},
		{"spike", []job.Point2{{0, 0}, {10, 0}, {5, 0}, {5, 5}}, false},
		{"line", []job.Point2{{0, 0}, {10, 0}}, false},
		{"corner twice", []job.Point2{{0, 0}, {10, 0}, {10, 0}, {0, 10}}, false},
		{"last side crosses the first", []job.Point2{{0, 0}, {10, 0}, {10, 10}, {5, 10}, {5, -5}, {0, -5}}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			for turn := range tc.outline { // whichever corner comes first
				o := append(append([]job.Point2{}, tc.outline[turn:]...), tc.outline[:turn]...)
				_, _, ok := job.Crossing(o)
				assert.Equal(t, tc.ok, ok, "from corner %d", turn)
			}
		})
	}
}
