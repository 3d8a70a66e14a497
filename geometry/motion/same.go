package motion

import (
	"math"

	"axleloft/geometry/alike"
)

// Same reports whether all that is told of the two mechanisms is alike to the last bit, names included.
func (m *Mechanism) Same(o *Mechanism) bool { return m == o || alike.Same(m, o) }

// asideOfMotion are the fields that have no say in where the axle and what it carries stand at two wheel travels, nor in what ends the travel: names, own brackets, limits that are
// only judged by, and a stop's rubber.
var asideOfMotion = []string{"Name", "Ref", "Known", "StiffnessAssumed", "Bracket", "TorLimit", "Tilt", "Touch", "Face", "PoorlyHeld"}

// SameMotion reports whether the two mechanisms stand alike at every two wheel travels and their travel ends alike, to the last bit. Driveline, lines, sensors, struts without
// a closed or open length, wheelbase and names may differ.
func (m *Mechanism) SameMotion(o *Mechanism) bool {
	if m == o {
		return true
	}
	a, b := m.moving(), o.moving()
	return alike.Same(&a, &b, asideOfMotion...)
}

// moving is the mechanism less what the axle's motion does not depend on.
func (m *Mechanism) moving() Mechanism {
	k := *m
	k.Drive, k.Lines, k.Sensors = Driveline{}, nil, nil
	k.Wheelbase, k.FrontStill, k.DriveShare, k.BrakeShare = 0, false, 0, 0
	k.Struts = make([]Strut, len(m.Struts)) // in their places
	for i := range m.Struts {
		if s := &m.Struts[i]; !math.IsNaN(s.Closed) || !math.IsNaN(s.Open) { // else it ends no travel
			k.Struts[i] = *s
		}
	}
	return k
}
