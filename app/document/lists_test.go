package document

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/start"
	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var listed = []edit.List{edit.Links, edit.Arms, edit.Rockers, edit.Struts, edit.Stops, edit.Straps, edit.Lines, edit.Sensors, edit.Envelopes, edit.Loads, edit.Heights, edit.Housing}

// everyStart is every demo and a new job of every layout, the same with all that can be said of a part: brackets, holes, keeps, places as built, findings
// set aside.
func everyStart(t require.TestingT) map[string]*job.Job {
	out := map[string]*job.Job{}
	for _, name := range assets.Demos() {
		j, err := job.Read(bytes.NewReader(assets.Demo(name)))
		require.NoError(t, err)
		out[name] = j
	}
	for l, name := range start.Layouts() {
		s := start.Usual()
		s.Layout = start.Layout(l)
		j, err := start.Make(s)
		require.NoError(t, err)
		out[name] = j
	}
	for _, name := range slices.Collect(maps.Keys(out)) {
		j := out[name].Clone()
		for i := range j.Links {
			of := j.Links[i].Name
			j.Brackets = append(j.Brackets, job.Bracket{Of: of, End: "frame", Kind: "tab", Thickness: 8, Hole: 16, Edge: 25, Base: 50})
			j.Holes = append(j.Holes, job.Holes{Of: of, End: "axle", First: &job.Point{0, 400, 500}, Step: &job.Point{0, 0, 25}, Count: 3})
			j.AsBuilt = append(j.AsBuilt, job.AsBuilt{Of: of, End: "frame"})
			j.SetAside = append(j.SetAside, job.SetAside{Finding: "hits/" + of + "/tank", Reason: "will be cut away"})
			if c := j.Clone(); edit.SetKeepLength(c, i, true) == nil {
				j = c
			}
		}
		require.Empty(t, job.Check(j))
		out[name+", full"] = j
	}
	return out
}

// named reports whether a part of the job or of one of its trials goes by a name.
func named(j *job.Job, name string) bool {
	has := func(j *job.Job) bool {
		for _, l := range listed {
			for i := range edit.Len(j, l) {
				if n := edit.PartName(j, edit.Part{List: l, Index: i}); n == name || n == name+" left" || n == name+" right" || n+" left" == name || n+" right" == name {
					return true
				}
			}
		}
		return false
	}
	for i := range j.Trials {
		if t := &j.Trials[i]; has(&job.Job{Vehicle: j.Vehicle, Links: t.Links, Arms: t.Arms, Rockers: t.Rockers, Struts: t.Struts, Stops: t.Stops, Straps: t.Straps, Lines: t.Lines, Sensors: t.Sensors, Envelopes: t.Envelopes}) {
			return true
		}
	}
	return has(j)
}

func written(t require.TestingT, j *job.Job) string {
	var b bytes.Buffer
	require.NoError(t, job.Write(&b, j))
	return b.String()
}

// Whatever is done to the lists of whichever job and trial, in whatever order, the job stays whole and comes back from its file as it is; undo brings back
// the same bytes, and redo those of the end.
func TestListsOfEveryJobStayWholeAndUndo(t *testing.T) {
	jobs := everyStart(t)
	names := slices.Sorted(maps.Keys(jobs))
	rapid.Check(t, func(t *rapid.T) {
		j := jobs[rapid.SampledFrom(names).Draw(t, "job")]
		d := New(j.Clone(), true, Options{})
		defer d.Discard()
		if len(j.Trials) > 0 && rapid.Bool().Draw(t, "in a trial") {
			require.NoError(t, d.SetTrial(j.Trials[rapid.IntRange(0, len(j.Trials)-1).Draw(t, "trial")].Name))
		}
		first := written(t, d.Job())
		for i := range rapid.IntRange(1, 10).Draw(t, "steps") {
			l := rapid.SampledFrom(listed).Draw(t, "list")
			part := edit.Part{List: l}
			if n := edit.Len(d.Current(), l); n > 0 {
				part.Index = rapid.IntRange(0, n-1).Draw(t, "entry")
			}
			var do func(j *job.Job) error
			what := rapid.SampledFrom([]string{"add", "remove", "rename", "copy", "move", "unlink", "link"}).Draw(t, "what")
			switch what {
			case "add":
				kinds := edit.Kinds(l)
				if len(kinds) == 0 {
					continue
				}
				kind := rapid.SampledFrom(kinds).Draw(t, "kind")
				do = func(j *job.Job) error { _, err := edit.Add(j, l, kind); return err }
			case "remove":
				do = func(j *job.Job) error { return edit.Remove(j, part) }
			case "rename":
				name := rapid.SampledFrom([]string{"Strut", "Odd one", "Lower", "Lower left", " ", "Driveshaft"}).Draw(t, "name")
				do = func(j *job.Job) error { return edit.Rename(j, part, name) }
			case "copy":
				do = func(j *job.Job) error { _, err := edit.Duplicate(j, part); return err }
			case "move":
				by := rapid.SampledFrom([]int{-1, 1}).Draw(t, "by")
				do = func(j *job.Job) error { _, err := edit.Reorder(j, part, by); return err }
			case "unlink":
				do = func(j *job.Job) error { return edit.Unlink(j, part) }
			case "link":
				do = func(j *job.Job) error { return edit.LinkAgain(j, part) }
			}
			before := written(t, d.Job())
			if err := d.Edit(fmt.Sprint(what, i), "", do); err != nil {
				require.Regexp(t, `[.?]$`, Words(err), "a refusal is a sentence")
				require.Equal(t, before, written(t, d.Job()), "what is refused changes nothing")
				continue
			}
			require.Empty(t, job.Check(d.Job()), what)
			require.Empty(t, job.Check(d.Current()), what)
			for _, b := range d.Job().Brackets {
				require.True(t, named(d.Job(), b.Of), "%s: a bracket of %s", what, b.Of)
			}
			for _, h := range d.Job().Holes {
				require.True(t, named(d.Job(), h.Of), "%s: holes of %s", what, h.Of)
			}
			for _, a := range d.Job().AsBuilt {
				require.True(t, named(d.Job(), a.Of), "%s: %s as built", what, a.Of)
			}
			for _, a := range d.Job().SetAside {
				require.True(t, named(d.Job(), strings.Split(a.Finding+"//", "/")[1]) || !strings.HasPrefix(a.Finding, "hits/"), "%s: %s set aside", what, a.Finding)
			}
			after := written(t, d.Job())
			back, err := job.Read(bytes.NewReader([]byte(after)))
			require.NoError(t, err, what)
			require.Equal(t, after, written(t, back), what)
		}
		last := written(t, d.Job())
		for ok := true; ok; _, ok = d.Undo() {
		}
		require.Equal(t, first, written(t, d.Job()))
		for ok := true; ok; _, ok = d.Redo() {
		}
		require.Equal(t, last, written(t, d.Job()))
	})
}
