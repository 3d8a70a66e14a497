package panel

import (
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A pair whose own places nobody has measured says so in its line, which is taller by that, and explains what it means; the others say nothing of it.
func TestGapsSayOnWhichGuessesTheyRest(t *testing.T) {
	n := open(t, "orchard-sprayer")
	require.NoError(t, n.d.Edit("nobody measured it", "", func(j *job.Job) error {
		for i := range j.Links {
			if j.Links[i].Name == "Panhard rod" {
				delete(j.Links[i].Given, "axle.z")
			}
		}
		return nil
	}))
	n.d.Settle()
	d := NewDrawer(n.h, GapsDrawer)
	w := test.NewTempWindow(t, d)
	for _, wide := range []float32{948, 640} {
		w.Resize(fyne.NewSize(wide, 316))
		d.Update(document.StudyChanged)
		g := d.in.(*gaps)
		const rests = "rests on a guess: Panhard rod, axle end Z"
		for i, l := range d.Lines() {
			r := &g.rows[i]
			if r.kind != pairRow {
				continue
			}
			of := strings.Contains(r.a+r.b, "Panhard rod") && !strings.Contains(r.a+r.b, "Brake hose")
			if strings.Contains(r.a+r.b, "Brake hose") {
				assert.Contains(t, l, "rests on guesses: ", "nobody measured its clip in the demo")
			} else {
				assert.Equal(t, of, strings.HasSuffix(l, " | "+rests), l)
			}
			c := newColumns(pairRow, n.h)
			c.set(r)
			h := float32(gapLine)
			if wide < gapsNarrow {
				h = narrowLine
			}
			if r.rests != "" {
				h += 19
			}
			c.Resize(fyne.NewSize(wide, h))
			for _, o := range test.WidgetRenderer(c).Objects() {
				if x, is := o.(*canvas.Text); is && !x.Hidden {
					assert.GreaterOrEqual(t, x.Position().Y, float32(0), x.Text)
					assert.LessOrEqual(t, x.Position().Y+x.MinSize().Height, h+1, x.Text)
				}
			}
		}
		g.list.at = 0
		def, ok := Explained(g.list, n.d)
		require.True(t, ok)
		assert.Contains(t, def.Lines, [2]string{"Guess", "This gap " + rests + ". Nobody has measured that yet; the gap can come out larger or smaller by about as much as the guess is off. Under what to measure next it says what hangs on it."})
	}
}
