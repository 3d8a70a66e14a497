package panel

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync/atomic"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// holeColumn is a column of the table of holes: its head, the words of a row in it, and what rows are sorted by, least first.
type holeColumn struct {
	head  string // what it is, and under it
	under string // its unit, or which end
	extra bool   // left out where there is no room
	wide  float32
	words func(t *study.HoleTable, r *study.HoleChoice) string
	by    func(t *study.HoleTable, r *study.HoleChoice) float64
}

// holes is every combination of the holes that pivots have, to sort, and to take over.
type holes struct {
	h     *Host
	kept  bool // links keep their length
	found behind[*study.HoleTable]
	nth   numbered

	way     *underWay[*study.HoleTable]
	mode    *look.Segments
	heads   *fyne.Container
	buttons []*look.Button
	list    *look.List
	calm    fyne.CanvasObject
	said    *look.Para
	take    *look.Button
	save    *look.Button
	box     *fyne.Container

	columns []holeColumn
	order   []int // rows of the table as they are shown
	sorted  int   // by which column, -1 by none
	back    bool  // the largest first
	chosen  int   // row of the table, -1 none
	shown   string
}

func newHoles(h *Host) *holes {
	b := &holes{h: h, sorted: -1, chosen: -1, said: look.NewPara("", "", ink.Second)}
	b.found = behind[*study.HoleTable]{post: h.Post, changed: b.refresh}
	b.way = newUnderWay(&b.found)
	b.mode = look.NewSegments([]string{words.T("Links re-set"), words.T("Links kept")}, 0, func(i int) {
		b.kept = i == 1
		b.refresh()
	}).Compact(9, look.Row, look.Small)
	b.take = look.NewButton(words.T("Take it"), look.Filled, b.takeOver).Tall(32, look.Row).Padding(10)
	b.save = look.NewButton("CSV...", look.Outline, b.write).Tall(32, look.Row).Padding(10)
	b.heads = container.New(&holeLine{b})
	b.list = look.NewList(func() int { return len(b.order) }, func() fyne.CanvasObject {
		row := container.New(&holeLine{b})
		for range mostHoleColumns {
			row.Add(look.NewLabel("", look.Small, ink.Text, false).Shrinks(20))
		}
		return row
	}, b.writeRow)
	b.list.OnSelected = func(i int) {
		if i < len(b.order) {
			b.chosen = b.order[i]
			b.h.focus(b.list)
			b.tell()
		}
	}
	b.calm = look.Calm(b.list)
	foot := container.New(layout.NewCustomPaddedHBoxLayout(look.Gap), b.mode, b.take, b.save)
	b.box = container.New(&holesLayout{b, foot}, look.NewPlate(ink.Ground), b.heads, b.calm, foot, b.said)
	return b
}

// mostHoleColumns is how many columns there can be: at most ten pivots have two holes each before there are more combinations than are worked out, each
// moves at most one link, and eight others.
const mostHoleColumns = 28

const holeHead = 42

// holesLayout puts the heads over the list, the buttons and what is said under it.
type holesLayout struct {
	b    *holes
	foot *fyne.Container
}

// MinSize is the toolkit's.
func (l *holesLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(400, 150) }

// Layout is the toolkit's.
func (l *holesLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	wide := s.Width - 2*look.Inset
	said := l.b.said.HeightFor(max(60, wide-l.foot.MinSize().Width-look.Gap))
	low := max(look.Row, said) + 6
	o[0].Resize(s)
	l.b.heads.Move(fyne.NewPos(look.Inset, 0))
	if was := l.b.heads.Size().Width; was != wide {
		l.b.heads.Resize(fyne.NewSize(wide, holeHead))
		l.b.headWords()
	}
	l.b.calm.Move(fyne.NewPos(look.Inset, holeHead))
	l.b.calm.Resize(fyne.NewSize(wide, max(0, s.Height-holeHead-low)))
	l.foot.Move(fyne.NewPos(look.Inset, s.Height-low+3))
	l.foot.Resize(fyne.NewSize(l.foot.MinSize().Width, look.Row))
	l.b.said.Move(fyne.NewPos(look.Inset+l.foot.MinSize().Width+look.Gap, s.Height-low+3))
	l.b.said.Resize(fyne.NewSize(max(60, wide-l.foot.MinSize().Width-look.Gap), said))
}

// holeLine puts the cells of a row under their heads; the last column has what is left.
type holeLine struct{ b *holes }

// MinSize is the toolkit's.
func (l *holeLine) MinSize(o []fyne.CanvasObject) fyne.Size { return fyne.NewSize(100, 26) }

// Layout is the toolkit's.
func (l *holeLine) Layout(o []fyne.CanvasObject, s fyne.Size) {
	wide := l.b.widths(s.Width)
	x := float32(0)
	for i, c := range o {
		if i >= len(wide) || wide[i] == 0 {
			c.Hide()
			continue
		}
		c.Show()
		tall := c.MinSize().Height
		c.Move(fyne.NewPos(x, (s.Height-tall)/2))
		c.Resize(fyne.NewSize(max(10, wide[i]-6), tall))
		x += wide[i]
	}
}

// widths are those of the columns where there is so much room: 0 for one that is left out. The last has what is left.
func (b *holes) widths(room float32) []float32 {
	out := make([]float32, len(b.columns))
	sum := float32(0)
	for i := range b.columns {
		out[i] = b.columns[i].wide
		sum += out[i]
	}
	for i := len(out) - 1; i >= 0 && sum > room; i-- {
		if b.columns[i].extra {
			sum -= out[i]
			out[i] = 0
		}
	}
	if last := len(out) - 1; last > 0 {
		k := min(1, (room-nowWide)/max(1, sum-nowWide))
		rest := room - out[0]
		for i := 1; i < last; i++ {
			out[i] *= k
			rest -= out[i]
		}
		out[last] = max(out[last]*k, rest)
	}
	return out
}

// nowWide is the width of the column that says in which holes the pivots stand now.
const nowWide = 44

// headCell is a head that is pressed, and under it its unit.
type headCell struct{}

// MinSize is the toolkit's.
func (headCell) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(20, holeHead) }

// Layout is the toolkit's.
func (headCell) Layout(o []fyne.CanvasObject, s fyne.Size) {
	m := o[0].MinSize()
	o[0].Resize(fyne.NewSize(min(m.Width, s.Width), 22))
	o[0].Move(fyne.NewPos(0, 0))
	o[1].Resize(fyne.NewSize(s.Width, 18))
	o[1].Move(fyne.NewPos(0, 21))
}

func (b *holes) object() fyne.CanvasObject { return b.box }
func (b *holes) head() fyne.CanvasObject   { return b.way.line }
func (b *holes) bare() bool                { return false }
func (b *holes) closed()                   { b.found.drop() }

func (b *holes) update(c document.Change) {
	if c&^(document.PositionChanged|document.SelectionChanged) != 0 {
		b.refresh()
	}
}

// fresh reports whether the table is of the geometry as it stands, and asks for it where it is not.
func (b *holes) fresh() bool {
	s, _ := b.h.Doc.Study()
	if !b.h.Doc.Freshness().Full {
		b.found.drop()
		return false
	}
	key, kept := fmt.Sprint(b.nth.of(s), b.kept), b.kept
	b.found.ask(key, func(ctx context.Context, looked *atomic.Int64) (*study.HoleTable, error) {
		return s.Holes(ctx, kept, func(done, _ int) { looked.Store(int64(done)) })
	})
	return b.found.fresh(key)
}

func (b *holes) refresh() {
	if b.h.Opened() != HolesDrawer {
		return
	}
	fresh := b.fresh()
	b.way.say(fresh, words.T("combinations"), words.T("working out; the table is of the geometry before"))
	at := 0
	if b.kept {
		at = 1
	}
	b.mode.Set([]string{words.T("Links re-set"), words.T("Links kept")}, at)
	if key := fmt.Sprint(b.found.gotKey, b.found.has, b.found.err, b.h.Doc.Unit()); key != b.shown {
		b.shown, b.chosen = key, -1
		b.lay()
	}
	b.tell()
}

// table is what is worked out; nil where nothing is.
func (b *holes) table() *study.HoleTable {
	if !b.found.has || b.found.err != nil && !b.found.busy {
		return nil
	}
	return b.found.got
}

// lay makes the columns and the order of the rows.
func (b *holes) lay() {
	b.columns, b.order, b.buttons = nil, b.order[:0], b.buttons[:0]
	b.heads.Objects = nil
	t := b.table()
	if t != nil {
		b.columns = b.tableColumns(t)
		if b.sorted >= len(b.columns) {
			b.sorted = -1
		}
		for i := range t.Rows {
			b.order = append(b.order, i)
		}
		b.sort(t)
		for i, c := range b.columns {
			btn := look.NewButton("", look.Plain, func() { b.sortBy(i) }).Type(look.Small, true).Padding(0).Tall(20, 24)
			btn.SetText(c.head)
			if c.head == "" {
				btn.Hide()
			}
			b.buttons = append(b.buttons, btn)
			b.heads.Add(container.New(&headCell{}, btn, look.NewLabel(c.under, look.Small, ink.Second, false).Shrinks(10)))
		}
	}
	b.headWords()
	b.list.UnselectAll()
	b.heads.Refresh()
	b.list.Refresh()
}

// headWords puts the way rows are sorted under the head of its column, and cuts heads to their columns.
func (b *holes) headWords() {
	room := b.heads.Size().Width
	wide := b.widths(room)
	for i, btn := range b.buttons {
		text, under := b.columns[i].head, b.columns[i].under
		if i == b.sorted {
			under = strings.TrimSpace(under + map[bool]string{false: " ↑", true: " ↓"}[b.back])
		}
		if room > 0 {
			text = look.Shorten(text, look.Small, true, wide[i]-6)
		}
		btn.SetText(text)
		b.heads.Objects[i].(*fyne.Container).Objects[1].(*look.Label).SetText(under)
	}
	b.heads.Refresh()
}

// tableColumns are the columns for a table.
func (b *holes) tableColumns(t *study.HoleTable) []holeColumn {
	var out []holeColumn
	figure := func(head, under string, wide float32, decimals int, of func(*study.HoleChoice) float64, by func(*study.HoleChoice) float64) {
		out = append(out, holeColumn{head, under, false, wide, func(_ *study.HoleTable, r *study.HoleChoice) string { return num(of(r), decimals) }, func(_ *study.HoleTable, r *study.HoleChoice) float64 { return by(r) }})
	}
	out = append(out, holeColumn{"", "", false, nowWide, func(t *study.HoleTable, r *study.HoleChoice) string {
		if t.Now >= 0 && r == &t.Rows[t.Now] {
			return words.T("now")
		}
		return ""
	}, func(t *study.HoleTable, r *study.HoleChoice) float64 {
		if t.Now >= 0 && r == &t.Rows[t.Now] {
			return 0
		}
		return 1
	}})
	for i, name := range t.Names {
		hole := func(r *study.HoleChoice) float64 { return float64(r.Holes[i]) }
		part, end, _ := strings.Cut(name, ", ")
		if t.Pivots[i].Side != job.Single { // of a pair both sides
			part = study.Upper(view.PlainName(part))
		}
		out = append(out, holeColumn{part, end, false, 78, func(_ *study.HoleTable, r *study.HoleChoice) string { return words.F("hole %d", r.Holes[i]) }, func(_ *study.HoleTable, r *study.HoleChoice) float64 { return hole(r) }})
	}
	unit := b.h.Doc.Unit()
	mm := func(v float64) float64 {
		if unit == "in" {
			return v / mmPerInch
		}
		return v
	}
	tenths := map[string]int{"mm": 1, "in": 3}[unit]
	figure(words.T("Anti-squat"), "%", 88, 0, func(r *study.HoleChoice) float64 { return r.AntiSquat }, func(r *study.HoleChoice) float64 { return r.AntiSquat })
	figure(words.T("Roll steer"), "%", 80, 1, func(r *study.HoleChoice) float64 { return r.RollSteer }, func(r *study.HoleChoice) float64 { return math.Abs(r.RollSteer) })
	figure(words.T("Pinion"), words.T("deg in all"), 78, 1, func(r *study.HoleChoice) float64 { return r.Pinion }, func(r *study.HoleChoice) float64 { return r.Pinion })
	figure(words.T("Joint"), words.T("% of limit"), 80, 0, func(r *study.HoleChoice) float64 { return 100 * r.Use }, func(r *study.HoleChoice) float64 { return r.Use })
	if t.Kept {
		figure(words.T("Pinion at ride"), words.T("deg"), 108, 1, func(r *study.HoleChoice) float64 { return r.PinionRide }, func(r *study.HoleChoice) float64 { return r.PinionRide })
		figure(words.T("Side shift"), unit, 84, tenths, func(r *study.HoleChoice) float64 { return mm(r.SideShift) }, func(r *study.HoleChoice) float64 { return math.Abs(r.SideShift) })
	} else {
		for i, l := range t.Links {
			length := func(r *study.HoleChoice) float64 { return r.Lengths[i] }
			figure(l, unit, 76, tenths, func(r *study.HoleChoice) float64 { return mm(length(r)) }, length)
			out[len(out)-1].extra = true
		}
	}
	figure(words.T("Spare"), unit, 66, tenths, func(r *study.HoleChoice) float64 { return mm(r.Spare) }, func(r *study.HoleChoice) float64 { return -r.Spare })
	out = append(out, holeColumn{words.T("Tightest"), "", false, 110, func(_ *study.HoleTable, r *study.HoleChoice) string {
		if r.Why != "" {
			return study.Upper(r.Why)
		}
		return r.Pair
	}, nil})
	return out
}

// sortBy sorts by a column, least first; pressed again, the other way round.
func (b *holes) sortBy(i int) {
	t := b.table()
	if t == nil || b.columns[i].by == nil {
		return
	}
	if b.sorted == i {
		b.back = !b.back
	} else {
		b.sorted, b.back = i, false
	}
	b.sort(t)
	b.headWords()
	b.list.UnselectAll()
	b.list.ScrollToTop()
	b.list.Refresh()
	if k := slices.Index(b.order, b.chosen); k >= 0 {
		b.list.Select(k)
	}
}

// sort puts the rows in order; what has no figure comes last.
func (b *holes) sort(t *study.HoleTable) {
	slices.Sort(b.order)
	if b.sorted < 0 || b.columns[b.sorted].by == nil {
		return
	}
	by := b.columns[b.sorted].by
	slices.SortStableFunc(b.order, func(i, k int) int {
		x, y := by(t, &t.Rows[i]), by(t, &t.Rows[k])
		switch {
		case math.IsNaN(x) && math.IsNaN(y), x == y:
			return 0
		case math.IsNaN(y):
			return -1
		case math.IsNaN(x):
			return 1
		case (x < y) != b.back:
			return -1
		}
		return 1
	})
}

// writeRow writes a row of the list; that of the holes the pivots stand in now is bold and says so.
func (b *holes) writeRow(i int, o fyne.CanvasObject) {
	t := b.table()
	row := o.(*fyne.Container)
	if t == nil || i >= len(b.order) {
		return
	}
	r := &t.Rows[b.order[i]]
	for k, c := range row.Objects {
		l := c.(*look.Label)
		if k < len(b.columns) {
			l.SetBold(t.Now == b.order[i])
			l.SetText(b.columns[k].words(t, r))
		}
	}
	row.Layout.Layout(row.Objects, row.Size())
}

// tell says what the table is, what is chosen, and what can be done with it.
func (b *holes) tell() {
	t := b.table()
	text := ""
	fresh := b.found.fresh(b.found.key) && !b.found.busy
	switch {
	case b.found.err != nil && !b.found.busy:
		text = study.Upper(b.found.err.Error())
	case t == nil:
	case b.chosen >= 0 && b.kept:
		text = words.T("With the links as long as they are the axle moves: it is looked at here, and set up by new link lengths. Choose Links re-set to take holes over.")
	case b.chosen >= 0 && b.chosen == t.Now:
		text = words.T("The pivots stand in these holes.")
	case b.chosen >= 0:
		text = words.T("Take it puts the pivots into these holes; Undo puts them back. A pair's two sides go together.")
	default:
		text = words.F("%d combinations, each over its whole range; gaps to %s. Anti-squat and roll steer: %s. Press a head to sort, a row to choose.", len(t.Rows), lengthUnit(t.Within, b.h.Doc.Unit()), holeLoad(t.Load))
	}
	b.said.Set("", text, ink.Second)
	b.take.SetDisabled(!fresh || t == nil || b.kept || b.chosen < 0 || b.chosen == t.Now || t.Rows[b.chosen].Why != "")
	b.save.SetDisabled(!fresh || t == nil)
	b.box.Refresh()
}

func holeLoad(load string) string {
	if load == "" {
		return words.T("at ride height")
	}
	return words.F("%s, at ride height", study.Lower(load))
}

// takeOver puts the pivots into the chosen holes, in one step. A measured pivot stays measured: its bracket is there, and so are its holes.
func (b *holes) takeOver() {
	t := b.table()
	if t == nil || b.chosen < 0 {
		return
	}
	list := slices.Clone(t.Rows[b.chosen].Holes)
	var said []string
	for i, n := range list {
		said = append(said, fmt.Sprintf("%s %d", t.Names[i], n))
	}
	b.h.Tell(b.h.Doc.Edit(words.F("holes: %s", strings.Join(said, ", ")), "", func(j *job.Job) error {
		for i, p := range t.Pivots {
			measured := edit.IsMeasured(j, p)
			if measured {
				if err := edit.SetMeasured(j, p, false); err != nil {
					return err
				}
			}
			if err := edit.TakeHole(j, p, list[i]); err != nil {
				return err
			}
			if measured {
				if err := edit.SetMeasured(j, p, true); err != nil {
					return err
				}
			}
		}
		return nil
	}))
}

// write saves the table.
func (b *holes) write() {
	args := []string{"holes"}
	if b.kept {
		args = append(args, "--kept")
	}
	b.h.SaveNumbers(words.T("holes"), "csv", args...)
}

func (b *holes) lines() []string {
	out := []string{b.way.note.Text(), b.said.Text()}
	for _, c := range b.columns {
		out = append(out, strings.TrimSpace(c.head+" "+c.under))
	}
	if t := b.table(); t != nil {
		for _, i := range b.order {
			var row []string
			for k := range b.columns {
				row = append(row, b.columns[k].words(t, &t.Rows[i]))
			}
			out = append(out, strings.Join(row, " | "))
		}
	}
	return out
}

func (b *holes) named(name string) fyne.CanvasObject {
	switch name {
	case "Take it":
		return b.take
	case "CSV...":
		return b.save
	case "Links":
		return b.mode
	}
	for i, c := range b.columns {
		if c.head == name {
			return b.buttons[i]
		}
	}
	return nil
}
