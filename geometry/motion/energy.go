package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// energy corrects the unknowns to the least strain energy, sum of 1/2 k s^2 with s = |d| - L, by Newton:
//
//	gradient sum k s s_a,  Hessian sum k (s_a s_b + s s_ab),  s_ab = (P_a.P_b - s_a s_b)/l + u.P_ab
//
// where the Hessian is not positive definite the terms s s_ab are left out of that step. It leaves the inverse Hessian at the solution.
func (m *Mechanism) energy(q *state, h, sa, ca float64, p *Pose, inv *mat4) (ok bool) {
	start := *q
	var g, d [4]float64
	for range maxNewton {
		m.frame(q, h, sa, ca, p)
		var full, plain mat4
		m.hessian(q, p, &g, &full, &plain)
		if g[0] != g[0] || g[3] != g[3] {
			return false
		}
		whole := full.positive()
		if !whole {
			if full = plain; !full.positive() {
				return false
			}
		}
		if full.inverse(inv) == 0 {
			return false
		}
		inv.mul(&g, &d)
		if d[2]*d[2] > 1 || d[3]*d[3] > 1 {
			return false
		}
		q.less(&d)
		if math.Abs(q.x-start.x)+math.Abs(q.y-start.y) > maxShift {
			return false
		}
		p.Residual = math.Abs(d[0]) + math.Abs(d[1]) + angleScale*(math.Abs(d[2])+math.Abs(d[3]))
		if p.Residual <= stepTol && whole { // so small a step leaves the inverse as it was
			m.frame(q, h, sa, ca, p)
			return true
		}
	}
	return false
}

// hessian fills the gradient, the full Hessian and the Hessian without the terms of the stretches themselves.
func (m *Mechanism) hessian(q *state, p *Pose, g *[4]float64, full, gn *mat4) {
	*g, *full, *gn = [4]float64{}, mat4{}, mat4{}
	a3 := p.Ey
	for i := range m.rows {
		w := &m.rows[i]
		r := p.Offset(w.p)
		d := r3.Sub(r3.Add(p.C, r), w.f)
		l := math.Sqrt(r3.Norm2(d))
		u := r3.Scale(1/l, d)
		pp := r3.Vec{X: -r.Y, Y: r.X} // a1 x r
		pt := r3.Cross(a3, r)
		s := [4]float64{u.X, u.Y, r3.Dot(u, pp), r3.Dot(u, pt)}
		e := l - w.l
		ke := w.k * e
		for a := range 4 {
			g[a] += ke * s[a]
			for b := a; b < 4; b++ {
				gn[4*a+b] += w.k * s[a] * s[b]
			}
		}
		// s_ab times l, less what the first part has.
		kel := ke / l
		full[0] += kel * (1 - s[0]*s[0])
		full[1] += kel * (-s[0] * s[1])
		full[2] += kel * (pp.X - s[0]*s[2])
		full[3] += kel * (pt.X - s[0]*s[3])
		full[5] += kel * (1 - s[1]*s[1])
		full[6] += kel * (pp.Y - s[1]*s[2])
		full[7] += kel * (pt.Y - s[1]*s[3])
		full[10] += kel*(r3.Norm2(pp)-s[2]*s[2]) + ke*(-u.X*r.X-u.Y*r.Y)
		full[11] += kel*(r3.Dot(pp, pt)-s[2]*s[3]) + ke*(-u.X*pt.Y+u.Y*pt.X)
		full[15] += kel*(r3.Norm2(pt)-s[3]*s[3]) + ke*(r3.Dot(u, a3)*r3.Dot(a3, r)-r3.Dot(u, r))
	}
	for a := range 4 {
		for b := a; b < 4; b++ {
			full[4*a+b] += gn[4*a+b]
			full[4*b+a], gn[4*b+a] = full[4*a+b], gn[4*a+b]
		}
	}
}

// ratesEnergy fills d(unknowns)/d(heave) and /d(alpha) = -H^-1 d(grad E)/du; the mixed second derivatives include s s_ab.
func (m *Mechanism) ratesEnergy(p *Pose, inv *mat4) {
	var gh, ga [4]float64
	var held mat4
	a2 := r3.Vec{X: p.q.cp, Y: p.q.sp}
	a3 := p.Ey
	for i := range m.rows {
		w := &m.rows[i]
		r := p.Offset(w.p)
		d := r3.Sub(r3.Add(p.C, r), w.f)
		l := math.Sqrt(r3.Norm2(d))
		u := r3.Scale(1/l, d)
		pp := r3.Vec{X: -r.Y, Y: r.X}
		pt := r3.Cross(a3, r)
		pa := r3.Cross(a2, r)
		s := [4]float64{u.X, u.Y, r3.Dot(u, pp), r3.Dot(u, pt)}
		sh, sal := u.Z, r3.Dot(u, pa)
		e := l - w.l
		// second derivatives with alpha: a1 x (a2 x r) for psi, a2 x (a3 x r) for theta; none with heave
		ppa := -u.X*pa.Y + u.Y*pa.X
		pat := r3.Dot(u, r3.Cross(a2, pt))
		dot := [4]float64{pa.X, pa.Y, r3.Dot(pp, pa), r3.Dot(pt, pa)}
		doth := [4]float64{0, 0, 0, pt.Z}
		curve := [4]float64{0, 0, ppa, pat}
		for a := range 4 {
			gh[a] -= w.k * (s[a]*sh + e*(doth[a]-s[a]*sh)/l)
			ga[a] -= w.k * (s[a]*sal + e*((dot[a]-s[a]*sal)/l+curve[a]))
			for b := a; b < 4; b++ {
				held[4*a+b] += s[a] * s[b]
			}
		}
	}
	inv.mul(&gh, &p.dh)
	inv.mul(&ga, &p.da)
	for a := range 4 {
		for b := a; b < 4; b++ {
			held[4*b+a] = held[4*a+b]
		}
	}
	p.Held = 0
	if held.invert() != 0 {
		t := held[0] + held[5] + (held[10]+held[15])*angleScale*angleScale
		if t > 0 {
			p.Held = 1 / math.Sqrt(t)
		}
	}
}

// positive reports whether the symmetric matrix is positive definite, by its leading minors (Sylvester).
func (a *mat4) positive() bool {
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
	return a[0] > 0 && s0 > 0 && a[8]*s3-a[9]*s1+a[10]*s0 > 0 && s0*c5-s1*c4+s2*c3+s3*c2-s4*c1+s5*c0 > 0
}
