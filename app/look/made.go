package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// Made lays out a renderer that is made for a widget which has its size already, and returns it. The toolkit drops what draws a widget when it has not been
// seen for a minute, and lays out what it then makes anew only when the size changes: without this a drawer that is opened again would have no words.
func Made(w fyne.Widget, r fyne.WidgetRenderer) fyne.WidgetRenderer {
	if s := w.Size(); s.Width > 0 && s.Height > 0 {
		r.Layout(s)
	}
	return r
}

// Wake gives what is shown again the theme it was given, which the toolkit drops with what draws it.
func Wake(o fyne.CanvasObject) {
	switch o := o.(type) {
	case *fyne.Container:
		for _, x := range o.Objects {
			Wake(x)
		}
	case *container.ThemeOverride:
		o.Refresh()
		Wake(o.Content)
	case *container.Scroll:
		Wake(o.Content)
	}
}
