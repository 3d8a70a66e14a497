package vessel

import (
	"math"

	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// skin is a closed surface of triangles, each anticlockwise seen from outside. mm.
//
// What a cut opens is closed again by triangles fanned out from one place of the plane. They may lie over each other and over holes, facing either way: what is counted too much is taken off again, since the
// surface stays closed edge by edge. So volumes need no outline of the new face, and are exact for any closed mesh. Shells that lie one within the other, both facing outwards, count twice.
type skin [][3]r3.Vec

func skinOf(m *shape.Mesh) skin {
	s := make(skin, 0, len(m.T))
	for _, t := range m.T {
		s = append(s, [3]r3.Vec{m.V[t[0]], m.V[t[1]], m.V[t[2]]})
	}
	return s
}

// cut returns what is left at n.x <= at.
func (s skin) cut(by plane) skin {
	var out skin
	var apex r3.Vec
	opened := false
	for i := range s {
		t := &s[i]
		d := [3]float64{r3.Dot(by.n, t[0]) - by.at, r3.Dot(by.n, t[1]) - by.at, r3.Dot(by.n, t[2]) - by.at}
		in := [3]bool{d[0] <= 0, d[1] <= 0, d[2] <= 0}
		if in[0] && in[1] && in[2] {
			out = append(out, *t)
			continue
		}
		if !in[0] && !in[1] && !in[2] {
			continue
		}
		var loop [4]r3.Vec
		n := 0
		var leaves, enters r3.Vec
		for k := range 3 {
			l := (k + 1) % 3
			if in[k] {
				loop[n] = t[k]
				n++
			}
			if in[k] == in[l] {
				continue
			}
			p, q := k, l // from the end that stays, so that both triangles at an edge meet the plane in the same place
			if in[l] {
				p, q = l, k
			}
			loop[n] = r3.Add(t[p], r3.Scale(d[p]/(d[p]-d[q]), r3.Sub(t[q], t[p])))
			if in[k] {
				leaves = loop[n]
			} else {
				enters = loop[n]
			}
			n++
		}
		for k := 1; k+1 < n; k++ {
			out = append(out, [3]r3.Vec{loop[0], loop[k], loop[k+1]})
		}
		if !opened {
			opened, apex = true, leaves
		}
		if apex != leaves && apex != enters && leaves != enters {
			out = append(out, [3]r3.Vec{apex, enters, leaves})
		}
	}
	return out
}

// volume is by the divergence theorem, mm3.
func (s skin) volume() float64 {
	if len(s) == 0 {
		return 0
	}
	o := s[0][0]
	six := 0.0
	for i := range s {
		six += r3.Dot(r3.Sub(s[i][0], o), r3.Cross(r3.Sub(s[i][1], o), r3.Sub(s[i][2], o)))
	}
	return math.Max(0, six/6)
}

// within returns the part inside every plane, mm3.
func (s skin) within(planes []plane) float64 {
	for _, p := range planes {
		if s = s.cut(p); len(s) == 0 {
			return 0
		}
	}
	return s.volume()
}
