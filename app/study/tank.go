package study

import (
	"context"
	"fmt"
	"math"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/vessel"

	"gonum.org/v1/gonum/spatial/r3"
)

// OnlyMoving says what a keep-out is of.
const OnlyMoving = "Only moving parts are counted: keep fixed ones, such as an exhaust, at their own gap from it."

// TankCaution stands on every tank page.
const TankCaution = "Plan a physical stop or guard. Never cut or weld a tank that has held fuel before a specialist has made it gas-free."

// MostTilt of a tank either way, deg: beyond, a depth on a dip stick means nothing.
const MostTilt = 45.0

// Tank is what the moving parts take of a tank over the range, and what clears them. Read-only once made.
type Tank struct {
	Vessel *vessel.Vessel
	Keep   *vessel.KeepOut
	Cuts   []vessel.Cut   // that take the keep-out whole, those that lose least first
	Apart  [][]vessel.Cut // the same for each separate place of it
	Plan   []vessel.Cut   // what is best cut
	Pairs  []int          // of Gaps.Pairs that the tank is in, tightest first

	s      *Study
	part   int
	sweep  *clearance.Sweep
	margin *float64 // mm, instead of the gap wanted of each pair
}

// Tanks are the vessels of the job, twins each for itself.
func (s *Study) Tanks() []*job.Envelope {
	var out []*job.Envelope
	if s.Parts == nil {
		return nil
	}
	for i := range s.Parts.Job.Envelopes {
		if e := &s.Parts.Job.Envelopes[i]; e.Vessel {
			out = append(out, e)
		}
	}
	return out
}

// Tank works out what is taken of a vessel. looked tells now and then how many places were looked at; it may be nil. The error is the context's, or a plain sentence.
func (s *Study) Tank(ctx context.Context, e *job.Envelope, how vessel.Fine, looked func(int)) (*Tank, error) {
	if s.Mech == nil {
		return nil, fmt.Errorf("%s", s.Refusal)
	}
	if !s.Bounded() || s.Gaps == nil {
		return nil, fmt.Errorf("%s", s.RangeNote)
	}
	t := &Tank{s: s, part: -1, margin: how.Margin}
	var err error
	if t.Vessel, err = vessel.New(e); err != nil {
		return nil, fmt.Errorf("%s: %w.", e.Name, err)
	}
	for i := range s.Gaps.Parts {
		if s.Gaps.Parts[i].Name == e.Name && s.Gaps.Parts[i].Kind == clearance.EnvelopePart {
			t.part = i
		}
	}
	for _, i := range s.Order() {
		if p := &s.Gaps.Pairs[i]; p.A == t.part || p.B == t.part {
			t.Pairs = append(t.Pairs, i)
		}
	}
	over, _, err := s.cover(ctx)
	if err != nil {
		return nil, err
	}
	t.sweep = vessel.Movers(s.Gaps, t.part, over, s.Range.Holds(), s.tried)
	for i := range t.sweep.Swept {
		t.sweep.Swept[i].Margin = t.within(t.sweep.Swept[i].Margin)
	}
	if t.Vessel.Why != "" {
		t.Keep = &vessel.KeepOut{} // what cannot be told of it; its gaps stand
		return t, nil
	}
	if t.Keep, err = t.Vessel.KeepOut(ctx, t.sweep, how, looked); err != nil {
		return nil, err
	}
	t.Cuts, t.Apart, t.Plan = t.Vessel.Cuts(t.Keep), t.Vessel.Apart(t.Keep), t.Vessel.Plan(t.Keep)
	return t, nil
}

// within is the margin that counts where a gap is wanted.
func (t *Tank) within(wanted float64) float64 {
	if t.margin != nil {
		return *t.margin
	}
	return wanted
}

// triedAcross is how many positions across the range stand for what cannot be proved.
const triedAcross = 41

// tried are positions of the range.
func (s *Study) tried() []motion.Pose {
	lo, hi := s.Range.Box()
	solver := s.Mech.NewSolver()
	lefts, rights := steps(lo.Left, hi.Left, triedAcross), steps(lo.Right, hi.Right, triedAcross)
	var list []motion.Pose
	for _, left := range lefts {
		s.Range.Row(solver, left, rights, func(_ int, in bool, p *motion.Pose) {
			if in {
				list = append(list, *p)
			}
		})
	}
	for _, edge := range s.Range.Edge {
		var p motion.Pose
		if solver.Solve(edge.Left, edge.Right, &p) == nil {
			list = append(list, p)
		}
	}
	return append(list, s.Mech.Ride())
}

// SectionStep is the grid of a section through a keep-out, mm.
const SectionStep = 5.0

// Section is a section through the keep-out, within the tank. axis 0 X, 1 Y, 2 Z; at in mm.
func (t *Tank) Section(ctx context.Context, axis int, at float64) (*vessel.Section, error) {
	return t.Vessel.Section(ctx, t.sweep, axis, at, SectionStep)
}

// Worst is the place of the tank its nearest mover comes nearest to over the range; ok is false where nothing comes nearer than the gap wanted.
func (t *Tank) Worst() (at r3.Vec, ok bool) {
	if len(t.Pairs) == 0 || t.Keep.Most == 0 {
		return at, false
	}
	i := t.Pairs[0]
	g := &t.s.Smallest[i].Gap
	at = g.PointA
	if t.s.Gaps.Pairs[i].B == t.part {
		at = g.PointB
	}
	lo, hi := t.Vessel.Bounds()
	in := func(v, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, v)) }
	return r3.Vec{X: in(at.X, lo.X, hi.X), Y: in(at.Y, lo.Y, hi.Y), Z: in(at.Z, lo.Z, hi.Z)}, true
}

// GrossWords say what the tank holds, or why that is not known.
func (t *Tank) GrossWords() string {
	if t.Vessel.Why != "" {
		return words.F("%s: its litres are not known, nor what a cut would cost: %s. Its gaps stand.", t.Vessel.Name, t.Vessel.Why)
	}
	return words.F("%s: %s gross, from its outside shape.", t.Vessel.Name, Volume(t.Vessel.Litres))
}

// Volume words litres with both gallons, each named.
func Volume(litres float64) string {
	return words.F("%s L (%s US gal, %s imperial gal)", Litres(litres), Litres(litres/vessel.USGallon), Litres(litres/vessel.ImperialGallon))
}

// Litres writes a volume to a tenth, without its unit.
func Litres(v float64) string {
	text := fmt.Sprintf("%.1f", v)
	if strings.Trim(text, "-0.") == "" {
		return "0.0"
	}
	return text
}

// Nearest are the pairs of the tank that come nearer than the gap wanted, tightest first.
func (t *Tank) Nearest() []int {
	var out []int
	for _, i := range t.Pairs {
		if t.s.Smallest[i].Gap.Gap < t.within(t.s.Gaps.Pairs[i].Required) {
			out = append(out, i)
		}
	}
	return out
}

// NearWords say what comes near in a pair, how near, what is wanted and where. length writes mm with their unit.
func (t *Tank) NearWords(pair int, length func(mm float64) string) string {
	g := &t.s.Smallest[pair]
	a, other := t.s.PairNames(pair)
	if a == t.Vessel.Name {
		a = other
	}
	what := words.F("comes within %s", length(g.Gap.Gap))
	if g.Gap.Gap < 0 {
		what = words.F("hits by %s", length(-g.Gap.Gap))
	}
	return words.F("%s %s (%s wanted) at %s.", a, what, length(t.within(t.s.Gaps.Pairs[pair].Required)), t.s.Travels(g.Left, g.Right))
}

// TakenWords say what the keep-out takes and how that is known. The gap is master: litres are no measure of a touch, and where something touches that is said.
func (t *Tank) TakenWords() []string {
	if t.Vessel.Why != "" {
		return nil
	}
	wanted, round := words.T("the gap wanted"), words.T("of the gap wanted")
	if t.margin != nil {
		wanted = fmt.Sprintf("%g mm", *t.margin)
		round = words.F("of %s", wanted)
	}
	how := words.F("proved over the whole range%s, between positions too", t.s.restWords(t.Keep.Last))
	if !t.Keep.Proved {
		how = words.T("at the positions tried")
	}
	if t.Keep.Most == 0 {
		return []string{words.F("Nothing that moves comes nearer to it than %s, %s.", wanted, how)}
	}
	var by []string
	for _, p := range t.Keep.Parts {
		by = append(by, t.s.Gaps.Parts[p].Name)
	}
	out := []string{words.F("The keep-out %s takes from %.2f to %.2f L of it (%s), %s.",
		round, math.Floor(t.Keep.Least*100)/100, math.Ceil(t.Keep.Most*100)/100, strings.Join(by, ", "), how)}
	if t.touches() {
		out = append(out, words.T("It is the gap that counts, not the litres: what takes 0.0 L can still touch."))
	}
	return out
}

// touches reports whether anything overlaps the tank; the tightest for its wanted gap need not be what does.
func (t *Tank) touches() bool {
	for _, i := range t.Pairs {
		if t.s.Smallest[i].Gap.Gap < 0 {
			return true
		}
	}
	return false
}
