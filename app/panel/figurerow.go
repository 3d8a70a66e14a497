package panel

import (
	"strconv"

	"axleloft/app/look"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// figureRow is a line of figures in columns of one width, each to the right of its own.
type figureRow struct {
	widget.BaseWidget
	text []string
	role ink.Role
	head bool
}

func newFigureRow(head bool) *figureRow {
	r := &figureRow{head: head, role: ink.Text}
	r.ExtendBaseWidget(r)
	return r
}

func (r *figureRow) set(text []string, role ink.Role) {
	same := len(text) == len(r.text) && role == r.role
	for i := 0; same && i < len(text); i++ {
		same = text[i] == r.text[i]
	}
	if !same {
		r.text, r.role = text, role
		r.Refresh()
	}
}

func (r *figureRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	x := &figureRowRenderer{r: r, rule: &canvas.Rectangle{}}
	for i := range x.text {
		x.text[i] = look.Text("", look.Small, ink.Text, r.head)
	}
	return look.Made(r, x)
}

// mostFigures in a line.
const mostFigures = 6

type figureRowRenderer struct {
	r    *figureRow
	text [mostFigures]*canvas.Text
	rule *canvas.Rectangle
}

func (x *figureRowRenderer) Layout(s fyne.Size) {
	r := x.r
	n := max(1, len(r.text))
	w := (s.Width - 16) / float32(n)
	base := s.Height/2 + 5
	for i, t := range x.text {
		t.Hidden = i >= len(r.text)
		if t.Hidden {
			continue
		}
		look.Paint(t, look.Shorten(r.text[i], look.Small, r.head, w), look.Color(r.role))
		look.PlaceRight(t, 4+w*float32(i+1), base)
	}
	x.rule.FillColor = look.Color(ink.Rule)
	if r.head {
		x.rule.FillColor = look.Color(ink.Edge)
	}
	x.rule.Move(fyne.NewPos(4, s.Height-1))
	x.rule.Resize(fyne.NewSize(s.Width-16, 1))
}
func (x *figureRowRenderer) MinSize() fyne.Size { return fyne.NewSize(120, 24) }
func (x *figureRowRenderer) Refresh()           { x.Layout(x.r.Size()); canvas.Refresh(x.r) }
func (x *figureRowRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{x.rule}
	for _, t := range x.text {
		out = append(out, t)
	}
	return out
}
func (x *figureRowRenderer) Destroy() {}

// fieldLine is a layout of a name, a field as wide as it asks for, and its unit.
type fieldLine struct{}

// suffixWidth is what a unit takes behind its field.
const suffixWidth = 34

func (fieldLine) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(160, o[1].MinSize().Height+2)
}
func (fieldLine) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := o[1].MinSize().Width
	x := s.Width - suffixWidth - w - 4
	o[0].Move(fyne.NewPos(4, 0))
	o[0].Resize(fyne.NewSize(max(0, x-8), s.Height))
	o[1].Move(fyne.NewPos(x, 1))
	o[1].Resize(fyne.NewSize(w, s.Height-2))
	o[2].Move(fyne.NewPos(x+w+4, 0))
	o[2].Resize(fyne.NewSize(suffixWidth, s.Height))
}

// plainNumber writes a number with as many digits as it has.
func plainNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
