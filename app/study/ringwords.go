package study

import (
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
)

// MetWords is what the axle meets in a direction; a travel that was entered is no metal, and is said so.
func (s *Study) MetWords(b *limits.By) string {
	switch b.Cause {
	case limits.EnteredLimit:
		return b.What + " (your limit, not metal)"
	case limits.JointLimit:
		return "joint " + JointUse(&s.Mech.Joints[b.Index], b.Torsion)
	}
	return b.What
}

// JointUse names a joint and what of it is used up: its tilt, or its twist.
func JointUse(j *motion.Joint, torsion bool) string {
	if torsion {
		return JointName(j) + ", twist"
	}
	return JointName(j) + ", tilt"
}

// DirectionWords names the eight main directions of the ring, deg; "" for the others.
func DirectionWords(deg float64) string {
	switch deg {
	case 0:
		return "left up alone"
	case 45:
		return "both up"
	case 90:
		return "right up alone"
	case 135:
		return "crossed, right up"
	case 180:
		return "left down alone"
	case 225:
		return "both down"
	case 270:
		return "right down alone"
	case 315:
		return "crossed, left up"
	}
	return ""
}
