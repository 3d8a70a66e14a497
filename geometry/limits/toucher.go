package limits

import (
	"context"
	"math"

	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
)

// toucher finds where pairs first touch along a ray, each for itself; it belongs to one goroutine.
type toucher struct {
	m      *motion.Mechanism
	c      *clearance.Model
	solver *motion.Solver
	place  *clearance.Scratch
	pairs  []approach
	poses  [closeSteps]motion.Pose // of the parts of the step at hand
	have   [closeSteps]bool
	p      motion.Pose
}

// closeSteps is how many parts a step has for a pair within nearGap.
const closeSteps = int(ringStep / closeStep)

// approach is a pair on its way along a ray.
type approach struct {
	gap        float64 // as last measured
	seen, next float64 // distances along the ray: where that was, and where to measure again
	done       bool
}

func newToucher(m *motion.Mechanism, c *clearance.Model) *toucher {
	return &toucher{m: m, c: c, solver: m.NewSolver(), place: c.NewScratch(), pairs: make([]approach, len(c.Pairs))}
}

func (t *toucher) gap(i int, p *motion.Pose) float64 {
	t.place.PlacePair(i, p)
	var g clearance.Gap
	t.place.Gap(i, &g)
	return g.Gap
}

// along finds where every pair that is not skipped first touches, to edgeTol, at the steps of a ray: NaN where it does not, or where it overlaps at ride height already. What is found of a pair does
// not depend on the others.
func (t *toucher) along(ctx context.Context, deg float64, steps []float64, skip []bool, dst []float64) {
	dl, dr := direction(deg * math.Pi / 180)
	last := t.m.Ride()
	for i := range t.pairs {
		if skip[i] {
			continue
		}
		dst[i] = math.NaN()
		v := t.gap(i, &last)
		t.pairs[i] = approach{gap: v, next: closeFar(v), done: v < 0}
	}
	for n := 1; n < len(steps) && ctx.Err() == nil; n++ {
		from, to := steps[n-1], steps[n]
		t.have = [closeSteps]bool{}
		if !t.part(&last, from, to, closeSteps-1, dl, dr) {
			return
		}
		for i := range t.pairs {
			k := &t.pairs[i]
			if skip[i] || k.done || k.next > to {
				continue
			}
			first := closeSteps - 1
			if k.gap < nearGap {
				first = 0
			}
			for part := first; part < closeSteps && !k.done; part++ {
				s := partOf(from, to, part)
				if k.next > s || !t.part(&last, from, to, part, dl, dr) {
					continue
				}
				v := t.gap(i, &t.poses[part])
				if v < 0 {
					dst[i], k.done = t.cross(&last, i, dl, dr, k.seen, s), true
					break
				}
				k.gap, k.seen, k.next = v, s, s+closeFar(v)
			}
		}
		last = t.poses[closeSteps-1]
	}
}

// closeFar is how much further along the ray a pair with a gap need not be measured.
func closeFar(gap float64) float64 { return math.Max(0, gap-nearGap) / gapSpeed }

// partOf is how far along the ray the end of a part of a step lies.
func partOf(from, to float64, part int) float64 {
	if part == closeSteps-1 {
		return to
	}
	return from + float64(part+1)/float64(closeSteps)*(to-from)
}

// part solves the end of a part of a step, unless that has been done.
func (t *toucher) part(last *motion.Pose, from, to float64, part int, dl, dr float64) bool {
	if !t.have[part] {
		s := partOf(from, to, part)
		t.have[part] = t.solver.SolveFrom(last, s*dl, s*dr, &t.poses[part]) == nil
	}
	return t.have[part]
}

// cross finds where a pair touches between two places of a ray, by halving after false position, to edgeTol. from is a pose between them, or near.
func (t *toucher) cross(from *motion.Pose, i int, dl, dr, lo, hi float64) float64 {
	flo, fhi := math.NaN(), math.NaN()
	at := func(s float64) (float64, bool) {
		if t.solver.SolveFrom(from, s*dl, s*dr, &t.p) != nil {
			return 0, false
		}
		return t.gap(i, &t.p), true
	}
	var ok bool
	if flo, ok = at(lo); !ok {
		return lo
	}
	if fhi, ok = at(hi); !ok {
		return lo
	}
	for k := 0; hi-lo > edgeTol/2 && k < 100; k++ {
		x := (lo*fhi - hi*flo) / (fhi - flo)
		if k%3 == 2 || !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		v, ok := at(x)
		switch {
		case !ok:
			hi = x
		case v < 0:
			hi, fhi = x, v
			flo /= 2
		default:
			if lo, flo = x, v; v == 0 {
				return x
			}
			fhi /= 2
		}
	}
	return lo
}
