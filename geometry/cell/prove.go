package cell

import (
	"math"

	"axleloft/geometry/job"

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

// predict fills the velocities of the centre and the turn per unit of the cell's own coordinates, and what they come to. With A, B, D the changes of psi, alpha and theta
//
//	w = psi' e_z + alpha' a2 + theta' a3,  |w|^2 <= A^2 + B^2 + D^2 + 2 A D |sin alpha|
//	|w'| <= A B + D sqrt(A^2 + B^2),  K = |w|^2 + |w'|
func (c *Cell) predict() {
	c.vc[0] = r3.Vec{X: c.s[0][0], Y: c.s[1][0], Z: c.RH}
	c.vc[1] = r3.Vec{X: c.s[0][1], Y: c.s[1][1]}
	for k := range 2 {
		c.w[k] = add(r3.Vec{Z: c.s[2][k]}, scale(c.s[3][k], c.at.ey))
	}
	c.w[1] = add(c.w[1], scale(c.RA, c.at.a2))
	a := math.Abs(c.s[2][0]) + math.Abs(c.s[2][1])
	b := c.RA
	d := math.Abs(c.s[3][0]) + math.Abs(c.s[3][1])
	steep := math.Min(1, math.Abs(math.Sin(c.A))+c.RA) // |sin alpha|
	w2 := a*a + b*b + d*d + 2*a*d*steep
	c.sway.w = math.Sqrt(w2)
	c.sway.k = w2 + a*b + d*math.Sqrt(a*a+b*b)
	c.sway.c = larger(c.vc[0], c.vc[1])
}

// larger is the most |a s + b t| for s, t in [-1, 1].
func larger(a, b r3.Vec) float64 {
	p, m := add(a, b), sub(a, b)
	return math.Sqrt(math.Max(dot(p, p), dot(m, m)))
}

const boxTries = 6

// prove looks for a box E such that for every place of the cell there is one and only one pose with q in q0 + S u + E; y is the inverse of the matrix of derivatives at the centre.
func (t *Tree) prove(c *Cell, y *mat) bool {
	if t.over {
		return t.proveEnergy(c, y)
	}
	return t.proveExact(c, y)
}

// proveExact is prove on f = (|d|^2 - L^2)/(2L): f” = (|d'|^2 + d.d”)/L along the prediction, and df/dq_a = d.p_a/L.
func (t *Tree) proveExact(c *Cell, y *mat) bool {
	var e0, res vec
	first := &t.first // J' along each coordinate
	for x := range first {
		for i := range t.n {
			clear(first[x][i][:t.n])
		}
	}
	var bound [own + job.MostRockers]struct {
		k *member
		sizes
		d, v, inv float64
	}
	var b bar
	var dp [memberOwn]r3.Vec
	for i := range t.members {
		k := &t.members[i]
		z := &bound[i]
		z.k, z.sizes, z.inv = k, k.sizes(c), 1/k.l
		k.at(&c.at, &b)
		var dd [2]r3.Vec
		for x := range 2 {
			dd[x] = k.along(&c.at, &b, c.vc[x], c.w[x], c.s[k.turn][x], &dp)
			for a := range k.knows() {
				v := dot(dd[x], b.p[a])
				if a >= 2 {
					v += dot(b.d, dp[a])
				}
				first[x][i][k.unknown(a)] = v * z.inv
			}
		}
		z.d, z.v = norm(b.d), larger(dd[0], dd[1])
		fast, far := z.v+z.bend, z.d+z.v+z.bend/2
		res[i] = (fast*fast + far*z.bend) * z.inv / 2
	}
	for i := range t.n {
		for n := range t.n {
			e0[i] += math.Abs(y[i][n]) * res[n]
		}
	}
	return t.enclose(c, y, &e0, func(e *vec, rest, _ *mat) {
		for i := range t.members {
			z := &bound[i]
			off := z.bend/2 + z.k.stray(e)
			move := z.v + off
			for a := range z.k.knows() {
				by := 0.0
				for n := range z.k.knows() {
					by += z.k.second(a, n) * e[z.k.unknown(n)]
				}
				rest[i][z.k.unknown(a)] = (off*z.p[a] + z.d*(z.d2[a]/2+by) + move*(z.d1[a]+by)) * z.inv
			}
		}
	})
}

// enclose looks for a box E with
//
//	e0 + |I - Y J(box)| E <= E
//
// by component: e0 bounds Y times the equations along the prediction. J changes over the box by the tree's first-order parts and by what rest says, which adds to a matrix of bounds of J and to one of Y J. The pose then
// lies in the image of any box that holds it.
func (t *Tree) enclose(c *Cell, y *mat, e0 *vec, rest func(e *vec, dst, through *mat)) bool {
	exact := &t.exact // |Y J'|
	for p := range t.n {
		e0[p] += t.left(p)
		for q := range t.n {
			exact[p][q] = 0
			for x := range t.first {
				sum := 0.0
				for m := range t.n {
					sum += y[p][m] * t.first[x][m][q]
				}
				exact[p][q] += math.Abs(sum)
			}
		}
	}
	image := func(e *vec) vec {
		r, d := &t.rest, &t.through
		for p := range t.n {
			clear(r[p][:t.n])
			clear(d[p][:t.n])
		}
		rest(e, r, d)
		var by vec
		for l := range t.n {
			for q := range t.n {
				by[l] += r[l][q] * e[q]
			}
		}
		out := *e0
		for p := range t.n {
			for q := range t.n {
				out[p] += (exact[p][q]+d[p][q])*e[q] + math.Abs(y[p][q])*by[q]
			}
		}
		return out
	}
	var e vec
	for i := range t.n {
		e[i] = 1.3 * e0[i]
	}
	for range boxTries {
		to := image(&e)
		in := true
		for i := range t.n {
			in = in && to[i] <= e[i]
		}
		if in {
			c.E = image(&to)
			c.sway.turn = c.sway.w + c.E[2] + c.E[3]
			return true
		}
		for i := range t.n {
			if e[i] = 1.25 * to[i]; !(e[i] < 1e3) {
				return false
			}
		}
	}
	return false
}
