package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// pair is an angle as its sine and cosine.
type pair struct{ s, c float64 }

// rod is a rocker's rod at a pose.
func (m *Mechanism) rod(p *Pose, i, k int) distance {
	r := &m.Rockers[i]
	rod := &r.Rods[k]
	t := &p.rockers[i]
	arm := spun(r.Axis, t.c, t.s, rod.Rocker.At)
	own := r3.Cross(r.Axis, arm)
	w := distance{l0: rod.Length, k: rod.K, axle: r.Pivot.On == OnAxle}
	if w.axle {
		w.r = p.Offset(r3.Add(r.Pivot.At, arm))
		w.d = r3.Sub(r3.Add(p.C, w.r), rod.Far.At)
		w.own, w.axis = p.Offset(own), p.Offset(r.Axis)
		return w
	}
	w.r = p.Offset(rod.Far.At)
	w.d = r3.Sub(r3.Add(p.C, w.r), r3.Add(r.Pivot.At, arm))
	w.own, w.axis = r3.Scale(-1, own), r.Axis
	return w
}

// lever is a rocker as its two rods hold its turn at a pose: the derivatives of their lengths by it. Where both are nothing the rods point at
// its bolt and nothing says which way it turns: its dead centre.
type lever struct {
	g [2]float64 // mm per rad
	h float64    // their length against that of the way the rods' pivots go: 1 where both rods pull square to their arms
}

func (m *Mechanism) lever(p *Pose, i int) (v lever) {
	way := 0.0
	for k := range v.g {
		w := m.rod(p, i, k)
		v.g[k] = r3.Dot(w.d, w.own) / norm(w.d)
		way += r3.Norm2(w.own)
	}
	v.h = math.Sqrt((v.g[0]*v.g[0] + v.g[1]*v.g[1]) / way)
	return v
}

const (
	// Near its dead centre a rocker can be driven on two ways, which meet there: from this lever.h down a step may not change the pull of the
	// rods by more than this share of it, lest it end on the other way.
	nearDead  = 0.1
	pullShare = 0.75
	// and this near they meet.
	atDead = 1e-4
)

// turned reports whether the rods have come to pull a rocker the other way round, or nearly so: between the two poses it went through its dead
// centre, or may have.
func (v *lever) turned(before *lever) bool {
	if !(v.g[0]*before.g[0]+v.g[1]*before.g[1] > 0) || v.h < atDead {
		return true
	}
	return v.h < nearDead && math.Hypot(v.g[0]-before.g[0], v.g[1]-before.g[1]) > pullShare*math.Hypot(before.g[0], before.g[1])
}

// rockersTurned reports whether any rocker went through its dead centre between two poses.
func (m *Mechanism) rockersTurned(from, to *[mostFolded]lever) bool {
	for i := range m.Rockers {
		if to[i].turned(&from[i]) {
			return true
		}
	}
	return false
}

// exactRows fills the residuals f = (|d|^2 - l^2)/(2l) and their derivatives by all six coordinates; a rocker's two rows J1, J2 with their
// derivatives g1, g2 by its turn become one that does not know the turn, (g2 J1 - g1 J2)/|g|, the other combination giving the turn. It returns the
// largest residual.
func (m *Mechanism) exactRows(p *Pose, f *[4]float64, y *[4][coordinates]float64, fs *folds) float64 {
	x := p.axes()
	worst := 0.0 // square of the largest residual
	n := len(m.rows)
	for i := range m.rows {
		w := &m.rows[i]
		r := p.Offset(w.p)
		d := r3.Sub(r3.Add(p.C, r), w.f)
		e := (r3.Norm2(d) - w.l2) * w.half
		f[i] = e
		if e *= e; !(e <= worst) {
			worst = e
		}
		x.row(r3.Scale(w.inv, d), r, &y[i])
	}
	for i := range m.Rockers {
		var j [2][coordinates]float64
		var e [2]float64
		v := &fs.levers[i]
		way := 0.0
		for k := range j {
			w := m.rod(p, i, k)
			inv := 1 / w.l0
			e[k] = (r3.Norm2(w.d) - w.l0*w.l0) * inv / 2
			if q := e[k] * e[k]; !(q <= worst) {
				worst = q
			}
			x.row(r3.Scale(inv, w.d), w.r, &j[k])
			v.g[k] = r3.Dot(w.d, w.own) * inv
			way += r3.Norm2(w.own)
		}
		g2 := v.g[0]*v.g[0] + v.g[1]*v.g[1]
		v.h = math.Sqrt(g2 / way)
		n1, n2 := 1/math.Sqrt(g2), 1/g2
		c, s := v.g[1]*n1, v.g[0]*n1
		f[n+i] = c*e[0] - s*e[1]
		o := &fs.rockers[i]
		o.n = 1
		o.step[0] = (v.g[0]*e[0] + v.g[1]*e[1]) * n2
		for k := range coordinates {
			y[n+i][k] = c*j[0][k] - s*j[1][k]
			o.rate[0][k] = (v.g[0]*j[0][k] + v.g[1]*j[1][k]) * n2
		}
	}
	return math.Sqrt(worst)
}
