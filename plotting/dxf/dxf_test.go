package dxf

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"axleloft/testdata/ezdxf"

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

func TestReadBackByAnotherReader(t *testing.T) {
	got := ezdxf.Of(t, example())
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
	got := ezdxf.Of(t, d)
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
