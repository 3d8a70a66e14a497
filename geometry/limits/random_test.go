package limits_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shaken calls f with demo jobs whose pivots are moved by up to 60 mm at random; those that do not hold an axle or stand outside a limit at ride
// are passed over.
func shaken(t *testing.T, n int, f func(t *testing.T, m *motion.Mechanism, c *clearance.Model, r *limits.Range, rnd *rand.Rand)) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			rnd := rand.New(rand.NewPCG(1, 1))
			for done, tries := 0, 0; done < n; tries++ {
				require.Less(t, tries, 20*n)
				m, c := edited(t, name, func(j *job.Job) {
					shake(j, rnd)
				})
				r, err := limits.Find(m, 96)
				if err != nil {
					continue
				}
				done++
				f(t, m, c, r, rnd)
			}
		})
	}
}

// shake moves every pivot of the links by up to 60 mm each way.
func shake(j *job.Job, rnd *rand.Rand) {
	for i := range j.Links {
		for k := range 3 {
			j.Links[i].Frame[k] += 120*rnd.Float64() - 60
			j.Links[i].Axle[k] += 120*rnd.Float64() - 60
		}
	}
}

// inLimits tells by the job's own figures whether a position lies within struts, stops and straps.
func inLimits(m *motion.Mechanism, p *motion.Pose) bool {
	for i := range m.Struts {
		if l := m.StrutLength(p, i); l < m.Struts[i].Closed || l > m.Struts[i].Open {
			return false
		}
	}
	for i := range m.Stops {
		if l, _ := m.StopLength(p, i); l < m.Stops[i].Closed {
			return false
		}
	}
	for i := range m.Straps {
		if m.StrapLength(p, i) > m.Straps[i].Open {
			return false
		}
	}
	return true
}

// The outline in any direction is where small steps first leave the limits, and the two corners are the furthest of it.
func TestEdgeBySmallSteps(t *testing.T) {
	shaken(t, 3, func(t *testing.T, m *motion.Mechanism, _ *clearance.Model, r *limits.Range, rnd *rand.Rand) {
		edgeBySmallSteps(t, m, r, rnd)
		cornersAreFurthest(t, r)
	})
}

// With a single upper link of 60 to 150 mm the links end the travel in many directions, and close to there a strut may be overrun and keep again
// within a few millimetres.
func TestEdgeOfShortLinksBySmallSteps(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	for done := 0; done < 12; {
		m, _ := edited(t, "orchard-sprayer", func(j *job.Job) {
			shake(j, rnd)
			upper := &j.Links[1]
			require.False(t, upper.Pair)
			upper.Frame[0] = upper.Axle[0] + 60 + 90*rnd.Float64()
		})
		r, err := limits.Find(m, 96)
		if err == nil {
			edgeBySmallSteps(t, m, r, rnd)
			done++
		}
	}
}

func edgeBySmallSteps(t *testing.T, m *motion.Mechanism, r *limits.Range, rnd *rand.Rand) {
	s := m.NewSolver()
	in := func(x, dl, dr float64) bool {
		var p motion.Pose
		return s.Solve(x*dl, x*dr, &p) == nil && inLimits(m, &p)
	}
	for range 12 {
		dr, dl := math.Sincos(2 * math.Pi * rnd.Float64())
		const step = 2.0 // mm
		x := step
		for in(x, dl, dr) {
			x += step
		}
		lo, hi := x-step, x
		for hi-lo > 1e-7 {
			if mid := (lo + hi) / 2; in(mid, dl, dr) {
				lo = mid
			} else {
				hi = mid
			}
		}
		l, rr, by := r.Clamp(3*hi*dl, 3*hi*dr)
		if math.Abs(3*hi*(dl-dr)) >= m.Track {
			l, rr, by = r.Clamp(1.01*hi*dl, 1.01*hi*dr)
		}
		require.NotNil(t, by)
		want, tol := lo, 2e-6 // mm
		if by.Cause == limits.NoAssembly {
			want, tol = lo-0.25, 0.1 // the range ends 0.25 mm short of the links' end, which is worked out, not gone to
		}
		assert.InDelta(t, want, l*dl+rr*dr, tol, "%s in direction %v, %v", by.What, dl, dr)
		assert.True(t, r.Contains(0.9999*l, 0.9999*rr))
		if r.LeftUp != nil {
			assert.LessOrEqual(t, l-rr, r.LeftUp.Left-r.LeftUp.Right+2e-6)
		}
		if r.RightUp != nil {
			assert.GreaterOrEqual(t, l-rr, r.RightUp.Left-r.RightUp.Right-2e-6)
		}
	}
}

// cornersAreFurthest looks a little to both sides of the corners.
func cornersAreFurthest(t *testing.T, r *limits.Range) {
	for _, k := range []*limits.Corner{r.LeftUp, r.RightUp} {
		require.NotNil(t, k)
		assert.True(t, r.Contains(k.Left, k.Right))
		at, far := math.Atan2(k.Right, k.Left), math.Abs(k.Left-k.Right)
		for _, d := range []float64{-1e-2, -1e-3, -1e-4, -1e-5, 1e-5, 1e-4, 1e-3, 1e-2} { // rad
			dr, dl := math.Sincos(at + d)
			l, rr, _ := r.Clamp(500*dl, 500*dr)
			assert.LessOrEqual(t, math.Abs(l-rr), far+2e-6)
		}
	}
}

// Steps of a tenth of a millimetre find no touch that the ring does not tell, nor one before it.
func TestRingBySmallSteps(t *testing.T) {
	shaken(t, 1, func(t *testing.T, m *motion.Mechanism, c *clearance.Model, r *limits.Range, rnd *rand.Rand) {
		ring, err := limits.Ring(context.Background(), m, c, r, 2)
		require.NoError(t, err)
		s, sc, uses := m.NewSolver(), c.NewScratch(), make([]quantity.LinkUse, len(m.Links))
		var p motion.Pose
		var g clearance.Gap
		measure := func(i int) float64 {
			sc.Gap(i, &g)
			return g.Gap
		}
		place := func(l, rr float64) bool {
			if s.Solve(l, rr, &p) != nil {
				return false
			}
			quantity.Links(m, &p, uses)
			sc.Place(&p, uses)
			return true
		}
		require.True(t, place(0, 0))
		atRide := make([]bool, len(c.Pairs))
		for i := range atRide {
			atRide[i] = measure(i) < 0
		}
		for _, k := range rnd.Perm(24)[:4] {
			ray := ring[k]
			require.NotEmpty(t, ray.By)
			at := make([]float64, len(c.Pairs))
			for i := range at {
				at[i] = math.Inf(1)
			}
			for _, b := range ray.By {
				if b.Cause == limits.Contact {
					at[b.Index] = math.Hypot(b.Left, b.Right)
				}
			}
			first := math.Hypot(ray.Left, ray.Right)
			dr, dl := math.Sincos(ray.Angle * math.Pi / 180)
			for x := 0.0; x < first; x += 0.1 {
				require.True(t, place(x*dl, x*dr))
				for i := range at {
					if !atRide[i] && measure(i) < 0 {
						assert.LessOrEqual(t, at[i], x+1e-6, "%s + %s at %v deg", c.Parts[c.Pairs[i].A].Name, c.Parts[c.Pairs[i].B].Name, ray.Angle)
						atRide[i] = true
					}
				}
			}
			for i := range at {
				if x := at[i]; !math.IsInf(x, 1) {
					require.True(t, place(x*dl, x*dr))
					assert.InDelta(t, 0, measure(i), 1e-4) // mm of gap: 1e-6 mm of travel, and what the gap itself is good to
				}
			}
		}
	})
}

// No position of the range picked at random has a smaller gap than the search found, beyond what a search may miss.
func TestSmallestAgainstRandomPositions(t *testing.T) {
	shaken(t, 1, func(t *testing.T, m *motion.Mechanism, c *clearance.Model, r *limits.Range, rnd *rand.Rand) {
		all, err := limits.Smallest(context.Background(), m, c, r, limits.Search{Grid: 41, Refine: true, Workers: 2})
		require.NoError(t, err)
		s, sc, uses := m.NewSolver(), c.NewScratch(), make([]quantity.LinkUse, len(m.Links))
		var p motion.Pose
		var g clearance.Gap
		worst, name := 0.0, ""
		for range 4000 {
			l, rr := 500*rnd.Float64()-250, 500*rnd.Float64()-250
			if s.Solve(l, rr, &p) != nil || !inLimits(m, &p) {
				continue
			}
			quantity.Links(m, &p, uses)
			sc.Place(&p, uses)
			for i := range c.Pairs {
				if sc.AtLeast(i) > all[i].Gap.Gap {
					continue
				}
				sc.Gap(i, &g)
				if d := all[i].Gap.Gap - g.Gap; d > worst && g.Gap < 150 {
					worst, name = d, c.Parts[c.Pairs[i].A].Name+" + "+c.Parts[c.Pairs[i].B].Name
				}
			}
		}
		t.Logf("largest miss %.4g mm: %s", worst, name)
		assert.Less(t, worst, 0.01, name)
	})
}

// The gap that was found is the gap at the position it is told for, and that position lies in the range.
func TestSmallestIsThere(t *testing.T) {
	shaken(t, 1, func(t *testing.T, m *motion.Mechanism, c *clearance.Model, r *limits.Range, _ *rand.Rand) {
		all, err := limits.Smallest(context.Background(), m, c, r, limits.Search{Grid: 15, Refine: true, Workers: 2})
		require.NoError(t, err)
		s, sc, uses := m.NewSolver(), c.NewScratch(), make([]quantity.LinkUse, len(m.Links))
		for i := range all {
			var p motion.Pose
			var g clearance.Gap
			require.NoError(t, s.Solve(all[i].Left, all[i].Right, &p))
			quantity.Links(m, &p, uses)
			sc.Place(&p, uses)
			sc.Gap(i, &g)
			assert.InDelta(t, all[i].Gap.Gap, g.Gap, 1e-6)
			assert.True(t, r.Contains(all[i].Left, all[i].Right), "%v", all[i])
			assert.LessOrEqual(t, all[i].Gap.Gap, all[i].AtRide)
		}
	})
}
