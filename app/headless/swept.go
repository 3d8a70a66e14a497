package headless

import (
	"fmt"
	"io"
	"math"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/swept"
	"axleloft/plotting/drawing"
	"axleloft/plotting/paper"

	"gonum.org/v1/gonum/spatial/r3"
)

type sweptCmd struct {
	Job     string   `arg:"" help:"The job file; - reads standard input."`
	Part    string   `placeholder:"NAME" help:"Which moving part, by its name: a link, arm, rod, strut, line, \"Driveshaft\", \"Axle tube\", \"Housing\", \"Tyre left\"."`
	Margin  float64  `placeholder:"MM" help:"How far round the part is counted, 0 to 500 mm; 0 where left out: the part itself."`
	Section []string `placeholder:"AXIS=MM" help:"A section: x=1200, y=-85 or z=620, body axes. May be given several times; left out: three through the part's middle at ride height."`
	Fine    float64  `placeholder:"MM" default:"2" help:"Grid of the sections, 0.5 to 50 mm; 2 where left out."`
	Solid   float64  `placeholder:"MM" default:"10" help:"Grid of the solid, 2 to 100 mm; 10 where left out."`
	Format  string   `enum:"table,csv,json,svg,pdf,stl" default:"table" help:"table; csv or json with the corners of the outlines; svg or pdf to scale; stl: the solid, binary, mm, body axes."`
	Scale   string   `placeholder:"1:N" default:"1:1" help:"Of svg and pdf: 1:1 where left out."`
	Out     string   `short:"o" placeholder:"FILE" help:"Write the result to FILE, whole or not at all, instead of standard output."`
	STL     string   `name:"stl" placeholder:"FILE" help:"Write the solid to FILE as well."`
	Trial   string   `placeholder:"NAME" help:"A trial the job keeps, instead of the job as drawn."`
	Strict  bool     `help:"Exit 1 where anything hits, runs out or is tight and is not set aside."`
}

// Help is what --help adds.
func (*sweptCmd) Help() string {
	return "The room a moving part takes over the whole range: every place nearer to it than the margin at any position, brackets included. Outlines and solid are never smaller than the truth, between positions too, where that is " +
		"proved; how much larger they are at most is told with them. Outlines run anticlockwise round what is taken, seen from the axis' far end, clockwise round holes."
}

// sweptWork is what is told of a part.
type sweptWork struct {
	*study.Room
	j     *job.Job
	solid *swept.Solid
}

// Run writes the room a part takes.
func (c *sweptCmd) Run(e *env) error {
	for _, f := range []struct {
		name         string
		v, low, high float64
	}{{"margin", c.Margin, 0, 500}, {"fine", c.Fine, 0.5, 50}, {"solid", c.Solid, 2, 100}} {
		if !(f.v >= f.low && f.v <= f.high) {
			return fail(wrong, "--%s %v: give mm from %v to %v.", f.name, f.v, f.low, f.high)
		}
	}
	scale, err := scaleOf(c.Scale)
	if err != nil {
		return err
	}
	at, err := stations(c.Section)
	if err != nil {
		return err
	}
	flags := common{Job: c.Job, Trial: c.Trial, Strict: c.Strict}
	j, err := e.loadMovable(&flags)
	if err != nil {
		return err
	}
	s := study.WithRange(j)
	if s.Gaps == nil || !s.Bounded() {
		return fail(wrong, "%s", s.RangeNote)
	}
	part, err := c.find(s)
	if err != nil {
		return err
	}
	k := &sweptWork{j: j}
	if err := k.work(e, c, s, part, at); err != nil {
		return err
	}
	stl := func(w io.Writer) error { return k.solid.WriteSTL(w, k.Head()) }
	if c.STL != "" {
		if err := e.output(c.STL, stl); err != nil {
			return err
		}
	}
	err = e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return k.csv(w)
		case "json":
			return k.json(w, c)
		case "svg", "pdf":
			return k.sheet(w, c, scale)
		case "stl":
			return stl(w)
		}
		return k.table(w, c)
	})
	if err != nil {
		return err
	}
	return e.strict(&flags, j, nil)
}

// find is the part asked for.
func (c *sweptCmd) find(s *study.Study) (int, error) {
	var names []string
	for _, i := range s.Movers() {
		if s.Gaps.Parts[i].Name == c.Part {
			return i, nil
		}
		names = append(names, s.Gaps.Parts[i].Name)
	}
	for i := range s.Gaps.Parts {
		if p := &s.Gaps.Parts[i]; p.Name == c.Part && p.Body == clearance.OnFrame {
			return 0, fail(wrong, "%s is fixed to the frame and takes no more room than it is drawn with.", p.Name)
		}
	}
	for _, o := range s.Gaps.LeftOut {
		if o.A == c.Part && o.B == "" {
			return 0, fail(wrong, "%s has no shape to move: %s.", o.A, o.Why)
		}
	}
	switch {
	case len(names) == 0:
		return 0, fail(wrong, "No moving part of this job has a shape. Give a link its tube, the tyres their width.")
	case c.Part == "":
		return 0, fail(wrong, "Which part? Give --part NAME.%s", hint("", names))
	}
	return 0, fail(wrong, "No moving part is called %q.%s", c.Part, hint(c.Part, names))
}

// work cuts the sections and, where it is wanted, makes the solid.
func (k *sweptWork) work(e *env, c *sweptCmd, s *study.Study, part int, at []station) error {
	refuse := func(err error) error {
		if e.ctx.Err() != nil {
			return fail(couldNot, "")
		}
		return fail(couldNot, "%s.", strings.TrimSuffix(study.Upper(err.Error()), "."))
	}
	p := e.progress(-1, "how everything moves")
	all, err := s.Rooms(e.ctx)
	p.end()
	if err != nil {
		return refuse(err)
	}
	k.Room = all.Of(part, c.Margin)
	if len(at) == 0 {
		for axis, v := range k.Middle() {
			at = append(at, station{axis, math.Round(v)})
		}
	}
	if c.Format != "stl" {
		p = e.progress(len(at)*1000, "sections")
		for n, q := range at {
			last := 1000 * n
			err := k.Room.Section(e.ctx, q.axis, q.at, c.Fine, func(done, all int) {
				now := 1000*n + 1000*done/all
				p.add(now - last)
				last = now
			})
			if err != nil {
				p.end()
				return refuse(err)
			}
		}
		p.end()
	}
	if c.STL == "" && (c.Format == "csv" || c.Format == "svg" || c.Format == "pdf") {
		return nil
	}
	p = e.progress(1000, "solid")
	defer p.end()
	last := 0
	k.solid, err = k.Whole(e.ctx, c.Solid, func(done, all int) {
		p.add(1000*done/all - last)
		last = 1000 * done / all
	})
	if err != nil {
		return refuse(err)
	}
	return nil
}

func (k *sweptWork) length(mm float64) string { return shown(mm, unitOf(k.j)) + " " + unitOf(k.j) }

func (k *sweptWork) table(w io.Writer, c *sweptCmd) error {
	var b strings.Builder
	inch := unitOf(k.j) == "in"
	fmt.Fprintf(&b, "%s\nRoom taken: %s, brackets included, over the whole range.\n%s\n", heading(k.j, c.Trial), k.Title(k.length), k.HowWords())
	lo, hi := k.Box()
	fmt.Fprintf(&b, "It lies within X %s to %s, Y %s to %s, Z %s to %s.\n", k.length(math.Floor(lo.X)), k.length(math.Ceil(hi.X)), k.length(math.Floor(lo.Y)), k.length(math.Ceil(hi.Y)), k.length(math.Floor(lo.Z)), k.length(math.Ceil(hi.Z)))
	fmt.Fprintf(&b, "%s at most: a solid on a grid of %s, %s; %d triangles.\n\n", study.Volume(k.solid.Volume/1e6), k.length(k.solid.Step), k.LargerWords(k.solid.Larger, k.length), len(k.solid.T))
	t := table{heads: [][]string{{"section at", "outlines", "area", "from, to", "larger by at most"}}, left: []bool{true, false, false, true, false}}
	for _, s := range k.Sections {
		row := []string{study.SectionName(s.Axis, s.At, k.length), fmt.Sprint(len(s.Loops)), study.AreaWords(s.Area, inch), study.ExtentWords(s, k.length), k.length(s.Larger)}
		switch {
		case len(s.Loops) == 0:
			row[2], row[3], row[4] = "", "it does not come there", ""
		case math.IsInf(s.Larger, 1):
			row[4] = "not known"
		}
		t.rows = append(t.rows, row)
	}
	if err := t.write(&b); err != nil {
		return err
	}
	fmt.Fprintf(&b, "\n%s\n%s\n", onlyDrawn, paper.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

func (k *sweptWork) csv(w io.Writer) error {
	var rows [][]string
	for _, s := range k.Sections {
		for n, loop := range s.Loops {
			for _, p := range loop {
				rows = append(rows, []string{"xyz"[s.Axis : s.Axis+1], number(s.At), fmt.Sprint(n + 1), number(p.X), number(p.Y), number(p.Z)})
			}
		}
	}
	return writeCSV(w, []string{"axis", "station_mm", "loop", "x_mm", "y_mm", "z_mm"}, rows)
}

func (k *sweptWork) json(w io.Writer, c *sweptCmd) error {
	var t jsonText
	t.open('{')
	t.keyStr("job", k.j.Title)
	t.keyStr("trial", c.Trial)
	t.keyStr("part", k.Name)
	t.keyNum("margin", k.Margin)
	t.keyBool("proved", k.Proved)
	if k.Last > 0 {
		t.keyNum("butLast", k.Last) // mm of travel before the links end it: only tried at positions
	}
	if k.Why != "" {
		t.keyStr("why", k.Why)
	}
	t.line()
	lo, hi := k.Box()
	t.key("within")
	t.open('[')
	for _, p := range [2][3]float64{vec(lo), vec(hi)} {
		t.open('[')
		for _, v := range p {
			t.num(v)
		}
		t.close(']')
	}
	t.close(']')
	t.line()
	t.key("solid")
	t.open('{')
	t.keyNum("litres", k.solid.Volume/1e6)
	t.keyNum("grid", k.solid.Step)
	t.keyNum("largerAtMost", k.solid.Larger)
	t.keyNum("triangles", float64(len(k.solid.T)))
	t.close('}')
	t.line()
	t.key("sections")
	t.open('[')
	for _, s := range k.Sections {
		t.line()
		t.open('{')
		t.keyStr("axis", "xyz"[s.Axis:s.Axis+1])
		t.keyNum("station", s.At)
		t.keyNum("area", s.Area)
		t.keyNum("largerAtMost", s.Larger)
		t.key("loops")
		loopsJSON(&t, s.Loops)
		t.close('}')
	}
	t.close(']')
	t.line()
	t.keyStr("caution", paper.Caution)
	t.close('}')
	_, err := w.Write(append(t.b, '\n'))
	return err
}

func (k *sweptWork) sheet(w io.Writer, c *sweptCmd, scale float64) error {
	date, err := today()
	if err != nil {
		return err
	}
	sheet, err := study.RoomSheet(k.Room, scale, unitOf(k.j) == "in", paper.Head{Job: k.j.Title, Trial: c.Trial, Date: date}, k.length)
	if err != nil {
		return fail(wrong, "%v", err)
	}
	if err := drawing.Write(w, sheet, c.Format); err != nil {
		return fail(couldNot, "The sections could not be drawn: %v.", err)
	}
	return nil
}

// loopsJSON writes outlines as lists of corners.
func loopsJSON(t *jsonText, loops [][]r3.Vec) {
	t.open('[')
	for _, loop := range loops {
		t.open('[')
		for _, p := range loop {
			t.open('[')
			for _, v := range vec(p) {
				t.num(v)
			}
			t.close(']')
		}
		t.close(']')
	}
	t.close(']')
}
