package bench

import (
	"testing"

	"axleloft/app/look"
	"axleloft/app/sheets"
	"axleloft/plotting/paper"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// shown calls f with everything in the box that stands last.
func shown(b *Bench, f func(fyne.CanvasObject)) {
	o := b.boxes[len(b.boxes)-1].pop.Content
	walk(o, fyne.NewPos(0, 0), box2{}, func(o fyne.CanvasObject, _, _ box2) bool {
		f(o)
		return true
	})
}

// The sheets stand over the window: each reader's can be chosen and turned page by page, on either paper, and Escape leaves.
func TestShowSheets(t *testing.T) {
	b := open(t, Options{})
	b.win.Resize(fyne.NewSize(1366, 688))
	b.run("sheets")
	require.Len(t, b.boxes, 1)
	var readers, all []*look.Button
	shown(b, func(o fyne.CanvasObject) {
		if btn, ok := o.(*look.Button); ok {
			all = append(all, btn)
			for _, r := range sheets.Readers() {
				if btn.Text() == r.Title {
					readers = append(readers, btn)
				}
			}
		}
	})
	require.Len(t, readers, len(sheets.Readers()))
	press := func(text string) *look.Button {
		for _, btn := range all {
			if btn.Text() == text {
				btn.Tapped(nil)
				return btn
			}
		}
		t.Fatalf("no button %q", text)
		return nil
	}
	says := func() (out string) {
		shown(b, func(o fyne.CanvasObject) {
			if l, ok := o.(*look.Label); ok && l.Visible() {
				out += l.Text() + "\n"
			}
		})
		return out
	}
	assert.Contains(t, says(), "Page 1 of 1", "the owner's is one page")
	engineer := press("For the engineer")
	assert.True(t, engineer.Lit())
	assert.Regexp(t, `Page 1 of 1\d`, says())
	press("Next page")
	assert.Regexp(t, `Page 2 of 1\d`, says())
	press("Page before")
	press("Page before") // nothing before the first
	assert.Regexp(t, `Page 1 of 1\d`, says())
	press("Letter")
	assert.Equal(t, paper.Letter.Name, b.app.Preferences().String(keyPaper))
	b.escape()
	assert.Empty(t, b.boxes)
}

// While figures are worked out nothing is made of old ones.
func TestNoSheetsOfOldFigures(t *testing.T) {
	b := open(t, Options{})
	p := hold(b)
	require.NoError(t, b.doc.NudgePivot(p, r3.Vec{Z: 1}))
	b.run("sheets")
	require.Len(t, b.boxes, 1)
	assert.Contains(t, b.boxes[0].words, "still being worked out")
}
