package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Through hands a shortcut that is none of a field's own on to the window, and reports whether it did. Undo and Redo are the field's while
// something is being typed in it, else the window's; before any other of the window's, take commits what was typed.
func Through(field fyne.CanvasObject, s fyne.Shortcut, typing bool, take func()) bool {
	switch s := s.(type) {
	case *fyne.ShortcutCut, *fyne.ShortcutCopy, *fyne.ShortcutPaste, *fyne.ShortcutSelectAll:
		return false
	case *fyne.ShortcutUndo, *fyne.ShortcutRedo:
		if typing {
			return false
		}
	case *desktop.CustomShortcut:
		switch s.KeyName {
		case fyne.KeyLeft, fyne.KeyRight, fyne.KeyBackspace, fyne.KeyDelete: // word by word
			return false
		}
	}
	c, ok := fyne.CurrentApp().Driver().CanvasForObject(field).(fyne.Shortcutable)
	if ok {
		if typing {
			take()
		}
		c.TypedShortcut(s)
	}
	return ok
}
