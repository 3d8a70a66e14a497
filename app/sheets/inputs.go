package sheets

import (
	"fmt"
	"strings"

	"axleloft/app/edit"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/plotting/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

// vehicle is what the axle carries and how it stands, with its loads and heights.
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
		kg := func(v float64) string { return number(v, 0) + " kg" }
		for _, k := range []struct {
			key, name string
			show      func(float64) string
		}{{"mass", "mass", kg}, {"front", "front on the scales", kg}, {"rear", "rear on the scales", kg}, {"cg.x", "CG ahead", in.mm}, {"cg.z", "CG height", in.mm}} {
			if g, ok := l.Given[k.key]; ok {
				how = append(how, k.name+": "+given(g, k.show))
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
func (in *Input) given(g job.GivenValue) string { return given(g, in.mm) }

// given words how a number came to be, show its ±.
func given(g job.GivenValue, show func(float64) string) string {
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
		out = append(out, "±"+show(*g.PlusMinus))
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
