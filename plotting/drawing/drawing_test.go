package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the golden pictures")

// example has one item of every kind, some of them reaching out of the picture.
func example() Picture {
	return Picture{Width: 240, Height: 140, Items: []Item{
		{Kind: Fill, Layer: PartFills, Stroke: ink.None, Fill: ink.PartFill, Points: []Point{{10, 10}, {90, 10}, {110, 50}, {10, 50}}},
		{Kind: Line, Layer: PartLines, Stroke: ink.PartLine, Width: 3, Points: []Point{{10, 10}, {90, 10}, {110, 50}, {10, 50}, {10, 10}}},
		{Kind: Circle, Layer: GroundTyres, Stroke: ink.PartLine, Fill: ink.None, Width: 1.5, Radius: 80, Points: []Point{{200, 110}}},
		{Kind: Bar, Layer: Links, Stroke: ink.Text, Fill: ink.Ground, Width: 3, Radius: 6, Points: []Point{{30, 90}, {120, 70}, {180, 90}}},
		{Kind: Bar, Layer: Links, Stroke: ink.Text, Fill: ink.AxleFill, Width: 1.5, Radius: 8, Points: []Point{{150, 30}, {400, 40}}},
		{Kind: Dashed, Layer: Pencil, Stroke: ink.Pencil, Fill: ink.None, Width: 1.5, Points: []Point{{30, 110}, {170, 120}}},
		{Kind: Circle, Layer: Pivots, Stroke: ink.Press, Fill: ink.Ground, Width: 3, Radius: 5, Points: []Point{{30, 90}}},
		{Kind: Stripes, Layer: Trouble, Stroke: ink.Trouble, Fill: ink.None, Points: []Point{{100, 60}, {140, 60}, {140, 80}, {100, 80}}},
		{Kind: Dots, Layer: Trouble, Stroke: ink.Trouble, Fill: ink.None, Points: []Point{{150, 60}, {180, 60}, {180, 80}, {150, 80}}},
		{Kind: Box, Layer: Names, Stroke: ink.Trouble, Fill: ink.Ground, Width: 1.5, Radius: 3, Points: []Point{{14, 16}, {100, 37}}},
		{Kind: Text, Layer: Names, Stroke: ink.Text, Fill: ink.None, Words: "hits 29 mm", Size: 15, Bold: true, Points: []Point{{18, 18}, {70, 17}}},
	}}
}

func sheet() Sheet {
	return Sheet{Head: paper.Head{Title: "Side", Notes: "lengths in mm", Job: "Łódź −5", Date: "2026-11-25"}, Views: []Placed{{Picture: example()}}, Scale: 0.2}
}

func TestSheetsAreWhole(t *testing.T) {
	for _, dark := range []bool{false, true} {
		s := sheet()
		s.Dark = dark
		var b bytes.Buffer
		require.NoError(t, Write(&b, s, "svg"))
		d := xml.NewDecoder(&b)
		paths := 0
		for {
			tok, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			require.NoError(t, err)
			if e, ok := tok.(xml.StartElement); ok {
				require.NotEqual(t, "text", e.Name.Local, "no words that need a machine's fonts")
				if e.Name.Local == "path" {
					paths++
				}
			}
		}
		assert.Greater(t, paths, 20)
		b.Reset()
		require.NoError(t, Write(&b, s, "pdf"))
		assert.True(t, bytes.HasPrefix(b.Bytes(), []byte("%PDF-")))
		assert.True(t, bytes.Contains(b.Bytes()[b.Len()-32:], []byte("%%EOF")))
	}
	assert.Error(t, Write(io.Discard, Sheet{}, "png"))
	assert.ErrorContains(t, Write(io.Discard, sheet(), "dxf"), "png, svg or pdf")
}

func TestPDFHoldsTheCautionAsWords(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("poppler-utils is not installed")
	}
	name := filepath.Join(t.TempDir(), "a.pdf")
	var b bytes.Buffer
	require.NoError(t, Write(&b, sheet(), "pdf"))
	require.NoError(t, os.WriteFile(name, b.Bytes(), 0o600))
	out, err := exec.Command(tool, name, "-").CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Contains(t, string(out), "not a certificate")
	assert.Contains(t, string(out), "lengths in mm")
}

func TestSheetGolden(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Write(&b, sheet(), "png"))
	golden := filepath.Join("testdata", "sheet.png")
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(golden, b.Bytes(), 0o600))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	a, err := png.Decode(bytes.NewReader(want))
	require.NoError(t, err)
	c, err := png.Decode(&b)
	require.NoError(t, err)
	assert.Less(t, different(t, a, c), 0.002, "look at both, then run with -update")
}

// different is the share of pixels that differ by more than a machine's rounding may make them.
func different(t *testing.T, a, b image.Image) float64 {
	t.Helper()
	require.Equal(t, a.Bounds(), b.Bounds())
	n := 0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			p, q := color.NRGBAModel.Convert(a.At(x, y)).(color.NRGBA), color.NRGBAModel.Convert(b.At(x, y)).(color.NRGBA)
			off := func(u, v uint8) bool { return math.Abs(float64(u)-float64(v)) > 24 }
			if off(p.R, q.R) || off(p.G, q.G) || off(p.B, q.B) || off(p.A, q.A) {
				n++
			}
		}
	}
	return float64(n) / float64(a.Bounds().Dx()*a.Bounds().Dy())
}

// What reaches out of a picture is cut at its box, so views on one sheet do not run into each other.
func TestNothingIsDrawnOutsideItsPicture(t *testing.T) {
	p, err := paper.New("png", 300, 200, color.White)
	require.NoError(t, err)
	pic := example()
	Draw(p.Pen, &pic, 30, 30, false)
	var b bytes.Buffer
	_, err = p.WriteTo(&b)
	require.NoError(t, err)
	img, err := png.Decode(&b)
	require.NoError(t, err)
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			// 2 units for the width of lines along the edge
			if x < 2*28 || y < 2*28 || x > 2*(270+2) || y > 2*(170+2) {
				r, g, bl, _ := img.At(x, y).RGBA()
				require.Equal(t, uint32(0xFFFF*3), r+g+bl, "%d %d", x, y)
			}
		}
	}
}

func TestRasterPaintsFillsAndMarks(t *testing.T) {
	var r Raster
	pic := example()
	for _, scale := range []float64{1, 1.25, 2} {
		img := image.NewNRGBA(image.Rect(0, 0, int(240*scale), int(140*scale)))
		img.Pix[0] = 77 // what was there before is gone
		r.Paint(img, &pic, scale, false)
		at := func(x, y float64) color.NRGBA { return img.NRGBAAt(int(x*scale), int(y*scale)) }
		assert.Equal(t, ink.Color(ink.PartFill, false), at(50, 44))
		assert.Equal(t, ink.Color(ink.PartFill, false), at(105, 46.5))
		assert.Zero(t, at(105, 20))
		assert.Zero(t, img.NRGBAAt(0, 0))
		assert.InDelta(t, 0.5, covered(img, 100*scale, 60*scale, 140*scale, 80*scale), 0.08)
		// A disc of 2.6 on every 4.2 x 4.2
		assert.InDelta(t, math.Pi*1.3*1.3/(4.2*4.2), covered(img, 150*scale, 60*scale, 180*scale, 80*scale), 0.06)
		r.Paint(img, &pic, scale, false, Stripes)
		assert.Zero(t, at(50, 44))
	}
}

// covered is how much of a box is inked, 0 to 1.
func covered(img *image.NRGBA, x0, y0, x1, y1 float64) float64 {
	sum, n := 0.0, 0.0
	for y := int(y0); y < int(y1); y++ {
		for x := int(x0); x < int(x1); x++ {
			sum += float64(img.NRGBAAt(x, y).A) / 255
			n++
		}
	}
	return sum / n
}

func TestBandsCoverHalf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(-100, 100).Draw(t, "x"), rapid.Float64Range(-100, 100).Draw(t, "y")
		w, h := rapid.Float64Range(60, 200).Draw(t, "w"), rapid.Float64Range(60, 200).Draw(t, "h")
		sum := 0.0
		for _, b := range Bands([]Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}) {
			a := 0.0
			for i, p := range b {
				q := b[(i+1)%len(b)]
				a += p.X*q.Y - q.X*p.Y
			}
			sum += math.Abs(a) / 2
		}
		if r := sum / (w * h); r < 0.42 || r > 0.58 {
			t.Fatalf("covers %v", r)
		}
	})
}

func TestClippedPathsStayInTheBoxAndKeepTheirLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(t, "n")
		var p []Point
		for range n {
			p = append(p, Point{rapid.Float64Range(-50, 150).Draw(t, "x"), rapid.Float64Range(-50, 150).Draw(t, "y")})
		}
		closed := rapid.Bool().Draw(t, "closed")
		length := 0.0
		for _, run := range ClipPath(0, 0, 100, 100, p, closed) {
			for i, q := range run {
				if q.X < -1e-9 || q.Y < -1e-9 || q.X > 100+1e-9 || q.Y > 100+1e-9 {
					t.Fatalf("%v is outside", q)
				}
				if i > 0 {
					length += math.Hypot(q.X-run[i-1].X, q.Y-run[i-1].Y)
				}
			}
		}
		want := 0.0
		m := n - 1
		if closed {
			m = n
		}
		for i := range m {
			q, r := p[i], p[(i+1)%n]
			if a, b, c, d, ok := ClipLine(0, 0, 100, 100, q.X, q.Y, r.X, r.Y); ok {
				want += math.Hypot(c-a, d-b)
			}
		}
		if math.Abs(length-want) > 1e-6 {
			t.Fatalf("length %v, want %v", length, want)
		}
	})
}
