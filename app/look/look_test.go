package look

import (
	"image/color"
	"testing"

	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"github.com/stretchr/testify/assert"
)

func TestThemeFollowsDark(t *testing.T) {
	test.NewTempApp(t)
	defer SetScheme(ink.Light)
	SetScheme(ink.Light)
	text := func() color.NRGBA {
		r, g, b, a := Theme{}.Color(theme.ColorNameForeground, theme.VariantDark).RGBA()
		return color.NRGBA{R: uint8(r >> 8), G: uint8(g >> 8), B: uint8(b >> 8), A: uint8(a >> 8)}
	}
	assert.Equal(t, ink.Color(ink.Text, false), text())
	SetScheme(ink.Dark)
	assert.Equal(t, ink.Color(ink.Text, true), text())
	assert.Equal(t, float32(1), Weight())
	SetScheme(ink.Bright)
	assert.Equal(t, color.NRGBA{A: 255}, text())
	assert.Greater(t, Weight(), float32(1), "lines are heavier")
	assert.False(t, Dark())
}

func TestShortenFitsItsWidth(t *testing.T) {
	test.NewTempApp(t)
	const words = "Panhard rod hits the tank shelf at 78 mm of bump"
	for _, w := range []float32{60, 120, 200} {
		got := Shorten(words, Small, false, w)
		assert.LessOrEqual(t, Width(got, Small, false), w)
		assert.NotEqual(t, words, got)
	}
	assert.Equal(t, words, Shorten(words, Small, false, 2000))
}

func TestWrapKeepsEveryWord(t *testing.T) {
	test.NewTempApp(t)
	lines := Wrap("one two three four five six", Small, false, 70)
	assert.Greater(t, len(lines), 1)
	joined := ""
	for _, l := range lines {
		assert.LessOrEqual(t, Width(l, Small, false), float32(70))
		joined += l + " "
	}
	assert.Equal(t, "one two three four five six ", joined)
}

func TestButtonPressedByKeysAndNotWhenDisabled(t *testing.T) {
	test.NewTempApp(t)
	n := 0
	b := NewButton("Undo", Outline, func() { n++ })
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	test.Tap(b)
	assert.Equal(t, 2, n)
	b.SetDisabled(true)
	test.Tap(b)
	assert.Equal(t, 2, n)
}

func TestSegmentsChooseWhatIsPressed(t *testing.T) {
	test.NewTempApp(t)
	got := -1
	s := NewSegments([]string{"Raised", "Ride", "Lowered"}, 1, func(i int) { got = i })
	s.Resize(s.MinSize())
	for i := range 3 {
		s.Tapped(&fyne.PointEvent{Position: s.Centre(i)})
		assert.Equal(t, i, got)
	}
}
