// Package start makes a working job from six numbers, every value a guess: something to drag and to measure against.
package start

// Layout is how the axle is held.
type Layout uint8

// The layouts.
const (
	FourLink  Layout = iota // two lowers, two uppers angled in plan
	ThreeLink               // two lowers, a centre upper and a Panhard rod
	FiveLink                // four trailing links and a Panhard rod, on bushes
)

// Layouts lists the layouts in the words of the dialog, in order of Layout.
func Layouts() []string {
	return []string{
		"Four links, the uppers angled in plan",
		"Two lowers, a centre upper and a Panhard rod",
		"Four trailing links and a Panhard rod, on bushes",
	}
}

// Six are the six numbers. mm.
type Six struct {
	Wheelbase, Track float64
	Tyre             Tyre
	Bump, Droop      float64 // both positive
	Layout           Layout
}

// Usual are six numbers to begin from.
func Usual() Six {
	return Six{Wheelbase: 3300, Track: 1700, Tyre: Tyre{LoadedRadius: 420}, Bump: 100, Droop: 110, Layout: FourLink}
}
