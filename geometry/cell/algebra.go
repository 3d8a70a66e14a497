package cell

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

type (
	vec [most]float64
	mat [most][most]float64
)

// inverse fills the matrix with the inverse of the first n rows of j, in place (Gauss and Jordan, pivots by column); false where there is none.
func (m *mat) inverse(j *mat, n int) bool {
	for i := range n {
		copy(m[i][:n], j[i][:n])
	}
	var from [most]int
	for c := range n {
		best := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[best][c]) {
				best = r
			}
		}
		if !(math.Abs(m[best][c]) > 1e-12) {
			return false
		}
		from[c] = best
		if best != c {
			for i := range n {
				m[c][i], m[best][i] = m[best][i], m[c][i]
			}
		}
		pivot := m[c][:n]
		k := 1 / pivot[c]
		pivot[c] = 1
		for i := range pivot {
			pivot[i] *= k
		}
		for r := range n {
			row := m[r][:n]
			if k := row[c]; r != c && k != 0 {
				row[c] = 0
				for i := range row {
					row[i] -= k * pivot[i]
				}
			}
		}
	}
	for c := n - 1; c >= 0; c-- { // rows changed places: columns change back
		if b := from[c]; b != c {
			for r := range n {
				m[r][c], m[r][b] = m[r][b], m[r][c]
			}
		}
	}
	return true
}

// upTo is e_z x v.
func upTo(v r3.Vec) r3.Vec { return r3.Vec{X: -v.Y, Y: v.X} }

// spun turns v about the unit vector u by the angle of cosine c and sine s, right-hand.
func spun(u r3.Vec, c, s float64, v r3.Vec) r3.Vec {
	return add(add(scale(c, v), scale(s, cross(u, v))), scale(dot(u, v)*(1-c), u))
}

func dot(a, b r3.Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

func cross(a, b r3.Vec) r3.Vec {
	return r3.Vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}

func add(a, b r3.Vec) r3.Vec { return r3.Vec{X: a.X + b.X, Y: a.Y + b.Y, Z: a.Z + b.Z} }

func sub(a, b r3.Vec) r3.Vec { return r3.Vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z} }

func scale(k float64, a r3.Vec) r3.Vec { return r3.Vec{X: k * a.X, Y: k * a.Y, Z: k * a.Z} }

func norm(a r3.Vec) float64 { return math.Sqrt(dot(a, a)) }
