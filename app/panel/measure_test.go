package panel

import (
	"context"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is to be measured next stands in the order of what moves most, a line each with what it moves.
func TestWhatToMeasureNextComesFirst(t *testing.T) {
	w := openWorked(t, "survey-wagon")
	require.NoError(t, w.d.Edit("nobody measured it", "", func(j *job.Job) error {
		j.Links[0].Given, j.Links[0].Measured = nil, nil
		return nil
	}))
	w.d.Settle()
	f := w.drawer(t, MeasureDrawer)
	w.wait(t, f)
	s, _ := w.d.Study()
	want := s.Next(context.Background())
	require.Greater(t, len(want), 6)
	m := f.in.(*toMeasure)
	require.Len(t, m.rows, len(want))
	for i := range want {
		assert.Equal(t, want[i].Name, m.rows[i].Name)
	}
	l := f.Lines()
	assert.Regexp(t, `^Measure these three next:  .+: \d+ mm moves .*(gap|steer|squat) by `, l[0])
	assert.Regexp(t, `^and  `, l[2])
}
