package chart

import (
	"image/color"
	"math"
	"slices"
	"strings"

	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
)

// words puts every word at its place: the cursor's values first, then the names of the curves, then the bands, then what up and down mean.
func (d *artist) words() {
	text, second := d.color(ink.Text), d.color(ink.Second)
	d.cursor()
	for pass := 2; pass >= 0; pass-- {
		for i := range d.s.Curves {
			c := &d.s.Curves[i]
			if rank(c) != pass || c.Name == "" {
				continue
			}
			col := text
			if c.Pencil {
				col = second
			}
			w, h := paper.Measure(c.Name, wordSize, c.Present)
			d.name(c, col, w, h)
		}
	}
	for _, b := range d.s.Bands {
		d.bandWords(b)
	}
	d.arrowWords(d.s.Up, true)
	d.arrowWords(d.s.Down, false)
}

// name puts a curve's name at it where no curve runs through it, else with a line to it, else where least does.
func (d *artist) name(c *Curve, col color.Color, w, h float64) {
	for _, limit := range []float64{clear, drawing.NoRoom / 2} {
		if b, ok := d.atCurve(d.a, c, w, h, limit); ok {
			d.pen.Words(col, c.Name, b.X0, b.Y0, wordSize, c.Present)
			return
		}
		if b, from, to, ok := d.led(d.a, c, w, h, limit); ok {
			d.pen.Line(col, d.weigh(light)/2, nil, from, to)
			d.pen.Disc(col, to[0], to[1], d.weigh(light)+0.6)
			d.trace(from[0], from[1], to[0], to[1], 0)
			d.pen.Words(col, c.Name, b.X0, b.Y0, wordSize, c.Present)
			return
		}
	}
}

// cursor draws where the axle stands: a line, a dot on every curve, its value beside it.
func (d *artist) cursor() {
	x := d.s.Cursor
	if !finite(x) || x < d.a.XMin || x > d.a.XMax {
		return
	}
	press := d.color(ink.Press)
	px, _ := d.a.At(x, d.a.YMin)
	d.pen.Line(press, d.weigh(light), nil, [2]float64{px, d.a.Y0}, [2]float64{px, d.a.Y1})
	d.trace(px, d.a.Y0, px, d.a.Y1, light/2)
	dots := d.s.Dots(x)
	for _, o := range dots {
		_, py := d.a.At(o.X, o.Y)
		d.pen.Disc(d.color(ink.Ground), px, py, dotRadius+1.5)
		d.pen.Disc(press, px, py, dotRadius)
		d.Taken = append(d.Taken, box{X0: px - dotRadius - 1, Y0: py - dotRadius - 1, X1: px + dotRadius + 1, Y1: py + dotRadius + 1})
	}
	for i, o := range dots {
		if d.s.Curves[o.Curve].Pencil {
			continue
		}
		_, py := d.a.At(o.X, o.Y)
		if slices.ContainsFunc(dots[:i], func(b Dot) bool {
			_, by := d.a.At(b.X, b.Y)
			return b.Words == o.Words && !d.s.Curves[b.Curve].Pencil && math.Abs(by-py) < dotRadius
		}) {
			continue // two curves meet: one number says it
		}
		w, h := paper.Measure(o.Words, wordSize, true)
		if b, ok := d.beside(px, py, w, h); ok {
			col := press
			if d.dark || d.onBand(b) {
				col = d.color(ink.Text) // blue is too weak for text on dark ground and on the band
			}
			d.pen.Words(col, o.Words, b.X0, b.Y0, wordSize, true)
		}
	}
}

// onBand reports whether a box lies on a filled band.
func (d *artist) onBand(b box) bool {
	for _, n := range d.s.Bands {
		if finite(n.Lo) && finite(n.Hi) {
			_, top := d.a.At(0, n.Hi)
			_, bottom := d.a.At(0, n.Lo)
			if b.Y1 > top && b.Y0 < bottom {
				return true
			}
		}
	}
	return false
}

// arrowWords says what up or down means, with an arrow, in a corner.
func (d *artist) arrowWords(words string, up bool) {
	if words == "" {
		return
	}
	const arrow, tip = 14.0, 4.0
	w, h := paper.Measure(words, wordSize, false)
	b, ok := d.corner(w+8+2*tip, h, up)
	if !ok {
		return
	}
	text := d.color(ink.Text)
	d.pen.Words(text, words, b.X0, b.Y0, wordSize, false)
	x, y0, y1 := b.X1-tip, b.Y0+(h-arrow)/2, b.Y0+(h+arrow)/2
	end, in := y0, 1.0
	if !up {
		end, in = y1, -1
	}
	d.pen.Line(text, d.weigh(light), nil, [2]float64{x, y0}, [2]float64{x, y1})
	d.pen.Line(text, d.weigh(light), nil, [2]float64{x - tip, end + in*tip}, [2]float64{x, end}, [2]float64{x + tip, end + in*tip})
}

// balanced breaks words into as few lines as a width allows, of about one length.
func balanced(words string, width float64) []string {
	lines := paper.Wrap(words, wordSize, width)
	for w := width - 8; w > width/2; w -= 8 {
		next := paper.Wrap(words, wordSize, w)
		if len(next) > len(lines) {
			break
		}
		lines = next
	}
	return lines
}

// bandWords names a band inside it, or at its line where one side is open.
func (d *artist) bandWords(b Band) {
	if b.Words == "" {
		return
	}
	_, top := d.a.At(0, b.Hi)
	_, bottom := d.a.At(0, b.Lo)
	const near = 3.2 * leading // of an open band the words stand at its line
	if !finite(b.Hi) {
		top = bottom - near
	}
	if !finite(b.Lo) {
		bottom = top + near
	}
	top, bottom = math.Max(top, d.a.Y0), math.Min(bottom, d.a.Y1)
	if top >= bottom {
		return // not in the picture
	}
	for _, share := range []float64{0.45, 0.95} {
		lines := balanced(b.Words, (d.a.X1-d.a.X0)*share)
		w := 0.0
		for _, l := range lines {
			lw, _ := paper.Measure(l, wordSize, false)
			w = math.Max(w, lw)
		}
		at, alignRight, ok := d.inBand(top, bottom, w, leading*float64(len(lines)))
		if !ok {
			continue
		}
		for i, l := range lines {
			x := at.X0
			if lw, _ := paper.Measure(l, wordSize, false); alignRight {
				x = at.X1 - lw
			}
			d.pen.Words(d.color(ink.Second), strings.TrimSpace(l), x, at.Y0+leading*float64(i), wordSize, false)
		}
		return
	}
}
