package look

import (
	"testing"

	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
)

// drawn are the words and places of what a renderer draws, those of the size of nothing aside.
func drawn(r fyne.WidgetRenderer) (words []string, places []fyne.Position) {
	for _, o := range r.Objects() {
		if !o.Visible() || o.Size().IsZero() {
			continue
		}
		if t, ok := o.(*canvas.Text); ok {
			words = append(words, t.Text)
		}
		places = append(places, o.Position())
	}
	return words, places
}

// The toolkit drops the renderer of what is not seen for a minute and makes another when it is shown again, of the same size.
func TestARendererMadeAgainDrawsTheSame(t *testing.T) {
	test.NewTempApp(t)
	for _, w := range []fyne.Widget{
		NewPara("Loses 1.1 L.", "Sloped face along the bottom left edge, only as far as the front face.", ink.Text),
		NewLabel("Counted", Small, ink.Second, false),
		NewButton("Close", Plain, nil).Tall(32, Row).Caret(CaretDown),
		NewSegments([]string{"X", "Y", "Z"}, 1, nil),
		NewPlate(ink.Panel).Edged(ink.Edge, 1, Radius),
	} {
		w.Resize(fyne.NewSize(220, 60))
		words, places := drawn(test.TempWidgetRenderer(t, w))
		again, there := drawn(w.CreateRenderer())
		assert.NotEmpty(t, places, "%T", w)
		assert.Equal(t, words, again, "%T", w)
		assert.Equal(t, places, there, "%T", w)
	}
}
