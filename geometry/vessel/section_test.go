package vessel

import (
	"context"
	"testing"

	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// area of a section's loops, holes taken off, mm2.
func (s *Section) area() float64 {
	u, v := (s.Axis+1)%3, (s.Axis+2)%3
	sum := 0.0
	for _, l := range s.Loops {
		flat := make([][2]float64, len(l))
		for i, p := range l {
			c := [3]float64{p.X, p.Y, p.Z}
			flat[i] = [2]float64{c[u], c[v]}
		}
		sum += shape.PolygonArea(flat)
	}
	return sum
}

// Sections along each axis add up to what the keep-out takes, worked out otherwise.
func TestSectionsAddUp(t *testing.T) {
	for _, name := range []string{"shelf", "on axle"} {
		s := sceneNamed(t, name)
		k := s.keepOut(t, 8)
		w := s.sweep()
		lo, hi := s.v.Bounds()
		from, to := [3]float64{lo.X, lo.Y, lo.Z}, [3]float64{hi.X, hi.Y, hi.Z}
		for axis := range 3 {
			if name == "on axle" && axis != 0 {
				continue
			}
			const n = 20
			step := (to[axis] - from[axis]) / n
			litres := 0.0
			for i := range n {
				sec, err := SectionOf(context.Background(), w, axis, from[axis]+(float64(i)+0.5)*step, lo, hi, 8)
				require.NoError(t, err)
				litres += mm3 * sec.area() * step
				for _, l := range sec.Loops {
					for _, p := range l {
						assert.True(t, p.X >= lo.X && p.X <= hi.X && p.Y >= lo.Y && p.Y <= hi.Y && p.Z >= lo.Z && p.Z <= hi.Z)
					}
				}
			}
			assert.InEpsilon(t, (k.Least+k.Most)/2, litres, 0.05, "%s, axis %d", name, axis)
		}
	}
}

// The swept outline of one mover with a margin of one's own: wider with more.
func TestPartSection(t *testing.T) {
	s := sceneOf(t, demo(t, "orchard-sprayer"), "Tank shelf")
	rod := -1
	for i := range s.c.Parts {
		if s.c.Parts[i].Name == "Panhard rod" {
			rod = i
		}
	}
	lo, hi := r3.Vec{X: -600, Y: -700, Z: 200}, r3.Vec{X: 200, Y: 700, Z: 900}
	last := 0.0
	for _, margin := range []float64{0, 10, 25} {
		sec, err := SectionOf(context.Background(), s.c.NewPartSweep(rod, margin, s.tree, s.r.Within, nil), 1, 0, lo, hi, 5)
		require.NoError(t, err)
		require.Len(t, sec.Loops, 1)
		assert.Greater(t, sec.area(), last+1000)
		last = sec.area()
	}
	sec, err := SectionOf(context.Background(), s.c.NewPartSweep(rod, 0, s.tree, s.r.Within, nil), 0, 5000, lo, hi, 5)
	require.NoError(t, err)
	assert.Empty(t, sec.Loops, "nothing there")
	_, err = SectionOf(context.Background(), s.sweep(), 2, 600, lo, hi, 1e-4)
	assert.ErrorIs(t, err, ErrGrid)
}
