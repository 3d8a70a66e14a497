package sheets

import (
	"context"
	"math"

	"axleloft/app/study"
	"axleloft/plotting/chart"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

// booklet is every chart there is, over both wheels, crossed up and one wheel alone, all loads in each; what the job is set against on the same axes, in long dashes.
func booklet(_ context.Context, in *Input) ([]sheet.Block, error) {
	var out []sheet.Block
	if in.Before != nil && in.Before.Bounded() {
		out = append(out, sheet.Para{Words: "Long dashes with two dots: " + in.Against + ", at the load drawn wide."})
	}
	for _, a := range []struct{ key, title string }{{"both", "Both wheels together"}, {"crossed", "Crossed up"}, {"left", "Left wheel alone"}} {
		var figures []sheet.Figure
		for _, c := range study.Charts() {
			if f, ok := in.against(c, a.key); ok {
				figures = append(figures, f)
			}
		}
		if len(figures) == 0 {
			continue
		}
		if len(out) > 1 {
			out = append(out, sheet.Break{})
		}
		out = append(out, sheet.Heading{Words: a.title})
		out = append(out, in.twoByTwo(figures)...)
	}
	if by := in.chartsByHeight(); len(by) > 0 {
		out = append(out, sheet.Break{}, sheet.Heading{Words: "Crossed up, a line through each height"})
		out = append(out, by...)
	}
	return out, nil
}

// against is a chart with the same of what the job is set against behind it; ok is false where there is no curve.
func (in *Input) against(c study.Chart, travel string) (sheet.Figure, bool) {
	p := in.Study.Spec(c, travel, in.laden(), in.unit())
	if len(p.Curves) == 0 {
		return sheet.Figure{}, false
	}
	p.Cursor = math.NaN()
	if in.Before != nil && in.Before.Bounded() && len(in.Before.Loads) > in.laden() && c.ByHeight { // of one quantity: the same thing in both
		var pencils []chart.Curve
		for _, k := range in.Before.Spec(c, travel, in.laden(), in.unit()).Curves {
			if !k.Present {
				continue
			}
			name := in.Against
			if !c.PerLoad && len(p.Curves) > 1 {
				name += ", " + k.Name
			}
			k.Name, k.Present, k.Pencil = name, false, true
			pencils = append(pencils, k)
		}
		p.Curves = append(pencils, p.Curves...)
	}
	return sheet.Chart(p, ""), true
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
	return in.twoByTwo(figures)
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
	return in.twoByTwo(figures)
}

// twoByTwo puts charts side by side.
func (in *Input) twoByTwo(figures []sheet.Figure) []sheet.Block {
	var out []sheet.Block
	if len(figures)%2 == 1 { // the last one no wider than the others
		figures = append(figures, sheet.Figure{Draw: func(*paper.Pen, paper.Room) {}})
	}
	for i := 0; i < len(figures); i += 2 {
		out = append(out, sheet.Figures{Tall: 205 - paper.MM(max(0, paper.A4.H-in.Size.H)/4), Figures: figures[i : i+2]})
	}
	return out
}
