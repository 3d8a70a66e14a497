package card

import (
	"image/color"

	"axleloft/app/look"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

var (
	_ desktop.Keyable   = (*entry)(nil)
	_ desktop.Mouseable = (*entry)(nil)
)

// entry is a field for one number: Enter or leaving it takes what is typed, Escape puts back what was there.
type entry struct {
	widget.Entry
	shown   string            // what was put there last
	bad     bool              // it is refused
	commit  func(string) bool // takes what was typed, tells whether it did
	back    func()            // what was refused is given up
	done    func()            // Escape with nothing typed
	marked  func()            // the focus has come or gone, or something is being typed
	focused bool
	fresh   bool // the press that is under way brought the focus
}

func newEntry(commit func(string) bool, done func()) *entry {
	e := &entry{commit: commit, done: done}
	e.ExtendBaseWidget(e)
	e.OnSubmitted = func(string) {
		e.take()
		e.selectAll()
	}
	e.OnChanged = func(text string) {
		if e.focused && text != e.shown && e.marked != nil {
			e.marked()
		}
	}
	return e
}

// show puts a value there, unless the hand is typing.
func (e *entry) show(s string) {
	typing := e.focused && e.Text != e.shown
	if typing || e.Text == s && e.shown == s {
		return
	}
	e.shown, e.bad = s, false
	e.SetText(s)
}

func (e *entry) take() {
	if e.Text == e.shown {
		return
	}
	text := e.Text
	e.shown = text // a refusal keeps what was typed in place, to be mended
	e.bad = !e.commit(text)
}

// FocusGained marks the field and all that stands in it: what is typed then takes its place.
func (e *entry) FocusGained() {
	e.focused = true
	e.Entry.FocusGained()
	e.selectAll()
	if e.marked != nil {
		e.marked()
	}
}

func (e *entry) selectAll() { e.Entry.TypedShortcut(&fyne.ShortcutSelectAll{}) }

// MouseDown is the toolkit's.
func (e *entry) MouseDown(m *desktop.MouseEvent) {
	e.fresh = !e.focused
	e.Entry.MouseDown(m)
}

// Tapped marks all that stands there where the press brought the focus; the next press puts the cursor.
func (e *entry) Tapped(p *fyne.PointEvent) {
	e.Entry.Tapped(p)
	if e.fresh && e.SelectedText() == "" {
		e.selectAll()
	}
	e.fresh = false
}

// FocusLost takes what was typed.
func (e *entry) FocusLost() {
	e.focused = false
	e.Entry.FocusLost()
	e.take()
	if e.marked != nil {
		e.marked()
	}
}

// TypedKey lets Escape put back what was there, or close the card; F1 is the window's.
func (e *entry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		switch {
		case e.bad:
			e.bad = false
			e.shown = e.Text // what stood before may be shown
			e.back()
			e.selectAll()
		case e.Text != e.shown:
			e.SetText(e.shown)
			e.selectAll()
		case e.done != nil:
			e.done()
		}
		return
	}
	if k.Name == fyne.KeyF1 {
		look.HandOn(e, k)
		return
	}
	e.Entry.TypedKey(k)
}

// TypedShortcut hands the window's shortcuts on; what was typed is taken first.
func (e *entry) TypedShortcut(s fyne.Shortcut) {
	if !look.Through(e, s, e.Text != e.shown, e.take) {
		e.Entry.TypedShortcut(s)
	}
}

// bare is the window's theme with figures of a size, some room and no border round them: the card draws the field's box itself.
type bare struct {
	fyne.Theme
	size, pad float32
}

// Size sets the text and takes away the border round it.
func (t bare) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameText:
		return t.size
	case theme.SizeNameInnerPadding:
		return t.pad
	case theme.SizeNameInputBorder:
		return 0
	}
	return t.Theme.Size(n)
}

// Color takes away the field's own ground.
func (t bare) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	if n == theme.ColorNameInputBackground {
		return color.Transparent
	}
	return t.Theme.Color(n, v)
}
