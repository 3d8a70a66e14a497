package edit

import (
	"math"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// A bolt's direction in words. Across and fore-and-aft are turned in plan (about body Z) and raised at one end, upright leans in the rear view (about
// body X) and forward, square to its link is turned about the link from the horizontal; turns are right-handed, the link from its frame end to its
// axle end.
const (
	BoltSquare  = "square to its link"
	BoltAcross  = "across"
	BoltAft     = "fore-and-aft"
	BoltUpright = "upright"
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
	for _, w := range []string{words.Mark(BoltAcross), words.Mark(BoltAft), words.Mark(BoltUpright)} {
		if w != h.square {
			out = append(out, w)
		}
	}
	return out
}

// lie is how a bolt lies: a word, deg turned, and deg its left end (across), its front end (fore-and-aft) is up or its top (upright) leans forward.
type lie struct {
	word           string
	turned, raised float64
}

// String is the whole of it: "across, turned 12 deg, left end up 3 deg".
func (l lie) String() string {
	out := words.T(l.word)
	if v := tenth(l.turned); v != 0 {
		out += words.F(", turned %s deg", strings.Replace(plain(v), "-", "−", 1))
	}
	v := tenth(l.raised)
	up := words.T(" up ")
	if v < 0 {
		up = words.T(" down ")
	}
	switch {
	case v == 0:
	case l.word == BoltAft:
		out += words.F(", front end%s%s deg", up, plain(math.Abs(v)))
	case l.word == BoltUpright && v > 0:
		out += words.F(", leaning forward %s deg", plain(v))
	case l.word == BoltUpright:
		out += words.F(", leaning back %s deg", plain(-v))
	default:
		out += words.F(", left end%s%s deg", up, plain(math.Abs(v)))
	}
	return out
}

func tenth(deg float64) float64 { return math.Round(deg*10) / 10 }

// raisedLabel is what a form calls the second turn of a word; "" where it has none.
func raisedLabel(word string) string {
	switch word {
	case BoltAcross:
		return words.T("left end up")
	case BoltAft:
		return words.T("front end up")
	case BoltUpright:
		return words.T("leans forward")
	}
	return ""
}

// direction tells how a bolt lies.
func (h *held) direction(bolt *job.Point) lie {
	if bolt == nil || r3.Norm(bolt.Vec()) == 0 {
		return lie{word: h.square}
	}
	d := r3.Unit(bolt.Vec())
	tol := math.Sin(boltTol * math.Pi / 180)
	round := func(rad float64) float64 { return math.Round(rad*180/math.Pi*1e4)/1e4 + 0 }
	flat := math.Abs(d.Z) < tol
	upright := math.Abs(d.X) < tol && math.Abs(d.Z) >= math.Abs(d.Y)
	if !flat && !upright && h.square != BoltAcross && math.Abs(r3.Dot(d, h.along)) < tol && math.Abs(r3.Dot(h.free, h.along)) < tol {
		sin, cos := r3.Dot(r3.Cross(h.free, d), h.along), r3.Dot(h.free, d)
		if cos < 0 {
			sin, cos = -sin, -cos
		}
		return lie{word: h.square, turned: round(math.Atan2(sin, cos))}
	}
	x, y, z := math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)
	switch {
	case z > math.Max(x, y):
		d = r3.Scale(math.Copysign(1, d.Z), d)
		return lie{BoltUpright, round(math.Atan2(-d.Y, d.Z)), round(math.Asin(d.X))}
	case y >= x:
		d = r3.Scale(math.Copysign(1, d.Y), d)
		return lie{BoltAcross, round(math.Atan2(-d.X, d.Y)), round(math.Asin(d.Z))}
	default:
		d = r3.Scale(math.Copysign(1, d.X), d)
		return lie{BoltAft, round(math.Atan2(d.Y, d.X)), round(math.Asin(d.Z))}
	}
}

// bolt is the bolt that lies so; nil is the one nobody gave, not turned.
func (h *held) bolt(l lie) (*job.Point, error) {
	if !(math.Abs(l.turned) <= 90) || !(math.Abs(l.raised) <= 90) {
		return nil, words.Errorf("A bolt is turned by at most 90 deg either way.")
	}
	s, c := math.Sincos(l.turned * math.Pi / 180)
	up, out := math.Sincos(l.raised * math.Pi / 180)
	var d r3.Vec
	switch {
	case l.word == h.square && l.turned == 0 && l.raised == 0:
		return nil, nil
	case l.word == BoltAcross:
		d = r3.Vec{X: -s * out, Y: c * out, Z: up}
	case l.word == BoltAft:
		d = r3.Vec{X: c * out, Y: s * out, Z: up}
	case l.word == BoltUpright:
		d = r3.Vec{X: up, Y: -s * out, Z: c * out}
	case l.word == h.square:
		d = r3.Rotate(h.free, l.turned*math.Pi/180, h.along)
	default:
		return nil, words.Errorf("Choose how the bolt lies: %s.", strings.Join(h.words(), ", "))
	}
	return &job.Point{tidy(d.X), tidy(d.Y), tidy(d.Z)}, nil
}
