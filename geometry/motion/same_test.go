package motion_test

import (
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Names, driveline, loads and own brackets have no say in where the axle stands; pivots, ends and limits have.
func TestSameMotion(t *testing.T) {
	for _, name := range assets.Demos() {
		base, _ := demo(t, name)
		one, err := motion.Compile(base)
		require.NoError(t, err)
		assert.True(t, one.Same(one))
		for _, c := range []struct {
			what         string
			edit         func(*job.Job)
			same, motion bool
		}{
			{"nothing", func(*job.Job) {}, true, true},
			{"a load", func(j *job.Job) { j.Vehicle.Loads[0].Mass += 100 }, true, true},
			{"a part in the way", func(j *job.Job) { j.Envelopes = j.Envelopes[1:] }, true, true},
			{"a name", func(j *job.Job) { j.Struts[0].Name += " of mine" }, false, true},
			{"the driveline", func(j *job.Job) { j.Driveline.Output.Joint[2] += 3 }, false, true},
			{"the wheelbase", func(j *job.Job) { j.Vehicle.Wheelbase += 10 }, false, true},
			{"a pivot", func(j *job.Job) { j.Links[0].Frame[2] += 1e-9 }, false, false},
			{"what ends the travel", func(j *job.Job) { *j.Struts[0].Closed += 1e-9 }, false, false},
			{"a strut that ends the travel", func(j *job.Job) { j.Struts[0].Frame[2]++ }, false, false},
			{"the track", func(j *job.Job) { j.Vehicle.Track += 1e-9 }, false, false},
		} {
			j := base.Clone()
			c.edit(j)
			two, err := motion.Compile(j)
			require.NoError(t, err)
			assert.Equal(t, c.same, one.Same(two), "%s: %s", name, c.what)
			assert.Equal(t, c.motion, one.SameMotion(two), "%s: %s", name, c.what)
			assert.Equal(t, c.motion, two.SameMotion(one), "%s: %s", name, c.what)
		}
		var damper [2]*motion.Mechanism
		for i := range damper {
			j := base.Clone()
			j.Struts[0].Closed, j.Struts[0].Open = nil, nil
			j.Struts[0].Frame[2] += float64(i)
			damper[i], err = motion.Compile(j)
			require.NoError(t, err)
		}
		assert.True(t, damper[0].SameMotion(damper[1]), "it ends no travel")
		assert.False(t, damper[0].SameMotion(one))
	}
}
