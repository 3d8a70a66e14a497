package job

import "math"

// Limit is how far a rod end can tilt in the clevis before its head touches a cheek, deg; never below 0.
//
// The head is a disc of diameter D and width C with edges rounded to a radius r (0: square). Its edge's centre is at a distance
// rho = hypot(D/2 - r, C/2 - r) from the ball's centre, atan((C/2 - r)/(D/2 - r)) off the disc's plane, and touches a gap B when
// it has come to B/2 - r from the middle plane:
//
//	asin((B/2 - r)/rho) - atan((C/2 - r)/(D/2 - r))
//
// For square edges this is asin(B/sqrt(D^2 + C^2)) - atan(C/D). A rod-end catalogue (read in part) has asin(B/D) - asin(C/D), for a head that ends on
// a ball of diameter D: about a degree more, so square edges are on the safe side where the radius is not known.
func (c *Clevis) Limit() (deg float64) {
	r := or(c.EdgeRadius, 0)
	gap := or(c.Gap, c.BallWidth)
	out, side := c.Head/2-r, c.HeadWidth/2-r
	rho := math.Hypot(out, side)
	if !(rho > 0) {
		return 0
	}
	theta := math.Asin(min(1, max(0, (gap/2-r)/rho))) - math.Atan2(side, out)
	return max(0, theta) * 180 / math.Pi
}
