package sheets

import (
	"bytes"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
	"axleloft/testdata/ezdxf"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func outline(t *testing.T, demo string, p view.Plane, left, right float64) *Outline {
	t.Helper()
	file := assets.Demo(demo)
	j, err := job.Read(bytes.NewReader(file))
	require.NoError(t, err)
	o, err := NewOutline(&Input{Study: study.Compile(j), Date: "2026-11-26", Sum: Sum(file)}, p, left, right)
	require.NoError(t, err)
	return o
}

// Another reader finds every pivot at full size to 1e-6 mm where the job has it, every straight link between its two pivots, as thick as its tube.
func TestOutlineAsDXF(t *testing.T) {
	for _, demo := range demos {
		for p := view.Side; p <= view.Plan; p++ {
			o := outline(t, demo, p, 0, 0)
			got := ezdxf.Of(t, o.DXF(0.1))
			require.Empty(t, got.Errors)
			assert.Equal(t, 4, got.Units)
			j := o.in.Study.Job
			has := func(kind, layer string, want ...float64) bool {
				for _, e := range got.Entities {
					if e.Kind != kind || e.Layer != layer || len(e.N) < len(want) {
						continue
					}
					ok := true
					for i, v := range want {
						ok = ok && (math.IsNaN(v) || math.Abs(e.N[i]-v) < 1e-6)
					}
					if ok {
						return true
					}
				}
				return false
			}
			for _, q := range edit.Pivots(j) {
				at, ok := edit.At(j, q)
				require.True(t, ok)
				x, y := p.Project(at)
				assert.True(t, has("CIRCLE", layerPivots, x, y, 0, 10), "%s, view %d: %s", demo, p, edit.Name(j, q))
			}
			for _, l := range j.Links {
				ax, ay := p.Project(l.Frame.Vec())
				bx, by := p.Project(l.Axle.Vec())
				long := math.Hypot(bx-ax, by-ay)
				nx, ny := -(by-ay)/long*l.Tube.Outside/2, (bx-ax)/long*l.Tube.Outside/2
				assert.True(t, has("LWPOLYLINE", layerLinks, ax-nx, ay-ny, 0, bx-nx, by-ny, 1, bx+nx, by+ny, 0, ax+nx, ay+ny, 1), "%s, view %d: %s", demo, p, l.Name)
			}
			for _, layer := range []string{layerParts, layerTyres, layerShaft, layerAxle, layerStruts, layerCentre, layerNames, layerTable} {
				n := 0
				for _, e := range got.Entities {
					if e.Layer == layer {
						n++
					}
				}
				assert.Positive(t, n, "%s, view %d: %s", demo, p, layer)
			}
		}
	}
}

// With the wheels elsewhere the axle's pivots stand where the solver puts them.
func TestOutlineElsewhere(t *testing.T) {
	o := outline(t, "rescue-tender", view.Rear, 60, -40)
	at := o.in.Study.At(60, -40)
	require.Empty(t, at.Err)
	j := o.in.Study.Job
	l := j.Links[0]
	stands := at.Pose.Point(r3.Sub(l.Axle.Vec(), r3.Vec{Z: j.Vehicle.Tyre.LoadedRadius}))
	x, y := view.Rear.Project(stands)
	n := 0
	for _, m := range o.marks {
		if math.Hypot(m.at.X-x, m.at.Y-y) < 1e-6 {
			n++
		}
	}
	assert.Equal(t, 1, n, "the left lower's axle end")
	_, err := NewOutline(o.in, view.Side, 5000, 5000)
	assert.ErrorContains(t, err, "cannot stand with the left wheel at 5000 mm")
}

// runs are the lengths of the unbroken dark runs of a picture's rows, mm.
func runs(img *image.Gray, dpi float64) (mm []float64) {
	for y := range img.Rect.Dy() {
		row := img.Pix[y*img.Stride : y*img.Stride+img.Rect.Dx()]
		from := -1
		for x := 0; x <= len(row); x++ {
			dark := x < len(row) && row[x] < 100
			switch {
			case dark && from < 0:
				from = x
			case !dark && from >= 0:
				if x-from > 200 {
					mm = append(mm, float64(x-from)/dpi*25.4)
				}
				from = -1
			}
		}
	}
	return mm
}

// Measured from the printed page, at 600 dots an inch: the scale bar is 100 mm long, and what lies level in the job is drawn to the scale.
func TestOutlineToScaleOnPaper(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("poppler-utils is not installed")
	}
	const dpi = 600
	for _, scale := range []float64{0.1, 0.05} {
		o := outline(t, "orchard-sprayer", view.Side, 0, 0)
		page, k, err := o.Paper(scale, nil)
		require.NoError(t, err)
		require.Equal(t, scale, k)
		s, page := o.Sheet(page, k)
		file := filepath.Join(t.TempDir(), "outline.pdf")
		w, err := os.Create(file)
		require.NoError(t, err)
		require.NoError(t, sheet.Write(w, page, s))
		require.NoError(t, w.Close())
		lengths := runs(printed(t, file, 1, dpi), dpi)
		found := func(want float64) bool {
			for _, mm := range lengths {
				if math.Abs(mm-want) < 0.1 {
					return true
				}
			}
			return false
		}
		const line = 0.25 // mm: the outline's own line, half of it beyond each end
		assert.True(t, found(100) || found(100+line), "scale bar")
		boxes := 0
		for _, e := range o.in.Study.Job.Envelopes {
			if e.Kind == "box" && e.Turn == nil && (e.Max[0]-e.Min[0])*scale > 10 {
				boxes++
				assert.True(t, found((e.Max[0]-e.Min[0])*scale+line), "%s at %v", e.Name, scale)
			}
		}
		assert.Greater(t, boxes, 2)
	}
}

func TestOutlinePaper(t *testing.T) {
	o := outline(t, "orchard-sprayer", view.Side, 0, 0)
	a4 := paper.A4
	page, k, err := o.Paper(0, &a4)
	require.NoError(t, err)
	assert.Equal(t, 0.05, k)
	assert.Greater(t, page.W, page.H, "on its side")
	_, _, err = o.Paper(0.5, &a4)
	assert.ErrorContains(t, err, "1:20 does")
	_, _, err = o.Paper(4, nil)
	assert.ErrorContains(t, err, "larger than 5 m")
	for _, demo := range demos {
		for p := view.Side; p <= view.Plan; p++ {
			o := outline(t, demo, p, 0, 0)
			page, k, err := o.Paper(0, nil)
			require.NoError(t, err)
			s, page := o.Sheet(page, k)
			assert.Len(t, sheet.Lay(page, s), 1, "%s %d: a page as large as it takes holds the table too", demo, p)
			named := map[string]bool{}
			for _, l := range o.draft(k).labels {
				named[l.words] = true
			}
			for _, m := range o.marks {
				assert.True(t, named[strconv.Itoa(m.n)], "%s, view %d: pivot %d has no number", demo, p, m.n)
			}
		}
	}
}

// No word of an outline stands on another.
func TestOutlineWordsKeepApart(t *testing.T) {
	for _, demo := range demos {
		for p := view.Side; p <= view.Plan; p++ {
			for _, k := range []float64{1, 0.1, 0.05, 0.01} {
				list := outline(t, demo, p, 0, 0).draft(k).labels
				for i, a := range list {
					for _, b := range list[:i] {
						over := a.x < b.x+b.w && b.x < a.x+a.w && a.y < b.y+b.h && b.y < a.y+a.h
						assert.False(t, over, "%s %d: %q on %q", demo, p, a.words, b.words)
					}
				}
			}
		}
	}
}
