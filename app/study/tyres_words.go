package study

import (
	"math"

	"axleloft/app/words"
)

// TyreWords says what is tried.
func (s *Study) TyreWords(t *TyreTrial) string {
	more := func(v float64, larger, smaller, same string) string {
		switch {
		case v < 0:
			return s.Length(-v) + " " + smaller
		case v > 0:
			return s.Length(v) + " " + larger
		}
		return same
	}
	if t.Size == (TyreSize{}) {
		return words.F("The present tyre: radius without load %s, width %s.", s.Length(t.Free), s.Length(t.Width))
	}
	ground := words.T("The ground stays")
	if r := t.Size.Radius; r > 0 {
		ground = words.F("The ground goes down by %s", s.Length(r))
	} else if r < 0 {
		ground = words.F("The ground comes up by %s", s.Length(-r))
	}
	if s.Mech.FrontStill && t.Size.Radius != 0 {
		ground += words.T(" here and stays under the front wheels")
	}
	return words.F("A tyre %s and %s: radius without load %s, width %s. %s; the axle and its pivots stay.",
		more(t.Size.Radius, words.T("larger in radius"), words.T("smaller in radius"), words.T("of the same radius")), more(t.Size.Width, words.T("wider"), words.T("narrower"), words.T("of the same width")), s.Length(t.Free), s.Length(t.Width), ground)
}

// TyreRoomWords says how much larger the tyre may be.
func (s *Study) TyreRoomWords(t *TyreTrial) string {
	r := &t.Room
	pair := words.F("%s and %s", Lower(r.A), Lower(r.B))
	switch {
	case len(t.Pairs) == 0:
		return words.T("So no largest size can be told.")
	case math.IsNaN(r.Radius):
		return words.F("At the present width no smaller radius tried keeps every gap wanted: %s.", pair)
	case r.More:
		return words.F("At the present width %s more in radius, the most tried, still keeps every gap wanted.", s.Length(r.Radius))
	}
	text := words.F("At the present width up to %s more in radius keeps every gap wanted; then %s are the tightest. Found at the positions tried.", s.Length(r.Radius), pair)
	if r.Radius < 0 {
		text = words.F("A gap wanted is not kept now. At the present width %s less in radius would keep every one; then %s are the tightest. Found at the positions tried.", s.Length(-r.Radius), pair)
	}
	if !math.IsNaN(r.NotLess) {
		text += words.F(" Their gap is then proved to be nowhere less than %s.", s.wording().atMost(r.NotLess))
	}
	return text
}
