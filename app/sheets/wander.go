package sheets

import (
	"context"
	"fmt"
	"math"

	"axleloft/app/study"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

// wander is what makes a vehicle steer itself: roll steer, squareness, side shift and the slope of the rod that locates the axle sideways, at each
// height and load, before and after, in words first.
func wander(_ context.Context, in *Input) ([]sheet.Block, error) {
	stands := in.stands()
	out := []sheet.Block{sheet.Heading{Words: "In short"}, sheet.Points(in.wanderWords(in.Study, stands))}
	if in.Before != nil && in.Before.Mech != nil {
		was := *in
		was.Study, was.Before = in.Before, nil
		out = append(out, sheet.Heading{Words: "Before: " + in.Against, Minor: true}, sheet.Points(was.wanderWords(in.Before, was.stands())))
	}
	out = append(out, sheet.Heading{Words: "At each height and load"}, in.wanderTable(stands))
	if in.Before != nil && in.Before.Mech != nil {
		was := *in
		was.Study, was.Before = in.Before, nil
		out = append(out, sheet.Heading{Words: "The same before: " + in.Against, Minor: true}, was.wanderTable(was.stands()))
	}
	tall := 220 - paper.MM(max(0, paper.A4.H-in.Size.H)/2) // what a shorter page lacks comes out of the two rows
	out = append(out, sheet.Heading{Words: "Over the travel"},
		sheet.Figures{Tall: tall, Figures: []sheet.Figure{in.chart("rollsteer", "both", "Roll steer, both wheels together."), in.chart("sideshift", "both", "Side shift of the axle, both wheels together.")}},
		sheet.Figures{Tall: tall, Figures: []sheet.Figure{in.chart("squareness", "both", "Squareness, both wheels together."), in.chart("squareness", "crossed", "Squareness, crossed up.")}},
		sheet.Para{Small: true, Words: "Roll steer: how far the axle steers for each degree the body rolls, in per cent; + toward oversteer: the rear steers out of the bend. Squareness: the wheelbase on the left less that on the right, + where the left side is longer; " +
			"a vehicle whose axle stands out of square runs straight with the wheel held off centre. Side shift: how far the axle's middle moves sideways from ride height, + left. Rod slope: of the Panhard rod from level, seen from behind: a sloping rod pushes the axle sideways in every bump. " +
			"Common practice, no source: roll steer laden, at ride, 0 to 5 % toward understeer, at most 2 % toward oversteer, from 5 to 6 % the driver notices; side shift within 10 mm over 75 mm either way; squareness within 3 mm. Other causes of wander are not seen here: steering play, toe, tyres, worn bushes, a bent axle."})
	return out, nil
}

func (in *Input) wanderWords(s *study.Study, stands []stand) []string {
	var out []string
	laden := s.Laden()
	worst, where := math.Inf(-1), ""
	for _, x := range stands {
		if x.at == nil {
			continue
		}
		v := x.at.Values[x.loadAt].RollSteerPct
		if x.loadAt == laden && math.Abs(x.travel-s.Loads[laden].Heave) < 0.05 && !math.IsNaN(v) {
			out = append(out, fmt.Sprintf("At ride, %s: when the body rolls one degree the axle steers %s deg, %s.", in.loadName(s, laden), number(math.Abs(v)/100, 3), way(v)))
		}
		if math.Abs(v) > worst {
			worst, where = math.Abs(v), fmt.Sprintf("%s: %s %% %s", x.name(), number(math.Abs(v), 1), way(v))
		}
	}
	if where != "" {
		out = append(out, "Most of all heights and loads at "+where+".")
	}
	x := &s.Extents
	if x.SideShift.Known() {
		out = append(out, fmt.Sprintf("Over the whole travel the axle moves sideways from %s to %s.", in.side(x.SideShift.Min), in.side(x.SideShift.Max)))
	}
	if x.Squareness.Known() {
		v, l, r := x.Squareness.Most()
		out = append(out, fmt.Sprintf("It stands furthest out of square, %s left to right, %s.", in.length(math.Abs(v)), s.Travels(l, r)))
	}
	return out
}

func (in *Input) side(mm float64) string {
	switch {
	case math.Abs(mm) < 0.05:
		return "nothing"
	case mm < 0:
		return in.length(-mm) + " right"
	}
	return in.length(mm) + " left"
}

func way(v float64) string {
	switch {
	case math.Abs(v) < 0.05:
		return "neither way"
	case v > 0:
		return "toward oversteer"
	}
	return "toward understeer"
}

func (in *Input) loadName(s *study.Study, i int) string {
	if i < len(s.Loads) && s.Loads[i].Name != "" {
		return s.Loads[i].Name
	}
	return "as it stands"
}

func (in *Input) wanderTable(stands []stand) sheet.Table {
	m := in.Study.Mech
	rods := in.rods()
	t := sheet.Table{Columns: []sheet.Column{{Head: "Height, load"}, {Head: "Travel, " + in.unit(), Right: true}, {Head: "Roll steer, %", Right: true}, {Head: "Roll axis, deg", Right: true}, {Head: "Roll centre, " + in.unit(), Right: true},
		{Head: "Side shift, " + in.unit(), Right: true}, {Head: "Squareness, " + in.unit(), Right: true}}, Empty: "No height and load at which the axle can stand."}
	for _, r := range rods {
		t.Columns = append(t.Columns, sheet.Column{Head: m.Links[r].Name + " slope, deg", Right: true})
	}
	for _, x := range stands {
		if x.at == nil {
			t.Rows = append(t.Rows, sheet.Row{Cells: []string{x.name() + ": " + x.note}})
			continue
		}
		v := &x.at.Values[x.loadAt]
		row := []string{x.name(), in.signedMM(x.travel), signed(v.RollSteerPct, 1), number(v.RollAxisDeg, 1), in.mm(v.RollCentre), in.signedMM(v.Y), in.signedMM(v.Squareness)}
		for _, r := range rods {
			a, b := m.Links[r].Frame, x.at.Pose.Point(m.Links[r].Axle)
			row = append(row, signed(math.Atan2(b.Z-a.Z, math.Abs(b.Y-a.Y))*radian, 1))
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: row})
	}
	return t
}

// rods are the links that lie more across than along: they locate the axle sideways.
func (in *Input) rods() []int {
	var out []int
	for i := range in.Study.Mech.Links {
		l := &in.Study.Mech.Links[i]
		if dx, dy := l.Axle.X-l.Frame.X, l.Axle.Y-l.Frame.Y; math.Abs(dy) > 2*math.Abs(dx) && len(out) < 2 {
			out = append(out, i)
		}
	}
	return out
}
