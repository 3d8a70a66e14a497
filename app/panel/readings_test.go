package panel

import (
	"testing"

	"axleloft/app/document"
	"axleloft/app/look"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
)

// The name of a reading and the word under it end before its figure, in every demo and wherever the axle stands.
func TestNamesOfReadingsEndBeforeTheirFigures(t *testing.T) {
	for _, demo := range []string{"orchard-sprayer", "rescue-tender", "survey-wagon"} {
		n := open(t, demo)
		p := NewReadings(n.h)
		for _, at := range [][2]float64{{0, 0}, {100, 100}, {-110, -110}, {140, -140}} {
			n.d.MoveAxle(at[0], at[1])
			p.Update(document.PositionChanged)
			for _, r := range p.rows {
				r.Resize(fyne.NewSize(410, 40))
				x := test.TempWidgetRenderer(t, r).(*readingRenderer)
				x.Layout(r.Size())
				figure := x.value.Position().X + x.value.Size().Width - look.Width(x.value.Text, x.value.TextSize, false)
				for _, words := range []float32{look.Width(x.name.Text, look.Body, false), look.Width(x.word.Text, look.Small, false)} {
					assert.LessOrEqual(t, look.Inset+words, figure+0.5, "%s: %s %s", demo, r.r.Name, r.r.Word)
				}
			}
		}
	}
}
