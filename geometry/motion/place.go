package motion

import "gonum.org/v1/gonum/spatial/r3"

// At returns where a carried point stands at the pose, body axes, mm.
func (m *Mechanism) At(p *Pose, pl *Place) r3.Vec {
	switch pl.On {
	case OnFrame:
		return pl.At
	case OnAxle:
		return p.Point(pl.At)
	}
	panic("motion: not built")
}

// Carry returns a direction, given in body axes at ride, as its carrier turns it to the pose.
func (m *Mechanism) Carry(p *Pose, c Carrier, dir r3.Vec) r3.Vec {
	switch c.On {
	case OnFrame:
		return dir
	case OnAxle:
		return p.Offset(dir)
	}
	panic("motion: not built")
}

// Seen returns a body-axes direction at the pose as the carrier sees it, in its own axes of ride height: the inverse of Carry.
func (m *Mechanism) Seen(p *Pose, c Carrier, dir r3.Vec) r3.Vec {
	switch c.On {
	case OnFrame:
		return dir
	case OnAxle:
		return p.Unturn(dir)
	}
	panic("motion: not built")
}

// Speed returns the velocity of a carried point in the heave and the roll motion, mm per mm of travel.
func (m *Mechanism) Speed(p *Pose, r *Rates, pl *Place) (heave, roll r3.Vec) {
	switch pl.On {
	case OnFrame:
		return r3.Vec{}, r3.Vec{}
	case OnAxle:
		o := p.Offset(pl.At)
		return r.Heave.At(o), r.Roll.At(o)
	}
	panic("motion: not built")
}

// RockerTurn is the turn of rocker i about its axis since ride, rad, right-hand.
func (m *Mechanism) RockerTurn(p *Pose, i int) float64 { panic("motion: not built") }

// ArmGive returns how far the arm's point is from its mount at each of the three pivots of radius arm i, frame first: the give in mm and the
// force in N, sizes, not signed.
func (m *Mechanism) ArmGive(p *Pose, i int) (mm, newton [3]float64) { panic("motion: not built") }
