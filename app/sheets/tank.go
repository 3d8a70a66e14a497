package sheets

import (
	"context"
	"fmt"
	"math"
	"slices"

	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/geometry/vessel"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

// tank is for the maker of a tank: what it holds, what moving parts take of it, the cut, sections from its faces, and the dip table.
func tank(ctx context.Context, in *Input) ([]sheet.Block, error) {
	list := in.Study.Tanks()
	if len(list) == 0 {
		return nil, fmt.Errorf("there is no tank in this job: nothing in the way is marked as one")
	}
	var out []sheet.Block
	for i, e := range list {
		t, err := in.Study.Tank(ctx, e, vessel.Usual, nil)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if i > 0 {
			out = append(out, sheet.Break{})
		}
		out = append(out, sheet.Heading{Words: e.Name})
		if err != nil {
			out = append(out, sheet.Para{Words: study.Upper(err.Error())})
			continue
		}
		blocks, err := in.oneTank(ctx, t)
		if err != nil {
			return nil, err
		}
		out = append(out, blocks...)
	}
	return out, nil
}

// dipSteps is how many lines a dip table has at most.
const dipSteps = 20

func (in *Input) oneTank(ctx context.Context, t *study.Tank) ([]sheet.Block, error) {
	v := t.Vessel
	var points sheet.Points
	points = append(points, t.GrossWords())
	for _, i := range t.Nearest() {
		points = append(points, t.NearWords(i, in.length))
	}
	points = append(points, t.TakenWords()...)
	out := []sheet.Block{points, sheet.Para{Caution: true, Words: study.TankCaution}}
	if v.Why != "" {
		return out, nil
	}
	if t.Keep.Most > 0 {
		out = append(out, sheet.Heading{Words: "The cut", Minor: true})
		if len(t.Plan) == 0 {
			out = append(out, sheet.Para{Words: "No simple cut clears it and leaves anything: move the tank, or what comes near it."})
		} else {
			lost := v.Lost(t.Plan)
			out = append(out, in.cutTable(t.Plan), sheet.Para{Lead: fmt.Sprintf("Loses %s, leaves %s.", study.Volume(lost), study.Volume(v.Litres-lost)),
				Words: fmt.Sprintf("Sizes are whole mm in from the tank's outermost faces, outside shape; all that may be taken lies within. Of cuts within %g L or %g %% of the one that loses least this has fewest flat faces.", vessel.NearLitres, 100*vessel.NearShare)})
		}
		figures, err := in.tankSections(ctx, t)
		if err != nil {
			return nil, err
		}
		out = append(out, figures...)
		if others := in.otherCuts(t); len(others.Rows) > 0 {
			out = append(out, sheet.Heading{Words: "Other cuts, each for the whole keep-out", Minor: true}, others)
		}
	}
	if use, ok := v.Usable(vessel.Tilt{}, t.Plan); ok {
		words := fmt.Sprintf("Usable by %s: %s before, %s after the cut.", study.List(use.Given), study.Volume(use.Before), study.Volume(use.After))
		for _, name := range use.Cut {
			words += fmt.Sprintf(" The %s lies in the cut: it must go elsewhere.", name)
		}
		out = append(out, sheet.Para{Words: words})
	}
	lo, hi := v.Bounds()
	step := math.Max(10, math.Ceil((hi.Z-lo.Z)/dipSteps/10)*10)
	out = append(out, sheet.Heading{Words: "Dip table, standing level", Minor: true}, in.dipTable(v.Dip(vessel.Tilt{}, t.Plan, step)))
	where := "in the middle of the tank in plan; nobody has said where it stands"
	if v.StickGiven() {
		where = "where it is given"
	}
	out = append(out, sheet.Para{Small: true, Words: "Depth on an upright dip stick from the lowest place, the stick " + where + ". Litres of the outside shape, level, nothing trapped in a corner. " + study.OnlyMoving})
	return out, nil
}

func (in *Input) cutTable(cuts []vessel.Cut) sheet.Table {
	t := sheet.Table{Columns: []sheet.Column{{Head: "Cut, mm"}, {Head: "Flat faces", Right: true}, {Head: "Loses, L", Right: true}}}
	for i := range cuts {
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{cuts[i].Words, fmt.Sprint(cuts[i].Folds), study.Litres(cuts[i].Litres)}})
	}
	return t
}

// otherCuts are a few cuts not chosen, those that lose least first.
func (in *Input) otherCuts(t *study.Tank) sheet.Table {
	const most = 6
	var list []vessel.Cut
	for i := range t.Cuts {
		if len(t.Plan) == 1 && t.Cuts[i].Words == t.Plan[0].Words || len(list) == most {
			continue
		}
		list = append(list, t.Cuts[i])
	}
	return in.cutTable(list)
}

func (in *Input) dipTable(levels []vessel.Level) sheet.Table {
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Depth, " + in.unit(), Right: true}, {Head: "Before, L", Right: true}, {Head: "After the cut, L", Right: true}, {Head: "Depth, " + in.unit(), Right: true}, {Head: "Before, L", Right: true}, {Head: "After the cut, L", Right: true}}}
	half := (len(levels) + 1) / 2
	cell := func(i int) []string {
		if i >= len(levels) {
			return []string{"", "", ""}
		}
		return []string{in.mm(levels[i].Depth), study.Litres(levels[i].Before), study.Litres(levels[i].After)}
	}
	for i := range half {
		t.Rows = append(t.Rows, sheet.Row{Cells: slices.Concat(cell(i), cell(i+half))})
	}
	return t
}

// The faces of a tank as its sections show them: left, right, below and above in each, across X, Y and Z.
var faceNames = [3][4]string{{"left", "right", "bottom", "top"}, {"rear", "front", "bottom", "top"}, {"rear", "front", "right", "left"}}

// sectionTitles say how sections are seen.
var sectionTitles = [3]string{"from behind", "from the right, nose to the right", "from above, nose to the right"}

// sectionViews are the views that see a section across X, Y, Z face-on.
var sectionViews = [3]view.Plane{view.Rear, view.Side, view.Plan}

// tankSections are three sections through the place that comes nearest, dimensioned from the tank's faces.
func (in *Input) tankSections(ctx context.Context, t *study.Tank) ([]sheet.Block, error) {
	at, ok := t.Worst()
	if !ok {
		return nil, nil
	}
	var figures []sheet.Figure
	for _, axis := range []int{1, 0, 2} {
		station := [3]float64{at.X, at.Y, at.Z}[axis]
		s, err := t.Section(ctx, axis, station)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %v", t.Vessel.Name, err)
		}
		d := in.newTankDrawing(t, s, axis)
		words := fmt.Sprintf("Section at %s %s, seen %s.", "XYZ"[axis:axis+1], in.length(station), sectionTitles[axis])
		if len(s.Loops) == 0 {
			words += " Nothing is taken here."
		}
		figures = append(figures, sheet.Figure{Caption: words, Part: 1, Draw: d.draw})
	}
	return []sheet.Block{sheet.Heading{Words: "Keep-out, in sections through the place that comes nearest", Minor: true}, sheet.Figures{Tall: 215, Figures: figures[:2]}, sheet.Figures{Tall: 190, Figures: figures[2:]},
		sheet.Para{Small: true, Words: "Thick: the tank. Hatched: what moving parts come nearer than the gap wanted, over the whole travel, corners to half of 5 mm. Long dashes with two dots: the cut. Figures: from the tank's outermost faces to the keep-out, " + in.unit() + "."}}, nil
}

// tankDrawing is a section of a tank.
type tankDrawing struct {
	in     *Input
	axis   int
	bodies [][][2]float64 // the tank's convex pieces as seen
	cuts   [][][2]float64
	loops  [][][2]float64
	lo, hi [2]float64 // of the tank

	figures []placed
}

func (in *Input) newTankDrawing(t *study.Tank, s *vessel.Section, axis int) *tankDrawing {
	d := &tankDrawing{in: in, axis: axis}
	plane := sectionViews[axis]
	for _, b := range t.Vessel.Bodies(&vessel.Cut{}) {
		d.bodies = append(d.bodies, plane.Outline(b))
	}
	for i := range t.Plan {
		for _, b := range t.Vessel.Bodies(&t.Plan[i]) {
			d.cuts = append(d.cuts, plane.Outline(b))
		}
	}
	for _, l := range s.Loops {
		pts := make([][2]float64, len(l))
		for i, p := range l {
			pts[i][0], pts[i][1] = plane.Project(p)
		}
		d.loops = append(d.loops, pts)
	}
	d.lo, d.hi = bounds(d.bodies)
	return d
}

func bounds(list [][][2]float64) (lo, hi [2]float64) {
	lo, hi = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, pts := range list {
		for _, p := range pts {
			for a := range 2 {
				lo[a], hi[a] = math.Min(lo[a], p[a]), math.Max(hi[a], p[a])
			}
		}
	}
	return lo, hi
}

const (
	dimOff  = 20.0 // dimension lines from the tank and from one another, units
	dimFar  = 36.0 // upright ones beyond the first, past its words
	dimEdge = 46.0 // room for them above,
	dimLeft = 92.0 // and left
	dimSize = 10.67
)

// draw draws the section in a box: the tank thick, the keep-out hatched, the cut long dash two dots, dimensions from the faces nearest to the keep-out.
func (d *tankDrawing) draw(p *paper.Pen, box paper.Room) {
	text, second := ink.Color(ink.Text, false), ink.Color(ink.Second, false)
	w, h := d.hi[0]-d.lo[0], d.hi[1]-d.lo[1]
	if !(w > 0 && h > 0) {
		return
	}
	k := math.Min((box.W()-dimLeft-dimEdge)/w, (box.Y1-box.Y0-2*dimEdge)/h)
	x0, y0 := box.X0+dimLeft+(box.W()-dimLeft-dimEdge-k*w)/2, box.Y0+(box.Y1-box.Y0-k*h)/2
	at := func(q [2]float64) [2]float64 { return [2]float64{x0 + k*(q[0]-d.lo[0]), y0 + k*(d.hi[1]-q[1])} }
	put := func(pts [][2]float64) [][2]float64 {
		out := make([][2]float64, len(pts))
		for i, q := range pts {
			out[i] = at(q)
		}
		return out
	}
	for _, l := range d.loops {
		d.hatch(p, put(l))
		p.Outline(text, sheet.Thin, put(l)...)
	}
	dash := []float64{paper.MM(6), paper.MM(0.8), paper.MM(0.3), paper.MM(0.8), paper.MM(0.3), paper.MM(0.8)}
	for _, c := range d.cuts {
		if len(c) > 2 {
			q := put(c)
			p.Line(text, sheet.Thin*1.4, dash, append(q, q[0])...)
		}
	}
	names := faceNames[d.axis]
	word := func(s string, x, y, ax float64) {
		ww, hh := paper.Measure(s, dimSize, false)
		x, y = x-ax*ww, y-hh/2
		p.Fill(ink.Color(ink.Ground, false), [][2]float64{{x - 1, y}, {x + ww + 1, y}, {x + ww + 1, y + hh}, {x - 1, y + hh}})
		p.Words(second, s, x, y, dimSize, false)
	}
	mid := at([2]float64{(d.lo[0] + d.hi[0]) / 2, (d.lo[1] + d.hi[1]) / 2})
	word(names[0], x0+5, mid[1], 0) // inside: left of the tank and above it stand the dimensions
	word(names[3], mid[0], y0+9, 0.5)
	word(names[1], x0+k*w+6, mid[1], 0)
	word(names[2], mid[0], y0+k*h+9, 0.5)
	for _, b := range d.bodies {
		p.Outline(text, sheet.Thick, put(b)...)
	}
	if len(d.loops) > 0 {
		d.dimensions(p, at)
	}
}

// hatch fills an outline with slanting lines, by the even-odd rule.
func (d *tankDrawing) hatch(p *paper.Pen, loop [][2]float64) {
	lo, hi := bounds([][][2]float64{loop})
	const apart = 5.0
	for c := math.Floor((lo[0]+lo[1])/apart) * apart; c <= hi[0]+hi[1]; c += apart { // lines x + y = c
		var cuts []float64
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			fa, fb := a[0]+a[1]-c, b[0]+b[1]-c
			if (fa >= 0) != (fb >= 0) {
				cuts = append(cuts, a[0]+(b[0]-a[0])*fa/(fa-fb))
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			p.Line(ink.Color(ink.Text, false), sheet.Hair, nil, [2]float64{cuts[i], c - cuts[i]}, [2]float64{cuts[i+1], c - cuts[i+1]})
		}
	}
}

// dimensions give where the keep-out begins and ends from the nearer face, each way, and the tank's own size.
func (d *tankDrawing) dimensions(p *paper.Pen, at func([2]float64) [2]float64) {
	lo, hi := bounds(d.loops)
	// Level: above the tank. From the nearer of its two sides.
	const same = 0.5 // mm: begins at the face
	for a := range 2 {
		from, to := lo[a], hi[a]
		face := d.lo[a]
		if from-d.lo[a] > d.hi[a]-to {
			face, from, to = d.hi[a], hi[a], lo[a]
		}
		n := 1
		for _, end := range []float64{from, to} {
			if math.Abs(end-face) < same {
				continue
			}
			d.dimension(p, at, a, face, end, n)
			n++
		}
	}
	for _, f := range d.figures { // over the lines of others, on ground of their own
		w, h := paper.Measure(f.words, dimSize, false)
		p.Fill(ink.Color(ink.Ground, false), [][2]float64{{f.x - 1, f.y + 1}, {f.x + w + 1, f.y + 1}, {f.x + w + 1, f.y + h - 1}, {f.x - 1, f.y + h - 1}})
		p.Words(ink.Color(ink.Text, false), f.words, f.x, f.y, dimSize, false)
	}
	d.figures = nil
}

// dimension draws one with its line so many steps from the tank: of the level way above it, of the upright way left of it.
func (d *tankDrawing) dimension(p *paper.Pen, at func([2]float64) [2]float64, axis int, from, to float64, step int) {
	text := ink.Color(ink.Text, false)
	words := d.in.mm(math.Abs(to - from))
	ww, hh := paper.Measure(words, dimSize, false)
	off := 4 + dimOff*float64(step)
	tick := func(x, y float64) { // a slash, as building trades draw it: clear on small spans
		p.Line(text, sheet.Thin*1.5, nil, [2]float64{x - 3, y + 3}, [2]float64{x + 3, y - 3})
	}
	if axis == 0 {
		a, b := at([2]float64{from, d.hi[1]}), at([2]float64{to, d.hi[1]})
		y := a[1] - off
		for _, x := range []float64{a[0], b[0]} {
			p.Line(text, sheet.Hair, nil, [2]float64{x, a[1] - 2}, [2]float64{x, y - 3})
			tick(x, y)
		}
		p.Line(text, sheet.Hair, nil, [2]float64{a[0], y}, [2]float64{b[0], y})
		x := (a[0] + b[0]) / 2
		if math.Abs(b[0]-a[0]) < ww+6 { // beside it
			x = math.Max(a[0], b[0]) + ww/2 + 6
		}
		d.figure(words, x-ww/2, y-hh-0.5)
		return
	}
	a, b := at([2]float64{d.lo[0], from}), at([2]float64{d.lo[0], to})
	x := a[0] - off - float64(step-1)*(dimFar-dimOff)
	for _, y := range []float64{a[1], b[1]} {
		p.Line(text, sheet.Hair, nil, [2]float64{a[0] - 2, y}, [2]float64{x - 3, y})
		tick(x, y)
	}
	p.Line(text, sheet.Hair, nil, [2]float64{x, a[1]}, [2]float64{x, b[1]})
	d.figure(words, x-ww-4, (a[1]+b[1])/2-hh/2)
}

// figure puts a dimension's figure down, to be written when all lines are drawn.
func (d *tankDrawing) figure(words string, x, y float64) {
	d.figures = append(d.figures, placed{words, x, y})
}

// placed are words with their upper left corner.
type placed struct {
	words string
	x, y  float64
}
