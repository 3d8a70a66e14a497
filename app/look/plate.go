package look

import (
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Plate is a ground in a role's colour, with an edge if wanted; it follows light and dark.
type Plate struct {
	widget.BaseWidget
	fill  ink.Role
	edge  ink.Role
	width float32
	round float32
	least fyne.Size
}

// NewPlate makes a ground without an edge.
func NewPlate(fill ink.Role) *Plate {
	p := &Plate{fill: fill}
	p.ExtendBaseWidget(p)
	return p
}

// Edged gives the ground an edge; returns the plate.
func (p *Plate) Edged(edge ink.Role, width, radius float32) *Plate {
	p.edge, p.width, p.round = edge, width, radius
	return p
}

// Least sets the least size; returns the plate.
func (p *Plate) Least(w, h float32) *Plate { p.least = fyne.NewSize(w, h); return p }

// SetFill changes the role of the ground.
func (p *Plate) SetFill(fill ink.Role) {
	if p.fill != fill {
		p.fill = fill
		p.Refresh()
	}
}

// CreateRenderer is the toolkit's.
func (p *Plate) CreateRenderer() fyne.WidgetRenderer {
	p.ExtendBaseWidget(p)
	r := &plateRenderer{p: p, box: &canvas.Rectangle{}}
	r.paint()
	return Made(p, r)
}

type plateRenderer struct {
	p   *Plate
	box *canvas.Rectangle
}

func (r *plateRenderer) paint() {
	r.box.FillColor, r.box.CornerRadius = Color(r.p.fill), r.p.round
	if r.box.StrokeWidth = r.p.width; r.p.width > 0 {
		r.box.StrokeColor = Color(r.p.edge)
	}
}

func (r *plateRenderer) Layout(s fyne.Size)           { r.box.Resize(s) }
func (r *plateRenderer) MinSize() fyne.Size           { return r.p.least }
func (r *plateRenderer) Refresh()                     { r.paint(); canvas.Refresh(r.p) }
func (r *plateRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.box} }
func (r *plateRenderer) Destroy()                     {}
