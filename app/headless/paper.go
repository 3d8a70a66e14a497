package headless

import (
	"bytes"
	"io"
	"os"

	"axleloft/app/edit"
	"axleloft/app/sheets"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"golang.org/x/term"
)

// noTerminal refuses to write a PDF where a terminal would show it.
func (e *env) noTerminal(format, out string) error {
	if f, ok := e.stdout.(*os.File); ok && out == "" && format == "pdf" && term.IsTerminal(int(f.Fd())) {
		return fail(wrong, "A PDF is no text for a terminal. Give --out FILE.")
	}
	return nil
}

// drawn is what drawings of a job are made from, as load reads it: compiled, nothing worked out over its range.
func (e *env) drawn(c *common, load func(*common) (*job.Job, error)) (*sheets.Input, error) {
	date, err := today()
	if err != nil {
		return nil, err
	}
	file, err := e.contents(c.Job)
	if err != nil {
		return nil, err
	}
	j, err := load(c)
	if err != nil {
		return nil, err
	}
	return &sheets.Input{Study: study.Compile(j), Trial: c.Trial, Date: date, Sum: sheets.Sum(file)}, nil
}

// pivotNamed is the pivot of a name on screen.
func pivotNamed(j *job.Job, name string) (edit.Pivot, error) {
	names, of := edit.Named(j)
	p, ok := of[name]
	switch {
	case name == "":
		return p, fail(wrong, "Of which pivot? Give --pivot NAME.%s", hint("", names))
	case !ok:
		return p, fail(wrong, "No pivot is called %q.%s", name, hint(name, names))
	}
	return p, nil
}

// contents are the bytes of a job file, for its checksum; standard input is kept for those who read it next.
func (e *env) contents(name string) ([]byte, error) {
	if name != "-" {
		file, err := os.ReadFile(name)
		if err != nil {
			return nil, fail(wrong, "%s: %s.", name, job.MachineWords(err))
		}
		return file, nil
	}
	file, err := io.ReadAll(e.stdin)
	if err != nil {
		return nil, fail(wrong, "Standard input could not be read: %s.", job.MachineWords(err))
	}
	e.stdin = bytes.NewReader(file)
	return file, nil
}
