package study

import (
	"context"

	"axleloft/geometry/alike"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
)

// From is what a study is made from besides the job. Its figures depend on Within alone.
type From struct {
	Workers int           // goroutines, 0 for as many as there are cores
	Within  float64       // mm that may lie between the smallest gap found of a pair and the one proved; 0: 5 at depth Live, 0.5 at Full
	Before  []*Study      // earlier ones, of which what has stayed the same is taken over; the first that has it gives it
	Tell    func(float64) // called, from any goroutine, with how much of the work is done, 0 to 1; may be nil
}

// How much of the work of depth Full is done by when, by and large.
const (
	gapsFrom = 0.2
	gapsTo   = 0.75
	ringTo   = 0.95
)

// NewFrom is New that takes over from earlier studies what does not depend on what has changed since: the range and the cells of its proof, sweeps and extents, what stops the axle, and of
// every pair whose two parts and whose axle are as they were the smallest gap and where it touches. To the last bit it is what it would be without them.
func NewFrom(ctx context.Context, j *job.Job, d Depth, from From) *Study {
	s := Compile(j)
	s.Depth, s.workers, s.within, s.tell = d, from.Workers, from.Within, from.Tell
	if s.within == 0 {
		if s.within = fullWithin; d == Live {
			s.within = liveWithin
		}
	}
	for _, o := range from.Before {
		if o != nil && o.Mech != nil {
			s.before = append(s.before, o)
		}
	}
	defer func() { s.before, s.tell = nil, nil }()
	if s.Mech != nil {
		s.travel(ctx)
		s.done(gapsFrom)
		s.gapsOver(ctx)
		s.done(gapsTo)
		if d == Full && s.Bounded() {
			s.ring(ctx)
		}
		s.done(ringTo)
	}
	if ctx.Err() != nil {
		return nil
	}
	s.Findings = s.findings(ctx)
	if ctx.Err() != nil {
		return nil
	}
	return s
}

// done tells how much of the work is done.
func (s *Study) done(share float64) {
	if s.tell != nil {
		s.tell(share)
	}
}

// part is Tell for a part of the work; nil where nobody listens.
func (s *Study) part(from, to float64) func(float64) {
	if s.tell == nil {
		return nil
	}
	return func(share float64) { s.done(from + share*(to-from)) }
}

func (s *Study) ranges() []*limits.Range {
	var list []*limits.Range
	for _, o := range s.before {
		list = append(list, o.Range)
	}
	return list
}

func (s *Study) gapWorks() []*limits.GapWork {
	var list []*limits.GapWork
	for _, o := range s.before {
		list = append(list, o.gapWork)
	}
	return list
}

func (s *Study) ringWorks() []*limits.RingWork {
	var list []*limits.RingWork
	for _, o := range s.before {
		list = append(list, o.ringWork)
	}
	return list
}

// takeSweeps takes over sweeps and extents where axle and loads are as they were.
func (s *Study) takeSweeps() bool {
	for _, o := range s.before {
		if o.Depth == s.Depth && o.Bounded() && s.Mech.Same(o.Mech) && alike.Same(s.Loads, o.Loads) {
			s.Both, s.Crossed, s.Extents = o.Both, o.Crossed, o.Extents
			return true
		}
	}
	return false
}

// takeTouches takes over where pairs touch whose smallest gaps were taken over.
func (s *Study) takeTouches() {
	s.touches, s.regions = map[touchKey]*limits.Touch{}, map[touchKey]*limits.Region{}
	of := make([]map[int]int, len(s.before)) // by study: the pair here by the pair there
	for i := range s.Smallest {
		if n, k, ok := s.gapWork.Took(i); ok {
			if of[n] == nil {
				of[n] = map[int]int{}
			}
			of[n][k] = i
		}
	}
	for n, o := range s.before {
		if of[n] == nil {
			continue
		}
		o.touchMu.Lock()
		for id, t := range o.touches {
			if i, ok := of[n][id.pair]; ok {
				s.touches[touchKey{i, id.level}] = t
			}
		}
		for id, r := range o.regions {
			if i, ok := of[n][id.pair]; ok {
				s.regions[touchKey{i, id.level}] = r
			}
		}
		o.touchMu.Unlock()
	}
}
