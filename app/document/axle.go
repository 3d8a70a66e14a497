package document

import (
	"errors"
	"math"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
)

// Corner is a place of the travel pad one goes to by a press.
type Corner uint8

// The corners.
const (
	Ride Corner = iota
	FullBump
	FullDroop
	LeftUp
	RightUp
	nowhere
)

// axle is where the axle was asked to stand and where it stands.
type axle struct {
	left, right float64 // asked for, mm
	corner      Corner  // asked for instead, nowhere otherwise
	position    *study.Position
	at          [2]float64 // where it stands
	stop        string
	edge        *limits.By
}

const (
	thereTol  = 0.05  // mm: nearer than this the axle stands at a height or corner
	stepBack  = 0.999 // of the way to where the links end: the last position is at the brink
	wheelBits = 30    // halvings to find where a wheel stops: 1e-7 mm of 100
)

// Position is the axle where it now stands, of the geometry as it now stands (worked out at once).
func (d *Document) Position() *study.Position { return d.axle.position }

// Travels are the two wheels' travels where the axle now stands, mm.
func (d *Document) Travels() (left, right float64) { return d.axle.at[0], d.axle.at[1] }

// MoveAxle puts the axle at two travels (clamped to the range where there is one, on the way from ride height).
func (d *Document) MoveAxle(left, right float64) {
	if math.IsNaN(left+right) || math.IsInf(left+right, 0) {
		return
	}
	d.axle.left, d.axle.right, d.axle.corner = left, right, nowhere
	if d.stand() {
		// What it was asked beyond the edge is forgotten: a wider range later does not drag the axle along.
		d.axle.left, d.axle.right = d.axle.at[0], d.axle.at[1]
		d.tell(PositionChanged)
	}
}

// MoveWheel moves one wheel and leaves the other; clamped to the range.
func (d *Document) MoveWheel(side job.Side, travel float64) {
	if math.IsNaN(travel) {
		return
	}
	l, r := d.Travels()
	from := l
	at := func(v float64) (float64, float64) { return v, r }
	if side == job.Right {
		from = r
		at = func(v float64) (float64, float64) { return l, v }
	}
	if s, _ := d.Study(); s.Bounded() && !s.Range.Contains(at(travel)) && s.Range.Contains(at(from)) {
		in, out := from, travel
		for range wheelBits {
			if mid := (in + out) / 2; s.Range.Contains(at(mid)) {
				in = mid
			} else {
				out = mid
			}
		}
		travel = in
	}
	d.MoveAxle(at(travel))
}

// stand works out where the axle stands from what was asked for, and tells whether anything changed.
func (d *Document) stand() bool {
	a := &d.axle
	l, r := a.left, a.right
	a.edge = nil
	s, _ := d.Study()
	if a.corner != nowhere {
		if cl, cr, ok := corner(s, a.corner); ok {
			l, r = cl, cr
		}
	} else if s.Bounded() && !s.Range.Contains(l, r) {
		l, r, a.edge = s.Range.Clamp(l, r)
	}
	stop := ""
	p := d.now.At(l, r)
	if p.Err != "" && d.now.Mech != nil {
		stop = p.Err
		var e *motion.Error
		var pose motion.Pose
		if errors.As(d.now.Mech.NewSolver().Solve(l, r, &pose), &e) {
			l, r = e.Left*stepBack, e.Right*stepBack
			p = d.now.At(l, r)
		}
		if p.Err != "" {
			l, r = 0, 0
			p = d.now.At(0, 0)
		}
	}
	changed := a.position == nil || a.at != [2]float64{l, r} || a.stop != stop || d.axleGen != d.gen
	if changed {
		a.position, a.stop, a.at, d.axleGen = p, stop, [2]float64{l, r}, d.gen
	}
	return changed
}

// StopWords says why the axle stands short of where it was asked to because the links end there, a plain sentence; "" where they do not.
func (d *Document) StopWords() string { return d.axle.stop }

// Edge is what of the range the axle was last held at; nil inside the range.
func (d *Document) Edge() *limits.By { return d.axle.edge }

// corner is where a corner of the pad lies; ok is false where the range has none.
func corner(s *study.Study, c Corner) (left, right float64, ok bool) {
	if c == Ride {
		return 0, 0, true
	}
	if !s.Bounded() {
		return 0, 0, false
	}
	switch c {
	case FullBump:
		return s.Range.Bump, s.Range.Bump, true
	case FullDroop:
		return -s.Range.Droop, -s.Range.Droop, true
	case LeftUp:
		if k := s.Range.LeftUp; k != nil {
			return k.Left, k.Right, true
		}
		if n := len(s.Crossed.Poses); n > 0 { // the travel entered is the edge there: the line of pure articulation ends at it
			return s.Crossed.Poses[n-1].Left, s.Crossed.Poses[n-1].Right, true
		}
	case RightUp:
		if k := s.Range.RightUp; k != nil {
			return k.Left, k.Right, true
		}
		if len(s.Crossed.Poses) > 0 {
			return s.Crossed.Poses[0].Left, s.Crossed.Poses[0].Right, true
		}
	}
	return 0, 0, false
}

// GoCorner puts the axle there; ok is false where the range has no such corner. The axle follows the corner while pivots are dragged.
func (d *Document) GoCorner(c Corner) (ok bool) {
	s, _ := d.Study()
	if _, _, ok := corner(s, c); !ok {
		return false
	}
	d.axle.corner = c
	if c == Ride {
		d.axle.left, d.axle.right = 0, 0
	}
	if d.stand() {
		d.tell(PositionChanged)
	}
	d.axle.left, d.axle.right = d.axle.at[0], d.axle.at[1]
	return true
}

// CornerAt tells at which corner the axle stands.
func (d *Document) CornerAt() (c Corner, ok bool) {
	s, _ := d.Study()
	for c := Ride; c < nowhere; c++ {
		if l, r, ok := corner(s, c); ok && math.Abs(l-d.axle.at[0]) < thereTol && math.Abs(r-d.axle.at[1]) < thereTol {
			return c, true
		}
	}
	return nowhere, false
}

// --- heights and loads ---

// loadTravel is the wheel travel the present load causes.
func (d *Document) loadTravel() float64 {
	if v := d.current.Vehicle; v != nil && d.load < len(v.Loads) {
		return v.Loads[d.load].Heave
	}
	return 0
}

// GoHeight puts both wheels at the height's travel plus the load's.
func (d *Document) GoHeight(i int) {
	if i < 0 || i >= edit.Len(d.current, Heights) {
		return
	}
	t := d.current.Vehicle.Heights[i].Heave + d.loadTravel()
	d.MoveAxle(t, t)
}

// Standing tells which height button is lit (-1: none) and the words for where the axle is otherwise: "between", "past lowered", "past raised",
// by the names of the job's own heights. A height is lit only while both wheels stand at its travel plus the load's.
func (d *Document) Standing() (height int, phrase string) {
	v := d.current.Vehicle
	if v == nil || len(v.Heights) == 0 {
		return -1, ""
	}
	l, r := d.Travels()
	low, high := 0, 0
	for i, h := range v.Heights {
		t := h.Heave + d.loadTravel()
		if math.Abs(l-t) < thereTol && math.Abs(r-t) < thereTol {
			return i, ""
		}
		if h.Heave > v.Heights[low].Heave {
			low = i
		}
		if h.Heave < v.Heights[high].Heave {
			high = i
		}
	}
	switch mid := (l+r)/2 - d.loadTravel(); {
	case mid > v.Heights[low].Heave+thereTol:
		return -1, words.F("past %s", v.Heights[low].Name)
	case mid < v.Heights[high].Heave-thereTol:
		return -1, words.F("past %s", v.Heights[high].Name)
	case low == high: // one height only, and crossed up there
		return -1, words.T("crossed up")
	}
	return -1, words.T("between")
}

// Load is the index of the present load.
func (d *Document) Load() int { return d.load }

// SetLoad chooses the present load (a lit height stays lit: the axle goes where that height is with that load). Links are never re-set.
func (d *Document) SetLoad(i int) {
	if i < 0 || i >= edit.Len(d.current, Loads) || i == d.load {
		return
	}
	h, _ := d.Standing()
	d.load = i
	if h >= 0 {
		d.GoHeight(h)
	}
	d.tell(ShownChanged)
}
