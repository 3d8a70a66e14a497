package start

import (
	"bytes"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every layout stands on every demo's vehicle as a trial that moves, and leaves the vehicle and what is in the way alone.
func TestAnotherLayoutOnTheSameVehicle(t *testing.T) {
	for _, name := range assets.Demos() {
		j, err := job.Read(bytes.NewReader(assets.Demo(name)))
		require.NoError(t, err)
		for l := range Layouts() {
			k, err := Another(j, 0, 0, Layout(l))
			if err != nil {
				assert.Contains(t, err.Error(), "cannot be laid out on this vehicle", "%s %d", name, l)
				continue
			}
			assert.Nil(t, k.Vehicle)
			assert.Nil(t, k.Envelopes)
			whole := j.Clone()
			whole.Trials = append(whole.Trials, *k)
			Carriers(j, k, whole.Envelopes)
			assert.Empty(t, job.Check(whole), "%s %d", name, l)
			one, err := whole.WithTrial(k.Name)
			require.NoError(t, err)
			assert.Equal(t, j.Vehicle, one.Vehicle)
			_, err = motion.Compile(one)
			assert.NoError(t, err, "%s %d", name, l)
		}
	}
	_, err := Another(&job.Job{}, 0, 0, FourLink)
	assert.Error(t, err)
}
