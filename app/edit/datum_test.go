package edit

import (
	"math"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// withDatums is the sprayer with a rail's top (Z 600) and four places on the frame.
func withDatums(t *testing.T) *job.Job {
	t.Helper()
	j := sprayer(t)
	for _, d := range []DatumText{
		{Name: "Rail top", Z: "600"},
		{Name: "Bolt 1", X: "0", Y: "-400", Z: "600", PlusMinus: "2"},
		{Name: "Bolt 2", X: "0", Y: "400", Z: "600"},
		{Name: "Bolt 3", X: "-1500", Y: "400", Z: "600"},
		{Name: "Bolt 4", X: "-1500", Y: "-400", Z: "620"},
	} {
		require.NoError(t, AddDatum(j, d))
	}
	return j
}

func end(t *testing.T, j *job.Job, link string, e End) Pivot {
	t.Helper()
	for i := range j.Links {
		if j.Links[i].Name == link {
			p := Pivot{List: Links, Index: i, End: e}
			if j.Links[i].Pair {
				p.Side = job.Left
			}
			return p
		}
	}
	require.Fail(t, "no link", link)
	return Pivot{}
}

func place(t testing.TB, j *job.Job, p Pivot) r3.Vec {
	t.Helper()
	at, ok := At(j, p)
	require.True(t, ok)
	return at
}

func TestDatumsAreRead(t *testing.T) {
	j := withDatums(t)
	assert.Equal(t, []string{"Rail top", "Bolt 1", "Bolt 2", "Bolt 3", "Bolt 4"}, DatumsFixing(j, Z))
	assert.Equal(t, []string{"Bolt 1", "Bolt 2", "Bolt 3", "Bolt 4"}, DatumsFixing(j, X))
	assert.Equal(t, DatumText{Name: "Bolt 1", X: "0", Y: "-400", Z: "600", PlusMinus: "2"}, DatumTexts(j)[1])
	for _, tc := range []struct {
		d    DatumText
		want string
	}{
		{DatumText{Z: "1"}, "no name"},
		{DatumText{Name: "Bolt 1", Z: "1"}, "already"},
		{DatumText{Name: "a; b", Z: "1"}, "semicolon"},
		{DatumText{Name: "a", X: "1", Z: "1"}, "only the one it fixes"},
		{DatumText{Name: "a"}, "only the one it fixes"},
		{DatumText{Name: "a", Z: "low"}, "a, Z"},
		{DatumText{Name: "a", Z: "1", PlusMinus: "-1"}, "below 0"},
	} {
		require.ErrorContains(t, AddDatum(j, tc.d), tc.want)
	}
	require.Len(t, j.Datums, 5)
}

func TestCoordinateCountedFromADatumFollowsIt(t *testing.T) {
	j := withDatums(t)
	p := end(t, j, "Panhard rod", FrameEnd)
	before := place(t, j, p)
	require.NoError(t, SetDatum(j, p, Z, "Rail top"))
	assert.Equal(t, before, place(t, j, p), "choosing a datum moves nothing")
	assert.True(t, IsGuess(j, p, Z), "and measures nothing")
	require.NoError(t, Type(j, p, Z, "-40"))
	assert.InDelta(t, 560, place(t, j, p).Z, 1e-9)
	g, ok := GivenOf(j, p, Z)
	require.True(t, ok)
	assert.Equal(t, job.GivenValue{Typed: "-40", From: "Rail top"}, g)
	require.Error(t, SetDatum(j, p, X, "Rail top"), "it does not say where it is there")

	require.NoError(t, SetMeasured(j, p, true))
	j.Trials = []job.Trial{{Name: "Other", Links: j.Clone().Links}}
	c, err := CorrectDatum(j, 0, DatumText{Name: "Rail, top", Z: "612"})
	require.NoError(t, err)
	assert.Equal(t, Carried{Numbers: 2}, c, "once in the job, once in the trial")
	assert.Equal(t, "Rail, top: 2 numbers moved with it.", c.Words("Rail, top"))
	assert.InDelta(t, 572, place(t, j, p).Z, 1e-9)
	assert.InDelta(t, 572, j.Trials[0].Links[p.Index].Frame[2], 1e-9)
	assert.Equal(t, before.X, place(t, j, p).X)
	g, _ = GivenOf(j, p, Z)
	assert.Equal(t, "Rail, top", g.From)
	_, err = CorrectDatum(j, 0, DatumText{Name: "Rail, top", X: "612"})
	require.ErrorContains(t, err, "counted from it")

	n, err := RemoveDatum(j, 0)
	require.NoError(t, err)
	assert.Equal(t, 2, n)
	assert.InDelta(t, 572, place(t, j, p).Z, 1e-9)
	g, ok = GivenOf(j, p, Z)
	assert.True(t, ok, "it was measured and still is")
	assert.Equal(t, "572", g.Typed)
}

func TestDatumCorrectedToWhatItWasMovesNothing(t *testing.T) {
	j := withDatums(t)
	p := end(t, j, "Panhard rod", FrameEnd)
	j.Datums[0].At[2] = 600.0004567
	require.NoError(t, SetDatum(j, p, Z, "Rail top"))
	require.NoError(t, Type(j, p, Z, "-40"))
	for _, unit := range []string{"mm", "in"} {
		j.Shown = &job.Shown{Length: unit}
		before := j.Clone()
		d := DatumTexts(j)[0]
		c, err := CorrectDatum(j, 0, d)
		require.NoError(t, err)
		assert.Equal(t, Carried{}, c)
		assert.Equal(t, before, j)
	}
}

func TestTwinCountsFromTheMirror(t *testing.T) {
	j := withDatums(t)
	left := end(t, j, "Lower", FrameEnd)
	right := left
	right.Side = job.Right
	require.NoError(t, SetDatum(j, left, Y, "Bolt 2"))
	require.NoError(t, Type(j, left, Y, "30"))
	assert.InDelta(t, 430, place(t, j, left).Y, 1e-9)
	_, at, ok := DatumOf(j, right, Y)
	require.True(t, ok)
	assert.Equal(t, -400., at)
	require.NoError(t, Type(j, right, Y, "-35"))
	assert.InDelta(t, 435, place(t, j, left).Y, 1e-9)
	g, _ := GivenOf(j, left, Y)
	assert.Equal(t, "35", g.Typed)
	require.ErrorContains(t, SetDatum(j, right, Y, "Bolt 1"), "Take the left one")
}

func TestPartInTheWayFollowsItsDatum(t *testing.T) {
	j := withDatums(t)
	i := -1
	for k := range j.Envelopes {
		if j.Envelopes[k].Min != nil {
			i = k
			break
		}
	}
	require.GreaterOrEqual(t, i, 0)
	e := &j.Envelopes[i]
	e.Given = job.Given{"min.z": {Typed: "10", From: "Rail top"}, "clearance": {From: "Rail top"}}
	was := e.Min[2]
	c, err := CorrectDatum(j, 0, DatumText{Name: "Rail top", Z: "605"})
	require.NoError(t, err)
	assert.Equal(t, Carried{Numbers: 1, Stayed: 1}, c)
	assert.InDelta(t, was+5, e.Min[2], 1e-9)
	assert.Contains(t, c.Words("Rail top"), "1 number that is no place stayed")
}

// rowsTo are tapes to a place from datums, exact in steps of 0.001 mm.
func rowsTo(t *testing.T, j *job.Job, at r3.Vec, names ...string) []TapeText {
	t.Helper()
	var out []TapeText
	for _, n := range names {
		from, _, err := tapePlace(j, n, Pivot{Index: -1})
		require.NoError(t, err)
		out = append(out, TapeText{From: n, Length: measure.Typed(r3.Norm(r3.Sub(at, from)), measure.Millimetres)})
	}
	return out
}

func TestTapesPlaceAPivotAndAreKept(t *testing.T) {
	for _, name := range []string{"Panhard rod", "Lower"} {
		for _, side := range []job.Side{job.Single, job.Right} {
			j := withDatums(t)
			p := end(t, j, name, FrameEnd)
			if side == job.Right {
				if p.Side == job.Single {
					continue
				}
				p.Side = job.Right
			}
			at := r3.Add(place(t, j, p), r3.Vec{X: 12, Y: -5, Z: -200})
			rows := rowsTo(t, j, at, "Bolt 1", "Bolt 2", "Bolt 3", "Bolt 4")
			rows[1].PlusMinus = "3"
			tapes, err := ReadTapes(j, p, append(rows, TapeText{From: "Bolt 1"}))
			require.NoError(t, err)
			require.Len(t, tapes, 4)
			assert.Equal(t, math.Hypot(1.5, 2), tapes[0].PlusMinus, "the place's own is added")
			assert.Equal(t, 3., tapes[1].PlusMinus)
			answers, err := measure.Tapes(tapes)
			require.NoError(t, err)
			best := answers[0]
			if len(answers) > 1 && r3.Norm(r3.Sub(answers[1].At, at)) < r3.Norm(r3.Sub(best.At, at)) {
				best = answers[1]
			}
			require.NoError(t, TakeTapes(j, p, rows, best))
			assert.InDelta(t, 0, r3.Norm(r3.Sub(at, place(t, j, p))), 0.05) // the four bolts lie nearly in a plane: 0.001 mm of tape is more off it
			for a := X; a <= Z; a++ {
				g, ok := GivenOf(j, p, a)
				require.True(t, ok)
				n, taped := IsTaped(g)
				assert.True(t, taped)
				assert.Equal(t, 4, n)
				assert.Positive(t, *g.PlusMinus)
				assert.False(t, IsGuess(j, p, a))
			}
			back := TapesOf(j, p)
			require.Len(t, back, 4)
			assert.Equal(t, "Bolt 2", back[1].From)
			assert.Equal(t, "3 mm", back[1].PlusMinus)
			if p.Side != job.Single {
				other := p
				other.Side = job.Left
				if p.Side == job.Left {
					other.Side = job.Right
				}
				assert.Empty(t, TapesOf(j, other), "they went to the other twin")
			}

			// all four bolts 10 ahead, one after the other: the pivot goes 10 ahead too, whatever unit is shown
			j.Shown = &job.Shown{Length: "in"}
			now := place(t, j, p)
			for i := 1; i <= 4; i++ {
				d := DatumTexts(j)[i]
				d.X = measure.Typed(j.Datums[i].At[0]+10, measure.Millimetres) + " mm"
				c, err := CorrectDatum(j, i, d)
				require.NoError(t, err)
				assert.Equal(t, Carried{Taped: 1}, c)
			}
			assert.InDelta(t, now.X+10, place(t, j, p).X, 0.1)
			_, err = RemoveDatum(j, 1)
			require.ErrorContains(t, err, "placed by a tape from Bolt 1")

			require.NoError(t, Type(j, p, X, "-20"))
			g, _ := GivenOf(j, p, X)
			assert.Equal(t, job.GivenValue{Typed: "-20"}, g, "typed over it is no tape's any more")
		}
	}
}

func TestTapesRefused(t *testing.T) {
	j := withDatums(t)
	p := end(t, j, "Panhard rod", FrameEnd)
	rows := rowsTo(t, j, place(t, j, p), "Bolt 1", "Bolt 2", "Bolt 3")
	for _, tc := range []struct {
		row  TapeText
		want string
	}{
		{TapeText{From: "Rail top", Length: "5"}, "Tape 3: Rail top fixes only one"},
		{TapeText{From: "Nowhere", Length: "5"}, "no place called"},
		{TapeText{From: "Bolt 3", Length: "x"}, "Tape 3"},
		{TapeText{From: "Bolt 3", Length: "-5"}, "Tape 3 has no length"},
		{TapeText{From: "Bolt 3", Length: "5", PlusMinus: "0"}, "more than 0"},
		{TapeText{From: "Bolt 3"}, "there are"},
	} {
		_, err := ReadTapes(j, p, []TapeText{rows[0], rows[1], tc.row})
		if tc.row.Length == "" {
			require.ErrorContains(t, err, "2 are typed")
			continue
		}
		require.ErrorContains(t, err, tc.want)
	}
	answer := measure.Taped{At: place(t, j, p)}
	require.NoError(t, SetKeepLength(j, p.Index, true))
	require.ErrorContains(t, TakeTapes(j, p, rows, answer), "keeps its length")
	require.NoError(t, SetMeasured(j, p, true))
	require.ErrorContains(t, TakeTapes(j, p, rows, answer), "is measured")
	other := end(t, j, "Panhard rod", AxleEnd)
	assert.Contains(t, TapePlaces(j, other), "Panhard rod, frame end")
	assert.NotContains(t, TapePlaces(j, p), "Panhard rod, frame end")
}

func TestSquareWords(t *testing.T) {
	j := withDatums(t)
	names := [4]string{"Bolt 1", "Bolt 2", "Bolt 3", "Bolt 4"}
	got, err := SquareWords(j, names, [2]string{"1703", "1697"})
	require.NoError(t, err)
	assert.Contains(t, got, "out of square: side 3 to 4 is pushed 6.4 mm along side 1 to 2.") // 3400 x 6 / (4 x 800.1)
	assert.Contains(t, got, "one corner stands 20 mm off the plane of the other three.")
	got, err = SquareWords(j, names, [2]string{})
	require.NoError(t, err)
	assert.Contains(t, got, "By the datums they lie square.")
	names[2] = "Rail top"
	_, err = SquareWords(j, names, [2]string{})
	require.ErrorContains(t, err, "Corner 3")
	names[2] = "Bolt 3"
	_, err = SquareWords(j, names, [2]string{"x", ""})
	require.ErrorContains(t, err, "Diagonal 1 to 3")
}

// Everything counted from one datum moves as one: every pivot of every demo by what the datum moved.
func TestAllThatHangsOnADatumMovesAsOne(t *testing.T) {
	for _, name := range assets.Demos() {
		j := plannedDemo(t, name)
		require.NoError(t, AddDatum(j, DatumText{Name: "Mark", X: "100", Y: "0", Z: "500"}))
		list := Pivots(j)
		for _, p := range list {
			for a := X; a <= Z; a++ {
				require.NoError(t, SetDatum(j, p, a, "Mark"))
			}
			require.NoError(t, SetMeasured(j, p, true))
		}
		before := j.Clone()
		c, err := CorrectDatum(j, 0, DatumText{Name: "Mark", X: "110", Y: "0", Z: "495"})
		require.NoError(t, err)
		assert.Equal(t, Carried{Numbers: 2 * len(list)}, c, name)
		for _, p := range list {
			was, now := place(t, before, p), place(t, j, p)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Sub(now, was), r3.Vec{X: 10, Z: -5})), 1e-9, Name(j, p))
		}
	}
}
