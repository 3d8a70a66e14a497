package vessel

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// said reports whether a place, in from each named face by so much, lies in a cut as its sizes are read at the bench.
func said(c *Cut, in map[string]float64) bool {
	if c.Kind == "slope" {
		return in[c.Sizes[0].Face]/c.Sizes[0].To+in[c.Sizes[1].Face]/c.Sizes[1].To < 1
	}
	for _, s := range c.Sizes {
		if in[s.Face] < s.From || in[s.Face] > s.To {
			return false
		}
	}
	return true
}

// Litres of notched tanks against counting small cubes, which reads the cuts by their sizes from the named faces; its own error is at most that of the cubes cut by a face.
func TestCutsAgainstCubes(t *testing.T) {
	const cube = 4.0 // mm
	for name, s := range scenes(t) {
		if !s.v.Flat || name == "turned" {
			continue
		}
		t.Run(name, func(t *testing.T) {
			k := s.keepOut(t, 12)
			cuts := s.v.Cuts(k)
			require.NotEmpty(t, cuts)
			kinds := map[string]bool{}
			count := make([]int, len(cuts))
			lo, hi := s.v.Bounds()
			gross := 0
			for x := lo.X + cube/2; x < hi.X; x += cube {
				for y := lo.Y + cube/2; y < hi.Y; y += cube {
					for z := lo.Z + cube/2; z < hi.Z; z += cube {
						if !s.holds(r3.Vec{X: x, Y: y, Z: z}) {
							continue
						}
						gross++
						in := map[string]float64{"front": hi.X - x, "rear": x - lo.X, "left": hi.Y - y, "right": y - lo.Y, "top": hi.Z - z, "bottom": z - lo.Z}
						for i := range cuts {
							if said(&cuts[i], in) {
								count[i]++
							}
						}
					}
				}
			}
			litres := mm3 * cube * cube * cube
			room := r3.Sub(hi, lo)
			// one more layer of half cubes on each of the largest faces
			off := mm3 * cube / 2 * 2 * (room.X*room.Y + room.Y*room.Z + room.Z*room.X)
			assert.InDelta(t, s.v.Litres, litres*float64(gross), off)
			for i := range cuts {
				kinds[cuts[i].Kind] = true
				assert.InDelta(t, cuts[i].Litres, litres*float64(count[i]), off/2, cuts[i].Words)
			}
			assert.True(t, kinds["face"] && kinds["step"], "%v", kinds)
		})
	}
}

// The shelf's cut: from the bottom, the front and the left, and less than the step the whole width takes.
func TestShelf(t *testing.T) {
	s := sceneOf(t, demo(t, "orchard-sprayer"), "Tank shelf")
	k := s.keepOut(t, 8)
	assert.Less(t, k.Most-k.Least, 0.05)
	plan := s.v.Plan(k)
	require.Len(t, plan, 1)
	assert.Regexp(t, `^Box cut from the bottom front left corner: \d+ from the front face, \d+ from the left face, \d+ from the bottom face$`, plan[0].Words)
	assert.Greater(t, plan[0].Litres, k.Most)
	require.Len(t, k.Parts, 1)
	assert.Equal(t, "Panhard rod", s.c.Parts[k.Parts[0]].Name)
	last := 0.0
	for _, c := range s.v.Cuts(k) {
		assert.GreaterOrEqual(t, c.Litres, last)
		last = c.Litres
		for _, z := range c.Sizes {
			assert.Equal(t, math.Round(z.To), z.To)
		}
	}
}

// Two places apart lose less by a cut each than by one for both; what the two share counts once.
func TestPlacesApart(t *testing.T) {
	s := sceneOf(t, demo(t, "rescue-tender"), "Side tank")
	k := s.keepOut(t, 8)
	plan := s.v.Plan(k)
	require.Len(t, plan, 2)
	all := s.v.Cuts(k)
	assert.Less(t, s.v.Lost(plan), all[Best(all)].Litres)
	assert.InDelta(t, plan[0].Litres+plan[1].Litres, s.v.Lost(plan), 1e-9, "they share nothing")
	assert.InDelta(t, plan[0].Litres, s.v.Lost([]Cut{plan[0], plan[0]}), 1e-9, "the same twice")
	assert.InDelta(t, plan[0].Litres, s.v.Lost([]Cut{plan[0], plan[0], plan[0]}), 1e-9)
}

// Any boxes in any turned tank: every cut holds them, loses no more than there is, and says where it is in faces there are.
func TestCutsHoldAnything(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	kinds := map[string]int{}
	for range 150 {
		e := job.Envelope{Name: "Tank", Kind: "box", Min: &job.Point{-400, -300, 500}, Max: &job.Point{300, 250, 800}, Vessel: true,
			Turn: &job.Point{30 * rng.NormFloat64(), 30 * rng.NormFloat64(), 30 * rng.NormFloat64()}}
		v, err := New(&e)
		require.NoError(t, err)
		assert.InDelta(t, 700*550*300*mm3, v.Litres, 1e-9)
		k := &KeepOut{}
		var lo, hi [3]float64
		for a := range lo {
			room := v.hi[a] - v.lo[a]
			lo[a] = v.lo[a] + room*rng.Float64()
			hi[a] = math.Min(v.hi[a], lo[a]+0.3*room*rng.Float64())
			if rng.IntN(3) == 0 {
				lo[a] = v.lo[a]
			}
		}
		k.boxes = []box{{lo: lo, hi: hi, taken: true}}
		for _, c := range v.Cuts(k) {
			kinds[c.Kind]++
			assert.NotEmpty(t, c.Words)
			assert.NotContains(t, c.Words, "%")
			assert.LessOrEqual(t, c.Litres, v.Litres)
			b := v.block(lo, hi)
			assert.GreaterOrEqual(t, c.Litres, 8*mm3*b.Half[0]*b.Half[1]*b.Half[2]-1e-9, c.Words)
			for i := range 8 {
				x := r3.Add(b.Corner(i), r3.Scale(1e-9, r3.Sub(b.At, b.Corner(i))))
				assert.True(t, c.Lies(x), c.Words)
			}
			for _, s := range c.Sizes {
				assert.True(t, strings.Contains(c.Words, s.Face))
			}
		}
	}
	for _, kind := range []string{"face", "step", "slope", "slot", "corner"} {
		assert.Greater(t, kinds[kind], 20, kind)
	}
}

// A vessel that is not flat is neither cut nor dipped; a mesh is refused.
func TestRound(t *testing.T) {
	e := job.Envelope{Name: "Air tank", Kind: "tube", Path: []job.Point{{0, 0, 600}, {500, 0, 600}}, Outside: of(200.0), Vessel: true}
	v, err := New(&e)
	require.NoError(t, err)
	assert.False(t, v.Flat)
	k := &KeepOut{boxes: []box{{lo: [3]float64{0, 0, 550}, hi: [3]float64{10, 10, 560}, taken: true}}}
	assert.Empty(t, v.Cuts(k))
	assert.Empty(t, v.Plan(k))
	assert.Empty(t, v.Dip(Tilt{}, nil, 5))
	_, err = New(&job.Envelope{Name: "Tank", Kind: "mesh", File: "tank.stl", Vessel: true})
	assert.ErrorIs(t, err, ErrMesh)
	// Its cover: all, part and none of a box.
	for _, c := range []struct {
		at   r3.Vec
		want cover
	}{{r3.Vec{X: 250, Z: 600}, wholly}, {r3.Vec{X: 250, Z: 700}, partly}, {r3.Vec{X: 250, Z: 720}, nothing}} {
		b := clearance.Block{At: c.at, Half: [3]float64{5, 5, 5}, Axes: v.axes}
		assert.Equal(t, c.want, v.cover(&b))
	}
	assert.Equal(t, shape.Segment, v.solid.Pieces[0].Kind)
}
