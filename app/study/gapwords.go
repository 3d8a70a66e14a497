package study

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/limits"
	"axleloft/geometry/measure"
)

// near is how much may lie between a gap found and one proved for the figure to be said without "about", mm.
const near = 1.0

// GapFar reports whether a pair is only known to be further apart than is of interest: "more than" its proved figure.
func (s *Study) GapFar(pair int) bool {
	g := &s.Smallest[pair]
	return g.Why == "" && g.NotLess >= farGap && g.Gap.Gap-g.NotLess > s.within+1e-6
}

// GapWords words a pair's smallest gap: "14 mm, not less than 13 mm", "about 10 mm, at the positions tried", "over 150 mm", "29 mm in" of an overlap.
func (s *Study) GapWords(pair int) string {
	g, w := &s.Smallest[pair], s.wording()
	switch {
	case s.GapFar(pair):
		return words.F("over %s", w.atMost(farGap))
	case g.Gap.Gap < 0:
		return w.length(-g.Gap.Gap) + w.in()
	case g.Why != "":
		return words.F("about %s, at the positions tried", w.length(g.Gap.Gap))
	}
	text := words.F("%s, not less than %s", w.length(g.Gap.Gap), w.atMost(g.NotLess))
	if g.Gap.Gap-g.NotLess > near {
		return words.F("about %s", text)
	}
	return text
}

// BoundWords words what a pair's gap is proved to be nowhere less than, rounded down: "13 mm", "30 mm in" of an overlap; "" where nothing is proved.
func (s *Study) BoundWords(pair int) string {
	g, w := &s.Smallest[pair], s.wording()
	switch {
	case g.Why != "":
		return ""
	case g.NotLess < 0:
		return strings.TrimPrefix(w.atMost(g.NotLess), measure.Minus) + w.in()
	}
	return w.atMost(g.NotLess)
}

// Proving sums up what is proved of the smallest gaps.
type Proving struct {
	Within  float64 // mm: no pair of which something is proved is anywhere less than its figure by more than this; NaN where nothing is proved
	Sampled int     // pairs looked at only at the positions tried
	Pairs   int     // of all
	Rest    float64 // mm: nearer than this to the edge of the range, where the links end the travel, what is proved is not and only positions were tried; 0: proved up to the edge
	Why     string  // why pairs are looked at only at positions, of the first of them, as half a sentence
}

// Proving tells what is proved of the smallest gaps.
func (s *Study) Proving() Proving {
	p := Proving{Within: math.NaN(), Pairs: len(s.Smallest)}
	for i := range s.Smallest {
		g := &s.Smallest[i]
		if g.Why != "" {
			if p.Sampled++; p.Why == "" {
				p.Why = g.Why
			}
			continue
		}
		p.Rest = math.Max(p.Rest, g.Rest)
		width := s.within
		if !s.GapFar(i) {
			width = math.Max(width, g.Gap.Gap-g.NotLess)
		}
		if !(p.Within >= width) {
			p.Within = width
		}
	}
	return p
}

// ProvedWords says in a sentence what is proved of the gaps and what only tried; "" where there are none.
func (s *Study) ProvedWords() string {
	p := s.Proving()
	switch {
	case p.Pairs == 0:
		return ""
	case p.Sampled == 0:
		return words.F("Gaps are proved over the whole travel%s, between positions too: nowhere less than the one found by more than %s.", s.restWords(p.Rest), s.closeness(p.Within))
	case p.Sampled == p.Pairs:
		return words.F("Gaps are found at the positions tried, not proved: %s.", p.Why)
	}
	return words.F("Gaps are proved over the whole travel%s, nowhere less than the one found by more than %s, but of %s only found at the positions tried: %s.", s.restWords(p.Rest), s.closeness(p.Within), many(p.Sampled, words.Mark("pair"), words.Mark("pairs")), p.Why)
}

// restWords says how near to where the links end the travel the proof does not go, to follow "the whole travel"; "" where it goes all the way.
func (s *Study) restWords(rest float64) string {
	if !(rest > 0) {
		return ""
	}
	return words.F(" but for the last %s before the links end it (only tried at positions)", s.upTo(rest))
}

// upTo words a length rounded up to half a mm or hundredths of an inch.
func (s *Study) upTo(mm float64) string {
	if s.wording().inch {
		return s.closeness(mm)
	}
	return fmt.Sprintf("%g mm", math.Ceil(2*mm-1e-6)/2)
}

// GapsChecked is how the gaps were looked at, in short: "gaps proved to 0.5 mm"; "" where there are none.
func (s *Study) GapsChecked() string {
	p := s.Proving()
	switch {
	case p.Pairs == 0:
		return ""
	case p.Sampled == p.Pairs:
		return words.T("gaps at the positions tried")
	case p.Sampled == 0:
		return words.F("gaps proved to %s%s", s.closeness(p.Within), s.restShort(p.Rest))
	}
	return words.F("gaps proved to %s%s, of %s at the positions tried", s.closeness(p.Within), s.restShort(p.Rest), many(p.Sampled, words.Mark("pair"), words.Mark("pairs")))
}

func (s *Study) restShort(rest float64) string {
	if !(rest > 0) {
		return ""
	}
	return words.F(" but for the last %s before the links end", s.upTo(rest))
}

// closeness words how close a proof is, rounded up.
func (s *Study) closeness(mm float64) string {
	if s.wording().inch {
		return fmt.Sprintf("%.2f in", math.Ceil(mm/25.4*100-1e-6)/100)
	}
	return fmt.Sprintf("%g mm", math.Ceil(mm*100-1e-4)/100)
}

// in says after a length how far two parts overlap: "29 mm in", "1 1/8 in deep".
func (w *wording) in() string {
	if w.inch {
		return words.T(" deep")
	}
	return words.T(" in")
}

// atMost is length rounded down, so that "not less than" it holds: tenths of a mm under 10, else whole mm; hundredths of an inch.
func (w *wording) atMost(mm float64) string {
	if w.inch {
		return measure.Signed(strconv.FormatFloat(math.Floor(mm/25.4*100+1e-9)/100, 'f', 2, 64)) + " in"
	}
	step := 1.0
	if math.Abs(mm) < 10 {
		step = 0.1
	}
	return w.length(math.Floor(mm/step+1e-9) * step)
}

// under is length of a gap that is less than the one wanted, as finely as it takes to be seen to be less.
func (w *wording) under(gap, wanted float64) string {
	text := w.length(gap)
	switch {
	case text != w.length(wanted):
		return text
	case w.inch:
		return fmt.Sprintf("%.3f in", gap/25.4)
	}
	return fmt.Sprintf("%.1f mm", gap)
}

// comes words how near a pair comes: "13 mm of the axle tube", "about 10 mm of the axle tube, at the positions tried"; and what is proved of it, a sentence more.
func (f *finder) comes(g *limits.Proved, of string, wanted float64) (phrase, more string) {
	phrase = words.F("%s of the %s", f.w.under(g.Gap.Gap, wanted), of)
	if g.Why != "" {
		return words.F("about %s, at the positions tried", phrase), ""
	}
	if g.Gap.Gap-g.NotLess > near {
		phrase = words.F("about %s", phrase)
	}
	where := words.T("anywhere in the travel")
	if g.Rest > 0 {
		where = words.F("but for the last %s of travel before the links end it", f.s.upTo(g.Rest))
	}
	return phrase, words.F(" Not less than %s %s.", f.w.atMost(g.NotLess), where)
}
