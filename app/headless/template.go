package headless

import (
	"io"
	"strings"

	"axleloft/app/sheets"
	"axleloft/app/study"
	"axleloft/plotting/paper"
)

type templateCmd struct {
	Job      string  `arg:"" help:"The job file; - reads standard input."`
	Pivot    string  `placeholder:"NAME" help:"The pivot whose bracket it is: \"Upper left, frame end\"."`
	Format   string  `enum:"dxf,svg,pdf" default:"pdf" help:"dxf: on layers, to be cut by; svg: one page as large as it takes; pdf: on pages."`
	Paper    string  `default:"a4" placeholder:"SIZE" help:"Of a pdf: a4, letter, a3, a2, a1 or a0. What is larger goes on several pages with marks to lay them together by."`
	PrinterX float64 `placeholder:"MM" help:"What the 100 mm bar across measured on a test print: lengths are drawn so that they come out true."`
	PrinterY float64 `placeholder:"MM" help:"What the 100 mm bar up the page measured."`
	Trial    string  `placeholder:"NAME" help:"A trial the job keeps, instead of the job as drawn."`
	Out      string  `short:"o" placeholder:"FILE" help:"Write to FILE, whole or not at all, instead of standard output."`
}

// Help is what --help adds.
func (*templateCmd) Help() string {
	return "The plates of a pivot's bracket full size: outline, bolt hole, edge, mounting face, hole pattern, folds. Brackets stand in the job file under \"brackets\" (axlesheet schema tells their keys). Print at 100 %, check " +
		"both 100 mm bars and the diagonal, and only then cut. Layers of the DXF: CUT, HOLES, FOLDS, MOUNTING_FACE, CENTRE_LINES, DIMENSIONS, NAMES."
}

// Run draws the template.
func (c *templateCmd) Run(e *env) error {
	size, err := paper.SizeOf(strings.ToLower(c.Paper), paper.Large...)
	if err != nil {
		return fail(wrong, "%v.", err)
	}
	if err := e.noTerminal(c.Format, c.Out); err != nil {
		return err
	}
	in, err := e.drawn(&common{Job: c.Job, Trial: c.Trial}, e.load)
	if err != nil {
		return err
	}
	if _, err := pivotNamed(in.Study.Job, c.Pivot); err != nil {
		return err
	}
	t, err := sheets.NewTemplate(in, c.Pivot, sheets.Printer{Across: c.PrinterX, Up: c.PrinterY})
	if err != nil {
		return fail(wrong, "%s.", study.Upper(strings.TrimSuffix(err.Error(), ".")))
	}
	return e.output(c.Out, func(w io.Writer) error { return t.Write(w, c.Format, size) })
}
