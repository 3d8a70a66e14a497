package study

import (
	"math"

	"axleloft/app/words"
	"axleloft/geometry/quantity"
)

// driveline: joints of the shaft and its slip against their limits.
func (f *finder) driveline() {
	s := f.s
	d := &s.Mech.Drive
	if !s.Bounded() || !d.Has {
		return
	}
	joint := func(key string, e *Extent) {
		name := words.T(key)
		if e.Known() && e.Max > deg(d.JointLimit) {
			f.add(Finding{Kind: RunsOut, Key: "shaft joint/" + key, What: words.F("Driveshaft, %s joint", name), Number: words.F("%.1f of %.1f deg", e.Max, deg(d.JointLimit)),
				Where:    place(e.MaxLeft, e.MaxRight),
				Sentence: words.F("Driveshaft, %s joint: bends %.1f of %.1f deg, %s.", name, e.Max, deg(d.JointLimit), place(e.MaxLeft, e.MaxRight)),
				Pair:     -1, Value: e.Max, weight: 76}.at(e.MaxLeft, e.MaxRight))
		}
	}
	joint(words.Mark("front"), &s.Extents.ShaftFront)
	joint(words.Mark("centre bearing"), &s.Extents.ShaftBearing)
	joint(words.Mark("rear"), &s.Extents.ShaftRear)
	slip := &s.Extents.Slip
	if !slip.Known() {
		return
	}
	out := func(key string, used, has, l, r float64) {
		if way := words.T(key); used > has {
			f.add(Finding{Kind: RunsOut, Key: "slip/" + key, What: words.F("Driveshaft slip, %s", way), Number: words.F("%s of %s", f.w.number(used), f.w.length(has)), Where: place(l, r),
				Sentence: words.F("Driveshaft: needs %s of slip %s, %s; it has %s.", f.w.length(used), way, place(l, r), f.w.number(has)),
				Pair:     -1, Value: used, weight: 77}.at(l, r))
		}
	}
	out(words.Mark("in"), -slip.Min, d.SlipIn, slip.MinLeft, slip.MinRight)
	out(words.Mark("out"), slip.Max, d.SlipOut, slip.MaxLeft, slip.MaxRight)
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
		shortest := words.F(" At its shortest, %s, it spans %s: see that it does not kink.", place(e.MinLeft, e.MinRight), f.w.number(e.Min))
		x := Finding{Key: "line/" + l.Name, What: l.Name, Number: words.F("%s of %s", f.w.number(e.Max), f.w.length(l.Length)), Where: where, Pair: -1, Value: e.Max}.at(e.MaxLeft, e.MaxRight)
		switch {
		case e.Max > l.Length:
			x.Kind, x.weight = RunsOut, 78
			x.Sentence = words.F("%s: longest reach %s, %s. You have %s: it is pulled tight.", l.Name, f.w.length(e.Max), where, f.w.number(l.Length))
		case e.Max*hosePart > l.Length:
			x.Kind = Outside
			x.Sentence = words.F("%s: longest reach %s, %s. Common practice is 10 %% more: %s. You have %s. Check with wheels on.",
				l.Name, f.w.length(e.Max), where, f.w.number(e.Max*hosePart), f.w.number(l.Length))
		case f.lineGuess(i):
			x.Kind, x.weight = NotKnown, 20
			x.Sentence = words.F("%s: an end is a guess. Longest reach %s, %s; with 10 %% more %s; you have %s.",
				l.Name, f.w.length(e.Max), where, f.w.number(e.Max*hosePart), f.w.number(l.Length))
		default:
			continue
		}
		if x.Kind != RunsOut {
			x.Sentence += shortest
		}
		f.add(x)
	}
}

// rpm is the chosen shaft speed in rev/min, NaN where none is.
func (s *Study) rpm() float64 { return s.Mech.Drive.Speed * 60 / (2 * math.Pi) }

// shaftAtSpeed: joint angles and accelerations of the driveshaft at the speed chosen, at each height and load the vehicle is driven at, beside the
// advice of whom it is.
func (f *finder) shaftAtSpeed(add func(key, what, number, where, text string) *Finding) {
	s := f.s
	d := &s.Mech.Drive
	if !d.Has || !(d.Speed > 0) {
		return
	}
	type worst struct {
		v      float64
		where  string
		travel float64
	}
	var angle, torsional, inertia, apart worst
	least := worst{v: math.Inf(1)}
	take := func(w *worst, v float64, where string, travel float64) {
		if v > w.v {
			*w = worst{v, where, travel}
		}
	}
	for _, h := range s.heightSpots() {
		for l := range s.Loads {
			travel := h.travel + s.Loads[l].Heave
			p := s.At(travel, travel)
			if p.Err != "" {
				continue
			}
			where := Lower(h.name)
			if math.Abs(h.travel) < rideTol {
				where = words.F("at %s", where)
			}
			if n := s.Loads[l].Name; n != "" && s.Loads[l].Heave != 0 {
				where += ", " + Lower(n)
			}
			v := &p.Values[l]
			joints := []float64{v.ShaftFrontDeg, v.ShaftRearDeg}
			if d.TwoPiece {
				joints = append(joints, v.ShaftBearingDeg)
			}
			for _, a := range joints {
				take(&angle, a, where, travel)
				if a < least.v {
					least = worst{a, where, travel}
				}
			}
			if !d.TwoPiece {
				take(&apart, math.Abs(v.ShaftFrontDeg-v.ShaftRearDeg), where, travel)
			}
			take(&torsional, v.Torsional, where, travel)
			take(&inertia, math.Max(v.InertiaFront, v.InertiaRear), where, travel)
		}
	}
	rpm := s.rpm()
	say := func(key, what string, w worst, number, text string) {
		x := add(key, what, number, w.where, text)
		x.Value = w.v
		*x = x.at(w.travel, w.travel)
	}
	if most, ok := quantity.PracticeJointAngle(rpm); ok && angle.v > most {
		say("shaft angle", words.T("Driveshaft joint angle"), angle, words.F("%.1f deg", angle.v),
			words.F("Driveshaft: %.1f deg at a joint, %s, at %.0f rev/min; %s: at most %.1f.", angle.v, angle.where, rpm, quantity.PracticeFrom, most))
	}
	if torsional.v > quantity.TorsionalAdvice {
		say("shaft torsional", words.T("Driveshaft, torsional acceleration"), torsional, words.F("%.0f rad/s2", torsional.v),
			words.F("Driveshaft: torsional acceleration %.0f rad/s2, %s, at %.0f rev/min; a joint maker's advice is at most %.0f (a chart in the manner of SAE AE-7: %.0f).",
				torsional.v, torsional.where, rpm, quantity.TorsionalAdvice, quantity.TorsionalChart))
	}
	if inertia.v > quantity.InertiaAdvice {
		say("shaft inertia", words.T("Driveshaft, inertia acceleration"), inertia, words.F("%.0f rad/s2", inertia.v),
			words.F("Driveshaft: inertia acceleration %.0f rad/s2, %s, at %.0f rev/min; a joint maker's advice is at most %.0f.", inertia.v, inertia.where, rpm, quantity.InertiaAdvice))
	}
	if apart.v > quantity.PracticeAlikeDeg {
		say("shaft alike", words.T("Driveshaft joints apart"), apart, words.F("%.1f deg", apart.v),
			words.F("Driveshaft: its two joints differ by %.1f deg, %s; %s: within %.0f.", apart.v, apart.where, quantity.PracticeFrom, quantity.PracticeAlikeDeg))
	}
	if least.v < quantity.PracticeLeastJointDeg {
		say("shaft straight", words.T("Driveshaft joint nearly straight"), least, words.F("%.1f deg", least.v),
			words.F("Driveshaft: %.1f deg at a joint, %s; %s: at least %.1f, so that the needles turn.", least.v, least.where, quantity.PracticeFrom, quantity.PracticeLeastJointDeg))
	}
}
