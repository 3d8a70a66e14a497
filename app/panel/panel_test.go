package panel

import (
	"bytes"
	"image"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// never are words the window must not show.
var never = []string{"pose", "envelope", "utilisation", "heave", "misalignment", "verdict", "variant", "underlay", "snap", "ghost", "safe", "legal", "approved", "compliant", "guaranteed"}

func refuseWords(t *testing.T, text string) {
	t.Helper()
	low := strings.ToLower(text)
	for _, w := range never {
		for _, f := range strings.FieldsFunc(low, func(r rune) bool { return r < 'a' || r > 'z' }) {
			assert.NotEqual(t, w, f, "the window says %q in %q", w, text)
		}
	}
}

// bench is a document with a host that notes what it is asked.
type noted struct {
	h      *Host
	d      *document.Document
	went   [2]float64
	pair   int
	told   error
	ran    []string
	opened Drawer
	part   document.Part
	mapped [2]string
	ask    func(string) error
}

func open(t *testing.T, demo string) *noted {
	t.Helper()
	test.NewTempApp(t)
	j, err := job.Read(bytes.NewReader(assets.Demo(demo)))
	require.NoError(t, err)
	d := document.New(j, true, document.Options{})
	t.Cleanup(d.Close)
	d.Settle()
	n := &noted{d: d}
	n.h = &Host{Doc: d, Post: func(f func()) { f() }, Against: [2]string{"both", "both"},
		GoThere:    func(f *study.Finding) { n.went, n.pair = [2]float64{f.Left, f.Right}, f.Pair },
		GoPlace:    func(l, r float64, p int) { n.went, n.pair = [2]float64{l, r}, p },
		StartMyJob: func() { n.ran = append(n.ran, "start") },
		Run:        func(a string) { n.ran = append(n.ran, a) },
		Enabled:    func(string) bool { return true },
		Menu:       func(string) *fyne.Menu { return fyne.NewMenu("") },
		Toggle:     func(x Drawer) { n.opened = x },
		Opened:     func() Drawer { return n.opened },
		Tell:       func(err error) { n.told = err },
		Ask:        func(_, _, _ string, f func(string) error) { n.ask = f },
		AskMany:    func(string, []string, []string, func([]string) error) {},
		ShowPart:   func(p document.Part) { n.part = p },
		ShowPair:   func(a, b string) { n.mapped = [2]string{a, b} },
		Explain:    func(*Reading, fyne.CanvasObject) {},
	}
	return n
}

func reading(t *testing.T, d *document.Document, key string) Reading {
	t.Helper()
	for _, r := range Readings(d) {
		if r.Key == key {
			return r
		}
	}
	t.Fatalf("no reading %q", key)
	return Reading{}
}

func TestReadingsOfTheSprayerAtRide(t *testing.T) {
	n := open(t, "orchard-sprayer")
	r := reading(t, n.d, "pinion")
	assert.Equal(t, "2.5", r.Value)
	assert.Equal(t, "nose up", r.Word)
	r = reading(t, n.d, "antisquat")
	assert.Equal(t, "74", r.Value)
	assert.Equal(t, "full load", r.Word)
	assert.Equal(t, [2]float64{50, 100}, [2]float64{r.BandLo, r.BandHi})
	assert.Len(t, r.Ticks, 3, "a tick for every height")
	r = reading(t, n.d, "rollsteer")
	assert.Equal(t, "4", r.Value)
	assert.Equal(t, "oversteer", r.Word)
	r = reading(t, n.d, "slip")
	assert.Equal(t, "30 / 30", r.Value)
	assert.Equal(t, 100.0, reading(t, n.d, "joint").Limit)
}

func TestReadingsFollowTheAxle(t *testing.T) {
	n := open(t, "orchard-sprayer")
	require.True(t, n.d.GoCorner(document.FullBump))
	r := reading(t, n.d, "pinion")
	assert.Equal(t, "0.8", r.Value)
	assert.Equal(t, "nose down", r.Word)
	assert.Equal(t, "understeer", reading(t, n.d, "rollsteer").Word)
	assert.Equal(t, "24 / 36", reading(t, n.d, "slip").Value)
}

func TestReadingsOfAnotherLoad(t *testing.T) {
	n := open(t, "orchard-sprayer")
	for i, l := range n.d.Current().Vehicle.Loads {
		if l.Name == "empty" {
			n.d.SetLoad(i)
		}
	}
	r := reading(t, n.d, "antisquat")
	assert.Equal(t, "empty", r.Word)
	assert.True(t, math.IsNaN(r.BandLo))
	assert.Equal(t, 120.0, r.BandHi)
}

// A layout that does not hold the axle has no figures; that is not the same as none left.
func TestReadingsWithoutFigures(t *testing.T) {
	n := open(t, "orchard-sprayer")
	require.NoError(t, n.d.Edit("remove Panhard rod", "", func(j *job.Job) error {
		j.Links = slices.DeleteFunc(j.Links, func(l job.Link) bool { return l.Name == "Panhard rod" })
		return nil
	}))
	n.d.Settle()
	for _, key := range []string{"slip", "shaftfront", "shaftrear", "fluctuation"} {
		r := reading(t, n.d, key)
		assert.Equal(t, "?", r.Value, key)
		assert.Equal(t, "no figures yet", r.Word, key)
	}
}

func TestReadingsInInches(t *testing.T) {
	n := open(t, "orchard-sprayer")
	n.d.SetUnit("in")
	r := reading(t, n.d, "slip")
	assert.Equal(t, "1.18 / 1.18", r.Value)
	assert.Equal(t, "in", r.Unit)
}

func TestEveryReadingIsDefinedInAllowedWords(t *testing.T) {
	n := open(t, "orchard-sprayer")
	for _, r := range Readings(n.d) {
		def := Define(&r, n.d)
		heads := map[string]string{}
		for _, l := range def.Lines {
			heads[l[0]] = l[1]
			refuseWords(t, l[1])
		}
		for _, h := range []string{"Now", "What it is", "Sign", "What moves it", "Inputs"} {
			assert.NotEmpty(t, heads[h], "%s: %s", r.Name, h)
		}
	}
}

func TestTightLineSaysTheWorst(t *testing.T) {
	n := open(t, "orchard-sprayer")
	line := NewTight(n.h)
	text := line.Text()
	assert.True(t, strings.HasPrefix(text, "HITS Panhard rod / tank shelf 29 mm"), text)
	refuseWords(t, text)
	test.Tap(line.GoTo)
	assert.InDelta(t, 109.4, n.went[0], 0.3)
	assert.InDelta(t, 109.4, n.went[1], 0.3)
	assert.False(t, line.Start.Hidden, "the demo offers Start my job")
}

func TestTightLineWithoutAFinding(t *testing.T) {
	n := open(t, "orchard-sprayer")
	s, _ := n.d.Study()
	quiet := &study.Study{Job: s.Job, Mech: s.Mech, Gaps: s.Gaps, Smallest: s.Smallest}
	say, aim := tightLine(quiet, true, "mm")
	assert.Nil(t, aim)
	assert.False(t, say.trouble)
	assert.True(t, strings.HasPrefix(say.names, "No contact found between the parts drawn. Tightest: "), say.names)
	say, _ = tightLine(quiet, false, "mm")
	assert.True(t, strings.HasPrefix(say.names, "Was: "), say.names)
}

func TestStaleFiguresSayWas(t *testing.T) {
	n := open(t, "orchard-sprayer")
	s, _ := n.d.Study()
	say, _ := tightLine(s, false, "mm")
	assert.Equal(t, "was 29 mm", say.number)
	list := NewFindingList(n.h)
	list.Update(s, false)
	for _, text := range list.Texts() {
		if strings.Contains(text, "tank shelf") {
			assert.True(t, strings.HasPrefix(text, "Was: "), text)
		}
	}
}

func TestFindingsStandByKindAndCanBeSetAside(t *testing.T) {
	n := open(t, "orchard-sprayer")
	p := NewFindings(n.h)
	texts := p.Texts()
	require.NotEmpty(t, texts)
	assert.True(t, strings.HasPrefix(texts[0], "Hits "), texts[0])
	for _, x := range texts {
		refuseWords(t, x)
	}
	refuseWords(t, p.Checked())
	assert.Contains(t, p.Checked(), "3 heights, 2 loads, whole travel")

	s, _ := n.d.Study()
	f := s.Worst()
	require.NotNil(t, f)
	m := asideMenu(n.h, f)
	assert.Len(t, m.Items, len(edit.ReadyReasons)+2)
	m.Items[0].Action()
	require.NoError(t, n.told)
	n.d.Settle()
	p.Update(document.StudyChanged)
	assert.False(t, strings.HasPrefix(p.Texts()[0], "Hits "), p.Texts()[0])
	last := p.Texts()[len(p.Texts())-1]
	assert.Contains(t, last, "Set aside: "+edit.ReadyReasons[0])
	n.d.Undo()
	n.d.Settle()
	p.Update(document.StudyChanged)
	assert.True(t, strings.HasPrefix(p.Texts()[0], "Hits "))
}

func TestBriefSentenceFitsTwoLines(t *testing.T) {
	test.NewTempApp(t)
	const long = "Panhard rod hits the tank shelf at 78 mm of bump (109 till the struts are home). At full bump it is 29 mm in; 54 mm short of the 25 mm you asked for."
	got := inLines(long, 374, 2)
	assert.LessOrEqual(t, len(look.Wrap(got, look.Small, false, 374)), 2)
	assert.True(t, strings.HasPrefix(got, "Panhard rod hits the tank shelf at 78 mm of bump."), got)
	assert.Equal(t, long, inLines(long, 2000, 2))
}

func TestTopBarDropsInOrder(t *testing.T) {
	n := open(t, "orchard-sprayer")
	require.NoError(t, n.d.NudgePivot(document.Pivot{List: document.Links, Index: 2, End: document.FrameEnd}, r3.Vec{X: 1}))
	n.d.MoveAxle(10, 10)
	top := NewTop(n.h)
	w := test.NewTempWindow(t, top)
	w.SetPadded(false)
	shown := func(width float32) [3]bool {
		top.Resize(fyne.NewSize(width, look.TopBar))
		return [3]bool{top.Last.Visible(), top.Between.Visible(), top.Unit.Visible()}
	}
	assert.Equal(t, [3]bool{true, true, true}, shown(1800))
	seen := map[[3]bool]bool{}
	for x := float32(1800); x > 900; x -= 10 {
		seen[shown(x)] = true
		end := top.Redo.Position().X + top.Redo.Size().Width
		assert.LessOrEqual(t, end, top.Export.Position().X, "at %g", x)
	}
	assert.Equal(t, map[[3]bool]bool{{true, true, true}: true, {false, true, true}: true, {false, false, true}: true, {false, false, false}: true}, seen)
}

func TestPartsFormSetsAndRefuses(t *testing.T) {
	n := open(t, "orchard-sprayer")
	d := NewDrawer(n.h, PartsDrawer)
	w := test.NewTempWindow(t, d)
	w.Resize(fyne.NewSize(948, 316))
	n.d.Select(document.Part{List: document.Links, Index: 2})
	d.Update(document.SelectionChanged)
	p := d.in.(*parts)
	e, ok := d.Named("tube.outside").(*Entry)
	require.True(t, ok)
	before := e.Text
	e.SetText("nonsense")
	e.OnSubmitted(e.Text)
	assert.True(t, p.form.plate.Visible())
	assert.NotEmpty(t, p.form.refused.Text())
	e.SetText("50")
	e.OnSubmitted(e.Text)
	assert.False(t, p.form.plate.Visible())
	assert.Equal(t, 50.0, n.d.Current().Links[2].Tube.Outside)
	n.d.Undo()
	d.Update(document.JobChanged)
	assert.Equal(t, before, e.Text)
}

func TestPartsAddedAndRemoved(t *testing.T) {
	n := open(t, "orchard-sprayer")
	d := NewDrawer(n.h, WayDrawer)
	d.Update(document.SelectionChanged)
	p := d.in.(*parts)
	count := len(n.d.Current().Envelopes)
	for _, item := range p.addMenu().Items {
		item.Action()
		require.NoError(t, n.told, item.Label)
		count++
		require.Len(t, n.d.Current().Envelopes, count, item.Label)
		d.Update(document.JobChanged | document.SelectionChanged)
		assert.Greater(t, len(p.form.cells), 3, item.Label)
	}
	test.Tap(p.remove)
	assert.Len(t, n.d.Current().Envelopes, count-1)
	n.d.Undo()
	assert.Len(t, n.d.Current().Envelopes, count)
}

func TestEveryShelfHasAForm(t *testing.T) {
	n := open(t, "orchard-sprayer")
	d := NewDrawer(n.h, PartsDrawer)
	p := d.in.(*parts)
	for i, s := range shelves {
		p.turn(i)
		if len(p.rows) == 0 {
			refuseWords(t, p.nothing())
			assert.NotEmpty(t, p.nothing(), s.name)
			continue
		}
		for _, row := range p.rows {
			n.d.Select(row)
			d.Update(document.SelectionChanged)
			assert.NotEmpty(t, p.form.cells, "%s %v", s.name, row)
			for _, c := range p.form.cells {
				refuseWords(t, c.field.Label)
			}
		}
	}
}

func TestMeasureListGathersAPivotsCoordinates(t *testing.T) {
	p := document.Pivot{List: document.Links, Index: 1}
	got := gather(nil, []edit.Guess{{IsPivot: true, Pivot: p, Axis: edit.X, Name: "Upper, frame end: X"}, {IsPivot: true, Pivot: p, Axis: edit.Y, Name: "Upper, frame end: Y"}, {Name: "Tank"}})
	require.Len(t, got, 2)
	assert.Equal(t, "Upper, frame end: X, Y", got[0].words)
	assert.Equal(t, "Tank", got[1].words)
}

func TestChartsHaveCurvesForEveryChoice(t *testing.T) {
	n := open(t, "orchard-sprayer")
	drawn := 0
	for _, c := range study.Charts() {
		for _, a := range study.Against {
			n.h.Against[0] = a[0]
			ask := askChart(n.h, c.Key, 0)
			s := ask.spec()
			assert.Equal(t, len(s.Curves) == 0, s.Why != "", "%s against %s: curves, or why there are none", c.Key, a[0])
			drawn += min(len(s.Curves), 1)
			refuseWords(t, s.Title+" "+s.XTitle+" "+s.Up+" "+s.Down)
			for _, k := range s.Curves {
				assert.Len(t, k.Y, len(k.X))
			}
		}
	}
	assert.GreaterOrEqual(t, drawn, 4*12, "the sprayer has links, struts, a shaft, a hose and gaps")
}

func TestChartInInchesIsTheSameCurve(t *testing.T) {
	n := open(t, "orchard-sprayer")
	mmAsk := askChart(n.h, "slip", 0)
	mm := mmAsk.spec()
	n.d.SetUnit("in")
	inAsk := askChart(n.h, "slip", 0)
	in := inAsk.spec()
	require.Equal(t, len(mm.Curves[0].Y), len(in.Curves[0].Y))
	for i := range mm.Curves[0].Y {
		assert.InDelta(t, mm.Curves[0].Y[i], in.Curves[0].Y[i]*25.4, 1e-9)
		assert.InDelta(t, mm.Curves[0].X[i], in.Curves[0].X[i]*25.4, 1e-9)
	}
}

func TestPaneDrawsAndFollowsTheAxle(t *testing.T) {
	n := open(t, "orchard-sprayer")
	done := make(chan struct{}, 8)
	queue := make(chan func(), 8)
	n.h.Post = func(f func()) { queue <- f; done <- struct{}{} }
	d := NewDrawer(n.h, ChartsDrawer)
	w := test.NewTempWindow(t, d)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(948, 316))
	p := d.in.(*charts).panes[0]
	p.pixels = [2]int{int(p.raster.Size().Width), int(p.raster.Size().Height)}
	p.update(document.StudyChanged)
	for p.img == nil {
		select {
		case f := <-queue:
			f()
		case <-time.After(20 * time.Second):
			t.Fatal("the chart was not drawn")
		}
	}
	assert.False(t, blank(p.img))
	require.NotEmpty(t, p.dots)
	assert.Equal(t, "92", p.dots[0].Words)
	n.d.MoveAxle(50, 50)
	p.update(document.PositionChanged)
	assert.Equal(t, "102", p.dots[0].Words)
	n.d.MoveAxle(50, -50)
	p.update(document.PositionChanged)
	assert.Empty(t, p.dots, "the axle is not on the chart's line")
}

// blank reports whether a picture is all of one colour.
func blank(img *image.RGBA) bool {
	first := img.RGBAAt(0, 0)
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if img.RGBAAt(x, y) != first {
				return false
			}
		}
	}
	return true
}

func TestWhereWords(t *testing.T) {
	for _, c := range []struct {
		left, right float64
		want        string
	}{{0, 0, "at ride"}, {100, 100, "both wheels up 100"}, {-50.2, -50, "both wheels down 50"}, {176, -180, "left up 176, right down 180"}, {30, 0, "left up 30, right at ride"}} {
		assert.Equal(t, c.want, where(c.left, c.right, "mm"))
	}
}

func TestReadingsOfAStillFront(t *testing.T) {
	n := open(t, "orchard-sprayer")
	require.NoError(t, n.d.Edit("front still", "", func(j *job.Job) error { j.Vehicle.FrontTravel = "still"; return nil }))
	n.d.Settle()
	n.d.MoveAxle(60, 60)
	words := map[string]Reading{}
	for _, r := range Readings(n.d) {
		words[r.Key] = r
		refuseWords(t, r.Name+" "+r.Word+" "+r.Under)
	}
	for _, key := range []string{"antisquat", "rollsteer", "rollcentre", "antilift", "pinionground"} {
		assert.Contains(t, words[key].Word, "front still", key)
	}
	assert.NotContains(t, words["pinion"].Word, "front still")
	// the tail goes 60 mm down over the wheelbase: the chassis tips nose up by that
	v := n.d.Position().Values[n.d.Load()]
	assert.InDelta(t, math.Atan2(60, v.Wheelbase)*180/math.Pi, math.Abs(v.PinionGroundDeg-v.PinionDeg), 0.02)
	assert.NotEmpty(t, Define(&Reading{Key: "pinionground"}, n.d).Lines)
	n.h.Against[0] = "crossed"
	ask := askChart(n.h, "rollsteer", 0)
	assert.Contains(t, ask.spec().Title, "front still")
}

func TestReadingsOfAShaftWithASpeed(t *testing.T) {
	n := open(t, "orchard-sprayer")
	require.NoError(t, n.d.Edit("speed", "", func(j *job.Job) error { v := 3000.0; j.Driveline.Speed = &v; return nil }))
	n.d.Settle()
	found := map[string]Reading{}
	for _, r := range Readings(n.d) {
		found[r.Key] = r
	}
	require.Contains(t, found, "torsional")
	assert.Equal(t, "joint maker's advice", found["torsional"].Under)
	assert.InDelta(t, 300, found["torsional"].BandHi, 1e-9)
	assert.True(t, found["torsional"].HasExtent)
	v := n.d.Position().Values[n.d.Load()]
	assert.InDelta(t, math.Max(v.InertiaFront, v.InertiaRear), found["inertia"].Now, 1e-9)
	require.NoError(t, n.d.Edit("no speed", "", func(j *job.Job) error { j.Driveline.Speed = nil; return nil }))
	for _, r := range Readings(n.d) {
		assert.NotEqual(t, "torsional", r.Key)
	}
}

func TestTheMostForcedMemberIsNamed(t *testing.T) {
	n := open(t, "survey-wagon")
	n.d.GoCorner(document.LeftUp)
	for _, r := range Readings(n.d) {
		if r.Key == "forced" {
			assert.Equal(t, "Upper left", r.Under)
			assert.InDelta(t, 2.328, r.Now, 0.05)
			return
		}
	}
	t.Fatal("no reading of what is forced")
}

func TestHeightsShowEveryHeightAndLoad(t *testing.T) {
	n := open(t, "survey-wagon")
	b := newHeights(n.h)
	w := test.NewTempWindow(t, b.object())
	w.Resize(fyne.NewSize(948, 280))
	b.update(^document.Change(0))
	s, _ := n.d.Study()
	tab := s.HeightTable()
	lines := b.lines()
	require.Len(t, lines, len(tab.Rows)+len(tab.Captions))
	for i := range tab.Rows {
		assert.Equal(t, len(tab.Heights)*len(tab.Loads), strings.Count(lines[i], " | "), lines[i])
		refuseWords(t, lines[i])
	}
	assert.Contains(t, strings.Join(lines, "\n"), "over") // raised it steers toward oversteer
	b.table.choose(4)
	r := b.table.row()
	spec := heightSpec(r, tab, b.own, n.d.Load(), "mm", false)
	require.NotEmpty(t, spec.Curves)
	for _, c := range spec.Curves {
		require.Len(t, c.X, len(tab.Heights))
		assert.IsIncreasing(t, c.X)
	}
	assert.Len(t, spec.Ticks, len(tab.Heights))
	inch := heightSpec(r, tab, b.own, n.d.Load(), "in", false)
	assert.InDelta(t, spec.Curves[0].X[0], inch.Curves[0].X[0]*25.4, 1e-9)
	b.table.go_(tab.Travel[0][0])
	l, _ := n.d.Travels()
	assert.InDelta(t, tab.Travel[0][0], l, 1e-6)
}

func TestCellsSayTheirSide(t *testing.T) {
	row := func(key, unit string, v float64) *study.HeightRow {
		return &study.HeightRow{Reading: study.Reading{Key: key, Unit: unit}, Cells: [][]study.HeightCell{{{Value: v}}}}
	}
	for _, tc := range []struct {
		key, unit, shown, want string
		v                      float64
	}{
		{"rollsteer", "%", "mm", "4 over", 4.1}, {"rollsteer", "%", "mm", "5 under", -4.8}, {"rollsteer", "%", "mm", "0", 0.2},
		{"antisquat", "%", "mm", "\u221212", -12}, {"gap", "mm", "mm", "9.6", 9.61}, {"gap", "mm", "mm", "\u221229", -29.1},
		{"sideshift", "mm", "in", "0.50 left", 12.7}, {"use", "% of its limit", "mm", "?", math.NaN()},
	} {
		assert.Equal(t, tc.want, cellWords(row(tc.key, tc.unit, tc.v), 0, 0, tc.shown), "%s %v", tc.key, tc.v)
	}
}

func TestTheListOfFindingsCutsNoLineInTwo(t *testing.T) {
	n := open(t, "orchard-sprayer")
	l := NewFindingList(n.h)
	s, _ := n.d.Study()
	l.Update(s, true)
	total := float32(2)
	for _, o := range l.Box.Objects {
		total += o.(look.Tall).HeightFor(400)
	}
	for room := float32(60); room < total+40; room += 7 {
		got := l.whole(400, room)
		assert.LessOrEqual(t, got, room)
		if room >= total+4 {
			assert.Equal(t, room, got)
			continue
		}
		assert.Greater(t, got, room-look.Lead-12, "no more is left empty than a line and the room between two rows")
		at := float32(2)
		for _, o := range l.Box.Objects {
			h := o.(look.Tall).HeightFor(400)
			first := float32(3)
			if _, head := o.(*headRow); head {
				first = 8
			}
			for y := at + first; y+look.Lead <= at+h; y += look.Lead {
				assert.False(t, y+1 < got && got < y+look.Lead-1, "room %v: cut at %v in the line from %v", room, got, y)
			}
			at += h
		}
	}
}

func TestArmsRockersSensorsAndTheBearingCanBeAddedCopiedAndTakenOut(t *testing.T) {
	n := open(t, "orchard-sprayer")
	p := newParts(n.h)
	for at, s := range p.shelves {
		for _, l := range s.lists {
			switch l {
			case edit.Arms, edit.Rockers, edit.Sensors, edit.Bearing:
			default:
				continue
			}
			for _, kind := range edit.Kinds(l) {
				p.turn(at)
				before := edit.Len(n.d.Current(), l)
				p.put(l, kind)
				require.NoError(t, n.told, "%s: %s", s.name, kind)
				require.Greater(t, edit.Len(n.d.Current(), l), before, kind)
				sel, ok := n.d.Selected()
				require.True(t, ok)
				assert.Equal(t, l, sel.List)
				p.update(^document.Change(0))
				for _, f := range edit.Fields(n.d.Current(), sel) {
					refuseWords(t, f.Label+" "+f.Default)
				}
				if copyable(l) {
					p.duplicate()
					require.NoError(t, n.told, "copy of %s", kind)
					p.update(^document.Change(0))
					p.takeOut()
					require.NoError(t, n.told, "copy of %s", kind)
					n.d.Select(sel)
					p.update(^document.Change(0))
				}
				p.takeOut()
				require.NoError(t, n.told, "%s: %s", s.name, kind)
				assert.Equal(t, before, edit.Len(n.d.Current(), l), kind)
			}
		}
	}
}

func TestCheckedLineInShort(t *testing.T) {
	assert.Equal(t, "Checked: 3 heights, 2 loads, whole travel; 21 left out; 1 finding set aside",
		inShort("Checked: 3 heights, 2 loads, whole travel; 21 pairs left out; gaps proved to 0.5 mm; 1 finding set aside"))
	assert.Equal(t, "Checked: 1 height, 1 load, no travel yet; 1 pair left out", inShort("Checked: 1 height, 1 load, no travel yet; 1 pair left out"))
}
