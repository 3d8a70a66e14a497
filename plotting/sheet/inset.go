package sheet

import (
	"math"

	"axleloft/plotting/chart"
	"axleloft/plotting/drawing"
	"axleloft/plotting/paper"
)

// Chart is a figure of a chart, its words and lines at four fifths of the window's.
func Chart(s chart.Spec, caption string) Figure {
	return Figure{Caption: caption, Draw: func(p *paper.Pen, box paper.Room) {
		p.Within(box, inset, func(q *paper.Pen, w, h float64) {
			chart.On(q, paper.Room{X1: w, Y1: h}, s)
		})
	}}
}

// inset is how large charts and pictures stand on paper against the window.
const inset = 0.78

// Picture is a figure of a view, as large as the box allows.
func Picture(v drawing.Picture, caption string) Figure {
	return Figure{Caption: caption, Draw: func(p *paper.Pen, box paper.Room) {
		k := math.Min(box.W()/v.Width, (box.Y1-box.Y0)/v.Height)
		in := paper.Room{X0: box.X0, Y0: box.Y0, X1: box.X0 + k*v.Width, Y1: box.Y0 + k*v.Height}
		p.Within(in, k, func(q *paper.Pen, _, _ float64) { drawing.Draw(q, &v, 0, 0, false) })
	}}
}
