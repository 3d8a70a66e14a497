package study

import (
	"fmt"
	"math"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/limits"
)

// Home is a get-home case: where the axle stands with a strut down, and what the study tells there.
type Home struct {
	limits.Home
	Name     string    // "left strut down"
	Position *Position // nil where Note says why there is none
	Tightest int       // pair of Gaps.Pairs with the least gap to spare, -1
	Lean     float64   // deg the frame leans, + down on the left: the articulation
	Words    string    // the case in one or two sentences
}

// GetHome works out the get-home cases; none without a range or without struts. They are kept. Safe for concurrent use.
func (s *Study) GetHome() []Home {
	if !s.Bounded() {
		return nil
	}
	s.homeOnce.Do(func() {
		for _, h := range s.Range.GetHome() {
			s.homeKept = append(s.homeKept, s.home(h))
		}
	})
	return s.homeKept
}

func (s *Study) home(h limits.Home) Home {
	out := Home{Home: h, Name: h.Case.String(), Tightest: -1}
	if h.Case == limits.BothDown && len(s.Mech.Struts) == 1 {
		out.Name = words.T("the strut down")
	}
	if h.Note == "" {
		out.Position = s.At(h.Left, h.Right)
		if out.Position.Err != "" {
			out.Note, out.Position = out.Position.Err, nil
		}
	}
	head := Upper(out.Name)
	if out.Position == nil {
		out.Words = head + ": " + out.Note
		return out
	}
	p := out.Position
	v := &p.Values[s.Laden()]
	out.Lean = v.ArticulationDeg
	out.Tightest = s.TightestOf(p.Gaps)
	w := s.wording()
	var parts []string
	add := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	if lean := math.Abs(out.Lean); lean >= 0.05 {
		side := words.T("left")
		if out.Lean < 0 {
			side = words.T("right")
		}
		add(words.T("the frame leans %.1f deg to the %s"), lean, side)
	}
	if !math.IsNaN(v.PinionDeg) {
		way := words.T("up")
		if v.PinionDeg < 0 {
			way = words.T("down")
		}
		add(words.T("pinion %.1f deg nose %s"), math.Abs(v.PinionDeg), way)
	}
	if !math.IsNaN(v.ShaftFrontDeg) {
		angles := fmt.Sprintf("%.1f", v.ShaftFrontDeg)
		if s.Mech.Drive.TwoPiece {
			angles += fmt.Sprintf(", %.1f", v.ShaftBearingDeg)
		}
		add(words.T("driveshaft joints %s and %.1f deg"), angles, v.ShaftRearDeg)
	}
	if v.WorstJoint >= 0 {
		add(words.T("%s at %.0f %% of its limit"), Lower(JointName(&s.Mech.Joints[v.WorstJoint])), 100*v.WorstBind)
	}
	if i := out.Tightest; i >= 0 {
		a, b := s.PairNames(i)
		if g := p.Gaps[i].Gap; g < 0 {
			add(words.T("%s and %s hit, %s in"), Lower(a), Lower(b), w.length(-g))
		} else {
			add(words.T("tightest %s to %s, %s"), Lower(a), Lower(b), w.length(g))
		}
	}
	var on []string
	for i := range h.On {
		on = append(on, s.standsOn(&h.On[i]))
	}
	out.Words = words.F("%s (%s, on %s): %s.", head, w.travels(h.Left, h.Right), List(on), strings.Join(parts, "; "))
	return out
}

// standsOn names what carries a side that is down.
func (s *Study) standsOn(b *limits.By) string {
	if b.Cause == limits.StopSolid {
		return Lower(s.Mech.Stops[b.Index].Name)
	}
	return words.F("%s fully closed", Lower(s.Mech.Struts[b.Index].Name))
}
