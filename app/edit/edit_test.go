package edit

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// plannedDemo is a demo job with every mark of measuring taken off, so that edits are free.
func plannedDemo(t testing.TB, name string) *job.Job {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	for _, p := range Pivots(j) {
		s := find(j, p)
		*s.measured, *s.given = nil, nil
	}
	for i := range j.Envelopes {
		j.Envelopes[i].Measured, j.Envelopes[i].Given = nil, nil
	}
	j.Keep, j.SetAside = nil, nil
	if j.Axle != nil {
		j.Axle.Measured = nil
	}
	return j
}

func sprayer(t testing.TB) *job.Job { return plannedDemo(t, "orchard-sprayer") }

func linkAt(t testing.TB, j *job.Job, name string) int {
	t.Helper()
	for i := range j.Links {
		if j.Links[i].Name == name {
			return i
		}
	}
	require.FailNow(t, "no link "+name)
	return 0
}

func wayAt(t testing.TB, j *job.Job, name string) int {
	t.Helper()
	for i := range j.Envelopes {
		if j.Envelopes[i].Name == name {
			return i
		}
	}
	require.FailNow(t, "no part "+name)
	return 0
}

func TestMovingThePivotOfATwinMovesItsMirror(t *testing.T) {
	j := sprayer(t)
	low := Pivot{List: Links, Index: linkAt(t, j, "Lower"), End: FrameEnd, Side: job.Right}
	require.NoError(t, Move(j, low, r3.Vec{X: 1060, Y: -440, Z: 425}))
	assert.Equal(t, job.Point{1060, 440, 425}, j.Links[low.Index].Frame)
	at, ok := At(j, low)
	assert.True(t, ok)
	assert.Equal(t, r3.Vec{X: 1060, Y: -440, Z: 425}, at)
	assert.Equal(t, "Lower right, frame end", Name(j, low))

	err := Move(j, low, r3.Vec{X: 1060, Y: 3, Z: 425})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "cannot cross the middle")
	assert.Equal(t, job.Point{1060, 440, 425}, j.Links[low.Index].Frame)
}

func TestMeasuredThingsRefuseTillTheyAreFreed(t *testing.T) {
	j := sprayer(t)
	p := Pivot{List: Links, Index: linkAt(t, j, "Panhard rod"), End: AxleEnd}
	require.NoError(t, SetMeasured(j, p, true))
	assert.True(t, IsMeasured(j, p))
	for _, err := range []error{Move(j, p, r3.Vec{X: -210, Y: 470, Z: 510}), Type(j, p, Z, "510")} {
		require.Error(t, err)
		assert.Equal(t, "Panhard rod, axle end is measured: press Free to move it.", err.Error())
	}
	assert.Equal(t, job.Point{-210, 470, 500}, j.Links[p.Index].Axle)
	require.NoError(t, SetMeasured(j, p, false))
	require.NoError(t, Type(j, p, Z, "510"))
	assert.Equal(t, 510.0, j.Links[p.Index].Axle[2])
	assert.Nil(t, j.Links[p.Index].Measured)

	shelf := Part{Envelopes, wayAt(t, j, "Tank shelf")}
	require.NoError(t, SetPartMeasured(j, shelf, true))
	assert.ErrorContains(t, MovePart(j, shelf, r3.Vec{Z: 10}), "press Free")
	assert.ErrorContains(t, Set(j, shelf, "min.x", "-430"), "press Free")
	require.NoError(t, Set(j, shelf, "clearance", "20"), "the gap wanted is no place: it stays free")
	require.NoError(t, SetPartMeasured(j, shelf, false))
	require.NoError(t, Set(j, shelf, "min.x", "-430"))
	assert.Equal(t, -430.0, j.Envelopes[shelf.Index].Min[0])
}

func TestTypedNumbersAreKeptAndADragMakesThemGuessesAgain(t *testing.T) {
	j := sprayer(t)
	p := Pivot{List: Links, Index: linkAt(t, j, "Lower"), End: FrameEnd, Side: job.Left}
	assert.True(t, IsGuess(j, p, Y))
	require.NoError(t, Type(j, p, Y, " 440 mm "))
	g, ok := GivenOf(j, p, Y)
	require.True(t, ok)
	assert.Equal(t, "440 mm", g.Typed)
	assert.False(t, IsGuess(j, p, Y))
	p.Side = job.Right
	g, _ = GivenOf(j, p, Y)
	assert.Equal(t, "-440 mm", g.Typed)
	require.NoError(t, Type(j, p, Y, "-450"))
	assert.Equal(t, 450.0, j.Links[p.Index].Frame[1])
	assert.Equal(t, "450", j.Links[p.Index].Given["frame.y"].Typed)

	require.NoError(t, SetGiven(j, p, Y, "rail inner face", 1.5, "tape"))
	require.NoError(t, Move(j, p, r3.Vec{X: 1051, Y: -450, Z: 430}))
	_, known := j.Links[p.Index].Given["frame.y"]
	assert.True(t, known, "Y was not moved")
	require.NoError(t, Move(j, p, r3.Vec{X: 1051, Y: -451, Z: 430}))
	assert.Nil(t, j.Links[p.Index].Given)

	for _, bad := range []string{"", "abc", "1e400", "NaN", "--"} {
		assert.Error(t, Type(j, p, X, bad), bad)
	}
	assert.Equal(t, 1051.0, j.Links[p.Index].Frame[0])
}

func TestInchesAreReadInInches(t *testing.T) {
	j := sprayer(t)
	j.Shown = &job.Shown{Length: "in"}
	p := Pivot{List: Links, Index: linkAt(t, j, "Centre upper"), End: FrameEnd}
	require.NoError(t, Type(j, p, X, "20"))
	assert.InDelta(t, 508, j.Links[p.Index].Frame[0], 1e-9)
	require.NoError(t, Type(j, p, X, "480 mm"))
	assert.InDelta(t, 480, j.Links[p.Index].Frame[0], 1e-9)
	for _, f := range Fields(j, Part{Links, p.Index}) {
		if f.Key == "frame.z" {
			assert.Equal(t, "in", f.Suffix)
			assert.Regexp(t, `^26\.299`, f.Text) // 668 / 25.4
			assert.Equal(t, 668.0, f.Value)
		}
	}
}

func TestNegatedReadsForTheOtherTwin(t *testing.T) {
	for typed, want := range map[string]string{"437": "-437", "-437": "437", "−437": "437", "+437": "-437", "44 3/8 - 12mm": "-44 3/8 + 12mm", "-1+2": "1-2", "": ""} {
		assert.Equal(t, want, negated(typed), typed)
	}
}

// A link that keeps its length keeps it whatever is asked, and coordinates that were not asked to move stay.
func TestKeptLengthIsKept(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		j := sprayer(t)
		i := linkAt(t, j, []string{"Lower", "Centre upper", "Panhard rod"}[rapid.IntRange(0, 2).Draw(rt, "link")])
		require.NoError(rt, SetKeepLength(j, i, true))
		p := Pivot{List: Links, Index: i, End: End(rapid.IntRange(0, 1).Draw(rt, "end"))}
		length := LinkLength(j, i)
		before, _ := At(j, p)
		step := rapid.Float64Range(-60, 60)
		d := r3.Vec{}
		mask := rapid.IntRange(1, 7).Draw(rt, "axes")
		if mask&1 != 0 {
			d.X = step.Draw(rt, "x")
		}
		if mask&2 != 0 {
			d.Y = step.Draw(rt, "y")
		}
		if mask&4 != 0 {
			d.Z = step.Draw(rt, "z")
		}
		want := r3.Add(before, d)
		if err := Move(j, p, want); err != nil {
			after, _ := At(j, p)
			assert.Equal(rt, before, after)
			return
		}
		after, _ := At(j, p)
		assert.InDelta(rt, length, LinkLength(j, i), 1e-5)
		asked := 0
		for a := X; a <= Z; a++ {
			if math.Abs(coordinate(d, a)) > stillTol {
				asked++
			}
		}
		for a := X; a <= Z; a++ {
			moved := math.Abs(coordinate(d, a)) > stillTol
			switch {
			case asked == 1 && moved:
				assert.InDelta(rt, coordinate(want, a), coordinate(after, a), 1e-9, "the one asked for stays as asked")
			case asked == 2 && !moved:
				assert.Equal(rt, coordinate(before, a), coordinate(after, a), "out of the plane nothing moves")
			}
		}
	})
}

func TestKeptLengthRefusesWhatItCannotReach(t *testing.T) {
	j := sprayer(t)
	i := linkAt(t, j, "Centre upper")
	require.NoError(t, SetKeepLength(j, i, true))
	assert.True(t, KeepsLength(j, i))
	err := Type(j, Pivot{List: Links, Index: i, End: FrameEnd}, X, "600")
	require.Error(t, err)
	assert.Contains(t, err.Error(), "with the length kept at 520 mm it cannot reach there")
	require.NoError(t, SetKeepLength(j, i, false))
	assert.Nil(t, j.Keep)
	require.NoError(t, Type(j, Pivot{List: Links, Index: i, End: FrameEnd}, X, "600"))
}

func TestRenameReachesEverything(t *testing.T) {
	j := sprayer(t)
	i := linkAt(t, j, "Panhard rod")
	require.NoError(t, SetKeepLength(j, i, true))
	require.NoError(t, SetAside(j, "gap/Panhard rod/Tank shelf", "", "can be moved", "2026-11-25", -29.1))
	j.Trials = []job.Trial{{Name: "other", Links: j.Clone().Links, Envelopes: j.Clone().Envelopes}}
	require.NoError(t, Rename(j, Part{Links, i}, "Track rod"))
	assert.Equal(t, []string{"Track rod"}, j.Envelopes[wayAt(t, j, "Rail behind")].Carries)
	assert.True(t, KeepsLength(j, i))
	assert.Equal(t, "gap/Track rod/Tank shelf", j.SetAside[0].Finding)
	assert.Equal(t, "Track rod", j.Trials[0].Links[i].Name)
	assert.Equal(t, []string{"Track rod"}, j.Trials[0].Envelopes[wayAt(t, j, "Rail behind")].Carries)
	assert.Empty(t, job.Check(j))

	for name, want := range map[string]string{"": "A name is missing", "Lower": "is taken", "Lower left": "is taken", "Driveshaft": "is taken", "tank SHELF": "is taken"} {
		assert.ErrorContains(t, Rename(j, Part{Links, i}, name), want)
	}
	low := linkAt(t, j, "Lower")
	require.NoError(t, Rename(j, Part{Links, low}, "Bottom"))
	assert.Equal(t, []string{"Bottom"}, j.Envelopes[wayAt(t, j, "Rail ahead")].Carries)
	require.NoError(t, Rename(j, Part{Links, low}, "Bottom"), "its own name is free")
}

func TestUnlinkMakesTwoThatStandWhereThePairStood(t *testing.T) {
	for _, name := range assets.Demos() {
		j := plannedDemo(t, name)
		require.NoError(t, Type(j, Pivot{List: Links, Index: 0, End: FrameEnd}, Y, "440"))
		want := job.Expand(j).Job
		require.NoError(t, Unlink(j, Part{Links, 0}))
		got := job.Expand(j).Job
		require.Len(t, got.Links, len(want.Links))
		for i := range want.Links {
			assert.Equal(t, want.Links[i].Name, got.Links[i].Name)
			assert.Equal(t, want.Links[i].Frame, got.Links[i].Frame)
			assert.Equal(t, want.Links[i].AxleEnd, got.Links[i].AxleEnd)
		}
		assert.Equal(t, "-440", j.Links[1].Given["frame.y"].Typed)
		assert.Empty(t, job.Check(j), name)
		assert.ErrorContains(t, Unlink(j, Part{Links, 0}), "no twin")
		last := len(j.Envelopes)
		require.NoError(t, Unlink(j, Part{Envelopes, wayAt(t, j, "Wheel arch")}))
		assert.Len(t, j.Envelopes, last+1)
		assert.Empty(t, job.Check(j), name)
	}
}

func TestDuplicateAndRemove(t *testing.T) {
	j := sprayer(t)
	for _, l := range []List{Links, Struts, Lines, Envelopes, Loads, Heights, Housing} {
		n := Len(j, l)
		p, err := Duplicate(j, Part{l, 0})
		require.NoError(t, err)
		assert.Equal(t, Part{l, n}, p)
		assert.Empty(t, job.Check(j))
		require.NoError(t, Remove(j, p))
		assert.Equal(t, n, Len(j, l))
	}
	_, err := Duplicate(j, Part{Vehicle, 0})
	assert.Error(t, err)
	assert.Error(t, Remove(j, Part{Vehicle, 0}))
	assert.Error(t, Remove(j, Part{Links, 99}))
	require.NoError(t, Remove(j, Part{Links, linkAt(t, j, "Panhard rod")}))
	j.Tidy()
	assert.Empty(t, job.Check(j))
	assert.Nil(t, j.Envelopes[wayAt(t, j, "Rail behind")].Carries)
}

func TestWhateverCanBeAddedIsAWholeJobStill(t *testing.T) {
	for _, demo := range assets.Demos() {
		j := plannedDemo(t, demo)
		for _, l := range []List{Links, Struts, Stops, Straps, Lines, Envelopes, Loads, Heights, Housing} {
			for range 2 { // twice: names must not clash
				for _, kind := range Kinds(l) {
					p, err := Add(j, l, kind)
					require.NoError(t, err, kind)
					require.Empty(t, job.Check(j), kind)
					assert.NotNil(t, Fields(j, p))
				}
			}
		}
	}
	j := sprayer(t)
	_, err := Add(j, Driveline, "")
	assert.ErrorContains(t, err, "already")
	require.NoError(t, Remove(j, Part{Driveline, 0}))
	require.NoError(t, Remove(j, Part{Pinion, 0}))
	_, err = Add(j, Driveline, "")
	require.NoError(t, err)
	assert.Empty(t, job.Check(j))
	_, err = Add(j, Links, "Rocket")
	assert.Error(t, err)
}

func TestPartsInTheWay(t *testing.T) {
	j := sprayer(t)
	p, err := AddBox(j, "Winch", r3.Vec{X: 100, Y: 50, Z: 700}, r3.Vec{X: -100, Y: -50, Z: 650})
	require.NoError(t, err)
	assert.Equal(t, &job.Point{-100, -50, 650}, j.Envelopes[p.Index].Min)
	_, err = AddBox(j, "Flat", r3.Vec{X: 1}, r3.Vec{X: 1, Y: 5, Z: 5})
	assert.ErrorContains(t, err, "no thickness along X")
	p, err = AddOutline(j, "Guard", "rear", []job.Point2{{0, 600}, {100, 600}, {100, 700}}, 300, 200)
	require.NoError(t, err)
	assert.Equal(t, 200.0, *j.Envelopes[p.Index].From)
	_, err = AddOutline(j, "Guard 3", "side", []job.Point2{{0, 600}, {100, 600}}, 300, 200)
	assert.ErrorContains(t, err, "three corners")
	_, err = AddPipe(j, "Exhaust", []r3.Vec{{X: 900, Y: -300, Z: 600}, {X: 0, Y: -330, Z: 800}}, 76)
	require.NoError(t, err)
	_, err = AddPipe(j, "Exhaust", []r3.Vec{{X: 900, Y: -300, Z: 600}, {X: 0, Y: -330, Z: 800}}, 76)
	assert.ErrorContains(t, err, `"Exhaust" is taken. "Exhaust 2" is free.`)
	assert.Empty(t, job.Check(j))

	before := j.Envelopes[p.Index].Outline[0]
	require.NoError(t, MovePart(j, p, r3.Vec{X: 5, Y: 7, Z: 11}))
	after := &j.Envelopes[p.Index]
	assert.Equal(t, job.Point2{before[0] + 7, before[1] + 11}, after.Outline[0])
	assert.Equal(t, 205.0, *after.From)

	assert.InDelta(t, 149.9, Litres(j, &j.Envelopes[wayAt(t, j, "Rear tank")]), 0.05)
	assert.InDelta(t, 28.8, Litres(j, &j.Envelopes[wayAt(t, j, "Tank shelf")]), 0.05)
}

func TestALoadByTheWeightsOfItsAxles(t *testing.T) {
	j := sprayer(t)
	p, err := AddLoad(j, "half full", 1800, 2400)
	require.NoError(t, err)
	l := j.Vehicle.Loads[p.Index]
	assert.Equal(t, 4200.0, l.Mass)
	assert.InDelta(t, 1800.0/4200*3550, l.CG[0], 1e-3) // moments about the rear axle
	fields := map[string]Field{}
	for _, f := range Fields(j, p) {
		fields[f.Key] = f
	}
	assert.False(t, fields["mass"].Guess)
	assert.True(t, fields["cg.z"].Guess)
	assert.InDelta(t, 2400, fields["rear"].Value, 1e-2)
	require.NoError(t, Set(j, p, "rear", "2600"))
	assert.InDelta(t, 4400, j.Vehicle.Loads[p.Index].Mass, 1e-2)
	for _, bad := range [][2]float64{{-1, 5}, {0, 0}, {math.NaN(), 5}, {math.Inf(1), 1}} {
		_, err := AddLoad(j, "bad", bad[0], bad[1])
		assert.Error(t, err)
	}
}

func TestCountOfWhatIsKnown(t *testing.T) {
	j := sprayer(t)
	c := Measured(j)
	// 3 links, 1 strut, 1 hose with two ends of three numbers, two joints of three, 8 parts in the way
	assert.Equal(t, 5*6+2*3+8, c.Total)
	assert.Equal(t, 0, c.Known)
	assert.Len(t, c.Guesses, c.Total)
	assert.Equal(t, "measured 0 of 44", c.String())
	require.NoError(t, SetMeasured(j, Pivot{List: Links, Index: 0, End: FrameEnd}, true))
	require.NoError(t, Type(j, Pivot{List: Links, Index: 1, End: FrameEnd}, X, "480"))
	require.NoError(t, SetPartMeasured(j, Part{Envelopes, 0}, true))
	c = Measured(j)
	assert.Equal(t, 5, c.Known)
	assert.Equal(t, c.Total, c.Known+len(c.Guesses))
	assert.Equal(t, "Lower, axle end: X", c.Guesses[0].Name)
}

func TestSetAside(t *testing.T) {
	j := sprayer(t)
	assert.Error(t, SetAside(j, "gap/a/b", "", "  ", "2026-11-25", 1))
	require.NoError(t, SetAside(j, "gap/a/b", "", ReadyReasons[0], "2026-11-25", -29))
	require.NoError(t, SetAside(j, "gap/a/b", "", ReadyReasons[1], "2026-11-26", -30))
	require.Len(t, j.SetAside, 1)
	assert.Equal(t, job.SetAside{Finding: "gap/a/b", Reason: "can be moved", Date: "2026-11-26", Numbers: map[string]float64{"value": -30}}, j.SetAside[0])
	assert.Empty(t, job.Check(j))
	require.NoError(t, BringBack(j, "gap/a/b", ""))
	assert.Nil(t, j.SetAside)
	assert.Error(t, BringBack(j, "gap/a/b", ""))
}

// Every setter refuses rubbish in a sentence, and taking back what is shown changes nothing that Check would complain of.
func TestFieldsOfEverything(t *testing.T) {
	for _, demo := range assets.Demos() {
		j := plannedDemo(t, demo)
		for l := Links; l <= Travel; l++ {
			for i := range Len(j, l) {
				part := Part{l, i}
				seen := map[string]bool{}
				for _, f := range Fields(j, part) {
					require.False(t, seen[f.Key], "%s twice", f.Key)
					seen[f.Key] = true
					require.NotEmpty(t, f.Label)
					c := j.Clone()
					err := Set(c, part, f.Key, f.Text)
					if f.Unit == ReadOnly {
						assert.Error(t, err)
						continue
					}
					require.NoError(t, err, "%s %s = %q", PartName(j, part), f.Key, f.Text)
					assert.Empty(t, job.Check(c), "%s %s", PartName(j, part), f.Key)
					if f.Unit != Text && f.Unit != LongText && f.Unit != Points {
						err = Set(j.Clone(), part, f.Key, "rubbish")
						require.Error(t, err, f.Key)
						assert.True(t, strings.HasSuffix(err.Error(), "."), err)
					}
				}
			}
		}
	}
}

// Every key of a link, a strut, a stop and so on can be reached: what is set by fields alone equals what the file could say.
func TestEveryKeyIsReachable(t *testing.T) {
	j := sprayer(t)
	link := Part{Links, linkAt(t, j, "Panhard rod")}
	set := func(part Part, key, text string) {
		t.Helper()
		require.NoError(t, Set(j, part, key, text), key)
	}
	set(link, "tube.outside", "50")
	set(link, "tube.wall", "6,5")
	set(link, "tube.steel", "E355 +N")
	set(link, "clearance", "15")
	set(link, "bends", "-220, 0, 560; -215, 100, 560")
	set(link, "frameEnd.kind", "ball")
	set(link, "frameEnd.bolt", BoltUpright)
	set(link, "frameEnd.boltTurned", "30")
	set(link, "frameEnd.square", "no")
	set(link, "frameEnd.misalignment", "20")
	set(link, "frameEnd.torsion", "25")
	set(link, "frameEnd.radialStiffness", "12000")
	set(link, "frameEnd.axialStiffness", "3000")
	set(link, "frameEnd.bracket", "60")
	set(link, "frameEnd.takes", "40")
	set(link, "frameEnd.adjust", "12")
	set(link, "frameEnd.thread", "1,5")
	set(link, "frameEnd.hand", "left")
	no := false
	num := func(v float64) *float64 { return &v }
	l := j.Links[link.Index]
	assert.Equal(t, &job.Tube{Outside: 50, Wall: num(6.5), Steel: "E355 +N"}, l.Tube)
	assert.Equal(t, []job.Point{{-220, 0, 560}, {-215, 100, 560}}, l.Bends)
	assert.Equal(t, &job.End{Kind: "ball", Bolt: &job.Point{0, -0.5, tidy(math.Cos(math.Pi / 6))}, Square: &no, Misalignment: num(20), Torsion: num(25),
		RadialStiffness: num(12000), AxialStiffness: num(3000), Bracket: num(60), Takes: num(40), Adjust: num(12), Thread: num(1.5), Hand: "left"}, l.FrameEnd)
	for _, key := range []string{"kind", "square", "misalignment", "torsion", "radialStiffness", "axialStiffness", "bracket", "takes", "adjust"} {
		set(link, "frameEnd."+key, "")
	}
	set(link, "frameEnd.bolt", BoltSquare)
	set(link, "tube.outside", "")
	set(link, "bends", "")
	assert.Nil(t, j.Links[link.Index].FrameEnd)
	assert.Nil(t, j.Links[link.Index].Tube)
	assert.Nil(t, j.Links[link.Index].Bends)
	assert.ErrorContains(t, Set(j, link, "tube.wall", "5"), "outside first")
	assert.ErrorContains(t, Set(j, link, "bends", "1, 2"), "3 numbers")

	stop, err := Add(j, Stops, "")
	require.NoError(t, err)
	set(stop, "axis.forward", "10")
	set(stop, "axis.left", "-5")
	axis := *j.Stops[stop.Index].Axis
	assert.InDelta(t, 10, math.Atan2(axis[0], -axis[2])*180/math.Pi, 1e-6)
	assert.InDelta(t, -5, math.Atan2(axis[1], -axis[2])*180/math.Pi, 1e-6)
	set(stop, "axis.forward", "0")
	set(stop, "axis.left", "0")
	assert.Nil(t, j.Stops[stop.Index].Axis)
	set(stop, "touch", "")
	set(stop, "face", "")
	set(stop, "closed", "60")

	strut := Part{Struts, 0}
	for key, v := range map[string]string{"closed": "400", "open": "650", "diameter": "80", "rate": "45", "tilt": "12", "clearance": "20", "bracket": "70"} {
		set(strut, key, v)
	}
	assert.Equal(t, 45.0, *j.Struts[0].Rate)

	set(Part{Output, 0}, "axis.up", "2")
	out := j.Driveline.Output.Axis
	assert.InDelta(t, 2, math.Atan2(out[2], -out[0])*180/math.Pi, 1e-6)
	set(Part{Pinion, 0}, "axis.left", "1.5")
	pin := j.Axle.Pinion.Axis
	assert.InDelta(t, 1.5, math.Atan2(pin[1], pin[0])*180/math.Pi, 1e-6)
	assert.InDelta(t, 2.5, math.Atan2(pin[2], pin[0])*180/math.Pi, 1e-3)

	shaft := Part{Driveline, 0}
	set(shaft, "slip.in", "25")
	set(shaft, "slip.out", "35")
	assert.Equal(t, &job.Slip{In: 25, Out: 35}, j.Driveline.Slip)
	set(shaft, "slip.out", "")
	assert.Nil(t, j.Driveline.Slip)

	travel := Part{Travel, 0}
	set(travel, "bump", "80")
	set(travel, "articulation", "9")
	set(travel, "bump", "")
	assert.Equal(t, &job.Travel{Articulation: num(9)}, j.Travel)
	set(travel, "articulation", "")
	assert.Nil(t, j.Travel)

	box := Part{Envelopes, wayAt(t, j, "Tank shelf")}
	set(box, "turn.z", "12")
	assert.Equal(t, &job.Point{0, 0, 12}, j.Envelopes[box.Index].Turn)
	set(box, "turn.z", "0")
	assert.Nil(t, j.Envelopes[box.Index].Turn)
	set(box, "carries", "Panhard rod, Lower left, Driveshaft")
	assert.ErrorContains(t, Set(j, box, "carries", "Nobody"), "Nobody")
	// An end typed beyond the other takes the part along: both corners can be typed in any order.
	set(box, "min.x", "5000")
	assert.Equal(t, []float64{5000, 5220}, []float64{j.Envelopes[box.Index].Min[0], j.Envelopes[box.Index].Max[0]})
	set(box, "max.x", "-200")
	set(box, "min.x", "-420")
	assert.Equal(t, []float64{-420, -200}, []float64{j.Envelopes[box.Index].Min[0], j.Envelopes[box.Index].Max[0]})
	set(box, "vessel", "no")
	set(box, "movable", "no")
	rail := Part{Envelopes, wayAt(t, j, "Rail kick-up")}
	set(rail, "plane", "plan")
	set(rail, "plane", "side")
	set(rail, "outline", "250, 690; 620, 575; 620, 775; 250, 880")
	assert.ErrorContains(t, Set(j, rail, "outline", "1, 2; 3, 4"), "at least 3")
	vehicle := Part{Vehicle, 0}
	for key, v := range map[string]string{"title": "Mine", "notes": "a\nb", "wheelbase": "3600", "track": "1750", "frontTravel": "still", "driveShare": "0.5",
		"brakeShare": "0.3", "tyre.loadedRadius": "440", "tyre.freeRadius": "460", "tyre.width": "300", "tyre.shoulder": "20", "tyre.clearance": "45"} {
		set(vehicle, key, v)
	}
	assert.ErrorContains(t, Set(j, vehicle, "driveShare", "2"), "between 0 and 1")
	assert.Empty(t, job.Check(j))
}

// Whatever is typed into whatever field: a sentence or a change, never a panic, and never a number the file could not hold after its checks.
func TestRubbishTypedAnywhere(t *testing.T) {
	j := members(t)
	rapid.Check(t, func(rt *rapid.T) {
		c := j.Clone()
		for range rapid.IntRange(1, 4).Draw(rt, "times") {
			l := List(rapid.IntRange(0, int(Bearing)).Draw(rt, "list"))
			n := Len(c, l)
			if n == 0 {
				continue
			}
			part := Part{l, rapid.IntRange(0, n-1).Draw(rt, "index")}
			fields := Fields(c, part)
			f := fields[rapid.IntRange(0, len(fields)-1).Draw(rt, "field")]
			text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"", "0", "-5", "12.5", "1e300", "yes", "no", "ball", "1,2;3,4;5,6", "NaN", "44 3/8\""})).Draw(rt, "text")
			if err := f.Set(text); err != nil {
				last := err.Error()[len(err.Error())-1]
				require.Contains(rt, ".?", string(last), "%q", err.Error())
			}
			for _, f := range Fields(c, part) {
				require.False(rt, math.IsInf(f.Value, 0), f.Key)
			}
		}
	})
}

// A shape from a file: its file is typed, it holds litres where it is closed, and it stands where the file has it.
func TestShapeFromAFile(t *testing.T) {
	j := plannedDemo(t, "orchard-sprayer")
	p, err := Add(j, Envelopes, "Shape from an STL file")
	require.NoError(t, err)
	require.Empty(t, job.Check(j))
	e := &j.Envelopes[p.Index]
	require.NoError(t, Set(j, p, "file", "cube.stl"))
	assert.Equal(t, "cube.stl", j.Envelopes[p.Index].File)
	require.Error(t, Set(j, p, "file", " "))
	require.NoError(t, Set(j, p, "vessel", "yes"))
	e = &j.Envelopes[p.Index]
	assert.True(t, math.IsNaN(Litres(j, e)), "no file")
	j.Folder = t.TempDir()
	var b strings.Builder
	b.WriteString("solid cube\n")
	for _, f := range [][4]int{{0, 1, 3, 2}, {4, 6, 7, 5}, {0, 4, 5, 1}, {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 5, 7, 3}} {
		for _, k := range [][3]int{{0, 1, 2}, {0, 2, 3}} {
			b.WriteString("facet normal 0 0 0 outer loop ")
			for _, i := range k {
				fmt.Fprintf(&b, "vertex %d %d %d ", 200*(f[i]>>2), 200*(f[i]>>1&1), 200*(f[i]&1))
			}
			b.WriteString("endloop endfacet\n")
		}
	}
	b.WriteString("endsolid cube\n")
	require.NoError(t, os.WriteFile(filepath.Join(j.Folder, "cube.stl"), []byte(b.String()), 0o600))
	assert.InDelta(t, 8, Litres(j, e), 1e-9)
	require.ErrorContains(t, MovePart(j, p, r3.Vec{X: 10}), "stands where its file has it")
	h, err := Add(j, Housing, "Shape from an STL file")
	require.NoError(t, err)
	assert.Equal(t, "mesh", j.Axle.Housing[h.Index].Kind)
}
