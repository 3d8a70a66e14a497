package shape

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// NewHull returns the convex hull of points as a polytope. Points that span no volume are refused with ErrFlat.
func NewHull(points []r3.Vec) (*Hull, error) {
	pts := points
	var lo, hi r3.Vec
	for i, p := range pts {
		if s := p.X + p.Y + p.Z; math.IsNaN(s) || math.IsInf(s, 0) {
			return nil, errors.New("shape: a point is not finite")
		}
		if i == 0 {
			lo, hi = p, p
		}
		lo = r3.Vec{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y), Z: math.Min(lo.Z, p.Z)}
		hi = r3.Vec{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y), Z: math.Max(hi.Z, p.Z)}
	}
	eps := 1e-10 * norm(sub(hi, lo)) // mm: nearer than this to a face counts as on it
	tet, ok := firstTetrahedron(pts, eps)
	if !ok {
		return nil, ErrFlat
	}
	inner := scale(0.25, add(add(pts[tet[0]], pts[tet[1]]), add(pts[tet[2]], pts[tet[3]])))
	type tri struct {
		v [3]int32
		n r3.Vec
		d float64
	}
	var tris []tri
	push := func(a, b, c int32) {
		n := cross(sub(pts[b], pts[a]), sub(pts[c], pts[a]))
		l := norm(n)
		if l == 0 {
			l = 1
		}
		n = scale(1/l, n)
		if dot(n, sub(inner, pts[a])) > 0 {
			b, c, n = c, b, scale(-1, n)
		}
		tris = append(tris, tri{[3]int32{a, b, c}, n, dot(n, pts[a])})
	}
	push(tet[0], tet[1], tet[2])
	push(tet[0], tet[1], tet[3])
	push(tet[0], tet[2], tet[3])
	push(tet[1], tet[2], tet[3])
	for i := range pts {
		rim := map[[2]int32]bool{}
		kept := tris[:0:0]
		for _, t := range tris {
			if dot(t.n, pts[i])-t.d <= eps {
				kept = append(kept, t)
				continue
			}
			for k := 0; k < 3; k++ {
				p, q := t.v[k], t.v[(k+1)%3]
				if rim[[2]int32{q, p}] {
					delete(rim, [2]int32{q, p})
				} else {
					rim[[2]int32{p, q}] = true
				}
			}
		}
		if len(rim) == 0 {
			continue
		}
		// By order of the old triangles, never of the map, so that the same points give the same hull.
		var order [][2]int32
		for _, t := range tris {
			for k := 0; k < 3; k++ {
				if e := [2]int32{t.v[k], t.v[(k+1)%3]}; rim[e] {
					order = append(order, e)
				}
			}
		}
		tris = kept
		for _, e := range order {
			push(e[0], e[1], int32(i))
		}
	}
	loops := make([][3]int32, len(tris))
	normals := make([]r3.Vec, len(tris))
	for i, t := range tris {
		loops[i], normals[i] = t.v, t.n
	}
	return mergeFaces(pts, loops, normals)
}

// firstTetrahedron picks four points far apart.
func firstTetrahedron(pts []r3.Vec, eps float64) (tet [4]int32, ok bool) {
	if len(pts) < 4 {
		return tet, false
	}
	far := func(f func(p r3.Vec) float64) int32 {
		best, at := -1.0, 0
		for i, p := range pts {
			if d := f(p); d > best {
				best, at = d, i
			}
		}
		return int32(at)
	}
	tet[0] = far(func(p r3.Vec) float64 { return norm(sub(p, pts[0])) })
	a := pts[tet[0]]
	tet[1] = far(func(p r3.Vec) float64 { return norm(sub(p, a)) })
	d := sub(pts[tet[1]], a)
	if norm(d) <= eps {
		return tet, false
	}
	d = scale(1/norm(d), d)
	tet[2] = far(func(p r3.Vec) float64 { return norm(cross(sub(p, a), d)) })
	n := cross(d, sub(pts[tet[2]], a))
	if norm(n) <= eps {
		return tet, false
	}
	n = scale(1/norm(n), n)
	tet[3] = far(func(p r3.Vec) float64 { return math.Abs(dot(sub(p, a), n)) })
	return tet, math.Abs(dot(sub(pts[tet[3]], a), n)) > eps
}

// mergeFaces joins the coplanar triangles of a closed convex surface into faces, drops corners that lie on a straight edge and renumbers.
func mergeFaces(pts []r3.Vec, tris [][3]int32, normals []r3.Vec) (*Hull, error) {
	owner := map[[2]int32]int{}
	for i, t := range tris {
		for k := 0; k < 3; k++ {
			owner[[2]int32{t[k], t[(k+1)%3]}] = i
		}
	}
	const coplanar = 1e-8 // rad between normals
	group := make([]int, len(tris))
	for i := range group {
		group[i] = -1
	}
	groups := 0
	for i := range tris {
		if group[i] >= 0 {
			continue
		}
		group[i] = groups
		stack := []int{i}
		for len(stack) > 0 {
			j := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for k := 0; k < 3; k++ {
				o, ok := owner[[2]int32{tris[j][(k+1)%3], tris[j][k]}]
				if ok && group[o] < 0 && norm(sub(normals[i], normals[o])) < coplanar {
					group[o] = groups
					stack = append(stack, o)
				}
			}
		}
		groups++
	}
	var loops [][]int32
	for g := 0; g < groups; g++ {
		next := map[int32]int32{}
		first, seen := int32(-1), false
		for i, t := range tris {
			if group[i] != g {
				continue
			}
			for k := 0; k < 3; k++ {
				p, q := t[k], t[(k+1)%3]
				if o, ok := owner[[2]int32{q, p}]; !ok || group[o] != g {
					next[p] = q
					if !seen {
						first, seen = p, true
					}
				}
			}
		}
		var loop []int32
		for p := first; len(loop) <= len(next); p = next[p] {
			if len(loop) > 0 && p == first {
				break
			}
			loop = append(loop, p)
		}
		loops = append(loops, loop)
	}
	// A vertex in fewer than three faces lies on an edge or in a face: leave it out.
	count := map[int32]int{}
	for _, l := range loops {
		for _, p := range l {
			count[p]++
		}
	}
	renum := map[int32]int32{}
	var v []r3.Vec
	for i := range pts {
		if count[int32(i)] >= 3 {
			renum[int32(i)] = int32(len(v))
			v = append(v, pts[i])
		}
	}
	var faces [][]int32
	for _, l := range loops {
		var f []int32
		for _, p := range l {
			if k, ok := renum[p]; ok {
				f = append(f, k)
			}
		}
		if len(f) >= 3 {
			faces = append(faces, f)
		}
	}
	if len(v) < 4 || len(faces) < 4 {
		return nil, ErrFlat
	}
	return hullOf(v, faces), nil
}
