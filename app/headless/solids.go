package headless

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/shape"
)

type solidsCmd struct {
	Job    string  `arg:"" help:"The job file; - reads standard input."`
	Out    string  `short:"o" placeholder:"FOLDER" help:"The folder the solids go into; made where it is missing."`
	Swept  bool    `help:"The room each moving part takes over the range too."`
	Margin float64 `placeholder:"MM" help:"How far round a moving part is counted, 0 to 500 mm; 0 where left out: the part itself."`
	Grid   float64 `placeholder:"MM" default:"10" help:"Grid of what moving parts take, 2 to 100 mm; 10 where left out."`
	Within float64 `placeholder:"MM" default:"0.05" help:"How far a flat of a round part may lie inside it, 0.01 to 5 mm; 0.05 where left out."`
	Trial  string  `placeholder:"NAME" help:"A trial the job keeps, instead of the job as drawn."`
}

// Help is what --help adds.
func (*solidsCmd) Help() string {
	return "Each part in the way as an STL file: binary, mm, body axes (X forward, Y left, Z up, origin on the ground under the axle at ride height), closed. What moving parts take is never smaller than the truth, as " +
		"axlesheet swept tells. Names of the files, litres and triangles are printed. All is worked out before the first file is written."
}

// body is a solid worked out.
type body struct {
	file string
	data []byte
	says string
}

// Run writes the parts in the way, and what moving parts take, as solids.
func (c *solidsCmd) Run(e *env) error {
	for _, f := range []struct {
		name         string
		v, low, high float64
	}{{"margin", c.Margin, 0, 500}, {"grid", c.Grid, 2, 100}, {"within", c.Within, 0.01, 5}} {
		if !(f.v >= f.low && f.v <= f.high) {
			return fail(wrong, "--%s %v: give mm from %v to %v.", f.name, f.v, f.low, f.high)
		}
	}
	if c.Out == "" {
		return fail(wrong, "Where to? The solids are many files: give --out FOLDER.")
	}
	j, err := e.load(&common{Job: c.Job, Trial: c.Trial})
	if err != nil {
		return err
	}
	list, err := c.parts(e, j)
	if err == nil && c.Swept {
		var more []body
		more, err = c.rooms(e, j)
		list = append(list, more...)
	}
	if err != nil {
		return err
	}
	if len(list) == 0 {
		return fail(wrong, "Nothing is in the way in this job, and --swept is not given: there is no solid to write.")
	}
	if err := os.MkdirAll(c.Out, 0o755); err != nil {
		return fail(wrong, "%s: %s.", c.Out, job.MachineWords(err))
	}
	taken := map[string]bool{}
	for _, b := range list {
		name := b.file
		for n := 2; taken[name]; n++ {
			name = fmt.Sprint(b.file, "-", n)
		}
		taken[name] = true
		name = filepath.Join(c.Out, name+".stl")
		if err := e.output(name, func(w io.Writer) error { _, err := w.Write(b.data); return err }); err != nil {
			return err
		}
		fmt.Fprintf(e.stdout, "%s: %s\n", name, b.says)
	}
	return nil
}

// headWords begin an STL file: plain letters, so that no program takes it for a text.
func headWords(name string) string {
	head := "Axleloft, mm: " + strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '?'
		}
		return r
	}, name)
	return head[:min(len(head), 80)]
}

// parts are the parts in the way, twins apart.
func (c *solidsCmd) parts(e *env, j *job.Job) (list []body, err error) {
	x := job.Expand(j).Job
	for i := range x.Envelopes {
		v := x.Envelope(&x.Envelopes[i])
		m, err := clearance.EnvelopeMesh(&v, c.Within)
		if err != nil {
			e.say("%s: left out, %s.", v.Name, strings.TrimSuffix(study.Lower(err.Error()), "."))
			continue
		}
		var out bytes.Buffer
		if err := shape.WriteSTL(&out, headWords(v.Name), m.V, m.T); err != nil {
			return nil, err
		}
		says := fmt.Sprintf("%d triangles", len(m.T))
		if mm3, ok := m.Volume(); ok {
			says = study.Volume(mm3/1e6) + ", " + says
		} else {
			says += "; not closed, as its own file is not"
		}
		list = append(list, body{"part-" + fileName(v.Name), out.Bytes(), says})
	}
	return list, nil
}

// rooms are what moving parts take.
func (c *solidsCmd) rooms(e *env, j *job.Job) (list []body, err error) {
	if err := movable(j); err != nil {
		return nil, err
	}
	s := study.WithRange(j)
	if s.Gaps == nil || !s.Bounded() {
		return nil, fail(wrong, "%s", s.RangeNote)
	}
	stopped := func(err error) error {
		if e.ctx.Err() != nil {
			return e.ctx.Err()
		}
		return fail(couldNot, "%s.", strings.TrimSuffix(study.Upper(err.Error()), "."))
	}
	movers := s.Movers()
	p := e.progress(len(movers), "what moving parts take")
	defer p.end()
	all, err := s.Rooms(e.ctx)
	if err != nil {
		return nil, stopped(err)
	}
	for _, i := range movers {
		room := all.Of(i, c.Margin)
		solid, err := room.Whole(e.ctx, c.Grid, func(int, int) {})
		p.add(1)
		if err != nil {
			return nil, stopped(err)
		}
		var out bytes.Buffer
		if err := solid.WriteSTL(&out, headWords("room of "+room.Name)); err != nil {
			return nil, err
		}
		list = append(list, body{"room-" + fileName(room.Name), out.Bytes(), fmt.Sprintf("%s at most, %d triangles; %s", study.Volume(solid.Volume/1e6), len(solid.T),
			room.LargerWords(solid.Larger, func(mm float64) string { return shown(mm, unitOf(j)) + " " + unitOf(j) }))})
	}
	return list, nil
}
