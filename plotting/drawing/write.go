package drawing

import (
	"fmt"
	"io"
	"math"

	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
)

// Placed is a picture and where its upper left corner lies on the sheet, units from the first picture's corner.
type Placed struct {
	Picture Picture
	X, Y    float64
}

// Sheet is a page of views at one scale.
type Sheet struct {
	Head  paper.Head
	Views []Placed
	Scale float64 // units a mm, for the scale bar; 0: none
	Inch  bool    // the scale bar in inches
	Dark  bool
}

const sheetMargin = 16.0

// Write writes a sheet as "png", "svg" or "pdf". The error is a plain sentence or that of the writer.
func Write(w io.Writer, s Sheet, format string) error {
	width, height := 0.0, 0.0
	for i := range s.Views {
		v := &s.Views[i]
		width, height = math.Max(width, v.X+v.Picture.Width), math.Max(height, v.Y+v.Picture.Height)
	}
	if width <= 0 || height <= 0 {
		return fmt.Errorf("there is no view to draw")
	}
	const bar = 34.0
	page := math.Max(width+2*sheetMargin, 640)
	tall := height + bar + s.Head.Extra(page)
	p, err := paper.New(format, page, tall, ink.Color(ink.Ground, s.Dark))
	if err != nil {
		return err
	}
	room := s.Head.Draw(p.Pen, page, tall, s.Dark)
	for i := range s.Views {
		v := &s.Views[i]
		Draw(p.Pen, &v.Picture, room.X0+v.X, room.Y0+v.Y, s.Dark)
	}
	if s.Scale > 0 {
		scaleBar(p.Pen, room.X0, room.Y0+height+8, s.Scale, s.Inch, s.Dark)
	}
	_, err = p.WriteTo(w)
	return err
}

// scaleBar draws a length of round figures, about 120 units long, in five steps, and says what it is.
func scaleBar(pen *paper.Pen, x, y, scale float64, inch, dark bool) {
	unit, name := 1.0, "mm"
	if inch {
		unit, name = 25.4, "in"
	}
	const about = 160.0
	want := about / (scale * unit)
	ten := math.Pow(10, math.Floor(math.Log10(want)))
	step := ten
	for _, k := range []float64{2, 5, 10} {
		if k*ten <= want {
			step = k * ten
		}
	}
	long := step * unit * scale
	text := ink.Color(ink.Text, dark)
	for i := range 5 {
		a, b := x+long*float64(i)/5, x+long*float64(i+1)/5
		box := [][2]float64{{a, y + 4}, {b, y + 4}, {b, y + 10}, {a, y + 10}}
		if i%2 == 0 {
			pen.Fill(text, box)
		}
		pen.Outline(text, 1, box...)
	}
	pen.Words(text, fmt.Sprintf("%g %s", step, name), x+long+8, y-2, 15, false)
}

// Measure tells the room words take in the typeface of sheets.
var _ Measure = paper.Measure
