package chart

import (
	"cmp"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// bandPlotter fills the strip between two values.
type bandPlotter struct {
	lo, hi float64
	color  color.Color
}

// Plot implements plot.Plotter.
func (b bandPlotter) Plot(c draw.Canvas, p *plot.Plot) {
	_, y := p.Transforms(&c)
	lo, hi := math.Max(math.Min(b.lo, b.hi), p.Y.Min), math.Min(math.Max(b.lo, b.hi), p.Y.Max)
	if lo >= hi {
		return
	}
	c.FillPolygon(b.color, []vg.Point{{X: c.Min.X, Y: y(lo)}, {X: c.Max.X, Y: y(lo)}, {X: c.Max.X, Y: y(hi)}, {X: c.Min.X, Y: y(hi)}})
}

// rules are level lines right across.
type rules struct {
	at    []float64
	style draw.LineStyle
}

// Plot implements plot.Plotter.
func (r rules) Plot(c draw.Canvas, p *plot.Plot) {
	_, y := p.Transforms(&c)
	for _, v := range r.at {
		if v >= p.Y.Min && v <= p.Y.Max {
			c.StrokeLine2(r.style, c.Min.X, y(v), c.Max.X, y(v))
		}
	}
}

// single is a value that stands alone.
type single struct {
	x, y   float64
	color  color.Color
	radius vg.Length
}

// Plot implements plot.Plotter.
func (s single) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: s.color, Radius: s.radius, Shape: draw.CircleGlyph{}}, vg.Point{X: x(s.x), Y: y(s.y)})
}

func inOrder(ticks []Tick) []Tick {
	out := slices.Clone(ticks)
	slices.SortStableFunc(out, func(a, b Tick) int { return cmp.Compare(a.X, b.X) })
	return out
}
