package motion

import (
	"fmt"
	"math"
	"strings"
)

const (
	holding  = 0.3   // share of the largest force from which a link counts among those that hold the axle at the end of its way
	atAnEnd  = 0.5   // mm between the wheels' travels up to which both count as one
	freeKind = 0.002 // smallest singular value up to which the links have let go of the axle rather than reached their end
)

// stopped words why the march ended at p.
func (s *Solver) stopped(p *Pose) error {
	e := &Error{Kind: OutOfReach, Left: p.Left, Right: p.Right}
	where := placeWords(p)
	if sv, t := s.m.singular(p); sv < freeKind && !s.folds(p) {
		e.Kind = DeadCentre
		e.Words = fmt.Sprintf("At %s the links stand so that nothing stops the axle %s. Figures stop there; the rest stands.", where, motionWords(t))
		return e
	}
	why := ""
	if names := s.holders(p); names != "" {
		why = ": " + names
	}
	e.Words = fmt.Sprintf("The links will not let the axle past %s%s. Figures stop there; the rest stands.", where, why)
	return e
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

// holders names the links that hold the axle at the end of its way: those that carry force in the state of forces that balances itself there
// (the left null vector of the distances' derivatives). Only for exactly located layouts; "" where it cannot be told.
func (s *Solver) holders(p *Pose) string {
	if s.m.OverLocated || len(s.m.rows) != exactDistances {
		return ""
	}
	// The smallest eigenvector of J J', by inverse iteration.
	var f [4]float64
	var j mat4
	s.m.jacobian(&p.q, p, &f, &j)
	for i := range 4 { // angles at one metre
		j[4*i+2] /= angleScale
		j[4*i+3] /= angleScale
	}
	var jj mat4
	for a := range 4 {
		for b := range 4 {
			for k := range 4 {
				jj[4*a+b] += j[4*a+k] * j[4*b+k]
			}
			if a == b {
				jj[4*a+b] += 1e-12
			}
		}
	}
	if jj.invert() == 0 {
		return ""
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
			return ""
		}
		for i := range next {
			force[i] = next[i] / most
		}
	}
	var names []string
	for i, v := range force {
		if math.Abs(v) >= holding {
			names = append(names, s.m.Links[i].Name)
		}
	}
	if len(names) == 1 {
		return names[0] + " holds it there"
	}
	return and(names) + " hold it there"
}

func and(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
