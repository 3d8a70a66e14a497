package shape

import (
	"errors"
	"math"
)

// ErrOutline is returned for an outline that is no simple polygon with an area.
var ErrOutline = errors.New("shape: the outline crosses itself or has no area")

type pt = [2]float64

// orient is twice the signed area of the triangle a b c: positive anticlockwise.
func orient(a, b, c pt) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// PolygonArea returns the signed area of a closed outline: positive anticlockwise, in the square of the outline's unit.
func PolygonArea(outline [][2]float64) float64 {
	var two float64
	for i := 1; i+1 < len(outline); i++ {
		two += orient(outline[0], outline[i], outline[i+1])
	}
	return two / 2
}

// SimplePolygon reports the first two edges of a closed outline that cross or touch (edge i runs from corner i to the
// next one); ok where none does. Two edges that follow each other may only share their corner. Fewer than three corners, a corner
// twice or one that is not a number is not simple.
func SimplePolygon(outline [][2]float64) (i, j int, ok bool) {
	n := len(outline)
	if n < 3 {
		return 0, max(n-1, 0), false
	}
	for i, p := range outline {
		if s := p[0] + p[1]; math.IsNaN(s) || math.IsInf(s, 0) {
			return i, (i + n - 1) % n, false
		}
	}
	for i := 0; i < n; i++ {
		a, b := outline[i], outline[(i+1)%n]
		if a == b {
			return i, (i + 1) % n, false
		}
		for j := i + 1; j < n; j++ {
			c, d := outline[j], outline[(j+1)%n]
			switch {
			case j == i+1:
				if foldsBack(a, b, d) {
					return i, j, false
				}
			case (j+1)%n == i:
				if foldsBack(c, a, b) {
					return i, j, false
				}
			default:
				if edgesMeet(a, b, c, d) {
					return i, j, false
				}
			}
		}
	}
	return 0, 0, true
}

// foldsBack reports whether the edge b c runs back over a b.
func foldsBack(a, b, c pt) bool {
	return orient(a, b, c) == 0 && (a[0]-b[0])*(c[0]-b[0])+(a[1]-b[1])*(c[1]-b[1]) > 0
}

// edgesMeet reports whether two closed edges share a point.
func edgesMeet(a, b, c, d pt) bool {
	o1, o2 := orient(a, b, c), orient(a, b, d)
	o3, o4 := orient(c, d, a), orient(c, d, b)
	if (o1 > 0 && o2 < 0 || o1 < 0 && o2 > 0) && (o3 > 0 && o4 < 0 || o3 < 0 && o4 > 0) {
		return true
	}
	return o1 == 0 && onEdge(a, b, c) || o2 == 0 && onEdge(a, b, d) || o3 == 0 && onEdge(c, d, a) || o4 == 0 && onEdge(c, d, b)
}

// onEdge reports whether p, known to be in line with a b, lies between them.
func onEdge(a, b, p pt) bool {
	return math.Min(a[0], b[0]) <= p[0] && p[0] <= math.Max(a[0], b[0]) &&
		math.Min(a[1], b[1]) <= p[1] && p[1] <= math.Max(a[1], b[1])
}

// Convexes cuts a simple polygon into convex pieces that share no more than edges: triangles by clipping ears, then joined across every diagonal
// whose two corners stay convex (Hertel and Mehlhorn, "Fast triangulation of simple polygons", FCT 1983). The pieces run anticlockwise, without
// corners on straight edges. An outline that crosses itself or has no area is refused with ErrOutline.
func Convexes(outline [][2]float64) ([][][2]float64, error) {
	p, tris, err := triangles(outline)
	if err != nil {
		return nil, err
	}
	loops := merge(p, tris)
	out := make([][][2]float64, 0, len(loops))
	for _, l := range loops {
		var c [][2]float64
		for _, i := range l {
			c = append(c, p[i])
		}
		if c = straighten(c); len(c) >= 3 {
			out = append(out, c)
		}
	}
	return out, nil
}

// triangles cuts a simple polygon into triangles of its corners, anticlockwise, those on straight edges left out; ErrOutline as for Convexes.
func triangles(outline [][2]float64) (p []pt, tris [][3]int, err error) {
	if _, _, ok := SimplePolygon(outline); !ok {
		return nil, nil, ErrOutline
	}
	area := PolygonArea(outline)
	if area == 0 {
		return nil, nil, ErrOutline
	}
	p = make([]pt, 0, len(outline))
	for i := range outline {
		k := i
		if area < 0 {
			k = len(outline) - 1 - i
		}
		p = append(p, outline[k])
	}
	p = straighten(p)
	if len(p) < 3 {
		return nil, nil, ErrOutline
	}
	tris, ok := ears(p)
	if !ok {
		return nil, nil, ErrOutline
	}
	return p, tris, nil
}

// straighten leaves out corners on straight edges (within 1e-12 of the edges' product), the straightest first so that a row of them goes whole.
func straighten(p []pt) []pt {
	q := append([]pt(nil), p...)
	for len(q) > 3 {
		at, least := -1, 1e-12
		for i := range q {
			a, b, c := q[(i+len(q)-1)%len(q)], q[i], q[(i+1)%len(q)]
			l := math.Hypot(b[0]-a[0], b[1]-a[1]) * math.Hypot(c[0]-b[0], c[1]-b[1])
			if s := math.Abs(orient(a, b, c)); s <= least*l {
				at, least = i, s/l
			}
		}
		if at < 0 {
			break
		}
		q = append(q[:at], q[at+1:]...)
	}
	return q
}

// ears cuts an anticlockwise simple polygon into triangles of corner indices. Of the ears there are, the one with the largest smallest height is cut,
// so that needles come last.
func ears(p []pt) (tris [][3]int, ok bool) {
	idx := make([]int, len(p))
	known := make([]ear, len(p)) // by corner
	for i := range idx {
		idx[i] = i
		known[i].stale = true
	}
	gone := make([]bool, len(p))
	for len(idx) > 3 {
		at, best := -1, 0.0
		for k, c := range idx {
			e := &known[c]
			if e.stale || e.by >= 0 && gone[e.by] {
				*e = earAt(p, idx, k)
			}
			if e.by < 0 && e.height > best {
				at, best = k, e.height
			}
		}
		if at >= 0 {
			tris = append(tris, [3]int{idx[(at+len(idx)-1)%len(idx)], idx[at], idx[(at+1)%len(idx)]})
		} else {
			// Only corners in line are left to cut (a diagonal ran along an edge): one of them goes without a triangle.
			for k := range idx {
				if orient(p[idx[(k+len(idx)-1)%len(idx)]], p[idx[k]], p[idx[(k+1)%len(idx)]]) == 0 {
					at = k
					break
				}
			}
			if at < 0 {
				return nil, false
			}
		}
		gone[idx[at]] = true
		known[idx[(at+len(idx)-1)%len(idx)]].stale = true
		known[idx[(at+1)%len(idx)]].stale = true
		idx = append(idx[:at], idx[at+1:]...)
	}
	if orient(p[idx[0]], p[idx[1]], p[idx[2]]) > 0 {
		tris = append(tris, [3]int{idx[0], idx[1], idx[2]})
	}
	return tris, true
}

// ear is what is known of a corner: the least height of its triangle (0 where it turns the wrong way), and a corner that lies in the
// triangle or on its cut, -1 where there is none. It holds until a neighbour or that corner goes.
type ear struct {
	height float64
	by     int
	stale  bool
}

func earAt(p []pt, idx []int, k int) ear {
	n := len(idx)
	ia, ib, ic := idx[(k+n-1)%n], idx[k], idx[(k+1)%n]
	a, b, c := p[ia], p[ib], p[ic]
	o := orient(a, b, c)
	if o <= 0 {
		return ear{by: -1}
	}
	for _, i := range idx {
		if i == ia || i == ib || i == ic {
			continue
		}
		q := p[i]
		if orient(a, b, q) >= 0 && orient(b, c, q) >= 0 && orient(c, a, q) >= 0 {
			return ear{by: i}
		}
	}
	long := math.Max(math.Hypot(a[0]-b[0], a[1]-b[1]), math.Max(math.Hypot(b[0]-c[0], b[1]-c[1]), math.Hypot(c[0]-a[0], c[1]-a[1])))
	return ear{height: o / long, by: -1}
}

// merge joins triangles across their shared edges while the pieces stay convex.
func merge(p []pt, tris [][3]int) [][]int {
	loops := make([][]int, len(tris))
	for i, t := range tris {
		loops[i] = []int{t[0], t[1], t[2]}
	}
	for i := 0; i < len(loops); i++ {
		for j := i + 1; j < len(loops); j++ {
			if m, ok := join(p, loops[i], loops[j]); ok {
				loops[i] = m
				loops = append(loops[:j], loops[j+1:]...)
				j = i // the larger piece may now take one it could not before
			}
		}
	}
	return loops
}

// join returns the loop of two anticlockwise convex loops that share an edge, where it is convex.
func join(p []pt, a, b []int) ([]int, bool) {
	for i := range a {
		u, v := a[i], a[(i+1)%len(a)]
		for j := range b {
			if b[j] != v || b[(j+1)%len(b)] != u {
				continue
			}
			var m []int
			for k := 0; k < len(a); k++ { // from v round to u
				m = append(m, a[(i+1+k)%len(a)])
			}
			for k := 1; k+1 < len(b); k++ { // then b's other corners, from u to v
				m = append(m, b[(j+1+k)%len(b)])
			}
			for k := range m {
				if orient(p[m[(k+len(m)-1)%len(m)]], p[m[k]], p[m[(k+1)%len(m)]]) < 0 {
					return nil, false
				}
			}
			return m, true
		}
	}
	return nil, false
}
