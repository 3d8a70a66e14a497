package sheets

import (
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

// view is a figure of a view with the axle at a position, and grey behind it the axle elsewhere, or another job.
func (in *Input) view(p view.Plane, at *study.Position, pencils []view.Pencil, size view.Size, pair int, caption string) sheet.Figure {
	s := in.Study
	var sizes [3]view.Size
	for i := range sizes {
		sizes[i] = size
	}
	eye := view.Fit(s, sizes)
	i := view.Input{Plane: p, Now: s, At: at, Pencils: pencils, Inch: in.inch(), ShowGap: pair >= 0, Pair: pair}
	return sheet.Picture(view.New(i).Picture(eye.Transform(p, size), paper.Measure, nil), caption)
}
