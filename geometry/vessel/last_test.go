package vessel

import (
	"math/rand/v2"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where the links end the travel a keep-out is proved but for the last of it, and holds what comes too near at the positions tried there.
func TestKeepOutWhereTheLinksEnd(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	j.Links[0].Axle[0] = j.Links[0].Frame[0] - 200
	j.Struts[0].Open, j.Straps = nil, nil
	most := 8.0
	j.Travel = &job.Travel{Articulation: &most}
	s := sceneOf(t, j, "Tank shelf")
	require.NotEmpty(t, s.over.Tried)
	for i := range s.c.Pairs {
		s.c.Pairs[i].Required = 160 // so much that it counts there
	}
	k := s.keepOut(t, 16)
	assert.True(t, k.Proved)
	assert.Equal(t, s.over.Last, k.Last)
	assert.Greater(t, k.Last, 0.25)
	assert.Less(t, k.Last, 5.0)
	require.Greater(t, k.Least, 0.0)
	rng := rand.New(rand.NewPCG(1, 1))
	g := s.gauge()
	cuts := s.v.Cuts(k)
	placed, near := 0, 0
	for i := range s.over.Tried {
		p := &s.over.Tried[i]
		if !g.place(p.Left, p.Right) {
			continue // so near the end a solver need not come from ride height
		}
		placed++
		for range 20 {
			x := s.inside(rng, k)
			d := g.nearest(x)
			low, _ := k.At(s.v, x)
			require.GreaterOrEqual(t, d, low-1e-6)
			if d < -1e-3 {
				near++
				for n := range cuts {
					require.True(t, cuts[n].Lies(x), "%s does not hold %v", cuts[n].Words, x)
				}
			}
		}
	}
	assert.Greater(t, placed, 50)
	assert.Greater(t, near, 50)
	t.Logf("%d of %d positions in the last %.2f mm, %d places near", placed, len(s.over.Tried), k.Last, near)

	edges := 0
	w := s.sweep()
	for i := range w.Swept {
		assert.NotEqual(t, w.Swept[i].Proved, w.Swept[i].Edge)
		if w.Swept[i].Edge {
			edges++
		}
	}
	assert.Equal(t, len(w.Swept), 2*edges)
	assert.True(t, w.Proved())
}
