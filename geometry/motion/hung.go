package motion

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	hungTol   = 1e-9 // mm of strut length: what a solved position is good for
	hungTries = 100
	hungStep  = 40.0 // mm: the most either wheel goes in one step of the search
	hungFlat  = 1e-3 // mm of strut length for a mm of travel: below it a length does not tell where the axle hangs
)

// Hang finds the position at which two struts have given lengths, mm pivot to pivot: one on the left wheel's side, one on the right's, or twice the same
// one in the middle, with both wheels at one travel then. It searches from ride height by Newton, each step a march of the axle, so the answer lies on
// the branch reached from there. On failure dst is where the search ended and the error, an *Error, says why in a sentence.
func (s *Solver) Hang(left, right int, leftLength, rightLength float64, dst *Pose) error {
	m := s.m
	*dst = s.ride
	want := [2]float64{leftLength, rightLength}
	struts := [2]int{left, right}
	for i, w := range want {
		if !(w > 0) || math.IsInf(w, 0) {
			return &Error{Kind: BadTravel, Words: fmt.Sprintf("%s cannot be %.4g mm long. Type its length pivot to pivot.", m.Struts[struts[i]].Name, w)}
		}
	}
	if left == right && leftLength != rightLength {
		return &Error{Kind: BadTravel, Words: fmt.Sprintf("%s cannot have two lengths at once. Type one.", m.Struts[left].Name)}
	}
	for range hungTries {
		var miss, byHeave, byRoll [2]float64
		var r Rates
		if err := s.Rates(dst, &r); err != nil {
			return err
		}
		for i, k := range struts {
			st := &m.Struts[k]
			d := r3.Sub(m.At(dst, &st.Foot), st.Frame)
			l := norm(d)
			miss[i] = want[i] - l
			heave, roll := m.Speed(dst, &r, &st.Foot)
			byHeave[i], byRoll[i] = r3.Dot(d, heave)/l, r3.Dot(d, roll)/l
		}
		if math.Abs(miss[0]) <= hungTol && math.Abs(miss[1]) <= hungTol {
			return nil
		}
		var heave, roll float64 // steps: left = heave + roll, right = heave - roll
		if left == right {
			if math.Abs(byHeave[0]) < hungFlat {
				return m.untold(left)
			}
			heave = miss[0] / byHeave[0]
		} else {
			det := byHeave[0]*byRoll[1] - byHeave[1]*byRoll[0]
			if math.Abs(det) < hungFlat {
				return m.untold(left)
			}
			heave = (miss[0]*byRoll[1] - miss[1]*byRoll[0]) / det
			roll = (byHeave[0]*miss[1] - byHeave[1]*miss[0]) / det
		}
		if most := math.Abs(heave) + math.Abs(roll); most > hungStep {
			heave, roll = heave*hungStep/most, roll*hungStep/most
		}
		if math.Abs(heave)+math.Abs(roll) < leastStep*hungTol { // round-off: nearer it cannot come
			return nil
		}
		l, rt := dst.Left+heave+roll, dst.Right+heave-roll
		if err := s.SolveFrom(dst, l, rt, dst); err != nil {
			return &Error{Kind: OutOfReach, Left: dst.Left, Right: dst.Right, Words: fmt.Sprintf("The links do not let the axle to where %s is %.0f mm and %s %.0f: it gets to %.0f and %.0f. Check the lengths, and the links.",
				m.Struts[left].Name, leftLength, m.Struts[right].Name, rightLength, m.StrutLength(dst, left), m.StrutLength(dst, right))}
		}
	}
	return &Error{Kind: NoConverge, Left: dst.Left, Right: dst.Right, Words: fmt.Sprintf("No position was found at which %s is %.0f mm and %s %.0f long. Check the lengths.", m.Struts[left].Name, leftLength, m.Struts[right].Name, rightLength)}
}

// untold is the refusal of struts that do not change as the axle moves.
func (m *Mechanism) untold(strut int) error {
	return &Error{Kind: NoConverge, Words: fmt.Sprintf("%s hardly changes its length as the axle moves there, so its length does not tell where the axle hung.", m.Struts[strut].Name)}
}
