// Package start makes a working job from six numbers, every value a guess: something to drag and to measure against.
package start

import "axleloft/geometry/job"

// Layout is how the axle is held.
type Layout uint8

// The layouts.
const (
	FourLink  Layout = iota // two lowers, two uppers angled in plan
	ThreeLink               // two lowers, a centre upper and a Panhard rod
	FiveLink                // four trailing links and a Panhard rod, on bushes
)

// Layouts lists the layouts in the words of the dialog, in order of Layout.
func Layouts() []string { panic("not built") }

// Six are the six numbers. mm.
type Six struct {
	Wheelbase, Track float64
	Tyre             Tyre
	Bump, Droop      float64 // both positive
	Layout           Layout
}

// Tyre is a tyre's size, mm; FreeRadius and Width 0 where not known.
type Tyre struct{ LoadedRadius, FreeRadius, Width float64 }

// ParseTyre reads a tyre as typed: a loaded radius ("420", "16 1/2 in") or a size ("265/75R16", "33x12.50R15").
// unit is "mm" or "in", for a bare number.
func ParseTyre(text, unit string) (Tyre, error) { panic("not built") }

// Usual are six numbers to begin from.
func Usual() Six { panic("not built") }

// Make makes the job; nonsense is refused in a sentence that names the number.
func Make(s Six) (*job.Job, error) { panic("not built") }
