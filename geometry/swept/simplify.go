package swept

import "math"

// knot is a corner of a loop on its way to fewer.
type knot struct {
	p          [2]float64
	prev, next int32
	off        float64 // mm: how far the side that begins here may lie from the loop as it was
	gone       bool
}

// simplify leaves corners out of loops that have what is taken on their left, and moves others, so that what is taken only grows: nowhere by more than tolerance, nor so that loops would meet. It returns by how much at
// most. The loops are changed in place.
func simplify(loops [][][2]float64, tolerance float64) (moved float64) {
	if !(tolerance > 0) {
		return 0
	}
	var k []knot
	first := make([]int32, len(loops))
	for i, l := range loops {
		first[i] = int32(len(k))
		n := int32(len(l))
		for j, p := range l {
			at := first[i]
			k = append(k, knot{p: p, prev: at + (int32(j)+n-1)%n, next: at + (int32(j)+1)%n})
		}
	}
	left := make([]int, len(loops))
	for i, l := range loops {
		left[i] = len(l)
	}
	for _, share := range [4]float64{0.1, 0.3, 0.6, 1} { // the least harm first
		for changed := true; changed; {
			changed = false
			for i, start := range first {
				end := start + int32(len(loops[i]))
				for b := start; b < end; b++ {
					if k[b].gone || left[i] <= 3 {
						continue
					}
					if takeOut(k, b, share*tolerance) || widen(k, b, share*tolerance) {
						left[i]--
						changed = true
					}
				}
			}
		}
	}
	for i, start := range first {
		out := loops[i][:0]
		for b := start; b < start+int32(len(loops[i])); b++ {
			if !k[b].gone {
				out = append(out, k[b].p)
				moved = math.Max(moved, k[b].off)
			}
		}
		loops[i] = out
	}
	return moved
}

// turn is positive where c lies to the left of the line from a to b: twice the triangle's area.
func turn(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (c[0]-a[0])*(b[1]-a[1])
}

func long(a, b [2]float64) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

// takeOut leaves out a corner that points inwards.
func takeOut(k []knot, b int32, most float64) bool {
	a, c := k[b].prev, k[b].next
	pa, pb, pc := k[a].p, k[b].p, k[c].p
	t, side := turn(pa, pb, pc), long(pa, pc)
	if t > 0 || !(side > 0) {
		return false
	}
	off := math.Max(k[a].off, k[b].off) - t/side
	if off > most || (pb[0]-pa[0])*(pc[0]-pa[0])+(pb[1]-pa[1])*(pc[1]-pa[1]) < 0 || (pb[0]-pc[0])*(pa[0]-pc[0])+(pb[1]-pc[1])*(pa[1]-pc[1]) < 0 || !empty(k, pa, pc, pb, a, b, c, -1) {
		return false
	}
	k[a].next, k[c].prev, k[a].off = c, a, off
	k[b].gone = true
	return true
}

// widen replaces the side from b on by the corner in which the sides before and after it meet.
func widen(k []knot, b int32, most float64) bool {
	a, c := k[b].prev, k[b].next
	d := k[c].next
	if a == c || a == d {
		return false
	}
	pa, pb, pc, pd := k[a].p, k[b].p, k[c].p, k[d].p
	if turn(pa, pb, pc) <= 0 || turn(pb, pc, pd) <= 0 {
		return false
	}
	// from b on along a to b, and back from c along d to c
	u, v := [2]float64{pb[0] - pa[0], pb[1] - pa[1]}, [2]float64{pd[0] - pc[0], pd[1] - pc[1]}
	den := u[0]*v[1] - u[1]*v[0]
	if !(den > 1e-9*long(pa, pb)*long(pc, pd)) {
		return false
	}
	t := ((pc[0]-pb[0])*v[1] - (pc[1]-pb[1])*v[0]) / den
	p := [2]float64{pb[0] + t*u[0], pb[1] + t*u[1]}
	h := -turn(pb, pc, p) / long(pb, pc)
	off := math.Max(k[a].off, math.Max(k[b].off+h, k[c].off))
	if !(t > 0) || !(h >= 0) || off > most || !empty(k, pb, p, pc, a, b, c, d) || crossed(k, pb, p, a, b, c) || crossed(k, p, pc, b, c, -1) {
		return false
	}
	k[b].p, k[b].next, k[d].prev = p, d, b
	k[a].off, k[b].off = math.Max(k[a].off, k[b].off+h), math.Max(k[c].off, k[b].off+h)
	k[c].gone = true
	return true
}

// empty reports whether no corner but those named lies in a triangle.
func empty(k []knot, p, q, r [2]float64, but ...int32) bool {
	x0, x1 := min(p[0], q[0], r[0]), max(p[0], q[0], r[0])
	y0, y1 := min(p[1], q[1], r[1]), max(p[1], q[1], r[1])
search:
	for i := range k {
		x := k[i].p
		if k[i].gone || x[0] < x0 || x[0] > x1 || x[1] < y0 || x[1] > y1 {
			continue
		}
		for _, n := range but {
			if int32(i) == n {
				continue search
			}
		}
		s, t, u := turn(p, q, x), turn(q, r, x), turn(r, p, x)
		if s >= 0 && t >= 0 && u >= 0 || s <= 0 && t <= 0 && u <= 0 {
			return false
		}
	}
	return true
}

// crossed reports whether a side that begins at none of the corners named meets the line from p to q.
func crossed(k []knot, p, q [2]float64, but ...int32) bool {
	x0, x1 := min(p[0], q[0]), max(p[0], q[0])
	y0, y1 := min(p[1], q[1]), max(p[1], q[1])
search:
	for i := range k {
		if k[i].gone {
			continue
		}
		a, b := k[i].p, k[k[i].next].p
		if max(a[0], b[0]) < x0 || min(a[0], b[0]) > x1 || max(a[1], b[1]) < y0 || min(a[1], b[1]) > y1 {
			continue
		}
		for _, n := range but {
			if int32(i) == n {
				continue search
			}
		}
		if turn(p, q, a)*turn(p, q, b) <= 0 && turn(a, b, p)*turn(a, b, q) <= 0 {
			return true
		}
	}
	return false
}
