package sheets

import (
	"context"
	"fmt"
	"math"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

// engineer is every figure with its definition and where each input came from, for the one who certifies.
func engineer(ctx context.Context, in *Input) ([]sheet.Block, error) {
	s := in.Study
	out := []sheet.Block{sheet.Heading{Words: "Findings"}}
	out = append(out, in.findings()...)
	out = append(out, sheet.Heading{Words: "Assumptions"}, in.assumptions())
	out = append(out, sheet.Heading{Words: "Inputs: vehicle, loads, heights"})
	out = append(out, in.vehicle()...)
	out = append(out, sheet.Heading{Words: "Inputs: places, with their origin"}, in.placesGiven())
	out = append(out, sheet.Heading{Words: "Inputs: members"})
	out = append(out, in.members()...)
	out = append(out, sheet.Heading{Words: "Inputs: parts in the way"}, in.inTheWay())
	out = append(out, sheet.Heading{Words: "Definitions and signs"}, definitions())
	if t := in.heightFigures(); len(t.Rows) > 0 {
		out = append(out, sheet.Heading{Words: "At each height and load"}, t)
		for _, c := range s.HeightTable().Captions {
			out = append(out, sheet.Para{Small: true, Words: c})
		}
	}
	out = append(out, sheet.Heading{Words: "Over the whole travel"}, in.extents())
	out = append(out, sheet.Heading{Words: "What stops the axle first"}, in.ring(),
		sheet.Para{Small: true, Words: "Straight from ride height in 24 directions of left against right travel; bump +. What touches is found at positions along each direction. Range: " + s.RangeWords() + "."})
	out = append(out, sheet.Heading{Words: "Joints and bushes over the whole travel"}, in.jointTable())
	if t := in.forced(); len(t.Rows) > 0 {
		out = append(out, sheet.Heading{Words: "Forced stretches and forces"}, t,
			sheet.Para{Small: true, Words: "The layout is over-located: members and bushes give so much over the travel. Stiffnesses marked assumed were not given. Static, at the positions looked at; no dynamic or fatigue allowance. Do not size a weld from this alone."})
	}
	out = append(out, sheet.Heading{Words: "Gaps over the whole travel, least to spare first"}, in.gapTable(), sheet.Para{Small: true, Words: s.ProvedWords()})
	if s.Gaps != nil && len(s.Gaps.LeftOut) > 0 {
		out = append(out, sheet.Heading{Words: "Left out of the gaps, and why", Minor: true}, in.leftOut())
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	out = append(out, sheet.Break{}, sheet.Heading{Words: "Charts"})
	out = append(out, in.charts("both", "crossed")...)
	if by := in.chartsByHeight(); len(by) > 0 {
		out = append(out, sheet.Heading{Words: "Charts crossed up, a line through each height"})
		out = append(out, by...)
	}
	out = append(out, sheet.Heading{Words: "Cautions"}, sheet.Points(in.cautions()), sheet.Heading{Words: "Read and considered"}, sheet.Sign{"Name and licence", "Signature", "Date"})
	return out, nil
}

// findings are all there are, then those set aside with the reasons given.
func (in *Input) findings() []sheet.Block {
	s := in.Study
	t := sheet.Table{Columns: []sheet.Column{{Head: "Kind", Strong: true}, {Head: "Finding"}}, Empty: "None between the parts drawn."}
	aside := sheet.Table{Columns: []sheet.Column{{Head: "Set aside", Strong: true}, {Head: "Reason given"}, {Head: "Date"}}}
	for i := range s.Findings {
		f := &s.Findings[i]
		if f.SetAside != nil {
			aside.Rows = append(aside.Rows, sheet.Row{Cells: []string{f.Sentence, f.SetAside.Reason, f.SetAside.Date}})
			continue
		}
		kind := f.Kind.String()
		if f.Kind == study.Outside {
			kind = "Outside common practice"
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{kind, f.Sentence}})
	}
	out := []sheet.Block{t}
	if len(aside.Rows) > 0 {
		out = append(out, aside)
	}
	return append(out, sheet.Para{Small: true, Words: s.CheckedWords() + ". Common practice is no rule and has no source; it is shown beside the figures, never as a limit."})
}

func (in *Input) assumptions() sheet.Block {
	s := in.Study
	v := s.Job.Vehicle
	list := sheet.Points{
		"Rigid frame, rigid axle, rigid brackets; pivots stand where they were measured or drawn. Frame flex, bush give (but where it is what an over-located layout moves by), weld size and heat are not looked at.",
		"Quasi-static: no speed, no damping, no inertia of the axle; ground flat and level.",
		"Bush bolts tightened at design ride height.",
		"Only the parts drawn are checked; wiring, hoses without a diameter, and loads in between are not.",
	}
	if v.FrontStill() {
		list = append(list, "The front stays where it is: the ground runs from the front contact at ride height to this axle's, and anti-squat, anti-lift, roll centre and roll steer are taken in ground axes.")
	} else {
		list = append(list, "Both axles move together: the ground stays level.")
	}
	var assumed []string
	for i := range s.Mech.Joints {
		if j := &s.Mech.Joints[i]; j.End.StiffnessAssumed {
			assumed = append(assumed, j.Name)
		}
	}
	if n := len(assumed); n > 0 && len(in.forced().Rows) > 0 {
		list = append(list, fmt.Sprintf("The stiffness of %d ends is assumed: 10 000 N/mm for a bush, 100 000 for a ball or stud, a quarter of it along the bolt.", n))
	}
	return list
}

func (in *Input) vehicle() []sheet.Block {
	j := in.Study.Job
	v := j.Vehicle
	facts := []sheet.Fact{
		{Name: "Wheelbase", Value: in.length(v.Wheelbase)}, {Name: "Track", Value: in.length(v.Track)},
		{Name: "Loaded tyre radius", Value: in.length(v.Tyre.LoadedRadius)}, {Name: "Free tyre radius", Value: in.length(v.Tyre.Free())},
		{Name: "Share of the tractive force", Value: number(100*v.Drive(), 0) + " %"}, {Name: "Share of the braking force", Value: number(100*v.Brake(), 0) + " %"},
	}
	if v.Tyre.WidthOr0() > 0 {
		facts = append(facts, sheet.Fact{Name: "Tyre width", Value: in.length(v.Tyre.WidthOr0())})
	}
	out := []sheet.Block{sheet.Facts{Facts: facts}}
	loads := sheet.Table{Columns: []sheet.Column{{Head: "Load", Strong: true}, {Head: "Mass, kg", Right: true}, {Head: "CG ahead of the axle, " + in.unit(), Right: true}, {Head: "CG above ground, " + in.unit(), Right: true}, {Head: "Travel it causes, " + in.unit(), Right: true}, {Head: "Known by"}}, Empty: "No load is given: there is no anti-squat."}
	for i := range v.Loads {
		l := &v.Loads[i]
		var how []string
		for _, k := range []struct{ key, name string }{{"mass", "mass"}, {"front", "front on the scales"}, {"rear", "rear on the scales"}, {"cg.x", "CG ahead"}, {"cg.z", "CG height"}} {
			if g, ok := l.Given[k.key]; ok {
				how = append(how, k.name+": "+in.given(g))
			} else if k.key == "cg.z" {
				how = append(how, "CG height: a guess")
			}
		}
		loads.Rows = append(loads.Rows, sheet.Row{Cells: []string{l.Name, number(l.Mass, 0), in.mm(l.CG[0]), in.mm(l.CG[2]), in.signedMM(l.Heave), strings.Join(how, "; ")}})
	}
	out = append(out, loads)
	if len(v.Heights) > 0 {
		h := sheet.Table{Columns: []sheet.Column{{Head: "Height", Strong: true}, {Head: "Travel, " + in.unit() + ", bump +", Right: true}}}
		for i := range v.Heights {
			h.Rows = append(h.Rows, sheet.Row{Cells: []string{v.Heights[i].Name, in.signedMM(v.Heights[i].Heave)}})
		}
		out = append(out, h)
	}
	return out
}

// given words how a number came to be: `typed 44 3/8" from hanger bolt, tape, ±1.5`.
func (in *Input) given(g job.GivenValue) string {
	var out []string
	if g.Typed != "" {
		out = append(out, "typed "+g.Typed)
	}
	if g.From != "" {
		out = append(out, "from "+g.From)
	}
	if g.Source != "" {
		out = append(out, g.Source)
	}
	if g.PlusMinus != nil {
		out = append(out, "±"+in.mm(*g.PlusMinus))
	}
	if len(out) == 0 {
		return "given"
	}
	return strings.Join(out, ", ")
}

// placesGiven is every pivot's coordinates with where each came from.
func (in *Input) placesGiven() sheet.Table {
	j := in.Study.Job
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Pivot", Strong: true}, {Head: "X", Right: true}, {Head: "Y", Right: true}, {Head: "Z, " + in.unit(), Right: true}, {Head: "Origin of X; Y; Z"}, {Head: ""}}}
	for _, p := range edit.Pivots(j) {
		at, ok := edit.At(j, p)
		if !ok {
			continue
		}
		var how []string
		for a := edit.X; a <= edit.Z; a++ {
			g, has := edit.GivenOf(j, p, a)
			switch {
			case has:
				how = append(how, in.given(g))
			case edit.IsMeasured(j, p):
				how = append(how, "measured")
			default:
				how = append(how, "a guess, ±"+in.mm(edit.PlusMinus(j, p, a)))
			}
		}
		origin := strings.Join(how, "; ")
		if how[0] == how[1] && how[1] == how[2] {
			origin = how[0]
		}
		state := "planned"
		if edit.IsMeasured(j, p) {
			state = "measured"
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{edit.Name(j, p), in.mm(at.X), in.mm(at.Y), in.mm(at.Z), origin, state}})
	}
	return t
}

// members are links and their ends, struts, stops, straps as given.
func (in *Input) members() []sheet.Block {
	m := in.Study.Mech
	u := in.unit()
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Joint", Strong: true}, {Head: "Kind"}, {Head: "Bolt (X, Y, Z)"}, {Head: "Tilt limit, deg", Right: true}, {Head: "Twist limit, deg", Right: true}, {Head: "Stiffness, N/mm", Right: true}, {Head: "Own bracket, " + u, Right: true}}}
	for i := range m.Joints {
		j := &m.Joints[i]
		kind := map[motion.EndKind]string{motion.Bush: "bush", motion.Ball: "ball", motion.Stud: "stud"}[j.End.Kind]
		if !j.End.Known {
			kind = "not given"
		}
		stiff := number(j.End.Stiffness, 0)
		if j.End.StiffnessAssumed {
			stiff += " assumed"
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{j.Name, kind, direction(j.End.Bolt), number(j.End.MisLimit*radian, 1), number(j.End.TorLimit*radian, 1), stiff, in.mm(j.End.Bracket)}})
	}
	out := []sheet.Block{in.linkTable(), t}
	out = append(append(out, in.strutBlocks()...), in.stopBlocks()...)
	if list := in.otherInputs(); len(list) > 0 {
		out = append(out, sheet.Heading{Words: "Driveline, lines and the rest", Minor: true}, sheet.Facts{Facts: list})
	}
	return out
}

// otherInputs are those that are in no table.
func (in *Input) otherInputs() []sheet.Fact {
	j := in.Study.Job
	var out []sheet.Fact
	add := func(name, value string) { out = append(out, sheet.Fact{Name: name, Value: value}) }
	opt := func(name string, v *float64, show func(float64) string) {
		if v != nil {
			add(name, show(*v))
		}
	}
	deg := func(v float64) string { return number(v, 1) + " deg" }
	if a := j.Axle; a != nil {
		if a.Tube != nil {
			add("Axle tube", fmt.Sprintf("%s across, Y %s to %s", in.length(a.Tube.Outside), in.mm(a.Tube.From), in.mm(a.Tube.To)))
		}
		if a.Pinion != nil {
			add("Pinion axis (X, Y, Z)", direction(a.Pinion.Axis.Vec()))
		}
	}
	if d := j.Driveline; d != nil {
		if d.Output != nil {
			add("Output axis (X, Y, Z)", direction(d.Output.Axis.Vec()))
		}
		add("Yokes, turned", deg(d.YokePhase))
		opt("Driveshaft diameter", d.ShaftDiameter, in.length)
		opt("Driveshaft joint limit", d.JointLimit, deg)
		opt("Driveshaft speed chosen", d.Speed, func(v float64) string { return number(v, 0) + " rev/min" })
		if d.Slip != nil {
			add("Slip there is", in.length(d.Slip.In)+" in, "+in.length(d.Slip.Out)+" out")
		}
		if b := d.Bearing; b != nil {
			add("Yokes of the front piece, turned", deg(b.YokePhase))
		}
	}
	for i := range j.Lines {
		opt(j.Lines[i].Name+", length", j.Lines[i].Length, in.length)
	}
	for i := range j.Struts {
		opt(j.Struts[i].Name+", rate", j.Struts[i].Rate, func(v float64) string { return number(v, 1) + " N/mm" })
		opt(j.Struts[i].Name+", end tilt limit", j.Struts[i].Tilt, deg)
	}
	if t := j.Travel; t != nil {
		opt("Bump as entered", t.Bump, in.length)
		opt("Droop as entered", t.Droop, in.length)
		opt("Articulation as entered", t.Articulation, deg)
	}
	return out
}

func direction(v r3.Vec) string {
	return number(v.X, 3) + ", " + number(v.Y, 3) + ", " + number(v.Z, 3)
}

func (in *Input) inTheWay() sheet.Table {
	j := in.Study.Job
	u := in.unit()
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Part", Strong: true}, {Head: "Shape, " + u}, {Head: "Gap wanted, " + u, Right: true}, {Head: "Known by"}, {Head: "Can move"}}, Empty: "Nothing in the way is drawn."}
	for i := range j.Envelopes {
		e := &j.Envelopes[i]
		name := e.Name
		if e.Pair {
			name += ", left and right"
		}
		how := "a guess"
		if e.Measured != nil && *e.Measured {
			how = "measured"
		}
		var said []string
		seen := map[string]bool{}
		for _, g := range e.Given {
			if w := in.given(job.GivenValue{Source: g.Source, PlusMinus: g.PlusMinus, From: g.From}); !seen[w] {
				seen[w] = true
				said = append(said, w)
			}
		}
		if len(said) == 1 {
			how = strings.TrimPrefix(how+": ", "a guess: ") + said[0]
		} else if len(said) > 1 {
			how = strings.TrimPrefix(how+", ", "a guess, ") + "sizes given one by one"
		}
		move := "cannot"
		if e.Movable {
			move = "can"
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{name, in.shape(e), in.mm(e.Gap()), how, move}})
	}
	return t
}

// shape words where a part in the way is.
func (in *Input) shape(e *job.Envelope) string {
	three := func(p *job.Point) string {
		if p == nil {
			return none
		}
		return in.mm(p[0]) + ", " + in.mm(p[1]) + ", " + in.mm(p[2])
	}
	value := func(v *float64) string {
		if v == nil {
			return none
		}
		return in.mm(*v)
	}
	switch e.Kind {
	case "box":
		words := "box from " + three(e.Min) + " to " + three(e.Max)
		if e.Turn != nil {
			words += ", turned " + number(e.Turn[0], 1) + ", " + number(e.Turn[1], 1) + ", " + number(e.Turn[2], 1) + " deg"
		}
		return words
	case "prism":
		var corners []string
		for _, p := range e.Outline {
			corners = append(corners, in.mm(p[0])+", "+in.mm(p[1]))
		}
		return fmt.Sprintf("outline in %s view (%s), from %s to %s", e.Plane, strings.Join(corners, "; "), value(e.From), value(e.To))
	case "ball":
		return "ball round " + three(e.Centre) + ", radius " + value(e.Radius)
	case "tube":
		var points []string
		for i := range e.Path {
			points = append(points, three(&e.Path[i]))
		}
		return fmt.Sprintf("pipe through (%s), %s outside", strings.Join(points, "; "), value(e.Outside))
	case "mesh":
		return "solid from " + e.File
	}
	return e.Kind
}

// heightFigures is the table of heights and loads.
func (in *Input) heightFigures() sheet.Table {
	h := in.Study.HeightTable()
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Quantity", Strong: true}}}
	if h == nil {
		return t
	}
	for i := range h.Heights {
		for l := range h.Loads {
			name := study.Upper(h.Heights[i])
			if h.Loads[l] != "" {
				name += ", " + study.Lower(h.Loads[l])
			}
			t.Columns = append(t.Columns, sheet.Column{Head: name, Right: true})
		}
	}
	for _, r := range h.Rows {
		unit := r.Unit
		length := unit == "mm"
		if length {
			unit = in.unit()
		}
		row := []string{r.Title + ", " + unit}
		for i := range h.Heights {
			for l := range h.Loads {
				c := r.Cells[i][l]
				v := number(c.Value, 1)
				if length {
					v = in.mm(c.Value)
				}
				if c.Out {
					v += " *"
				}
				row = append(row, v)
			}
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: row})
	}
	if len(t.Rows) > 0 {
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{"* outside common practice: no rule, no source."}})
	}
	return t
}

// extents are least and most of each quantity over the whole range, and where.
func (in *Input) extents() sheet.Table {
	s := in.Study
	x := &s.Extents
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Quantity", Strong: true}, {Head: "Least", Right: true}, {Head: "at"}, {Head: "Most", Right: true}, {Head: "at"}}}
	add := func(name string, e study.Extent, show func(float64) string) {
		if e.Known() {
			t.Rows = append(t.Rows, sheet.Row{Cells: []string{name, show(e.Min), s.Travels(e.MinLeft, e.MinRight), show(e.Max), s.Travels(e.MaxLeft, e.MaxRight)}})
		}
	}
	one := func(v float64) string { return number(v, 1) }
	two := func(v float64) string { return number(v, 2) }
	whole := func(v float64) string { return number(v, 0) }
	u := in.unit()
	add("Pinion, deg", x.Pinion, one)
	for i := range x.AntiSquat {
		name := "Anti-squat, %"
		if s.Loads[i].Name != "" {
			name += ", " + study.Lower(s.Loads[i].Name)
		}
		add(name, x.AntiSquat[i], one)
	}
	add("Roll steer, %", x.RollSteer, one)
	add("Side shift, "+u, x.SideShift, in.mm)
	add("Squareness, "+u, x.Squareness, in.mm)
	add("Driveshaft, front joint, deg", x.ShaftFront, one)
	add("Driveshaft, joint at the bearing, deg", x.ShaftBearing, one)
	add("Driveshaft, rear joint, deg", x.ShaftRear, one)
	add("Slip, "+u, x.Slip, in.mm)
	add("Speed fluctuation, %", x.Fluctuation, two)
	add("Torsional acceleration, rad/s²", x.Torsional, whole)
	add("Inertia acceleration, front, rad/s²", x.InertiaFront, whole)
	add("Inertia acceleration, rear, rad/s²", x.InertiaRear, whole)
	for i := range x.Struts {
		name := s.Mech.Struts[i].Name
		add(name+", length, "+u, x.Struts[i], in.mm)
		add(name+", lean, deg", x.Lean[i], func(v float64) string { return number(v*radian, 1) })
	}
	for i := range x.Lines {
		add(s.Mech.Lines[i].Name+", span, "+u, x.Lines[i], in.mm)
	}
	for i := range x.Sensors {
		add(s.Mech.Sensors[i].Name+", turn of its lever, deg", x.Sensors[i].Turn, func(v float64) string { return number(v*radian, 1) })
		add(s.Mech.Sensors[i].Name+", lever to rod, deg", x.Sensors[i].Angle, func(v float64) string { return number(v*radian, 1) })
	}
	return t
}

// ring is what stops the axle first in each direction.
func (in *Input) ring() sheet.Table {
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Direction, deg", Right: true}, {Head: ""}, {Head: "Left, " + in.unit(), Right: true}, {Head: "Right, " + in.unit(), Right: true}, {Head: "Stopped by", Strong: true}, {Head: "then"}}}
	for _, r := range in.Study.Ring {
		row := []string{number(r.Angle, 0), directionWords(r.Angle), none, none, "nothing met", ""}
		if len(r.By) > 0 {
			row[2], row[3], row[4] = in.signedMM(r.Left), in.signedMM(r.Right), byWords(in.Study.Mech, &r.By[0])
		}
		var then []string
		for i := 1; i < len(r.By) && i < 3; i++ {
			then = append(then, byWords(in.Study.Mech, &r.By[i]))
		}
		if len(r.Rubber) > 0 {
			then = append(then, r.Rubber[0].What+" from "+in.signedMM(r.Rubber[0].Left)+", "+in.signedMM(r.Rubber[0].Right))
		}
		row[5] = strings.Join(then, "; ")
		t.Rows = append(t.Rows, sheet.Row{Cells: row})
	}
	return t
}

// byWords is what is met; a travel that was entered is no metal, and is said so.
func byWords(m *motion.Mechanism, b *limits.By) string {
	switch b.Cause {
	case limits.EnteredLimit:
		return b.What + " (as entered, not metal)"
	case limits.JointLimit:
		kind := "tilt"
		if b.Torsion {
			kind = "twist"
		}
		return "joint " + m.Joints[b.Index].Name + ", " + kind
	}
	return b.What
}

// directionWords names the eight main directions of the ring.
func directionWords(deg float64) string {
	return map[float64]string{0: "left up alone", 45: "both up", 90: "right up alone", 135: "crossed, right up", 180: "left down alone", 225: "both down", 270: "right down alone", 315: "crossed, left up"}[deg]
}

func (in *Input) jointTable() sheet.Table {
	s := in.Study
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Joint", Strong: true}, {Head: "Most of its limit, %", Right: true}, {Head: "at"}}, Empty: "No joints."}
	for i := range s.Mech.Joints {
		e := study.Extent{Min: 1, Max: 0}
		if i < len(s.Extents.Joints) {
			e = s.Extents.Joints[i]
		}
		if !e.Known() {
			t.Rows = append(t.Rows, sheet.Row{Cells: []string{s.Mech.Joints[i].Name, "not known", "no limit is given"}})
			continue
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{s.Mech.Joints[i].Name, number(100*e.Max, 0), s.Travels(e.MaxLeft, e.MaxRight)}})
	}
	return t
}

// forced are the stretches and forces of an over-located layout; none where every member keeps its length.
func (in *Input) forced() sheet.Table {
	s := in.Study
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Member", Strong: true}, {Head: "Stretched by, mm", Right: true}, {Head: "at"}, {Head: "Force, N", Right: true}, {Head: "at"}}}
	const least = 1e-6 // mm: a member that keeps its length
	row := func(name string, stretch, force study.Extent) {
		if !stretch.Known() {
			return
		}
		v, l, r := stretch.Most()
		if math.Abs(v) < least {
			return
		}
		f, fl, fr := force.Most()
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{name, signed(v, 2), s.Travels(l, r), signed(f, 0), s.Travels(fl, fr)}})
	}
	x := &s.Extents
	for i := range x.Stretch {
		row(s.Mech.Distances[i].Name, x.Stretch[i], x.Force[i])
	}
	for i := range x.Gives {
		for k := range 3 {
			name := s.Mech.Arms[i].Name + ", " + [...]string{"frame pivot", "first axle pivot", "second axle pivot"}[k] + " gives"
			row(name, x.Gives[i][k], x.GiveForces[i][k])
		}
	}
	return t
}

func (in *Input) gapTable() sheet.Table {
	s := in.Study
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Pair", Strong: true}, {Head: "Found", Right: true}, {Head: "Not less than", Right: true}, {Head: "Wanted", Right: true}, {Head: "at"}, {Head: "Rests on"}}, Empty: "No two parts to look at."}
	far := 0
	for _, i := range s.Order() {
		if s.GapFar(i) {
			far++
			continue
		}
		a, b := s.PairNames(i)
		g := &s.Smallest[i]
		bound := s.BoundWords(i)
		if bound == "" {
			bound = "not proved"
		}
		found := in.length(g.Gap.Gap)
		if g.Gap.Gap < 0 {
			found = in.length(-g.Gap.Gap) + " in"
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{a + " / " + study.Lower(b), found, bound, in.length(s.Gaps.Pairs[i].Required), s.Travels(g.Left, g.Right), strings.TrimPrefix(s.RestsWords(i), "rests on ")}})
	}
	if far > 0 {
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{fmt.Sprintf("%d more are proved to stay over %s apart.", far, in.length(study.FarApart))}})
	}
	return t
}

func (in *Input) leftOut() sheet.Table {
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Pair", Strong: true}, {Head: "Why"}}}
	for _, l := range in.Study.Gaps.LeftOut {
		name := l.A
		if l.B != "" {
			name += " / " + study.Lower(l.B)
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{name, l.Why}})
	}
	return t
}

func (in *Input) cautions() []string {
	out := []string{
		"Checked at these heights only: " + list(in.Study.HeightTable().Heights) + ".",
		"Only the parts drawn are checked; wiring, heat, bush give, frame flex and weld size are not, unless entered. A gap under 12 mm: rubber and frame move more than this.",
		"Tighten bush bolts at ride height. Brake valve lever, park-brake cable, sensor leads and breathers move with the axle too. Brake hose: check at full articulation, wheels on.",
		"With the springs out the axle rolls about its links: support the axle as well as the frame. Struts: relieve pressure and support the frame on rated stands; never work under a vehicle held by struts.",
	}
	if len(in.Study.Tanks()) > 0 {
		out = append(out, study.TankCaution)
	}
	return out
}

// charts are all charts that have a curve, two to a row, all loads in each, against each travel.
func (in *Input) charts(against ...string) []sheet.Block {
	var figures []sheet.Figure
	for _, c := range study.Charts() {
		for _, a := range against {
			p := in.Study.Spec(c, a, in.laden(), in.unit())
			if len(p.Curves) == 0 {
				continue
			}
			p.Cursor = math.NaN()
			figures = append(figures, sheet.Chart(p, ""))
		}
	}
	return twoByTwo(figures)
}

// chartsByHeight are the charts of one quantity crossed up, a line through each height, at the load told for all; none where there is one height.
func (in *Input) chartsByHeight() []sheet.Block {
	if len(in.Study.Job.Vehicle.Heights) < 2 {
		return nil
	}
	var figures []sheet.Figure
	for _, c := range study.Charts() {
		if !c.ByHeight {
			continue
		}
		p := in.Study.SpecByHeight(c, "crossed", in.laden(), in.unit())
		if len(p.Curves) == 0 {
			continue
		}
		p.Cursor = math.NaN()
		figures = append(figures, sheet.Chart(p, ""))
	}
	return twoByTwo(figures)
}

// twoByTwo puts charts side by side.
func twoByTwo(figures []sheet.Figure) []sheet.Block {
	var out []sheet.Block
	if len(figures)%2 == 1 { // the last one no wider than the others
		figures = append(figures, sheet.Figure{Draw: func(*paper.Pen, paper.Room) {}})
	}
	for i := 0; i < len(figures); i += 2 {
		out = append(out, sheet.Figures{Tall: 205, Figures: figures[i : i+2]})
	}
	return out
}
