package cell

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// sway is what the straight-line prediction over a cell moves at most, and how far it bends: every offset r of the axle has |r”| <= |r| K along any straight
// line from the centre to a place of the cell.
type sway struct {
	w    float64 // of the turn, rad: |w| along the line
	k    float64
	turn float64 // w and the box's own turns: no axle-fixed direction moves further
	c    float64 // of the centre, mm, by the prediction alone
}

// predict fills the velocities of the centre and the turn per unit of the cell's own coordinates, and what they come to.
func (c *Cell) predict() {
	c.vc[0] = r3.Vec{X: c.s[0][0], Y: c.s[1][0], Z: c.RH}
	c.vc[1] = r3.Vec{X: c.s[0][1], Y: c.s[1][1]}
	for k := range 2 {
		c.w[k] = add(r3.Vec{Z: c.s[2][k]}, scale(c.s[3][k], c.at.ey))
		c.va[k] = r3.Vec{Z: c.s[2][k]}
	}
	c.w[1] = add(c.w[1], scale(c.RA, c.at.a2))
	c.va[1] = add(c.va[1], scale(c.RA, c.at.a2))
	a := math.Abs(c.s[2][0]) + math.Abs(c.s[2][1])
	b := c.RA
	d := math.Abs(c.s[3][0]) + math.Abs(c.s[3][1])
	most := math.Min(1, math.Abs(math.Sin(c.A))+c.RA) // |sin alpha|
	w2 := a*a + b*b + d*d + 2*a*d*most
	c.sway.w = math.Sqrt(w2)
	c.sway.k = w2 + a*b + d*math.Sqrt(a*a+b*b)
	c.sway.c = larger(c.vc[0], c.vc[1])
}

// larger is the most |a s + b t| for s, t in [-1, 1].
func larger(a, b r3.Vec) float64 {
	p, m := add(a, b), sub(a, b)
	return math.Sqrt(math.Max(dot(p, p), dot(m, m)))
}

const (
	boxTries = 6
	slack    = 1e-9 // mm, of a residual: what is left of it at the centre and round-off
)

// proveExact looks for a box E such that for every place of the cell there is one and only one pose with q in q0 + S u + E (Krawczyk's test, by component):
//
//	|Y| (b/2 + slack) + |I - Y J(box)| E <= E
//
// b bounds the second derivative of each residual along the prediction. y is the inverse of J at the centre.
func (t *Tree) proveExact(c *Cell, y *mat) bool {
	p := &c.at
	k, w := c.sway.k, c.sway.w
	var res [4]float64
	var first [2]mat // Y J' along each coordinate
	var jk [2]mat
	var at [4]struct {
		arm, c0, g, g1, inv float64
	}
	for i := range t.rows {
		row := &t.rows[i]
		inv := 1 / row.l
		r := p.offset(row.p)
		c0 := sub(p.c, row.f)
		d := add(c0, r)
		g := cross(r, c0)
		var dd, gg [2]r3.Vec
		for n := range 2 {
			dr := cross(c.w[n], r)
			dd[n] = add(c.vc[n], dr)
			gg[n] = add(cross(dr, c0), cross(r, c.vc[n]))
			jk[n][i] = [4]float64{dd[n].X * inv, dd[n].Y * inv, gg[n].Z * inv, (dot(cross(c.va[n], p.ey), g) + dot(p.ey, gg[n])) * inv}
		}
		v := larger(dd[0], dd[1])
		bend := row.arm * k
		far := norm(d) + v + bend/2
		res[i] = ((v+bend)*(v+bend)+far*bend)*inv/2 + slack
		at[i].arm, at[i].c0, at[i].g, at[i].g1, at[i].inv = row.arm, norm(c0), norm(g), larger(gg[0], gg[1]), inv
	}
	var e0 [4]float64
	for i := range 4 {
		for n := range 4 {
			e0[i] += math.Abs(y[i][n]) * res[n]
			for d := range 2 {
				for m := range 4 {
					first[d][i][n] += y[i][m] * jk[d][m][n]
				}
			}
		}
	}
	return c.enclose(e0, func(e *[4]float64) (by [4][4]float64) {
		shift, own := math.Hypot(e[0], e[1]), e[2]+e[3]
		mc := c.sway.c + shift
		var rest mat
		for i := range at {
			a := &at[i]
			bend := a.arm*k/2 + a.arm*own
			rest[i][0] = (bend + e[0]) * a.inv
			rest[i][1] = (bend + e[1]) * a.inv
			rg := bend*(a.c0+mc) + a.arm*w*mc + a.arm*shift
			rest[i][2] = rg * a.inv
			rest[i][3] = ((k/2+e[2])*a.g + rg + (w+e[2])*(a.g1+rg)) * a.inv
		}
		for i := range 4 {
			for n := range 4 {
				by[i][n] = math.Abs(first[0][i][n]) + math.Abs(first[1][i][n])
				for l := range 4 {
					by[i][n] += math.Abs(y[i][l]) * rest[l][n]
				}
			}
		}
		return by
	})
}

// enclose looks for a box E with e0 + M(E) E <= E, M bounding |I - Y J| over the box, and sets the cell's.
func (c *Cell) enclose(e0 [4]float64, by func(e *[4]float64) [4][4]float64) bool {
	image := func(e *[4]float64) [4]float64 {
		out, m := e0, by(e)
		for i := range out {
			for n := range e {
				out[i] += m[i][n] * e[n]
			}
		}
		return out
	}
	var e [4]float64
	for i := range e {
		e[i] = 1.3 * e0[i]
	}
	for range boxTries {
		to := image(&e)
		in := true
		for i := range e {
			in = in && to[i] <= e[i]
		}
		if in {
			c.E = image(&to) // the pose lies in the image of any box that holds it
			c.sway.turn = c.sway.w + c.E[2] + c.E[3]
			return true
		}
		for i := range e {
			if e[i] = 1.25 * to[i]; !(e[i] < 1e3) {
				return false
			}
		}
	}
	return false
}
