package shape

import (
	"errors"
	"fmt"
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mesh is a surface of triangles. Read-only after it is made, so it may be shared by goroutines.
type Mesh struct {
	V []r3.Vec   // corners, each once, mm
	T [][3]int32 // triangles; of a closed mesh anticlockwise seen from outside

	Holes  int  // edges that lack a triangle on one side
	Turned int  // edges whose two triangles do not face the same side
	Closed bool // neither, and there is room inside

	border []edge  // every edge once
	six    float64 // six times the volume within
	lo, hi r3.Vec
	shells []int32 // a corner of each connected part
	tree   []ballNode
	once   sync.Once // for single
	single bool      // see Single
}

// edge is an edge and the triangles at it: one that runs it from p to q and one that runs it back, -1 where there is none.
type edge struct{ p, q, there, back int32 }

// weld: corners nearer than this are one, mm (at 2 m from the origin the numbers of a binary file are 1e-4 mm apart).
const weld = 1e-3

// NewMesh makes a mesh of triangles, three corners each. A triangle that is only a line or a point is left out. Corners nearer than 0.001 mm become one. A closed
// mesh that faces inwards is turned over. The error is a plain sentence.
func NewMesh(corners []r3.Vec) (*Mesh, error) {
	if len(corners) < 3 {
		return nil, errors.New("It holds no triangles. Write it again from the program that drew it.")
	}
	if n := len(corners) / 3; n > MaxTriangles {
		return nil, tooMany(n)
	}
	for i, p := range corners {
		switch far := math.Max(math.Abs(p.X), math.Max(math.Abs(p.Y), math.Abs(p.Z))); {
		case math.IsNaN(p.X + p.Y + p.Z):
			return nil, fmt.Errorf("Triangle %d has a corner that is no number. Write the file again.", i/3+1)
		case far > meshReach:
			return nil, fmt.Errorf("Triangle %d has a corner more than 100 m from the origin. Write the file in mm, in the vehicle's own axes.", i/3+1)
		}
	}
	m := &Mesh{}
	m.weld(corners)
	if len(m.T) == 0 {
		return nil, errors.New("None of its triangles has an area. Write it again from the program that drew it.")
	}
	m.edges()
	m.finish()
	return m, nil
}

// finish works out the rest, once corners, triangles and edges are known.
func (m *Mesh) finish() {
	m.lo, m.hi = m.V[0], m.V[0]
	for _, p := range m.V {
		m.lo = r3.Vec{X: math.Min(m.lo.X, p.X), Y: math.Min(m.lo.Y, p.Y), Z: math.Min(m.lo.Z, p.Z)}
		m.hi = r3.Vec{X: math.Max(m.hi.X, p.X), Y: math.Max(m.hi.Y, p.Y), Z: math.Max(m.hi.Z, p.Z)}
	}
	o := scale(0.5, add(m.lo, m.hi))
	m.six = 0
	for _, t := range m.T {
		m.six += dot(sub(m.V[t[0]], o), cross(sub(m.V[t[1]], o), sub(m.V[t[2]], o)))
	}
	size := norm(sub(m.hi, m.lo))
	if m.Closed = m.Holes == 0 && m.Turned == 0 && math.Abs(m.six) > 1e-9*size*size*size; m.Closed && m.six < 0 {
		for i := range m.T {
			m.T[i][1], m.T[i][2] = m.T[i][2], m.T[i][1]
		}
		m.six = -m.six
	}
	m.parts()
	m.plant()
}

// Volume is what a closed mesh holds, mm3; ok is false where it is not closed. What lies in it twice counts twice (Single).
func (m *Mesh) Volume() (mm3 float64, ok bool) { return m.six / 6, m.Closed }

// Bounds returns the smallest box along the mesh's own axes that holds it, mm.
func (m *Mesh) Bounds() (lo, hi r3.Vec) { return m.lo, m.hi }

// Piece returns the mesh as a piece of a solid.
func (m *Mesh) Piece() Piece { return Piece{Kind: Surface, Mesh: m} }

// Mirrored returns the mesh mirrored in the plane Y = 0, its triangles turned over so that they face outwards again.
func (m *Mesh) Mirrored() *Mesh {
	c := &Mesh{V: make([]r3.Vec, len(m.V)), T: make([][3]int32, len(m.T)), border: m.border, Holes: m.Holes, Turned: m.Turned}
	for i, p := range m.V {
		c.V[i] = r3.Vec{X: p.X, Y: 0 - p.Y, Z: p.Z}
	}
	for i, t := range m.T {
		c.T[i] = [3]int32{t[0], t[2], t[1]}
	}
	c.finish()
	return c
}

// weld fills corners and triangles: first what is exactly alike becomes one, then what is nearer than weld to an earlier one.
func (m *Mesh) weld(corners []r3.Vec) {
	exact := make(map[r3.Vec]int32, len(corners)/4)
	var first []r3.Vec
	of := make([]int32, len(corners))
	for i, p := range corners {
		p = add(p, r3.Vec{}) // no negative zero
		k, ok := exact[p]
		if !ok {
			k = int32(len(first))
			exact[p] = k
			first = append(first, p)
		}
		of[i] = k
	}
	// A corner lies in one cell of a grid of four times weld; who is nearer than weld lies in that or in the next on the nearer side of each axis.
	const cell = 4 * weld
	grid := make(map[[3]int64][]int32, len(first))
	same := make([]int32, len(first))
	for i, p := range first {
		var at, by [3]int64
		for k, x := range [3]float64{p.X, p.Y, p.Z} {
			f := math.Floor(x / cell)
			at[k] = int64(f)
			switch rest := x/cell - f; {
			case rest < 0.25:
				by[k] = -1
			case rest > 0.75:
				by[k] = 1
			}
		}
		same[i] = -1
	search:
		for n := range 8 {
			key := at
			for k := range key {
				if n>>k&1 == 1 {
					if by[k] == 0 {
						continue search
					}
					key[k] += by[k]
				}
			}
			for _, k := range grid[key] {
				if norm(sub(m.V[k], p)) < weld {
					same[i] = k
					break search
				}
			}
		}
		if same[i] < 0 {
			same[i] = int32(len(m.V))
			m.V = append(m.V, p)
			grid[at] = append(grid[at], same[i])
		}
	}
	for i := 0; i+2 < len(of); i += 3 {
		t := [3]int32{same[of[i]], same[of[i+1]], same[of[i+2]]}
		if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
			m.T = append(m.T, t)
		}
	}
}

// edges lists the edges and counts what keeps the mesh from being closed: every edge must be run as often one way as the other.
func (m *Mesh) edges() {
	type runs struct{ there, back int32 }
	of := make(map[[2]int32]int32, 3*len(m.T)/2)
	var list []runs
	for i, t := range m.T {
		for k := range 3 {
			p, q := t[k], t[(k+1)%3]
			key := [2]int32{min(p, q), max(p, q)}
			n, known := of[key]
			if !known {
				n = int32(len(list))
				of[key] = n
				list = append(list, runs{})
				m.border = append(m.border, edge{key[0], key[1], -1, -1})
			}
			r := &list[n]
			if p < q {
				r.there++
				m.border[n].there = int32(i)
			} else {
				r.back++
				m.border[n].back = int32(i)
			}
		}
	}
	for _, r := range list {
		switch {
		case r.there == r.back:
		case (r.there+r.back)%2 == 0:
			m.Turned++
		default:
			m.Holes++
		}
	}
}

// connected joins the corners of each connected part; top is one corner that stands for a part.
func (m *Mesh) connected() (used []bool, top func(int32) int32) {
	up := make([]int32, len(m.V))
	for i := range up {
		up[i] = int32(i)
	}
	top = func(i int32) int32 {
		for up[i] != i {
			up[i] = up[up[i]]
			i = up[i]
		}
		return i
	}
	for _, t := range m.T {
		a, b, c := top(t[0]), top(t[1]), top(t[2])
		lowest := min(a, b, c)
		up[a], up[b], up[c] = lowest, lowest, lowest
	}
	used = make([]bool, len(m.V))
	for _, t := range m.T {
		used[t[0]] = true
	}
	return used, top
}

// parts finds a corner of each connected part.
func (m *Mesh) parts() {
	used, top := m.connected()
	m.shells = nil
	seen := make(map[int32]bool)
	for i := range m.V {
		if k := top(int32(i)); used[i] && !seen[k] {
			seen[k] = true
			m.shells = append(m.shells, int32(i))
		}
	}
}
