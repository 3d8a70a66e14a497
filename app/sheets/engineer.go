package sheets

import (
	"context"
	"fmt"
	"math"
	"strings"

	"axleloft/app/study"
	"axleloft/plotting/sheet"
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
	if bolts := in.bolts(); bolts != nil {
		out = append(append(out, sheet.Heading{Words: "Drawing the bolts out"}), bolts...)
	}
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
	out = append(out, sheet.Heading{Words: "Charts"})
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
		row := []string{number(r.Angle, 0), study.DirectionWords(r.Angle), none, none, "nothing met", ""}
		if len(r.By) > 0 {
			row[2], row[3], row[4] = in.signedMM(r.Left), in.signedMM(r.Right), in.Study.MetWords(&r.By[0])
		}
		var then []string
		for i := 1; i < len(r.By) && i < 3; i++ {
			then = append(then, in.Study.MetWords(&r.By[i]))
		}
		if len(r.Rubber) > 0 {
			then = append(then, r.Rubber[0].What+" from "+in.signedMM(r.Rubber[0].Left)+", "+in.signedMM(r.Rubber[0].Right))
		}
		row[5] = strings.Join(then, "; ")
		t.Rows = append(t.Rows, sheet.Row{Cells: row})
	}
	return t
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
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Why", Strong: true}, {Head: "Pairs"}}}
	of := map[string]int{}
	for _, l := range in.Study.Gaps.LeftOut {
		name := l.A
		if l.B != "" {
			name += " / " + study.Lower(l.B)
		}
		i, ok := of[l.Why]
		if !ok {
			i = len(t.Rows)
			of[l.Why] = i
			t.Rows = append(t.Rows, sheet.Row{Cells: []string{l.Why, name}})
			continue
		}
		t.Rows[i].Cells[1] += "; " + name
	}
	return t
}

func (in *Input) cautions() []string {
	out := []string{
		"Checked at these heights only: " + study.List(in.Study.HeightTable().Heights) + ".",
		"Only the parts drawn are checked; wiring, heat, bush give, frame flex and weld size are not, unless entered. A gap under 12 mm: rubber and frame move more than this.",
		"Tighten bush bolts at ride height. Brake valve lever, park-brake cable, sensor leads and breathers move with the axle too. Brake hose: check at full articulation, wheels on.",
		"With the springs out the axle rolls about its links: support the axle as well as the frame. Struts: relieve pressure and support the frame on rated stands; never work under a vehicle held by struts.",
	}
	if len(in.Study.Tanks()) > 0 {
		out = append(out, study.TankCaution)
	}
	return out
}
