package study

import (
	"math"
	"reflect"
	"slices"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Difference is one thing in which a job differs from another.
type Difference struct {
	Kind  DifferenceKind
	What  string // "Panhard rod, axle end"
	Words string // "35 mm lower"
}

// String is the difference as a sentence's beginning: "Panhard rod, axle end: 35 mm lower".
func (d Difference) String() string { return d.What + ": " + d.Words }

// DifferenceKind is what kind of thing differs.
type DifferenceKind uint8

// The kinds, in the order they are told in.
const (
	MovedThere  DifferenceKind = iota // a pivot or a part stands in another place
	LengthAfter                       // a length that follows
	AddedPart
	RemovedPart
	RenamedPart
	OtherFigure  // a number or a choice of a part
	FreedPart    // counted as measured there, not here
	MeasuredPart // the other way round
	PutAside     // a finding set aside
	BroughtBack  // set aside there, not here
)

// Key is the kind's name in files.
func (k DifferenceKind) Key() string {
	return [...]string{words.T("moved"), words.T("length"), words.T("added"), words.T("taken out"), words.T("renamed"), words.T("changed"), words.T("freed"), words.T("measured"), words.T("set aside"), words.T("brought back")}[k]
}

// Head is the kind as a list of differences heads it.
func (k DifferenceKind) Head() string {
	switch k {
	case MovedThere:
		return words.T("Moved")
	case LengthAfter:
		return words.T("Lengths that follow")
	case AddedPart:
		return words.T("Added")
	case RemovedPart:
		return words.T("Taken out")
	case RenamedPart:
		return words.T("Renamed")
	case OtherFigure:
		return words.T("Changed")
	case FreedPart:
		return words.T("Freed: measured before, planned now")
	case MeasuredPart:
		return words.T("Measured since")
	case PutAside:
		return words.T("Set aside")
	default:
		return words.T("No longer set aside")
	}
}

// samePlace is how far two places may lie apart and still be told as one, mm.
const samePlace = 0.05

// Differences lists in what now differs from was, in words and in the unit of now, by kind and then in file order. Two jobs that hold the same have none.
func Differences(was, now *job.Job) []Difference {
	d := &differ{was: was, now: now, w: &wording{inch: now.Shown != nil && now.Shown.Length == "in"}}
	if was.Shown != now.Shown { // figures of both in one unit
		c := *was
		c.Shown = now.Shown
		d.was = &c
	}
	for l := edit.Links; l <= edit.Bearing; l++ {
		d.list(l)
	}
	d.aside()
	slices.SortStableFunc(d.out, func(a, b Difference) int { return int(a.Kind) - int(b.Kind) })
	return d.out
}

type differ struct {
	was, now *job.Job
	w        *wording
	out      []Difference
}

func (d *differ) add(k DifferenceKind, what, text string) {
	d.out = append(d.out, Difference{k, what, text})
}

// list compares the entries of one list, matched by their names; of those that have a match in neither, ones that differ in nothing but their name are the same.
func (d *differ) list(l edit.List) {
	before, after := partsOf(d.was, l), partsOf(d.now, l)
	match := make([]int, len(after)) // the entry before, -1 none
	taken := make([]bool, len(before))
	for i, name := range after {
		match[i] = -1
		for k, other := range before {
			if !taken[k] && other == name {
				match[i], taken[k] = k, true
				break
			}
		}
	}
	for i := range after {
		if match[i] >= 0 {
			continue
		}
		for k := range before {
			if !taken[k] && d.onlyName(l, k, i) {
				match[i], taken[k] = k, true
				d.add(RenamedPart, after[i], words.F("was called %s", before[k]))
				break
			}
		}
	}
	for k := range before {
		if !taken[k] {
			d.add(RemovedPart, before[k], words.T("is not there"))
		}
	}
	for i := range after {
		if match[i] < 0 {
			d.add(AddedPart, after[i], words.T("was not there"))
			continue
		}
		d.part(edit.Part{List: l, Index: match[i]}, edit.Part{List: l, Index: i}, after[i])
	}
}

func partsOf(j *job.Job, l edit.List) []string {
	out := make([]string, edit.Len(j, l))
	for i := range out {
		out[i] = edit.PartName(j, edit.Part{List: l, Index: i})
	}
	return out
}

// onlyName reports whether two entries stand in the same places: then they are one thing under two names.
func (d *differ) onlyName(l edit.List, k, i int) bool {
	a, b := edit.Part{List: l, Index: k}, edit.Part{List: l, Index: i}
	pa, pb := pivotsOf(d.was, a), pivotsOf(d.now, b)
	if len(pa) != len(pb) || len(pa) == 0 {
		return false
	}
	for n := range pa {
		x, _ := edit.At(d.was, pa[n])
		y, _ := edit.At(d.now, pb[n])
		if r3.Norm(r3.Sub(x, y)) > samePlace {
			return false
		}
	}
	return true
}

func pivotsOf(j *job.Job, part edit.Part) []edit.Pivot {
	var out []edit.Pivot
	for _, p := range edit.Pivots(j) {
		if edit.PartOf(p) == part {
			out = append(out, p)
		}
	}
	return out
}

// part compares one entry with itself.
func (d *differ) part(before, after edit.Part, name string) {
	d.pivots(before, after, name)
	moved := after.List == edit.Envelopes && d.envelope(before, after, name)
	d.fields(before, after, name, moved)
	if after.List == edit.Links {
		x, y := edit.LinkLength(d.was, before.Index), edit.LinkLength(d.now, after.Index)
		if math.Abs(x-y) > samePlace {
			d.add(LengthAfter, name, words.F("%s pivot to pivot, was %s (%s)", d.w.length(y), d.w.length(x), d.w.longer(y-x)))
		}
	}
}

// longer words a change of a length.
func (w *wording) longer(by float64) string {
	if by < 0 {
		return words.F("%s shorter", w.length(-by))
	}
	return words.F("%s longer", w.length(by))
}

// pivots tells which pivots moved, the whole part where they all moved alike, and which were freed.
func (d *differ) pivots(before, after edit.Part, name string) {
	var by []r3.Vec
	var at []edit.Pivot
	alike := true
	for _, p := range pivotsOf(d.now, after) {
		q := p
		if p.List != edit.Output && p.List != edit.Pinion && p.List != edit.Bearing {
			q.Index = before.Index
		}
		x, ok := edit.At(d.was, q)
		y, _ := edit.At(d.now, p)
		whole := p
		whole.Side = job.Single // a pair is one thing here
		if !ok {
			d.add(AddedPart, edit.Name(d.now, whole), words.T("was not there"))
			alike = false
			continue
		}
		move := r3.Sub(y, x)
		alike = alike && (len(by) == 0 || r3.Norm(r3.Sub(move, by[0])) <= samePlace)
		by, at = append(by, move), append(at, p)
		switch m, now := edit.IsMeasured(d.was, q), edit.IsMeasured(d.now, p); {
		case m && !now:
			d.add(FreedPart, edit.Name(d.now, whole), words.T("is free to move"))
		case now && !m:
			d.add(MeasuredPart, edit.Name(d.now, whole), words.T("is measured"))
		}
	}
	if len(by) > 1 && alike {
		if text := d.move(by[0], at[0]); text != "" {
			d.add(MovedThere, name, text)
		}
		return
	}
	for i := range by {
		if text := d.move(by[i], at[i]); text != "" {
			whole := at[i]
			whole.Side = job.Single
			d.add(MovedThere, edit.Name(d.now, whole), text)
		}
	}
}

// move words how far a pivot moved: "12 mm further forward, 35 mm lower". A pair goes in or out, anything else left or right.
func (d *differ) move(by r3.Vec, p edit.Pivot) string {
	var parts []string
	put := func(v float64, plus, minus func(string) string) {
		switch n := d.w.length(math.Abs(v)); {
		case v > samePlace:
			parts = append(parts, plus(n))
		case v < -samePlace:
			parts = append(parts, minus(n))
		}
	}
	put(by.X, func(n string) string { return words.F("%s further forward", n) }, func(n string) string { return words.F("%s further back", n) })
	if p.Side != job.Single {
		put(by.Y, func(n string) string { return words.F("%s further out", n) }, func(n string) string { return words.F("%s further in", n) })
	} else {
		put(by.Y, func(n string) string { return words.F("%s further left", n) }, func(n string) string { return words.F("%s further right", n) })
	}
	put(by.Z, func(n string) string { return words.F("%s higher", n) }, func(n string) string { return words.F("%s lower", n) })
	return strings.Join(parts, ", ")
}

// envelope tells that a part in the way was moved whole; it reports whether it was that and nothing else of its shape differs.
func (d *differ) envelope(before, after edit.Part, name string) bool {
	a, b := &d.was.Envelopes[before.Index], &d.now.Envelopes[after.Index]
	if a.Kind != b.Kind || a.Kind == "mesh" {
		return false
	}
	by := r3.Sub(anchor(b), anchor(a))
	if r3.Norm(by) <= samePlace {
		return false
	}
	c := d.was.Clone()
	e := &c.Envelopes[before.Index]
	e.Measured = nil
	if edit.MovePart(c, edit.Part{List: edit.Envelopes, Index: before.Index}, by) != nil || !sameShape(e, b) {
		return false
	}
	p := edit.Pivot{}
	if b.Pair {
		p.Side = job.Left
	}
	if text := d.move(by, p); text != "" {
		d.add(MovedThere, name, text)
	}
	return true
}

// anchor is a place of a part in the way that goes with it.
func anchor(e *job.Envelope) r3.Vec {
	switch {
	case e.Min != nil:
		return e.Min.Vec()
	case e.Centre != nil:
		return e.Centre.Vec()
	case len(e.Path) > 0:
		return e.Path[0].Vec()
	case len(e.Outline) > 0 && e.From != nil:
		u, v := e.Outline[0][0], e.Outline[0][1]
		switch e.Plane {
		case "plan":
			return r3.Vec{X: u, Y: v, Z: *e.From}
		case "rear":
			return r3.Vec{X: *e.From, Y: u, Z: v}
		}
		return r3.Vec{X: u, Y: *e.From, Z: v}
	}
	return r3.Vec{}
}

// sameShape reports whether two parts in the way have every place and size alike.
func sameShape(a, b *job.Envelope) bool {
	sizes := func(e *job.Envelope) (out []float64) {
		for _, p := range []*job.Point{e.Min, e.Max, e.Centre, e.Turn} {
			if p != nil {
				out = append(out, p[:]...)
			}
		}
		for _, v := range []*float64{e.From, e.To, e.Radius, e.Outside} {
			if v != nil {
				out = append(out, *v)
			}
		}
		for _, p := range e.Outline {
			out = append(out, p[:]...)
		}
		for _, p := range e.Path {
			out = append(out, p[:]...)
		}
		return out
	}
	x, y := sizes(a), sizes(b)
	return a.Plane == b.Plane && len(x) == len(y) && !slices.ContainsFunc(indices(len(x)), func(i int) bool { return math.Abs(x[i]-y[i]) > samePlace })
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// fields tells which numbers and choices differ that are no places of pivots.
func (d *differ) fields(before, after edit.Part, name string, moved bool) {
	pivots := map[string]bool{}
	for _, p := range pivotsOf(d.now, after) {
		for a := edit.X; a <= edit.Z; a++ {
			pivots[edit.PivotKey(d.now, p)+"."+strings.ToLower(a.String())] = true
		}
	}
	old := map[string]edit.Field{}
	for _, f := range edit.Fields(d.was, before) {
		old[f.Key] = f
	}
	group := ""
	if moved {
		group = words.T("Where it is")
	}
	for _, f := range edit.Fields(d.now, after) {
		o, ok := old[f.Key]
		switch {
		case f.Key == "name" || f.Unit == edit.ReadOnly || pivots[f.Key] || moved && f.Group == group:
			continue
		case strings.HasSuffix(f.Key, ".measured"):
			continue // told of its pivot
		case f.Key == "measured":
			if ok && o.Text == "yes" && f.Text != "yes" {
				d.add(FreedPart, name, words.T("is free to move"))
			}
			if ok && o.Text != "yes" && f.Text == "yes" {
				d.add(MeasuredPart, name, words.T("is measured"))
			}
			continue
		case ok && sameField(&o, &f):
			continue
		}
		label := Lower(f.Label)
		if f.Group != "" {
			label = Lower(f.Group) + ", " + label
		}
		was := words.T("nothing")
		if ok {
			was = fieldText(&o)
		}
		d.add(OtherFigure, name, words.F("%s: %s, was %s", label, fieldText(&f), was))
	}
}

func sameField(a, b *edit.Field) bool {
	if !math.IsNaN(a.Value) && !math.IsNaN(b.Value) {
		return math.Abs(a.Value-b.Value) <= 1e-6
	}
	return strings.TrimSpace(a.Text) == strings.TrimSpace(b.Text)
}

// fieldText is a field's value with its unit, or what holds where it has none.
func fieldText(f *edit.Field) string {
	switch {
	case strings.TrimSpace(f.Text) == "" && f.Default != "":
		return f.Default
	case strings.TrimSpace(f.Text) == "":
		return words.T("nothing")
	case f.Suffix != "" && f.Unit != edit.Choice && !strings.ContainsAny(f.Text, "\"'"):
		return f.Text + " " + f.Suffix
	}
	return f.Text
}

// aside tells which findings were set aside.
func (d *differ) aside() {
	find := func(list []job.SetAside, key string) *job.SetAside {
		for i := range list {
			if list[i].Finding == key {
				return &list[i]
			}
		}
		return nil
	}
	what := func(key string) string {
		parts := strings.Split(key, "/")
		for i := range parts {
			if i > 1 {
				parts[i] = Lower(parts[i])
			}
		}
		return strings.Join(parts[min(1, len(parts)-1):], " / ")
	}
	for i := range d.now.SetAside {
		a := &d.now.SetAside[i]
		if o := find(d.was.SetAside, a.Finding); o == nil || !reflect.DeepEqual(o.Reason, a.Reason) {
			d.add(PutAside, what(a.Finding), a.Reason)
		}
	}
	for i := range d.was.SetAside {
		if a := &d.was.SetAside[i]; find(d.now.SetAside, a.Finding) == nil {
			d.add(BroughtBack, what(a.Finding), words.F("was set aside there: %s", a.Reason))
		}
	}
}
