package shape

import (
	"bufio"
	"encoding/binary"
	"errors"
	"io"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Sides is how many flats a circle of a radius is drawn with so that none lies further inside it than within, mm: a multiple of four from 24 to 256.
func Sides(radius, within float64) int {
	const least, most = 24, 256
	if !(within < radius) {
		return least
	}
	n := math.Ceil(math.Pi / math.Acos(1-within/radius) / 4)
	return int(math.Min(math.Max(4*n, least), most))
}

// PrismFacets is the surface of a simple polygon extruded from lo to hi, three corners a triangle; to3 as for NewPrism.
func PrismFacets(outline [][2]float64, lo, hi float64, to3 func(u, v, w float64) r3.Vec) ([]r3.Vec, error) {
	if !(lo < hi) {
		return nil, errors.New("shape: a prism needs its end beyond its start")
	}
	p, tris, err := triangles(outline)
	if err != nil {
		return nil, err
	}
	var out []r3.Vec
	for _, t := range tris {
		for _, k := range t {
			out = append(out, to3(p[k][0], p[k][1], hi))
		}
		for _, k := range [3]int{t[2], t[1], t[0]} {
			out = append(out, to3(p[k][0], p[k][1], lo))
		}
	}
	for i := range p {
		a, b := p[i], p[(i+1)%len(p)]
		out = quad(out, to3(a[0], a[1], lo), to3(b[0], b[1], lo), to3(b[0], b[1], hi), to3(a[0], a[1], hi))
	}
	return out, nil
}

// quad adds the two triangles of a quadrangle; one that is a line or a point is left out.
func quad(out []r3.Vec, a, b, c, d r3.Vec) []r3.Vec {
	if a != b && b != c && c != a {
		out = append(out, a, b, c)
	}
	if a != c && c != d && d != a {
		out = append(out, a, c, d)
	}
	return out
}

// BallFacets is the surface of a ball with so many flats round its middle, its corners on the ball.
func BallFacets(centre r3.Vec, radius float64, sides int) []r3.Vec {
	return PipeFacets([]r3.Vec{centre}, radius, sides)
}

// PipeFacets is the surface of a ball swept along a path, its corners on it: half balls at both ends, at a bend a slice of the ball on the outside and the
// runs' meeting on the inside. Where a run is too short for its bends, each run is a body of its own with half balls at its ends; these overlap.
func PipeFacets(path []r3.Vec, radius float64, sides int) []r3.Vec {
	path = withoutStraights(path)
	if !bendsFit(path, radius) {
		var out []r3.Vec
		for i := 1; i < len(path); i++ {
			out = append(out, PipeFacets(path[i-1:i+1], radius, sides)...)
		}
		return out
	}
	first, last := r3.Vec{X: 1}, r3.Vec{X: 1}
	if n := len(path); n > 1 {
		first, last = towards(sub(path[1], path[0])), towards(sub(path[n-1], path[n-2]))
	}
	k := piping{radius: radius, sides: sides}
	// The ring at the beginning of a run, seen as turning about it; at the first it is that of the first bend, wherever there is one.
	u := squareTo(first)
	if len(path) > 2 {
		u = towards(sub(towards(sub(path[2], path[1])), scale(dot(towards(sub(path[2], path[1])), first), first)))
	}
	now := k.ring(path[0], u, cross(first, u), 0, r3.Vec{})
	k.half(path[0], scale(-1, first), now, true)
	for i := 1; i+1 < len(path); i++ {
		now = k.bend(path[i], towards(sub(path[i], path[i-1])), towards(sub(path[i+1], path[i])), now)
	}
	if end := path[len(path)-1]; len(path) > 1 {
		flat := make([]r3.Vec, sides)
		for j, p := range now { // on the end's plane, wherever the last bend's ring began
			flat[j] = add(p, scale(dot(sub(end, p), last), last))
		}
		k.strip(now, flat)
		now = flat
	}
	k.half(path[len(path)-1], last, now, false)
	return k.out
}

// piping is a pipe's surface being made.
type piping struct {
	radius float64
	sides  int
	out    []r3.Vec
}

// ring is the circle about p in the plane of u and v, by angles from u; inward, an angle's corner is moved along by tan times its way towards u.
func (k *piping) ring(p, u, v r3.Vec, tan float64, along r3.Vec) []r3.Vec {
	out := make([]r3.Vec, k.sides)
	for i := range out {
		s, c := sincosOf(i, k.sides)
		out[i] = add(p, add(scale(k.radius*c, u), scale(k.radius*s, v)))
		if c > 0 {
			out[i] = add(out[i], scale(tan*k.radius*c, along))
		}
	}
	return out
}

// sincosOf is the sine and cosine of a part of the circle, exact at its quarters.
func sincosOf(i, n int) (s, c float64) {
	switch 4 * i {
	case 0:
		return 0, 1
	case n:
		return 1, 0
	case 2 * n:
		return 0, -1
	case 3 * n:
		return -1, 0
	}
	return math.Sincos(2 * math.Pi * float64(i) / float64(n))
}

// strip joins two rings of one run, each corner to the nearest by its turn.
func (k *piping) strip(a, b []r3.Vec) {
	n := len(a)
	axis := towards(sub(mean(b), mean(a)))
	best, turn := math.Inf(1), 0
	flat := sub(a[0], mean(a))
	flat = sub(flat, scale(dot(flat, axis), axis))
	for i := range b {
		d := sub(b[i], mean(b))
		d = sub(d, scale(dot(d, axis), axis))
		if far := norm(sub(d, flat)); far < best {
			best, turn = far, i
		}
	}
	for i := range n {
		j := (i + 1) % n
		k.out = quad(k.out, a[i], a[j], b[(j+turn)%n], b[(i+turn)%n])
	}
}

func mean(p []r3.Vec) (m r3.Vec) {
	for _, v := range p {
		m = add(m, v)
	}
	return scale(1/float64(len(p)), m)
}

// bend ends the run along a that began at now, goes round p, and returns the ring at which the run along b begins.
func (k *piping) bend(p, a, b r3.Vec, now []r3.Vec) []r3.Vec {
	axis := cross(a, b)
	angle := math.Atan2(norm(axis), dot(a, b))
	axis = towards(axis)
	tan := math.Tan(angle / 2)
	ua, ub := cross(axis, a), cross(axis, b) // towards the inside of the bend
	end, begin := k.ring(p, ua, axis, -tan, a), k.ring(p, ub, axis, tan, b)
	for i := range end { // the runs meet there
		if _, c := sincosOf(i, k.sides); c >= 0 {
			begin[i] = end[i]
		}
	}
	k.strip(now, end)
	steps := max(1, int(math.Ceil(angle/(2*math.Pi)*float64(k.sides))))
	last := end
	for s := 1; s <= steps; s++ {
		next := begin
		if s < steps {
			sn, cs := math.Sincos(angle * float64(s) / float64(steps))
			u := add(scale(cs, ua), scale(sn, cross(axis, ua)))
			next = k.ring(p, u, axis, 0, r3.Vec{})
		}
		for i := k.sides / 4; i < 3*k.sides/4; i++ {
			x0, x1, y1, y0 := last[i], last[i+1], next[i+1], next[i]
			if i == k.sides/4 {
				x0, y0 = end[i], end[i]
			}
			if i+1 == 3*k.sides/4 {
				x1, y1 = end[i+1], end[i+1]
			}
			k.out = quad(k.out, x0, x1, y1, y0)
		}
		last = next
	}
	return begin
}

// half is the half ball beyond a ring about p, towards way; before tells that the pipe begins there.
func (k *piping) half(p, way r3.Vec, ring []r3.Vec, before bool) {
	n := k.sides / 4
	last := ring
	for s := 1; s <= n; s++ {
		sn, cs := sincosOf(s, k.sides)
		next := make([]r3.Vec, len(ring))
		for i, q := range ring {
			next[i] = add(p, add(scale(cs, sub(q, p)), scale(sn*k.radius, way)))
		}
		if s == n {
			for i := range next {
				next[i] = add(p, scale(k.radius, way))
			}
		}
		for i := range ring {
			j := (i + 1) % len(ring)
			if before {
				k.out = quad(k.out, next[i], next[j], last[j], last[i])
			} else {
				k.out = quad(k.out, last[i], last[j], next[j], next[i])
			}
		}
		last = next
	}
}

// withoutStraights leaves out the points of a path that lie on another or on the straight between their neighbours.
func withoutStraights(path []r3.Vec) []r3.Vec {
	out := []r3.Vec{path[0]}
	for i := 1; i < len(path); i++ {
		if norm(sub(path[i], out[len(out)-1])) < weld {
			continue
		}
		if n := len(out); n > 1 && norm(cross(towards(sub(out[n-1], out[n-2])), towards(sub(path[i], out[n-1])))) < 1e-9 && dot(sub(out[n-1], out[n-2]), sub(path[i], out[n-1])) > 0 {
			out[n-1] = path[i]
			continue
		}
		out = append(out, path[i])
	}
	return out
}

// bendsFit reports whether every run is as long as the insides of the bends at its ends.
func bendsFit(path []r3.Vec, radius float64) bool {
	before := 0.0
	for i := 1; i < len(path); i++ {
		run, after := sub(path[i], path[i-1]), 0.0
		if i+1 < len(path) {
			next := sub(path[i+1], path[i])
			after = radius * math.Tan(math.Atan2(norm(cross(run, next)), dot(run, next))/2)
		}
		if len(path) > 2 && !(before+after <= norm(run)) {
			return false
		}
		before = after
	}
	return true
}

// towards is the direction of a vector.
func towards(v r3.Vec) r3.Vec { return scale(1/norm(v), v) }

// squareTo is a direction square to another.
func squareTo(v r3.Vec) r3.Vec {
	other := r3.Vec{X: 1}
	if math.Abs(v.X) > 0.9 {
		other = r3.Vec{Y: 1}
	}
	return towards(cross(v, other))
}

// WriteSTL writes triangles as a binary STL file, mm. head is at most 80 bytes of plain text; it must not begin with "solid", which a text file begins with.
func WriteSTL(w io.Writer, head string, v []r3.Vec, tris [][3]int32) error {
	out := bufio.NewWriterSize(w, 1<<16)
	var h [84]byte
	copy(h[:80], head)
	binary.LittleEndian.PutUint32(h[80:], uint32(len(tris)))
	if _, err := out.Write(h[:]); err != nil {
		return err
	}
	var b [50]byte
	put := func(at int, p r3.Vec) {
		for k, x := range [3]float64{p.X, p.Y, p.Z} {
			binary.LittleEndian.PutUint32(b[at+4*k:], math.Float32bits(float32(x)))
		}
	}
	for _, t := range tris {
		p, q, r := v[t[0]], v[t[1]], v[t[2]]
		put(0, r3.Unit(r3.Cross(r3.Sub(q, p), r3.Sub(r, p))))
		put(12, p)
		put(24, q)
		put(36, r)
		if _, err := out.Write(b[:]); err != nil {
			return err
		}
	}
	return out.Flush()
}
