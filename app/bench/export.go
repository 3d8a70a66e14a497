package bench

import "fyne.io/fyne/v2"

func (b *Bench) exportMenu() *fyne.Menu {
	return fyne.NewMenu("")
}
