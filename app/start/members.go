package start

import (
	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Stiffnesses of what bushes are on where they take up the articulation, N/mm square to the bolt (guesses).
const (
	linkBush = 10_000
	armBush  = 3_000
)

var across, aft = job.Point{0, 1, 0}, job.Point{1, 0, 0}

func end(kind string, bolt job.Point) *job.End { return &job.End{Kind: kind, Bolt: &bolt} }

// springy gives an end its stiffness.
func springy(e *job.End, k float64) *job.End {
	e.RadialStiffness = &k
	return e
}

// members draws what holds the axle and returns the names of what the rails carry.
func (p *plan) members(j *job.Job) (carries []string) {
	switch p.Layout {
	case RadiusArms:
		carries = p.radiusArms(j)
	case AArm:
		carries = append(p.lowers(j), p.aArm(j)...)
	default:
		carries = append(p.lowers(j), p.uppers(j)...)
	}
	switch {
	case p.Layout == Watts:
		carries = append(carries, p.watts(j)...)
	case p.Layout.panhard():
		carries = append(carries, p.panhardRod(j)...)
	}
	return carries
}

// free is the kind of a link's axle end.
func (p *plan) free(bolt job.Point) *job.End {
	if p.Layout == FiveLink {
		return springy(end("bush", bolt), linkBush)
	}
	return end("ball", bolt)
}

// held is a bush at a link's frame end.
func (p *plan) held(bolt job.Point) *job.End {
	e := end("bush", bolt)
	if p.Layout.overLocated() {
		springy(e, linkBush)
	}
	return e
}

func (p *plan) lowers(j *job.Job) []string {
	j.Links = append(j.Links, job.Link{Name: words.T("Lower"), Pair: true,
		Frame: pt(p.lower, p.railY, p.lowerFZ), Axle: pt(0, p.lowerY, p.lowerZ), Tube: tube(p.low, 8),
		FrameEnd: p.held(across), AxleEnd: p.free(across)})
	return []string{words.T("Lower")}
}

// uppers draws what keeps the axle from turning about the lowers.
func (p *plan) uppers(j *job.Job) []string {
	upper := job.Link{Frame: pt(p.upperX+p.upper, p.upperFY, p.upperFZ), Axle: pt(p.upperX, p.upperY, p.upperZ), Tube: tube(p.up, 6), FrameEnd: p.held(across), AxleEnd: p.free(across)}
	switch p.Layout {
	case FourLink:
		upper.Name, upper.Pair = words.T("Upper"), true
		upper.FrameEnd, upper.AxleEnd = &job.End{Kind: "bush"}, &job.End{Kind: "ball"} // bolts square to the links
	case FiveLink:
		upper.Name, upper.Pair = words.T("Upper"), true
	case ThreeLink, Watts: // hangs from a crossmember
		upper.Name = words.T("Centre upper")
		j.Links = append(j.Links, upper)
		return nil
	case TorqueArm: // the arm is part of the axle; its front end hangs from a crossmember
		front := pt(p.torqueX, p.torqueY, p.torqueZ)
		j.Axle.Housing = append(j.Axle.Housing, job.Envelope{Kind: "tube", Path: []job.Point{pt(0, p.torqueY, p.r), front}, Outside: num(2 * p.low)})
		foot := end("ball", across)
		foot.Bracket = num(p.low + p.rod + tightness + 30) // what of the link stands in the arm's own fork
		j.Links = append(j.Links, job.Link{Name: words.T("Torque arm"), Axle: front, Frame: pt(p.torqueX, p.torqueY, p.torqueZ+linkHeight), Tube: tube(p.rod, 5),
			FrameEnd: end("ball", across), AxleEnd: foot})
		return nil
	}
	j.Links = append(j.Links, upper)
	return []string{words.T("Upper")}
}

func (p *plan) panhardRod(j *job.Job) []string {
	frame, axle := p.held(aft), p.held(aft)
	j.Links = append(j.Links, job.Link{Name: words.T("Panhard rod"), Frame: pt(p.rodX, -p.railY, p.rodZ+20), Axle: pt(p.rodX, p.railY, p.rodZ), Tube: tube(p.rod, 5), FrameEnd: frame, AxleEnd: axle})
	return []string{words.T("Panhard rod")}
}

// radiusArms draws the arms: a ball at the frame, since an arm rolls with the axle, and two bushes, over and under the axle tube.
func (p *plan) radiusArms(j *job.Job) []string {
	off := p.tube + armBushes
	bush := func() job.End { return *springy(end("bush", across), armBush) }
	j.Arms = append(j.Arms, job.Arm{Name: words.T("Radius arm"), Pair: true,
		Frame: []job.Point{pt(p.lower, p.railY, p.lowerFZ)}, Axle: []job.Point{pt(0, p.lowerY, p.r+off), pt(0, p.lowerY, p.r-off)},
		FrameEnds: []job.End{*end("ball", across)}, AxleEnds: []job.End{bush(), bush()}, Tube: tube(p.low, 8)})
	return []string{words.T("Radius arm")}
}

// aArm draws the arm over the housing, its ball on the centre plane.
func (p *plan) aArm(j *job.Job) []string {
	x := p.upperX + p.upper
	j.Arms = append(j.Arms, job.Arm{Name: "A-arm",
		Frame: []job.Point{pt(x, p.upperFY, p.upperFZ), pt(x, -p.upperFY, p.upperFZ)}, Axle: []job.Point{pt(p.upperX, 0, p.upperZ)},
		FrameEnds: []job.End{*end("bush", across), *end("bush", across)}, AxleEnds: []job.End{*end("ball", across)}, Tube: tube(p.up, 6)})
	return []string{"A-arm"}
}

// watts draws the rocker upright behind the housing, one rod from its top to the left rail and one from its foot to the right.
func (p *plan) watts(j *job.Job) []string {
	rod := func(name string, sign float64) job.Rod {
		z := p.rodZ + sign*p.rocker
		return job.Rod{Name: name, Rocker: pt(p.rodX, 0, z), Far: pt(p.rodX, sign*p.wattsY, z), Tube: tube(p.rod, 5), RockerEnd: end("ball", aft), FarEnd: end("ball", aft)}
	}
	j.Rockers = append(j.Rockers, job.Rocker{Name: words.T("Watt's rocker"), On: "axle", Pivot: pt(p.rodX, 0, p.rodZ), Axis: aft,
		Rods: []job.Rod{rod(words.T("Watt's rod left"), 1), rod(words.T("Watt's rod right"), -1)}})
	return []string{words.T("Watt's rod left"), words.T("Watt's rod right")}
}
