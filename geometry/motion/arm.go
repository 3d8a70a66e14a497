package motion

import (
	"gonum.org/v1/gonum/spatial/r3"
)

// body is a radius arm at a pose: how far its own point (its frame pivot) has moved since ride, and its turn since ride as a unit quaternion.
type body struct {
	move       r3.Vec
	w, x, y, z float64
}

// turn is a direction of ride as the body has turned it.
func (b *body) turn(v r3.Vec) r3.Vec {
	q := r3.Vec{X: b.x, Y: b.y, Z: b.z}
	c := r3.Cross(q, v)
	return r3.Add(v, r3.Add(r3.Scale(2*b.w, c), r3.Scale(2, r3.Cross(q, c))))
}

// unturn is the inverse of turn.
func (b *body) unturn(v r3.Vec) r3.Vec {
	c := body{w: b.w, x: -b.x, y: -b.y, z: -b.z}
	return c.turn(v)
}

// add moves the body's point by d[0..2] and turns it by the small turn d[3..5], body axes.
func (b *body) add(d *[own]float64) {
	b.move = r3.Add(b.move, r3.Vec{X: d[0], Y: d[1], Z: d[2]})
	x, y, z := d[3]/2, d[4]/2, d[5]/2
	w1 := b.w - x*b.x - y*b.y - z*b.z
	x1 := b.x + x*b.w + y*b.z - z*b.y
	y1 := b.y + y*b.w + z*b.x - x*b.z
	z1 := b.z + z*b.w + x*b.y - y*b.x
	n := 1 / norm4(w1, x1, y1, z1)
	b.w, b.x, b.y, b.z = w1*n, x1*n, y1*n, z1*n
}

// spring is what holds a radius arm at one of its pivots: radial square to the bolt, axial along it, the bolt being carried by its mount.
type spring struct {
	at            r3.Vec // the arm's point less its own point, at ride
	mount         Place
	bolt          r3.Vec // unit, at ride
	radial, axial float64
}

// springs adds the energy of a radius arm, the sum over its pivots of 1/2 e.K e with e from mount to the arm's point, to the axle's system and
// fills the arm's own one (its point's move, its turn).
//
// Both e and K are seen from the mount, so that K is constant there. With y the arm's point less the axle centre, the derivative of e (turned back
// into body axes) by an axle coordinate is -(C_a + a_a x y) and by the arm's own d + w x rho; the gradient is g.Ke, the Hessian g_a.K g_b + h_ab.Ke with
// h = a_inner x (a_outer x y) for two turns of the axle, a x C_b for a turn and a shift, -(a x y_b) for a turn and an own coordinate, and
// (w_i x (w_j x rho) + w_j x (w_i x rho))/2 for two own turns. plain leaves the terms with h out.
func (a *Arm) springs(x *axes, p *Pose, at *body, plain bool, sys *system, f *fold) {
	f.reset(own)
	for i := range a.mounts {
		k := &a.mounts[i]
		rho := at.turn(k.at)
		point := r3.Add(r3.Add(a.Frame[0], at.move), rho)
		onAxle := k.mount.On == OnAxle
		var e, y r3.Vec
		bolt := k.bolt
		if onAxle {
			y = r3.Sub(point, p.C)
			e = r3.Sub(y, p.Offset(k.mount.At))
			bolt = p.Offset(bolt)
		} else {
			e = r3.Sub(point, k.mount.At)
		}
		stiff := k.matrix(bolt)
		v := stiff.mul(e)
		turns := [3]r3.Vec{{Y: -rho.Z, Z: rho.Y}, {X: rho.Z, Z: -rho.X}, {X: -rho.Y, Y: rho.X}} // unit turns of the arm: w x rho
		var pull [3]r3.Vec                                                                      // K times those
		for c := range turns {
			pull[c] = stiff.mul(turns[c])
			f.b[3+c] += r3.Dot(turns[c], v)
			for d := c; d < 3; d++ {
				f.a[3+c][3+d] += r3.Dot(turns[d], pull[c])
			}
			f.a[0][3+c] += pull[c].X
			f.a[1][3+c] += pull[c].Y
			f.a[2][3+c] += pull[c].Z
		}
		f.b[0] += v.X
		f.b[1] += v.Y
		f.b[2] += v.Z
		f.a[0][0] += stiff[0].X
		f.a[0][1] += stiff[0].Y
		f.a[0][2] += stiff[0].Z
		f.a[1][1] += stiff[1].Y
		f.a[1][2] += stiff[1].Z
		f.a[2][2] += stiff[2].Z
		if !plain {
			rv := r3.Dot(rho, v)
			f.a[3][3] += rho.X*v.X - rv
			f.a[4][4] += rho.Y*v.Y - rv
			f.a[5][5] += rho.Z*v.Z - rv
			f.a[3][4] += (rho.X*v.Y + rho.Y*v.X) / 2
			f.a[3][5] += (rho.X*v.Z + rho.Z*v.X) / 2
			f.a[4][5] += (rho.Y*v.Z + rho.Z*v.Y) / 2
		}
		if onAxle {
			x.mounted(plain, y, v, &stiff, &turns, &pull, sys, f)
		}
	}
}

// mounted adds what a spring on the axle has to do with the axle's coordinates: y is the arm's point less the axle centre, v the force, turns
// and pull the arm's unit turns there and K times them.
func (x *axes) mounted(plain bool, y, v r3.Vec, stiff *mat3, turns, pull *[3]r3.Vec, sys *system, f *fold) {
	// e by a shift of the axle is less that shift; by a turn a it is -(a x y).
	psi, theta, alpha := r3.Vec{X: y.Y, Y: -y.X}, r3.Cross(y, x.theta), r3.Cross(y, x.alpha)
	kPsi, kTheta, kAlpha := stiff.mul(psi), stiff.mul(theta), stiff.mul(alpha)
	sys.g[atX] -= v.X
	sys.g[atY] -= v.Y
	sys.g[atPsi] += r3.Dot(psi, v)
	sys.g[atTheta] += r3.Dot(theta, v)
	h := &sys.h
	h[atX][atX] += stiff[0].X
	h[atX][atY] += stiff[0].Y
	h[atX][atHeave] += stiff[0].Z
	h[atY][atY] += stiff[1].Y
	h[atY][atHeave] += stiff[1].Z
	h[atX][atPsi] -= kPsi.X
	h[atX][atTheta] -= kTheta.X
	h[atX][atAlpha] -= kAlpha.X
	h[atY][atPsi] -= kPsi.Y
	h[atY][atTheta] -= kTheta.Y
	h[atY][atAlpha] -= kAlpha.Y
	h[atPsi][atHeave] -= kPsi.Z
	h[atTheta][atHeave] -= kTheta.Z
	h[atPsi][atPsi] += r3.Dot(psi, kPsi)
	h[atPsi][atTheta] += r3.Dot(psi, kTheta)
	h[atPsi][atAlpha] += r3.Dot(psi, kAlpha)
	h[atTheta][atTheta] += r3.Dot(theta, kTheta)
	h[atTheta][atAlpha] += r3.Dot(theta, kAlpha)
	for c, row := range stiff {
		b := &f.x[c]
		b[atX] -= row.X
		b[atY] -= row.Y
		b[atHeave] -= row.Z
	}
	for c := range turns {
		b := &f.x[3+c]
		b[atX] -= pull[c].X
		b[atY] -= pull[c].Y
		b[atHeave] -= pull[c].Z
		b[atPsi] += r3.Dot(turns[c], kPsi)
		b[atTheta] += r3.Dot(turns[c], kTheta)
		b[atAlpha] += r3.Dot(turns[c], kAlpha)
	}
	// Own shifts with the axle's turns, and with plain nothing more.
	across := [3]r3.Vec{kPsi, kTheta, kAlpha}
	if !plain {
		// -(a x y_b).v = (a x v).y_b
		byPsi, byTheta, byAlpha := r3.Vec{X: -v.Y, Y: v.X}, r3.Cross(x.theta, v), r3.Cross(x.alpha, v)
		across = [3]r3.Vec{r3.Add(kPsi, byPsi), r3.Add(kTheta, byTheta), r3.Add(kAlpha, byAlpha)}
		for c := range turns {
			b := &f.x[3+c]
			b[atPsi] += r3.Dot(turns[c], byPsi)
			b[atTheta] += r3.Dot(turns[c], byTheta)
			b[atAlpha] += r3.Dot(turns[c], byAlpha)
		}
		// a x C_b for a turn and a shift of the axle: v.(a x C) = (v x a).C = -(a x v).C
		h[atX][atPsi] -= byPsi.X
		h[atX][atTheta] -= byTheta.X
		h[atX][atAlpha] -= byAlpha.X
		h[atY][atPsi] -= byPsi.Y
		h[atY][atTheta] -= byTheta.Y
		h[atY][atAlpha] -= byAlpha.Y
		h[atTheta][atHeave] -= byTheta.Z
		// two turns: v.(inner x (outer x y)) = -(inner x v).(outer x y), and outer x y is less psi, alpha or theta
		h[atPsi][atPsi] += r3.Dot(byPsi, psi)
		h[atPsi][atTheta] += r3.Dot(byTheta, psi)
		h[atPsi][atAlpha] += r3.Dot(byAlpha, psi)
		h[atTheta][atTheta] += r3.Dot(byTheta, theta)
		h[atTheta][atAlpha] += r3.Dot(byTheta, alpha)
	}
	for c, at := range [3]int{atPsi, atTheta, atAlpha} {
		f.x[0][at] += across[c].X
		f.x[1][at] += across[c].Y
		f.x[2][at] += across[c].Z
	}
}

// mat3 is a 3x3 matrix by rows.
type mat3 [3]r3.Vec

func (a *mat3) mul(v r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(a[0], v), Y: r3.Dot(a[1], v), Z: r3.Dot(a[2], v)}
}

// left is v' times the matrix.
func (a *mat3) left(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: v.X*a[0].X + v.Y*a[1].X + v.Z*a[2].X, Y: v.X*a[0].Y + v.Y*a[1].Y + v.Z*a[2].Y, Z: v.X*a[0].Z + v.Y*a[1].Z + v.Z*a[2].Z,
	}
}

// matrix is K = radial (I - b b') + axial b b' with the bolt b as it lies now.
func (k *spring) matrix(b r3.Vec) mat3 {
	d := k.axial - k.radial
	x, y, z := d*b.X, d*b.Y, d*b.Z
	return mat3{
		{X: k.radial + x*b.X, Y: x * b.Y, Z: x * b.Z},
		{X: x * b.Y, Y: k.radial + y*b.Y, Z: y * b.Z},
		{X: x * b.Z, Y: y * b.Z, Z: k.radial + z*b.Z},
	}
}

// gives is how far each pivot of a radius arm gives at the pose and the force there, body axes.
func (a *Arm) gives(p *Pose, at *body) (e, force [3]r3.Vec) {
	for i := range a.mounts {
		k := &a.mounts[i]
		point := r3.Add(r3.Add(a.Frame[0], at.move), at.turn(k.at))
		bolt := k.bolt
		mount := k.mount.At
		if k.mount.On == OnAxle {
			bolt, mount = p.Offset(bolt), p.Point(mount)
		}
		e[i] = r3.Sub(point, mount)
		stiff := k.matrix(bolt)
		force[i] = stiff.mul(e[i])
	}
	return e, force
}
