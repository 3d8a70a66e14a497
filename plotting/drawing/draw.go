package drawing

import (
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
)

// Draw draws a picture with its upper left corner at x, y of a page; nothing is drawn outside its box.
func Draw(pen *paper.Pen, p *Picture, x, y float64, dark bool) {
	d := sheetPen{pen: pen, p: p, x: x, y: y, dark: dark}
	d.fill(ink.Ground, []Point{{0, 0}, {p.Width, 0}, {p.Width, p.Height}, {0, p.Height}})
	if f := p.Photo; f != nil {
		pen.Image(f.Image, paper.Room{X0: x + f.X0, Y0: y + f.Y0, X1: x + f.X1, Y1: y + f.Y1})
	}
	for i := range p.Items {
		d.item(&p.Items[i])
	}
	pen.Outline(ink.Color(ink.Rule, dark), 1, d.moved([]Point{{0, 0}, {p.Width, 0}, {p.Width, p.Height}, {0, p.Height}})...)
}

type sheetPen struct {
	pen  *paper.Pen
	p    *Picture
	x, y float64
	dark bool
}

func (d *sheetPen) moved(pts []Point) [][2]float64 {
	out := make([][2]float64, len(pts))
	for i, p := range pts {
		out[i] = [2]float64{p.X + d.x, p.Y + d.y}
	}
	return out
}

// fill fills what of an area lies in the picture's box.
func (d *sheetPen) fill(role ink.Role, area []Point) {
	if role == ink.None {
		return
	}
	if area = ClipArea(0, 0, d.p.Width, d.p.Height, area); len(area) > 2 {
		d.pen.Fill(ink.Color(role, d.dark), d.moved(area))
	}
}

// line draws what of a line lies in the box.
func (d *sheetPen) line(role ink.Role, width float64, pts []Point, closed bool, dashes []float64, shift float64) {
	if role == ink.None || width <= 0 {
		return
	}
	for _, run := range ClipPath(0, 0, d.p.Width, d.p.Height, pts, closed) {
		if closed && len(run) == len(pts)+1 {
			d.pen.Outline(ink.Color(role, d.dark), width, d.moved(run[:len(pts)])...)
			continue
		}
		d.pen.Dashed(ink.Color(role, d.dark), width, dashes, shift, d.moved(run)...)
	}
}

func (d *sheetPen) item(it *Item) {
	if len(it.Points) == 0 {
		return
	}
	switch it.Kind {
	case Line:
		d.line(it.Stroke, it.Width, it.Points, false, nil, 0)
	case Dashed:
		d.line(it.Stroke, it.Width, it.Points, false, PencilDash[:], it.Shift)
	case Fill:
		d.fill(it.Fill, it.Points)
	case Circle:
		d.circle(it)
	case Box:
		a, b := it.Points[0], it.Points[1]
		var pts []Point
		for _, q := range paper.Rounded(a.X, a.Y, b.X, b.Y, it.Radius) {
			pts = append(pts, Point{q[0], q[1]})
		}
		d.fill(it.Fill, pts)
		d.line(it.Stroke, it.Width, pts, true, nil, 0)
	case Bar:
		for i := 1; i < len(it.Points); i++ {
			d.fill(it.Stroke, Capsule(it.Points[i-1], it.Points[i], it.Radius))
		}
		for i := 1; i < len(it.Points) && it.Radius > it.Width; i++ {
			d.fill(it.Fill, Capsule(it.Points[i-1], it.Points[i], it.Radius-it.Width))
		}
	case Text:
		d.pen.Words(ink.Color(it.Stroke, d.dark), it.Words, it.Points[0].X+d.x, it.Points[0].Y+d.y, it.Size, it.Bold)
	case Stripes:
		for _, b := range Bands(it.Points) {
			d.fill(it.Stroke, b)
		}
	case Dots:
		for _, c := range Specks(it.Points) {
			if c.X > 0 && c.Y > 0 && c.X < d.p.Width && c.Y < d.p.Height {
				d.pen.Disc(ink.Color(it.Stroke, d.dark), c.X+d.x, c.Y+d.y, SpeckRadius)
			}
		}
	}
}

func (d *sheetPen) circle(it *Item) {
	c, r := it.Points[0], it.Radius
	if reach := r + it.Width; c.X-reach < 0 || c.Y-reach < 0 || c.X+reach > d.p.Width || c.Y+reach > d.p.Height {
		pts := Round(c.X, c.Y, r)
		d.fill(it.Fill, pts)
		d.line(it.Stroke, it.Width, pts, true, nil, 0)
		return
	}
	if it.Fill != ink.None {
		d.pen.Disc(ink.Color(it.Fill, d.dark), c.X+d.x, c.Y+d.y, r)
	}
	if it.Stroke != ink.None && it.Width > 0 {
		d.pen.Ring(ink.Color(it.Stroke, d.dark), it.Width, c.X+d.x, c.Y+d.y, r)
	}
}
