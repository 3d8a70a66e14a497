package start

import (
	"errors"
	"math"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Make makes the job; nonsense is refused in a sentence that names the number. The layout is made for the most articulation that leaves every
// part its room.
func Make(s Six) (*job.Job, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	most := mostCrossed
	if s.Layout == RadiusArms {
		most = mostOnArms
	}
	var last error // of the attempt that asks for the least room
	for most >= leastCrossed {
		p, err := layOut(s, most)
		if err != nil {
			return nil, err
		}
		j := p.job()
		if last = p.fit(j); last == nil {
			last = p.tried(j)
		}
		if last == nil {
			return j, nil
		}
		var reach *reachError
		if errors.As(last, &reach) && s.Layout != Watts { // whose rods are longer the less there is
			break
		}
		most = int(math.Round(p.crossed*180/math.Pi)) - 1
	}
	return nil, words.Errorf("No working layout comes out of these six numbers: %w", last)
}

func num(v float64) *float64 { return &v }

func pt(x, y, z float64) job.Point { return job.Point{math.Round(x), math.Round(y), math.Round(z)} }

func tube(radius, wall float64) *job.Tube { return &job.Tube{Outside: 2 * radius, Wall: &wall} }

// job draws the plan. Limits that follow from the motion are set by fit.
func (p *plan) job() *job.Job {
	r := p.r
	j := &job.Job{
		Format: job.Format, Version: job.Version,
		Title: words.T("My job"),
		Notes: words.T("Started from six numbers. Every value is a guess till it is measured."),
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
		{Name: words.T("full load"), Mass: full, CG: pt(0.40*p.Wheelbase, 0, p.fullCG)},
	}
	j.Vehicle.Heights = []job.Height{{Name: "raised", Heave: -math.Round(math.Min(50, 0.4*p.Droop))}, {Name: "ride"}, {Name: "lowered", Heave: math.Round(math.Min(40, 0.4*p.Bump))}}

	carries := p.members(j)

	stroke := p.Bump + p.Droop + 30
	strutZ := r - math.Round(0.2*r)
	j.Struts = []job.Strut{{Name: words.T("Strut"), Pair: true, Frame: pt(p.strutX+10, p.strutY, strutZ+strutDead+stroke+p.Bump), Axle: pt(p.strutX, p.strutY, strutZ), Diameter: num(2 * p.strut)}}
	j.Stops = []job.Stop{{Name: words.T("Bump stop"), Pair: true, Frame: pt(0, p.railY, p.railZ), Axle: pt(0, p.railY, r+p.tube+15), Face: num(60)}}
	j.Straps = []job.Strap{{Name: words.T("Limit strap"), Pair: true, Frame: pt(60, p.railY, p.railZ), Axle: pt(40, p.railY, r)}}
	j.Lines = []job.Line{{Name: words.T("Brake hose"), Frame: pt(160, p.railIn-60, p.railZ+60), Axle: pt(40, p.railIn-90, r+p.tube+20)}}
	carries = append(carries, words.T("Strut"), words.T("Bump stop"), words.T("Limit strap"), words.T("Brake hose"))

	lo, hi := pt(-0.35*p.Wheelbase, p.railIn, p.railZ), pt(0.62*p.Wheelbase, p.railOut, p.railZ+160)
	j.Envelopes = []job.Envelope{{Name: words.T("Rail"), Pair: true, Kind: "box", Min: &lo, Max: &hi, Clearance: num(10), Carries: carries}}
	p.driveline(j)
	return j
}

// driveline draws pinion and output: both joints bent alike at ride height, pinion and output parallel.
func (p *plan) driveline(j *job.Job) {
	sin, cos := math.Sincos(pinionUp * math.Pi / 180)
	axis := func(sign float64) job.Point {
		return job.Point{sign * math.Round(cos*1e6) / 1e6, 0, sign * math.Round(sin*1e6) / 1e6}
	}
	pinX, outX := math.Round(0.72*p.r), math.Round(math.Min(1700, 0.42*p.Wheelbase))
	outX = math.Max(outX, pinX+450)
	pinZ := p.r + math.Round(0.03*p.r)
	outZ := math.Round(pinZ + math.Tan((pinionUp+shaftBend)*math.Pi/180)*(outX-pinX))
	j.Axle.Pinion = &job.Joint{Joint: pt(pinX, 0, pinZ), Axis: axis(1)}
	j.Driveline = &job.Driveline{Output: &job.Joint{Joint: pt(outX, 0, outZ), Axis: axis(-1)}, ShaftDiameter: num(2 * shaftRadius)}
}
