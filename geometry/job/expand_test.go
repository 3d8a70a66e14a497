package job_test

import (
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestExpand(t *testing.T) {
	j := demo(t, "rescue-tender")
	x := job.Expand(j)
	require.Len(t, x.Job.Links, 4)
	assert.Equal(t, "Lower left", x.Job.Links[0].Name)
	assert.Equal(t, "Lower right", x.Job.Links[1].Name)
	assert.Equal(t, job.Point{1050, -437, 430}, x.Job.Links[1].Frame)
	assert.Equal(t, job.Point{0, -1, 0}, *x.Job.Links[1].FrameEnd.Bolt)
	assert.Equal(t, []job.Ref{{0, job.Left}, {0, job.Right}, {1, job.Left}, {1, job.Right}}, x.Links)
	assert.Equal(t, []job.Ref{{0, job.Single}}, x.Lines)
	assert.Equal(t, "Rail ahead right", x.Job.Envelopes[1].Name)
	assert.Equal(t, -475.0, *x.Job.Envelopes[1].From)
	assert.Equal(t, -400.0, *x.Job.Envelopes[1].To)
	assert.Nil(t, x.Job.Trials)
	assert.True(t, j.Links[0].Pair, "the job itself stays")
	assert.Equal(t, job.Point{0, 1, 0}, *j.Links[0].FrameEnd.Bolt)
	for _, l := range x.Job.Links {
		assert.False(t, l.Pair)
	}
}

func TestCarried(t *testing.T) {
	assert.True(t, job.Carried([]string{"Lower", "Upper"}, "Upper left"))
	assert.True(t, job.Carried([]string{"Upper left"}, "Upper left"))
	assert.False(t, job.Carried([]string{"Upper left"}, "Upper right"))
	assert.False(t, job.Carried([]string{"Upper"}, "Lower left"))
	assert.True(t, job.Carried([]string{"Panhard rod"}, "Panhard rod"))
	assert.False(t, job.Carried(nil, "Panhard rod"))
}

func TestWithTrial(t *testing.T) {
	j := demo(t, "rescue-tender")
	w, err := j.WithTrial("Uppers raised 24")
	require.NoError(t, err)
	assert.Equal(t, 634.0, w.Links[1].Frame[2])
	assert.Equal(t, 610.0, j.Links[1].Frame[2])
	assert.Len(t, w.Struts, 1)
	assert.Nil(t, w.Trials)
	w.Links[1].Frame[2] = 0
	assert.Equal(t, 634.0, j.Trials[0].Links[1].Frame[2], "a deep copy")

	w, err = j.WithTrial("")
	require.NoError(t, err)
	assert.Equal(t, 610.0, w.Links[1].Frame[2])

	_, err = j.WithTrial("uppers raised 42")
	require.ErrorContains(t, err, `Did you mean "Uppers raised 24"?`)

	j.Trials[0].Links = []job.Link{}
	w, err = j.WithTrial("Uppers raised 24")
	require.NoError(t, err)
	assert.Empty(t, w.Links, "an empty list is none, not as drawn")
}
