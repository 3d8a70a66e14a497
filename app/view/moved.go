package view

import (
	"math"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// Moved is where a pivot of the file stands with the axle at two positions, body axes; ok is false where the job has no such pivot or the axle no such position.
// A pivot of a pair without a side is its left twin.
func Moved(s *study.Study, from, to *study.Position, p edit.Pivot) (a, b r3.Vec, ok bool) {
	if s == nil || s.Parts == nil || from == nil || to == nil || from.Err != "" || to.Err != "" {
		return a, b, false
	}
	names := Scene{in: Input{Now: s, Held: &p}}
	one, two := newStage(s, from), newStage(s, to)
	for _, x := range edit.Pivots(s.Parts.Job) {
		if held, _ := names.isHeld(&pivot{id: names.fileOf(x)}); held {
			return one.place(x), two.place(x), true
		}
	}
	return a, b, false
}

// moveWords is a move in words: "218 mm: 12 forward, 3 left, 218 down"; "" where it is none.
func moveWords(s *study.Study, by r3.Vec) string {
	const least = 0.5 // mm
	if r3.Norm(by) < least {
		return ""
	}
	var parts []string
	put := func(v float64, plus, minus func(number string) string) {
		number := s.Length(math.Abs(v))
		if i := strings.LastIndexByte(number, ' '); i >= 0 {
			number = number[:i] // the unit stands with the whole
		}
		switch {
		case v >= least:
			parts = append(parts, plus(number))
		case v <= -least:
			parts = append(parts, minus(number))
		}
	}
	put(by.X, func(n string) string { return words.F("%s forward", n) }, func(n string) string { return words.F("%s back", n) })
	put(by.Y, func(n string) string { return words.F("%s left", n) }, func(n string) string { return words.F("%s right", n) })
	put(by.Z, func(n string) string { return words.F("%s up", n) }, func(n string) string { return words.F("%s down", n) })
	return s.Length(r3.Norm(by)) + ": " + strings.Join(parts, ", ")
}

// MovedWords says how far the held pivot, or else the chosen part, moves from one position of the axle to another; the axle's middle where there is neither.
func MovedWords(s *study.Study, from, to *study.Position, held *edit.Pivot, part *edit.Part) string {
	if s == nil || s.Parts == nil || from == nil || to == nil || from.Err != "" || to.Err != "" {
		return ""
	}
	say := func(name string, by r3.Vec) string {
		if move := moveWords(s, by); move != "" {
			return words.F("%s moves %s.", name, move)
		}
		return words.F("%s stays where it is.", name)
	}
	if held != nil {
		if a, b, ok := Moved(s, from, to, *held); ok {
			return say(edit.Name(s.Job, *held), r3.Sub(b, a))
		}
	}
	if part != nil {
		name := edit.PartName(s.Job, *part)
		most, best, found := -1.0, "", false
		for _, p := range edit.Pivots(s.Job) {
			if edit.PartOf(p) != *part {
				continue
			}
			if a, b, ok := Moved(s, from, to, p); ok && r3.Norm(r3.Sub(b, a)) > most {
				most, best, found = r3.Norm(r3.Sub(b, a)), say(edit.Name(s.Job, p), r3.Sub(b, a)), true
			}
		}
		switch {
		case found:
			return best
		case part.List == edit.Envelopes:
			return words.F("%s is fixed to the frame and stays where it is.", name)
		}
	}
	return say(words.T("The axle's middle"), r3.Sub(to.Pose.C, from.Pose.C))
}
