package document

import (
	"path/filepath"
	"strconv"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// BenchmarkPreview is what a mouse move of a drag costs on the window's goroutine: the edit, its checks, the job compiled, the position with every quantity and gap.
func BenchmarkPreview(b *testing.B) {
	for _, name := range []string{"orchard-sprayer", "survey-wagon"} {
		b.Run(name, func(b *testing.B) {
			d := New(demo(b, name), false, Options{})
			defer d.Discard()
			d.Settle()
			var p Pivot
			for i := range d.Current().Links {
				if d.Current().Links[i].Name == "Panhard rod" {
					p = Pivot{List: Links, Index: i, End: FrameEnd}
				}
			}
			at := d.Current().Links[p.Index].Frame
			d.MoveAxle(30, -20)
			d.BeginDrag("x")
			b.ReportAllocs()
			n := 0.0
			for b.Loop() {
				n++
				if err := d.DragPivot(p, r3.Vec{X: at[0], Y: at[1], Z: at[2] - float64(int(n)%40)}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkMoveAxle is what a mouse move on the travel pad costs.
func BenchmarkMoveAxle(b *testing.B) {
	d := New(demo(b, "orchard-sprayer"), false, Options{})
	defer d.Discard()
	d.Settle()
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n++
		d.MoveAxle(float64(n%50), -float64(n%30))
	}
}

// BenchmarkSave is what a save costs on the window's goroutine: what the file held kept beside it, what was kept aside brought up to date, the file
// written, each to the disk.
func BenchmarkSave(b *testing.B) {
	file := filepath.Join(b.TempDir(), "job.axleloft")
	require.NoError(b, job.WriteFile(file, demo(b, "orchard-sprayer")))
	d, err := Open(file, Options{StateDir: b.TempDir(), Autosave: true})
	require.NoError(b, err)
	defer d.Discard()
	n := 0
	for b.Loop() {
		n++
		b.StopTimer()
		require.NoError(b, d.Edit("title", "", title(strconv.Itoa(n))))
		d.keeper.disk.Lock()
		require.NoError(b, d.keeper.write(d.toWrite()))
		d.keeper.disk.Unlock()
		b.StartTimer()
		require.NoError(b, d.Save())
	}
}
