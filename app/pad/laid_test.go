package pad

import (
	"math"
	"testing"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// cone is a grid of distances from its middle, known within a radius.
func cone(n int, known float64) *grid {
	g := &grid{n: n, l0: -1, r0: -1, dl: 2 / float64(n-1), dr: 2 / float64(n-1), v: make([]float64, n*n)}
	for i := range n {
		for k := range n {
			p := g.place(i, k)
			if g.v[i*n+k] = math.Hypot(p.left, p.right); g.v[i*n+k] > known {
				g.v[i*n+k] = math.NaN()
			}
		}
	}
	return g
}

func TestContourOfAConeIsItsCircle(t *testing.T) {
	g := cone(41, 2)
	paths := g.contour(0.5)
	require.Len(t, paths, 1)
	path := paths[0]
	assert.Equal(t, path[0], path[len(path)-1], "it closes on itself")
	length := 0.0
	for i, p := range path {
		assert.InDelta(t, 0.5, math.Hypot(p.left, p.right), 2e-3)
		if i > 0 {
			length += math.Hypot(p.left-path[i-1].left, p.right-path[i-1].right)
		}
	}
	assert.InDelta(t, math.Pi, length, 0.02)
}

func TestValuesAreCarriedOnOverTheEdge(t *testing.T) {
	g := cone(41, 0.7)
	_, ok := g.at(0.72, 0)
	require.False(t, ok)
	g.spread()
	v, ok := g.at(0.74, 0)
	require.True(t, ok)
	assert.InDelta(t, 0.74, v, 0.01)
}

func TestWithinCutsAtTheOutline(t *testing.T) {
	var edge []place
	for i := range 96 {
		s, c := math.Sincos(-math.Pi + 2*math.Pi*float64(i)/96)
		edge = append(edge, place{50 * c, 50 * s})
	}
	runs := within(edge, []place{{-80, 3}, {-20, 3}, {20, 3}, {80, 3}})
	require.Len(t, runs, 1)
	first, last := runs[0][0], runs[0][len(runs[0])-1]
	assert.InDelta(t, 50, math.Hypot(first.left, first.right), 0.1)
	assert.InDelta(t, 50, math.Hypot(last.left, last.right), 0.1)
	assert.Less(t, first.left, 0.0)
	assert.Empty(t, within(edge, []place{{60, 0}, {80, 0}}))
}

func TestLevelsAreRound(t *testing.T) {
	at, step := levels(-0.81, 3.72, 0.1)
	assert.InDelta(t, 0.5, step, 1e-12)
	assert.InDelta(t, -0.5, at[0], 1e-12)
	assert.InDelta(t, 3.5, at[len(at)-1], 1e-12)
	at, step = levels(30, 89, 5)
	assert.InDelta(t, 10, step, 1e-12)
	assert.Len(t, at, 6)
	at, _ = levels(2, 2, 1)
	assert.Empty(t, at)
}

func TestLaidLinesAreWhereTheReadingHasTheirValue(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	for _, key := range []string{"pinion", "squareness", "sideshift", "slip"} {
		p.Lay(key)
		require.True(t, p.laidCurrent(), key)
		require.NotEmpty(t, p.laid.lines, key)
		s, _ := d.Study()
		for i := range p.laid.lines {
			l := &p.laid.lines[i]
			at := l.along(0.5)
			v := s.At(at.left, at.right).Values[0]
			got := map[string]float64{"pinion": v.PinionDeg, "squareness": v.Squareness, "sideshift": v.Y, "slip": v.Slip}[key]
			assert.InDelta(t, l.value, got, 0.1*p.laid.step, "%s at %v", key, at)
		}
	}
	p.Lay("")
	assert.Nil(t, p.laid)
}

func TestLaidLinesAreSaidToBeOldTillTheyAreNew(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	p.Lay("pinion")
	require.True(t, p.laidCurrent())
	was := p.laid
	require.NoError(t, d.Edit("wider", "", func(j *job.Job) error { j.Links[0].Frame[2] += 20; return nil }))
	assert.False(t, p.laidCurrent())
	assert.Same(t, was, p.laid, "the old lines stay, grey")
	d.Settle()
	assert.True(t, p.laidCurrent())
	assert.NotSame(t, was, p.laid)
}

func TestKeysGoThroughTheReadings(t *testing.T) {
	_, p := open(t, read(t, "orchard-sprayer"))
	p.TypedRune('l')
	assert.Equal(t, "use", p.laying.key)
	p.TypedRune('L')
	assert.Equal(t, "", p.laying.key)
	for range p.offered() {
		p.TypedRune('l')
	}
	assert.Equal(t, "", p.laying.key)
}

func TestJointUseMarksWhatIsClose(t *testing.T) {
	j := read(t, "orchard-sprayer")
	for i := range j.Links {
		if j.Links[i].Name == "Centre upper" {
			*j.Links[i].FrameEnd.Torsion *= 0.85 // 89 % becomes more than its limit
		}
	}
	_, p := open(t, j)
	p.Lay("use")
	require.NotNil(t, p.laid)
	assert.Equal(t, "binds: centre upper, frame bush", p.laid.words)
	p.paint.laid, p.paint.faint = p.laid, false
	mark := p.paint.marking()
	require.NotNil(t, mark)
	hits, tight := mark(0, 0)
	assert.False(t, hits || tight)
	hits, _ = mark(-118, -118)
	assert.True(t, hits)
	assert.Contains(t, wordsOn(p), "binds: centre upper")
	assert.Contains(t, wordsOn(p), "Binds: centre upper, frame bush, at the")
}

func TestGetHomePositionsAreGoneToAndTold(t *testing.T) {
	d, p := open(t, read(t, "survey-wagon"))
	s, _ := d.Study()
	homes := s.GetHome()
	require.Len(t, homes, 3)
	for i := range homes {
		p.nextHome()
		left, right := d.Travels()
		assert.InDelta(t, homes[i].Left, left, 0.2, homes[i].Name)
		assert.InDelta(t, homes[i].Right, right, 0.2, homes[i].Name)
		assert.Equal(t, homes[i].Name, p.home)
	}
	assert.Contains(t, wordsOn(p), "Both struts down.")
	d.MoveAxle(0, 10)
	assert.Empty(t, p.home)
	d.GoCorner(document.FullBump)
	assert.NotContains(t, wordsOn(p), "Both struts down.", "said only where it was asked for")
}

func TestRubberIsMetInItsOrder(t *testing.T) {
	d, _ := open(t, read(t, "survey-wagon"))
	s, _ := d.Study()
	list, known := ahead(s, 50, 50)
	require.True(t, known)
	require.NotEmpty(t, list)
	rubber := -1
	for i, m := range list {
		if m.words == "bump stops' rubber" {
			rubber = i
		}
		if i > 0 {
			assert.LessOrEqual(t, list[i-1].at, m.at)
		}
	}
	require.GreaterOrEqual(t, rubber, 0)
	_, rest := say(s, true, "mm", s.Range.Bump, s.Range.Bump)
	assert.Regexp(t, `^\d+ bump stops' rubber, 88 home, `, rest)
	words, ok := merge("left bump stop"+ofRubber, "right bump stop"+ofRubber)
	assert.True(t, ok)
	assert.Equal(t, "bump stops' rubber", words)
	assert.Equal(t, "left bump stop's rubber", cause(s, &limits.By{Cause: limits.RubberTouch}))
}

func TestNoFiguresAreSaidToBeNone(t *testing.T) {
	j := read(t, "orchard-sprayer")
	for i := range j.Links {
		for _, e := range []*job.End{j.Links[i].FrameEnd, j.Links[i].AxleEnd} {
			if e != nil {
				e.Misalignment, e.Torsion = nil, nil
			}
		}
	}
	_, p := open(t, j)
	p.Lay("use")
	require.NotNil(t, p.laid)
	assert.Empty(t, p.laid.lines)
	assert.Equal(t, "Lines: joint use is not known, no limit is given.", p.laid.caption(false))
}

func TestALineIsCutOffAfterWhatItSaysWhole(t *testing.T) {
	assert.Equal(t, "50 bump stops' rubber, 88 home, ...", cutOff("50 bump stops' rubber, 88 home,", 900))
	assert.Equal(t, "50 bump stops' rubber, ...", cutOff("50 bump stops' rubber, 88", 900))
	assert.Equal(t, "50 bump stops' rubber, ...", cutOff("50 bump stops' rubber, 88 home,", brush.Measure("50 bump stops' rubber, 88 home,", plain).Width))
	assert.Equal(t, "working, ...", cutOff("working", 900))
}
