package study

import (
	"slices"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/clearance"
)

// guessesOf are the guesses of a job by the part they belong to.
func (s *Study) guessesOf() map[edit.Part][]edit.Guess {
	s.guessOnce.Do(func() {
		s.guesses = map[edit.Part][]edit.Guess{}
		for _, g := range edit.Measured(s.Job).Guesses {
			s.guesses[g.Part] = append(s.guesses[g.Part], g)
		}
	})
	return s.guesses
}

// entries are the entries of the job a part of the gaps is made of.
func entries(p *clearance.Part) []edit.Part {
	switch p.Kind {
	case clearance.LinkPart:
		return []edit.Part{{List: edit.Links, Index: p.Ref.Index}}
	case clearance.ArmPart:
		return []edit.Part{{List: edit.Arms, Index: p.Ref.Index}}
	case clearance.RodPart:
		return []edit.Part{{List: edit.Rockers, Index: p.Ref.Index}}
	case clearance.StrutPart:
		return []edit.Part{{List: edit.Struts, Index: p.Ref.Index}}
	case clearance.LinePart:
		return []edit.Part{{List: edit.Lines, Index: p.Ref.Index}}
	case clearance.EnvelopePart:
		return []edit.Part{{List: edit.Envelopes, Index: p.Ref.Index}}
	case clearance.ShaftPart:
		return []edit.Part{{List: edit.Output}, {List: edit.Bearing}, {List: edit.Pinion}}
	}
	return nil
}

// RestsOn lists the guesses a pair's gap rests on by its two parts: where their own pivots are, and where they stand themselves. Where the axle
// goes rests on every link; that is not counted here.
func (s *Study) RestsOn(pair int) []edit.Guess {
	if s.Gaps == nil || pair < 0 || pair >= len(s.Gaps.Pairs) {
		return nil
	}
	of := s.guessesOf()
	var out []edit.Guess
	for _, side := range [2]int{s.Gaps.Pairs[pair].A, s.Gaps.Pairs[pair].B} {
		for _, e := range entries(&s.Gaps.Parts[side]) {
			for _, g := range of[e] {
				if !slices.Contains(out, g) { // twins are one entry
					out = append(out, g)
				}
			}
		}
	}
	return out
}

// RestsWords say on which guesses a pair's gap rests: "rests on a guess: Upper, frame end Z"; "" where it rests on none.
func (s *Study) RestsWords(pair int) string { return restsWords(s.RestsOn(pair)) }

func restsWords(list []edit.Guess) string {
	if len(list) == 0 {
		return ""
	}
	var names []string // of pivots with their coordinates, and of parts
	for i := range list {
		g := &list[i]
		if i > 0 && g.IsPivot && list[i-1].IsPivot && g.Pivot == list[i-1].Pivot {
			names[len(names)-1] += ", " + g.Axis.String()
			continue
		}
		names = append(names, g.Short())
	}
	const most = 2 // named
	more := ""
	if n := len(names) - most; n > 0 {
		names = names[:most]
		more = words.F(" and %d more", n)
	}
	what := strings.Join(names, "; ") + more
	if len(list) == 1 {
		return words.F("rests on a guess: %s", what)
	}
	return words.F("rests on guesses: %s", what)
}
