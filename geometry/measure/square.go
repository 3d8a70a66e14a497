package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Squareness is how square and level four places lie that should be the corners of a rectangle, mm.
type Squareness struct {
	Sides     [2]float64 // means of the two pairs of opposite sides, first to second place and second to third
	Diagonals [2]float64 // as the places have them: first to third, second to fourth
	Misfit    [2]float64 // typed less that; NaN where none is typed
	Skew      float64    // how far the far side is pushed along the first one, by the typed diagonals where both are, else by the places'; + lengthens the first diagonal
	Rise      [2]float64 // how much higher the far end is along each side, over its whole length
	Twist     float64    // how far one corner stands off the plane of the other three; + the first and third are high
}

// Square looks at four places in their order round, body axes, with the diagonals as typed (0: not measured). Of a parallelogram with sides a and b,
// pushed along a by s, the diagonals differ by (elementary)
//
//	D1^2 - D2^2 = 4 a s
//
// It fails with *Error where a side has no length or the places are not in their order round.
func Square(c [4]r3.Vec, typed [2]float64) (Squareness, error) {
	side := func(i, k int) float64 { return r3.Norm(r3.Sub(c[i], c[k])) }
	q := Squareness{
		Sides:     [2]float64{(side(0, 1) + side(2, 3)) / 2, (side(1, 2) + side(3, 0)) / 2},
		Diagonals: [2]float64{side(0, 2), side(1, 3)},
		Rise:      [2]float64{(c[1].Z + c[2].Z - c[0].Z - c[3].Z) / 2, (c[2].Z + c[3].Z - c[0].Z - c[1].Z) / 2},
		Twist:     c[0].Z - c[1].Z + c[2].Z - c[3].Z,
	}
	for i := range c {
		if !(side(i, (i+1)%4) >= 1) {
			return q, &Error{Words: "Two of the corners lie in one place. Choose four different ones, in their order round."}
		}
	}
	var first r3.Vec
	for i := range c {
		n := r3.Cross(r3.Sub(c[(i+1)%4], c[i]), r3.Sub(c[(i+2)%4], c[(i+1)%4]))
		if i == 0 {
			first = n
		} else if r3.Dot(first, n) <= 0 {
			return q, &Error{Words: "The corners are not in their order round, or lie in one line. Give them as one walks round them."}
		}
	}
	d := q.Diagonals
	for i, t := range typed {
		q.Misfit[i] = t - q.Diagonals[i]
		if t == 0 {
			q.Misfit[i] = math.NaN()
		}
	}
	if typed[0] > 0 && typed[1] > 0 {
		d = typed
	}
	q.Skew = (d[0]*d[0] - d[1]*d[1]) / (4 * q.Sides[0])
	return q, nil
}
