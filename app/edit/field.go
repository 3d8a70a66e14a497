package edit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Unit is what a field's value is.
type Unit uint8

// The units of fields.
const (
	Text Unit = iota
	Length
	Angle
	Mass
	Number   // a plain number; Suffix says of what
	Bool     // "yes" or "no"
	Choice   // one of Choices
	Points   // places, one after the other: "x, y, z; x, y, z" (outlines: "u, v; u, v")
	LongText // several lines
	ReadOnly // worked out, cannot be set: litres, length
	NameList // names, separated by commas
)

// Field is one number, word or choice of a part, for a generic form.
type Field struct {
	Key      string // place in the part: "frameEnd.bolt", "tube.wall"
	Group    string // heading it stands under: "Frame end"
	Label    string // "Outside"
	Unit     Unit
	Suffix   string // "mm", "in", "deg", "kg", "N/mm", "L" ... to show behind the value
	Choices  []string
	Optional bool    // an empty text takes the value out; Default says what holds then
	Default  string  // "25 mm"
	Text     string  // the value as shown, in the job's unit; "" where there is none
	Value    float64 // mm, deg, kg ... NaN where there is none or it is no number
	Guess    bool    // nobody measured or gave it
	set      func(string) error
}

// Set changes the job the field was read from.
func (f *Field) Set(text string) error {
	if f.set == nil {
		return words.Errorf("%s is worked out, it cannot be typed.", f.Label)
	}
	return f.set(text)
}

// Set changes one field of a part by its key.
func Set(j *job.Job, part Part, key, text string) error {
	list := Fields(j, part)
	if list == nil {
		return errGone
	}
	i := slices.IndexFunc(list, func(f Field) bool { return f.Key == key })
	if i < 0 {
		return words.Errorf("%s has nothing called %q to set.", PartName(j, part), key)
	}
	return list[i].Set(text)
}

// form gathers the fields of a part.
type form struct {
	j     *job.Job
	part  Part
	group string
	list  []Field
	lock  func() error // refuses where the part is measured
}

func (f *form) add(x Field) *Field {
	x.Group = f.group
	if x.Suffix == "" {
		switch x.Unit {
		case Length:
			x.Suffix = shownLength(f.j)
		case Angle:
			x.Suffix = words.T("deg")
		case Mass:
			x.Suffix = shownMass(f.j)
		}
	}
	f.list = append(f.list, x)
	return &f.list[len(f.list)-1]
}

// parse reads a number of a unit; label stands in the complaint.
func (f *form) parse(u Unit, label, text string) (float64, error) {
	var v float64
	var err error
	switch u {
	case Length:
		v, err = parseLength(f.j, text)
	case Mass:
		v, err = parseMass(f.j, text)
	case Angle:
		v, err = parseAngle(text)
	default:
		v, err = parseNumber(text)
	}
	if err != nil {
		return 0, fmt.Errorf("%s: %w", label, err)
	}
	return v, nil
}

// limits of a number; the file's own checks come after.
type bounds struct {
	lo, hi float64
	open   bool // lo itself is not allowed
}

var (
	anyValue = bounds{math.Inf(-1), math.Inf(1), false}
	positive = bounds{0, math.Inf(1), true}
	notNeg   = bounds{0, math.Inf(1), false}
	unitPart = bounds{0, 1, false}
)

func (b bounds) check(label string, v float64) error {
	if v > b.lo && v <= b.hi || v == b.lo && !b.open {
		return nil
	}
	switch {
	case b == unitPart:
		return words.Errorf("%s must be between 0 and 1. You typed %s.", label, plain(v))
	case b == notNeg:
		return words.Errorf("%s must be 0 or more. You typed %s.", label, plain(v))
	case math.IsInf(b.hi, 1):
		return words.Errorf("%s must be more than %s. You typed %s.", label, plain(b.lo), plain(v))
	default:
		return words.Errorf("%s must be between %s and %s. You typed %s.", label, plain(b.lo), plain(b.hi), plain(v))
	}
}

// number is a value the part must have.
func (f *form) number(key, label string, u Unit, v *float64, b bounds) *Field {
	refuse := f.refuse()
	return f.add(Field{Key: key, Label: label, Unit: u, Value: *v, Text: f.show(u, *v), set: func(t string) error {
		if err := refuse(); err != nil {
			return err
		}
		x, err := f.parse(u, label, t)
		if err == nil {
			err = b.check(label, x)
		}
		if err == nil {
			*v = x
		}
		return err
	}})
}

// optional is a value the part may have.
func (f *form) optional(key, label string, u Unit, v **float64, b bounds, def string) *Field {
	refuse := f.refuse()
	x := Field{Key: key, Label: label, Unit: u, Optional: true, Default: def, Value: math.NaN(), set: func(t string) error {
		if err := refuse(); err != nil {
			return err
		}
		if strings.TrimSpace(t) == "" {
			*v = nil
			return nil
		}
		n, err := f.parse(u, label, t)
		if err == nil {
			err = b.check(label, n)
		}
		if err == nil {
			*v = &n
		}
		return err
	}}
	if *v != nil {
		x.Value, x.Text = **v, f.show(u, **v)
	}
	return f.add(x)
}

// refuse is the lock in force now, for a field that is set later.
func (f *form) refuse() func() error {
	if f.lock != nil {
		return f.lock
	}
	return func() error { return nil }
}

func (f *form) show(u Unit, v float64) string {
	switch u {
	case Length:
		return showLength(f.j, v)
	case Mass:
		return showMass(f.j, v)
	}
	return plain(v)
}

// text is free words.
func (f *form) text(key, label string, u Unit, v *string) *Field {
	return f.add(Field{Key: key, Label: label, Unit: u, Optional: true, Text: *v, Value: math.NaN(), set: func(t string) error {
		*v = strings.TrimSpace(t)
		return nil
	}})
}

// name is the part's name.
func (f *form) name() *Field {
	return f.add(Field{Key: "name", Label: words.T("Name"), Unit: Text, Text: PartName(f.j, f.part), Value: math.NaN(), set: func(t string) error {
		return Rename(f.j, f.part, t)
	}})
}

// yesNo is a mark.
func (f *form) yesNo(key, label string, v bool, set func(bool) error) *Field {
	return f.add(Field{Key: key, Label: label, Unit: Bool, Choices: []string{"yes", "no"}, Text: yes(v), Value: math.NaN(), set: func(t string) error {
		switch strings.ToLower(strings.TrimSpace(t)) {
		case "yes", "true":
			return set(true)
		case "no", "false", "":
			return set(false)
		}
		return words.Errorf("%s is yes or no. You typed %q.", label, t)
	}})
}

func yes(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// choice is one of some words; an optional one may be empty.
func (f *form) choice(key, label, now string, optional bool, def string, choices []string, set func(string) error) *Field {
	refuse := f.refuse()
	return f.add(Field{Key: key, Label: label, Unit: Choice, Choices: choices, Optional: optional, Default: def, Text: now, Value: math.NaN(), set: func(t string) error {
		if err := refuse(); err != nil {
			return err
		}
		t = strings.TrimSpace(t)
		if t == "" && optional || slices.Contains(choices, t) {
			return set(t)
		}
		return words.Errorf("%s is one of: %s. You chose %q.", label, strings.Join(choices, ", "), t)
	}})
}

// readOnly is a number worked out.
func (f *form) readOnly(key, label, suffix, text string, v float64) *Field {
	return f.add(Field{Key: key, Label: label, Unit: ReadOnly, Suffix: suffix, Text: text, Value: v})
}

// coordinates are the three numbers of a pivot.
func (f *form) coordinates(p Pivot) {
	s := find(f.j, p)
	at, _ := At(f.j, p)
	for a := X; a <= Z; a++ {
		v := coordinate(at, a)
		label := a.String()
		if name, from, ok := DatumOf(f.j, p, a); ok {
			label, v = words.F("%s from %s", label, name), v-from
		}
		x := Field{Key: s.key + "." + axisKeys[a], Label: label, Unit: Length, Value: v, Text: showLength(f.j, v), Guess: IsGuess(f.j, p, a)}
		if g, ok := GivenOf(f.j, p, a); ok && g.Typed != "" {
			x.Text = g.Typed
		}
		x.set = func(t string) error { return Type(f.j, p, a, t) }
		f.add(x)
	}
	f.yesNo(s.key+".measured", words.T("Measured"), s.isMeasured(), func(m bool) error { return SetMeasured(f.j, p, m) })
}

// point are the three numbers of a place that is no pivot.
func (f *form) point(key, label string, u Unit, v *job.Point) {
	for a := range v {
		f.number(key+"."+axisKeys[a], label+" "+Axis(a).String(), u, &v[a], anyValue)
	}
}

// points are places in one text.
func (f *form) points(key, label string, n int, now [][]float64, least int, set func([][]float64)) *Field {
	var shown []string
	for _, p := range now {
		var one []string
		for _, v := range p {
			one = append(one, showLength(f.j, v))
		}
		shown = append(shown, strings.Join(one, ", "))
	}
	refuse := f.refuse()
	return f.add(Field{Key: key, Label: label, Unit: Points, Suffix: shownLength(f.j), Optional: least == 0, Text: strings.Join(shown, "; "), Value: math.NaN(), set: func(t string) error {
		if err := refuse(); err != nil {
			return err
		}
		var out [][]float64
		for _, w := range strings.FieldsFunc(t, func(r rune) bool { return r == ';' || r == '\n' }) {
			if strings.TrimSpace(w) == "" {
				continue
			}
			parts := strings.Split(w, ",")
			if len(parts) != n {
				return words.Errorf("%s: %q must be %d numbers with commas between them, and a semicolon after each place.", label, strings.TrimSpace(w), n)
			}
			var p []float64
			for _, s := range parts {
				v, err := parseLength(f.j, s)
				if err != nil {
					return fmt.Errorf("%s: %w", label, err)
				}
				for _, was := range now { // what still reads as it was shown is what it was
					if i := len(p); strings.TrimSpace(s) == showLength(f.j, was[i]) {
						v = was[i]
						break
					}
				}
				p = append(p, v)
			}
			out = append(out, p)
		}
		if len(out) < least {
			return words.Errorf("%s needs at least %d places. You typed %d.", label, least, len(out))
		}
		set(out)
		return nil
	}})
}

// plain writes a number with at most four decimals.
func plain(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	s := strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
	if s == "-0" {
		return "0"
	}
	return s
}
