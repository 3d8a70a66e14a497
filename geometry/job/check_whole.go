package job

import (
	"reflect"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// named is a part's name as the file writes it, and where it stands.
type named struct {
	list  string
	index int
	rod   int // of a rocker, else -1
	name  string
	pair  bool
}

func (n named) place(list string) string {
	if n.rod >= 0 {
		return item(join(item(list, n.index), "rods"), n.rod)
	}
	return item(list, n.index)
}

// answers are the names it goes by: its own, and its twins'.
func (n named) answers() []string {
	if !n.pair {
		return []string{n.name}
	}
	return []string{n.name, n.name + leftWord, n.name + rightWord}
}

// allNamed lists the named parts of j in the order of the file.
func allNamed(j *Job) []named {
	var all []named
	add := func(list string, i int, name string, pair bool) {
		all = append(all, named{list, i, -1, name, pair})
	}
	for i := range j.Links {
		add("links", i, j.Links[i].Name, j.Links[i].Pair)
	}
	for i := range j.Arms {
		add("arms", i, j.Arms[i].Name, j.Arms[i].Pair)
	}
	for i := range j.Rockers {
		add("rockers", i, j.Rockers[i].Name, false)
		for k := range j.Rockers[i].Rods {
			all = append(all, named{"rockers", i, k, j.Rockers[i].Rods[k].Name, false})
		}
	}
	for i := range j.Struts {
		add("struts", i, j.Struts[i].Name, j.Struts[i].Pair)
	}
	for i := range j.Stops {
		add("stops", i, j.Stops[i].Name, j.Stops[i].Pair)
	}
	for i := range j.Straps {
		add("straps", i, j.Straps[i].Name, j.Straps[i].Pair)
	}
	for i := range j.Lines {
		add("lines", i, j.Lines[i].Name, j.Lines[i].Pair)
	}
	for i := range j.Sensors {
		add("sensors", i, j.Sensors[i].Name, j.Sensors[i].Pair)
	}
	for i := range j.Envelopes {
		add("envelopes", i, j.Envelopes[i].Name, j.Envelopes[i].Pair)
	}
	return all
}

// The names parts without a name of their own go by.
const (
	AxleTubeName   = "Axle tube"
	HousingName    = "Housing"
	TyreLeftName   = "Tyre left"
	TyreRightName  = "Tyre right"
	DriveshaftName = "Driveshaft"
)

var reserved = []string{AxleTubeName, HousingName, TyreLeftName, TyreRightName, DriveshaftName}

// whole checks what parts have to do with each other. where gives the place of a list and whether a complaint there is still to be made:
// of a trial only what the trial itself brings in is told; the rest was told of the job.
func (c *checker) whole(j *Job, where func(list string) (place string, own bool)) {
	type owner struct {
		place string
		own   bool
	}
	taken := map[string]owner{}
	for _, r := range reserved {
		taken[r] = owner{}
	}
	for _, n := range allNamed(j) {
		if strings.TrimSpace(n.name) == "" {
			continue
		}
		list, own := where(n.list)
		place := n.place(list)
		clash := ""
		for _, a := range n.answers() {
			if _, is := taken[a]; is && clash == "" {
				clash = a
			}
		}
		if clash != "" {
			o := taken[clash]
			says := "is already the name of " + o.place
			if o.place == "" {
				says = "is what the program calls a part of its own"
			}
			if own || o.own {
				at := place
				if !own { // the trial brought in the other one
					at, says = o.place, "is already the name of "+place
				}
				if clash == n.name {
					c.add(join(at, "name"), 0, "%q %s. Give it another.", clip(clash), says)
				} else {
					c.add(join(at, "name"), 0, "The twins of %q are called %q and %q, and %q %s. Give it another.", clip(n.name), clip(n.name+leftWord), clip(n.name+rightWord), clip(clash), says)
				}
			}
			continue
		}
		for _, a := range n.answers() {
			taken[a] = owner{place, own}
		}
	}
	c.standsOn(j, where)
	c.shaft(j, where)
	c.moved(j, where)
}

// standsOn checks what sensors and struts say they are on.
func (c *checker) standsOn(j *Job, where func(string) (string, bool)) {
	single, pairs := map[string]bool{}, map[string]bool{}
	var known []string
	for _, n := range allNamed(j) {
		if n.list != "links" && n.list != "arms" {
			continue
		}
		if !n.pair {
			single[n.name] = true
			known = append(known, n.name)
			continue
		}
		pairs[n.name] = true
		single[n.name+leftWord], single[n.name+rightWord] = true, true
		known = append(known, n.name, n.name+leftWord, n.name+rightWord)
	}
	_, ownLinks := where("links")
	_, ownArms := where("arms")
	look := func(list string, i int, on string, pair bool) {
		place, own := where(list)
		if on == "" || on == "axle" || !own && !ownLinks && !ownArms {
			return
		}
		p := join(item(place, i), "on")
		switch base, isRight := strings.CutSuffix(on, rightWord); {
		case pair && isRight && pairs[base]:
			c.add(p, 0, "This is one of a pair, of which the left one is given, and it stands on %q. Name %q or the pair, %q.", clip(on), clip(base+leftWord), clip(base))
		case single[on] || pair && pairs[on]:
		case pairs[on]:
			c.add(p, 0, "%q is a pair. Say which: %q or %q.", clip(on), clip(on+leftWord), clip(on+rightWord))
		default:
			if near := nearest(on, append(known, "axle")); near != "" {
				c.add(p, 0, "There is no link or arm called %q here. Did you mean %q?", clip(on), near)
				return
			}
			c.add(p, 0, "There is no link or arm called %q here; \"axle\" or the name of one is expected.", clip(on))
		}
	}
	for i := range j.Sensors {
		look("sensors", i, j.Sensors[i].On, j.Sensors[i].Pair)
	}
	for i := range j.Struts {
		look("struts", i, j.Struts[i].On, j.Struts[i].Pair)
	}
}

// moved checks that there are no more radius arms than can be moved; how many rockers the list may hold its own bound says.
func (c *checker) moved(j *Job, where func(string) (string, bool)) {
	place, own := where("arms")
	if !own {
		return
	}
	n, over := 0, -1
	for i := range j.Arms {
		if !j.Arms[i].IsRadius() {
			continue
		}
		if n++; j.Arms[i].Pair {
			n++
		}
		if n > MostRadiusArms && over < 0 {
			over = i
		}
	}
	if over >= 0 {
		c.add(item(place, over), 0, "There are %d radius arms, twins counted as two; at most %d can be moved. Take %d out.", n, MostRadiusArms, n-MostRadiusArms)
	}
}

// knownNames are all names anything goes by in the job or any of its trials.
func knownNames(j *Job) map[string]bool {
	known := map[string]bool{}
	take := func(j *Job) {
		for _, n := range allNamed(j) {
			if n.list == "envelopes" {
				continue
			}
			for _, a := range n.answers() {
				known[a] = true
			}
		}
	}
	take(j)
	for i := range j.Trials {
		take(trialOnly(&j.Trials[i]))
	}
	known[DriveshaftName] = true
	return known
}

// Tidy takes names that nothing goes by any more out of the carries lists, and holes and brackets of such names, and reports whether there were any.
// A part that was removed, renamed or taken over from a trial leaves them behind; they are no mistake and carry nothing.
func (j *Job) Tidy() bool {
	known := knownNames(j)
	found := false
	tidy := func(list []Envelope) {
		for i := range list {
			e := &list[i]
			var kept []string
			for _, name := range e.Carries {
				if known[name] {
					kept = append(kept, name)
				}
			}
			if len(kept) != len(e.Carries) {
				e.Carries, found = kept, true
			}
		}
	}
	tidy(j.Envelopes)
	for i := range j.Trials {
		tidy(j.Trials[i].Envelopes)
	}
	there := func(name string) bool { return known[name] || known[name+" left"] || known[name+" right"] } // unlinked twins go by the pair's
	was := len(j.Holes) + len(j.Brackets)
	j.Holes = slices.DeleteFunc(slices.Clone(j.Holes), func(h Holes) bool { return !there(h.Of) })
	j.Brackets = slices.DeleteFunc(slices.Clone(j.Brackets), func(b Bracket) bool { return !there(b.Of) })
	if len(j.Holes)+len(j.Brackets) != was {
		found = true
	}
	if len(j.Holes) == 0 {
		j.Holes = nil
	}
	if len(j.Brackets) == 0 {
		j.Brackets = nil
	}
	return found
}

// extras checks what stands beside the geometry.
func (c *checker) extras(j *Job) {
	names := make([]string, len(j.Trials))
	for i := range j.Trials {
		names[i] = j.Trials[i].Name
	}
	c.unlike("trials", names)
	names = make([]string, len(j.Datums))
	for i := range j.Datums {
		names[i] = j.Datums[i].Name
	}
	c.unlike("datums", names)
	for i := range j.Photos {
		if f := j.Photos[i].File; !plainFile(f) {
			c.add(join(item("photos", i), "file"), 0, "The file is %q; the name of a file beside the job file is expected. Put it there and give its bare name.", clip(f))
		}
	}
	for i := range j.SetAside {
		s, p := &j.SetAside[i], item("setAside", i)
		if strings.TrimSpace(s.Finding) == "" {
			c.add(join(p, "finding"), 0, "It does not say which finding is put aside. Name it or take the entry out.")
		}
		if strings.TrimSpace(s.Reason) == "" {
			c.add(join(p, "reason"), 0, "It does not say why the finding is put aside. Give a reason or take the entry out.")
		}
	}
	for i := range j.AsBuilt {
		a, p := &j.AsBuilt[i], item("asBuilt", i)
		if strings.TrimSpace(a.Of) == "" {
			c.add(join(p, "of"), 0, "It does not say which part this is. Name it.")
		}
		c.given(a.Given, a, p)
	}
	c.holes(j)
	c.brackets(j)
	c.keeps(j)
	if s := j.Stood; s != nil {
		if s.Stands != nil {
			c.given(s.Stands.Given, s.Stands, "stood.stands")
		}
		if s.Hanging != nil {
			c.given(s.Hanging.Given, s.Hanging, "stood.hanging")
		}
		if s.Floor != nil {
			c.given(s.Floor.Given, s.Floor, "stood.floor")
		}
	}
}

// given checks that every key of a given group is one of the part's own numbers ("frame.x", "radius", "outline[3].0").
// Of a load, "front" and "rear" (kilograms on the scales) will do as well.
func (c *checker) given(g Given, part any, p string) {
	if len(g) == 0 || len(g) > maxItems {
		return
	}
	v := reflect.ValueOf(part).Elem()
	_, load := part.(*Load)
	for _, key := range sortedKeys(reflect.ValueOf(g)) {
		if load && (key == "front" || key == "rear") {
			continue
		}
		if !isNumber(v, key) {
			c.add(join(join(p, "given"), clip(key)), 0, "%q is no number of this part; a place such as \"frame.x\" or the key of a number is expected. Correct it or take it out.", clip(key))
		}
	}
}

// isNumber reports whether a path within a part leads to one of its numbers, whether it is there or not; list entries must be there.
func isNumber(v reflect.Value, path string) bool {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			v = reflect.Zero(v.Type().Elem())
			continue
		}
		v = v.Elem()
	}
	if path == "" {
		return v.Kind() == reflect.Float64
	}
	switch v.Kind() {
	case reflect.Struct:
		for _, m := range layouts[v.Type()] {
			if m.key != "given" && within(path, m.key) {
				return isNumber(v.Field(m.index), strings.TrimPrefix(path[len(m.key):], "."))
			}
		}
	case reflect.Slice, reflect.Array:
		head, rest, _ := strings.Cut(path, ".")
		if strings.HasPrefix(path, "[") {
			var ok bool
			if head, rest, ok = strings.Cut(path[1:], "]"); !ok {
				return false
			}
			rest = strings.TrimPrefix(rest, ".")
		}
		i, err := strconv.Atoi(head)
		if v.Kind() == reflect.Array && len(head) == 1 {
			if k := strings.IndexByte("xyz", head[0]); k >= 0 {
				i, err = k, nil
			}
		}
		return err == nil && i >= 0 && i < v.Len() && isNumber(v.Index(i), rest)
	}
	return false
}

// sortedKeys are the keys of a map of texts, in order.
func sortedKeys(v reflect.Value) []string {
	keys := make([]string, 0, v.Len())
	for _, k := range v.MapKeys() {
		keys = append(keys, k.String())
	}
	sort.Strings(keys)
	return keys
}
