package pad

import (
	"bytes"
	"context"
	"math"
	"testing"

	"axleloft/app/document"
	"axleloft/assets"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func read(t *testing.T, demo string) *job.Job {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(demo)))
	require.NoError(t, err)
	return j
}

// open shows the pad of a job, everything worked out and looked over before it returns.
func open(t *testing.T, j *job.Job) (*document.Document, *Pad) {
	t.Helper()
	d := document.New(j, true, document.Options{StateDir: t.TempDir()})
	t.Cleanup(d.Close)
	d.Settle()
	test.NewTempApp(t)
	p := New(d)
	p.post, p.start = func(f func()) { f() }, func(f func()) { f() }
	p.marksOf = nil
	p.look()
	t.Cleanup(p.Close)
	w := test.NewTempWindow(t, p)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(316, 316))
	return d, p
}

func wordsOn(p *Pad) []string {
	return p.Texts()
}

func drag(p *Pad, from, to fyne.Position) {
	p.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary})
	for i := 1; i <= 10; i++ {
		f := float32(i) / 10
		p.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(from.X+f*(to.X-from.X), from.Y+f*(to.Y-from.Y))}})
	}
	p.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: to}, Button: desktop.MouseButtonPrimary})
	p.DragEnd()
}

func press(t *testing.T, p *Pad, name string) {
	t.Helper()
	at, ok := p.Where(name)
	require.True(t, ok, name)
	e := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary}
	p.MouseDown(e)
	p.MouseUp(e)
}

func TestUpIsBothWheelsUpAndLeftIsTheLeftWheelUp(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	at, ok := p.Where("dot")
	require.True(t, ok)
	drag(p, at, at.AddXY(0, -20))
	pose := d.Position().Pose
	assert.InDelta(t, 20/p.geom.k, pose.Left, 1e-3)
	assert.InDelta(t, 20/p.geom.k, pose.Right, 1e-3)
	drag(p, at.AddXY(0, -20), at.AddXY(-20, 0))
	pose = d.Position().Pose
	assert.InDelta(t, 20/p.geom.k, pose.Left, 1e-3)
	assert.InDelta(t, -20/p.geom.k, pose.Right, 1e-3)
}

func TestTheDotStaysInTheRange(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	at, _ := p.Where("dot")
	drag(p, at, at.AddXY(0, -300))
	s, _ := d.Study()
	pose := d.Position().Pose
	assert.InDelta(t, s.Range.Bump, pose.Left, 0.5)
	assert.InDelta(t, s.Range.Bump, pose.Right, 0.5)
}

func TestAPressInThePatchTakesTheDotThere(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	at, _ := p.Where("dot")
	to := at.AddXY(40, 8)
	drag(p, to, to)
	x, y := p.geom.at(d.Position().Pose.Left, d.Position().Pose.Right)
	assert.InDelta(t, to.X, x, 1e-2)
	assert.InDelta(t, to.Y, y, 1e-2)
}

func TestCornersAndRide(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	s, _ := d.Study()
	for _, tc := range []struct {
		name        string
		left, right float64
	}{
		{"full bump", s.Range.Bump, s.Range.Bump},
		{"full droop", -s.Range.Droop, -s.Range.Droop},
		{"left up", s.Range.LeftUp.Left, s.Range.LeftUp.Right},
		{"right up", s.Range.RightUp.Left, s.Range.RightUp.Right},
		{"full bump", s.Range.Bump, s.Range.Bump},
	} {
		press(t, p, tc.name)
		pose := d.Position().Pose
		assert.InDelta(t, tc.left, pose.Left, 0.1, tc.name)
		assert.InDelta(t, tc.right, pose.Right, 0.1, tc.name)
	}
	p.rideButton.Tapped(nil)
	assert.Zero(t, d.Position().Pose.Left)
}

func TestArrowsMoveTheAxle(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	key := func(k fyne.KeyName) { p.TypedKey(&fyne.KeyEvent{Name: k}) }
	key(fyne.KeyUp)
	key(fyne.KeyUp)
	key(fyne.KeyLeft)
	assert.InDelta(t, 3, d.Position().Pose.Left, 1e-9)
	assert.InDelta(t, 1, d.Position().Pose.Right, 1e-9)
	p.modifiers = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	key(fyne.KeyDown)
	assert.InDelta(t, -7, d.Position().Pose.Left, 1e-9)
	p.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyRight, Modifier: fyne.KeyModifierControl})
	assert.InDelta(t, -7.1, d.Position().Pose.Left, 1e-9)
	assert.InDelta(t, -8.9, d.Position().Pose.Right, 1e-9)
	key(fyne.KeyHome)
	assert.Zero(t, d.Position().Pose.Left)
}

func TestWhatStopsTheAxleIsWrittenRoundTheEdge(t *testing.T) {
	_, p := open(t, read(t, "orchard-sprayer"))
	var labels []string
	for _, l := range p.labels {
		labels = append(labels, l.words)
	}
	assert.ElementsMatch(t, []string{"left strut closed", "right strut closed", "left strut open", "right strut open"}, labels)
	for _, l := range p.labels { // the left strut closes where the left wheel is up
		switch l.words {
		case "left strut closed":
			assert.Greater(t, l.middle.left, math.Abs(l.middle.right)-1)
		case "right strut open":
			assert.Less(t, l.middle.right, 0.0)
		}
	}
}

func TestAtMostSixLabels(t *testing.T) {
	for _, demo := range assets.Demos() {
		_, p := open(t, read(t, demo))
		assert.LessOrEqual(t, len(p.labels), 6, demo)
		assert.GreaterOrEqual(t, len(p.labels), 4, demo)
	}
}

func TestFullBumpOfTheSprayerSaysWhatIsMetFirst(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	d.GoCorner(document.FullBump)
	s, _ := d.Study()
	pose := d.Position().Pose
	head, rest := say(s, true, "mm", pose.Left, pose.Right)
	assert.Equal(t, "Left up 109, right up 109. First met:", head)
	assert.Contains(t, rest, "78 rod hits shelf, 109 struts closed") // the rod meets the shelf at 77.9, the struts close at 109.4
	_, known := p.Where("full bump")
	assert.True(t, known)
	assert.Contains(t, wordsOn(p), head)
	_, rest = say(s, false, "mm", pose.Left, pose.Right)
	assert.Contains(t, rest, "working out")
	head, _ = say(s, true, "mm", 0, 0)
	assert.Equal(t, "At ride height.", head)
	head, _ = say(s, true, "in", 25.4, -25.4)
	assert.Equal(t, "Left up 1.0, right down 1.0. This way:", head)
}

func TestMarksAreWhereTheRodMeetsTheShelf(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	require.NotNil(t, p.shownMarks())
	s, _ := d.Study()
	ride, ok := p.marks.at(0, 0)
	require.True(t, ok)
	assert.Greater(t, ride.gap, 0.0)
	assert.GreaterOrEqual(t, ride.slack, -1e-9, "nothing is tight at ride")
	gap := func(left, right float64) float64 {
		x, ok := p.marks.at(left, right)
		require.True(t, ok)
		return x.gap
	}
	assert.Greater(t, gap(70, 70), 0.0) // first touch at 77.9 of bump
	assert.Less(t, gap(86, 86), 0.0)
	assert.Greater(t, gap(0, 100), 0.0) // nothing of the kind with the right wheel alone
	pair, hit, at, ok := p.marks.worst()
	require.True(t, ok)
	assert.True(t, hit)
	assert.Equal(t, "Tank shelf", s.Gaps.Parts[max(s.Gaps.Pairs[pair].A, s.Gaps.Pairs[pair].B)].Name)
	assert.Greater(t, at.left+at.right, 0.0)
	assert.Len(t, p.marks.begins, 1, "the line where they first touch, from edge to edge")
	assert.Empty(t, p.marks.touchLine(), "all that touches is proved")
	marked := func(left, right float64) [2]bool {
		hits, tight := p.marks.marked(left, right)
		return [2]bool{hits, tight}
	}
	assert.Equal(t, [2]bool{true, true}, marked(78.6, 78.6), "first touch at 77.90")
	assert.Equal(t, [2]bool{false, true}, marked(77.2, 77.2))
	assert.Equal(t, [2]bool{false, false}, marked(0, 100))
	assert.Contains(t, wordsOn(p), "rod hits shelf")
	_, ok = p.marks.at(400, 400)
	assert.False(t, ok)
}

func TestAHitInOneCornerOnlyIsFound(t *testing.T) {
	_, p := open(t, read(t, "rescue-tender"))
	require.NotNil(t, p.shownMarks())
	at, ok := p.marks.at(178, -177)
	require.True(t, ok)
	assert.Less(t, at.gap, 1.0) // driveshaft and side tank touch at (175.1, -175.1), 4 mm before the corner
	_, hit, _, _ := p.marks.worst()
	assert.True(t, hit)
	for travel, want := range map[float64]bool{174: false, 176: true} { // however small the corner
		hits, _ := p.marks.marked(travel, -travel)
		assert.Equal(t, want, hits, "%v", travel)
	}
}

func TestSetAsideIsNotMarked(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	s, _ := d.Study()
	done := false
	for i := range s.Findings {
		if f := &s.Findings[i]; f.Pair >= 0 && f.Value < 0 {
			require.NoError(t, d.SetAside(f, "will be cut away"))
			done = true
			break
		}
	}
	require.True(t, done)
	d.Settle()
	require.NotNil(t, p.shownMarks())
	_, hit, _, _ := p.marks.worst()
	assert.False(t, hit)
}

func TestWithoutARangeItSaysWhatToEnter(t *testing.T) {
	j := read(t, "orchard-sprayer")
	for i := range j.Struts {
		j.Struts[i].Closed, j.Struts[i].Open = nil, nil
	}
	d, p := open(t, j)
	s, _ := d.Study()
	require.NotEmpty(t, s.RangeNote)
	_, ok := p.Where("dot")
	assert.False(t, ok)
	head, rest := say(s, true, "mm", 0, 0)
	assert.Empty(t, head)
	assert.Equal(t, s.RangeNote, rest)
	press := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(150, 150)}, Button: desktop.MouseButtonPrimary}
	assert.NotPanics(t, func() { p.MouseDown(press); p.MouseUp(press); p.Walk() })
}

func TestOldMarksAreNotShownAsCurrent(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	require.NotNil(t, p.shownMarks())
	require.NoError(t, d.Edit("rod lower", "", func(j *job.Job) error {
		for i := range j.Links {
			if j.Links[i].Name == "Panhard rod" {
				j.Links[i].Frame[2] -= 55
				j.Links[i].Axle[2] -= 55
			}
		}
		return nil
	}))
	assert.Nil(t, p.shownMarks())
	assert.NotContains(t, wordsOn(p), "rod hits shelf")
	d.Settle()
	require.NotNil(t, p.shownMarks())
	_, hit, _, _ := p.marks.worst()
	assert.False(t, hit) // 55 lower the overlap of 29 becomes a gap of 25.6
}

func TestLocateAndInterpolation(t *testing.T) {
	edge := []place{{-100, -100}, {100, -100}, {100, 100}, {-100, 100}}
	for _, tc := range []struct {
		left, right, want float64
	}{{50, 0, 0.5}, {0, -100, 1}, {-25, 25, 0.25}, {120, 0, 1.2}} {
		_, _, got, _, ok := locate(edge, tc.left, tc.right)
		require.True(t, ok)
		assert.InDelta(t, tc.want, got, 1e-12)
	}
	_, _, _, _, ok := locate(edge[:2], 1, 1)
	assert.False(t, ok)
}

func TestCancelledLookGivesNothing(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s, _ := d.Study()
	assert.Nil(t, lookOver(ctx, s, p.edge))
}

func TestBetweenTwoDirectionsOfTheRing(t *testing.T) {
	d, _ := open(t, read(t, "orchard-sprayer"))
	s, _ := d.Study()
	const deg = 37.5 // in the middle of two of its directions
	sin, cos := math.Sincos(deg * math.Pi / 180)
	list, known := ahead(s, 10*cos, 10*sin)
	require.True(t, known)
	require.NotEmpty(t, list)
	require.Equal(t, "rod hits shelf", list[0].words)
	// the first touch found by halving along the direction itself
	lo, hi := 0.0, 200.0
	pair := -1
	for i, p := range s.Gaps.Pairs {
		if short(s.Gaps.Parts[p.A].Name)+" hits "+short(s.Gaps.Parts[p.B].Name) == "rod hits shelf" {
			pair = i
		}
	}
	require.GreaterOrEqual(t, pair, 0)
	for range 40 {
		mid := (lo + hi) / 2
		if pos := s.At(mid*cos, mid*sin); pos.Err == "" && pos.Gaps[pair].Gap > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	assert.InDelta(t, lo*cos, list[0].at, 1.0) // within the millimetre that is shown
}

func TestNamesInShort(t *testing.T) {
	for in, want := range map[string]string{
		"Panhard rod": "rod", "Tank shelf": "shelf", "Driveshaft": "driveshaft", "Lower left": "left lower",
		"Rail behind right": "right rail behind", "Centre upper": "centre upper", "Wheel arch left": "left arch",
	} {
		assert.Equal(t, want, short(in))
	}
	both, ok := merge("left strut closed", "right strut closed")
	assert.True(t, ok)
	assert.Equal(t, "struts closed", both)
	_, ok = merge("left strut closed", "right strut open")
	assert.False(t, ok)
}

func TestPatchIsDrawnOnceUntilItChanges(t *testing.T) {
	_, p := open(t, read(t, "orchard-sprayer"))
	img := p.paint.draw(240, 160)
	assert.False(t, p.paint.stale)
	_, _, _, middle := img.At(120, 90).RGBA()
	_, _, _, corner := img.At(1, 1).RGBA()
	assert.NotZero(t, middle)
	assert.Zero(t, corner)
	p.draw()
	assert.False(t, p.paint.stale)
}

func TestNearACornerCountsAsThere(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	s, _ := d.Study()
	d.MoveAxle(s.Range.Bump-0.3, s.Range.Bump-0.1)
	assert.True(t, p.stands(document.FullBump))
	assert.Contains(t, wordsOn(p), "Left up 109, right up 109. First met:")
	d.MoveAxle(s.Range.Bump-3, s.Range.Bump-3)
	assert.False(t, p.stands(document.FullBump))
}

func TestWalkGoesRoundTheEdge(t *testing.T) {
	d, p := open(t, read(t, "orchard-sprayer"))
	p.Walk()
	require.NotNil(t, p.walk)
	least, most := math.Inf(1), math.Inf(-1)
	for f := float32(0); f <= 1; f += 0.02 {
		p.walk.Tick(f)
		pose := d.Position().Pose
		s, _ := d.Study()
		assert.True(t, onEdge(s, pose.Left, pose.Right) || !s.Range.Contains(pose.Left*1.03, pose.Right*1.03), "%v %v", pose.Left, pose.Right)
		least, most = math.Min(least, pose.Left-pose.Right), math.Max(most, pose.Left-pose.Right)
	}
	assert.Less(t, least, -300.0)
	assert.Greater(t, most, 300.0)
	p.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Nil(t, p.walk)
}

func TestSmallPadStillWorks(t *testing.T) {
	_, p := open(t, read(t, "survey-wagon"))
	assert.NotPanics(t, func() {
		p.Resize(fyne.NewSize(248, 236))
		p.Resize(fyne.NewSize(10, 10))
		p.Resize(fyne.NewSize(600, 500))
	})
}

// What the worst pair's words say also says that its gap rests on a guess: in words where there is room, else by a guess's mark.
func TestTheTagSaysThatItRestsOnAGuess(t *testing.T) {
	j := read(t, "orchard-sprayer")
	for i := range j.Links {
		if j.Links[i].Name == "Panhard rod" {
			j.Links[i].Given, j.Links[i].Measured = nil, nil
		}
	}
	d, p := open(t, j)
	d.MoveAxle(0, 0)
	p.Refresh()
	assert.Contains(t, p.Texts(), "rod hits shelf ?")
	p.Resize(fyne.NewSize(700, 700))
	p.Refresh()
	assert.Contains(t, p.Texts(), "rod hits shelf, rests on a guess")
}
