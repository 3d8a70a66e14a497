package shape

import "gonum.org/v1/gonum/spatial/r3"

// edgeOn: a triangle whose normal is this near to square to the line of sight is seen edge on.
const edgeOn = 1e-6

// Contour returns the lines in which a mesh piece ends for an eye that looks against d (any length): edges between a triangle that faces the eye and one that does not,
// and edges of holes, joined into lines. A line that comes back to its start ends in the point it began with. What lies before them is not taken away. mm.
func (p *Piece) Contour(d r3.Vec) [][]r3.Vec {
	m := p.Mesh
	if p.Moved {
		d = r3.Vec{X: dot(p.Ex, d), Y: dot(p.Ey, d), Z: dot(p.Ez, d)}
	}
	d = scale(1/norm(d), d)
	faces := make([]bool, len(m.T))
	for i, t := range m.T {
		n := cross(sub(m.V[t[1]], m.V[t[0]]), sub(m.V[t[2]], m.V[t[0]]))
		faces[i] = dot(n, d) > edgeOn*norm(n)
	}
	at := map[int32][]int32{} // the lines' edges at a corner
	var list []edge
	for _, e := range m.border {
		if e.there >= 0 && e.back >= 0 && faces[e.there] == faces[e.back] {
			continue
		}
		at[e.p], at[e.q] = append(at[e.p], int32(len(list))), append(at[e.q], int32(len(list)))
		list = append(list, e)
	}
	used := make([]bool, len(list))
	// walk goes on from a corner till nothing is left there.
	walk := func(from int32) []int32 {
		line := []int32{from}
		for {
			next := int32(-1)
			for _, k := range at[from] {
				if !used[k] {
					next = k
					break
				}
			}
			if next < 0 {
				return line
			}
			used[next] = true
			from = list[next].p + list[next].q - from
			line = append(line, from)
		}
	}
	var out [][]r3.Vec
	for i, e := range list {
		if used[i] {
			continue
		}
		line := walk(e.p)
		if n := len(line); line[0] != line[n-1] {
			if head := walk(e.p); len(head) > 1 {
				joined := make([]int32, 0, n+len(head)-1)
				for k := len(head) - 1; k > 0; k-- {
					joined = append(joined, head[k])
				}
				line = append(joined, line...)
			}
		}
		pts := make([]r3.Vec, len(line))
		for k, v := range line {
			pts[k] = p.Vertex(int(v))
		}
		out = append(out, pts)
	}
	return out
}
