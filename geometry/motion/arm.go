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

// force is the spring's answer K v to a give v, with the bolt b as it lies now.
func (k *spring) force(b, v r3.Vec) r3.Vec {
	return r3.Add(r3.Scale(k.radial, v), r3.Scale((k.axial-k.radial)*r3.Dot(b, v), b))
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
	unit := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	var g, kg [coordinates + own]r3.Vec
	first := coordinates // of the coordinates that count: on the frame only the arm's own
	for i := range a.mounts {
		k := &a.mounts[i]
		rho := at.turn(k.at)
		point := r3.Add(r3.Add(a.Frame[0], at.move), rho)
		var e, bolt, y r3.Vec
		onAxle := k.mount.On == OnAxle
		if onAxle {
			first = 0
			y = r3.Sub(point, p.C)
			e = r3.Sub(y, p.Offset(k.mount.At))
			bolt = p.Offset(k.bolt)
			x.derivatives(y, (*[coordinates]r3.Vec)(g[:coordinates]))
			for c := range coordinates {
				g[c] = r3.Scale(-1, g[c])
			}
		} else {
			first = coordinates
			e, bolt = r3.Sub(point, k.mount.At), k.bolt
		}
		for c := range 3 {
			g[coordinates+c] = unit[c]
			g[coordinates+3+c] = r3.Cross(unit[c], rho)
		}
		for c := first; c < len(g); c++ {
			kg[c] = k.force(bolt, g[c])
		}
		v := k.force(bolt, e)
		for c := range own {
			f.b[c] += r3.Dot(g[coordinates+c], v)
			for d := c; d < own; d++ {
				f.a[c][d] += r3.Dot(g[coordinates+c], kg[coordinates+d])
			}
			for d := first; d < coordinates; d++ {
				f.x[c][d] += r3.Dot(g[coordinates+c], kg[d])
			}
		}
		for c := first; c < unknowns; c++ {
			sys.g[c] += r3.Dot(g[c], v)
			for d := range coordinates {
				sys.h[c][d] += r3.Dot(g[c], kg[d])
			}
		}
		if plain {
			continue
		}
		rv := r3.Dot(rho, v)
		r, w := [3]float64{rho.X, rho.Y, rho.Z}, [3]float64{v.X, v.Y, v.Z}
		for c := range 3 {
			f.a[3+c][3+c] -= rv
			for d := c; d < 3; d++ {
				f.a[3+c][3+d] += (r[c]*w[d] + r[d]*w[c]) / 2
			}
		}
		if onAxle {
			a.axleTurns(x, y, v, &g, sys, f)
		}
	}
}

// axleTurns adds the second derivatives of a spring on the axle that come of the axle's turns; v is its force.
func (a *Arm) axleTurns(x *axes, y, v r3.Vec, g *[coordinates + own]r3.Vec, sys *system, f *fold) {
	turns := [3]struct {
		at   int
		axis r3.Vec
	}{{atPsi, x.psi}, {atAlpha, x.alpha}, {atTheta, x.theta}} // outermost first
	shifts := [3]struct {
		at int
		c  r3.Vec
	}{{atX, r3.Vec{X: 1}}, {atY, r3.Vec{Y: 1}}, {atHeave, r3.Vec{Z: 1}}}
	put := func(a, b int, h float64) {
		if a < unknowns {
			sys.h[a][b] += h
		}
		if b < unknowns && a != b {
			sys.h[b][a] += h
		}
	}
	for o := range turns {
		outer := r3.Cross(turns[o].axis, y)
		for i := o; i < 3; i++ {
			put(turns[o].at, turns[i].at, r3.Dot(v, r3.Cross(turns[i].axis, outer)))
		}
		for _, s := range shifts {
			put(turns[o].at, s.at, r3.Dot(v, r3.Cross(turns[o].axis, s.c)))
		}
		across := r3.Cross(turns[o].axis, v) // -(axis x y_b).v = (axis x v).y_b
		for b := range own {
			f.x[b][turns[o].at] += r3.Dot(across, g[coordinates+b])
		}
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
		force[i] = k.force(bolt, e[i])
	}
	return e, force
}
