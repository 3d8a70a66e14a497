// Package limits finds the range of a job (which positions count), what stops the axle first in a direction, and the smallest gaps over the range.
//
// Positions are (left, right) wheel travels in mm, bump positive. A limit is a margin: positive inside, zero where it is met.
package limits

import (
	"fmt"
	"math"

	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
)

// Cause is the kind of thing that stops an axle.
type Cause uint8

// The causes.
const (
	StrutClosed Cause = iota + 1
	StrutOpen
	StopSolid
	StrapTaut
	JointLimit
	ShaftLimit
	SlipUsed
	Contact
	EnteredLimit // your limit, not metal
	NoAssembly
	RubberTouch // a stop's rubber meets its pad: no stop, but its order with the metal counts
)

var causeWords = [...]string{"", "strut closed", "strut open", "stop", "strap", "joint", "driveshaft joint", "slip", "touch", "travel entered", "no assembly", "rubber"}

// String is the cause as the command prints it before the part's name.
func (c Cause) String() string { return causeWords[c] }

// Metal reports whether the cause is a strut, stop or strap.
func (c Cause) Metal() bool { return c >= StrutClosed && c <= StrapTaut }

// By is one thing met, and the travels where it is met.
type By struct {
	Cause       Cause
	Index       int  // of the strut, stop, strap, joint or pair; driveshaft joint: see ShaftFront; slip: 0 in, 1 out; travel entered: see EnteredBump
	Torsion     bool // JointLimit: torsion, else misalignment
	What        string
	Left, Right float64
}

// The travels that can be entered, Index of EnteredLimit.
const (
	EnteredBump = iota
	EnteredDroop
	EnteredArticulation
)

// The joints of a driveshaft, Index of ShaftLimit.
const (
	ShaftFront = iota
	ShaftRear
	ShaftBearing // behind the centre bearing of a two-piece shaft
)

var shaftWords = [...]string{"front", "rear", "at the centre bearing"}

// Corner is a position on the range's edge.
type Corner struct{ Left, Right float64 }

// limit is one thing that bounds the range.
type limit struct {
	cause Cause
	index int
}

// rangeLimits lists what bounds the range, in fixed order.
func rangeLimits(m *motion.Mechanism) []limit {
	var list []limit
	for i := range m.Struts {
		if !math.IsNaN(m.Struts[i].Closed) {
			list = append(list, limit{StrutClosed, i})
		}
		if !math.IsNaN(m.Struts[i].Open) {
			list = append(list, limit{StrutOpen, i})
		}
	}
	for i := range m.Stops {
		list = append(list, limit{StopSolid, i})
	}
	for i := range m.Straps {
		list = append(list, limit{StrapTaut, i})
	}
	for i, v := range [...]float64{m.TravelBump, m.TravelDroop, m.TravelArticulation} {
		if !math.IsNaN(v) {
			list = append(list, limit{EnteredLimit, i})
		}
	}
	return list
}

// ForcedMost is motion's, mm.
const ForcedMost = motion.ForcedMost

// forcedMargin is what is left of ForcedMost at a pose.
func forcedMargin(m *motion.Mechanism, p *motion.Pose) float64 {
	most := 0.0
	for i := range m.Distances {
		mm, _ := m.Stretch(p, i)
		most = math.Max(most, math.Abs(mm))
	}
	for i := range m.Arms {
		if m.Arms[i].Radius {
			mm, _ := m.ArmGive(p, i)
			most = math.Max(most, math.Max(mm[0], math.Max(mm[1], mm[2])))
		}
	}
	return ForcedMost - most
}

// margin is how far the position is inside the limit, mm.
func (k limit) margin(m *motion.Mechanism, p *motion.Pose) float64 {
	switch k.cause {
	case StrutClosed:
		return m.StrutLength(p, k.index) - m.Struts[k.index].Closed
	case StrutOpen:
		return m.Struts[k.index].Open - m.StrutLength(p, k.index)
	case StopSolid:
		length, _ := m.StopLength(p, k.index)
		return length - m.Stops[k.index].Closed
	case StrapTaut:
		return m.Straps[k.index].Open - m.StrapLength(p, k.index)
	case RubberTouch:
		length, _ := m.StopLength(p, k.index)
		return length - m.Stops[k.index].Touch
	case NoAssembly:
		return forcedMargin(m, p)
	}
	switch k.index {
	case EnteredBump:
		return m.TravelBump - p.Heave
	case EnteredDroop:
		return m.TravelDroop + p.Heave
	}
	return (m.TravelArticulation - math.Abs(p.Alpha)) * m.Track / 2
}

// what names the limit as the command prints it.
func (k limit) what(m *motion.Mechanism) string {
	name := ""
	switch k.cause {
	case StrutClosed, StrutOpen:
		name = m.Struts[k.index].Name
	case StopSolid, RubberTouch:
		name = m.Stops[k.index].Name
	case StrapTaut:
		name = m.Straps[k.index].Name
	case NoAssembly:
		return k.cause.String()
	default:
		name = [...]string{"bump", "droop", "articulation"}[k.index]
	}
	return k.cause.String() + " " + name
}

// pairWhat names a contact.
func pairWhat(c *clearance.Model, i int) string {
	p := &c.Pairs[i]
	return Contact.String() + " " + c.Parts[p.A].Name + " + " + c.Parts[p.B].Name
}

// atRide refuses a job whose ride height already lies outside a limit.
func atRide(m *motion.Mechanism, list []limit) error {
	ride := m.Ride()
	for _, k := range list {
		gap := k.margin(m, &ride)
		if gap >= 0 {
			continue
		}
		switch k.cause {
		case StrutClosed:
			s := &m.Struts[k.index]
			return fmt.Errorf("%s is %.1f mm between its pivots at ride height, shorter than its closed length of %.1f. Correct the length or move a pivot; there is no range till then.", s.Name, s.Length, s.Closed)
		case StrutOpen:
			s := &m.Struts[k.index]
			return fmt.Errorf("%s is %.1f mm between its pivots at ride height, longer than its open length of %.1f. Correct the length or move a pivot; there is no range till then.", s.Name, s.Length, s.Open)
		case StopSolid:
			length, _ := m.StopLength(&ride, k.index)
			return fmt.Errorf("%s is solid at ride height already: %.1f mm from its pad, %.1f when home. Correct the length or move it; there is no range till then.", m.Stops[k.index].Name, length, m.Stops[k.index].Closed)
		case StrapTaut:
			return fmt.Errorf("%s is too short for ride height: it spans %.1f mm there and is %.1f long. Correct the length or move an end; there is no range till then.", m.Straps[k.index].Name, m.StrapLength(&ride, k.index), m.Straps[k.index].Open)
		}
	}
	return nil
}
