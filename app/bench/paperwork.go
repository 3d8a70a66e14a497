package bench

import (
	"context"
	"image"
	"io"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/sheets"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/sheet"
)

// paperwork is one thing the preview shows: a reader's sheet, a view to scale, a bracket's template.
type paperwork struct {
	group string // the heading it stands under, "" none
	label string // in the list
	file  string // what its file is called
	// make lays it out; called off the window's goroutine.
	make    func(ctx context.Context, in *sheets.Input) made
	bars    bool // drawn full size to measure from: the printer's bars count
	against bool // set against the job as drawn, where the job stands as a trial
}

// made is paperwork laid out. The first of its formats is PDF.
type made struct {
	in      *sheets.Input
	pages   []*sheet.Page
	img     image.Image
	formats []string
	write   func(w io.Writer, format string) error
	err     error
}

// outlineNames are the views to scale by plane, as the Export menu and the preview call them.
func outlineNames() [3]string {
	return [...]string{view.Side: words.T("Side view to scale"), view.Rear: words.T("Rear view to scale"), view.Plan: words.T("Plan view to scale")}
}

// paperworks are all there are of the job as it stands, the axle where it stands.
func (b *Bench) paperworks() []paperwork {
	var list []paperwork
	for _, r := range sheets.Readers() {
		list = append(list, paperwork{label: words.T(r.Title), file: r.Key, against: true, make: func(ctx context.Context, in *sheets.Input) made {
			s, err := sheets.Make(ctx, r, in)
			if err != nil {
				return made{err: err}
			}
			return made{pages: sheet.Lay(in.Size, s), formats: []string{"pdf"}, write: func(w io.Writer, _ string) error { return sheet.Write(w, in.Size, s) }}
		}})
	}
	left, right := b.doc.Travels()
	for p, name := range outlineNames() {
		list = append(list, paperwork{group: words.T("To scale"), label: name, file: strings.ToLower(name), make: func(_ context.Context, in *sheets.Input) made {
			o, err := sheets.NewOutline(in, view.Plane(p), left, right)
			if err != nil {
				return made{err: err}
			}
			page, scale, err := o.Paper(0, &in.Size)
			if err != nil {
				return made{err: err}
			}
			s, page := o.Sheet(page, scale)
			return made{pages: sheet.Lay(page, s), formats: []string{"pdf", "svg", "dxf"}, write: func(w io.Writer, format string) error {
				if format == "pdf" {
					return sheet.Write(w, page, s)
				}
				return o.Write(w, format, 0, nil)
			}}
		}})
	}
	j := b.doc.Current()
	for _, p := range edit.Bracketed(j) {
		p.Side = job.Single
		name := edit.Name(j, p)
		list = append(list, paperwork{group: words.T("Brackets, full size"), label: name, file: templateFile + " " + name, bars: true, make: func(_ context.Context, in *sheets.Input) made {
			t, err := sheets.NewTemplate(in, name, b.printer())
			if err != nil {
				return made{err: err}
			}
			return made{pages: sheet.Lay(in.Size, t.Sheet(in.Size)), formats: []string{"pdf", "svg", "dxf"}, write: func(w io.Writer, format string) error { return t.Write(w, format, in.Size) }}
		}})
	}
	return list
}

// templateFile begins the name of a template's file.
const templateFile = "template"

// Preferences of a printer that is off: what its 100 mm bars measured, mm.
const (
	keyAcross = "printer across"
	keyUp     = "printer up"
)

// printer is what the bars of the user's printer measured last.
func (b *Bench) printer() sheets.Printer {
	p := b.app.Preferences()
	return sheets.Printer{Across: p.Float(keyAcross), Up: p.Float(keyUp)}
}
