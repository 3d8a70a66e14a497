package edit

import (
	"fmt"
	"math"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	stillTol = 1e-9 // mm: a coordinate that moves less was not asked to move
	farthest = 1e5  // mm: no place of a job lies farther out
	decimals = 1e6  // places led along a circle are kept to 1e-6 mm, so that files stay short
	shortest = 1    // mm: a link shorter than this is a slip of the hand
)

// locked is the refusal of a measured thing.
func locked(name string) error {
	return words.Errorf("%s is measured: press Free to move it.", name)
}

// Move puts a pivot at a place (ride height, body axes). A measured one refuses. The right twin moves its mirror.
// A link that keeps its length (KeepsLength) is led along its circle, a pivot kept on a line (KeptOn) along that: coordinates that were not asked to move
// stay where they can. A *Fight is the refusal of what two of them cannot both hold for.
// Coordinates that move are guesses again: what was typed for them no longer holds.
func Move(j *job.Job, p Pivot, to r3.Vec) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	if s.isMeasured() {
		return locked(s.words(p))
	}
	_, err := s.move(j, p, to)
	return err
}

// move moves without asking whether the pivot is measured, and tells which coordinates moved.
func (s *slot) move(j *job.Job, p Pivot, to r3.Vec) (moved [3]bool, err error) {
	if math.IsNaN(to.X+to.Y+to.Z) || r3.Norm(to) > farthest {
		return moved, words.Errorf("%s cannot go there: a place must be within 100 m of the axle.", s.words(p))
	}
	want := job.Point{to.X, to.Y, to.Z}
	if s.mirrored(p) {
		want = want.Mirror()
	}
	var asked [3]bool
	for a := range want {
		asked[a] = math.Abs(want[a]-s.at[a]) > stillTol
		if !asked[a] {
			want[a] = s.at[a]
		}
	}
	if want, err = s.led(j, p, want, asked); err != nil {
		return moved, err
	}
	if r3.Norm(want.Vec()) > farthest {
		return moved, words.Errorf("%s cannot go there: a place must be within 100 m of the axle.", s.words(p))
	}
	if p.List == Links {
		other := j.Links[p.Index].Axle
		if p.End == AxleEnd {
			other = j.Links[p.Index].Frame
		}
		if r3.Norm(r3.Sub(want.Vec(), other.Vec())) < shortest {
			return moved, words.Errorf("%s cannot go there: its two pivots would be in one place.", s.words(p))
		}
	}
	if s.pair && want[1] <= 0 && s.at[1] > 0 {
		return moved, words.Errorf("%s cannot cross the middle of the vehicle: its twin is its mirror. Unlink the pair first.", s.words(p))
	}
	for a := range want {
		moved[a] = want[a] != s.at[a]
		if moved[a] {
			setGiven(s.given, s.key+"."+axisKeys[a], job.GivenValue{})
		}
	}
	*s.at = want
	return moved, nil
}

// Type sets one coordinate from text: "1127", "44 3/8\"", "3' 8 3/8", "1127+6", "-30", counted from its datum where it has one. What was typed is kept.
func Type(j *job.Job, p Pivot, a Axis, text string) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	if s.isMeasured() {
		return locked(s.words(p))
	}
	v, err := parseLength(j, text)
	if err != nil {
		return fmt.Errorf("%s, %s: %w", s.words(p), a, err)
	}
	datum, from, counted := DatumOf(j, p, a)
	if counted {
		v += from
	}
	at, _ := At(j, p)
	switch a {
	case X:
		at.X = v
	case Y:
		at.Y = v
	default:
		at.Z = v
	}
	if _, err := s.move(j, p, at); err != nil {
		return err
	}
	typed := strings.TrimSpace(text)
	if a == Y && s.mirrored(p) {
		typed = negated(typed)
	}
	key := s.key + "." + axisKeys[a]
	g := (*s.given)[key]
	if _, taped := IsTaped(g); taped || g.Taken != nil || !isGiven(g) { // the +- of a guess was the guess's
		g = job.GivenValue{}
	}
	g.Typed = typed
	if counted {
		g.From = datum
	}
	setGiven(s.given, key, g)
	return nil
}

// negated is what one would have typed for the mirrored twin.
func negated(typed string) string {
	t := strings.TrimSpace(typed)
	sign, rest := "-", t
	switch {
	case t == "":
		return ""
	case strings.HasPrefix(t, "-"), strings.HasPrefix(t, "−"):
		sign, rest = "", strings.TrimSpace(strings.TrimLeft(t, "-−"))
	case strings.HasPrefix(t, "+"):
		rest = strings.TrimSpace(t[1:])
	}
	swap := strings.NewReplacer("+", "-", "-", "+", "−", "+") // the later terms of a sum change sign with the first
	return sign + swap.Replace(rest)
}

// LinkLength is the length between a link's pivots, mm; NaN where there is no such link.
func LinkLength(j *job.Job, link int) float64 {
	if link < 0 || link >= len(j.Links) {
		return math.NaN()
	}
	return r3.Norm(r3.Sub(j.Links[link].Frame.Vec(), j.Links[link].Axle.Vec()))
}

// MovePart shifts a part in the way by d; a measured one refuses.
func MovePart(j *job.Job, part Part, d r3.Vec) error {
	if part.List != Envelopes || part.Index < 0 || part.Index >= len(j.Envelopes) {
		return errGone
	}
	if IsPartMeasured(j, part) {
		return locked(j.Envelopes[part.Index].Name)
	}
	if math.IsNaN(d.X+d.Y+d.Z) || r3.Norm(d) > farthest {
		return words.Errorf("%s cannot go there: a place must be within 100 m of the axle.", j.Envelopes[part.Index].Name)
	}
	if e := &j.Envelopes[part.Index]; e.Kind == "mesh" {
		return words.Errorf("%s stands where its file has it. Move it there, and write the file again.", e.Name)
	}
	shift(&j.Envelopes[part.Index], d)
	return nil
}

func shift(e *job.Envelope, d r3.Vec) {
	v := [3]float64{d.X, d.Y, d.Z}
	points := []*job.Point{e.Min, e.Max, e.Centre}
	if e.Fill != nil {
		points = append(points, e.Fill.Filler, e.Fill.Breather, e.Fill.Pickup, e.Fill.Dip)
	}
	for _, p := range points {
		if p != nil {
			for a := range p {
				p[a] += v[a]
			}
		}
	}
	for i := range e.Path {
		for a := range v {
			e.Path[i][a] += v[a]
		}
	}
	u, w, third := planeAxes(e.Plane)
	for i := range e.Outline {
		e.Outline[i][0] += v[u]
		e.Outline[i][1] += v[w]
	}
	if e.Kind == "prism" && e.From != nil && e.To != nil {
		*e.From += v[third]
		*e.To += v[third]
	}
	e.Given = nil
}

// planeAxes are the two axes of an outline's plane and the third.
func planeAxes(plane string) (u, w, third int) {
	switch plane {
	case "plan":
		return 0, 1, 2
	case "rear":
		return 1, 2, 0
	default:
		return 0, 2, 1
	}
}
