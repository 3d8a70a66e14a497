package look

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTailsOfLettersAreNotCut(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, Theme{})
	const tail = 0.24 // of the size: how far g, p and y reach below the baseline in Noto Sans
	for _, size := range []float32{Small, Body, Large, Value, Huge} {
		for _, bold := range []bool{false, true} {
			rows := math.Round(float64(Measure("gpy", size, bold).Height))
			below := rows - math.Ceil(float64(Baseline(size, bold)))
			assert.GreaterOrEqual(t, below, tail*float64(size), "size %g", size)
		}
	}
}

func TestLoweredFontIsWholeAndOnlySaysAnotherAscent(t *testing.T) {
	test.NewTempApp(t)
	was := theme.DefaultTheme().Font(fyne.TextStyle{})
	now := lower(was)
	require.NotEqual(t, was.Name(), now.Name())
	require.Len(t, now.Content(), len(was.Content()))
	other := 0
	for i := range was.Content() {
		if was.Content()[i] != now.Content()[i] {
			other++
		}
	}
	assert.LessOrEqual(t, other, 6)
	assert.Same(t, now, lower(was), "made once")
	junk := fyne.NewStaticResource("junk", []byte("no font"))
	assert.Equal(t, junk, lower(junk))
	assert.False(t, lowerAscent(was.Content()[:200:200]))
}
