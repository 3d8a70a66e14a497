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

// FuzzMembers is FuzzSolve over any mixture of links, arms and rockers: refused in words, or moved with every distance kept (or the energy settled) and
// every figure finite, or ended with a typed error in words. Nothing panics or hangs.
func FuzzMembers(f *testing.F) {
	f.Add(uint64(1), 20.0, 50.0, 50.0, uint8(0b01011))
	f.Add(uint64(2), 60.0, 100.0, -100.0, uint8(0b10101))
	f.Add(uint64(3), 0.0, 1e6, 1e6, uint8(0b11111))
	f.Add(uint64(4), 1e5, -849.0, 849.0, uint8(0b01100))
	f.Add(uint64(5), 1e-7, math.NaN(), 0.0, uint8(0b11000))
	f.Add(uint64(6), 300.0, 200.0, 180.0, uint8(0b01101))
	f.Add(uint64(7), 150.0, 400.0, 380.0, uint8(0b10110))
	f.Add(uint64(8), 30.0, -300.0, -310.0, uint8(0b01001))
	f.Fuzz(func(t *testing.T, seed uint64, spread, left, right float64, what uint8) {
		if !(math.Abs(spread) <= 1e5) {
			t.Skip()
		}
		rng := rand.New(rand.NewPCG(seed, 1))
		j := layout()
		if what&1 != 0 {
			j.Links = append(j.Links, lowers)
		}
		if what&2 != 0 {
			j.Arms = append(j.Arms, aArm())
		}
		if what&4 != 0 {
			j.Arms = append(j.Arms, radiusArms())
		}
		if what&8 != 0 {
			j.Rockers = append(j.Rockers, watts([]string{"axle", "frame"}[seed%2]))
		}
		if what&16 != 0 {
			j.Links = append(j.Links, single)
		}
		if what&32 != 0 {
			j.Rockers = append(j.Rockers, watts([]string{"frame", "axle"}[seed%2]))
		}
		j = job.Expand(j).Job
		off := func(list ...*job.Point) {
			for _, p := range list {
				for a := range p {
					p[a] += spread * rng.NormFloat64()
				}
			}
		}
		for i := range j.Links {
			off(&j.Links[i].Frame, &j.Links[i].Axle)
		}
		for i := range j.Arms {
			for k := range j.Arms[i].Frame {
				off(&j.Arms[i].Frame[k])
			}
			for k := range j.Arms[i].Axle {
				off(&j.Arms[i].Axle[k])
			}
		}
		for i := range j.Rockers {
			off(&j.Rockers[i].Pivot)
			for k := range j.Rockers[i].Rods {
				off(&j.Rockers[i].Rods[k].Rocker, &j.Rockers[i].Rods[k].Far)
			}
		}
		m, err := motion.Compile(j)
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
		for i := range m.Distances {
			mm, n := m.Stretch(&p, i)
			finite(r3.Vec{X: mm, Y: n})
		}
		var r motion.Rates
		if s.Rates(&p, &r) == nil {
			finite(r.Heave.V, r.Heave.W, r.Roll.V, r.Roll.W)
		}
		for i := range m.Rockers {
			pl := motion.Place{Carrier: motion.Carrier{On: motion.OnRocker, Index: i}, At: r3.Vec{Z: 50}}
			h, l := m.Speed(&p, &r, &pl)
			finite(m.At(&p, &pl), h, l, r3.Vec{X: m.RockerTurn(&p, i)})
			var seat motion.Seat
			m.RodSeat(&p, i, 0, &seat)
			finite(r3.Vec{X: seat.Spin, Y: seat.Misalignment[0], Z: seat.Misalignment[1]})
		}
		for i := range m.Arms {
			pl := motion.Place{Carrier: motion.Carrier{On: motion.OnArm, Index: i}, At: r3.Vec{Z: 50}}
			h, l := m.Speed(&p, &r, &pl)
			mm, n := m.ArmGive(&p, i)
			finite(m.At(&p, &pl), h, l, r3.Vec{X: mm[0], Y: mm[1], Z: mm[2]}, r3.Vec{X: n[0], Y: n[1], Z: n[2]})
		}
		m.PoorlyHeldAt(&p)
	})
}
