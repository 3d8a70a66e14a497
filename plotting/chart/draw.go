package chart

import (
	"image"
	"image/color"
	imagedraw "image/draw"
	"math"

	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// The sizes of a chart, units.
const (
	wordSize  = 15.0
	leading   = 19.0
	wide      = 3.0 // the present load's curve
	light     = 1.5 // other curves, cursor, axes
	thin      = 1.0
	topRow    = 36.0 // the title's row
	topBare   = 14.0 // without a title
	right     = 16.0
	dotRadius = 4.5
)

// Draw draws a chart into an image, scale pixels a unit, and returns where its values lie (in units). It may be called from any goroutine.
func Draw(img imagedraw.Image, s Spec, dark bool, scale float64) Axes {
	b := img.Bounds()
	if b.Empty() || !(scale > 0.1 && scale < 50) {
		return Axes{Empty: true}
	}
	dpi := math.Round(96 * scale) // the canvas takes whole ones
	w, h := vg.Length(float64(b.Dx())/dpi)*vg.Inch, vg.Length(float64(b.Dy())/dpi)*vg.Inch
	c := vgimg.NewWith(vgimg.UseWH(w, h), vgimg.UseDPI(int(dpi)), vgimg.UseBackgroundColor(ink.Color(ink.Ground, dark)))
	a := render(paper.NewPen(c, h), paper.Room{X1: float64(w / paper.Unit), Y1: float64(h / paper.Unit)}, &s, dark)
	imagedraw.Draw(img, b, c.Image(), image.Point{}, imagedraw.Src)
	k := dpi / 96 / scale
	a.X0, a.Y0, a.X1, a.Y1 = a.X0*k, a.Y0*k, a.X1*k, a.Y1*k
	for i := range a.Words {
		for j := range a.Words[i] {
			a.Words[i][j] *= k
		}
	}
	return a
}

// On draws a chart on a page, in a room of it.
func On(p *paper.Pen, room paper.Room, s Spec) Axes { return render(p, room, &s, s.Dark) }

// artist is one chart being drawn.
type artist struct {
	pen  *paper.Pen
	room paper.Room
	s    *Spec
	dark bool
	a    Axes
	*placer
}

func (d *artist) color(r ink.Role) color.NRGBA { return ink.Color(r, d.dark) }

// render draws a chart in a room of a page.
func render(pen *paper.Pen, room paper.Room, s *Spec, dark bool) Axes {
	d := &artist{pen: pen, room: room, s: s, dark: dark}
	top := room.Y0 + topBare
	if t := d.title(); t != "" {
		pen.Words(d.color(ink.Text), t, room.X0+12, room.Y0+8, wordSize, true)
		top = room.Y0 + topRow
	}
	bottom := room.Y1 - leading - 6
	if s.XTitle != "" {
		bottom -= leading - 3
	}
	if len(s.Ticks) > 0 {
		bottom -= leading - 3
	}
	x0, x1, y0, y1, ok := s.ranges()
	if !ok || bottom-top < 30 || room.W() < 80 {
		d.empty()
		return Axes{Empty: true}
	}
	ys, step := ticks(y0, y1, (y1-y0)*38/(bottom-top))
	left := room.X0 + 14
	for _, y := range ys {
		w, _ := paper.Measure(tickWords(y, step), wordSize, false)
		left = math.Max(left, room.X0+w+14)
	}
	left = math.Min(left, room.X0+room.W()/2)
	d.a = Axes{X0: left, Y0: top, X1: room.X1 - right, Y1: bottom, XMin: x0, XMax: x1, YMin: y0, YMax: y1}
	d.placer = newPlacer(room, box{X0: left, Y0: top, X1: d.a.X1, Y1: bottom})
	d.data(ys)
	d.yAxis(ys, step)
	d.xAxis()
	d.words()
	for _, b := range d.Taken {
		d.a.Words = append(d.a.Words, [4]float64{b.X0, b.Y0, b.X1, b.Y1})
	}
	return d.a
}

func (d *artist) title() string {
	if d.s.Title == "" || d.s.Unit == "" {
		return d.s.Title
	}
	return d.s.Title + ", " + d.s.Unit
}

// empty says in words why there is no chart.
func (d *artist) empty() {
	why := d.s.Why
	if why == "" {
		why = "Nothing to draw: there are no figures for this chart."
	}
	for i, l := range paper.Wrap(why, wordSize, d.room.W()-40) {
		d.pen.Words(d.color(ink.Second), l, d.room.X0+20, d.room.Y0+topRow+20+leading*float64(i), wordSize, false)
	}
}

// data draws bands, rules and curves: everything that lies in the box of the curves.
func (d *artist) data(ys []float64) {
	p := plot.New()
	p.HideAxes()
	p.X.Padding, p.Y.Padding = 0, 0
	p.BackgroundColor = nil
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = d.a.XMin, d.a.XMax, d.a.YMin, d.a.YMax
	for _, b := range d.s.Bands {
		if finite(b.Lo) && finite(b.Hi) {
			p.Add(bandPlotter{b.Lo, b.Hi, d.color(ink.Practice)})
		}
	}
	p.Add(rules{ys, d.line(ink.Rule, thin)})
	for _, y := range ys {
		_, py := d.a.At(d.a.XMin, y)
		d.rule(py)
	}
	for _, b := range d.s.Bands {
		if lo, hi := finite(b.Lo), finite(b.Hi); lo != hi {
			e := b.Hi
			if lo {
				e = b.Lo
			}
			p.Add(rules{[]float64{e}, d.line(ink.Edge, light)})
			d.level(e)
		}
	}
	for pass := range 3 { // pencil lines, then the others, then the present load's
		for i := range d.s.Curves {
			if c := &d.s.Curves[i]; rank(c) == pass {
				c.runs(func(x, y []float64) { d.curve(p, c, x, y) })
			}
		}
	}
	// gonum's canvases count up from the page's lower edge.
	whole := d.pen.Canvas()
	at := func(x, y float64) vg.Point {
		return vg.Point{X: vg.Length(x) * paper.Unit, Y: whole.Max.Y - vg.Length(y)*paper.Unit}
	}
	p.Draw(draw.Canvas{Canvas: whole.Canvas, Rectangle: vg.Rectangle{Min: at(d.a.X0, d.a.Y1), Max: at(d.a.X1, d.a.Y0)}})
}

func rank(c *Curve) int {
	switch {
	case c.Pencil:
		return 0
	case c.Present:
		return 2
	}
	return 1
}

func (d *artist) line(r ink.Role, width float64) draw.LineStyle {
	return draw.LineStyle{Color: d.color(r), Width: vg.Length(d.weigh(width)) * paper.Unit}
}

// weigh is a line's width where all are heavier.
func (d *artist) weigh(width float64) float64 {
	if d.s.Heavy > 0 {
		return width * d.s.Heavy
	}
	return width
}

func (d *artist) curve(p *plot.Plot, c *Curve, x, y []float64) {
	style := d.line(ink.Text, light)
	switch {
	case c.Pencil:
		style = d.line(ink.Pencil, light)
		for _, l := range drawing.PencilDash {
			style.Dashes = append(style.Dashes, vg.Length(l)*paper.Unit)
		}
		style.DashOffs = vg.Length(drawing.PencilShift(c.Place)) * paper.Unit
	case c.Present:
		style.Width = vg.Length(d.weigh(wide)) * paper.Unit
	}
	if len(x) == 1 { // one value is a dot
		p.Add(single{x[0], y[0], style.Color, vg.Length(dotRadius) * paper.Unit})
		px, py := d.a.At(x[0], y[0])
		d.trace(px, py, px, py, dotRadius)
		return
	}
	pts := make(plotter.XYs, len(x))
	for i := range x {
		pts[i].X, pts[i].Y = x[i], y[i]
		if i > 0 {
			ax, ay := d.a.At(x[i-1], y[i-1])
			bx, by := d.a.At(x[i], y[i])
			d.trace(ax, ay, bx, by, float64(style.Width/paper.Unit)/2)
		}
	}
	p.Add(&plotter.Line{XYs: pts, LineStyle: style})
}

// level keeps words off a level line.
func (d *artist) level(y float64) {
	ax, ay := d.a.At(d.a.XMin, y)
	bx, by := d.a.At(d.a.XMax, y)
	d.trace(ax, ay, bx, by, light/2)
}

func (d *artist) yAxis(ys []float64, step float64) {
	edge := d.color(ink.Edge)
	a := d.a
	d.pen.Line(edge, d.weigh(light), nil, [2]float64{a.X0, a.Y0}, [2]float64{a.X0, a.Y1})
	for _, y := range ys {
		words := tickWords(y, step)
		w, h := paper.Measure(words, wordSize, false)
		_, py := a.At(a.XMin, y)
		d.pen.Words(d.color(ink.Second), words, a.X0-w-7, py-h/2, wordSize, false)
		d.pen.Line(edge, d.weigh(light), nil, [2]float64{a.X0 - 4, py}, [2]float64{a.X0, py})
	}
}

func (d *artist) xAxis() {
	a := d.a
	edge, second, text := d.color(ink.Edge), d.color(ink.Second), d.color(ink.Text)
	d.pen.Line(edge, d.weigh(light), nil, [2]float64{a.X0, a.Y1}, [2]float64{a.X1, a.Y1})
	xs, step := ticks(a.XMin, a.XMax, (a.XMax-a.XMin)*64/(a.X1-a.X0))
	for _, x := range xs {
		px, _ := a.At(x, a.YMin)
		words := tickWords(x, step)
		w, _ := paper.Measure(words, wordSize, false)
		d.pen.Line(edge, d.weigh(light), nil, [2]float64{px, a.Y1}, [2]float64{px, a.Y1 + 4})
		d.pen.Words(second, words, px-w/2, a.Y1+5, wordSize, false)
	}
	y := a.Y1 + 5 + leading - 3
	if len(d.s.Ticks) > 0 {
		end := math.Inf(-1)
		for _, t := range inOrder(d.s.Ticks) {
			if t.X < a.XMin || t.X > a.XMax || !finite(t.X) {
				continue
			}
			px, _ := a.At(t.X, a.YMin)
			d.pen.Line(text, d.weigh(wide), nil, [2]float64{px, a.Y1 - 6}, [2]float64{px, a.Y1})
			w, _ := paper.Measure(t.Name, wordSize, false)
			at := math.Max(d.room.X0+2, math.Min(d.room.X1-w-2, px-w/2))
			if at < end+6 {
				continue // its tick stands, its name would run into its neighbour's
			}
			end = at + w
			d.pen.Words(text, t.Name, at, y, wordSize, false)
		}
		y += leading - 3
	}
	d.pen.Words(second, d.s.XTitle, a.X0, y, wordSize, false)
}
