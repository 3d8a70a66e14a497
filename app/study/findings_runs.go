package study

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
)

const (
	closeUse    = 0.9 // of a joint's limit: "close"
	further     = 1e5 // mm: than any axle goes
	forcedLeast = 0.5 // mm: links of an over-located layout forced by less are not worth a line
)

// runsOut words what stops the axle that should not, and where the links end it.
func (f *finder) runsOut() {
	s := f.s
	if s.RangeNote != "" {
		f.add(Finding{Kind: RunsOut, Key: "range", What: "No range", Where: "nothing bounds the travel", Sentence: s.RangeNote, Pair: -1, weight: 100})
	}
	if s.Mech.PoorlyHeld != "" {
		f.add(Finding{Kind: RunsOut, Key: "held", What: "Axle poorly held", Number: fmt.Sprintf("%.2f", s.Mech.Singular), Where: "at ride height",
			Sentence: s.Mech.PoorlyHeld + " Good layouts show 0.2 to 0.3 here.", Pair: -1, Value: -s.Mech.Singular, weight: 90}.at(0, 0))
	}
	if !s.Bounded() {
		return
	}
	f.linksEnd()
	f.strutAsStop()
	f.landing()
	f.forced()
	f.tilt()
}

// linksEnd: the links themselves end the travel somewhere on the outline.
func (f *finder) linksEnd() {
	s := f.s
	for i := range s.Range.Edge {
		e := &s.Range.Edge[i]
		if e.Cause != limits.NoAssembly {
			continue
		}
		words := "The links will not let the axle past " + f.w.travels(e.Left, e.Right) + ". Figures stop there; the rest stands."
		solver := s.Mech.NewSolver()
		var p motion.Pose
		if err := solver.Solve(e.Left*1.02, e.Right*1.02, &p); err != nil {
			words = sentence(err)
		}
		words += f.ungiven()
		f.add(Finding{Kind: RunsOut, Key: "links end", What: "The links stop the axle", Number: f.w.length(math.Max(math.Abs(e.Left), math.Abs(e.Right))),
			Where: place(e.Left, e.Right), Sentence: words, Pair: -1, weight: 80}.at(e.Left, e.Right))
		return
	}
}

// ungiven tells what to give where nothing but the links ends the travel, of both wheels together or crossed up.
func (f *finder) ungiven() string {
	words := ""
	for _, end := range []struct {
		towards     float64
		what, cures string
	}{{further, "bump", "the struts a closed length, or a bump stop"}, {-further, "droop", "the struts an open length, or a strap"}} {
		if _, _, by := f.s.Range.Clamp(end.towards, end.towards); by != nil && by.Cause == limits.NoAssembly {
			words += fmt.Sprintf(" Nothing given ends the %s before the links do: give %s, or enter the %s.", end.what, end.cures, end.what)
		}
	}
	if words != "" {
		return words
	}
	big := 0.49 * f.s.Mech.Track
	for _, sign := range [2]float64{1, -1} {
		if _, _, by := f.s.Range.Clamp(sign*big, -sign*big); by == nil || by.Cause == limits.NoAssembly {
			return " Nothing given ends the articulation before the links do: give a strut or a stop and a strap on each side their lengths, or enter the articulation."
		}
	}
	return ""
}

// strutsAt tells where the struts stop the axle with both wheels together, as far as it is they that do.
func (f *finder) strutsAt() string {
	var at []string
	for _, end := range []struct {
		towards, travel float64
		cause           limits.Cause
		way             string
	}{{further, f.s.Range.Bump, limits.StrutClosed, " up"}, {-further, f.s.Range.Droop, limits.StrutOpen, " down"}} {
		if _, _, by := f.s.Range.Clamp(end.towards, end.towards); by != nil && by.Cause == end.cause {
			at = append(at, f.w.number(end.travel)+end.way)
		}
	}
	if len(at) == 0 {
		return ""
	}
	return ", at " + strings.Join(at, " and ")
}

// strutAsStop: a strut that closes before its stop is home, or opens before its strap is taut; or no stop or strap at all.
func (f *finder) strutAsStop() {
	s := f.s
	m := s.Mech
	if len(m.Struts) == 0 {
		return
	}
	if len(m.Stops) == 0 && len(m.Straps) == 0 {
		for i := range s.Range.Edge {
			if s.Range.Edge[i].Cause == limits.StrutClosed || s.Range.Edge[i].Cause == limits.StrutOpen {
				f.add(Finding{Kind: RunsOut, Key: "no stops", What: "The struts stop the axle", Where: "no bump stop\nand no strap",
					Sentence: "The struts stop the axle" + f.strutsAt() + ": no bump stop or strap is given.", Pair: -1, weight: 40})
				return
			}
		}
		return
	}
	seen := map[limits.Cause]bool{}
	for i := range s.Range.Edge {
		e := &s.Range.Edge[i]
		if seen[e.Cause] || e.Index < 0 {
			continue
		}
		switch {
		case e.Cause == limits.StrutClosed && len(m.Stops) > 0:
			e = s.worstEdge(limits.StrutClosed)
			f.add(Finding{Kind: RunsOut, Key: "strut closed", What: m.Struts[e.Index].Name, Number: "closed", Where: place(e.Left, e.Right) + "\nbefore its bump stop is home",
				Sentence: fmt.Sprintf("%s is closed before the bump stop is home, %s (%s). The strut must not be the stop.",
					m.Struts[e.Index].Name, place(e.Left, e.Right), f.w.travels(e.Left, e.Right)), Pair: -1, weight: 70}.at(e.Left, e.Right))
		case e.Cause == limits.StrutOpen && len(m.Straps) > 0:
			e = s.worstEdge(limits.StrutOpen)
			f.add(Finding{Kind: RunsOut, Key: "strut open", What: m.Struts[e.Index].Name, Number: "fully out", Where: place(e.Left, e.Right) + "\nbefore its strap is taut",
				Sentence: fmt.Sprintf("%s is fully out before the limit strap is taut, %s (%s). The strut must not be the stop.",
					m.Struts[e.Index].Name, place(e.Left, e.Right), f.w.travels(e.Left, e.Right)), Pair: -1, weight: 69}.at(e.Left, e.Right))
		}
		seen[e.Cause] = true
	}
	if len(m.Stops) == 0 {
		f.oneEnd("bump stop", limits.StrutClosed, "up", s.Range.Bump)
	}
	if len(m.Straps) == 0 {
		f.oneEnd("strap", limits.StrutOpen, "down", s.Range.Droop)
	}
}

func (f *finder) oneEnd(missing string, cause limits.Cause, way string, travel float64) {
	for i := range f.s.Range.Edge {
		if f.s.Range.Edge[i].Cause == cause {
			f.add(Finding{Kind: RunsOut, Key: "no " + missing, What: "The struts stop the axle " + way, Where: "no " + missing + " is given",
				Sentence: fmt.Sprintf("The struts stop the axle %s, at %s: no %s is given.", way, f.w.length(travel), missing), Pair: -1, weight: 40})
			return
		}
	}
}

// worstEdge is the outline's point of a cause that lies furthest from both wheels together.
func (s *Study) worstEdge(c limits.Cause) *limits.By {
	var best *limits.By
	for i := range s.Range.Edge {
		e := &s.Range.Edge[i]
		if e.Cause == c && (best == nil || math.Abs(e.Left-e.Right) > math.Abs(best.Left-best.Right)+1e-6) {
			best = e
		}
	}
	return best
}

// landing: a bump stop that lands beyond its face.
func (f *finder) landing() {
	s := f.s
	for i := range s.Extents.Stops {
		e, stop := &s.Extents.Stops[i], &s.Mech.Stops[i]
		if !e.Known() || !(e.Max > stop.Face) {
			continue
		}
		f.add(Finding{Kind: RunsOut, Key: "face/" + stop.Name, What: stop.Name + " / its pad", Number: f.w.length(e.Max) + " off",
			Where:    place(e.MaxLeft, e.MaxRight),
			Sentence: fmt.Sprintf("%s lands %s off its axis, %s; its face reaches %s.", stop.Name, f.w.length(e.Max), place(e.MaxLeft, e.MaxRight), f.w.number(stop.Face)),
			Pair:     -1, Value: e.Max, weight: 60}.at(e.MaxLeft, e.MaxRight))
	}
}

// tilt: a strut's end turned beyond a limit that is given.
func (f *finder) tilt() {
	s := f.s
	for i := range s.Extents.Tilt {
		e, strut := &s.Extents.Tilt[i], &s.Mech.Struts[i]
		if !e.Known() || !(e.Max > strut.Tilt) {
			continue
		}
		f.add(Finding{Kind: RunsOut, Key: "tilt/" + strut.Name, What: strut.Name + ", end tilt", Number: fmt.Sprintf("%.1f of %.1f deg", deg(e.Max), deg(strut.Tilt)),
			Where:    place(e.MaxLeft, e.MaxRight),
			Sentence: fmt.Sprintf("%s: its ends turn %.1f of %.1f deg, %s.", strut.Name, deg(e.Max), deg(strut.Tilt), place(e.MaxLeft, e.MaxRight)),
			Pair:     -1, Value: e.Max, weight: 65}.at(e.MaxLeft, e.MaxRight))
	}
}

func deg(rad float64) float64 { return rad * 180 / math.Pi }

// forced: the links of an over-located layout that fight each other.
func (f *finder) forced() {
	s := f.s
	if !s.Mech.OverLocated {
		return
	}
	type part struct {
		name string
		mm   float64
	}
	byName := map[string]float64{}
	var most Extent
	worst := 0.0
	for i := range s.Extents.Stretch {
		e := &s.Extents.Stretch[i]
		if !e.Known() {
			continue
		}
		v := math.Max(math.Abs(e.Min), math.Abs(e.Max))
		name := s.Mech.Distances[i].Name
		n := Lower(name)
		if trimSide(name) != name {
			n = plural(name)
		}
		byName[n] = math.Max(byName[n], v)
		if v > worst {
			worst, most = v, *e
		}
	}
	if worst < forcedLeast {
		return
	}
	var parts []part
	for n, v := range byName {
		parts = append(parts, part{n, v})
	}
	sort.Slice(parts, func(a, b int) bool {
		return parts[a].mm > parts[b].mm || (parts[a].mm == parts[b].mm && parts[a].name < parts[b].name)
	})
	var words []string
	for k, p := range parts {
		if k == 0 {
			words = append(words, fmt.Sprintf("%s forced %s", p.name, f.w.length(p.mm)))
		} else if p.mm > 0.05 {
			words = append(words, p.name+" "+f.w.number(p.mm))
		}
	}
	l, r := most.MaxLeft, most.MaxRight
	if -most.Min > most.Max {
		l, r = most.MinLeft, most.MinRight
	}
	f.add(Finding{Kind: RunsOut, Key: "forced", What: fmt.Sprintf("These %s links fight each other", count(len(s.Mech.Links))), Number: f.w.length(worst), Where: place(l, r),
		Sentence: fmt.Sprintf("These %s links fight each other when %s: %s. Only the bushes take it; with rod ends it would not move.", count(len(s.Mech.Links)), place(l, r), strings.Join(words, ", ")),
		Pair:     -1, Value: worst, weight: 50}.at(l, r))
}

func count(n int) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

// joints: link ends at or close to their limit.
func (f *finder) joints() {
	s := f.s
	if !s.Bounded() {
		return
	}
	for i := range s.Extents.Joints {
		e := &s.Extents.Joints[i]
		if !e.Known() || e.Max < closeUse {
			continue
		}
		j := &s.Mech.Joints[i]
		p := s.At(e.MaxLeft, e.MaxRight)
		if p.Err != "" {
			continue
		}
		use := p.Values[0].Joint(j)
		verb, now, limit := "tilts", use.Misalignment, j.End.MisLimit
		if use.ByTorsion {
			verb, now, limit = "twists", math.Abs(use.Torsion), j.End.TorLimit
		}
		who := JointName(j)
		x := Finding{Kind: Tight, Key: "joint/" + jointKey(j), What: who, Number: fmt.Sprintf("%.1f of %.1f deg", deg(now), deg(limit)), Where: place(e.MaxLeft, e.MaxRight),
			Sentence: fmt.Sprintf("%s: %s %.1f of %.1f deg, %s. Close to its limit.", who, verb, deg(now), deg(limit), place(e.MaxLeft, e.MaxRight)),
			Pair:     -1, Value: e.Max, weight: e.Max}.at(e.MaxLeft, e.MaxRight)
		if e.Max >= 1 {
			x.Kind, x.weight = RunsOut, 75+e.Max
			x.Sentence = fmt.Sprintf("%s: %s %.1f of %.1f deg, %s. It binds there.", who, verb, deg(now), deg(limit), place(e.MaxLeft, e.MaxRight))
		}
		f.add(x)
	}
}

// driveline: joints of the shaft and its slip against their limits.
func (f *finder) driveline() {
	s := f.s
	d := &s.Mech.Drive
	if !s.Bounded() || !d.Has {
		return
	}
	joint := func(name string, e *Extent) {
		if e.Known() && e.Max > deg(d.JointLimit) {
			f.add(Finding{Kind: RunsOut, Key: "shaft joint/" + name, What: "Driveshaft, " + name + " joint", Number: fmt.Sprintf("%.1f of %.1f deg", e.Max, deg(d.JointLimit)),
				Where:    place(e.MaxLeft, e.MaxRight),
				Sentence: fmt.Sprintf("Driveshaft, %s joint: bends %.1f of %.1f deg, %s.", name, e.Max, deg(d.JointLimit), place(e.MaxLeft, e.MaxRight)),
				Pair:     -1, Value: e.Max, weight: 76}.at(e.MaxLeft, e.MaxRight))
		}
	}
	joint("front", &s.Extents.ShaftFront)
	joint("rear", &s.Extents.ShaftRear)
	slip := &s.Extents.Slip
	if !slip.Known() {
		return
	}
	out := func(way string, used, has, l, r float64) {
		if used > has {
			f.add(Finding{Kind: RunsOut, Key: "slip/" + way, What: "Driveshaft slip, " + way, Number: fmt.Sprintf("%s of %s", f.w.number(used), f.w.length(has)), Where: place(l, r),
				Sentence: fmt.Sprintf("Driveshaft: needs %s of slip %s, %s; it has %s.", f.w.length(used), way, place(l, r), f.w.number(has)),
				Pair:     -1, Value: used, weight: 77}.at(l, r))
		}
	}
	out("in", -slip.Min, d.SlipIn, slip.MinLeft, slip.MinRight)
	out("out", slip.Max, d.SlipOut, slip.MaxLeft, slip.MaxRight)
}

// hosePart is how much longer than its longest span a hose should be (common practice, no source).
const hosePart = 1.10

// lines: hoses and looms too short, or with less than common practice to spare.
func (f *finder) lines() {
	s := f.s
	if !s.Bounded() {
		return
	}
	for i := range s.Extents.Lines {
		e, l := &s.Extents.Lines[i], &s.Mech.Lines[i]
		if !e.Known() || math.IsNaN(l.Length) {
			continue
		}
		where := place(e.MaxLeft, e.MaxRight)
		x := Finding{Key: "line/" + l.Name, What: l.Name, Number: fmt.Sprintf("%s of %s", f.w.number(e.Max), f.w.length(l.Length)), Where: where, Pair: -1, Value: e.Max}.at(e.MaxLeft, e.MaxRight)
		switch {
		case e.Max > l.Length:
			x.Kind, x.weight = RunsOut, 78
			x.Sentence = fmt.Sprintf("%s: longest reach %s, %s. You have %s: it is pulled tight.", l.Name, f.w.length(e.Max), where, f.w.number(l.Length))
		case e.Max*hosePart > l.Length:
			x.Kind = Outside
			x.Sentence = fmt.Sprintf("%s: longest reach %s, %s. Common practice is 10 %% more: %s. You have %s. Check with wheels on.",
				l.Name, f.w.length(e.Max), where, f.w.number(e.Max*hosePart), f.w.number(l.Length))
		case f.lineGuess(i):
			x.Kind, x.weight = NotKnown, 20
			x.Sentence = fmt.Sprintf("%s: an end is a guess. Longest reach %s, %s; with 10 %% more %s; you have %s.",
				l.Name, f.w.length(e.Max), where, f.w.number(e.Max*hosePart), f.w.number(l.Length))
		default:
			continue
		}
		f.add(x)
	}
}
