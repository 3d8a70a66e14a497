package edit

import (
	"strconv"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// members is a job with one of everything that can be added, two-piece shaft included.
func members(t testing.TB) *job.Job {
	t.Helper()
	j, _ := everyEnd(t)
	for _, l := range []List{Sensors, Struts, Bearing} {
		for _, k := range Kinds(l) {
			_, err := Add(j, l, k)
			require.NoError(t, err)
		}
	}
	require.Empty(t, job.Check(j))
	return j
}

func TestEveryPivotHasANameAndMoves(t *testing.T) {
	j := members(t)
	names := map[string]bool{}
	for n, p := range Pivots(j) {
		name := Name(j, p)
		require.NotEmpty(t, name)
		assert.False(t, names[name], "%s is the name of two pivots", name)
		names[name] = true
		at, ok := At(j, p)
		require.True(t, ok)
		if KeepsLength(j, p.Index) && p.List == Links {
			continue
		}
		require.NoError(t, Move(j, p, r3.Add(at, r3.Vec{X: 3, Y: 2, Z: 1})), name)
		now, _ := At(j, p)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(now, r3.Add(at, r3.Vec{X: 3, Y: 2, Z: 1}))), 1e-9, name)
		for a := X; a <= Z; a++ {
			assert.True(t, IsGuess(j, p, a), name)
		}
		require.NoError(t, Type(j, p, Y, strconv.Itoa(250+3*n)), name)
		assert.False(t, IsGuess(j, p, Y), name)
		assert.True(t, IsGuess(j, p, Z), name)
		require.NoError(t, SetGiven(j, p, Z, "floor", 2, "tape"), name)
		require.Empty(t, job.Check(j), name)
		require.NoError(t, SetMeasured(j, p, true))
		assert.True(t, IsMeasured(j, p), name)
		require.ErrorContains(t, Move(j, p, at), "press Free", name)
		require.Empty(t, job.Check(j), name)
		require.NoError(t, SetMeasured(j, p, false))
		assert.False(t, IsMeasured(j, p), name)
	}
	for _, want := range []string{"A-arm, first frame end", "A-arm, second frame end", "A-arm, axle end", "Radius arm left, frame end", "Radius arm left, second axle end",
		"Watt's rocker, bolt", "Watt's upper rod, rocker end", "Watt's lower rod, far end", "Height sensor, shaft", "Height sensor, lever's end",
		"Height sensor 2 left, rod's far end", "Centre bearing joint"} {
		assert.True(t, names[want], want)
	}
}

// "frame" among an arm's measured ones is all its frame pivots; freeing one leaves the other measured.
func TestFreeingOneOfAnArmsPivots(t *testing.T) {
	j := members(t)
	a := &j.Arms[0]
	a.Measured = []string{"frame"}
	first, second := Pivot{List: Arms}, Pivot{List: Arms, Sub: 1}
	assert.True(t, IsMeasured(j, first) && IsMeasured(j, second))
	require.NoError(t, SetMeasured(j, first, false))
	assert.False(t, IsMeasured(j, first))
	assert.True(t, IsMeasured(j, second))
	assert.Equal(t, []string{"frame[1]"}, a.Measured)
	require.Empty(t, job.Check(j))
}

func TestMembersAreRenamedCopiedUnlinkedAndRemoved(t *testing.T) {
	for _, l := range []List{Arms, Rockers, Sensors} {
		j := members(t)
		n := Len(j, l)
		last := Part{l, n - 1}
		require.NoError(t, Rename(j, last, "Odd one"))
		assert.Equal(t, "Odd one", PartName(j, last))
		require.Error(t, Rename(j, last, PartName(j, Part{Links, 0})), "a name that is taken")
		c, err := Duplicate(j, last)
		require.NoError(t, err)
		assert.Equal(t, Part{l, n}, c)
		assert.Empty(t, job.Check(j))
		if e, _ := at(j, last); e.pair != nil && *e.pair {
			require.NoError(t, Set(j, last, "pair", "no"))
			assert.Equal(t, n+2, Len(j, l))
			assert.Empty(t, job.Check(j))
		}
		for Len(j, l) > 0 {
			require.NoError(t, Remove(j, Part{l, 0}))
		}
		assert.Empty(t, job.Check(j))
	}
	j := members(t)
	require.NoError(t, Remove(j, Part{List: Bearing}))
	assert.Nil(t, j.Driveline.Bearing)
}

func TestRodsAreRenamedEverywhere(t *testing.T) {
	j := members(t)
	rails := wayAt(t, j, "Rail kick-up")
	j.Envelopes[rails].Carries = append(j.Envelopes[rails].Carries, "Watt's upper rod")
	j.Trials = []job.Trial{{Name: "b", Rockers: j.Clone().Rockers}}
	require.NoError(t, Set(j, Part{List: Rockers}, "rods[0].name", "Top rod"))
	assert.Equal(t, "Top rod", j.Rockers[0].Rods[0].Name)
	assert.Contains(t, j.Envelopes[rails].Carries, "Top rod")
	assert.Equal(t, "Top rod", j.Trials[0].Rockers[0].Rods[0].Name)
	require.Error(t, Set(j, Part{List: Rockers}, "rods[0].name", "Lower"))
	require.Error(t, Set(j, Part{List: Rockers}, "rods[0].name", ""))
}

// What stands on a link follows it: unlinked with it, called by its new name, and not left without it.
func TestStrutsOnALinkFollowIt(t *testing.T) {
	j := sprayer(t)
	lower := Part{Links, linkAt(t, j, "Lower")}
	strut, err := Add(j, Struts, "Two struts")
	require.NoError(t, err)
	require.NoError(t, Set(j, strut, "on", "Lower"))
	require.ErrorContains(t, Set(j, strut, "on", "Panhard"), "is one of")
	require.Empty(t, job.Check(j))
	require.ErrorContains(t, Remove(j, lower), "stands on Lower")
	require.NoError(t, Rename(j, lower, "Low"))
	assert.Equal(t, "Low", j.Struts[strut.Index].On)
	require.NoError(t, Set(j, lower, "pair", "no"))
	require.Empty(t, job.Check(j))
	assert.Equal(t, "Low left", j.Struts[strut.Index].On)
	assert.Equal(t, "Low right", j.Struts[strut.Index+1].On)

	require.NoError(t, Set(j, Part{Links, lower.Index + 1}, "name", "Other"))
	require.NoError(t, Remove(j, Part{Struts, strut.Index + 1}))
	require.NoError(t, Remove(j, Part{Links, lower.Index + 1}))
	require.NoError(t, Set(j, lower, "name", "Low"))
	assert.Equal(t, "Low", j.Struts[strut.Index].On)
	require.NoError(t, Set(j, lower, "pair", "yes"))
	assert.Equal(t, "Low left", j.Struts[strut.Index].On)
	require.Empty(t, job.Check(j))
}

// Every field of every form takes back what it shows, and the job is as it was.
func TestFormsOfMembersTakeBackWhatTheyShow(t *testing.T) {
	j := members(t)
	for _, l := range []List{Arms, Rockers, Sensors, Bearing, Driveline, Struts} {
		for i := range Len(j, l) {
			part := Part{l, i}
			keys := map[string]bool{}
			for _, f := range Fields(j, part) {
				require.False(t, keys[f.Key], "%s twice in %s", f.Key, PartName(j, part))
				keys[f.Key] = true
				if f.Unit == ReadOnly || f.Text == "" {
					continue
				}
				require.NoError(t, Set(j, part, f.Key, f.Text), "%s: %s", PartName(j, part), f.Key)
				require.Empty(t, job.Check(j), "%s: %s", PartName(j, part), f.Key)
				for _, g := range Fields(j, part) {
					if g.Key == f.Key {
						assert.Equal(t, f.Text, g.Text, "%s: %s", PartName(j, part), f.Key)
					}
				}
			}
		}
	}
}

func TestFormsOfMembers(t *testing.T) {
	j := members(t)
	set := func(l List, i int, key, text string) { t.Helper(); require.NoError(t, Set(j, Part{l, i}, key, text)) }
	set(Arms, 0, "frameEnds[1].misalignment", "11")
	assert.Equal(t, 11.0, *j.Arms[0].FrameEnds[1].Misalignment)
	for k := range 2 {
		for _, key := range []string{"kind", "misalignment", "torsion"} {
			set(Arms, 0, []string{"frameEnds[0].", "frameEnds[1]."}[k]+key, "")
		}
	}
	assert.Nil(t, j.Arms[0].FrameEnds, "nothing is said of either any more")
	set(Rockers, 0, "rods[1].tube.outside", "40")
	assert.Equal(t, 40.0, j.Rockers[0].Rods[1].Tube.Outside)
	set(Rockers, 0, "axisTurned", "90")
	assert.Equal(t, job.Point{0, 1, 0}, j.Rockers[0].Axis)
	set(Rockers, 0, "axis", "fore-and-aft")
	assert.Equal(t, job.Point{1, 0, 0}, j.Rockers[0].Axis)
	set(Sensors, 0, "swing[1]", "60")
	assert.Equal(t, [2]float64{-45, 60}, *j.Sensors[0].Swing)
	set(Sensors, 0, "swing[0]", "")
	assert.Nil(t, j.Sensors[0].Swing)
	set(Sensors, 0, "on", "A-arm")
	set(Driveline, 0, "speed", "2600")
	assert.Equal(t, 2600.0, *j.Driveline.Speed)
	set(Driveline, 0, "bearing.yokePhase", "90")
	assert.Equal(t, 90.0, j.Driveline.Bearing.YokePhase)
	set(Links, 0, "clock", "-6")
	assert.Equal(t, -6.0, *j.Links[0].Clock)
	bag := Len(j, Struts) - 1
	set(Struts, bag, "diameters", "110, 250; 330, 170")
	assert.Equal(t, []job.Point2{{110, 250}, {330, 170}}, j.Struts[bag].Diameters)
	set(Vehicle, 0, "frontTravel", "still")
	assert.Empty(t, job.Check(j))
}
