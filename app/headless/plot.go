package headless

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/chart"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/term"
)

type plotCmd struct {
	Job     string  `arg:"" optional:"" help:"The job file; - reads standard input."`
	Chart   string  `placeholder:"KEY" help:"Which chart; --list tells them."`
	Against string  `enum:"both,crossed,left,right" default:"both" help:"Over what travel: both wheels, crossed up, or the left or right wheel alone."`
	Format  string  `enum:",png,svg,pdf,csv" default:"" help:"png, svg, pdf or csv; if left out, by the ending of --out, else png."`
	Out     string  `short:"o" placeholder:"FILE" help:"Write the chart to FILE, whole or not at all, instead of standard output."`
	All     string  `placeholder:"DIR" help:"Write every chart as PNG, SVG and PDF into the folder DIR and name each file."`
	List    bool    `help:"List the charts."`
	Heights bool    `help:"A line through every height the driver can choose, at the load, instead of one for every load; with --against crossed, left or right."`
	Load    string  `placeholder:"NAME" help:"The load drawn as the present one; the first if left out."`
	Width   float64 `default:"960" help:"Width of the page in 1/96 inch (a PNG has two pixels each)."`
	Height  float64 `default:"640" help:"Height of the page."`
	Dark    bool    `help:"Dark ground."`
	Trial   string  `placeholder:"NAME" help:"A trial the job keeps, instead of the job as drawn."`
	Strict  bool    `help:"Exit 1 where anything hits, runs out or is tight and is not set aside."`
}

// Help is what --help adds.
func (*plotCmd) Help() string {
	return "Each page carries title, unit, signs, job, trial, date and the caution. The date is today's, or that of SOURCE_DATE_EPOCH (seconds since 1970, UTC) where it is set."
}

// Run draws a chart, or all of them.
func (c *plotCmd) Run(e *env) error {
	if c.List {
		return e.output(c.Out, listCharts)
	}
	if c.Job == "" {
		return fail(wrong, "Which job? axlesheet plot JOB --chart KEY, or axlesheet plot --list.")
	}
	if c.Chart == "" && c.All == "" {
		return fail(wrong, "Which chart? Give --chart KEY (axlesheet plot --list tells them), or --all DIR.")
	}
	if c.All != "" && (c.Chart != "" || c.Out != "" || c.Format != "") {
		return fail(wrong, "--all writes every chart in every format by its own name; leave out --chart, --out and --format.")
	}
	const least, most = 300, 4000 // units: below it words have no room, above it a PNG takes the machine's memory
	if !(c.Width >= least && c.Width <= most && c.Height >= least && c.Height <= most) {
		return fail(wrong, "A page is %d to %d wide and high, in 1/96 inch; it was given %g by %g.", least, most, c.Width, c.Height)
	}
	format, err := c.format()
	if err != nil {
		return err
	}
	one, ok := study.ChartOf(c.Chart)
	if !ok && c.All == "" {
		var keys []string
		for _, k := range study.Charts() {
			keys = append(keys, k.Key)
		}
		return fail(wrong, "There is no chart called %q.%s", c.Chart, hint(c.Chart, keys))
	}
	switch {
	case c.Heights && c.Against == "both":
		return fail(wrong, "With both wheels all heights lie on one line. Give --against crossed, left or right beside --heights.")
	case c.Heights && c.All == "" && !one.ByHeight:
		return fail(wrong, "%s has many lines already; --heights draws charts of one quantity.", one.Title)
	}
	date, err := today()
	if err != nil {
		return err
	}
	if f, isFile := e.stdout.(*os.File); isFile && c.All == "" && c.Out == "" && format != "csv" && format != "svg" && term.IsTerminal(int(f.Fd())) {
		return fail(wrong, "A %s is no text for a terminal. Give --out FILE.", format)
	}
	flags := common{Job: c.Job, Trial: c.Trial, Strict: c.Strict}
	j, err := e.load(&flags)
	if err != nil {
		return err
	}
	load, err := chooseLoad(j, c.Load)
	if err != nil {
		return err
	}
	if err := movable(j); err != nil {
		return err
	}
	s, err := e.study(j, closeEnough)
	if err != nil {
		return err
	}
	if !s.Bounded() {
		return fail(wrong, "%s", s.RangeNote)
	}
	present := 0
	for i := range s.Loads {
		if s.Loads[i].Name == load.Name {
			present = i
		}
	}
	spec := func(k study.Chart) chart.Spec {
		p := s.Spec(k, c.Against, present, unitOf(j))
		if c.Heights {
			p = s.SpecByHeight(k, c.Against, present, unitOf(j))
		}
		p.Job, p.Trial, p.Date, p.Dark = j.Title, c.Trial, date, c.Dark
		return p
	}
	if c.All != "" {
		err = c.all(e, spec)
	} else {
		p := spec(one)
		if len(p.Curves) == 0 {
			return fail(wrong, "%s", p.Why)
		}
		err = e.output(c.Out, func(w io.Writer) error { return c.draw(w, p, format) })
	}
	if err != nil {
		return err
	}
	return e.strict(&flags, j, s)
}

func listCharts(w io.Writer) error {
	t := table{heads: [][]string{{"key", "chart", "unit"}}, left: []bool{true, true, true}}
	for _, k := range study.Charts() {
		t.rows = append(t.rows, []string{k.Key, k.Title, k.Unit})
	}
	return t.write(w)
}

// format is the one asked for, or that of the file's ending.
func (c *plotCmd) format() (string, error) {
	end := strings.ToLower(strings.TrimPrefix(filepath.Ext(c.Out), "."))
	switch {
	case c.All != "":
		return c.Format, nil
	case c.Format != "":
		if slices.Contains([]string{"png", "svg", "pdf", "csv"}, end) && end != c.Format {
			return "", fail(wrong, "--format %s and the ending of %s do not agree. Change one of them.", c.Format, c.Out)
		}
		return c.Format, nil
	case c.Out == "":
		return "png", nil
	}
	switch end {
	case "png", "svg", "pdf", "csv":
		return end, nil
	}
	return "", fail(wrong, "What shall %s be? Let its name end in .png, .svg, .pdf or .csv, or give --format.", c.Out)
}

func (c *plotCmd) draw(w io.Writer, p chart.Spec, format string) error {
	if format == "csv" {
		return chart.WriteCSV(w, p)
	}
	return chart.Write(w, p, format, chart.Size{W: c.Width, H: c.Height})
}

// all writes every chart that has a curve, and names the files.
func (c *plotCmd) all(e *env, spec func(study.Chart) chart.Spec) error {
	if err := os.MkdirAll(c.All, 0o755); err != nil {
		return fail(wrong, "%s: %s.", c.All, job.MachineWords(err))
	}
	list := study.Charts()
	bar := e.progress(3*len(list), "drawing")
	defer bar.end()
	for _, k := range list {
		p := spec(k)
		for _, format := range []string{"png", "svg", "pdf"} {
			if e.ctx.Err() != nil {
				return e.ctx.Err()
			}
			bar.add(1)
			if len(p.Curves) == 0 {
				continue
			}
			var b bytes.Buffer
			if err := c.draw(&b, p, format); err != nil {
				return fail(couldNot, "%s as %s: %v", k.Title, strings.ToUpper(format), err)
			}
			name := filepath.Join(c.All, k.Key+"-"+c.Against+"."+format)
			if err := job.Replace(name, b.Bytes()); err != nil {
				return fail(wrong, "%v", err)
			}
			fmt.Fprintln(e.stdout, name)
		}
		if len(p.Curves) == 0 {
			e.say("%s: not drawn. %s", k.Title, p.Why)
		}
	}
	return nil
}

// today is the date on a page. Where the environment sets a time, PDF files carry it too, so that the same job gives the same bytes.
func today() (string, error) {
	const form = "2006-01-02"
	text := os.Getenv("SOURCE_DATE_EPOCH")
	if text == "" {
		return time.Now().Format(form), nil
	}
	sec, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return "", fail(wrong, "SOURCE_DATE_EPOCH must be whole seconds since 1970; it is %q.", text)
	}
	at := time.Unix(sec, 0).UTC()
	fpdf.SetDefaultCreationDate(at)
	fpdf.SetDefaultModificationDate(at)
	return at.Format(form), nil
}
