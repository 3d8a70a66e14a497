package cell

import (
	"math"
)

// number is a Point's like for one number over a cell: x + v u + sum of e[k] xi_k + something no larger than s, the xi_k being those of the points.
type number struct {
	x float64
	v [2]float64
	e [4]float64
	s float64
}

// most bounds how far the number is from x.
func (n *number) most() float64 {
	return n.s + math.Abs(n.v[0]) + math.Abs(n.v[1]) + math.Abs(n.e[0]) + math.Abs(n.e[1]) + math.Abs(n.e[2]) + math.Abs(n.e[3])
}

func (n *number) least() float64 { return n.x - n.most() }

func (n *number) greatest() float64 { return n.x + n.most() }

// plus is n + k m.
func (n number) plus(k float64, m *number) number {
	n.x += k * m.x
	for i := range n.v {
		n.v[i] += k * m.v[i]
	}
	for i := range n.e {
		n.e[i] += k * m.e[i]
	}
	n.s += math.Abs(k) * m.s
	return n
}

func (n number) times(k float64) number { return number{}.plus(k, &n) }

// by is n m.
func (n *number) by(m *number) number {
	out := number{x: n.x * m.x, s: math.Abs(n.x)*m.s + math.Abs(m.x)*n.s + n.most()*m.most()}
	for i := range out.v {
		out.v[i] = n.x*m.v[i] + m.x*n.v[i]
	}
	for i := range out.e {
		out.e[i] = n.x*m.e[i] + m.x*n.e[i]
	}
	return out
}

// through is f(n): f and its slope at x, and the most its second derivative comes to between x and where the number can be.
func (n *number) through(f, slope, curve float64) number {
	q := n.most()
	out := number{x: f, s: math.Abs(slope)*n.s + curve*q*q/2}
	for i := range out.v {
		out.v[i] = slope * n.v[i]
	}
	for i := range out.e {
		out.e[i] = slope * n.e[i]
	}
	return out
}

// cosine and sine of a number in rad.
func (n *number) turns() (cos, sin number) {
	s, c := math.Sincos(n.x)
	return n.through(c, -s, 1), n.through(s, c, 1)
}

// angle is atan2(q, p); false where the two may both come near nothing. Its second derivatives by (p, q) are no more than one over the square of their length.
func angle(p, q *number) (number, bool) {
	l2 := p.x*p.x + q.x*q.x
	l := math.Sqrt(l2)
	move := math.Hypot(p.most(), q.most())
	if !(move < l/2) {
		return number{}, false
	}
	out := number{x: math.Atan2(q.x, p.x)}
	kp, kq := -q.x/l2, p.x/l2
	for i := range out.v {
		out.v[i] = kp*p.v[i] + kq*q.v[i]
	}
	for i := range out.e {
		out.e[i] = kp*p.e[i] + kq*q.e[i]
	}
	out.s = math.Abs(kp)*p.s + math.Abs(kq)*q.s + move*move/(2*(l-move)*(l-move))
	return out, true
}

// product of two points or directions, as a number.
func inner(a, b *Point) number {
	out := number{x: dot(a.X, b.X), s: a.S*norm(b.X) + b.S*norm(a.X) + a.Most()*b.Most()}
	for i := range out.v {
		out.v[i] = dot(a.X, b.V[i]) + dot(b.X, a.V[i])
	}
	for i := range out.e {
		out.e[i] = dot(a.X, b.E[i]) + dot(b.X, a.E[i])
	}
	return out
}

// scaled is n p.
func (n *number) scaled(p *Point) Point {
	l := norm(p.X)
	out := Point{X: scale(n.x, p.X), S: math.Abs(n.x)*p.S + l*n.s + n.most()*p.Most()}
	for i := range out.V {
		out.V[i] = add(scale(n.x, p.V[i]), scale(n.v[i], p.X))
	}
	for i := range out.E {
		out.E[i] = add(scale(n.x, p.E[i]), scale(n.e[i], p.X))
	}
	return out
}

// Between is the point the fraction t of the way from a to b, both over the same cell.
func Between(a, b *Point, t float64) Point { return combined(part{1 - t, a}, part{t, b}) }
