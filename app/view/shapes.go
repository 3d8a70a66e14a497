package view

import (
	"axleloft/app/edit"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
)

// Shape is a thing of a scene at full size, in the view's own axes: mm to the right and up.
type Shape struct {
	Kind   drawing.Kind // Line, Circle about its one point, Bar about its centre line
	Layer  drawing.Layer
	Name   string // of the part
	Points []drawing.Point
	Radius float64 // of a circle or a bar, mm; a bar's may be 0 where nobody said
	Closed bool    // a Line that goes back to its first point
	Fill   ink.Role
}

// Mark is where a pivot stands in a view.
type Mark struct {
	Pivot edit.Pivot // as the file calls it; of a pair, one mark for each side
	At    drawing.Point
	Guess bool // a coordinate the view shows is a guess
}

// Shapes are all that a scene draws of the vehicle, back to front; pencil lines and what stands for trouble are left out.
func (s *Scene) Shapes() []Shape {
	var out []Shape
	for i := range s.figures {
		f := &s.figures[i]
		if f.kind == drawing.Dashed || f.layer == drawing.Pencil || len(f.pts) == 0 {
			continue
		}
		fill := f.fill
		if f.layer == drawing.PartLines { // those far from the links too
			fill = f.own
		}
		out = append(out, Shape{Kind: f.kind, Layer: f.layer, Name: f.name, Points: f.pts, Radius: f.radius, Closed: f.closed, Fill: fill})
	}
	return out
}

// Marks are the pivots of a scene where they stand.
func (s *Scene) Marks() []Mark {
	out := make([]Mark, 0, len(s.pivots))
	for i := range s.pivots {
		p := &s.pivots[i]
		out = append(out, Mark{Pivot: p.id, At: s.flat(p.at), Guess: p.guess(s.plane)})
	}
	return out
}
