package study

import (
	"context"
	"errors"
	"fmt"
	"math"

	"axleloft/app/words"
	"axleloft/geometry/cell"
	"axleloft/geometry/clearance"
	"axleloft/geometry/limits"
	"axleloft/geometry/measure"
	"axleloft/geometry/swept"

	"gonum.org/v1/gonum/spatial/r3"
)

// The grids of the room a part takes, mm.
const (
	RoomStep      = 2.0  // of a section
	RoomSolidStep = 10.0 // of a solid
	RoomFold      = 0.25 // how far a section's outline may be moved outwards for the sake of fewer corners
)

// Rooms tells what room the moving parts of a job take. Safe to share.
type Rooms struct {
	s   *Study
	m   *swept.Motion
	why string // why nothing is proved between positions, half a sentence; "" where it can be
}

// Rooms works out how everything moves over the range. The error is the context's, or a plain sentence.
func (s *Study) Rooms(ctx context.Context) (*Rooms, error) {
	switch {
	case s.Mech == nil:
		return nil, errors.New(s.Refusal)
	case !s.Bounded() || s.Gaps == nil:
		return nil, errors.New(s.RangeNote)
	}
	over, why, err := s.cover(ctx)
	if err != nil {
		return nil, err
	}
	return &Rooms{s: s, m: swept.Over(s.Gaps, over, s.Range.Holds, s.tried), why: why}, nil
}

// cover is what is known of where the axle stands over the range: what the gaps were proved by, where they were.
func (s *Study) cover(ctx context.Context) (*cell.Cover, string, error) {
	if s.gapWork != nil {
		return s.gapWork.Cover(ctx)
	}
	return limits.Cover(ctx, s.Mech, s.Range)
}

// Movers are the parts that move, by index into Gaps.Parts.
func (s *Study) Movers() []int {
	var out []int
	if s.Gaps == nil {
		return nil
	}
	for i := range s.Gaps.Parts {
		if s.Gaps.Parts[i].Body != clearance.OnFrame {
			out = append(out, i)
		}
	}
	return out
}

// Room is a moving part, how far round it is counted, and what was cut of the room it takes.
type Room struct {
	*swept.Mover
	Name     string
	Sections []*swept.Section
	Why      string // why nothing is proved between positions; "" where it is

	s *Study
}

// Of is the room part i of Gaps takes with a margin, mm.
func (r *Rooms) Of(i int, margin float64) *Room {
	out := &Room{Mover: r.m.Mover(i, margin), Name: r.s.Gaps.Parts[i].Name, s: r.s}
	if out.Why = r.why; !out.Proved && out.Why == "" {
		out.Why = words.T("no bound is known on how it moves")
		if r.s.Gaps.FromFile(i) {
			out.Why = words.T("nothing is proved of where a surface from a file goes between them")
		}
	}
	return out
}

// Middle is the part's middle at ride height, mm.
func (r *Room) Middle() [3]float64 {
	ride := r.s.Mech.Ride()
	p := r.Mover.Middle(&ride)
	return [3]float64{p.X, p.Y, p.Z}
}

// Section cuts the room at a station, 0 X, 1 Y, 2 Z, and adds it.
func (r *Room) Section(ctx context.Context, axis int, at, step float64, looked func(done, all int)) error {
	c, err := r.Cut(ctx, axis, at, RoomFold, swept.Fine{Step: step, Workers: r.s.cores(), Looked: looked})
	if err == nil {
		r.Sections = append(r.Sections, c)
	}
	return err
}

// Whole is the room as a solid.
func (r *Room) Whole(ctx context.Context, step float64, looked func(done, all int)) (*swept.Solid, error) {
	return r.Solid(ctx, swept.Fine{Step: step, Workers: r.s.cores(), Looked: looked})
}

// Title says what is round what: "Panhard rod and 25 mm round it". length writes mm with their unit.
func (r *Room) Title(length func(mm float64) string) string {
	if r.Margin == 0 {
		return r.Name
	}
	return words.F("%s and %s round it", r.Name, length(r.Margin))
}

// Head is what a file of the solid begins with.
func (r *Room) Head() string {
	return words.F("Axleloft: %s; mm, X forward, Y left, Z up", measure.ASCII(r.Title(func(mm float64) string { return fmt.Sprintf("%g mm", mm) })))
}

// HowWords say how the room is known.
func (r *Room) HowWords() string {
	if r.Proved {
		return words.F("It comes nowhere outside, proved over the whole travel%s, between positions too.", r.s.restWords(r.Last))
	}
	return words.F("At the positions tried: %s.", r.Why)
}

// LargerWords say how much larger it is drawn than the room truly taken. length writes mm with their unit.
func (r *Room) LargerWords(mm float64, length func(mm float64) string) string {
	than := words.T("the room truly taken")
	if !r.Proved {
		than = words.T("the room taken at those positions")
	}
	if math.IsInf(mm, 1) {
		return words.F("how much larger than %s is not known", than)
	}
	return words.F("at most %s larger than %s", length(mm), than)
}

// SectionBox is a box round all loops of a section, mm; ok is false where there are none.
func SectionBox(c *swept.Section) (lo, hi r3.Vec, ok bool) {
	for i, l := range c.Loops {
		for k, p := range l {
			if i == 0 && k == 0 {
				lo, hi = p, p
				continue
			}
			lo = r3.Vec{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y), Z: math.Min(lo.Z, p.Z)}
			hi = r3.Vec{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y), Z: math.Max(hi.Z, p.Z)}
		}
	}
	return lo, hi, len(c.Loops) > 0
}
