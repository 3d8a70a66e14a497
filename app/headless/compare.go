package headless

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"
)

// asDrawn is what the job without a trial is called.
const asDrawn = "as drawn"

type compareCmd struct {
	Job    string   `arg:"" help:"The job file; - reads standard input."`
	Format string   `enum:"table,csv,json" default:"table" help:"table, csv or json."`
	Out    string   `short:"o" placeholder:"FILE" help:"Write the result to FILE, whole or not at all, instead of standard output."`
	Trial  []string `sep:"none" placeholder:"NAME" help:"A trial to lay beside the job as drawn; as often as there are trials. All of them where it is not given."`
	Load   string   `placeholder:"NAME" help:"The load the figures are for; the heaviest where it is not given."`
}

// Help is what --help adds.
func (*compareCmd) Help() string {
	return "The job as drawn and its trials side by side: worst finding, tightest gap, travel, pinion, anti-squat, roll centre, roll steer, side shift, slip, closest joint, litres a tank loses, guesses; then in words what each trial has otherwise: " +
		"what was moved and by how much, lengths that follow, what was added, taken out, freed, set aside."
}

// Run writes the comparison.
func (c *compareCmd) Run(e *env) error {
	j, err := e.whole(c.Job)
	if err != nil {
		return err
	}
	names := c.Trial
	if len(names) == 0 {
		for i := range j.Trials {
			names = append(names, j.Trials[i].Name)
		}
	}
	list := []study.Compared{{Name: asDrawn}}
	for _, n := range names {
		list = append(list, study.Compared{Name: n})
	}
	load := -1
	var before []*study.Study
	for i := range list {
		trial := list[i].Name
		if i == 0 {
			trial = ""
		}
		one, err := j.WithTrial(trial)
		if err != nil {
			return fail(wrong, "%v", err)
		}
		one.SetAside = slices.DeleteFunc(one.SetAside, func(a job.SetAside) bool { return a.Trial != trial })
		if i == 0 {
			if load, err = loadNamed(one, c.Load); err != nil {
				return err
			}
		}
		s := study.NewFrom(e.ctx, one, study.Full, study.From{Within: closeEnough, Before: before})
		if s == nil {
			return fail(couldNot, "")
		}
		list[i].Study, before = s, append(before, s)
	}
	p := e.progress(-1, "laying trials side by side")
	t, err := study.Compare(e.ctx, list, load, nil)
	p.end()
	if err != nil {
		return fail(couldNot, "%v", err)
	}
	return e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return compareCSV(w, t)
		case "json":
			return compareJSON(w, j, t)
		}
		return compareTable(w, j, t)
	})
}

// loadNamed is a load by its name; the heaviest for "", 0 where the job gives none.
func loadNamed(j *job.Job, name string) (int, error) {
	best := 0
	var names []string
	for i, l := range j.Vehicle.Loads {
		if strings.EqualFold(l.Name, name) {
			return i, nil
		}
		if l.Mass > j.Vehicle.Loads[best].Mass {
			best = i
		}
		names = append(names, l.Name)
	}
	if name != "" {
		return 0, fail(wrong, "There is no load called %q.%s", name, hint(name, names))
	}
	return best, nil
}

// compareCSV writes a line a figure and a difference, so that what reads it can sort and group.
func compareCSV(w io.Writer, t *study.Comparison) error {
	var rows [][]string
	for _, r := range t.Rows {
		for i, c := range r.Cells {
			rows = append(rows, []string{plain(t.Names[i]), "figure", plain(r.Key), plain(r.Title), number(c.Value), r.Unit, plain(c.Words), plain(c.At), plain(c.Change), c.Way.Key()})
		}
	}
	for i, list := range t.Differences {
		for _, d := range list {
			rows = append(rows, []string{plain(t.Names[i]), "difference", d.Kind.Key(), plain(d.What), "", "", plain(d.Words), "", "", ""})
		}
	}
	return writeCSV(w, []string{"trial", "kind", "key", "what", "value", "unit", "words", "at", "against_as_drawn", "better_or_worse"}, rows)
}

func compareJSON(w io.Writer, j *job.Job, t *study.Comparison) error {
	var out jsonText
	out.open('{')
	out.keyStr("job", j.Title)
	out.keyStr("load", t.Load)
	out.key("trials")
	out.open('[')
	for _, n := range t.Names {
		out.str(plain(n))
	}
	out.close(']')
	out.line()
	out.key("figures")
	out.open('[')
	for _, r := range t.Rows {
		out.line()
		out.open('{')
		out.keyStr("key", plain(r.Key))
		out.keyStr("what", plain(r.Title))
		out.keyStr("unit", r.Unit)
		out.keyStr("where", plain(r.Where))
		out.key("cells")
		out.open('[')
		for _, c := range r.Cells {
			out.open('{')
			out.keyNum("value", c.Value)
			out.keyStr("words", plain(c.Words))
			out.keyStr("at", plain(c.At))
			out.keyStr("change", plain(c.Change))
			out.keyStr("way", c.Way.Key())
			out.close('}')
		}
		out.close(']')
		out.close('}')
	}
	out.close(']')
	out.line()
	out.key("differences")
	out.open('[')
	for i, list := range t.Differences {
		for _, d := range list {
			out.line()
			out.open('{')
			out.keyStr("trial", plain(t.Names[i]))
			out.keyStr("kind", d.Kind.Key())
			out.keyStr("what", plain(d.What))
			out.keyStr("words", plain(d.Words))
			out.close('}')
		}
	}
	out.close(']')
	out.close('}')
	_, err := w.Write(append(out.b, '\n'))
	return err
}

func compareTable(w io.Writer, j *job.Job, t *study.Comparison) error {
	title := strings.TrimSpace(j.Title)
	if title == "" {
		title = "Job without a title"
	}
	if t.Load != "" {
		title += ", " + t.Load
	}
	if _, err := fmt.Fprintf(w, "%s\n\n", title); err != nil {
		return err
	}
	grid := table{heads: [][]string{append([]string{"", ""}, t.Names...)}, left: []bool{true, true}}
	for range t.Names {
		grid.left = append(grid.left, true)
	}
	for _, r := range t.Rows {
		first, at, change := []string{r.Title, r.Where}, []string{"", ""}, []string{"", ""}
		for _, c := range r.Cells {
			first, at, change = append(first, c.Words), append(at, c.At), append(change, c.Change)
		}
		grid.rows = append(grid.rows, first)
		for _, more := range [][]string{at, change} {
			if strings.Join(more, "") != "" {
				grid.rows = append(grid.rows, more)
			}
		}
	}
	if err := grid.write(w); err != nil {
		return err
	}
	for i, list := range t.Differences {
		if i == 0 {
			continue
		}
		fmt.Fprintf(w, "\n%s, against the job as drawn:\n", t.Names[i])
		if len(list) == 0 {
			fmt.Fprintln(w, "  Nothing differs.")
		}
		head := study.DifferenceKind(255)
		for _, d := range list {
			if d.Kind != head {
				head = d.Kind
				fmt.Fprintf(w, "  %s\n", head.Head())
			}
			fmt.Fprintf(w, "    %s.\n", strings.TrimSuffix(d.String(), "."))
		}
	}
	_, err := fmt.Fprintf(w, "\nNo rule stands behind better and worse: a larger gap, less used up, fewer guesses. %s\n%s\n", onlyDrawn, paper.Caution)
	return err
}
