package panel

import (
	"axleloft/app/look"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Entry is a field that commits by Enter and when the focus leaves it changed, and hands Escape on.
type Entry struct {
	widget.Entry
	OnFocus func() // the focus came
	OnLeave func() // the focus left and the text is another than before

	escape  func()
	down    func() // the down key, where it goes on to what stands below; nil: nothing
	was     string
	width   float32
	focused bool
}

// NewEntry makes a field. commit runs on Enter, escape on Escape.
func NewEntry(text string, commit, escape func()) *Entry {
	e := &Entry{escape: escape, was: text}
	e.ExtendBaseWidget(e)
	e.Text = text
	e.OnSubmitted = func(string) {
		if commit != nil {
			commit()
		}
	}
	return e
}

// Wide sets the least width; returns the entry.
func (e *Entry) Wide(w float32) *Entry { e.width = w; return e }

// MinSize is the toolkit's.
func (e *Entry) MinSize() fyne.Size {
	m := e.Entry.MinSize()
	if e.width > 0 {
		m.Width = e.width
	}
	return m
}

// FocusGained is the toolkit's.
func (e *Entry) FocusGained() {
	e.focused = true
	e.Entry.FocusGained()
	if e.OnFocus != nil {
		e.OnFocus()
	}
	if !e.MultiLine {
		e.TypedShortcut(&fyne.ShortcutSelectAll{}) // typing replaces what stands; a press puts the cursor instead
	}
}

// FocusLost commits what was typed.
func (e *Entry) FocusLost() {
	e.focused = false
	e.Entry.FocusLost()
	e.take()
}

func (e *Entry) take() {
	if e.OnLeave != nil && e.Text != e.was {
		e.was = e.Text
		e.OnLeave()
	}
}

// TypedShortcut hands the window's shortcuts on; what was typed is committed first.
func (e *Entry) TypedShortcut(s fyne.Shortcut) {
	if !look.Through(e, s, e.Text != e.was, e.take) {
		e.Entry.TypedShortcut(s)
	}
}

// TypedKey hands Escape and F1 on.
func (e *Entry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape && e.escape != nil {
		e.escape()
		return
	}
	if k.Name == fyne.KeyDown && e.down != nil {
		e.down()
		return
	}
	if k.Name == fyne.KeyF1 {
		look.HandOn(e, k)
		return
	}
	e.Entry.TypedKey(k)
}
