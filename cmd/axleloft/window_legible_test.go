package main

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The keys' list, the size of text and the colours by the keys of the real window.
func TestWindowKeysTextAndColours(t *testing.T) {
	d := newDesk(t, 1386, 760, "1", "")
	w := d.open(1366, 688)
	w.caution()
	before := w.settled()
	w.keys("F1")
	s := w.shows("the keys are listed", func(s state) bool { return len(s.Asked) == 1 && s.Asked[0] == "Keys" })
	assert.NotEmpty(t, having(s.Told, "Ctrl+Shift+S: Save as", "Larger text", "Zoom in and out", "Full bump"))
	w.picture("keys")
	w.keys("Escape")
	w.shows("they are closed", func(s state) bool { return len(s.Asked) == 0 })

	w.keys("ctrl+equal")
	w.shows("text is larger and the window as large as before", func(s state) bool {
		return math.Abs(s.Width-before.Width/1.2) < 12 && math.Abs(s.Tall-before.Tall/1.2) < 12
	})
	w.picture("text-larger")
	w.keys("ctrl+minus")
	w.shows("text is as before", func(s state) bool { return math.Abs(s.Width-before.Width) < 12 })

	w.keys("ctrl+l")
	w.shows("the ground is dark", func(s state) bool { return s.Dark })
	w.keys("ctrl+l")
	w.shows("the ground is white", func(s state) bool { return !s.Dark })
	w.picture("bright-workshop")
	w.keys("ctrl+equal")
	w.shows("text is larger", func(s state) bool { return s.Width < before.Width-100 })
	w.quiet(t)
}
