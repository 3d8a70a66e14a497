package headless

import (
	"io"
	"strconv"
	"strings"

	"axleloft/app/sheets"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/plotting/paper"
)

type outlineCmd struct {
	Job    string  `arg:"" help:"The job file; - reads standard input."`
	View   string  `enum:"side,plan,rear" default:"side" help:"side, plan or rear; side where left out."`
	Scale  string  `placeholder:"1:N" help:"1:1, 1:2, 1:5, 1:10 ...; left out: the largest of these that fits the paper, 1:10 without one."`
	Format string  `enum:"dxf,svg,pdf" default:"pdf" help:"dxf: full size, mm, on layers; svg or pdf: to scale."`
	Paper  string  `placeholder:"SIZE" help:"Of a pdf: a4, letter, a3, a2, a1 or a0, upright or on its side; left out: a page as large as it takes."`
	Left   float64 `placeholder:"MM" help:"Where the left wheel stands, bump +; ride height where left out."`
	Right  float64 `placeholder:"MM" help:"Where the right wheel stands."`
	Trial  string  `placeholder:"NAME" help:"A trial the job keeps, instead of the job as drawn."`
	Out    string  `short:"o" placeholder:"FILE" help:"Write to FILE, whole or not at all, instead of standard output."`
}

// Help is what --help adds.
func (*outlineCmd) Help() string {
	return "A view of the job drawn to scale: parts in the way, axle, tyres, links with their tubes and centre lines, and every pivot with a number and its place from where it was measured. Layers of the DXF: " +
		"PARTS_IN_THE_WAY, GROUND, TYRES, DRIVESHAFT, AXLE, STRUTS_STOPS_STRAPS, LINKS, HOSES_SENSORS, CENTRE_LINES, PIVOTS, NAMES, TABLE. Print a PDF at 100 % and check its scale bar with a rule."
}

var planes = map[string]view.Plane{"side": view.Side, "plan": view.Plan, "rear": view.Rear}

// scaleOf reads "1:10", "1/10" or "0.1".
func scaleOf(text string) (float64, error) {
	a, b, two := strings.Cut(strings.Replace(strings.TrimSpace(text), "/", ":", 1), ":")
	one, err := strconv.ParseFloat(strings.TrimSpace(a), 64)
	n := 1.0
	if err == nil && two {
		n, err = strconv.ParseFloat(strings.TrimSpace(b), 64)
	}
	if k := one / n; err == nil && k >= 0.005 && k <= 4 {
		return k, nil
	}
	return 0, fail(wrong, "--scale %s: give 1:1, 1:2, 1:10 and so on, from 4:1 to 1:200.", text)
}

// Run draws the outline.
func (c *outlineCmd) Run(e *env) error {
	scale := 0.0
	var err error
	if c.Scale != "" {
		if scale, err = scaleOf(c.Scale); err != nil {
			return err
		}
	}
	var size *paper.Size
	if c.Paper != "" {
		if c.Format != "pdf" {
			return fail(wrong, "--paper is for a pdf: a page of %s is as large as it takes. Leave --paper out.", c.Format)
		}
		s, err := paper.SizeOf(strings.ToLower(c.Paper), paper.Large...)
		if err != nil {
			return fail(wrong, "%v.", err)
		}
		size = &s
	}
	if err := e.noTerminal(c.Format, c.Out); err != nil {
		return err
	}
	in, err := e.drawn(&common{Job: c.Job, Trial: c.Trial}, e.loadMovable)
	if err != nil {
		return err
	}
	o, err := sheets.NewOutline(in, planes[c.View], c.Left, c.Right)
	if err != nil {
		return fail(wrong, "%s.", study.Upper(strings.TrimSuffix(err.Error(), ".")))
	}
	if _, _, err := o.Paper(scale, size); err != nil && c.Format != "dxf" {
		return fail(wrong, "%s.", study.Upper(err.Error()))
	}
	return e.output(c.Out, func(w io.Writer) error { return o.Write(w, c.Format, scale, size) })
}
