package measure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// What an angle gauge is off by, deg (common practice, no source).
const (
	GaugeOff        = 0.2 // on a machined face
	GaugeOffCasting = 0.5
)

// Bounds of how a body may stand: beyond them a slip of the finger is likelier.
const (
	mostPinion = 89 * math.Pi / 180 // rad from the horizontal
	mostLean   = 45 * math.Pi / 180 // tilt of a tube, rake and lean of a body, fall of a floor
	leastTurn  = 1e-6               // size of an axis or of the part of it that an angle can be read along
)

// Stood is how a rigid body stood while places on it were measured, mm: Ex, Ey, Ez are its own X, Y, Z of ride height as seen in the axes measured in
// (unit vectors, square to each other), and At is where the point of it stood that is at Ride at ride height, in body axes.
type Stood struct {
	Ex, Ey, Ez r3.Vec
	At, Ride   r3.Vec
}

// ToRide is where a place measured on the body is at ride height, body axes.
func (s *Stood) ToRide(p r3.Vec) r3.Vec {
	d := r3.Sub(p, s.At)
	return r3.Add(s.Ride, r3.Vec{X: r3.Dot(s.Ex, d), Y: r3.Dot(s.Ey, d), Z: r3.Dot(s.Ez, d)})
}

// FromRide is where a place of ride height stood, in the axes measured in: the inverse of ToRide.
func (s *Stood) FromRide(p r3.Vec) r3.Vec {
	d := r3.Sub(p, s.Ride)
	return r3.Add(s.At, r3.Add(r3.Scale(d.X, s.Ex), r3.Add(r3.Scale(d.Y, s.Ey), r3.Scale(d.Z, s.Ez))))
}

// PlusMinus is how far off a place is at ride height, per axis, mm: its own three numbers off by off, and everything else that is not known exactly,
// each told by how the body would have stood with that one number off by its +-. All are added as independent.
func (s *Stood) PlusMinus(p, off r3.Vec, others []Stood) r3.Vec {
	at := s.ToRide(p)
	var sum r3.Vec
	add := func(d r3.Vec) { sum = r3.Add(sum, r3.Vec{X: d.X * d.X, Y: d.Y * d.Y, Z: d.Z * d.Z}) }
	add(r3.Scale(off.X, r3.Vec{X: s.Ex.X, Y: s.Ey.X, Z: s.Ez.X}))
	add(r3.Scale(off.Y, r3.Vec{X: s.Ex.Y, Y: s.Ey.Y, Z: s.Ez.Y}))
	add(r3.Scale(off.Z, r3.Vec{X: s.Ex.Z, Y: s.Ey.Z, Z: s.Ez.Z}))
	for i := range others {
		add(r3.Sub(others[i].ToRide(p), at))
	}
	return r3.Vec{X: math.Sqrt(sum.X), Y: math.Sqrt(sum.Y), Z: math.Sqrt(sum.Z)}
}

// OnStands is how an axle lay on stands or on the bench: measured in axes with X square to its tube and level, Y to the left and level, Z up, from the
// middle of the tube. axis is where its pinion points at ride height (body axes, any length), pinion the angle a gauge read along it as the axle lay, rad,
// + nose up, tilt how the tube lay by a level, rad, + left end up:
//
//	R = Rx(tilt) Ry(theta), R axis at the angle pinion to the horizontal
//
// Ride is left at nought: it is where the middle of the tube is at ride height. It fails with *Error where the pinion cannot have lain so.
func OnStands(axis r3.Vec, pinion, tilt float64) (Stood, error) {
	if !(math.Abs(tilt) <= mostLean) {
		return Stood{}, &Error{Words: fmt.Sprintf("The tube's tilt is %.4g deg: it cannot be more than %.0f. Check the level.", tilt*180/math.Pi, mostLean*180/math.Pi)}
	}
	s, c := math.Sincos(tilt)
	q := Stood{Ex: r3.Vec{X: 1}, Ey: r3.Vec{Y: c, Z: s}, Ez: r3.Vec{Y: -s, Z: c}}
	return q.nosed(axis, pinion, r3.Vec{Z: 1})
}

// ByEnds is how an axle stood by where the two ends of its tube were and the angle its pinion had: measured in body axes, up the way a plumb line points up
// there (any length; body Z where the body stands as at ride height). Otherwise as OnStands; At is the middle between the ends.
func ByEnds(left, right, axis r3.Vec, pinion float64, up r3.Vec) (Stood, error) {
	across := r3.Sub(left, right)
	n := r3.Norm(across)
	if !(n > 1) || math.IsInf(n, 0) {
		return Stood{}, &Error{Words: "The two ends of the tube are in one place. Measure each of them."}
	}
	y := r3.Scale(1/n, across)
	if y.Y < math.Cos(mostLean) {
		return Stood{}, &Error{Words: "By its two ends the tube does not lie across the vehicle. Check their numbers, left is +."}
	}
	flat := math.Hypot(y.X, y.Y) // R = Rz(psi) Rx(alpha) Ry(theta): the first two by the tube
	x := r3.Vec{X: y.Y / flat, Y: -y.X / flat}
	q := Stood{Ex: x, Ey: y, Ez: r3.Cross(x, y)}
	q, err := q.nosed(axis, pinion, up)
	q.At = r3.Scale(0.5, r3.Add(left, right))
	return q, err
}

// nosed turns a body about its own Y till an axis of it points so far above the horizontal. With u = R' up of before and axis n, turned by theta,
//
//	(u_x n_x + u_z n_z) cos theta + (u_x n_z - u_z n_x) sin theta + u_y n_y = sin pinion
//
// has two answers; the one that turns less is taken.
func (s Stood) nosed(axis r3.Vec, pinion float64, up r3.Vec) (Stood, error) {
	if size := r3.Norm(axis); size > leastTurn && !math.IsInf(size, 0) {
		axis = r3.Scale(1/size, axis)
	} else {
		return s, &Error{Words: "The pinion points nowhere at ride height. Give its direction first."}
	}
	if !(math.Abs(pinion) <= mostPinion) {
		return s, &Error{Words: fmt.Sprintf("A pinion angle of %.4g deg cannot be: it is read from the horizontal, at most %.0f either way.", pinion*180/math.Pi, mostPinion*180/math.Pi)}
	}
	size := r3.Norm(up)
	if !(size > leastTurn) || math.IsInf(size, 0) {
		return s, &Error{Words: "Which way is up is not known."}
	}
	up = r3.Scale(1/size, up)
	u := r3.Vec{X: r3.Dot(s.Ex, up), Y: r3.Dot(s.Ey, up), Z: r3.Dot(s.Ez, up)}
	a, b := u.X*axis.X+u.Z*axis.Z, u.X*axis.Z-u.Z*axis.X
	reach := math.Hypot(a, b)
	rest := math.Sin(pinion) - u.Y*axis.Y
	if !(reach > leastTurn) || math.Abs(rest) > reach {
		return s, &Error{Words: fmt.Sprintf("With the tube lying so the pinion cannot read %.4g deg. Check both angles.", pinion*180/math.Pi)}
	}
	mid, side := math.Atan2(b, a), math.Acos(rest/reach)
	turn := wrapped(mid - side)
	if other := wrapped(mid + side); math.Abs(other) < math.Abs(turn) {
		turn = other
	}
	sin, cos := math.Sincos(turn)
	x, z := s.Ex, s.Ez
	s.Ex = r3.Sub(r3.Scale(cos, x), r3.Scale(sin, z))
	s.Ez = r3.Add(r3.Scale(sin, x), r3.Scale(cos, z))
	return s, nil
}

func wrapped(a float64) float64 { return math.Remainder(a, 2*math.Pi) }

// Floor is a flat workshop floor, level or not: Fore and Left are the unit vectors along it, ahead under the vehicle's centre line and square to that, in
// axes with Z straight up and X ahead, level.
type Floor struct{ Fore, Left r3.Vec }

// FloorOf is a floor that falls by so much for every mm ahead and for every mm to the left, both measured level: a level straightedge on it, and the drop
// under its end. It fails with *Error where no floor falls so.
func FloorOf(ahead, left float64) (Floor, error) {
	if !(math.Hypot(ahead, left) <= 1) {
		return Floor{}, &Error{Words: "The floor falls by more than it goes along: no vehicle stands on that. Check the drop and the length it was measured over."}
	}
	fore := r3.Unit(r3.Vec{X: 1, Z: -ahead})
	return Floor{Fore: fore, Left: r3.Cross(r3.Unit(r3.Vec{X: ahead, Y: left, Z: 1}), fore)}, nil
}

// Over is a place over the floor: marked ahead and to the left along the floor from the mark under some point, so high by the plumb line.
func (f *Floor) Over(ahead, left, high float64) r3.Vec {
	p := r3.Add(r3.Scale(ahead, f.Fore), r3.Scale(left, f.Left))
	p.Z += high
	return p
}

// Rise is the angle to the horizontal of a line between two places over the floor, rad, + the far one higher: along is the floor's own direction between
// the marks under them (Fore or Left), over how far apart the marks are along it, more how much higher over its mark the far one is.
func Rise(along r3.Vec, over, more float64) float64 {
	d := r3.Scale(over, along)
	return math.Atan2(d.Z+more, math.Hypot(d.X, d.Y))
}

// OnFloor is how a body stood with its X axis rake above the horizontal (rad, + nose up) and its Y axis lean above it (rad, + left side up), its X axis
// straight ahead seen from above: R = Ry(-rake) Rx(roll), R e_y at the angle lean. At and Ride are left at nought. It fails with *Error where it cannot
// have stood so.
func OnFloor(rake, lean float64) (Stood, error) {
	if !(math.Abs(rake) <= mostLean) || !(math.Abs(lean) <= mostLean) {
		return Stood{}, &Error{Words: fmt.Sprintf("The body would stand %.4g deg nose up and %.4g deg left side up: neither can be more than %.0f. Check what they were worked out from.", rake*180/math.Pi, lean*180/math.Pi, mostLean*180/math.Pi)}
	}
	sr, cr := math.Sincos(rake)
	if math.Abs(math.Sin(lean)) > cr {
		return Stood{}, &Error{Words: "The body cannot be raked and lean so at once. Check both angles."}
	}
	s := math.Sin(lean) / cr
	c := math.Sqrt((1 - s) * (1 + s))
	return Stood{
		Ex: r3.Vec{X: cr, Z: sr},
		Ey: r3.Vec{X: -sr * s, Y: c, Z: cr * s},
		Ez: r3.Vec{X: -sr * c, Y: -s, Z: cr * c},
	}, nil
}

// Up is straight up as the body saw it, in its own axes.
func (s *Stood) Up() r3.Vec { return r3.Vec{X: s.Ex.Z, Y: s.Ey.Z, Z: s.Ez.Z} }
