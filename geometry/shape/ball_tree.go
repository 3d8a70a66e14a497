package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// ballNode is a ball round the triangles below it; its first child follows it.
type ballNode struct {
	centre r3.Vec
	reach  float64
	other  int32 // the second child
	tri    int32 // the triangle of a leaf; -1
}

// plant builds the tree of balls: triangles are halved by the middles along the longest side of their box.
func (m *Mesh) plant() {
	mid := make([]r3.Vec, len(m.T))
	list := make([]int32, len(m.T))
	for i, t := range m.T {
		mid[i] = scale(1.0/3, add(m.V[t[0]], add(m.V[t[1]], m.V[t[2]])))
		list[i] = int32(i)
	}
	m.tree = make([]ballNode, 0, 2*len(m.T)-1)
	m.grow(list, mid)
}

func (m *Mesh) grow(list []int32, mid []r3.Vec) int32 {
	at := int32(len(m.tree))
	first := m.V[m.T[list[0]][0]]
	lo, hi := first, first
	for _, i := range list {
		for _, k := range m.T[i] {
			p := m.V[k]
			lo = r3.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y), Z: min(lo.Z, p.Z)}
			hi = r3.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y), Z: max(hi.Z, p.Z)}
		}
	}
	n := ballNode{centre: scale(0.5, add(lo, hi)), tri: -1}
	for _, i := range list {
		for _, k := range m.T[i] {
			d := sub(m.V[k], n.centre)
			n.reach = max(n.reach, dot(d, d))
		}
	}
	n.reach = math.Sqrt(n.reach) * (1 + 1e-12)
	if len(list) == 1 {
		n.tri = list[0]
		m.tree = append(m.tree, n)
		return at
	}
	m.tree = append(m.tree, n)
	side := sub(hi, lo)
	half := len(list) / 2
	switch {
	case side.X >= side.Y && side.X >= side.Z:
		halve(list, half, func(i int32) float64 { return mid[i].X })
	case side.Y >= side.Z:
		halve(list, half, func(i int32) float64 { return mid[i].Y })
	default:
		halve(list, half, func(i int32) float64 { return mid[i].Z })
	}
	m.grow(list[:half], mid)
	other := m.grow(list[half:], mid)
	m.tree[at].other = other
	return at
}

// halve puts the k smallest first (Hoare's selection, the middle one of three as the pivot).
func halve(list []int32, k int, key func(int32) float64) {
	lo, hi := 0, len(list)-1
	for lo < hi {
		a, b, c := key(list[lo]), key(list[(lo+hi)/2]), key(list[hi])
		pivot := max(min(a, b), min(max(a, b), c))
		i, j := lo, hi
		for i <= j {
			for key(list[i]) < pivot {
				i++
			}
			for key(list[j]) > pivot {
				j--
			}
			if i <= j {
				list[i], list[j] = list[j], list[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return
		}
	}
}

// facet is room for one triangle as a flat polytope.
type facet struct{ hull Hull }

// set fills the facet with triangle i. Its faces are the two sides and, so that the directions in which an edge can be touched are quarter circles, a face of no
// width at each edge.
func (f *facet) set(m *Mesh, i int32) *Hull {
	h := &f.hull
	if h.V == nil {
		h.V, h.N, h.E = make([]r3.Vec, 3), make([]r3.Vec, 5), make([]r3.Vec, 3)
		h.Edges = [][2]int32{{0, 1}, {0, 1}, {1, 2}, {1, 2}, {2, 0}, {2, 0}}
		h.EdgeFaces = [][2]int32{{0, 2}, {2, 1}, {0, 3}, {3, 1}, {0, 4}, {4, 1}}
	}
	node := m.T[i]
	for k := range h.V {
		h.V[k] = m.V[node[k]]
	}
	n := cross(sub(h.V[1], h.V[0]), sub(h.V[2], h.V[0]))
	l := norm(n)
	if l > 1e-12*dot(sub(h.V[1], h.V[0]), sub(h.V[1], h.V[0])) {
		n = scale(1/l, n)
	} else {
		n = square(sub(h.V[1], h.V[0]))
	}
	h.N[0], h.N[1] = n, scale(-1, n)
	h.centre = scale(1.0/3, add(h.V[0], add(h.V[1], h.V[2])))
	h.reach = 0
	for k := range h.V {
		e := sub(h.V[(k+1)%3], h.V[k])
		h.E[k] = scale(1/norm(e), e)
		out := cross(h.E[k], n)
		h.N[2+k] = scale(1/norm(out), out)
		h.reach = max(h.reach, norm(sub(h.V[k], h.centre)))
	}
	return h
}

// Below returns what a mesh is made of at a node of its tree, 0 the top one: a ball round all below it and its two children or, with no children (-1), a triangle as a flat
// polytope of its own.
func (p *Piece) Below(node int32) (part Piece, first, second int32) {
	n := &p.Mesh.tree[node]
	if n.tri >= 0 {
		f := &facet{}
		part = Piece{Kind: Polytope, Radius: p.Radius, Hull: f.set(p.Mesh, n.tri)}
		first, second = -1, -1
	} else {
		part = Piece{Kind: Point, Radius: p.Radius + n.reach, A: n.centre}
		first, second = node+1, n.other
	}
	if p.Moved {
		part.Place(p.Shift, p.Ex, p.Ey, p.Ez, &part)
	}
	return part, first, second
}

// furthest returns the corner furthest along d.
func (m *Mesh) furthest(d r3.Vec) int32 {
	l := norm(d)
	best, at := math.Inf(-1), m.T[0][0]
	var wait [most]open
	n := 1
	wait[0] = open{0, math.Inf(1)}
	for n > 0 {
		n--
		o := wait[n]
		if o.bound < best {
			continue
		}
		node := &m.tree[o.node]
		if node.tri >= 0 {
			for _, k := range m.T[node.tri] {
				if t := dot(d, m.V[k]); t > best {
					best, at = t, k
				}
			}
			continue
		}
		c1, c2 := o.node+1, node.other
		b1, b2 := dot(d, m.tree[c1].centre)+l*m.tree[c1].reach, dot(d, m.tree[c2].centre)+l*m.tree[c2].reach
		if b1 > b2 {
			c1, c2, b1, b2 = c2, c1, b2, b1
		}
		wait[n], wait[n+1] = open{c1, b1}, open{c2, b2}
		n += 2
	}
	return at
}
