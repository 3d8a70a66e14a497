package bench

import (
	"reflect"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// menuWords are the entries of the open menu from top to bottom, those of a menu within as "Outer > Inner"; nil where none is open.
// Rules between entries are left out: the arrow keys pass over them.
func menuWords(c fyne.Canvas) []string {
	pop, ok := c.Focused().(*widget.PopUpMenu)
	if !ok || !pop.Visible() {
		return nil
	}
	var out []string
	var add func(prefix string, m *fyne.MenuItem)
	add = func(prefix string, m *fyne.MenuItem) {
		if m.IsSeparator {
			return
		}
		out = append(out, prefix+m.Label)
		if m.ChildMenu != nil {
			for _, x := range m.ChildMenu.Items {
				add(prefix+m.Label+" > ", x)
			}
		}
	}
	for _, o := range pop.Items { // the toolkit shows an entry's words only through the entry it was made of
		v := reflect.ValueOf(o)
		if v.Kind() != reflect.Pointer || v.Elem().Kind() != reflect.Struct {
			continue
		}
		if f := v.Elem().FieldByName("Item"); f.IsValid() && f.CanInterface() {
			if m, ok := f.Interface().(*fyne.MenuItem); ok {
				add("", m)
			}
		}
	}
	return out
}
