package edit

import (
	"errors"
	"math"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// lower is the lower pair's frame end of the sprayer, nothing kept.
func lower(t testing.TB) (*job.Job, Pivot) {
	t.Helper()
	j := sprayer(t)
	j.Keep = nil
	return j, Pivot{List: Links, Index: linkAt(t, j, "Lower"), End: FrameEnd, Side: job.Left}
}

func TestAPivotStaysOnEachLine(t *testing.T) {
	for _, c := range []struct {
		way   Way
		moved [3]float64 // of a step of 10, 20, 30 mm
		no    []Axis     // which alone are refused
	}{
		{WayLevel, [3]float64{10, 20, 0}, []Axis{Z}},
		{WayUp, [3]float64{0, 0, 30}, []Axis{X, Y}},
		{WayAlong, [3]float64{10, 0, 0}, []Axis{Y, Z}},
		{WayAcross, [3]float64{0, 20, 0}, []Axis{X, Z}},
	} {
		t.Run(string(c.way), func(t *testing.T) {
			j, p := lower(t)
			require.NoError(t, SetKeepLine(j, p, c.way))
			require.Empty(t, job.Check(j))
			assert.Equal(t, c.way, WayOf(j, p))
			was := place(t, j, p)
			require.NoError(t, Move(j, p, r3.Add(was, r3.Vec{X: 10, Y: 20, Z: 30})))
			want := r3.Add(was, r3.Vec{X: c.moved[0], Y: c.moved[1], Z: c.moved[2]})
			assert.Equal(t, want, place(t, j, p))
			for _, a := range c.no {
				require.ErrorContains(t, Type(j, p, a, "250"), "Press Keep again", a.String())
				assert.Equal(t, want, place(t, j, p))
			}
			require.NoError(t, SetKeepLine(j, p, WayNone))
			assert.Nil(t, j.Keep)
			require.NoError(t, Type(j, p, c.no[0], "250"))
		})
	}
}

func TestALineAlongItsLinkStaysWhereTheLinkLay(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		j, p := lower(t)
		p.Side = rapid.SampledFrom([]job.Side{job.Left, job.Right}).Draw(rt, "side")
		p.End = rapid.SampledFrom([]End{FrameEnd, AxleEnd}).Draw(rt, "end")
		a, b, _ := Ends(j, p)
		u := r3.Unit(r3.Sub(b, a))
		require.NoError(t, SetKeepLine(j, p, WayLink))
		l, ok := KeptOn(j, p)
		require.True(t, ok)
		assert.InDelta(t, 1, r3.Dot(l.Along, u), 1e-9)
		was := place(t, j, p)
		for range rapid.IntRange(1, 4).Draw(rt, "n") {
			now := place(t, j, p)
			far := func(most float64, name string) float64 { // one not asked to move would follow the others
				return rapid.Float64Range(-most, most).Filter(func(v float64) bool { return math.Abs(v) > 1e-6 }).Draw(rt, name)
			}
			step := r3.Vec{X: far(60, "x"), Y: far(20, "y"), Z: far(60, "z")}
			require.NoError(t, Move(j, p, r3.Add(now, step)))
			off := r3.Sub(place(t, j, p), was)
			if far := r3.Norm(r3.Sub(off, r3.Scale(r3.Dot(off, u), u))); far > 1e-5 {
				rt.Fatalf("%v is %.7f mm off its line", place(t, j, p), far)
			}
			require.InDelta(t, r3.Dot(step, u), r3.Dot(r3.Sub(place(t, j, p), now), u), 1e-5) // the nearest place on it
		}
		require.NoError(t, Type(j, p, X, "640")) // one number typed stays as typed and the others follow
		assert.InDelta(t, 640, place(t, j, p).X, 1e-12)
		off := r3.Sub(place(t, j, p), was)
		assert.Less(t, r3.Norm(r3.Sub(off, r3.Scale(r3.Dot(off, u), u))), 1e-5)
	})
}

func TestALineOfHolesIsItsRows(t *testing.T) {
	j, p := lower(t)
	require.ErrorContains(t, SetKeepLine(j, p, WayHoles), "no row of holes")
	assert.NotContains(t, Ways(j, p), WayHoles)
	at := place(t, j, p)
	require.NoError(t, SetHoles(j, p, r3.Add(at, r3.Vec{Y: 4}), r3.Vec{X: 10, Z: 20}, 4))
	require.ErrorContains(t, SetKeepLine(j, p, WayHoles), "4.0 mm off")
	require.NoError(t, SetHoles(j, p, at, r3.Vec{X: 10, Z: 20}, 4))
	assert.Contains(t, Ways(j, p), WayHoles)
	require.NoError(t, SetKeepLine(j, p, WayHoles))
	require.Empty(t, job.Check(j))
	require.NoError(t, Type(j, p, Z, showLength(j, at.Z+40)))
	assert.Equal(t, 3, HoleOf(j, p))
	require.NoError(t, TakeHole(j, p, 2))
	assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Add(at, r3.Vec{X: 10, Z: 20}), place(t, j, p))), 1e-5)
	require.NoError(t, SetHoles(j, p, at, r3.Vec{Z: 20}, 4))
	require.ErrorContains(t, TakeHole(j, p, 2), "Press Keep and leave that first")
}

func TestLengthAndLineFight(t *testing.T) {
	j, p := lower(t)
	require.NoError(t, SetKeepLine(j, p, WayAlong))
	require.NoError(t, SetKeepLength(j, p.Index, true))
	was := place(t, j, p)
	length := LinkLength(j, p.Index)
	err := Move(j, p, r3.Add(was, r3.Vec{X: -10}))
	var f *Fight
	require.True(t, errors.As(err, &f))
	assert.Equal(t, [2]string{"Keep length", "Keep on line"}, f.Keeps)
	k := j.Links[p.Index]
	to := k.Frame
	to[0] -= 10
	shorter := length - r3.Norm(r3.Sub(to.Vec(), k.Axle.Vec()))
	require.Positive(t, shorter)
	assert.ErrorContains(t, err, workedOut(j, shorter)+" shorter")
	assert.Equal(t, was, place(t, j, p))
	// the one other place on the line with that length is taken
	other := 2*k.Axle[0] - was.X
	require.NoError(t, Move(j, p, r3.Vec{X: other, Y: was.Y, Z: was.Z}))
	assert.InDelta(t, length, LinkLength(j, p.Index), 1e-6)
}

func TestLengthAtItsHeightGoesRoundInPlan(t *testing.T) {
	j, p := lower(t)
	require.NoError(t, SetKeepLine(j, p, WayLevel))
	require.NoError(t, SetKeepLength(j, p.Index, true))
	was, length := place(t, j, p), LinkLength(j, p.Index)
	require.NoError(t, Move(j, p, r3.Add(was, r3.Vec{Y: -20})))
	now := place(t, j, p)
	assert.Equal(t, was.Z, now.Z)
	assert.InDelta(t, was.Y-20, now.Y, 1e-12)
	assert.NotEqual(t, was.X, now.X)
	assert.InDelta(t, length, LinkLength(j, p.Index), 1e-5)
	err := Move(j, p, r3.Add(now, r3.Vec{X: 300}))
	var f *Fight
	require.True(t, errors.As(err, &f), "%v", err)
	assert.Equal(t, now, place(t, j, p))
}

func TestTheFrameEndThatKeepsThePinionGoesUpByItself(t *testing.T) {
	j := plannedDemo(t, "rescue-tender")
	up := linkAt(t, j, "Upper")
	p := Pivot{List: Links, Index: up, End: FrameEnd, Side: job.Left}
	require.ErrorContains(t, SetKeepPinion(j, up, 3, 3), "1 mm apart")
	require.NoError(t, SetKeepPinion(j, up, -100, 80))
	require.Empty(t, job.Check(j))
	k, ok := KeptPinion(j)
	require.True(t, ok)
	assert.Equal(t, PinionKeep{Link: up, From: -100, To: 80}, k)
	SetPinionValue(j, -4.25)
	k, _ = KeptPinion(j)
	assert.Equal(t, -4.25, *k.Value)
	was := place(t, j, p)
	require.ErrorContains(t, Type(j, p, Z, "700"), "keeps the pinion")
	require.NoError(t, Move(j, p, r3.Add(was, r3.Vec{X: 5, Z: 9})))
	assert.Equal(t, r3.Add(was, r3.Vec{X: 5}), place(t, j, p))
	require.NoError(t, GiveHeight(j, up, 7))
	assert.InDelta(t, was.Z+7, place(t, j, p).Z, 1e-9)
	assert.True(t, IsGuess(j, p, Z))

	for _, c := range []struct {
		set  func(*job.Job) error
		with string
	}{
		{func(j *job.Job) error { return SetKeepLength(j, up, true) }, "Keep length"},
		{func(j *job.Job) error { return SetKeepLine(j, p, WayAcross) }, "Keep on line"},
		{func(j *job.Job) error { return SetKeepLine(j, p, WayLevel) }, "Keep on line"},
		{func(j *job.Job) error { return SetMeasured(j, p, true) }, "its measured place"},
	} {
		o := j.Clone()
		require.NoError(t, c.set(o))
		err := GiveHeight(o, up, 7)
		var f *Fight
		require.True(t, errors.As(err, &f), c.with)
		assert.Equal(t, [2]string{"Keep pinion", c.with}, f.Keeps)
		assert.ErrorContains(t, err, "7.0 mm up")
		at := place(t, o, p)
		assert.InDelta(t, was.Z+7, at.Z, 1e-9)
	}
	o := j.Clone() // an upright line lets it
	require.NoError(t, SetKeepLine(o, p, WayUp))
	require.NoError(t, GiveHeight(o, up, 7))
	err := Move(o, p, r3.Add(place(t, o, p), r3.Vec{Z: 3}))
	var f *Fight
	require.True(t, errors.As(err, &f))
	assert.ErrorContains(t, err, "3.0 mm up")
	assert.Equal(t, []string{"on line", "pinion"}, KeepWords(o, p))
	require.NoError(t, LeaveKeep(o, p))
	assert.Empty(t, KeepWords(o, p))
	assert.Nil(t, o.Keep)
}

func TestWhatIsKeptFollowsItsPart(t *testing.T) {
	j, p := lower(t)
	p.Side = job.Right
	strut := Pivot{List: Struts, Index: 0, End: AxleEnd, Side: job.Left}
	require.NoError(t, SetKeepLine(j, p, WayLink))
	require.NoError(t, SetKeepLine(j, strut, WayUp))
	require.NoError(t, SetKeepLength(j, p.Index, true))
	require.NoError(t, SetKeepPinion(j, p.Index, -50, 50))
	mirrored, _ := KeptOn(j, p)
	require.NoError(t, Rename(j, PartOf(p), "Bottom"))
	now, ok := KeptOn(j, p)
	assert.True(t, ok)
	assert.Equal(t, mirrored, now)

	require.NoError(t, Unlink(j, PartOf(p)))
	require.Empty(t, job.Check(j))
	_, ok = KeptPinion(j)
	assert.False(t, ok, "one end of a pair going up alone keeps nothing")
	right := Pivot{List: Links, Index: p.Index + 1, End: FrameEnd}
	now, ok = KeptOn(j, right)
	require.True(t, ok)
	assert.InDelta(t, 1, r3.Dot(mirrored.Along, now.Along), 1e-12)
	assert.True(t, KeepsLength(j, p.Index+1))
	left, _ := KeptOn(j, Pivot{List: Links, Index: p.Index, End: FrameEnd})
	assert.InDelta(t, -mirrored.Along.Y, left.Along.Y, 1e-12)

	require.NoError(t, Remove(j, Part{Struts, 0}))
	for _, k := range j.Keep {
		assert.NotEqual(t, PartName(sprayer(t), Part{Struts, 0}), k.Of)
	}
	require.NoError(t, Remove(j, PartOf(right)))
	for _, k := range j.Keep {
		assert.NotEqual(t, "Bottom right", k.Of)
	}
	assert.False(t, math.IsNaN(LinkLength(j, p.Index)))
}

// What a pivot kept on something may land on is what it then stands on.
func TestLandingsKeepToWhatIsKept(t *testing.T) {
	for _, way := range []Way{WayNone, WayLevel, WayUp, WayAlong, WayAcross, WayLink} {
		for _, length := range []bool{false, true} {
			j, p := lower(t)
			at := place(t, j, p)
			require.NoError(t, SetHoles(j, p, at, r3.Vec{Z: 20}, 4))
			require.NoError(t, SetKeepLine(j, p, way))
			require.NoError(t, SetKeepLength(j, p.Index, length))
			all := len(Landings(j, p, LandAll, 0))
			assert.Equal(t, way == WayNone && !length || way == WayUp && !length, len(Landings(j, p, LandHole, 0)) == 4, "%s %v", way, length)
			for _, l := range Landings(j, p, LandLevel|LandFace|LandHole, 0) {
				c := j.Clone()
				to := at
				switch {
				case l.Kind == LandHole:
					to = l.At
				case l.Axis == X:
					to.X = l.Value
				case l.Axis == Y:
					to.Y = l.Value
				default:
					to.Z = l.Value
				}
				if to.Y <= 0 { // a pair's left one stays left
					continue
				}
				require.NoError(t, Move(c, p, to), "%s %v: %s", way, length, l.Words)
				assert.InDelta(t, 0, r3.Norm(r3.Sub(place(t, c, p), to)), 1e-5, "%s %v: %s", way, length, l.Words)
			}
			if way == WayLink && length {
				assert.LessOrEqual(t, all, 1, "the hole it stands in")
			}
		}
	}
}
