package bench

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"
)

// remember puts a file in front of the recent list.
func (b *Bench) remember(name string) {
	p := b.app.Preferences()
	p.SetStringList(keyRecent, document.AddRecent(p.StringList(keyRecent), name))
	p.SetString(keyFolder, filepath.Dir(name))
}

// keepFirst runs f after the open job's changes are saved or let go; stay, if there is any, where neither was wanted.
func (b *Bench) keepFirst(f, stay func()) {
	if !b.doc.Dirty() {
		f()
		return
	}
	phrase := words.F("“%s” has changes that are not in a file.", b.doc.Name())
	if b.doc.IsDemo() {
		phrase = words.T("You have changed the demo. Saving makes a job of your own of it; the demo itself stays as it is.")
	}
	b.box(words.T("Save the changes first?"), 520, look.NewPara("", phrase, ink.Text), stay,
		answer{words.T("Save"), look.Filled, func() bool { b.post(func() { b.save(f) }); return false }},
		answer{words.T("Let them go"), look.Outline, func() bool {
			b.post(func() {
				b.letGo = true
				f()
				b.letGo = false
			})
			return false
		}},
		answer{words.T("Stay here"), look.Outline, func() bool {
			if stay != nil {
				stay()
			}
			return false
		}})
}

// openNamed opens a job file; a refused one leaves the open job as it is.
func (b *Bench) openNamed(name string) {
	d, err := document.Open(name, b.docOptions())
	if err != nil {
		b.say(words.T("Not opened"), document.Words(err))
		return
	}
	b.keepFirst(func() {
		b.use(d)
		b.remember(d.File())
		b.standAgain(d)
		b.tellElsewhere()
	}, d.Close)
}

// tellElsewhere says that another window has the open job.
func (b *Bench) tellElsewhere() {
	if phrase := b.doc.Elsewhere(); phrase != "" {
		b.say(words.T("Open in another window"), phrase)
	}
}

// tellOutside says that somebody else wrote the open job's file, and asks what is to be shown; later where something is being asked or dragged.
func (b *Bench) tellOutside() {
	phrase := b.doc.Outside()
	if phrase == "" || len(b.boxes) > 0 || b.choosing != nil || b.doc.Dragging() {
		return
	}
	b.doc.OutsideTold()
	answers := []answer{{words.T("Load theirs"), look.Filled, b.loadTheirs}, {words.T("Keep what is here"), look.Outline, func() bool { b.doc.KeepOurs(); return false }}}
	if b.doc.Dirty() {
		answers = []answer{{words.T("Save mine as another file"), look.Filled, func() bool { b.post(func() { b.saveAs(nil) }); return false }},
			{loadTheirs, look.Outline, b.loadTheirs}, {words.T("Not now"), look.Outline, nil}}
	}
	b.box(words.T("Somebody else changed the file"), 600, look.NewPara("", phrase, ink.Text), nil, answers...)
}

// tellTrouble says, once, that the work can not be kept aside any more; the foot goes on saying it.
func (b *Bench) tellTrouble() {
	phrase := b.doc.AutosaveTrouble()
	if phrase == b.trouble || phrase != "" && (len(b.boxes) > 0 || b.choosing != nil || b.doc.Dragging()) {
		return
	}
	if b.trouble = phrase; phrase != "" {
		b.box(words.T("Your work is not kept aside"), 560, look.NewPara("", words.F("%s What you changed is in this window only. Make room there, or save the job somewhere else.", phrase), ink.Text), nil,
			answer{words.T("Save somewhere else"), look.Filled, func() bool { b.post(func() { b.saveAs(nil) }); return false }},
			answer{words.T("Not now"), look.Outline, nil})
	}
}

const loadTheirs = "Load theirs, let mine go"

// loadTheirs opens the job's file again as somebody else left it, in the place of what is open.
func (b *Bench) loadTheirs() (stay bool) {
	b.post(func() {
		d, err := document.Open(b.doc.File(), b.docOptions())
		if err != nil { // half written yet, perhaps: what is here stays
			b.say(words.T("Not opened"), document.Words(err))
			return
		}
		b.keepStood()
		b.letGo = true
		b.use(d)
		b.letGo = false
		b.standAgain(d)
		b.tellElsewhere()
	})
	return false
}

func (b *Bench) openFile() {
	d := dialog.NewFileOpen(b.onOpen, b.win)
	d.SetFilter(storage.NewExtensionFileFilter([]string{document.Ending}))
	b.placeDialog(d)
	d.Show()
}

// chooseFile asks for a file of some endings to open.
func (b *Bench) chooseFile(f func(path string), endings ...string) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			b.tell(err)
		case r != nil:
			path := r.URI().Path()
			_ = r.Close()
			f(path)
		}
	}, b.win)
	d.SetFilter(storage.NewExtensionFileFilter(endings))
	b.placeDialog(d)
	if file := b.doc.File(); file != "" { // beside the job first
		if at, err := storage.ListerForURI(storage.NewFileURI(filepath.Dir(file))); err == nil {
			d.SetLocation(at)
		}
	}
	d.Show()
}

// placeDialog gives a file dialog its folder and size; Escape closes it.
func (b *Bench) placeDialog(d *dialog.FileDialog) {
	b.choosing = d
	d.SetOnClosed(func() { b.choosing = nil })
	if at, err := storage.ListerForURI(storage.NewFileURI(b.folder())); err == nil {
		d.SetLocation(at)
	}
	s := b.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(900, s.Width-80), min(560, s.Height-60)))
}

// chooseName shows a dialog that asks where to write. Its field for the name keeps every key to itself, so one that hands Escape on stands in
// its place: what is typed in either is in both.
func (b *Bench) chooseName(d *dialog.FileDialog) {
	b.placeDialog(d)
	d.Show()
	if top := b.win.Canvas().Overlays().Top(); top != nil {
		if e := standIn(top, b.escape); e != nil {
			b.win.Canvas().Focus(e)
			e.TypedShortcut(&fyne.ShortcutSelectAll{}) // typing replaces the name offered
		}
	}
}

// standIn puts a field of ours in the place of the one that scrolls by itself in a dialog; nil where there is none.
func standIn(in fyne.CanvasObject, escape func()) *panel.Entry {
	switch o := in.(type) {
	case *widget.PopUp:
		return standIn(o.Content, escape)
	case *fyne.Container:
		for _, x := range o.Objects {
			if e := standIn(x, escape); e != nil {
				return e
			}
		}
	case *container.Scroll:
		field, ok := o.Content.(*widget.Entry)
		if !ok {
			return nil
		}
		e := panel.NewEntry(field.Text, func() {
			if field.OnSubmitted != nil {
				field.OnSubmitted(field.Text)
			}
		}, escape)
		told := field.OnChanged
		field.OnChanged = func(text string) {
			if told != nil {
				told(text)
			}
			if e.Text != text {
				e.SetText(text)
			}
		}
		e.OnChanged = func(text string) {
			if field.Text != text {
				field.SetText(text)
			}
		}
		o.Content = e
		o.Refresh()
		return e
	}
	return nil
}

func (b *Bench) folder() string {
	if f := b.app.Preferences().String(keyFolder); f != "" {
		if st, err := os.Stat(f); err == nil && st.IsDir() {
			return f
		}
	}
	home, _ := os.UserHomeDir()
	return home
}

// onOpen takes the file dialog's answer.
func (b *Bench) onOpen(r fyne.URIReadCloser, err error) {
	switch {
	case err != nil:
		b.tell(err)
	case r != nil:
		name := r.URI().Path()
		_ = r.Close() // the document reads the file itself
		b.openNamed(name)
	}
}

// onDropped opens the first job file dropped on the window or, where there is none, adds a part for each STL file, and puts a picture behind the view it
// was dropped on; it tells of the rest.
func (b *Bench) onDropped(at fyne.Position, list []fyne.URI) {
	if p, ok := b.viewAt(at); ok && len(list) == 1 && panel.IsPhoto(list[0].Path()) {
		b.tell(panel.DropPhoto(b.host, p, list[0].Path()))
		return
	}
	var shapes, other []string
	var take string
	for _, u := range list {
		switch {
		case take == "" && strings.EqualFold(filepath.Ext(u.Path()), document.Ending):
			take = u.Path()
		case strings.EqualFold(filepath.Ext(u.Path()), ".stl"):
			shapes = append(shapes, u.Path())
		default:
			other = append(other, filepath.Base(u.Path()))
		}
	}
	if take == "" && len(shapes) > 0 {
		b.addShapes(shapes, other)
		return
	}
	for _, s := range shapes {
		other = append(other, filepath.Base(s))
	}
	switch {
	case take == "" && len(other) > 0:
		b.say(words.T("Not opened"), words.F("%s is neither a job nor a shape. Drop a file that ends in %s, or in .stl; a photo goes on the view it belongs to.", strings.Join(other, ", "), document.Ending))
	case take != "":
		b.openNamed(take)
		if len(other) > 0 {
			b.say(words.T("One job at a time"), words.F("Opened %s. Left alone: %s.", filepath.Base(take), strings.Join(other, ", ")))
		}
	}
}

// viewAt is the view a place of the window lies in.
func (b *Bench) viewAt(at fyne.Position) (p view.Plane, ok bool) {
	for i, v := range b.views {
		o := b.place(v)
		if s := v.Size(); v.Visible() && at.X >= o.X && at.Y >= o.Y && at.X < o.X+s.Width && at.Y < o.Y+s.Height {
			p, ok = view.Plane(i), true
		}
	}
	return p, ok
}

func (b *Bench) place(o fyne.CanvasObject) fyne.Position {
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
}

// looks is what lies in the middle of a view, how much of the world it shows across, and what a unit of it is, mm.
func (b *Bench) looks(p view.Plane) (right, up, wide, perUnit float64) {
	right, up = p.Project(b.eye.Centre())
	perUnit = 1 / b.eye.Scale()
	return right, up, float64(b.views[p].Size().Width) * perUnit, perUnit
}

// addShapes adds parts in the way from STL files and opens the form of the last.
func (b *Bench) addShapes(files, other []string) {
	var phrase []string
	for _, f := range files {
		p, note, err := b.doc.AddFile(f)
		if note != "" {
			phrase = append(phrase, note)
		}
		if err != nil {
			phrase = append(phrase, document.Words(err))
			continue
		}
		b.showPart(p)
	}
	if len(other) > 0 {
		phrase = append(phrase, words.F("Left alone: %s.", strings.Join(other, ", ")))
	}
	phrase = slices.Compact(phrase)
	if len(phrase) > 0 {
		b.say(words.T("Shapes from files"), strings.Join(phrase, " "))
	}
}

// save writes the job to its file, or asks for a place; then runs after, if there is any.
func (b *Bench) save(after func()) {
	err := b.doc.Save()
	switch {
	case err == nil:
		b.remember(b.doc.File())
		if after != nil {
			after()
		}
	case errors.Is(err, document.ErrNoFile):
		b.saveAs(after)
	case errors.Is(err, document.ErrElsewhere):
		b.notSaved(err, after)
	case errors.Is(err, document.ErrChanged):
		b.doc.OutsideTold()
		phrase := document.Words(err) + words.F(" Written over, theirs is kept beside it as %s.", filepath.Base(job.BeforeName(b.doc.File())))
		b.box(words.T("Somebody else changed the file"), 700, look.NewPara("", phrase, ink.Text), nil,
			answer{words.T("Save somewhere else"), look.Filled, func() bool { b.post(func() { b.saveAs(after) }); return false }},
			answer{words.T("Write over it"), look.Outline, func() bool {
				b.post(func() { b.saved(b.doc.SaveForced(), after) })
				return false
			}},
			answer{loadTheirs, look.Outline, b.loadTheirs},
			answer{words.T("Not now"), look.Outline, nil})
	default:
		b.notSaved(err, after)
	}
}

func (b *Bench) saved(err error, after func()) {
	if err != nil {
		b.notSaved(err, after)
		return
	}
	b.remember(b.doc.File())
	b.title()
	if phrase := b.doc.SaveWords(); phrase != "" {
		page, scroll := b.readable(phrase)
		b.box(words.T("Saved"), sayWidth, page, after, answer{words.T("Close"), look.Filled, func() bool {
			if after != nil {
				b.post(after)
			}
			return false
		}}).page = scroll
		return
	}
	if after != nil {
		after()
	}
}

// notSaved says why, and offers another place.
func (b *Bench) notSaved(err error, after func()) {
	b.box(words.T("Not saved"), 560, look.NewPara("", document.Words(err), ink.Text), nil,
		answer{words.T("Choose a place"), look.Filled, func() bool { b.post(func() { b.saveAs(after) }); return false }},
		answer{words.T("Not now"), look.Outline, nil})
}

func (b *Bench) saveAs(after func()) {
	d := dialog.NewFileSave(func(w fyne.URIWriteCloser, err error) { b.onSaveAs(w, err, after) }, b.win)
	d.SetFileName(b.freeName())
	d.SetFilter(storage.NewExtensionFileFilter([]string{document.Ending}))
	b.chooseName(d)
}

// freeName is a file name for the open job that is not taken in the folder.
func (b *Bench) freeName() string {
	base := fileWords(b.doc.Name())
	if base == "" {
		base = "job"
	}
	if b.doc.IsDemo() {
		base = "my-" + base
	}
	name := base + document.Ending
	for i := 2; ; i++ {
		if _, err := os.Stat(filepath.Join(b.folder(), name)); err != nil {
			return name
		}
		name = fmt.Sprintf("%s-%d%s", base, i, document.Ending)
	}
}

// fileWords makes a file's name of a title: its first clause, small letters, hyphens.
func fileWords(title string) string {
	if i := strings.IndexAny(title, ":;,("); i > 0 {
		title = title[:i]
	}
	title = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r), r == '.', r == '_':
			return unicode.ToLower(r)
		}
		return ' '
	}, title)
	phrase := strings.Join(strings.Fields(title), "-")
	if r := []rune(phrase); len(r) > 40 {
		phrase = strings.TrimRight(string(r[:40]), "-")
	}
	return phrase
}

// onSaveAs takes the file dialog's answer. The dialog has made an empty file: the document writes it whole; where that fails the empty
// one is taken away again.
func (b *Bench) onSaveAs(w fyne.URIWriteCloser, err error, after func()) {
	if err != nil {
		b.notSaved(err, after)
		return
	}
	if w == nil {
		return
	}
	name := w.URI().Path()
	_ = w.Close()
	b.saved(b.doc.SaveAs(name), after)
}

// onClose is asked before the window goes.
func (b *Bench) onClose() {
	b.keepFirst(func() {
		b.leave()
		b.app.Quit()
	}, nil)
}

// leave closes the open job; its autosave goes too where the changes were let go.
func (b *Bench) leave() {
	b.keepStood()
	if b.letGo {
		b.doc.Discard()
	} else {
		b.doc.Close()
	}
}

// askLost offers work left behind by a program that was killed, and says first where another window has the job.
func (b *Bench) askLost() {
	b.tellElsewhere()
	if b.opts.StateDir == "" {
		return
	}
	b.offer(document.FindLost(b.opts.StateDir, b.app.Preferences().StringList(keyRecent)))
}

// offer asks about the first piece of lost work and, till one is brought back, about the next.
func (b *Bench) offer(lost []document.Lost) {
	if len(lost) == 0 {
		return
	}
	l := lost[0]
	next := func() {
		if len(lost) > 1 {
			b.post(func() { b.offer(lost[1:]) })
		}
	}
	phrase := words.F("The program ended before this work was saved: %s. Bring it back?", l.Words())
	b.box(words.T("Work not saved last time"), 560, look.NewPara("", phrase, ink.Text), nil,
		answer{words.T("Bring it back"), look.Filled, func() bool {
			b.post(func() {
				d, err := document.Recover(l, b.docOptions())
				if err != nil {
					b.tell(err)
					return
				}
				b.use(d)
				b.tellElsewhere()
			})
			return false
		}},
		answer{words.T("Throw it away"), look.Outline, func() bool { b.tell(document.Forget(l)); next(); return false }},
		answer{words.T("Ask again next time"), look.Outline, func() bool { next(); return false }})
}
