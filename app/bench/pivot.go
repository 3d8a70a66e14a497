package bench

import (
	"axleloft/app/document"
	"axleloft/app/edit"
)

// showPivot brings the views to a pivot, where it is at design ride height.
func (b *Bench) showPivot(p document.Pivot) {
	if at, ok := edit.At(b.doc.Current(), p); ok {
		b.eye.GoTo(at)
	}
}
