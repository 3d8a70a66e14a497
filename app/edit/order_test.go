package edit

import (
	"bytes"
	"strings"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

var ordered = []List{Links, Arms, Rockers, Struts, Stops, Straps, Lines, Sensors, Envelopes, Loads, Heights, Housing}

func TestReorder(t *testing.T) {
	j := sprayer(t)
	first, second := PartName(j, Part{Links, 0}), PartName(j, Part{Links, 1})
	p, err := Reorder(j, Part{Links, 0}, 1)
	require.NoError(t, err)
	assert.Equal(t, Part{Links, 1}, p)
	assert.Equal(t, []string{second, first}, []string{PartName(j, Part{Links, 0}), PartName(j, Part{Links, 1})})
	p, err = Reorder(j, Part{Links, 0}, -1)
	require.NoError(t, err)
	assert.Equal(t, Part{Links, 0}, p, "at the end of the list it stays")
	_, err = Reorder(j, Part{Vehicle, 0}, 1)
	assert.Error(t, err)
}

// A copy never lies on what it is of: one side's part comes to the other side as its mirror image and by its name, any other stands beside itself.
func TestCopiesAreTold(t *testing.T) {
	for _, demo := range assets.Demos() {
		for _, l := range ordered {
			j := plannedDemo(t, demo)
			for i := range Len(j, l) {
				lo, hi, ok := reach(j, Part{l, i})
				c, err := Duplicate(j, Part{l, i})
				require.NoError(t, err)
				require.Empty(t, job.Check(j), "%s: %s", demo, PartName(j, c))
				if !ok {
					continue
				}
				clo, chi, _ := reach(j, c)
				assert.Greater(t, r3.Norm(r3.Sub(clo, lo))+r3.Norm(r3.Sub(chi, hi)), 9.0, "%s: %s", demo, PartName(j, c))
			}
		}
	}
	j := sprayer(t)
	require.NoError(t, Unlink(j, Part{Links, linkAt(t, j, "Lower")}))
	require.NoError(t, Remove(j, Part{Links, linkAt(t, j, "Lower right")}))
	c, err := Duplicate(j, Part{Links, linkAt(t, j, "Lower left")})
	require.NoError(t, err)
	assert.Equal(t, "Lower right", PartName(j, c))
	l := j.Links[linkAt(t, j, "Lower left")]
	assert.Equal(t, l.Frame.Mirror(), j.Links[c.Index].Frame)
	assert.True(t, IsGuess(j, Pivot{List: Links, Index: c.Index, End: FrameEnd}, X), "nobody gave the copy's places")
}

func TestWhatWentAlongIsTold(t *testing.T) {
	j := sprayer(t)
	rod := Part{Links, linkAt(t, j, "Panhard rod")}
	require.NoError(t, SetKeepLength(j, rod.Index, true))
	j.Brackets = []job.Bracket{{Of: "Panhard rod", End: "frame", Kind: "tab", Thickness: 8, Hole: 16, Edge: 25, Base: 50}}
	j.AsBuilt = []job.AsBuilt{{Of: "Panhard rod", End: "frame"}, {Of: "Lower", End: "frame"}}
	j.SetAside = []job.SetAside{{Finding: "hits/Panhard rod/tank shelf", Reason: "cut"}, {Finding: "hits/Panhard rods/tank shelf", Reason: "cut"}, {Finding: "roll steer", Reason: "fine"}}
	was := j.Clone()
	gone := func() string {
		j.Tidy()
		Forget(was, j)
		return WentAlong(was, j, "Panhard rod")
	}
	assert.Empty(t, gone(), "nothing went")
	require.NoError(t, Remove(j, rod))
	said := gone()
	assert.Contains(t, said, "With Panhard rod goes: ")
	for _, says := range []string{"what it keeps", "its bracket", "left out of the gaps", "came out when built", "findings set aside: 1"} {
		assert.Contains(t, said, says)
	}
	assert.Empty(t, j.Keep)
	assert.Empty(t, j.Brackets)
	assert.Equal(t, []job.AsBuilt{{Of: "Lower", End: "frame"}}, j.AsBuilt)
	assert.Len(t, j.SetAside, 2, "what names no part, or none that went, stays")
	assert.Empty(t, job.Check(j))

	tender := plannedDemo(t, "rescue-tender")
	was = tender.Clone()
	require.NoError(t, Remove(tender, Part{Links, linkAt(t, tender, "Upper")}))
	assert.Equal(t, "Trial \"Uppers raised 24\" still has Upper.", WentAlong(was, tender, "Upper"))
	tender.AsBuilt = []job.AsBuilt{{Of: "Upper left"}}
	Forget(was, tender)
	assert.Len(t, tender.AsBuilt, 1, "a trial has it")
}

// Whatever is added, removed, renamed, copied, moved in its list, unlinked and linked, in whatever order: the job stays whole.
func TestListsStayWhole(t *testing.T) {
	demos := assets.Demos()
	rapid.Check(t, func(t *rapid.T) {
		now, err := job.Read(bytes.NewReader(assets.Demo(rapid.SampledFrom(demos).Draw(t, "demo"))))
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 14).Draw(t, "steps") {
			l := rapid.SampledFrom(ordered).Draw(t, "list")
			n := Len(now, l)
			part := Part{l, 0}
			if n > 0 {
				part.Index = rapid.IntRange(0, n-1).Draw(t, "entry")
			}
			c := now.Clone()
			err = nil
			switch what := rapid.SampledFrom([]string{"add", "remove", "rename", "copy", "move", "unlink", "link"}).Draw(t, "what"); what {
			case "add":
				if kinds := Kinds(l); len(kinds) > 0 {
					_, err = Add(c, l, rapid.SampledFrom(kinds).Draw(t, "kind"))
				}
			case "remove":
				err = Remove(c, part)
			case "rename":
				err = Rename(c, part, rapid.SampledFrom([]string{"Strut", "Odd one", "Lower", "Lower left", " ", "Driveshaft"}).Draw(t, "name"))
			case "copy":
				_, err = Duplicate(c, part)
			case "move":
				_, err = Reorder(c, part, rapid.SampledFrom([]int{-1, 1}).Draw(t, "by"))
			case "unlink":
				err = Unlink(c, part)
			case "link":
				err = LinkAgain(c, part)
			}
			if err != nil {
				continue // refused in a sentence; nothing is taken over
			}
			c.Tidy()
			if bad := job.Check(c); len(bad) > 0 {
				if strings.Contains(bad[0].String(), "at most") {
					continue // more than can be moved: the document refuses it with these words
				}
				t.Fatalf("%v", bad)
			}
			now = c
		}
	})
}

// A name that a trial has for another of its own parts is refused: the trial's copy is renamed with the drawing's.
func TestRenameKeepsOutOfTrials(t *testing.T) {
	j, err := job.Read(bytes.NewReader(assets.Demo("rescue-tender")))
	require.NoError(t, err)
	require.NotEmpty(t, j.Trials)
	require.NoError(t, Remove(j, Part{Links, linkAt(t, j, "Lower")}))
	j.Tidy()
	err = Rename(j, Part{Links, linkAt(t, j, "Upper")}, "Lower")
	require.ErrorContains(t, err, "In trial \"Uppers raised 24\": \"Lower\" is taken.")
	require.NoError(t, Rename(j, Part{Links, linkAt(t, j, "Upper")}, "Top"))
	assert.Empty(t, job.Check(j))
}
