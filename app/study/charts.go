package study

import (
	"math"

	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// Charts lists every chart.
func Charts() []Chart {
	nan := math.NaN()
	return []Chart{
		{Key: "pinion", Title: "Pinion", Unit: "deg", Up: "nose up", Down: "nose down", BandLo: nan, BandHi: nan},
		{Key: "antisquat", Title: "Anti-squat", Unit: "%", Up: "resists squat", Down: "adds squat", PerLoad: true, BandLo: antiSquatLo, BandHi: antiSquatHi, BandWords: "common practice, full load, 50 to 100"},
		{Key: "antilift", Title: "Anti-lift, braking", Unit: "%", Up: "resists lift", Down: "adds lift", PerLoad: true, BandLo: nan, BandHi: nan},
		{Key: "rollcentre", Title: "Roll centre above ground", Unit: "mm", PerLoad: true, BandLo: nan, BandHi: nan},
		{Key: "rollsteer", Title: "Roll steer", Unit: "%", Up: "toward oversteer", Down: "toward understeer", BandLo: -understeerMost, BandHi: oversteerMost, BandWords: "common practice at ride, full load"},
		{Key: "sideshift", Title: "Side shift", Unit: "mm", Up: "to the left", Down: "to the right", BandLo: -shiftMost, BandHi: shiftMost, BandWords: "common practice within 75 mm of ride"},
		{Key: "squareness", Title: "Squareness", Unit: "mm", Up: "left side longer", Down: "right side longer", BandLo: -squareMost, BandHi: squareMost, BandWords: "common practice"},
		{Key: "joints", Title: "Driveshaft joint angles", Unit: "deg", BandLo: nan, BandHi: nan},
		{Key: "slip", Title: "Slip", Unit: "mm", Up: "longer", Down: "shorter", BandLo: nan, BandHi: nan},
		{Key: "use", Title: "Joint use", Unit: "% of its limit", BandLo: nan, BandHi: nan},
		{Key: "struts", Title: "Strut length", Unit: "mm", BandLo: nan, BandHi: nan},
		{Key: "gaps", Title: "Tightest gaps", Unit: "mm", Down: "overlap", BandLo: nan, BandHi: nan},
	}
}

// chartGaps is how many of the tightest pairs the gap chart draws.
const chartGaps = 4

// Curves gives the lines of a chart; against is "both", "crossed", "left" or "right" (one wheel, the other at ride). Safe for concurrent use.
func (s *Study) Curves(key, against string) []Curve {
	if !s.Bounded() {
		return nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	id := key + "/" + against
	if c, ok := s.curves[id]; ok {
		return c
	}
	sw := s.sweepOf(against)
	x := make([]float64, len(sw.Poses))
	for i := range sw.Poses {
		x[i] = Travel(against, sw.Poses[i].Left, sw.Poses[i].Right)
	}
	var out []Curve
	curve := func(name string, of func(i int) float64) {
		c := Curve{Name: name, X: x, Y: make([]float64, len(x))}
		for i := range x {
			c.Y[i] = of(i)
		}
		out = append(out, c)
	}
	value := func(name string, of func(*quantity.Values) float64) {
		curve(name, func(i int) float64 { return of(&sw.Values[0][i]) })
	}
	perLoad := func(of func(*quantity.Values) float64) {
		for k := range s.Loads {
			curve(s.Loads[k].Name, func(i int) float64 { return of(&sw.Values[k][i]) })
		}
	}
	switch key {
	case "pinion":
		value("pinion", func(v *quantity.Values) float64 { return v.PinionDeg })
	case "antisquat":
		perLoad(func(v *quantity.Values) float64 { return v.AntiSquatPct })
	case "antilift":
		perLoad(func(v *quantity.Values) float64 { return v.AntiLiftPct })
	case "rollcentre":
		perLoad(func(v *quantity.Values) float64 { return v.RollCentre })
	case "rollsteer":
		value("roll steer", func(v *quantity.Values) float64 { return v.RollSteerPct })
	case "sideshift":
		value("side shift", func(v *quantity.Values) float64 { return v.Y })
	case "squareness":
		value("squareness", func(v *quantity.Values) float64 { return v.Squareness })
	case "joints":
		value("front joint", func(v *quantity.Values) float64 { return v.ShaftFrontDeg })
		value("rear joint", func(v *quantity.Values) float64 { return v.ShaftRearDeg })
	case "slip":
		value("slip", func(v *quantity.Values) float64 { return v.Slip })
	case "use":
		value("closest joint", func(v *quantity.Values) float64 { return 100 * v.WorstBind })
	case "struts":
		for k := range s.Mech.Struts {
			value(s.Mech.Struts[k].Name, func(v *quantity.Values) float64 { return v.Struts[k].Length })
		}
	case "gaps":
		s.gapCurves(sw, curve)
	}
	out = joinEqual(known(out))
	s.curves[id] = out
	return out
}

// known leaves out curves without a single value.
func known(in []Curve) []Curve {
	var out []Curve
	for _, c := range in {
		for _, v := range c.Y {
			if !math.IsNaN(v) {
				out = append(out, c)
				break
			}
		}
	}
	return out
}

// joinEqual draws curves that lie on each other (twins in straight travel, loads of one tyre radius) once, with both names.
func joinEqual(in []Curve) []Curve {
	var out []Curve
	for _, c := range in {
		joined := false
		for k := range out {
			same := true
			for i := range c.Y {
				if d := math.Abs(c.Y[i] - out[k].Y[i]); !(d < 1e-3 || (math.IsNaN(c.Y[i]) && math.IsNaN(out[k].Y[i]))) {
					same = false
					break
				}
			}
			if same {
				out[k].Name = joinNames(out[k].Name, c.Name)
				joined = true
				break
			}
		}
		if !joined {
			out = append(out, c)
		}
	}
	return out
}

func joinNames(a, b string) string {
	if t := trimSide(a); t == trimSide(b) {
		return t + " left and right"
	}
	return a + ", " + b
}

func (s *Study) gapCurves(sw *Sweep, curve func(string, func(int) float64)) {
	if s.Gaps == nil || s.Smallest == nil {
		return
	}
	order := s.Order()
	order = order[:min(chartGaps, len(order))]
	gaps := make([][]float64, len(order))
	sc := s.Gaps.NewScratch()
	var g clearance.Gap
	for i := range sw.Poses {
		sc.Place(&sw.Poses[i], sw.Values[0][i].Links)
		for k, p := range order {
			sc.Gap(p, &g)
			gaps[k] = append(gaps[k], g.Gap)
		}
	}
	for k, p := range order {
		a, b := s.PairNames(p)
		curve(a+" / "+Lower(b), func(i int) float64 { return gaps[k][i] })
	}
}

// Travel is the number a chart is drawn against at a position.
func Travel(against string, left, right float64) float64 {
	switch against {
	case "crossed":
		return (left - right) / 2
	case "left":
		return left
	case "right":
		return right
	}
	return (left + right) / 2
}

// sweepOf is the sweep a chart runs over.
func (s *Study) sweepOf(against string) *Sweep {
	switch against {
	case "crossed":
		return &s.Crossed
	case "left", "right":
		var sw Sweep
		big := 0.97 * s.Mech.Track
		if against == "left" {
			l0, _, _ := s.Range.Clamp(-big, 0)
			l1, _, _ := s.Range.Clamp(big, 0)
			sw = s.line(l0, 0, l1, 0, positions)
		} else {
			_, r0, _ := s.Range.Clamp(0, -big)
			_, r1, _ := s.Range.Clamp(0, big)
			sw = s.line(0, r0, 0, r1, positions)
		}
		return &sw
	}
	return &s.Both
}

// OnLine reports whether a position lies on the line a chart is drawn against, so that the chart may show it.
func OnLine(against string, p *motion.Pose) bool {
	const tol = 0.5
	switch against {
	case "crossed":
		return math.Abs(p.Left+p.Right) < tol
	case "left":
		return math.Abs(p.Right) < tol
	case "right":
		return math.Abs(p.Left) < tol
	}
	return math.Abs(p.Left-p.Right) < tol
}
