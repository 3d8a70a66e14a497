package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// mostShells is how many connected parts of a mesh are looked at; of more it is not known whether they overlap.
	mostShells = 200
	// crossed: connected parts that lie in each other by less only touch, mm.
	crossed = 1e-3
)

// Single reports whether every place in a closed mesh lies in it once, so that its volume counts none twice: its connected parts do not cross, and one within another faces the other way, being a hollow. It is worked out
// once.
func (m *Mesh) Single() bool {
	m.once.Do(func() { m.single = m.Closed && m.inOnce() })
	return m.single
}

func (m *Mesh) inOnce() bool {
	if len(m.shells) == 1 {
		return true
	}
	if len(m.shells) > mostShells {
		return false
	}
	_, top := m.connected()
	at := map[int32]int{}
	for i, v := range m.shells {
		at[top(v)] = i
	}
	corners := make([][]r3.Vec, len(m.shells))
	sign := make([]float64, len(m.shells))
	for _, t := range m.T {
		k := at[top(t[0])]
		a, b, c := m.V[t[0]], m.V[t[1]], m.V[t[2]]
		corners[k] = append(corners[k], a, b, c)
		sign[k] += dot(sub(a, m.lo), cross(sub(b, m.lo), sub(c, m.lo)))
	}
	parts := make([]Piece, len(m.shells))
	for i := range parts {
		part, err := NewMesh(corners[i])
		if err != nil || !part.Closed {
			return false
		}
		parts[i] = part.Piece()
		sign[i] = math.Copysign(1, sign[i])
	}
	near := func(i, k int) bool {
		a, b := parts[i].Mesh, parts[k].Mesh
		return i != k && a.lo.X <= b.hi.X && a.lo.Y <= b.hi.Y && a.lo.Z <= b.hi.Z && b.lo.X <= a.hi.X && b.lo.Y <= a.hi.Y && b.lo.Z <= a.hi.Z
	}
	var s Scratch
	var r Result
	for i := range parts {
		parts[i].Mesh.Closed = false // only their surfaces count here
	}
	for i := range parts {
		for k := range i {
			if near(i, k) {
				if s.Gap(&parts[i], &parts[k], &r); r.Gap < -crossed {
					return false
				}
			}
		}
	}
	for i := range parts {
		parts[i].Mesh.Closed = true
	}
	for i := range parts {
		round := 0.0 // how often what is just outside the part lies in others
		for k := range parts {
			if near(i, k) && parts[k].Mesh.Holds(parts[i].Mesh.V[0]) {
				round += sign[k]
			}
		}
		if in := round + sign[i]; round < 0 || round > 1 || in < 0 || in > 1 {
			return false
		}
	}
	return true
}
