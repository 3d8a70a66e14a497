package panel

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync/atomic"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/start"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// mostBeside is how many trials stand beside the job as drawn.
const mostBeside = 4

// trialsFound is what was worked out of trials side by side.
type trialsFound struct {
	list []study.Compared
	t    *study.Comparison
}

// trialJob is a trial's job as it was last seen: as long as it says the same it is the same one.
type trialJob struct {
	job *job.Job
	n   int
}

// trials is the job as drawn and up to four trials side by side: figures in a table, and in words what the chosen one has otherwise. From here they are kept,
// drawn as pencil lines, taken over, renamed and removed.
type trials struct {
	h     *Host
	shown []string // trials beside the job as drawn, in order; nil: the first ones
	chose string   // the one whose differences are told, "" as drawn
	jobs  map[string]trialJob
	count int
	found behind[trialsFound]
	names []string // of the columns found, "" as drawn
	said  string

	top     *fyne.Container
	pick    *look.Button
	add     *look.Button
	save    *look.Button
	note    *look.Label
	stop    *look.Button
	waiting *fyne.Container
	grid    *trialGrid
	scroll  *container.Scroll
	choose  *look.Button
	pencil  *look.Button
	take    *look.Button
	rename  *look.Button
	remove  *look.Button
	doing   [2]*fyne.Container
	told    *fyne.Container
	read    *container.Scroll
	cell    [2]fyne.CanvasObject // the two scrolls, calmed
	box     *fyne.Container
}

func newTrials(h *Host) *trials {
	b := &trials{h: h, jobs: map[string]trialJob{}}
	b.found = behind[trialsFound]{post: h.Post, changed: b.refresh}
	small := func(label string, f func()) *look.Button {
		return look.NewButton(label, look.Outline, f).Tall(30, look.Row).Padding(9)
	}
	b.pick = small(words.T("Shown"), func() { look.PopUp(b.shownMenu(), b.pick) }).Caret(look.CaretDown)
	b.add = small(words.T("Add"), func() { look.PopUp(b.addMenu(), b.add) }).Caret(look.CaretDown)
	b.save = small(words.T("Save"), b.saveNumbers)
	b.top = container.New(layout.NewCustomPaddedHBoxLayout(look.Gap), b.pick, b.add, b.save)
	b.note = look.NewLabel("", look.Small, ink.Second, false).Shrinks(40)
	b.stop = small("", func() {
		if b.found.busy {
			b.found.giveUp()
		} else {
			b.found.again()
		}
		b.refresh()
	})
	b.waiting = container.New(&stopLine{b.note, b.stop}, b.note, b.stop)
	b.grid = newTrialGrid(b.picked)
	b.scroll = container.NewScroll(b.grid)
	b.scroll.OnScrolled = func(p fyne.Position) { b.grid.top = p.Y; b.grid.Refresh() }
	b.grid.seen = func(y, tall float32) {
		b.scroll.ScrollToOffset(fyne.NewPos(b.scroll.Offset.X, max(0, min(y, b.grid.MinSize().Height-b.scroll.Size().Height))))
		b.grid.top = b.scroll.Offset.Y
	}
	b.grid.across = func(x, wide float32) {
		at := b.scroll.Offset
		if x < at.X {
			at.X = x
		} else if x+wide > at.X+b.scroll.Size().Width {
			at.X = x + wide - b.scroll.Size().Width
		}
		b.scroll.ScrollToOffset(at)
	}
	b.grid.key = b.typed
	b.choose = small(words.T("Put it on the bench"), func() { h.Tell(h.Doc.SetTrial(b.chose)) })
	b.pencil = small(words.T("Pencil line"), b.togglePencil)
	b.take = small(words.T("Take over"), func() { h.Tell(h.Doc.TakeOver(b.chose)) })
	b.rename = small(words.T("Rename..."), b.askName)
	b.remove = small(words.T("Remove"), b.drop)
	apart := layout.NewCustomPaddedHBoxLayout(look.Gap)
	b.doing = [2]*fyne.Container{container.New(apart, b.choose, b.pencil), container.New(apart, b.take, b.rename, b.remove)}
	b.told = container.New(&look.Stack{Gap: 4, Inset: 4, Below: 8})
	b.read = container.NewVScroll(b.told)
	b.cell = [2]fyne.CanvasObject{look.Calm(b.scroll), look.Calm(b.read)}
	b.box = container.New(&trialsLayout{b}, b.cell[0], b.waiting, b.doing[0], b.doing[1], b.cell[1])
	return b
}

// trialsLayout puts the table left, and right of it what can be done with the chosen trial and what it has otherwise.
type trialsLayout struct{ b *trials }

func (l *trialsLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(500, 160) }
func (l *trialsLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	b := l.b
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(max(0, w), max(0, h)))
	}
	right := max(300, s.Width*0.34)
	room := s.Width - right - look.Inset - look.Gap
	b.grid.fit(room)
	left := min(room, b.grid.MinSize().Width)
	put(o[0], look.Inset, 0, left, s.Height-4)
	x := look.Inset + left + look.Gap
	right = s.Width - x - look.Gap
	y := float32(0)
	if b.waiting.Visible() {
		put(o[1], x+4, y, right-4, look.Row)
		y += look.Row
	}
	for _, row := range o[2:4] {
		if row.Visible() {
			put(row, x, y, right, look.Row)
			y += look.Row
		}
	}
	put(o[4], x, y, right, s.Height-4-y)
}

func (b *trials) object() fyne.CanvasObject { return b.box }
func (b *trials) head() fyne.CanvasObject   { return b.top }
func (b *trials) bare() bool                { return false }
func (b *trials) closed()                   { b.found.drop() }

func (b *trials) update(c document.Change) {
	if c&^(document.PositionChanged|document.SelectionChanged|document.ProgressChanged) != 0 {
		b.refresh()
	}
}

// columns are the trials shown, the job as drawn first.
func (b *trials) columns() []string {
	all := b.h.Doc.Trials()
	out := []string{""}
	if b.shown == nil {
		if now := b.h.Doc.Trial(); now != "" {
			out = append(out, now)
		}
		for _, n := range all {
			if len(out) <= mostBeside && !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
		return out
	}
	for _, n := range b.shown {
		if slices.Contains(all, n) && len(out) <= mostBeside {
			out = append(out, n)
		}
	}
	return out
}

// jobOf is a trial's job; the same one as before as long as it says the same.
func (b *trials) jobOf(name string) (trialJob, bool) {
	j, err := b.h.Doc.JobOf(name)
	if err != nil {
		return trialJob{}, false
	}
	if was, ok := b.jobs[name]; ok && reflect.DeepEqual(was.job, j) {
		return was, true
	}
	if name == b.h.Doc.Trial() && reflect.DeepEqual(b.h.Doc.Current(), j) {
		j = b.h.Doc.Current()
	}
	b.count++
	b.jobs[name] = trialJob{j, b.count}
	return b.jobs[name], true
}

// fresh reports whether what is worked out is of the trials as they stand, and asks for it where it is not.
func (b *trials) fresh() bool {
	d := b.h.Doc
	if !d.Freshness().Full {
		b.found.drop() // a hand moves something: the processors are the views'
		return false
	}
	names := b.columns()
	jobs := make([]*job.Job, len(names))
	key := fmt.Sprint(d.Load(), d.Unit())
	for i, n := range names {
		k, ok := b.jobOf(n)
		if !ok {
			return false
		}
		jobs[i] = k.job
		key += fmt.Sprint(" ", k.n, " ", n)
	}
	key += words.Language()
	now, _ := d.Study()
	before := []*study.Study{now}
	for _, c := range b.found.got.list {
		before = append(before, c.Study)
	}
	load := d.Load()
	b.found.ask(key, func(ctx context.Context, looked *atomic.Int64) (trialsFound, error) {
		f := trialsFound{}
		for i, j := range jobs {
			var s *study.Study
			for _, o := range before {
				if o.Job == j && o.Depth == study.Full {
					s = o
				}
			}
			if s == nil {
				s = study.NewFrom(ctx, j, study.Full, study.From{Before: before})
			}
			if s == nil {
				return f, ctx.Err()
			}
			name := names[i]
			if i == 0 {
				name = words.T("as drawn")
			}
			f.list, before = append(f.list, study.Compared{Name: name, Study: s}), append(before, s)
		}
		var err error
		f.t, err = study.Compare(ctx, f.list, load, func(n int) { looked.Store(int64(n)) })
		return f, err
	})
	if b.found.fresh(key) {
		b.names = names
		return true
	}
	return false
}

func (b *trials) refresh() {
	if b.h.Opened() != TrialsDrawer {
		return
	}
	d := b.h.Doc
	fresh := b.fresh()
	note := b.found.words("")
	if !fresh && note == "" || note == "working out" {
		note = words.T("working out")
		if b.found.has {
			note = words.T("working out; the figures are of what was before")
		}
	}
	b.note.SetText(note)
	b.stop.SetText(words.T("Give up"))
	if b.found.left {
		b.stop.SetText(words.T("Work out"))
	}
	look.Show(b.stop, b.found.left || b.found.busy)
	look.Show(b.waiting, note != "")
	if !slices.Contains(b.columns(), b.chose) {
		b.chose = ""
	}
	at, bench := max(0, slices.Index(b.names, b.chose)), slices.Index(b.names, d.Trial())
	b.grid.set(b.found.got.t, at, bench, !fresh)
	b.buttons()
	b.tell(fresh)
	b.box.Refresh()
}

// picked takes in that another column was chosen.
func (b *trials) picked() {
	if b.grid.at < len(b.names) {
		b.chose = b.names[b.grid.at]
	}
	b.refresh()
}

// buttons brings what can be done with the chosen trial up to date.
func (b *trials) buttons() {
	d := b.h.Doc
	b.choose.SetDisabled(d.Trial() == b.chose)
	b.pencil.SetLit(d.HasPencil(b.chose))
	look.Show(b.doing[1], b.chose != "")
}

// tell writes what the chosen trial has otherwise.
func (b *trials) tell(fresh bool) {
	at := b.grid.at
	key := fmt.Sprint(fresh, b.found.gotKey, b.chose, len(b.h.Doc.Trials()), b.found.has)
	if key == b.said {
		return
	}
	b.said = key
	role := ink.Text
	if !fresh {
		role = ink.Second
	}
	b.told.Objects = nil
	put := func(lead, text string, role ink.Role) { b.told.Add(look.NewPara(lead, text, role)) }
	switch t := b.found.got.t; {
	case len(b.h.Doc.Trials()) == 0:
		put("", words.T("There is no trial yet. Add keeps what stands on the bench as one; what you move then goes into it, and the job as drawn stays. Or it begins one with another layout on the same vehicle."), ink.Text)
	case t == nil || at >= len(t.Names):
	case b.chose == "":
		put("", words.T("Press a trial to be told what it has otherwise than the job as drawn."), ink.Text)
	default:
		put(t.Names[at], words.T("against the job as drawn:"), role)
		if len(t.Differences[at]) == 0 {
			put("", words.T("Nothing differs."), role)
		}
		b.differences(t.Differences[at], role)
	}
	put("", words.T("Better and worse: a larger gap, less used up, fewer guesses. No rule, your call."), ink.Second)
	put("", words.T(onlyDrawn), ink.Second)
	b.told.Refresh()
	b.read.Refresh()
}

// differences writes them by kind.
func (b *trials) differences(list []study.Difference, role ink.Role) {
	for i := 0; i < len(list); {
		kind := list[i].Kind
		b.told.Add(newHeadRow(kind.Head(), false))
		for ; i < len(list) && list[i].Kind == kind; i++ {
			b.told.Add(look.NewPara(list[i].What+":", strings.TrimSuffix(list[i].Words, ".")+".", role))
		}
	}
}

// typed is what keys do in a list of trials.
func (b *trials) typed(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyInsert:
		b.h.Run("keep")
	case fyne.KeyF2:
		b.askName()
	case fyne.KeyDelete:
		b.drop()
	case fyne.KeyReturn, fyne.KeyEnter:
		b.h.Tell(b.h.Doc.SetTrial(b.chose))
	case fyne.KeySpace:
		b.togglePencil()
	default:
		return false
	}
	return true
}

func (b *trials) togglePencil() {
	if d := b.h.Doc; d.HasPencil(b.chose) {
		d.RemovePencil(b.chose)
	} else {
		b.h.Tell(d.AddPencil(b.chose))
	}
}

func (b *trials) askName() {
	now := b.chose
	if now == "" {
		return
	}
	b.h.Ask(words.T("Rename the trial"), words.T("Name"), now, func(s string) error {
		before := b.h.Doc.Trials()
		if err := b.h.Doc.RenameTrial(now, s); err != nil {
			return err
		}
		if i := slices.Index(before, now); i >= 0 && i < len(b.h.Doc.Trials()) {
			b.follow(now, b.h.Doc.Trials()[i])
		}
		return nil
	})
}

// follow keeps a trial shown under its new name.
func (b *trials) follow(old, name string) {
	if i := slices.Index(b.shown, old); i >= 0 {
		b.shown[i] = name
	}
	if b.chose == old {
		b.chose = name
	}
	b.refresh()
}

// drop removes the chosen trial; Undo brings it back.
func (b *trials) drop() {
	if b.chose != "" {
		b.h.Tell(b.h.Doc.RemoveTrial(b.chose))
	}
}

// shownMenu offers which trials stand beside the job as drawn.
func (b *trials) shownMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	now := b.columns()[1:]
	for _, n := range b.h.Doc.Trials() {
		on := slices.Contains(now, n)
		item := fyne.NewMenuItem(n, func() {
			b.shown = slices.Clone(now)
			if on {
				b.shown = slices.DeleteFunc(b.shown, func(o string) bool { return o == n })
			} else {
				b.shown = append(b.shown, n)
			}
			if b.shown == nil {
				b.shown = []string{}
			}
			b.refresh()
		})
		item.Checked, item.Disabled = on, !on && len(now) >= mostBeside
		m.Items = append(m.Items, item)
	}
	if len(m.Items) == 0 {
		none := fyne.NewMenuItem(words.T("No trial is kept yet"), nil)
		none.Disabled = true
		m.Items = append(m.Items, none)
	}
	return m
}

// addMenu is what can be added: the bench as it stands, or another layout.
func (b *trials) addMenu() *fyne.Menu {
	other := fyne.NewMenuItem(words.T("New trial with another layout"), nil)
	other.ChildMenu = b.layoutMenu()
	return fyne.NewMenu("", fyne.NewMenuItem(words.T("Keep this as a trial"), func() { b.h.Run("keep") }), other)
}

// layoutMenu offers the layouts a new trial can begin with.
func (b *trials) layoutMenu() *fyne.Menu {
	return LayoutMenu(b.h, func(name string) {
		b.chose = name
		if b.shown != nil && len(b.shown) < mostBeside {
			b.shown = append(b.shown, name)
		}
		b.refresh()
	})
}

// LayoutMenu offers the layouts a new trial of the same vehicle can begin with; made (nil: nothing) is told the new trial's name.
func LayoutMenu(h *Host, made func(name string)) *fyne.Menu {
	m := fyne.NewMenu("")
	for i, name := range start.Layouts() {
		item := fyne.NewMenuItem(words.T(name), func() { layOut(h, start.Layout(i), made) })
		item.Disabled = !h.Doc.Freshness().Live
		m.Items = append(m.Items, item)
	}
	return m
}

// layOut makes a trial of another layout off the window's goroutine, and takes it in.
func layOut(h *Host, l start.Layout, made func(name string)) {
	d := h.Doc
	j := d.Current()
	bump, droop := 0.0, 0.0
	if s, _ := d.Study(); s.Bounded() {
		bump, droop = s.Range.Bump, s.Range.Droop
	}
	go func() {
		t, err := start.Another(j, bump, droop, l)
		h.Post(func() {
			if err == nil {
				err = d.AddLayout(t)
			}
			if err != nil {
				h.Tell(err)
				return
			}
			if made != nil {
				made(d.Trial())
			}
		})
	}()
}

// saveNumbers writes the table and the differences.
func (b *trials) saveNumbers() {
	args := []string{"compare"}
	for _, n := range b.columns()[1:] {
		args = append(args, "--trial="+n)
	}
	if loads := b.h.Doc.Current().Vehicle.Loads; b.h.Doc.Load() < len(loads) {
		args = append(args, "--load="+loads[b.h.Doc.Load()].Name)
	}
	b.h.SaveNumbers(words.T("trials side by side"), "csv", args...)
}

func (b *trials) lines() []string {
	var out []string
	if t := b.found.got.t; t != nil {
		out = append(out, strings.Join(t.Names, " | "))
		for i := range t.Rows {
			r := &t.Rows[i]
			line := []string{r.Title}
			for _, c := range r.Cells {
				line = append(line, strings.Join(slices.DeleteFunc([]string{c.Words, c.At, c.Change}, func(s string) bool { return s == "" }), "; "))
			}
			out = append(out, strings.Join(line, " | "))
		}
	}
	out = append(out, wordsOf(b.told.Objects)...)
	return append(out, b.note.Text())
}

func (b *trials) named(name string) fyne.CanvasObject {
	for _, o := range []*look.Button{b.pick, b.add, b.save, b.choose, b.pencil, b.take, b.rename, b.remove, b.stop} {
		if o.Text() == name {
			return o
		}
	}
	if name == "table" {
		return b.grid
	}
	return nil
}
