package study

import (
	"axleloft/app/words"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
)

// MetWords is what the axle meets in a direction; a travel that was entered is no metal, and is said so.
func (s *Study) MetWords(b *limits.By) string {
	switch b.Cause {
	case limits.EnteredLimit:
		return words.F("%s (your limit, not metal)", b.What)
	case limits.JointLimit:
		return words.F("joint %s", JointUse(&s.Mech.Joints[b.Index], b.Torsion))
	}
	return b.What
}

// JointUse names a joint and what of it is used up: its tilt, or its twist.
func JointUse(j *motion.Joint, torsion bool) string {
	if torsion {
		return words.F("%s, twist", JointName(j))
	}
	return words.F("%s, tilt", JointName(j))
}

// DirectionWords names the eight main directions of the ring, deg; "" for the others.
func DirectionWords(deg float64) string {
	switch deg {
	case 0:
		return words.T("left up alone")
	case 45:
		return words.T("both up")
	case 90:
		return words.T("right up alone")
	case 135:
		return words.T("crossed, right up")
	case 180:
		return words.T("left down alone")
	case 225:
		return words.T("both down")
	case 270:
		return words.T("right down alone")
	case 315:
		return words.T("crossed, left up")
	}
	return ""
}
