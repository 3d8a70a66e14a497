package edit

import (
	"math"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Count is how much of the job is known.
type Count struct {
	Known, Total int
	Guesses      []Guess
}

// String is the count as the top bar shows it: "measured 6 of 67".
func (c Count) String() string { return words.F("measured %d of %d", c.Known, c.Total) }

const (
	// GuessSource is the source of a coordinate that is a guess although it was typed.
	GuessSource = "guess"
	// GuessPlusMinus is how far off a guess is taken to be where nobody has said, mm (our choice: what an eye is out by under a vehicle).
	GuessPlusMinus = 20.0

	longestSource = 40 // letters
)

// PlusMinus is how far off a coordinate may be, mm: what was given, GuessPlusMinus for a guess of which nobody has said it, 0 where it is not known.
func PlusMinus(j *job.Job, p Pivot, a Axis) float64 {
	g, given := GivenOf(j, p, a)
	switch {
	case g.PlusMinus != nil:
		return *g.PlusMinus
	case given || IsMeasured(j, p):
		return 0
	}
	return GuessPlusMinus
}

// Guess is a thing nobody measured yet: a coordinate of a pivot, or a part in the way.
type Guess struct {
	IsPivot bool
	Pivot   Pivot // where IsPivot
	Axis    Axis
	Part    Part   // the part, or the one the pivot belongs to
	Name    string // "Lower, frame end: X", "Tank shelf"
}

// Measured counts what is known: each coordinate of each pivot the job has (Pivots; three each, a pair once) and each part in the way (a pair once) counts one. A coordinate is known when its pivot is marked measured or
// somebody gave the number; a part in the way when it is marked measured or somebody gave any number of it. Guesses are in file order.
func Measured(j *job.Job) Count {
	var c Count
	for _, p := range Pivots(j) {
		s := find(j, p)
		measured := s.isMeasured()
		q := p
		q.Side = job.Single // a pair is one thing here
		for a := X; a <= Z; a++ {
			c.Total++
			if measured || isGiven((*s.given)[s.key+"."+axisKeys[a]]) {
				c.Known++
				continue
			}
			c.Guesses = append(c.Guesses, Guess{IsPivot: true, Pivot: p, Axis: a, Part: PartOf(p), Name: s.words(q) + ": " + a.String()})
		}
	}
	for i := range j.Envelopes {
		c.Total++
		e := &j.Envelopes[i]
		if e.Measured != nil && *e.Measured || isPartGiven(e) {
			c.Known++
			continue
		}
		c.Guesses = append(c.Guesses, Guess{Part: Part{Envelopes, i}, Name: e.Name})
	}
	return c
}

// Off is how far off a guess is taken to be, mm.
func (g *Guess) Off(j *job.Job) float64 {
	if g.IsPivot {
		return PlusMinus(j, g.Pivot, g.Axis)
	}
	if g.Part.List == Envelopes && g.Part.Index < len(j.Envelopes) {
		if off, _ := PartGiven(&j.Envelopes[g.Part.Index]); !math.IsNaN(off) {
			return off
		}
	}
	return GuessPlusMinus
}

// isPartGiven reports whether somebody gave a number of a part in the way: a ± alone gives none.
func isPartGiven(e *job.Envelope) bool {
	for _, g := range e.Given {
		if isGiven(g) {
			return true
		}
	}
	return false
}

// Short is the guess in words: "Lower, frame end Z", "Tank shelf".
func (g *Guess) Short() string {
	if !g.IsPivot {
		return g.Name
	}
	return strings.TrimSuffix(g.Name, ": "+g.Axis.String()) + " " + g.Axis.String()
}

// Shift moves what a guess is of by so many mm along an axis (a pivot's coordinate along its own), whatever its link keeps: to see what hangs on it.
func (g *Guess) Shift(j *job.Job, a Axis, by float64) error {
	var d r3.Vec
	switch a {
	case X:
		d.X = by
	case Y:
		d.Y = by
	default:
		d.Z = by
	}
	if !g.IsPivot {
		return MovePart(j, g.Part, d)
	}
	at, ok := At(j, g.Pivot)
	if !ok {
		return errGone
	}
	keep := j.Keep
	j.Keep = nil
	err := Move(j, g.Pivot, r3.Add(at, d))
	j.Keep = keep
	return err
}
