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

func named(t testing.TB, list []Landing, words string) Landing {
	t.Helper()
	var all []string
	for _, l := range list {
		if l.Words == words {
			return l
		}
		all = append(all, l.Words)
	}
	require.Fail(t, "no landing "+words, "%q", all)
	return Landing{}
}

func pivotOf(t testing.TB, j *job.Job, name string) Pivot {
	t.Helper()
	for _, p := range Pivots(j) {
		if Name(j, p) == name {
			return p
		}
	}
	require.Fail(t, "no pivot "+name)
	return Pivot{}
}

func TestLandingsOfTheSprayersPanhardRod(t *testing.T) {
	j := sprayer(t)
	p := pivotOf(t, j, "Panhard rod, frame end")
	list := Landings(j, p, LandAll, math.NaN())
	l := named(t, list, "level with its own axle end")
	assert.Equal(t, Z, l.Axis)
	assert.Equal(t, 500.0, l.Value)
	assert.Equal(t, 430.0, named(t, list, "level with Lower, frame end").Value)
	// the shelf's right face lies at Y -390, its underside at Z 600; half the rod's tube is 22
	l = named(t, list, "22 mm off the right face of Tank shelf")
	assert.Equal(t, Y, l.Axis)
	assert.Equal(t, -412.0, l.Value)
	assert.True(t, l.Over(r3.Vec{X: -300, Y: -500, Z: 650}))
	assert.False(t, l.Over(r3.Vec{X: -300, Y: -500, Z: 499}), "more than a bracket below it")
	assert.Equal(t, 578.0, named(t, list, "22 mm off the underside of Tank shelf").Value)
	assert.Equal(t, LinkLength(j, 0), named(t, list, "as long as Lower").Length)
	for _, l := range list {
		assert.NotEqual(t, LandOther, l.Kind, "it is no unlinked pair")
	}
	require.NoError(t, SetKeepLength(j, p.Index, true))
	for _, l := range Landings(j, p, LandLength, 0) {
		assert.Fail(t, "a link that keeps its length lands on no other", l.Words)
	}
	assert.Empty(t, Landings(j, p, 0, 0))
	assert.Empty(t, Landings(j, Pivot{List: Links, Index: 99}, LandAll, 0))
}

func TestFacesOfPairsHaveInnerAndOuter(t *testing.T) {
	j := sprayer(t)
	p := pivotOf(t, j, "Lower left, frame end")
	list := Landings(j, p, LandFace, 0)
	i := wayAt(t, j, "Rail ahead")
	from, to := *j.Envelopes[i].From, *j.Envelopes[i].To
	lo, hi := math.Min(math.Abs(from), math.Abs(to)), math.Max(math.Abs(from), math.Abs(to))
	for side, sign := range map[string]float64{"left": 1, "right": -1} {
		assert.Equal(t, sign*lo, named(t, list, "on the inner face of Rail ahead "+side).Value)
		assert.Equal(t, sign*hi, named(t, list, "on the outer face of Rail ahead "+side).Value)
	}
	off := Landings(j, p, LandFace, 30)
	assert.Equal(t, lo-30, named(t, off, "30 mm off the inner face of Rail ahead left").Value, "off the face is away from the steel")
	assert.Equal(t, -hi-30, named(t, off, "30 mm off the outer face of Rail ahead right").Value)
}

func TestEdgesOfAnOutlineFaceOutwardWhicheverWayItTurns(t *testing.T) {
	lo, hi := 10.0, 50.0
	outline := []job.Point2{{0, 0}, {100, 0}, {100, 60}, {40, 60}, {40, 30}, {0, 30}}
	for _, back := range []bool{false, true} {
		e := job.Envelope{Name: "Step", Kind: "prism", Plane: "side", From: &lo, To: &hi}
		for i := range outline {
			k := i
			if back {
				k = len(outline) - 1 - i
			}
			e.Outline = append(e.Outline, outline[k])
		}
		list := prismFaces(nil, &job.Job{}, &e, 5)
		require.Len(t, list, 8)
		got := map[[2]float64]bool{}
		for _, l := range list[2:] {
			got[[2]float64{float64(l.Axis), l.Value}] = true
		}
		// edges at Z 0 below, X 100 ahead, Z 60 on top, X 40 behind, Z 30 on top, X 0 behind
		assert.Equal(t, map[[2]float64]bool{{2, -5}: true, {0, 105}: true, {2, 65}: true, {0, 35}: true, {2, 35}: true, {0, -5}: true}, got, "back %v", back)
	}
}

func TestAnUnlinkedPairKnowsItsOtherSide(t *testing.T) {
	j := sprayer(t)
	_, ok := Unlinked(j, Part{Links, 0})
	assert.False(t, ok, "a linked pair is no unlinked one")
	require.NoError(t, Unlink(j, Part{Links, 0}))
	other, ok := Unlinked(j, Part{Links, 0})
	require.True(t, ok)
	assert.Equal(t, "Lower right", other)
	p := pivotOf(t, j, "Lower left, frame end")
	p.Side = job.Single
	o, ok := OtherSide(j, p)
	require.True(t, ok)
	assert.Equal(t, "Lower right, frame end", Name(j, o))
	at, _ := At(j, p)
	assert.Equal(t, at, named(t, Landings(j, p, LandOther, 0), "at the mirrored place of Lower right, frame end").At)
}

func TestLandingsOfATwinAreMirrored(t *testing.T) {
	jobs := []*job.Job{plannedDemo(t, "orchard-sprayer"), plannedDemo(t, "rescue-tender"), plannedDemo(t, "survey-wagon")}
	rapid.Check(t, func(t *rapid.T) {
		j := rapid.SampledFrom(jobs).Draw(t, "job")
		p := rapid.SampledFrom(Pivots(j)).Draw(t, "pivot")
		if p.Side != job.Left {
			return
		}
		q := p
		q.Side = job.Right
		off := rapid.Float64Range(0, 50).Draw(t, "off")
		left, right := Landings(j, p, LandLevel|LandLength, off), Landings(j, q, LandLevel|LandLength, off)
		if len(left) != len(right) {
			t.Fatalf("%d and %d", len(left), len(right))
		}
		for i := range left {
			m := right[i].At
			single := m == left[i].At // a pivot with no twin stands where it stands
			m.Y = -m.Y
			if left[i].Words != right[i].Words || left[i].Value != right[i].Value || !single && r3.Norm(r3.Sub(left[i].At, m)) > 1e-9 {
				t.Fatalf("%+v and %+v", left[i], right[i])
			}
		}
	})
}
