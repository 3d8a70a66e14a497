package edit

import (
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Reorder puts an entry one place up (-1) or down (+1) in its list and tells where it went; at the end of the list it stays.
func Reorder(j *job.Job, part Part, by int) (Part, error) {
	r := list(j, part.List)
	if r == nil || part.Index < 0 || part.Index >= r.len() {
		return part, errGone
	}
	to := part.Index + by
	if to < 0 || to >= r.len() {
		return part, nil
	}
	r.swap(part.Index, to)
	return Part{part.List, to}, nil
}

// Movable reports whether an entry can go one place up (-1) or down (+1) in its list.
func Movable(j *job.Job, part Part, by int) bool {
	r := list(j, part.List)
	return r != nil && part.Index+by >= 0 && part.Index+by < r.len()
}

// Where a copy is placed.
const (
	offMiddle = 50.0 // mm: a part that lies farther from the vehicle's middle than this, all of it, is copied to the other side
	above     = 60.0 // mm: else a member that locates the axle is copied over itself,
	ahead     = 80.0 // mm: and any other ahead of itself
	between   = 10.0 // mm: a part in the way stands this far from its copy
)

// placeCopy puts a copy where it can be told from what it is of: a part on one side of the vehicle becomes its mirror image on the other, any other stands
// beside itself. What was given for its places is theirs no longer.
func placeCopy(j *job.Job, part Part) {
	lo, hi, ok := reach(j, part)
	if !ok {
		return
	}
	e, _ := at(j, part)
	switch {
	case e.pair != nil && !*e.pair && (lo.Y > offMiddle || hi.Y < -offMiddle):
		list(j, part.List).mirror(part.Index)
		otherSide(j, e.name)
		if part.List == Envelopes {
			j.Envelopes[part.Index].Given = nil
		}
	case part.List == Housing:
		shift(&j.Axle.Housing[part.Index], r3.Vec{X: hi.X - lo.X + between})
	case part.List == Envelopes:
		d := r3.Vec{X: hi.X - lo.X + between}
		if hi.Y-lo.Y < hi.X-lo.X && !(e.pair != nil && *e.pair) {
			d = r3.Vec{Y: hi.Y - lo.Y + between}
		}
		shift(&j.Envelopes[part.Index], d)
	default:
		d := r3.Vec{X: ahead}
		if locates(part.List) {
			d = r3.Vec{Z: above}
		}
		for _, p := range Pivots(j) {
			if PartOf(p) == part {
				s := find(j, p)
				s.at[0], s.at[2] = s.at[0]+d.X, s.at[2]+d.Z
			}
		}
		if part.List == Links {
			for i := range j.Links[part.Index].Bends {
				j.Links[part.Index].Bends[i][0] += d.X
				j.Links[part.Index].Bends[i][2] += d.Z
			}
		}
	}
	for _, p := range Pivots(j) {
		if s := find(j, p); PartOf(p) == part {
			for _, axis := range axisKeys {
				setGiven(s.given, s.key+"."+axis, job.GivenValue{})
			}
		}
	}
}

// reach is the box of a part's places; ok is false where it has none.
func reach(j *job.Job, part Part) (lo, hi r3.Vec, ok bool) {
	lo, hi = r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}, r3.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)}
	add := func(v r3.Vec) {
		ok = true
		lo = r3.Vec{X: math.Min(lo.X, v.X), Y: math.Min(lo.Y, v.Y), Z: math.Min(lo.Z, v.Z)}
		hi = r3.Vec{X: math.Max(hi.X, v.X), Y: math.Max(hi.Y, v.Y), Z: math.Max(hi.Z, v.Z)}
	}
	if body := bodyOf(j, part); body != nil {
		solid, err := clearance.EnvelopeSolid(body)
		if err != nil || body.Kind == "mesh" { // a file's shape stands where the file has it
			return lo, hi, false
		}
		for i := range solid.Pieces {
			a, b := solid.Pieces[i].Bounds()
			add(a)
			add(b)
		}
		return lo, hi, ok
	}
	for _, p := range Pivots(j) {
		if PartOf(p) == part {
			add(find(j, p).at.Vec())
		}
	}
	return lo, hi, ok
}

// bodyOf is the part in the way or the piece of the housing that an entry is; nil for any other.
func bodyOf(j *job.Job, part Part) *job.Envelope {
	switch part.List {
	case Envelopes:
		return &j.Envelopes[part.Index]
	case Housing:
		return &j.Axle.Housing[part.Index]
	}
	return nil
}

// otherSide gives the copy of one side's part the name of the other side's, where that is free.
func otherSide(j *job.Job, name *string) {
	bare, side := parted(strings.TrimRight(*name, " 0123456789")) // a copy's own name may end in a number
	if side < 0 {
		return
	}
	if other := bare + sides[1-side]; !takenNames(j, name)[strings.ToLower(other)] {
		*name = other
	}
}

// allNames are the names the parts of a job and of its trials go by, in small letters; twins by three.
func allNames(j *job.Job) map[string]bool {
	all := takenNames(j, nil)
	eachTrial(j, func(t *job.Job) {
		for n := range takenNames(t, nil) {
			all[n] = true
		}
	})
	return all
}

// PartsWent reports whether a part of a job is not in another any more, or by another name.
func PartsWent(before, after *job.Job) bool {
	now := takenNames(after, nil)
	for n := range takenNames(before, nil) {
		if !now[n] {
			return true
		}
	}
	return false
}

// Forget takes what is said of parts that were in the job before and are no more, in no trial either, out of it: places as they came out, findings set
// aside. Carries lists, holes and brackets are (*job.Job).Tidy's.
func Forget(before, j *job.Job) {
	was, now := allNames(before), allNames(j)
	gone := func(name string) bool {
		n := strings.ToLower(name)
		return was[n] && !now[n] && !now[n+sides[0]] && !now[n+sides[1]]
	}
	j.AsBuilt = slices.DeleteFunc(slices.Clone(j.AsBuilt), func(a job.AsBuilt) bool { return gone(a.Of) })
	j.SetAside = slices.DeleteFunc(slices.Clone(j.SetAside), func(a job.SetAside) bool {
		return slices.ContainsFunc(strings.Split(a.Finding, "/"), gone)
	})
	if len(j.AsBuilt) == 0 {
		j.AsBuilt = nil
	}
	if len(j.SetAside) == 0 {
		j.SetAside = nil
	}
}

// WentAlong says what went out of the whole job with a part of this name, and in which trials the part still is; "" where nothing did and none has it.
func WentAlong(before, after *job.Job, name string) string {
	carried := func(j *job.Job) (n int) {
		for i := range j.Envelopes {
			n += len(j.Envelopes[i].Carries)
		}
		return n
	}
	var out []string
	if len(after.Keep) < len(before.Keep) {
		out = append(out, words.T("what it keeps"))
	}
	if len(after.Holes) < len(before.Holes) {
		out = append(out, words.T("its row of holes"))
	}
	if len(after.Brackets) < len(before.Brackets) {
		out = append(out, words.T("its bracket"))
	}
	if len(after.Envelopes) == len(before.Envelopes) && carried(after) < carried(before) {
		out = append(out, words.T("that its own bracket is left out of the gaps to what carries it"))
	}
	if len(after.AsBuilt) < len(before.AsBuilt) {
		out = append(out, words.T("where it came out when built"))
	}
	if n := len(before.SetAside) - len(after.SetAside); n > 0 {
		out = append(out, words.F("findings set aside: %d", n))
	}
	said := ""
	if len(out) > 0 {
		said = words.F("With %s goes: %s.", name, strings.Join(out, "; "))
	}
	for i := range after.Trials {
		if inTrial(&after.Trials[i], name) {
			said = strings.TrimSpace(said + " " + words.F("Trial %q still has %s.", after.Trials[i].Name, name))
		}
	}
	return said
}

// inTrial reports whether a trial's own lists have a part.
func inTrial(t *job.Trial, name string) bool {
	return slices.ContainsFunc(t.Links, func(l job.Link) bool { return l.Name == name }) ||
		slices.ContainsFunc(t.Arms, func(a job.Arm) bool { return a.Name == name }) ||
		slices.ContainsFunc(t.Struts, func(s job.Strut) bool { return s.Name == name }) ||
		slices.ContainsFunc(t.Envelopes, func(e job.Envelope) bool { return e.Name == name })
}
