package look

import (
	"slices"
	"strings"

	"axleloft/app/words"

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

// Key is what a key does while something has the focus; keys named together do alike.
type Key struct {
	Keys  []fyne.KeyName
	Runes string // letters typed, for those that are told by them
	With  string // "Ctrl", "Shift": held with them; "" none
	Does  string
}

// Words are the keys as they are called.
func (k Key) Words() string {
	var out []string
	for _, n := range k.Keys {
		if w := KeyWord(n); !slices.Contains(out, w) { // there are two Enters
			out = append(out, w)
		}
	}
	for _, r := range k.Runes {
		out = append(out, strings.ToUpper(string(r)))
	}
	between := " "
	for _, w := range out {
		if len([]rune(w)) > 1 {
			between = ", "
		}
	}
	s := strings.Join(out, between)
	if k.With != "" {
		s = words.T(k.With) + "+" + s
	}
	return s
}

// KeyWord is what is written on a key.
func KeyWord(n fyne.KeyName) string {
	switch n {
	case fyne.KeyReturn, fyne.KeyEnter:
		return words.T("Enter")
	case fyne.KeyPageUp:
		return words.T("Page up")
	case fyne.KeyPageDown:
		return words.T("Page down")
	case fyne.KeyEscape:
		return words.T("Esc")
	case fyne.KeyBackspace:
		return words.T("Backspace")
	case fyne.KeySpace:
		return words.T("Space")
	case fyne.KeyInsert:
		return words.T("Insert")
	case fyne.KeyDelete:
		return words.T("Delete")
	case fyne.KeyLeft:
		return "←"
	case fyne.KeyRight:
		return "→"
	case fyne.KeyUp:
		return "↑"
	case fyne.KeyDown:
		return "↓"
	}
	return string(n)
}

// ShortcutWords is how a shortcut is written: "Ctrl+Shift+S".
func ShortcutWords(s fyne.Shortcut) string {
	key, ok := s.(fyne.KeyboardShortcut)
	if !ok {
		return ""
	}
	out := ""
	for _, m := range []struct {
		bit   fyne.KeyModifier
		words string
	}{{fyne.KeyModifierControl, words.T("Ctrl+")}, {fyne.KeyModifierAlt, words.T("Alt+")}, {fyne.KeyModifierSuper, words.T("Cmd+")}, {fyne.KeyModifierShift, words.T("Shift+")}} {
		if key.Mod()&m.bit != 0 {
			out += m.words
		}
	}
	return out + KeyWord(key.Key())
}
