package sheets

import (
	"bytes"
	"fmt"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/plate"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
	"axleloft/testdata/ezdxf"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// brackets are invented ones for the tender.
const brackets = `"brackets": [
 {"of": "Upper", "end": "frame", "kind": "pair", "thickness": 8, "hole": 16.5, "edge": 28, "base": 60, "width": 90, "offset": 12, "gap": 52, "steel": "S355", "pattern": {"count": 2, "pitch": 50, "hole": 12.5, "in": 30, "edge": 20}},
 {"of": "Lower", "end": "frame", "kind": "saddle", "thickness": 8, "hole": 20.5, "edge": 34, "base": 70, "width": 100, "gap": 62, "rail": {"width": 70, "leg": 90, "along": 260, "thickness": 6, "bend": 9}, "pattern": {"count": 3, "pitch": 90, "hole": 12.5, "in": 25}},
 {"of": "Upper", "end": "axle", "kind": "tab", "thickness": 10, "hole": 16.5, "edge": 18, "base": 80}],`

func bracketed(t *testing.T) *Input {
	t.Helper()
	file := []byte(strings.Replace(string(assets.Demo("rescue-tender")), `"links":`, brackets+` "links":`, 1))
	j, err := job.Read(bytes.NewReader(file))
	require.NoError(t, err)
	return &Input{Study: study.Compile(j), Date: "2026-11-26", Sum: Sum(file), Size: paper.A4}
}

func template(t *testing.T, pivot string, printer Printer) *Template {
	t.Helper()
	m, err := NewTemplate(bracketed(t), pivot, printer)
	require.NoError(t, err)
	return m
}

func TestTemplateIsOfThePivot(t *testing.T) {
	m := template(t, "Upper left, frame end", Printer{})
	assert.Equal(t, "cut 4, for the two sides: 2 of them go in turned over", m.pieces(&m.plates[0]))
	m = template(t, "Upper, frame end", Printer{}) // both sides have one
	assert.Equal(t, "cut 4, for the two sides: 2 of them go in turned over", m.pieces(&m.plates[0]))
	m = template(t, "Lower right, frame end", Printer{})
	assert.Equal(t, "cut 4, for the two sides", m.pieces(&m.plates[0]))
	in := bracketed(t)
	for pivot, says := range map[string]string{"Upper, frame": "no pivot is called", "Lower left, axle end": "has no bracket in this job"} {
		_, err := NewTemplate(in, pivot, Printer{})
		assert.ErrorContains(t, err, says)
	}
	in.Study.Job.Brackets[0].End = "fram"
	_, err := NewTemplate(in, "Upper left, frame end", Printer{})
	assert.ErrorContains(t, err, "There are brackets for Lower, frame end; Upper, axle end. That for \"Upper\", \"fram\" is of no pivot")
	in.Study.Job.Brackets[0].End = "frame"
	_, err = NewTemplate(in, "Upper left, frame end", Printer{Across: 97, Up: 90})
	assert.ErrorContains(t, err, "a page fitted to its paper")
}

func TestNearEdges(t *testing.T) {
	num := func(v float64) *float64 { return &v }
	b := &job.Bracket{Kind: "tab", Hole: 20, Edge: 24, Base: 24}
	assert.Empty(t, nearEdges(b))
	b.Edge, b.Base = 18, 12
	assert.Equal(t, "From a hole's centre to the edge, in diameters of the hole: the round end 0.90, the mounting face 0.60.", nearEdges(b))
	b = &job.Bracket{Kind: "tab", Hole: 10, Edge: 20, Base: 40, Pattern: &job.Pattern{Count: 2, Pitch: num(20), Hole: 10, In: 20, Edge: num(11)}}
	assert.Equal(t, "From a hole's centre to the edge, in diameters of the hole: the row to the edge past it 1.10, the row to the sides 1.00.", nearEdges(b))
}

// Another reader finds each plate's outline and holes full size to 1e-6 mm, arcs as arcs.
func TestTemplateAsDXF(t *testing.T) {
	for _, pivot := range []string{"Upper left, frame end", "Lower left, frame end", "Upper left, axle end"} {
		m := template(t, pivot, Printer{})
		got := ezdxf.Of(t, m.DXF())
		require.Empty(t, got.Errors)
		var cuts, circles []ezdxf.Entity
		for _, e := range got.Entities {
			switch e.Layer {
			case layerCut:
				assert.Equal(t, "LWPOLYLINE", e.Kind)
				assert.True(t, e.Closed)
				cuts = append(cuts, e)
			case layerHoles:
				assert.Equal(t, "CIRCLE", e.Kind)
				circles = append(circles, e)
			}
		}
		require.Len(t, cuts, len(m.plates))
		k := 0
		for i, p := range m.plates {
			by := cuts[i].N[0] - p.Outline[0].X // plates lie side by side
			for c, q := range p.Outline {
				assert.InDeltaSlice(t, []float64{q.X + by, q.Y, q.Bulge}, cuts[i].N[3*c:3*c+3], 2e-6)
			}
			for _, h := range p.Holes {
				require.Less(t, k, len(circles))
				assert.InDeltaSlice(t, []float64{h.X + by, h.Y, 0, h.Diameter / 2}, circles[k].N, 2e-6)
				k++
			}
		}
		assert.Len(t, circles, k)
	}
}

// Pages get apart at the bench: each says whose plate it shows, and by how much it is drawn off for a printer.
func TestTemplatePagesSayWhoseTheyAre(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("poppler-utils is not installed")
	}
	for _, printer := range []Printer{{}, {Across: 100.4, Up: 99.3}} {
		file := filepath.Join(t.TempDir(), "template.pdf")
		w, err := os.Create(file)
		require.NoError(t, err)
		require.NoError(t, template(t, "Lower left, frame end", printer).Write(w, "pdf", paper.A4))
		require.NoError(t, w.Close())
		text, err := exec.Command("pdftotext", "-layout", file, "-").Output()
		require.NoError(t, err)
		pages := strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
		require.Greater(t, len(pages), 2)
		for i, words := range pages {
			assert.Contains(t, words, "Template, full size: Lower left, frame end", "page %d", i+1)
			assert.Contains(t, words, paper.Caution[:20], "page %d", i+1)
			assert.Equal(t, printer != Printer{}, strings.Contains(words, "0.9960 times across and 1.0070 times up, for one printer only"), "page %d", i+1)
		}
	}
}

// printed is a page of a PDF at a resolution, from 1.
func printed(t *testing.T, file string, page, dpi int) *image.Gray {
	t.Helper()
	data, err := exec.Command("pdftoppm", "-r", strconv.Itoa(dpi), "-f", strconv.Itoa(page), "-l", strconv.Itoa(page), "-gray", "-singlefile", file).Output()
	require.NoError(t, err)
	var w, h, most int
	_, err = fmt.Fscanf(bytes.NewReader(data), "P5\n%d %d\n%d\n", &w, &h, &most)
	require.NoError(t, err)
	require.Equal(t, 255, most)
	img := image.NewGray(image.Rect(0, 0, w, h))
	img.Pix = data[len(data)-w*h:]
	return img
}

// ringAt measures a printed hole about where its middle should be, mm from the page's upper left corner: how far the ring's line lies from there in
// eight directions off the cross.
func ringAt(img *image.Gray, dpi, x, y, r float64) (mm []float64) {
	for k := range 8 {
		sn, cs := math.Sincos(math.Pi/8 + math.Pi/4*float64(k))
		var sum, n float64
		for d := r - 1; d < r+1; d += 0.01 {
			px, py := (x+d*cs)/25.4*dpi, (y-d*sn)/25.4*dpi
			if img.GrayAt(int(px), int(py)).Y < 110 {
				sum, n = sum+d, n+1
			}
		}
		if n == 0 {
			return nil
		}
		mm = append(mm, sum/n)
	}
	return mm
}

// ticked is how far the first of eleven evenly spaced marks of a row is from the last, mm; 0 where no row has such.
func ticked(img *image.Gray, dpi float64) float64 {
	for y := range img.Rect.Dy() {
		row := img.Pix[y*img.Stride : y*img.Stride+img.Rect.Dx()]
		var at []float64 // middles of narrow marks, mm
		from := -1
		for x, v := range row {
			switch {
			case v < 110 && from < 0:
				from = x
			case v >= 110 && from >= 0:
				if mm := float64(x-from) / dpi * 25.4; mm < 0.6 {
					at = append(at, float64(x+from)/2/dpi*25.4)
				}
				from = -1
			}
		}
		for i, first := range at { // other lines may cross the row between them
			for _, last := range at[i+1:] {
				if last-first < 90 || last-first > 110 {
					continue
				}
				n := 0
				for k := range 11 {
					want := first + (last-first)*float64(k)/10
					if slices.ContainsFunc(at, func(v float64) bool { return math.Abs(v-want) < 0.05 }) {
						n++
					}
				}
				if n == 11 {
					return last - first
				}
			}
		}
	}
	return 0
}

// turned is a picture with its rows for columns.
func turned(img *image.Gray) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, img.Rect.Dy(), img.Rect.Dx()))
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			out.Pix[x*out.Stride+y] = img.Pix[y*img.Stride+x]
		}
	}
	return out
}

// Measured from the printed page at 600 dots an inch every hole is where it should be and as large as it should be to 0.1 mm, on the pages of a plate that
// needs several too; for a printer that is off, everything is off the other way.
func TestTemplateIsFullSizeOnPaper(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("poppler-utils is not installed")
	}
	const dpi = 600
	// where a page's figure begins, mm: the side and, under the head, the top
	const ox, oy = 15.0, 11 + 74.0/96*25.4
	for _, printer := range []Printer{{}, {Across: 100.4, Up: 99.3}} {
		kx, ky := printer.factors()
		for _, pivot := range []string{"Upper left, frame end", "Lower left, frame end"} {
			m := template(t, pivot, printer)
			file := filepath.Join(t.TempDir(), "template.pdf")
			w, err := os.Create(file)
			require.NoError(t, err)
			require.NoError(t, m.Write(w, "pdf", paper.A4))
			require.NoError(t, w.Close())
			wide, tall := (paper.A4.W-frameWide)/kx, (paper.A4.H-frameTall-14-barRoom)/ky
			page := 1
			for i := range m.plates {
				p := &m.plates[i]
				_, x0, y0, x1, y1 := m.plate(p)
				seen := map[plate.Hole]bool{}
				for r := range tiles(y1-y0, tall) {
					for c := range tiles(x1-x0, wide) {
						page++
						img := printed(t, file, page, dpi)
						assert.InDelta(t, 100*kx, ticked(img, dpi), 0.06, "the bar across, page %d", page)
						assert.InDelta(t, 100*ky, ticked(turned(img), dpi), 0.06, "the bar up, page %d", page)
						ax, by := x0+float64(c)*(wide-overlap), y1-float64(r)*(tall-overlap)
						for _, h := range p.Holes {
							room := h.Diameter/2 + 1.5
							if h.X-room < ax || h.X+room > math.Min(ax+wide, x1) || h.Y+room > by || h.Y-room < math.Max(by-tall, y0) {
								continue
							}
							seen[h] = true
							far := ringAt(img, dpi, ox+(h.X-ax)*kx, oy+(by-h.Y)*ky, h.Diameter/2*math.Sqrt(kx*ky))
							require.Len(t, far, 8, "%s, page %d, hole %v", pivot, page, h)
							for _, d := range far {
								assert.InDelta(t, h.Diameter/2, d, 0.1)
							}
						}
					}
				}
				assert.Len(t, seen, len(p.Holes), "every hole is whole on one page at least")
			}
			pages := sheet.Lay(paper.A4, m.Sheet(paper.A4))
			assert.Len(t, pages, page)
			first := printed(t, file, 1, dpi)
			assert.InDelta(t, 100*kx, ticked(first, dpi), 0.06, "the bar across")
			assert.InDelta(t, 100*ky, ticked(turned(first), dpi), 0.06, "the bar up")
		}
	}
}
