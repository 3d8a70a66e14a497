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
	tinyTurn    = 1e-8  // rad: below it the sine is the angle and the cosine 1 to the last bit
	// A step this small (mm, and rad at one metre) leaves the inverse as it was, for the rates, to 1e-10 of itself.
	sameInverse = 3e-8
	// Residuals up to this are round-off; above it (and below residualTol) the inverse in hand takes them away, mm.
	roundOff = 1e-12
)

// state is the four unknowns, with the turns as (sin, cos) pairs: R = Rz(psi) Rx(alpha) Ry(theta).
//
// R e_y has height sin(alpha) whatever psi and theta are, so both wheel travels hold exactly and drop out of the equations.
type state struct {
	x, y           float64
	sp, cp, st, ct float64
}

// turn adds d to the angle of the pair by the half-angle formula. It does not drift from the unit circle but by round-off.
func turn(s, c *float64, d float64) {
	if d2 := d * d; d2 < tinyTurn*tinyTurn {
		*s, *c = *s+*c*d, *c-*s*d
		return
	}
	t := d / 2
	t2 := t * t
	n := 1 - t2*(1-t2) // 1/(1 + t2) to t2^3: to the last bit for small turns
	if t2 > 1e-6 {
		n = 1 / (1 + t2)
	}
	ds, dc := d*n, (1-t2)*n
	*s, *c = *s*dc+*c*ds, *c*dc-*s*ds
}

// pullBack brings a pair back to the unit circle.
func pullBack(s, c *float64) {
	f := 1.5 - (*s**s+*c**c)/2
	*s, *c = *s*f, *c*f
}

// angleOf is the angle of a (sin, cos) pair: 2 atan(s/(1 + c)), by its series for the turns an axle makes (to the last bit up to 17 deg).
func angleOf(s, c float64) float64 {
	t := s / (1 + c)
	x := t * t
	if !(x < 0.0225) {
		return math.Atan2(s, c)
	}
	x2 := x * x
	x4 := x2 * x2
	// the series in pairs of terms, and those in pairs again: the chip works on several at once
	a := (1 - x*(1./3)) + x2*(1./5-x*(1./7))
	b := (1./9 - x*(1./11)) + x2*(1./13-x*(1./15))
	return 2 * t * (a + x4*(b+x4*(1./17-x*(1./19))))
}

// add steps the unknowns.
func (q *state) add(d *[4]float64) {
	q.x += d[0]
	q.y += d[1]
	turn(&q.sp, &q.cp, d[2])
	turn(&q.st, &q.ct, d[3])
}

// set copies the unknowns one by one: a copy in wider pieces has to wait for what was written last.
func (q *state) set(o *state) {
	q.x, q.y = o.x, o.y
	q.sp, q.cp, q.st, q.ct = o.sp, o.cp, o.st, o.ct
}

// predict steps the unknowns and brings them back to the unit circles to the last bits.
func (q *state) predict(d *[4]float64) {
	q.add(d)
	pullBack(&q.sp, &q.cp)
	pullBack(&q.st, &q.ct)
}

// frame fills the pose's centre and axes from the unknowns, the heave and sin, cos of alpha.
func (m *Mechanism) frame(q *state, h, sa, ca float64, p *Pose) {
	p.C = r3.Vec{X: q.x, Y: q.y, Z: m.Radius + h}
	p.Ex = r3.Vec{X: q.cp*q.ct - q.sp*sa*q.st, Y: q.sp*q.ct + q.cp*sa*q.st, Z: -ca * q.st}
	p.Ey = r3.Vec{X: -q.sp * ca, Y: q.cp * ca, Z: sa}
	p.Ez = r3.Vec{X: q.cp*q.st + q.sp*sa*q.ct, Y: q.sp*q.st - q.cp*sa*q.ct, Z: ca * q.ct}
}

// exact corrects the unknowns until every distance is kept: Newton on f = (|d|^2 - L^2)/(2L), with the rows of derivatives
//
//	(d_x, d_y, (r x d)_z, a3.(r x d))/L,  a3 = R e_y the axis of theta
//
// and by heave d_z/L, by alpha a2.(r x d)/L, a2 = Rz e_x. It fills the pose's rates
//
//	d(unknowns)/du = -J^-1 df/du,  u the heave and alpha
//
// with the derivatives taken where the last residuals were, and how well the axle is held. It leaves the inverse of the Jacobian and its determinant. ok is
// false where it does not settle.
func (m *Mechanism) exact(q *state, h, sa, ca float64, p *Pose, inv *mat4, det *float64) (ok bool) {
	var f, fh, fa, d [4]float64
	var j mat4
	x0, y0 := q.x, q.y
	size := math.Inf(1) // square of the last step's
	for range maxNewton {
		m.frame(q, h, sa, ca, p)
		worst := 0.0 // square of the largest residual
		ex, ey, ez, c := p.Ex, p.Ey, p.Ez, p.C
		cp, sp := q.cp, q.sp
		for i := range m.four {
			w := &m.four[i]
			rx := ex.X*w.p.X + ey.X*w.p.Y + ez.X*w.p.Z
			ry := ex.Y*w.p.X + ey.Y*w.p.Y + ez.Y*w.p.Z
			rz := ex.Z*w.p.X + ey.Z*w.p.Y + ez.Z*w.p.Z
			dx, dy, dz := c.X+rx-w.f.X, c.Y+ry-w.f.Y, c.Z+rz-w.f.Z
			v := (dx*dx + dy*dy + dz*dz - w.l2) * w.half
			f[i] = v
			if v *= v; !(v <= worst) {
				worst = v
			}
			dx, dy, dz = dx*w.inv, dy*w.inv, dz*w.inv
			mx, my, mz := ry*dz-rz*dy, rz*dx-rx*dz, rx*dy-ry*dx
			j[4*i], j[4*i+1], j[4*i+2], j[4*i+3] = dx, dy, mz, ey.X*mx+ey.Y*my+ey.Z*mz
			fh[i], fa[i] = dz, cp*mx+sp*my
		}
		if worst != worst {
			return false
		}
		settled := worst <= residualTol*residualTol
		if !settled || size > sameInverse*sameInverse {
			if *det = j.inverse(inv); *det == 0 {
				return false
			}
		}
		if settled {
			if worst > roundOff*roundOff {
				inv.mul(&f, &d)
				q.less(&d)
				m.frame(q, h, sa, ca, p)
			}
			p.Residual = math.Sqrt(worst)
			inv.mul(&fh, &d)
			p.dh[0], p.dh[1], p.dh[2], p.dh[3] = -d[0], -d[1], -d[2], -d[3]
			inv.mul(&fa, &d)
			p.da[0], p.da[1], p.da[2], p.da[3] = -d[0], -d[1], -d[2], -d[3]
			p.Held = inv.held()
			return true
		}
		inv.mul(&f, &d)
		if d[2]*d[2] > 1 || d[3]*d[3] > 1 {
			return false
		}
		q.less(&d)
		if dx, dy := q.x-x0, q.y-y0; dx*dx+dy*dy > maxShift*maxShift {
			return false
		}
		size = d[0]*d[0] + d[1]*d[1] + angleScale*angleScale*(d[2]*d[2]+d[3]*d[3])
	}
	return false
}

// less steps the unknowns the other way.
func (q *state) less(d *[4]float64) {
	q.x -= d[0]
	q.y -= d[1]
	turn(&q.sp, &q.cp, -d[2])
	turn(&q.st, &q.ct, -d[3])
}

// norm is the length of v. r3.Norm guards against overflow at twenty times the cost; nothing here is longer than a road.
func norm(v r3.Vec) float64 { return math.Sqrt(r3.Norm2(v)) }

// held is a lower bound of the smallest singular value of the matrix whose inverse this is, angles at one metre, by the trace of its square.
func (a *mat4) held() float64 {
	shift, angle := 0.0, 0.0
	for i := range 8 {
		shift += a[i] * a[i]
		angle += a[8+i] * a[8+i]
	}
	return 1 / math.Sqrt(shift+angle*(angleScale*angleScale))
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

// invert replaces the matrix by its inverse and returns its determinant (0: left as it was).
func (a *mat4) invert() float64 {
	b := *a
	return b.inverse(a)
}

// inverse fills the inverse, from the matrix's twelve 2x2 minors, and returns its determinant (0: nothing filled).
func (a *mat4) inverse(to *mat4) float64 {
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
	to[0] = (a[5]*c5 - a[6]*c4 + a[7]*c3) * v
	to[1] = (a[2]*c4 - a[1]*c5 - a[3]*c3) * v
	to[2] = (a[13]*s5 - a[14]*s4 + a[15]*s3) * v
	to[3] = (a[10]*s4 - a[9]*s5 - a[11]*s3) * v
	to[4] = (a[6]*c2 - a[4]*c5 - a[7]*c1) * v
	to[5] = (a[0]*c5 - a[2]*c2 + a[3]*c1) * v
	to[6] = (a[14]*s2 - a[12]*s5 - a[15]*s1) * v
	to[7] = (a[8]*s5 - a[10]*s2 + a[11]*s1) * v
	to[8] = (a[4]*c4 - a[5]*c2 + a[7]*c0) * v
	to[9] = (a[1]*c2 - a[0]*c4 - a[3]*c0) * v
	to[10] = (a[12]*s4 - a[13]*s2 + a[15]*s0) * v
	to[11] = (a[9]*s2 - a[8]*s4 - a[11]*s0) * v
	to[12] = (a[5]*c1 - a[4]*c3 - a[6]*c0) * v
	to[13] = (a[0]*c3 - a[1]*c1 + a[2]*c0) * v
	to[14] = (a[13]*s1 - a[12]*s3 - a[14]*s0) * v
	to[15] = (a[8]*s3 - a[9]*s1 + a[10]*s0) * v
	return det
}
