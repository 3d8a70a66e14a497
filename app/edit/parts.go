package edit

import (
	"fmt"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// entry is what every entry of a list has: where its name and its pair mark stand (nil where it has none).
type entry struct {
	name *string
	pair *bool
}

func at(j *job.Job, part Part) (entry, bool) {
	i := part.Index
	if r := list(j, part.List); r != nil && i >= 0 && i < r.len() {
		return r.entry(i), true
	}
	return entry{}, i >= 0 && i < single(j, part.List)
}

// Len is how many entries a list has; a single thing (Output, Vehicle, Driveline ...) counts one where the job has it.
func Len(j *job.Job, l List) int {
	if r := list(j, l); r != nil {
		return r.len()
	}
	return single(j, l)
}

// single counts what is no list: one where the job has it.
func single(j *job.Job, l List) int {
	has := false
	switch l {
	case Output:
		has = j.Driveline != nil && j.Driveline.Output != nil
	case Bearing:
		has = j.Driveline != nil && j.Driveline.Bearing != nil
	case Pinion:
		has = j.Axle != nil && j.Axle.Pinion != nil
	case AxleTube:
		has = j.Axle != nil && j.Axle.Tube != nil
	case Driveline:
		has = j.Driveline != nil
	case Vehicle:
		has = j.Vehicle != nil
	case Travel, JobCard:
		has = true // there is always a place to enter it
	case Standing:
		return len(Stoods)
	}
	if has {
		return 1
	}
	return 0
}

// PartName is the name of an entry: "Tank shelf", "Driveshaft"; "" where there is no such part.
func PartName(j *job.Job, part Part) string {
	e, ok := at(j, part)
	if !ok {
		return ""
	}
	if part.List == Housing {
		if e.name != nil && *e.name != "" {
			return *e.name
		}
		return words.F("Housing, piece %d", part.Index+1)
	}
	switch part.List {
	case Standing:
		return standingName(part.Index)
	case Brackets:
		return bracketName(j, part.Index)
	}
	if e.name != nil {
		return *e.name
	}
	return map[List]string{Output: words.T("Output joint"), Pinion: words.T("Pinion joint"), Vehicle: words.T("Vehicle"), AxleTube: words.T("Axle tube"),
		Driveline: words.T("Driveshaft"), Travel: words.T("Travel entered"), Bearing: words.T("Centre bearing"), JobCard: words.T("Job card")}[part.List]
}

// IsPair reports whether an entry stands for two, left and right.
func IsPair(j *job.Job, part Part) bool {
	e, ok := at(j, part)
	return ok && e.pair != nil && *e.pair
}

// fixedNames are what the program itself calls parts.
var fixedNames = []string{"Axle tube", "Housing", "Tyre left", "Tyre right", "Driveshaft"}

// takenNames are all names of parts in use, twins' names included, but the one at skip.
func takenNames(j *job.Job, skip *string) map[string]bool {
	taken := map[string]bool{}
	for _, n := range fixedNames {
		taken[strings.ToLower(n)] = true
	}
	put := func(name *string, pair bool) {
		if name == skip {
			return
		}
		n := strings.ToLower(*name)
		taken[n] = true
		if pair {
			taken[n+" left"], taken[n+" right"] = true, true
		}
	}
	for _, l := range []List{Links, Arms, Rockers, Struts, Stops, Straps, Lines, Sensors, Envelopes} {
		for i := range Len(j, l) {
			e, _ := at(j, Part{l, i})
			put(e.name, e.pair != nil && *e.pair)
		}
	}
	for i := range j.Rockers {
		for k := range j.Rockers[i].Rods {
			put(&j.Rockers[i].Rods[k].Name, false)
		}
	}
	return taken
}

// FreeName is name, or "name 2", "name 3" ... where it is taken.
func FreeName(j *job.Job, name string) string { return free(takenNames(j, nil), name) }

func free(taken map[string]bool, name string) string {
	clash := func(n string) bool {
		n = strings.ToLower(n)
		return taken[n] || taken[n+" left"] || taken[n+" right"]
	}
	for n, try := 2, name; ; n++ {
		if !clash(try) {
			return try
		}
		try = fmt.Sprintf("%s %d", name, n)
	}
}

// namesOf are the names used within a list whose names need only differ among themselves: loads, heights, trials.
func namesOf(j *job.Job, l List, skip int) map[string]bool {
	taken := map[string]bool{}
	for i := range Len(j, l) {
		if e, _ := at(j, Part{l, i}); i != skip {
			taken[strings.ToLower(*e.name)] = true
		}
	}
	return taken
}

// checkName trims a name and refuses an empty one or one that is taken.
func checkName(taken map[string]bool, name string, pair bool) (string, error) {
	name = strings.TrimSpace(name)
	if name == "" {
		return "", words.Errorf("A name is missing. Type what the part is called.")
	}
	if len([]rune(name)) > 60 {
		return "", words.Errorf("The name is longer than 60 letters. Type a shorter one.")
	}
	n := strings.ToLower(name)
	if taken[n] || pair && (taken[n+" left"] || taken[n+" right"]) {
		return "", words.Errorf("%q is taken. %q is free.", name, free(taken, name))
	}
	return name, nil
}

// Rename gives an entry another name; carries lists, keeps, set-aside findings and the trials' own copies follow.
func Rename(j *job.Job, part Part, name string) error {
	e, ok := at(j, part)
	if !ok || e.name == nil {
		return errGone
	}
	if part.List == Housing {
		*e.name = strings.TrimSpace(name)
		return nil
	}
	taken := namesOf(j, part.List, part.Index)
	pair := e.pair != nil && *e.pair
	if part.List != Loads && part.List != Heights {
		taken = takenNames(j, e.name)
	}
	name, err := checkName(taken, name, pair)
	if err != nil {
		return err
	}
	old := *e.name
	if part.List != Loads && part.List != Heights && old != name {
		if err := freeInTrials(j, part.List, old, name); err != nil {
			return err
		}
	}
	*e.name = name
	if part.List == Loads || part.List == Heights || old == name {
		return nil
	}
	follow(j, old, name, pair)
	if part.List == Struts {
		renameHung(j, old, name)
	}
	eachTrial(j, func(t *job.Job) { // a trial's own copy of the part is the same part
		for k := range Len(t, part.List) {
			if e, _ := at(t, Part{part.List, k}); *e.name == old {
				*e.name = name
			}
		}
		follow(t, old, name, pair)
	})
	return nil
}

// freeInTrials refuses a new name for a part that a trial has too, where another part has that name in the trial.
func freeInTrials(j *job.Job, l List, old, name string) error {
	for i := range j.Trials {
		t, err := j.WithTrial(j.Trials[i].Name)
		if err != nil {
			continue
		}
		for k := range Len(t, l) {
			e, _ := at(t, Part{l, k})
			if *e.name != old {
				continue
			}
			if _, bad := checkName(takenNames(t, e.name), name, e.pair != nil && *e.pair); bad != nil {
				return words.Errorf("In trial %q: %w", j.Trials[i].Name, bad)
			}
		}
	}
	return nil
}

// eachTrial calls f with what each trial has of its own, as a job; what f writes into the parts is the trial's.
func eachTrial(j *job.Job, f func(*job.Job)) {
	for i := range j.Trials {
		t := &j.Trials[i]
		f(&job.Job{Links: t.Links, Arms: t.Arms, Rockers: t.Rockers, Struts: t.Struts, Stops: t.Stops, Straps: t.Straps, Lines: t.Lines, Sensors: t.Sensors, Envelopes: t.Envelopes})
	}
}

// renameRod gives a rocker's rod another name; carries lists follow, the trials' own copies too.
func renameRod(j *job.Job, rocker, rod int, name string) error {
	at := &j.Rockers[rocker].Rods[rod].Name
	name, err := checkName(takenNames(j, at), name, false)
	if err != nil {
		return err
	}
	old := *at
	if *at = name; old == name {
		return nil
	}
	follow(j, old, name, false)
	eachTrial(j, func(t *job.Job) {
		for i := range t.Rockers {
			for k := range t.Rockers[i].Rods {
				if t.Rockers[i].Rods[k].Name == old {
					t.Rockers[i].Rods[k].Name = name
				}
			}
		}
		follow(t, old, name, false)
	})
	return nil
}

// follow renames a part wherever it is named, its twins with it.
func follow(j *job.Job, old, name string, pair bool) {
	follow1(j, old, name)
	if pair {
		follow1(j, old+" left", name+" left")
		follow1(j, old+" right", name+" right")
	}
}

func follow1(j *job.Job, old, name string) {
	for i := range j.Envelopes {
		for k, c := range j.Envelopes[i].Carries {
			if c == old {
				j.Envelopes[i].Carries[k] = name
			}
		}
	}
	for i := range j.Keep {
		if j.Keep[i].Of == old {
			j.Keep[i].Of = name
		}
	}
	holesFollow(j, old, name)
	for i := range j.Brackets {
		if j.Brackets[i].Of == old {
			j.Brackets[i].Of = name
		}
	}
	for i := range j.AsBuilt {
		if j.AsBuilt[i].Of == old {
			j.AsBuilt[i].Of = name
		}
	}
	for i := range j.Struts {
		if j.Struts[i].On == old {
			j.Struts[i].On = name
		}
	}
	for i := range j.Sensors {
		if j.Sensors[i].On == old {
			j.Sensors[i].On = name
		}
	}
	for i := range j.SetAside {
		phrase := strings.Split(j.SetAside[i].Finding, "/")
		for k := range phrase {
			if phrase[k] == old {
				phrase[k] = name
			}
		}
		j.SetAside[i].Finding = strings.Join(phrase, "/")
	}
}

// standOn tells who stands on a link or arm: a strut or a sensor, by name; "" where nobody does.
func standOn(j *job.Job, name string) string {
	is := func(on string) bool { return on == name || on == name+" left" || on == name+" right" }
	for i := range j.Struts {
		if is(j.Struts[i].On) {
			return j.Struts[i].Name
		}
	}
	for i := range j.Sensors {
		if is(j.Sensors[i].On) {
			return j.Sensors[i].Name
		}
	}
	return ""
}

// Remove takes an entry out. Carries lists that still name it are put right by (*job.Job).Tidy, which knows the trials too.
func Remove(j *job.Job, part Part) error {
	e, ok := at(j, part)
	if !ok {
		return errGone
	}
	if part.List == Links || part.List == Arms {
		if who := standOn(j, *e.name); who != "" {
			return words.Errorf("%s stands on %s. Put it on something else first, or remove it.", who, *e.name)
		}
	}
	if e.name != nil && slices.ContainsFunc(Pivots(j), func(p Pivot) bool { return PartOf(p) == part }) {
		keepsGo(j, *e.name)
	}
	if r := list(j, part.List); r != nil {
		r.cut(part.Index)
		return nil
	}
	switch part.List {
	case Bearing:
		j.Driveline.Bearing = nil
	case Driveline, Output:
		j.Driveline = nil
	case Pinion:
		j.Axle.Pinion = nil
	case AxleTube:
		j.Axle.Tube = nil
	case Travel:
		j.Travel = nil
	default:
		return words.Errorf("%s cannot be removed: every job needs it.", PartName(j, part))
	}
	return nil
}

// Duplicate copies an entry under a name of its own, placed beside the original or, where that is on one side of the vehicle, mirrored to the other, and
// tells where the copy went. A copy is planned, whatever the original is.
func Duplicate(j *job.Job, part Part) (Part, error) {
	e, ok := at(j, part)
	if !ok {
		return part, errGone
	}
	if e.name == nil {
		return part, words.Errorf("There is only one %s in a job.", strings.ToLower(PartName(j, part)))
	}
	name := free(takenNames(j, nil), *e.name)
	if part.List == Loads || part.List == Heights {
		name = free(namesOf(j, part.List, -1), *e.name)
	}
	r := list(j, part.List)
	r.add(list(j.Clone(), part.List), part.Index)
	made := Part{part.List, r.len() - 1}
	if part.List != Housing { // its pieces need no names
		*r.entry(made.Index).name = name
	}
	if part.List == Rockers {
		rods := j.Rockers[made.Index].Rods
		for k := range rods {
			rods[k].Name = free(takenNames(j, &rods[k].Name), rods[k].Name)
		}
	}
	placeCopy(j, made)
	return made, nil
}

// Unlink makes two singles of a pair: the left one stays where it is in its list, the right one follows it.
func Unlink(j *job.Job, part Part) error {
	e, ok := at(j, part)
	if !ok {
		return errGone
	}
	if e.pair == nil || !*e.pair {
		return words.Errorf("%s has no twin.", PartName(j, part))
	}
	x := job.Expand(j).Job
	k := part.Index // where its twins stand among the expanded: every pair before it takes one place more
	for i := range part.Index {
		if b, _ := at(j, Part{part.List, i}); *b.pair {
			k++
		}
	}
	name := *e.name
	if part.List == Links || part.List == Arms { // a pair that stands on the pair comes apart with it
		for n := range j.Struts {
			if s := &j.Struts[n]; s.Pair && (s.On == name || s.On == name+" left") {
				s.On = name
				if err := Unlink(j, Part{Struts, n}); err != nil {
					return err
				}
				break
			}
		}
		for n := range j.Sensors {
			if s := &j.Sensors[n]; s.Pair && (s.On == name || s.On == name+" left") {
				s.On = name
				if err := Unlink(j, Part{Sensors, n}); err != nil {
					return err
				}
				break
			}
		}
	}
	list(j, part.List).part(part.Index, list(x, part.List), k)
	if part.List != Envelopes {
		keepsApart(j, name)
	}
	for n := range j.Envelopes { // what carried the pair carries both
		if m := slices.Index(j.Envelopes[n].Carries, name); m >= 0 {
			j.Envelopes[n].Carries = slices.Replace(j.Envelopes[n].Carries, m, m+1, name+" left", name+" right")
		}
	}
	mirrorTyped(j, Part{part.List, part.Index + 1}) // what was typed for the left one reads mirrored for the right one
	for k, right := range []bool{false, true} {
		if given := givenOf(j, Part{part.List, part.Index + k}); given != nil {
			unlinkStood(given, right)
		}
	}
	return nil
}

// PartOf is the part a pivot belongs to.
func PartOf(p Pivot) Part {
	if p.List == Output || p.List == Pinion || p.List == Bearing {
		return Part{List: p.List}
	}
	return Part{p.List, p.Index}
}
