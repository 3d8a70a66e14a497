package edit

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"

	"gonum.org/v1/gonum/spatial/r3"
)

// DatumText is a datum as a hand gives it. A datum has all three places, or just one where it fixes only that (a floor, a rail's top).
type DatumText struct{ Name, X, Y, Z, PlusMinus string }

// DatumTexts are the datums of a job as they are typed.
func DatumTexts(j *job.Job) []DatumText {
	out := make([]DatumText, len(j.Datums))
	for i := range j.Datums {
		d := &j.Datums[i]
		t := DatumText{Name: d.Name}
		if d.PlusMinus != nil {
			t.PlusMinus = showLength(j, *d.PlusMinus)
		}
		for a, s := range []*string{&t.X, &t.Y, &t.Z} {
			if v, ok := fixes(d, Axis(a)); ok {
				*s = showLength(j, v)
			}
		}
		out[i] = t
	}
	return out
}

// fixes is where a datum is along an axis; ok is false where it does not say.
func fixes(d *job.Datum, a Axis) (v float64, ok bool) {
	if d.At == nil || d.Axis != "" && d.Axis != axisKeys[a] {
		return 0, false
	}
	return d.At[a], true
}

func datumAt(j *job.Job, name string) int {
	return slices.IndexFunc(j.Datums, func(d job.Datum) bool { return d.Name == name })
}

// readDatum makes a datum of what was typed.
func readDatum(j *job.Job, t DatumText) (job.Datum, error) {
	d := job.Datum{Name: strings.TrimSpace(t.Name)}
	switch {
	case d.Name == "":
		return d, words.Errorf("The datum has no name. Give one: what one can put a finger on, for example hanger bolt.")
	case len([]rune(d.Name)) > 60:
		return d, words.Errorf("The datum's name is longer than 60 letters. Give a shorter one.")
	case strings.Contains(d.Name, ";") || strings.Contains(d.Name, tapeFrom):
		return d, words.Errorf("A datum's name cannot have a semicolon or \"from\" in it. Give another.")
	}
	var at job.Point
	given := ""
	for a, text := range []string{t.X, t.Y, t.Z} {
		if strings.TrimSpace(text) == "" {
			continue
		}
		v, err := parseLength(j, text)
		if err != nil {
			return d, fmt.Errorf("%s, %s: %w", d.Name, Axis(a), err)
		}
		at[a] = v
		given += axisKeys[a]
	}
	switch len(given) {
	case 1:
		d.Axis = given
	case 3:
	default:
		return d, words.Errorf("%s: give X, Y and Z, or only the one it fixes (a floor: Z).", d.Name)
	}
	d.At = &at
	if strings.TrimSpace(t.PlusMinus) != "" {
		v, err := parseLength(j, t.PlusMinus)
		if err == nil && v < 0 {
			err = words.Errorf("It is below 0.")
		}
		if err != nil {
			return d, fmt.Errorf("%s, ±: %w", d.Name, err)
		}
		d.PlusMinus = &v
	}
	return d, nil
}

// AddDatum adds a datum.
func AddDatum(j *job.Job, t DatumText) error {
	d, err := readDatum(j, t)
	if err != nil {
		return err
	}
	if datumAt(j, d.Name) >= 0 {
		return words.Errorf("There is a datum called %s already. Give another name.", d.Name)
	}
	j.Datums = append(j.Datums, d)
	return nil
}

// Carried is what a corrected datum took along.
type Carried struct {
	Numbers int // coordinates counted from it that moved with it, in the job and its trials; twins once
	Taped   int // pivots placed by tapes from it, worked out again
	Stayed  int // numbers counted from it that are no places in X, Y or Z: they stay
}

// Words say what moved: "Rail top corrected: 6 numbers moved with it."
func (c Carried) Words(name string) string {
	count := func(n int, one, more string) string {
		if n == 1 {
			return "1 " + one
		}
		return strconv.Itoa(n) + " " + more
	}
	out := name + ": "
	switch {
	case c.Numbers+c.Taped == 0:
		out += words.T("nothing hung on it that had to move")
	case c.Taped == 0:
		out += words.F("%s moved with it", count(c.Numbers, words.T("number"), words.T("numbers")))
	case c.Numbers == 0:
		out += words.F("%s placed by tapes from it worked out again", count(c.Taped, words.T("pivot"), words.T("pivots")))
	default:
		out += words.F("%s moved with it, %s placed by tapes worked out again", count(c.Numbers, words.T("number"), words.T("numbers")), count(c.Taped, words.T("pivot"), words.T("pivots")))
	}
	if c.Stayed > 0 {
		out += words.F("; %s: look at them", count(c.Stayed, words.T("number that is no place stayed"), words.T("numbers that are no places stayed")))
	}
	return out + "."
}

// CorrectDatum gives a datum its right place or name. What was counted from it goes along by as much, in the job and in its trials, measured or not; pivots
// placed by tapes from it are worked out again. One edit. A place typed over ends what it was worked out from.
func CorrectDatum(j *job.Job, i int, t DatumText) (Carried, error) {
	var c Carried
	if i < 0 || i >= len(j.Datums) {
		return c, errNoDatum
	}
	d, err := readDatum(j, t)
	if err != nil {
		return c, err
	}
	was := j.Datums[i]
	if k := datumAt(j, d.Name); k >= 0 && k != i {
		return c, words.Errorf("There is a datum called %s already. Give another name.", d.Name)
	}
	d.Note = was.Note
	for a, text := range [3][2]string{{t.X, DatumTexts(j)[i].X}, {t.Y, DatumTexts(j)[i].Y}, {t.Z, DatumTexts(j)[i].Z}} {
		if old, had := fixes(&was, Axis(a)); had && text[0] == text[1] { // as it was shown, to the last digit
			d.At[a] = old
		}
	}
	if was.At != nil && *d.At == *was.At && d.Axis == was.Axis { // its place is as it was worked out
		d.Taken = was.Taken
	}
	return replaceDatum(j, i, d)
}

// replaceDatum puts a datum in the place of another one, and takes along what hangs on it.
func replaceDatum(j *job.Job, i int, d job.Datum) (c Carried, err error) {
	was := j.Datums[i]
	var by [3]float64
	for a := range by {
		old, had := fixes(&was, Axis(a))
		now, has := fixes(&d, Axis(a))
		if had && !has {
			for _, k := range withTrials(j) {
				if hangs(k, was.Name, Axis(a)) {
					return c, words.Errorf("%s: numbers in %s are counted from it, so it must say where it is there.", was.Name, Axis(a))
				}
			}
		}
		if had && has {
			by[a] = now - old
		}
	}
	j.Datums[i] = d
	for _, k := range withTrials(j) {
		carry(k, was.Name, d.Name, by, &c)
	}
	for _, k := range withTrials(j) { // when all else stands where it belongs
		if err := retape(k, was.Name, d.Name, by != [3]float64{}, &c); err != nil {
			return c, err
		}
	}
	renameStood(j, was.Name, d.Name)
	rekeep(j)
	return c, nil
}

// rekeep takes the lengths links keep anew, after places they are kept between were corrected; what the pinion's change is now, whoever has a solver
// fills in.
func rekeep(j *job.Job) {
	for i := range j.Keep {
		k := &j.Keep[i]
		if link := slices.IndexFunc(j.Links, func(l job.Link) bool { return l.Name == k.Of }); k.What == keepLength && k.Value != nil && link >= 0 {
			length := math.Round(LinkLength(j, link)*decimals) / decimals
			k.Value = &length
		}
		if k.What == keepPinion {
			k.Value = nil
		}
	}
}

var errNoDatum = words.Sentence("That datum is no longer in the job. Take another one.")

// RemoveDatum takes a datum out. What was counted from it stays where it is and is counted as the job counts; it tells how many numbers that are.
func RemoveDatum(j *job.Job, i int) (counted int, err error) {
	if i < 0 || i >= len(j.Datums) {
		return 0, errNoDatum
	}
	name := j.Datums[i].Name
	if why := stoodFrom(j, name); why != "" {
		return 0, errors.New(why)
	}
	for _, k := range withTrials(j) {
		for _, p := range Pivots(k) {
			for a := X; a <= Z; a++ {
				if g, ok := GivenOf(k, p, a); ok && g.Source == tapesSource && slices.ContainsFunc(splitTapes(g.From), func(t TapeText) bool { return t.From == name }) {
					return 0, words.Errorf("%s is placed by a tape from %s. Place it in another way first.", Name(k, p), name)
				}
			}
		}
	}
	for _, k := range withTrials(j) {
		eachGiven(k, func(given *job.Given, place func(string) (*float64, Axis)) {
			for key, g := range *given {
				if g.From != name {
					continue
				}
				counted++
				v, _ := place(key)
				if g.From = ""; g.Typed != "" && v != nil {
					g.Typed = showLength(j, *v) // as the job counts it
				}
				setGiven(given, key, g)
			}
		})
	}
	j.Datums = slices.Delete(j.Datums, i, i+1)
	if len(j.Datums) == 0 {
		j.Datums = nil
	}
	return counted, nil
}

// withTrials is the job and what its trials have of their own, each as a job that shares its parts.
func withTrials(j *job.Job) []*job.Job {
	out := []*job.Job{j}
	for i := range j.Trials {
		t := &j.Trials[i]
		out = append(out, &job.Job{Axle: t.Axle, Driveline: t.Driveline, Links: t.Links, Arms: t.Arms, Rockers: t.Rockers, Struts: t.Struts, Stops: t.Stops, Straps: t.Straps, Lines: t.Lines,
			Sensors: t.Sensors, Envelopes: t.Envelopes, Datums: j.Datums, Shown: j.Shown})
	}
	return out
}

// eachGiven calls f with every group of given numbers of parts that have places, and with what finds the number of a key and its axis (nil: no place).
func eachGiven(j *job.Job, f func(*job.Given, func(string) (*float64, Axis))) {
	var seen []*job.Given
	for _, p := range Pivots(j) {
		s := find(j, p)
		if slices.Contains(seen, s.given) {
			continue
		}
		seen = append(seen, s.given)
		f(s.given, func(key string) (*float64, Axis) {
			for _, q := range Pivots(j) {
				if o := find(j, q); o.given == s.given {
					for a := range axisKeys {
						if o.key+"."+axisKeys[a] == key {
							return &o.at[a], Axis(a)
						}
					}
				}
			}
			return nil, 0
		})
	}
	for i := range j.Envelopes {
		e := &j.Envelopes[i]
		f(&e.Given, func(key string) (*float64, Axis) {
			for name, at := range map[string]*job.Point{"min": e.Min, "max": e.Max, "centre": e.Centre} {
				for a := range axisKeys {
					if at != nil && name+"."+axisKeys[a] == key {
						return &at[a], Axis(a)
					}
				}
			}
			for i := range e.Path {
				for a := range axisKeys {
					if fmt.Sprintf("path[%d].%s", i, axisKeys[a]) == key {
						return &e.Path[i][a], Axis(a)
					}
				}
			}
			u, w, third := planeAxes(e.Plane)
			for i := range e.Outline {
				for k, a := range []int{u, w} {
					if fmt.Sprintf("outline[%d].%d", i, k) == key {
						return &e.Outline[i][k], Axis(a)
					}
				}
			}
			switch {
			case e.Kind == "prism" && key == "from" && e.From != nil:
				return e.From, Axis(third)
			case e.Kind == "prism" && key == "to" && e.To != nil:
				return e.To, Axis(third)
			}
			return nil, 0
		})
	}
}

// hangs reports whether a coordinate along an axis is counted from a datum.
func hangs(j *job.Job, name string, a Axis) (found bool) {
	eachGiven(j, func(given *job.Given, place func(string) (*float64, Axis)) {
		for key, g := range *given {
			if v, axis := place(key); g.From == name && v != nil && axis == a {
				found = true
			}
		}
	})
	return found
}

// carry shifts what is counted from a datum and gives the datum its new name there.
func carry(j *job.Job, was, now string, by [3]float64, c *Carried) {
	eachGiven(j, func(given *job.Given, place func(string) (*float64, Axis)) {
		for key, g := range *given {
			if g.From != was {
				continue
			}
			switch v, a := place(key); {
			case v == nil:
				if by != [3]float64{} {
					c.Stayed++
				}
			case by[a] != 0:
				*v = math.Round((*v+by[a])*decimals) / decimals
				c.Numbers++
			}
			g.From = now
			(*given)[key] = g
		}
	})
}

// DatumsFixing are the names of the datums that say where they are along an axis.
func DatumsFixing(j *job.Job, a Axis) []string {
	var out []string
	for i := range j.Datums {
		if _, ok := fixes(&j.Datums[i], a); ok {
			out = append(out, j.Datums[i].Name)
		}
	}
	return out
}

// DatumOf is the datum a coordinate is counted from and where that is; ok is false where it is counted as the job counts. For the twin that is the mirror of
// what the file gives, a datum counts from its mirror place in Y.
func DatumOf(j *job.Job, p Pivot, a Axis) (name string, at float64, ok bool) {
	g, _ := GivenOf(j, p, a)
	i := datumAt(j, g.From)
	if i < 0 {
		return "", 0, false
	}
	at, ok = fixes(&j.Datums[i], a)
	if ok && a == Y && find(j, p).mirrored(p) {
		at = -at
	}
	return j.Datums[i].Name, at, ok
}

// SetDatum counts a coordinate from a datum, "" from where the job counts. The pivot stays where it is.
func SetDatum(j *job.Job, p Pivot, a Axis, name string) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	if name != "" {
		i := datumAt(j, name)
		if i < 0 {
			return errNoDatum
		}
		if _, ok := fixes(&j.Datums[i], a); !ok {
			return words.Errorf("%s does not say where it is in %s. Choose another datum.", name, a)
		}
		if a == Y && s.mirrored(p) {
			return words.Errorf("%s mirrors its twin in Y. Take the left one, and choose its datum.", s.words(p))
		}
	}
	key := s.key + "." + axisKeys[a]
	g := (*s.given)[key]
	given := isGiven(g)
	if _, taped := IsTaped(g); taped || g.Taken != nil {
		g.Source, g.Taken = "", nil
	}
	g.From, g.Typed = name, ""
	setGiven(s.given, key, g)
	if !given {
		return nil
	}
	at, _ := At(j, p)
	v := coordinate(at, a)
	if _, from, ok := DatumOf(j, p, a); ok {
		v -= from
	}
	g.Typed = showLength(j, v) // what it comes to, counted so
	if a == Y && s.mirrored(p) {
		g.Typed = negated(g.Typed)
	}
	if isGiven(job.GivenValue{Source: g.Source, PlusMinus: g.PlusMinus}) {
		g.Typed = ""
	}
	setGiven(s.given, key, g)
	return nil
}

// SquareWords looks at four datums in their order round, with the diagonals as typed ("" where none is measured), and says how square and level they lie.
func SquareWords(j *job.Job, names [4]string, diagonals [2]string) (string, error) {
	var c [4]r3.Vec
	for i, n := range names {
		k := datumAt(j, strings.TrimSpace(n))
		if k < 0 {
			return "", words.Errorf("Corner %d: there is no datum called %q. Type the name of one that has X, Y and Z.", i+1, strings.TrimSpace(n))
		}
		d := &j.Datums[k]
		if d.At == nil || d.Axis != "" {
			return "", words.Errorf("Corner %d: %s fixes only one of X, Y and Z. Choose one that has all three.", i+1, d.Name)
		}
		c[i] = d.At.Vec()
	}
	var typed [2]float64
	for i, text := range diagonals {
		if strings.TrimSpace(text) == "" {
			continue
		}
		v, err := parseLength(j, text)
		if err == nil && v <= 0 {
			err = words.Errorf("It must be more than 0.")
		}
		if err != nil {
			return "", words.Errorf("Diagonal %d to %d: %w", i+1, i+3, err)
		}
		typed[i] = v
	}
	q, err := measure.Square(c, typed)
	if err != nil {
		return "", err
	}
	show := func(mm float64) string { return measure.Format(math.Round(mm*10)/10, shownUnit(j), 0) }
	var out []string
	for i, m := range q.Misfit {
		if math.IsNaN(m) {
			continue
		}
		out = append(out, words.F("Diagonal %d to %d: %s typed, %s by the datums, %s apart.", i+1, i+3, show(typed[i]), show(q.Diagonals[i]), show(math.Abs(m))))
	}
	by := words.T("By the datums")
	if typed[0] > 0 && typed[1] > 0 {
		by = words.T("By the diagonals typed")
	}
	if math.Abs(q.Skew) < 0.5 {
		out = append(out, words.F("%s they lie square.", by))
	} else {
		out = append(out, words.F("%s they are out of square: side 3 to 4 is pushed %s along side 1 to 2.", by, show(math.Abs(q.Skew))))
	}
	out = append(out, words.F("Level: end 2 to 3 is %s, end 3 to 4 is %s; one corner stands %s off the plane of the other three.", higher(show, q.Rise[0]), higher(show, q.Rise[1]), show(math.Abs(q.Twist))))
	return strings.Join(out, " "), nil
}

func higher(show func(float64) string, mm float64) string {
	switch {
	case math.Abs(mm) < 0.5:
		return words.T("as high as the other")
	case mm < 0:
		return words.F("%s lower", show(-mm))
	}
	return words.F("%s higher", show(mm))
}
