package headless

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"axleloft/app/sheets"
	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

type reportCmd struct {
	Job     string `arg:"" help:"The job file; - reads standard input."`
	For     string `placeholder:"READER" help:"Who reads it; all writes every sheet into the folder --out names."`
	Paper   string `default:"a4" placeholder:"SIZE" help:"a4 or letter."`
	Out     string `short:"o" placeholder:"FILE" help:"Write the PDF to FILE, whole or not at all, instead of standard output; with --for all a folder."`
	Trial   string `placeholder:"NAME" help:"A trial the job keeps, instead of the job as drawn."`
	Against string `placeholder:"NAME" help:"What before and after are set against: a trial's name; the job as drawn where --trial is given and this is not."`
	Strict  bool   `help:"Exit 1 where anything hits, runs out or is tight and is not set aside."`
}

// Help is what --help adds.
func (*reportCmd) Help() string {
	return "READER is one of " + strings.Join(readerKeys(), ", ") + ". Every page carries job, trial, date, page n of m, units, how many inputs are guesses, the caution, and the first twelve digits of the SHA-256 of the job file. The date is today's, or that of " +
		"SOURCE_DATE_EPOCH (seconds since 1970, UTC) where it is set."
}

func readerKeys() []string {
	var out []string
	for _, r := range sheets.Readers() {
		out = append(out, r.Key)
	}
	return append(out, "all")
}

// Run writes a sheet, or all of them.
func (c *reportCmd) Run(e *env) error {
	keys := readerKeys()
	if c.For == "" {
		return fail(wrong, "For whom? Give --for %s.", strings.Join(keys, ", --for "))
	}
	if !slices.Contains(keys, c.For) {
		return fail(wrong, "There is no sheet for %q.%s", c.For, hint(c.For, keys))
	}
	size, err := paper.SizeOf(strings.ToLower(c.Paper))
	if err != nil {
		return fail(wrong, "%v.", err)
	}
	if c.For == "all" && c.Out == "" {
		return fail(wrong, "Where to? --for all writes a file for each reader: give --out FOLDER.")
	}
	if end := strings.ToLower(filepath.Ext(c.Out)); c.For != "all" && c.Out != "" && end != ".pdf" {
		return fail(wrong, "A sheet is a PDF: let the name of %s end in .pdf.", c.Out)
	}
	if err := e.noTerminal("pdf", c.Out); err != nil {
		return err
	}
	in, flags, j, err := c.input(e, size)
	if err != nil {
		return err
	}
	if c.For == "all" {
		err = c.all(e, in)
	} else {
		r, _ := sheets.ReaderOf(c.For)
		var page sheet.Sheet
		if page, err = sheets.Make(e.ctx, r, in); err != nil {
			return fail(wrong, "%v.", strings.TrimSuffix(err.Error(), "."))
		}
		err = e.output(c.Out, func(w io.Writer) error { return sheet.Write(w, size, page) })
	}
	if err != nil {
		return err
	}
	return e.strict(flags, j, in.Study)
}

// input works the job out, and what it is set against.
func (c *reportCmd) input(e *env, size paper.Size) (*sheets.Input, *common, *job.Job, error) {
	date, err := today()
	if err != nil {
		return nil, nil, nil, err
	}
	flags := &common{Job: c.Job, Trial: c.Trial, Strict: c.Strict}
	file, err := e.contents(c.Job)
	if err != nil {
		return nil, nil, nil, err
	}
	j, err := e.load(flags)
	if err != nil {
		return nil, nil, nil, err
	}
	if err := movable(j); err != nil {
		return nil, nil, nil, err
	}
	s, err := e.study(j, closeEnough)
	if err != nil {
		return nil, nil, nil, err
	}
	if !s.Bounded() {
		return nil, nil, nil, fail(wrong, "%s", s.RangeNote)
	}
	in := &sheets.Input{Study: s, Trial: c.Trial, Date: date, Sum: sheets.Sum(file), Size: size}
	if c.Against != "" || c.Trial != "" {
		e.stdin = bytes.NewReader(file)
		in.Against = c.Against
		if in.Against == "" {
			in.Against = "as drawn"
		}
		was, err := e.load(&common{Job: c.Job, Trial: c.Against})
		if err != nil {
			return nil, nil, nil, err
		}
		if in.Before, err = e.study(was, closeEnough); err != nil {
			return nil, nil, nil, err
		}
		if !in.Before.Bounded() {
			e.say("%s cannot be set against: %s", in.Against, in.Before.RangeNote+in.Before.Refusal)
			in.Before = nil
		}
	}
	return in, flags, j, nil
}

// all writes every sheet there is for the job, and names the files; one it cannot have is said, and why.
func (c *reportCmd) all(e *env, in *sheets.Input) error {
	if err := os.MkdirAll(c.Out, 0o755); err != nil {
		return fail(wrong, "%s: %s.", c.Out, job.MachineWords(err))
	}
	list := sheets.Readers()
	bar := e.progress(len(list), "drawing")
	defer bar.end()
	for _, r := range list {
		page, err := sheets.Make(e.ctx, r, in)
		bar.add(1)
		if e.ctx.Err() != nil {
			return e.ctx.Err()
		}
		if err != nil {
			e.say("%s: not written. %s", r.Title, study.Upper(err.Error()))
			continue
		}
		name := filepath.Join(c.Out, r.Key+".pdf")
		if err := e.output(name, func(w io.Writer) error { return sheet.Write(w, in.Size, page) }); err != nil {
			return err
		}
		fmt.Fprintln(e.stdout, name)
	}
	return nil
}
