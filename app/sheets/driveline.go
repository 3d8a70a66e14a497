package sheets

import (
	"context"
	"fmt"
	"math"

	"axleloft/geometry/quantity"
	"axleloft/plotting/sheet"
)

// driveline is joint angles, slip, reserve and phasing at each height and load, and what the shaft does at speed.
func driveline(_ context.Context, in *Input) ([]sheet.Block, error) {
	s := in.Study
	d := &s.Mech.Drive
	if !d.Has {
		return nil, fmt.Errorf("there is no driveshaft in this job. Give the output's joint and the pinion's, then there is a driveline sheet")
	}
	stands := in.stands()
	out := []sheet.Block{sheet.Heading{Words: "In short"}, sheet.Points(in.drivelineWords(stands))}
	out = append(out, sheet.Heading{Words: "Joints and slip at each height and load"}, in.shaftTable(stands))
	pieces := "one piece, two joints"
	if d.TwoPiece {
		pieces = "two pieces, three joints, a centre bearing"
	}
	facts := []sheet.Fact{
		{Name: "Shaft", Value: pieces},
		{Name: "Between the joints of the piece that slips, at ride", Value: in.length(d.Length)},
		{Name: "Yokes of that piece, turned from one another", Value: number(d.YokePhase*radian, 1) + " deg"},
		{Name: "Largest joint angle its joints take", Value: in.limit(d.JointLimit)},
		{Name: "Slip there is, in", Value: in.length(d.SlipIn)},
		{Name: "Slip there is, out", Value: in.length(d.SlipOut)},
	}
	if d.TwoPiece {
		facts = append(facts, sheet.Fact{Name: "Yokes of the front piece", Value: number(d.FrontYokePhase*radian, 1) + " deg"})
	}
	out = append(out, sheet.Heading{Words: "What the shaft is", Minor: true}, sheet.Facts{Facts: facts})
	out = append(out, in.overTravel(), sheet.Heading{Words: "At speed"})
	out = append(out, in.speedBox(stands)...)
	out = append(out, sheet.Heading{Words: "Over the travel"}, sheet.Figures{Tall: 230, Figures: []sheet.Figure{
		in.chart("joints", "both", "Joint angles, both wheels together."), in.chart("slip", "both", "Slip from ride height; + is longer.")}},
		sheet.Para{Small: true, Words: "Angles are true angles in space between the two shafts of a joint, side view and plan view together. Slip is the change of length of the piece that slides since ride height, + longer. " +
			"Phase is the angle between the planes of the two joints less the turn of the yokes: 0 where both bend in one plane and the yokes are in line. Speed fluctuation is the most the pinion runs ahead of the output within a turn."})
	return out, nil
}

func (in *Input) limit(rad float64) string {
	if math.IsNaN(rad) || rad <= 0 {
		return "not given"
	}
	return number(rad*radian, 1) + " deg"
}

// drivelineWords say first what matters.
func (in *Input) drivelineWords(stands []stand) []string {
	s := in.Study
	d := &s.Mech.Drive
	var out []string
	for _, x := range stands {
		if x.at == nil || math.Abs(x.travel) > 0.05 {
			continue
		}
		v := &x.at.Values[x.loadAt]
		words := fmt.Sprintf("At ride height the joints run at %s deg at the gearbox and %s deg at the axle, %s deg apart.", number(v.ShaftFrontDeg, 1), number(v.ShaftRearDeg, 1), number(math.Abs(v.ShaftFrontDeg-v.ShaftRearDeg), 1))
		if d.TwoPiece {
			words = fmt.Sprintf("At ride height the joints run at %s deg at the gearbox, %s deg behind the centre bearing and %s deg at the axle.", number(v.ShaftFrontDeg, 1), number(v.ShaftBearingDeg, 1), number(v.ShaftRearDeg, 1))
		}
		out = append(out, words+fmt.Sprintf(" Within a turn the pinion runs up to %s %% ahead.", number(v.FluctuationPct, 2)))
		break
	}
	x := &s.Extents
	if x.ShaftRear.Known() {
		v, l, r := x.ShaftRear.Most()
		words := fmt.Sprintf("Over the whole travel the joint at the axle reaches %s deg, %s", number(v, 1), s.Travels(l, r))
		if f, l, r := x.ShaftFront.Most(); x.ShaftFront.Known() {
			words += fmt.Sprintf("; the one at the gearbox %s deg, %s", number(f, 1), s.Travels(l, r))
		}
		out = append(out, words+".")
	}
	if x.Slip.Known() {
		out = append(out, fmt.Sprintf("Slip goes %s in (%s) and %s out (%s). Left: %s in, %s out.", in.length(-x.Slip.Min), s.Travels(x.Slip.MinLeft, x.Slip.MinRight), in.length(x.Slip.Max),
			s.Travels(x.Slip.MaxLeft, x.Slip.MaxRight), in.left(d.SlipIn+x.Slip.Min), in.left(d.SlipOut-x.Slip.Max))+" Common practice 20 to 25 mm both ways, the maker's figure first.")
	}
	return out
}

// left is what is left of something, "not known" where what there is was not given.
func (in *Input) left(mm float64) string {
	if math.IsNaN(mm) {
		return "not known (the slip there is was not given)"
	}
	return in.length(mm)
}

func (in *Input) shaftTable(stands []stand) sheet.Table {
	d := &in.Study.Mech.Drive
	t := sheet.Table{Columns: []sheet.Column{{Head: "Height, load"}, {Head: "Travel, " + in.unit(), Right: true}, {Head: "Pinion, deg", Right: true}, {Head: "At the gearbox, deg", Right: true}}, Empty: "No height and load at which the axle can stand."}
	if d.TwoPiece {
		t.Columns = append(t.Columns, sheet.Column{Head: "Behind the bearing, deg", Right: true})
	}
	t.Columns = append(t.Columns, sheet.Column{Head: "At the axle, deg", Right: true}, sheet.Column{Head: "Phase, deg", Right: true}, sheet.Column{Head: "Ahead within a turn, %", Right: true},
		sheet.Column{Head: "Slip, " + in.unit(), Right: true}, sheet.Column{Head: "Left in, " + in.unit(), Right: true}, sheet.Column{Head: "Left out, " + in.unit(), Right: true})
	for _, x := range stands {
		if x.at == nil {
			t.Rows = append(t.Rows, sheet.Row{Cells: []string{x.name() + ": " + x.note}})
			continue
		}
		v := &x.at.Values[x.loadAt]
		row := []string{x.name(), in.signedMM(x.travel), number(v.PinionDeg, 1), number(v.ShaftFrontDeg, 1)}
		if d.TwoPiece {
			row = append(row, number(v.ShaftBearingDeg, 1))
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: append(row, number(v.ShaftRearDeg, 1), number(phase(v.ShaftPhase), 1), number(v.FluctuationPct, 2), in.signedMM(v.Slip), in.mm(d.SlipIn+v.Slip), in.mm(d.SlipOut-v.Slip))})
	}
	return t
}

// phase is a phase error in deg, within a quarter turn: a joint turned half round is the same joint.
func phase(rad float64) float64 {
	d := math.Mod(rad*radian, 180)
	switch {
	case d > 90:
		d -= 180
	case d <= -90:
		d += 180
	}
	return d
}

func (in *Input) overTravel() sheet.Block {
	x := &in.Study.Extents
	facts := []sheet.Fact{{Name: "Joint at the gearbox, whole travel", Value: extent(x.ShaftFront, 1, 1) + " deg"}, {Name: "Joint at the axle, whole travel", Value: extent(x.ShaftRear, 1, 1) + " deg"}}
	if in.Study.Mech.Drive.TwoPiece {
		facts = append(facts, sheet.Fact{Name: "Joint behind the bearing", Value: extent(x.ShaftBearing, 1, 1) + " deg"})
	}
	facts = append(facts, sheet.Fact{Name: "Pinion, whole travel", Value: extent(x.Pinion, 1, 1) + " deg"}, sheet.Fact{Name: "Ahead within a turn", Value: extent(x.Fluctuation, 1, 2) + " %"})
	return sheet.Facts{Facts: facts}
}

// speedBox is what the joints stir up at shaft speeds, at the height and load where most.
func (in *Input) speedBox(stands []stand) []sheet.Block {
	d := &in.Study.Mech.Drive
	speeds := []float64{1000, 1500, 2000, 2500, 3000, 3500, 4000}
	chosen := math.NaN()
	if d.Speed > 0 {
		chosen = d.Speed * 60 / (2 * math.Pi)
		speeds = []float64{math.Round(chosen)}
		for _, x := range []float64{1000, 1500, 2000, 2500, 3000, 3500, 4000} {
			if math.Abs(x-chosen) > 1 {
				speeds = append(speeds, x)
			}
		}
	}
	t := sheet.Table{Columns: []sheet.Column{{Head: "Shaft, rev/min"}, {Head: "Torsional, most, rad/s²", Right: true}, {Head: "where"}, {Head: "Inertia, most, rad/s²", Right: true}, {Head: "Largest joint angle, deg", Right: true}, {Head: "Joint maker's angle, deg", Right: true}}}
	for i, rpm := range speeds {
		w := rpm * 2 * math.Pi / 60
		if i == 0 && d.Speed > 0 {
			w = d.Speed
		}
		tor, ine, ang, where := math.Inf(-1), math.Inf(-1), math.Inf(-1), none
		for _, x := range stands {
			if x.at == nil {
				continue
			}
			v := &x.at.Values[x.loadAt]
			a, f, r := quantity.Accelerations(v, w)
			if a > tor {
				tor, where = a, x.name()
			}
			ine = math.Max(ine, math.Max(f, r))
			ang = math.Max(ang, math.Max(v.ShaftFrontDeg, v.ShaftRearDeg))
			if !math.IsNaN(v.ShaftBearingDeg) {
				ang = math.Max(ang, v.ShaftBearingDeg)
			}
		}
		maker := none
		if m, ok := quantity.PracticeJointAngle(rpm); ok {
			maker = number(m, 1)
		}
		name := number(rpm, 0)
		if i == 0 && d.Speed > 0 {
			name += ", as chosen"
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []string{name, number(tor, 0), where, number(ine, 0), number(ang, 1), maker}, Strong: i == 0 && d.Speed > 0})
	}
	return []sheet.Block{t, sheet.Para{Small: true, Words: fmt.Sprintf("Over all heights and loads above. Torsional: of the pinion within a turn; a joint maker advises at most %.0f rad/s², a chart in the manner of SAE AE-7 is drawn for %.0f. "+
		"Inertia: of what the first and the last joint drive; the same maker advises at most %.0f. Largest angle of a single shaft's joint by speed, between 1500 and 5000 rev/min: the same maker's; at each joint at least %.1f deg, ends alike within %.0f deg, at most %.0f deg for smooth running. Advice, no rule.",
		quantity.TorsionalAdvice, quantity.TorsionalChart, quantity.InertiaAdvice, quantity.PracticeLeastJointDeg, quantity.PracticeAlikeDeg, quantity.PracticeSmoothDeg)}}
}
