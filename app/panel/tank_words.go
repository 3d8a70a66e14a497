package panel

import (
	"math"
	"strings"

	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/vessel"
	"axleloft/plotting/ink"
)

// tankChoice is one way to cut a tank: a cut, or one for each of several places.
type tankChoice struct {
	lead   string
	words  string
	cuts   []vessel.Cut
	litres float64 // lost in all
}

// kind is what a way to cut has in common with one of the same kind at the same faces, whatever its sizes.
func (c *tankChoice) kind() string {
	var out []string
	for i := range c.cuts {
		out = append(out, c.cuts[i].Kind)
		for _, s := range c.cuts[i].Sizes {
			out = append(out, s.Face)
		}
	}
	return strings.Join(out, " ")
}

// How many other cuts are listed, faces cut back whole aside.
const (
	mostOthers = 5
	mostEach   = 2 // of each of several places
)

// choicesOf are the ways to cut a tank, the one that loses least first.
func choicesOf(t *study.Tank, unit string) []tankChoice {
	var out []tankChoice
	length := cutLength(unit)
	put := func(cuts ...vessel.Cut) {
		c := tankChoice{cuts: cuts, litres: t.Vessel.Lost(cuts)}
		var phrase []string
		for i := range cuts {
			phrase = append(phrase, cuts[i].Worded(length)+".")
		}
		c.lead = words.F("Loses %s L.", study.Litres(c.litres))
		c.words = strings.Join(phrase, " ")
		out = append(out, c)
	}
	if len(t.Plan) > 0 {
		put(t.Plan...)
	}
	said := map[string]bool{}
	for i := range t.Plan {
		said[t.Plan[i].Words] = len(t.Plan) == 1
	}
	if len(t.Plan) > 1 {
		for p, list := range t.Apart {
			n := 0
			for i := range list {
				if list[i].Words == t.Plan[p].Words || list[i].Kind == "face" || n == mostEach {
					continue
				}
				n++
				cuts := append([]vessel.Cut(nil), t.Plan...)
				cuts[p] = list[i]
				put(cuts...)
			}
		}
	}
	n := 0
	for i := range t.Cuts {
		c := t.Cuts[i]
		if said[c.Words] {
			continue
		}
		if n++; n > mostOthers && c.Kind != "face" {
			continue
		}
		put(c)
	}
	return out
}

// cutLength writes a size of a cut: sizes are whole mm, and stay so in inches.
func cutLength(unit string) func(float64) string {
	return func(mm float64) string {
		if unit == "in" {
			return words.F("%s mm (%s in)", num(mm, 0), num(mm/mmPerInch, 2))
		}
		return num(mm, 0) + " mm"
	}
}

// tellFound writes what is known of a tank.
func (k *tank) tellFound(f *tankFound, fresh bool, role ink.Role, para func(lead, phrase string, role ink.Role)) {
	t := f.t
	lead := ""
	if !fresh {
		lead = words.T("Was:")
	}
	para(lead, t.GrossWords()+k.wasWords(), role)
	for _, i := range t.Nearest() {
		g := &f.s.Smallest[i]
		kind := study.Tight
		if g.Gap.Gap < 0 {
			kind = study.Hits
		}
		phrase := t.NearWords(i, f.s.Length)
		press := func() { k.h.GoPlace(g.Left, g.Right, i) }
		if !fresh {
			press = nil
		}
		k.line(k.words, "", phrase, role, press).troubled(kind)
	}
	if len(f.choices) > 0 && k.shown < len(f.choices) {
		c := &f.choices[k.shown]
		para(words.T("With the cut shown:"), words.F("%s lost, %s left.", study.Volume(c.litres), study.Volume(t.Vessel.Litres-c.litres)), role)
	}
	if len(t.Nearest()) > 0 {
		para("", words.T(study.TankCaution), ink.Text)
	}
	for _, phrase := range t.TakenWords() {
		para("", phrase, role)
	}
	if t.Vessel.Why != "" {
		return
	}
	if d := &k.dips.got; k.dips.has && d.known && fresh {
		para(words.T("Usable"), words.F("by %s: %s before, %s after the cut.", strings.Join(d.use.Given, ", "), study.Volume(d.use.Before), study.Volume(d.use.After)), role)
		for _, name := range d.use.Cut {
			para("", words.F("The %s lies in the cut: it must go elsewhere.", name), ink.Text)
		}
	} else if !d.known && fresh {
		para("", words.T("Filler, breather and pick-up are not given, so what of it is usable is not known. Give them with the tank, in the way."), ink.Second)
	}
	if len(t.Nearest()) == 0 {
		para("", words.T(study.TankCaution), ink.Text)
	}
	para("", words.T(study.OnlyMoving), ink.Second)
	k.tellCuts(f, fresh, role)
}

// tellCuts lists the ways to cut it; a press shows one in the views.
func (k *tank) tellCuts(f *tankFound, fresh bool, role ink.Role) {
	switch {
	case len(f.choices) > 0:
	case f.t.Keep.Most == 0:
		k.cuts.Add(newHeadRow(words.T("Nothing has to be cut."), false))
		return
	default:
		k.cuts.Add(newHeadRow(words.T("No simple cut clears it and leaves anything: move the tank, or what comes near it."), false))
		return
	}
	head := words.T("The simplest cut of those that lose least")
	if len(f.choices[0].cuts) > 1 {
		head = words.T("Places apart, a simple cut for each")
	}
	for i := range f.choices {
		c := &f.choices[i]
		switch {
		case i == 0:
			k.cuts.Add(newHeadRow(words.F("%s. Sizes are whole mm in from the tank's outermost faces; what the moving parts take lies within:", head), false))
		case i == 1:
			k.cuts.Add(newHeadRow(words.T("Others. A press shows one in the views:"), false))
		}
		press := func() { k.show(i) }
		if !fresh {
			press = nil
		}
		k.line(k.cuts, c.lead, c.words, role, press).lit = i == k.shown && fresh
	}
}

// wasWords compare the litres with those of the pencil line or, of a trial, with what is drawn; "" where there is nothing to compare or it is the same.
func (k *tank) wasWords() string {
	d := k.h.Doc
	f, _ := k.current()
	if f == nil {
		return ""
	}
	say := func(s *study.Study, of string) string {
		for _, e := range s.Tanks() {
			if e.Name != k.name {
				continue
			}
			v, err := vessel.New(e)
			if err != nil || !(math.Abs(v.Litres-f.t.Vessel.Litres) >= 0.05) {
				return ""
			}
			less := f.t.Vessel.Litres - v.Litres
			way := words.T("more")
			if less < 0 {
				way = words.T("less")
			}
			return words.F(" It was %s L %s: %s L %s now.", study.Litres(v.Litres), of, study.Litres(math.Abs(less)), way)
		}
		return ""
	}
	if p, ok := d.Pencil(); ok {
		return say(p.Study, words.F("in the pencil line (%s)", study.Lower(p.Words())))
	}
	return ""
}

func (k *tank) lines() []string {
	out := []string{k.top.note.Text()}
	out = append(out, wordsOf(k.words.Objects)...)
	out = append(out, wordsOf(k.cuts.Objects)...)
	if d := &k.dips.got; k.dips.has {
		for _, l := range d.levels {
			out = append(out, strings.Join(k.table.row(&l), " | "))
		}
	}
	return out
}
