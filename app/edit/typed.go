package edit

import (
	"math"
	"strconv"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
)

func shownUnit(j *job.Job) measure.Unit {
	if j.Shown == nil {
		return measure.Millimetres
	}
	return measure.UnitOf(j.Shown.Length)
}

func shownLength(j *job.Job) string { return shownUnit(j).String() }

func inPounds(j *job.Job) bool { return j.Shown != nil && j.Shown.Mass == "lb" }

func shownMass(j *job.Job) string {
	if inPounds(j) {
		return "lb"
	}
	return "kg"
}

// showLength is a length as a field shows it: to a thousandth of a millimetre or of an inch.
func showLength(j *job.Job, mm float64) string {
	if shownUnit(j) == measure.Inches && !math.IsNaN(mm) {
		mm = math.Round(mm/measure.Inch*1000) / 1000 * measure.Inch
	}
	return measure.Typed(mm, shownUnit(j))
}

// showWorkedOut is a length nobody typed: to a tenth of a millimetre or a hundredth of an inch.
func showWorkedOut(j *job.Job, mm float64) string {
	unit, decimals := 1.0, 1
	if shownUnit(j) == measure.Inches {
		unit, decimals = measure.Inch, 2
	}
	return strconv.FormatFloat(mm/unit, 'f', decimals, 64)
}

func showMass(j *job.Job, kg float64) string {
	if inPounds(j) {
		kg /= measure.Pound
	}
	return strconv.FormatFloat(math.Round(kg*10)/10, 'f', -1, 64)
}

// parseLength reads a length as typed, mm; a number without a unit is in the job's.
func parseLength(j *job.Job, text string) (float64, error) {
	return measure.Parse(text, shownUnit(j))
}

// parseMass reads a mass as typed, kg; a number without a unit is in the job's.
func parseMass(j *job.Job, text string) (float64, error) {
	unit := measure.Kilograms
	if inPounds(j) {
		unit = measure.Pounds
	}
	return measure.ParseMass(text, unit)
}

// parseAngle reads an angle as typed, deg.
func parseAngle(text string) (float64, error) { return measure.ParseAngle(text) }

// parseNumber reads a bare number; a decimal comma is taken.
func parseNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.ReplaceAll(measure.ASCII(strings.TrimSpace(text)), ",", "."), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, &measure.Error{Words: words.F("%s is not a number. Type one, for example 0.4.", strconv.Quote(text))}
	}
	return v, nil
}

// SetPlusMinus takes how far off a coordinate may be as typed: a length, with or without a ± before it; empty takes it away. The pivot stays where
// it is, measured or not.
func SetPlusMinus(j *job.Job, p Pivot, a Axis, text string) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	off := math.NaN()
	if text = plainOff(text); text != "" {
		v, err := parseLength(j, text)
		if err != nil {
			return words.Errorf("%s, %s, ±: %w", s.words(p), a, err)
		}
		off = v
	}
	g := (*s.given)[s.key+"."+axisKeys[a]]
	if _, taped := IsTaped(g); taped {
		return words.Errorf("%s is placed by tapes, and its ± is theirs. Type the number first to say where it is from.", s.words(p))
	}
	if g.Taken != nil {
		return words.Errorf("%s is worked out from what was measured %s, and its ± with it. Type the number first to say where it is from.", s.words(p), StoodWords(g.Taken.How))
	}
	return SetGiven(j, p, a, g.From, off, g.Source)
}

// plainOff is a +- as typed without the sign before it.
func plainOff(text string) string {
	text = strings.TrimSpace(text)
	for _, sign := range []string{"±", "+-", "+/-"} {
		text = strings.TrimPrefix(text, sign)
	}
	return strings.TrimSpace(text)
}

// Source is a ready word for how a number was come by, and how far off that usually is, mm: 0 where nothing is usual (common practice, no source).
type Source struct {
	Key   string
	Usual float64
}

// Sources are the ready ones; a hand may type another.
func Sources() []Source {
	return []Source{{"tape", measure.TapeOff}, {"through obstructions", 2 * measure.TapeOff}, {"plumb bob", 3}, {"angle gauge", 0}, {"drawing", 0}, {"on stands", 0}, {GuessSource, 0}}
}

// usualOff is how far off a ready source usually is; NaN where nothing is usual.
func usualOff(source string) float64 {
	for _, s := range Sources() {
		if s.Key == source && s.Usual > 0 {
			return s.Usual
		}
	}
	return math.NaN()
}

// SetSource says how a coordinate was come by, in a few words; empty takes it away, GuessSource makes it a guess. What was typed stays, and so does a
// +- somebody gave; where there is none or the one usual for the source before, it becomes what is usual for this one. The pivot stays where it is,
// measured or not.
func SetSource(j *job.Job, p Pivot, a Axis, source string) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	g := (*s.given)[s.key+"."+axisKeys[a]]
	if _, taped := IsTaped(g); taped {
		return words.Errorf("%s is placed by tapes, and its ± is theirs. Type the number first to say where it is from.", s.words(p))
	}
	if g.Taken != nil {
		return words.Errorf("%s is worked out from what was measured %s, and its ± with it. Type the number first to say where it is from.", s.words(p), StoodWords(g.Taken.How))
	}
	source = strings.TrimSpace(source)
	if source == tapesSource { // it says how a place was worked out
		return words.Errorf("%s: no tapes are kept for it. Press By tapes to place it by them.", s.words(p))
	}
	off := math.NaN()
	switch {
	case g.PlusMinus == nil || *g.PlusMinus == usualOff(g.Source):
		off = usualOff(source)
	default:
		off = *g.PlusMinus
	}
	return SetGiven(j, p, a, g.From, off, source)
}
