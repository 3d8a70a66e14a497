package panel

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is to be measured next stands in the order of what moves most, a line each with what it moves.
func TestWhatToMeasureNextComesFirst(t *testing.T) {
	w := openWorked(t, "survey-wagon")
	f := w.drawer(t, MeasureDrawer)
	w.wait(t, f)
	s, _ := w.d.Study()
	want := s.Next(context.Background())
	require.GreaterOrEqual(t, len(want), 3)
	m := f.in.(*toMeasure)
	require.Len(t, m.rows, len(want))
	for i := range want {
		assert.Equal(t, want[i].Name, m.rows[i].Name)
	}
	l := f.Lines()
	assert.Regexp(t, `^Measure these three next:  .+, ± \d+ mm moves .*(gap|steer|squat) `, l[0])
	assert.Regexp(t, `^and  `, l[2])
}
