package dxf

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var layers = []Layer{
	{Name: "LINKS", Colour: 5, Line: Whole, Width: 0.5},
	{Name: "CENTRE_LINES", Colour: 1, Line: Centre, Width: 0.25},
	{Name: "ELSEWHERE", Colour: 8, Line: Phantom, Width: 0.25},
	{Name: "WORDS", Colour: 7, Line: Whole, Width: 0.25},
}

func example() *Drawing {
	d := New(0.1, layers...)
	d.Line("CENTRE_LINES", -230.125, 545, 470, 500.0625)
	d.Circle("LINKS", 100, 200, 21.5)
	d.Arc("LINKS", 10, 20, 5, 270, 90)
	d.Polyline("LINKS", true, Point{X: 0, Y: 0}, Point{X: 100, Y: 0, Bulge: 1}, Point{X: 100, Y: 40}, Point{X: 0, Y: 40, Bulge: 1})
	d.Polyline("ELSEWHERE", false, Point{X: 1, Y: 2}, Point{X: 3, Y: 4}, Point{X: 5, Y: -6})
	d.Text("WORDS", 7, 8, 35, 0, Left, "Upper left, frame end: Ø12,2 — 5° \\ ^")
	d.Text("WORDS", 7, 8, 35, 90, Right, "measured")
	return d
}

// back is what ezdxf reads of a file.
type back struct {
	Version string
	Units   int
	Errors  []string
	Layers  map[string]struct {
		Colour, Width int
		Line          string
	}
	Types    map[string][]float64
	Entities []struct {
		Kind, Layer, Words string
		N                  []float64
		Closed             bool
		Turned, Height     float64
		Align              string
	}
}

const reader = `
import json, sys
import ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
out = {"Version": doc.dxfversion, "Units": doc.header["$INSUNITS"], "Errors": [e.message for e in audit.errors] + [e.message for e in audit.fixes], "Layers": {}, "Types": {}, "Entities": []}
for l in doc.layers:
    out["Layers"][l.dxf.name] = {"Colour": l.dxf.color, "Width": l.dxf.lineweight, "Line": l.dxf.linetype}
for t in doc.linetypes:
    out["Types"][t.dxf.name.upper()] = [x.value for x in t.pattern_tags.tags if x.code == 49]
for e in doc.modelspace():
    x = {"Kind": e.dxftype(), "Layer": e.dxf.layer, "N": []}
    if x["Kind"] == "LINE": x["N"] = [*e.dxf.start, *e.dxf.end]
    if x["Kind"] in ("CIRCLE", "ARC"): x["N"] = [*e.dxf.center, e.dxf.radius]
    if x["Kind"] == "ARC": x["N"] += [e.dxf.start_angle, e.dxf.end_angle]
    if x["Kind"] == "LWPOLYLINE":
        x["N"] = [v for p in e.get_points("xyb") for v in p]
        x["Closed"] = e.closed
    if x["Kind"] == "TEXT":
        x["Words"], x["Turned"], x["Height"], x["Align"] = decode_dxf_unicode(e.dxf.text), e.dxf.rotation, e.dxf.height, e.get_align() if hasattr(e, "get_align") else str(e.get_align_enum().name)
        x["N"] = [*(e.dxf.align_point if e.dxf.hasattr("align_point") else e.dxf.insert)]
    out["Entities"].append(x)
json.dump(out, sys.stdout)
`

// read has ezdxf (the MIT-licensed reader that Debian packages as python3-ezdxf) read and audit a drawing.
func read(t *testing.T, d *Drawing) back {
	t.Helper()
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import ezdxf").Run() != nil {
		require.NotEqual(t, "1", os.Getenv("AXLELOFT_REQUIRE_REFERENCES"), "the references are required: install python3-ezdxf")
		t.Skip("python3-ezdxf is not installed")
	}
	var b bytes.Buffer
	_, err := d.WriteTo(&b)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "drawing.dxf")
	require.NoError(t, os.WriteFile(file, b.Bytes(), 0o600))
	cmd := exec.Command(python, "-c", reader, file)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	require.NoError(t, err, complaint.String())
	var got back
	require.NoError(t, json.Unmarshal(out, &got))
	return got
}

func TestReadBackByAnotherReader(t *testing.T) {
	got := read(t, example())
	assert.Empty(t, got.Errors)
	assert.Equal(t, "AC1015", got.Version)
	assert.Equal(t, 4, got.Units, "mm")
	for _, l := range layers {
		assert.Equal(t, l.Colour, got.Layers[l.Name].Colour)
		assert.Equal(t, int(math.Round(100*l.Width)), got.Layers[l.Name].Width)
		assert.Equal(t, strings.ToUpper(l.Line), strings.ToUpper(got.Layers[l.Name].Line))
	}
	assert.Equal(t, []float64{12, -1.5, 0.25, -1.5}, got.Types["CENTER"])
	require.Len(t, got.Entities, 7)
	near := func(i int, kind, layer string, want ...float64) {
		t.Helper()
		e := got.Entities[i]
		assert.Equal(t, kind, e.Kind)
		assert.Equal(t, layer, e.Layer)
		assert.InDeltaSlice(t, want, e.N, 1e-6)
	}
	near(0, "LINE", "CENTRE_LINES", -230.125, 545, 0, 470, 500.0625, 0)
	near(1, "CIRCLE", "LINKS", 100, 200, 0, 21.5)
	near(2, "ARC", "LINKS", 10, 20, 0, 5, 270, 90)
	near(3, "LWPOLYLINE", "LINKS", 0, 0, 0, 100, 0, 1, 100, 40, 0, 0, 40, 1)
	assert.True(t, got.Entities[3].Closed)
	near(4, "LWPOLYLINE", "ELSEWHERE", 1, 2, 0, 3, 4, 0, 5, -6, 0)
	assert.False(t, got.Entities[4].Closed)
	assert.Equal(t, "Upper left, frame end: Ø12,2 — 5° \\ ^", got.Entities[5].Words)
	assert.Equal(t, 35.0, got.Entities[5].Height)
	assert.Equal(t, 90.0, got.Entities[6].Turned)
	assert.Equal(t, "RIGHT", got.Entities[6].Align)
}

func TestNothingFaultyIsDrawn(t *testing.T) {
	d := New(math.NaN(), layers...)
	nan, inf := math.NaN(), math.Inf(1)
	d.Line("LINKS", nan, 0, 1, 1)
	d.Circle("LINKS", 0, inf, 1)
	d.Circle("LINKS", 0, 0, 0)
	d.Arc("LINKS", 0, 0, -1, 0, 90)
	d.Polyline("LINKS", true, Point{X: 1})
	d.Polyline("LINKS", true, Point{X: 1}, Point{Y: nan})
	d.Text("WORDS", 0, 0, 0, 0, Left, "no height")
	d.Text("WORDS", 0, 0, 5, 0, Left, "  ")
	_, _, _, _, ok := d.Box()
	assert.False(t, ok)
	d.Line("NO_SUCH", 0, 0, 1, 1)
	got := read(t, d)
	assert.Empty(t, got.Errors)
	require.Len(t, got.Entities, 1)
	assert.Equal(t, "0", got.Entities[0].Layer)
}

// The box holds arcs, and every place is read back to a nanometre, however it lies.
func TestPlacesAndBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := func(name string) float64 { return rapid.Float64Range(-20000, 20000).Draw(t, name) }
		p, q, bulge := Point{X: r("x"), Y: r("y")}, Point{X: r("u"), Y: r("v")}, rapid.Float64Range(-3, 3).Draw(t, "bulge")
		p.Bulge = bulge
		d := New(1, layers...)
		d.Polyline("LINKS", false, p, q)
		x0, y0, x1, y1, _ := d.Box()
		for k := range 33 { // along the arc: it turns by 4 atan(bulge)
			x, y := alongArc(p, q, float64(k)/32)
			if x < x0-1e-6 || x > x1+1e-6 || y < y0-1e-6 || y > y1+1e-6 {
				t.Fatalf("%g %g lies outside %g %g %g %g", x, y, x0, y0, x1, y1)
			}
		}
		for _, v := range []float64{p.X, p.Y, q.X, q.Y} {
			var w float64
			if _, err := fmt.Sscan(number(v), &w); err != nil || math.Abs(w-v) > 1e-6 {
				t.Fatalf("%v is written %s", v, number(v))
			}
		}
	})
	assert.Equal(t, "0.0", number(-1e-9))
	assert.Equal(t, 25, lineweight(0.26))
}

// alongArc is the place t of the way along the edge from p to q.
func alongArc(p, q Point, t float64) (x, y float64) {
	if math.Abs(p.Bulge) < 1e-9 {
		return p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)
	}
	turn := 4 * math.Atan(p.Bulge)
	chord := math.Hypot(q.X-p.X, q.Y-p.Y)
	if chord == 0 {
		return p.X, p.Y
	}
	r := chord / 2 / math.Sin(turn/2) // signed
	h := r * math.Cos(turn/2)
	ux, uy := (q.X-p.X)/chord, (q.Y-p.Y)/chord
	cx, cy := (p.X+q.X)/2-uy*h, (p.Y+q.Y)/2+ux*h
	sn, cs := math.Sincos(turn * t)
	dx, dy := p.X-cx, p.Y-cy
	return cx + cs*dx - sn*dy, cy + sn*dx + cs*dy
}
