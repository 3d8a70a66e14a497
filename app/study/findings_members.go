package study

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/geometry/motion"
)

const (
	forcedLeast = 0.5 // mm: members of an over-located layout forced by less are not worth a line
	forcedSaid  = 0.05
)

// forced: the members of an over-located layout that fight each other.
func (f *finder) forced() {
	s := f.s
	if !s.Mech.OverLocated {
		return
	}
	type part struct {
		words   string
		mm      float64
		newton  float64
		verb    string
		ordinal int
	}
	byName := map[string]*part{}
	worst, force, wl, wr := 0.0, 0.0, 0.0, 0.0
	for i, k := range s.forced() {
		e := k.x(&s.Extents)
		if !e.Known() {
			continue
		}
		most, l, r := e.Most()
		newton, _, _ := k.newton(&s.Extents).Most()
		p := byName[k.group()]
		if p == nil {
			p = &part{words: k.group(), verb: k.verb(), ordinal: i}
			byName[p.words] = p
		}
		p.mm, p.newton = math.Max(p.mm, math.Abs(most)), math.Max(p.newton, math.Abs(newton))
		if math.Abs(most) > worst {
			worst, force, wl, wr = math.Abs(most), math.Abs(newton), l, r
		}
	}
	if worst < forcedLeast {
		return
	}
	var parts []*part
	for _, p := range byName {
		parts = append(parts, p)
	}
	sort.Slice(parts, func(a, b int) bool {
		return parts[a].mm > parts[b].mm || (parts[a].mm == parts[b].mm && parts[a].ordinal < parts[b].ordinal)
	})
	var phrase []string
	verb := ""
	for k, p := range parts {
		switch {
		case k > 0 && p.mm <= forcedSaid:
		case p.verb != verb:
			phrase = append(phrase, fmt.Sprintf("%s %s %s", p.words, p.verb, f.w.length(p.mm)))
		default:
			phrase = append(phrase, p.words+" "+f.w.number(p.mm))
		}
		verb = p.verb
	}
	who := s.fighters()
	f.add(Finding{Kind: RunsOut, Key: "forced", What: words.F("%s fight each other", Upper(who)), Number: f.w.length(worst), Where: place(wl, wr),
		Sentence: words.F("%s fight each other %s: %s; the largest force is %s. Only the bushes take it; with rod ends it would not move.",
			Upper(who), when(wl, wr), strings.Join(phrase, ", "), f.w.force(force, s)),
		Pair: -1, Value: worst, weight: 50}.at(wl, wr))
}

// when is place as it follows a verb: "when crossed up, left wheel up".
func when(left, right float64) string {
	where := place(left, right)
	if math.Abs(left) < 0.5 && math.Abs(right) < 0.5 {
		return where
	}
	return words.F("when %s", where)
}

// group is what twins and the ends of one arm are called together: "uppers", "radius arms at the axle".
func (k *forcedMember) group() string {
	name := k.name
	if k.arm {
		member, end, _ := strings.Cut(name, ", ")
		where := words.T(" at the axle")
		if strings.HasPrefix(end, "frame") {
			where = words.T(" at the frame")
		}
		if trimSide(member) != member {
			return plural(member) + where
		}
		return Lower(member) + where
	}
	name, _, _ = strings.Cut(name, ", ") // an A-arm's bars are the arm
	if trimSide(name) != name {
		return plural(name)
	}
	return Lower(name)
}

func (k *forcedMember) verb() string {
	if !k.arm {
		return words.T("forced")
	}
	if member, _, _ := strings.Cut(k.name, ", "); trimSide(member) != member {
		return words.T("give")
	}
	return words.T("gives")
}

// fighters names the members that locate the axle: "these five links", "these links and arms".
func (s *Study) fighters() string {
	m := s.Mech
	var kinds []string
	if len(m.Links) > 0 {
		kinds = append(kinds, words.T("links"))
	}
	if len(m.Arms) > 0 {
		kinds = append(kinds, words.T("arms"))
	}
	if len(m.Rockers) > 0 {
		kinds = append(kinds, words.T("rods"))
	}
	if len(kinds) == 1 && len(m.Links) > 0 {
		return words.F("these %s links", count(len(m.Links)))
	}
	return words.F("these %s", List(kinds))
}

// force words a force in the job's unit, to two figures.
func (w *wording) force(newton float64, s *Study) string {
	v, unit := newton, "N"
	if s.Job.Shown != nil && s.Job.Shown.Force == "lbf" {
		v, unit = newton/measure.PoundForce, "lbf"
	} else if newton >= 1000 {
		v, unit = newton/1000, "kN"
	}
	if v > 0 {
		step := math.Pow(10, math.Floor(math.Log10(v))-1)
		v = math.Round(v/step) * step
	}
	return strconv.FormatFloat(v, 'f', -1, 64) + " " + unit
}

// heldBeyond: where the axle becomes poorly held over its travel, in the main directions of the range.
func (f *finder) heldBeyond() {
	s := f.s
	if s.Mech.PoorlyHeld != "" {
		return
	}
	big := 0.49 * s.Mech.Track
	for _, d := range [4][2]float64{{1, 1}, {-1, -1}, {1, -1}, {-1, 1}} {
		reach := further
		if d[0] != d[1] {
			reach = big
		}
		l, r, _ := s.Range.Clamp(d[0]*reach, d[1]*reach)
		far := math.Max(math.Abs(l), math.Abs(r))
		phrase, left, right, ok := s.Mech.PoorlyHeldBeyond(d[0], d[1], far)
		if !ok {
			continue
		}
		f.add(Finding{Kind: RunsOut, Key: "held beyond/" + placeKey(left, right), What: words.T("Axle poorly held"), Number: words.F("beyond %s", f.w.travels(left, right)), Where: place(left, right),
			Sentence: phrase, Pair: -1, Value: -math.Hypot(left, right), weight: 88}.at(left, right))
	}
}

const (
	flipOver      = 20.0 // deg: lever and rod this near one line may flip over
	sensorLo      = 40.0 // deg of rod to lever (common practice, no source)
	sensorHi      = 140.0
	straightLever = 180.0
)

// sensors: levers that may flip over, rods that cannot reach, swings beyond what is given.
func (f *finder) sensors() {
	s := f.s
	for i := range s.Extents.Sensors {
		e, k := &s.Extents.Sensors[i], &s.Mech.Sensors[i]
		if e.Lost {
			f.add(Finding{Kind: RunsOut, Key: "sensor reach/" + k.Name, What: k.Name, Number: words.T("cannot reach"), Where: place(e.LostLeft, e.LostRight),
				Sentence: words.F("%s: its rod cannot reach, %s (first at %s, of the places tried).", k.Name, place(e.LostLeft, e.LostRight), f.w.travels(e.LostLeft, e.LostRight)),
				Pair:     -1, Value: -math.Hypot(e.LostLeft, e.LostRight), weight: 79}.at(e.LostLeft, e.LostRight))
		}
		if d := deg(e.Straight.Min); e.Straight.Known() && d < flipOver {
			f.add(Finding{Kind: RunsOut, Key: "sensor/" + k.Name, What: words.F("%s, lever and rod", k.Name), Number: words.F("%.0f deg from straight", d), Where: place(e.Straight.MinLeft, e.Straight.MinRight),
				Sentence: words.F("%s: its rod comes within %.0f deg of straight with its lever, %s (%s). It may flip over.", k.Name, d,
					place(e.Straight.MinLeft, e.Straight.MinRight), f.w.travels(e.Straight.MinLeft, e.Straight.MinRight)),
				Pair: -1, Value: -d, weight: 72}.at(e.Straight.MinLeft, e.Straight.MinRight))
		} else if lo, hi := deg(e.Angle.Min), deg(e.Angle.Max); e.Angle.Known() && (lo < sensorLo || hi > sensorHi) {
			at, l, r := lo, e.Angle.MinLeft, e.Angle.MinRight
			if hi-sensorHi > sensorLo-lo {
				at, l, r = hi, e.Angle.MaxLeft, e.Angle.MaxRight
			}
			f.add(Finding{Kind: Outside, Key: "sensor angle/" + k.Name, What: words.F("%s, rod to lever", k.Name), Number: words.F("%.0f deg", at), Where: place(l, r),
				Sentence: words.F("%s: rod to lever %.0f deg, %s; common practice 40 to 140.", k.Name, at, place(l, r)),
				Pair:     -1, Value: math.Abs(at - straightLever/2)}.at(l, r))
		}
		f.swing(k, e)
	}
}

// swing: a lever that turns further than its shaft lets it.
func (f *finder) swing(k *motion.Sensor, e *SensorExtent) {
	if !e.Turn.Known() {
		return
	}
	over := func(at, limit, l, r float64, way string) {
		f.add(Finding{Kind: RunsOut, Key: "sensor swing/" + k.Name + "/" + way, What: words.F("%s, lever", k.Name), Number: words.F("%.0f of %.0f deg", math.Abs(at), math.Abs(limit)), Where: place(l, r),
			Sentence: words.F("%s: its lever turns %.0f deg, %s; its shaft has %.0f that way.", k.Name, math.Abs(at), place(l, r), math.Abs(limit)),
			Pair:     -1, Value: math.Abs(at), weight: 71}.at(l, r))
	}
	if lo := deg(k.SwingLo); deg(e.Turn.Min) < lo {
		over(deg(e.Turn.Min), lo, e.Turn.MinLeft, e.Turn.MinRight, "-")
	}
	if hi := deg(k.SwingHi); deg(e.Turn.Max) > hi {
		over(deg(e.Turn.Max), hi, e.Turn.MaxLeft, e.Turn.MaxRight, "+")
	}
}
