package document

import (
	"math"

	"axleloft/app/study"
	"axleloft/app/words"
)

// another is a second position of the axle, drawn behind the one where it stands. It is no part of the job.
type another struct {
	on     bool
	corner Corner
	at     *study.Position // of gen, at place
	gen    uint64
	place  [2]float64
}

// Words is a corner as it stands in a sentence: "full droop".
func (c Corner) Words() string {
	switch c {
	case Ride:
		return words.T("ride height")
	case FullBump:
		return words.T("full bump")
	case FullDroop:
		return words.T("full droop")
	case LeftUp:
		return words.T("left wheel up")
	case RightUp:
		return words.T("right wheel up")
	}
	return ""
}

// SetOther has the axle drawn at a corner too, behind where it stands; ok is false where the range has no such corner.
func (d *Document) SetOther(c Corner) (ok bool) {
	if s, _ := d.Study(); c >= nowhere || !hasCorner(s, c) {
		return false
	}
	d.other = another{on: true, corner: c}
	d.tell(ShownChanged)
	return true
}

// HasCorner reports whether the range has a corner.
func (d *Document) HasCorner(c Corner) bool {
	s, _ := d.Study()
	return c < nowhere && hasCorner(s, c)
}

func hasCorner(s *study.Study, c Corner) bool {
	_, _, ok := corner(s, c)
	return ok
}

// Against puts the axle at one corner and has it drawn at another too; ok is false, and nothing is changed, where the range has not both.
func (d *Document) Against(here, other Corner) (ok bool) {
	if !d.HasCorner(here) || !d.HasCorner(other) {
		return false
	}
	return d.SetOther(other) && d.GoCorner(here)
}

// ClearOther ends the drawing of a second position.
func (d *Document) ClearOther() {
	if d.other.on {
		d.other = another{}
		d.tell(ShownChanged)
	}
}

// OtherChosen is the corner that is drawn too, whether or not the geometry as it stands reaches it; ok is false where none is.
func (d *Document) OtherChosen() (c Corner, ok bool) { return d.other.corner, d.other.on }

// Other is the second position and the axle there, of the geometry as it stands; ok is false where none is drawn, where the axle cannot be there and where it
// stands there already.
func (d *Document) Other() (c Corner, at *study.Position, ok bool) {
	o := &d.other
	if !o.on {
		return nowhere, nil, false
	}
	s, _ := d.Study()
	l, r, ok := corner(s, o.corner)
	if !ok || math.Abs(l-d.axle.at[0]) < thereTol && math.Abs(r-d.axle.at[1]) < thereTol {
		return o.corner, nil, false
	}
	if o.at == nil || o.gen != d.gen || o.place != [2]float64{l, r} {
		o.at, o.gen, o.place = d.now.At(l, r), d.gen, [2]float64{l, r}
	}
	return o.corner, o.at, o.at.Err == ""
}
