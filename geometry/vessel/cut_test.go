package vessel

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// faces is something of each named face.
type faces struct{ front, rear, left, right, top, bottom float64 }

func (f *faces) of(name string) float64 {
	switch name {
	case "front":
		return f.front
	case "rear":
		return f.rear
	case "left":
		return f.left
	case "right":
		return f.right
	case "top":
		return f.top
	}
	return f.bottom
}

// said reports whether a place, in from each named face by so much, lies in a cut as its sizes are read at the bench.
func said(c *Cut, in, room *faces) bool {
	sizes := c.Sizes
	switch c.Kind {
	case slope, wedge:
		if in.of(sizes[0].Face)/sizes[0].To+in.of(sizes[1].Face)/sizes[1].To >= 1 {
			return false
		}
		sizes = sizes[2:]
	case snip:
		return in.of(sizes[0].Face)/sizes[0].To+in.of(sizes[1].Face)/sizes[1].To+in.of(sizes[2].Face)/sizes[2].To < 1
	case tilt, taper:
		n := len(sizes) - 2
		p, q := sizes[n], sizes[n+1]
		from := strings.TrimSuffix(strings.TrimPrefix(p.At, "at the "), " face")
		share := in.of(from) / room.of(from)
		if q.At == "at the inner end" {
			share = in.of(from) / sizes[0].To
		}
		if in.of(p.Face) > p.To+share*(q.To-p.To) {
			return false
		}
		sizes = sizes[:n]
	}
	for _, s := range sizes {
		if in.of(s.Face) < s.From || in.of(s.Face) > s.To {
			return false
		}
	}
	return true
}

// Litres of notched tanks against counting small cubes, which reads the cuts by their sizes from the named faces; its own error is at most that of the cubes cut by a face.
func TestCutsAgainstCubes(t *testing.T) {
	const cube = 8.0 // mm
	for name, s := range scenes(t) {
		if name == "turned" {
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
			room := r3.Sub(hi, lo)
			wide := faces{room.X, room.X, room.Y, room.Y, room.Z, room.Z}
			for x := lo.X + cube/2; x < hi.X; x += cube {
				for y := lo.Y + cube/2; y < hi.Y; y += cube {
					for z := lo.Z + cube/2; z < hi.Z; z += cube {
						if !s.holds(r3.Vec{X: x, Y: y, Z: z}) {
							continue
						}
						gross++
						in := faces{hi.X - x, x - lo.X, hi.Y - y, y - lo.Y, hi.Z - z, z - lo.Z}
						for i := range cuts {
							if said(&cuts[i], &in, &wide) {
								count[i]++
							}
						}
					}
				}
			}
			litres := mm3 * cube * cube * cube
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

// The shelf's cut: the rod comes nearest at its left end, so that a face that slopes to nothing where it no longer comes near loses half of what the box from the corner loses, with a fold less.
func TestShelf(t *testing.T) {
	s := sceneOf(t, demo(t, "orchard-sprayer"), "Tank shelf")
	k := s.keepOut(t, 8)
	assert.Less(t, k.Most-k.Least, 0.05)
	plan := s.v.Plan(k)
	require.Len(t, plan, 1)
	assert.Regexp(t, `^Sloped face along the bottom left edge, only as far as \d+ from the front face: \d+ from the left face, \d+ from the bottom face$`, plan[0].Words)
	assert.Greater(t, plan[0].Litres, k.Most)
	assert.Less(t, plan[0].Litres, 1.15)
	require.Len(t, k.Parts, 1)
	assert.Equal(t, "Panhard rod", s.c.Parts[k.Parts[0]].Name)
	last := 0.0
	for _, c := range s.v.Cuts(k) {
		assert.GreaterOrEqual(t, c.Litres, last)
		last = c.Litres
		for _, z := range c.Sizes {
			assert.Equal(t, math.Round(z.To), z.To)
		}
		if c.Kind == corner {
			assert.InDelta(t, 2*plan[0].Litres, c.Litres, 1e-6, "the same sizes")
		}
	}
}

// Of cuts that lose nearly alike the one with fewer faces is taken; a whole face cut back never.
func TestBest(t *testing.T) {
	cut := func(kind string, litres float64) Cut { return Cut{Kind: kind, Folds: foldsOf[kind], Litres: litres} }
	for _, c := range []struct {
		list []Cut
		want int
	}{
		{nil, -1},
		{[]Cut{cut(face, 1)}, -1},
		{[]Cut{cut(corner, 2.2), cut(step, 2.4), cut(slope, 2.6)}, 2},
		{[]Cut{cut(corner, 2.2), cut(step, 2.4), cut(slope, 2.71)}, 1},
		{[]Cut{cut(face, 2.1), cut(corner, 2.2), cut(step, 2.71)}, 1},
		{[]Cut{cut(corner, 20), cut(step, 20.9), cut(slope, 21.1)}, 1},
		{[]Cut{cut(step, 1), cut(taper, 1.1), cut(wedge, 1.2)}, 0},
	} {
		assert.Equal(t, c.want, Best(c.list))
	}
}

// No smaller cut of a kind holds what is to be taken: all whole mm tried. A corner cut off, whose three sizes are followed downhill, loses at most a hundredth more than the least.
func TestNoSmallerCut(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	room := [3]float64{36, 30, 33}
	v, err := New(&job.Envelope{Name: "Tank", Kind: "box", Min: &job.Point{0, 0, 0}, Max: &job.Point{room[0], room[1], room[2]}, Vessel: true})
	require.NoError(t, err)
	kinds := map[string]int{}
	for range 25 {
		var pts [][3]float64
		var boxes []box
		for range 1 + rng.IntN(4) {
			b := box{taken: true}
			for k := range room {
				if rng.IntN(2) == 0 {
					b.lo[k] = 0.5 * room[k] * rng.Float64()
				}
				b.hi[k] = math.Min(room[k], b.lo[k]+0.3*room[k]*rng.Float64())
			}
			boxes = append(boxes, b)
			pts = b.nearer(pts)
		}
		off := func(mm float64) float64 { return math.Max(0, mm-2e-6) } // round-off
		in := func(p [3]float64) faces {
			return faces{off(room[0] - p[0]), off(p[0]), off(room[1] - p[1]), off(p[1]), off(room[2] - p[2]), off(p[2])}
		}
		wide := faces{room[0], room[0], room[1], room[1], room[2], room[2]}
		for _, c := range v.cuts(boxes) {
			kinds[c.Kind]++
			holds := func(c Cut) bool {
				for _, p := range pts {
					at := in(p)
					if !said(&c, &at, &wide) {
						return false
					}
				}
				return true
			}
			require.True(t, holds(c), c.Words)
			for i := range c.Sizes { // each size by itself
				less := c
				less.Sizes = slices.Clone(c.Sizes)
				less.Sizes[i].To--
				assert.False(t, less.Sizes[i].To > less.Sizes[i].From && holds(less), "%s: size %d less", c.Words, i)
				if less.Sizes[i].To++; c.Sizes[i].From > 0 {
					less.Sizes[i].From++
					assert.False(t, less.Sizes[i].To > less.Sizes[i].From && holds(less), "%s: size %d later", c.Words, i)
				}
			}
			// all pairs and triples
			other := c
			other.Sizes = slices.Clone(c.Sizes)
			var first int
			size := func(s []Size) float64 { return s[0].To * s[1].To }
			switch c.Kind {
			default:
				continue
			case slope, wedge:
			case tilt, taper:
				first = len(c.Sizes) - 2
				size = func(s []Size) float64 { return s[0].To + s[1].To }
			case snip:
				size = func(s []Size) float64 { return s[0].To * s[1].To * s[2].To }
			}
			s := other.Sizes[first:]
			own, least := size(s), math.Inf(1)
			for x := 1.0; x <= wide.of(s[0].Face); x++ {
				for y := 1.0; y <= wide.of(s[1].Face); y++ {
					s[0].To, s[1].To = x, y
					most := 1.0
					if c.Kind == snip {
						most = wide.of(s[2].Face)
					}
					for z := 1.0; z <= most; z++ {
						if c.Kind == snip {
							s[2].To = z
						}
						if size(s) < math.Min(least, own) && holds(other) {
							least = size(s)
						}
					}
				}
			}
			if c.Kind == snip {
				assert.LessOrEqual(t, own, 1.01*least, c.Words)
			} else {
				assert.True(t, math.IsInf(least, 1), "%s: %v is less", c.Words, least)
			}
		}
	}
	for kind := range foldsOf {
		assert.NotZero(t, kinds[kind], kind)
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
	shared := s.v.within(append(slices.Clone(plan[0].planes), plan[1].planes...)...)
	assert.InDelta(t, plan[0].Litres+plan[1].Litres-shared, s.v.Lost(plan), 1e-9)
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
	for _, kind := range []string{face, tilt, step, slope, wedge, taper, slot, corner, snip, notch, tunnel, pocket} {
		assert.Greater(t, kinds[kind], 10, kind)
	}
}
