package panel

import (
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// pivotLine is one pivot in the list of all: twins are one line, those unlinked are two.
type pivotLine struct {
	pivot document.Pivot
	name  string
	at    [3]string // in the shown unit
	guess [3]bool
	mark  string // measured, planned, or which numbers are guesses
	held  bool
	first bool // of its member
}

// pivots lists every pivot of the job by member, a line each. A press holds one and brings the views to it.
type pivots struct {
	h     *Host
	said  *look.Label
	only  *Entry // words of names the list is to be kept to
	top   *fyne.Container
	heads *pivotColumns
	list  *look.List
	box   *fyne.Container
	rows  []pivotLine
}

func newPivots(h *Host) *pivots {
	k := &pivots{h: h, said: look.NewLabel("", look.Small, ink.Second, false).Shrinks(40)}
	k.only = NewEntry("", func() { k.enter() }, func() {
		if k.only.Text == "" {
			h.Toggle(PivotsDrawer)
			return
		}
		k.only.SetText("")
	}).Wide(190)
	k.only.SetPlaceHolder(words.T("Only these words"))
	k.only.OnChanged = func(string) {
		k.write()
		k.list.ScrollToTop()
	}
	k.only.down = func() { h.focus(k.list) }
	k.top = container.New(&besideEntry{}, k.said, k.only)
	k.list = look.NewList(func() int { return len(k.rows) }, func() fyne.CanvasObject { return newPivotColumns() }, func(i int, o fyne.CanvasObject) {
		if i < len(k.rows) {
			o.(*pivotColumns).set(&k.rows[i])
		}
	})
	k.list.HideSeparators = true
	k.list.OnSelected = func(i int) {
		k.list.UnselectAll()
		k.take(i)
	}
	k.heads = newPivotColumns()
	k.heads.head = true
	k.box = container.NewBorder(k.heads, nil, nil, nil, look.Calm(k.list))
	return k
}

func (k *pivots) object() fyne.CanvasObject { return k.box }
func (k *pivots) head() fyne.CanvasObject   { return k.top }
func (k *pivots) bare() bool                { return false }

// ready puts the keys into the field, so that typing keeps the list to what is meant at once.
func (k *pivots) ready() { k.h.focus(k.only) }

// take holds a line's pivot and brings the views to it.
func (k *pivots) take(i int) {
	if i < 0 || i >= len(k.rows) {
		return
	}
	p := k.rows[i].pivot
	k.h.Doc.Hold(p)
	if k.h.Show != nil {
		k.h.Show(p)
	}
}

// enter takes the only line left, or goes into the list where there are more.
func (k *pivots) enter() {
	if len(k.rows) == 1 {
		k.take(0)
		return
	}
	k.h.focus(k.list)
}

func (k *pivots) update(c document.Change) {
	if c&^(document.PositionChanged|document.FileChanged) != 0 {
		k.write()
	}
}

// write makes the lines anew.
func (k *pivots) write() {
	d := k.h.Doc
	j, unit := d.Current(), d.Unit()
	held, is := d.Held()
	all := 0
	k.rows = k.rows[:0]
	member, measured := "", 0
	for _, p := range edit.Pivots(j) {
		all++
		if edit.IsMeasured(j, p) {
			measured++
		}
		row := pivotRow(j, p, unit)
		if !wantsName(row.name, k.only.Text) {
			continue
		}
		of, _, _ := strings.Cut(row.name, ", ")
		row.first = of != member && len(k.rows) > 0
		row.held = is && held.Same(p)
		member = of
		k.rows = append(k.rows, row)
	}
	text := words.F("%d pivots, %d measured. Press one to hold it.", all, measured)
	switch {
	case len(k.rows) == 0:
		text = words.F("None of %d pivots is called that.", all)
	case len(k.rows) < all:
		text = words.F("%d of %d pivots. Press one to hold it.", len(k.rows), all)
	}
	k.said.SetText(text)
	k.heads.unit = unit
	k.heads.Refresh()
	k.list.Refresh()
}

// wantsName reports whether every word typed is in a name.
func wantsName(name, typed string) bool {
	name = strings.ToLower(name)
	for _, w := range strings.Fields(strings.ToLower(typed)) {
		if !strings.Contains(name, w) {
			return false
		}
	}
	return true
}

// pivotRow is a pivot's line in a unit.
func pivotRow(j *job.Job, p document.Pivot, unit string) pivotLine {
	one := p
	one.Side = job.Single
	r := pivotLine{pivot: p, name: edit.Name(j, one)}
	if p.Side != job.Single {
		if part, end, ok := strings.Cut(r.name, ", "); ok {
			r.name = words.F("%s, both sides, %s", part, end)
		} else {
			r.name = words.F("%s, both sides", r.name)
		}
	}
	at, _ := edit.At(j, p)
	var guesses []string
	for a, v := range [3]float64{at.X, at.Y, at.Z} {
		r.at[a] = pivotNumber(v, unit)
		if r.guess[a] = edit.IsGuess(j, p, edit.Axis(a)); r.guess[a] {
			guesses = append(guesses, edit.Axis(a).String())
		}
	}
	switch {
	case edit.IsMeasured(j, p):
		r.mark = words.T("measured")
	case len(guesses) > 0:
		r.mark = words.F("planned, guess %s", strings.Join(guesses, " "))
	default:
		r.mark = words.T("planned")
	}
	return r
}

// pivotNumber writes a coordinate: to a mm, or to a hundredth of an inch.
func pivotNumber(mm float64, unit string) string { return length(mm, unit) }

func (k *pivots) lines() []string {
	var out []string
	for i := range k.rows {
		r := &k.rows[i]
		out = append(out, r.name+" | "+strings.Join(r.at[:], " | ")+" | "+r.mark)
	}
	return out
}

func (k *pivots) named(name string) fyne.CanvasObject {
	switch name {
	case "Only these words":
		return k.only
	case "list":
		return k.list
	}
	return nil
}
