// Package start makes a working job from six numbers, every value a guess: something to drag and to measure against.
package start

import "axleloft/app/words"

// Layout is how the axle is held.
type Layout uint8

// The layouts.
const (
	FourLink   Layout = iota // two lowers, two uppers angled in plan
	ThreeLink                // two lowers, a centre upper and a Panhard rod
	FiveLink                 // four trailing links and a Panhard rod, on bushes
	RadiusArms               // two radius arms and a Panhard rod
	AArm                     // two lowers and an A-arm above
	Watts                    // two lowers, a centre upper and a Watt's linkage across, its rocker on the axle
	TorqueArm                // two lowers, a torque arm and a Panhard rod
)

// Layouts lists the layouts in the words of the dialog, in order of Layout.
func Layouts() []string {
	return []string{
		words.T("Four links, the uppers angled in plan"),
		words.T("Two lowers, a centre upper and a Panhard rod"),
		words.T("Four trailing links and a Panhard rod, on bushes"),
		words.T("Radius arms and a Panhard rod"),
		words.T("Two lowers and an A-arm above"),
		words.T("Two lowers, a centre upper and a Watt's linkage"),
		words.T("Two lowers, a torque arm and a Panhard rod"),
	}
}

// overLocated reports whether the layout takes up more than four ways at once and moves by the give of its bushes.
func (l Layout) overLocated() bool { return l == FiveLink || l == RadiusArms }

// panhard reports whether a Panhard rod holds the axle sideways.
func (l Layout) panhard() bool {
	return l == ThreeLink || l == FiveLink || l == RadiusArms || l == TorqueArm
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
