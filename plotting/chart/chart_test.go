package chart

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the golden pictures")

var nan = math.NaN()

// antiSquat is a chart as the bench shows it; its figures are invented.
func antiSquat() Spec {
	x := []float64{-120, -80, -40, 0, 40, 80, 110}
	return Spec{
		Title: "Anti-squat", Unit: "%", XTitle: "both wheels, mm: − droop, + bump", Cursor: 0, Up: "resists squat",
		Curves: []Curve{
			{Name: "empty", X: x, Y: []float64{77, 82, 87, 92, 100, 108, 117}},
			{Name: "full load", X: x, Y: []float64{63, 66, 70, 74, 78, 84, 90}, Present: true},
			{Name: "rod 55 lower", X: x, Y: []float64{60, 63, 66, 69, 73, 78, 83}, Pencil: true},
		},
		Bands: []Band{{Lo: 50, Hi: 100, Words: "common practice, full load, 50 to 100"}, {Lo: math.Inf(-1), Hi: 120, Words: "common practice, empty, under 120"}},
		Ticks: []Tick{{40, "lowered"}, {-50, "raised"}, {0, "ride"}},
		Job:   "Orchard sprayer", Date: "2026-11-25",
	}
}

func picture(s Spec, dark bool, w, h int, scale float64) (*image.NRGBA, Axes) {
	img := image.NewNRGBA(image.Rect(0, 0, int(float64(w)*scale), int(float64(h)*scale)))
	return img, Draw(img, s, dark, scale)
}

func TestChartGolden(t *testing.T) {
	for _, dark := range []bool{false, true} {
		img, _ := picture(antiSquat(), dark, 470, 316, 1)
		name := filepath.Join("testdata", map[bool]string{false: "light.png", true: "dark.png"}[dark])
		if *update {
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			f, err := os.Create(name)
			require.NoError(t, err)
			require.NoError(t, png.Encode(f, img))
			require.NoError(t, f.Close())
		}
		f, err := os.Open(name)
		require.NoError(t, err)
		want, err := png.Decode(f)
		require.NoError(t, err)
		require.NoError(t, f.Close())
		require.Equal(t, want.Bounds(), img.Bounds())
		off := 0
		for y := range 316 {
			for x := range 470 {
				p, q := color.NRGBAModel.Convert(want.At(x, y)).(color.NRGBA), img.NRGBAAt(x, y)
				if math.Abs(float64(p.R)-float64(q.R))+math.Abs(float64(p.G)-float64(q.G))+math.Abs(float64(p.B)-float64(q.B)) > 72 {
					off++
				}
			}
		}
		assert.Less(t, off, 316*470/500, "look at both, then run with -update")
	}
}

// The curve is drawn where the axes say it is, at any scale.
func TestAxesTellWhereTheCurveIs(t *testing.T) {
	for _, scale := range []float64{1, 1.1, 1.25, 2} {
		s := antiSquat()
		s.Cursor = nan
		img, a := picture(s, false, 470, 316, scale)
		require.False(t, a.Empty)
		for _, x := range []float64{-100, -60, 20, 60, 100} {
			y, ok := s.Curves[1].At(x)
			require.True(t, ok)
			px, py := a.At(x, y)
			c := img.NRGBAAt(int(px*scale), int(py*scale))
			assert.Less(t, int(c.R), 80, "%v at %v", c, x)
			assert.InDelta(t, x, a.X(px), 1e-9)
		}
	}
}

func TestCursorStandsWhereAskedOrNotAtAll(t *testing.T) {
	s := antiSquat()
	blue := ink.Color(ink.Press, false)
	count := func(img *image.NRGBA, a Axes, x float64) (n int) {
		px, _ := a.At(x, a.YMin)
		for y := int(a.Y0); y < int(a.Y1); y++ {
			for dx := -1; dx <= 1; dx++ {
				if c := img.NRGBAAt(int(px)+dx, y); c == blue || int(c.B) > int(c.R)+60 {
					n++
					break
				}
			}
		}
		return n
	}
	s.Cursor = 60
	img, a := picture(s, false, 470, 316, 1)
	assert.Greater(t, count(img, a, 60), 150)
	s.Cursor = nan
	img, a = picture(s, false, 470, 316, 1)
	assert.Zero(t, count(img, a, 60))
}

func TestDotsAreTheValues(t *testing.T) {
	s := antiSquat()
	d := s.Dots(20)
	require.Len(t, d, 3)
	assert.Equal(t, Dot{1, 20, 76, "76"}, d[1])
	assert.Len(t, s.Dots(110.0000001), 3, "the last digit of an end does not matter")
	assert.Empty(t, s.Dots(111))
	assert.Empty(t, s.Dots(nan))
	c := Curve{X: []float64{0, 1, 2, 3}, Y: []float64{0, nan, 2, 3}}
	for _, x := range []float64{0.5, 1, 1.5} {
		_, ok := c.At(x)
		assert.False(t, ok, x)
	}
	y, ok := c.At(2.5)
	assert.True(t, ok)
	assert.Equal(t, 2.5, y)
}

func TestGapsBreakTheCurve(t *testing.T) {
	c := Curve{X: []float64{0, 1, 2, 3, 4, 5}, Y: []float64{1, 2, nan, 4, math.Inf(1), 6}}
	var got [][]float64
	c.runs(func(x, _ []float64) { got = append(got, x) })
	assert.Equal(t, [][]float64{{0, 1}, {3}, {5}}, got)
}

func TestOddCurvesAreDrawnToo(t *testing.T) {
	x := []float64{-100, 0, 100}
	for _, tc := range []struct {
		name  string
		c     []Curve
		empty bool
	}{
		{"level", []Curve{{Name: "a", X: x, Y: []float64{2, 2, 2}}}, false},
		{"nearly level", []Curve{{Name: "a", X: x, Y: []float64{1e-12, 0, -1e-12}}}, false},
		{"one point", []Curve{{Name: "a", X: []float64{3}, Y: []float64{4}, Present: true}}, false},
		{"huge", []Curve{{Name: "a", X: x, Y: []float64{-1e308, 0, 1e308}}}, false},
		{"tiny", []Curve{{Name: "a", X: []float64{0, 1e-300, 2e-300}, Y: []float64{0, 1e-5, 2e-5}}}, false},
		{"infinite", []Curve{{Name: "a", X: x, Y: []float64{math.Inf(1), nan, math.Inf(-1)}}}, true},
		{"none", nil, true},
		{"no points", []Curve{{Name: "a"}}, true},
		{"uneven", []Curve{{Name: "a", X: x, Y: []float64{1}}}, false},
	} {
		s := antiSquat()
		s.Curves = tc.c
		for _, size := range [][2]int{{470, 316}, {60, 40}, {1, 1}, {2000, 90}} {
			img, a := picture(s, true, size[0], size[1], 1)
			if size[0] == 470 {
				assert.Equal(t, tc.empty, a.Empty, tc.name)
				assert.Greater(t, inked(img, true), 300, "%s: something is said", tc.name)
			}
			if !a.Empty {
				assert.True(t, a.XMax > a.XMin && a.YMax > a.YMin && finite(a.YMax-a.YMin), tc.name)
			}
		}
	}
	assert.True(t, Draw(image.NewNRGBA(image.Rect(0, 0, 0, 0)), antiSquat(), false, 1).Empty)
	assert.True(t, Draw(image.NewNRGBA(image.Rect(0, 0, 9, 9)), antiSquat(), false, nan).Empty)
}

func inked(img *image.NRGBA, dark bool) (n int) {
	ground := ink.Color(ink.Ground, dark)
	for i := 0; i < len(img.Pix); i += 4 {
		if img.Pix[i] != ground.R {
			n++
		}
	}
	return n
}

// No word stands on another, none is run through by a curve where there is room, all lie in the picture.
func TestWordsKeepApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := antiSquat()
		s.Cursor = rapid.Float64Range(-120, 110).Draw(t, "cursor")
		for i := range s.Curves {
			k, m := rapid.Float64Range(-1, 1).Draw(t, "k"), rapid.Float64Range(-20, 120).Draw(t, "m")
			for j := range s.Curves[i].Y {
				s.Curves[i].Y[j] = m + k*s.Curves[i].X[j]
			}
		}
		p, err := paper.New("svg", 470, 316, color.White)
		if err != nil {
			t.Fatal(err)
		}
		d := &artist{pen: p.Pen, room: paper.Room{X1: 470, Y1: 316}, s: &s}
		d.a = Axes{X0: 44, Y0: 36, X1: 454, Y1: 258}
		var ok bool
		if d.a.XMin, d.a.XMax, d.a.YMin, d.a.YMax, ok = s.ranges(); !ok {
			t.Fatal("nothing to draw")
		}
		d.placer = newPlacer(d.room, box{X0: 44, Y0: 36, X1: 454, Y1: 258})
		d.data(nil)
		d.words()
		for i, a := range d.Taken {
			if a.X0 < 0 || a.Y0 < 0 || a.X1 > 470 || a.Y1 > 316 {
				t.Fatalf("%v leaves the picture", a)
			}
			dots := i < 3 // the dots of two curves may meet
			for j, b := range d.Taken[:i] {
				if (box{X0: a.X0 - apart + 0.01, Y0: a.Y0, X1: a.X1 + apart - 0.01, Y1: a.Y1}).Overlaps(b) && !dots {
					t.Fatalf("%d on %d", i, j)
				}
			}
		}
	})
}

func TestTicksAreRoundAndApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-1e6, 1e6).Draw(t, "lo")
		span := math.Pow(10, rapid.Float64Range(-3, 7).Draw(t, "span"))
		least := span / rapid.Float64Range(2, 12).Draw(t, "n")
		at, step := ticks(lo, lo+span, least)
		if step < least*(1-1e-6) {
			t.Fatalf("step %v below %v", step, least)
		}
		first := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
		if r := math.Round(first*10) / 10; math.Abs(first-r) > 1e-6 || r != 1 && r != 2 && r != 2.5 && r != 5 {
			t.Fatalf("step %v is not round", step)
		}
		seen := map[string]bool{}
		for _, v := range at {
			if v < lo-1e-6*span || v > lo+span*(1+1e-6) {
				t.Fatalf("%v outside %v", v, lo)
			}
			w := tickWords(v, step)
			if seen[w] && math.Abs(v) < 1e6 {
				t.Fatalf("%q twice", w)
			}
			seen[w] = true
			if strings.Contains(w, "-") {
				t.Fatalf("%q has a hyphen", w)
			}
		}
	})
}

func TestValuesAreWrittenAsReadings(t *testing.T) {
	for _, tc := range []struct {
		v    float64
		unit string
		want string
	}{
		{73.51, "%", "74"}, {-4.8, "%", "−5"}, {-0.2, "%", "0"}, {2.46, "deg", "2.5"}, {-0.04, "deg", "0.0"}, {9.94, "mm", "9.9"}, {-12.4, "mm", "−12"}, {1.25e9, "mm", "1.25e9"}, {-2e12, "%", "−2e12"},
	} {
		assert.Equal(t, tc.want, Value(tc.v, tc.unit))
	}
	assert.Equal(t, "−0.5", tickWords(-0.5, 0.5))
	assert.Equal(t, "2e−5", tickWords(2e-5, 1e-5))
	assert.Equal(t, "0", tickWords(-1e-17, 50))
	assert.Equal(t, "2.5", tickWords(2.5, 2.5))
}

func TestBandIsShownUnlessItWouldSqueezeTheCurves(t *testing.T) {
	s := antiSquat()
	_, _, y0, y1, _ := s.ranges()
	assert.True(t, y0 < 50 && y1 > 120)
	s.Bands = []Band{{Lo: -1000, Hi: 1000}}
	_, _, y0, y1, _ = s.ranges()
	assert.True(t, y0 > 40 && y1 < 140)
}

func TestPagesAreWhole(t *testing.T) {
	for _, s := range []Spec{antiSquat(), {Title: "Slip", Unit: "mm", Why: "Nothing bounds the travel."}} {
		var b bytes.Buffer
		require.NoError(t, Write(&b, s, "svg", Size{}))
		d := xml.NewDecoder(&b)
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else {
				require.NoError(t, err)
			}
		}
		b.Reset()
		require.NoError(t, Write(&b, s, "pdf", Size{700, 500}))
		assert.True(t, bytes.HasPrefix(b.Bytes(), []byte("%PDF-")))
		b.Reset()
		require.NoError(t, Write(&b, s, "PNG", Size{700, 500}))
		img, err := png.Decode(&b)
		require.NoError(t, err)
		assert.Equal(t, image.Rect(0, 0, 1400, 1000), img.Bounds())
	}
	assert.ErrorContains(t, Write(io.Discard, antiSquat(), "bmp", Size{}), "png, svg or pdf")
	assert.Equal(t, "in %; up is resists squat", (&Spec{Unit: "%", Up: "resists squat"}).signs())
}

func TestCSVHoldsEveryValue(t *testing.T) {
	s := antiSquat()
	s.Curves[2].X = []float64{-120, -80.5, -40, 0, 40, 80, 110}
	s.Curves[0].Y[1] = nan
	var b bytes.Buffer
	require.NoError(t, WriteCSV(&b, s))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 9)
	assert.Equal(t, []string{"both wheels, mm: - droop, + bump", "Anti-squat empty [%]", "Anti-squat full load [%]", "Anti-squat rod 55 lower [%]"}, rows[0])
	assert.Equal(t, []string{"-80.5", "", "", "63"}, rows[2])
	assert.Equal(t, []string{"-80", "", "66", ""}, rows[3])
	for i := range s.Curves {
		n := 0
		for _, r := range rows[1:] {
			if r[i+1] != "" {
				n++
			}
		}
		want := 7
		if i == 0 {
			want = 6
		}
		assert.Equal(t, want, n, fmt.Sprint(i))
	}
	require.NoError(t, WriteCSV(&b, Spec{}))
}

// A name that finds no room at its curve stands where there is some, with a line that ends on the curve.
func TestANameFarFromItsCurveIsLedToIt(t *testing.T) {
	inner := box{X0: 50, Y0: 20, X1: 450, Y1: 270}
	a := Axes{X0: inner.X0, Y0: inner.Y0, X1: inner.X1, Y1: inner.Y1, XMin: -100, XMax: 100, YMin: 0, YMax: 10}
	c := Curve{Name: "strut", X: []float64{-100, 0, 100}, Y: []float64{1, 1.2, 1}}
	p := newPlacer(paper.Room{X0: 0, Y0: 0, X1: 500, Y1: 316}, inner)
	p.Taken = append(p.Taken, box{X0: 50, Y0: 180, X1: 450, Y1: 270}) // words all round the curve
	_, ok := p.atCurve(a, &c, 40, 14, drawing.NoRoom/2)
	require.False(t, ok)
	at, from, to, ok := p.led(a, &c, 40, 14, clear)
	require.True(t, ok)
	assert.False(t, at.Overlaps(p.Taken[0]))
	assert.LessOrEqual(t, at.Y1, 180.0)
	assert.True(t, from[0] >= at.X0 && from[0] <= at.X1 && from[1] >= at.Y0 && from[1] <= at.Y1, "from the words")
	x := a.XMin + (to[0]-a.X0)/(a.X1-a.X0)*(a.XMax-a.XMin)
	y, ok := c.At(x)
	require.True(t, ok)
	_, py := a.At(x, y)
	assert.InDelta(t, py, to[1], 0.5, "to the curve")
	assert.Less(t, math.Hypot(to[0]-from[0], to[1]-from[1]), 90.0, "near rather than far")
}
