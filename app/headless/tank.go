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
		"faces that clear it, sizes in whole mm in from named faces, with what each loses; and the dip table before and after the best of them: depth up the dip stick from the tank's lowest place against litres. " +
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
	tank, err := c.find(j)
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
	if _, err := vessel.New(tank); err != nil {
		return fail(couldNot, "%s: %v.", tank.Name, err)
	}
	k := &tankWork{}
	if k.s, err = e.study(j, usualWithin); err != nil {
		return err
	}
	if !k.s.Bounded() || k.s.Gaps == nil {
		return fail(wrong, "%s", k.s.RangeNote)
	}
	if err := k.work(e, c, tank, at); err != nil {
		return err
	}
	err = e.output(c.Out, k.writer(c, j))
	if err != nil {
		return err
	}
	return e.strict(&c.common, j, k.s)
}

// usualWithin is how near what is proved of a pair comes to what is found, mm.
const usualWithin = 0.5

// find returns the tank as an expanded envelope.
func (c *tankCmd) find(j *job.Job) (*job.Envelope, error) {
	x := job.Expand(j)
	var names []string
	for i := range x.Job.Envelopes {
		e := &x.Job.Envelopes[i]
		if c.Vessel != "" && e.Name == c.Vessel {
			if !e.Vessel {
				return nil, fail(wrong, "%q is no tank. Add \"vessel\": true to it where it is one.", c.Vessel)
			}
			return e, nil
		}
		if e.Vessel {
			names = append(names, e.Name)
		}
	}
	quoted := make([]string, len(names))
	for i, n := range names {
		quoted[i] = fmt.Sprintf("%q", n)
	}
	switch {
	case len(names) == 0:
		return nil, fail(wrong, "This job has no tank: nothing in the way has \"vessel\": true.")
	case c.Vessel != "":
		return nil, fail(wrong, "There is no tank called %q.%s", c.Vessel, hint(c.Vessel, names))
	case len(names) > 1:
		return nil, fail(wrong, "Which tank? Give --vessel with one of %s.", strings.Join(quoted, ", "))
	}
	c.Vessel = names[0]
	return c.find(j)
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
	p := e.progress(-1, "keep-out")
	defer p.end()
	how := vessel.Usual
	how.Side = c.Fine
	var err error
	if k.Tank, err = k.s.Tank(e.ctx, tank, how, nil); err != nil {
		return fail(couldNot, "%v", err)
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
