package vessel

import "gonum.org/v1/gonum/spatial/r3"

// Bodies are the convex pieces of the vessel that a cut takes, each by its corners, body axes, mm. Of a vessel that is not flat: what the cut takes of the box along its own axes that holds it.
func (v *Vessel) Bodies(c *Cut) [][]r3.Vec {
	list := v.polys
	if !v.Flat {
		list = []poly{v.holder()}
	}
	var out [][]r3.Vec
	for _, q := range list {
		for _, p := range c.planes {
			if q = q.cut(p); len(q.faces) == 0 {
				break
			}
		}
		var corners []r3.Vec
		for _, f := range q.faces {
			corners = append(corners, f...)
		}
		if len(corners) > 0 {
			out = append(out, corners)
		}
	}
	return out
}

// holder is the box along the vessel's own axes that holds it.
func (v *Vessel) holder() poly {
	at := func(x, y, z int) r3.Vec {
		pick := [3]float64{v.lo[0], v.lo[1], v.lo[2]}
		for k, up := range [3]int{x, y, z} {
			if up == 1 {
				pick[k] = v.hi[k]
			}
		}
		var p r3.Vec
		for k, a := range v.axes {
			p = r3.Add(p, r3.Scale(pick[k], a))
		}
		return p
	}
	loop := func(list ...[3]int) []r3.Vec {
		var out []r3.Vec
		for _, i := range list {
			out = append(out, at(i[0], i[1], i[2]))
		}
		return out
	}
	return poly{faces: [][]r3.Vec{
		loop([3]int{0, 0, 0}, [3]int{0, 1, 0}, [3]int{1, 1, 0}, [3]int{1, 0, 0}),
		loop([3]int{0, 0, 1}, [3]int{1, 0, 1}, [3]int{1, 1, 1}, [3]int{0, 1, 1}),
		loop([3]int{0, 0, 0}, [3]int{1, 0, 0}, [3]int{1, 0, 1}, [3]int{0, 0, 1}),
		loop([3]int{0, 1, 0}, [3]int{0, 1, 1}, [3]int{1, 1, 1}, [3]int{1, 1, 0}),
		loop([3]int{0, 0, 0}, [3]int{0, 0, 1}, [3]int{0, 1, 1}, [3]int{0, 1, 0}),
		loop([3]int{1, 0, 0}, [3]int{1, 1, 0}, [3]int{1, 1, 1}, [3]int{1, 0, 1}),
	}}
}
