package swept

import (
	"context"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hanging is a job with nothing to end its droop but the links.
func hanging(t testing.TB) *job.Job {
	t.Helper()
	j := demo(t, "orchard-sprayer")
	j.Links[0].Axle[0] = j.Links[0].Frame[0] - 200
	j.Struts[0].Open, j.Straps = nil, nil
	most := 8.0
	j.Travel = &job.Travel{Articulation: &most}
	return j
}

// Where the links end the travel the room is proved but for the last of it: the part lies within at random positions up to there, and at all positions tried there, which do not all lie within what is proved.
func TestRoomWhereTheLinksEnd(t *testing.T) {
	s := sceneOf(t, hanging(t))
	for _, name := range []string{"Panhard rod"} {
		m := s.o.Mover(s.part(t, name), 10)
		require.True(t, m.Proved)
		require.Greater(t, m.Last, 0.25)
		require.Less(t, m.Last, 5.0)
		ride := s.m.Ride()
		const axis = 1
		at := xyz(m.Middle(&ride))[axis]
		sec, err := m.Cut(context.Background(), axis, at, 0, Fine{Step: 8, Workers: 2})
		require.NoError(t, err)
		assert.True(t, sec.Proved)
		assert.Equal(t, m.Last, sec.Last)
		require.NotEmpty(t, s.o.over.Tried)

		place, sc := s.c.NewScratch(), &shape.Scratch{}
		uses := make([]quantity.LinkUse, len(s.m.Links))
		rng := rand.New(rand.NewPCG(5, 6))
		seen := 0
		look := func(p *motion.Pose) {
			quantity.Links(s.m, p, uses)
			place.Place(p, uses)
			pieces := place.Solid(m.Part).Pieces
			for range 10 {
				if x, ok := inPlane(rng, &pieces[rng.IntN(len(pieces))], m.Margin, axis, at, sc); ok {
					seen++
					require.True(t, sec.within(x), "%v at %v, %v", x, p.Left, p.Right)
				}
			}
		}
		for i := range s.o.over.Tried {
			look(&s.o.over.Tried[i])
		}
		for range 300 {
			lo, hi := s.r.Box()
			l, r := lo.Left+rng.Float64()*(hi.Left-lo.Left), lo.Right+rng.Float64()*(hi.Right-lo.Right)
			if l, r, _ = s.r.Clamp(l, r); !s.r.Contains(0.98*l, 0.98*r) {
				continue
			}
			var p motion.Pose
			require.NoError(t, s.m.NewSolver().Solve(0.98*l, 0.98*r, &p))
			look(&p)
		}
		assert.Greater(t, seen, 500)

		tried := s.o.over.Tried
		s.o.over.Tried = nil
		less, err := s.o.Mover(m.Part, m.Margin).Cut(context.Background(), axis, at, 0, Fine{Step: 8, Workers: 2})
		require.NoError(t, err)
		s.o.over.Tried = tried
		assert.Greater(t, sec.Area, less.Area+100)
		t.Logf("%s: %.0f mm2, %.0f without the last %.2f mm; %d positions there", name, sec.Area, less.Area, m.Last, len(tried))
	}
}
