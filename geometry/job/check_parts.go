package job

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// minSpan is the least distance between two pivots of one part, mm: below it a direction means nothing.
	minSpan = 1.0
	// minBoltAngle is the least angle between a bolt and its link, deg.
	minBoltAngle = 10.0
	// minDirection is the least length of a direction as written.
	minDirection = 1e-6
)

// parts checks each part of j by itself; prefix is "" or the trial's place. Only what j has is looked at.
func (c *checker) parts(j *Job, prefix string) {
	at := func(list string, i int) string { return item(join(prefix, list), i) }
	if j.Vehicle != nil {
		c.vehicle(j.Vehicle, join(prefix, "vehicle"))
	}
	if j.Axle != nil {
		c.axle(j.Axle, join(prefix, "axle"))
	}
	if j.Driveline != nil {
		c.driveline(j.Driveline, join(prefix, "driveline"))
	}
	for i := range j.Links {
		c.link(&j.Links[i], at("links", i))
	}
	for i := range j.Arms {
		c.arm(&j.Arms[i], at("arms", i))
	}
	for i := range j.Rockers {
		c.rocker(&j.Rockers[i], at("rockers", i))
	}
	for i := range j.Struts {
		c.strut(&j.Struts[i], at("struts", i))
	}
	for i := range j.Stops {
		c.stop(&j.Stops[i], at("stops", i))
	}
	for i := range j.Straps {
		s, p := &j.Straps[i], at("straps", i)
		c.bar(s.Name, s.Pair, p, s.Frame, s.Axle)
		c.given(s.Given, s, p)
	}
	for i := range j.Lines {
		l, p := &j.Lines[i], at("lines", i)
		c.bar(l.Name, l.Pair, p, l.Frame, l.Axle)
		c.given(l.Given, l, p)
	}
	for i := range j.Sensors {
		c.sensor(&j.Sensors[i], at("sensors", i))
	}
	for i := range j.Envelopes {
		e, p := &j.Envelopes[i], at("envelopes", i)
		c.name(e.Name, p)
		c.envelope(e, p)
	}
}

func (c *checker) vehicle(v *Vehicle, p string) {
	if t := v.Tyre; t != nil {
		tp := join(p, "tyre")
		if t.FreeRadius != nil && *t.FreeRadius < t.LoadedRadius {
			c.add(join(tp, "freeRadius"), 0, "The free radius is %s and the loaded radius %s mm; a tyre gets no larger under load. Correct one of them.", figure(*t.FreeRadius), figure(t.LoadedRadius))
		}
		if t.Shoulder != nil && t.Width != nil && *t.Shoulder > *t.Width/2 {
			c.add(join(tp, "shoulder"), 0, "The shoulder is %s mm; it is at most half the width, %s mm. Correct one of them.", figure(*t.Shoulder), figure(*t.Width/2))
		}
		if t.Shoulder != nil && *t.Shoulder > t.Free() {
			c.add(join(tp, "shoulder"), 0, "The shoulder is %s mm; it is at most the free radius, %s mm. Correct one of them.", figure(*t.Shoulder), figure(t.Free()))
		}
		if t.Width != nil && *t.Width > v.Track {
			c.add(join(tp, "width"), 0, "The tyre is %s mm wide and the track %s mm, so the tyres would overlap. Correct one of them.", figure(*t.Width), figure(v.Track))
		}
	}
	names := make([]string, len(v.Loads))
	for i := range v.Loads {
		l, lp := &v.Loads[i], item(join(p, "loads"), i)
		names[i] = l.Name
		if l.CG[2] <= 0 {
			c.add(item(join(lp, "cg"), 2), 0, "The centre of gravity is at Z = %s mm; a height above the ground is expected. Correct it.", figure(l.CG[2]))
		}
		c.given(l.Given, l, lp)
	}
	c.unlike(join(p, "loads"), names)
	names = make([]string, len(v.Heights))
	for i := range v.Heights {
		names[i] = v.Heights[i].Name
	}
	c.unlike(join(p, "heights"), names)
	if v.Overhang != nil {
		c.overhang(v, join(p, "overhang"))
	}
}

// overhang wants a distance and a height together, and what lies between the axles between them.
func (c *checker) overhang(v *Vehicle, p string) {
	o := v.Overhang
	for _, k := range []struct {
		key        string
		at, height *float64
	}{{"rear", o.Rear, o.RearHeight}, {"middle", o.Middle, o.MiddleHeight}, {"front", o.Front, o.FrontHeight}} {
		switch {
		case k.at != nil && k.height == nil:
			c.add(join(p, k.key), 0, "\"%s\" says how far off that is; \"%sHeight\", its height above the ground, is missing. Add it or take \"%s\" out.", k.key, k.key, k.key)
		case k.at == nil && k.height != nil:
			c.add(join(p, k.key+"Height"), 0, "\"%sHeight\" says how high that is; \"%s\", how far off, is missing. Add it or take \"%sHeight\" out.", k.key, k.key, k.key)
		}
	}
	if o.Middle != nil && *o.Middle >= v.Wheelbase {
		c.add(join(p, "middle"), 0, "The middle is %s mm ahead of this axle and the wheelbase %s mm; it lies between the axles. Correct one of them.", figure(*o.Middle), figure(v.Wheelbase))
	}
}

func (c *checker) axle(a *Axle, p string) {
	if t := a.Tube; t != nil && t.From >= t.To {
		c.add(join(p, "tube.from"), 0, "From is %s and to is %s mm; from is the right end, the smaller Y. Change them over or correct one.", figure(t.From), figure(t.To))
	}
	for i := range a.Housing {
		e, hp := &a.Housing[i], item(join(p, "housing"), i)
		if e.Pair {
			c.add(join(hp, "pair"), 0, "A housing entry is no pair. Draw the other one as an entry of its own.")
		}
		if len(e.Carries) > 0 {
			c.add(join(hp, "carries"), 0, "The housing carries what is on the axle by itself. Take \"carries\" out.")
		}
		if e.Name != "" {
			c.name(e.Name, hp)
		}
		c.envelope(e, hp)
	}
	if a.Pinion != nil {
		c.joint(a.Pinion, join(p, "pinion"))
	}
}

func (c *checker) joint(j *Joint, p string) {
	c.direction(&j.Axis, join(p, "axis"))
	c.given(j.Given, j, p)
}

func (c *checker) direction(d *Point, p string) {
	if d != nil && r3.Norm(d.Vec()) < minDirection {
		c.add(p, 0, "The direction is [%s]; one with a length is expected, such as [0, 1, 0] for straight across. Correct it.", triple(*d))
	}
}

func triple(p Point) string { return figure(p[0]) + ", " + figure(p[1]) + ", " + figure(p[2]) }

// apart checks that two places of a part are not one.
func (c *checker) apart(a, b Point, p, what string) {
	if d := r3.Norm(r3.Sub(a.Vec(), b.Vec())); d < minSpan {
		c.add(p, 0, "%s are %s mm apart; at least %s mm is expected. Move one of them.", what, shortLength(d), figure(minSpan))
	}
}

// left checks that the places of a pair lie left of the centre plane, so that its twins are two.
func (c *checker) left(pair bool, p, key string, places ...Point) {
	if !pair {
		return
	}
	for i, at := range places {
		if at[1] > 0 {
			continue
		}
		where := join(p, key)
		if len(places) > 1 {
			where = item(where, i)
		}
		c.add(item(where, 1), 0, "This is one of a pair and lies at Y = %s mm; the left one is given, with Y above 0. Give the left one, or make it a single.", figure(at[1]))
	}
}

// bar checks what every part between a frame point and an axle point shares.
func (c *checker) bar(name string, pair bool, p string, frame, axle Point) {
	c.name(name, p)
	c.apart(frame, axle, p, "Its frame end and its axle end")
	c.left(pair, p, "frame", frame)
	c.left(pair, p, "axle", axle)
}

func (c *checker) link(l *Link, p string) {
	c.bar(l.Name, l.Pair, p, l.Frame, l.Axle)
	c.tube(l.Tube, join(p, "tube"))
	last := l.Frame
	for i, b := range l.Bends {
		c.apart(last, b, item(join(p, "bends"), i), "This bend and the point before it")
		last = b
	}
	if n := len(l.Bends); n > 0 {
		c.apart(last, l.Axle, item(join(p, "bends"), n-1), "This bend and the axle pivot")
	}
	along := r3.Sub(l.Axle.Vec(), l.Frame.Vec())
	c.end(l.FrameEnd, along, join(p, "frameEnd"))
	c.end(l.AxleEnd, along, join(p, "axleEnd"))
	if l.Clock != nil && l.FrameEnd == nil && l.AxleEnd == nil {
		c.add(join(p, "clock"), 0, "This turns the bore of the axle end, and the link has neither frameEnd nor axleEnd. Give the ends, or take \"clock\" out.")
	}
	c.given(l.Given, l, p)
}

func (c *checker) strut(s *Strut, p string) {
	c.bar(s.Name, s.Pair, p, s.Frame, s.Axle)
	c.given(s.Given, s, p)
	if s.Closed != nil && s.Open != nil && *s.Closed >= *s.Open {
		c.add(join(p, "closed"), 0, "Closed is %s and open is %s mm; the closed length is the shorter one. Correct one of them.", figure(*s.Closed), figure(*s.Open))
	}
	if s.Diameter != nil && s.Diameters != nil {
		c.add(join(p, "diameters"), 0, "Both \"diameter\" and \"diameters\" are given; one of them says how thick it is. Keep \"diameters\" for an air bag, \"diameter\" for anything else.")
	}
	for i := 1; i < len(s.Diameters); i++ {
		if a, b := s.Diameters[i-1][0], s.Diameters[i][0]; a >= b {
			c.add(item(item(join(p, "diameters"), i), 0), 0, "This length is %s mm and the one before it %s mm; each is longer than the one before. Put them in order.", figure(b), figure(a))
			return
		}
	}
}

func (c *checker) tube(t *Tube, p string) {
	if t != nil && t.Wall != nil && *t.Wall > t.Outside/2 {
		c.add(join(p, "wall"), 0, "The wall is %s mm; it is at most half the outside diameter, %s mm. Leave it out for a solid bar.", figure(*t.Wall), figure(t.Outside/2))
	}
}

func (c *checker) arm(a *Arm, p string) {
	c.name(a.Name, p)
	c.given(a.Given, a, p)
	c.tube(a.Tube, join(p, "tube"))
	c.left(a.Pair, p, "frame", a.Frame...)
	c.left(a.Pair, p, "axle", a.Axle...)
	if f, x := len(a.Frame), len(a.Axle); f > 0 && x > 0 && f <= 2 && x <= 2 {
		switch {
		case f == 1 && x == 1:
			c.add(p, 0, "One frame pivot and one axle pivot are given; an A-arm has two and one, a radius arm one and two. Give the third, or make it a link.")
		case f == 2 && x == 2:
			c.add(p, 0, "Two frame pivots and two axle pivots are given; an A-arm has two and one, a radius arm one and two. Take one out.")
		default:
			three := append(append([]Point{}, a.Frame...), a.Axle...)
			c.apart(three[0], three[1], p, "Two of its pivots")
			c.apart(three[1], three[2], p, "Two of its pivots")
			c.apart(three[0], three[2], p, "Two of its pivots")
			c.spread(a, p)
		}
	}
	for _, e := range []struct {
		ends   []End
		pivots int
		key    string
	}{{a.FrameEnds, len(a.Frame), "frameEnds"}, {a.AxleEnds, len(a.Axle), "axleEnds"}} {
		if len(e.ends) > 0 && len(e.ends) != e.pivots {
			pivots := "2 pivots"
			if e.pivots == 1 {
				pivots = "1 pivot"
			}
			c.add(join(p, e.key), 0, "%d given for %s; one for each is expected, in the same order. Correct the list or leave it out.", len(e.ends), pivots)
		}
		for i := range e.ends {
			along := r3.Vec{}
			if e.ends[i].Kind == "bush" { // its twist is told by this line
				along = a.along()
			}
			c.end(&e.ends[i], along, item(join(p, e.key), i))
		}
	}
}

// along is the line from an arm's single pivot to the middle of its pair, zero where it does not have three pivots.
func (a *Arm) along() r3.Vec {
	pair, single := a.Frame, a.Axle
	if len(pair) == 1 {
		pair, single = single, pair
	}
	if len(pair) != 2 || len(single) != 1 {
		return r3.Vec{}
	}
	return r3.Sub(r3.Scale(0.5, r3.Add(pair[0].Vec(), pair[1].Vec())), single[0].Vec())
}

// spread checks that an arm's single pivot is off the line of its other two.
func (c *checker) spread(a *Arm, p string) {
	pair, single := a.Frame, a.Axle
	if len(pair) == 1 {
		pair, single = single, pair
	}
	base := r3.Sub(pair[1].Vec(), pair[0].Vec())
	if r3.Norm(base) < minSpan {
		return
	}
	if off := r3.Norm(r3.Cross(r3.Unit(base), r3.Sub(single[0].Vec(), pair[0].Vec()))); off < minSpan {
		c.add(p, 0, "Its three pivots lie in one line, so it is no arm. Move one of them, or make it a link.")
	}
}

func (c *checker) rocker(r *Rocker, p string) {
	c.name(r.Name, p)
	c.direction(&r.Axis, join(p, "axis"))
	c.given(r.Given, r, p)
	axis := r.Axis.Vec()
	for i := range r.Rods {
		d, dp := &r.Rods[i], item(join(p, "rods"), i)
		c.name(d.Name, dp)
		c.tube(d.Tube, join(dp, "tube"))
		c.apart(d.Rocker, d.Far, dp, "Its two pivots")
		along := r3.Sub(d.Far.Vec(), d.Rocker.Vec())
		c.end(d.RockerEnd, along, join(dp, "rockerEnd"))
		c.end(d.FarEnd, along, join(dp, "farEnd"))
		if r3.Norm(axis) >= minDirection {
			if off := r3.Norm(r3.Cross(r3.Unit(axis), r3.Sub(d.Rocker.Vec(), r.Pivot.Vec()))); off < minSpan {
				c.add(join(dp, "rocker"), 0, "The rod joins the rocker %s mm off the rocker's bolt; at least %s mm is expected. Move it.", shortLength(off), figure(minSpan))
			}
			if deg, ok := between(axis, along); ok && deg < minBoltAngle {
				c.add(dp, 0, "The rod lies %.1f deg from the rocker's own bolt, so it cannot turn the rocker; at least %s deg is expected, and usually it is square to it. Move one of its pivots.", deg, figure(minBoltAngle))
			}
		}
	}
	if len(r.Rods) == 2 {
		c.apart(r.Rods[0].Rocker, r.Rods[1].Rocker, join(p, "rods"), "The rods' pivots on the rocker")
	}
}

func (c *checker) stop(s *Stop, p string) {
	c.bar(s.Name, s.Pair, p, s.Frame, s.Axle)
	c.given(s.Given, s, p)
	c.direction(s.Axis, join(p, "axis"))
	if s.Touch != nil && *s.Touch < s.Closed {
		c.add(join(p, "touch"), 0, "Touch is %s and closed is %s mm; a stop is free before it is solid, so touch is the longer one. Correct one of them.", figure(*s.Touch), figure(s.Closed))
	}
}

func (c *checker) sensor(s *Sensor, p string) {
	c.name(s.Name, p)
	c.given(s.Given, s, p)
	c.direction(&s.Axis, join(p, "axis"))
	c.left(s.Pair, p, "shaft", s.Shaft)
	c.left(s.Pair, p, "lever", s.Lever)
	c.left(s.Pair, p, "far", s.Far)
	c.apart(s.Lever, s.Far, p, "The two ends of its rod")
	if axis := s.Axis.Vec(); r3.Norm(axis) >= minDirection {
		if off := r3.Norm(r3.Cross(r3.Unit(axis), r3.Sub(s.Lever.Vec(), s.Shaft.Vec()))); off < minSpan {
			c.add(join(p, "lever"), 0, "The lever's end lies on the line of its shaft; at least %s mm off it is expected. Move it.", figure(minSpan))
		}
		if deg, ok := between(axis, r3.Sub(s.Far.Vec(), s.Lever.Vec())); ok && deg < minBoltAngle {
			c.add(join(p, "far"), 0, "The rod lies %.1f deg from the shaft's own direction, so it cannot turn the lever; at least %s deg is expected, and usually it is square to it. Move its far end.", deg, figure(minBoltAngle))
		}
	}
	if w := s.Swing; w != nil && w[0] >= w[1] {
		c.add(join(p, "swing"), 0, "The swing is from %s to %s deg; the first is the smaller. Change them over or correct one.", figure(w[0]), figure(w[1]))
	}
}

// shapeKeys are the keys of each kind of shape: first those that must be there.
var shapeKeys = map[string]struct{ must, may []string }{
	"box":   {[]string{"min", "max"}, []string{"turn"}},
	"prism": {[]string{"plane", "outline", "from", "to"}, nil},
	"ball":  {[]string{"centre", "radius"}, nil},
	"tube":  {[]string{"path", "outside"}, nil},
	"mesh":  {[]string{"file"}, nil},
}

// shapeOrder fixes the order of complaints.
var shapeOrder = []string{"min", "max", "turn", "plane", "outline", "from", "to", "centre", "radius", "path", "outside", "file"}

func (e *Envelope) has() map[string]bool {
	return map[string]bool{
		"min": e.Min != nil, "max": e.Max != nil, "turn": e.Turn != nil,
		"plane": e.Plane != "", "outline": e.Outline != nil, "from": e.From != nil, "to": e.To != nil,
		"centre": e.Centre != nil, "radius": e.Radius != nil,
		"path": e.Path != nil, "outside": e.Outside != nil, "file": e.File != "",
	}
}

func (c *checker) envelope(e *Envelope, p string) {
	c.given(e.Given, e, p)
	if e.Fill != nil && !e.Vessel {
		c.add(join(p, "fill"), 0, "Only a tank is filled. Add \"vessel\": true, or take this out.")
	}
	keys, known := shapeKeys[e.Kind]
	if !known {
		return // the kind itself has its complaint
	}
	has := e.has()
	whole := true
	for _, k := range shapeOrder {
		switch must, may := contains(keys.must, k), contains(keys.may, k); {
		case must && !has[k]:
			c.add(join(p, k), 0, "%q is missing; a %s needs %s. Add it.", k, e.Kind, andList(keys.must))
			whole = false
		case !must && !may && has[k]:
			c.add(join(p, k), 0, "%q does not belong to a %s, which has %s. Take it out, or correct the kind.", k, e.Kind, andList(append(append([]string{}, keys.must...), keys.may...)))
		}
	}
	if !whole {
		return
	}
	switch e.Kind {
	case "box":
		for i, axis := range "XYZ" {
			if e.Min[i] >= e.Max[i] {
				c.add(item(join(p, "min"), i), 0, "Along %c the box runs from %s to %s mm; min is the smaller. Change them over or correct one.", axis, figure(e.Min[i]), figure(e.Max[i]))
			}
		}
	case "prism":
		if *e.From >= *e.To {
			c.add(join(p, "from"), 0, "From is %s and to is %s mm; from is the smaller. Change them over or correct one.", figure(*e.From), figure(*e.To))
		}
		c.outline(e.Outline, join(p, "outline"))
	case "tube":
		for i := 1; i < len(e.Path); i++ {
			c.apart(e.Path[i-1], e.Path[i], item(join(p, "path"), i), "This point and the one before it")
		}
	case "mesh":
		if !plainFile(e.File) || !strings.HasSuffix(strings.ToLower(e.File), ".stl") {
			c.add(join(p, "file"), 0, "The file is %q; the name of an STL file beside the job file is expected, such as \"tank.stl\". Put it there and give its bare name.", clip(e.File))
		}
	}
	if lo, ok := e.lowestY(); e.Pair && ok && lo < -1e-9 {
		c.add(p, 0, "This is one of a pair and reaches %s mm across the centre plane; the left one is given, with all of it at Y of 0 or more. Give the left one, or make it a single.", shortLength(-lo))
	}
}

// plainFile reports whether a name is that of a file beside another: no folders, no way up.
func plainFile(name string) bool {
	return name != "" && name != "." && name != ".." && !strings.ContainsAny(name, "/\\:\x00") && strings.TrimSpace(name) == name
}

func contains(list []string, s string) bool {
	for _, l := range list {
		if l == s {
			return true
		}
	}
	return false
}

func andList(words []string) string {
	switch n := len(words); n {
	case 0:
		return "nothing"
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

func (c *checker) outline(o []Point2, p string) {
	if len(o) < 3 || len(o) > 1000 {
		return // has its complaint
	}
	for i := range o {
		if k := (i + 1) % len(o); o[i] == o[k] {
			c.add(item(p, max(i, k)), 0, "The corner [%s, %s] is given twice in a row. Take one out; the last corner joins the first by itself.", figure(o[i][0]), figure(o[i][1]))
			return
		}
	}
	if i, k, ok := Crossing(o); !ok {
		edge := func(i int) string {
			a, b := o[i], o[(i+1)%len(o)]
			return fmt.Sprintf("[%s, %s] to [%s, %s]", figure(a[0]), figure(a[1]), figure(b[0]), figure(b[1]))
		}
		c.add(item(p, k), 0, "The outline crosses or touches itself: the edge %s meets the edge %s. Put the corners in order round the part.", edge(i), edge(k))
		return
	}
	if a := math.Abs(area(o)); a < minSpan*minSpan {
		c.add(p, 0, "The outline holds %s mm2; at least %s is expected. Spread its corners.", figure(a), figure(minSpan*minSpan))
	}
}

// lowestY is the least Y of a shape, where its kind tells.
func (e *Envelope) lowestY() (float64, bool) {
	lo := math.Inf(1)
	switch e.Kind {
	case "box":
		if e.Turn == nil {
			return e.Min[1], true
		}
		sx, cx := math.Sincos(e.Turn[0] * math.Pi / 180)
		sy, cy := math.Sincos(e.Turn[1] * math.Pi / 180)
		sz, cz := math.Sincos(e.Turn[2] * math.Pi / 180)
		// The row of R = Rz Ry Rx that gives Y.
		row := [3]float64{sz * cy, sz*sy*sx + cz*cx, sz*sy*cx - cz*sx}
		lo = (e.Min[1] + e.Max[1]) / 2
		for i := range row {
			lo -= math.Abs(row[i]) * (e.Max[i] - e.Min[i]) / 2
		}
	case "ball":
		lo = e.Centre[1] - *e.Radius
	case "tube":
		for _, q := range e.Path {
			lo = min(lo, q[1]-*e.Outside/2)
		}
	case "prism":
		axis := map[string]int{"rear": 0, "plan": 1}
		k, inPlane := axis[e.Plane]
		if !inPlane {
			return *e.From, e.Plane == "side"
		}
		for _, q := range e.Outline {
			lo = min(lo, q[k])
		}
	default:
		return 0, false
	}
	return lo, true
}
