package edit

import (
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What an end takes and how it screws: the thread goes with the screwing, and the job stays whole at every step.
func TestAnEndThatScrews(t *testing.T) {
	j := members(t)
	part := Part{Links, 0}
	end := func() *job.End { return j.Links[0].AxleEnd }
	for _, s := range [][2]string{{"axleEnd.takes", "62.5"}, {"axleEnd.adjust", "12"}, {"axleEnd.thread", "1.5"}, {"axleEnd.hand", "left"}} {
		require.NoError(t, Set(j, part, s[0], s[1]))
		require.Empty(t, job.Check(j))
	}
	assert.Equal(t, 62.5, *end().Takes)
	assert.Equal(t, "left", end().Hand)
	require.NoError(t, Set(j, part, "axleEnd.adjust", ""))
	require.Empty(t, job.Check(j))
	assert.Nil(t, end().Thread)
	assert.Empty(t, end().Hand)
	assert.Error(t, Set(j, part, "axleEnd.thread", "1.5"), "it does not screw")
	assert.Error(t, Set(j, part, "axleEnd.takes", "-4"))
}
