package study

import (
	"fmt"
	"math"

	"axleloft/app/words"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
)

const (
	closeUse = 0.9 // of a joint's limit: "close"
	further  = 1e5 // mm: than any axle goes
)

// runsOut words what stops the axle that should not, and where the links end it.
func (f *finder) runsOut() {
	s := f.s
	if s.RangeNote != "" {
		f.add(Finding{Kind: RunsOut, Key: "range", What: words.T("No range"), Where: words.T("nothing bounds the travel"), Sentence: s.RangeNote, Pair: -1, weight: 100})
	}
	if s.Mech.PoorlyHeld != "" {
		f.add(Finding{Kind: RunsOut, Key: "held", What: words.T("Axle poorly held"), Number: fmt.Sprintf("%.2f", s.Mech.Singular), Where: words.T("at ride height"),
			Sentence: words.F("%s Good layouts show 0.2 to 0.3 here.", s.Mech.PoorlyHeld), Pair: -1, Value: -s.Mech.Singular, weight: 90}.at(0, 0))
	}
	if !s.Bounded() {
		return
	}
	f.linksEnd()
	f.heightsBeyond()
	f.strutAsStop()
	f.heldBeyond()
	f.landing()
	f.forced()
	f.tilt()
	f.sensors()
}

// linksEnd: the links themselves end the travel somewhere on the outline; the place nearest ride height is told.
func (f *finder) linksEnd() {
	s := f.s
	var e *limits.By
	for i := range s.Range.Edge {
		if b := &s.Range.Edge[i]; b.Cause == limits.NoAssembly && (e == nil || math.Hypot(b.Left, b.Right) < math.Hypot(e.Left, e.Right)-1) {
			e = b
		}
	}
	if e == nil {
		return
	}
	phrase := words.F("The links will not let the axle past %s: they would be forced more than %s there. Figures stop there; the rest stands.",
		f.w.travels(e.Left, e.Right), f.w.length(limits.ForcedMost))
	solver := s.Mech.NewSolver()
	var p motion.Pose
	if err := solver.Solve(e.Left*1.02, e.Right*1.02, &p); err != nil {
		phrase = sentence(err)
	}
	phrase += f.ungiven()
	f.add(Finding{Kind: RunsOut, Key: "links end", What: words.T("The links stop the axle"), Number: f.w.length(math.Max(math.Abs(e.Left), math.Abs(e.Right))),
		Where: place(e.Left, e.Right), Sentence: phrase, Pair: -1, weight: 80}.at(e.Left, e.Right))
}

// ungiven tells what to give where nothing but the links ends the travel, of both wheels together or crossed up.
func (f *finder) ungiven() string {
	phrase := ""
	for _, end := range []struct {
		towards     float64
		what, cures string
	}{{further, words.T("bump"), words.T("the struts a closed length, or a bump stop")}, {-further, words.T("droop"), words.T("the struts an open length, or a strap")}} {
		if _, _, by := f.s.Range.Clamp(end.towards, end.towards); by != nil && by.Cause == limits.NoAssembly {
			phrase += words.F(" Nothing given ends the %s before the links do: give %s, or enter the %s.", end.what, end.cures, end.what)
		}
	}
	if phrase != "" {
		return phrase
	}
	big := 0.49 * f.s.Mech.Track
	for _, sign := range [2]float64{1, -1} {
		if _, _, by := f.s.Range.Clamp(sign*big, -sign*big); by == nil || by.Cause == limits.NoAssembly {
			return words.T(" Nothing given ends the articulation before the links do: give a strut or a stop and a strap on each side their lengths, or enter the articulation.")
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
	}{{further, f.s.Range.Bump, limits.StrutClosed, words.T(" up")}, {-further, f.s.Range.Droop, limits.StrutOpen, words.T(" down")}} {
		if _, _, by := f.s.Range.Clamp(end.towards, end.towards); by != nil && by.Cause == end.cause {
			at = append(at, f.w.number(end.travel)+end.way)
		}
	}
	if len(at) == 0 {
		return ""
	}
	return words.F(", at %s", List(at))
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
				f.add(Finding{Kind: RunsOut, Key: "no stops", What: words.T("The struts stop the axle"), Where: words.T("no bump stop\nand no strap"),
					Sentence: words.F("The struts stop the axle%s: no bump stop or strap is given.", f.strutsAt()), Pair: -1, weight: 40})
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
			f.add(Finding{Kind: RunsOut, Key: "strut closed", What: m.Struts[e.Index].Name, Number: words.T("closed"), Where: words.F("%s\nbefore its bump stop is home", place(e.Left, e.Right)),
				Sentence: words.F("%s is closed before the bump stop is home, %s (%s). The strut must not be the stop.",
					m.Struts[e.Index].Name, place(e.Left, e.Right), f.w.travels(e.Left, e.Right)), Pair: -1, weight: 70}.at(e.Left, e.Right))
		case e.Cause == limits.StrutOpen && len(m.Straps) > 0:
			e = s.worstEdge(limits.StrutOpen)
			f.add(Finding{Kind: RunsOut, Key: "strut open", What: m.Struts[e.Index].Name, Number: words.T("fully out"), Where: words.F("%s\nbefore its strap is taut", place(e.Left, e.Right)),
				Sentence: words.F("%s is fully out before the limit strap is taut, %s (%s). The strut must not be the stop.",
					m.Struts[e.Index].Name, place(e.Left, e.Right), f.w.travels(e.Left, e.Right)), Pair: -1, weight: 69}.at(e.Left, e.Right))
		}
		seen[e.Cause] = true
	}
	if len(m.Stops) == 0 {
		f.oneEnd(words.Mark("bump stop"), limits.StrutClosed, words.T("up"), s.Range.Bump)
	}
	if len(m.Straps) == 0 {
		f.oneEnd(words.Mark("strap"), limits.StrutOpen, words.T("down"), s.Range.Droop)
	}
}

func (f *finder) oneEnd(missing string, cause limits.Cause, way string, travel float64) {
	for i := range f.s.Range.Edge {
		if f.s.Range.Edge[i].Cause == cause {
			f.add(Finding{Kind: RunsOut, Key: "no " + missing, What: words.F("The struts stop the axle %s", way), Where: words.F("no %s is given", words.T(missing)),
				Sentence: words.F("The struts stop the axle %s, at %s: no %s is given.", way, f.w.length(travel), words.T(missing)), Pair: -1, weight: 40})
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
		f.add(Finding{Kind: RunsOut, Key: "face/" + stop.Name, What: words.F("%s / its pad", stop.Name), Number: words.F("%s off", f.w.length(e.Max)),
			Where:    place(e.MaxLeft, e.MaxRight),
			Sentence: words.F("%s lands %s off its axis, %s; its face reaches %s.", stop.Name, f.w.length(e.Max), place(e.MaxLeft, e.MaxRight), f.w.number(stop.Face)),
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
		f.add(Finding{Kind: RunsOut, Key: "tilt/" + strut.Name, What: words.F("%s, end tilt", strut.Name), Number: words.F("%.1f of %.1f deg", deg(e.Max), deg(strut.Tilt)),
			Where:    place(e.MaxLeft, e.MaxRight),
			Sentence: words.F("%s: its ends turn %.1f of %.1f deg, %s.", strut.Name, deg(e.Max), deg(strut.Tilt), place(e.MaxLeft, e.MaxRight)),
			Pair:     -1, Value: e.Max, weight: 65}.at(e.MaxLeft, e.MaxRight))
	}
}

func deg(rad float64) float64 { return rad * 180 / math.Pi }

func count(n int) string {
	phrase := []string{words.T("no"), words.T("one"), words.T("two"), words.T("three"), words.T("four"), words.T("five"), words.T("six"), words.T("seven"), words.T("eight"), words.T("nine"), words.T("ten")}
	if n < len(phrase) {
		return phrase[n]
	}
	return fmt.Sprint(n)
}

// joints: ends of links, arms and rods at or close to their limit.
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
		verb, now, limit := words.T("tilts"), use.Misalignment, j.End.MisLimit
		if use.ByTorsion {
			verb, now, limit = words.T("twists"), math.Abs(use.Torsion), j.End.TorLimit
		}
		who := JointName(j)
		x := Finding{Kind: Tight, Key: "joint/" + jointKey(j), What: who, Number: words.F("%.1f of %.1f deg", deg(now), deg(limit)), Where: place(e.MaxLeft, e.MaxRight),
			Sentence: words.F("%s: %s %.1f of %.1f deg, %s. Close to its limit.", who, verb, deg(now), deg(limit), place(e.MaxLeft, e.MaxRight)),
			Pair:     -1, Value: e.Max, weight: e.Max}.at(e.MaxLeft, e.MaxRight)
		if e.Max >= 1 {
			x.Kind, x.weight = RunsOut, 75+e.Max
			x.Sentence = words.F("%s: %s %.1f of %.1f deg, %s. It binds there.", who, verb, deg(now), deg(limit), place(e.MaxLeft, e.MaxRight))
		}
		f.add(x)
	}
}
