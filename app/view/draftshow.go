package view

import (
	"math"

	"axleloft/app/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// Name is what is being drawn, for a title.
func (d *Draft) Name() string {
	return [...]string{words.T("Box"), words.T("Outline"), words.T("Pipe"), words.T("Ball")}[d.Shape]
}

// Noun is the same within a sentence.
func (d *Draft) Noun() string {
	return [...]string{words.T("box"), words.T("outline"), words.T("pipe"), words.T("ball")}[d.Shape]
}

// Words say across a view what to press next; brief where the hand is in another view.
func (d *Draft) Words(p Plane, brief bool) string {
	if d.deep {
		return d.deepWords(p)
	}
	if brief && !d.Begun() {
		return words.T("Or draw it here.")
	}
	if d.Begun() && p != d.plane {
		return words.F("Goes on in the %s view.", words.T(PhotoName(d.plane)))
	}
	switch d.Shape {
	case DraftBox:
		if !d.Begun() {
			return words.T("Box: press a corner, or drag to the opposite one. O outline, P pipe, R ball. Escape leaves.")
		}
		return words.T("Box: press the opposite corner. Backspace takes the first back, Escape leaves.")
	case DraftOutline:
		switch len(d.pts) {
		case 0:
			return words.T("Outline: press its corners in turn. X box, P pipe, R ball. Escape leaves.")
		case 1, 2:
			return words.T("Outline: press the next corner. Backspace takes the last back, Escape leaves.")
		}
		return words.T("Outline: press the next corner; the first, or Enter, closes it. Backspace takes one back.")
	case DraftPipe:
		switch len(d.pts) {
		case 0:
			return words.T("Pipe: press points along its middle. X box, O outline, R ball. Escape leaves.")
		case 1:
			return words.T("Pipe: press the next point. Backspace takes the last back, Escape leaves.")
		}
		return words.T("Pipe: press the next point; Enter ends it. Backspace takes one back, Escape leaves.")
	}
	if !d.Begun() {
		return words.T("Ball: press its middle, or drag from there to its rim. X box, O outline, P pipe. Escape leaves.")
	}
	return words.T("Ball: press its rim. Backspace takes the middle back, Escape leaves.")
}

// deepWords ask for the third axis.
func (d *Draft) deepWords(p Plane) string {
	a := d.third()
	if d.twoEnds() {
		if p != d.plane {
			if d.ends == 1 {
				return words.F("Press where it ends in %s.", a)
			}
			return words.F("Press where it begins in %s, then where it ends.", a)
		}
		if d.ends == 1 {
			return words.F("Now %s: press its other end in another view, or press here to type both.", a)
		}
		return words.F("Now %s: press here to type it, or press its two ends in another view. Enter takes %s to %s %s.", a,
			exactLength(d.depth[0], d.Inch), exactLength(d.depth[1], d.Inch), lengthUnit(d.Inch))
	}
	if p != d.plane {
		if d.Shape == DraftPipe {
			return words.F("Press where the pipe runs in %s.", a)
		}
		return words.F("Press where its middle is in %s.", a)
	}
	return words.F("Now %s: press here to type it, or press it in another view. Enter takes %s %s.", a, exactLength(d.depth[0], d.Inch), lengthUnit(d.Inch))
}

// Pointed is the place under the pointer or the cross in a view; ok is false where there is none.
func (d *Draft) Pointed(p Plane) (at r3.Vec, ok bool) { return d.at, d.shown && d.in == p }

// PointedAny reports whether there is such a place in any view.
func (d *Draft) PointedAny() bool { return d.shown }

// Points are the points that stand, where they lie.
func (d *Draft) Points(dst []r3.Vec) []r3.Vec {
	for _, p := range d.pts {
		dst = append(dst, d.laid(p, d.depths()[0]))
	}
	return dst
}

// laid is a place of its view at a depth along the third axis.
func (d *Draft) laid(v r3.Vec, third float64) r3.Vec {
	switch d.plane {
	case Side:
		v.Y = third
	case Rear:
		v.X = third
	default:
		v.Z = third
	}
	return v
}

// depths is where it lies along the third axis now, with what the pointer would make of it.
func (d *Draft) depths() [2]float64 {
	if !d.deep {
		return d.standing()
	}
	out := d.depth
	if d.shown && d.in != d.plane {
		v := coord(d.at, d.third())
		switch {
		case !d.twoEnds():
			out = [2]float64{v, v}
		case d.ends == 1:
			out = [2]float64{math.Min(d.depth[0], v), math.Max(d.depth[0], v)}
		}
	}
	return out
}

// Round is the middle and the radius of a ball being drawn; ok is false where it is none yet.
func (d *Draft) Round() (middle r3.Vec, radius float64, ok bool) {
	if d.Shape != DraftBall || !d.Begun() {
		return r3.Vec{}, 0, false
	}
	middle = d.laid(d.pts[0], d.depths()[0])
	switch {
	case d.deep:
		return middle, d.off(d.pts[0], d.pts[1]), true
	case d.shown && d.in == d.plane:
		return middle, d.off(d.pts[0], d.at), true
	}
	return middle, 0, true
}

// Loop adds the corners of the line that shows the part in a view to a list, body axes; closed tells whether the last goes back to the first.
func (d *Draft) Loop(dst []r3.Vec, p Plane) (pts []r3.Vec, closed bool) {
	if !d.Begun() || d.Shape == DraftBall {
		return dst, false
	}
	depth := d.depths()
	loose := d.loose()
	if d.Shape == DraftPipe || d.Shape == DraftOutline && p == d.plane {
		for _, q := range d.pts {
			dst = append(dst, d.laid(q, depth[0]))
		}
		for _, q := range loose {
			dst = append(dst, d.laid(q, depth[0]))
		}
		return dst, d.Shape == DraftOutline && d.deep
	}
	lo, hi := d.laid(d.pts[0], depth[0]), d.laid(d.pts[0], depth[1])
	grow := func(q r3.Vec) {
		a, b := d.laid(q, depth[0]), d.laid(q, depth[1])
		lo = r3.Vec{X: math.Min(lo.X, a.X), Y: math.Min(lo.Y, a.Y), Z: math.Min(lo.Z, a.Z)}
		hi = r3.Vec{X: math.Max(hi.X, b.X), Y: math.Max(hi.Y, b.Y), Z: math.Max(hi.Z, b.Z)}
	}
	for _, q := range d.pts {
		grow(q)
	}
	for _, q := range loose {
		grow(q)
	}
	switch p {
	case Side:
		return append(dst, lo, r3.Vec{X: hi.X, Y: lo.Y, Z: lo.Z}, hi, r3.Vec{X: lo.X, Y: lo.Y, Z: hi.Z}), true
	case Rear:
		return append(dst, lo, r3.Vec{X: lo.X, Y: hi.Y, Z: lo.Z}, hi, r3.Vec{X: lo.X, Y: lo.Y, Z: hi.Z}), true
	}
	return append(dst, lo, r3.Vec{X: hi.X, Y: lo.Y, Z: lo.Z}, hi, r3.Vec{X: lo.X, Y: hi.Y, Z: lo.Z}), true
}

// Readout is what stands beside the pointer of a view: where it is and the sizes of what is drawn.
func (d *Draft) Readout(p Plane) []string {
	at, ok := d.Pointed(p)
	if !ok {
		return nil
	}
	unit := lengthUnit(d.Inch)
	size := func(mm float64) string { return exactLength(mm, d.Inch) }
	if d.deep {
		depth := d.depths()
		switch {
		case p == d.plane:
			return nil
		case d.twoEnds() && d.ends == 1:
			return []string{words.F("%s %s to %s, %s %s", d.third(), size(depth[0]), size(depth[1]), size(depth[1]-depth[0]), unit)}
		}
		return []string{words.F("%s %s %s", d.third(), size(coord(at, d.third())), unit)}
	}
	out := []string{p.placeWords(at, d.Inch)}
	if !d.Begun() || p != d.plane {
		return out
	}
	last := d.pts[len(d.pts)-1]
	x, y := d.plane.Project(r3.Sub(at, last))
	switch d.Shape {
	case DraftBox:
		out = append(out, words.F("%s x %s %s", size(math.Abs(x)), size(math.Abs(y)), unit))
	case DraftBall:
		out = append(out, words.F("radius %s %s", size(math.Hypot(x, y)), unit))
	default:
		out = append(out, words.F("%s %s from the last point", size(math.Hypot(x, y)), unit))
	}
	return out
}
