package sheets

import (
	"fmt"
	"image/color"
	"math"
	"strconv"

	"axleloft/app/view"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

// Sizes of words on an outline, units.
const (
	nameSize = 11.0
	tickLong = 2.5 // mm: half a pivot's cross
	tickRing = 1.0
)

// draft is an outline with its words placed at a scale. Places are units from the upper left corner of the figure.
type draft struct {
	o      *Outline
	k      float64 // units a mm
	w, h   float64 // of the figure, scale bars left out; nothing is drawn beyond
	bars   bool    // scale bars stand under it
	place  drawing.Placer
	labels []label
}

// label is a word with its place; a leader runs to what it names where it stands away from it.
type label struct {
	words  string
	x, y   float64 // upper left corner
	w, h   float64
	bold   bool
	leader *drawing.Point
}

// draft places the words of an outline at a scale.
func (o *Outline) draft(scale float64) *draft {
	w, h := o.size(scale)
	d := &draft{o: o, k: paper.MM(scale), w: paper.MM(w), h: paper.MM(h - barTall), bars: true}
	d.place = drawing.Placer{Within: drawing.Area{X1: d.w, Y1: d.h}, Apart: 2, Clear: 1}
	for i := range o.shapes {
		d.trace(&o.shapes[i])
	}
	for _, m := range o.marks {
		c, r := d.at(m.at), paper.MM(tickRing)+1
		d.place.Taken = append(d.place.Taken, drawing.Area{X0: c.X - r, Y0: c.Y - r, X1: c.X + r, Y1: c.Y + r})
	}
	for _, m := range o.marks {
		d.number(m)
	}
	named := map[string]bool{}
	for pass := range 2 { // what moves before what is in the way
		for i := range o.shapes {
			f := &o.shapes[i]
			moves := f.Layer != drawing.PartLines && f.Layer != drawing.PartFills
			if words := view.PlainName(f.Name); f.Name != groundName && words != "" && !named[words] && moves == (pass == 0) && d.name(f, words) {
				named[words] = true
			}
		}
	}
	return d
}

// at is where a place of the view is drawn.
func (d *draft) at(p drawing.Point) drawing.Point {
	edge := paper.MM(edge)
	mid := (d.w - 2*edge - (d.o.x1-d.o.x0)*d.k) / 2 // of a narrow drawing
	return drawing.Point{X: edge + mid + (p.X-d.o.x0)*d.k, Y: edge + (d.o.y1-p.Y)*d.k}
}

// world is the inverse of at.
func (d *draft) world(x, y float64) (right, up float64) {
	o := d.at(drawing.Point{})
	return (x - o.X) / d.k, (o.Y - y) / d.k
}

func (d *draft) all(pts []drawing.Point) []drawing.Point {
	out := make([]drawing.Point, len(pts))
	for i, p := range pts {
		out[i] = d.at(p)
	}
	return out
}

// trace notes the lines a shape is drawn with, so that words keep off them.
func (d *draft) trace(f *view.Shape) {
	pts := d.all(f.Points)
	run := func(pts []drawing.Point, closed bool) {
		for i := 1; i < len(pts); i++ {
			d.place.Ink(pts[i-1].X, pts[i-1].Y, pts[i].X, pts[i].Y, 0, 1)
		}
		if n := len(pts); closed && n > 2 {
			d.place.Ink(pts[n-1].X, pts[n-1].Y, pts[0].X, pts[0].Y, 0, 1)
		}
	}
	switch r := f.Radius * d.k; f.Kind {
	case drawing.Bar:
		for i := 1; i < len(pts); i++ {
			run(drawing.Capsule(pts[i-1], pts[i], r), true)
			run(pts[i-1:i+1], false)
		}
	case drawing.Circle:
		run(drawing.Round(pts[0].X, pts[0].Y, r), true)
	default:
		run(pts, f.Closed)
	}
}

// spot looks for a place for words.
type spot struct {
	*drawing.Spot
	d *draft
	l label
}

func (d *draft) spot(words string, bold bool) *spot {
	w, h := paper.Measure(words, nameSize, bold)
	return &spot{Spot: d.place.Spot(), d: d, l: label{words: words, w: w, h: h, bold: bold}}
}

// try looks at a place by its upper left corner.
func (b *spot) try(x, y, extra float64) {
	b.Try(drawing.Area{X0: x, Y0: y, X1: x + b.l.w, Y1: y + b.l.h}, extra)
}

// take puts the words at the best place, if that is good enough.
func (b *spot) take(limit float64) bool {
	at, ok := b.Take(limit)
	if ok {
		b.l.x, b.l.y = at.X0, at.Y0
		b.d.labels = append(b.d.labels, b.l)
	}
	return ok
}

// number places a pivot's number beside its mark; further off with a leader.
func (d *draft) number(m numbered) {
	c := d.at(m.at)
	b := d.spot(strconv.Itoa(m.n), true)
	for far, off := range []float64{2, 6, 11, 17, 24} {
		for k := range 16 {
			sn, cs := math.Sincos(2*math.Pi*float64(k)/16 + math.Pi/4)
			reach := paper.MM(tickRing) + off
			x, y := c.X+cs*(reach+b.l.w/2), c.Y-sn*(reach+b.l.h/2)
			b.try(x-b.l.w/2, y-b.l.h/2, 0.8*float64(far)+0.01*float64(k))
		}
	}
	if math.Hypot((b.At.X0+b.At.X1)/2-c.X, (b.At.Y0+b.At.Y1)/2-c.Y) > paper.MM(tickRing)+6+math.Max(b.l.w, b.l.h)/2 {
		b.l.leader = &c
	}
	b.take(drawing.NoRoom / 2)
}

// name places a part's name on it or at it, and tells whether there was room.
func (d *draft) name(f *view.Shape, words string) bool {
	b := d.spot(words, false)
	pts := d.all(f.Points)
	if f.Kind == drawing.Bar {
		r := f.Radius * d.k
		for i := 1; i < len(pts); i++ {
			p, q := pts[i-1], pts[i]
			for k, t := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
				x, y := p.X+t*(q.X-p.X), p.Y+t*(q.Y-p.Y)
				for m, off := range []float64{1, 5, 10} {
					steep := math.Abs(q.Y-p.Y) > math.Abs(q.X-p.X)
					for _, side := range []float64{-1, 1} {
						extra := 0.1*float64(k) + 0.3*float64(m)
						if steep {
							b.try(x+side*(r+off+b.l.w/2)-b.l.w/2, y-b.l.h/2, extra)
						} else {
							b.try(x-b.l.w/2, y+side*(r+off+b.l.h/2)-b.l.h/2, extra)
						}
					}
				}
			}
		}
		return b.take(1.9)
	}
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range pts {
		r := f.Radius * d.k
		x0, y0, x1, y1 = math.Min(x0, p.X-r), math.Min(y0, p.Y-r), math.Max(x1, p.X+r), math.Max(y1, p.Y+r)
	}
	for i := range 9 {
		for j := range 5 {
			x, y := x0+3+(x1-x0-6-b.l.w)*float64(i)/8, y0+2+(y1-y0-4-b.l.h)*float64(j)/4
			if x1-x0 > b.l.w+6 && y1-y0 > b.l.h+4 {
				b.try(x, y, 0.02*float64(i+j))
			}
		}
		x := x0 + (x1-x0-b.l.w)*float64(i)/8
		b.try(x, y0-b.l.h-2, 0.6+0.02*float64(i))
		b.try(x, y1+2, 0.6+0.02*float64(i))
	}
	return b.take(1.9)
}

// Dashes of a centre line, mm (ISO 128-2 line 04.1 and 10, long dash and dot, for a line of 0.25 mm; from memory).
var dashDot = []float64{paper.MM(6), paper.MM(0.75), paper.MM(0.15), paper.MM(0.75)}

// draw draws the outline with its scale bars.
func (d *draft) draw(p *paper.Pen, box paper.Room) {
	x, y := box.X0+(box.W()-d.w)/2, box.Y0
	black := ink.Color(ink.Text, false)
	move := func(pts ...drawing.Point) [][2]float64 {
		out := make([][2]float64, len(pts))
		for i, q := range pts {
			out[i] = [2]float64{x + q.X, y + q.Y}
		}
		return out
	}
	for i := range d.o.shapes {
		d.shape(p, &d.o.shapes[i], x, y, black)
	}
	for _, m := range d.o.marks {
		c, t := d.at(m.at), paper.MM(tickLong)
		p.Line(black, sheet.Thin, nil, move(drawing.Point{X: c.X - t, Y: c.Y}, drawing.Point{X: c.X + t, Y: c.Y})...)
		p.Line(black, sheet.Thin, nil, move(drawing.Point{X: c.X, Y: c.Y - t}, drawing.Point{X: c.X, Y: c.Y + t})...)
		p.Ring(black, sheet.Thin, x+c.X, y+c.Y, paper.MM(tickRing))
	}
	for _, l := range d.labels {
		if l.leader != nil {
			p.Line(black, sheet.Hair, nil, move(*l.leader, drawing.Point{X: l.x + l.w/2, Y: l.y + l.h/2})...)
		}
		p.Fill(color.White, move(drawing.Point{X: l.x - 1, Y: l.y + 1}, drawing.Point{X: l.x + l.w + 1, Y: l.y + 1}, drawing.Point{X: l.x + l.w + 1, Y: l.y + l.h - 1}, drawing.Point{X: l.x - 1, Y: l.y + l.h - 1}))
		p.Words(black, l.words, x+l.x, y+l.y, nameSize, l.bold)
	}
	if d.bars {
		scaleBars(p, x+paper.MM(edge), y+d.h+paper.MM(4))
	}
}

// weight is how heavy a shape's lines are.
func weight(f *view.Shape) float64 {
	if f.Layer == drawing.Links || f.Layer == drawing.Axle {
		return sheet.Thick
	}
	return sheet.Thin
}

// largePart is the share of the figure from which a part in the way is left open: it would hide what it is drawn for.
const largePart = 0.2

// area of a closed outline, square units.
func area(pts []drawing.Point) float64 {
	sum := 0.0
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		sum += p.X*q.Y - p.Y*q.X
	}
	return math.Abs(sum) / 2
}

// shape draws one with the figure's corner at x, y: what lies behind a filled one is hidden, as in the window.
func (d *draft) shape(p *paper.Pen, f *view.Shape, x, y float64, black color.Color) {
	t, r, pts := weight(f), f.Radius*d.k, d.all(f.Points)
	move := func(pts []drawing.Point) [][2]float64 {
		out := make([][2]float64, len(pts))
		for i, q := range pts {
			out[i] = [2]float64{x + q.X, y + q.Y}
		}
		return out
	}
	paint := func(c color.Color, pts []drawing.Point) {
		if pts = drawing.ClipArea(0, 0, d.w, d.h, pts); len(pts) > 2 {
			p.Fill(c, move(pts))
		}
	}
	fill := func(pts []drawing.Point) {
		switch f.Fill {
		case ink.None:
		case ink.Ground:
			paint(color.White, pts)
		default:
			paint(ink.Color(f.Fill, false), pts)
		}
	}
	line := func(width float64, dashes []float64, pts []drawing.Point, closed bool) {
		for _, run := range drawing.ClipPath(0, 0, d.w, d.h, pts, closed) {
			if closed && len(run) == len(pts)+1 {
				p.Outline(black, width, move(run[:len(pts)])...)
				continue
			}
			p.Line(black, width, dashes, move(run)...)
		}
	}
	switch f.Kind {
	case drawing.Bar:
		if r < t {
			line(t, nil, pts, false)
			return
		}
		for i := 1; i < len(pts); i++ {
			paint(black, drawing.Capsule(pts[i-1], pts[i], r+t/2))
		}
		for i := 1; i < len(pts); i++ {
			inner := drawing.Capsule(pts[i-1], pts[i], r-t/2)
			paint(color.White, inner)
			fill(inner)
		}
		if c := d.centre(f, pts); c != nil {
			line(sheet.Hair, dashDot, c, false)
		}
	case drawing.Circle:
		round := drawing.Round(pts[0].X, pts[0].Y, r)
		fill(round)
		line(t, nil, round, true)
	default:
		if f.Name == groundName {
			t = sheet.Thick
		}
		if f.Closed && !(f.Layer == drawing.PartLines && area(pts) > d.w*d.h*largePart) {
			fill(pts)
		}
		line(t, nil, pts, f.Closed)
	}
}

// centre is the centre line of a bar, a little past both ends; nil where the bar is seen end on.
func (d *draft) centre(f *view.Shape, pts []drawing.Point) []drawing.Point {
	over := f.Radius*d.k + paper.MM(2)
	out := append([]drawing.Point(nil), pts...)
	end := func(at, from int) bool {
		l := math.Hypot(pts[at].X-pts[from].X, pts[at].Y-pts[from].Y)
		if l < 1e-6 {
			return false
		}
		out[at] = drawing.Point{X: pts[at].X + over*(pts[at].X-pts[from].X)/l, Y: pts[at].Y + over*(pts[at].Y-pts[from].Y)/l}
		return true
	}
	n := len(pts)
	if n < 2 || !end(0, 1) || !end(n-1, n-2) {
		return nil
	}
	return out
}

// scaleBars draws a length of 100 mm of paper to check a print by, and a shorter one at right angles.
func scaleBars(p *paper.Pen, x, y float64) {
	black := ink.Color(ink.Text, false)
	long, tick := paper.MM(scaleLong), paper.MM(1.5)
	up := paper.MM(barTall - 8)
	p.Line(black, sheet.Thin, nil, [2]float64{x, y}, [2]float64{x, y + up}, [2]float64{x + long, y + up})
	for i := range 11 {
		at := x + long*float64(i)/10
		p.Line(black, sheet.Thin, nil, [2]float64{at, y + up - tick}, [2]float64{at, y + up})
	}
	for i := 0.0; i <= (barTall-8)/10; i++ {
		at := y + up - paper.MM(10)*i
		p.Line(black, sheet.Thin, nil, [2]float64{x, at}, [2]float64{x + tick, at})
	}
	p.Words(black, fmt.Sprintf("%.0f mm on this paper, ticks 10 mm, the same upward", scaleLong), x+paper.MM(4), y+up-paper.MM(6), nameSize, false)
}
