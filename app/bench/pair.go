package bench

import "axleloft/app/panel"

// showPair lays the gap of two parts on the travel pad and clears what is pulled up over it.
func (b *Bench) showPair(a, c string) {
	if b.open != panel.NoDrawer {
		b.show(panel.NoDrawer)
	}
	b.pad.LayPair(a, c)
	b.win.Canvas().Focus(b.pad) // so that the arrows go about in it and Escape goes back
}
