package bench

import (
	"bytes"
	"io"

	"axleloft/app/document"
	"axleloft/app/headless"
	"axleloft/app/panel"
	"axleloft/app/words"
	"axleloft/geometry/vessel"
)

// showTank opens the panel of a tank, by the name of its part without a twin's side.
func (b *Bench) showTank(name string) {
	j := b.doc.Current()
	for i := range j.Envelopes {
		if e := &j.Envelopes[i]; e.Vessel && (e.Name == name || e.Name+" left" == name || e.Name+" right" == name) {
			b.doc.Select(document.Part{List: document.Envelopes, Index: i})
		}
	}
	b.show(panel.TankDrawer)
}

// saveDip asks where, and writes a tank's dip table there.
func (b *Bench) saveDip(tank string, levels []vessel.Level) {
	b.export(words.F("%s dip", tank), "csv", dipTo(tank, levels))
}

func dipTo(tank string, levels []vessel.Level) func(io.Writer) error {
	return func(w io.Writer) error { return headless.WriteDip(w, tank, levels) }
}

// saveNumbers asks where, and writes there what the command writes with these arguments.
func (b *Bench) saveNumbers(name, format string, args ...string) {
	b.exportAt(name, format, func(at string) { b.numbersTo(at, format, args...) })
}

// numbersTo works out what the command writes for the job as it stands, off the window's goroutine, and writes it to a file.
func (b *Bench) numbersTo(at, format string, args ...string) {
	j, folder, trial := b.doc.Job(), b.jobFolder(), b.doc.Trial()
	if args[0] == "compare" { // it names its trials itself
		trial = ""
	}
	args = append(args, "--format", format)
	go func() {
		var out bytes.Buffer
		err := writeOf(&out, j, folder, trial, args...)
		b.post(func() {
			b.exportTo(at, func(w io.Writer) error {
				if err == nil {
					_, err = w.Write(out.Bytes())
				}
				return err
			})
		})
	}()
}
