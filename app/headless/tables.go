package headless

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/alecthomas/kong"
)

type tablesCmd struct {
	Job    string `arg:"" help:"The job file; - reads standard input."`
	Out    string `short:"o" placeholder:"FOLDER" help:"The folder the tables go into; made where it is missing."`
	Trial  string `placeholder:"NAME" help:"A trial the job keeps, instead of the job as drawn."`
	Strict bool   `help:"Exit 1 where anything hits, runs out or is tight and is not set aside."`
}

// Help is what --help adds.
func (*tablesCmd) Help() string {
	return "Everything there is as CSV, a file a table, each as the sub-command of its name writes it; inputs.csv has every number of the job with how it was got. Lengths are mm, angles deg, with all digits; a ± is in its number's unit. " +
		"All is worked out before the first file is written; the names of the files are printed. What a job cannot have (no tank, no driveshaft) is said and left out."
}

// tabled is one table worked out: the file's name without its ending, and what goes into it.
type tabled struct {
	name string
	data []byte
}

// Run writes every table of a job.
func (c *tablesCmd) Run(e *env) error {
	if c.Out == "" {
		return fail(wrong, "Where to? The tables are many files: give --out FOLDER.")
	}
	file, err := e.contents(c.Job)
	if err != nil {
		return err
	}
	flags := common{Job: c.Job, Trial: c.Trial, Strict: c.Strict}
	j, err := e.load(&flags)
	if err != nil {
		return err
	}
	if err := movable(j); err != nil {
		return err
	}
	jobs := c.jobs(j)
	list := []tabled{{"inputs", inputsCSV(j)}}
	bar := e.progress(len(jobs), "tables")
	for _, t := range jobs {
		data, err := e.inner(file, append([]string{t.args[0], c.Job}, t.args[1:]...))
		bar.add(1)
		switch {
		case e.ctx.Err() != nil:
			bar.end()
			return e.ctx.Err()
		case err != nil:
			e.say("%s: left out. %s", t.name, err)
		default:
			list = append(list, tabled{t.name, data})
		}
	}
	bar.end()
	if err := os.MkdirAll(c.Out, 0o755); err != nil {
		return fail(wrong, "%s: %s.", c.Out, job.MachineWords(err))
	}
	for _, t := range list {
		name := filepath.Join(c.Out, t.name+".csv")
		if err := e.output(name, func(w io.Writer) error { _, err := w.Write(t.data); return err }); err != nil {
			return err
		}
		fmt.Fprintln(e.stdout, name)
	}
	e.stdin = bytes.NewReader(file)
	return e.strict(&flags, j, nil)
}

// innerJob is a table and the arguments of the sub-command that writes it, the job's name left out.
type innerJob struct {
	name string
	args []string
}

// jobs are the tables a job has.
func (c *tablesCmd) jobs(j *job.Job) []innerJob {
	var list []innerJob
	taken := map[string]bool{"inputs": true}
	put := func(name string, args ...string) {
		name = fileName(name)
		for n, try := 2, name; taken[name]; n++ {
			name = fmt.Sprint(try, "-", n)
		}
		taken[name] = true
		args = append(args, "--format", "csv")
		if c.Trial != "" {
			args = append(args, "--trial="+c.Trial)
		}
		list = append(list, innerJob{name, args})
	}
	put("findings", "check")
	for i := range j.Vehicle.Loads {
		put("sweep "+j.Vehicle.Loads[i].Name, "sweep", "--load="+j.Vehicle.Loads[i].Name)
	}
	if len(j.Vehicle.Loads) == 0 {
		put("sweep", "sweep")
	}
	put("limits", "limits")
	put("clearance", "clearance")
	put("heights", "heights")
	put("lowest", "lowest")
	put("links", "links")
	if slices.ContainsFunc(edit.Pivots(j), func(p edit.Pivot) bool { end, _ := edit.EndAt(j, p); return end.BoltOut != nil }) {
		put("bolts", "bolts")
	}
	if len(j.Holes) > 0 {
		put("holes", "holes")
	}
	if len(j.Trials) > 0 && c.Trial == "" {
		put("compare", "compare")
	}
	if slices.ContainsFunc(j.Envelopes, func(v job.Envelope) bool { return v.Vessel }) {
		put("tank dip", "tank", "--all")
		put("tank cuts", "tank", "--all", "--cuts")
	}
	for _, k := range study.Charts() {
		for _, against := range []string{"both", "crossed"} {
			put("chart "+k.Key+" "+against, "plot", "--chart", k.Key, "--against", against)
		}
	}
	return list
}

// inner runs a sub-command and returns what it writes; the job's file is handed to it where it reads standard input. What was worked out of the job and
// its trial stays with e.
func (e *env) inner(file []byte, args []string) ([]byte, error) {
	parser, err := kong.New(&commands{}, kong.Name("axlesheet"))
	if err != nil {
		return nil, err
	}
	c, err := parser.Parse(args)
	if err != nil {
		return nil, err
	}
	if e.worked == nil {
		e.worked = map[float64]*study.Study{}
	}
	var out bytes.Buffer
	if err := c.Run(&env{ctx: e.ctx, stdin: bytes.NewReader(file), stdout: &out, stderr: io.Discard, worked: e.worked}); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// fileName makes a name of letters, digits and hyphens of words.
func fileName(words string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' }), "-")
}

// inputsCSV is every number and word of a job with how it was got: mm, kg, deg.
func inputsCSV(j *job.Job) []byte {
	head := []string{"part", "key", "what", "value", "unit", "state", "typed", "from", "source", "plus_minus"}
	var rows [][]string
	for _, list := range edit.Lists() {
		for i := range edit.Len(j, list) {
			part := edit.Part{List: list, Index: i}
			for _, f := range edit.Fields(j, part) {
				if row := inputRow(j, part, &f); row != nil {
					rows = append(rows, row)
				}
			}
		}
	}
	var out bytes.Buffer
	_ = writeCSV(&out, head, rows) // a buffer takes everything
	return out.Bytes()
}

// inputRow is one input; nil where the job does not have it.
func inputRow(j *job.Job, part edit.Part, f *edit.Field) []string {
	if f.Text == "" {
		return nil
	}
	value, unit := f.Text, ""
	switch f.Unit {
	case edit.Length:
		value, unit = number(f.Value), "mm"
	case edit.Angle:
		value, unit = number(f.Value), "deg"
	case edit.Mass:
		value, unit = number(f.Value), "kg"
	case edit.Number:
		value, unit = number(f.Value), f.Suffix
	case edit.Points:
		unit = f.Suffix
	case edit.ReadOnly:
		return nil // worked out, no input
	}
	g, known := edit.GivenFor(j, part, f.Key)
	state := ""
	switch {
	case f.Guess:
		state = "guess"
	case known || edit.IsPartMeasured(j, part):
		state = "given"
	}
	label := f.Label
	if f.Group != "" {
		label = f.Group + ": " + label
	}
	row := []string{plain(edit.PartName(j, part)), f.Key, plain(label), plain(value), unit, state, plain(g.Typed), plain(g.From), plain(g.Source), ""}
	if g.PlusMinus != nil {
		row[len(row)-1] = number(*g.PlusMinus)
	}
	return row
}
