package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Layouts with rockers or radius arms are solved as the others are, with the members' own unknowns folded in.

const (
	// A step this small that is no smaller than half the one before it is round-off of very stiff members, mm and 1000 rad.
	settledTol = 1e-6
	// mostTurn is the most a rocker or an arm is let turn in one step of the march or of the iteration, rad.
	mostTurn = 0.5
)

// work is what folded layouts need to be solved.
type work struct {
	y      system
	fs     folds
	before [mostFolded]lever // where the step starts
}

// stepOwn is the part of step for layouts whose members have unknowns of their own; it returns how far those were corrected.
func (s *Solver) stepOwn(from *Pose, q *state, d *[4]float64, dh, da, sa, ca float64) (off float64, ok bool) {
	m, p := s.m, &s.try
	all := [coordinates]float64{d[0], d[1], d[2], d[3], dh, da}
	if !m.predict(from, &all, &s.work, p) {
		return 0, false
	}
	m.handOwn(p, &s.own)
	if m.OverLocated {
		ok = m.energyFolded(q, p.Heave, sa, ca, p, &s.inv, &s.work)
	} else {
		ok = m.exactFolded(q, p.Heave, sa, ca, p, &s.inv, &s.work) && (p.det < 0) == (from.det < 0)
	}
	if !ok {
		return 0, false
	}
	return m.strayed(p, &s.own), true
}

// predict brings the folds to a pose and predicts the members' own unknowns for a step of the axle's coordinates.
func (m *Mechanism) predict(from *Pose, d *[coordinates]float64, w *work, p *Pose) (ok bool) {
	m.foldAt(from, w)
	m.handOwn(from, p)
	for i := range m.Rockers {
		w.before[i].g[0], w.before[i].g[1], w.before[i].h = w.fs.levers[i].g[0], w.fs.levers[i].g[1], w.fs.levers[i].h
		by := w.fs.rockers[i].moves(d, false)
		if !(math.Abs(by[0]) <= mostTurn) {
			return false
		}
		turn(&p.rockers[i].s, &p.rockers[i].c, by[0])
		pullBack(&p.rockers[i].s, &p.rockers[i].c)
	}
	for i := range m.radius {
		by := w.fs.arms[i].moves(d, false)
		if !(math.Abs(by[3])+math.Abs(by[4])+math.Abs(by[5]) <= mostTurn) {
			return false
		}
		p.arms[i].add(&by)
	}
	return true
}

// foldAt works out how the members' own unknowns go with the axle's coordinates at a solved pose.
func (m *Mechanism) foldAt(p *Pose, w *work) {
	if !m.OverLocated {
		var f [4]float64
		m.exactRows(p, &f, &w.y.h, &w.fs)
		return
	}
	if !m.assemble(p, false, &w.y, &w.fs) {
		m.assemble(p, true, &w.y, &w.fs)
	}
}

// exactFolded is exact for layouts with rockers. It leaves the inverse, its determinant and the rates at the solution. Neither where the prediction
// stands nor where it ends may a rocker have gone through its dead centre.
func (m *Mechanism) exactFolded(q *state, h, sa, ca float64, p *Pose, inv *mat4, w *work) (ok bool) {
	var f, d [4]float64
	var start state
	start.set(q)
	size := math.Inf(1) // of the last step
	for i := range maxNewton {
		m.frame(q, h, sa, ca, p)
		p.q.set(q)
		worst := m.exactRows(p, &f, &w.y.h, &w.fs)
		if worst != worst || i == 0 && m.rockersTurned(&w.before, &w.fs.levers) {
			return false
		}
		settled := worst <= residualTol
		if !settled || size > sameInverse {
			var j mat4
			w.y.square(&j)
			if p.det = j.inverse(inv); p.det == 0 {
				return false
			}
		}
		if settled {
			if worst > roundOff {
				inv.mul(&f, &d)
				if !m.stepFolded(q, &d, &start, p, w) {
					return false
				}
				m.frame(q, h, sa, ca, p)
			}
			p.Residual = worst
			m.ratesFolded(p, inv, w)
			p.Held = inv.held()
			return !m.rockersTurned(&w.before, &w.fs.levers)
		}
		inv.mul(&f, &d)
		if !m.stepFolded(q, &d, &start, p, w) {
			return false
		}
		size = p.Residual
	}
	return false
}

// energyFolded is energy for layouts with rockers and radius arms.
func (m *Mechanism) energyFolded(q *state, h, sa, ca float64, p *Pose, inv *mat4, w *work) (ok bool) {
	var d [4]float64
	var start state
	start.set(q)
	before := math.Inf(1)
	for i := range maxNewton {
		m.frame(q, h, sa, ca, p)
		p.q.set(q)
		plain := false
		var j mat4
		ok := m.assemble(p, false, &w.y, &w.fs)
		if ok {
			w.y.square(&j)
			ok = j.positive()
		}
		if !ok {
			plain = true
			if !m.assemble(p, true, &w.y, &w.fs) {
				return false
			}
			w.y.square(&j)
			if !j.positive() {
				return false
			}
		}
		if i == 0 && m.rockersTurned(&w.before, &w.fs.levers) || j.inverse(inv) == 0 {
			return false
		}
		inv.mul(&w.y.g, &d)
		if !m.stepFolded(q, &d, &start, p, w) {
			return false
		}
		if settled := p.Residual <= stepTol || (p.Residual <= settledTol && p.Residual > before/2); settled && !plain {
			m.frame(q, h, sa, ca, p)
			m.ratesFolded(p, inv, w)
			p.Held = m.heldFolded(p)
			return p.Held > 0 && !m.rockersTurned(&w.before, &w.fs.levers)
		}
		before = p.Residual
	}
	return false
}

// stepFolded takes one Newton step, d being the inverse times the residuals or the gradient, and the members' own with it. p.Residual becomes its size.
func (m *Mechanism) stepFolded(q *state, d *[4]float64, start *state, p *Pose, w *work) (ok bool) {
	var all [coordinates]float64
	for i := range d {
		d[i] = -d[i]
		all[i] = d[i]
	}
	if !(math.Abs(d[2]) <= 1 && math.Abs(d[3]) <= 1) {
		return false
	}
	size := math.Abs(d[0]) + math.Abs(d[1]) + angleScale*(math.Abs(d[2])+math.Abs(d[3]))
	for i := range m.Rockers {
		by := w.fs.rockers[i].moves(&all, true)
		if !(math.Abs(by[0]) <= 1) {
			return false
		}
		size += m.Rockers[i].reach * math.Abs(by[0])
		turn(&p.rockers[i].s, &p.rockers[i].c, by[0])
	}
	for i := range m.radius {
		by := w.fs.arms[i].moves(&all, true)
		turned := math.Abs(by[3]) + math.Abs(by[4]) + math.Abs(by[5])
		if !(turned <= 1) {
			return false
		}
		size += math.Abs(by[0]) + math.Abs(by[1]) + math.Abs(by[2]) + angleScale*turned
		p.arms[i].add(&by)
	}
	p.Residual = size
	q.add(d)
	return math.Abs(q.x-start.x)+math.Abs(q.y-start.y) <= maxShift
}

// ratesFolded fills the rates of the unknowns.
func (m *Mechanism) ratesFolded(p *Pose, inv *mat4, w *work) {
	h, a := w.y.column(atHeave), w.y.column(atAlpha)
	inv.mul(&h, &p.dh)
	inv.mul(&a, &p.da)
}

// heldFolded is the lower bound of the smallest singular value of an over-located axle: that of the axle's four unknowns, by the trace of
// (A'A)^-1. Like holding, it eliminates rockers and radius arms.
func (m *Mechanism) heldFolded(p *Pose) float64 {
	x := p.axes()
	var y system
	var s [coordinates]float64
	add := func() {
		for a := range unknowns {
			for b := a; b < unknowns; b++ {
				y.h[a][b] += s[a] * s[b]
			}
		}
	}
	for i := range m.rows {
		w := &m.rows[i]
		r := p.Offset(w.p)
		d := r3.Sub(r3.Add(p.C, r), w.f)
		x.row(r3.Scale(1/norm(d), d), r, &s)
		add()
	}
	for i := range m.Rockers {
		var j [2][coordinates]float64
		var g [2]float64
		for k := range j {
			w := m.rod(p, i, k)
			u := r3.Scale(1/norm(w.d), w.d)
			x.row(u, w.r, &j[k])
			g[k] = r3.Dot(u, w.own)
		}
		n := 1 / math.Sqrt(g[0]*g[0]+g[1]*g[1])
		for k := range s {
			s[k] = (g[1]*j[0][k] - g[0]*j[1][k]) * n
		}
		add()
	}
	var f fold
	for i, k := range m.radius {
		a := &m.Arms[k]
		even := *a // with springs alike all round
		for k := range even.mounts {
			even.mounts[k].radial, even.mounts[k].axial = 1, 1
		}
		even.springs(&x, p, &p.arms[i], true, &y, &f)
		f.solve()
		f.into(&y)
	}
	var j mat4
	for a := range unknowns {
		for b := a; b < unknowns; b++ {
			j[4*a+b], j[4*b+a] = y.h[a][b], y.h[a][b]
		}
	}
	if j.invert() == 0 {
		return 0
	}
	if t := j[0] + j[5] + (j[10]+j[15])*angleScale*angleScale; t > 0 {
		return 1 / math.Sqrt(t)
	}
	return 0
}

// strayed is how far the members' own unknowns are from where they were predicted, mm.
func (m *Mechanism) strayed(p, guess *Pose) float64 {
	off := 0.0
	for i := range m.Rockers {
		a, b := &p.rockers[i], &guess.rockers[i]
		off += m.Rockers[i].reach * math.Abs(a.s*b.c-a.c*b.s)
	}
	for i := range m.radius {
		a, b := &p.arms[i], &guess.arms[i]
		off += norm(r3.Sub(a.move, b.move))
		off += 2 * angleScale * norm4(a.w-b.w, a.x-b.x, a.y-b.y, a.z-b.z)
	}
	return off
}

func norm4(w, x, y, z float64) float64 { return math.Sqrt(w*w + x*x + y*y + z*z) }
