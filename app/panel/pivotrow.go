package panel

import (
	"strings"

	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// pivotColumns is one line of the list of all pivots, or its heading.
type pivotColumns struct {
	widget.BaseWidget
	row  pivotLine
	head bool
	unit string
}

func newPivotColumns() *pivotColumns {
	c := &pivotColumns{}
	c.ExtendBaseWidget(c)
	return c
}

func (c *pivotColumns) set(r *pivotLine) {
	if c.row != *r {
		c.row = *r
		c.Refresh()
	}
}

func (c *pivotColumns) CreateRenderer() fyne.WidgetRenderer {
	c.ExtendBaseWidget(c)
	r := &pivotColumnsRenderer{c: c, rule: &canvas.Rectangle{}, ring: &canvas.Circle{}}
	for i := range r.text {
		r.text[i] = look.Text("", look.Body, ink.Text, false)
	}
	return look.Made(c, r)
}

const (
	pivotLineHigh = 30 // of a line
	pivotHeadHigh = 24 // of the heading
	pivotNumWide  = 72 // of a coordinate
	pivotMarkWide = 168
)

// dash is drawn for a minus sign: a text that begins with one comes from another font and is drawn higher than those beside it.
const dash = "–"

type pivotColumnsRenderer struct {
	c    *pivotColumns
	text [5]*canvas.Text // name, X, Y, Z, mark
	rule *canvas.Rectangle
	ring *canvas.Circle // on the line of the held one
}

func (x *pivotColumnsRenderer) Layout(s fyne.Size) {
	c := x.c
	size, role := float32(look.Body), ink.Text
	cells := [5]string{c.row.name, c.row.at[0], c.row.at[1], c.row.at[2], c.row.mark}
	if c.head {
		size, role = look.Small, ink.Second
		cells = [5]string{words.T("Pivot"), "X " + c.unit, "Y " + c.unit, "Z " + c.unit, words.T("at ride height")}
	}
	base := s.Height/2 + 6
	right := s.Width - look.Inset
	mark := min(float32(pivotMarkWide), s.Width/4)
	ends := [4]float32{0, right - mark - 16 - 2*pivotNumWide, right - mark - 16 - pivotNumWide, right - mark - 16}
	left := float32(28)
	for i, t := range x.text {
		t.TextSize, t.TextStyle.Bold = size, c.head || i == 0 && c.row.held
		phrase, colour := cells[i], look.Color(role)
		room := float32(pivotNumWide)
		switch i {
		case 0:
			room = ends[1] - pivotNumWide - 8 - left
		case 4:
			room, colour = mark, look.Color(ink.Second)
		default:
			phrase = strings.Replace(phrase, minus, dash, 1)
			if !c.head && c.row.guess[i-1] {
				phrase = "? " + phrase
			}
		}
		look.Paint(t, look.Shorten(phrase, size, t.TextStyle.Bold, room), colour)
		switch i {
		case 0:
			look.PlaceLeft(t, left, base)
		case 4:
			look.PlaceLeft(t, right-mark, base)
		default:
			look.PlaceRight(t, ends[i], base)
		}
	}
	x.rule.Hidden = !c.head && !c.row.first
	x.rule.FillColor = look.Color(ink.Rule)
	y := float32(0)
	if c.head {
		y = s.Height - 1
	}
	x.rule.Move(fyne.NewPos(look.Inset, y))
	x.rule.Resize(fyne.NewSize(max(0, s.Width-2*look.Inset), 1))
	x.ring.Hidden = c.head || !c.row.held
	x.ring.StrokeColor, x.ring.StrokeWidth, x.ring.FillColor = look.Color(ink.Press), 3, look.Clear
	x.ring.Move(fyne.NewPos(10, s.Height/2-6))
	x.ring.Resize(fyne.NewSize(12, 12))
}

func (x *pivotColumnsRenderer) MinSize() fyne.Size {
	if x.c.head {
		return fyne.NewSize(300, pivotHeadHigh)
	}
	return fyne.NewSize(300, pivotLineHigh)
}
func (x *pivotColumnsRenderer) Refresh() { x.Layout(x.c.Size()); canvas.Refresh(x.c) }
func (x *pivotColumnsRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{x.rule, x.ring}
	for _, t := range x.text {
		out = append(out, t)
	}
	return out
}
func (x *pivotColumnsRenderer) Destroy() {}
