package bench

import (
	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/panel"
)

// showPivot brings the views to a pivot, where it is at design ride height.
func (b *Bench) showPivot(p document.Pivot) {
	if at, ok := edit.At(b.doc.Current(), p); ok {
		b.eye.GoTo(at)
	}
}

// editPivot takes a pivot and puts the keys into a coordinate's row of its card.
func (b *Bench) editPivot(p document.Pivot, a edit.Axis) {
	b.doc.Hold(p)
	brush.CatchUp() // the card stands then
	if _, held := b.doc.Held(); held {
		b.win.Canvas().Focus(b.card.Edit(a))
	}
}

// cardDone gives the keys back to the list of what to measure next, so that the next one is chosen there.
func (b *Bench) cardDone() {
	if b.open == panel.MeasureDrawer {
		b.drawers[b.open].Ready()
	}
}
