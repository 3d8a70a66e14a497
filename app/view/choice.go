package view

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Choice is a choice among places that takes over the pointer in the views: a press takes the place it is nearest to, and moves nothing.
type Choice struct {
	Words  string      // said across the views: what to press
	Places []r3.Vec    // body axes, mm; drawn as rings
	Names  []string    // of the places
	Lit    int         // the one taken, -1: none
	From   []r3.Vec    // places lines are drawn from to the lit one
	Labels []string    // of those
	Pick   func(i int) // a press took one
	Leave  func()      // Escape

	Point func(p Plane, right, up float64) // any place of a view may be pressed, its own axes, mm; Places are only drawn. nil: only Places
	Nudge func(right, up float64)          // the arrows, mm; nil: they go through Places
	Only  bool                             // in one view alone
	In    Plane                            // which
}

// Nearest is the place a press at x, y takes, -1 where none is within Reach. Of those that lie one behind the other it goes on to the next after the lit one.
func (c *Choice) Nearest(t Transform, x, y float64) int {
	best, near := -1, Reach
	for k := 1; k <= len(c.Places); k++ {
		i := (c.Lit + k + len(c.Places)) % len(c.Places)
		px, py := t.Place(c.Places[i])
		if d := math.Hypot(px-x, py-y); d < near-1 {
			best, near = i, d
		}
	}
	return best
}
