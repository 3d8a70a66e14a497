package study

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// Charts lists every chart: a reading each, or several lines of one kind.
func Charts() []Chart {
	nan := math.NaN()
	single := func(key string) Chart {
		r, _ := ReadingOf(key)
		return Chart{Reading: r, ByHeight: true}
	}
	several := func(key, title, unit, up, down string) Chart {
		return Chart{Reading: Reading{Key: key, Title: title, Unit: unit, Up: up, Down: down, BandLo: nan, BandHi: nan}}
	}
	accelerations := several("shaftacc", words.T("Driveshaft accelerations"), "rad/s²", "", "")
	accelerations.BandLo, accelerations.BandHi, accelerations.BandWords = 0, quantity.TorsionalAdvice, words.T("joint maker's advice, torsional at most 300")
	sensors := several("sensors", words.T("Height sensors, turn of the lever"), "deg", "", "")
	joints := several("joints", words.T("Driveshaft joint angles"), "deg", "", "")
	joints.ByHeight = true
	return []Chart{
		single("pinion"), single("antisquat"), single("antilift"), single("rollcentre"), single("rollsteer"), single("sideshift"), single("squareness"),
		joints, single("slip"), single("fluctuation"), accelerations, single("use"),
		several("struts", words.T("Strut length"), "mm", "", ""),
		several("lines", words.T("Line span"), "mm", "", ""),
		sensors,
		several("stretch", words.T("Forced stretch"), "mm", words.T("stretched"), words.T("squeezed")),
		several("force", words.T("Force of the forced stretch"), "N", words.T("pulled"), words.T("pushed")),
		several("gaps", words.T("Tightest gaps"), "mm", "", words.T("overlap")),
	}
}

// chartGaps is how many of the tightest pairs the gap chart draws.
const chartGaps = 4

// Curves gives the lines of a chart; against is "both", "crossed", "left" or "right" (one wheel, the other at ride). Safe for concurrent use.
func (s *Study) Curves(key, against string) []Curve {
	return s.kept(key+"/"+against, func() []Curve {
		return joinEqual(known(s.curvesOf(key, against, s.sweepOf(against))))
	})
}

// CurvesByHeight gives a chart's lines through each height the driver can choose, at one load: the axle stands at the height and the load's travel,
// and from there one wheel moves, or both the opposite ways. Each is named after its height. nil where the chart has no such form or the job no
// heights. Safe for concurrent use.
func (s *Study) CurvesByHeight(key, against string, load int) []Curve {
	c, ok := ChartOf(key)
	if !ok || !c.ByHeight || against == "both" || load < 0 || load >= len(s.Loads) || len(s.Job.Vehicle.Heights) == 0 {
		return nil
	}
	return s.kept(fmt.Sprintf("%s/%s/%d", key, against, load), func() []Curve {
		var out []Curve
		for _, h := range s.heightSpots() {
			travel := h.travel + s.Loads[load].Heave
			sw, ok := s.lineThrough(travel, against)
			if !ok {
				continue
			}
			curves := s.curvesOf(key, against, sw)
			if c.PerLoad {
				curves = curves[load : load+1]
			}
			for i := range curves {
				if name := h.name; len(curves) == 1 {
					curves[i].Name = name
				} else {
					curves[i].Name = name + ", " + curves[i].Name
				}
			}
			out = append(out, curves...)
		}
		return known(out)
	})
}

// kept is what was worked out for a chart before, or now.
func (s *Study) kept(id string, work func() []Curve) []Curve {
	if !s.Bounded() {
		return nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if c, ok := s.curves[id]; ok {
		return c
	}
	c := work()
	s.curves[id] = c
	return c
}

// curvesOf draws a chart's lines over a sweep.
func (s *Study) curvesOf(key, against string, sw *Sweep) []Curve {
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
	m := s.Mech
	switch key {
	case "joints":
		value(words.T("front joint"), func(v *quantity.Values) float64 { return v.ShaftFrontDeg })
		if m.Drive.TwoPiece {
			value(words.T("joint at the centre bearing"), func(v *quantity.Values) float64 { return v.ShaftBearingDeg })
		}
		value(words.T("rear joint"), func(v *quantity.Values) float64 { return v.ShaftRearDeg })
	case "shaftacc":
		value("torsional", func(v *quantity.Values) float64 { return v.Torsional })
		value(words.T("inertia, front joint"), func(v *quantity.Values) float64 { return v.InertiaFront })
		value(words.T("inertia, rear joint"), func(v *quantity.Values) float64 { return v.InertiaRear })
	case "struts":
		for k := range m.Struts {
			value(m.Struts[k].Name, func(v *quantity.Values) float64 { return v.Struts[k].Length })
		}
	case "lines":
		for k := range m.Lines {
			value(m.Lines[k].Name, func(v *quantity.Values) float64 { return v.Lines[k] })
		}
	case "sensors":
		for k := range m.Sensors {
			value(m.Sensors[k].Name, func(v *quantity.Values) float64 { return deg(v.Sensors[k].Turn) })
		}
	case "stretch", "force":
		if m.OverLocated {
			for _, f := range s.forced() {
				of := f.stretch
				if key == "force" {
					of = f.force
				}
				value(f.name, of)
			}
		}
	case "gaps":
		s.gapCurves(sw, curve)
	default:
		r, ok := ReadingOf(key)
		switch {
		case !ok || r.of == nil:
		case r.PerLoad:
			for k := range s.Loads {
				curve(s.Loads[k].Name, func(i int) float64 { return r.of(&sw.Values[k][i]) })
			}
		default:
			value(Lower(r.Title), r.of)
		}
	}
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
		return words.F("%s left and right", t)
	}
	if t := pairWithoutSides(a); t == pairWithoutSides(b) {
		return words.F("%s, both sides", t)
	}
	return a + ", " + b
}

// pairWithoutSides is the name of a pair of parts without their sides: "Strut left / axle tube" gives "Strut / axle tube".
func pairWithoutSides(name string) string {
	a, b, _ := strings.Cut(name, " / ")
	return trimSide(a) + " / " + trimSide(b)
}

func (s *Study) gapCurves(sw *Sweep, curve func(string, func(int) float64)) {
	if s.Gaps == nil || s.Smallest == nil {
		return
	}
	gaps := make([][]float64, len(s.Gaps.Pairs))
	least := make([]float64, len(gaps)) // the least gap to spare along this line: a pair that is tight elsewhere is no curve of it
	sc := s.Gaps.NewScratch()
	var g clearance.Gap
	for i := range sw.Poses {
		sc.Place(&sw.Poses[i], sw.Values[0][i].Links)
		for p := range gaps {
			sc.Gap(p, &g)
			gaps[p] = append(gaps[p], g.Gap)
			if spare := g.Gap - s.Gaps.Pairs[p].Required; i == 0 || spare < least[p] {
				least[p] = spare
			}
		}
	}
	order := make([]int, len(gaps))
	for p := range order {
		order[p] = p
	}
	sort.SliceStable(order, func(i, k int) bool { return least[order[i]] < least[order[k]] })
	for _, p := range order[:min(chartGaps, len(order))] {
		a, b := s.PairNames(p)
		curve(a+" / "+Lower(b), func(i int) float64 { return gaps[p][i] })
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
		if sw, ok := s.lineThrough(0, against); ok {
			return sw
		}
		return &Sweep{Values: make([][]quantity.Values, len(s.Loads))}
	}
	return &s.Both
}

// lineThrough sweeps the line on which, from both wheels at one travel, one wheel moves or both move the opposite ways; false where that travel
// itself lies outside the range.
func (s *Study) lineThrough(travel float64, against string) (*Sweep, bool) {
	if !s.Range.Contains(travel, travel) {
		return nil, false
	}
	dl, dr := 1.0, -1.0
	switch against {
	case "left":
		dr = 0
	case "right":
		dl, dr = 0, 1
	}
	end := func(sign float64) (l, r float64) {
		far := s.Range.Reach(travel, travel, sign*dl, sign*dr)
		return travel + sign*dl*far, travel + sign*dr*far
	}
	l0, r0 := end(-1)
	l1, r1 := end(1)
	sw := s.line(l0, r0, l1, r1, positions)
	return &sw, true
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

// OnHeightLine reports whether a position lies on one of the lines of CurvesByHeight at a load: through a height the driver can choose.
func (s *Study) OnHeightLine(against string, load int, p *motion.Pose) bool {
	const tol = 0.5
	if load < 0 || load >= len(s.Loads) {
		return false
	}
	still := (p.Left + p.Right) / 2
	switch against {
	case "left":
		still = p.Right
	case "right":
		still = p.Left
	}
	for _, h := range s.heightSpots() {
		if math.Abs(still-h.travel-s.Loads[load].Heave) < tol {
			return true
		}
	}
	return false
}
