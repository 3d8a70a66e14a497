package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	residualTol = 1e-9  // mm; round-off of a metre-long link is about 2e-13
	stepTol     = 1e-9  // mm and 1000 rad, over-located
	maxNewton   = 40    // iterations of one correction
	maxShift    = 400.0 // mm: a correction that runs further has lost its way
)

// state is the four unknowns, with the turns as (sin, cos) pairs: R = Rz(psi) Rx(alpha) Ry(theta).
//
// R e_y has height sin(alpha) whatever psi and theta are, so both wheel travels hold exactly and drop out of the equations.
type state struct {
	x, y           float64
	sp, cp, st, ct float64
}

// turn adds d to the angle of the pair by the half-angle formula and pulls it back to the unit circle.
func turn(s, c *float64, d float64) {
	t := d / 2
	t2 := t * t
	n := 1 - t2*(1-t2) // 1/(1 + t2) to t2^3: to the last bit for small turns
	if t2 > 1e-6 {
		n = 1 / (1 + t2)
	}
	ds, dc := d*n, (1-t2)*n
	s1, c1 := *s*dc+*c*ds, *c*dc-*s*ds
	f := 1.5 - (s1*s1+c1*c1)/2
	*s, *c = s1*f, c1*f
}

// angleOf is the angle of a (sin, cos) pair: 2 atan(s/(1 + c)), by its series for the turns an axle makes (to the last bit up to 17 deg).
func angleOf(s, c float64) float64 {
	t := s / (1 + c)
	if !(math.Abs(t) < 0.15) {
		return math.Atan2(s, c)
	}
	x := t * t
	return 2 * t * (1 - x*(1./3-x*(1./5-x*(1./7-x*(1./9-x*(1./11-x*(1./13-x*(1./15-x*(1./17-x*(1./19))))))))))
}

func (q *state) add(d *[4]float64) {
	q.x += d[0]
	q.y += d[1]
	turn(&q.sp, &q.cp, d[2])
	turn(&q.st, &q.ct, d[3])
}

// frame fills the pose's centre and axes from the unknowns, the heave and sin, cos of alpha.
func (m *Mechanism) frame(q *state, h, sa, ca float64, p *Pose) {
	p.C = r3.Vec{X: q.x, Y: q.y, Z: m.Radius + h}
	p.Ex = r3.Vec{X: q.cp*q.ct - q.sp*sa*q.st, Y: q.sp*q.ct + q.cp*sa*q.st, Z: -ca * q.st}
	p.Ey = r3.Vec{X: -q.sp * ca, Y: q.cp * ca, Z: sa}
	p.Ez = r3.Vec{X: q.cp*q.st + q.sp*sa*q.ct, Y: q.sp*q.st - q.cp*sa*q.ct, Z: ca * q.ct}
}

// exact corrects the unknowns until every distance is kept: Newton on f = (|d|^2 - L^2)/(2L).
// It leaves the inverse of the Jacobian and its determinant at the solution. ok is false where it does not settle.
func (m *Mechanism) exact(q *state, h, sa, ca float64, p *Pose, inv *mat4, det *float64) (ok bool) {
	var f [4]float64
	var d [4]float64
	start := *q
	for range maxNewton {
		m.frame(q, h, sa, ca, p)
		worst := m.jacobian(q, p, &f, inv)
		if worst != worst {
			return false
		}
		*det = inv.invert()
		if *det == 0 {
			return false
		}
		if worst <= residualTol {
			// One more step with the inverse in hand brings the unknowns to round-off.
			inv.mul(&f, &d)
			for i := range d {
				d[i] = -d[i]
			}
			q.add(&d)
			m.frame(q, h, sa, ca, p)
			return true
		}
		inv.mul(&f, &d)
		for i := range d {
			d[i] = -d[i]
		}
		if math.Abs(d[2]) > 1 || math.Abs(d[3]) > 1 {
			return false
		}
		q.add(&d)
		if math.Abs(q.x-start.x)+math.Abs(q.y-start.y) > maxShift {
			return false
		}
	}
	return false
}

// norm is the length of v. r3.Norm guards against overflow at twenty times the cost; nothing here is longer than a road.
func norm(v r3.Vec) float64 { return math.Sqrt(r3.Norm2(v)) }

// jacobian fills the residuals and the matrix of their derivatives; it returns the largest residual.
// Rows: (d_x, d_y, (r x d)_z, a3.(r x d))/L, a3 = R e_y the axis of theta.
func (m *Mechanism) jacobian(q *state, p *Pose, f *[4]float64, j *mat4) float64 {
	worst := 0.0
	for i := range 4 {
		w := &m.rows[i]
		r := p.Offset(w.p)
		d := r3.Sub(r3.Add(p.C, r), w.f)
		f[i] = (r3.Norm2(d) - w.l*w.l) * w.inv / 2
		if a := math.Abs(f[i]); a > worst || a != a {
			worst = a
		}
		c := r3.Cross(r, d)
		j[4*i] = d.X * w.inv
		j[4*i+1] = d.Y * w.inv
		j[4*i+2] = c.Z * w.inv
		j[4*i+3] = r3.Dot(p.Ey, c) * w.inv
	}
	return worst
}

// ratesExact fills d(unknowns)/d(heave) and /d(alpha) = -J^-1 df/du, and the residual that is left.
func (m *Mechanism) ratesExact(p *Pose, inv *mat4) {
	var fh, fa [4]float64
	a2 := r3.Vec{X: p.q.cp, Y: p.q.sp}
	p.Residual = 0
	for i := range 4 {
		w := &m.rows[i]
		r := p.Offset(w.p)
		d := r3.Sub(r3.Add(p.C, r), w.f)
		p.Residual = max(p.Residual, math.Abs((r3.Norm2(d)-w.l*w.l)*w.inv/2))
		fh[i] = -d.Z * w.inv
		fa[i] = -r3.Dot(a2, r3.Cross(r, d)) * w.inv
	}
	inv.mul(&fh, &p.dh)
	inv.mul(&fa, &p.da)
	t := 0.0
	for i := range 4 {
		t += inv[i]*inv[i] + inv[4+i]*inv[4+i]
		t += (inv[8+i]*inv[8+i] + inv[12+i]*inv[12+i]) * angleScale * angleScale
	}
	p.Held = 1 / math.Sqrt(t)
}

// mat4 is a 4x4 matrix by rows.
type mat4 [16]float64

func (a *mat4) mul(v, out *[4]float64) {
	x, y, z, w := v[0], v[1], v[2], v[3]
	out[0] = a[0]*x + a[1]*y + a[2]*z + a[3]*w
	out[1] = a[4]*x + a[5]*y + a[6]*z + a[7]*w
	out[2] = a[8]*x + a[9]*y + a[10]*z + a[11]*w
	out[3] = a[12]*x + a[13]*y + a[14]*z + a[15]*w
}

// invert replaces the matrix by its inverse, from its twelve 2x2 minors, and returns its determinant (0: left as it was).
func (a *mat4) invert() float64 {
	s0 := a[0]*a[5] - a[4]*a[1]
	s1 := a[0]*a[6] - a[4]*a[2]
	s2 := a[0]*a[7] - a[4]*a[3]
	s3 := a[1]*a[6] - a[5]*a[2]
	s4 := a[1]*a[7] - a[5]*a[3]
	s5 := a[2]*a[7] - a[6]*a[3]
	c5 := a[10]*a[15] - a[14]*a[11]
	c4 := a[9]*a[15] - a[13]*a[11]
	c3 := a[9]*a[14] - a[13]*a[10]
	c2 := a[8]*a[15] - a[12]*a[11]
	c1 := a[8]*a[14] - a[12]*a[10]
	c0 := a[8]*a[13] - a[12]*a[9]
	det := s0*c5 - s1*c4 + s2*c3 + s3*c2 - s4*c1 + s5*c0
	if det == 0 || det != det {
		return 0
	}
	v := 1 / det
	b := *a
	a[0] = (b[5]*c5 - b[6]*c4 + b[7]*c3) * v
	a[1] = (-b[1]*c5 + b[2]*c4 - b[3]*c3) * v
	a[2] = (b[13]*s5 - b[14]*s4 + b[15]*s3) * v
	a[3] = (-b[9]*s5 + b[10]*s4 - b[11]*s3) * v
	a[4] = (-b[4]*c5 + b[6]*c2 - b[7]*c1) * v
	a[5] = (b[0]*c5 - b[2]*c2 + b[3]*c1) * v
	a[6] = (-b[12]*s5 + b[14]*s2 - b[15]*s1) * v
	a[7] = (b[8]*s5 - b[10]*s2 + b[11]*s1) * v
	a[8] = (b[4]*c4 - b[5]*c2 + b[7]*c0) * v
	a[9] = (-b[0]*c4 + b[1]*c2 - b[3]*c0) * v
	a[10] = (b[12]*s4 - b[13]*s2 + b[15]*s0) * v
	a[11] = (-b[8]*s4 + b[9]*s2 - b[11]*s0) * v
	a[12] = (-b[4]*c3 + b[5]*c1 - b[6]*c0) * v
	a[13] = (b[0]*c3 - b[1]*c1 + b[2]*c0) * v
	a[14] = (-b[12]*s3 + b[13]*s1 - b[14]*s0) * v
	a[15] = (b[8]*s3 - b[9]*s1 + b[10]*s0) * v
	return det
}
