package paper

import (
	"bytes"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWrapLosesNoWord(t *testing.T) {
	for _, width := range []float64{1, 80, 200, 900} {
		lines := Wrap(Caution, 15, width)
		assert.Equal(t, Caution, strings.Join(lines, " "))
		for _, l := range lines {
			w, _ := Measure(l, 15, false)
			assert.True(t, w <= width || !strings.Contains(l, " "), "%q is %v of %v wide", l, w, width)
		}
	}
	assert.Empty(t, Wrap("  ", 15, 100))
}

func TestBoldIsWiderAndSizeScales(t *testing.T) {
	w, h := Measure("Anti-squat", 15, false)
	bold, _ := Measure("Anti-squat", 15, true)
	double, high := Measure("Anti-squat", 30, false)
	assert.Greater(t, bold, w)
	assert.InDelta(t, 2*w, double, 0.5)
	assert.InDelta(t, 2*h, high, 0.5)
}

func TestUnknownFormatAndSizeAreRefusedInWords(t *testing.T) {
	_, err := New("gif", 10, 10, color.White)
	assert.ErrorContains(t, err, "use png, svg or pdf")
	for _, s := range [][2]float64{{0, 10}, {10, -1}, {1e6, 10}} {
		_, err = New("png", s[0], s[1], color.White)
		assert.ErrorContains(t, err, "size")
	}
}

func TestWindows1252(t *testing.T) {
	assert.True(t, windows1252("Größe ±3 – 5 €"))
	for _, s := range []string{"−5", "Łódź", "→", "a\nb", "日本"} {
		assert.False(t, windows1252(s), s)
	}
}

func TestRoundedStaysInItsBox(t *testing.T) {
	for _, r := range []float64{0, 3, 100} {
		for _, p := range Rounded(10, 20, 40, 30, r) {
			assert.True(t, p[0] >= 10-1e-9 && p[0] <= 40+1e-9 && p[1] >= 20-1e-9 && p[1] <= 30+1e-9, "%v", p)
		}
	}
}

// The places of a pen count down from the upper edge, two pixels a unit.
func TestPenPlaces(t *testing.T) {
	red := color.NRGBA{R: 255, A: 255}
	p, err := New("png", 40, 30, color.White)
	require.NoError(t, err)
	p.Fill(red, [][2]float64{{10, 5}, {20, 5}, {20, 8}, {10, 8}})
	p.Disc(red, 30, 20, 3)
	var b bytes.Buffer
	_, err = p.WriteTo(&b)
	require.NoError(t, err)
	img, err := png.Decode(&b)
	require.NoError(t, err)
	require.Equal(t, 80, img.Bounds().Dx())
	require.Equal(t, 60, img.Bounds().Dy())
	is := func(x, y int) bool { r, g, _, _ := img.At(x, y).RGBA(); return r > 0xF000 && g < 0x1000 }
	assert.True(t, is(30, 12))
	assert.False(t, is(30, 8))
	assert.False(t, is(30, 18))
	assert.True(t, is(60, 40))
	assert.False(t, is(60, 20))
}

func TestHeadSaysEverything(t *testing.T) {
	h := Head{Title: "Roll steer, %", Notes: "up is toward oversteer", Job: "Łódź sprayer", Trial: "Rod 55 lower", Date: "2026-11-25"}
	over, under := h.lines(900)
	assert.Contains(t, strings.Join(over, " "), "job: Łódź sprayer; trial: Rod 55 lower; date: 2026-11-25")
	assert.Contains(t, strings.Join(over, " "), h.Notes)
	assert.Equal(t, Caution, strings.Join(under, " "))
	h.Trial = ""
	over, _ = h.lines(900)
	assert.Contains(t, over[0], "trial: as drawn")
	p, err := New("svg", 300, 700, color.White)
	require.NoError(t, err)
	room := h.Draw(p.Pen, 300, 700, false)
	assert.InDelta(t, 700-h.Extra(300), (room.Y1 - room.Y0), 8)
}
