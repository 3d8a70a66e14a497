package job

// What counts where the file does not say, mm. Gaps are common practice, no source.
const (
	GapInTheWay   = 25.0 // envelopes
	GapTyre       = 40.0
	GapDriveshaft = 25.0
	GapMover      = 12.0 // links, arms, rods, struts, lines, axle tube and housings
	BracketReach  = 80.0 // a pivot's own bracket
	TyreShoulder  = 25.0
)

// The most members with a motion of their own that can be moved in one job; twins count as two.
const (
	MostRockers    = 4
	MostRadiusArms = 4
)

// MostSpeed is the largest shaft speed a job can ask for, rev/min.
const MostSpeed = 20_000.0

func or(p *float64, def float64) float64 {
	if p == nil {
		return def
	}
	return *p
}

// Drive is this axle's share of the tractive force, 0 to 1; 1 unless given.
func (v *Vehicle) Drive() float64 { return or(v.DriveShare, 1) }

// Brake is this axle's share of the braking force, 0 to 1; 0.4 unless given.
func (v *Vehicle) Brake() float64 { return or(v.BrakeShare, 0.4) }

// FrontStill reports whether the front of the vehicle stays where it is when this axle moves.
func (v *Vehicle) FrontStill() bool { return v.FrontTravel == "still" }

// Free is the tyre's free radius, mm: the loaded one / 0.96 unless given (common practice, no source).
func (t *Tyre) Free() float64 { return or(t.FreeRadius, t.LoadedRadius/0.96) }

// WidthOr0 is the tyre's width, mm; 0 where none is given and no tyre is drawn.
func (t *Tyre) WidthOr0() float64 { return or(t.Width, 0) }

// Rounding is the radius of the tyre's shoulders, mm: as given, else 25, and never more than half the width.
func (t *Tyre) Rounding() float64 {
	return min(or(t.Shoulder, TyreShoulder), t.WidthOr0()/2)
}

// Gap is the gap wanted from the tyre, mm.
func (t *Tyre) Gap() float64 { return or(t.Clearance, GapTyre) }

// Radius is the loaded radius of the load, mm: its own, else the tyre's.
func (l *Load) Radius(t *Tyre) float64 { return or(l.LoadedRadius, t.LoadedRadius) }

// Gap is the gap wanted from the driveshaft, mm.
func (d *Driveline) Gap() float64 { return or(d.Clearance, GapDriveshaft) }

// Gap is the gap wanted from the axle tube, mm.
func (t *AxleTube) Gap() float64 { return or(t.Clearance, GapMover) }

// HousingGap is the gap wanted from the housing, mm: the largest its entries give, else that of any mover.
func (a *Axle) HousingGap() float64 {
	gap, given := 0.0, false
	for i := range a.Housing {
		if c := a.Housing[i].Clearance; c != nil {
			gap, given = max(gap, *c), true
		}
	}
	if !given {
		return GapMover
	}
	return gap
}

// Gap is the gap wanted from the link, mm.
func (l *Link) Gap() float64 { return or(l.Clearance, GapMover) }

// IsRadius reports whether the arm is a radius arm: one frame pivot and two at the axle.
func (a *Arm) IsRadius() bool { return len(a.Frame) == 1 && len(a.Axle) == 2 }

// Gap is the gap wanted from the arm, mm.
func (a *Arm) Gap() float64 { return or(a.Clearance, GapMover) }

// Gap is the gap wanted from the rod, mm.
func (r *Rod) Gap() float64 { return or(r.Clearance, GapMover) }

// Gap is the gap wanted from the strut, mm.
func (s *Strut) Gap() float64 { return or(s.Clearance, GapMover) }

// Reach is the reach of the strut's own brackets, mm.
func (s *Strut) Reach() float64 { return or(s.Bracket, BracketReach) }

// DiameterAt is the strut's diameter, mm, where it is so long from pivot to pivot, mm: an air bag's by straight lines between the lengths given,
// the end ones beyond; any other strut's own. False where no diameter is given and its gaps are not checked.
func (s *Strut) DiameterAt(length float64) (mm float64, ok bool) {
	d := s.Diameters
	if len(d) == 0 {
		return or(s.Diameter, 0), s.Diameter != nil
	}
	for i := range d {
		if length <= d[i][0] {
			if i == 0 {
				return d[0][1], true
			}
			a, b := d[i-1], d[i]
			return a[1] + (b[1]-a[1])*(length-a[0])/(b[0]-a[0]), true
		}
	}
	return d[len(d)-1][1], true
}

// Gap is the gap wanted from the line, mm.
func (l *Line) Gap() float64 { return or(l.Clearance, GapMover) }

// Gap is the gap wanted from a part in the way, mm (for the axle's housing see Axle.HousingGap).
func (e *Envelope) Gap() float64 { return or(e.Clearance, GapInTheWay) }

// Reach is the reach of the pivot's own bracket, mm; a nil end has the usual one.
func (e *End) Reach() float64 {
	if e == nil {
		return BracketReach
	}
	return or(e.Bracket, BracketReach)
}

// Stiff is the end's stiffness square to its bolt, N/mm, and whether it is assumed: 10 000 for a bush, 100 000 for a ball or stud
// (and for an end without a kind, which counts as a ball). A nil end is one without a kind.
func (e *End) Stiff() (k float64, assumed bool) {
	switch {
	case e != nil && e.RadialStiffness != nil:
		return *e.RadialStiffness, false
	case e != nil && e.Kind == "bush":
		return 10_000, true
	}
	return 100_000, true
}

// Direction is the way the stop points as written, straight down unless given; its length is not 1.
func (s *Stop) Direction() Point {
	if s.Axis == nil {
		return Point{0, 0, -1}
	}
	return *s.Axis
}
