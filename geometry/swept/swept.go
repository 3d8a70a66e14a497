// Package swept knows the room a moving part takes: every place nearer to it than a margin at any position of the range, as sections at a station and as a solid. With no margin that is what the part itself sweeps.
//
// What is given is never smaller than the truth, between positions too, where the part's motion is proved; else it holds for the positions tried, and Proved says which. How much larger it may be is told with it. Lengths are
// mm in body axes (X forward, Y left, Z up).
package swept

import (
	"math"
	"sync"

	"axleloft/geometry/cell"
	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// Motion is how everything moves over the range of a job. Read-only after Over; safe to share.
type Motion struct {
	Model *clearance.Model

	over   *cell.Cover // nil: positions tried
	inside func() func(*motion.Pose) bool
	tried  func() []motion.Pose
	once   sync.Once
	poses  []motion.Pose
}

// Over is how everything moves where the axle stands as over says; nil: nothing is proved of that. inside gives one goroutine's test of whether a pose lies within every limit; tried gives positions of the range for
// what cannot be proved, and is asked only then.
func Over(c *clearance.Model, over *cell.Cover, inside func() func(*motion.Pose) bool, tried func() []motion.Pose) *Motion {
	return &Motion{Model: c, over: over, inside: inside, tried: tried}
}

// Mover is a moving part and a margin round it.
type Mover struct {
	Part   int     // of the model
	Margin float64 // mm
	Proved bool    // else at the positions tried
	Last   float64 // mm of travel before the links end it in which, of one that is proved, only positions were tried; 0: none

	of     *Motion
	over   *cell.Cover // nil: positions tried
	lo, hi r3.Vec      // a box that holds it, margin and all
}

// MostMargin is the widest margin that is taken, mm.
const MostMargin = 1000.0

// Mover is a part with a margin, 0 to MostMargin. The part is whole: what lies within its own brackets is not left out.
func (o *Motion) Mover(part int, margin float64) *Mover {
	m := &Mover{Part: part, Margin: margin, of: o, over: o.over}
	w := m.sweep()
	var ok bool
	if m.lo, m.hi, ok = extent(w, margin); !ok { // at the very end of what the links let the axle do
		m.over = nil
		w = m.sweep()
		m.lo, m.hi, _ = extent(w, margin)
	}
	if m.Proved = w.Proved(); m.Proved {
		m.Last = w.Last
	}
	return m
}

// sweep is a work space of one goroutine.
func (m *Mover) sweep() *clearance.Sweep {
	over := m.over.Clone()
	w := m.of.Model.NewPartSweep(m.Part, m.Margin, over, m.of.inside(), nil)
	if w.Proved() {
		return w
	}
	m.of.once.Do(func() { m.of.poses = m.of.tried() })
	return m.of.Model.NewPartSweep(m.Part, m.Margin, over, m.of.inside(), m.of.poses)
}

// Box is a box along the body axes that holds the mover with its margin at every position, mm; where nothing is proved, at the positions tried.
func (m *Mover) Box() (lo, hi r3.Vec) { return m.lo, m.hi }

// coarse is how wide the patches of positions are from which a box round all is taken, and narrow how small one gets of which nothing is known before that is given up, mm of wheel travel.
const (
	coarse = 24.0
	narrow = 0.1
)

func extent(w *clearance.Sweep, margin float64) (lo, hi r3.Vec, ok bool) {
	lo = r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	hi = r3.Scale(-1, lo)
	list := w.Start()
	for len(list) > 0 {
		k := list[len(list)-1]
		list = list[:len(list)-1]
		l, h, known := w.Holds(k)
		if wide := w.Width(k); wide > coarse || !known && wide > narrow {
			if more, can := w.Split(k, list); can {
				list = more
				continue
			}
		}
		if !known {
			return lo, hi, false
		}
		lo = r3.Vec{X: math.Min(lo.X, l.X), Y: math.Min(lo.Y, l.Y), Z: math.Min(lo.Z, l.Z)}
		hi = r3.Vec{X: math.Max(hi.X, h.X), Y: math.Max(hi.Y, h.Y), Z: math.Max(hi.Z, h.Z)}
	}
	r := r3.Vec{X: margin, Y: margin, Z: margin}
	return r3.Sub(lo, r), r3.Add(hi, r), true
}

// Middle is the part's own middle at ride height: the middle of a box round it, mm.
func (m *Mover) Middle(ride *motion.Pose) r3.Vec {
	s := m.of.Model.NewScratch()
	s.Place(ride, nil)
	solid := s.Solid(m.Part)
	var lo, hi r3.Vec
	for i := range solid.Pieces {
		l, h := solid.Pieces[i].Bounds()
		if i == 0 {
			lo, hi = l, h
			continue
		}
		lo = r3.Vec{X: math.Min(lo.X, l.X), Y: math.Min(lo.Y, l.Y), Z: math.Min(lo.Z, l.Z)}
		hi = r3.Vec{X: math.Max(hi.X, h.X), Y: math.Max(hi.Y, h.Y), Z: math.Max(hi.Z, h.Z)}
	}
	return r3.Scale(0.5, r3.Add(lo, hi))
}
