package motion

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	marchStep = 25.0   // mm of the larger wheel travel; the demo layouts would take one jump, others may not
	mostTries = 20_000 // steps of one march: near the end of the links' reach a few hundred are usual
	leastStep = 1e-6   // mm: a march that cannot go on by this much has ended
	// A step is believed when the correction after the straight-line prediction is small beside the step: a step that lands on another
	// assembly of the links needs a correction of its own size.
	trust = 0.25
	// and when the largest correction stays under this, mm (angles at one metre).
	trustMost = 8.0
	runsAway  = 50.0 // mm per mm of travel: beyond this the end of the march is a fold, not a let-go
)

// Ride returns the pose at design ride height.
func (m *Mechanism) Ride() Pose { return m.ride }

// atRide works out the pose at design ride height.
func (m *Mechanism) atRide() Pose {
	var p Pose
	p.q = state{cp: 1, ct: 1}
	p.perRoll = 2 / m.Track
	for i := range m.Rockers {
		p.rockers[i].c = 1
	}
	for i := range m.radius {
		p.arms[i].w = 1
	}
	m.frame(&p.q, 0, 0, 1, &p)
	var inv mat4
	switch {
	case m.folded && (m.OverLocated || m.exactly()):
		var w work
		m.foldAt(&p, &w)
		w.y.square(&inv)
		if p.det = inv.invert(); p.det != 0 {
			m.ratesFolded(&p, &inv, &w)
			p.Held = m.heldFolded(&p)
		}
	case m.OverLocated:
		var g [4]float64
		var gn mat4
		m.hessian(&p.q, &p, &g, &inv, &gn)
		if inv.invert() != 0 {
			m.ratesEnergy(&p, &inv)
		}
	case m.exactly():
		m.exact(&p.q, 0, 0, 1, &p, &inv, &p.det)
	}
	return p
}

// Solver holds the work space of one goroutine. Its methods do not allocate (errors aside).
type Solver struct {
	m    *Mechanism
	ride Pose
	inv  mat4
	try  Pose
	at   Pose
	work work // of folded layouts
	own  Pose // of those: rockers and arms as predicted
}

// NewSolver returns a solver that stands at ride height.
func (m *Mechanism) NewSolver() *Solver { return &Solver{m: m, ride: m.Ride()} }

// Solve finds the pose at the two travels (mm) on the branch reached from ride height by a straight march in (left, right):
// the answer does not depend on what was solved before, to the last bit.
// On failure dst is the last pose reached on the way and the error, an *Error, says where that is.
func (s *Solver) Solve(left, right float64, dst *Pose) error {
	return s.march(&s.ride, left, right, dst)
}

// SolveFrom finds the pose at the two travels starting from a pose near by. It is refused like Solve's. start and dst may be the same.
func (s *Solver) SolveFrom(start *Pose, left, right float64, dst *Pose) error {
	return s.march(start, left, right, dst)
}

// Near is SolveFrom for searches: it gives up after the given number of steps tried and tells no reason, so that a place beyond the end of the
// links' way costs no more than one within it. What it finds is what SolveFrom would.
func (s *Solver) Near(start *Pose, left, right float64, tries int, dst *Pose) bool {
	if !(math.Abs(left-right) < s.m.Track) || math.IsInf(left, 0) || math.IsInf(right, 0) {
		return false
	}
	end, loose := s.advance(start, left, right, tries, dst)
	return end && !loose
}

// Rates gives the two unit motions at a solved pose, along the path the axle really takes.
func (s *Solver) Rates(p *Pose, dst *Rates) error {
	if p.Held == 0 {
		return &Error{Kind: DeadCentre, Words: "The axle is not held at that position: no rates there.", Left: p.Left, Right: p.Right}
	}
	h, a, k := &p.dh, &p.da, p.perRoll
	dst.Heave.V = r3.Vec{X: h[0], Y: h[1], Z: 1}
	dst.Heave.W = r3.Vec{X: h[3] * p.Ey.X, Y: h[3] * p.Ey.Y, Z: h[2] + h[3]*p.Ey.Z}
	dst.Roll.V = r3.Vec{X: a[0] * k, Y: a[1] * k}
	psi, theta := a[2]*k, a[3]*k
	dst.Roll.W = r3.Vec{X: k*p.q.cp + theta*p.Ey.X, Y: k*p.q.sp + theta*p.Ey.Y, Z: psi + theta*p.Ey.Z}
	return nil
}

// march goes from one pose to two travels along a straight line, in steps that are cut where the prediction does not hold.
func (s *Solver) march(start *Pose, left, right float64, dst *Pose) error {
	if bad := s.badTravel(left, right); bad != nil {
		*dst = *start
		return bad
	}
	if end, loose := s.advance(start, left, right, mostTries, dst); !end || loose {
		return s.stopped(dst)
	}
	return nil
}

// advance goes along the straight line of two travels in at most so many steps tried; dst is where it got to, end whether that is the end of the line,
// loose whether the axle is let go there.
func (s *Solver) advance(start *Pose, left, right float64, most int, dst *Pose) (end, loose bool) {
	at := start
	l0, r0 := at.Left, at.Right
	span := max(math.Abs(left-l0), math.Abs(right-r0))
	if span == 0 && start.Held > 0 {
		*dst = *start
		return true, false
	}
	done := 0.0 // fraction of the way
	frac := 1.0
	if span > marchStep {
		frac = 1 / math.Ceil(span/marchStep)
	}
	full := frac
	for tries := 0; ; tries++ {
		next := done + frac
		l, r := l0+next*(left-l0), r0+next*(right-r0)
		if next > 1-1e-9*frac {
			next, l, r = 1, left, right
		}
		if !s.step(at, l, r) {
			frac /= 2
			if frac*max(span, leastStep) < leastStep || tries > most {
				*dst = *at
				return false, false
			}
			continue
		}
		if s.try.Held < notLocated {
			sv, _ := s.m.singular(&s.try)
			loose = sv < notLocated
		}
		if next == 1 || loose {
			s.m.hand(&s.try, dst)
			return next == 1, loose
		}
		if tries > most {
			s.m.hand(&s.try, dst)
			return false, false
		}
		s.m.hand(&s.try, &s.at)
		at = &s.at
		done = next
		frac = math.Min(2*frac, full)
	}
}

// hand copies a pose. What only layouts with rockers and radius arms need is left out of the others.
func (m *Mechanism) hand(p, dst *Pose) {
	dst.Left, dst.Right, dst.Heave, dst.Alpha = p.Left, p.Right, p.Heave, p.Alpha
	dst.X, dst.Y, dst.Psi, dst.Theta = p.X, p.Y, p.Psi, p.Theta
	dst.C, dst.Ex, dst.Ey, dst.Ez = p.C, p.Ex, p.Ey, p.Ez
	dst.Residual, dst.Held = p.Residual, p.Held
	dst.det, dst.perRoll = p.det, p.perRoll
	dst.q.set(&p.q)
	for i := range unknowns {
		dst.dh[i], dst.da[i] = p.dh[i], p.da[i]
	}
	if m.folded {
		m.handOwn(p, dst)
	}
}

// handOwn copies the members' own unknowns.
func (m *Mechanism) handOwn(p, dst *Pose) {
	for i := range m.Rockers {
		dst.rockers[i].s, dst.rockers[i].c = p.rockers[i].s, p.rockers[i].c
	}
	for i := range m.radius {
		a, b := &dst.arms[i], &p.arms[i]
		a.move = b.move
		a.w, a.x, a.y, a.z = b.w, b.x, b.y, b.z
	}
}

// step tries one step from a pose into s.try; false where it is not believed.
func (s *Solver) step(from *Pose, left, right float64) bool {
	m := s.m
	p := &s.try
	p.Left, p.Right, p.Heave = left, right, (left+right)/2
	sa := (left - right) / m.Track
	ca := math.Sqrt((1 - sa) * (1 + sa))
	p.Alpha = angleOf(sa, ca)
	p.perRoll = 2 / (m.Track * ca)
	dh, da := p.Heave-from.Heave, p.Alpha-from.Alpha
	var d [4]float64
	for i := range d {
		d[i] = from.dh[i]*dh + from.da[i]*da
	}
	if d[2]*d[2] > 0.25 || d[3]*d[3] > 0.25 {
		return false
	}
	var q, guess state
	q.set(&from.q)
	q.predict(&d)
	guess.set(&q)
	off, ok := s.correct(from, &q, &d, dh, da, sa, ca) // how far the correction went, mm and rad at one metre
	if !ok {
		return false
	}
	off += math.Abs(q.x-guess.x) + math.Abs(q.y-guess.y) +
		angleScale*(math.Abs(q.sp*guess.cp-q.cp*guess.sp)+math.Abs(q.st*guess.ct-q.ct*guess.st))
	moved := math.Abs(dh) + math.Abs(da)*m.Track/2
	if off > trustMost || off > trust*moved+1e-6 {
		return false
	}
	s.take(&q)
	return p.Held > 0
}

// correct leads a place to where the distances are kept at the travels of s.try, on the side of the dead centre that from is on; false where it does not come there. off is how far that
// led the members' own unknowns; the axle's place is in q.
func (s *Solver) correct(from *Pose, q *state, d *[4]float64, dh, da, sa, ca float64) (off float64, ok bool) {
	m, p := s.m, &s.try
	switch {
	case m.folded:
		return s.stepOwn(from, q, d, dh, da, sa, ca)
	case m.OverLocated:
		return 0, m.energy(q, p.Heave, sa, ca, p, &s.inv)
	}
	return 0, m.exact(q, p.Heave, sa, ca, p, &s.inv, &p.det) && (p.det < 0) == (from.det < 0)
}

// take makes the corrected place that of s.try, with its rates where they are not there yet.
func (s *Solver) take(q *state) {
	m, p := s.m, &s.try
	p.q.set(q)
	p.X, p.Y = q.x, q.y
	p.Psi, p.Theta = angleOf(q.sp, q.cp), angleOf(q.st, q.ct)
	if m.OverLocated && !m.folded {
		m.ratesEnergy(p, &s.inv)
	}
}

func (s *Solver) badTravel(left, right float64) error {
	if d := left - right; !(math.Abs(d) < s.m.Track) || math.IsInf(left, 0) || math.IsInf(right, 0) {
		return &Error{Kind: BadTravel, Words: fmt.Sprintf("Wheel travels of %.4g and %.4g mm cannot be: the difference must be less than the track of %.4g mm.", left, right, s.m.Track)}
	}
	return nil
}

// Stretch returns how far distance i (in the order of Distances: the links come first) is stretched at the pose, mm, and its force, N (tension
// positive); 0 to round-off and 0 when exactly located.
func (m *Mechanism) Stretch(p *Pose, i int) (mm, newton float64) {
	var k float64
	if i < len(m.rows) {
		w := &m.rows[i]
		mm, k = norm(r3.Sub(r3.Add(p.C, p.Offset(w.p)), w.f))-w.l, w.k
	} else {
		i -= len(m.rows)
		w := m.rod(p, i/2, i%2)
		mm, k = norm(w.d)-w.l0, w.k
	}
	if !m.OverLocated {
		return mm, 0
	}
	return mm, k * mm
}

// StrutLength is the pivot to pivot length of strut i at the pose, mm.
func (m *Mechanism) StrutLength(p *Pose, i int) float64 {
	s := &m.Struts[i]
	return norm(r3.Sub(m.At(p, &s.Foot), s.Frame))
}

// StrapLength is the length strap i spans at the pose, mm.
func (m *Mechanism) StrapLength(p *Pose, i int) float64 {
	s := &m.Straps[i]
	return norm(r3.Sub(p.Point(s.Axle), s.Frame))
}

// StopLength is the length of stop i along its own axis, from its frame point to the plane through its axle point square to the same axis as
// the axle carries it, mm; off is how far from that axle point it lands, mm.
func (m *Mechanism) StopLength(p *Pose, i int) (length, off float64) {
	s := &m.Stops[i]
	n := p.Offset(s.Axis)
	d := r3.Sub(p.Point(s.Axle), s.Frame)
	length = r3.Dot(n, d) / r3.Dot(n, s.Axis)
	return length, norm(r3.Sub(d, r3.Scale(length, s.Axis)))
}
