package sight

import (
	"math"

	"axleloft/app/edit"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
)

// edgeReach is how near to the edge of a part that is drawn open a press takes it, units.
const edgeReach = 7

// partAt is the part under a place: what moves before what is fixed, the front one of several.
func (v *View) partAt(at fyne.Position) (part edit.Part, side job.Side, ok bool) {
	p := drawing.Point{X: float64(at.X), Y: float64(at.Y)}
	items := v.picture.Items
	for i := len(items) - 1; i >= 0; i-- {
		it := &items[i]
		if it.Name == "" || it.Layer >= drawing.Pencil && it.Layer != drawing.Hoses || !covers(it, p) {
			continue
		}
		if part, side, ok := v.partNamed(it.Name); ok {
			return part, side, true
		}
	}
	return edit.Part{}, job.Single, false
}

// covers reports whether an item lies under a place, or near enough to it.
func covers(it *drawing.Item, p drawing.Point) bool {
	switch it.Kind {
	case drawing.Fill:
		return inPolygon(it.Points, p)
	case drawing.Circle:
		d := math.Hypot(p.X-it.Points[0].X, p.Y-it.Points[0].Y)
		return it.Fill != ink.None && d <= it.Radius || math.Abs(d-it.Radius) <= edgeReach
	case drawing.Line, drawing.Bar:
		near := math.Max(edgeReach, it.Radius)
		for i := 1; i < len(it.Points); i++ {
			if toLine(p, it.Points[i-1], it.Points[i]) <= near {
				return true
			}
		}
	}
	return false
}

func inPolygon(pts []drawing.Point, p drawing.Point) bool {
	in := false
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// toLine is how far a place lies from a straight line.
func toLine(p, a, b drawing.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = math.Max(0, math.Min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l))
	}
	return math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}

// partNamed finds the entry of the job that a drawn part belongs to, and which twin it is.
func (v *View) partNamed(name string) (part edit.Part, side job.Side, ok bool) {
	switch name {
	case job.DriveshaftName:
		return edit.Part{List: edit.Driveline}, job.Single, true
	case job.AxleTubeName:
		return edit.Part{List: edit.AxleTube}, job.Single, true
	case job.HousingName:
		return edit.Part{List: edit.Housing}, job.Single, true
	case job.TyreLeftName, job.TyreRightName:
		return edit.Part{List: edit.Vehicle}, job.Single, true
	}
	x := v.doc.Now().Parts
	if x == nil {
		return edit.Part{}, job.Single, false
	}
	j := x.Job
	for _, l := range []struct {
		list edit.List
		refs []job.Ref
		name func(int) string
	}{
		{edit.Links, x.Links, func(i int) string { return j.Links[i].Name }},
		{edit.Struts, x.Struts, func(i int) string { return j.Struts[i].Name }},
		{edit.Stops, x.Stops, func(i int) string { return j.Stops[i].Name }},
		{edit.Straps, x.Straps, func(i int) string { return j.Straps[i].Name }},
		{edit.Lines, x.Lines, func(i int) string { return j.Lines[i].Name }},
		{edit.Arms, x.Arms, func(i int) string { return j.Arms[i].Name }},
		{edit.Rockers, x.Rockers, func(i int) string { return j.Rockers[i].Name }},
		{edit.Sensors, x.Sensors, func(i int) string { return j.Sensors[i].Name }},
		{edit.Envelopes, x.Envelopes, func(i int) string { return j.Envelopes[i].Name }},
	} {
		for i, r := range l.refs {
			if l.name(i) == name {
				return edit.Part{List: l.list, Index: r.Index}, r.Side, true
			}
		}
	}
	for i := range j.Rockers {
		for k := range j.Rockers[i].Rods {
			if j.Rockers[i].Rods[k].Name == name {
				return edit.Part{List: edit.Rockers, Index: x.Rockers[i].Index}, job.Single, true
			}
		}
	}
	return edit.Part{}, job.Single, false
}
