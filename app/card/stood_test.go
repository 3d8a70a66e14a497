package card

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
)

// A number that was worked out says what was typed for it and how it was measured, in the unit shown where it reads the same.
func TestRowSaysWhatWasTypedOnStands(t *testing.T) {
	off := 2.1
	j := &job.Job{Links: []job.Link{{Name: "Rod", Axle: job.Point{-133, 411, 560}, Given: job.Given{}}}}
	for _, key := range []string{"x", "y", "z"} {
		j.Links[0].Given["axle."+key] = job.GivenValue{PlusMinus: &off, Source: "on stands", Taken: &job.Taken{How: edit.OnStands, Typed: []string{"-150 mm", `16"`, "95 mm"}}}
	}
	p := edit.Pivot{List: edit.Links, End: edit.AxleEnd}
	r := rowOf(j, "mm", 16, p, edit.X, -133)
	assert.Equal(t, "typed −150", r.from)
	assert.Equal(t, "on stands", r.source)
	assert.Equal(t, "±2.1", r.off)
	assert.Equal(t, `typed 16"`, rowOf(j, "mm", 16, p, edit.Y, 411).from)
	g := j.Links[0].Given["axle.z"]
	g.Source, g.Taken = edit.StoodSource(edit.Hanging), &job.Taken{How: edit.Hanging, Typed: []string{"1 mm", "2 mm", "-30 mm"}, From: []string{"", "", "Rail top"}}
	j.Links[0].Given["axle.z"] = g
	r = rowOf(j, "mm", 16, p, edit.Z, 560)
	assert.Equal(t, "typed −30 from Rail top", r.from)
	assert.Equal(t, "as it hung", r.source)
}
