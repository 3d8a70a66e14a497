package bench

import (
	"math"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/sight"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWhatPivotsLandOnIsKept(t *testing.T) {
	b := open(t, Options{})
	first := b.eye.Landing()
	assert.Equal(t, edit.LandAll, first.On, "everything, till somebody chooses")
	assert.True(t, math.IsNaN(first.Off), "half the tube")
	b.keepLanding(sight.Landing{On: edit.LandFace | edit.LandLength, Off: 31.5})
	assert.Equal(t, sight.Landing{On: edit.LandFace | edit.LandLength, Off: 31.5}, b.landingKept())
	b.keepLanding(sight.Landing{On: 0, Off: math.NaN()})
	assert.Zero(t, b.landingKept().On, "nothing is a choice too")
	assert.True(t, math.IsNaN(b.landingKept().Off))
	b.app.Preferences().SetInt(keyLands, 1<<20) // of some other version
	assert.Zero(t, b.landingKept().On&^edit.LandAll)
}

func TestHowFarOffAFaceIsTyped(t *testing.T) {
	b := open(t, Options{})
	var got []float64
	ask := func(text string) {
		b.askOffFace(12, func(off float64) { got = append(got, off) })
		require.Len(t, b.boxes, 1)
		f := b.boxes[0].fields[0]
		f.SetText(text)
		f.OnSubmitted(text)
	}
	ask("1 1/4 in")
	require.Len(t, got, 1)
	assert.InDelta(t, 31.75, got[0], 1e-9)
	ask("")
	require.Len(t, got, 2)
	assert.True(t, math.IsNaN(got[1]))
	ask("2 m")
	assert.Len(t, got, 2, "refused, and asked still")
	assert.Len(t, b.boxes, 1)
}
