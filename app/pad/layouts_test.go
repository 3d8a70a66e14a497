package pad

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"axleloft/app/document"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// layout reads one of the layouts of the testdata.
func layout(t *testing.T, name string) *job.Job {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "layouts", name+".axleloft"))
	require.NoError(t, err)
	defer f.Close()
	j, err := job.Read(f)
	require.NoError(t, err)
	return j
}

func TestEveryWordStandsOnThePad(t *testing.T) {
	for _, name := range []string{"radius-arms-panhard", "watts-pair", "two-piece-shaft", "front-still", "lopsided"} {
		d, p := open(t, layout(t, name))
		for _, size := range []fyne.Size{{Width: 316, Height: 316}, {Width: 248, Height: 236}} {
			p.Resize(size)
			for _, l := range p.offered() {
				p.Lay(l.key)
				if l.key != "" {
					require.True(t, p.laidCurrent(), "%s: %s", name, l.key)
				}
				for c := document.Ride; c <= document.RightUp; c++ {
					d.GoCorner(c)
					p.pool.Texts(func(s string, at fyne.Position, m fyne.Size) {
						assert.True(t, at.X >= 0 && at.X+m.Width <= size.Width+0.5 && at.Y >= 0 && at.Y+m.Height <= size.Height+3,
							"%s, %v, %s: %q at %v", name, size, l.name, s, at)
					})
				}
			}
		}
	}
}

func TestTheGroundInForceIsSaid(t *testing.T) {
	_, p := open(t, layout(t, "front-still"))
	p.Lay("rollsteer")
	require.NotNil(t, p.laid)
	assert.Contains(t, p.laid.caption(still(p.doc)), "The front stays still.")
	p.Lay("pinion")
	assert.NotContains(t, p.laid.caption(still(p.doc)), "front")
}

func TestWhereTheAxleIsPoorlyHeldIsMarked(t *testing.T) {
	_, p := open(t, read(t, "orchard-sprayer"))
	r := p.marks
	_, ok := r.loose()
	require.False(t, ok, "the sprayer's axle is well held everywhere")
	// held ever less toward bump, as links do that come into line
	for i, e := range r.edge {
		for k := range r.spots[i] {
			f := float64(k) / steps
			s := &r.spots[i][k]
			s.held = 0.2 - 0.15*f*(e.left+e.right)/200
			s.gap, s.slack, s.tryGap, s.trySlack, s.gapPair, s.slackPair = math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1), -1, -1
		}
	}
	r.touch, r.tight, r.begins = nil, nil, nil
	at, ok := r.loose()
	require.True(t, ok)
	assert.Greater(t, at.left+at.right, 0.0)
	p.paint.marks, p.paint.laid = r, nil
	mark := p.paint.marking()
	_, tight := mark(100, 100)
	assert.True(t, tight)
	_, tight = mark(-100, -100)
	assert.False(t, tight)
	p.Refresh()
	assert.Contains(t, wordsOn(p), "poorly held here")
}
