package job

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Check tells everything wrong with the values of j (the same checks Read makes after the JSON is understood); nil if nothing.
// Each trial is checked as the whole job it makes. Lines are 0.
func Check(j *Job) []Complaint { return check(j, nil) }

// check is Check of a job of which some parts are already known to be wrong.
func check(j *Job, before []Complaint) []Complaint {
	c := &checker{bad: map[string]bool{}}
	c.values(reflect.ValueOf(j).Elem(), "", field{})
	for _, list := range [][]Complaint{before, c.list} {
		for _, b := range list {
			c.bad[partOf(b.Place)] = true
		}
	}
	c.follows = true
	c.parts(j, "")
	c.whole(j, func(list string) (string, bool) { return list, true })
	c.extras(j)
	for i := range j.Trials {
		t := &j.Trials[i]
		prefix := item("trials", i)
		only := trialOnly(t)
		c.parts(only, prefix)
		has := reflect.ValueOf(only).Elem()
		c.whole(j.withTrialAt(i), func(list string) (string, bool) {
			for _, m := range layouts[has.Type()] {
				if m.key == list && !has.Field(m.index).IsZero() {
					return join(prefix, list), true
				}
			}
			return list, false
		})
	}
	return c.list
}

// trialOnly is a job of nothing but the trial's own parts (shared, not copied).
func trialOnly(t *Trial) *Job {
	only := &Job{}
	to, from := reflect.ValueOf(only).Elem(), reflect.ValueOf(t).Elem()
	for i := range from.NumField() {
		if k := from.Field(i).Kind(); k == reflect.Pointer || k == reflect.Slice {
			to.FieldByName(from.Type().Field(i).Name).Set(from.Field(i))
		}
	}
	return only
}

type checker struct {
	complaints
	bad     map[string]bool // parts with a wrong value
	follows bool            // what is told now may only follow from a wrong value
}

// add adds a complaint, unless it may only follow from a wrong value in the same part: one mistake, one complaint.
func (c *checker) add(place string, line int, format string, args ...any) {
	if !c.follows || !c.bad[partOf(place)] {
		c.complaints.add(place, line, format, args...)
	}
}

// partOf is the part a place lies in: "links[2]", "trials[0].links[2]", "vehicle", "vehicle.loads[1]".
func partOf(place string) string {
	from := 0
	if strings.HasPrefix(place, "trials[") {
		if i := strings.Index(place, "]."); i >= 0 {
			from = i + 2
		}
	}
	if i := strings.IndexByte(place[from:], ']'); i >= 0 {
		return place[:from+i+1]
	}
	if i := strings.IndexByte(place[from:], '.'); i >= 0 {
		return place[:from+i]
	}
	return place
}

// wanted says in words what a number should be: "a length above 0, up to 100000 mm".
func (s *span) wanted() string {
	unit := s.unit
	if unit != "" {
		unit = " " + unit
	}
	switch {
	case s == version:
		return fmt.Sprintf("the number %d", Version)
	case s.open:
		return fmt.Sprintf("%s above %s, up to %s%s", s.what, figure(s.lo), figure(s.hi), unit)
	}
	return fmt.Sprintf("%s from %s to %s%s", s.what, figure(s.lo), figure(s.hi), unit)
}

// wanted says what a missing key should hold, as a sentence of its own.
func (f field) wanted() string {
	switch {
	case f.num != nil:
		w := f.num.wanted()
		return "Add it: " + w + "."
	case len(f.words) > 0:
		return "Add it: " + quoteList(f.words) + "."
	}
	return "Add it."
}

// values checks every number against its bounds, every word against those known, every list against its length.
func (c *checker) values(v reflect.Value, place string, f field) {
	if c.full() {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			c.values(v.Elem(), place, f)
		}
	case reflect.Struct:
		for _, m := range layouts[v.Type()] {
			fv := v.Field(m.index)
			if m.field.need && fv.Kind() == reflect.Pointer && fv.IsNil() {
				c.add(join(place, m.key), 0, "%q is missing. %s", m.key, m.field.wanted())
				continue
			}
			if m.field.need && fv.Kind() == reflect.String && len(m.field.words) > 0 && fv.String() == "" {
				c.add(join(place, m.key), 0, "\"\" is given; %s is expected. Correct it.", quoteList(m.field.words))
				continue
			}
			c.values(fv, join(place, m.key), m.field)
		}
	case reflect.Slice:
		if most := f.most(); v.Len() > most {
			c.add(place, 0, "The list has %d entries; at most %d are taken. Shorten it.", v.Len(), most)
			return
		}
		if v.Len() < f.min && (!v.IsNil() || f.need) {
			c.add(place, 0, "The list has %s; at least %d are expected.", entries(v.Len()), f.min)
		}
		for i := range v.Len() {
			c.values(v.Index(i), item(place, i), f)
		}
	case reflect.Array:
		for i := range v.Len() {
			if !f.num.holds(v.Index(i).Float()) {
				c.values(v.Index(i), item(place, i), f)
			}
		}
	case reflect.Map:
		if v.Len() > maxItems {
			c.add(place, 0, "The group has %d entries; at most %d are taken. Shorten it.", v.Len(), maxItems)
			return
		}
		for _, k := range sortedKeys(v) {
			c.values(v.MapIndex(reflect.ValueOf(k)), join(place, clip(k)), f)
		}
	case reflect.Float64:
		if x := v.Float(); f.num != nil && !f.num.holds(x) {
			c.add(place, 0, "%s is given; %s is expected. Check the digits and the unit.", figure(x), f.num.wanted())
		}
	case reflect.Int:
		if x := v.Int(); f.num != nil && !f.num.holds(float64(x)) {
			c.add(place, 0, "%d is given; %s is expected.", x, f.num.wanted())
		}
	case reflect.String:
		c.word(v.String(), place, f)
	}
}

func (f field) most() int {
	if f.max > 0 {
		return f.max
	}
	return maxItems
}

func entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return strconv.Itoa(n) + " entries"
}

func (c *checker) word(s, place string, f field) {
	if !utf8.ValidString(s) {
		c.add(place, 0, "The text %q holds bytes that are no UTF-8 text. Type it again.", clip(strings.ToValidUTF8(s, "\ufffd")))
		return
	}
	if len(f.words) == 0 || s == "" && !f.need {
		return
	}
	for _, w := range f.words {
		if w == s {
			return
		}
	}
	if near := nearest(s, f.words); near != "" {
		c.add(place, 0, "%q is not known. Did you mean %q?", clip(s), near)
		return
	}
	c.add(place, 0, "%q is not known; %s is expected.", clip(s), quoteList(f.words))
}

// name checks that a part is called something that fits on a line.
func (c *checker) name(s, place string) {
	const most = 80
	switch {
	case strings.TrimSpace(s) == "":
		c.add(join(place, "name"), 0, "The name is empty. Give it a name, so that findings can say which part they mean.")
	case s != strings.TrimSpace(s):
		c.add(join(place, "name"), 0, "The name %q begins or ends with a blank. Take it out.", clip(s))
	case strings.IndexFunc(s, unicode.IsControl) >= 0:
		c.add(join(place, "name"), 0, "The name %q holds a line break or another control character. Take it out.", clip(s))
	case len([]rune(s)) > most:
		c.add(join(place, "name"), 0, "The name %q has %d letters; at most %d are taken. Shorten it.", clip(s), len([]rune(s)), most)
	}
}

// unlike checks that no two of a list are called the same.
func (c *checker) unlike(list string, names []string) {
	first := map[string]int{}
	for i, n := range names {
		c.name(n, item(list, i))
		if k, twice := first[n]; twice && strings.TrimSpace(n) != "" {
			c.add(join(item(list, i), "name"), 0, "%q is already the name of %s. Give it another.", clip(n), item(list, k))
			continue
		}
		first[n] = i
	}
}
