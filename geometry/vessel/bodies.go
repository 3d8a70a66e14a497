package vessel

import "gonum.org/v1/gonum/spatial/r3"

// Bodies are the convex pieces of the vessel that a cut takes, each by its corners, body axes, mm. Of a mesh, ball or pipe: what the cut takes of the box along its own axes that holds it.
func (v *Vessel) Bodies(c *Cut) [][]r3.Vec {
	list := v.polys
	if len(list) == 0 {
		list = []poly{v.outer()}
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
