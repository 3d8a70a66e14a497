package edit

import (
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A place that is not drawn is typed with its height, in one go; the last taken out ends them all.
func TestOverhangsAreTyped(t *testing.T) {
	j := sprayer(t)
	v := Part{Vehicle, 0}
	require.NoError(t, Set(j, v, "overhang.rear", "1250, 640"))
	require.NoError(t, Set(j, v, "overhang.front", "48 in, 20in"))
	require.Empty(t, job.Check(j))
	require.NotNil(t, j.Vehicle.Overhang)
	assert.Equal(t, 1250.0, *j.Vehicle.Overhang.Rear)
	assert.Equal(t, 640.0, *j.Vehicle.Overhang.RearHeight)
	assert.InDelta(t, 1219.2, *j.Vehicle.Overhang.Front, 1e-9)
	assert.ErrorContains(t, Set(j, v, "overhang.rear", "1250"), "give two numbers with a comma between them")
	assert.ErrorContains(t, Set(j, v, "overhang.rear", "1250, 640; 1300, 700"), "give two numbers with a comma between them")
	assert.Equal(t, 1250.0, *j.Vehicle.Overhang.Rear, "a refusal changes nothing")
	require.NoError(t, Set(j, v, "overhang.rear", ""))
	assert.Nil(t, j.Vehicle.Overhang.Rear)
	assert.Nil(t, j.Vehicle.Overhang.RearHeight)
	require.NoError(t, Set(j, v, "overhang.front", " "))
	assert.Nil(t, j.Vehicle.Overhang)
}

// A tank's filler and the rest are typed as places; a part that is no tank is not asked for them.
func TestFillersAreTyped(t *testing.T) {
	j := sprayer(t)
	at := -1
	for i := range j.Envelopes {
		if j.Envelopes[i].Name == "Tank shelf" {
			at = i
		}
	}
	p := Part{Envelopes, at}
	require.NoError(t, Set(j, p, "fill.filler", "-400, -300, 770"))
	require.NoError(t, Set(j, p, "fill.pickup", "-210, 200, 610"))
	require.Empty(t, job.Check(j))
	e := &j.Envelopes[at]
	assert.Equal(t, &job.Point{-400, -300, 770}, e.Fill.Filler)
	assert.Nil(t, e.Fill.Breather)
	assert.ErrorContains(t, Set(j, p, "fill.filler", "1, 2, 3; 4, 5, 6"), "give one place, three numbers")
	require.NoError(t, Set(j, p, "fill.filler", ""))
	require.NoError(t, Set(j, p, "fill.pickup", ""))
	assert.Nil(t, e.Fill)
	require.NoError(t, Set(j, p, "vessel", "no"))
	assert.Error(t, Set(j, p, "fill.filler", "1, 2, 3"))
}
