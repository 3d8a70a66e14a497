package panel

import (
	"fmt"
	"strings"

	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/geometry/vessel"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// tankHead is which tank, how its figures stand, and what can be done with them.
type tankHead struct {
	k     *tank
	which *look.Segments
	pick  *look.Button // where the names have no room
	note  *look.Label
	stop  *look.Button
	keep  *look.Button // what is drawn stays in the views when the panel is closed
	large *look.Button
	save  *look.Button
	names []string
	box   *fyne.Container
}

func newTankHead(k *tank) *tankHead {
	t := &tankHead{k: k, note: look.NewLabel("", look.Small, ink.Second, false).Shrinks(20)}
	t.which = look.NewSegments(nil, -1, func(i int) { k.choose(t.names[i]) }).Compact(8, look.Row, look.Small)
	t.pick = look.NewButton("", look.Outline, func() { look.PopUp(t.menu(), t.pick) }).Tall(30, look.Row).Caret(look.CaretDown)
	t.stop = look.NewButton(words.T("Give up"), look.Outline, func() {
		if k.found.busy {
			k.found.giveUp()
		} else {
			k.found.again()
		}
		k.refresh()
	}).Tall(30, look.Row)
	t.keep = look.NewButton(words.T("Keep drawn"), look.Outline, func() {
		k.kept = !k.kept
		t.keep.SetLit(k.kept)
	}).Tall(30, look.Row).Padding(9)
	t.large = look.NewButton(words.T("Fit tank"), look.Outline, k.frame).Tall(30, look.Row).Padding(9)
	t.save = look.NewButton(words.T("Save"), look.Outline, func() { look.PopUp(k.saveMenu(), t.save) }).Tall(30, look.Row).Padding(9).Caret(look.CaretDown)
	t.box = container.New(&tankHeadLayout{t}, t.which, t.pick, t.note, t.stop, t.keep, t.large, t.save)
	return t
}

func (t *tankHead) menu() *fyne.Menu {
	m := fyne.NewMenu("")
	for _, n := range t.names {
		i := fyne.NewMenuItem(n, func() { t.k.choose(n) })
		i.Checked = n == t.k.name
		m.Items = append(m.Items, i)
	}
	return m
}

// update says how the figures stand.
func (t *tankHead) update(fresh bool) {
	k := t.k
	s, _ := k.h.Doc.Study()
	all, at := k.tanks(s)
	t.names = t.names[:0]
	for _, e := range all {
		t.names = append(t.names, e.Name)
	}
	t.which.Set(append([]string(nil), t.names...), at)
	t.pick.SetText(look.Shorten(k.name, look.Body, false, 150))
	note := k.found.words("places")
	switch {
	case k.found.err != nil || at < 0:
		note = ""
	case !fresh && note == "":
		note = words.T("working out")
	}
	if !fresh && k.found.has && note == "working out" {
		note = words.T("working out; as it was before")
	}
	t.note.SetText(note)
	t.stop.SetText(words.T("Give up"))
	if k.found.left {
		t.stop.SetText(words.T("Work out"))
	}
	look.Show(t.stop, k.found.left || k.found.busy && note != "working out" && note != "")
	t.large.SetDisabled(at < 0)
	t.save.SetDisabled(!fresh)
	t.box.Refresh()
}

// tankHeadLayout puts the tank's name left, the buttons right, the note between.
type tankHeadLayout struct{ t *tankHead }

func (l *tankHeadLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(280, look.Row) }
func (l *tankHeadLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	t := l.t
	end := s.Width - 8
	put := func(o fyne.CanvasObject, w float32) {
		o.Move(fyne.NewPos(end-w, 0))
		o.Resize(fyne.NewSize(w, s.Height))
		end -= w + 8
	}
	for _, b := range []*look.Button{t.save, t.large, t.keep, t.stop} {
		if b.Visible() {
			put(b, b.MinSize().Width)
		}
	}
	fits := t.which.MinSize().Width+8 < end
	look.Show(t.which, fits && len(t.names) > 0)
	look.Show(t.pick, !fits)
	x := float32(0)
	switch {
	case t.which.Visible():
		x = t.which.MinSize().Width
		t.which.Resize(fyne.NewSize(x, s.Height))
	case t.pick.Visible():
		x = min(t.pick.MinSize().Width, end)
		t.pick.Resize(fyne.NewSize(x, s.Height))
	}
	x += 12
	t.note.Move(fyne.NewPos(x, 0))
	t.note.Resize(fyne.NewSize(max(0, end-x), s.Height))
}

// frame brings the views to the tank.
func (k *tank) frame() {
	s, _ := k.h.Doc.Study()
	all, at := k.tanks(s)
	if at < 0 {
		return
	}
	if v, err := vessel.New(all[at]); err == nil {
		k.h.Frame(v.Bounds())
	}
}

// saveMenu offers what can be written.
func (k *tank) saveMenu() *fyne.Menu {
	f, fresh := k.current()
	m := fyne.NewMenu("")
	if !fresh {
		return m
	}
	name := k.name
	if !strings.Contains(strings.ToLower(name), "tank") {
		name = words.F("tank %s", name)
	}
	m.Items = append(m.Items, fyne.NewMenuItem(words.T("Dip table as shown, CSV..."), func() { k.h.SaveDip(name, k.dips.got.levels) }))
	args := []string{"tank", "--vessel", f.t.Vessel.Name, "--tilt-x=" + fmt.Sprint(k.table.tilt[0]), "--tilt-y=" + fmt.Sprint(k.table.tilt[1])}
	m.Items = append(m.Items,
		fyne.NewMenuItem(words.T("All cuts, CSV..."), func() { k.h.SaveNumbers(words.F("%s cuts", name), "csv", append(args, "--cuts")...) }),
		fyne.NewMenuItem(words.T("All numbers, JSON..."), func() { k.h.SaveNumbers(name, "json", args...) }))
	return m
}

// tankLayout puts the words left and the dip table right.
type tankLayout struct{ k *tank }

// dipWidth is what the dip table takes.
const dipWidth = 226

func (l *tankLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(500, 120) }
func (l *tankLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(look.Inset-4, 0))
	o[0].Resize(fyne.NewSize(s.Width-dipWidth-look.Inset-look.Gap, s.Height-4))
	o[1].Move(fyne.NewPos(s.Width-dipWidth-4, 0))
	o[1].Resize(fyne.NewSize(dipWidth, s.Height-4))
}

func (k *tank) named(name string) fyne.CanvasObject {
	switch name {
	case "Left side up":
		return k.table.entry[0]
	case "Nose down":
		return k.table.entry[1]
	case "Save":
		return k.top.save
	case "Keep drawn":
		return k.top.keep
	case "Fit tank":
		return k.top.large
	case "Give up", "Work out":
		return k.top.stop
	}
	if o := lineNamed(k.cuts.Objects, name); o != nil {
		return o
	}
	return lineNamed(k.words.Objects, name)
}
