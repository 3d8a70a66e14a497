package edit

import (
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// bracketKinds are the kinds of brackets in the order they are offered.
var bracketKinds = []string{"tab", "pair", "saddle"}

// bracketWords is a kind of bracket in words.
func bracketWords(kind string) string {
	switch kind {
	case "pair":
		return words.T("Pair, double shear")
	case "saddle":
		return words.T("Saddle over a rail")
	}
	return words.T("Flat tab")
}

// BracketKinds are the kinds of brackets in words, the usual one first.
func BracketKinds() []string {
	var out []string
	for _, k := range bracketKinds {
		out = append(out, bracketWords(k))
	}
	return out
}

// Carries reports whether a pivot is one that a bracket can hold: that of a link, an arm, a rocker, a strut, a strap or a sensor, where it is mounted.
func Carries(p Pivot) bool {
	switch p.List {
	case Links, Arms, Struts, Straps, Sensors, Rockers:
		return p.End != RockerEnd && p.End != LeverEnd
	}
	return false
}

// BracketPart is the entry of the bracket that holds a pivot.
func BracketPart(j *job.Job, p Pivot) (Part, bool) {
	b := BracketOf(j, p)
	for i := range j.Brackets {
		if &j.Brackets[i] == b {
			return Part{Brackets, i}, true
		}
	}
	return Part{}, false
}

// Holds is the pivot a bracket holds, of a pair for both sides.
func Holds(j *job.Job, bracket int) (Pivot, bool) {
	for _, p := range Pivots(j) {
		if part, ok := BracketPart(j, p); ok && part.Index == bracket {
			p.Side = job.Single
			return p, true
		}
	}
	return Pivot{}, false
}

// bracketName is what a bracket is called: as its pivot, or by what the file says where it is of none.
func bracketName(j *job.Job, i int) string {
	if p, ok := Holds(j, i); ok {
		return Name(j, p)
	}
	return words.F("%s, %s: no such pivot", j.Brackets[i].Of, j.Brackets[i].End)
}

// unbracketed are the pivots that could be given a bracket, each pair once, by name in file order.
func unbracketed(j *job.Job) (names []string, of map[string]Pivot) {
	of = map[string]Pivot{}
	for _, p := range Pivots(j) {
		if !Carries(p) || BracketOf(j, p) != nil {
			continue
		}
		p.Side = job.Single
		name := Name(j, p)
		names, of[name] = append(names, name), p
	}
	return names, of
}

// addBracket gives the first pivot that has none a bracket.
func addBracket(j *job.Job, called string) (Part, error) {
	names, of := unbracketed(j)
	if len(names) == 0 {
		return Part{}, words.Errorf("Every pivot has its bracket already, or there is no pivot yet. Add a link first.")
	}
	return AddBracket(j, of[names[0]], called)
}

// AddBracket gives a pivot a bracket of a kind, in words as BracketKinds has them; its sizes are guesses to begin from.
func AddBracket(j *job.Job, p Pivot, called string) (Part, error) {
	s := find(j, p)
	if s == nil {
		return Part{}, errGone
	}
	if !Carries(p) {
		return Part{}, words.Errorf("%s is not held by a bracket of plates.", s.words(p))
	}
	if BracketOf(j, p) != nil {
		return Part{}, words.Errorf("%s has its bracket already.", s.words(p))
	}
	k := slices.IndexFunc(bracketKinds, func(k string) bool { return bracketWords(k) == called })
	if k < 0 {
		return Part{}, words.Errorf("There is no bracket called %q.", called)
	}
	b := job.Bracket{Of: PartName(j, PartOf(p)), End: s.key, Kind: "tab", Thickness: 8, Hole: 16, Edge: 32, Base: 60}
	become(&b, bracketKinds[k])
	j.Brackets = append(slices.Clone(j.Brackets), b)
	return Part{Brackets, len(j.Brackets) - 1}, nil
}

// become makes a bracket one of another kind: what that needs and it lacks is a guess to begin from, what it cannot have goes.
func become(b *job.Bracket, kind string) {
	b.Kind = kind
	if kind == "tab" {
		b.Gap = nil
	} else if b.Gap == nil {
		gap := math.Round(3.5 * b.Hole)
		b.Gap = &gap
	}
	if kind != "saddle" {
		b.Rail = nil
	} else if b.Rail == nil {
		b.Rail = &job.Over{Width: math.Max(70, *b.Gap+2*b.Thickness), Leg: math.Round(2 * b.Edge)}
	}
}

// bracket is the form of a bracket.
func (f *form) bracket(b *job.Bracket) {
	names, of := unbracketed(f.j)
	now := bracketName(f.j, f.part.Index)
	f.choice("of", words.T("Holds"), now, false, "", append([]string{now}, names...), func(w string) error {
		if p, ok := of[w]; ok {
			b.Of, b.End = PartName(f.j, PartOf(p)), PivotKey(f.j, p)
		}
		return nil
	})
	f.choice("kind", words.T("Bracket"), bracketWords(b.Kind), false, "", BracketKinds(), func(w string) error {
		become(b, bracketKinds[slices.Index(BracketKinds(), w)])
		return nil
	})
	f.number("thickness", words.T("Plates, thick"), Length, &b.Thickness, positive)
	f.text("steel", words.T("Steel"), Text, &b.Steel)
	f.number("hole", words.T("Hole for the bolt"), Length, &b.Hole, positive)
	f.number("edge", words.T("Edge from its centre"), Length, &b.Edge, positive)
	f.number("base", words.T("Mounting face from it"), Length, &b.Base, positive)
	f.optional("width", words.T("Width at the face"), Length, &b.Width, positive, words.T("twice the edge"))
	f.optional("offset", words.T("Its middle beside the hole"), Length, &b.Offset, anyValue, "0")
	if b.Gap != nil {
		f.number("gap", words.T("Clear between plates"), Length, b.Gap, positive)
	}
	if b.Rail != nil {
		f.over(b.Rail)
	}
	f.pattern(b)
}

// over is the folded plate of a saddle.
func (f *form) over(r *job.Over) {
	f.group = words.T("Over the rail")
	f.number("rail.width", words.T("Rail, wide"), Length, &r.Width, positive)
	f.number("rail.leg", words.T("Legs reach down it"), Length, &r.Leg, positive)
	f.optional("rail.along", words.T("Along the rail"), Length, &r.Along, positive, words.T("as the plates"))
	f.optional("rail.thickness", words.T("Folded plate, thick"), Length, &r.Thickness, positive, words.T("as the plates"))
	f.optional("rail.bend", words.T("Folds, radius inside"), Length, &r.Bend, notNeg, words.T("its thickness"))
	f.group = ""
}

// pattern is the row of holes a bracket is bolted on by: giving how many makes one, taking it out is a bracket that is welded on.
func (f *form) pattern(b *job.Bracket) {
	f.group = words.T("Bolted on")
	var count *float64
	if b.Pattern != nil {
		n := float64(b.Pattern.Count)
		count = &n
	}
	x := f.optional("pattern.count", words.T("Holes in a row"), Number, &count, bounds{1, job.MostHoles, false}, words.T("none: welded"))
	set := x.set
	x.set = func(text string) error {
		if err := set(text); err != nil {
			return err
		}
		if count == nil {
			b.Pattern = nil
			return nil
		}
		if *count != math.Trunc(*count) {
			return words.Errorf("%s must be a whole number. You typed %s.", x.Label, strings.TrimSpace(text))
		}
		if b.Pattern == nil {
			b.Pattern = newPattern(b, int(*count))
		}
		b.Pattern.Count = int(*count)
		if b.Pattern.Count > 1 && b.Pattern.Pitch == nil {
			pitch := 3 * b.Pattern.Hole
			b.Pattern.Pitch = &pitch
		}
		return nil
	}
	if n := b.Pattern; n != nil {
		f.number("pattern.hole", words.T("Their diameter"), Length, &n.Hole, positive)
		if n.Count > 1 {
			f.number("pattern.pitch", words.T("From one to the next"), Length, n.Pitch, positive)
		}
		in := words.T("From the mounting face")
		if b.Rail != nil {
			in = words.T("From the leg's edge")
		}
		f.number("pattern.in", in, Length, &n.In, positive)
		if b.Rail == nil {
			f.optional("pattern.edge", words.T("Edge past them"), Length, &n.Edge, positive, words.T("1.5 holes"))
		}
	}
	f.group = ""
}

// newPattern is a row to begin from: as many holes as fit a plate of its width, guessed.
func newPattern(b *job.Bracket, count int) *job.Pattern {
	wide := b.WidthOrUsual()
	if b.Rail != nil {
		wide = b.Along()
	}
	n := &job.Pattern{Count: count, Hole: math.Round(0.6 * b.Hole), In: math.Round(1.2 * b.Hole)}
	if count > 1 { // a hole's diameter and a half is left at both ends, where there is room
		pitch := math.Round((wide-3*n.Hole)/float64(count-1)*2) / 2
		if pitch <= n.Hole {
			pitch = 2 * n.Hole
		}
		n.Pitch = &pitch
	}
	return n
}
