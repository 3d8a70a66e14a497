package edit_test

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
	"axleloft/geometry/motion"
	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func stoodDemo(t testing.TB, name string) *job.Job {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	return j
}

// freed are the pivots of a job that can be measured that way, freed and nothing known of them.
func freed(t testing.TB, j *job.Job, how string) []edit.Pivot {
	t.Helper()
	var out []edit.Pivot
	for _, p := range edit.Pivots(j) {
		if edit.CanStand(j, p, how) {
			require.NoError(t, edit.SetMeasured(j, p, false))
			out = append(out, p)
		}
	}
	require.NotEmpty(t, out)
	return out
}

func typed(v r3.Vec) [3]string {
	f := func(v float64) string { return fmt.Sprintf("%.9f", v) }
	return [3]string{f(v.X), f(v.Y), f(v.Z)}
}

func set(t testing.TB, j *job.Job, how string, values ...string) {
	t.Helper()
	for i := 0; i < len(values); i += 2 {
		require.NoError(t, edit.Set(j, part(how), values[i], values[i+1]), values[i])
	}
}

func part(how string) edit.Part {
	for i, h := range edit.Stoods {
		if h == how {
			return edit.Part{List: edit.Standing, Index: i}
		}
	}
	return edit.Part{List: edit.Standing, Index: -1}
}

// hungJobs are the demos and every way of locating an axle there is a job of.
func hungJobs(t testing.TB) map[string]*job.Job {
	t.Helper()
	all := scipy.Layouts(t)
	for _, name := range assets.Demos() {
		all[name] = stoodDemo(t, name)
	}
	return all
}

// hungBy are the left and the right one of a job's first struts.
func hungBy(t testing.TB, j *job.Job, m *motion.Mechanism) (name string, left, right int) {
	t.Helper()
	name, left, right = edit.HungStruts(j)[0], -1, -1
	for i := range m.Struts {
		switch m.Struts[i].Name {
		case name:
			left, right = i, i
		case name + " left":
			left = i
		case name + " right":
			right = i
		}
	}
	require.True(t, left >= 0 && right >= 0, name)
	return name, left, right
}

// Every demo axle, and one of every layout, put somewhere in its travel by its own links: its struts' lengths and its axle-side pivots as they are there, read off and typed, come
// back to where they are at ride height.
func TestHangingAxleComesBackToRide(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	all := hungJobs(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		j := all[name]
		j.Datums = []job.Datum{{Name: "Punch mark", At: &job.Point{1200, 430, 700}}}
		m, err := motion.Compile(j)
		require.NoError(t, err)
		for range 3 {
			var p motion.Pose
			require.NoError(t, m.NewSolver().Solve(-30-40*rng.Float64(), -30-40*rng.Float64(), &p), name)
			k := j.Clone()
			strut, left, right := hungBy(t, k, m)
			set(t, k, edit.Hanging, "strut", strut, "left", fmt.Sprintf("%.9f", m.StrutLength(&p, left)))
			if left != right {
				set(t, k, edit.Hanging, "right", fmt.Sprintf("%.9f", m.StrutLength(&p, right)))
			}
			for n, q := range freed(t, k, edit.Hanging) {
				if q.List == edit.Struts {
					require.ErrorContains(t, edit.TakeStood(k, q, edit.Hanging, edit.StoodText{Typed: [3]string{"1", "2", "3"}}, study.Hang), "tells by its length")
					continue
				}
				if q.Side == job.Left && n%2 == 1 {
					q.Side = job.Right
				}
				want, _ := edit.At(k, q)
				at := p.Point(r3.Sub(want, r3.Vec{Z: m.Radius}))
				text := edit.StoodText{}
				if n%3 == 0 {
					text.From = [3]string{"Punch mark", "", "Punch mark"}
					at = r3.Sub(at, r3.Vec{X: 1200, Z: 700})
				}
				text.Typed = typed(at)
				require.NoError(t, edit.TakeStood(k, q, edit.Hanging, text, study.Hang), edit.Name(k, q))
				got, _ := edit.At(k, q)
				assert.LessOrEqual(t, r3.Norm(r3.Sub(want, got)), 1e-6, "%s: %s", name, edit.Name(k, q))
				how, kept, ok := edit.StoodOf(k, q)
				assert.True(t, ok && how == edit.Hanging)
				assert.Equal(t, text.From, kept.From)
				assert.Equal(t, typed(at)[0]+" mm", kept.Typed[0])
			}
			// and stands still when it is worked out again
			r, err := edit.Restand(k, edit.Hanging, study.Hang)
			require.NoError(t, err)
			assert.Zero(t, r.Moved)
			require.Empty(t, job.Check(k))
		}
	}
}

// The same by the ends of its tube and its pinion, with the body raked.
func TestAxleByItsTubeEndsComesBackToRide(t *testing.T) {
	for _, name := range assets.Demos() {
		j := stoodDemo(t, name)
		m, err := motion.Compile(j)
		require.NoError(t, err)
		var p motion.Pose
		require.NoError(t, m.NewSolver().Solve(-90, -20, &p))
		tube := j.Axle.Tube
		offset := func(y float64) r3.Vec { return p.Point(r3.Vec{Y: y}) }
		const rake = 1.75
		body, err := measure.OnFloor(rake*math.Pi/180, 0)
		require.NoError(t, err)
		nose := p.Offset(r3.Unit(j.Axle.Pinion.Axis.Vec()))
		pinion := math.Asin(r3.Dot(nose, body.Up())) * 180 / math.Pi
		set(t, j, edit.Hanging, "pinion", fmt.Sprintf("%.10f", pinion), "rake", fmt.Sprint(rake))
		for i, end := range []r3.Vec{offset(tube.To), offset(tube.From)} {
			for a, text := range typed(end) {
				set(t, j, edit.Hanging, []string{"leftEnd.", "rightEnd."}[i]+string("xyz"[a]), text)
			}
		}
		for _, q := range freed(t, j, edit.Hanging) {
			want, _ := edit.At(j, q)
			require.NoError(t, edit.TakeStood(j, q, edit.Hanging, edit.StoodText{Typed: typed(p.Point(r3.Sub(want, r3.Vec{Z: m.Radius})))}, nil))
			got, _ := edit.At(j, q)
			assert.LessOrEqual(t, r3.Norm(r3.Sub(want, got)), 1e-6, "%s: %s", name, edit.Name(j, q))
		}
	}
}

// On stands and over a sloping floor, whatever the angles: what is read off where a pivot would lie comes back to where it is.
func TestStandsAndFloorComeBackToRide(t *testing.T) {
	demo := stoodDemo(t, assets.Demos()[0])
	rapid.Check(t, func(t *rapid.T) {
		j := demo.Clone()
		in := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		put := func(how, key string, v float64) {
			require.NoError(t, edit.Set(j, part(how), key, fmt.Sprintf("%.10f", v)), key)
		}
		const rad = math.Pi / 180
		pinion, tilt := in("pinion", -40, 60), in("tilt", -10, 10)
		put(edit.OnStands, "pinion", pinion)
		put(edit.OnStands, "tilt", tilt)
		axle, err := measure.OnStands(j.Axle.Pinion.Axis.Vec(), pinion*rad, tilt*rad)
		require.NoError(t, err)
		axle.Ride = r3.Vec{Y: (j.Axle.Tube.From + j.Axle.Tube.To) / 2, Z: j.Vehicle.Tyre.LoadedRadius}

		fall, left := in("fall", -20, 20), in("fall left", -20, 20)
		put(edit.OnFloor, "fallForwardOver", 1000)
		put(edit.OnFloor, "fallForward", fall)
		put(edit.OnFloor, "fallLeftOver", 500)
		put(edit.OnFloor, "fallLeft", left)
		high, rear, front, over := in("high", 300, 900), in("rear", 500, 800), in("front", 500, 800), in("over", 800, 2500)
		put(edit.OnFloor, "height", high)
		put(edit.OnFloor, "rakeRear", rear)
		put(edit.OnFloor, "rakeFront", front)
		put(edit.OnFloor, "rakeOver", over)
		lean, own := in("lean", -5, 5), in("own", -2, 2)
		put(edit.OnFloor, "lean", lean)
		put(edit.OnFloor, "railAtRide", own)
		j.Datums = append(j.Datums, job.Datum{Name: "Hanger bolt", At: &job.Point{-620, 433, 690}})
		require.NoError(t, edit.Set(j, part(edit.OnFloor), "datum", "Hanger bolt"))
		floor, err := measure.FloorOf(fall/1000, left/500)
		require.NoError(t, err)
		body, err := measure.OnFloor(measure.Rise(floor.Fore, over, front-rear)-own*rad, lean*rad)
		require.NoError(t, err)
		body.At, body.Ride = r3.Vec{Z: high}, r3.Vec{X: -620, Y: 433, Z: 690}

		for _, p := range edit.Pivots(j) {
			how, s := edit.OnStands, axle
			if edit.CanStand(j, p, edit.OnFloor) {
				how, s = edit.OnFloor, body
			}
			if !edit.CanStand(j, p, how) {
				continue
			}
			require.NoError(t, edit.SetMeasured(j, p, false))
			want, _ := edit.At(j, p)
			v := s.FromRide(want)
			if how == edit.OnFloor { // marks along the floor and the plumb line down to it
				normal := r3.Cross(floor.Fore, floor.Left)
				high := r3.Dot(v, normal) / normal.Z
				mark := r3.Sub(v, r3.Vec{Z: high})
				v = r3.Vec{X: r3.Dot(mark, floor.Fore), Y: r3.Dot(mark, floor.Left), Z: high}
			}
			text := typed(v)
			require.NoError(t, edit.TakeStood(j, p, how, edit.StoodText{Typed: text, PlusMinus: "2"}, nil))
			got, _ := edit.At(j, p)
			assert.LessOrEqual(t, r3.Norm(r3.Sub(want, got)), 1e-6, edit.Name(j, p))
			for a := edit.X; a <= edit.Z; a++ {
				assert.False(t, edit.IsGuess(j, p, a))
				assert.GreaterOrEqual(t, edit.PlusMinus(j, p, a), 2*0.9, "%s %s", edit.Name(j, p), a)
			}
		}
		require.Empty(t, job.Check(j))
	})
}

// A corrected pinion angle takes every place that was measured on stands along, measured or not, in trials too, and nothing else.
func TestCorrectedAngleTakesItsPlacesAlong(t *testing.T) {
	j := stoodDemo(t, assets.Demos()[0])
	set(t, j, edit.OnStands, "pinion", "10")
	list := freed(t, j, edit.OnStands)
	taken := list[:3]
	for n, p := range taken {
		at, _ := edit.At(j, p)
		require.NoError(t, edit.TakeStood(j, p, edit.OnStands, edit.StoodText{Typed: typed(r3.Sub(at, r3.Vec{Z: j.Vehicle.Tyre.LoadedRadius}))}, nil))
		require.NoError(t, edit.SetMeasured(j, p, n == 0))
	}
	links := j.Clone().Links
	j.Trials = []job.Trial{{Name: "Longer", Links: links}}
	was := j.Clone()
	set(t, j, edit.OnStands, "pinion", "12")
	n, worst, err := edit.Astray(j, edit.OnStands, nil)
	require.NoError(t, err)
	assert.Equal(t, 3, n)
	assert.Greater(t, worst, 1.0)
	r, err := edit.Restand(j, edit.OnStands, nil)
	require.NoError(t, err)
	own := 0
	for _, p := range taken {
		if p.List == edit.Links {
			own++
		}
	}
	assert.Equal(t, 3+own, r.Moved)
	assert.Zero(t, r.Stayed)
	for _, p := range edit.Pivots(j) {
		now, _ := edit.At(j, p)
		before, _ := edit.At(was, p)
		isTaken := false
		for _, q := range taken {
			isTaken = isTaken || p == q
		}
		// two degrees about the tube: a chord of 2 r sin 1
		arm := r3.Sub(before, r3.Vec{Z: j.Vehicle.Tyre.LoadedRadius})
		chord := 2 * math.Hypot(arm.X, arm.Z) * math.Sin(math.Pi/180)
		if !isTaken {
			chord = 0
		}
		assert.InDelta(t, chord, r3.Norm(r3.Sub(now, before)), 2e-6, edit.Name(j, p))
	}
	n, _, err = edit.Astray(j, edit.OnStands, nil)
	require.NoError(t, err)
	assert.Zero(t, n)
}

// Where the pivots being placed are those the axle hangs by, place and position are found together: from links drawn some way off, with what hands read.
func TestHangingSettlesWithLinksDrawnOff(t *testing.T) {
	all := hungJobs(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		j := all[name]
		m, err := motion.Compile(j)
		require.NoError(t, err)
		var p motion.Pose
		require.NoError(t, m.NewSolver().Solve(-60, -60, &p))
		k := j.Clone()
		strut, left, right := hungBy(t, k, m)
		set(t, k, edit.Hanging, "strut", strut, "left", fmt.Sprintf("%.9f", m.StrutLength(&p, left)))
		if left != right {
			set(t, k, edit.Hanging, "right", fmt.Sprintf("%.9f", m.StrutLength(&p, right)))
		}
		list := slices.DeleteFunc(freed(t, k, edit.Hanging), func(p edit.Pivot) bool { return p.List == edit.Struts })
		for n, q := range list { // drawn off by up to 25 mm each
			at, _ := edit.At(k, q)
			require.NoError(t, edit.Move(k, q, r3.Add(at, r3.Vec{X: float64(n%5)*10 - 20, Y: float64(n%3)*8 - 8, Z: 25 - float64(n%4)*12})))
		}
		for _, q := range list {
			want, _ := edit.At(j, q)
			require.NoError(t, edit.TakeStood(k, q, edit.Hanging, edit.StoodText{Typed: typed(p.Point(r3.Sub(want, r3.Vec{Z: m.Radius})))}, study.Hang), name)
		}
		_, err = edit.Restand(k, edit.Hanging, study.Hang)
		require.NoError(t, err, name)
		for _, q := range list {
			want, _ := edit.At(j, q)
			got, _ := edit.At(k, q)
			assert.LessOrEqual(t, r3.Norm(r3.Sub(want, got)), 1e-4, "%s: %s", name, edit.Name(k, q))
		}
	}
}

func TestStoodRefusesInSentences(t *testing.T) {
	j := stoodDemo(t, assets.Demos()[0])
	axle, frame := freed(t, j, edit.OnStands)[0], freed(t, j, edit.OnFloor)[0]
	good := edit.StoodText{Typed: [3]string{"60", "500", "-40"}}
	refuse := func(p edit.Pivot, how string, text edit.StoodText, part string) {
		t.Helper()
		err := edit.TakeStood(j.Clone(), p, how, text, study.Hang)
		require.ErrorContains(t, err, part)
		assert.Regexp(t, `\.$`, err.Error())
	}
	refuse(axle, edit.OnStands, good, "Type the angle the pinion had")
	refuse(axle, edit.Hanging, good, "left end of the tube")
	refuse(frame, edit.OnFloor, good, "how high the axle centre was")
	refuse(frame, edit.OnStands, good, "not carried by")
	set(t, j, edit.OnFloor, "height", "600")
	refuse(frame, edit.OnFloor, good, "Type the body's rake")
	set(t, j, edit.OnFloor, "rake", "1", "leanLeft", "600")
	refuse(frame, edit.OnFloor, good, "all three for the lean")
	set(t, j, edit.OnFloor, "leanLeft", "", "fallLeft", "3")
	refuse(frame, edit.OnFloor, good, "straightedge")
	set(t, j, edit.Hanging, "strut", edit.HungStruts(j)[0])
	refuse(axle, edit.Hanging, good, "how long")
	set(t, j, edit.Hanging, "left", "5000")
	refuse(axle, edit.Hanging, good, "do not let the axle")
	set(t, j, edit.OnStands, "pinion", "10")
	bad := good
	bad.Typed[1] = "abc"
	refuse(axle, edit.OnStands, bad, "Left")
	bad = good
	bad.PlusMinus = "-1"
	refuse(axle, edit.OnStands, bad, "±")
	bad = good
	bad.Typed[0] = "200000"
	refuse(axle, edit.OnStands, bad, "at most")
	require.NoError(t, edit.SetMeasured(j, axle, true))
	refuse(axle, edit.OnStands, good, "press Free")
	assert.Error(t, edit.Set(j, part(edit.OnStands), "pinion", "95"))
	assert.Error(t, edit.Set(j, part(edit.OnStands), "pinion", "x"))

	j.Axle.Pinion, j.Driveline = nil, nil
	require.NoError(t, edit.SetMeasured(j, axle, false))
	refuse(axle, edit.OnStands, good, "draws no pinion")
	set(t, j, edit.OnStands, "pinionAtRide", "3")
	require.NoError(t, edit.TakeStood(j, axle, edit.OnStands, good, nil))
}

// What was typed stays as typed whatever unit is shown, a number typed over ends it, and a datum that is measured from cannot go.
func TestStoodIsKeptAsTyped(t *testing.T) {
	j := stoodDemo(t, assets.Demos()[0])
	j.Datums = []job.Datum{{Name: "Rail", At: &job.Point{0, 0, 700}, Axis: "z"}}
	set(t, j, edit.OnStands, "pinion", "10.0")
	set(t, j, edit.Hanging, "strut", edit.HungStruts(j)[0], "left", "20 1/2\"", "right", "520")
	assert.Equal(t, "520 mm", j.Stood.Hanging.Given["right"].Typed)
	fields := map[string]string{}
	for _, f := range edit.Fields(j, part(edit.Hanging)) {
		fields[f.Key] = f.Text
	}
	assert.Equal(t, "20 1/2\"", fields["left"])
	assert.Equal(t, "520", fields["right"])
	p := freed(t, j, edit.OnStands)[0]
	require.NoError(t, edit.TakeStood(j, p, edit.OnStands, edit.StoodText{Typed: [3]string{"2 3/8\"", "560", "-5cm"}, PlusMinus: "± 1/8"}, nil))
	_, text, ok := edit.StoodOf(j, p)
	require.True(t, ok)
	assert.Equal(t, edit.StoodText{Typed: [3]string{"2 3/8\"", "560 mm", "-5cm"}, PlusMinus: "1/8"}, text)
	j.Shown = &job.Shown{Length: "in"}
	before, _ := edit.At(j, p)
	_, err := edit.Restand(j, edit.OnStands, nil)
	require.NoError(t, err)
	after, _ := edit.At(j, p)
	assert.Equal(t, before, after)
	require.Error(t, edit.SetSource(j, p, edit.X, "tape"))
	require.Error(t, edit.SetPlusMinus(j, p, edit.X, "2"))
	require.NoError(t, edit.Type(j, p, edit.X, "3"))
	g, _ := edit.GivenOf(j, p, edit.X)
	assert.Nil(t, g.Taken)
	g, _ = edit.GivenOf(j, p, edit.Y)
	how, one, ok := edit.IsStood(g, edit.Y)
	assert.True(t, ok && how == edit.OnStands && one == "560 mm")

	j.Shown = nil
	set(t, j, edit.Hanging, "strut", edit.ByTubeEnds(), "pinion", "5")
	for i, v := range []string{"0", "640", "300", "0", "-640", "300"} {
		set(t, j, edit.Hanging, []string{"leftEnd.", "rightEnd."}[i/3]+string("xyz"[i%3]), v)
	}
	require.NoError(t, edit.TakeStood(j, p, edit.Hanging, edit.StoodText{Typed: [3]string{"100", "450", "-330"}, From: [3]string{"", "", "Rail"}}, nil))
	_, err = edit.RemoveDatum(j, 0)
	require.ErrorContains(t, err, "Rail")
	_, err = edit.CorrectDatum(j, 0, edit.DatumText{Name: "Rail top", Z: "705"})
	require.NoError(t, err)
	_, text, _ = edit.StoodOf(j, p)
	assert.Equal(t, "Rail top", text.From[2])
	was, _ := edit.At(j, p)
	r, err := edit.Restand(j, edit.Hanging, nil)
	require.NoError(t, err)
	assert.Equal(t, 1, r.Moved)
	now, _ := edit.At(j, p)
	assert.InDelta(t, 5, r3.Norm(r3.Sub(now, was)), 1e-5)
}

// Unlinked, what was measured stays with the side it was measured on; linked again by the right one, it is known to be of the right.
func TestStoodTwins(t *testing.T) {
	j := stoodDemo(t, assets.Demos()[0])
	set(t, j, edit.OnStands, "pinion", "10", "tilt", "2")
	var p edit.Pivot
	for _, q := range freed(t, j, edit.OnStands) {
		if q.Side == job.Left && q.List == edit.Links {
			p = q
			break
		}
	}
	p.Side = job.Right
	text := edit.StoodText{Typed: [3]string{"20", "-480", "-30"}}
	require.NoError(t, edit.TakeStood(j, p, edit.OnStands, text, nil))
	at, _ := edit.At(j, p)
	_, _, ok := edit.StoodOf(j, edit.Pivot{List: p.List, Index: p.Index, End: p.End, Side: job.Left})
	assert.False(t, ok, "it was measured on the right one")
	part := edit.PartOf(p)
	require.NoError(t, edit.Unlink(j, part))
	left, right := edit.Pivot{List: p.List, Index: p.Index, End: p.End}, edit.Pivot{List: p.List, Index: p.Index + 1, End: p.End}
	_, _, ok = edit.StoodOf(j, left)
	assert.False(t, ok)
	_, _, ok = edit.StoodOf(j, right)
	assert.True(t, ok)
	_, err := edit.Restand(j, edit.OnStands, nil)
	require.NoError(t, err)
	now, _ := edit.At(j, right)
	assert.Equal(t, at, now)
	require.NoError(t, edit.LinkAgain(j, edit.Part{List: p.List, Index: right.Index}))
	_, _, ok = edit.StoodOf(j, p)
	assert.True(t, ok)
	_, err = edit.Restand(j, edit.OnStands, nil)
	require.NoError(t, err)
	now, _ = edit.At(j, p)
	assert.Equal(t, at, now)
}

// A datum measured from the floor comes to where it is, what is counted from it goes along when the floor is corrected, and a place typed over ends it.
func TestDatumFromTheFloor(t *testing.T) {
	j := stoodDemo(t, assets.Demos()[0])
	set(t, j, edit.OnFloor, "height", "500", "rake", "1.2", "fallForward", "5", "fallForwardOver", "500")
	want := r3.Vec{X: 900, Y: 420, Z: 640}
	body, err := measure.OnFloor(1.2*math.Pi/180, 0)
	require.NoError(t, err)
	floor, err := measure.FloorOf(0.01, 0)
	require.NoError(t, err)
	body.At, body.Ride = r3.Vec{Z: 500}, r3.Vec{Z: j.Vehicle.Tyre.LoadedRadius}
	v := body.FromRide(want)
	ahead := v.X / floor.Fore.X
	text := edit.StoodText{Typed: typed(r3.Vec{X: ahead, Y: v.Y, Z: v.Z - ahead*floor.Fore.Z})}
	_, err = edit.TakeStoodDatum(j, "Hanger bolt", text)
	require.NoError(t, err)
	at, ok := edit.DatumPlace(j, "Hanger bolt")
	require.True(t, ok)
	assert.LessOrEqual(t, r3.Norm(r3.Sub(want, at)), 1e-6)
	assert.Equal(t, []string{"Hanger bolt"}, edit.StoodDatums(j))
	require.ErrorContains(t, func() error { _, err := edit.TakeStoodDatum(j, " ", text); return err }(), "no name")

	p := freed(t, j, edit.OnFloor)[0]
	require.NoError(t, edit.SetDatum(j, p, edit.Z, "Hanger bolt"))
	require.NoError(t, edit.Type(j, p, edit.Z, "-80"))
	before, _ := edit.At(j, p)
	set(t, j, edit.OnFloor, "height", "504")
	n, worst, err := edit.Astray(j, edit.OnFloor, nil)
	require.NoError(t, err)
	assert.Equal(t, 1, n)
	assert.InDelta(t, 4, worst, 0.01)
	r, err := edit.Restand(j, edit.OnFloor, nil)
	require.NoError(t, err)
	assert.Equal(t, edit.Restood{Moved: 1, With: 1}, r)
	assert.Contains(t, r.Words(), "moved along: 1")
	after, _ := edit.At(j, p)
	now, _ := edit.DatumPlace(j, "Hanger bolt")
	assert.InDelta(t, now.Z-at.Z, after.Z-before.Z, 1e-6)
	assert.InDelta(t, -4*math.Cos(1.2*math.Pi/180), now.Z-at.Z, 1e-3, "the datum the marks are from was higher, so all else is lower under it")

	require.NoError(t, edit.AddDatum(j, edit.DatumText{Name: "Rail", X: "0", Y: "400", Z: "700"}))
	set(t, j, edit.OnFloor, "datum", "Rail")
	assert.Error(t, edit.Set(j, part(edit.OnFloor), "datum", "Hanger bolt"), "it is measured from the floor itself")
	_, err = edit.TakeStoodDatum(j, "Rail", text)
	assert.ErrorContains(t, err, "marks are measured from Rail")
	_, err = edit.CorrectDatum(j, len(j.Datums)-2, edit.DatumText{Name: "Hanger bolt front", X: fmt.Sprint(now.X), Y: fmt.Sprint(now.Y), Z: fmt.Sprint(now.Z)})
	require.NoError(t, err)
	_, ok = edit.StoodDatumOf(j, "Hanger bolt front")
	assert.True(t, ok, "a new name leaves it")
	_, err = edit.CorrectDatum(j, len(j.Datums)-2, edit.DatumText{Name: "Hanger bolt front", X: "900", Y: "420", Z: "640"})
	require.NoError(t, err)
	_, ok = edit.StoodDatumOf(j, "Hanger bolt front")
	assert.False(t, ok, "typed over")
}
