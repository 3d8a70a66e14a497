package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
)

// bookFile writes a book of two pages and returns its name.
func bookFile(t *testing.T, size Size) string {
	t.Helper()
	b := NewBook(size, "Two pages \u2212 \u00b10.5")
	p := b.Next()
	p.Words(color.Black, "First page, Gr\u00f6\u00dfe \u03b2 \u2212 5 \u00b1 0.5 \u2192", MM(20), MM(20), 14, false)
	p.Words(color.Black, "in bold: \u0141\u00f3d\u017a", MM(20), MM(30), 14, true)
	p.Line(color.Black, MM(0.25), []float64{8, 4}, [2]float64{MM(20), MM(50)}, [2]float64{MM(120), MM(50)})
	p.Ring(color.Black, MM(0.5), MM(70), MM(100), MM(40))
	p.Disc(color.NRGBA{R: 200, A: 128}, MM(70), MM(100), MM(10))
	c := p.Canvas()
	c.Push()
	c.Translate(vg.Point{X: 300, Y: 300})
	c.Rotate(1.5707963267948966)
	c.FillString(Face(12, false), vg.Point{}, "upward")
	c.Pop()
	img := image.NewNRGBA(image.Rect(0, 0, 4, 4))
	c.DrawImage(vg.Rectangle{Min: vg.Point{X: 400, Y: 100}, Max: vg.Point{X: 440, Y: 140}}, img)
	b.Next().Words(color.Black, "Second page", MM(20), MM(20), 14, false)
	assert.Equal(t, 2, b.Pages())
	name := filepath.Join(t.TempDir(), "book.pdf")
	var out bytes.Buffer
	_, err := b.WriteTo(&out)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(name, out.Bytes(), 0o600))
	return name
}

// tool runs one of poppler's programs.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skip("poppler-utils is not installed")
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	require.NoError(t, err, string(out))
	return string(out)
}

// Checked by poppler: words come back, in two embedded typefaces; pages have the size of the paper.
func TestBook(t *testing.T) {
	for _, size := range []Size{A4, Letter, A4.Turned()} {
		name := bookFile(t, size)
		words := tool(t, "pdftotext", "-layout", name, "-")
		for _, w := range []string{"First page, Gr\u00f6\u00dfe \u03b2 \u2212 5 \u00b1 0.5 \u2192", "in bold: \u0141\u00f3d\u017a", "upward", "Second page"} {
			assert.Contains(t, words, w)
		}
		info := tool(t, "pdfinfo", name)
		want := map[string]string{"a4": "595.28 x 841.89 pts", "letter": "612 x 792 pts"}[size.Name]
		if size.W > size.H {
			want = "841.89 x 595.28 pts"
		}
		assert.Contains(t, info, want)
		assert.Regexp(t, `Pages:\s+2`, info)
		fonts := strings.Split(strings.TrimSpace(tool(t, "pdffonts", name)), "\n")
		require.Len(t, fonts, 4, "two typefaces")
		for _, f := range fonts[2:] {
			assert.Contains(t, f, "yes no  yes", "embedded, and its words can be searched: %s", f)
		}
	}
	_, err := SizeOf("a5")
	assert.ErrorContains(t, err, "a4 or letter")
}

// A circle is drawn round: its rendered outline stays within a tenth of a millimetre of its radius (measured at 600 dpi).
func TestBookDrawsRoundAndToScale(t *testing.T) {
	name := bookFile(t, A4)
	root := filepath.Join(t.TempDir(), "p")
	tool(t, "pdftoppm", "-r", "600", "-gray", "-f", "1", "-l", "1", "-singlefile", name, root)
	img := readPGM(t, root+".pgm")
	at := func(mm float64) float64 { return mm / 25.4 * 600 }
	for _, d := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {0.6, 0.8}, {-0.8, 0.6}} {
		in, out := 0.0, 0.0
		for r := 38.0; r < 42; r += 0.005 {
			x, y := at(70+d[0]*r), at(100+d[1]*r)
			if img.GrayAt(int(x), int(y)).Y < 128 {
				if in == 0 {
					in = r
				}
				out = r
			}
		}
		assert.InDelta(t, 39.75, in, 0.06, "%v", d) // a line 0.5 wide; a pixel is 0.042 mm
		assert.InDelta(t, 40.25, out, 0.06, "%v", d)
	}
}

// readPGM reads a binary grey map.
func readPGM(t *testing.T, name string) *image.Gray {
	t.Helper()
	raw, err := os.ReadFile(name)
	require.NoError(t, err)
	parts := bytes.SplitN(raw, []byte("\n"), 4)
	require.Len(t, parts, 4)
	var w, h int
	_, err = fmt.Sscan(string(parts[1]), &w, &h)
	require.NoError(t, err)
	require.Len(t, parts[3], w*h)
	return &image.Gray{Pix: parts[3], Stride: w, Rect: image.Rect(0, 0, w, h)}
}
