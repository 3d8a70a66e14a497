package panel

import (
	"axleloft/app/document"
	"axleloft/app/study"
	"axleloft/app/words"
)

// restsOf are the words of the guesses each pair of a study rests on, kept till another study comes.
type restsOf struct {
	of   *study.Study
	list []string
}

func (r *restsOf) words(s *study.Study) []string {
	if r.of == s {
		return r.list
	}
	r.of, r.list = s, nil
	if s != nil && s.Gaps != nil {
		r.list = make([]string, len(s.Gaps.Pairs))
		for i := range r.list {
			r.list[i] = s.RestsWords(i)
		}
	}
	return r.list
}

// addRests says what it means that a pair's gap rests on guesses, where it does.
func (def *Definition) addRests(s *study.Study, pair int) {
	if rests := s.RestsWords(pair); rests != "" {
		def.add(words.T("Guess"), words.F("This gap %s. Nobody has measured that yet; the gap can come out larger or smaller by about as much as the guess is off. Under what to measure next it says what hangs on it.", rests))
	}
}

// definePair is what a line of the list of gaps is.
func definePair(r *gapRow, d *document.Document) Definition {
	def := Definition{Title: r.name, Sketch: "gap"}
	if r.least != "" {
		def.add(words.T("Here"), words.F("%s, %s; %s wanted.", r.least, r.where, r.wanted))
	}
	def.add(words.T("What it is"), words.T(findingKinds[0].what))
	s, _ := d.Study()
	def.addRests(s, r.pair)
	def.add(words.T("What moves it"), words.T(findingKinds[0].moves))
	def.add(words.T("Inputs"), guessWords(d))
	return def
}
