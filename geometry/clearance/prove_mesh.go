package clearance

import (
	"slices"

	"axleloft/geometry/shape"
)

// For the proof a mesh is one ball round all of it, then two balls, and so on down to its triangles, each a convex piece as any other: a bound on a ball's gap is one on the gap of all
// within. Triangles only tell of touching the surface. That nothing lies inside a closed mesh follows where they do not: the range hangs together, so what is outside at one position and never touches
// the surface is outside at all. Where they do touch, or may, prove_sink.go bounds how deep one lies in the other.
type meshPart struct {
	whole         shape.Piece // the mesh
	first, second int32       // nodes of its tree below this one; -1 below a triangle
	kids          int32       // index of the pieces made of those two; 0: not made yet
}

// meshed reports whether a list of pieces has a mesh, and whether that is a closed one.
func meshed(list []piece) (has, closed bool) {
	for i := range list {
		if p := list[i].of; p != nil && p.Kind == shape.Surface {
			has, closed = true, closed || p.Mesh.Closed
		}
	}
	return has, closed
}

// roots is a list of pieces with the top ball of every mesh in the mesh's place, in a list that can grow.
func roots(list []piece) []piece {
	list = slices.Clone(list)
	for i := range list {
		if k := &list[i]; k.of != nil && k.of.Kind == shape.Surface {
			list[i] = node(k.sort, *k.of, 0)
		}
	}
	return list
}

func node(of sort, whole shape.Piece, n int32) piece {
	part, first, second := whole.Below(n)
	k := piece{sort: of, of: &part, in: &meshPart{whole: whole, first: first, second: second}}
	k.corners()
	return k
}

// open makes the two pieces below piece i of a list, if that has not been done, and returns the first one's index.
func open(list *[]piece, i int32) int32 {
	in := (*list)[i].in
	if in.kids == 0 {
		of := (*list)[i].sort
		in.kids = int32(len(*list))
		*list = append(*list, node(of, in.whole, in.first), node(of, in.whole, in.second))
	}
	return in.kids
}

// coarse is the radius of the ball that stands for part of a mesh, mm; 0 of any other piece.
func (k *piece) coarse() float64 {
	if k.in == nil || k.in.first < 0 {
		return 0
	}
	return k.of.Radius - k.in.whole.Radius
}
