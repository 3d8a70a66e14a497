package pad

import (
	"context"
	"math"
	"sort"

	"axleloft/app/study"
	"axleloft/geometry/clearance"
	"axleloft/geometry/limits"
)

// Rays and steps of the look over the range: positions from ride to the edge along every ray of the outline.
const steps = 12

// place is a position of the axle, mm of wheel travel.
type place struct{ left, right float64 }

func (p place) angle() float64 { return math.Atan2(p.right, p.left) }

// outline is the range's edge as a closed line by rising angle, its crossed-up corners included.
func outline(s *study.Study) []place {
	if !s.Bounded() {
		return nil
	}
	edge := make([]place, 0, len(s.Range.Edge)+2)
	for i := range s.Range.Edge {
		edge = append(edge, place{s.Range.Edge[i].Left, s.Range.Edge[i].Right})
	}
	if c := s.Range.LeftUp; c != nil {
		edge = append(edge, place{c.Left, c.Right})
	}
	if c := s.Range.RightUp; c != nil {
		edge = append(edge, place{c.Left, c.Right})
	}
	sort.SliceStable(edge, func(i, k int) bool { return edge[i].angle() < edge[k].angle() })
	out := edge[:0]
	for i, e := range edge {
		if i > 0 && math.Abs(e.angle()-out[len(out)-1].angle()) < 1e-6 {
			continue
		}
		out = append(out, e)
	}
	return out
}

// poorly is the smallest singular value under which the axle is poorly held.
const poorly = 0.10

// spot is what was found at one position: the smallest gap, the smallest of gap less gap wanted, and whose they are; the same of those pairs of which no region is proved.
type spot struct {
	gap, slack         float64
	tryGap, trySlack   float64
	held               float64 // the smallest singular value, a lower bound of it where it is not near the threshold
	gapPair, slackPair int
	reached            bool
}

// region is the range looked over: along every ray of the outline, steps+1 spots from ride to the edge; and of the worst pairs where they touch and where they are nearer than wanted, proved.
type region struct {
	edge   []place
	spots  [][]spot
	touch  []*limits.Region
	tight  []*limits.Region
	begins [][]place // where the former begin
}

// mostProved is how many pairs' regions are proved of either kind; the others are looked at at the spots.
const mostProved = 6

// lookOver measures the gaps of the study over its range. Pairs put aside are left out; one that overlaps at ride height already covers
// the whole patch, as it should. A cancelled context gives nil.
func lookOver(ctx context.Context, s *study.Study, edge []place) *region {
	if len(edge) < 3 {
		return nil
	}
	aside := map[int]bool{}
	for i := range s.Findings {
		if f := &s.Findings[i]; f.SetAside != nil && f.Pair >= 0 {
			aside[f.Pair] = true
		}
	}
	r := &region{edge: edge, spots: make([][]spot, len(edge))}
	touches, tights := r.prove(ctx, s, aside)
	ride := lookAt(s, place{}, aside, touches, tights)
	for i, e := range edge {
		r.spots[i] = make([]spot, steps+1)
		r.spots[i][0] = ride
		for k := 1; k <= steps; k++ {
			if ctx.Err() != nil {
				return nil
			}
			f := float64(k) / steps
			r.spots[i][k] = lookAt(s, place{e.left * f, e.right * f}, aside, touches, tights)
			if !r.spots[i][k].reached { // the very edge can lie a hair outside
				r.spots[i][k] = r.spots[i][k-1]
			}
		}
	}
	return r
}

// prove proves the regions of the worst pairs and tells which those are.
func (r *region) prove(ctx context.Context, s *study.Study, aside map[int]bool) (touches, tights map[int]bool) {
	touches, tights = map[int]bool{}, map[int]bool{}
	for _, i := range s.Order() {
		g, wanted := &s.Smallest[i], s.Gaps.Pairs[i].Required
		if g.NotLess >= wanted || g.Why != "" || g.AtRide < 0 || aside[i] {
			continue
		}
		if g.NotLess < 0 && len(touches) < mostProved {
			if k := s.RegionOf(ctx, i, 0); k != nil && k.Why == "" {
				touches[i], r.touch = true, append(r.touch, k)
				for _, loop := range k.Loops {
					r.begins = append(r.begins, offEdge(r.edge, loop)...)
				}
			}
		}
		if len(tights) < mostProved {
			if k := s.RegionOf(ctx, i, wanted); k != nil && k.Why == "" {
				tights[i], r.tight = true, append(r.tight, k)
			}
		}
	}
	return touches, tights
}

// marked tells of a position whether parts touch there and whether some are nearer than wanted, or the axle is poorly held.
func (r *region) marked(left, right float64) (hits, tight bool) {
	s, ok := r.at(left, right)
	if !ok {
		return false, false
	}
	below := func(list []*limits.Region) bool {
		for _, k := range list {
			if k.At(left, right) >= clearance.NearUnder {
				return true
			}
		}
		return false
	}
	return s.tryGap < 0 || below(r.touch), s.trySlack < 0 || s.held < poorly || below(r.tight)
}

// lookAt measures a position; of the pairs in touches and tights it is known where they touch and where they are nearer than wanted.
func lookAt(s *study.Study, at place, aside, touches, tights map[int]bool) spot {
	out := spot{gap: math.Inf(1), slack: math.Inf(1), tryGap: math.Inf(1), trySlack: math.Inf(1), held: math.Inf(1), gapPair: -1, slackPair: -1}
	pos := s.At(at.left, at.right)
	if pos.Err != "" {
		return out
	}
	out.reached, out.held = true, pos.Pose.Held
	if out.held < poorly && s.Mech.PoorlyHeldAt(&pos.Pose) == "" {
		out.held = poorly
	}
	for i := range pos.Gaps {
		if aside[i] {
			continue
		}
		d := pos.Gaps[i].Gap
		if d < out.gap {
			out.gap, out.gapPair = d, i
		}
		if !touches[i] {
			out.tryGap = math.Min(out.tryGap, d)
		}
		if !tights[i] {
			out.trySlack = math.Min(out.trySlack, d-s.Gaps.Pairs[i].Required)
		}
		if d -= s.Gaps.Pairs[i].Required; d < out.slack {
			out.slack, out.slackPair = d, i
		}
	}
	return out
}

// locate finds the two neighbours on the outline between which a position lies, how far out it lies (1: on the outline), and how far from
// the first toward the second.
func locate(edge []place, left, right float64) (lo, hi int, t, side float64, ok bool) {
	n := len(edge)
	if n < 3 {
		return 0, 0, 0, 0, false
	}
	a := math.Atan2(right, left)
	hi = sort.Search(n, func(i int) bool { return edge[i].angle() > a }) % n
	lo = (hi + n - 1) % n
	e, f := edge[lo], edge[hi]
	det := e.left*f.right - e.right*f.left
	if math.Abs(det) < 1e-9 {
		return 0, 0, 0, 0, false
	}
	x := (left*f.right - right*f.left) / det
	y := (e.left*right - e.right*left) / det
	t = x + y
	if t > 0 {
		side = y / t
	}
	return lo, hi, t, side, true
}

// edgeOn is where the outline lies in a direction from ride.
func edgeOn(edge []place, d place) place {
	if _, _, t, _, ok := locate(edge, d.left, d.right); ok && t > 0 {
		return place{d.left / t, d.right / t}
	}
	return place{}
}

// at interpolates what was found, at a position; ok is false outside the outline.
func (r *region) at(left, right float64) (s spot, ok bool) {
	lo, hi, t, side, ok := locate(r.edge, left, right)
	if !ok || t > 1 || t < 0 {
		return spot{}, false
	}
	k := math.Min(math.Floor(t*steps), steps-1)
	u := t*steps - k
	i := int(k)
	a0, a1, b0, b1 := &r.spots[lo][i], &r.spots[lo][i+1], &r.spots[hi][i], &r.spots[hi][i+1]
	w0, w1, w2, w3 := (1-u)*(1-side), u*(1-side), (1-u)*side, u*side
	mix := func(a, b, c, d float64) float64 {
		if v := w0*a + w1*b + w2*c + w3*d; !math.IsNaN(v) {
			return v
		}
		return math.Inf(1) // nothing is tested, or not reached
	}
	s.gap = mix(a0.gap, a1.gap, b0.gap, b1.gap)
	s.slack = mix(a0.slack, a1.slack, b0.slack, b1.slack)
	s.tryGap = mix(a0.tryGap, a1.tryGap, b0.tryGap, b1.tryGap)
	s.trySlack = mix(a0.trySlack, a1.trySlack, b0.trySlack, b1.trySlack)
	s.held = mix(a0.held, a1.held, b0.held, b1.held)
	return s, true
}

// worst finds the pair that shows most: of hits if there are any, else of tight ones; and a position in the middle of where it shows.
func (r *region) worst() (pair int, hit bool, at place, ok bool) {
	for _, hit := range []bool{true, false} {
		count := map[int]int{}
		sum := map[int]place{}
		each := func(f func(p place, s *spot)) {
			for i, e := range r.edge {
				for k := range r.spots[i] {
					t := float64(k) / steps
					f(place{e.left * t, e.right * t}, &r.spots[i][k])
				}
			}
		}
		key := func(s *spot) (int, bool) {
			if hit {
				return s.gapPair, s.gap < 0
			}
			return s.slackPair, s.slack < 0
		}
		each(func(p place, s *spot) {
			if i, in := key(s); in {
				count[i]++
				c := sum[i]
				sum[i] = place{c.left + p.left, c.right + p.right}
			}
		})
		best := -1
		for i, n := range count {
			if best < 0 || n > count[best] || n == count[best] && i < best {
				best = i
			}
		}
		if best < 0 {
			continue
		}
		mid := place{sum[best].left / float64(count[best]), sum[best].right / float64(count[best])}
		near := math.Inf(1)
		each(func(p place, s *spot) {
			if i, in := key(s); in && i == best {
				if d := math.Hypot(p.left-mid.left, p.right-mid.right); d < near {
					near, at = d, p
				}
			}
		})
		return best, hit, at, true
	}
	return -1, false, place{}, false
}

// loose is a position in the middle of where the axle is poorly held.
func (r *region) loose() (at place, ok bool) {
	var sum place
	n := 0.0
	each := func(f func(p place)) {
		for i, e := range r.edge {
			for k := range r.spots[i] {
				if t := float64(k) / steps; r.spots[i][k].held < poorly {
					f(place{e.left * t, e.right * t})
				}
			}
		}
	}
	each(func(p place) { sum, n = place{sum.left + p.left, sum.right + p.right}, n+1 })
	if n == 0 {
		return place{}, false
	}
	near := math.Inf(1)
	each(func(p place) {
		if d := math.Hypot(p.left-sum.left/n, p.right-sum.right/n); d < near {
			near, at = d, p
		}
	})
	return at, true
}

// touchLine is where parts first touch of which no region is proved: short lines between positions, found on the grid of rays and steps.
func (r *region) touchLine() [][2]place {
	var out [][2]place
	n := len(r.edge)
	point := func(i, k int) (place, float64) {
		t := float64(k) / steps
		return place{r.edge[i].left * t, r.edge[i].right * t}, r.spots[i][k].tryGap
	}
	for i := range n {
		next := (i + 1) % n
		for k := range steps {
			p0, g0 := point(i, k)
			p1, g1 := point(next, k)
			p2, g2 := point(next, k+1)
			p3, g3 := point(i, k+1)
			pts := [4]place{p0, p1, p2, p3}
			gs := [4]float64{g0, g1, g2, g3}
			var cross []place
			for c := range 4 {
				d := (c + 1) % 4
				if (gs[c] < 0) == (gs[d] < 0) || math.IsInf(gs[c], 0) || math.IsInf(gs[d], 0) {
					continue
				}
				t := gs[c] / (gs[c] - gs[d])
				cross = append(cross, place{
					pts[c].left + t*(pts[d].left-pts[c].left),
					pts[c].right + t*(pts[d].right-pts[c].right),
				})
			}
			for c := 0; c+1 < len(cross); c += 2 {
				out = append(out, [2]place{cross[c], cross[c+1]})
			}
		}
	}
	return out
}
