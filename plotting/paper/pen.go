package paper

import (
	"image"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// Pen draws on a page in units from its upper left corner.
type Pen struct {
	c vg.CanvasSizer
	h vg.Length
}

// NewPen returns a pen on a canvas of a height.
func NewPen(c vg.CanvasSizer, height vg.Length) *Pen { return &Pen{c: c, h: height} }

// Within draws in a box with a pen of its own, whose units are so many times the page's: w and h are the box's size in them.
func (p *Pen) Within(box Room, scale float64, draw func(q *Pen, w, h float64)) {
	if !(scale > 0) || !(box.W() > 0) || !(box.Y1 > box.Y0) {
		return
	}
	w, h := box.W()/scale, (box.Y1-box.Y0)/scale
	p.c.Push()
	p.c.Translate(p.at(box.X0, box.Y1))
	p.c.Scale(scale, scale)
	draw(NewPen(sized{p.c, vg.Length(w) * Unit, vg.Length(h) * Unit}, vg.Length(h)*Unit), w, h)
	p.c.Pop()
}

// sized is a canvas of another size.
type sized struct {
	vg.CanvasSizer
	w, h vg.Length
}

// Size implements vg.CanvasSizer.
func (s sized) Size() (w, h vg.Length) { return s.w, s.h }

func (p *Pen) at(x, y float64) vg.Point {
	return vg.Point{X: vg.Length(x) * Unit, Y: p.h - vg.Length(y)*Unit}
}

func (p *Pen) path(pts [][2]float64, closed bool) vg.Path {
	var path vg.Path
	for i, q := range pts {
		if i == 0 {
			path.Move(p.at(q[0], q[1]))
		} else {
			path.Line(p.at(q[0], q[1]))
		}
	}
	if closed {
		path.Close()
	}
	return path
}

// Fill fills a closed polygon.
func (p *Pen) Fill(c color.Color, pts [][2]float64) {
	if len(pts) < 3 {
		return
	}
	p.c.SetColor(c)
	p.c.Fill(p.path(pts, true))
}

// Line draws a polyline; dashes are lengths of ink and gap by turns, nil for a whole line.
func (p *Pen) Line(c color.Color, width float64, dashes []float64, pts ...[2]float64) {
	p.Dashed(c, width, dashes, 0, pts...)
}

// Dashed is Line whose dashes begin so far along their pattern.
func (p *Pen) Dashed(c color.Color, width float64, dashes []float64, from float64, pts ...[2]float64) {
	if len(pts) < 2 {
		return
	}
	p.c.SetColor(c)
	p.c.SetLineWidth(vg.Length(width) * Unit)
	var d []vg.Length
	for _, x := range dashes {
		d = append(d, vg.Length(x)*Unit)
	}
	p.c.SetLineDash(d, vg.Length(from)*Unit)
	p.c.Stroke(p.path(pts, false))
	if d != nil {
		p.c.SetLineDash(nil, 0)
	}
}

// Outline draws a closed polyline.
func (p *Pen) Outline(c color.Color, width float64, pts ...[2]float64) {
	if len(pts) < 2 {
		return
	}
	p.c.SetColor(c)
	p.c.SetLineWidth(vg.Length(width) * Unit)
	p.c.SetLineDash(nil, 0)
	p.c.Stroke(p.path(pts, true))
}

// Disc fills a circle.
func (p *Pen) Disc(c color.Color, x, y, r float64) {
	p.c.SetColor(c)
	p.c.Fill(p.round(x, y, r))
}

// Ring draws a circle, the line's middle on the radius.
func (p *Pen) Ring(c color.Color, width, x, y, r float64) {
	p.c.SetColor(c)
	p.c.SetLineWidth(vg.Length(width) * Unit)
	p.c.SetLineDash(nil, 0)
	p.c.Stroke(p.round(x, y, r))
}

func (p *Pen) round(x, y, r float64) vg.Path {
	var path vg.Path
	path.Move(p.at(x+r, y))
	path.Arc(p.at(x, y), vg.Length(r)*Unit, 0, 2*math.Pi)
	path.Close()
	return path
}

// Image draws a picture into a box; an empty box draws nothing.
func (p *Pen) Image(img image.Image, box Room) {
	if box.W() > 0 && box.Y1 > box.Y0 {
		p.c.DrawImage(vg.Rectangle{Min: p.at(box.X0, box.Y1), Max: p.at(box.X1, box.Y0)}, img)
	}
}

// Rounded returns the corners of an upright box with rounded corners.
func Rounded(x0, y0, x1, y1, r float64) [][2]float64 {
	r = math.Max(0, math.Min(r, math.Min((x1-x0)/2, (y1-y0)/2)))
	if r == 0 {
		return [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
	}
	var out [][2]float64
	for k, c := range [][2]float64{{x1 - r, y1 - r}, {x0 + r, y1 - r}, {x0 + r, y0 + r}, {x1 - r, y0 + r}} {
		for i := range 5 {
			sn, cs := math.Sincos(math.Pi / 2 * (float64(k) + float64(i)/4))
			out = append(out, [2]float64{c[0] + r*cs, c[1] + r*sn})
		}
	}
	return out
}

// Words draws words with the upper left corner of the room they take at x, y.
func (p *Pen) Words(c color.Color, words string, x, y, size float64, bold bool) {
	if words == "" {
		return
	}
	f := Face(size, bold)
	e := f.Extents()
	p.c.SetColor(c)
	at := p.at(x, y)
	at.Y -= e.Ascent
	p.c.FillString(f, at, words)
}
