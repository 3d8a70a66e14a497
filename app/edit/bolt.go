package edit

import (
	"fmt"
	"math"
	"strings"

	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// A bolt's direction in words. Across and fore-and-aft are turned in plan (about body Z), upright leans in the rear view (about body X),
// square to its link is turned about the link from the horizontal; all right-handed, the link from its frame end to its axle end.
const (
	BoltSquare  = "square to its link"
	BoltAcross  = "across"
	BoltAft     = "fore-and-aft"
	BoltUpright = "upright"
	BoltOther   = "another way"
)

// What a bolt is called that nobody gave, where its member is no link.
const (
	boltSquareRod = "square to its rod"
	boltSquareArm = "square to its arm"
	boltOnLine    = "on the line of both pivots"
)

const (
	boltTol   = 1.0  // deg: a bolt this near to a direction is said to be that direction, turned
	nearSteep = 10.0 // deg: a link this near to vertical has its bolt across where none is given
	nearLink  = 10   // deg: a bolt this near to its own link is refused
)

// squareBolt is where a bolt lies that nobody gave: the horizontal square to its member, body Y for one within 10 deg of vertical.
func squareBolt(along r3.Vec) r3.Vec {
	flat := r3.Vec{X: -along.Y, Y: along.X}
	if r3.Norm(flat) < math.Sin(nearSteep*math.Pi/180) {
		return r3.Vec{Y: 1}
	}
	if flat.Y < 0 || flat.Y == 0 && flat.X < 0 {
		flat = r3.Scale(-1, flat)
	}
	return r3.Unit(flat)
}

// words are how the bolt can be said to lie.
func (h *held) words() []string {
	out := []string{h.square}
	for _, w := range []string{BoltAcross, BoltAft, BoltUpright} {
		if w != h.square {
			out = append(out, w)
		}
	}
	return out
}

// direction tells a bolt in words and degrees turned.
func (h *held) direction(bolt *job.Point) (word string, turned float64) {
	if bolt == nil {
		return h.square, 0
	}
	d := bolt.Vec()
	if r3.Norm(d) == 0 {
		return BoltOther, 0
	}
	d = r3.Unit(d)
	tol := math.Sin(boltTol * math.Pi / 180)
	deg := func(sin, cos float64) float64 { // of a line: between -90 and 90
		a := math.Atan2(sin, cos) * 180 / math.Pi
		switch {
		case a > 90:
			a -= 180
		case a <= -90:
			a += 180
		}
		return math.Round(a*1e4) / 1e4
	}
	if math.Abs(d.Z) < tol {
		if a := deg(-d.X, d.Y); math.Abs(a) <= 45 {
			return BoltAcross, a
		}
		return BoltAft, deg(d.Y, d.X)
	}
	if math.Abs(d.X) < tol {
		if a := deg(-d.Y, d.Z); math.Abs(a) <= 45 {
			return BoltUpright, a
		}
	}
	if h.square != BoltAcross && math.Abs(r3.Dot(d, h.along)) < tol && math.Abs(r3.Dot(h.free, h.along)) < tol {
		return h.square, deg(r3.Dot(r3.Cross(h.free, d), h.along), r3.Dot(h.free, d))
	}
	return BoltOther, 0
}

// bolt is the bolt that words and degrees tell; nil is the one nobody gave, not turned.
func (h *held) bolt(word string, turned float64) (*job.Point, error) {
	if math.IsNaN(turned) || math.Abs(turned) > 90 {
		return nil, fmt.Errorf("A bolt is turned by at most 90 deg either way.")
	}
	s, c := math.Sincos(turned * math.Pi / 180)
	var d r3.Vec
	switch word {
	case h.square:
		if turned == 0 {
			return nil, nil
		}
		if word == BoltAcross {
			d = r3.Vec{X: -s, Y: c}
			break
		}
		d = r3.Rotate(h.free, turned*math.Pi/180, h.along)
	case BoltAcross:
		d = r3.Vec{X: -s, Y: c}
	case BoltAft:
		d = r3.Vec{X: c, Y: s}
	case BoltUpright:
		d = r3.Vec{Y: -s, Z: c}
	default:
		return nil, fmt.Errorf("Choose how the bolt lies: %s.", strings.Join(h.words(), ", "))
	}
	return &job.Point{tidy(d.X), tidy(d.Y), tidy(d.Z)}, nil
}
