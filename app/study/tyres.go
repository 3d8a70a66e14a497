package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/quantity"
)

// TyreSize is what a tyre has more than the job's, mm: the next size up, or chains on it. Less is negative.
type TyreSize struct{ Radius, Width float64 }

// The sizes that are tried, mm.
const (
	TyreRadiusLeast, TyreRadiusMost = -150.0, 400.0
	TyreWidthLeast, TyreWidthMost   = -150.0, 300.0
)

// TyreTrial is what another tyre on this axle changes. It moves the ground, and the front wheels' too where they travel with this axle; never the axle or a pivot.
type TyreTrial struct {
	Size        TyreSize
	Free, Width float64    // of the tyre with it, mm
	Pairs       []TyrePair // of the tyres, tightest with it first
	Loads       []TyreLoad
	Room        TyreRoom
}

// TyrePair is a tyre against another part, over the whole range.
type TyrePair struct {
	A, B      string
	Required  float64
	Was, With limits.Proved
}

// Hits reports whether the two overlap with the other tyre.
func (p *TyrePair) Hits() bool { return p.With.Gap.Gap < 0 }

// Tight reports whether the gap wanted is not kept with the other tyre, though nothing overlaps.
func (p *TyrePair) Tight() bool { return !p.Hits() && p.With.Gap.Gap < p.Required }

// FarApart is from which gap on a pair is not looked at more closely, mm.
const FarApart = farGap

// Far reports whether the pair is only known to be further apart than is of interest: more than its proved figure.
func (p *TyrePair) Far() bool {
	return p.With.Why == "" && p.With.NotLess >= farGap && p.With.Gap.Gap-p.With.NotLess > fullWithin+1e-6
}

// TyreLoad is what changes of a load, at ride height with the travel the load causes. NaN where there is no figure.
type TyreLoad struct {
	Name      string
	Was, With TyreFigures
}

// TyreFigures are the figures that depend on where the ground is.
type TyreFigures struct {
	CGHeight, AntiSquat, AntiLift, RollCentre float64 // mm, %, %, mm
}

// TyreRoom is how much larger in radius the tyre may be at its present width with every gap wanted kept, as far as was found at the positions tried.
type TyreRoom struct {
	Radius  float64 // mm; negative where it must be smaller; NaN where no size tried keeps the gaps
	More    bool    // the largest size tried keeps them
	A, B    string  // the pair that is tightest there
	NotLess float64 // what that pair's gap is proved to be nowhere less than there, mm; NaN where nothing is proved
}

// sizedJob is the job with another tyre in its drawing; the axle stays.
func (s *Study) sizedJob(size TyreSize) *job.Job {
	j := s.Job.Clone()
	t := j.Vehicle.Tyre
	free, width := t.Free()+size.Radius, *t.Width+size.Width
	t.FreeRadius, t.Width = &free, &width
	return j
}

// sized is the model of the tyres' pairs with another tyre.
func (s *Study) sized(size TyreSize) (*clearance.Model, error) {
	c, err := clearance.Compile(s.sizedJob(size), s.Mech)
	if err != nil {
		return nil, err
	}
	return tyrePairs(c), nil
}

func tyrePairs(c *clearance.Model) *clearance.Model {
	return c.Only(func(p *clearance.Pair) bool {
		return c.Parts[p.A].Kind == clearance.TyrePart || c.Parts[p.B].Kind == clearance.TyrePart
	})
}

// Tyres works out what another tyre changes. The error is a plain sentence: what is missing, or a size that makes no tyre. A cancelled context gives its error.
func (s *Study) Tyres(ctx context.Context, size TyreSize) (*TyreTrial, error) {
	if s.Mech == nil {
		return nil, fmt.Errorf("%s", s.Refusal)
	}
	if !s.Bounded() || s.Gaps == nil {
		return nil, fmt.Errorf("%s", s.RangeNote)
	}
	t := s.Job.Vehicle.Tyre
	if t.Width == nil {
		return nil, words.Errorf("The tyre has no width, so it is not drawn. Give its width; till then nothing can be told of another size.")
	}
	out := &TyreTrial{Size: size, Free: t.Free() + size.Radius, Width: *t.Width + size.Width}
	loaded := math.Inf(1)
	for i := range s.Loads {
		loaded = math.Min(loaded, s.Loads[i].Radius+size.Radius)
	}
	switch {
	case !(out.Width > 0 && loaded > 0):
		return nil, words.Errorf("A tyre that much smaller has no size left: its width would be %s and its radius %s. Ask for less.", s.Length(out.Width), s.Length(loaded))
	case out.Width > s.Mech.Track:
		return nil, words.Errorf("A tyre %s wide does not fit a track of %s: the tyres would overlap. Ask for less.", s.Length(out.Width), s.Length(s.Mech.Track))
	}
	was := tyrePairs(s.Gaps)
	with, err := s.sized(size)
	if err != nil {
		return nil, err
	}
	before, err := s.tyreGaps(ctx, was)
	if err != nil {
		return nil, err
	}
	after, err := s.tyreGaps(ctx, with)
	if err != nil {
		return nil, err
	}
	for i := range with.Pairs {
		p := &with.Pairs[i]
		out.Pairs = append(out.Pairs, TyrePair{with.Parts[p.A].Name, with.Parts[p.B].Name, p.Required, before[i], after[i]})
	}
	slices.SortStableFunc(out.Pairs, func(a, b TyrePair) int {
		switch x, y := a.With.Gap.Gap-a.Required, b.With.Gap.Gap-b.Required; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	s.tyreLoads(out)
	out.Room, err = s.tyreRoom(ctx)
	return out, err
}

// tyreGaps are the smallest gaps of a model's pairs over the range, proved where that can be.
func (s *Study) tyreGaps(ctx context.Context, c *clearance.Model) ([]limits.Proved, error) {
	work, err := limits.GapsFrom(ctx, s.Mech, c, s.Range, clearance.Closeness{Width: fullWithin, Far: farGap, Most: proofMost}, limits.Search{Grid: fullGrid, Refine: true, Workers: s.cores()}, []*limits.GapWork{s.gapWork})
	if err != nil {
		return nil, err
	}
	return work.Pairs, nil
}

// tyreLoads compares the loads.
func (s *Study) tyreLoads(out *TyreTrial) {
	other := Compile(s.Job)
	for i := range other.Loads {
		other.Loads[i].Radius += out.Size.Radius
	}
	figures := func(k *Study, load int) TyreFigures {
		nan := math.NaN()
		f := TyreFigures{nan, nan, nan, nan}
		heave := k.Loads[load].Heave
		p := k.At(heave, heave)
		if p.Err != "" {
			return f
		}
		v := &p.Values[load]
		f.AntiSquat, f.AntiLift, f.RollCentre = v.AntiSquatPct, v.AntiLiftPct, v.RollCentre
		if l := &k.Loads[load]; l.Has {
			g := quantity.GroundOf(k.Mech, &p.Pose, l)
			f.CGHeight = g.Height(l.CG)
		}
		return f
	}
	for i := range s.Loads {
		out.Loads = append(out.Loads, TyreLoad{s.Loads[i].Name, figures(s, i), figures(other, i)})
	}
}

const (
	roomGrid  = 21   // positions each way that are looked at for each size
	roomClose = 0.05 // mm
)

// tyreRoom halves the span of sizes till the largest that keeps every gap wanted is known to roomClose: a tyre that is larger nowhere has more room.
func (s *Study) tyreRoom(ctx context.Context) (TyreRoom, error) {
	spare := func(extra float64) (least float64, a, b string, err error) {
		c, err := s.sized(TyreSize{Radius: extra})
		if err != nil {
			return 0, "", "", err
		}
		found, err := limits.Smallest(ctx, s.Mech, c, s.Range, limits.Search{Grid: roomGrid, Refine: true, Workers: s.cores()})
		if err != nil {
			return 0, "", "", err
		}
		least = math.Inf(1)
		for i := range found {
			if v := found[i].Gap.Gap - c.Pairs[i].Required; v < least {
				least, a, b = v, c.Parts[c.Pairs[i].A].Name, c.Parts[c.Pairs[i].B].Name
			}
		}
		return least, a, b, nil
	}
	none := TyreRoom{Radius: math.NaN(), NotLess: math.NaN()}
	t := s.Job.Vehicle.Tyre
	lo, hi := math.Max(TyreRadiusLeast, t.Rounding()-t.Free()+1), TyreRadiusMost
	first, a, b, err := spare(0)
	if err != nil {
		return none, err
	}
	if first >= 0 {
		lo = 0
	} else {
		hi = 0
	}
	least, loA, loB, err := spare(lo)
	if err != nil {
		return none, err
	}
	if least < 0 {
		none.A, none.B = loA, loB
		return none, nil
	}
	if hi > 0 {
		if least, a, b, err = spare(hi); err != nil {
			return none, err
		}
		if least >= 0 {
			return TyreRoom{Radius: hi, More: true, A: a, B: b, NotLess: math.NaN()}, nil
		}
	}
	for hi-lo > roomClose {
		mid := (lo + hi) / 2
		least, a, b, err := spare(mid)
		if err != nil {
			return none, err
		}
		if least >= 0 {
			lo, loA, loB = mid, a, b
		} else {
			hi = mid
		}
	}
	room := TyreRoom{Radius: lo, A: loA, B: loB, NotLess: math.NaN()}
	c, err := s.sized(TyreSize{Radius: lo})
	if err != nil {
		return none, err
	}
	c = c.Only(func(p *clearance.Pair) bool { return c.Parts[p.A].Name == loA && c.Parts[p.B].Name == loB })
	proved, err := s.tyreGaps(ctx, c)
	if err == nil && len(proved) == 1 && proved[0].Why == "" {
		room.NotLess = proved[0].NotLess
	}
	return room, err
}
