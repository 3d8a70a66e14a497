package view

import (
	"math"
	"strconv"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"

	"gonum.org/v1/gonum/spatial/r3"
)

// PointHandle is a point of a part in the way as a view shows it: a hand can lead it by itself.
type PointHandle struct {
	edit.PartPoint
	Side job.Side // Right: of the twin the file does not give
	At   r3.Vec   // body axes, mm, where the view shows it
	X, Y float64  // units
}

// InFile is a place of the view as one of the left twin, which the file gives.
func (h PointHandle) InFile(at r3.Vec) r3.Vec {
	if h.Side == job.Right {
		at.Y = -at.Y
	}
	return at
}

// sameSpot is how near to each other two points are drawn to be one handle, units.
const sameSpot = 0.5

// AppendPointHandles adds the points of a part in the way that make sense in a view to a list: corners of a box and points of a pipe in every
// view, an outline's corners where it was drawn and its two ends in the others. Of those that lie one behind the other the first counts.
func AppendPointHandles(dst []PointHandle, j *job.Job, part edit.Part, t Transform) []PointHandle {
	if part.List != edit.Envelopes || part.Index < 0 || part.Index >= len(j.Envelopes) {
		return dst
	}
	e := &j.Envelopes[part.Index]
	var room [24]edit.PartPoint
	points := edit.AppendPoints(room[:0], e)
	from := len(dst)
	sides := [2]job.Side{job.Single, job.Right}
	n := 1
	if e.Pair {
		sides[0], n = job.Left, 2
	}
	flat := e.Kind == "prism" && e.Plane == PhotoName(t.Plane)
	for _, side := range sides[:n] {
	next:
		for _, p := range points {
			if e.Kind == "prism" && flat != (p.Kind == edit.OutlinePoint) {
				continue
			}
			h := PointHandle{PartPoint: p, Side: side}
			at, ok := edit.PointAt(e, p)
			if !ok {
				continue
			}
			at = h.InFile(at)
			if p.Kind == edit.Rim {
				c := h.InFile(e.Centre.Vec())
				at = t.Plane.Shift(c, r3.Norm(r3.Sub(at, c)), 0)
			}
			h.At = at
			h.X, h.Y = t.Place(at)
			for i := range dst[from:] {
				if o := &dst[from+i]; math.Abs(o.X-h.X) < sameSpot && math.Abs(o.Y-h.Y) < sameSpot {
					continue next
				}
			}
			dst = append(dst, h)
		}
	}
	return dst
}

// NearestPoint is the handle nearest to a place of the view, and how far from there it lies, units; -1 where there is none.
func NearestPoint(list []PointHandle, x, y float64) (i int, off float64) {
	i, off = -1, math.Inf(1)
	for k := range list {
		if d := math.Hypot(list[k].X-x, list[k].Y-y); d < off {
			i, off = k, d
		}
	}
	return i, off
}

// PointEdge is a place on an edge of an outline or a run of a pipe: where a point can be added.
type PointEdge struct {
	Edge int
	Side job.Side
	At   r3.Vec // body axes, mm, where the view shows it
	X, Y float64
}

// EdgeAt finds the place on an edge nearest to a place of the view: of an outline in the view it was drawn in, of a pipe in every view.
// ok is false where there is none within reach, units, of a pipe its own thickness if that is more.
func EdgeAt(j *job.Job, part edit.Part, t Transform, x, y, reach float64) (best PointEdge, ok bool) {
	if part.List != edit.Envelopes || part.Index < 0 || part.Index >= len(j.Envelopes) {
		return best, false
	}
	e := &j.Envelopes[part.Index]
	kind, edges := edit.OutlinePoint, len(e.Outline)
	switch {
	case e.Kind == "prism" && e.Plane == PhotoName(t.Plane):
	case e.Kind == "tube" && e.Outside != nil:
		kind, edges = edit.PathPoint, len(e.Path)-1
		reach = math.Max(reach, *e.Outside/2*t.Scale)
	default:
		return best, false
	}
	off := reach
	for _, side := range [2]job.Side{job.Left, job.Right} {
		if side == job.Right && !e.Pair {
			break
		}
		h := PointHandle{Side: side}
		for i := range edges {
			a, okA := edit.PointAt(e, edit.PartPoint{Kind: kind, Index: i})
			b, okB := edit.PointAt(e, edit.PartPoint{Kind: kind, Index: (i + 1) % max(edges, len(e.Path))})
			if !okA || !okB {
				continue
			}
			a, b = h.InFile(a), h.InFile(b)
			ax, ay := t.Place(a)
			bx, by := t.Place(b)
			dx, dy := bx-ax, by-ay
			along := 0.0
			if l := dx*dx + dy*dy; l > 0 {
				along = math.Max(0, math.Min(1, ((x-ax)*dx+(y-ay)*dy)/l))
			}
			px, py := ax+along*dx, ay+along*dy
			if d := math.Hypot(x-px, y-py); d < off {
				off, ok = d, true
				best = PointEdge{Edge: i, Side: side, At: r3.Add(a, r3.Scale(along, r3.Sub(b, a))), X: px, Y: py}
				if !e.Pair {
					best.Side = job.Single
				}
			}
		}
	}
	return best, ok
}

// exactLength writes a length in the unit shown, without it: to a tenth of a mm, or to a thousandth of an inch.
func exactLength(mm float64, inch bool) string {
	if inch {
		return measure.InchNumber(mm)
	}
	return measure.Signed(strconv.FormatFloat(math.Round(mm*10)/10+0, 'f', -1, 64))
}

func lengthUnit(inch bool) string {
	if inch {
		return "in"
	}
	return "mm"
}

// placeWords is a place as a view's two axes have it: "X -900  Z 560 mm".
func (p Plane) placeWords(v r3.Vec, inch bool) string {
	c := p.coordinates()
	return words.F("%s %s  %s %s %s", c[0], exactLength(coord(v, c[0]), inch), c[1], exactLength(coord(v, c[1]), inch), lengthUnit(inch))
}

// PointWords is what a view says of a point of a part in the way in a hand: where it is, and the sizes that hang on it.
func PointWords(p Plane, j *job.Job, part edit.Part, h PointHandle, inch bool) []string {
	if part.List != edit.Envelopes || part.Index < 0 || part.Index >= len(j.Envelopes) {
		return nil
	}
	e := &j.Envelopes[part.Index]
	at, ok := edit.PointAt(e, h.PartPoint)
	if !ok {
		return nil
	}
	out := []string{p.placeWords(h.InFile(at), inch)}
	size := func(mm float64) string { return exactLength(mm, inch) }
	switch h.Kind {
	case edit.BoxCorner:
		out = append(out, words.F("%s x %s x %s %s", size(e.Max[0]-e.Min[0]), size(e.Max[1]-e.Min[1]), size(e.Max[2]-e.Min[2]), lengthUnit(inch)))
	case edit.FromEnd, edit.ToEnd:
		out = []string{words.F("from %s to %s, %s %s", size(*e.From), size(*e.To), size(math.Abs(*e.To-*e.From)), lengthUnit(inch))}
	case edit.OutlinePoint:
		n := len(e.Outline)
		q, before, after := e.Outline[h.Index], e.Outline[(h.Index+n-1)%n], e.Outline[(h.Index+1)%n]
		out = append(out, words.F("edges %s and %s %s", size(math.Hypot(q[0]-before[0], q[1]-before[1])), size(math.Hypot(q[0]-after[0], q[1]-after[1])), lengthUnit(inch)))
	case edit.PathPoint:
		var runs []string
		for _, i := range [2]int{h.Index - 1, h.Index + 1} {
			if i >= 0 && i < len(e.Path) {
				runs = append(runs, size(r3.Norm(r3.Sub(e.Path[i].Vec(), at))))
			}
		}
		switch len(runs) {
		case 1:
			out = append(out, words.F("run %s %s", runs[0], lengthUnit(inch)))
		case 2:
			out = append(out, words.F("runs %s and %s %s", runs[0], runs[1], lengthUnit(inch)))
		}
	case edit.Rim:
		out = []string{words.F("radius %s %s", size(*e.Radius), lengthUnit(inch))}
	}
	if l := edit.Litres(j, e); !math.IsNaN(l) {
		out = append(out, words.F("holds %.1f L, outside measure", l))
	}
	return out
}
