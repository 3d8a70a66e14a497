package study_test

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func told(was, now *job.Job) (out []string) {
	for _, d := range study.Differences(was, now) {
		out = append(out, d.Kind.Key()+" | "+d.String())
	}
	return out
}

func partNamed(t *testing.T, j *job.Job, l edit.List, name string) edit.Part {
	t.Helper()
	for i := range edit.Len(j, l) {
		if p := (edit.Part{List: l, Index: i}); edit.PartName(j, p) == name {
			return p
		}
	}
	t.Fatalf("no %s", name)
	return edit.Part{}
}

func TestTheSameJobHasNoDifferences(t *testing.T) {
	for _, name := range []string{"orchard-sprayer", "rescue-tender", "survey-wagon"} {
		j := demo(t, name, "")
		assert.Empty(t, study.Differences(j, j.Clone()), name)
	}
}

func TestWhatWasMovedIsToldInWords(t *testing.T) {
	was := demo(t, "orchard-sprayer", "")
	now := was.Clone()
	rod := partNamed(t, now, edit.Links, "Panhard rod")
	l := &now.Links[rod.Index]
	l.Axle[2] -= 35
	l.Axle[0] += 12
	lower := &now.Links[partNamed(t, now, edit.Links, "Lower").Index]
	lower.Frame[1] += 20
	lower.Axle[1] += 20
	shelf := partNamed(t, now, edit.Envelopes, "Tank shelf")
	now.Envelopes[shelf.Index].Measured = nil
	require.NoError(t, edit.MovePart(now, shelf, r3.Vec{Z: 30}))
	list := told(was, now)
	assert.Contains(t, list, "moved | Panhard rod, axle end: 12 mm further forward, 35 mm lower")
	assert.Contains(t, list, "moved | Lower: 20 mm further out", "both ends alike: the whole part")
	assert.Contains(t, list, "moved | Tank shelf: 30 mm higher")
	found := false
	for _, d := range study.Differences(was, now) {
		if d.Kind == study.LengthAfter {
			assert.Equal(t, "Panhard rod", d.What)
			assert.Regexp(t, `^\d+ mm pivot to pivot, was \d+ mm \([\d.]+ mm (longer|shorter)\)$`, d.Words)
			found = true
		}
	}
	assert.True(t, found)
	for _, d := range study.Differences(was, now) {
		assert.NotEqual(t, study.OtherFigure, d.Kind, "%v", d)
	}
	now.Shown = &job.Shown{Length: "in"}
	assert.Contains(t, told(was, now), `moved | Panhard rod, axle end: 1/2 in further forward, 1 3/8 in lower`)
}

func TestAddedTakenOutRenamedFreedChanged(t *testing.T) {
	was := demo(t, "orchard-sprayer", "")
	now := was.Clone()
	require.NoError(t, edit.Remove(now, partNamed(t, now, edit.Lines, "Brake hose")))
	_, err := edit.Add(now, edit.Stops, "")
	require.NoError(t, err)
	require.NoError(t, edit.Rename(now, partNamed(t, now, edit.Links, "Panhard rod"), "Track rod"))
	require.NoError(t, edit.Set(now, partNamed(t, now, edit.Links, "Lower"), "tube.outside", "70"))
	p := edit.Pivot{List: edit.Links, Index: partNamed(t, now, edit.Links, "Lower").Index, Side: job.Left}
	require.NoError(t, edit.SetMeasured(was, p, true))
	require.NoError(t, edit.SetMeasured(now, p, false))
	now.SetAside = append(now.SetAside, job.SetAside{Finding: "gap/Panhard rod/Tank shelf", Reason: "will be cut away"})
	list := told(was, now)
	assert.Contains(t, list, "taken out | Brake hose: is not there")
	assert.Contains(t, list, "renamed | Track rod: was called Panhard rod")
	assert.Contains(t, list, "freed | Lower, frame end: is free to move")
	assert.Contains(t, list, "set aside | Panhard rod / tank shelf: will be cut away")
	added, changed := 0, ""
	for _, d := range study.Differences(was, now) {
		if d.Kind == study.AddedPart {
			added++
		}
		if d.Kind == study.OtherFigure && d.What == "Lower" {
			changed = d.Words
		}
	}
	assert.Equal(t, 1, added)
	assert.Regexp(t, `outside: 70 mm, was .* mm$`, changed)
	back := told(now, was)
	assert.Contains(t, back, "added | Brake hose: was not there")
	assert.Contains(t, back, "brought back | Panhard rod / tank shelf: was set aside there: will be cut away")
}
