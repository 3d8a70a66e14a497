package card

import (
	"image/color"

	"axleloft/app/look"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

var _ desktop.Keyable = (*entry)(nil)

// entry is a field for one number: Enter or leaving it takes what is typed, Escape puts back what was there.
type entry struct {
	widget.Entry
	shown   string       // what was put there last
	commit  func(string) // takes what was typed
	done    func()       // Escape with nothing typed
	marked  func()       // the focus has come or gone
	focused bool
}

func newEntry(commit func(string), done func()) *entry {
	e := &entry{commit: commit, done: done}
	e.ExtendBaseWidget(e)
	e.OnSubmitted = func(string) { e.take() }
	return e
}

// show puts a value there, unless the hand is typing.
func (e *entry) show(s string) {
	typing := e.focused && e.Text != e.shown
	if typing || e.Text == s && e.shown == s {
		return
	}
	e.shown = s
	e.SetText(s)
}

func (e *entry) take() {
	if e.Text == e.shown {
		return
	}
	text := e.Text
	e.shown = text // a refusal keeps what was typed in place, to be mended
	e.commit(text)
}

// FocusGained marks the field.
func (e *entry) FocusGained() {
	e.focused = true
	e.Entry.FocusGained()
	if e.marked != nil {
		e.marked()
	}
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
		if e.Text != e.shown {
			e.SetText(e.shown)
		} else if e.done != nil {
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

// bare is the window's theme with figures of a size and nothing round them: the card draws the field's box itself.
type bare struct {
	fyne.Theme
	size float32
}

// Size sets the text and takes away the room and the border round it.
func (t bare) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameText:
		return t.size
	case theme.SizeNameInnerPadding, theme.SizeNameInputBorder:
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
