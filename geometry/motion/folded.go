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
	y  system
	fs folds
}

// stepOwn is the part of step for layouts whose members have unknowns of their own; it returns how far those were corrected.
func (s *Solver) stepOwn(from *Pose, q *state, d *[4]float64, dh, da, sa, ca float64) (off float64, ok bool) {
	m, p := s.m, &s.try
	all := [coordinates]float64{d[0], d[1], d[2], d[3], dh, da}
	if !m.predict(from, &all, &s.work, p) {
		return 0, false
	}
	s.own.rockers, s.own.arms = p.rockers, p.arms
	if len(m.Rockers) > 0 {
		m.frame(q, p.Heave, sa, ca, p)
		if m.rockersTurned(from, p) {
			return 0, false
		}
	}
	if m.OverLocated {
		ok = m.energyFolded(q, p.Heave, sa, ca, p, &s.inv, &s.work)
	} else {
		ok = m.exactFolded(q, p.Heave, sa, ca, p, &s.inv, &s.work) && (p.det < 0) == (from.det < 0)
	}
	if !ok || m.rockersTurned(from, p) {
		return 0, false
	}
	return m.strayed(p, &s.own), true
}

// predict brings the folds to a pose and predicts the members' own unknowns for a step of the axle's coordinates.
func (m *Mechanism) predict(from *Pose, d *[coordinates]float64, w *work, p *Pose) (ok bool) {
	m.foldAt(from, w)
	for i := range m.Rockers {
		p.rockers[i] = from.rockers[i]
		by := w.fs.rockers[i].moves(d, false)
		if !(math.Abs(by[0]) <= mostTurn) {
			return false
		}
		turn(&p.rockers[i].s, &p.rockers[i].c, by[0])
		pullBack(&p.rockers[i].s, &p.rockers[i].c)
	}
	for i := range m.radius {
		p.arms[i] = from.arms[i]
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

// exactFolded is exact for layouts with rockers. It leaves the inverse, its determinant and the rates at the solution.
func (m *Mechanism) exactFolded(q *state, h, sa, ca float64, p *Pose, inv *mat4, w *work) (ok bool) {
	var f, d [4]float64
	start := *q
	last := false
	for range maxNewton {
		m.frame(q, h, sa, ca, p)
		p.q = *q
		worst := m.exactRows(p, &f, &w.y.h, &w.fs)
		if worst != worst {
			return false
		}
		w.y.square(inv)
		p.det = inv.invert()
		if p.det == 0 {
			return false
		}
		if last && worst <= residualTol {
			p.Residual = worst
			m.ratesFolded(p, inv, w)
			return p.Held > 0
		}
		last = worst <= residualTol // one more step brings the unknowns to round-off
		inv.mul(&f, &d)
		if !m.stepFolded(q, &d, &start, p, w) {
			return false
		}
	}
	return false
}

// energyFolded is energy for layouts with rockers and radius arms.
func (m *Mechanism) energyFolded(q *state, h, sa, ca float64, p *Pose, inv *mat4, w *work) (ok bool) {
	var d [4]float64
	start := *q
	last, before := false, math.Inf(1)
	for range maxNewton {
		m.frame(q, h, sa, ca, p)
		p.q = *q
		plain := false
		ok := m.assemble(p, false, &w.y, &w.fs)
		if ok {
			w.y.square(inv)
			ok = inv.positive()
		}
		if !ok {
			plain = true
			if !m.assemble(p, true, &w.y, &w.fs) {
				return false
			}
			w.y.square(inv)
			if !inv.positive() {
				return false
			}
		}
		if inv.invert() == 0 {
			return false
		}
		if last && !plain {
			m.ratesFolded(p, inv, w)
			return p.Held > 0
		}
		inv.mul(&w.y.g, &d)
		if !m.stepFolded(q, &d, &start, p, w) {
			return false
		}
		last = p.Residual <= stepTol || (p.Residual <= settledTol && p.Residual > before/2)
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

// ratesFolded fills the rates of the unknowns and how well the axle is held.
func (m *Mechanism) ratesFolded(p *Pose, inv *mat4, w *work) {
	h, a := w.y.column(atHeave), w.y.column(atAlpha)
	inv.mul(&h, &p.dh)
	inv.mul(&a, &p.da)
	p.Held = m.heldFolded(p)
}

// heldFolded is the lower bound of the smallest singular value: that of the axle's four unknowns, by the trace of (A'A)^-1.
func (m *Mechanism) heldFolded(p *Pose) float64 {
	var six [6][6]float64
	m.holding(p, &six)
	// The four unknowns as motions of the axle.
	to := [4]twist{{1}, {0, 1}, {0, 0, 0, 0, 0, 1}, {0, 0, 0, p.Ey.X, p.Ey.Y, p.Ey.Z}}
	var a mat4
	for i := range to {
		for k := i; k < 4; k++ {
			v := 0.0
			for r := range 6 {
				for c := range 6 {
					v += to[i][r] * six[r][c] * to[k][c]
				}
			}
			a[4*i+k], a[4*k+i] = v, v
		}
	}
	if a.invert() == 0 {
		return 0
	}
	if t := a[0] + a[5] + a[10] + a[15]; t > 0 {
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
