package study

import (
	"context"
	"errors"
	"math"
	"slices"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// PlaceState is what would come of a pivot at a place: best first.
type PlaceState uint8

// The states. Of pairs the pivot's own member takes part in all that is wanted counts; of every other pair only what would be worse than it is now.
const (
	PlaceFree    PlaceState = iota // every gap wanted is kept over the whole travel
	PlaceTight                     // nothing touches, but nearer than wanted
	PlaceRunsOut                   // a joint, the driveshaft or a line past its limit, or travel lost
	PlaceHits
	PlaceNot // it cannot stand there: the axle would not be held, or the job refuses it
	placeStates
)

// PlaceStates is how many states there are.
const PlaceStates = int(placeStates)

// String is the state in a word or two, as views, legends and files have it.
func (s PlaceState) String() string {
	switch s {
	case PlaceFree:
		return words.T("free")
	case PlaceTight:
		return words.T("tight")
	case PlaceRunsOut:
		return words.T("runs out")
	case PlaceHits:
		return words.T("hits")
	}
	return words.T("cannot be")
}

// Place is what would come of a pivot at one place.
type Place struct {
	State       PlaceState
	A, B        string  // the two parts of the pair that says so; "" where none does
	Gap         float64 // mm, of that pair
	Wanted      float64 // mm, of that pair
	Left, Right float64 // where that is
	Why         string  // what runs out, or why it cannot be, half a sentence
	Proved      bool    // between positions too; else at the positions tried
	looked      bool    // between positions too, proved or not
	hit, want   float64 // mm: how far the nearest pair of all is from a hit, and from less than wanted; infinite where none is near
}

const (
	placeRays   = 16   // of a place's range
	placeGrid   = 5    // positions along each side of the box round it
	placeOver   = 45.0 // mm beyond the gap wanted within which a pair is followed
	placeWorse  = 1.0  // mm by which another pair's gap must shrink to count
	placeLess   = 5.0  // mm of travel that must be lost to count
	placeBeyond = 0.01 // of a limit by which what is past it already must get worse to count
)

// places tells what comes of one pivot at any place. Safe for concurrent use.
type places struct {
	s      *Study
	pivot  edit.Pivot
	from   *job.Job // the pivot freed, nothing kept
	own    map[edit.Part]bool
	least  map[string]float64 // by pair: smallest gap now
	aside  map[string]bool
	wrong  map[string]bool // complaints of the job as it stands
	reach  [8]float64      // how far the travel goes in eight directions, mm
	beyond []strain
}

// places readies the search; the error is a plain sentence.
func (s *Study) places(p edit.Pivot) (*places, error) {
	switch {
	case s.Mech == nil:
		return nil, errors.New(s.Refusal)
	case !s.Bounded():
		return nil, errors.New(s.RangeNote)
	case s.Gaps == nil || len(s.Smallest) != len(s.Gaps.Pairs):
		return nil, words.Error("There are no gaps yet to keep to.")
	}
	if _, ok := edit.At(s.Job, p); !ok {
		return nil, words.Error("That pivot is no longer in the job. Take another one.")
	}
	k := &places{s: s, pivot: p, from: s.Job.Clone(), own: map[edit.Part]bool{}, least: map[string]float64{}, aside: map[string]bool{}, wrong: map[string]bool{}}
	k.from.Keep, k.from.Trials = nil, nil
	if err := edit.SetMeasured(k.from, p, false); err != nil {
		return nil, err
	}
	k.own[edit.Part{List: p.List, Index: p.Index}] = true
	if p.List == edit.Output || p.List == edit.Bearing || p.List == edit.Pinion {
		k.own[edit.Part{List: edit.Driveline}] = true
	}
	for i := range s.Smallest {
		k.least[s.pairKey(i)] = s.Smallest[i].Gap.Gap
	}
	for i := range s.Findings {
		if f := &s.Findings[i]; f.SetAside != nil && f.Pair >= 0 {
			k.aside[s.pairKey(f.Pair)] = true
		}
	}
	for _, c := range job.Check(k.from) {
		k.wrong[c.Place+c.Text] = true
	}
	k.reach = reaches(s.Range, s.Mech)
	k.beyond = s.strains(&s.Extents)
	return k, nil
}

// pairKey is a pair by its parts' names.
func (s *Study) pairKey(i int) string {
	p := &s.Gaps.Pairs[i]
	return s.Gaps.Parts[p.A].Name + "/" + s.Gaps.Parts[p.B].Name
}

// reaches is how far the range goes in eight directions of left against right travel, mm.
func reaches(r *limits.Range, m *motion.Mechanism) (out [8]float64) {
	for i := range out {
		sn, cs := math.Sincos(math.Pi / 4 * float64(i))
		far := motion.CrossedMost * m.Track * 0.99
		if d := math.Abs(cs - sn); d > 1e-9 {
			far = math.Min(far, motion.CrossedMost*m.Track*0.99/d)
		}
		l, rr, _ := r.Clamp(far*cs, far*sn)
		out[i] = math.Hypot(l, rr)
	}
	return out
}

// rough tells what comes of the pivot at a place, body axes at ride height, mm, at the positions tried: what touches or runs out there does so, what is free may yet come nearer between
// them. The error is the context's.
func (k *places) rough(ctx context.Context, to r3.Vec) (Place, error) { return k.at(ctx, to, false) }

// exact is rough with what is free or tight looked at between positions too: proved to be so, or as the proof found it to be.
func (k *places) exact(ctx context.Context, to r3.Vec) (Place, error) { return k.at(ctx, to, true) }

func (k *places) at(ctx context.Context, to r3.Vec, exact bool) (Place, error) {
	out := Place{hit: math.Inf(1), want: math.Inf(1)}
	s, why := k.study(to)
	if why != "" {
		out.State, out.Why = PlaceNot, why
		return out, nil
	}
	look, floors := s.newLooker(), k.floors(s)
	near, err := limits.Nearer(ctx, s.Mech, s.Gaps, s.Range, floors, placeOver, placeGrid, look.look)
	if err != nil {
		return out, err
	}
	pair, margin := -1, math.Inf(1)
	for i := range near {
		g, wanted, zero := near[i].Gap.Gap, floors[i].Wanted, floors[i].Zero
		if math.IsInf(g, 1) {
			continue
		}
		out.hit, out.want = math.Min(out.hit, g-zero), math.Min(out.want, g-wanted)
		state, m := PlaceFree, g-wanted
		switch {
		case g < zero:
			state, m = PlaceHits, g-zero
		case g < wanted:
			state = PlaceTight
		}
		if state > out.State || state == out.State && m < margin {
			out.State, pair, margin = state, i, m
		}
	}
	if pair >= 0 {
		out.say(s, pair, near[pair].Gap.Gap, near[pair].Left, near[pair].Right)
	}
	if out.State < PlaceRunsOut {
		if why := k.runsOut(s, look.x); why != "" {
			out.State, out.Why, out.A, out.B = PlaceRunsOut, why, "", ""
		}
	}
	if exact && out.State < PlaceRunsOut {
		out.looked = true
		err = out.prove(ctx, s, floors)
	}
	return out, err
}

// say names the pair that makes a place what it is.
func (p *Place) say(s *Study, pair int, gap, left, right float64) {
	p.A, p.B = s.PairNames(pair)
	p.Gap, p.Wanted, p.Left, p.Right = gap, s.Gaps.Pairs[pair].Required, left, right
}

// prove looks between positions too: first whether every gap wanted is kept, else whether nothing touches.
func (p *Place) prove(ctx context.Context, s *Study, wanted []limits.Floor) error {
	floors := slices.Clone(wanted)
	for {
		if p.State == PlaceTight {
			for i := range floors {
				if !math.IsNaN(floors[i].Wanted) {
					floors[i].Wanted = floors[i].Zero
				}
			}
		}
		ok, pair, found, err := limits.Keeps(ctx, s.Mech, s.Gaps, s.Range, floors)
		if err != nil {
			return err
		}
		p.Proved = ok
		if pair < 0 || found.Found >= floors[pair].Wanted {
			return nil
		}
		p.say(s, pair, found.Found, found.Left, found.Right)
		p.want, p.hit = math.Min(p.want, found.Found-wanted[pair].Wanted), math.Min(p.hit, found.Found-wanted[pair].Zero)
		if p.State == PlaceTight || found.Found < wanted[pair].Zero {
			p.State = PlaceHits
			return nil
		}
		p.State = PlaceTight
	}
}

// study is the job with the pivot at a place, compiled, with its range; why it cannot be is half a sentence.
func (k *places) study(to r3.Vec) (s *Study, why string) {
	j := k.from.Clone()
	if err := edit.Move(j, k.pivot, to); err != nil {
		return nil, clause(err.Error())
	}
	for _, c := range job.Check(j) {
		if !k.wrong[c.Place+c.Text] {
			return nil, clause(c.Text)
		}
	}
	s = Compile(j)
	if s.Mech == nil {
		return nil, clause(s.Refusal)
	}
	if s.Gaps == nil {
		return nil, clause(s.RangeNote)
	}
	r, err := limits.FindWith(s.Mech, placeRays, 1)
	if err != nil {
		return nil, clause(sentence(err))
	}
	if !r.Bounded {
		return nil, words.T("nothing bounds the travel")
	}
	s.Range = r
	return s, ""
}

// clause is a sentence without what ends it.
func clause(sentence string) string {
	for len(sentence) > 0 && sentence[len(sentence)-1] == '.' {
		sentence = sentence[:len(sentence)-1]
	}
	return sentence
}

// mine reports whether a part is of the member the pivot belongs to.
func (k *places) mine(p *clearance.Part) bool {
	for _, e := range entries(p) {
		if k.own[e] {
			return true
		}
	}
	return false
}

// floors are what the pairs of a changed job are to keep.
func (k *places) floors(s *Study) []limits.Floor {
	out := make([]limits.Floor, len(s.Gaps.Pairs))
	for i := range out {
		p := &s.Gaps.Pairs[i]
		key := s.pairKey(i)
		out[i] = limits.Floor{Wanted: p.Required}
		if k.aside[key] {
			out[i].Wanted = math.NaN()
			continue
		}
		if k.mine(&s.Gaps.Parts[p.A]) || k.mine(&s.Gaps.Parts[p.B]) {
			continue
		}
		if now, known := k.least[key]; known {
			out[i] = limits.Floor{Wanted: math.Min(p.Required, now-placeWorse), Zero: math.Min(0, now-placeWorse)}
		}
	}
	return out
}

// strain is how much of a limit is used over the range: past it from 1.
type strain struct {
	used float64
	own  edit.Part // the entry it belongs to; List Vehicle where none
	what func() string
}

// strains are the uses of joints, driveshaft, struts' ends, stops' faces and lines over the range, in fixed order.
func (s *Study) strains(x *Extents) []strain {
	m := s.Mech
	none, shaft := edit.Part{List: edit.Vehicle}, edit.Part{List: edit.Driveline}
	var out []strain
	add := func(e *Extent, limit float64, own edit.Part, what func() string) {
		used := math.NaN()
		if e.Known() && limit > 0 {
			used = e.Max / limit
		}
		out = append(out, strain{used, own, what})
	}
	for i := range m.Joints {
		j := &m.Joints[i]
		own := none
		switch j.Of {
		case motion.OnLink:
			own = edit.Part{List: edit.Links, Index: s.Parts.Links[j.Member].Index}
		case motion.OnArm:
			own = edit.Part{List: edit.Arms, Index: s.Parts.Arms[j.Member].Index}
		case motion.OnRocker:
			own = edit.Part{List: edit.Rockers, Index: s.Parts.Rockers[j.Member].Index}
		}
		add(&x.Joints[i], 1, own, func() string { return words.F("%s is past its limit", j.Name) })
	}
	d := &m.Drive
	if d.Has {
		bends := deg(d.JointLimit)
		for n, e := range [3]*Extent{&x.ShaftFront, &x.ShaftBearing, &x.ShaftRear} {
			add(e, bends, shaft, func() string {
				return words.F("the driveshaft's %s joint is past its limit", [3]string{"front", words.T("centre bearing"), "rear"}[n])
			})
		}
		in := x.Slip
		in.Max = -x.Slip.Min
		add(&in, d.SlipIn, shaft, func() string { return words.T("the driveshaft's slip is used up inwards") })
		add(&x.Slip, d.SlipOut, shaft, func() string { return words.T("the driveshaft's slip is used up outwards") })
	}
	for i := range m.Struts {
		add(&x.Tilt[i], m.Struts[i].Tilt, edit.Part{List: edit.Struts, Index: m.Struts[i].Ref.Index}, func() string { return words.F("%s tilts past its limit", m.Struts[i].Name) })
	}
	for i := range m.Stops {
		add(&x.Stops[i], m.Stops[i].Face, edit.Part{List: edit.Stops, Index: m.Stops[i].Ref.Index}, func() string { return words.F("%s lands beyond its face", m.Stops[i].Name) })
	}
	for i := range m.Lines {
		add(&x.Lines[i], m.Lines[i].Length, edit.Part{List: edit.Lines, Index: m.Lines[i].Ref.Index}, func() string { return words.F("%s is too short", m.Lines[i].Name) })
	}
	return out
}

// directions of the travel, as reaches has them.
var reachWords = [8]string{words.Mark("left wheel up alone"), words.Mark("both wheels up"), words.Mark("right wheel up alone"), words.Mark("crossed up, right wheel up"), words.Mark("left wheel down alone"), words.Mark("both wheels down"), words.Mark("right wheel down alone"), words.Mark("crossed up, left wheel up")}

// runsOut tells what runs out that does not now, or of the pivot's own member; "" where nothing does.
func (k *places) runsOut(s *Study, x *Extents) string {
	list := s.strains(x)
	for i := range list {
		u := &list[i]
		if !(u.used >= 1) {
			continue
		}
		if k.own[u.own] || i >= len(k.beyond) || !(k.beyond[i].used >= 1) || u.used > k.beyond[i].used+placeBeyond {
			return u.what()
		}
	}
	now := reaches(s.Range, s.Mech)
	for i := range now {
		if now[i] < k.reach[i]-placeLess {
			return words.F("%s it goes %s of %s only", words.T(reachWords[i]), k.s.wording().number(now[i]/reachShare[i]), k.s.wording().length(k.reach[i]/reachShare[i]))
		}
	}
	return ""
}

// reachShare is the length of a direction in left and right travel for 1 mm of the wheel that goes furthest.
var reachShare = [8]float64{1, math.Sqrt2, 1, math.Sqrt2, 1, math.Sqrt2, 1, math.Sqrt2}

// PlaceWords says what would come of a pivot at a place, in the job's unit: "hits: Panhard rod / tank shelf, 12 mm in, both wheels up".
func (s *Study) PlaceWords(p *Place) string {
	w := s.wording()
	pair := func() string { return p.A + " / " + Lower(p.B) }
	switch {
	case p.State == PlaceHits:
		return words.F("hits: %s, %s%s, %s", pair(), w.length(-p.Gap), w.in(), place(p.Left, p.Right))
	case p.State == PlaceTight:
		return words.F("tight: %s, %s of %s wanted, %s", pair(), w.number(p.Gap), w.length(p.Wanted), place(p.Left, p.Right))
	case p.State >= PlaceRunsOut:
		return p.State.String() + ": " + p.Why
	case p.A != "" && p.Gap < p.Wanted: // a pair it takes no part in, no worse than it is
		return words.F("free; no worse than now: %s, %s", pair(), w.length(p.Gap))
	case p.A != "":
		return words.F("free; next %s, %s", pair(), w.length(p.Gap))
	}
	return p.State.String()
}
