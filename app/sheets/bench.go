package sheets

import (
	"context"
	"fmt"
	"math"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
	"axleloft/geometry/quantity"
	"axleloft/plotting/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

// benchCautions stand at the foot of the bench's sheets.
var benchCautions = []string{
	"With the springs out the axle rolls about its links: support the axle as well as the frame. Struts: relieve pressure and support the frame on rated stands; never work under a vehicle held by struts.",
	"Tighten bush bolts at ride height. Brake valve lever, park-brake cable, sensor leads and breathers move with the axle too.",
}

// figureTall is how tall a view may be on the bench's sheets, mm.
const figureTall = 130.0

// bench is what is cut, drilled and set: links, holes from their datums, angles at the brackets, struts, stops, and values to set up by.
func bench(ctx context.Context, in *Input) ([]sheet.Block, error) {
	out := []sheet.Block{sheet.Heading{Words: "Links to cut"}, in.linkTable(),
		sheet.Para{Small: true, Words: "Centre to centre at design ride height. Tube: between square ends, what the ends leave at the middle of their threads; saddle cuts and weld shrinkage are yours. Mass: of that tube, steel at 7850 kg/m³. " +
			"A turn: where both ends screw, threads of two hands, one turn of the tube."}}
	out = append(out, sheet.Heading{Words: "Angles at the brackets, at ride height"}, in.angleTable(),
		sheet.Para{Small: true, Words: "Side: seen from the right, + rises toward the nose; plan: seen from above, + goes left toward the nose; for a rod across the vehicle both from straight across, seen from behind and from above, + rises or goes forward toward the left. Swing: side view (rear view of a rod across), full droop to full bump."})
	out = append(out, in.clocks(ctx)...)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if bolts := in.bolts(); bolts != nil {
		out = append(append(out, sheet.Heading{Words: "Drawing the bolts out", Minor: true}), bolts...)
	}
	out = append(out, sheet.Heading{Words: "Holes, from where they were measured"}, in.holeTable(),
		sheet.Para{Small: true, Words: "Where no datum is named: X ahead of the wheel centres, Y left of the vehicle's middle, Z above the ground, all at design ride height. ? is a guess: measure it before anything is drilled. A pair's right side is the mirror of its left."})
	if rows := in.holeRows(); len(rows.Rows) > 0 {
		out = append(out, sheet.Heading{Words: "Rows of holes to choose from", Minor: true}, rows,
			sheet.Para{Small: true, Words: "From where the pivot is measured. Another hole is another length of its links, or another place of the axle: axlesheet holes tells what each does."})
	}
	for p := range view.Plan + 1 {
		if f, ok := in.figure(p, in.Size.W-30, figureTall); ok {
			out = append(out, f)
		}
	}
	out = append(out, in.strutBlocks()...)
	out = append(out, in.stopBlocks()...)
	out = append(out, sheet.Heading{Words: "Set up by"}, in.setUp(), sheet.Sign{"Set up by", "Date", "Checked by"})
	return out, nil
}

// linkTable is the list of links, arms and rods.
func (in *Input) linkTable() sheet.Table {
	u := in.unit()
	t := sheet.Table{Columns: []sheet.Column{{Head: "Link", Strong: true}, {Head: "How many", Right: true}, {Head: "Centre to centre, " + u, Right: true}}}
	if in.inch() {
		t.Columns = append(t.Columns, sheet.Column{Head: "on a tape"})
	}
	t.Columns = append(t.Columns, sheet.Column{Head: "Tube to cut, " + u, Right: true}, sheet.Column{Head: "Tube"}, sheet.Column{Head: "Mass, kg", Right: true}, sheet.Column{Head: "Screws in, out, " + u, Right: true}, sheet.Column{Head: "A turn, " + u, Right: true})
	for _, l := range Links(in.Study.Job) {
		row := []string{l.Name, fmt.Sprint(l.Count), in.mm(l.Length)}
		if in.inch() {
			row = append(row, fraction(l.Length))
		}
		screws := none
		if l.In > 0 {
			screws = in.mm(l.In) + ", " + in.mm(l.Out)
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: append(row, in.mm(l.Tube), in.tube(l.Section), number(l.Mass, 2), screws, in.mm(l.Turn))})
	}
	return t
}

// tube words a section: "50.8 x 6.35 E355 +N".
func (in *Input) tube(t *job.Tube) string {
	if t == nil {
		return none
	}
	size := func(mm float64) string {
		if in.inch() {
			return number(mm/measure.Inch, 3)
		}
		return strings.TrimSuffix(strings.TrimRight(number(mm, 2), "0"), ".")
	}
	out := size(t.Outside) + " solid"
	if t.Wall != nil {
		out = size(t.Outside) + " × " + size(*t.Wall)
	}
	if t.Steel != "" {
		out += " " + t.Steel
	}
	return out
}

// line is a bar between two pivots at ride height.
type line struct {
	name        string
	frame, axle r3.Vec // frame: the end held by the frame, or by the rocker
	link        int    // of the mechanism, -1
	ends        []edit.Pivot
}

// lines are the links' centre lines, of a pair the left one.
func (in *Input) lines() []line {
	var out []line
	m := in.Study.Mech
	for i := range m.Links {
		l := &m.Links[i]
		if l.Ref.Side == job.Right {
			continue
		}
		p := edit.Pivot{List: edit.Links, Index: l.Ref.Index, Side: l.Ref.Side, End: edit.FrameEnd}
		q := p
		q.End = edit.AxleEnd
		out = append(out, line{name: l.Name, frame: l.Frame, axle: r3.Add(l.Axle, r3.Vec{Z: m.Radius}), link: i, ends: []edit.Pivot{p, q}})
	}
	return out
}

// across reports whether a bar lies more across the vehicle than along it.
func across(a, b r3.Vec) bool { return math.Abs(a.Y-b.Y) > 2*math.Abs(a.X-b.X) }

// slopes are a bar's angles, deg: in side view and plan, or, of one that lies across, in rear view and plan.
func slopes(frame, axle r3.Vec) (side, plan float64) {
	d := r3.Sub(frame, axle)
	if across(frame, axle) {
		if d.Y < 0 { // toward the left
			d = r3.Scale(-1, d)
		}
		return math.Atan2(d.Z, d.Y) * radian, math.Atan2(d.X, d.Y) * radian
	}
	if d.X < 0 { // toward the nose
		d = r3.Scale(-1, d)
	}
	return math.Atan2(d.Z, d.X) * radian, math.Atan2(d.Y, d.X) * radian
}

func (in *Input) angleTable() sheet.Table {
	t := sheet.Table{Columns: []sheet.Column{{Head: "Link", Strong: true}, {Head: "Side, deg", Right: true}, {Head: "Plan, deg", Right: true}, {Head: "Swing, deg", Right: true}, {Head: "Bolt at the frame"}, {Head: "Bolt at the axle"}, {Head: "Most of a joint's limit", Right: true}}, Empty: "No links."}
	s := in.Study
	var ends [2]*study.Position
	if s.Bounded() {
		ends = [2]*study.Position{s.At(-s.Range.Droop, -s.Range.Droop), s.At(s.Range.Bump, s.Range.Bump)}
	}
	for _, l := range in.lines() {
		side, plan := slopes(l.frame, l.axle)
		swing := none
		if ends[0] != nil && ends[0].Err == "" && ends[1].Err == "" {
			a, _ := slopes(l.frame, ends[0].Pose.Point(s.Mech.Links[l.link].Axle))
			b, _ := slopes(l.frame, ends[1].Pose.Point(s.Mech.Links[l.link].Axle))
			swing = signed(a, 1) + " to " + signed(b, 1)
		}
		use := math.Inf(-1)
		for k := range s.Mech.Joints {
			if j := &s.Mech.Joints[k]; s.Extents.Joints != nil && in.sameLink(j.Name, l.name) && s.Extents.Joints[k].Known() {
				use = math.Max(use, s.Extents.Joints[k].Max)
			}
		}
		most := none
		if use >= 0 {
			most = number(100*use, 0) + " %"
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{l.name, signed(side, 1), signed(plan, 1), swing, edit.BoltWords(s.Job, l.ends[0]), edit.BoltWords(s.Job, l.ends[1]), most}})
	}
	return t
}

func (in *Input) sameLink(joint, link string) bool { return strings.HasPrefix(joint, link+", ") }

// clocks are how rod ends may be clocked, where there is something to clock.
func (in *Input) clocks(ctx context.Context) []sheet.Block {
	t := sheet.Table{Columns: []sheet.Column{{Head: "Link", Strong: true}, {Head: "As drawn, deg", Right: true}, {Head: "most of its limit", Right: true}, {Head: "At ride, deg", Right: true}, {Head: "most of its limit", Right: true}, {Head: "Midway, deg", Right: true}, {Head: "most of its limit", Right: true}}}
	use := func(c study.ClockChoice) string {
		if math.IsNaN(c.Use) {
			return none
		}
		return number(100*c.Use, 0) + " %"
	}
	for _, l := range in.lines() {
		c, ok := in.Study.Clock(ctx, l.link)
		if !ok {
			continue
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{l.name, signed(c.Now.Deg, 1), use(c.Now), signed(c.Ride.Deg, 1), use(c.Ride), signed(c.Midway.Deg, 1), use(c.Midway)}})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []sheet.Block{sheet.Heading{Words: "Clocking of rod ends", Minor: true}, t, sheet.Para{Small: true, Words: "Turn of the axle end's bore about the link from where its bolt alone would put it at ride height; midway shares the tilt between ride height and the crossed-up corner."}}
}

// holeTable is every pivot from its datums.
func (in *Input) holeTable() sheet.Table {
	j := in.Study.Job
	t := sheet.Table{Small: true, Columns: []sheet.Column{numberColumn, {Head: "Hole", Strong: true}, {Head: "X, " + in.unit()}, {Head: "Y, " + in.unit()}, {Head: "Z, " + in.unit()}, {Head: ""}}}
	for i, p := range edit.Pivots(j) {
		at, ok := edit.At(j, p)
		if !ok {
			continue
		}
		row := []string{fmt.Sprint(i + 1), edit.Name(j, p)}
		for a, v := range [3]float64{at.X, at.Y, at.Z} {
			row = append(row, in.from(j, p, edit.Axis(a), v))
		}
		how := "planned"
		if edit.IsMeasured(j, p) {
			how = "measured, there"
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: append(row, how)})
	}
	return t
}

// holeRows are the holes of every pivot that has several, and the one it is bolted in.
func (in *Input) holeRows() sheet.Table {
	j := in.Study.Job
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Pivot", Strong: true}, {Head: "Hole", Right: true}, {Head: "X, " + in.unit()}, {Head: "Y, " + in.unit()}, {Head: "Z, " + in.unit()}, {Head: ""}}}
	for _, p := range edit.Pivots(j) {
		now := edit.HoleOf(j, p)
		for i, at := range edit.Holes(j, p) {
			row := []string{"", fmt.Sprint(i + 1)}
			if i == 0 {
				row[0] = edit.Name(j, p)
			}
			for a, v := range [3]float64{at.X, at.Y, at.Z} {
				row = append(row, in.datum(j, p, edit.Axis(a), v, ""))
			}
			here := ""
			if i+1 == now {
				here = "bolted here"
			}
			t.Rows = append(t.Rows, sheet.Row{Cells: append(row, here)})
		}
	}
	return t
}

// datum words a coordinate from its datum, what is known of it behind the figure: "344.0 from hanger bolt".
func (in *Input) datum(j *job.Job, p edit.Pivot, a edit.Axis, v float64, known string) string {
	name, at, has := edit.DatumOf(j, p, a)
	if !has {
		return in.mm(v) + known
	}
	return in.mm(v-at) + known + " from " + name
}

// from words a coordinate from its datum with its +- : "344.0 ±1.5 from the hanger bolt", "500.0 ?".
func (in *Input) from(j *job.Job, p edit.Pivot, a edit.Axis, v float64) string {
	known := ""
	if pm := edit.PlusMinus(j, p, a); pm > 0 {
		known = " ±" + in.mm(pm)
	}
	if edit.IsGuess(j, p, a) {
		known += " ?"
	}
	return in.datum(j, p, a, v, known)
}

func (in *Input) strutBlocks() []sheet.Block {
	m := in.Study.Mech
	if len(m.Struts) == 0 {
		return nil
	}
	s := in.Study
	u := in.unit()
	t := sheet.Table{Columns: []sheet.Column{{Head: "Strut", Strong: true}, {Head: "At ride, " + u, Right: true}, {Head: "Closed, " + u, Right: true}, {Head: "Open, " + u, Right: true}, {Head: "Shortest over the travel", Right: true}, {Head: "Longest", Right: true}, {Head: "Leans most, deg", Right: true}, {Head: "End turns most, deg", Right: true}}}
	for i := range m.Struts {
		x := &m.Struts[i]
		row := []string{x.Name, in.mm(x.Length), in.mm(x.Closed), in.mm(x.Open), none, none, none, none}
		if len(s.Extents.Struts) > i && s.Extents.Struts[i].Known() {
			lean, _, _ := s.Extents.Lean[i].Most()
			tilt, _, _ := s.Extents.Tilt[i].Most()
			row[4], row[5], row[6], row[7] = in.mm(s.Extents.Struts[i].Min), in.mm(s.Extents.Struts[i].Max), number(math.Abs(lean)*radian, 1), number(math.Abs(tilt)*radian, 1)
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: row})
	}
	out := []sheet.Block{sheet.Heading{Words: "Struts"}, t}
	h := sheet.Table{Columns: []sheet.Column{{Head: "Set by strut length: height, load"}, {Head: "Travel, " + u, Right: true}}}
	for i := range m.Struts {
		h.Columns = append(h.Columns, sheet.Column{Head: m.Struts[i].Name + ", " + u, Right: true})
	}
	if len(h.Columns) > 8 {
		return out
	}
	for _, st := range in.stands() {
		if st.at == nil {
			continue
		}
		row := []string{st.name(), in.signedMM(st.travel)}
		for i := range m.Struts {
			row = append(row, in.mm(st.at.Values[st.loadAt].Struts[i].Length))
		}
		h.Rows = append(h.Rows, sheet.Row{Cells: row})
	}
	return append(out, h)
}

func (in *Input) stopBlocks() []sheet.Block {
	m := in.Study.Mech
	if len(m.Stops)+len(m.Straps) == 0 {
		return nil
	}
	u := in.unit()
	t := sheet.Table{Columns: []sheet.Column{{Head: "Stop or strap", Strong: true}, {Head: "At ride, " + u, Right: true}, {Head: "Touches or taut at, " + u, Right: true}, {Head: "Solid at, " + u, Right: true}, {Head: "Left at ride, " + u, Right: true}}}
	v := in.Study.At(0, 0)
	if v.Err != "" {
		return nil
	}
	for i := range m.Stops {
		x := &m.Stops[i]
		now := v.Values[0].Stops[i].Length
		touch := x.Touch
		if math.IsNaN(touch) {
			touch = x.Closed
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{x.Name, in.mm(now), in.mm(touch), in.mm(x.Closed), in.mm(now - touch)}})
	}
	for i := range m.Straps {
		x := &m.Straps[i]
		now := v.Values[0].Straps[i]
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{x.Name, in.mm(now), in.mm(x.Open), none, in.mm(x.Open - now)}})
	}
	return []sheet.Block{sheet.Heading{Words: "Stops and straps"}, t}
}

// setUp are the values to set up by, with room for what was found and what is left of it.
func (in *Input) setUp() sheet.Table {
	s := in.Study
	m := s.Mech
	j := s.Job
	u := in.unit()
	t := sheet.Table{Columns: []sheet.Column{{Head: "At design ride height"}, {Head: "Target", Right: true, Strong: true}, {Head: "Found", Write: true}, {Head: "Left", Write: true}}}
	add := func(name, target string) { t.Rows = append(t.Rows, sheet.Row{Cells: []string{name, target, "", ""}}) }
	add("Wheel centre above the ground, left and right, "+u, in.mm(j.Vehicle.Tyre.LoadedRadius))
	add("Wheelbase, left, "+u, in.mm(j.Vehicle.Wheelbase))
	add("Wheelbase, right, "+u, in.mm(j.Vehicle.Wheelbase))
	add("Diagonals, frame to axle, left less right, "+u, in.mm(0))
	add("Axle's middle off the vehicle's middle, "+u, in.mm(0))
	v := s.At(0, 0)
	if v.Err == "" {
		x := &v.Values[0]
		if m.Drive.HasPinion {
			add("Pinion to the frame, deg, + nose up", signed(x.PinionDeg, 1))
		}
		if m.Drive.Has {
			add("Joint at the gearbox, deg", number(x.ShaftFrontDeg, 1))
			add("Joint at the axle, deg", number(x.ShaftRearDeg, 1))
			add("Driveshaft, joint to joint, "+u, in.mm(x.ShaftLength))
		}
	}
	for i := range m.Struts {
		add(m.Struts[i].Name+", pivot to pivot, "+u, in.mm(m.Struts[i].Length))
	}
	for _, l := range Links(j) {
		add(l.Name+", centre to centre, "+u, in.mm(l.Length))
	}
	for i := range m.Links {
		if k := j.Links[m.Links[i].Ref.Index].Clock; k != nil {
			add(m.Links[i].Name+", clocking, deg", signed(*k, 1))
		}
	}
	return t
}

// Linked is one line of the list of links: a link, a bar of an arm, a rod of a rocker.
type Linked struct {
	Name    string
	Count   int // a pair is two
	Section *job.Tube
	quantity.Cut
}

// Links lists what is cut for a job, in file order; lengths mm, masses kg. Of an arm each bar between two of its pivots.
func Links(j *job.Job) []Linked {
	count := func(pair bool) int {
		if pair {
			return 2
		}
		return 1
	}
	var out []Linked
	for i := range j.Links {
		l := &j.Links[i]
		out = append(out, Linked{l.Name, count(l.Pair), l.Tube, quantity.CutOf(l)})
	}
	bar := func(name string, n int, t *job.Tube, a, b job.Point, ea, eb *job.End) {
		out = append(out, Linked{name, n, t, quantity.CutOf(&job.Link{Frame: a, Axle: b, Tube: t, FrameEnd: ea, AxleEnd: eb})})
	}
	end := func(list []job.End, i int) *job.End {
		if i < len(list) {
			return &list[i]
		}
		return nil
	}
	for i := range j.Arms {
		a := &j.Arms[i]
		for f := range a.Frame {
			for x := range a.Axle {
				name := a.Name
				switch {
				case len(a.Frame) > 1:
					name += fmt.Sprintf(", from frame pivot %d", f+1)
				case len(a.Axle) > 1:
					name += fmt.Sprintf(", to axle pivot %d", x+1)
				}
				bar(name, count(a.Pair), a.Tube, a.Frame[f], a.Axle[x], end(a.FrameEnds, f), end(a.AxleEnds, x))
			}
		}
	}
	for i := range j.Rockers {
		for k := range j.Rockers[i].Rods {
			r := &j.Rockers[i].Rods[k]
			bar(r.Name, 1, r.Tube, r.Rocker, r.Far, r.RockerEnd, r.FarEnd)
		}
	}
	return out
}
