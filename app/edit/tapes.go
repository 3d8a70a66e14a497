package edit

import (
	"math"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"

	"gonum.org/v1/gonum/spatial/r3"
)

// TapeText is one tape as a hand gives it: the place it is hooked to, its length and its plus-minus ("" as a hooked tape has it).
type TapeText struct{ From, Length, PlusMinus string }

const (
	tapesSource = "tapes" // the source of coordinates placed by tapes
	tapeFrom    = " from "
	tapeOff     = " ± "
	tapesBetw   = "; "
	rightTwin   = "right twin: " // tapes that went to the twin the file does not give
)

// TapePlaces are the places tapes to a pivot may start from: datums with X, Y and Z, then measured pivots by their names.
func TapePlaces(j *job.Job, to Pivot) []string {
	var out []string
	for i := range j.Datums {
		if d := &j.Datums[i]; d.At != nil && d.Axis == "" {
			out = append(out, d.Name)
		}
	}
	for _, p := range measuredPivots(j, to) {
		out = append(out, Name(j, p))
	}
	return out
}

func measuredPivots(j *job.Job, but Pivot) []Pivot {
	var out []Pivot
	for _, p := range Pivots(j) {
		if !IsMeasured(j, p) || p.Same(but) {
			continue
		}
		out = append(out, p)
		if p.Side == job.Left {
			p.Side = job.Right
			out = append(out, p)
		}
	}
	return out
}

// tapePlace is where a tape starts, and how far off that place may be itself.
func tapePlace(j *job.Job, name string, to Pivot) (at r3.Vec, off float64, err error) {
	name = strings.TrimSpace(name)
	if i := datumAt(j, name); i >= 0 {
		d := &j.Datums[i]
		if d.At == nil || d.Axis != "" {
			return at, 0, words.Errorf("%s fixes only one of X, Y and Z, so no tape can start there. Choose another.", name)
		}
		if d.PlusMinus != nil {
			off = *d.PlusMinus
		}
		return d.At.Vec(), off, nil
	}
	for _, p := range measuredPivots(j, to) {
		if Name(j, p) == name {
			at, _ = At(j, p)
			return at, 0, nil
		}
	}
	return at, 0, words.Errorf("there is no place called %q. Choose a datum with X, Y and Z, or a measured pivot.", name)
}

// ReadTapes makes tapes of what was typed; rows without a length are left out. A place's own plus-minus adds to the tape's as independent.
func ReadTapes(j *job.Job, to Pivot, rows []TapeText) ([]measure.Tape, error) {
	var out []measure.Tape
	for i, r := range rows {
		if strings.TrimSpace(r.Length) == "" {
			continue
		}
		at, own, err := tapePlace(j, r.From, to)
		if err != nil {
			return nil, words.Errorf("Tape %d: %w", i+1, err)
		}
		t := measure.Tape{From: at, PlusMinus: measure.TapeOff}
		if t.Length, err = parseLength(j, r.Length); err != nil {
			return nil, words.Errorf("Tape %d: %w", i+1, err)
		}
		if t.Length <= 0 {
			return nil, words.Errorf("Tape %d has no length. Type it, more than 0.", i+1)
		}
		if strings.TrimSpace(r.PlusMinus) != "" {
			v, err := parseLength(j, strings.TrimPrefix(strings.TrimSpace(r.PlusMinus), "±"))
			if err == nil && v <= 0 {
				err = words.Errorf("It must be more than 0.")
			}
			if err != nil {
				return nil, words.Errorf("Tape %d, ±: %w", i+1, err)
			}
			t.PlusMinus = v
		}
		t.PlusMinus = math.Hypot(t.PlusMinus, own)
		out = append(out, t)
	}
	if len(out) < 3 {
		return nil, words.Errorf("Three tapes or more fix a point; %d %s typed.", len(out), map[bool]string{true: "is", false: "are"}[len(out) == 1])
	}
	return out, nil
}

// TakeTapes puts a pivot at one of the answers its tapes give, and keeps the tapes as they were typed. A measured pivot refuses, and a link that keeps
// its length.
func TakeTapes(j *job.Job, p Pivot, rows []TapeText, answer measure.Taped) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	if s.isMeasured() {
		return locked(s.words(p))
	}
	if p.List == Links && KeepsLength(j, p.Index) {
		return words.Errorf("%s keeps its length, and the tapes would change it. Press Keep and leave the length first.", s.words(p))
	}
	round := func(v float64) float64 { return math.Round(v*1000) / 1000 }
	at := r3.Vec{X: round(answer.At.X), Y: round(answer.At.Y), Z: round(answer.At.Z)}
	if _, err := s.move(j, p, at); err != nil {
		return err
	}
	if err := s.stands(j, p, at); err != nil {
		return err
	}
	kept := make([]TapeText, len(rows))
	for i, r := range rows {
		kept[i] = TapeText{From: r.From, Length: withUnit(j, r.Length), PlusMinus: withUnit(j, r.PlusMinus)}
	}
	from := joinTapes(kept)
	if s.mirrored(p) {
		from = rightTwin + from
	}
	for a, off := range []float64{answer.PlusMinus.X, answer.PlusMinus.Y, answer.PlusMinus.Z} {
		off = math.Ceil(off*10) / 10
		setGiven(s.given, s.key+"."+axisKeys[a], job.GivenValue{From: from, PlusMinus: &off, Source: tapesSource})
	}
	return nil
}

// TapesOf are the tapes a pivot was placed by, as typed; none where it was not, or where they went to its twin.
func TapesOf(j *job.Job, p Pivot) []TapeText {
	s := find(j, p)
	if s == nil {
		return nil
	}
	for _, a := range axisKeys {
		g, ok := (*s.given)[s.key+"."+a]
		if !ok || g.Source != tapesSource {
			continue
		}
		from, right := strings.CutPrefix(g.From, rightTwin)
		if right == s.mirrored(p) {
			return splitTapes(from)
		}
	}
	return nil
}

// IsTaped reports whether a coordinate was placed by tapes, and by how many.
func IsTaped(g job.GivenValue) (tapes int, ok bool) {
	if g.Source != tapesSource {
		return 0, false
	}
	n := len(splitTapes(g.From))
	return n, n > 0
}

// withUnit is a length as typed that reads the same whatever unit is in force.
func withUnit(j *job.Job, text string) string {
	text = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), "±"))
	v, err := parseLength(j, text)
	if err != nil {
		return text
	}
	reads := func(text string) bool {
		mm, err1 := measure.Parse(text, measure.Millimetres)
		in, err2 := measure.Parse(text, measure.Inches)
		return err1 == nil && err2 == nil && mm == v && in == v
	}
	for _, one := range []string{text, text + " " + shownLength(j)} {
		if reads(one) {
			return one
		}
	}
	return measure.Typed(v, shownUnit(j)) + " " + shownLength(j)
}

func joinTapes(rows []TapeText) string {
	var out []string
	for _, r := range rows {
		if length := strings.TrimSpace(r.Length); length != "" {
			if off := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(r.PlusMinus), "±")); off != "" {
				length += tapeOff + off
			}
			out = append(out, length+tapeFrom+strings.TrimSpace(r.From))
		}
	}
	return strings.Join(out, tapesBetw)
}

func splitTapes(from string) []TapeText {
	var out []TapeText
	from = strings.TrimPrefix(from, rightTwin)
	for _, one := range strings.Split(from, tapesBetw) {
		length, place, ok := strings.Cut(one, tapeFrom)
		if !ok {
			return nil
		}
		t := TapeText{From: place}
		t.Length, t.PlusMinus, _ = strings.Cut(length, tapeOff)
		out = append(out, t)
	}
	return out
}

// retape works pivots placed by tapes from a datum out again, from where they stand, and gives the datum its new name there.
func retape(j *job.Job, was, now string, moved bool, c *Carried) error {
	for _, p := range Pivots(j) {
		s := find(j, p)
		q, hit := p, false
		var rows []TapeText
		for _, a := range axisKeys {
			key := s.key + "." + a
			g := (*s.given)[key]
			if g.Source != tapesSource {
				continue
			}
			list := splitTapes(g.From)
			mine := false
			for i := range list {
				if list[i].From == was {
					list[i].From, mine = now, true
				}
			}
			if !mine {
				continue
			}
			head := ""
			if strings.HasPrefix(g.From, rightTwin) {
				head, q.Side = rightTwin, job.Right
			}
			g.From, rows, hit = head+joinTapes(list), list, true
			setGiven(s.given, key, g)
		}
		if !hit || !moved {
			continue
		}
		tapes, err := ReadTapes(j, q, rows)
		if err != nil {
			return words.Errorf("%s was placed by tapes: %w", s.words(q), err)
		}
		at, _ := At(j, q)
		to, err := measure.TapesNear(tapes, at)
		if err != nil {
			return words.Errorf("%s was placed by tapes: %w", s.words(q), err)
		}
		want := job.Point{to.At.X, to.At.Y, to.At.Z}
		if s.mirrored(q) {
			want = want.Mirror()
		}
		off := [3]float64{to.PlusMinus.X, to.PlusMinus.Y, to.PlusMinus.Z}
		for a, k := range axisKeys {
			g, ok := (*s.given)[s.key+"."+k]
			if !ok || g.Source != tapesSource {
				continue
			}
			s.at[a] = math.Round(want[a]*1000) / 1000
			v := math.Ceil(off[a]*10) / 10
			g.PlusMinus = &v
			setGiven(s.given, s.key+"."+k, g)
		}
		c.Taped++
	}
	return nil
}
