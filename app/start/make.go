package start

import (
	"fmt"
	"math"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// Shares and reserves the first guess is built with; none of them is a rule.
const (
	lowerShare    = 0.30 // length of the lowers, of the wheelbase
	longestLower  = 1250 // mm
	upperShare    = 0.65 // length of the uppers, of the lowers
	antiSquat     = 0.75 // at full load and ride height
	rollSteer     = 0.01 // slope of the roll axis
	rollSteerFive = 0.04 // the same where four trailing links share the work: the uppers take some of it away
	pinionUp      = 2.5  // deg
	shaftBend     = 1.44 // deg at either joint, at ride height
	mostCrossed   = 12   // deg of articulation the layout is made for
	leastCrossed  = 5
	tightness     = 12 // mm: gap wanted between movers
	tyreGap       = 40 // mm
	strutDead     = 150
	shaftRadius   = 45 // mm
	slipReserve   = 25 // mm either way
	hoseReserve   = 1.12
	strutReserve  = 3    // mm: the strut is not the stop
	sideShift     = 30   // mm the axle may walk sideways when crossed up
	fullHeightCG  = 2.15 // of the tyre's radius
	emptyHeightCG = 1.80
)

// check refuses nonsense in a sentence that names the number.
func (s *Six) check() error {
	for _, n := range []struct {
		name   string
		v      float64
		lo, hi float64
		hint   string
	}{
		{"wheelbase", s.Wheelbase, 1800, 8000, "It is measured from the front to the rear wheel's middle."},
		{"track", s.Track, 1000, 2600, "It is measured between the middles of the two rear wheels."},
		{"bump", s.Bump, 20, 300, "It is how far both wheels can go up from ride height."},
		{"droop", s.Droop, 20, 300, "It is how far both wheels can hang down from ride height; give it without a sign."},
	} {
		if !(n.v >= n.lo && n.v <= n.hi) {
			return fmt.Errorf("The %s must be between %.0f and %.0f mm. You gave %.0f. %s", n.name, n.lo, n.hi, n.v, n.hint)
		}
	}
	if _, err := checkTyre(s.Tyre); err != nil {
		return err
	}
	if s.Layout > FiveLink {
		return fmt.Errorf("Choose a layout first.")
	}
	if s.Bump > 0.6*s.Tyre.LoadedRadius {
		return fmt.Errorf("A bump of %.0f mm is more than this tyre's %.0f mm radius leaves room for. Give at most %.0f.", s.Bump, s.Tyre.LoadedRadius, math.Floor(0.6*s.Tyre.LoadedRadius))
	}
	if s.Track < 2.1*s.Tyre.LoadedRadius {
		return fmt.Errorf("Wheels of %.0f mm radius leave no room for links on a track of %.0f mm. Check both.", s.Tyre.LoadedRadius, s.Track)
	}
	return nil
}

// plan is the first guess's main measures, mm and rad, from the six numbers.
type plan struct {
	Six
	r, tyreFree, tyreWidth         float64
	tube, housing, low, up, rod    float64 // radii
	strut                          float64
	crossed                        float64 // rad
	strutY, railOut, railIn, railY float64
	railZ                          float64 // its underside
	lowerY, lower, lowerZ          float64
	upper, upperX, upperZ, upperFZ float64 // length, axle end, frame end's height
	upperY, upperFY                float64
	strutX, rodX, rodZ, lowerFZ    float64
	fullCG                         float64
}

func layOut(s Six) (*plan, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	p := &plan{Six: s, r: s.Tyre.LoadedRadius, tyreFree: s.Tyre.FreeRadius, tyreWidth: s.Tyre.Width}
	r := p.r
	if p.tyreFree == 0 {
		p.tyreFree = math.Round(r / loadedShare)
	}
	if p.tyreWidth == 0 {
		p.tyreWidth = math.Round(math.Min(0.70*r, 0.18*s.Track))
	}
	clamp := func(v, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, v)) }
	p.tube = clamp(math.Round(0.11*r), 32, 60)
	p.housing = math.Round(0.33 * r)
	p.low, p.up, p.rod, p.strut = clamp(math.Round(0.07*r), 22, 36), clamp(math.Round(0.06*r), 20, 32), clamp(math.Round(0.05*r), 18, 28), clamp(math.Round(0.085*r), 28, 45)

	// Struts stand inside the tyres' reach when crossed up, rails inside the struts. The most articulation that leaves them room is taken.
	for deg := mostCrossed; ; deg-- {
		sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
		p.crossed = float64(deg) * math.Pi / 180
		p.strutY = math.Floor(math.Min(0.33*s.Track, s.Track/2*cos-p.tyreWidth/2-p.tyreFree*sin-tyreGap-sideShift-p.strut))
		p.railOut = math.Floor(math.Min(0.27*s.Track, p.strutY-p.strut-tightness-sideShift-12))
		if p.railOut >= 0.17*s.Track {
			break
		}
		if deg == leastCrossed {
			return nil, fmt.Errorf("Tyres %.0f mm wide leave no room for rails and struts on a track of %.0f mm. Check both.", p.tyreWidth, s.Track)
		}
	}
	p.railIn = p.railOut - 65
	p.railY = math.Round((p.railOut + p.railIn) / 2)

	p.lower = math.Round(math.Min(longestLower, lowerShare*s.Wheelbase))
	p.lowerZ = r - math.Round(math.Max(0.23*r, p.tube+p.low+38))
	p.lowerY = math.Floor(math.Min(0.32*s.Track, s.Track/2-p.tyreWidth/2-p.low-tyreGap-sideShift))
	p.strutX = -math.Round(p.tube + p.strut + tightness + sideShift)
	p.rodX = -math.Round(math.Max(p.housing+p.rod+40, -p.strutX+p.strut+p.rod+25))
	p.rodZ = r + 20

	p.upperX = -math.Round(0.09 * r)
	p.upper = math.Round(upperShare * p.lower)
	switch s.Layout {
	case FourLink:
		p.upperY, p.upperFY = math.Round(0.05*s.Track), p.railY
		p.upper = math.Round(math.Min(p.upper, (p.upperFY-p.upperY)/math.Tan(22*math.Pi/180)))
		p.upperFZ = r + math.Round(0.38*r)
	case ThreeLink:
		p.upperFZ = r + math.Round(math.Max(0.38*r, 0.9*s.Bump+60+p.up+shaftRadius+35)) // over the driveshaft at full bump
	case FiveLink:
		p.upperFZ = r + math.Round(0.38*r)
	}
	p.railZ = r + math.Round(s.Bump+p.tube+70)
	if y := p.railIn - sideShift; y < p.housing+tightness { // the housing rises between the rails, or under them
		p.railZ = math.Max(p.railZ, r+math.Round(s.Bump+math.Sqrt(math.Max(0, p.housing*p.housing-y*y))+tightness+25))
	}
	p.fullCG = math.Round(fullHeightCG * r)
	p.slopes()
	for p.upperZ < r+p.housing+p.up+30 { // over the housing
		p.upperFZ += 5
		p.slopes()
	}

	switch s.Layout {
	case FourLink: // the frame ends hang under the rails
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

// slopes sets the links' slopes in the side view: the roll axis by the plan-view convergence of the lowers (and of angled uppers, or the
// Panhard rod where it crosses the middle), anti-squat by the line from the contact to the instant centre.
func (p *plan) slopes() {
	want := antiSquat * p.fullCG / p.Wheelbase // tangent of the line from the contact
	meet := 20 * p.lower                       // where the lowers meet in plan, ahead of the axle
	if p.lowerY > p.railY+1 {
		meet = math.Min(meet, p.lower*p.lowerY/(p.lowerY-p.railY))
	}
	acrossX, acrossZ := p.rodX, p.rodZ+10.0
	roll := rollSteer
	if p.Layout == FiveLink {
		roll = rollSteerFive
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
		if p.Layout == FourLink {
			acrossX = p.upperX - p.upperY*p.upper/(p.upperFY-p.upperY)
			acrossZ = p.upperZ + slope*(acrossX-p.upperX)
		}
	}
	p.upperZ = math.Round(p.upperZ)
	p.lowerFZ = math.Round(p.lowerZ + m*p.lower)
}

// Make makes the job; nonsense is refused in a sentence that names the number.
func Make(s Six) (*job.Job, error) {
	p, err := layOut(s)
	if err != nil {
		return nil, err
	}
	j := p.job()
	if err := p.fit(j); err != nil {
		return nil, fmt.Errorf("No working layout comes out of these six numbers: %w", err)
	}
	if list := job.Check(j); len(list) > 0 {
		return nil, fmt.Errorf("No working layout comes out of these six numbers: %s", list[0].Text)
	}
	return j, nil
}

func num(v float64) *float64 { return &v }

func pt(x, y, z float64) job.Point { return job.Point{math.Round(x), math.Round(y), math.Round(z)} }

func tube(radius, wall float64) *job.Tube { return &job.Tube{Outside: 2 * radius, Wall: &wall} }

// job draws the plan. Limits that follow from the motion are set by fit.
func (p *plan) job() *job.Job {
	r := p.r
	across, aft := job.Point{0, 1, 0}, job.Point{1, 0, 0}
	bush := func(bolt job.Point) *job.End { return &job.End{Kind: "bush", Bolt: &bolt} }
	free := func(bolt job.Point) *job.End {
		if p.Layout == FiveLink {
			return bush(bolt)
		}
		return &job.End{Kind: "ball", Bolt: &bolt}
	}
	j := &job.Job{
		Format: job.Format, Version: job.Version,
		Title: "My job",
		Notes: "Started from six numbers. Every value is a guess till it is measured.",
		Vehicle: &job.Vehicle{
			Wheelbase: p.Wheelbase, Track: p.Track,
			Tyre: &job.Tyre{LoadedRadius: r, FreeRadius: &p.tyreFree, Width: &p.tyreWidth},
		},
		Axle: &job.Axle{
			Tube:    &job.AxleTube{Outside: 2 * p.tube, From: -math.Round(0.4 * p.Track), To: math.Round(0.4 * p.Track)},
			Housing: []job.Envelope{{Kind: "ball", Centre: &job.Point{0, 0, r}, Radius: &p.housing}},
		},
	}
	full := math.Round(5200*math.Pow(r/445, 3.2)/50) * 50 // kg; a van's to a lorry's by the size of its tyre (a guess)
	j.Vehicle.Loads = []job.Load{
		{Name: "empty", Mass: math.Round(0.68*full/50) * 50, CG: pt(0.59*p.Wheelbase, 0, emptyHeightCG*r)},
		{Name: "full load", Mass: full, CG: pt(0.40*p.Wheelbase, 0, p.fullCG)},
	}
	j.Vehicle.Heights = []job.Height{{Name: "raised", Heave: -math.Round(math.Min(50, 0.4*p.Droop))}, {Name: "ride"}, {Name: "lowered", Heave: math.Round(math.Min(40, 0.4*p.Bump))}}

	lower := job.Link{Name: "Lower", Pair: true, Frame: pt(p.lower, p.railY, p.lowerFZ), Axle: pt(0, p.lowerY, p.lowerZ), Tube: tube(p.low, 8), FrameEnd: bush(across), AxleEnd: free(across)}
	frameX := p.upperX + p.upper
	upper := job.Link{Frame: pt(frameX, p.upperFY, p.upperFZ), Axle: pt(p.upperX, p.upperY, p.upperZ), Tube: tube(p.up, 6), FrameEnd: bush(across), AxleEnd: free(across)}
	rod := job.Link{Name: "Panhard rod", Frame: pt(p.rodX, -p.railY, p.rodZ+20), Axle: pt(p.rodX, p.railY, p.rodZ), Tube: tube(p.rod, 5), FrameEnd: bush(aft), AxleEnd: bush(aft)}
	carries := []string{"Lower", "Upper", "Panhard rod", "Strut", "Bump stop", "Limit strap", "Brake hose"}
	switch p.Layout {
	case FourLink:
		upper.Name, upper.Pair = "Upper", true
		upper.FrameEnd, upper.AxleEnd = &job.End{Kind: "bush"}, &job.End{Kind: "ball"} // bolts square to the links
		j.Links = []job.Link{lower, upper}
		carries = append(carries[:2:2], carries[3:]...)
	case ThreeLink:
		upper.Name = "Centre upper"
		j.Links = []job.Link{lower, upper, rod}
		carries = append(carries[:1:1], carries[2:]...)
	case FiveLink:
		upper.Name, upper.Pair = "Upper", true
		j.Links = []job.Link{lower, upper, rod}
	}

	stroke := p.Bump + p.Droop + 30
	strutZ := r - math.Round(0.2*r)
	j.Struts = []job.Strut{{Name: "Strut", Pair: true, Frame: pt(p.strutX+10, p.strutY, strutZ+strutDead+stroke+p.Bump), Axle: pt(p.strutX, p.strutY, strutZ), Diameter: num(2 * p.strut)}}
	j.Stops = []job.Stop{{Name: "Bump stop", Pair: true, Frame: pt(0, p.railY, p.railZ), Axle: pt(0, p.railY, r+p.tube+15), Face: num(60)}}
	j.Straps = []job.Strap{{Name: "Limit strap", Pair: true, Frame: pt(60, p.railY, p.railZ), Axle: pt(40, p.railY, r)}}
	j.Lines = []job.Line{{Name: "Brake hose", Frame: pt(160, p.railIn-60, p.railZ+60), Axle: pt(40, p.railIn-90, r+p.tube+20)}}

	lo, hi := pt(-0.35*p.Wheelbase, p.railIn, p.railZ), pt(0.62*p.Wheelbase, p.railOut, p.railZ+160)
	j.Envelopes = []job.Envelope{{Name: "Rail", Pair: true, Kind: "box", Min: &lo, Max: &hi, Clearance: num(10), Carries: carries}}

	sin, cos := math.Sincos(pinionUp * math.Pi / 180)
	axis := func(sign float64) job.Point {
		return job.Point{sign * math.Round(cos*1e6) / 1e6, 0, sign * math.Round(sin*1e6) / 1e6}
	}
	pinX, outX := math.Round(0.72*r), math.Round(math.Min(1700, 0.42*p.Wheelbase))
	outX = math.Max(outX, pinX+450)
	pinZ := r + math.Round(0.03*r)
	outZ := math.Round(pinZ + math.Tan((pinionUp+shaftBend)*math.Pi/180)*(outX-pinX))
	j.Axle.Pinion = &job.Joint{Joint: pt(pinX, 0, pinZ), Axis: axis(1)}
	j.Driveline = &job.Driveline{Output: &job.Joint{Joint: pt(outX, 0, outZ), Axis: axis(-1)}, ShaftDiameter: num(2 * shaftRadius)}
	return j
}

// fit sets what follows from the motion: stop, strap and strut lengths that give the travel asked for, limits of joints, slip and hose that
// are not used up.
func (p *plan) fit(j *job.Job) error {
	free := j.Clone()
	free.Struts, free.Stops, free.Straps = nil, nil, nil
	m, err := motion.Compile(free)
	if err != nil {
		return err
	}
	s := m.NewSolver()
	stop, strap, strut := &j.Stops[0], &j.Straps[0], &j.Struts[0]
	carried := func(pose *motion.Pose, at job.Point, y float64) r3.Vec {
		v := at.Vec()
		return pose.Point(r3.Vec{X: v.X, Y: v.Y * y, Z: v.Z - p.r})
	}
	side := func(at job.Point, y float64) r3.Vec { return r3.Vec{X: at[0], Y: at[1] * y, Z: at[2]} }
	// Along the stop's axis, straight down, to the plane through the pad square to the axis as carried.
	stopLength := func(pose *motion.Pose, y float64) float64 {
		return r3.Dot(r3.Sub(carried(pose, stop.Axle, y), side(stop.Frame, y)), r3.Scale(-1, pose.Ez)) / pose.Ez.Z
	}
	span := func(pose *motion.Pose, frame, axle job.Point, y float64) float64 {
		return r3.Norm(r3.Sub(carried(pose, axle, y), side(frame, y)))
	}
	var pose motion.Pose
	if err := s.Solve(p.Bump, p.Bump, &pose); err != nil {
		return err
	}
	half := func(v float64) float64 { return math.Floor(v*2) / 2 }
	stop.Closed = half(math.Min(stopLength(&pose, 1), stopLength(&pose, -1)))
	stop.Touch = num(stop.Closed + math.Round(math.Min(40, 0.4*p.Bump)))
	if err := s.Solve(-p.Droop, -p.Droop, &pose); err != nil {
		return err
	}
	strap.Open = -half(-math.Max(span(&pose, strap.Frame, strap.Axle, 1), span(&pose, strap.Frame, strap.Axle, -1)))

	// The whole range that stops, straps and the articulation leave.
	const (
		steps   = 12
		halving = 10 // of a step toward the edge: 0.03 mm of 30
	)
	shortest, longest, hose, slipIn, slipOut, bend := math.Inf(1), 0.0, 0.0, 0.0, 0.0, 0.0
	reached := true
	look := func(h, apart float64) (inside bool) {
		if s.Solve(h+apart, h-apart, &pose) != nil {
			reached = reached && apart != 0
			return false
		}
		for _, y := range []float64{1, -1} {
			if stopLength(&pose, y) < stop.Closed || span(&pose, strap.Frame, strap.Axle, y) > strap.Open {
				return false
			}
		}
		for _, y := range []float64{1, -1} {
			l := span(&pose, strut.Frame, strut.Axle, y)
			shortest, longest = math.Min(shortest, l), math.Max(longest, l)
		}
		hose = math.Max(hose, span(&pose, j.Lines[0].Frame, j.Lines[0].Axle, 1))
		out, pin := j.Driveline.Output, j.Axle.Pinion
		shaft := r3.Sub(carried(&pose, pin.Joint, 1), out.Joint.Vec())
		slip := r3.Norm(shaft) - m.Drive.Length
		slipIn, slipOut = math.Max(slipIn, -slip), math.Max(slipOut, slip)
		bend = math.Max(bend, math.Max(between(out.Axis.Vec(), shaft), between(pose.Offset(pin.Axis.Vec()), r3.Scale(-1, shaft))))
		return true
	}
	for i := range 2*steps + 1 {
		apart := p.Track * math.Sin(p.crossed*float64(i-steps)/steps) / 2
		was, last := false, 0.0
		for k := range 2*steps + 1 {
			h := -p.Droop + (p.Droop+p.Bump)*float64(k)/(2*steps)
			now := look(h, apart)
			if k > 0 && now != was { // the edge lies between
				in, out := h, last
				if was {
					in, out = last, h
				}
				for range halving {
					if mid := (in + out) / 2; look(mid, apart) {
						in = mid
					} else {
						out = mid
					}
				}
			}
			was, last = now, h
		}
	}
	if !reached {
		return fmt.Errorf("the links do not reach that far.")
	}
	strut.Closed, strut.Open = num(math.Floor(shortest)-strutReserve), num(math.Ceil(longest)+strutReserve)
	j.Lines[0].Length = num(math.Ceil(hose*hoseReserve/5) * 5)
	up := func(v, step float64) float64 { return math.Ceil(v/step) * step }
	j.Driveline.Slip = &job.Slip{In: up(slipIn+slipReserve, 5), Out: up(slipOut+slipReserve, 5)}
	j.Driveline.JointLimit = num(math.Max(20, up(bend+3, 5)))
	if steep := (p.Bump + p.Droop) / (2 * p.railY); steep >= math.Sin(p.crossed) { // stops and straps alone would let it cross up further than there is room for
		j.Travel = &job.Travel{Articulation: num(math.Round(p.crossed * 180 / math.Pi))}
	}
	return p.joints(j)
}

// between is the angle between two directions, deg.
func between(a, b r3.Vec) float64 {
	return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)) * 180 / math.Pi
}
