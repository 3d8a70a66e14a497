package edit

import (
	"reflect"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
)

// standingName is a part of the list Standing in words.
func standingName(i int) string {
	return [...]string{words.T("Axle on stands"), words.T("Axle as it hung"), words.T("Body and floor")}[i]
}

// ByTubeEnds is the choice of telling where the axle hung by the two ends of its tube, in the words of the screen.
func ByTubeEnds() string { return words.T("tube's two ends") }

// HungStruts are the struts whose lengths can tell where the axle hung: pairs by their name, the two of an unlinked pair by what they have in common.
func HungStruts(j *job.Job) []string {
	var out []string
	for i := range j.Struts {
		name := j.Struts[i].Name
		if _, apart := otherPart(j, Part{Struts, i}); apart {
			name, _ = parted(name)
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// renameHung gives struts their new name where their lengths tell how the axle hung.
func renameHung(j *job.Job, was, now string) {
	if j.Stood != nil && j.Stood.Hanging != nil && j.Stood.Hanging.Strut == was {
		j.Stood.Hanging.Strut = now
	}
}

// standing are the fields of how something stood. What was typed is kept.
func (f *form) standing(how string) {
	in := job.Stood{}
	if f.j.Stood != nil {
		in = *f.j.Stood
	}
	put := func(set func(*job.Stood)) {
		next := in
		set(&next)
		if f.j.Stood = nil; next != (job.Stood{}) {
			f.j.Stood = &next
		}
	}
	switch how {
	case OnStands:
		f.onStands(in, put)
	case Hanging:
		f.hung(in, put)
	default:
		f.overFloor(in, put)
	}
}

// own is a copy of what there is, or an empty one, with its given numbers its own.
func own[T any](v *T, given func(*T) *job.Given) T {
	var out T
	if v != nil {
		out = *v
		g := given(&out)
		if *g != nil {
			c := job.Given{}
			for k, x := range *g {
				c[k] = x
			}
			*g = c
		}
	}
	return out
}

// kept is a pointer to what stands, nil where nothing does.
func kept[T any](v T) *T {
	if reflect.ValueOf(v).IsZero() {
		return nil
	}
	return &v
}

// measured is a number of how something stood, whose text is kept with its unit.
func (f *form) measured(g *job.Given, key, label string, u Unit, v **float64, b bounds, def string, put func()) {
	x := f.optional(key, label, u, v, b, def)
	if t := (*g)[key].Typed; t != "" {
		x.Text = t
		if u == Length {
			x.Text = withoutUnit(f.j, t)
		}
	}
	set := x.set
	x.set = func(t string) error {
		if err := set(t); err != nil {
			return err
		}
		typed := strings.TrimSpace(t)
		if u == Length && typed != "" {
			typed = withUnit(f.j, typed)
		}
		n := (*g)[key]
		n.Typed = typed
		setGiven(g, key, n)
		put()
		return nil
	}
}

// withoutUnit is a length as typed, without its unit where it reads the same without.
func withoutUnit(j *job.Job, text string) string {
	bare, ok := strings.CutSuffix(text, " "+shownLength(j))
	if !ok {
		return text
	}
	v, err1 := measure.Parse(text, shownUnit(j))
	w, err2 := measure.Parse(bare, shownUnit(j))
	if err1 != nil || err2 != nil || v != w {
		return text
	}
	return bare
}

// WithoutUnit is a length as typed, without its unit where it reads the same without.
func WithoutUnit(j *job.Job, text string) string { return withoutUnit(j, text) }

var (
	steepest = bounds{-89, 89, false}
	leaning  = bounds{-45, 45, false}
	gauges   = bounds{0, 10, false}
)

// pinionAtRide is asked only where the job draws no pinion.
func (f *form) pinionAtRide(g *job.Given, v **float64, put func()) {
	if _, drawn := RidePinion(f.j); !drawn {
		f.measured(g, "pinionAtRide", words.T("Pinion angle at ride height, + nose up"), Angle, v, steepest, words.T("not yet"), put)
	}
}

func (f *form) gauge(g *job.Given, v **float64, put func()) {
	f.measured(g, "gauge", words.T("Angle gauge, ±"), Angle, v, gauges, words.T("0.2"), put)
}

func (f *form) onStands(in job.Stood, store func(func(*job.Stood))) {
	t := own(in.Stands, func(t *job.Stands) *job.Given { return &t.Given })
	n := &t
	put := func() { store(func(s *job.Stood) { s.Stands = kept(*n) }) }
	f.measured(&n.Given, "pinion", words.T("Pinion angle as it lay, + nose up"), Angle, &n.Pinion, steepest, words.T("not yet"), put)
	f.measured(&n.Given, "tilt", words.T("Tube's tilt, + left end up"), Angle, &n.Tilt, leaning, words.T("level"), put)
	f.pinionAtRide(&n.Given, &n.PinionAtRide, put)
	f.gauge(&n.Given, &n.Gauge, put)
}

func (f *form) hung(in job.Stood, store func(func(*job.Stood))) {
	t := own(in.Hanging, func(t *job.Hanging) *job.Given { return &t.Given })
	n := &t
	put := func() { store(func(s *job.Stood) { s.Hanging = kept(*n) }) }
	now := n.Strut
	if now == "" {
		now = ByTubeEnds()
	}
	f.choice("strut", words.T("Where it hung is told by"), now, false, "", append([]string{ByTubeEnds()}, HungStruts(f.j)...), func(w string) error {
		if n.Strut = w; w == ByTubeEnds() {
			n.Strut = ""
		}
		put()
		return nil
	})
	if n.Strut != "" {
		left, single := words.T("Left one's length, pivot to pivot"), false
		for i := range f.j.Struts {
			single = single || f.j.Struts[i].Name == n.Strut && !f.j.Struts[i].Pair
		}
		if single {
			left = words.T("Its length, pivot to pivot")
		}
		f.measured(&n.Given, "left", left, Length, &n.Left, positive, words.T("not yet"), put)
		if !single {
			f.measured(&n.Given, "right", words.T("Right one's length"), Length, &n.Right, positive, words.T("as the left"), put)
		}
		return
	}
	f.measured(&n.Given, "pinion", words.T("Pinion angle as it hung, + nose up"), Angle, &n.Pinion, steepest, words.T("not yet"), put)
	f.measured(&n.Given, "rake", words.T("Rake of the body then, + nose up"), Angle, &n.Rake, leaning, words.T("level"), put)
	f.pinionAtRide(&n.Given, &n.PinionAtRide, put)
	f.gauge(&n.Given, &n.Gauge, put)
	for _, e := range []struct {
		key, group string
		at         **job.TubeEnd
	}{{"leftEnd", words.T("Left end of the tube, its middle"), &n.LeftEnd}, {"rightEnd", words.T("Right end of the tube"), &n.RightEnd}} {
		f.group = e.group
		end := job.TubeEnd{}
		if *e.at != nil {
			end = **e.at
		}
		x := &end
		putEnd := func() {
			*e.at = kept(*x)
			put()
		}
		for a, v := range []**float64{&x.X, &x.Y, &x.Z} {
			f.measured(&n.Given, e.key+"."+axisKeys[a], []string{words.T("X, + ahead of the axle"), words.T("Y, + left of the middle"), words.T("Z, above the ground")}[a], Length, v, anyValue, words.T("not yet"), putEnd)
		}
	}
	f.group = ""
}

func (f *form) overFloor(in job.Stood, store func(func(*job.Stood))) {
	t := own(in.Floor, func(t *job.Floor) *job.Given { return &t.Given })
	n := &t
	put := func() { store(func(s *job.Stood) { s.Floor = kept(*n) }) }
	length := func(key, label string, v **float64, b bounds, def string) {
		f.measured(&n.Given, key, label, Length, v, b, def, put)
	}
	angle := func(key, label string, v **float64, def string) {
		f.measured(&n.Given, key, label, Angle, v, leaning, def, put)
	}
	centre := words.T("the axle centre")
	now := n.Datum
	if now == "" {
		now = centre
	}
	choices := []string{centre}
	for i := range f.j.Datums {
		if d := &f.j.Datums[i]; d.At != nil && d.Axis == "" && d.Taken == nil {
			choices = append(choices, d.Name)
		}
	}
	if !slices.Contains(choices, now) {
		choices = append(choices, now)
	}
	f.choice("datum", words.T("Marks are measured from under"), now, false, "", choices, func(w string) error {
		if n.Datum = w; w == centre {
			n.Datum = ""
		}
		put()
		return nil
	})
	length("height", words.T("Its height above the floor"), &n.Height, positive, words.T("not yet"))
	notYet := words.T("not yet")
	f.group = words.T("Rake, by an angle or by two heights")
	angle("rake", words.T("Rail's angle, + nose up"), &n.Rake, words.T("by heights"))
	length("rakeRear", words.T("Height at the rear place"), &n.RakeRear, positive, notYet)
	length("rakeFront", words.T("Height at the front place"), &n.RakeFront, positive, notYet)
	length("rakeOver", words.T("How far apart along the floor"), &n.RakeOver, positive, notYet)
	angle("railAtRide", words.T("Angle rails have at ride height"), &n.RailAtRide, words.T("level"))
	f.group = words.T("Lean across, by an angle or two heights")
	angle("lean", words.T("Angle across, + left side up"), &n.Lean, words.T("level"))
	length("leanLeft", words.T("Height on the left"), &n.LeanLeft, positive, notYet)
	length("leanRight", words.T("Height on the right"), &n.LeanRight, positive, notYet)
	length("leanOver", words.T("How far apart across the floor"), &n.LeanOver, positive, notYet)
	f.group = words.T("Floor: the drop under a level straightedge")
	length("fallForward", words.T("Falls ahead by"), &n.FallForward, anyValue, words.T("level"))
	length("fallForwardOver", words.T("over a length of"), &n.FallForwardOver, positive, notYet)
	length("fallLeft", words.T("Falls to the left by"), &n.FallLeft, anyValue, words.T("level"))
	length("fallLeftOver", words.T("over that length"), &n.FallLeftOver, positive, notYet)
	f.gauge(&n.Given, &n.Gauge, put)
	f.group = ""
}
