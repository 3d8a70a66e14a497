package sheets

import (
	"math"
	"strings"

	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/plotting/drawing"
	"axleloft/plotting/dxf"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

// The layers of an outline's DXF.
const (
	layerParts  = "PARTS_IN_THE_WAY"
	layerGround = "GROUND"
	layerTyres  = "TYRES"
	layerShaft  = "DRIVESHAFT"
	layerAxle   = "AXLE"
	layerStruts = "STRUTS_STOPS_STRAPS"
	layerLinks  = "LINKS"
	layerLines  = "HOSES_SENSORS"
	layerCentre = "CENTRE_LINES"
	layerPivots = "PIVOTS"
	layerNames  = "NAMES"
	layerTable  = "TABLE"
)

var outlineLayers = []dxf.Layer{
	{Name: layerParts, Colour: 8, Line: dxf.Whole, Width: 0.25},
	{Name: layerGround, Colour: 8, Line: dxf.Whole, Width: 0.5},
	{Name: layerTyres, Colour: 8, Line: dxf.Whole, Width: 0.25},
	{Name: layerShaft, Colour: 7, Line: dxf.Whole, Width: 0.25},
	{Name: layerAxle, Colour: 7, Line: dxf.Whole, Width: 0.5},
	{Name: layerStruts, Colour: 3, Line: dxf.Whole, Width: 0.25},
	{Name: layerLinks, Colour: 5, Line: dxf.Whole, Width: 0.5},
	{Name: layerLines, Colour: 6, Line: dxf.Whole, Width: 0.25},
	{Name: layerCentre, Colour: 1, Line: dxf.Centre, Width: 0.18},
	{Name: layerPivots, Colour: 7, Line: dxf.Whole, Width: 0.25},
	{Name: layerNames, Colour: 7, Line: dxf.Whole, Width: 0.18},
	{Name: layerTable, Colour: 7, Line: dxf.Whole, Width: 0.18},
}

// layerOf is the layer a shape lies on.
func layerOf(f *view.Shape) string {
	switch f.Layer {
	case drawing.PartFills, drawing.PartLines:
		return layerParts
	case drawing.GroundTyres:
		if f.Name == groundName {
			return layerGround
		}
		return layerTyres
	case drawing.Shaft:
		return layerShaft
	case drawing.Axle:
		return layerAxle
	case drawing.Struts:
		return layerStruts
	case drawing.Hoses:
		return layerLines
	}
	return layerLinks
}

const capital = 0.72 // of the size of words: how tall capitals are in the typeface of sheets

// DXF is an outline at full size: mm, to the right and up as the view shows the vehicle (side: X and Z; rear: -Y and Z; plan: X and Y of the job). Words
// and marks are sized to be read at the scale. Nothing is hidden: layers are switched off instead.
func (o *Outline) DXF(scale float64) *dxf.Drawing {
	d := o.draft(scale)
	out := dxf.New(scale, outlineLayers...)
	for i := range o.shapes {
		o.put(out, d, &o.shapes[i])
	}
	tick := tickLong / scale
	for _, m := range o.marks {
		out.Line(layerPivots, m.at.X-tick, m.at.Y, m.at.X+tick, m.at.Y)
		out.Line(layerPivots, m.at.X, m.at.Y-tick, m.at.X, m.at.Y+tick)
		out.Circle(layerPivots, m.at.X, m.at.Y, tickRing/scale)
	}
	tall := nameSize * capital / d.k
	for _, l := range d.labels {
		x, y := d.world(l.x, l.y+(l.h+nameSize*capital)/2)
		layer := layerNames
		if l.bold {
			layer = layerPivots
		}
		out.Text(layer, x, y, tall, 0, dxf.Left, l.words)
		if l.leader != nil {
			u, v := d.world(l.leader.X, l.leader.Y)
			a, b := d.world(l.x+l.w/2, l.y+l.h/2)
			out.Line(layer, u, v, a, b)
		}
	}
	o.words(out, d, tall)
	return out
}

// put draws a shape.
func (o *Outline) put(out *dxf.Drawing, d *draft, f *view.Shape) {
	layer := layerOf(f)
	switch f.Kind {
	case drawing.Circle:
		out.Circle(layer, f.Points[0].X, f.Points[0].Y, f.Radius)
	case drawing.Bar:
		var pts []dxf.Point
		for i, q := range f.Points {
			pts = append(pts, dxf.Point{X: q.X, Y: q.Y})
			if i > 0 && f.Radius > 0 {
				capsule(out, layer, f.Points[i-1], q, f.Radius)
			}
		}
		if f.Radius <= 0 {
			out.Polyline(layer, false, pts...)
			return
		}
		if line := d.centre(f, d.all(f.Points)); line != nil {
			pts = pts[:0]
			for _, q := range line {
				x, y := d.world(q.X, q.Y)
				pts = append(pts, dxf.Point{X: x, Y: y})
			}
			out.Polyline(layerCentre, false, pts...)
		}
	default:
		if f.Name == groundName {
			a, b := f.Points[0], f.Points[1]
			slope := (b.Y - a.Y) / (b.X - a.X)
			x0, x1 := o.x0-edge/0.1, o.x1+edge/0.1
			out.Line(layer, x0, a.Y+slope*(x0-a.X), x1, a.Y+slope*(x1-a.X))
			return
		}
		pts := make([]dxf.Point, len(f.Points))
		for i, q := range f.Points {
			pts[i] = dxf.Point{X: q.X, Y: q.Y}
		}
		out.Polyline(layer, f.Closed, pts...)
	}
}

// capsule draws the outline of a round bar: two lines and two half circles; a circle where it is seen end on.
func capsule(out *dxf.Drawing, layer string, a, b drawing.Point, r float64) {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l < 1e-9 {
		out.Circle(layer, a.X, a.Y, r)
		return
	}
	nx, ny := -(b.Y-a.Y)/l*r, (b.X-a.X)/l*r
	out.Polyline(layer, true, dxf.Point{X: a.X - nx, Y: a.Y - ny}, dxf.Point{X: b.X - nx, Y: b.Y - ny, Bulge: 1}, dxf.Point{X: b.X + nx, Y: b.Y + ny}, dxf.Point{X: a.X + nx, Y: a.Y + ny, Bulge: 1})
}

// words writes what the drawing is, and the table of pivots, under it.
func (o *Outline) words(out *dxf.Drawing, d *draft, tall float64) {
	h := o.head(d.k / paper.MM(1))
	y := o.y0 - 4*edge*tall
	line := func(words string) {
		out.Text(layerTable, o.x0, y, tall, 0, dxf.Left, words)
		y -= 1.8 * tall
	}
	trial := h.Trial
	if trial == "" {
		trial = "as drawn"
	}
	line(h.Title + ": " + h.Job + ", " + trial)
	line(study.Upper(viewWords[o.plane][1]) + ", " + o.where() + ". Full size in mm; words are sized for " + study.ScaleWords(d.k/paper.MM(1)) + ".")
	line(strings.Join([]string{h.Date, h.Units, h.Inputs, "job file " + h.Sum}, "; "))
	if h.Sketch {
		line(sheet.SketchOnly)
	}
	line(paper.Caution)
	y -= 1.8 * tall
	t := o.table()
	rows := [][]string{make([]string, len(t.Columns))}
	for i, c := range t.Columns {
		rows[0][i] = c.Head
	}
	for _, r := range t.Rows {
		rows = append(rows, r.Cells)
	}
	wide := make([]float64, len(t.Columns))
	for _, r := range rows {
		for i, c := range r {
			w, _ := paper.Measure(c, nameSize, false)
			wide[i] = math.Max(wide[i], (w+14)/d.k)
		}
	}
	for _, r := range rows {
		x := o.x0
		for i, c := range r {
			out.Text(layerTable, x, y, tall, 0, dxf.Left, c)
			x += wide[i]
		}
		y -= 1.8 * tall
	}
}
