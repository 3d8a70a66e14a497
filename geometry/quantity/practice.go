package quantity

// Advice on shaft accelerations, rad/s2: shown as practice beside the figures, never a limit.
const (
	// TorsionalAdvice is a joint maker's advice for the torsional acceleration (read).
	TorsionalAdvice = 300.0
	// InertiaAdvice is the same joint maker's for the inertia acceleration of either joint (read).
	InertiaAdvice = 1000.0
	// TorsionalChart is what a chart in the manner of SAE AE-7 is drawn for at 1500 rev/min (its points read; the 400 worked out from them).
	TorsionalChart = 400.0
)

// PracticeFrom is whose figures PracticeJointAngle gives, as the screen names them.
const PracticeFrom = "joint maker's figures"

// practiceAngles is a joint maker's largest angle of either joint of a single shaft by its speed, rev/min and deg: read down to 3500, from memory
// below. They come to an inertia acceleration of 850 to 1030 rad/s2.
var practiceAngles = [...]struct{ rpm, deg float64 }{
	{1500, 11.5}, {2000, 8.7}, {2500, 7.0}, {3000, 5.8}, {3500, 5.0}, {4000, 4.2}, {4500, 3.7}, {5000, 3.2},
}

// Further of the joint maker's advice (read): at each joint at least so much, so that the needles turn; the two ends alike within so much; at
// most so much for smooth running. Deg.
const (
	PracticeLeastJointDeg = 0.5
	PracticeAlikeDeg      = 1.0
	PracticeSmoothDeg     = 3.0
)

// PracticeJointAngle is the joint maker's largest angle at a shaft speed in rev/min, deg, by straight lines between the speeds of the table; false
// outside them (1500 to 5000), where nothing is said.
func PracticeJointAngle(rpm float64) (deg float64, ok bool) {
	t := &practiceAngles
	if !(rpm >= t[0].rpm && rpm <= t[len(t)-1].rpm) {
		return 0, false
	}
	i := 1
	for rpm > t[i].rpm {
		i++
	}
	a, b := t[i-1], t[i]
	return a.deg + (b.deg-a.deg)*(rpm-a.rpm)/(b.rpm-a.rpm), true
}
