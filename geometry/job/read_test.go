package job_test

import (
	"bytes"
	_ "embed"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// demo reads one of the demo jobs.
func demo(t testing.TB, name string) *job.Job {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	return j
}

func TestReadDemos(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			j := demo(t, name)
			assert.NotEmpty(t, j.Title)
			assert.Nil(t, job.Check(j))
		})
	}
	j := demo(t, "rescue-tender")
	assert.Equal(t, 3550.0, j.Vehicle.Wheelbase)
	assert.Equal(t, job.Point{1050, 437, 430}, j.Links[0].Frame)
	assert.Equal(t, job.Point{0, 1, 0}, *j.Links[0].FrameEnd.Bolt)
	assert.True(t, j.Links[1].Pair)
	assert.Nil(t, j.Links[1].FrameEnd.Bolt)
	assert.Equal(t, "Uppers raised 24", j.Trials[0].Name)
	assert.Nil(t, j.Trials[0].Struts, "a key the trial does not have")
}

// fullJob is a job with every key the file knows. It is no working vehicle.
//
//go:embed testdata/every-key.axleloft
var fullJob string
