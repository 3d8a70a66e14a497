package shape

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Hull is a convex polytope. Read-only after it is made, so it may be shared by goroutines.
type Hull struct {
	V         []r3.Vec   // vertices
	N         []r3.Vec   // unit outward face normals
	Faces     [][]int32  // faces as vertex loops, anticlockwise seen from outside
	E         []r3.Vec   // unit edge directions, each once (not also its reverse)
	Edges     [][2]int32 // edges as vertex pairs
	EdgeFaces [][2]int32 // the two faces at each edge

	centre r3.Vec  // of a ball round the vertices
	reach  float64 // its radius
}

// ErrFlat is returned for points that span no volume.
var ErrFlat = errors.New("shape: the points span no volume")

// sameDir: directions whose sine is below this are one direction (1e-9 rad over 10 m is 1e-5 mm, and only doubles a candidate).
const sameDir = 1e-9

// hullOf finishes a hull whose vertices and outward face loops are known.
func hullOf(v []r3.Vec, faces [][]int32) *Hull {
	h := &Hull{V: v, Faces: faces}
	at := map[[2]int32]int{}
	for f, loop := range faces {
		h.N = append(h.N, loopNormal(v, loop))
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			key := [2]int32{min(p, q), max(p, q)}
			if k, ok := at[key]; ok {
				h.EdgeFaces[k][1] = int32(f)
				continue
			}
			at[key] = len(h.Edges)
			h.Edges = append(h.Edges, key)
			h.EdgeFaces = append(h.EdgeFaces, [2]int32{int32(f), int32(f)})
			d := sub(v[q], v[p])
			d = scale(1/norm(d), d)
			fresh := true
			for _, e := range h.E {
				if norm(cross(e, d)) < sameDir {
					fresh = false
					break
				}
			}
			if fresh {
				h.E = append(h.E, d)
			}
		}
	}
	lo, hi := v[0], v[0]
	for _, p := range v {
		lo = r3.Vec{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y), Z: math.Min(lo.Z, p.Z)}
		hi = r3.Vec{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y), Z: math.Max(hi.Z, p.Z)}
	}
	h.centre = scale(0.5, add(lo, hi))
	for _, p := range v {
		h.reach = math.Max(h.reach, norm(sub(p, h.centre)))
	}
	return h
}

// loopNormal is the unit normal of a loop by Newell's sum, which forgives a corner a little out of plane.
func loopNormal(v []r3.Vec, loop []int32) r3.Vec {
	var n r3.Vec
	o := v[loop[0]]
	for i := 1; i+1 < len(loop); i++ {
		n = add(n, cross(sub(v[loop[i]], o), sub(v[loop[i+1]], o)))
	}
	return scale(1/norm(n), n)
}

// Facets is the hull's surface, three corners a triangle.
func (h *Hull) Facets() []r3.Vec {
	var out []r3.Vec
	for _, loop := range h.Faces {
		for i := 1; i+1 < len(loop); i++ {
			out = append(out, h.V[loop[0]], h.V[loop[i]], h.V[loop[i+1]])
		}
	}
	return out
}

// Volume returns the volume of the hull, mm3.
func (h *Hull) Volume() float64 {
	var six float64
	for _, loop := range h.Faces {
		o := sub(h.V[loop[0]], h.centre)
		for i := 1; i+1 < len(loop); i++ {
			six += dot(o, cross(sub(h.V[loop[i]], h.centre), sub(h.V[loop[i+1]], h.centre)))
		}
	}
	return six / 6
}
