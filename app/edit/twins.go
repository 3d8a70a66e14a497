package edit

import (
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Unlinked reports whether a part is one of an unlinked pair, two entries of a list called the same but for "left" and "right" at the end; and how
// its other side is called.
func Unlinked(j *job.Job, part Part) (other string, ok bool) {
	o, ok := otherPart(j, part)
	if !ok {
		return "", false
	}
	return PartName(j, o), true
}

// OtherSide is the pivot of the other side of an unlinked pair.
func OtherSide(j *job.Job, p Pivot) (Pivot, bool) {
	if find(j, p) == nil {
		return Pivot{}, false
	}
	o, ok := otherPart(j, PartOf(p))
	if !ok {
		return Pivot{}, false
	}
	p.Index, p.Side = o.Index, job.Single
	return p, find(j, p) != nil
}

// sides are how the two of an unlinked pair are called apart.
var sides = [2]string{" left", " right"}

// parted splits the name of one of an unlinked pair; side is 0 for the left one, -1 where the name tells no side.
func parted(name string) (bare string, side int) {
	for k, s := range sides {
		if bare, ok := strings.CutSuffix(name, s); ok && bare != "" {
			return bare, k
		}
	}
	return name, -1
}

// SideOf is which side one of an unlinked pair is; Single for any other part.
func SideOf(j *job.Job, part Part) job.Side {
	if _, ok := otherPart(j, part); ok {
		switch _, side := parted(PartName(j, part)); side {
		case 0:
			return job.Left
		case 1:
			return job.Right
		}
	}
	return job.Single
}

// otherPart is the other of an unlinked pair.
func otherPart(j *job.Job, part Part) (Part, bool) {
	e, ok := at(j, part)
	if !ok || e.pair == nil || *e.pair || e.name == nil {
		return Part{}, false
	}
	bare, side := parted(*e.name)
	if side < 0 {
		return Part{}, false
	}
	for i := range Len(j, part.List) {
		o := Part{part.List, i}
		if x, ok := at(j, o); ok && !*x.pair && *x.name == bare+sides[1-side] {
			return o, true
		}
	}
	return Part{}, false
}

// sameAt is within what two places are one, mm.
const sameAt = 1e-6

// LinkAgain makes a pair of the two of an unlinked pair again. What hold is, its place, tube and ends, holds for both, mirrored. A pivot of the other
// side that is measured and would move refuses.
func LinkAgain(j *job.Job, hold Part) error {
	other, ok := otherPart(j, hold)
	if !ok {
		return words.Errorf("%s is not one of an unlinked pair.", PartName(j, hold))
	}
	e, _ := at(j, hold)
	o, _ := at(j, other)
	bare, side := parted(*e.name)
	kept, gone := *e.name, *o.name
	taken := takenNames(j, e.name)
	delete(taken, strings.ToLower(gone))
	if n := strings.ToLower(bare); taken[n] || taken[n+sides[0]] || taken[n+sides[1]] {
		return words.Errorf("The name %s is in use. Give that part another name first.", bare)
	}
	for _, p := range Pivots(j) {
		if p.List != hold.List || p.Index != hold.Index {
			continue
		}
		s, q := find(j, p), p
		q.Index = other.Index
		y := s.at[1]
		if side == 1 {
			y = 0 - y
		}
		if y <= 0 {
			return words.Errorf("%s lies on the other side of the middle or on it: it can have no twin there.", s.words(p))
		}
		x := find(j, q)
		if x == nil {
			return words.Errorf("%s and %s are not built alike: they cannot be a pair.", kept, gone)
		}
		if to := s.at.Mirror(); x.isMeasured() && math.Max(math.Abs(to[0]-x.at[0]), math.Max(math.Abs(to[1]-x.at[1]), math.Abs(to[2]-x.at[2]))) > sameAt {
			return words.Errorf("%s is measured and does not stand where its mirror would. Press Free on it, or let its own side's place hold.", x.words(q))
		}
	}
	if err := oneOn(j, hold, other); err != nil {
		return err
	}
	mirror := side == 1
	switch hold.List {
	case Links:
		j.Links = paired(j.Links, hold, other, mirror, bare, func(j *job.Job) *[]job.Link { return &j.Links })
	case Arms:
		j.Arms = paired(j.Arms, hold, other, mirror, bare, func(j *job.Job) *[]job.Arm { return &j.Arms })
	case Struts:
		j.Struts = paired(j.Struts, hold, other, mirror, bare, func(j *job.Job) *[]job.Strut { return &j.Struts })
	case Stops:
		j.Stops = paired(j.Stops, hold, other, mirror, bare, func(j *job.Job) *[]job.Stop { return &j.Stops })
	case Straps:
		j.Straps = paired(j.Straps, hold, other, mirror, bare, func(j *job.Job) *[]job.Strap { return &j.Straps })
	case Lines:
		j.Lines = paired(j.Lines, hold, other, mirror, bare, func(j *job.Job) *[]job.Line { return &j.Lines })
	case Sensors:
		j.Sensors = paired(j.Sensors, hold, other, mirror, bare, func(j *job.Job) *[]job.Sensor { return &j.Sensors })
	case Envelopes:
		j.Envelopes = paired(j.Envelopes, hold, other, mirror, bare, func(j *job.Job) *[]job.Envelope { return &j.Envelopes })
	default:
		return errGone
	}
	if one := (Part{hold.List, min(hold.Index, other.Index)}); mirror {
		mirrorTyped(j, one)
		if given := givenOf(j, one); given != nil {
			linkStood(given)
		}
	}
	keepsJoin(j, kept, gone, bare, mirror)
	for n := range j.Envelopes { // what carried both carries the pair
		c := j.Envelopes[n].Carries
		if slices.Contains(c, kept) && slices.Contains(c, gone) {
			c = slices.DeleteFunc(slices.Clone(c), func(s string) bool { return s == gone })
			c[slices.Index(c, kept)] = bare
			j.Envelopes[n].Carries = c
		}
	}
	return nil
}

// paired puts the pair made of hold where the first of the two stood.
func paired[T any](list []T, hold, other Part, mirror bool, bare string, of func(*job.Job) *[]T) []T {
	t := &job.Job{}
	*of(t) = []T{list[hold.Index]}
	one := Part{hold.List, 0}
	e, _ := at(t, one)
	if mirror { // the mirror of a right one is what a pair's right twin is
		*e.pair = true
		t = job.Expand(t).Job
		*of(t) = (*of(t))[1:]
		e, _ = at(t, one)
	}
	*e.name, *e.pair = bare, true
	first, second := min(hold.Index, other.Index), max(hold.Index, other.Index)
	out := slices.Clone(list)
	out[first] = (*of(t))[0]
	return slices.Delete(out, second, second+1)
}

// oneOn sees to it that two struts or sensors stand on the two sides of one thing, and puts hold on the side a pair's entry is told by.
func oneOn(j *job.Job, hold, other Part) error {
	var a, b *string
	switch hold.List {
	case Struts:
		a, b = &j.Struts[hold.Index].On, &j.Struts[other.Index].On
	case Sensors:
		a, b = &j.Sensors[hold.Index].On, &j.Sensors[other.Index].On
	default:
		return nil
	}
	bareA, sideA := parted(*a)
	bareB, sideB := parted(*b)
	if *a == *b && sideA < 0 {
		return nil
	}
	for _, l := range []List{Links, Arms} {
		for i := range Len(j, l) {
			if e, _ := at(j, Part{l, i}); *e.pair && *e.name == bareA && bareA == bareB && sideA+sideB == 1 {
				*a = bareA
				return nil
			}
		}
	}
	return words.Errorf("%s stands on %s and %s on %s: link those again first.", PartName(j, hold), onWords(*a), PartName(j, other), onWords(*b))
}

func onWords(on string) string {
	if on == "" || on == "axle" {
		return words.T("the axle")
	}
	return on
}

// givenOf is where a part keeps how its places were given; nil for one that is told otherwise.
func givenOf(j *job.Job, part Part) *job.Given {
	switch i := part.Index; part.List {
	case Links:
		return &j.Links[i].Given
	case Arms:
		return &j.Arms[i].Given
	case Struts:
		return &j.Struts[i].Given
	case Stops:
		return &j.Stops[i].Given
	case Straps:
		return &j.Straps[i].Given
	case Lines:
		return &j.Lines[i].Given
	case Sensors:
		return &j.Sensors[i].Given
	}
	return nil
}

// mirrorTyped makes what was typed for one side read as for the other.
func mirrorTyped(j *job.Job, part Part) {
	given := givenOf(j, part)
	if given == nil {
		return
	}
	for key, v := range *given {
		if strings.HasSuffix(key, ".y") {
			v.Typed = negated(v.Typed)
			(*given)[key] = v
		}
	}
}
