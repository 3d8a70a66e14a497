package limits_test

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
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

// everyPair proves all pairs to half a millimetre, however far apart.
var everyPair = clearance.Closeness{Width: 0.5, Far: math.Inf(1), Most: 20_000}

// long is a number of tries: the larger one where AXLELOFT_LONG is set.
func long(usual, all int) int {
	if os.Getenv("AXLELOFT_LONG") != "" {
		return all
	}
	return usual
}

// thrown is what came of random positions.
type thrown struct {
	positions, onOutline, measured int
	below                          int
	worst                          float64 // how far below a bound at most, mm
	worstPair                      int
}

// throw measures, at n random positions of the range, every pair that its boxes leave in doubt, and counts those below what is proved of them. n is a multiple of 20. Most positions are uniform over the range; every
// tenth lies on the outline, to 1e-9 mm, found by halving between a place inside and one outside; every tenth within a few millimetres of where some pair was found nearest. That a position
// counts is told by the job's own figures of struts, stops and straps, and by what limits know of the rest. Two goroutines, each with its own numbers.
func throw(m *motion.Mechanism, c *clearance.Model, r *limits.Range, pairs []limits.Proved, n int) (all thrown) {
	lo, hi := r.Box()
	part := func(seed uint64, n int) (k thrown) {
		rnd := rand.New(rand.NewPCG(41, seed))
		solver, sc, uses := m.NewSolver(), c.NewScratch(), make([]quantity.LinkUse, len(m.Links))
		last := m.Ride()
		var p, q motion.Pose
		var g clearance.Gap
		at := func(l, rr float64, dst *motion.Pose) bool {
			return solver.Near(&last, l, rr, 60, dst) && inLimits(m, dst) && r.Within(dst)
		}
		anywhere := func() (float64, float64) {
			return lo.Left + (hi.Left-lo.Left)*rnd.Float64(), lo.Right + (hi.Right-lo.Right)*rnd.Float64()
		}
		for k.positions < n {
			l, rr := anywhere()
			way := k.positions % 10
			if way == 1 {
				b := &pairs[rnd.IntN(len(pairs))]
				l, rr = b.Left+3*rnd.NormFloat64(), b.Right+3*rnd.NormFloat64()
			}
			if !at(l, rr, &p) {
				continue
			}
			last = p
			if way == 0 {
				ol, or := anywhere()
				for at(ol, or, &q) { // further the same way till it is outside
					ol, or = 2*ol-l, 2*or-rr
				}
				for math.Hypot(ol-l, or-rr) > 1e-9 {
					ml, mr := (l+ol)/2, (rr+or)/2
					if at(ml, mr, &q) {
						l, rr, p = ml, mr, q
					} else {
						ol, or = ml, mr
					}
				}
				last = p
				k.onOutline++
			}
			k.positions++
			quantity.Links(m, &p, uses)
			sc.Place(&p, uses)
			for i := range pairs {
				if sc.AtLeast(i) >= pairs[i].NotLess {
					continue
				}
				sc.Gap(i, &g)
				k.measured++
				if d := pairs[i].NotLess - g.Gap; d > 0 {
					k.below++
					if d > k.worst {
						k.worst, k.worstPair = d, i
					}
				}
			}
		}
		return k
	}
	var parts [2]thrown
	var wait sync.WaitGroup
	for i := range parts {
		wait.Go(func() { parts[i] = part(uint64(i), n/2) })
	}
	wait.Wait()
	all = parts[0]
	all.positions += parts[1].positions
	all.onOutline += parts[1].onOutline
	all.measured += parts[1].measured
	all.below += parts[1].below
	if parts[1].worst > all.worst {
		all.worst, all.worstPair = parts[1].worst, parts[1].worstPair
	}
	return all
}

func throwAt(t *testing.T, m *motion.Mechanism, c *clearance.Model, n int) {
	r, err := limits.Find(m, 96)
	require.NoError(t, err)
	pairs, why, err := limits.Prove(context.Background(), m, c, r, everyPair, 2)
	require.NoError(t, err)
	require.Empty(t, why)
	for i := range pairs {
		require.Empty(t, pairs[i].Why)
	}
	k := throw(m, c, r, pairs, n)
	p := c.Pairs[k.worstPair]
	assert.Zero(t, k.below, "%s / %s: %.9g mm below", c.Parts[p.A].Name, c.Parts[p.B].Name, k.worst)
	assert.GreaterOrEqual(t, k.positions, n)
	assert.Equal(t, n/10, k.onOutline)
	assert.Greater(t, k.measured, n, "the boxes settle not all")
	t.Logf("%d positions, %d of them on the outline, %d gaps measured, %d below", k.positions, k.onOutline, k.measured, k.below)
}

// No random position of a demo has a gap below what is proved: 3e4 positions of each, a million where AXLELOFT_LONG is set.
func TestNoPositionIsBelow(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			m, c, _ := demo(t, name)
			throwAt(t, m, c, long(30_000, 1_000_000))
		})
	}
}

// The same of every way of locating an axle: 3e3 positions of each, a million where AXLELOFT_LONG is set.
func TestNoPositionOfAnyLayoutIsBelow(t *testing.T) {
	files, err := filepath.Glob("../../testdata/layouts/*.axleloft")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".axleloft"), func(t *testing.T) {
			b, err := os.ReadFile(file)
			require.NoError(t, err)
			j, err := job.Read(bytes.NewReader(b))
			require.NoError(t, err)
			m, err := motion.Compile(j)
			require.NoError(t, err)
			c, err := clearance.Compile(j, m)
			require.NoError(t, err)
			throwAt(t, m, c, long(3_000, 1_000_000))
		})
	}
}
