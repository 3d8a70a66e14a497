package edit

import (
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Fields lists everything there is to set about a part; nil where there is no such part.
// A number typed without a unit is in the job's unit. Setting a field may change others: read them again.
func Fields(j *job.Job, part Part) []Field {
	if _, ok := at(j, part); !ok {
		return nil
	}
	f := &form{j: j, part: part}
	i := part.Index
	switch part.List {
	case Links:
		f.link(&j.Links[i])
	case Struts:
		f.strut(&j.Struts[i])
	case Stops:
		f.stop(&j.Stops[i])
	case Straps:
		s := &j.Straps[i]
		f.head()
		f.number("open", words.T("Length when taut"), Length, &s.Open, positive)
		f.ends(words.T("Frame end"), words.T("Axle end"))
	case Lines:
		s := &j.Lines[i]
		f.head()
		f.optional("length", words.T("Flexible length"), Length, &s.Length, positive, words.T("not checked"))
		f.optional("diameter", words.T("Diameter"), Length, &s.Diameter, positive, words.T("gaps not checked"))
		f.clearance(&s.Clearance, 12)
		f.ends(words.T("Clip on the frame"), words.T("Clip on the axle"))
	case Arms:
		f.arm(&j.Arms[i])
	case Rockers:
		f.rocker(&j.Rockers[i])
	case Sensors:
		f.sensor(&j.Sensors[i])
	case Output, Pinion:
		f.joint()
	case Bearing:
		f.coordinates(Pivot{List: Bearing})
		f.number("yokePhase", words.T("Front piece: rear yoke turned from front yoke"), Angle, &j.Driveline.Bearing.YokePhase, bounds{-360, 360, false})
	case Envelopes, Housing:
		f.envelope()
	case Loads:
		f.load(&j.Vehicle.Loads[i])
	case Heights:
		h := &j.Vehicle.Heights[i]
		f.name()
		f.number("heave", words.T("Wheel travel there, lowered +"), Length, &h.Heave, anyValue)
	case Vehicle:
		f.vehicle(j.Vehicle)
	case AxleTube:
		t := j.Axle.Tube
		f.lock = f.partLock
		f.number("outside", words.T("Outside"), Length, &t.Outside, positive)
		f.number("from", words.T("Right end, Y"), Length, &t.From, anyValue)
		f.number("to", words.T("Left end, Y"), Length, &t.To, anyValue)
		f.lock = nil
		f.clearance(&t.Clearance, 12)
		f.partMark()
	case Driveline:
		f.driveline(j.Driveline)
	case Travel:
		f.travel()
	case Standing:
		f.standing(Stoods[i])
	case JobCard:
		f.jobCard()
	case Brackets:
		f.bracket(&j.Brackets[i])
	}
	return f.list
}

func (f *form) clearance(v **float64, usual float64) {
	f.optional("clearance", words.T("Gap wanted"), Length, v, notNeg, showLength(f.j, usual)+" "+shownLength(f.j))
}

// head is the name and the twin.
func (f *form) head() {
	e, _ := at(f.j, f.part)
	f.name()
	f.yesNo("pair", words.T("Twin on the other side"), *e.pair, func(pair bool) error {
		switch {
		case pair == *e.pair:
			return nil
		case !pair:
			return Unlink(f.j, f.part)
		}
		if _, unlinked := Unlinked(f.j, f.part); unlinked { // what this form shows holds
			return LinkAgain(f.j, f.part)
		}
		return pairUp(f.j, f.part)
	})
}

// pairUp gives a single its mirror as a twin.
func pairUp(j *job.Job, part Part) error {
	e, _ := at(j, part)
	if _, err := checkName(takenNames(j, e.name), *e.name, true); err != nil {
		return err
	}
	for _, p := range Pivots(j) {
		if p.List != part.List || p.Index != part.Index {
			continue
		}
		if s := find(j, p); s.at[1] <= 0 {
			return words.Errorf("%s must lie left of the middle (Y above 0) to get a twin on the right. Its Y is %s mm.", s.words(Pivot{}), plain(s.at[1]))
		}
	}
	*e.pair = true
	if part.List == Links || part.List == Arms { // what stood on it stands on the left one now
		for i := range j.Struts {
			if s := &j.Struts[i]; s.On == *e.name && !s.Pair {
				s.On += " left"
			}
		}
		for i := range j.Sensors {
			if s := &j.Sensors[i]; s.On == *e.name && !s.Pair {
				s.On += " left"
			}
		}
	}
	return nil
}

func (f *form) ends(frame, axle string) {
	f.group = frame
	f.coordinates(Pivot{List: f.part.List, Index: f.part.Index, End: FrameEnd})
	f.group = axle
	f.coordinates(Pivot{List: f.part.List, Index: f.part.Index, End: AxleEnd})
	f.group = ""
}

func (f *form) link(l *job.Link) {
	f.head()
	n := LinkLength(f.j, f.part.Index)
	f.readOnly("pivots", words.T("Pivot to pivot"), shownLength(f.j), showWorkedOut(f.j, n), n)
	f.yesNo("keep", words.T("Keep length"), KeepsLength(f.j, f.part.Index), func(k bool) error { return SetKeepLength(f.j, f.part.Index, k) })
	f.tube(&l.Tube)
	f.clearance(&l.Clearance, 12)
	f.bends("bends", words.T("Bends between the pivots"), &l.Bends)
	f.group = words.T("Frame end")
	f.coordinates(Pivot{List: Links, Index: f.part.Index, End: FrameEnd})
	f.end(Pivot{List: Links, Index: f.part.Index, End: FrameEnd})
	f.group = words.T("Axle end")
	f.coordinates(Pivot{List: Links, Index: f.part.Index, End: AxleEnd})
	f.end(Pivot{List: Links, Index: f.part.Index, End: AxleEnd})
	f.optional("clock", words.T("Eye turned about the link from where it sits at ride"), Angle, &l.Clock, bounds{-90, 90, false}, "0")
}

func (f *form) bends(key, label string, list *[]job.Point) {
	var now [][]float64
	for _, p := range *list {
		now = append(now, p[:])
	}
	f.points(key, label, 3, now, 0, func(out [][]float64) {
		*list = nil
		for _, p := range out {
			*list = append(*list, job.Point(p))
		}
	})
}

// tube is a section that may be missing: giving an outside makes one, taking it out ends it.
func (f *form) tube(t **job.Tube) {
	var outside, wall *float64
	var steel string
	if *t != nil {
		outside, wall, steel = &(*t).Outside, (*t).Wall, (*t).Steel
	}
	x := f.optional("tube.outside", words.T("Tube, outside"), Length, &outside, positive, words.T("no thickness"))
	set := x.set
	x.set = func(text string) error {
		if err := set(text); err != nil {
			return err
		}
		if outside == nil {
			*t = nil
		} else if *t == nil {
			*t = &job.Tube{Outside: *outside}
		} else {
			(*t).Outside = *outside
		}
		return f.wallFits(*t)
	}
	x = f.optional("tube.wall", words.T("Tube, wall"), Length, &wall, positive, "solid")
	setWall := x.set
	x.set = func(text string) error {
		if err := setWall(text); err != nil {
			return err
		}
		if *t == nil {
			if wall == nil {
				return nil
			}
			return words.Errorf("Give the tube's outside first, then its wall.")
		}
		(*t).Wall = wall
		return f.wallFits(*t)
	}
	s := f.text("tube.steel", words.T("Steel"), Text, &steel)
	s.set = func(text string) error {
		if *t == nil {
			if strings.TrimSpace(text) == "" {
				return nil
			}
			return words.Errorf("Give the tube's outside first, then its steel.")
		}
		(*t).Steel = strings.TrimSpace(text)
		return nil
	}
}

func (f *form) wallFits(t *job.Tube) error {
	if t != nil && t.Wall != nil && 2**t.Wall > t.Outside {
		return words.Errorf("A wall of %s mm does not go into a tube of %s mm outside.", plain(*t.Wall), plain(t.Outside))
	}
	return nil
}

func (f *form) strut(s *job.Strut) {
	f.head()
	now := distance(s.Frame, s.Axle)
	f.readOnly("pivots", words.T("Pivot to pivot at ride"), shownLength(f.j), showWorkedOut(f.j, now), now)
	f.optional("closed", words.T("Closed"), Length, &s.Closed, positive, words.T("does not end the travel"))
	f.optional("open", words.T("Open"), Length, &s.Open, positive, words.T("does not end the travel"))
	if len(s.Diameters) == 0 {
		f.optional("diameter", words.T("Diameter"), Length, &s.Diameter, positive, words.T("gaps not checked"))
	}
	f.bag(s)
	x := f.optional("rate", words.T("Spring rate"), Number, &s.Rate, positive, words.T("not known"))
	x.Suffix = "N/mm"
	f.optional("tilt", words.T("Ends tilt up to"), Angle, &s.Tilt, bounds{0, 90, true}, words.T("not known"))
	f.clearance(&s.Clearance, 12)
	f.optional("bracket", words.T("Own brackets reach"), Length, &s.Bracket, notNeg, showLength(f.j, 80)+" "+shownLength(f.j))
	f.standsOn(&s.On, words.T("Stands on"))
	f.ends(words.T("Frame end"), words.T("Axle end"))
}

// bag is an air bag's diameter by its length, in place of the one diameter.
func (f *form) bag(s *job.Strut) {
	var now [][]float64
	for _, d := range s.Diameters {
		now = append(now, d[:])
	}
	x := f.points("diameters", words.T("Air bag, length and diameter there"), 2, now, 0, func(out [][]float64) {
		s.Diameters = nil
		for _, d := range out {
			s.Diameters = append(s.Diameters, job.Point2(d))
		}
		if len(out) > 0 {
			s.Diameter = nil
		}
	})
	x.Default = words.T("none: one diameter")
}

// standsOn is the link or arm a strut or a sensor's rod stands on; the axle where none is chosen.
func (f *form) standsOn(on *string, label string) {
	pair := false
	if e, ok := at(f.j, f.part); ok && e.pair != nil {
		pair = *e.pair
	}
	var names []string
	for _, l := range []List{Links, Arms} {
		for i := range Len(f.j, l) {
			e, _ := at(f.j, Part{l, i})
			switch {
			case !*e.pair:
				names = append(names, *e.name)
			case pair:
				names = append(names, *e.name)
			default:
				names = append(names, *e.name+" left", *e.name+" right")
			}
		}
	}
	now := *on
	if now == "axle" {
		now = ""
	}
	if now != "" && !slices.Contains(names, now) {
		names = append(names, now)
	}
	f.choice("on", label, now, true, words.T("the axle"), names, func(w string) error { *on = w; return nil })
}

func (f *form) stop(s *job.Stop) {
	f.head()
	f.optional("touch", words.T("Free length"), Length, &s.Touch, positive, words.T("solid at first touch"))
	f.number("closed", words.T("Solid length"), Length, &s.Closed, notNeg)
	f.optional("face", words.T("Pad lands within"), Length, &s.Face, positive, words.T("not checked"))
	axis := job.Point{0, 0, -1}
	if s.Axis != nil {
		axis = *s.Axis
	}
	f.lean(&axis, "axis.forward", words.T("Points down, turned forward"), 0, func() { s.Axis = downUnless(axis) })
	f.lean(&axis, "axis.left", words.T("Points down, turned left"), 1, func() { s.Axis = downUnless(axis) })
	f.ends(words.T("Stop on the frame"), words.T("Pad on the axle"))
}

func downUnless(axis job.Point) *job.Point {
	if axis[0] == 0 && axis[1] == 0 && axis[2] < 0 {
		return nil
	}
	return &axis
}

// lean is the turn of a downward direction from straight down toward a body axis.
func (f *form) lean(axis *job.Point, key, label string, a int, keep func()) {
	v := math.Round(math.Atan2(axis[a], -axis[2])*180/math.Pi*1e4) / 1e4
	f.add(Field{Key: key, Label: label, Unit: Angle, Value: v, Text: plain(v), set: func(t string) error {
		n, err := f.parse(Angle, label, t)
		if err != nil {
			return err
		}
		if math.Abs(n) > 80 {
			return words.Errorf("%s must be between -80 and 80 deg. You typed %s.", label, plain(n))
		}
		b := 1 - a
		other := math.Tan(math.Atan2(axis[b], -axis[2]))
		axis[a], axis[b], axis[2] = tidy(math.Tan(n*math.Pi/180)), tidy(other), -1
		keep()
		return nil
	}})
}

func tidy(v float64) float64 { return math.Round(v*1e9)/1e9 + 0 }

func distance(a, b job.Point) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// joint is a driveshaft joint: its centre and the slope of the shaft it sits on.
func (f *form) joint() {
	p := Pivot{List: f.part.List}
	sign, up := 1.0, words.T("Nose up")
	var o *job.Joint
	if f.part.List == Output {
		o, sign, up = f.j.Driveline.Output, -1, words.T("Rear end up")
	} else {
		o = f.j.Axle.Pinion
	}
	f.coordinates(p)
	set := func(tanZ, tanY float64) { o.Axis = job.Point{sign, tidy(tanY), tidy(tanZ)} }
	along := o.Axis[0] * sign
	angle := func(c int) float64 { return math.Round(math.Atan2(o.Axis[c], along)*180/math.Pi*1e4) / 1e4 }
	for _, one := range []struct {
		c          int
		key, label string
	}{{2, "axis.up", up}, {1, "axis.left", words.T("Turned left")}} {
		v := angle(one.c)
		f.add(Field{Key: one.key, Label: one.label, Unit: Angle, Value: v, Text: plain(v), set: func(t string) error {
			n, err := f.parse(Angle, one.label, t)
			if err != nil {
				return err
			}
			if math.Abs(n) > 60 {
				return words.Errorf("%s must be between -60 and 60 deg. You typed %s.", one.label, plain(n))
			}
			tan := math.Tan(n * math.Pi / 180)
			if one.c == 2 {
				set(tan, math.Tan(angle(1)*math.Pi/180))
			} else {
				set(math.Tan(angle(2)*math.Pi/180), tan)
			}
			return nil
		}})
	}
	f.yesNo("axis.measured", words.T("Slope measured"), slices.Contains(o.Measured, "axis"), func(m bool) error {
		setListed(&o.Measured, "axis", m)
		return nil
	})
}

func (f *form) load(l *job.Load) {
	f.name()
	wb := f.j.Vehicle.Wheelbase
	front := l.Mass * l.CG[0] / wb
	rear := l.Mass - front
	weigh := func(key, label string, now float64, set func(kg float64) (front, rear float64)) {
		f.add(Field{Key: key, Label: label, Unit: Mass, Value: now, Text: showMass(f.j, now), set: func(t string) error {
			v, err := f.parse(Mass, label, t)
			if err == nil {
				err = notNeg.check(label, v)
			}
			if err != nil {
				return err
			}
			a, b := set(v)
			return weighed(l, wb, a, b)
		}})
	}
	weigh("front", words.T("Front axle weighs"), front, func(kg float64) (float64, float64) { return kg, rear })
	weigh("rear", words.T("Rear axle weighs"), rear, func(kg float64) (float64, float64) { return front, kg })
	_, known := l.Given["mass"]
	f.number("mass", words.T("Mass"), Mass, &l.Mass, positive).Guess = !known
	f.mark(&l.Given, "mass")
	for a, label := range []string{words.T("Centre of gravity, forward of the rear axle"), words.T("Centre of gravity, left of the middle"), words.T("Centre of gravity, above the ground")} {
		key := "cg." + axisKeys[a]
		_, known := l.Given[key]
		f.number(key, label, Length, &l.CG[a], anyValue).Guess = !known
		f.mark(&l.Given, key)
	}
	f.number("heave", words.T("Wheel travel it causes, bump +"), Length, &l.Heave, anyValue)
	f.optional("loadedRadius", words.T("Tyre radius under it"), Length, &l.LoadedRadius, positive, words.T("as the vehicle's"))
}

// mark makes the last field keep what was typed.
func (f *form) mark(g *job.Given, key string) {
	x := &f.list[len(f.list)-1]
	if v, ok := (*g)[key]; ok && v.Typed != "" {
		x.Text = v.Typed
	}
	set := x.set
	x.set = func(t string) error {
		if err := set(t); err != nil {
			return err
		}
		v := (*g)[key]
		v.Typed = strings.TrimSpace(t)
		setGiven(g, key, v)
		return nil
	}
}

func (f *form) vehicle(v *job.Vehicle) {
	f.text("title", words.T("Title of the job"), Text, &f.j.Title)
	f.text("notes", words.T("Notes"), LongText, &f.j.Notes)
	f.number("wheelbase", words.T("Wheelbase"), Length, &v.Wheelbase, positive)
	f.number("track", words.T("Track"), Length, &v.Track, positive)
	f.choice("frontTravel", words.T("Front axle: with this one, or still"), v.FrontTravel, true, "with", []string{words.Mark("with"), words.Mark("still")}, func(w string) error { v.FrontTravel = w; return nil })
	f.optional("driveShare", words.T("This axle's share of the drive"), Number, &v.DriveShare, unitPart, "1")
	f.optional("brakeShare", words.T("This axle's share of the braking"), Number, &v.BrakeShare, unitPart, "0.4")
	if v.Tyre == nil {
		return
	}
	f.group = words.T("Tyre")
	t := v.Tyre
	f.number("tyre.loadedRadius", words.T("Radius under load"), Length, &t.LoadedRadius, positive)
	f.optional("tyre.freeRadius", words.T("Radius without load"), Length, &t.FreeRadius, positive, words.T("radius under load / 0.96"))
	f.optional("tyre.width", words.T("Width"), Length, &t.Width, positive, words.T("not drawn, not checked"))
	f.optional("tyre.shoulder", words.T("Rounding of its shoulders"), Length, &t.Shoulder, notNeg, showLength(f.j, 25)+" "+shownLength(f.j))
	f.optional("tyre.clearance", words.T("Gap wanted"), Length, &t.Clearance, notNeg, showLength(f.j, 40)+" "+shownLength(f.j))
	f.overhang(v)
}

// overhang is where the vehicle comes lowest apart from what is drawn: of each place how far off and how high, together. Giving the first makes one, taking out the last ends it.
func (f *form) overhang(v *job.Vehicle) {
	f.group = words.T("Overhangs: how far off and how high, as 900, 450")
	if shownLength(f.j) == "in" {
		f.group = words.T("Overhangs: how far off and how high, as 36, 18")
	}
	var o job.Overhang
	if v.Overhang != nil {
		o = *v.Overhang
	}
	for _, n := range []struct {
		key, label string
		at, height **float64
	}{{"rear", words.T("Rear, behind this axle"), &o.Rear, &o.RearHeight}, {"middle", words.T("Middle, ahead of this axle"), &o.Middle, &o.MiddleHeight},
		{"front", words.T("Front, ahead of the front axle"), &o.Front, &o.FrontHeight}} {
		var now [][]float64
		if *n.at != nil && *n.height != nil {
			now = [][]float64{{**n.at, **n.height}}
		}
		x := f.pair("overhang."+n.key, n.label, now, func(at, height *float64) {
			*n.at, *n.height = at, height
			if v.Overhang = nil; o != (job.Overhang{}) {
				v.Overhang = &o
			}
		})
		x.Default = words.T("not given")
	}
	f.group = ""
}

// pair is two lengths typed together, or nothing.
func (f *form) pair(key, label string, now [][]float64, set func(a, b *float64)) *Field {
	x := f.points(key, label, 2, now, 0, func(out [][]float64) {
		if len(out) == 0 {
			set(nil, nil)
			return
		}
		set(&out[0][0], &out[0][1])
	})
	x.Unit = Text // short enough for a line
	return one(x, label, 2, words.T("two numbers with a comma between them"))
}

// one lets a field of places take one place of n numbers at most.
func one(x *Field, label string, n int, what string) *Field {
	take := x.set
	x.set = func(t string) error {
		t = strings.TrimRight(strings.TrimSpace(t), "; \n")
		if t != "" && (strings.ContainsAny(t, ";\n") || strings.Count(t, ",") != n-1) {
			return words.Errorf("%s: give %s.", label, what)
		}
		return take(t)
	}
	return x
}

func (f *form) driveline(d *job.Driveline) {
	f.optional("shaftDiameter", words.T("Shaft diameter"), Length, &d.ShaftDiameter, positive, words.T("gaps not checked"))
	yoke := words.T("Rear yoke turned from front yoke")
	if d.Bearing != nil {
		yoke = words.T("Rear piece: rear yoke turned from front yoke")
	}
	f.number("yokePhase", yoke, Angle, &d.YokePhase, bounds{-360, 360, false})
	f.optional("jointLimit", words.T("Joints bend up to"), Angle, &d.JointLimit, bounds{0, 90, true}, words.T("not known"))
	f.optional("speed", words.T("Shaft speed looked at"), Number, &d.Speed, positive, "none").Suffix = "rev/min"
	if d.Bearing != nil {
		f.group = words.T("Centre bearing")
		f.number("bearing.yokePhase", words.T("Front piece: rear yoke turned from front yoke"), Angle, &d.Bearing.YokePhase, bounds{-360, 360, false})
		f.group = ""
	}
	for _, one := range []struct {
		key, label string
		of         func(*job.Slip) *float64
	}{{"slip.in", words.T("Slip left in"), func(s *job.Slip) *float64 { return &s.In }}, {"slip.out", words.T("Slip left out"), func(s *job.Slip) *float64 { return &s.Out }}} {
		var v *float64
		if d.Slip != nil {
			v = one.of(d.Slip)
		}
		x := f.optional(one.key, one.label, Length, &v, notNeg, words.T("not known"))
		set := x.set
		x.set = func(t string) error {
			if err := set(t); err != nil {
				return err
			}
			switch {
			case v == nil:
				d.Slip = nil
			case d.Slip == nil:
				d.Slip = &job.Slip{In: *v, Out: *v} // the other end follows till it is typed
			default:
				*one.of(d.Slip) = *v
			}
			return nil
		}
	}
	f.clearance(&d.Clearance, 25)
}

func (f *form) travel() {
	now := job.Travel{}
	if f.j.Travel != nil {
		now = *f.j.Travel
	}
	for _, one := range []struct {
		key, label string
		unit       Unit
		of         func(*job.Travel) **float64
		b          bounds
	}{
		{"bump", words.T("Bump, both wheels"), Length, func(t *job.Travel) **float64 { return &t.Bump }, notNeg},
		{"droop", words.T("Droop, both wheels"), Length, func(t *job.Travel) **float64 { return &t.Droop }, notNeg},
		{"articulation", words.T("Crossed up"), Angle, func(t *job.Travel) **float64 { return &t.Articulation }, bounds{0, 60, false}},
	} {
		v := *one.of(&now)
		x := f.optional(one.key, one.label, one.unit, &v, one.b, words.T("no limit of yours"))
		set := x.set
		x.set = func(t string) error {
			if err := set(t); err != nil {
				return err
			}
			c := job.Travel{}
			if f.j.Travel != nil {
				c = *f.j.Travel
			}
			*one.of(&c) = v
			f.j.Travel = &c
			if c == (job.Travel{}) {
				f.j.Travel = nil
			}
			return nil
		}
	}
}
