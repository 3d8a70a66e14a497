package sight

import (
	"image/color"
	"math"
	"testing"

	"axleloft/app/brush"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2/canvas"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// colourAt is the colour a place has after a pool's discs and lines, by their definitions: a disc's stroke lies within it, a line has blunt ends.
func colourAt(g *brush.Pool, x, y float64) color.Color {
	var out color.Color
	for _, o := range g.Objects() {
		switch o := o.(type) {
		case *canvas.Circle:
			r := float64(o.Position2.X-o.Position1.X) / 2
			d := math.Hypot(x-float64(o.Position1.X)-r, y-float64(o.Position1.Y)-r)
			switch {
			case d > r:
			case d > r-float64(o.StrokeWidth):
				out = o.StrokeColor
			default:
				out = o.FillColor
			}
		case *canvas.Line:
			ux, uy := float64(o.Position2.X-o.Position1.X), float64(o.Position2.Y-o.Position1.Y)
			l := math.Hypot(ux, uy)
			vx, vy := x-float64(o.Position1.X), y-float64(o.Position1.Y)
			if along := (vx*ux + vy*uy) / l; along >= 0 && along <= l && math.Abs(vx*uy-vy*ux)/l <= float64(o.StrokeWidth)/2 {
				out = o.StrokeColor
			}
		}
	}
	return out
}

// A bar of one disc a point has the colours of one of two, an outer and an inner: straight, and bent either way as far as a part can be.
func TestABarOfFewerDiscsLooksTheSame(t *testing.T) {
	const r, w = 14, 3
	for name, points := range map[string][]drawing.Point{
		"straight": {{X: 40, Y: 60}, {X: 160, Y: 130}},
		"level":    {{X: 40, Y: 100}, {X: 160, Y: 100}},
		"bent":     {{X: 30, Y: 40}, {X: 120, Y: 60}, {X: 150, Y: 160}},
		"back":     {{X: 30, Y: 60}, {X: 160, Y: 90}, {X: 60, Y: 150}},
	} {
		var now, before brush.Pool
		box := brush.Box{X0: -4, Y0: -4, X1: 204, Y1: 204}
		stroke, fill := colorOf(ink.Text), colorOf(ink.AxleFill)
		bar(&now, &drawing.Item{Kind: drawing.Bar, Points: points, Radius: r, Width: w, Stroke: ink.Text, Fill: ink.AxleFill}, box, 1)
		for i, c := range []color.Color{stroke, fill} {
			r := float32(r - w*i)
			for i, p := range points {
				before.Circle(float32(p.X), float32(p.Y), r, 0, nil, c)
				if i > 0 {
					before.Line(float32(points[i-1].X), float32(points[i-1].Y), float32(p.X), float32(p.Y), 2*r, c)
				}
			}
		}
		require.Equal(t, len(before.Objects())-len(points), len(now.Objects()), name)
		filled := 0
		for y := 0.25; y < 200; y += 0.5 {
			for x := 0.25; x < 200; x += 0.5 {
				want := colourAt(&before, x, y)
				if got := colourAt(&now, x, y); got != want {
					t.Fatalf("%s: at %g, %g %v instead of %v", name, x, y, got, want)
				}
				if want == fill {
					filled++
				}
			}
		}
		assert.Greater(t, filled, 4000, name)
	}
}
