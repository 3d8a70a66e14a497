package panel

import (
	"strings"
	"testing"

	"axleloft/app/document"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestGapsListWorstFirst(t *testing.T) {
	n := open(t, "orchard-sprayer")
	d := NewDrawer(n.h, GapsDrawer)
	d.Update(document.StudyChanged)
	lines := d.Lines()
	s, _ := n.d.Study()
	pairs, left := len(s.Gaps.Pairs), len(s.Gaps.LeftOut)
	require.Len(t, lines, pairs+left+2, "what is common practice, and a heading over what is left out")
	assert.True(t, strings.HasPrefix(lines[0], "Panhard rod / tank shelf | 35 mm | 29 mm in | 30 mm in | both wheels up 109 | 25 mm"), lines[0])
	assert.True(t, strings.HasPrefix(lines[1], "Strut right / axle tube |"), "by how much of the gap wanted is left: %s", lines[1])
	assert.Contains(t, lines[pairs], "Common practice (no rule, your call): 25 mm")
	assert.Equal(t, "Left out, whole or in part: 21 pairs", lines[pairs+1])
	assert.Contains(t, lines[pairs+2:], "Panhard rod / rail behind left: only beyond 80 mm from its own bracket")
	g := d.in.(*gaps)
	assert.Contains(t, g.head_.Text(), "181 pairs, worst first; gaps proved to 0.5 mm")
	g.list.Select(0)
	assert.InDelta(t, 109.4, n.went[0], 0.3)
	assert.Equal(t, s.PairNamed("Panhard rod", "Tank shelf"), n.pair)
}

// Only the pairs of a part whose name is typed are listed, left-out ones too; keys go through the list, to the place and to the map.
func TestGapsListOfOnePart(t *testing.T) {
	n := open(t, "orchard-sprayer")
	d := NewDrawer(n.h, GapsDrawer)
	w := test.NewTempWindow(t, d)
	w.Resize(fyne.NewSize(948, 316))
	n.h.Window = w
	d.Update(document.StudyChanged)
	e, ok := d.Named("Only this part").(*Entry)
	require.True(t, ok)
	g := d.in.(*gaps)
	w.Canvas().Focus(e)
	test.Type(e, "panhard")
	lines := d.Lines()
	require.Len(t, g.rows, 22+1+1+4)
	for _, l := range lines {
		assert.True(t, strings.Contains(l, "Panhard rod") || strings.HasPrefix(l, "Common practice") || strings.HasPrefix(l, "Left out"), l)
	}
	assert.Contains(t, g.head_.Text(), "22 of 181 pairs")
	e.OnSubmitted(e.Text)
	require.Equal(t, fyne.Focusable(g.list), w.Canvas().Focused(), "Enter goes on to the list")
	key := func(k fyne.KeyName) { g.list.TypedKey(&fyne.KeyEvent{Name: k}) }
	key(fyne.KeyDown)
	key(fyne.KeyReturn)
	assert.Equal(t, g.rows[1].pair, n.pair)
	assert.Equal(t, [2]float64{g.rows[1].left, g.rows[1].right}, n.went)
	g.list.TypedRune('m')
	assert.Equal(t, [2]string{g.rows[1].a, g.rows[1].b}, n.mapped)
	key(fyne.KeyUp)
	g.list.TypedRune('m')
	assert.Equal(t, [2]string{"Panhard rod", "Tank shelf"}, n.mapped)
	n.went, n.mapped = [2]float64{}, [2]string{}
	for range len(g.rows) + 3 {
		key(fyne.KeyDown)
	}
	key(fyne.KeySpace)
	g.list.TypedRune('m')
	assert.Equal(t, [2]float64{}, n.went, "a pair left out has no place")
	assert.Equal(t, [2]string{}, n.mapped)
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Empty(t, e.Text)
	assert.Contains(t, g.head_.Text(), "181 pairs, worst first")
	e.SetText("rod zebra")
	assert.Equal(t, []string{"No pair that is compared has such a part."}, d.Lines())
	e.SetText("rod shelf")
	assert.Len(t, g.rows, 2, "two words name a pair")
}

// Every word of the list has room at the width of a small screen and of a usual one.
func TestGapsListIsNotClipped(t *testing.T) {
	for _, job := range []string{"orchard-sprayer", "rescue-tender", "survey-wagon"} {
		n := open(t, job)
		for _, width := range []float32{674, 948} {
			g := newGaps(n.h)
			g.update(document.StudyChanged)
			g.list.Resize(fyne.NewSize(width, 300))
			for i := range g.rows {
				c := newColumns(pairRow, n.h)
				c.set(&g.rows[i])
				r := test.TempWidgetRenderer(t, c)
				h := float32(gapLine)
				if width < gapsNarrow {
					h = narrowLine
				}
				c.Resize(fyne.NewSize(width, h))
				for _, o := range r.Objects() {
					if x, ok := o.(*canvas.Text); ok && x.Visible() {
						assert.NotContains(t, x.Text, "…", "%s at %v", g.lines()[i], width)
						assert.LessOrEqual(t, x.Position().X+x.Size().Width, width)
					}
				}
			}
		}
	}
}

// A finding of a pair has a way to the pair's map, any other has none.
func TestFindingShowsItsMap(t *testing.T) {
	n := open(t, "orchard-sprayer")
	s, _ := n.d.Study()
	l := NewFindingList(n.h)
	l.Update(s, true)
	shown := 0
	for _, r := range l.rows {
		require.Equal(t, r.f.Pair >= 0, r.chart.Visible(), r.f.Key)
		if r.chart.Visible() {
			shown++
			test.Tap(r.chart)
			a, b := s.PairNames(r.f.Pair)
			assert.Equal(t, [2]string{a, b}, n.mapped)
		}
	}
	assert.Positive(t, shown)
}
