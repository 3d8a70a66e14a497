package edit

import (
	"fmt"
	"math"

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

var boltWords = []string{BoltSquare, BoltAcross, BoltAft, BoltUpright}

const (
	boltTol   = 1.0  // deg: a bolt this near to a direction is said to be that direction, turned
	nearSteep = 10.0 // deg: a link this near to vertical has its bolt across where none is given
)

// squareBolt is where a bolt lies that nobody gave: the horizontal square to the link, body Y for a link within 10 deg of vertical.
func squareBolt(l *job.Link) (bolt, along r3.Vec) {
	along = r3.Sub(l.Axle.Vec(), l.Frame.Vec())
	if n := r3.Norm(along); n > 0 {
		along = r3.Scale(1/n, along)
	}
	flat := r3.Vec{X: -along.Y, Y: along.X}
	if r3.Norm(flat) < math.Sin(nearSteep*math.Pi/180) {
		return r3.Vec{Y: 1}, along
	}
	if flat.Y < 0 || flat.Y == 0 && flat.X < 0 {
		flat = r3.Scale(-1, flat)
	}
	return r3.Unit(flat), along
}

// boltDirection tells a bolt in words and degrees turned.
func boltDirection(l *job.Link, bolt *job.Point) (word string, turned float64) {
	if bolt == nil {
		return BoltSquare, 0
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
	base, along := squareBolt(l)
	if math.Abs(r3.Dot(d, along)) < tol {
		return BoltSquare, deg(r3.Dot(r3.Cross(base, d), along), r3.Dot(base, d))
	}
	return BoltOther, 0
}

// boltPoint is the bolt that words and degrees tell; nil is square to its link, not turned.
func boltPoint(l *job.Link, word string, turned float64) (*job.Point, error) {
	if math.IsNaN(turned) || math.Abs(turned) > 90 {
		return nil, fmt.Errorf("A bolt is turned by at most 90 deg either way.")
	}
	s, c := math.Sincos(turned * math.Pi / 180)
	var d r3.Vec
	switch word {
	case BoltSquare:
		if turned == 0 {
			return nil, nil
		}
		base, along := squareBolt(l)
		d = r3.Rotate(base, turned*math.Pi/180, along)
	case BoltAcross:
		d = r3.Vec{X: -s, Y: c}
	case BoltAft:
		d = r3.Vec{X: c, Y: s}
	case BoltUpright:
		d = r3.Vec{Y: -s, Z: c}
	default:
		return nil, fmt.Errorf("Choose how the bolt lies: %s, %s, %s or %s.", BoltSquare, BoltAcross, BoltAft, BoltUpright)
	}
	tidy := func(v float64) float64 { return math.Round(v*1e9)/1e9 + 0 }
	return &job.Point{tidy(d.X), tidy(d.Y), tidy(d.Z)}, nil
}
