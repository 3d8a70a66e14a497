package study

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
)

// Next is a guess, a coordinate or a part in the way, and how much hangs on it: by how much a move by its +- changes the tightest gap and two
// figures at ride height. Of the move there and the move back the larger change counts: the tightest gap is the least of many and may grow neither
// way. NaN where it cannot be told.
type Next struct {
	edit.Guess
	Off       float64 // mm: its +-
	Gap       float64 // mm, of the least gap to spare (gap less the gap wanted) over the range, of all pairs not set aside
	RollSteer float64 // %, at the largest load's ride height
	AntiSquat float64 // %, the same
	Own       float64 // mm, the least gap to spare over the range of the pairs it takes part in itself; NaN where it takes part in none
}

// The changes that count alike when the order is made: our choice, by what would be noticed.
const (
	gapScale       = 5.0  // mm
	rollSteerScale = 1.0  // %
	antiSquatScale = 10.0 // %
)

// weight is how much hangs on a guess: the largest of its three changes by their scales; -1 where nothing can be told.
func (n *Next) weight() float64 {
	most := -1.0
	for _, v := range [3]float64{n.Gap / gapScale, n.RollSteer / rollSteerScale, n.AntiSquat / antiSquatScale} {
		if v > most { // never of NaN
			most = v
		}
	}
	return most
}

// Next lists what nobody has measured, what moves most first; of those that move nothing, what stands tightest itself. It is kept. nil where it was given up or
// nothing can be worked out. Safe for concurrent use; it takes some tenths of a second.
//
// Each guess is moved by its +- and back (a part in the way along each axis), and the axle is looked at where this study found its pairs tightest and
// at places all round the range, every one as far on its way to the range's edge as it stood here, the range found anew.
func (s *Study) Next(ctx context.Context) []Next {
	s.nextMu.Lock()
	defer s.nextMu.Unlock()
	if s.nextKept != nil || s.Mech == nil {
		return s.nextKept
	}
	list := s.next(ctx)
	if ctx.Err() != nil {
		return nil
	}
	s.nextKept = list
	return list
}

const (
	nextTight = 24 // pairs whose tightest places are looked at
	nextWays  = 16 // directions round the range
)

// placeOn is a place in the range: a direction of travel, and how far on the way to the edge.
type placeOn struct{ left, right, way float64 }

// sample is what a guess may change.
type sample struct{ gap, rollSteer, antiSquat float64 }

func (s *Study) next(ctx context.Context) []Next {
	guesses := edit.Measured(s.Job).Guesses
	out := make([]Next, len(guesses))
	look := s.weigher()
	base := look.at(s)
	work := func(i int) {
		g := guesses[i]
		n := Next{Guess: g, Off: g.Off(s.Job), Gap: math.NaN(), RollSteer: math.NaN(), AntiSquat: math.NaN(), Own: s.own(g.Part)}
		axes := []edit.Axis{edit.X, edit.Y, edit.Z}
		if g.IsPivot {
			axes = []edit.Axis{g.Axis}
		}
		for _, a := range axes {
			for _, by := range [2]float64{n.Off, -n.Off} {
				j := s.Job.Clone()
				if ctx.Err() != nil || g.Shift(j, a, by) != nil {
					continue
				}
				moved := look.at(look.compile(j))
				n.Gap = more(n.Gap, base.gap, moved.gap)
				n.RollSteer = more(n.RollSteer, base.rollSteer, moved.rollSteer)
				n.AntiSquat = more(n.AntiSquat, base.antiSquat, moved.antiSquat)
			}
		}
		out[i] = n
	}
	limits.Spread(s.cores(), len(guesses), func() func(int) { return work })
	slices.SortStableFunc(out, func(a, b Next) int {
		if a.seen() || b.seen() {
			return cmp.Compare(b.weight(), a.weight())
		}
		return cmp.Compare(tightness(a.Own), tightness(b.Own))
	})
	return out
}

// tightness puts what has no gap of its own last.
func tightness(own float64) float64 {
	if math.IsNaN(own) {
		return math.Inf(1)
	}
	return own
}

// own is the least gap to spare of the pairs an entry of the job takes part in; NaN where there are none.
func (s *Study) own(e edit.Part) float64 {
	least := math.NaN()
	for i := range s.Smallest {
		p := &s.Gaps.Pairs[i]
		if !slices.Contains(entries(&s.Gaps.Parts[p.A]), e) && !slices.Contains(entries(&s.Gaps.Parts[p.B]), e) {
			continue
		}
		if d := s.Smallest[i].Gap.Gap - p.Required; !(d >= least) {
			least = d
		}
	}
	return least
}

// seen reports whether it moves anything by enough to be worded.
func (n *Next) seen() bool {
	return n.Gap >= seenGap || n.RollSteer >= seenRollSteer || n.AntiSquat >= seenAntiSquat
}

// more is the larger of a change so far and the one from a to b; what is NaN does not count.
func more(so, a, b float64) float64 {
	if d := math.Abs(b - a); !(d <= so) && !math.IsNaN(d) {
		return d
	}
	return so
}

// weigher looks at jobs that differ from its study's by the place of one thing.
type weigher struct {
	s      *Study
	places []placeOn
	aside  map[string]bool // pairs set aside
}

// weigher chooses the places: where the tightest pairs are tightest, round the range at its edge and half way there, and ride height.
func (s *Study) weigher() *weigher {
	k := &weigher{s: s, places: []placeOn{{0, 0, 0}}, aside: map[string]bool{}}
	for i := range s.Findings {
		if f := &s.Findings[i]; f.SetAside != nil && f.Pair >= 0 {
			k.aside[f.Key] = true
		}
	}
	if !s.Bounded() {
		return k
	}
	for n, i := range s.Order() {
		if n == nextTight {
			break
		}
		g := &s.Smallest[i]
		far := math.Hypot(g.Left, g.Right)
		if far < rideTol {
			continue
		}
		l, r, _ := s.edgeOn(g.Left, g.Right)
		k.places = append(k.places, placeOn{g.Left / far, g.Right / far, math.Min(1, far/math.Hypot(l, r))})
	}
	for i := range nextWays {
		sn, cs := math.Sincos(2 * math.Pi * float64(i) / nextWays)
		k.places = append(k.places, placeOn{cs, sn, 0.5}, placeOn{cs, sn, 1})
	}
	return k
}

// compile is a job's mechanism and, where the study has a range, its own.
func (k *weigher) compile(j *job.Job) *Study {
	s := Compile(j)
	if s.Mech != nil && k.s.Bounded() {
		s.before, s.workers = []*Study{k.s}, 1
		s.findRange()
		s.before = nil
	}
	return s
}

// at looks at a study's job.
func (k *weigher) at(s *Study) sample {
	out := sample{math.NaN(), math.NaN(), math.NaN()}
	if s.Mech == nil {
		return out
	}
	load := k.s.Laden()
	if load < len(s.Loads) {
		heave := s.Loads[load].Heave
		if p := s.At(heave, heave); p.Err == "" {
			out.rollSteer = p.Values[load].RollSteerPct
			if s.Loads[load].Has {
				out.antiSquat = p.Values[load].AntiSquatPct
			}
		}
	}
	if s.Gaps == nil || k.s.Bounded() && !s.Bounded() {
		return out
	}
	counts := s.Gaps.Only(func(p *clearance.Pair) bool {
		return !k.aside["gap/"+s.Gaps.Parts[p.A].Name+"/"+s.Gaps.Parts[p.B].Name]
	})
	if len(counts.Pairs) == 0 {
		return out
	}
	least := math.Inf(1)
	sc := counts.NewScratch()
	solver := s.solvers.Get().(*motion.Solver)
	defer s.solvers.Put(solver)
	var p motion.Pose
	var rates motion.Rates
	var g clearance.Gap
	for _, at := range k.places {
		l, r := 0.0, 0.0
		if at.way > 0 {
			l, r, _ = s.edgeOn(at.left, at.right)
			l, r = at.way*l, at.way*r
		}
		if solver.Solve(l, r, &p) != nil || solver.Rates(&p, &rates) != nil {
			continue
		}
		sc.Place(&p, s.values(&p, &rates)[0].Links)
		for i := range counts.Pairs {
			sc.Gap(i, &g)
			least = math.Min(least, g.Gap-counts.Pairs[i].Required)
		}
	}
	if !math.IsInf(least, 0) {
		out.gap = least
	}
	return out
}

// NextMoves says what hangs on a guess, lengths in the study's unit: "20 mm moves the tightest gap by 8 mm, roll steer by 1.2 %". What moves by less than
// can be seen is left out.
func (s *Study) NextMoves(n *Next) string {
	w := s.wording()
	var list []string
	if n.Gap >= seenGap {
		list = append(list, words.F("the tightest gap by %s", w.length(n.Gap)))
	}
	if n.RollSteer >= seenRollSteer {
		list = append(list, words.F("roll steer by %.1f %%", n.RollSteer))
	}
	if n.AntiSquat >= seenAntiSquat {
		list = append(list, words.F("anti-squat by %.0f %%", n.AntiSquat))
	}
	off := w.length(n.Off)
	switch {
	case n.weight() < 0:
		return words.T("what hangs on it cannot be worked out here")
	case len(list) == 0 && n.Own < n.Off:
		return words.F("%s moves neither the tightest gap nor roll steer, but its own gap is nearer than that", off)
	case len(list) == 0:
		return words.F("%s moves neither the tightest gap nor roll steer", off)
	}
	return words.F("%s moves %s", off, strings.Join(list, ", "))
}

// The least changes that are worded.
const (
	seenGap       = 0.5  // mm
	seenRollSteer = 0.05 // %
	seenAntiSquat = 0.5  // %
)
