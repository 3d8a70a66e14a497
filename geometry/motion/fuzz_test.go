package motion_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// FuzzSolve throws pivots anywhere and asks for any travel: a job is refused in words, or its positions are found with every distance kept (or
// the energy settled) and every number finite, or the march ends with a typed error. Nothing panics or hangs.
func FuzzSolve(f *testing.F) {
	f.Add(uint64(1), 60.0, 50.0, 50.0, uint8(4))
	f.Add(uint64(2), 300.0, 100.0, -100.0, uint8(5))
	f.Add(uint64(3), 0.0, 1e6, 1e6, uint8(4))
	f.Add(uint64(4), 1e5, -849.0, 849.0, uint8(12))
	f.Add(uint64(5), 1e-7, math.NaN(), 0.0, uint8(0))
	f.Add(uint64(6), 800.0, math.Inf(1), 3.0, uint8(7))
	f.Add(uint64(7), 150.0, 400.0, 380.0, uint8(4))
	f.Fuzz(func(t *testing.T, seed uint64, spread, left, right float64, n uint8) {
		if !(math.Abs(spread) <= 1e5) { // what a job file may hold
			t.Skip()
		}
		rng := rand.New(rand.NewPCG(seed, 0))
		base := job.Expand(layout(lowers, angled, single, panhard, uppers)).Job.Links
		links := base[:min(int(n), len(base))]
		for i := len(links); i < int(n%16); i++ {
			links = append(links, base[i%len(base)])
		}
		for i := range links {
			for a := range 3 {
				links[i].Frame[a] += spread * rng.NormFloat64()
				links[i].Axle[a] += spread * rng.NormFloat64()
			}
		}
		m, err := motion.Compile(layout(links...))
		var e *motion.Error
		if err != nil {
			require.True(t, errors.As(err, &e))
			require.NotEmpty(t, e.Words)
			return
		}
		s := m.NewSolver()
		var p motion.Pose
		if err := s.Solve(left, right, &p); err != nil {
			require.True(t, errors.As(err, &e))
			require.NotEmpty(t, e.Words)
			require.NotZero(t, e.Kind)
			if e.Kind == motion.BadTravel {
				return
			}
			require.Equal(t, [2]float64{e.Left, e.Right}, [2]float64{p.Left, p.Right})
		}
		finite := func(v ...r3.Vec) {
			for _, v := range v {
				if d := v.X + v.Y + v.Z; math.IsNaN(d) || math.IsInf(d, 0) {
					t.Fatalf("not finite: %v", v)
				}
			}
		}
		finite(p.C, p.Ex, p.Ey, p.Ez)
		if !m.OverLocated {
			require.Less(t, p.Residual, 1e-9*math.Max(1, math.Abs(spread)/1000))
		}
		var r motion.Rates
		if s.Rates(&p, &r) == nil {
			finite(r.Heave.V, r.Heave.W, r.Roll.V, r.Roll.W)
		}
	})
}
