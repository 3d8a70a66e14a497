package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// A rocker brings one unknown of its own, its turn; a radius arm brings six. They are eliminated member by member, so that what is solved stays
// the axle's four unknowns: with the member's block A, its gradient b and its part B with the axle's coordinates, the axle's gradient loses
// B' A^-1 b and its Hessian B' A^-1 B, and once the axle's step d is known the member's own is -A^-1 (b + B d).

// The axle's coordinates: its four unknowns, then the two that are imposed.
const (
	atX = iota
	atY
	atPsi
	atTheta
	atHeave
	atAlpha
	coordinates
	unknowns = 4
)

// axes are the axes of the axle's turns at a pose: alpha's is level (psi's is upright), theta's is the axle's own Y axis.
type axes struct{ alpha, theta r3.Vec }

func (p *Pose) axes() axes { return axes{r3.Vec{X: p.q.cp, Y: p.q.sp}, p.Ey} }

// row is the derivatives of u.(axle-carried point) by the axle's coordinates, r being the point less the axle centre, body axes.
func (x *axes) row(u, r r3.Vec, s *[coordinates]float64) {
	m := r3.Cross(r, u)
	s[atX], s[atY], s[atHeave] = u.X, u.Y, u.Z
	s[atPsi], s[atAlpha] = m.Z, x.alpha.X*m.X+x.alpha.Y*m.Y
	s[atTheta] = x.theta.X*m.X + x.theta.Y*m.Y + x.theta.Z*m.Z
}

// system is the gradient by the four unknowns and, row by row, its derivatives by all six coordinates.
type system struct {
	g [unknowns]float64
	h [unknowns][coordinates]float64
}

// square copies the derivatives by the unknowns themselves.
func (y *system) square(a *mat4) {
	for i := range unknowns {
		a[4*i], a[4*i+1], a[4*i+2], a[4*i+3] = y.h[i][0], y.h[i][1], y.h[i][2], y.h[i][3]
	}
}

// column is the derivative by one imposed coordinate, negated.
func (y *system) column(k int) (c [4]float64) {
	for i := range c {
		c[i] = -y.h[i][k]
	}
	return c
}

// own is the most unknowns a member brings.
const own = 6

// fold is a member's own equations, and after solve what its own unknowns do.
type fold struct {
	n int
	a [own][own]float64         // its block
	b [own]float64              // its gradient
	x [own][coordinates]float64 // its part with the axle's coordinates

	step [own]float64              // A^-1 b
	rate [own][coordinates]float64 // A^-1 B: less this much per unit of a coordinate
}

func (f *fold) reset(n int) {
	f.n = n
	for i := range n {
		f.b[i] = 0
		f.a[i], f.x[i] = [own]float64{}, [coordinates]float64{}
	}
}

// flat is the share of the largest diagonal entry below which a pivot of the turns counts as nothing: such a motion of the member meets no
// resistance and is left out (the spin of an arm whose pivots lie in one line).
const flat = 1e-12

// solve fills step and rate. ok is false where the block is not positive (nearly nothing aside). Only the upper triangle of a is read.
func (f *fold) solve() (ok bool) {
	if f.n == 1 {
		if !(f.a[0][0] > 0) {
			return false
		}
		inv := 1 / f.a[0][0]
		f.step[0] = f.b[0] * inv
		for k := range coordinates {
			f.rate[0][k] = f.x[0][k] * inv
		}
		return true
	}
	// An arm: with the block's parts T of the shifts, S, and W of the turns, Z = T^-1 S; the turns w = (W - S'Z)^-1 (r_w - Z' r_t), the shifts
	// T^-1 r_t - Z w.
	a := &f.a
	t0, t1, t2 := r3.Vec{X: a[0][0], Y: a[0][1], Z: a[0][2]}, r3.Vec{X: a[0][1], Y: a[1][1], Z: a[1][2]}, r3.Vec{X: a[0][2], Y: a[1][2], Z: a[2][2]}
	i0 := r3.Cross(t1, t2)
	det := r3.Dot(t0, i0)
	if !(t0.X > 0 && t0.X*t1.Y-t0.Y*t0.Y > 0 && det > 0) {
		return false
	}
	k := 1 / det
	shift := mat3{r3.Scale(k, i0), r3.Scale(k, r3.Cross(t2, t0)), r3.Scale(k, r3.Cross(t0, t1))}
	var z mat3
	s := mat3{{X: a[0][3], Y: a[0][4], Z: a[0][5]}, {X: a[1][3], Y: a[1][4], Z: a[1][5]}, {X: a[2][3], Y: a[2][4], Z: a[2][5]}}
	for i, v := range &shift {
		z[i] = s.left(v)
	}
	s0, s1, s2 := s[0], s[1], s[2]
	w0 := r3.Sub(r3.Vec{X: a[3][3], Y: a[3][4], Z: a[3][5]}, z.left(r3.Vec{X: s0.X, Y: s1.X, Z: s2.X}))
	w1 := r3.Sub(r3.Vec{X: a[3][4], Y: a[4][4], Z: a[4][5]}, z.left(r3.Vec{X: s0.Y, Y: s1.Y, Z: s2.Y}))
	w2 := r3.Sub(r3.Vec{X: a[3][5], Y: a[4][5], Z: a[5][5]}, z.left(r3.Vec{X: s0.Z, Y: s1.Z, Z: s2.Z}))
	most := max(math.Abs(a[3][3]), math.Abs(a[4][4]), math.Abs(a[5][5]))
	turn, ok := inverse3([3][3]float64{{w0.X, w0.Y, w0.Z}, {w0.Y, w1.Y, w1.Z}, {w0.Z, w1.Z, w2.Z}}, flat*most)
	if !ok {
		return false
	}
	f.step[0], f.step[1], f.step[2], f.step[3], f.step[4], f.step[5] = solved(&shift, &z, &turn, f.b[0], f.b[1], f.b[2], f.b[3], f.b[4], f.b[5])
	x, r := &f.x, &f.rate
	for c := range coordinates {
		r[0][c], r[1][c], r[2][c], r[3][c], r[4][c], r[5][c] = solved(&shift, &z, &turn, x[0][c], x[1][c], x[2][c], x[3][c], x[4][c], x[5][c])
	}
	return true
}

// solved is one right-hand side of an arm's equations, shifts first.
func solved(shift, z, turn *mat3, x, y, h, a, b, c float64) (sx, sy, sz, wx, wy, wz float64) {
	t := r3.Vec{X: x, Y: y, Z: h}
	w := turn.mul(r3.Sub(r3.Vec{X: a, Y: b, Z: c}, z.left(t)))
	d := r3.Sub(shift.mul(t), z.mul(w))
	return d.X, d.Y, d.Z, w.X, w.Y, w.Z
}

// inverse3 is the inverse of a symmetric positive 3x3 matrix, by pivots, largest first, so that a direction without resistance is left to the end;
// its row and column of the inverse are then nothing. ok is false where a pivot is less than -least (or no number).
func inverse3(a [3][3]float64, least float64) (inv mat3, ok bool) {
	order := [3]int{0, 1, 2}
	var b [3][3]float64 // what becomes of the unit matrix
	b[0][0], b[1][1], b[2][2] = 1, 1, 1
	for i := range 3 {
		for k := i + 1; k < 3; k++ {
			if a[order[k]][order[k]] > a[order[i]][order[i]] {
				order[i], order[k] = order[k], order[i]
			}
		}
		p := order[i]
		d := a[p][p]
		if !(d > least) {
			if !(d >= -least) { // NaN too
				return inv, false
			}
			for k := range 3 { // the directions left meet no resistance
				for _, f := range order[i:] {
					b[f][k], b[k][f] = 0, 0
				}
			}
			break
		}
		d = 1 / d
		for k := range 3 {
			a[p][k] *= d
			b[p][k] *= d
		}
		for j := range 3 {
			if l := a[j][p]; j != p {
				for k := range 3 {
					a[j][k] -= l * a[p][k]
					b[j][k] -= l * b[p][k]
				}
			}
		}
	}
	for i := range b {
		inv[i] = r3.Vec{X: b[i][0], Y: b[i][1], Z: b[i][2]}
	}
	return inv, true
}

// into takes the member's share from the axle's system (above the diagonal).
func (f *fold) into(y *system) {
	for i := range f.n {
		r := &f.rate[i]
		for a := range unknowns {
			x := f.x[i][a]
			y.g[a] -= x * f.step[i]
			for b := a; b < coordinates; b++ {
				y.h[a][b] -= x * r[b]
			}
		}
	}
}

// moves is the member's own step that goes with a step of the axle's coordinates; newton adds what its own gradient asks for.
func (f *fold) moves(d *[coordinates]float64, newton bool) (out [own]float64) {
	for i := range f.n {
		v := 0.0
		if newton {
			v = f.step[i]
		}
		for k, x := range d {
			v += f.rate[i][k] * x
		}
		out[i] = -v
	}
	return out
}

// folds are the members of a mechanism that bring unknowns of their own.
type folds struct {
	rockers, arms [mostFolded]fold
	levers        [mostFolded]lever // as the rods hold each rocker
}

// axleRates are the rates of the axle's coordinates in the two unit motions of a pose.
func (m *Mechanism) axleRates(p *Pose) (heave, roll [coordinates]float64) {
	da := p.perRoll
	for i := range unknowns {
		heave[i], roll[i] = p.dh[i], p.da[i]*da
	}
	heave[atHeave], roll[atAlpha] = 1, da
	return heave, roll
}

// distance is one kept distance at a pose, from its frame end to its axle end, with what of it turns with a rocker.
type distance struct {
	d, r  r3.Vec  // frame end to axle end; axle centre to axle end
	l0, k float64 // length at ride, N/mm
	own   r3.Vec  // derivative of d by the rocker's turn
	axis  r3.Vec  // of that turn, body axes
	axle  bool    // the rocker is on the axle
}

// curve adds gradient and second derivatives of 1/2 k s^2, s = |d| - l0: g_a = k s s_a and
//
//	h_ab = k (s_a s_b + s s_ab),  s_ab = (d_a.d_b - s_a s_b)/l + u.d_ab
//
// to the axle's system and, for a rod, to its rocker's fold; plain leaves the terms s s_ab out. Of the system only the triangle above the
// diagonal is filled. For two turns d_ab = a_outer x (a_inner x r); so it is with the turn of a rocker on the axle, the innermost of all. It returns the
// derivative by that turn.
func (w *distance) curve(x *axes, plain bool, y *system, f *fold) (turn float64) {
	l := norm(w.d)
	u := r3.Scale(1/l, w.d)
	e := l - w.l0
	var s [coordinates]float64
	x.row(u, w.r, &s)
	ke := w.k * e
	bend := 0.0
	if !plain {
		bend = ke / l
	}
	k := w.k - bend
	for a := range unknowns {
		y.g[a] += ke * s[a]
		ka := k * s[a]
		for b := a; b < coordinates; b++ {
			y.h[a][b] += ka * s[b]
		}
	}
	r, t, v := w.r, r3.Cross(x.theta, w.r), r3.Cross(x.alpha, w.r)
	if !plain {
		// d_psi = (-r_y, r_x, 0), d_theta = t, d_alpha = v
		y.h[atX][atX] += bend
		y.h[atX][atPsi] -= bend * r.Y
		y.h[atX][atTheta] += bend * t.X
		y.h[atX][atAlpha] += bend * v.X
		y.h[atY][atY] += bend
		y.h[atY][atPsi] += bend * r.X
		y.h[atY][atTheta] += bend * t.Y
		y.h[atY][atAlpha] += bend * v.Y
		y.h[atPsi][atPsi] += bend*(r.X*r.X+r.Y*r.Y) - ke*(u.X*r.X+u.Y*r.Y)
		y.h[atPsi][atTheta] += bend*(r.X*t.Y-r.Y*t.X) + ke*(u.Y*t.X-u.X*t.Y)
		y.h[atPsi][atAlpha] += bend*(r.X*v.Y-r.Y*v.X) + ke*(u.Y*v.X-u.X*v.Y)
		y.h[atTheta][atTheta] += bend*r3.Norm2(t) + ke*(r3.Dot(u, x.theta)*r3.Dot(x.theta, r)-r3.Dot(u, r))
		y.h[atTheta][atHeave] += bend * t.Z
		y.h[atTheta][atAlpha] += bend*r3.Dot(t, v) + ke*r3.Dot(u, r3.Cross(x.alpha, t))
	}
	if f == nil {
		return 0
	}
	o := w.own
	turn = r3.Dot(u, o)
	f.b[0] += ke * turn
	f.a[0][0] += k * turn * turn
	for a := range coordinates {
		f.x[0][a] += k * turn * s[a]
	}
	if plain {
		return turn
	}
	f.a[0][0] += bend*r3.Norm2(o) + ke*r3.Dot(u, r3.Cross(w.axis, o))
	add := [coordinates]float64{bend * o.X, bend * o.Y, bend * (r.X*o.Y - r.Y*o.X), bend * r3.Dot(t, o), bend * o.Z, bend * r3.Dot(v, o)}
	if w.axle {
		add[atPsi] += ke * (u.Y*o.X - u.X*o.Y)
		add[atTheta] += ke * r3.Dot(u, r3.Cross(x.theta, o))
		add[atAlpha] += ke * r3.Dot(u, r3.Cross(x.alpha, o))
	}
	for a := range coordinates {
		f.x[0][a] += add[a]
	}
	return turn
}

// assemble fills the axle's system of the least energy at a pose, every rocker and radius arm folded in. ok is false where a member's own
// block is not positive.
func (m *Mechanism) assemble(p *Pose, plain bool, y *system, fs *folds) (ok bool) {
	x := p.axes()
	*y = system{}
	for i := range m.rows {
		w := &m.rows[i]
		r := p.Offset(w.p)
		(&distance{d: r3.Sub(r3.Add(p.C, r), w.f), r: r, l0: w.l, k: w.k}).curve(&x, plain, y, nil)
	}
	for i := range m.Rockers {
		f := &fs.rockers[i]
		f.reset(1)
		v := &fs.levers[i]
		way := 0.0
		for k := range m.Rockers[i].Rods {
			w := m.rod(p, i, k)
			v.g[k] = w.curve(&x, plain, y, f)
			way += r3.Norm2(w.own)
		}
		v.h = math.Sqrt((v.g[0]*v.g[0] + v.g[1]*v.g[1]) / way)
		if !f.solve() {
			return false
		}
		f.into(y)
	}
	for i, k := range m.radius {
		f := &fs.arms[i]
		m.Arms[k].springs(&x, p, &p.arms[i], plain, y, f)
		if !f.solve() {
			return false
		}
		f.into(y)
	}
	for a := range unknowns {
		for b := range a {
			y.h[a][b] = y.h[b][a]
		}
	}
	return true
}
