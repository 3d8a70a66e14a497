package start

import "math"

// What the links' slopes in the side view are chosen for; none of it is a rule.
const (
	antiSquat       = 0.75 // at full load and ride height
	rollSteer       = 0.01 // slope of the roll axis
	rollSteerFive   = 0.04 // the same where four trailing links share the work: the uppers take some of it away
	antiSquatArm    = 0.90 // radius arms and torque arms would have to be longer than there is room for to give less
	rollSteerArms   = -0.035
	rollSteerTorque = -0.02
)

// slopes sets the links' slopes in the side view.
func (p *plan) slopes() {
	switch p.Layout {
	case RadiusArms:
		p.armSlopes()
	case TorqueArm:
		p.torqueSlopes()
	default:
		p.linkSlopes()
		for p.upperZ < p.r+p.housing+p.up+30 { // over the housing
			p.upperFZ += 5
			p.linkSlopes()
		}
	}
}

// meet is how far ahead of the axle the lowers meet in plan.
func (p *plan) meet() float64 {
	meet := 20 * p.lower
	if p.lowerY > p.railY+1 {
		meet = math.Min(meet, p.lower*p.lowerY/(p.lowerY-p.railY))
	}
	return meet
}

// linkSlopes chooses the roll axis by the plan-view convergence of the lowers (and of angled uppers, or the height of what holds the axle
// sideways where it crosses the middle), anti-squat by the line from the contact to the instant centre.
func (p *plan) linkSlopes() {
	want := antiSquat * p.fullCG / p.Wheelbase // tangent of the line from the contact
	meet := p.meet()
	acrossX, acrossZ := p.rodX, p.rodZ+10.0
	roll := rollSteer
	switch p.Layout {
	case FiveLink:
		roll = rollSteerFive
	case Watts:
		acrossZ = p.rodZ
	}
	m := 0.05
	for range 8 {
		m = (acrossZ + roll*(meet-acrossX) - p.lowerZ) / meet
		m = math.Min(m, 0.75*want)
		e := p.lowerZ / (want - m)
		d := want * e
		fx := p.upperX + p.upper
		e = math.Max(e, fx+0.3*p.upper) // the instant centre stays ahead of the uppers' frame ends
		slope := (p.upperFZ - d) / (fx - e)
		p.upperZ = p.upperFZ - slope*p.upper
		switch p.Layout {
		case FourLink:
			acrossX = p.upperX - p.upperY*p.upper/(p.upperFY-p.upperY)
			acrossZ = p.upperZ + slope*(acrossX-p.upperX)
		case AArm:
			acrossX, acrossZ = p.upperX, p.upperZ
		}
	}
	p.upperZ = math.Round(p.upperZ)
	p.lowerFZ = math.Round(p.lowerZ + m*p.lower)
}

// armSlopes chooses length and frame height of radius arms. The axle and its arms turn about the frame ends: those are the instant centre of
// the side view, and a wheel that rises moves forward by the axle's height above them over the arms' length.
func (p *plan) armSlopes() {
	want := antiSquatArm * p.fullCG / p.Wheelbase
	p.lower = math.Round(clamp(p.r/(want-rollSteerArms), 0.25*p.Wheelbase, 0.5*p.Wheelbase))
	p.lowerFZ = math.Round(math.Max(want*p.lower, 0.35*p.r))
}

// torqueSlopes chooses the lowers' slope by the roll axis and the torque arm's length by anti-squat: the instant centre of the side view lies
// where the lowers' line comes under the arm's front end.
func (p *plan) torqueSlopes() {
	want := antiSquatArm * p.fullCG / p.Wheelbase
	meet := p.meet()
	m := (p.rodZ + 10 + rollSteerTorque*(meet-p.rodX) - p.lowerZ) / meet
	m = math.Min(m, 0.5*want)
	p.lowerFZ = math.Round(p.lowerZ + m*p.lower)
	p.torqueX = math.Round(clamp(p.lowerZ/(want-m), 0.25*p.Wheelbase, 0.55*p.Wheelbase))
	p.torqueZ = math.Round(p.r - 0.1*p.r)
}
