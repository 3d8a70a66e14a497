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
	for _, name := range []string{"shelf", "on axle", "outline", "ball", "mesh"} {
		s := sceneNamed(t, name)
		k := s.keepOut(t, 8)
		w := s.sweep()
		lo, hi := s.v.Bounds()
		from, to := [3]float64{lo.X, lo.Y, lo.Z}, [3]float64{hi.X, hi.Y, hi.Z}
		for axis := range 3 {
			if name != "shelf" && axis != 0 {
				continue
			}
			n := long(10, 20)
			step := (to[axis] - from[axis]) / float64(n)
			litres := 0.0
			for i := range n {
				sec, err := s.v.Section(context.Background(), w, axis, from[axis]+(float64(i)+0.5)*step, 5)
				require.NoError(t, err)
				litres += mm3 * sec.area() * step
				for _, l := range sec.Loops {
					for _, p := range l {
						assert.True(t, p.X >= lo.X && p.X <= hi.X && p.Y >= lo.Y && p.Y <= hi.Y && p.Z >= lo.Z && p.Z <= hi.Z)
						middle := r3.Scale(0.5, r3.Add(lo, hi))
						assert.True(t, s.holds(r3.Add(p, r3.Scale(4/r3.Norm(r3.Sub(middle, p)), r3.Sub(middle, p)))), "%s: %v", name, p)
					}
				}
			}
			assert.InEpsilon(t, (k.Least+k.Most)/2, litres, 0.05, "%s, axis %d", name, axis)
		}
	}
}

// What the grid cannot hold is refused; beyond the vessel there is nothing.
func TestSectionEnds(t *testing.T) {
	s := sceneNamed(t, "shelf")
	sec, err := s.v.Section(context.Background(), s.sweep(), 0, 5000, 5)
	require.NoError(t, err)
	assert.Empty(t, sec.Loops, "nothing there")
	_, err = s.v.Section(context.Background(), s.sweep(), 2, 610, 1e-4)
	assert.ErrorIs(t, err, ErrGrid)
}

// The outline of a prism of several pieces square to its length is its own, whole; of a bulging mesh it goes round what the mesh holds.
func TestOutline(t *testing.T) {
	v := sceneNamed(t, "outline").v
	require.Greater(t, len(v.polys), 1)
	sum := 0.0
	edge := v.outline(1, 0)
	for _, l := range edge {
		sum += (l.a[0]*l.b[1] - l.b[0]*l.a[1]) / 2
	}
	assert.Len(t, edge, 6)
	assert.InDelta(t, v.Litres/mm3/690, sum, 1e-6)
	m := sceneNamed(t, "mesh")
	cut := m.v.outline(2, 700)
	for x := -500.0; x < 0; x += 7 {
		for y := -150.0; y < 250; y += 7 {
			p := r3.Vec{X: x, Y: y, Z: 700}
			assert.Equal(t, m.holds(p), m.v.beyond(cut, p, [2]int{0, 1}) < 0)
		}
	}
}
