package headless

import (
	"fmt"
	"math"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/vessel"

	"gonum.org/v1/gonum/spatial/r3"
)

type tankCmd struct {
	common
	Vessel  string   `placeholder:"NAME" help:"Which tank; left out: the only one there is."`
	All     bool     `help:"Every tank of the job, one after the other. CSV then begins each line with the tank's name, JSON is a list \"tanks\"."`
	Margin  *float64 `placeholder:"MM" help:"How far everything that moves is to be kept away, 0 to 500 mm, instead of the gap wanted of each pair."`
	TiltX   float64  `placeholder:"DEG" help:"The tank's tilt about X, left side up positive."`
	TiltY   float64  `placeholder:"DEG" help:"The tank's tilt about Y, nose down positive."`
	Step    float64  `placeholder:"MM" default:"5" help:"Step of the dip table, 1 to 100 mm; 5 where left out."`
	Fine    float64  `placeholder:"MM" default:"8" help:"How finely the keep-out is worked out, 2 to 50 mm; 8 where left out."`
	Section []string `placeholder:"AXIS=MM" help:"A section through the keep-out: x=-210, y=300 or z=620. May be given several times; CSV then has the sections."`
	Cuts    bool     `help:"CSV has the cuts instead of the dip table."`
}

// Help is what --help adds.
func (*tankCmd) Help() string {
	return "Litres of a tank (vessel) and both gallons; what the keep-out round everything that moves takes from it over the whole range, at least and at most, with the gap wanted of each pair; the simple cuts with flat " +
		"faces that clear it, sizes in whole mm in from named faces, with what each loses, and of those that lose nearly alike the one with fewest faces; and the dip table before and after the best of them: depth up the dip stick from the tank's lowest place against litres. " +
		"\"fill\" on the tank says where filler, breather, pick-up and dip stick are. What is proved holds between positions too."
}

// tankWork is what is told of a tank.
type tankWork struct {
	*study.Tank
	s        *study.Study
	dip      []vessel.Level
	use      vessel.Usable
	useKnown bool
	sections []*vessel.Section
}

// Run writes the tank.
func (c *tankCmd) Run(e *env) error {
	for _, f := range []struct {
		name         string
		v, low, high float64
		unit         string
	}{{"tilt-x", c.TiltX, -study.MostTilt, study.MostTilt, "deg"}, {"tilt-y", c.TiltY, -study.MostTilt, study.MostTilt, "deg"}, {"step", c.Step, 1, 100, "mm"}, {"fine", c.Fine, 2, 50, "mm"}} {
		if !(f.v >= f.low && f.v <= f.high) {
			return fail(wrong, "--%s %v: give %s from %v to %v.", f.name, f.v, f.unit, f.low, f.high)
		}
	}
	j, err := e.load(&c.common)
	if err != nil {
		return err
	}
	if m := c.Margin; m != nil && !(*m >= 0 && *m <= 500) {
		return fail(wrong, "--margin %v: give mm from 0 to 500.", *m)
	}
	tanks, err := c.find(j)
	if err != nil {
		return err
	}
	at, err := stations(c.Section)
	if err != nil {
		return err
	}
	if err := movable(j); err != nil {
		return err
	}
	if tanks, err = c.read(e, tanks); err != nil {
		return err
	}
	s, err := e.study(j, usualWithin)
	if err != nil {
		return err
	}
	if !s.Bounded() || s.Gaps == nil {
		return fail(wrong, "%s", s.RangeNote)
	}
	var list []*tankWork
	for _, tank := range tanks {
		k := &tankWork{s: s}
		err := k.work(e, c, tank, at)
		switch {
		case e.ctx.Err() != nil:
			return fail(couldNot, "")
		case err != nil && len(tanks) == 1:
			return err
		case err != nil: // the others stand
			e.say("%v", err)
			continue
		}
		list = append(list, k)
	}
	if len(list) == 0 {
		return fail(couldNot, "")
	}
	if err = e.output(c.Out, tankWriter(c, j, list)); err != nil {
		return err
	}
	return e.strict(&c.common, j, s)
}

// usualWithin is how near what is proved of a pair comes to what is found, mm.
const usualWithin = 0.5

// find returns the tanks that are asked for, as expanded envelopes.
func (c *tankCmd) find(j *job.Job) ([]*job.Envelope, error) {
	x := job.Expand(j)
	var names []string
	var all []*job.Envelope
	for i := range x.Job.Envelopes {
		e := &x.Job.Envelopes[i]
		if c.Vessel != "" && e.Name == c.Vessel && !c.All {
			if !e.Vessel {
				return nil, fail(wrong, "%q is no tank. Add \"vessel\": true to it where it is one.", c.Vessel)
			}
			return []*job.Envelope{e}, nil
		}
		if e.Vessel {
			names = append(names, fmt.Sprintf("%q", e.Name))
			all = append(all, e)
		}
	}
	switch {
	case c.All && c.Vessel != "":
		return nil, fail(wrong, "--all is every tank: leave --vessel out.")
	case len(names) == 0:
		return nil, fail(wrong, "This job has no tank: nothing in the way has \"vessel\": true.")
	case c.Vessel != "":
		plain := make([]string, len(all))
		for i, e := range all {
			plain[i] = e.Name
		}
		return nil, fail(wrong, "There is no tank called %q.%s", c.Vessel, hint(c.Vessel, plain))
	case len(names) > 1 && !c.All:
		return nil, fail(wrong, "Which tank? Give --vessel with one of %s, or --all.", strings.Join(names, ", "))
	}
	return all, nil
}

// read leaves the tanks whose shape can be had: of all asked for, those that cannot are told of and the others stand.
func (c *tankCmd) read(e *env, tanks []*job.Envelope) ([]*job.Envelope, error) {
	var left []*job.Envelope
	for _, tank := range tanks {
		_, err := vessel.New(tank)
		if err == nil {
			left = append(left, tank)
			continue
		}
		if len(tanks) == 1 {
			return nil, fail(wrong, "%s: %v.", tank.Name, err)
		}
		e.say("%s: %v.", tank.Name, err)
	}
	if len(left) == 0 {
		return nil, fail(wrong, "No tank of this job has a shape that can be read.")
	}
	return left, nil
}

// station is where a section lies.
type station struct {
	axis int
	at   float64
}

func stations(list []string) ([]station, error) {
	var out []station
	for _, text := range list {
		name, value, ok := strings.Cut(text, "=")
		axis := strings.Index("xyz", strings.ToLower(strings.TrimSpace(name)))
		var at float64
		_, err := fmt.Sscanf(value+" end", "%f end", &at)
		if !ok || len(strings.TrimSpace(name)) != 1 || axis < 0 || err != nil || !(math.Abs(at) <= 1e5) {
			return nil, fail(wrong, "--section %s: give x, y or z, an equals sign and mm, such as x=-210.", text)
		}
		out = append(out, station{axis, at})
	}
	return out, nil
}

// work fills in all that is told.
func (k *tankWork) work(e *env, c *tankCmd, tank *job.Envelope, at []station) error {
	p := e.progress(-1, "keep-out, "+tank.Name)
	defer p.end()
	how := vessel.Usual
	how.Side, how.Margin = c.Fine, c.Margin
	var err error
	if k.Tank, err = k.s.Tank(e.ctx, tank, how, nil); err != nil {
		return fail(couldNot, "%v", err)
	}
	if k.Vessel.Why != "" {
		return nil
	}
	tilt := vessel.Tilt{X: c.TiltX * math.Pi / 180, Y: c.TiltY * math.Pi / 180}
	k.dip = k.Vessel.Dip(tilt, k.Plan, c.Step)
	k.use, k.useKnown = k.Vessel.Usable(tilt, k.Plan)
	for _, q := range at {
		sec, err := k.Section(e.ctx, q.axis, q.at)
		switch {
		case e.ctx.Err() != nil:
			return fail(couldNot, "")
		case err != nil:
			return fail(couldNot, "%v.", err)
		}
		k.sections = append(k.sections, sec)
	}
	return nil
}

func vec(p r3.Vec) [3]float64 { return [3]float64{p.X, p.Y, p.Z} }
