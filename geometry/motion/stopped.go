package motion

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	holding    = 0.3   // share of the largest force from which a link counts among those that hold the axle at the end of its way
	atAnEnd    = 0.5   // mm between the wheels' travels up to which both count as one
	spinShare  = 3.0   // times what the axle does, at one metre: a radius arm's spin beyond it is what ends a march
	deadRocker = 0.03  // of lever.h: where a march ends with rods that close to pointing at the bolt, that is why
	freeKind   = 0.002 // smallest singular value up to which the links have let go of the axle rather than reached their end
	nearlyFree = 0.005 // smallest singular value at ride height up to which an axle is lost to round-off sooner than to the links' end
)

// stopped words why the march ended at p.
func (s *Solver) stopped(p *Pose) error {
	m := s.m
	e := &Error{Kind: OutOfReach, Left: p.Left, Right: p.Right}
	where := placeWords(p)
	folds := s.folds(p)
	if i := m.turnsOver(p); i >= 0 {
		e.Kind = OtherSide
		e.Words = fmt.Sprintf("At %s %s turns over about its own length: its three pivots lie too nearly in one line for what its bushes are made to take. "+
			"Set its two axle pivots further above and below each other. Figures stop there; the rest stands.", where, m.Arms[i].Name)
		return e
	}
	if sv, t := m.singular(p); sv < freeKind && !folds {
		e.Kind = DeadCentre
		e.Free = []Free{Free(t)}
		e.Words = fmt.Sprintf("At %s the links stand so that nothing stops the axle %s. Figures stop there; the rest stands.", where, motionWords(t))
		return e
	}
	if m.Singular < nearlyFree {
		e.Words = fmt.Sprintf("At %s so little stops the axle %s that where it stands can no longer be told. Figures stop there; the rest stands.", where, motionWords(twist(m.Weakest)))
		return e
	}
	for i := range m.Rockers {
		if v := m.lever(p, i); v.h < deadRocker && !folds {
			e.Kind = DeadCentre
			e.Words = fmt.Sprintf("At %s both rods of %s point at its bolt, so that nothing says which way it turns from there. Figures stop there; the rest stands.", where, m.Rockers[i].Name)
			return e
		}
	}
	why := ""
	if names := m.holders(p); len(names) > 0 {
		why = ": " + and(names) + " hold it there"
		if len(names) == 1 {
			why = ": " + names[0] + " holds it there"
		}
	}
	e.Words = fmt.Sprintf("The links will not let the axle past %s%s. Figures stop there; the rest stands.", where, why)
	return e
}

// turnsOver is the radius arm that the march ends with turning over about its own length, -1 if none does: there its spin runs away with the
// travel, and further than anything the axle does.
func (m *Mechanism) turnsOver(p *Pose) int {
	if len(m.radius) == 0 || p.Held == 0 {
		return -1
	}
	var w work
	m.foldAt(p, &w)
	heave, roll := m.axleRates(p)
	axle := 0.0
	for i := range unknowns {
		scale := 1.0
		if i >= atPsi {
			scale = angleScale
		}
		axle = max(axle, scale*math.Abs(heave[i]), scale*math.Abs(roll[i]))
	}
	arm, most := -1, max(runsAway, spinShare*axle)
	for k, i := range m.radius {
		a := &m.Arms[i]
		along := p.arms[k].turn(r3.Unit(r3.Add(a.mounts[1].at, a.mounts[2].at)))
		for _, d := range [2]*[coordinates]float64{&heave, &roll} {
			by := w.fs.arms[k].moves(d, false)
			spin := angleScale * math.Abs(by[3]*along.X+by[4]*along.Y+by[5]*along.Z)
			if spin > most {
				arm, most = i, spin
			}
		}
	}
	return arm
}

// folds reports whether the unknowns run away with the travel at p, as they do at the end of the links' reach. Where they do not, the links
// have let go of the axle instead.
func (s *Solver) folds(p *Pose) bool {
	run := 0.0
	for _, d := range [2]*[4]float64{&p.dh, &p.da} {
		per := 1.0
		if d == &p.da {
			per = 2 / s.m.Track // per mm of a wheel
		}
		run = max(run, per*math.Abs(d[0]), per*math.Abs(d[1]), per*angleScale*math.Abs(d[2]), per*angleScale*math.Abs(d[3]))
	}
	return run > runsAway
}

// placeWords says where the axle is, in wheel travel.
func placeWords(p *Pose) string {
	if math.Abs(p.Left-p.Right) < atAnEnd {
		if p.Heave < 0 {
			return fmt.Sprintf("%.0f mm of droop", -p.Heave)
		}
		return fmt.Sprintf("%.0f mm of bump", p.Heave)
	}
	wheel := func(side string, v float64) string {
		if v < 0 {
			return fmt.Sprintf("%s wheel down %.0f mm", side, -v)
		}
		return fmt.Sprintf("%s wheel up %.0f mm", side, v)
	}
	return wheel("left", p.Left) + ", " + wheel("right", p.Right)
}

// holders names the members that hold the axle at the end of its way: of an exactly located axle those that carry force in the state of forces
// that balances itself there (the left null vector of the distances' derivatives), of an over-located one those that carry most. None where it
// cannot be told.
func (m *Mechanism) holders(p *Pose) (names []string) {
	force := make([]float64, len(m.Distances)+len(m.radius))
	switch {
	case m.OverLocated:
		for i := range m.Distances {
			_, force[i] = m.Stretch(p, i)
		}
		for k, i := range m.radius {
			_, n := m.ArmGive(p, i)
			force[len(m.Distances)+k] = max(n[0], n[1], n[2])
		}
	case !m.exactly() || !m.balanced(p, force):
		return nil
	}
	most := 0.0
	for i := range force {
		force[i] = math.Abs(force[i])
		most = max(most, force[i])
	}
	if !(most > 0) || math.IsInf(most, 0) {
		return nil
	}
	for i, v := range force {
		if v < holding*most {
			continue
		}
		name := ""
		switch {
		case i >= len(m.Distances):
			name = m.Arms[m.radius[i-len(m.Distances)]].Name
		case m.Distances[i].Of == OnArm:
			name = m.Arms[m.Distances[i].Member].Name
		default:
			name = m.Distances[i].Name
		}
		if len(names) == 0 || names[len(names)-1] != name {
			names = append(names, name)
		}
	}
	return names
}

// balanced fills the forces in the distances of an exactly located axle that (most nearly) balance each other at p: the smallest eigenvector of
// J J', by inverse iteration.
func (m *Mechanism) balanced(p *Pose, out []float64) (ok bool) {
	var f [4]float64
	var w work
	m.exactRows(p, &f, &w.y.h, &w.fs)
	var jj mat4
	for a := range 4 {
		for b := range 4 {
			for k := range unknowns {
				scale := 1.0
				if k == atPsi || k == atTheta { // angles at one metre
					scale = 1 / (angleScale * angleScale)
				}
				jj[4*a+b] += w.y.h[a][k] * w.y.h[b][k] * scale
			}
		}
		jj[5*a] += 1e-12
	}
	if jj.invert() == 0 {
		return false
	}
	force := [4]float64{1, 0.7, -0.8, 0.9}
	for range 6 {
		var next [4]float64
		jj.mul(&force, &next)
		most := 0.0
		for _, v := range next {
			most = max(most, math.Abs(v))
		}
		if !(most > 0) || math.IsInf(most, 0) {
			return false
		}
		for i := range next {
			force[i] = next[i] / most
		}
	}
	n := len(m.rows)
	copy(out, force[:n])
	for i := range m.Rockers { // its two rods balance each other about its bolt
		v := m.lever(p, i)
		g := math.Sqrt(v.g[0]*v.g[0] + v.g[1]*v.g[1])
		if g > 0 {
			out[n+2*i], out[n+2*i+1] = force[n+i]*v.g[1]/g, -force[n+i]*v.g[0]/g
		}
	}
	return true
}

func and(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
