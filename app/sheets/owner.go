package sheets

import (
	"context"
	"fmt"
	"math"
	"strings"

	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/geometry/measure"
	"axleloft/geometry/vessel"
	"axleloft/plotting/sheet"
)

// owner is one page for the one whose vehicle it is: the axle up and down, what it means in three sentences, what changed, and what a tank loses.
func owner(ctx context.Context, in *Input) ([]sheet.Block, error) {
	s := in.Study
	if !s.Bounded() {
		return nil, fmt.Errorf("there is no sheet for the owner till the travel is bounded: %s", s.RangeNote)
	}
	up, down := s.At(s.Range.Bump, s.Range.Bump), s.At(-s.Range.Droop, -s.Range.Droop)
	tanks, bars, err := in.ownerTanks(ctx)
	if err != nil {
		return nil, err
	}
	changed, before, now := in.ownerChanges()
	list := append(changed, bars...)
	tall := 262.0 // of each of the two pictures, units: one page holds them with what else there is
	if len(list) > 2 {
		tall -= 25 * float64(len(list)-2)
	}
	tall = max(tall, 150)
	size := view.Size{W: 820, H: 820 * tall / 680}
	var figures []sheet.Figure
	if in.Before != nil && in.Before.Mech != nil {
		ride := s.At(0, 0)
		pencil := []view.Pencil{{Study: in.Before, Words: in.Against, Axle: true}}
		figures = []sheet.Figure{in.view(view.Side, ride, pencil, size, -1, "From the right. Black: as planned. Grey, long dashes with two dots: "+in.Against+"."),
			in.view(view.Plan, ride, pencil, size, -1, "The same from above, nose to the right.")}
	} else {
		pencil := []view.Pencil{{Study: s, At: down, Words: "all the way down", Axle: true}}
		figures = []sheet.Figure{in.view(view.Side, up, pencil, size, -1, "From the right, both wheels all the way up; grey, long dashes with two dots: all the way down."),
			in.view(view.Rear, up, pencil, size, -1, "The same from behind.")}
	}
	out := []sheet.Block{sheet.Figures{Tall: tall, Figures: figures[:1]}, sheet.Figures{Tall: tall, Figures: figures[1:]}, sheet.Heading{Words: "What it means"}, sheet.Para{Words: in.ownerRoom()}, sheet.Para{Words: in.ownerRoad()}, sheet.Para{Words: tanks}}
	if len(list) > 0 {
		title := "What changes"
		if len(changed) == 0 {
			title = "What the tank keeps"
		}
		out = append(out, sheet.Heading{Words: title}, sheet.Bars{Before: before, Now: now, List: list})
	}
	if j := s.Job; j.Card != nil && j.Card.Complaint != "" {
		out = append(out, sheet.Para{Lead: "What you came in with:", Words: j.Card.Complaint})
	}
	out = append(out, sheet.Para{Small: true, Words: "Worked out from what was measured on the vehicle; nothing here is a promise of how it will drive. Only what was drawn was looked at."})
	return out, nil
}

// plainly is a part's name as it stands within a sentence, the side it is on first: "the left strut" of "Strut left".
func plainly(name string) string {
	for _, side := range []string{"left", "right"} {
		if whole, ok := strings.CutSuffix(name, " "+side); ok {
			return "the " + side + " " + study.Lower(whole)
		}
	}
	return "the " + study.Lower(name)
}

// ownerRoom is the sentence about room: how far the axle moves and what is in its way.
func (in *Input) ownerRoom() string {
	s := in.Study
	words := fmt.Sprintf("The axle can go %s up and %s down from where it stands.", in.length(s.Range.Bump), in.length(s.Range.Droop))
	touching, aside := -1, false
	for _, i := range s.Order() {
		if s.Smallest[i].Gap.Gap >= 0 {
			continue
		}
		if in.aside(i) {
			aside = true
		} else if touching < 0 {
			touching = i
		}
	}
	if touching >= 0 {
		a, b := s.PairNames(touching)
		return words + fmt.Sprintf(" As it is drawn now, %s would hit %s: that must be put right before anything is built.", plainly(a), plainly(b))
	}
	list := s.Order()
	if len(list) == 0 {
		return words
	}
	none := "None of the parts drawn was found to touch another"
	if aside {
		none += " but where that was put aside with a reason"
	}
	i := list[0]
	a, b := s.PairNames(i)
	if bound := s.BoundWords(i); bound != "" && s.Smallest[i].NotLess >= 0 {
		return words + fmt.Sprintf(" %s. The tightest of them all: %s and %s stay at least %s apart all the way.", none, plainly(a), plainly(b), bound)
	}
	return words + fmt.Sprintf(" %s. The tightest of them all: %s and %s, about %s apart, at the positions tried.", none, plainly(a), plainly(b), in.length(s.Smallest[i].Gap.Gap))
}

// aside reports whether a pair's finding has been set aside.
func (in *Input) aside(pair int) bool {
	for i := range in.Study.Findings {
		if f := &in.Study.Findings[i]; f.Pair == pair && f.SetAside != nil {
			return true
		}
	}
	return false
}

// ownerRoad is the sentence about the road: squat and steering, laden, at ride.
func (in *Input) ownerRoad() string {
	s := in.Study
	l := in.laden()
	at := s.At(s.Loads[l].Heave, s.Loads[l].Heave)
	if at.Err != "" {
		return "How it drives cannot be told: " + at.Err
	}
	v := &at.Values[l]
	var out []string
	if s.Loads[l].Has && !math.IsNaN(v.AntiSquatPct) {
		switch a := v.AntiSquatPct; {
		case a < -0.5:
			out = append(out, "Pulling away loaded, the links make the back sink further")
		case a > 100.5:
			out = append(out, "Pulling away loaded, the links lift the back a little")
		default:
			out = append(out, fmt.Sprintf("Pulling away loaded, the links hold up %s of what the back would otherwise sink", share(a/100)))
		}
	}
	if r := v.RollSteerPct; !math.IsNaN(r) {
		out = append(out, "leaning in a bend, the rear axle steers "+steerPlainly(r))
	}
	if len(out) == 0 {
		return "Nothing is known of how it drives till a load is given."
	}
	words := study.Upper(strings.Join(out, "; ")) + "."
	if x := &s.Extents.SideShift; x.Known() {
		most, _, _ := x.Most()
		words += fmt.Sprintf(" Over bumps it moves sideways by up to %s.", in.length(math.Abs(most)))
	}
	return words
}

func steerPlainly(pct float64) string {
	const noticed, slight = 5, 0.5 // %, common practice, no source
	way := "out of the bend"
	if pct < 0 {
		way = "into the bend, the calm way"
	}
	switch a := math.Abs(pct); {
	case a < slight:
		return "hardly at all"
	case a < noticed:
		return "a little " + way + ", less than a driver notices"
	}
	return way + ", enough for the driver to notice"
}

// share is a part of a whole in words.
func share(v float64) string {
	names := []struct {
		at   float64
		name string
	}{{0, "nothing"}, {0.1, "a tenth"}, {0.25, "a quarter"}, {1. / 3, "a third"}, {0.5, "half"}, {2. / 3, "two thirds"}, {0.75, "three quarters"}, {0.9, "nine tenths"}, {1, "all"}}
	best := 0
	for i := range names {
		if math.Abs(names[i].at-v) < math.Abs(names[best].at-v) {
			best = i
		}
	}
	if n := names[best]; math.Abs(n.at-v) < 0.015 {
		return n.name
	}
	return "about " + names[best].name
}

// ownerTanks is the sentence about tanks, and their bars.
func (in *Input) ownerTanks(ctx context.Context) (string, []sheet.Bar, error) {
	list := in.Study.Tanks()
	if len(list) == 0 {
		return "No tank is near the axle.", nil, nil
	}
	var said []string
	var bars []sheet.Bar
	for _, e := range list {
		t, err := in.Study.Tank(ctx, e, vessel.Usual, nil)
		if ctx.Err() != nil {
			return "", nil, ctx.Err()
		}
		if err != nil || t.Vessel.Why != "" {
			said = append(said, "What "+plainly(e.Name)+" holds is not known.")
			continue
		}
		before, lost := t.Vessel.Litres, t.Vessel.Lost(t.Plan)
		if was, ok := in.litresBefore(e.Name); ok {
			before = was
		}
		left := t.Vessel.Litres - lost
		switch {
		case t.Keep.Most == 0 && math.Abs(before-left) < 0.05:
			said = append(said, fmt.Sprintf("%s keeps all its %s litres.", study.Upper(plainly(e.Name)), study.Litres(left)))
			continue
		case t.Keep.Most > 0 && len(t.Plan) == 0:
			said = append(said, fmt.Sprintf("%s cannot stay where it is: no simple cut would clear it.", study.Upper(plainly(e.Name))))
			continue
		case lost > 0:
			said = append(said, fmt.Sprintf("%s would be cut and lose %s of its %s litres.", study.Upper(plainly(e.Name)), study.Litres(before-left), study.Litres(before)))
		default:
			said = append(said, fmt.Sprintf("%s holds %s litres instead of %s.", study.Upper(plainly(e.Name)), study.Litres(left), study.Litres(before)))
		}
		bars = append(bars, sheet.Bar{Name: e.Name + ", litres", Before: before, Now: left, BeforeWords: study.Litres(before) + " L", NowWords: study.Litres(left) + " L"})
	}
	return strings.Join(said, " "), bars, nil
}

// litresBefore is what a tank of that name held in what the job is set against.
func (in *Input) litresBefore(name string) (float64, bool) {
	if in.Before == nil {
		return 0, false
	}
	for _, e := range in.Before.Tanks() {
		if e.Name == name {
			if v, err := vessel.New(e); err == nil && v.Why == "" {
				return v.Litres, true
			}
		}
	}
	return 0, false
}

// ownerChanges are figures before and now: of what the job is set against, or else of what was measured before stripping.
func (in *Input) ownerChanges() (list []sheet.Bar, before, now string) {
	s := in.Study
	l := in.laden()
	add := func(name, good string, was, is float64, show func(float64) string) {
		if math.IsNaN(was) || math.IsNaN(is) {
			return
		}
		list = append(list, sheet.Bar{Name: name, Before: was, Now: is, BeforeWords: show(was), NowWords: show(is), Good: good})
	}
	deg := func(v float64) string { return measure.Signed(fmt.Sprintf("%.1f", v)) + " deg" }
	pct := func(v float64) string { return measure.Signed(fmt.Sprintf("%.1f", v)) + " %" }
	if in.Before != nil && in.Before.Bounded() && len(in.Before.Loads) > l {
		was := in.Before
		add("Axle up and down, in all", "more is better", was.Range.Bump+was.Range.Droop, s.Range.Bump+s.Range.Droop, in.length)
		add("Driveshaft's end turns", "less is better", was.Extents.Pinion.Max-was.Extents.Pinion.Min, s.Extents.Pinion.Max-s.Extents.Pinion.Min, deg)
		a, _, _ := was.Extents.SideShift.Most()
		b, _, _ := s.Extents.SideShift.Most()
		add("Moves sideways by up to", "less is better", math.Abs(a), math.Abs(b), in.length)
		p, q := was.At(was.Loads[l].Heave, was.Loads[l].Heave), s.At(s.Loads[l].Heave, s.Loads[l].Heave)
		if p.Err == "" && q.Err == "" {
			add("Steers itself when it leans", "less is better", math.Abs(p.Values[l].RollSteerPct), math.Abs(q.Values[l].RollSteerPct), pct)
		}
		return list, in.Against, "as planned"
	}
	b := s.Job.Before
	at := s.At(s.Loads[l].Heave, s.Loads[l].Heave)
	if b == nil || at.Err != "" {
		return nil, "now", "after the cut"
	}
	get := func(key string) float64 {
		if v, ok := b.Value(key); ok {
			return v
		}
		return math.NaN()
	}
	v := &at.Values[l]
	add("Driveshaft's joint at the gearbox", "", get("jointFront"), v.ShaftFrontDeg, deg)
	add("Driveshaft's joint at the axle", "", get("jointRear"), v.ShaftRearDeg, deg)
	add("Pinion, nose up", "", get("pinion"), v.PinionGroundDeg, deg)
	if len(list) == 0 {
		return nil, "now", "after the cut"
	}
	name := "measured before stripping"
	if b.Date != "" {
		name += ", " + b.Date
	}
	return list, name, "as planned"
}
