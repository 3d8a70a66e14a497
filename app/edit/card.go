package edit

import (
	"maps"
	"reflect"
	"slices"
	"strings"
	"time"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Complaints are the ready ones, as the file keeps them; a hand may add words of its own (common practice, no source).
var Complaints = []string{words.Mark("squats"), words.Mark("tail lifts under braking"), words.Mark("steers itself over bumps"), words.Mark("wanders"), words.Mark("rolls in bends"), words.Mark("vibrates at speed"), words.Mark("vibrates pulling away"),
	words.Mark("vibrates on the overrun"), words.Mark("clunks"), words.Mark("bottoms out"), words.Mark("tyre rubs"), words.Mark("runs crooked"), words.Mark("wears its joints")}

// ComplaintOf parts a complaint into the ready ones in it, in the order of Complaints, and the rest as it was typed.
func ComplaintOf(text string) (ready []string, rest string) {
	var own []string
	has := map[string]bool{}
	for _, w := range strings.Split(text, ";") {
		switch w = strings.TrimSpace(w); {
		case slices.Contains(Complaints, strings.ToLower(w)):
			has[strings.ToLower(w)] = true
		case w != "":
			own = append(own, w)
		}
	}
	for _, c := range Complaints {
		if has[c] {
			ready = append(ready, c)
		}
	}
	return ready, strings.Join(own, "; ")
}

// Complain puts a ready complaint on the job card, or takes it off where it is there.
func Complain(j *job.Job, complaint string) error {
	if !slices.Contains(Complaints, complaint) {
		return words.Errorf("There is no ready complaint %q. Type it in its field.", complaint)
	}
	c := cardOf(j)
	ready, rest := ComplaintOf(c.Complaint)
	if i := slices.Index(ready, complaint); i >= 0 {
		ready = slices.Delete(ready, i, i+1)
	} else {
		ready = append(ready, complaint)
	}
	c.Complaint = joined(ready, rest)
	putCard(j, c)
	return nil
}

func joined(ready []string, rest string) string {
	text, _ := ComplaintOf(strings.Join(ready, ";")) // in their order
	if rest != "" {
		text = append(text, rest)
	}
	return strings.Join(text, "; ")
}

func cardOf(j *job.Job) job.Card {
	if j.Card == nil {
		return job.Card{}
	}
	c := *j.Card
	c.Given = maps.Clone(c.Given)
	return c
}

// putCard keeps a card; an empty one is none.
func putCard(j *job.Job, c job.Card) {
	if j.Card = nil; !reflect.DeepEqual(c, job.Card{}) {
		j.Card = &c
	}
}

// jobCard are the fields of the job card and of what was measured before stripping. What was typed is kept.
func (f *form) jobCard() {
	c := cardOf(f.j)
	keep := func(put func()) {
		x := &f.list[len(f.list)-1]
		set := x.set
		x.set = func(t string) error {
			err := set(t)
			if err == nil {
				put()
			}
			return err
		}
	}
	putC := func() { putCard(f.j, c) }
	ready, rest := ComplaintOf(c.Complaint)
	f.text("complaint", words.T("Complaint in your own words"), LongText, &rest)
	x := &f.list[0]
	x.set = func(t string) error {
		c.Complaint = joined(ready, strings.Join(strings.Fields(t), " "))
		return nil
	}
	keep(putC)
	f.text("use", words.T("Used for"), LongText, &c.Use)
	keep(putC)
	f.optional("frontKg", words.T("Front axle weighs"), Mass, &c.FrontKg, positive, words.T("not yet"))
	f.mark(&c.Given, "frontKg")
	keep(putC)
	f.optional("rearKg", words.T("Rear axle weighs"), Mass, &c.RearKg, positive, words.T("not yet"))
	f.mark(&c.Given, "rearKg")
	keep(putC)
	f.text("tyre", words.T("Tyre as measured"), Text, &c.Tyre)
	keep(putC)

	f.group = words.T("Measured before stripping: on its springs, on level ground, loaded as it came in")
	b := job.Before{}
	if f.j.Before != nil {
		b = *f.j.Before
		b.Values, b.Given = maps.Clone(b.Values), maps.Clone(b.Given)
	}
	putB := func() {
		if len(b.Values) == 0 {
			b.Values = nil
		}
		if f.j.Before = nil; !reflect.DeepEqual(b, job.Before{}) {
			f.j.Before = &b
		}
	}
	f.text("before.date", words.T("Date, as 2026-11-26"), Text, &b.Date)
	x = &f.list[len(f.list)-1]
	x.set = func(t string) error {
		if t = strings.TrimSpace(t); t != "" {
			if _, err := time.Parse(time.DateOnly, t); err != nil {
				return words.Errorf("%q is no date. Type it as year-month-day, for example 2026-11-26.", t)
			}
		}
		b.Date = t
		return nil
	}
	keep(putB)
	for _, v := range job.BeforeValues() {
		u, limits := Length, notNeg
		if v.Deg {
			u, limits = Angle, bounds{0, 90, false}
		}
		if v.Signed {
			limits.lo = -90
		}
		var now *float64
		if at, ok := b.Values[v.Key]; ok {
			now = &at
		}
		label := v.Title
		if v.Signed {
			label = words.T("Pinion angle, + nose up")
		}
		f.optional("before."+v.Key, words.T(label), u, &now, limits, "")
		f.mark(&b.Given, v.Key)
		keep(func() {
			if now == nil {
				delete(b.Values, v.Key)
			} else {
				if b.Values == nil {
					b.Values = map[string]float64{}
				}
				b.Values[v.Key] = *now
			}
			putB()
		})
	}
	f.text("before.photo", words.T("Photo, a file beside the job"), Text, &b.Photo)
	keep(putB)
	f.text("before.note", words.T("Note"), LongText, &b.Note)
	keep(putB)
	f.group = ""
}

// WeighedLoad is the kilograms on the job card as they make a load; ok is false till both are there.
func WeighedLoad(j *job.Job) (front, rear float64, ok bool) {
	if j.Card == nil || j.Card.FrontKg == nil || j.Card.RearKg == nil {
		return 0, 0, false
	}
	return *j.Card.FrontKg, *j.Card.RearKg, true
}

// LoadFromCard corrects a load from the kilograms on the job card, or makes one where index is -1. Its CG height stays what it was, or starts as a guess.
func LoadFromCard(j *job.Job, index int) (Part, error) {
	front, rear, ok := WeighedLoad(j)
	if !ok {
		return Part{}, words.Error("Type what the front axle and what the rear axle weigh first.")
	}
	part := Part{Loads, index}
	if index < 0 {
		var err error
		if part, err = AddLoad(j, FreeLoadName(j, words.T("as it came in")), front, rear); err != nil {
			return part, err
		}
	} else if index >= Len(j, Loads) {
		return part, errGone
	}
	l := &j.Vehicle.Loads[part.Index]
	if err := weighed(l, j.Vehicle.Wheelbase, front, rear); err != nil {
		return part, err
	}
	for _, key := range []string{"frontKg", "rearKg"} { // what was typed goes along
		g := l.Given[strings.TrimSuffix(key, "Kg")]
		g.Typed = j.Card.Given[key].Typed
		setGiven(&l.Given, strings.TrimSuffix(key, "Kg"), g)
	}
	return part, nil
}

// FreeLoadName is a name no load has.
func FreeLoadName(j *job.Job, name string) string { return freeIn(namesOf(j, Loads, -1), name) }

// _ are the names of what is measured before stripping, as the job has them.
var _ = [...]string{words.Mark("Ride height left"), words.Mark("Ride height right"), words.Mark("Front joint angle"), words.Mark("Rear joint angle"), words.Mark("Tyre gap over, left"), words.Mark("Tyre gap over, right"), words.Mark("Tyre gap inside, left"), words.Mark("Tyre gap inside, right"), words.Mark("Wheel centre above ground, left"), words.Mark("Wheel centre above ground, right"), words.Mark("Wheelbase left"), words.Mark("Wheelbase right")}
