package limits_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// fromEdge is how far a position lies from the outline of a range, mm.
func fromEdge(r *limits.Range, left, right float64) float64 {
	least := math.Inf(1)
	for i := range r.Edge {
		p, q := r.Edge[i], r.Edge[(i+1)%len(r.Edge)]
		const steps = 50
		for k := range steps {
			t := float64(k) / steps
			least = math.Min(least, math.Hypot(p.Left+t*(q.Left-p.Left)-left, p.Right+t*(q.Right-p.Right)-right))
		}
	}
	return least
}

// linksEnd are jobs whose links end the travel within what is usual of it, exactly located and not.
func linksEnd(t testing.TB) map[string]*job.Job {
	t.Helper()
	all := map[string]*job.Job{}
	short := demoJob(t, "orchard-sprayer")
	short.Links[0].Axle[0] = short.Links[0].Frame[0] - 170
	short.Links[1].Frame[2] -= 248
	short.Links[1].Axle[2] -= 208
	all["short lowers"] = short
	hangs := demoJob(t, "orchard-sprayer")
	hangs.Links[0].Axle[0] = hangs.Links[0].Frame[0] - 200
	hangs.Struts[0].Open, hangs.Straps = nil, nil
	hangs.Travel = &job.Travel{Articulation: ptr(8)}
	all["nothing stops the droop"] = hangs
	return all
}

// Where the links end the travel all is proved but the last of it, and nowhere else is a gap below what is proved.
func TestProveWhereTheLinksEnd(t *testing.T) {
	how := clearance.Closeness{Width: 0.5, Far: 150, Most: 20_000}
	tries := long(15_000, 60_000)
	if testing.Short() {
		tries = 2000
	}
	for name, j := range linksEnd(t) {
		t.Run(name, func(t *testing.T) {
			m, err := motion.Compile(j)
			require.NoError(t, err)
			c, err := clearance.Compile(j, m)
			require.NoError(t, err)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			ends := 0
			lo, hi := math.Inf(1), math.Inf(-1)
			for i := range r.Edge {
				if r.Edge[i].Cause == limits.NoAssembly {
					ends++
				}
				lo, hi = math.Min(lo, r.Edge[i].Left), math.Max(hi, r.Edge[i].Left)
			}
			require.Positive(t, ends)
			pairs, why, err := limits.Prove(context.Background(), m, c, r, how, 2)
			require.NoError(t, err)
			require.Empty(t, why)
			again, _, err := limits.Prove(context.Background(), m, c, r, how, 1)
			require.NoError(t, err)
			require.Equal(t, pairs, again, "the same bits however many workers")
			rest := pairs[0].Rest
			assert.Greater(t, rest, 0.25)
			assert.Less(t, rest, 5.0)
			for i := range pairs {
				require.Empty(t, pairs[i].Why)
				require.Equal(t, rest, pairs[i].Rest)
				require.LessOrEqual(t, pairs[i].NotLess, pairs[i].Gap.Gap)
				if pairs[i].NotLess < how.Far {
					require.LessOrEqual(t, pairs[i].Gap.Gap-pairs[i].NotLess, how.Width+1e-6)
				}
			}
			rnd := rand.New(rand.NewPCG(4, 4))
			s, solver, last, uses := c.NewScratch(), m.NewSolver(), m.Ride(), make([]quantity.LinkUse, len(m.Links))
			var p motion.Pose
			var g clearance.Gap
			n, near := 0, 0
			for range tries {
				left, right := lo+(hi-lo)*rnd.Float64(), lo+(hi-lo)*rnd.Float64()
				if !r.Contains(left, right) || fromEdge(r, left, right) <= rest || !solver.Near(&last, left, right, 60, &p) {
					continue
				}
				last = p
				n++
				quantity.Links(m, &p, uses)
				s.Place(&p, uses)
				for i := range pairs {
					if s.AtLeast(i) >= pairs[i].NotLess+2 {
						continue
					}
					s.Gap(i, &g)
					require.GreaterOrEqual(t, g.Gap, pairs[i].NotLess)
					if g.Gap < pairs[i].NotLess+2 {
						near++
					}
				}
			}
			t.Logf("%d positions, %d near; the last %.2f mm only tried", n, near, rest)
			assert.Greater(t, n, tries/20)
			assert.Positive(t, near)
		})
	}
}

// Links that hardly hold the axle anywhere leave nothing to be proved.
func TestRestIsNoExcuse(t *testing.T) {
	j := demoJob(t, "rescue-tender")
	j.Links[0].Frame[1] = j.Links[0].Axle[1]
	j.Links[1].Frame[1] = j.Links[1].Axle[1] + 8
	m, err := motion.Compile(j)
	require.NoError(t, err)
	c, err := clearance.Compile(j, m)
	require.NoError(t, err)
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	pairs, why, err := limits.Prove(context.Background(), m, c, r, closely, 1)
	require.NoError(t, err)
	assert.Empty(t, pairs)
	assert.Contains(t, why, "hold the axle poorly")
}
