package study_test

import (
	"context"
	"math"
	"math/rand/v2"
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
