package edit

import (
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// pairsOf are the parts of a job that are pairs.
func pairsOf(j *job.Job) (list []Part) {
	for _, l := range []List{Links, Arms, Struts, Stops, Straps, Lines, Sensors, Envelopes} {
		for i := range Len(j, l) {
			if IsPair(j, Part{l, i}) {
				list = append(list, Part{l, i})
			}
		}
	}
	return list
}

func TestUnlinkedAndLinkedAgainIsWhatItWas(t *testing.T) {
	for _, was := range []*job.Job{sprayer(t), plannedDemo(t, "rescue-tender"), plannedDemo(t, "survey-wagon"), members(t)} {
		for _, part := range pairsOf(was) {
			for side := range 2 {
				j := was.Clone()
				name := PartName(j, part)
				if part.List == Links {
					require.NoError(t, SetKeepLength(j, part.Index, true))
				}
				before := j.Clone()
				n := Len(j, part.List)
				require.NoError(t, Unlink(j, part))
				for k := range 2 {
					other, ok := Unlinked(j, Part{part.List, part.Index + k})
					require.True(t, ok, name)
					assert.Equal(t, name+sides[1-k], other)
				}
				if Len(j, part.List) != n+1 {
					t.Fatalf("%s: %d entries", name, Len(j, part.List))
				}
				require.NoError(t, LinkAgain(j, Part{part.List, part.Index + side}), name)
				for _, l := range []List{Struts, Sensors} { // what stands on it came apart with it
					for i := Len(j, l) - 1; i >= 0; i-- {
						if _, ok := Unlinked(j, Part{l, i}); ok {
							require.NoError(t, LinkAgain(j, Part{l, i}), PartName(j, Part{l, i}))
							i = Len(j, l)
						}
					}
				}
				assert.Equal(t, before, j, "%s, side %d", name, side)
				require.Empty(t, job.Check(j))
			}
		}
	}
}

func TestLinkAgainTakesThePlaceThatHolds(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		j := sprayer(t)
		require.NoError(t, Unlink(j, Part{Links, 0}))
		p := Pivot{List: Links, Index: rapid.IntRange(0, 1).Draw(rt, "moved"), End: FrameEnd}
		at, _ := At(j, p)
		at.X += rapid.Float64Range(-200, 200).Draw(rt, "x")
		at.Z += rapid.Float64Range(-100, 100).Draw(rt, "z")
		require.NoError(t, Move(j, p, at))
		hold := rapid.IntRange(0, 1).Draw(rt, "hold")
		want, _ := At(j, Pivot{List: Links, Index: hold, End: FrameEnd})
		if hold == 1 {
			want.Y = -want.Y
		}
		require.NoError(t, LinkAgain(j, Part{Links, hold}))
		got, _ := At(j, Pivot{List: Links, Index: 0, End: FrameEnd, Side: job.Left})
		if got != want {
			rt.Fatalf("%v, not %v", got, want)
		}
		if !j.Links[0].Pair || j.Links[0].Name != "Lower" {
			rt.Fatalf("%+v", j.Links[0])
		}
	})
}

func TestLinkAgainRefuses(t *testing.T) {
	apart := func() *job.Job {
		j := sprayer(t)
		require.NoError(t, Unlink(j, Part{Links, 0}))
		return j
	}
	j := apart()
	assert.ErrorContains(t, LinkAgain(j, Part{Links, linkAt(t, j, "Panhard rod")}), "not one of an unlinked pair")
	q := Pivot{List: Links, Index: 1, End: FrameEnd}
	at, _ := At(j, q)
	at.X += 20
	require.NoError(t, Move(j, q, at))
	require.NoError(t, SetMeasured(j, q, true))
	assert.ErrorContains(t, LinkAgain(j, Part{Links, 0}), "Lower right, frame end is measured and does not stand where its mirror would")
	require.NoError(t, LinkAgain(j, Part{Links, 1}), "its own side's place holds")

	j = apart()
	at, _ = At(j, Pivot{List: Links, Index: 0, End: FrameEnd})
	at.Y = -30
	require.NoError(t, Move(j, Pivot{List: Links, Index: 0, End: FrameEnd}, at))
	assert.ErrorContains(t, LinkAgain(j, Part{Links, 0}), "on the other side of the middle")

	j = apart()
	require.NoError(t, Rename(j, Part{Links, linkAt(t, j, "Panhard rod")}, "Lower"))
	assert.ErrorContains(t, LinkAgain(j, Part{Links, 0}), "The name Lower is in use")
}

func TestTheFormLinksAgainByWhatItShows(t *testing.T) {
	j := sprayer(t)
	require.NoError(t, Unlink(j, Part{Links, 0}))
	require.NoError(t, Set(j, Part{Links, 1}, "pair", "yes"))
	assert.True(t, j.Links[0].Pair)
	assert.Greater(t, j.Links[0].Frame[1], 0.0)
}
