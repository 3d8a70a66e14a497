package view

import (
	"math"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"

	"gonum.org/v1/gonum/spatial/r3"
)

// DraftShape is what is being drawn.
type DraftShape uint8

// The shapes that can be drawn in a view.
const (
	DraftBox DraftShape = iota
	DraftOutline
	DraftPipe
	DraftBall
)

// DraftStep is what came of a press or a key.
type DraftStep uint8

// The outcomes.
const (
	DraftGoesOn DraftStep = iota
	DraftType             // the numbers are to be typed: DraftAsks
	DraftDone             // the part is drawn: Drawn
)

// How thick a part is taken to be along the axis its view does not show, mm: as the smaller of what was drawn, within these (chosen).
const (
	draftThin, draftThick = 20.0, 400.0
	draftLeast            = 1.0  // what is smaller is a slip of the hand
	draftPipe             = 60.0 // outside diameter till one is typed
	draftPipeInch         = 63.5 // the same where inches are shown: 2.5 in
)

// Draft is a part in the way while a hand draws it: first its points in one view, then how far it reaches along the axis that view does not show.
// Places are body axes, mm. It belongs to the window's goroutine.
type Draft struct {
	Shape DraftShape
	Inch  bool
	Said  string // why the last press was not taken; "" it was

	plane  Plane // the view it is drawn in, once it has a point
	middle float64
	pts    []r3.Vec
	at     r3.Vec // where the pointer or the cross is
	in     Plane  // in which view
	shown  bool   // there is such a place
	keyed  bool   // the arrows brought it there
	deep   bool   // the points stand; the third axis is asked
	ends   int    // of that, given by hand
	depth  [2]float64
}

// NewDraft begins a part.
func NewDraft(shape DraftShape, inch bool) *Draft { return &Draft{Shape: shape, Inch: inch} }

// Begun reports whether a point stands.
func (d *Draft) Begun() bool { return len(d.pts) > 0 }

// Deep reports whether the third axis is asked.
func (d *Draft) Deep() bool { return d.deep }

// In is the view it is drawn in; ok is false till it has a point.
func (d *Draft) In() (p Plane, ok bool) { return d.plane, d.Begun() }

// third is the axis that the view it is drawn in does not show.
func (d *Draft) third() edit.Axis {
	switch d.plane {
	case Side:
		return edit.Y
	case Rear:
		return edit.X
	default:
		return edit.Z
	}
}

// twoEnds reports whether the third axis takes two numbers.
func (d *Draft) twoEnds() bool { return d.Shape == DraftBox || d.Shape == DraftOutline }

// Hover brings the place under the pointer, in whole steps.
func (d *Draft) Hover(p Plane, at r3.Vec, step float64) {
	d.at, d.in, d.shown, d.keyed = p.Whole(at, step), p, true, false
}

// Leave takes the place away: the pointer is over no view.
func (d *Draft) Leave() { d.shown = d.shown && d.keyed }

// Nudge moves the place along the view by mm; where there is none in that view yet, from start.
func (d *Draft) Nudge(p Plane, start r3.Vec, right, up float64) {
	if !d.shown || d.in != p {
		d.at = start
		if n := len(d.pts); n > 0 && !d.deep && p == d.plane {
			d.at = d.pts[n-1]
		}
	}
	d.at, d.in, d.shown, d.keyed = Tidy(p.Shift(d.at, right, up)), p, true, true
	d.Said = ""
}

// Press sets a point at a place of a view, in whole steps. reach is how near to an outline's first point, mm, a press closes it; middle is where
// along the axis the view does not show the part is to lie at first.
func (d *Draft) Press(p Plane, at r3.Vec, step, reach, middle float64) DraftStep {
	d.Hover(p, at, step)
	return d.set(p, d.at, reach, middle)
}

// set takes a place as it is.
func (d *Draft) set(p Plane, at r3.Vec, reach, middle float64) DraftStep {
	d.Said = ""
	d.keyed = false
	if d.deep {
		return d.setDepth(p, at)
	}
	if !d.Begun() {
		d.plane, d.middle = p, math.Round(middle/d.even())*d.even()+0
		d.pts = append(d.pts, at)
		return DraftGoesOn
	}
	if p != d.plane {
		d.Said = words.F("It is drawn in the %s view: press there, or Backspace to begin again.", words.T(PhotoName(d.plane)))
		return DraftGoesOn
	}
	first, last := d.pts[0], d.pts[len(d.pts)-1]
	if d.Shape == DraftOutline && len(d.pts) >= 3 && d.off(at, first) <= reach {
		return d.closed()
	}
	if d.off(at, last) < draftLeast {
		d.Said = words.T("That is where the last point is. Press farther off.")
		return DraftGoesOn
	}
	switch d.Shape {
	case DraftBox:
		a, b := d.plane.Project(first)
		x, y := d.plane.Project(at)
		if math.Abs(x-a) < draftLeast || math.Abs(y-b) < draftLeast {
			d.Said = words.T("The box has no size that way. Press the opposite corner.")
			return DraftGoesOn
		}
		d.pts = append(d.pts, at)
		d.goDeep()
	case DraftBall:
		d.pts = append(d.pts, at)
		d.goDeep()
	case DraftOutline:
		if d.crosses(at) {
			d.Said = words.T("The outline would cross or touch itself there.")
			return DraftGoesOn
		}
		d.pts = append(d.pts, at)
	case DraftPipe:
		d.pts = append(d.pts, at)
	}
	return DraftGoesOn
}

// off is how far two places lie apart in the view it is drawn in, mm.
func (d *Draft) off(a, b r3.Vec) float64 {
	x, y := d.plane.Project(r3.Sub(a, b))
	return math.Hypot(x, y)
}

// flat are the corners in the view's own axes, with room for one more.
func (d *Draft) flat() []job.Point2 {
	out := make([]job.Point2, 0, len(d.pts)+1)
	for _, p := range d.pts {
		x, y := d.plane.Project(p)
		out = append(out, job.Point2{x, y})
	}
	return out
}

// crosses reports whether an edge from the last corner to a place would meet an earlier one.
func (d *Draft) crosses(at r3.Vec) bool {
	x, y := d.plane.Project(at)
	return job.CrossingNext(d.flat(), job.Point2{x, y})
}

// closed closes the outline.
func (d *Draft) closed() DraftStep {
	if len(d.pts) < 3 {
		d.Said = words.T("An outline needs at least three corners. Press one more.")
		return DraftGoesOn
	}
	if _, _, ok := job.Crossing(d.flat()); !ok {
		d.Said = words.T("Closed there, the outline would cross or touch itself. Backspace takes the last corner back.")
		return DraftGoesOn
	}
	d.goDeep()
	return DraftGoesOn
}

// goDeep asks for the third axis; what it begins from is as thick as the smaller of what was drawn.
func (d *Draft) goDeep() {
	d.deep, d.ends, d.shown = true, 0, false
	d.depth = d.standing()
}

// standing is where the part lies along the third axis till somebody says.
func (d *Draft) standing() [2]float64 {
	if !d.twoEnds() {
		return [2]float64{d.middle, d.middle}
	}
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range append(d.pts[:len(d.pts):len(d.pts)], d.loose()...) {
		x, y := d.plane.Project(p)
		b = box{math.Min(b.x0, x), math.Min(b.y0, y), math.Max(b.x1, x), math.Max(b.y1, y)}
	}
	half := math.Round(math.Max(draftThin, math.Min(draftThick, math.Min(b.x1-b.x0, b.y1-b.y0)))/2/d.even()) * d.even()
	return [2]float64{d.middle - half, d.middle + half}
}

// even is what the figures nobody has given are whole multiples of, mm.
func (d *Draft) even() float64 {
	if d.Inch {
		return 12.7
	}
	return 10
}

// loose is the place that would be the next point, none where there is none in the view it is drawn in.
func (d *Draft) loose() []r3.Vec {
	if d.deep || !d.shown || !d.Begun() || d.in != d.plane {
		return nil
	}
	return []r3.Vec{d.at}
}

// setDepth takes a place of another view as an end along the third axis; a press in the view it was drawn in asks for it in figures.
func (d *Draft) setDepth(p Plane, at r3.Vec) DraftStep {
	if p == d.plane {
		return DraftType
	}
	v := coord(at, d.third())
	if !d.twoEnds() {
		d.depth = [2]float64{v, v}
		return d.finish()
	}
	if d.ends == 0 {
		d.depth[0], d.ends = v, 1
		return DraftGoesOn
	}
	if math.Abs(v-d.depth[0]) < draftLeast {
		d.Said = words.T("It would have no thickness. Press farther off.")
		return DraftGoesOn
	}
	d.depth = [2]float64{math.Min(d.depth[0], v), math.Max(d.depth[0], v)}
	return d.finish()
}

// finish is what is left to do when all places stand: of a pipe, its diameter.
func (d *Draft) finish() DraftStep {
	d.ends = 2
	if d.Shape == DraftPipe {
		return DraftType
	}
	return DraftDone
}

// Enter is the key: a place the arrows have led is set; else it closes an outline, ends a pipe, takes the third axis as it stands, or sets the
// place under the pointer.
func (d *Draft) Enter(p Plane, reach, middle float64) DraftStep {
	d.Said = ""
	if d.keyed && d.shown && d.in == p && !(d.deep && p == d.plane) {
		return d.set(p, d.at, reach, middle)
	}
	switch {
	case d.deep && d.ends == 1:
		d.Said = words.T("Set its other end too, or take Backspace.")
	case d.deep:
		return d.finish()
	case d.Shape == DraftOutline && d.Begun():
		return d.closed()
	case d.Shape == DraftPipe && len(d.pts) >= 2:
		d.goDeep()
	case d.Shape == DraftPipe && d.Begun():
		d.Said = words.T("A pipe needs at least two points. Press one more.")
	case d.shown && d.in == p:
		return d.set(p, d.at, reach, middle)
	default:
		d.Said = words.T("Move the cross by the arrows first, then Enter sets a point; or press with the mouse.")
	}
	return DraftGoesOn
}

// Back takes the last point back, or what was given of the third axis; false where there is nothing to take back.
func (d *Draft) Back() bool {
	d.Said = ""
	switch {
	case d.deep && d.ends > 0:
		d.ends, d.depth = 0, d.standing()
	case d.deep:
		d.deep = false
		if d.Shape == DraftBox || d.Shape == DraftBall {
			d.pts = d.pts[:1]
		}
	case d.Begun():
		d.pts = d.pts[:len(d.pts)-1]
	default:
		return false
	}
	d.keyed = false
	return true
}

// Drawn is the part as it stands.
func (d *Draft) Drawn() edit.Drawn {
	out := edit.Drawn{Kind: [...]string{"box", "prism", "tube", "ball"}[d.Shape], Plane: PhotoName(d.plane), Points: d.pts, From: d.depth[0], To: d.depth[1]}
	switch d.Shape {
	case DraftBall:
		out.Points, out.Radius = d.pts[:1], math.Round(d.off(d.pts[0], d.pts[1])*10)/10
	case DraftPipe:
		out.To = draftPipe
		if d.Inch {
			out.To = draftPipeInch
		}
	}
	return out
}

// Asks are the labels and the present figures of what can be typed once the points stand: both ends of the third axis; of a pipe where it runs and
// its outside diameter; of a ball where its middle is.
func (d *Draft) Asks() (labels, now []string) {
	unit := measure.Millimetres
	if d.Inch {
		unit = measure.Inches
	}
	a := d.third()
	drawn := d.Drawn()
	switch d.Shape {
	case DraftPipe:
		return []string{words.F("%s of its centre line, %s", a, lengthUnit(d.Inch)), words.F("Outside diameter, %s", lengthUnit(d.Inch))},
			[]string{measure.Typed(drawn.From, unit), measure.Typed(drawn.To, unit)}
	case DraftBall:
		return []string{words.F("%s of its middle, %s", a, lengthUnit(d.Inch))}, []string{measure.Typed(drawn.From, unit)}
	}
	return []string{words.F("%s from, %s", a, lengthUnit(d.Inch)), words.F("%s to, %s", a, lengthUnit(d.Inch))},
		[]string{measure.Typed(drawn.From, unit), measure.Typed(drawn.To, unit)}
}
