package vessel

import (
	"math"
	"slices"

	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Tilt of the vessel from level, rad: about X, left side up, then about Y, nose down.
type Tilt struct{ X, Y float64 }

// up is the way up in body axes: the third row of Ry(y) Rx(x).
func (t Tilt) up() r3.Vec {
	sx, cx := math.Sincos(t.X)
	sy, cy := math.Sincos(t.Y)
	return r3.Vec{X: -sy, Y: cy * sx, Z: cy * cx}
}

// Level is what a vessel holds up to a depth on its dip stick, litres. The stick stands along body Z where it is given, or in the middle of the vessel in plan; depth counts from the vessel's
// lowest place, mm.
type Level struct{ Depth, Before, After float64 }

// Dip is a table of levels every step mm, before and after cuts. What a corner would trap of air or fuel does not count.
func (v *Vessel) Dip(tilt Tilt, cuts []Cut, step float64) []Level {
	if v.Why != "" || !(step > 0) {
		return nil
	}
	lo, hi := v.reach(r3.Vec{Z: 1})
	at := v.stick()
	n := int(math.Ceil((hi-lo)/step - 1e-9))
	list := make([]Level, 0, n+1)
	for i := 0; i <= n; i++ {
		depth := math.Min(float64(i)*step, hi-lo)
		at.Z = lo + depth
		before, after := v.below(at, tilt, cuts)
		list = append(list, Level{depth, before, after})
	}
	return list
}

// StickGiven reports whether it is given where the dip stick stands; else it stands in the middle.
func (v *Vessel) StickGiven() bool { return v.fill != nil && v.fill.Dip != nil }

// stick is where the dip stick stands.
func (v *Vessel) stick() r3.Vec {
	if v.StickGiven() {
		return v.fill.Dip.Vec()
	}
	x0, x1 := v.reach(r3.Vec{X: 1})
	y0, y1 := v.reach(r3.Vec{Y: 1})
	return r3.Vec{X: (x0 + x1) / 2, Y: (y0 + y1) / 2}
}

// below is what lies below a level through a place, before and after the cuts, litres.
func (v *Vessel) below(at r3.Vec, tilt Tilt, cuts []Cut) (before, after float64) {
	n := tilt.up()
	level := plane{n, r3.Dot(n, at)}
	before = v.within(level)
	return before, math.Max(0, before-v.lost(cuts, level))
}

// Usable is what can be drawn of a vessel: what lies below its filler and breather, whichever is lower, and above its pick-up, as far as they are given.
type Usable struct {
	Before, After float64  // litres
	Given         []string // of "filler", "breather", "pick-up"
	Cut           []string // of those the ones that lie in the cut and must go elsewhere
}

// Usable tells; ok is false where none of the three is given or the vessel's litres are not known.
func (v *Vessel) Usable(tilt Tilt, cuts []Cut) (u Usable, ok bool) {
	if v.Why != "" || v.fill == nil {
		return u, false
	}
	u.Before, u.After = v.Litres, v.Litres-v.Lost(cuts)
	see := func(name string, p *job.Point) bool {
		if p == nil {
			return false
		}
		u.Given = append(u.Given, name)
		if slices.ContainsFunc(cuts, func(c Cut) bool { return c.Lies(p.Vec()) }) {
			u.Cut = append(u.Cut, name)
		}
		return true
	}
	if see("filler", v.fill.Filler) {
		b, a := v.below(v.fill.Filler.Vec(), tilt, cuts)
		u.Before, u.After = math.Min(u.Before, b), math.Min(u.After, a)
	}
	if see("breather", v.fill.Breather) {
		b, a := v.below(v.fill.Breather.Vec(), tilt, cuts)
		u.Before, u.After = math.Min(u.Before, b), math.Min(u.After, a)
	}
	if see("pick-up", v.fill.Pickup) {
		b, a := v.below(v.fill.Pickup.Vec(), tilt, cuts)
		u.Before, u.After = math.Max(0, u.Before-b), math.Max(0, u.After-a)
	}
	return u, len(u.Given) > 0
}
