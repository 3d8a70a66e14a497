package edit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// What can be added, in the words of the menu.
const (
	twoLowers   = "Two lower links"
	twoUppers   = "Two upper links"
	centreUpper = "Centre upper link"
	panhard     = "Panhard rod"
	torqueArm   = "Torque arm"
	oneLink     = "One link"
	aArm        = "A-arm above the axle"
	lowerAArm   = "A-arm below the axle"
	radiusArms  = "Two radius arms"
	wattAxle    = "Watt's linkage, rocker on the axle"
	wattFrame   = "Watt's linkage, rocker on the frame"
	sensor      = "Height sensor"
	twoSensors  = "Two height sensors"
	airBags     = "Two air bags"
	bearing     = "Centre bearing"
	twoStruts   = "Two struts"
	oneStrut    = "One strut"
	twoStops    = "Two bump stops"
	oneStop     = "One bump stop"
	twoStraps   = "Two limit straps"
	oneStrap    = "One limit strap"
	hose        = "Brake hose"
	loom        = "Loom or breather"
	rails       = "Rails, both sides"
	box         = "Box"
	tank        = "Tank"
	pipe        = "Pipe"
	outlined    = "Side outline"
	ball        = "Ball"
	fromFile    = "Shape from an STL file"
	driveshaft  = "Driveshaft"
)

// Kinds lists what can be added to a list, in words: for Links "Two lower links", "Panhard rod" ...; the first is the usual one.
func Kinds(l List) []string {
	switch l {
	case Links:
		return []string{words.Mark(twoLowers), words.Mark(twoUppers), words.Mark(centreUpper), words.Mark(panhard), words.Mark(torqueArm), words.Mark(oneLink)}
	case Arms:
		return []string{words.Mark(aArm), words.Mark(lowerAArm), words.Mark(radiusArms)}
	case Rockers:
		return []string{words.Mark(wattAxle), words.Mark(wattFrame)}
	case Sensors:
		return []string{words.Mark(sensor), words.Mark(twoSensors)}
	case Struts:
		return []string{words.Mark(twoStruts), words.Mark(oneStrut), words.Mark(airBags)}
	case Stops:
		return []string{words.Mark(twoStops), words.Mark(oneStop)}
	case Straps:
		return []string{words.Mark(twoStraps), words.Mark(oneStrap)}
	case Lines:
		return []string{words.Mark(hose), words.Mark(loom)}
	case Envelopes:
		return []string{words.Mark(box), words.Mark(tank), words.Mark(outlined), words.Mark(pipe), words.Mark(rails), words.Mark(ball), words.Mark(fromFile)}
	case Loads:
		return []string{words.Mark("Load")}
	case Heights:
		return []string{words.Mark("Height")}
	case Housing:
		return []string{words.Mark(ball), words.Mark(box), words.Mark(fromFile)}
	case Brackets:
		return BracketKinds()
	case AxleTube:
		return []string{words.Mark("Axle tube")}
	case Driveline, Output, Pinion:
		return []string{words.Mark(driveshaft)}
	case Bearing:
		return []string{words.Mark(bearing)}
	}
	return nil
}

// Add adds one of Kinds(l), a guess placed sensibly for this vehicle, and tells where it went. An empty kind is the first.
func Add(j *job.Job, l List, kind string) (Part, error) {
	kinds := Kinds(l)
	if kind == "" && len(kinds) > 0 {
		kind = kinds[0]
	}
	if !slices.Contains(kinds, kind) {
		return Part{}, words.Errorf("%q cannot be added here.", kind)
	}
	if l == Brackets {
		return addBracket(j, kind)
	}
	if j.Vehicle == nil || j.Vehicle.Tyre == nil {
		return Part{}, words.Errorf("Give wheelbase, track and tyre first.")
	}
	r, half := math.Round(j.Vehicle.Tyre.LoadedRadius), math.Round(j.Vehicle.Track/2)
	last := func() Part { return Part{l, Len(j, l) - 1} }
	num := func(v float64) *float64 { return &v }
	name := func(s string) string { return FreeName(j, s) }
	pt := func(x, y, z float64) job.Point { return job.Point{math.Round(x), math.Round(y), math.Round(z)} }
	across, aft := job.Point{0, 1, 0}, job.Point{1, 0, 0}
	bush := func(bolt job.Point) *job.End {
		return &job.End{Kind: "bush", Bolt: &bolt, Misalignment: num(8), Torsion: num(20)}
	}
	free := func(bolt job.Point) *job.End { return &job.End{Kind: "ball", Bolt: &bolt, Misalignment: num(20)} }
	held := func() *job.End { return &job.End{Kind: "bush", Misalignment: num(8), Torsion: num(20)} } // its bolt as it lies by itself
	tube := func(outside, wall float64) *job.Tube { return &job.Tube{Outside: outside, Wall: &wall} }
	long := math.Round(0.3 * j.Vehicle.Wheelbase)

	switch kind {
	case twoLowers:
		j.Links = append(j.Links, job.Link{Name: name(words.T("Lower")), Pair: true, Frame: pt(long, 0.5*half, r-10), Axle: pt(0, 0.6*half, r-90),
			Tube: tube(60, 8), FrameEnd: bush(across), AxleEnd: free(across)})
	case twoUppers:
		j.Links = append(j.Links, job.Link{Name: name(words.T("Upper")), Pair: true, Frame: pt(0.65*long, 0.45*half, r+160), Axle: pt(-20, 0.15*half, r+190),
			Tube: tube(50, 6), FrameEnd: bush(across), AxleEnd: free(across)})
	case centreUpper:
		j.Links = append(j.Links, job.Link{Name: name(words.T("Centre upper")), Frame: pt(0.6*long, 0, r+200), Axle: pt(-20, 0, r+220),
			Tube: tube(60, 7), FrameEnd: bush(across), AxleEnd: free(across)})
	case panhard:
		j.Links = append(j.Links, job.Link{Name: name(words.T("Panhard rod")), Frame: pt(-200, -0.5*half, r+80), Axle: pt(-200, 0.55*half, r+60),
			Tube: tube(44, 5), FrameEnd: bush(aft), AxleEnd: bush(aft)})
	case oneLink:
		j.Links = append(j.Links, job.Link{Name: name(words.T("Link")), Frame: pt(0.8*long, 0.3*half, r), Axle: pt(0, 0.3*half, r-60),
			Tube: tube(50, 6), FrameEnd: bush(across), AxleEnd: free(across)})
	case torqueArm:
		x, beside := math.Round(1.1*long), 0.2*half // beside the driveshaft
		j.Links = append(j.Links, job.Link{Name: name(words.T("Torque arm")), Frame: pt(x, beside, r+150), Axle: pt(x, beside, r+30),
			Tube: tube(44, 5), FrameEnd: bush(across), AxleEnd: bush(across)})
	case aArm, lowerAArm:
		up := 190.0
		if kind == lowerAArm {
			up = -205 // under the housing
		}
		j.Arms = append(j.Arms, job.Arm{Name: name("A-arm"), Frame: []job.Point{pt(0.6*long, 0.45*half, r+up-15), pt(0.6*long, -0.45*half, r+up-15)},
			Axle: []job.Point{pt(-20, 0, r+up)}, Tube: tube(50, 6), FrameEnds: []job.End{*held(), *held()}, AxleEnds: []job.End{{Kind: "ball", Misalignment: num(20)}}})
	case radiusArms: // one bar under the axle tube, one over it
		around := 85.0
		if t := j.Axle; t != nil && t.Tube != nil {
			around = t.Tube.Outside/2 + 40
		}
		j.Arms = append(j.Arms, job.Arm{Name: name(words.T("Radius arm")), Pair: true, Frame: []job.Point{pt(long, 0.48*half, r-20)},
			Axle: []job.Point{pt(90, 0.5*half, r-around), pt(-70, 0.5*half, r+around+12)}, Tube: tube(60, 8),
			FrameEnds: []job.End{*held()}, AxleEnds: []job.End{*held(), *held()}})
	case wattAxle, wattFrame:
		const arm = 75.0
		on, x, z := "axle", -math.Round(0.6*r), r+60
		if kind == wattFrame {
			on, z = "frame", r+90
		}
		rod := func(which string, up float64, y float64) job.Rod {
			return job.Rod{Name: name(words.F("Watt's %s rod", which)), Rocker: pt(x, 0, z+up), Far: pt(x, y, z+up), Tube: tube(32, 4), RockerEnd: free(aft), FarEnd: free(aft)}
		}
		j.Rockers = append(j.Rockers, job.Rocker{Name: name(words.T("Watt's rocker")), On: on, Pivot: pt(x, 0, z), Axis: aft,
			Rods: []job.Rod{rod("upper", arm, 0.6*half), rod("lower", -arm, -0.6*half)}})
	case sensor, twoSensors:
		y := 0.38 * half
		j.Sensors = append(j.Sensors, job.Sensor{Name: name(words.T("Height sensor")), Pair: kind == twoSensors, Shaft: pt(-260, y, r+190), Axis: across,
			Lever: pt(-140, y, r+190), Far: pt(-140, y, r+20), Swing: &[2]float64{-45, 45}})
	case bearing:
		if Len(j, Driveline) == 0 || j.Driveline.Output == nil || Len(j, Pinion) == 0 {
			return Part{}, words.Errorf("Add the driveshaft first, then its centre bearing.")
		}
		if j.Driveline.Bearing != nil {
			return Part{}, words.Errorf("The driveshaft has its centre bearing already.")
		}
		a, b := j.Driveline.Output.Joint, j.Axle.Pinion.Joint
		j.Driveline.Bearing = &job.Bearing{Joint: pt(0.55*a[0]+0.45*b[0], 0.55*a[1]+0.45*b[1], 0.55*a[2]+0.45*b[2])}
	case airBags:
		y := 0.5 * half
		j.Struts = append(j.Struts, job.Strut{Name: name(words.T("Air bag")), Pair: true, Frame: pt(-40, y, r+330), Axle: pt(-40, y, r+100), Closed: num(120), Open: num(330),
			Diameters: []job.Point2{{120, 240}, {230, 220}, {330, 180}}})
	case twoStruts, oneStrut:
		pair, y, n := kind == twoStruts, 0.62*half, name(words.T("Strut"))
		if !pair {
			y = 0
		}
		j.Struts = append(j.Struts, job.Strut{Name: n, Pair: pair, Frame: pt(-130, y, r+400), Axle: pt(-150, y, r-60), Closed: num(340), Open: num(570), Diameter: num(70)})
	case twoStops, oneStop:
		pair, y := kind == twoStops, 0.5*half
		if !pair {
			y = 0
		}
		j.Stops = append(j.Stops, job.Stop{Name: name(words.T("Bump stop")), Pair: pair, Frame: pt(0, y, r+210), Axle: pt(0, y, r+60), Touch: num(90), Closed: 55, Face: num(35)})
	case twoStraps, oneStrap:
		pair, y := kind == twoStraps, 0.5*half
		if !pair {
			y = 0
		}
		j.Straps = append(j.Straps, job.Strap{Name: name(words.T("Limit strap")), Pair: pair, Frame: pt(60, y, r+180), Axle: pt(40, y, r), Open: 300})
	case hose:
		j.Lines = append(j.Lines, job.Line{Name: name(words.T("Brake hose")), Frame: pt(160, 0.35*half, r+260), Axle: pt(40, 0.3*half, r+80), Length: num(420)})
	case loom:
		j.Lines = append(j.Lines, job.Line{Name: name(words.T("Loom")), Frame: pt(160, -0.35*half, r+260), Axle: pt(40, -0.3*half, r+80), Length: num(420)})
	case rails:
		lo, hi := pt(-0.4*j.Vehicle.Wheelbase, 0.45*half, r+200), pt(0.7*j.Vehicle.Wheelbase, 0.45*half+70, r+380)
		j.Envelopes = append(j.Envelopes, job.Envelope{Name: name(words.T("Rail")), Pair: true, Kind: "box", Min: &lo, Max: &hi, Clearance: num(10)})
	case "Load":
		n := freeIn(namesOf(j, Loads, -1), "load")
		x := math.Round(0.4 * j.Vehicle.Wheelbase)
		mass := 3000.0
		if k := len(j.Vehicle.Loads); k > 0 {
			mass, x = j.Vehicle.Loads[k-1].Mass, j.Vehicle.Loads[k-1].CG[0]
		}
		j.Vehicle.Loads = append(j.Vehicle.Loads, job.Load{Name: n, Mass: mass, CG: job.Point{x, 0, guessedCG(j)}})
	case "Height":
		j.Vehicle.Heights = append(j.Vehicle.Heights, job.Height{Name: freeIn(namesOf(j, Heights, -1), "height")})
	case "Axle tube":
		if Len(j, AxleTube) > 0 {
			return Part{}, words.Errorf("The axle has its tube already.")
		}
		if j.Axle == nil {
			j.Axle = &job.Axle{}
		}
		j.Axle.Tube = &job.AxleTube{Outside: 90, From: -math.Round(0.8 * half), To: math.Round(0.8 * half)}
	case driveshaft:
		if Len(j, Driveline) > 0 && Len(j, Pinion) > 0 {
			return Part{}, words.Errorf("The job has its driveshaft already.")
		}
		if j.Axle == nil {
			j.Axle = &job.Axle{}
		}
		if j.Axle.Pinion == nil {
			j.Axle.Pinion = &job.Joint{Joint: pt(0.7*r, 0, r+15), Axis: job.Point{1, 0, 0.04}}
		}
		if j.Driveline == nil {
			j.Driveline = &job.Driveline{ShaftDiameter: num(90), JointLimit: num(20), Slip: &job.Slip{In: 30, Out: 30}}
		}
		if j.Driveline.Output == nil {
			j.Driveline.Output = &job.Joint{Joint: pt(0.42*j.Vehicle.Wheelbase, 0, r+100), Axis: job.Point{-1, 0, -0.04}}
		}
	default:
		return addShape(j, l, kind, r, half)
	}
	return last(), nil
}

// addShape adds a part in the way behind the axle, or a piece of the housing about its middle.
func addShape(j *job.Job, l List, kind string, r, half float64) (Part, error) {
	if l == Housing {
		e := job.Envelope{Kind: "ball"}
		switch kind {
		case fromFile:
			e = job.Envelope{Kind: "mesh", File: "housing.stl"}
		case box:
			e = job.Envelope{Kind: "box", Min: &job.Point{-120, -150, r - 120}, Max: &job.Point{200, 150, r + 120}}
		default:
			radius := math.Round(0.36 * r)
			e.Centre, e.Radius = &job.Point{0, 0, r}, &radius
		}
		if j.Axle == nil {
			j.Axle = &job.Axle{}
		}
		j.Axle.Housing = append(j.Axle.Housing, e)
		return Part{Housing, len(j.Axle.Housing) - 1}, nil
	}
	y := math.Round(0.4 * half)
	switch kind {
	case tank:
		p, err := AddBox(j, FreeName(j, words.T("Tank")), r3.Vec{X: -1100, Y: -y, Z: r + 40}, r3.Vec{X: -500, Y: y, Z: r + 300})
		if err == nil {
			e := &j.Envelopes[p.Index]
			e.Vessel, e.Movable = true, true
		}
		return p, err
	case outlined:
		return AddOutline(j, FreeName(j, words.T("Part")), "side", []job.Point2{{-900, r + 100}, {-500, r + 100}, {-500, r + 300}, {-900, r + 300}}, -y, y)
	case pipe:
		return AddPipe(j, FreeName(j, words.T("Pipe")), []r3.Vec{{X: 1400, Y: -y, Z: r + 60}, {X: 500, Y: -y, Z: r + 300}, {X: -900, Y: -y, Z: r + 300}}, 60)
	case fromFile:
		return addEnvelope(j, job.Envelope{Name: FreeName(j, words.T("Part")), Kind: "mesh", File: "part.stl"})
	case ball:
		return AddBall(j, FreeName(j, words.T("Ball")), r3.Vec{X: -700, Z: r + 200}, 100)
	}
	return AddBox(j, FreeName(j, words.T("Box")), r3.Vec{X: -900, Y: -y, Z: r + 100}, r3.Vec{X: -500, Y: y, Z: r + 300})
}

func freeIn(taken map[string]bool, name string) string {
	for n, try := 2, name; ; n++ {
		if !taken[strings.ToLower(try)] {
			return try
		}
		try = fmt.Sprintf("%s %d", name, n)
	}
}

// guessedCG is a height of the centre of gravity to begin from, mm: that of the last load, else twice the tyre's radius (a guess).
func guessedCG(j *job.Job) float64 {
	if n := len(j.Vehicle.Loads); n > 0 {
		return j.Vehicle.Loads[n-1].CG[2]
	}
	return math.Round(2 * j.Vehicle.Tyre.LoadedRadius)
}

// AddLoad adds a load from what the front and the rear axle weigh, kg. Its CG height starts as a guess.
func AddLoad(j *job.Job, name string, front, rear float64) (Part, error) {
	if j.Vehicle == nil || j.Vehicle.Tyre == nil || j.Vehicle.Wheelbase <= 0 {
		return Part{}, words.Errorf("Give wheelbase, track and tyre first.")
	}
	if strings.TrimSpace(name) == "" {
		name = freeIn(namesOf(j, Loads, -1), "load")
	}
	name, err := checkName(namesOf(j, Loads, -1), name, false)
	if err != nil {
		return Part{}, err
	}
	l := job.Load{Name: name, CG: job.Point{0, 0, guessedCG(j)}}
	if err := weighed(&l, j.Vehicle.Wheelbase, front, rear); err != nil {
		return Part{}, err
	}
	j.Vehicle.Loads = append(j.Vehicle.Loads, l)
	return Part{Loads, len(j.Vehicle.Loads) - 1}, nil
}

// weighed sets mass and CG X of a load from the two axles' weights: the mass is their sum, and the front axle carries mass * X / wheelbase.
func weighed(l *job.Load, wheelbase, front, rear float64) error {
	switch {
	case !(front >= 0) || !(rear >= 0) || math.IsInf(front+rear, 0):
		return words.Errorf("%s: an axle weighs 0 kg or more.", l.Name)
	case front+rear <= 0:
		return words.Errorf("%s: the two axles together must weigh more than 0 kg.", l.Name)
	}
	l.Mass = front + rear
	l.CG[0] = math.Round(front/l.Mass*wheelbase*1000) / 1000
	for _, key := range []string{"mass", "cg.x"} {
		g := l.Given[key]
		g.Typed, g.Source = "", words.T("axle weights")
		setGiven(&l.Given, key, g)
	}
	return nil
}
