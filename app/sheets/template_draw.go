package sheets

import (
	"fmt"
	"image/color"
	"math"

	"axleloft/geometry/plate"
	"axleloft/plotting/drawing"
	"axleloft/plotting/dxf"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

// The layers of a template's DXF.
const (
	layerCut   = "CUT"
	layerHoles = "HOLES"
	layerFolds = "FOLDS"
	layerFace  = "MOUNTING_FACE"
	layerSizes = "DIMENSIONS"
)

var templateLayers = []dxf.Layer{
	{Name: layerCut, Colour: 7, Line: dxf.Whole, Width: 0.5},
	{Name: layerHoles, Colour: 5, Line: dxf.Whole, Width: 0.25},
	{Name: layerFolds, Colour: 6, Line: dxf.Phantom, Width: 0.25},
	{Name: layerFace, Colour: 3, Line: dxf.Dash, Width: 0.25},
	{Name: layerCentre, Colour: 1, Line: dxf.Centre, Width: 0.18},
	{Name: layerSizes, Colour: 8, Line: dxf.Whole, Width: 0.18},
	{Name: layerNames, Colour: 7, Line: dxf.Whole, Width: 0.18},
}

// cutting is a drawing full size: lines and words, mm, y up.
type cutting struct {
	lines   []cutLine
	words   []cutWord
	outline []plate.Point // these two are kept as they are for DXF, and drawn as lines on paper
	holes   []plate.Hole
}

type cutLine struct {
	layer  string
	width  float64 // units
	dashes []float64
	pts    [][2]float64
}

// cutWord stands about its middle.
type cutWord struct {
	layer string
	x, y  float64
	words string
}

// Dashes on paper, units: of a mounting face, and with two dots of a fold.
var (
	faceDash = []float64{paper.MM(3), paper.MM(1)}
	foldDash = []float64{paper.MM(6), paper.MM(0.75), paper.MM(0.15), paper.MM(0.75), paper.MM(0.15), paper.MM(0.75)}
)

func (d *cutting) line(layer string, width float64, dashes []float64, pts ...[2]float64) {
	d.lines = append(d.lines, cutLine{layer, width, dashes, pts})
}

func (d *cutting) word(layer string, x, y float64, words string) {
	d.words = append(d.words, cutWord{layer, x, y, words})
}

// dimension draws a length from a to b, read off from them: off is how far the line lies from them to its left as one goes from a to b, mm.
func (d *cutting) dimension(ax, ay, bx, by, off float64, words string) {
	l := math.Hypot(bx-ax, by-ay)
	if l < 1e-9 {
		return
	}
	ux, uy := (bx-ax)/l, (by-ay)/l
	nx, ny := -uy, ux
	at := func(x, y, along, out float64) [2]float64 {
		return [2]float64{x + ux*along + nx*out, y + uy*along + ny*out}
	}
	sign := math.Copysign(1, off)
	d.line(layerSizes, sheet.Hair, nil, at(ax, ay, 0, sign*1.5), at(ax, ay, 0, off+sign*2))
	d.line(layerSizes, sheet.Hair, nil, at(bx, by, 0, sign*1.5), at(bx, by, 0, off+sign*2))
	d.line(layerSizes, sheet.Hair, nil, at(ax, ay, 0, off), at(bx, by, 0, off))
	for _, e := range [][2]float64{{ax, ay}, {bx, by}} { // slanting strokes, as ISO 129-1 allows
		c := at(e[0], e[1], 0, off)
		d.line(layerSizes, sheet.Thin, nil, [2]float64{c[0] - 1.2*(ux+nx)/math.Sqrt2, c[1] - 1.2*(uy+ny)/math.Sqrt2}, [2]float64{c[0] + 1.2*(ux+nx)/math.Sqrt2, c[1] + 1.2*(uy+ny)/math.Sqrt2})
	}
	w, h := wordSize(words)
	out := off + sign*(1+math.Abs(nx)*w/2+math.Abs(ny)*h/2)
	m := at((ax+bx)/2, (ay+by)/2, 0, out)
	d.word(layerSizes, m[0], m[1], words)
}

// wordSize is the room words take on a template, mm.
func wordSize(words string) (w, h float64) {
	a, b := paper.Measure(words, nameSize, false)
	return a / paper.MM(1), b / paper.MM(1)
}

// plate draws a plate with its sizes; the box holds all of it.
func (t *Template) plate(p *plate.Plate) (d *cutting, x0, y0, x1, y1 float64) {
	d = &cutting{outline: p.Outline, holes: p.Holes}
	mm := t.in.mm
	x0, y0, x1, y1 = p.Bounds()
	left, low, right, high := x0, y0, x1, y1
	for _, h := range p.Holes {
		over := h.Diameter/2 + 3
		d.line(layerCentre, sheet.Hair, dashDot, [2]float64{h.X - over, h.Y}, [2]float64{h.X + over, h.Y})
		d.line(layerCentre, sheet.Hair, dashDot, [2]float64{h.X, h.Y - over}, [2]float64{h.X, h.Y + over})
	}
	for _, f := range p.Folds {
		d.line(layerFolds, sheet.Thin, foldDash, [2]float64{f.X1, f.Y1}, [2]float64{f.X2, f.Y2})
		d.word(layerNames, (f.X1+f.X2)/2, f.Y1+math.Copysign(3, f.Y1), "fold 90 deg")
	}
	if len(p.Folds) > 0 {
		t.saddleSizes(d, p, left, low, right, high)
	} else {
		t.plateSizes(d, p, low, right)
	}
	for _, h := range p.Holes {
		words := "Ø" + mm(h.Diameter)
		w, _ := wordSize(words)
		d.word(layerHoles, h.X+h.Diameter/2+2+w/2, h.Y+3.5, words)
	}
	// all that is drawn, and a little more
	for _, l := range d.lines {
		for _, q := range l.pts {
			x0, y0, x1, y1 = math.Min(x0, q[0]), math.Min(y0, q[1]), math.Max(x1, q[0]), math.Max(y1, q[1])
		}
	}
	for _, l := range d.words {
		w, h := wordSize(l.words)
		x0, y0, x1, y1 = math.Min(x0, l.x-w/2), math.Min(y0, l.y-h/2), math.Max(x1, l.x+w/2), math.Max(y1, l.y+h/2)
	}
	return d, x0 - 2, y0 - 2, x1 + 2, y1 + 2
}

// plateSizes are the sizes of an upright plate.
func (t *Template) plateSizes(d *cutting, p *plate.Plate, low, right float64) {
	mm, b := t.in.mm, t.bracket
	f := p.Face
	d.dimension(right, 0, right, f.Y2, 9, mm(b.Base))
	d.dimension(f.X2, low, f.X1, low, 9, mm(b.WidthOrUsual()))
	if off := b.OffsetOr0(); off != 0 {
		d.line(layerCentre, sheet.Hair, dashDot, [2]float64{0, b.Edge + 4}, [2]float64{0, low - 3})
		d.line(layerCentre, sheet.Hair, dashDot, [2]float64{off, f.Y1 + 4}, [2]float64{off, low - 3})
		d.dimension(math.Max(0, off), low, math.Min(0, off), low, 17, mm(math.Abs(off)))
	}
	// the edge's radius, where the round end is highest
	sn, cs := math.Sincos(2 * math.Pi / 3)
	d.line(layerSizes, sheet.Hair, nil, [2]float64{b.Edge * cs, b.Edge * sn}, [2]float64{(b.Edge + 6) * cs, (b.Edge + 6) * sn})
	words := "R" + mm(b.Edge)
	w, _ := wordSize(words)
	d.word(layerSizes, (b.Edge+6)*cs-w/2-1, (b.Edge+6)*sn, words)
	if low < f.Y1-1e-9 { // bolted
		d.line(layerFace, sheet.Thin, faceDash, [2]float64{f.X1, f.Y1}, [2]float64{f.X2, f.Y2})
		n := b.Pattern
		d.dimension(right, f.Y2, right, f.Y2-n.In, 9, mm(n.In))
		d.dimension(right, f.Y2-n.In, right, low, 9, mm(n.EdgeOrUsual()))
		t.rowSizes(d, p.Holes[1:])
	} else {
		d.word(layerFace, (f.X1+f.X2)/2, f.Y1+3.5, "mounting face")
	}
}

// rowSizes are how far the holes of a row are apart, under them.
func (t *Template) rowSizes(d *cutting, row []plate.Hole) {
	for i := 1; i < len(row); i++ {
		d.dimension(row[i].X, row[i].Y, row[i-1].X, row[i-1].Y, row[i].Diameter/2+4, t.in.mm(row[i].X-row[i-1].X))
	}
}

// saddleSizes are the sizes of a folded plate.
func (t *Template) saddleSizes(d *cutting, p *plate.Plate, left, low, right, high float64) {
	mm := t.in.mm
	d.dimension(right, low, left, low, 9, mm(right-left))
	d.dimension(right, high, right, low, 18, mm(high-low))
	for _, f := range p.Folds {
		if f.Y1 > 0 {
			d.dimension(right, high, right, f.Y1, 9, mm(high-f.Y1))
		} else {
			d.dimension(right, f.Y1, right, low, 9, mm(f.Y1-low))
		}
	}
	if n := t.bracket.Pattern; n != nil {
		d.dimension(left, low, left, low+n.In, 9, mm(n.In))
		d.dimension(left, high-n.In, left, high, 9, mm(n.In))
		t.rowSizes(d, p.Holes[:n.Count])
		t.rowSizes(d, p.Holes[n.Count:])
	}
	d.line(layerCentre, sheet.Hair, dashDot, [2]float64{0, low - 3}, [2]float64{0, high + 3})
	d.line(layerCentre, sheet.Hair, dashDot, [2]float64{left - 3, 0}, [2]float64{right + 3, 0})
}

// joins is the drawing with the marks that neighbouring pages are laid together by: a line through the middle of what both show, crosses on it.
func (d *cutting) joins(x0, y0, x1, y1 float64, left, right, up, down bool) *cutting {
	e := *d
	e.lines = append([]cutLine(nil), d.lines...)
	cross := func(x, y float64) {
		e.line("", sheet.Thin, nil, [2]float64{x - 4, y}, [2]float64{x + 4, y})
		e.line("", sheet.Thin, nil, [2]float64{x, y - 4}, [2]float64{x, y + 4})
	}
	for _, k := range []struct {
		on bool
		x  float64
	}{{left, x0 + overlap/2}, {right, x1 - overlap/2}} {
		if k.on {
			e.line("", sheet.Hair, faceDash, [2]float64{k.x, y0}, [2]float64{k.x, y1})
			for _, y := range []float64{y0 + 0.2*(y1-y0), y0 + 0.8*(y1-y0)} {
				cross(k.x, y)
			}
		}
	}
	for _, k := range []struct {
		on bool
		y  float64
	}{{down, y0 + overlap/2}, {up, y1 - overlap/2}} {
		if k.on {
			e.line("", sheet.Hair, faceDash, [2]float64{x0, k.y}, [2]float64{x1, k.y})
			for _, x := range []float64{x0 + 0.2*(x1-x0), x0 + 0.8*(x1-x0)} {
				cross(x, k.y)
			}
		}
	}
	return &e
}

// draw draws what lies between two corners (mm) with the upper left one at u, v of the page (units), lengths times kx across and ky up.
func (d *cutting) draw(p *paper.Pen, u, v, x0, y0, x1, y1, kx, ky float64) {
	black := ink.Color(ink.Text, false)
	w, h := paper.MM((x1-x0)*kx), paper.MM((y1-y0)*ky)
	at := func(x, y float64) drawing.Point {
		return drawing.Point{X: paper.MM((x - x0) * kx), Y: paper.MM((y1 - y) * ky)}
	}
	run := func(width float64, dashes []float64, pts []drawing.Point, closed bool) {
		for _, r := range drawing.ClipPath(0, 0, w, h, pts, closed) {
			out := make([][2]float64, len(r))
			for i, q := range r {
				out[i] = [2]float64{u + q.X, v + q.Y}
			}
			p.Line(black, width, dashes, out...)
		}
	}
	if len(d.outline) > 0 {
		o := plate.Plate{Outline: d.outline}
		var pts []drawing.Point
		for _, c := range o.Path(180) {
			pts = append(pts, at(c.X, c.Y))
		}
		run(sheet.Thick, nil, pts, true)
	}
	for _, hole := range d.holes {
		pts := make([]drawing.Point, 180)
		for i := range pts {
			sn, cs := math.Sincos(2 * math.Pi * float64(i) / 180)
			pts[i] = at(hole.X+hole.Diameter/2*cs, hole.Y+hole.Diameter/2*sn)
		}
		run(sheet.Thin, nil, pts, true)
	}
	for _, l := range d.lines {
		pts := make([]drawing.Point, len(l.pts))
		for i, q := range l.pts {
			pts[i] = at(q[0], q[1])
		}
		run(l.width, l.dashes, pts, false)
	}
	for _, l := range d.words {
		ww, wh := paper.Measure(l.words, nameSize, false)
		c := at(l.x, l.y)
		if c.X-ww/2 >= -1 && c.X+ww/2 <= w+1 && c.Y-wh/2 >= -1 && c.Y+wh/2 <= h+1 { // whole on this page, or on its neighbour
			x, y := u+c.X-ww/2, v+c.Y-wh/2
			p.Fill(color.White, [][2]float64{{x - 1, y + 1}, {x + ww + 1, y + 1}, {x + ww + 1, y + wh - 1}, {x - 1, y + wh - 1}})
			p.Words(black, l.words, x, y, nameSize, false)
		}
	}
}

// DXF are the plates side by side, full size: cut lines and holes on layers of their own, so that they can be cut by them as they are.
func (t *Template) DXF() *dxf.Drawing {
	out := dxf.New(1, templateLayers...)
	x := 0.0
	tall := nameSize * capital / paper.MM(1)
	for i := range t.plates {
		p := &t.plates[i]
		d, x0, y0, x1, _ := t.plate(p)
		by := x - x0
		pts := make([]dxf.Point, len(d.outline))
		for k, c := range d.outline {
			pts[k] = dxf.Point{X: c.X + by, Y: c.Y, Bulge: c.Bulge}
		}
		out.Polyline(layerCut, true, pts...)
		for _, h := range d.holes {
			out.Circle(layerHoles, h.X+by, h.Y, h.Diameter/2)
		}
		for _, l := range d.lines {
			for k := 1; k < len(l.pts); k++ {
				out.Line(l.layer, l.pts[k-1][0]+by, l.pts[k-1][1], l.pts[k][0]+by, l.pts[k][1])
			}
		}
		for _, l := range d.words {
			layer := l.layer
			if layer == layerHoles || layer == layerFace {
				layer = layerNames // nothing but what is drilled and folded lies on those
			}
			out.Text(layer, l.x+by, l.y-tall/2, tall, 0, dxf.Middle, l.words)
		}
		out.Text(layerNames, x, y0-3*tall, tall, 0, dxf.Left, fmt.Sprintf("%s, %s: %s, %s thick", t.name, p.Name, t.pieces(p), t.in.mm(p.Thickness)+" "+t.in.unit()))
		x += x1 - x0 + 20
	}
	h := t.head()
	for i, words := range []string{h.Title + ": " + h.Job, h.Date + "; " + h.Inputs + "; job file " + h.Sum, paper.Caution} {
		_, y0, _, _, _ := out.Box()
		if i == 0 {
			y0 -= 2 * tall
		}
		out.Text(layerNames, 0, y0-2*tall, tall, 0, dxf.Left, words)
	}
	return out
}
