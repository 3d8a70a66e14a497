package study_test

import (
	"context"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/require"
)

// Pivots moved about at random, near and far: whatever comes out is worked out or refused in words; nothing panics and no figure that is shown is infinite.
func TestPivotsMovedAtRandom(t *testing.T) {
	rounds := 40
	if testing.Short() {
		rounds = 8
	}
	rng := rand.New(rand.NewPCG(1, 1))
	for _, name := range assets.Demos() {
		base := demo(t, name, "")
		moved, refused := 0, 0
		for range rounds {
			j := base.Clone()
			size := []float64{5, 60, 300, 1500}[rng.IntN(4)]
			shake := func(p *job.Point) {
				for k := range p {
					p[k] += (2*rng.Float64() - 1) * size
				}
			}
			for i := range j.Links {
				shake(&j.Links[i].Frame)
				shake(&j.Links[i].Axle)
			}
			for i := range j.Struts {
				if rng.IntN(2) == 0 {
					shake(&j.Struts[i].Frame)
				}
			}
			if rng.IntN(4) == 0 {
				j.Vehicle.FrontTravel = "still"
			}
			if len(job.Check(j)) > 0 {
				continue
			}
			s := study.New(context.Background(), j, study.Live)
			require.NotNil(t, s)
			require.NotEmpty(t, s.Findings)
			if s.Refusal != "" {
				refused++
				continue
			}
			moved++
			for _, f := range s.Findings {
				require.NotEmpty(t, f.Sentence)
				require.NotContains(t, f.Sentence, "NaN")
				require.NotContains(t, f.Sentence, "Inf")
			}
			links := func(p *motion.Pose) {
				for i := range s.Mech.Links {
					mm, _ := s.Mech.Stretch(p, i)
					if !s.Mech.OverLocated {
						require.Less(t, math.Abs(mm), 1e-8)
					}
				}
			}
			for i := range s.Both.Poses {
				links(&s.Both.Poses[i])
			}
			for i := range s.Crossed.Poses {
				links(&s.Crossed.Poses[i])
			}
		}
		require.Positive(t, moved, name)
		t.Logf("%s: %d worked out, %d refused", name, moved, refused)
	}
}

// The same with arms, rockers, radius arms, sensors and a centre bearing, all that can be moved moved.
func TestMembersMovedAtRandom(t *testing.T) {
	rounds := often(3, 6)
	if testing.Short() {
		rounds = 1
	}
	rng := rand.New(rand.NewPCG(1, 1))
	list, all := layouts(t), 0
	defer func() { require.Greater(t, all, len(list)*rounds/2) }()
	for _, name := range slices.Sorted(maps.Keys(list)) {
		moved, refused, complained := 0, 0, 0
		for range rounds {
			j := list[name].Clone()
			size := []float64{5, 60, 300, 1500}[rng.IntN(4)]
			shake := func(p *job.Point) {
				for k := range p {
					p[k] += (2*rng.Float64() - 1) * size
				}
			}
			shakeAll := func(points []job.Point) {
				for i := range points {
					shake(&points[i])
				}
			}
			for i := range j.Links {
				shake(&j.Links[i].Frame)
				shake(&j.Links[i].Axle)
			}
			for i := range j.Arms {
				shakeAll(j.Arms[i].Frame)
				shakeAll(j.Arms[i].Axle)
			}
			for i := range j.Rockers {
				k := &j.Rockers[i]
				shake(&k.Pivot)
				for n := range k.Rods {
					shake(&k.Rods[n].Rocker)
					shake(&k.Rods[n].Far)
				}
			}
			for i := range j.Sensors {
				shake(&j.Sensors[i].Lever)
				shake(&j.Sensors[i].Far)
			}
			if j.Driveline != nil && j.Driveline.Bearing != nil {
				shake(&j.Driveline.Bearing.Joint)
			}
			if len(job.Check(j)) > 0 {
				complained++
				continue
			}
			s := study.New(context.Background(), j, study.Live)
			require.NotNil(t, s)
			require.NotEmpty(t, s.Findings)
			if s.Refusal != "" {
				refused++
				continue
			}
			moved, all = moved+1, all+1
			for _, f := range s.Findings {
				require.NotEmpty(t, f.Sentence)
				require.NotContains(t, f.Sentence, "NaN")
				require.NotContains(t, f.Sentence, "Inf")
			}
			for _, h := range s.GetHome() {
				require.NotContains(t, h.Words, "NaN")
			}
			for _, c := range s.HeightTable().Captions {
				require.NotContains(t, c, "NaN")
			}
			for i := range s.Mech.Links {
				if _, ok := s.Clock(context.Background(), i); ok {
					break
				}
			}
		}
		t.Logf("%s: %d worked out, %d refused, %d with complaints", name, moved, refused, complained)
	}
}
