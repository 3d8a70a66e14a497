package document

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// demo is a demo job with every mark of measuring taken off, so that edits are free.
func demo(t require.TestingT, name string) *job.Job {
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	for _, p := range edit.Pivots(j) {
		require.NoError(t, edit.SetMeasured(j, p, false))
	}
	for i := range j.Envelopes {
		j.Envelopes[i].Measured = nil
	}
	return j
}

func sprayer(t testing.TB) *Document {
	t.Helper()
	d := New(demo(t, "orchard-sprayer"), true, Options{})
	t.Cleanup(d.Discard)
	return d
}

func link(t testing.TB, j *job.Job, name string) int {
	t.Helper()
	for i := range j.Links {
		if j.Links[i].Name == name {
			return i
		}
	}
	require.FailNow(t, "no link "+name)
	return 0
}

func rodEnd(t testing.TB, d *Document, end End) Pivot {
	return Pivot{List: Links, Index: link(t, d.Current(), "Panhard rod"), End: end}
}

func title(text string) func(*job.Job) error {
	return func(j *job.Job) error { j.Title = text; return nil }
}

func TestUndoAndRedoAreExact(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := New(demo(rt, "rescue-tender"), true, Options{})
		defer d.Discard()
		states := []*job.Job{d.Job()}
		steps := rapid.IntRange(1, 8).Draw(rt, "steps")
		for range steps {
			p := edit.Pivots(d.Current())[rapid.IntRange(0, 5).Draw(rt, "pivot")]
			at, _ := edit.At(d.Current(), p)
			at.X += rapid.Float64Range(1, 20).Draw(rt, "dx")
			require.NoError(rt, d.Edit("step", "", func(j *job.Job) error { return edit.Move(j, p, at) }))
			states = append(states, d.Job())
		}
		for i := steps - 1; i >= 0; i-- {
			_, ok := d.Undo()
			require.True(rt, ok)
			require.Same(rt, states[i], d.Job())
		}
		_, ok := d.Undo()
		require.False(rt, ok)
		require.False(rt, d.Dirty(), "undone to what it was opened with")
		for i := 1; i <= steps; i++ {
			_, ok := d.Redo()
			require.True(rt, ok)
			require.Same(rt, states[i], d.Job())
		}
		_, ok = d.Redo()
		require.False(rt, ok)
	})
}

func TestRunsJoinTillThereIsAPause(t *testing.T) {
	d := sprayer(t)
	now := time.Unix(0, 0)
	d.history.clock = func() time.Time { return now }
	p := rodEnd(t, d, FrameEnd)
	start := d.Job()
	for range 5 {
		now = now.Add(200 * time.Millisecond)
		require.NoError(t, d.NudgePivot(p, r3.Vec{Z: -1}))
	}
	at, _ := edit.At(d.Current(), p)
	assert.Equal(t, 540.0, at.Z)
	now = now.Add(pause)
	require.NoError(t, d.NudgePivot(p, r3.Vec{Z: -0.1}))
	at, _ = edit.At(d.Current(), p)
	assert.Equal(t, 539.9, at.Z)
	label, ok := d.CanUndo()
	assert.True(t, ok)
	assert.Equal(t, "move Panhard rod, frame end", label)
	d.Undo()
	d.Undo()
	assert.Same(t, start, d.Job())
	_, ok = d.CanUndo()
	assert.False(t, ok)
	_, ok = d.CanRedo()
	assert.True(t, ok)
}

func TestAnEditThatIsRefusedChangesNothing(t *testing.T) {
	d := sprayer(t)
	before := d.Job()
	err := d.Edit("x", "", func(j *job.Job) error {
		j.Struts[0].Closed, j.Struts[0].Open = j.Struts[0].Open, j.Struts[0].Closed
		return nil
	})
	require.Error(t, err)
	var r *Refusal
	require.ErrorAs(t, err, &r)
	assert.Contains(t, Words(err), "Strut")
	assert.Same(t, before, d.Job())
	require.Error(t, d.Edit("x", "", func(j *job.Job) error { j.Title = "half"; return errors.New("No.") }))
	assert.Same(t, before, d.Job())
	_, ok := d.CanUndo()
	assert.False(t, ok)
	require.NoError(t, d.Edit("nothing", "", func(*job.Job) error { return nil }))
	_, ok = d.CanUndo()
	assert.False(t, ok, "an edit that changes nothing is no step")
}

func TestADragIsOneStepAndEscapeTakesItBack(t *testing.T) {
	d := sprayer(t)
	p := rodEnd(t, d, AxleEnd)
	before := d.Job()
	require.Error(t, d.DragPivot(p, r3.Vec{}), "nothing is being dragged")
	d.BeginDrag("rod lower")
	for z := 499.0; z > 480; z-- {
		require.NoError(t, d.DragPivot(p, r3.Vec{X: -210, Y: 470, Z: z}))
	}
	assert.True(t, d.Dragging())
	at, _ := edit.At(d.Current(), p)
	assert.Equal(t, 481.0, at.Z)
	_, ok := d.CanUndo()
	assert.False(t, ok, "no history while it lasts")
	d.Cancel()
	assert.Same(t, before, d.Job())

	d.BeginDrag("rod lower")
	require.NoError(t, d.DragPivot(p, r3.Vec{X: -210, Y: 470, Z: 480}))
	require.Error(t, d.DragPivot(p, r3.Vec{X: 1e9}), "refused")
	at, _ = edit.At(d.Current(), p)
	assert.Equal(t, 480.0, at.Z, "the last good one stays")
	d.Commit()
	label, ok := d.Undo()
	assert.True(t, ok)
	assert.Equal(t, "rod lower", label)
	assert.Same(t, before, d.Job())

	d.BeginDrag("there and back")
	require.NoError(t, d.DragPivot(p, r3.Vec{X: -210, Y: 470, Z: 480}))
	require.NoError(t, d.DragPivot(p, r3.Vec{X: -210, Y: 470, Z: 500}))
	d.Commit()
	_, ok = d.CanUndo()
	assert.False(t, ok, "ended where it began")
}

func TestMeasuredPivotsRefuseDragsAndKeys(t *testing.T) {
	d := sprayer(t)
	p := rodEnd(t, d, FrameEnd)
	require.NoError(t, d.SetMeasured(p, true))
	d.BeginDrag("x")
	assert.ErrorContains(t, d.DragPivot(p, r3.Vec{X: -230, Y: -430, Z: 500}), "measured: press Free to move it")
	d.Commit()
	assert.ErrorContains(t, d.NudgePivot(p, r3.Vec{Z: 1}), "measured: press Free to move it")
	require.NoError(t, d.SetMeasured(p, false))
	require.NoError(t, d.NudgePivot(p, r3.Vec{Z: 1}))
	d.Undo()
	label, _ := d.Undo()
	assert.Equal(t, "free Panhard rod, frame end", label)
	assert.True(t, edit.IsMeasured(d.Current(), p), "freeing is undoable")
}

func TestPartsInTheWayMoveToo(t *testing.T) {
	d := sprayer(t)
	var rail, tank Part
	for i, e := range d.Current().Envelopes {
		switch e.Name {
		case "Rail ahead":
			rail = Part{List: Envelopes, Index: i}
		case "Rear tank":
			tank = Part{List: Envelopes, Index: i}
		}
	}
	d.BeginDrag("rail")
	require.NoError(t, d.DragPart(rail, job.Right, r3.Vec{Y: -3}))
	require.NoError(t, d.DragPart(rail, job.Right, r3.Vec{Y: -10}))
	d.Commit()
	assert.Equal(t, 410.0, *d.Current().Envelopes[rail.Index].From, "outward on either side")
	require.NoError(t, d.NudgePart(tank, job.Single, r3.Vec{X: -5}))
	assert.Equal(t, -1105.0, d.Current().Envelopes[tank.Index].Min[0])
	require.NoError(t, d.SetPartMeasured(tank, true))
	assert.ErrorContains(t, d.NudgePart(tank, job.Single, r3.Vec{X: -5}), "press Free")
	i := link(t, d.Current(), "Centre upper")
	require.NoError(t, d.SetKeepLength(i, true))
	length := edit.LinkLength(d.Current(), i)
	require.NoError(t, d.NudgePivot(Pivot{List: Links, Index: i}, r3.Vec{Z: 10}))
	assert.InDelta(t, length, edit.LinkLength(d.Current(), i), 1e-5)
}

func TestFiguresFollowAndNoOldOneLooksCurrent(t *testing.T) {
	d := sprayer(t)
	var seen Change
	cancel := d.Subscribe(func(c Change) { seen |= c })
	s, current := d.Study()
	assert.Same(t, d.Now(), s)
	assert.False(t, current)
	d.Settle()
	s, current = d.Study()
	assert.True(t, current)
	assert.Equal(t, study.Full, s.Depth)
	assert.Equal(t, Freshness{Live: true, Full: true}, d.Freshness())
	assert.InDelta(t, 109.358, s.Range.Bump, 0.01)
	assert.NotZero(t, seen&StudyChanged)

	p := rodEnd(t, d, FrameEnd)
	for _, q := range []Pivot{p, rodEnd(t, d, AxleEnd)} {
		require.NoError(t, d.NudgePivot(q, r3.Vec{Z: -55}))
		_, current = d.Study()
		assert.False(t, current, "older than the geometry")
		assert.Equal(t, Freshness{}, d.Freshness())
	}
	assert.InDelta(t, 480.0, d.Position().Values[0].RollCentre, 0.1, "the position is of the new geometry at once")
	d.Settle()
	_, current = d.Study()
	assert.True(t, current)

	d.BeginDrag("x")
	require.NoError(t, d.DragPivot(p, r3.Vec{X: -230, Y: -430, Z: 495}))
	d.Settle()
	assert.Equal(t, Freshness{Live: true}, d.Freshness(), "during a drag only the quick ones")
	d.Commit()
	d.Settle()
	assert.Equal(t, Freshness{Live: true, Full: true}, d.Freshness())
	cancel()
	seen = 0
	d.SetUnit("in")
	assert.Zero(t, seen)
}

func TestALayoutThatIsNotHeldIsSaidInWords(t *testing.T) {
	d := sprayer(t)
	require.NoError(t, d.Edit("remove the rod", "", func(j *job.Job) error {
		return edit.Remove(j, Part{List: Links, Index: link(t, j, "Panhard rod")})
	}))
	d.Settle()
	assert.Contains(t, d.Now().Refusal, "sideways")
	assert.NotEmpty(t, d.Position().Err)
	d.MoveAxle(20, 30)
	d.GoCorner(FullBump)
	d.MoveWheel(job.Left, 12)
	d.Undo()
	d.Settle()
	assert.Empty(t, d.Position().Err)
}

func TestTheAxleStaysInsideTheRange(t *testing.T) {
	d := sprayer(t)
	d.Settle()
	d.MoveAxle(500, 500)
	l, r := d.Travels()
	assert.InDelta(t, 109.358, l, 0.01)
	assert.InDelta(t, 109.358, r, 0.01)
	require.NotNil(t, d.Edge())
	c, ok := d.CornerAt()
	assert.True(t, ok)
	assert.Equal(t, FullBump, c)
	d.MoveAxle(20, -30)
	assert.Nil(t, d.Edge())
	d.MoveWheel(job.Right, -1000)
	l, r = d.Travels()
	assert.Equal(t, 20.0, l, "the other wheel stays")
	s, _ := d.Study()
	assert.True(t, s.Range.Contains(l, r))
	assert.False(t, s.Range.Contains(l, r-0.1))
	for c, want := range map[Corner][2]float64{Ride: {0, 0}, FullDroop: {-119.527, -119.527}, LeftUp: {176.545, -180.307}, RightUp: {-180.902, 175.390}} {
		require.True(t, d.GoCorner(c))
		l, r := d.Travels()
		assert.InDelta(t, want[0], l, 0.01)
		assert.InDelta(t, want[1], r, 0.01)
		got, _ := d.CornerAt()
		assert.Equal(t, c, got)
	}
}

func TestTheAxleFollowsItsCorner(t *testing.T) {
	d := sprayer(t)
	d.Settle()
	require.True(t, d.GoCorner(FullBump))
	require.NoError(t, d.SetField(Part{List: edit.Struts}, "closed", "426"))
	d.Settle()
	s, _ := d.Study()
	l, _ := d.Travels()
	assert.InDelta(t, s.Range.Bump, l, 1e-6)
	assert.Less(t, l, 95.0)
	d.Undo()
	d.Settle()
	l, _ = d.Travels()
	assert.InDelta(t, 109.358, l, 0.01)

	d.MoveAxle(105, 105)
	require.NoError(t, d.SetField(Part{List: edit.Struts}, "closed", "426"))
	d.Settle()
	l, _ = d.Travels()
	assert.Less(t, l, 95.0, "pushed in by the smaller range")
	d.Undo()
	d.Settle()
	l, _ = d.Travels()
	assert.InDelta(t, 105, l, 1e-6, "and back where it was put")
}

func TestHeightsAreLitOnlyWhileTheAxleStandsThere(t *testing.T) {
	d := sprayer(t)
	d.Settle()
	h, words := d.Standing()
	assert.Equal(t, 1, h)
	assert.Empty(t, words)
	assert.Equal(t, 1, d.Load(), "the heavier load")
	d.GoHeight(2)
	l, r := d.Travels()
	assert.Equal(t, [2]float64{40, 40}, [2]float64{l, r})
	for at, want := range map[float64]string{20: "between", 70: "past lowered", -80: "past raised"} {
		d.MoveAxle(at, at)
		h, words = d.Standing()
		assert.Equal(t, -1, h)
		assert.Equal(t, want, words)
	}
	d.MoveAxle(20, -20)
	_, words = d.Standing()
	assert.Equal(t, "between", words)
	require.NoError(t, d.SetField(Part{List: Loads, Index: 0}, "heave", "-12"))
	d.GoHeight(1)
	d.SetLoad(0)
	l, _ = d.Travels()
	assert.Equal(t, -12.0, l, "ride height with the lighter load")
	h, _ = d.Standing()
	assert.Equal(t, 1, h)
	d.SetLoad(7)
	assert.Equal(t, 0, d.Load())
}

func TestTrials(t *testing.T) {
	d := sprayer(t)
	drawn := d.Job()
	require.NoError(t, d.KeepTrial("rod 55 lower"))
	assert.Equal(t, "rod 55 lower", d.Trial())
	for _, end := range []End{FrameEnd, AxleEnd} {
		require.NoError(t, d.NudgePivot(rodEnd(t, d, end), r3.Vec{Z: -55}))
	}
	require.NoError(t, d.Edit("longer notes", "", func(j *job.Job) error { j.Notes = "both"; return nil }))
	i := link(t, drawn, "Panhard rod")
	assert.Equal(t, 490.0, d.Current().Links[i].Frame[2])
	assert.Equal(t, 545.0, d.Job().Links[i].Frame[2], "as drawn it stays")
	assert.Equal(t, "both", d.Job().Notes, "what is no trial's is the job's")
	require.NoError(t, d.SetTrial(""))
	assert.Equal(t, 545.0, d.Current().Links[i].Frame[2])
	assert.Equal(t, "both", d.Current().Notes)
	require.NoError(t, d.SetTrial("rod 55 lower"))

	require.NoError(t, d.Edit("away", "", func(j *job.Job) error { return edit.Remove(j, Part{List: edit.Lines}) }))
	assert.Empty(t, d.Current().Lines)
	assert.Len(t, d.Job().Lines, 1)
	require.NoError(t, d.SetTrial(""))
	assert.Len(t, d.Current().Lines, 1, "none in the trial, one as drawn")

	require.NoError(t, d.KeepTrial(""))
	assert.Equal(t, []string{"rod 55 lower", "trial 1"}, d.Trials())
	for _, bad := range []string{"Trial 1", "as it was", "As drawn"} {
		assert.ErrorContains(t, d.KeepTrial(bad), "taken")
	}
	require.NoError(t, d.RenameTrial("trial 1", "uppers"))
	assert.Equal(t, "uppers", d.Trial())
	require.Error(t, d.RenameTrial("uppers", " "))
	require.NoError(t, d.RemoveTrial("uppers"))
	assert.Equal(t, "", d.Trial())
	_, ok := d.Undo()
	assert.True(t, ok)
	assert.Equal(t, "uppers", d.Trial(), "undo chooses it again")

	require.NoError(t, d.TakeOver("rod 55 lower"))
	assert.Equal(t, "", d.Trial())
	assert.Equal(t, 490.0, d.Job().Links[i].Frame[2])
	for {
		if _, ok := d.Undo(); !ok {
			break
		}
	}
	assert.Same(t, drawn, d.Job())
	assert.Error(t, d.SetTrial("nobody"))
	assert.Error(t, d.RemoveTrial("nobody"))
	assert.Error(t, d.TakeOver("nobody"))
}

func TestRenamingReachesTrialsAndRemovingKeepsTheJobWhole(t *testing.T) {
	d := sprayer(t)
	require.NoError(t, d.KeepTrial("a"))
	require.NoError(t, d.SetTrial(""))
	i := link(t, d.Current(), "Panhard rod")
	require.NoError(t, d.SetField(Part{List: Links, Index: i}, "name", "Track rod"))
	require.NoError(t, d.SetTrial("a"))
	assert.Equal(t, "Track rod", d.Current().Links[i].Name)
	require.NoError(t, d.SetTrial(""))
	remove := func(j *job.Job) error { return edit.Remove(j, Part{List: Links, Index: i}) }
	require.NoError(t, d.Edit("remove", "", remove))
	require.NoError(t, d.SetTrial("a"))
	assert.Equal(t, "Track rod", d.Current().Links[i].Name, "the trial has its own")
	require.NoError(t, d.Edit("remove", "", remove), "and now nothing goes by that name")
	assert.Empty(t, job.Check(d.Job()))
	for k := range d.Job().Envelopes {
		assert.NotContains(t, d.Job().Envelopes[k].Carries, "Track rod")
	}
}

func TestSelectionFollowsItsPart(t *testing.T) {
	d := sprayer(t)
	p := rodEnd(t, d, AxleEnd)
	d.Hold(p)
	d.Select(Part{List: Links, Index: p.Index})
	require.NoError(t, d.Edit("remove the upper", "", func(j *job.Job) error {
		return edit.Remove(j, Part{List: Links, Index: link(t, j, "Centre upper")})
	}))
	got, ok := d.Held()
	assert.True(t, ok)
	assert.Equal(t, p.Index-1, got.Index)
	sel, _ := d.Selected()
	assert.Equal(t, p.Index-1, sel.Index)
	d.Undo()
	got, _ = d.Held()
	assert.Equal(t, p, got)
	require.NoError(t, d.SetField(Part{List: Links, Index: p.Index}, "name", "Track rod"))
	got, ok = d.Held()
	assert.True(t, ok, "a new name is no new part")
	assert.Equal(t, p, got)
	require.NoError(t, d.Edit("remove it", "", func(j *job.Job) error { return edit.Remove(j, Part{List: Links, Index: p.Index}) }))
	_, ok = d.Held()
	assert.False(t, ok)
	_, ok = d.Selected()
	assert.False(t, ok)
	d.Hold(Pivot{List: Links, Index: 99})
	_, ok = d.Held()
	assert.False(t, ok)
}

func TestUnitIsKeptWithTheFileButIsNoStep(t *testing.T) {
	dir := t.TempDir()
	d := sprayer(t)
	d.SetUnit("in")
	assert.True(t, d.Dirty())
	p := rodEnd(t, d, FrameEnd)
	require.NoError(t, d.TypePivot(p, edit.X, "-9"))
	at, _ := edit.At(d.Current(), p)
	assert.InDelta(t, -228.6, at.X, 1e-9)
	d.Undo()
	assert.Equal(t, "in", d.Unit())
	assert.Equal(t, "in", d.Current().Shown.Length)
	require.NoError(t, d.SaveAs(filepath.Join(dir, "x")))
	assert.False(t, d.Dirty())
	again, err := Open(filepath.Join(dir, "x.axleloft"), Options{})
	require.NoError(t, err)
	defer again.Close()
	assert.Equal(t, "in", again.Unit())
	assert.False(t, again.Dirty())
}

func TestSetAside(t *testing.T) {
	d := sprayer(t)
	f := &study.Finding{Key: "gap/Panhard rod/Tank shelf", What: "Panhard rod / tank shelf", Value: -29.1}
	require.Error(t, d.SetAside(f, ""))
	require.NoError(t, d.SetAside(f, edit.ReadyReasons[0]))
	a := d.Job().SetAside[0]
	assert.Equal(t, f.Key, a.Finding)
	assert.Equal(t, map[string]float64{"value": -29.1}, a.Numbers)
	_, err := time.Parse(time.DateOnly, a.Date)
	require.NoError(t, err)
	require.NoError(t, d.BringBack(f))
	assert.Empty(t, d.Job().SetAside)
}

func TestSavingAndOpening(t *testing.T) {
	dir := t.TempDir()
	d := sprayer(t)
	assert.True(t, d.IsDemo())
	assert.ErrorIs(t, d.Save(), ErrNoFile)
	name := filepath.Join(dir, "mine")
	require.NoError(t, d.SaveAs(name))
	assert.False(t, d.IsDemo(), "a job of one's own")
	assert.Equal(t, name+Ending, d.File())
	assert.Equal(t, "mine", d.Name())
	assert.False(t, d.SavedAt().IsZero())
	require.NoError(t, d.Edit("title", "", title("Mine")))
	assert.True(t, d.Dirty())
	d.Undo()
	assert.False(t, d.Dirty(), "undone to what is in the file")
	d.Redo()
	require.NoError(t, d.Save())

	other, err := Open(d.File(), Options{})
	require.NoError(t, err)
	defer other.Close()
	assert.Equal(t, "Mine", other.Job().Title)
	require.NoError(t, other.Edit("title", "", title("Theirs")))
	require.NoError(t, other.Save())

	require.NoError(t, d.Edit("title", "", title("Ours")))
	assert.ErrorIs(t, d.Save(), ErrChanged)
	assert.True(t, d.Dirty())
	j, err := job.ReadFile(d.File())
	require.NoError(t, err)
	assert.Equal(t, "Theirs", j.Title, "nothing is written over unasked")
	require.NoError(t, d.SaveForced())
	require.NoError(t, d.Save())
	j, err = job.ReadFile(d.File())
	require.NoError(t, err)
	assert.Equal(t, "Ours", j.Title)

	require.NoError(t, os.Remove(d.File()))
	require.NoError(t, d.Save(), "a file that went is written again")
	_, err = Open(filepath.Join(dir, "nobody.axleloft"), Options{})
	require.Error(t, err)
	assert.Contains(t, Words(err), "nobody.axleloft")
}

func TestAFailedSaveLosesNothing(t *testing.T) {
	dir := t.TempDir()
	d := sprayer(t)
	require.NoError(t, d.Edit("title", "", title("Mine")))
	err := d.SaveAs(filepath.Join(dir, "no", "such", "folder", "x"))
	require.Error(t, err)
	assert.True(t, strings.HasPrefix(Words(err), "Not saved"), Words(err))
	assert.True(t, d.Dirty())
	assert.True(t, d.IsDemo())
	assert.Empty(t, d.File())
	file := filepath.Join(dir, "x.axleloft")
	require.NoError(t, d.SaveAs(file))
	before, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.Chmod(file, 0o444))
	require.NoError(t, d.Edit("title", "", title("Other")))
	err = d.Save()
	require.Error(t, err)
	after, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	assert.Equal(t, "Other", d.Job().Title)
	assert.True(t, d.Dirty())
}

func TestRecentList(t *testing.T) {
	assert.Equal(t, []string{"a"}, AddRecent(nil, "a"))
	list := []string{"a", "b", "c"}
	assert.Equal(t, []string{"c", "a", "b"}, AddRecent(list, "c"))
	assert.Equal(t, []string{"a", "b", "c"}, list)
	assert.Equal(t, []string{"n", "1", "2", "3", "4", "5", "6", "7"}, AddRecent([]string{"1", "2", "3", "1", "4", "5", "6", "7", "8"}, "n"))
	assert.Equal(t, []string{"a"}, AddRecent([]string{"", "a", "a"}, ""))
}

func TestWordsAreSentences(t *testing.T) {
	assert.Empty(t, Words(nil))
	assert.Equal(t, "Abc.", Words(errors.New("abc")))
	assert.Contains(t, Words(&os.PathError{Op: "write", Path: "x", Err: os.ErrPermission}), "not yours")
	assert.Contains(t, Words(&os.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC}), "the disk is full")
	assert.Contains(t, Words(&os.PathError{Op: "write", Path: "x", Err: syscall.EROFS}), "read-only")
	assert.Contains(t, Words(ErrChanged), "somebody else")
	assert.NotEmpty(t, Words(errors.New("")))
}
