package look

import "fyne.io/fyne/v2"

// Show shows or hides an object; nothing where it is so already.
func Show(o fyne.CanvasObject, on bool) {
	if o.Visible() == on {
		return
	}
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}
