// Package chart draws curves over wheel travel: the present load's wide, the others light, a kept trial's in long dashes, the band of common
// practice behind, every name at its curve. No colour is spent on a curve: blue is where the axle stands.
//
// Lengths of the picture are units of 1/96 inch. Values come in the unit the chart says; a value that is not finite is a gap in its curve.
package chart

import (
	"math"
	"slices"
)

// Curve is one named line.
type Curve struct {
	Name    string
	X, Y    []float64 // of the same length, X rising; a Y that is not finite breaks the line
	Present bool      // of the load that is chosen: wide, its name bold
	Pencil  bool      // of a kept trial: grey, long dash two dots
	Place   int       // of that pencil line among the others, 0 to 3: their dashes are out of step
}

// Band is what is common practice: from Lo to Hi. An infinite side is open, and the other side is drawn as a line.
type Band struct {
	Lo, Hi float64
	Words  string // "common practice, full load, 50 to 100"
}

// Tick is a place of the travel axis with a name, such as a height.
type Tick struct {
	X    float64
	Name string
}

// Spec is all a chart shows.
type Spec struct {
	Title  string // "Anti-squat"; "" leaves the line out
	Unit   string // "%"
	XTitle string // "both wheels, mm: − droop, + bump"
	Curves []Curve
	Bands  []Band
	Ticks  []Tick
	Up     string  // what more means: "toward oversteer"
	Down   string  // what less means
	Cursor float64 // the present position; NaN: none. Zero is ride height.
	Why    string  // why there is no curve, a sentence; said where there is none

	// For the title block of a page.
	Signs, Job, Trial, Date string
	Dark                    bool // a page on dark ground; Draw is told by its own argument

	Heavy float64 // what widths of lines are multiplied by; 0 is 1
}

// Axes is where a drawn chart has its values: the box of the curves in units from the picture's upper left corner, and what lies on its sides.
type Axes struct {
	X0, Y0, X1, Y1         float64
	XMin, XMax, YMin, YMax float64
	Empty                  bool // no curve is drawn, and the rest has no meaning

	// Words are the places of the words that stand among the curves, X0, Y0, X1, Y1 of each: what is laid over the chart keeps off them.
	Words [][4]float64
}

// At is where a value is drawn.
func (a Axes) At(x, y float64) (px, py float64) {
	return a.X0 + (x-a.XMin)/(a.XMax-a.XMin)*(a.X1-a.X0), a.Y1 - (y-a.YMin)/(a.YMax-a.YMin)*(a.Y1-a.Y0)
}

// X is the travel drawn at px.
func (a Axes) X(px float64) float64 { return a.XMin + (px-a.X0)/(a.X1-a.X0)*(a.XMax-a.XMin) }

// Dot is the value of a curve at the cursor.
type Dot struct {
	Curve int
	X, Y  float64
	Words string // the value as the chart writes it
}

// Dots returns the values of the curves at x, those that have one.
func (s *Spec) Dots(x float64) []Dot {
	var out []Dot
	for i := range s.Curves {
		if y, ok := s.Curves[i].At(x); ok {
			out = append(out, Dot{i, x, y, Value(y, s.Unit)})
		}
	}
	return out
}

// At is the curve's value at x, straight between its points; ok is false beside its ends and in a gap.
func (c *Curve) At(x float64) (y float64, ok bool) {
	n := min(len(c.X), len(c.Y))
	if n == 0 || !finite(x) {
		return 0, false
	}
	xs := c.X[:n]
	i, found := slices.BinarySearch(xs, x)
	if found {
		return c.Y[i], finite(c.Y[i])
	}
	// A place at the very end counts though the last digit differs.
	const near = 1e-6
	switch {
	case i == 0 && xs[0]-x < near:
		return c.Y[0], finite(c.Y[0])
	case i == n && x-xs[n-1] < near:
		return c.Y[n-1], finite(c.Y[n-1])
	case i == 0 || i == n:
		return 0, false
	}
	t := (x - xs[i-1]) / (xs[i] - xs[i-1])
	y = c.Y[i-1] + t*(c.Y[i]-c.Y[i-1])
	return y, finite(y)
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// runs calls f with each unbroken stretch of the curve.
func (c *Curve) runs(f func(x, y []float64)) {
	n := min(len(c.X), len(c.Y))
	from := -1
	for i := 0; i <= n; i++ {
		good := i < n && finite(c.X[i]) && finite(c.Y[i])
		switch {
		case good && from < 0:
			from = i
		case !good && from >= 0:
			f(c.X[from:i], c.Y[from:i])
			from = -1
		}
	}
}
