package study

import (
	"context"
	"errors"
	"math"
	"runtime"
	"sync"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

const (
	rays       = 96 // of the range's outline
	positions  = 61 // of a sweep
	liveGrid   = 15 // gaps of which nothing is proved, while a hand moves something
	fullGrid   = 41 // the same when it has settled
	liveExtent = 15
	fullExtent = 61

	liveWithin = 5.0   // mm between the gap found and the one proved, while a hand moves something
	fullWithin = 0.5   // the same when it has settled
	farGap     = 150.0 // mm: pairs proved to be further apart than this are not looked at more closely
	proofMost  = 4000  // cells looked at for one pair; the demos' need under 1000
	mostCloser = 10    // times as many where a closer proof is asked for
)

// New works a job out (trial already chosen by job.WithTrial). It never fails: what cannot be had is said in Refusal or RangeNote.
// A cancelled context returns nil.
func New(ctx context.Context, j *job.Job, d Depth) *Study {
	return NewWith(ctx, j, d, runtime.GOMAXPROCS(0))
}

// NewWith is New with the number of goroutines it may use; the figures do not depend on it.
func NewWith(ctx context.Context, j *job.Job, d Depth, workers int) *Study {
	return NewFrom(ctx, j, d, From{Workers: workers})
}

// Limits is New at depth Full without what only gaps over the range and findings need: the range, sweeps, extents and the ring. Without a range it
// has the ring all the same. A cancelled context returns nil.
func Limits(ctx context.Context, j *job.Job, workers int) *Study {
	s := Compile(j)
	s.Depth, s.workers = Full, workers
	if s.Mech != nil {
		s.travel(ctx)
		s.ring(ctx)
	}
	if ctx.Err() != nil {
		return nil
	}
	return s
}

// travel finds the range, and sweeps and looks over it.
func (s *Study) travel(ctx context.Context) {
	s.findRange()
	if ctx.Err() != nil || !s.Bounded() {
		return
	}
	if s.takeSweeps() {
		return
	}
	limits.Spread(s.cores(), 2, func() func(int) {
		return func(i int) {
			if i == 0 {
				s.Both = s.line(-s.Range.Droop, -s.Range.Droop, s.Range.Bump, s.Range.Bump, positions)
				return
			}
			l, r := s.crossedEnds()
			s.Crossed = s.line(l[0], l[1], r[0], r[1], positions)
		}
	})
	extent := liveExtent
	if s.Depth == Full {
		extent = fullExtent
	}
	s.measureExtents(ctx, extent)
}

// gapsOver bounds and finds the smallest gaps over the range. While a hand moves something an axle on radius arms, and one whose links end its travel, is only looked at on a grid, since the cells of
// its proof take longer than a hand waits for.
func (s *Study) gapsOver(ctx context.Context) {
	if ctx.Err() != nil || !s.Bounded() || s.Gaps == nil || len(s.Gaps.Pairs) == 0 {
		return
	}
	how := limits.Search{Grid: liveGrid, Workers: s.cores(), Tell: s.part(gapsFrom, gapsTo)}
	if s.Depth == Full {
		how.Grid, how.Refine = fullGrid, true
	} else if s.slowProof() {
		how.Unproved = words.T(notYet)
	}
	most := int(proofMost * math.Max(1, math.Min(mostCloser, fullWithin/s.within)))
	work, err := limits.GapsFrom(ctx, s.Mech, s.Gaps, s.Range, clearance.Closeness{Width: s.within, Far: farGap, Most: most}, how, s.gapWorks())
	if err != nil {
		if ctx.Err() == nil {
			s.RangeNote = sentence(err)
		}
		return
	}
	s.gapWork, s.Smallest = work, work.Pairs
	s.takeTouches()
}

// slowProof reports whether a proof takes longer than a hand that moves something waits for.
func (s *Study) slowProof() bool {
	for i := range s.Mech.Arms {
		if s.Mech.Arms[i].Radius {
			return true
		}
	}
	return s.linksEnd()
}

// linksEnd reports whether the links end the travel somewhere at the outline of the range.
func (s *Study) linksEnd() bool {
	for i := range s.Range.Edge {
		if s.Range.Edge[i].Cause == limits.NoAssembly {
			return true
		}
	}
	return false
}

// notYet is why a gap is not proved while a hand moves something.
const notYet = "it is worked out when nothing moves"

// ring finds what stops the axle first in every direction.
func (s *Study) ring(ctx context.Context) {
	if ctx.Err() != nil {
		return
	}
	r := s.Range
	if r == nil {
		r = &limits.Range{}
	}
	work, err := limits.RingFrom(ctx, s.Mech, s.Gaps, r, s.cores(), s.ringWorks(), s.part(gapsTo, ringTo))
	if err != nil {
		if ctx.Err() == nil {
			s.RangeNote = sentence(err)
		}
		return
	}
	s.ringWork, s.Ring = work, work.Rays
}

func (s *Study) findRange() {
	r, err := limits.FindFrom(s.Mech, rays, s.cores(), s.ranges()...)
	switch {
	case err != nil:
		s.RangeNote = sentence(err)
	case !r.Bounded:
		s.RangeNote = words.T("Nothing bounds the travel, so there is no range to look over. Give the struts a closed and an open length, or bump stops and straps, or enter bump, droop and articulation.")
	default:
		s.Range = r
	}
}

// Bounded reports whether the job has a range.
func (s *Study) Bounded() bool { return s.Mech != nil && s.Range != nil && s.Range.Bounded }

// crossedEnds are the ends of the line of pure articulation through ride height: right wheel up first, then left wheel up.
func (s *Study) crossedEnds() (right, left [2]float64) {
	big := s.Mech.Track * 0.49
	l, r, _ := s.Range.Clamp(-big, big)
	right = [2]float64{l, r}
	l, r, _ = s.Range.Clamp(big, -big)
	left = [2]float64{l, r}
	return right, left
}

// At works out one position; safe for concurrent use.
func (s *Study) At(left, right float64) *Position {
	p := &Position{}
	if s.Mech == nil {
		p.Err = s.Refusal
		return p
	}
	solver := s.solvers.Get().(*motion.Solver)
	defer s.solvers.Put(solver)
	if err := solver.Solve(left, right, &p.Pose); err != nil {
		p.Err = sentence(err)
		return p
	}
	if err := solver.Rates(&p.Pose, &p.Rates); err != nil {
		p.Err = sentence(err)
		return p
	}
	p.Values = s.values(&p.Pose, &p.Rates)
	if s.Gaps != nil {
		sc := s.Gaps.NewScratch()
		sc.Place(&p.Pose, p.Values[0].Links)
		p.Gaps = make([]clearance.Gap, len(s.Gaps.Pairs))
		for i := range p.Gaps {
			sc.Gap(i, &p.Gaps[i])
		}
	}
	return p
}

// values works out every load's quantities at a pose. What does not depend on the load is worked out once and shared.
func (s *Study) values(p *motion.Pose, r *motion.Rates) []quantity.Values {
	out := make([]quantity.Values, len(s.Loads))
	v := quantity.NewValues(s.Mech)
	quantity.Eval(s.Mech, p, r, &s.Loads[0], v)
	for i := range s.Loads {
		if out[i] = *v; i > 0 {
			quantity.ForLoad(s.Mech, p, r, &s.Loads[i], &out[i])
		}
	}
	return out
}

// line sweeps a straight line of positions between two (left, right), both ends included. It starts from the position of the line
// nearest to ride height and goes outward, so that a line that the links end part-way still gives what they allow.
func (s *Study) line(l0, r0, l1, r1 float64, n int) Sweep {
	poses := make([]motion.Pose, n)
	rates := make([]motion.Rates, n)
	ok := make([]bool, n)
	start, best := 0, math.Inf(1)
	at := func(i int) (l, r float64) {
		f := float64(i) / float64(n-1)
		return l0 + f*(l1-l0), r0 + f*(r1-r0)
	}
	for i := range n {
		l, r := at(i)
		if d := math.Hypot(l, r); d < best {
			start, best = i, d
		}
	}
	var sw Sweep
	solver := s.solvers.Get().(*motion.Solver)
	defer s.solvers.Put(solver)
	for _, dir := range []int{1, -1} {
		var last motion.Pose
		for i, first := start, true; i >= 0 && i < n; i, first = i+dir, false {
			l, r := at(i)
			var err error
			if first {
				err = solver.Solve(l, r, &poses[i])
			} else {
				err = solver.SolveFrom(&last, l, r, &poses[i])
			}
			if err == nil {
				err = solver.Rates(&poses[i], &rates[i])
			}
			if err != nil {
				sw.Note = sentence(err)
				break
			}
			ok[i], last = true, poses[i]
		}
	}
	sw.Values = make([][]quantity.Values, len(s.Loads))
	for i := range n {
		if !ok[i] {
			continue
		}
		sw.Poses = append(sw.Poses, poses[i])
		for k, v := range s.values(&poses[i], &rates[i]) {
			sw.Values[k] = append(sw.Values[k], v)
		}
	}
	return sw
}

// sentence is the plain sentence of an error of the geometry rooms.
func sentence(err error) string {
	var m *motion.Error
	if errors.As(err, &m) {
		return m.Words
	}
	return err.Error()
}

// works is a study's pool of solvers and its memory of what was asked for, kept apart from what it shows.
type works struct {
	workers  int     // goroutines that may be used, 0 for as many as there are cores
	within   float64 // mm that may lie between gaps found and gaps proved
	tell     func(float64)
	before   []*Study         // while it is made
	gapWork  *limits.GapWork  // what Smallest came from; nil where there is none
	ringWork *limits.RingWork // what Ring came from
	solvers  sync.Pool
	mu       sync.Mutex
	curves   map[string][]Curve

	gridMu sync.Mutex
	grids  map[int]*grid
	fields map[string]*Field

	touchMu sync.Mutex
	touches map[touchKey]*limits.Touch
	regions map[touchKey]*limits.Region

	heightsOnce sync.Once
	heightsKept *HeightTable
	homeOnce    sync.Once
	homeKept    []Home

	nextMu   sync.Mutex
	nextKept []Next

	guessOnce sync.Once
	guesses   map[edit.Part][]edit.Guess
}
