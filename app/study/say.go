package study

import (
	"math"
	"strconv"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

var kindWords = [...]string{words.Mark("Hits"), words.Mark("Runs out"), words.Mark("Tight"), words.Mark("Not known"), words.Mark("Outside common practice (no rule, your call)")}

// String is the kind as every list of findings heads it.
func (k Kind) String() string { return words.T(kindWords[min(int(k), len(kindWords)-1)]) }

// Serious reports whether the finding is one of the job's faults: it hits, runs out or is tight, and has not been set aside.
func (x *Finding) Serious() bool { return x.Kind <= Tight && x.SetAside == nil }

// WithRange is Compile with the range found: no sweep, no gaps, no findings yet.
func WithRange(j *job.Job) *Study {
	s := Compile(j)
	if s.Mech != nil {
		s.findRange()
	}
	return s
}

// Travels words a position in the job's unit: "109 mm of bump", "left 176 up, right 180 down".
func (s *Study) Travels(left, right float64) string {
	if math.Abs(left) < 0.5 && math.Abs(right) < 0.5 {
		return words.T("ride height")
	}
	return s.wording().travels(left, right)
}

// Length words a length in the job's unit, with it: "13.5 mm"; a true minus sign.
func (s *Study) Length(mm float64) string {
	if math.IsNaN(mm) {
		return "?"
	}
	return s.wording().length(mm)
}

// RangeWords words the range: how far both wheels go, and how far they cross up. "" where there is none.
func (s *Study) RangeWords() string {
	if !s.Bounded() {
		return ""
	}
	w := s.wording()
	text := words.F("both wheels %s up, %s down", w.number(s.Range.Bump), w.length(s.Range.Droop))
	if c := s.Range.LeftUp; c != nil {
		text += words.F("; crossed up: %s", w.travels(c.Left, c.Right))
	}
	if c := s.Range.RightUp; c != nil {
		text += words.F(", or %s", w.travels(c.Left, c.Right))
	}
	if a := s.Mech.TravelArticulation; s.Range.LeftUp == nil && s.Range.RightUp == nil && !math.IsNaN(a) {
		text += words.F("; crossed up: %.1f deg, as entered", deg(a))
	}
	return text
}

// CheckedWords says what was looked at: heights, loads, travel, pairs left out.
func (s *Study) CheckedWords() string {
	heights, left, travel := 0, 0, words.T("whole travel")
	if s.Job != nil && s.Job.Vehicle != nil {
		heights = len(s.Job.Vehicle.Heights)
	}
	if s.Gaps != nil {
		left = len(s.Gaps.LeftOut)
	}
	if !s.Bounded() {
		travel = words.T("no travel yet")
	}
	loads := 0
	for i := range s.Loads {
		if s.Loads[i].Has {
			loads++
		}
	}
	aside := 0
	for i := range s.Findings {
		if s.Findings[i].SetAside != nil {
			aside++
		}
	}
	put := ""
	if aside > 0 {
		put = words.F("; %s set aside", many(aside, words.Mark("finding"), words.Mark("findings")))
	}
	gaps := s.GapsChecked()
	if gaps != "" {
		gaps = "; " + gaps
	}
	return words.F("Checked: %s, %s, %s; %s left out%s%s", many(heights, words.Mark("height"), words.Mark("heights")), many(loads, words.Mark("load"), words.Mark("loads")), travel, many(left, words.Mark("pair"), words.Mark("pairs")), gaps, put)
}

func many(n int, one, more string) string {
	if n == 1 {
		return "1 " + words.T(one)
	}
	return strconv.Itoa(n) + " " + words.T(more)
}
