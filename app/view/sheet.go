package view

import (
	"axleloft/app/edit"
	"axleloft/plotting/drawing"
)

// PhotoName is what the job file calls the view of a plane.
func PhotoName(p Plane) string { return edit.PhotoViews[p] }

// between is the room between two views of a sheet, units.
const between = 8.0

// Sheet draws the three views as they stand on the bench: side, rear to its right, plan below. in.Plane is not looked at.
func Sheet(in Input, eye Eye, sizes [3]Size, m drawing.Measure) []drawing.Placed {
	var out []drawing.Placed
	for p := Side; p <= Plan; p++ {
		in.Plane = p
		at := drawing.Placed{Picture: New(in).Picture(eye.Transform(p, sizes[p]), m, nil)}
		switch p {
		case Rear:
			at.X = sizes[Side].W + between
		case Plan:
			at.Y = sizes[Side].H + between
		}
		out = append(out, at)
	}
	return out
}
