package bench

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/app/sight"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/plotting/chart"
	"axleloft/plotting/drawing"
	"axleloft/plotting/paper"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
)

// errWorking refuses to write figures that are not of the geometry as it stands.
var errWorking = words.Sentence("The figures are still being worked out, and nothing is written from old ones. Try again in a moment.")

// exportMenu offers the two charts shown and the views as pictures, and the numbers.
func (b *Bench) exportMenu() *fyne.Menu {
	m := fyne.NewMenu("", b.item("sheets"), fyne.NewMenuItemSeparator())
	sub := func(label, name string, formats []string, write func(w io.Writer, format string) error) {
		item := fyne.NewMenuItem(label, nil)
		item.ChildMenu = fyne.NewMenu("")
		for _, f := range formats {
			item.ChildMenu.Items = append(item.ChildMenu.Items, fyne.NewMenuItem(strings.ToUpper(f)+"...", func() {
				b.export(name, f, func(w io.Writer) error { return write(w, f) })
			}))
		}
		m.Items = append(m.Items, item)
	}
	for i := range 2 {
		title := panel.ChartTitle(b.host, i)
		sub(words.F("Chart: %s", title), title, append(paper.Formats(), "csv"), func(w io.Writer, f string) error {
			s := panel.ChartSpec(b.host, i)
			if f == "csv" {
				return chart.WriteCSV(w, s)
			}
			return chart.Write(w, s, f, chart.Size{})
		})
	}
	sub(words.T("Views as they stand"), "views", paper.Formats(), b.writeViews)
	for _, name := range outlineNames() {
		m.Items = append(m.Items, fyne.NewMenuItem(name+"...", func() { b.showSheet(name) }))
	}
	m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	numbers := func(label, name, what string) {
		m.Items = append(m.Items, fyne.NewMenuItem(label, func() {
			b.export(name, "csv", func(w io.Writer) error { return b.writeNumbers(w, what) })
		}))
	}
	numbers(words.T("Numbers over the travel, CSV..."), b.numbersName(), "sweep")
	numbers(words.T("Every height and load, CSV..."), "heights", "heights")
	numbers(words.T("All gaps, CSV..."), "gaps", "clearance")
	m.Items = append(m.Items, fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem(words.T("Everything as CSV, into a folder..."), func() { b.exportFolder("tables") }),
		fyne.NewMenuItem(words.T("Parts in the way as STL, into a folder..."), func() { b.exportFolder("solids") }))
	return m
}

// numbersName is what the numbers over the travel are called: with their load, and their trial.
func (b *Bench) numbersName() string {
	name := "numbers"
	if loads := b.doc.Current().Vehicle.Loads; b.doc.Load() < len(loads) {
		name += " " + loads[b.doc.Load()].Name
	}
	if t := b.doc.Trial(); t != "" {
		name += " " + t
	}
	return name
}

// export asks for a place and writes there, whole or not at all.
func (b *Bench) export(name, format string, write func(io.Writer) error) {
	b.exportAt(name, format, func(at string) { b.exportTo(at, write) })
}

// exportAt asks for a place and hands it on.
func (b *Bench) exportAt(name, format string, chosen func(at string)) {
	if !b.doc.Freshness().Full {
		b.say(words.T("Not written"), errWorking.Error())
		return
	}
	d := dialog.NewFileSave(func(w fyne.URIWriteCloser, err error) {
		if err != nil {
			b.say(words.T("Not written"), document.Words(err))
			return
		}
		if w == nil {
			return
		}
		at := w.URI().Path()
		_ = w.Close()
		chosen(at)
	}, b.win)
	d.SetFileName(fileWords(b.doc.Name()) + "-" + fileWords(name) + "." + format)
	d.SetFilter(storage.NewExtensionFileFilter([]string{"." + format}))
	b.chooseName(d)
}

// exportFolder asks for a folder, and has the command write its many files there into one of their own.
func (b *Bench) exportFolder(what string) {
	if !b.doc.Freshness().Full {
		b.say(words.T("Not written"), errWorking.Error())
		return
	}
	d := dialog.NewFolderOpen(func(at fyne.ListableURI, err error) {
		switch {
		case err != nil:
			b.say(words.T("Not written"), document.Words(err))
		case at != nil:
			b.writeFolder(at.Path(), what)
		}
	}, b.win)
	b.placeDialog(d)
	d.Show()
}

// writeFolder writes those files behind the window and says where they are.
func (b *Bench) writeFolder(at, what string) {
	base := filepath.Join(at, fileWords(b.doc.Name())+"-"+what)
	to := base
	for n := 2; ; n++ {
		if _, err := os.Lstat(to); err != nil {
			break
		}
		to = fmt.Sprint(base, "-", n)
	}
	j, folder, trial := b.doc.Job(), b.jobFolder(), b.doc.Trial()
	work := func() {
		var list bytes.Buffer
		err := writeOf(&list, j, folder, trial, what, "--out", to)
		b.post(func() {
			if err != nil {
				b.say(words.T("Not written"), document.Words(err))
				return
			}
			b.app.Preferences().SetString(keyFolder, at)
			b.say(words.T("Written"), words.F("%s: %d files.", to, bytes.Count(list.Bytes(), []byte{'\n'})))
		})
	}
	if b.atOnce {
		work()
		return
	}
	go work()
}

// exportTo makes the file in memory, writes it whole, and says where it is.
func (b *Bench) exportTo(at string, write func(io.Writer) error) {
	var buf bytes.Buffer
	err := write(&buf)
	if err == nil {
		err = writeWhole(at, buf.Bytes())
	}
	if err != nil {
		b.say(words.T("Not written"), document.Words(err))
		return
	}
	b.app.Preferences().SetString(keyFolder, filepath.Dir(at))
	b.say(words.T("Written"), at)
}

// writeWhole puts data in the place of the named file in one step: on any failure the old file stays.
func writeWhole(name string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".axleloft-*")
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Chmod(f.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		_ = os.Remove(f.Name())
	}
	return err
}

// photoPixels is how many pixels a unit of a photo an exported view has.
const photoPixels = 2

// writeViews writes side, rear and plan as they stand.
func (b *Bench) writeViews(w io.Writer, format string) error {
	d := b.doc
	in := view.Input{Now: d.Now(), At: d.Position(), Demo: d.IsDemo(), Inch: d.Unit() == "in", Laid: b.eye.Laid()}
	in.Pencils = sight.Pencils(d)
	var sizes [3]view.Size
	for i, v := range b.views {
		s := v.Size()
		sizes[i] = view.Size{W: float64(s.Width), H: float64(s.Height)}
	}
	eye := view.Eye{At: b.eye.Centre(), Scale: b.eye.Scale()}
	title := d.Current().Title
	if d.IsDemo() {
		title += words.T(" (DEMO, not your vehicle)")
	}
	at := ""
	if p := d.Position(); p != nil && p.Err == "" {
		at = words.F("axle at left %s, right %s; ", panel.Number(p.Pose.Left, d.Unit()), panel.Number(p.Pose.Right, d.Unit()))
	}
	at += b.otherWords()
	views := view.Sheet(in, eye, sizes, paper.Measure)
	for i, v := range b.views {
		views[i].Picture.Photo = v.PhotoBehind(photoPixels)
	}
	s := drawing.Sheet{Views: views, Scale: eye.Scale, Inch: in.Inch, Dark: look.Dark(),
		Head: paper.Head{Title: words.T("Side, rear and plan"), Notes: words.F("%sbump up positive; lengths in %s", at, d.Unit()), Job: title, Trial: d.Trial(), Date: time.Now().Format("2006-01-02")}}
	if err := drawing.Write(w, s, format); err != nil {
		return words.Errorf("the views could not be drawn: %w", err)
	}
	return nil
}
