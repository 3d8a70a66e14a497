package start

import (
	"math"

	"axleloft/app/words"
)

// Shares and reserves the first guess is built with; none of them is a rule.
const (
	lowerShare    = 0.30 // length of the lowers, of the wheelbase
	longestLower  = 1250 // mm
	upperShare    = 0.65 // length of the uppers, of the lowers
	pinionUp      = 2.5  // deg
	shaftBend     = 1.44 // deg at either joint, at ride height
	mostCrossed   = 12   // deg of articulation the layout is made for
	mostOnArms    = 8    // the same on radius arms, whose bushes take up the rest
	leastCrossed  = 5
	tightness     = 12 // mm: gap wanted between movers
	tyreGap       = 40 // mm
	leastStop     = 10 // mm: of a bump stop when it is solid
	strutDead     = 150
	shaftRadius   = 45 // mm
	slipReserve   = 25 // mm either way
	hoseReserve   = 1.12
	strutReserve  = 3    // mm: the strut is not the stop
	sideShift     = 30   // mm the axle may walk sideways when crossed up
	fullHeightCG  = 2.15 // of the tyre's radius
	emptyHeightCG = 1.80
	armBushes     = 60   // mm from the axle tube to a radius arm's bushes over and under it
	rockerShare   = 0.2  // half a Watt's rocker, of its rods, at the least
	rockerTurn    = 1.3  // what 2 sin t comes to, less a little, where a rocker has turned 45 deg
	rodReach      = 0.45 // travel over the length of a Watt's rod; shorter rods turn far
	linkHeight    = 160  // mm of the link a torque arm's front end hangs from
)

// plan is the first guess's main measures, mm and rad, from the six numbers.
type plan struct {
	Six
	r, tyreFree, tyreWidth         float64
	tube, housing, low, up, rod    float64 // radii
	strut                          float64
	crossed                        float64 // rad
	strutY, railOut, railIn, railY float64
	railZ                          float64 // its underside
	lowerY, lower, lowerZ          float64 // a radius arm's too
	upper, upperX, upperZ, upperFZ float64 // length, axle end, frame end's height
	upperY, upperFY                float64
	strutX, rodX, rodZ, lowerFZ    float64
	rocker, wattsY                 float64 // half a Watt's rocker; its rods' far ends
	torqueX, torqueY, torqueZ      float64 // a torque arm's front end
	fullCG                         float64
}

func clamp(v, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, v)) }

// layOut sizes a layout made for at most the given articulation, deg.
func layOut(s Six, crossed int) (*plan, error) {
	p := &plan{Six: s, r: s.Tyre.LoadedRadius, tyreFree: s.Tyre.FreeRadius, tyreWidth: s.Tyre.Width}
	r := p.r
	if p.tyreFree == 0 {
		p.tyreFree = math.Round(r / loadedShare)
	}
	if p.tyreWidth == 0 {
		p.tyreWidth = math.Round(math.Min(0.70*r, 0.18*s.Track))
	}
	p.tube = clamp(math.Round(0.11*r), 32, 60)
	p.housing = math.Round(0.33 * r)
	p.low, p.up, p.rod, p.strut = clamp(math.Round(0.07*r), 22, 36), clamp(math.Round(0.06*r), 20, 32), clamp(math.Round(0.05*r), 18, 28), clamp(math.Round(0.085*r), 28, 45)
	if err := p.across(crossed); err != nil {
		return nil, err
	}

	p.lower = math.Round(math.Min(longestLower, lowerShare*s.Wheelbase))
	p.lowerZ = r - math.Round(math.Max(0.23*r, p.tube+p.low+38))
	p.lowerY = math.Floor(math.Min(0.32*s.Track, s.Track/2-p.tyreWidth/2-p.low-tyreGap-sideShift))
	p.strutX = -math.Round(p.tube + p.strut + tightness + sideShift)
	if s.Layout == RadiusArms { // inside the struts
		p.lowerY = math.Min(p.lowerY, p.strutY-p.strut-p.low-tightness-15)
	}
	p.rodX = -math.Round(math.Max(p.housing+p.rod+40, -p.strutX+p.strut+p.rod+25))
	p.rodZ = r + 20
	p.wattsY = clamp(math.Round(math.Max(s.Bump, s.Droop)/rodReach), p.railY, p.strutY)
	most := math.Max(s.Bump, s.Droop) // a rocker of half height c on rods of length l, both pivots level, turned by t stands at the square root of 2 c l sin t - 2 c c (1 - cos t)
	p.rocker = math.Round(clamp(most*most/(rockerTurn*p.wattsY), rockerShare*p.railY, math.Min(0.4*r, 0.4*p.wattsY)))

	p.upperX = -math.Round(0.09 * r)
	p.upper = math.Round(upperShare * p.lower)
	p.upperFZ = r + math.Round(0.38*r)
	switch s.Layout {
	case FourLink:
		p.upperY, p.upperFY = math.Round(0.05*s.Track), p.railY
		p.upper = math.Round(math.Min(p.upper, (p.upperFY-p.upperY)/math.Tan(22*math.Pi/180)))
	case AArm:
		p.upperFY = p.railY
		p.upper = math.Round(math.Min(p.upper, p.upperFY/math.Tan(28*math.Pi/180)))
	case ThreeLink, Watts: // over the driveshaft at full bump
		p.upperFZ = r + math.Round(math.Max(0.38*r, 0.9*s.Bump+60+p.up+shaftRadius+35))
	case TorqueArm:
		p.torqueY = shaftRadius + p.low + 40
	}
	p.railZ = r + math.Round(s.Bump+p.tube+70)
	if y := p.railIn - sideShift; y < p.housing+tightness { // the housing rises between the rails, or under them
		p.railZ = math.Max(p.railZ, r+math.Round(s.Bump+math.Sqrt(math.Max(0, p.housing*p.housing-y*y))+tightness+25))
	}
	p.fullCG = math.Round(fullHeightCG * r)
	p.slopes()

	switch s.Layout {
	case RadiusArms: // the upper bushes rise beside the rails, or under them
		p.railZ = math.Max(p.railZ, math.Round(r+p.tube+armBushes+p.low+s.Bump+25))
	case FourLink, AArm: // the frame ends hang under the rails
		p.railZ = math.Max(p.railZ, math.Round(p.upperFZ+70+p.up/2+0.3*s.Bump))
	case FiveLink: // the uppers run inside the rails, clear of them when the axle rolls under the Panhard rod's height, and clear of the driveshaft
		in := p.railIn - p.up - tightness - 15 - math.Abs(p.upperZ-p.rodZ)*math.Sin(p.crossed)
		least := shaftRadius + p.up + 25 + sideShift
		p.upperY, p.upperFY = math.Floor(math.Max(in, least)), math.Floor(math.Max(p.railIn-p.up-30, least))
		if in < least { // no room inside: then under
			p.railZ = math.Max(p.railZ, math.Round(math.Max(p.upperZ+s.Bump, p.upperFZ)+p.up+25))
		}
	}
	return p, nil
}

// across places what stands side by side across the axle: struts inside the tyres' reach when crossed up, rails inside the struts. The most
// articulation that leaves them room is taken.
func (p *plan) across(most int) error {
	for deg := most; ; deg-- {
		sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
		p.crossed = float64(deg) * math.Pi / 180
		p.strutY = math.Floor(math.Min(0.33*p.Track, p.Track/2*cos-p.tyreWidth/2-p.tyreFree*sin-tyreGap-sideShift-p.strut))
		p.railOut = math.Floor(math.Min(0.27*p.Track, p.strutY-p.strut-tightness-sideShift-12))
		if p.railOut >= 0.17*p.Track {
			break
		}
		if deg <= leastCrossed {
			return words.Errorf("Tyres %.0f mm wide leave no room for rails and struts on a track of %.0f mm. Check both.", p.tyreWidth, p.Track)
		}
	}
	p.railIn = p.railOut - 65
	p.railY = math.Round((p.railOut + p.railIn) / 2)
	return nil
}
