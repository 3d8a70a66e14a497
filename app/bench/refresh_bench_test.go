package bench

import (
	"bytes"
	"testing"

	"axleloft/app/document"
	"axleloft/assets"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// BenchmarkRefresh is one whole refresh of the window after a hand moved something, the picture itself left out: the geometry made anew,
// the position with every gap, the panels and the views brought up to date. What the worker does beside it is not in it.
func BenchmarkRefresh(b *testing.B) {
	for _, what := range []string{"axle", "pivot"} {
		b.Run(what, func(b *testing.B) {
			a := test.NewTempApp(b)
			a.Preferences().SetBool(keyCaution, true)
			w := build(a, Options{}, func(f func()) { f() }, true)
			j, err := job.Read(bytes.NewReader(assets.Demo("orchard-sprayer")))
			if err != nil {
				b.Fatal(err)
			}
			w.use(document.New(j, true, document.Options{}))
			w.win.Resize(fyne.NewSize(1366, 688))
			w.doc.Settle()
			p := hold(w)
			at := j.Links[2].Frame.Vec()
			if what == "pivot" {
				w.doc.BeginDrag("move")
			}
			b.ResetTimer()
			for i := 0; b.Loop(); i++ {
				if what == "axle" {
					w.doc.MoveAxle(float64(i%80), float64(i%50))
					continue
				}
				at.Z = 545 + float64(i%40)
				if err := w.doc.DragPivot(p, at); err != nil {
					b.Fatal(err)
				}
			}
			b.StopTimer()
			w.doc.Discard()
		})
	}
}
