package panel

import (
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// roomHead is which part, how its sections stand, and what can be done with them.
type roomHead struct {
	k    *room
	pick *look.Button
	note *look.Label
	stop *look.Button
	keep *look.Button // what is drawn stays in the views when the panel is closed
	save *look.Button
	box  *fyne.Container
}

func newRoomHead(k *room) *roomHead {
	t := &roomHead{k: k, note: look.NewLabel("", look.Small, ink.Second, false).Shrinks(20)}
	t.pick = look.NewButton("", look.Outline, func() { look.PopUp(t.menu(), t.pick) }).Tall(30, look.Row).Padding(9).Caret(look.CaretDown)
	t.stop = look.NewButton(words.T("Give up"), look.Outline, func() {
		switch {
		case k.solid.busy:
			k.solid.giveUp()
		case k.found.busy:
			k.found.giveUp()
		default:
			k.found.again()
		}
		k.refresh()
	}).Tall(30, look.Row)
	t.keep = look.NewButton(words.T("Keep drawn"), look.Outline, func() {
		k.kept = !k.kept
		t.keep.SetLit(k.kept)
	}).Tall(30, look.Row).Padding(9)
	t.save = look.NewButton(words.T("Save"), look.Outline, func() { look.PopUp(k.saveMenu(), t.save) }).Tall(30, look.Row).Padding(9).Caret(look.CaretDown)
	t.box = container.New(&roomHeadLayout{t}, t.pick, t.note, t.stop, t.keep, t.save)
	return t
}

func (t *roomHead) menu() *fyne.Menu {
	s, _ := t.k.h.Doc.Study()
	m := fyne.NewMenu("")
	for _, n := range t.k.names(s) {
		i := fyne.NewMenuItem(n, func() { t.k.choose(n) })
		i.Checked = n == t.k.name
		m.Items = append(m.Items, i)
	}
	return m
}

// update says how the sections stand.
func (t *roomHead) update(fresh bool) {
	k := t.k
	t.pick.SetText(look.Shorten(k.name, look.Body, false, 180))
	look.Show(t.pick, k.name != "")
	note := k.found.words("%")
	switch {
	case k.name == "" || k.found.err != nil && !k.found.busy:
		note = ""
	case !fresh && k.found.has && !k.found.left && (note == "" || note == "working out"):
		note = words.T("working out; as it was before")
	case !fresh && note == "":
		note = words.T("working out")
	case note == "" && k.solid.busy:
		note = words.F("the solid: %s", k.solid.words("%"))
	}
	t.note.SetText(note)
	t.stop.SetText(words.T("Give up"))
	if k.found.left {
		t.stop.SetText(words.T("Work out"))
	}
	look.Show(t.stop, k.found.left || k.found.busy || k.solid.busy)
	t.save.SetDisabled(!fresh || k.solid.busy)
	t.box.Refresh()
}

// roomHeadLayout puts the part's name left, the buttons right, the note between.
type roomHeadLayout struct{ t *roomHead }

func (l *roomHeadLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(280, look.Row) }
func (l *roomHeadLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	t := l.t
	end := s.Width - 8
	taken := float32(0) // by what must have room
	for _, b := range []*look.Button{t.save, t.stop, t.pick} {
		if b.Visible() {
			taken += b.MinSize().Width + 8
		}
	}
	for _, phrase := range [2]string{words.T("Keep drawn"), words.T("Keep")} {
		if t.keep.Text() != phrase {
			t.keep.SetText(phrase)
		}
		if taken+t.keep.MinSize().Width+8 <= end {
			break
		}
	}
	look.Show(t.keep, taken+t.keep.MinSize().Width+8 <= end)
	for _, b := range []*look.Button{t.save, t.keep, t.stop} {
		if b.Visible() {
			w := b.MinSize().Width
			b.Move(fyne.NewPos(end-w, 0))
			b.Resize(fyne.NewSize(w, s.Height))
			end -= w + 8
		}
	}
	x := float32(0)
	if t.pick.Visible() {
		if over := t.pick.MinSize().Width - end; over > 0 {
			t.pick.SetText(look.Shorten(t.k.name, look.Body, false, look.Width(t.pick.Text(), look.Body, false)-over))
		}
		x = min(t.pick.MinSize().Width, end)
		t.pick.Resize(fyne.NewSize(x, s.Height))
		x += 12
	}
	t.note.Move(fyne.NewPos(x, 0))
	t.note.Resize(fyne.NewSize(max(0, end-x), s.Height))
}
