package quantity

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// bend is a cardan joint at a pose: the angle between the shafts it joins and the normal of their plane (not of unit length), both pointing
// rearward. A straight joint has no plane; its normal is zero.
type bend struct {
	sin, cos float64
	normal   r3.Vec
}

func bendOf(ahead, behind r3.Vec) bend {
	n := r3.Cross(ahead, behind)
	return bend{sin: length(n), cos: r3.Dot(ahead, behind), normal: n}
}

func (b *bend) deg() float64 { return math.Atan2(b.sin, b.cos) * deg }

// phase is the phase error of the shaft s between two joints: the angle from the plane of the first to that of the second, right-hand about s,
// less the turn of the shaft's rear yoke from its front yoke. A straight joint takes the other's plane.
func phase(first, second *bend, s r3.Vec, yokes float64) float64 {
	between := 0.0
	if first.sin > 0 && second.sin > 0 {
		between = math.Atan2(r3.Dot(s, r3.Cross(first.normal, second.normal)), r3.Dot(first.normal, second.normal))
	}
	return between - yokes
}

// driveline fills the pinion angle, atan2(p_z, p_x) of the axis pointing forward out of the housing, and joint angles, slip, speed fluctuation,
// phase errors and accelerations of a driveshaft with two cardan joints, or with three and a centre bearing: then the front piece stays still
// between the output and the joint behind the bearing, and the rear piece, with the slip, runs from there to the pinion.
//
// s points along a piece from its front joint to its rear one. Angle at the output: between the output axis (pointing rearward) and s; at the
// bearing: between the two pieces; at the pinion: between s reversed and the pinion axis (pointing forward): true angles in space.
func driveline(m *motion.Mechanism, p *motion.Pose, dst *Values) {
	d := &m.Drive
	dst.PinionDeg = math.NaN()
	var pinion r3.Vec
	if d.HasPinion {
		pinion = p.Offset(d.PinionAxis)
		dst.PinionDeg = math.Atan2(pinion.Z, pinion.X) * deg
	}
	n := math.NaN()
	dst.ShaftBearingDeg, dst.ShaftFrontPhase = n, n
	dst.Torsional, dst.InertiaFront, dst.InertiaRear = n, n, n
	if !d.Has {
		dst.ShaftFrontDeg, dst.ShaftRearDeg, dst.ShaftLength, dst.Slip, dst.FluctuationPct, dst.ShaftPhase = n, n, n, n, n, n
		return
	}
	from := d.Output
	if d.TwoPiece {
		from = d.Bearing
	}
	run := r3.Sub(p.Point(d.Pinion), from)
	dst.ShaftLength = length(run)
	dst.Slip = dst.ShaftLength - d.Length
	s := r3.Scale(1/dst.ShaftLength, run)
	rear := bendOf(s, r3.Vec{X: -pinion.X, Y: -pinion.Y, Z: -pinion.Z})
	dst.ShaftRearDeg = rear.deg()
	if !d.TwoPiece {
		front := bendOf(d.OutputAxis, s)
		dst.ShaftFrontDeg = front.deg()
		dst.ShaftPhase = phase(&front, &rear, s, d.YokePhase)
		dst.FluctuationPct = 100 * fluctuation(front.cos, rear.cos, dst.ShaftPhase)
	} else {
		piece := r3.Unit(r3.Sub(d.Bearing, d.Output))
		front, middle := bendOf(d.OutputAxis, piece), bendOf(piece, s)
		dst.ShaftFrontDeg, dst.ShaftBearingDeg = front.deg(), middle.deg()
		if middle.sin == 0 { // the front piece's plane then goes on into the rear one
			middle.sin, middle.normal = front.sin, front.normal
		}
		dst.ShaftFrontPhase = phase(&front, &middle, piece, d.FrontYokePhase)
		dst.ShaftPhase = phase(&middle, &rear, s, d.YokePhase)
		dst.FluctuationPct = 100 * fluctuation3([3]float64{front.cos, middle.cos, rear.cos}, [2]float64{dst.ShaftFrontPhase, dst.ShaftPhase})
	}
	if d.Speed == d.Speed {
		dst.Torsional, dst.InertiaFront, dst.InertiaRear = Accelerations(dst, d.Speed)
	}
}

// turning is a linear map of the plane as z -> p z + q z*, z taken as a complex number: |p| and |q| are half the sum and half the difference of
// its singular values.
type turning struct{ p, q complex128 }

// joint is the turning diag(1, cos b) of a cardan joint: tan(out) = tan(in) cos(b), "in" measured from where the driving cross arm lies square to
// the plane of the two shafts; there the ratio of the speeds is cos(b).
func joint(cos float64) turning { return turning{complex((1+cos)/2, 0), complex((1-cos)/2, 0)} }

// then is t followed by a turn by angle and by the joint u.
func (t turning) then(angle float64, u turning) turning {
	s, c := math.Sincos(angle)
	r := complex(c, s)
	p, q := r*t.p, r*t.q
	return turning{u.p*p + u.q*conj(q), u.p*q + u.q*conj(p)}
}

func conj(z complex128) complex128 { return complex(real(z), -imag(z)) }

// most is the largest ratio of output to input speed less one: the larger singular value through the smaller, less one.
func (t turning) most() float64 {
	p, q := math.Hypot(real(t.p), imag(t.p)), math.Hypot(real(t.q), imag(t.q))
	return 2 * q / (p - q)
}

// fluctuation is the largest ratio of output to input speed, less one, over a turn through two cardan joints with the given cosines and phase
// error: with M = diag(1, cos b2) Rot(90 deg + phase) diag(1, cos b1) a direction v of the driving cross arm comes out as M v, and the speeds
// have the ratio det M |v|^2 / |M v|^2, at most the larger singular value of M through the smaller. Worked out from the sum and difference of
// these, so that a smooth shaft reads 0 to round-off. NaN where a joint stands at a right angle or beyond.
func fluctuation(cos1, cos2, phase float64) float64 {
	if !(cos1 > 0 && cos2 > 0) {
		return math.NaN()
	}
	s, c := math.Sincos(phase)
	sum := math.Hypot(s*(1+cos1*cos2), c*(cos1+cos2))
	dif := math.Hypot(s*(1-cos1*cos2), c*(cos1-cos2))
	return 2 * dif / (sum - dif)
}

// fluctuation3 is the same through three joints: M = diag(1, cos b3) Rot(90 deg + phase2) diag(1, cos b2) Rot(90 deg + phase1) diag(1, cos b1).
// The driven yoke of a joint lies a quarter turn on from "out", the next driving yoke by yokePhase on from there, and "in" of the next joint is
// measured from its own plane, so that the turn between two joints is 90 deg - phase; all turns reversed have the same singular values.
func fluctuation3(cos [3]float64, phase [2]float64) float64 {
	if !(cos[0] > 0 && cos[1] > 0 && cos[2] > 0) {
		return math.NaN()
	}
	return joint(cos[0]).then(math.Pi/2+phase[0], joint(cos[1])).then(math.Pi/2+phase[1], joint(cos[2])).most()
}

// Accelerations returns the shaft accelerations at a shaft speed w in rad/s: torsional at the pinion, and the inertia of what the first and the
// last joint drive, rad/s2. With f and r the angles of first and last joint and d the phase error of a shaft of one piece:
//
//	torsional w^2 sqrt(f^4 + r^4 - 2 f^2 r^2 cos 2d),  inertia w^2 f^2 and w^2 r^2
//
// From memory of SAE AE-7, there for joints in one plane. It is the first order of the product of the joints' maps: as z -> p z + q z* a joint of
// angle b has p near 1 and q = b^2/4, a ratio of speeds 1 + b^2/2 cos 2(in), and an acceleration of w^2 b^2; the turns between the joints carry
// the q of each along, twice, and a quarter turn changes its sign:
//
//	torsional w^2 |b1^2 - b2^2 e^(2 i d1) + b3^2 e^(2 i (d1 + d2))|
//
// which for two joints is the formula above; with a centre bearing b2 is the angle there (ShaftBearingDeg, NaN for a shaft of one piece), d1 and d2
// the phase errors of front and rear piece.
func Accelerations(v *Values, speed float64) (torsional, inertiaFront, inertiaRear float64) {
	f, r := v.ShaftFrontDeg/deg, v.ShaftRearDeg/deg
	f2, r2, w2 := f*f, r*r, speed*speed
	inertiaFront, inertiaRear = w2*f2, w2*r2
	if b := v.ShaftBearingDeg / deg; b == b {
		s1, c1 := math.Sincos(2 * v.ShaftFrontPhase)
		s2, c2 := math.Sincos(2 * (v.ShaftFrontPhase + v.ShaftPhase))
		return w2 * math.Hypot(f2-b*b*c1+r2*c2, r2*s2-b*b*s1), inertiaFront, inertiaRear
	}
	// f^4 + r^4 - 2 f^2 r^2 cos 2d = (f^2 - r^2)^2 + (2 f r sin d)^2
	return w2 * math.Hypot(f2-r2, 2*f*r*math.Sin(v.ShaftPhase)), inertiaFront, inertiaRear
}
