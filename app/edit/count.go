package edit

import (
	"fmt"

	"axleloft/geometry/job"
)

// Count is how much of the job is known.
type Count struct {
	Known, Total int
	Guesses      []Guess
}

// String is the count as the top bar shows it: "measured 6 of 67".
func (c Count) String() string { return fmt.Sprintf("measured %d of %d", c.Known, c.Total) }

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
		if e.Measured != nil && *e.Measured || len(e.Given) > 0 {
			c.Known++
			continue
		}
		c.Guesses = append(c.Guesses, Guess{Part: Part{Envelopes, i}, Name: e.Name})
	}
	return c
}
