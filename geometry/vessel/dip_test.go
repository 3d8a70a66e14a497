package vessel

import (
	"math"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func tankOf(t testing.TB, fill *job.Fill) *Vessel {
	t.Helper()
	v, err := New(&job.Envelope{Name: "Tank", Kind: "box", Min: &job.Point{-500, -200, 400}, Max: &job.Point{500, 200, 700}, Vessel: true, Fill: fill})
	require.NoError(t, err)
	return v
}

// frontStep is cut 100 back from the front and 150 up from the bottom.
func frontStep(t testing.TB, v *Vessel) Cut {
	t.Helper()
	k := &KeepOut{boxes: []box{{lo: [3]float64{400, -200, 400}, hi: [3]float64{500, 200, 550}, taken: true}}}
	cuts := v.Cuts(k)
	i := Best(cuts)
	require.Equal(t, "step", cuts[i].Kind)
	assert.InDelta(t, 6, cuts[i].Litres, 1e-9)
	return cuts[i]
}

// A box tank: 0.4 m2 gives 2 L every 5 mm; over the step's 150 mm 0.36 m2.
func TestDipLevel(t *testing.T) {
	v := tankOf(t, nil)
	cut := frontStep(t, v)
	list := v.Dip(Tilt{}, []Cut{cut}, 5)
	require.Len(t, list, 61)
	for _, l := range list {
		assert.InDelta(t, 0.4*l.Depth, l.Before, 1e-6)
		assert.InDelta(t, 0.36*math.Min(l.Depth, 150)+0.4*math.Max(0, l.Depth-150), l.After, 1e-6)
	}
	assert.Equal(t, 300.0, list[60].Depth)
	odd := v.Dip(Tilt{}, nil, 7)
	assert.Equal(t, 300.0, odd[len(odd)-1].Depth, "the last line is full")
	assert.Empty(t, v.Dip(Tilt{}, nil, 0))
}

// Nose down, what there is lies in front: with the stick at its foot in the middle, a wedge of half the length, so high as the tilt makes it.
func TestDipTilted(t *testing.T) {
	v := tankOf(t, nil)
	cut := frontStep(t, v)
	tilt := 10 * math.Pi / 180
	wedge := 500 * 500 * math.Tan(tilt) / 2 * 400 * mm3
	down := v.Dip(Tilt{Y: tilt}, []Cut{cut}, 5)
	assert.InDelta(t, wedge, down[0].Before, 1e-6)
	// Of it 100 mm of the length are gone, from 400/500 of the height up.
	assert.InDelta(t, wedge*0.64, down[0].After, 1e-6)
	up := v.Dip(Tilt{Y: -tilt}, []Cut{cut}, 5)
	assert.InDelta(t, wedge, up[0].Before, 1e-6)
	assert.InDelta(t, wedge, up[0].After, 1e-6, "the cut is dry")
	assert.InDelta(t, 60, up[30].Before, 1e-6, "half full in the middle whatever the tilt")
	// Left side up: it lies on the right.
	right, err := New(&job.Envelope{Name: "Tank", Kind: "box", Min: &job.Point{-500, -200, 400}, Max: &job.Point{500, 200, 700}, Vessel: true, Fill: &job.Fill{Dip: &job.Point{0, -200, 700}}})
	require.NoError(t, err)
	deep := right.Dip(Tilt{X: tilt}, nil, 5)
	assert.Zero(t, deep[0].Before, "the stick stands at the lowest side")
	assert.Greater(t, right.Dip(Tilt{X: -tilt}, nil, 5)[0].Before, 13.0, "and now at the highest")
	for i := 1; i < len(deep); i++ {
		assert.Greater(t, deep[i].Before, deep[i-1].Before)
	}
}

func TestUsable(t *testing.T) {
	v := tankOf(t, &job.Fill{Filler: &job.Point{-400, 0, 680}, Breather: &job.Point{400, 0, 690}, Pickup: &job.Point{450, 0, 420}})
	cut := frontStep(t, v)
	u, ok := v.Usable(Tilt{}, []Cut{cut})
	require.True(t, ok)
	assert.InDelta(t, 0.4*260, u.Before, 1e-6)
	assert.InDelta(t, 0.4*260-0.04*130, u.After, 1e-6)
	assert.Equal(t, []string{"filler", "breather", "pick-up"}, u.Given)
	assert.Equal(t, []string{"pick-up"}, u.Cut)
	// Nose up the breather in front is the higher one still, the filler behind the lower; nose down it is the breather that ends it.
	down, _ := v.Usable(Tilt{Y: 0.1}, nil)
	up, _ := v.Usable(Tilt{Y: -0.1}, nil)
	assert.Less(t, down.Before, u.Before)
	assert.Less(t, up.Before, u.Before)
	_, ok = tankOf(t, nil).Usable(Tilt{}, nil)
	assert.False(t, ok)
	_, ok = tankOf(t, &job.Fill{}).Usable(Tilt{}, nil)
	assert.False(t, ok)
}
