package study

import (
	"fmt"
	"math"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
	"axleloft/geometry/motion"
)

// Common practice, no source: shown beside a figure with those words, never a limit.
const (
	antiSquatLo, antiSquatHi, antiSquatEmpty = 50, 100, 120 // %
	understeerMost, oversteerMost            = 5, 2         // % of roll steer at ride
	shiftMost, shiftOver                     = 10, 75       // mm of side shift within +- mm of both wheels
	squareMost                               = 3            // mm left to right
	pinionMost, pinionNear, pinionNearOver   = 8, 1, 25     // deg over the travel; deg within +- mm of ride
	slipLeast, slipUsual                     = 20, 25       // mm of reserve both ways, from and to
	leanMost                                 = 20           // deg of strut lean
	tiltMost                                 = 12           // deg of strut end tilt
	planLeast                                = 40           // deg together, of triangulated pairs
)

// lineGuess reports whether an end of a line is neither measured nor given.
func (f *finder) lineGuess(i int) bool {
	return len(f.s.guessesOf()[edit.Part{List: edit.Lines, Index: f.s.Mech.Lines[i].Ref.Index}]) > 0
}

// notKnown words what rests on a guess or cannot be told.
func (f *finder) notKnown() {
	s := f.s
	var guessed []string
	for i := range s.Job.Vehicle.Loads {
		l := &s.Job.Vehicle.Loads[i]
		if _, ok := l.Given["cg.z"]; !ok {
			guessed = append(guessed, l.Name)
		}
	}
	if len(guessed) > 0 {
		f.add(Finding{Kind: NotKnown, Key: "cg", What: words.T("CG height"), Where: strings.Join(guessed, ", "), Number: "?",
			Sentence: words.F("The CG height of %s is a guess; anti-squat rests on it.", List(guessed)), Pair: -1, weight: 10})
	}
	if !s.Loads[0].Has {
		f.add(Finding{Kind: NotKnown, Key: "no load", What: words.T("No load is given"), Where: words.T("no anti-squat till then"),
			Sentence: words.T("No load is given, so there is no anti-squat. Add a load with its mass and centre of gravity, or by front and rear kilograms."), Pair: -1, weight: 12})
	}
	var open []string
	for i := range s.Mech.Joints {
		j := &s.Mech.Joints[i]
		if s.right(j) || !math.IsNaN(j.End.MisLimit) || !math.IsNaN(j.End.TorLimit) {
			continue
		}
		member, end, _ := strings.Cut(j.Name, ", ")
		open = append(open, Lower(trimSide(member))+" "+endWords(end))
	}
	if len(open) > 0 {
		f.add(Finding{Kind: NotKnown, Key: "joint limits", What: words.T("Joint limits"), Number: "?", Where: words.F("of %s", many(len(open), words.Mark("end"), words.Mark("ends"))),
			Sentence: words.F("No limit is given for %s: whether they bind is not known.", List(open)), Pair: -1, weight: 11})
	}
}

// right reports whether a joint belongs to the right one of twins.
func (s *Study) right(j *motion.Joint) bool {
	switch j.Of {
	case motion.OnLink:
		return s.Mech.Links[j.Member].Ref.Side == job.Right
	case motion.OnArm:
		return s.Mech.Arms[j.Member].Ref.Side == job.Right
	}
	return false
}

func trimSide(name string) string {
	return strings.TrimSuffix(strings.TrimSuffix(name, " left"), " right")
}

// practice words the figures outside what the trade commonly takes.
func (f *finder) practice() {
	s := f.s
	add := func(key, what, number, where, text string) *Finding {
		f.add(Finding{Kind: Outside, Key: key, What: what, Number: number, Where: where, Sentence: text, Pair: -1})
		return &f.list[len(f.list)-1]
	}
	laden := s.Laden()
	ride := s.At(s.Loads[laden].Heave, s.Loads[laden].Heave)
	name := s.Loads[laden].Name
	at := words.T("at ride")
	if name != "" {
		at += ", " + name
	}
	if ride.Err == "" {
		v := &ride.Values[laden]
		if a := v.AntiSquatPct; a < antiSquatLo || a > antiSquatHi {
			add("antisquat/"+name, words.T("Anti-squat"), minus(a)+beyond(a, antiSquatLo, antiSquatHi), at, words.F("Anti-squat %s: %s; common practice 50 to 100.", at, minus(a)+beyond(a, antiSquatLo, antiSquatHi))).Value = math.Abs(a - 75)
		}
		if r := v.RollSteerPct; r > oversteerMost {
			add("rollsteer", words.T("Roll steer"), beyond(r, oversteerMost), at, words.F("Roll steer %s: %s toward oversteer; common practice at most 2.", at, beyond(r, oversteerMost))).Value = r
		} else if r < -understeerMost {
			add("rollsteer", words.T("Roll steer"), beyond(r, understeerMost), at, words.F("Roll steer %s: %s toward understeer; common practice 0 to 5.", at, beyond(r, understeerMost))).Value = -r
		}
	}
	f.heights(laden)
	f.shaftAtSpeed(add)
	for i := range s.Loads {
		if i == laden || !s.Loads[i].Has {
			continue
		}
		p := s.At(s.Loads[i].Heave, s.Loads[i].Heave)
		if p.Err == "" && p.Values[i].AntiSquatPct > antiSquatEmpty {
			a := p.Values[i].AntiSquatPct
			add("antisquat/"+s.Loads[i].Name, words.T("Anti-squat"), beyond(a, antiSquatEmpty), words.F("at ride, %s", s.Loads[i].Name),
				words.F("Anti-squat at ride, %s: %s; common practice under 120.", s.Loads[i].Name, beyond(a, antiSquatEmpty))).Value = a
		}
	}
	if !s.Bounded() || len(s.Both.Poses) == 0 {
		return
	}
	x := &s.Extents
	shift, shiftAt, square, squareAt := 0.0, 0.0, 0.0, 0.0
	pinion, near := newExtent(), newExtent()
	for i := range s.Both.Poses {
		v := &s.Both.Values[0][i]
		if math.Abs(v.Heave) <= shiftOver && math.Abs(v.Y) > math.Abs(shift) {
			shift, shiftAt = v.Y, v.Heave
		}
		if math.Abs(v.Squareness) > math.Abs(square) {
			square, squareAt = v.Squareness, v.Heave
		}
		pinion.add(v.PinionDeg, v.Left, v.Right)
		if math.Abs(v.Heave) <= pinionNearOver {
			near.add(v.PinionDeg, v.Left, v.Right)
		}
	}
	if math.Abs(shift) > shiftMost {
		x := add("shift", words.T("Side shift"), f.w.length(math.Abs(shift)), f.w.travels(shiftAt, shiftAt),
			words.F("Side shift %s within %s of ride, both wheels together; common practice within %s.", f.w.length(math.Abs(shift)), f.w.roundLength(shiftOver), f.w.round(shiftMost)))
		x.Value = math.Abs(shift)
		*x = x.at(shiftAt, shiftAt)
	}
	if math.Abs(square) > squareMost {
		x := add("square", words.T("Squareness"), f.w.length(math.Abs(square)), f.w.travels(squareAt, squareAt),
			words.F("Squareness %s left to right at %s, both wheels together; common practice within %s.", f.w.length(math.Abs(square)), f.w.travels(squareAt, squareAt), f.w.round(squareMost)))
		x.Value = math.Abs(square)
		*x = x.at(squareAt, squareAt)
	}
	if pinion.Known() && pinion.Max-pinion.Min > pinionMost {
		add("pinion", words.T("Pinion"), words.F("%.1f deg", pinion.Max-pinion.Min), words.T("over the travel"),
			words.F("Pinion changes %.1f deg over the travel, both wheels together; common practice within 6 to 8.", pinion.Max-pinion.Min)).Value = pinion.Max - pinion.Min
	}
	if near.Known() && near.Max-near.Min > 2*pinionNear {
		add("pinion near", words.T("Pinion"), words.F("%.1f deg", near.Max-near.Min), words.F("within %s of ride", f.w.roundLength(pinionNearOver)),
			words.F("Pinion changes %.1f deg within %s either way of ride; common practice 1 each way.", near.Max-near.Min, f.w.roundLength(pinionNearOver))).Value = near.Max - near.Min
	}
	if d := &s.Mech.Drive; d.Has && x.Slip.Known() {
		if left := d.SlipIn + x.Slip.Min; left >= 0 && left < slipLeast {
			q := add("slip left in", words.T("Slip left, in"), f.w.length(left), place(x.Slip.MinLeft, x.Slip.MinRight),
				words.F("Slip: %s left going in, %s; common practice %s to %s (the maker's figure first).", f.w.length(left), place(x.Slip.MinLeft, x.Slip.MinRight), f.w.round(slipLeast), f.w.round(slipUsual)))
			q.Value = -left
			*q = q.at(x.Slip.MinLeft, x.Slip.MinRight)
		}
		if left := d.SlipOut - x.Slip.Max; left >= 0 && left < slipLeast {
			q := add("slip left out", words.T("Slip left, out"), f.w.length(left), place(x.Slip.MaxLeft, x.Slip.MaxRight),
				words.F("Slip: %s left going out, %s; common practice %s to %s (the maker's figure first).", f.w.length(left), place(x.Slip.MaxLeft, x.Slip.MaxRight), f.w.round(slipLeast), f.w.round(slipUsual)))
			q.Value = -left
			*q = q.at(x.Slip.MaxLeft, x.Slip.MaxRight)
		}
	}
	for i := range x.Lean {
		if e := &x.Lean[i]; e.Known() && deg(e.Max) > leanMost {
			q := add("lean/"+s.Mech.Struts[i].Name, words.F("%s lean", s.Mech.Struts[i].Name), words.F("%.0f deg", deg(e.Max)), place(e.MaxLeft, e.MaxRight),
				words.F("%s leans %.0f deg, %s; common practice within 15 to 20.", s.Mech.Struts[i].Name, deg(e.Max), place(e.MaxLeft, e.MaxRight)))
			q.Value = e.Max
			*q = q.at(e.MaxLeft, e.MaxRight)
		}
		if e := &x.Tilt[i]; e.Known() && deg(e.Max) > tiltMost && math.IsNaN(s.Mech.Struts[i].Tilt) {
			q := add("end tilt/"+s.Mech.Struts[i].Name, words.F("%s end tilt", s.Mech.Struts[i].Name), words.F("%.0f deg", deg(e.Max)), place(e.MaxLeft, e.MaxRight),
				words.F("%s: its ends turn %.0f deg, %s; common practice 10 to 12.", s.Mech.Struts[i].Name, deg(e.Max), place(e.MaxLeft, e.MaxRight)))
			q.Value = e.Max
			*q = q.at(e.MaxLeft, e.MaxRight)
		}
	}
	f.triangulation(add)
}

// minus is the sign of a negative figure, for figures that stand without a word for their sign.
func minus(v float64) string {
	if v < 0 {
		return measure.Minus
	}
	return ""
}

// Laden is the load with the largest mass.
func (s *Study) Laden() int {
	best := 0
	for i := range s.Loads {
		if s.Loads[i].Mass > s.Loads[best].Mass {
			best = i
		}
	}
	return best
}

// heights: roll steer of the laden vehicle at every height the driver can choose, where it leaves common practice there and not at ride.
func (f *finder) heights(laden int) {
	s := f.s
	var phrase []string
	worst := 0.0
	var wl float64
	for _, h := range s.Job.Vehicle.Heights {
		t := h.Heave + s.Loads[laden].Heave
		if h.Heave == 0 {
			continue
		}
		p := s.At(t, t)
		if p.Err != "" {
			continue
		}
		r := p.Values[laden].RollSteerPct
		switch {
		case r > oversteerMost:
			phrase = append(phrase, words.F("%s %s toward oversteer", h.Name, beyond(r, oversteerMost)))
		case r < -understeerMost:
			phrase = append(phrase, words.F("%s %s toward understeer", h.Name, beyond(r, understeerMost)))
		default:
			continue
		}
		if math.Abs(r) > worst {
			worst, wl = math.Abs(r), t
		}
	}
	f.turns(laden)
	if len(phrase) == 0 {
		return
	}
	f.add(Finding{Kind: Outside, Key: "rollsteer heights", What: words.T("Roll steer"), Number: fmt.Sprintf("%.0f %%", worst), Where: words.T("at the other heights"), Pair: -1, Value: worst,
		Sentence: words.F("Roll steer at the other heights: %s; from 5 to 6 %% the driver notices.", strings.Join(phrase, ", "))}.at(wl, wl))
}

// turns: the roll steer goes the other way at some height than at ride.
func (f *finder) turns(laden int) {
	s := f.s
	t := s.HeightTable()
	home := s.home0()
	for i := range t.Rows {
		r := &t.Rows[i]
		if r.Key != "rollsteer" {
			continue
		}
		was := r.Cells[home][laden].Value
		for h := range t.Heights {
			v := r.Cells[h][laden].Value
			if h == home || !turned(was, v) {
				continue
			}
			at := t.Travel[h][laden]
			f.add(Finding{Kind: Outside, Key: "rollsteer turns/" + t.Heights[h], What: words.T("Roll steer turns over"), Number: percent(v), Where: words.F("at %s", Lower(t.Heights[h])), Pair: -1, Value: math.Abs(v),
				Sentence: words.F("Roll steer turns toward %s %s, %s; at %s it is %s.", towards(v), Lower(t.Heights[h]), percent(v), Lower(t.Heights[home]), s.signed(&r.Reading, was))}.at(at, at))
		}
	}
}

// turned reports whether roll steer goes the other way, and by enough to say so.
func turned(was, now float64) bool { return was*now < 0 && math.Abs(now) >= steerLeast }

// triangulation: two pairs of links that alone hold the axle sideways need enough angle in plan.
func (f *finder) triangulation(add func(key, what, number, where, text string) *Finding) {
	s := f.s
	if len(s.Mech.Arms)+len(s.Mech.Rockers) > 0 {
		return
	}
	var angles []float64 // signed: + where the pair comes together toward the axle
	for i := range s.Mech.Links {
		l := &s.Mech.Links[i]
		switch l.Ref.Side {
		case job.Single:
			return
		case job.Left:
			dx, dy := l.Axle.X-l.Frame.X, l.Frame.Y-l.Axle.Y
			angles = append(angles, deg(math.Atan2(dy, math.Abs(dx))))
		}
	}
	if len(angles) != 2 || angles[0]*angles[1] >= 0 {
		return
	}
	if sum := 2 * (math.Abs(angles[0]) + math.Abs(angles[1])); sum < planLeast {
		add("triangulation", words.T("Angle of the pairs in plan"), words.F("%.0f deg", sum), words.T("both pairs together"),
			words.F("The two pairs enclose %.0f deg together in plan; common practice 40 or more.", sum)).Value = -sum
	}
}
