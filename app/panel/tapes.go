package panel

import (
	"fmt"
	"math"
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"gonum.org/v1/gonum/spatial/r3"
)

const (
	leastTapes = 3
	tapesMost  = 8

	framedRound = 250.0 // mm of view round the answers and where the tapes start
)

// Tapes places the held pivot by three tapes or more: a row a tape, both answers to choose from here and in the views, how well the tapes fit and hold it.
// While it is open the views take nothing else.
type Tapes struct {
	Object fyne.CanvasObject

	h       *Host
	open    bool
	of      document.Pivot
	rows    []*tapeRow
	answers []measure.Taped
	lit     int
	far     r3.Vec // the pivot when the tapes were opened
	framed  bool   // the views were brought to the answers

	title   *look.Para
	lead    *look.Para
	list    *fyne.Container
	more    *look.Button
	datums  *look.Button
	refused *look.Para
	found   *fyne.Container
	words   []string
	presses []*pressLine
	take    *look.Button
	leave   *look.Button
	box     *fyne.Container
	scroll  *container.Scroll
}

// tapeRow is one tape: where it is hooked, its length, its plus-minus.
type tapeRow struct {
	from   string
	place  *look.Button
	length *Entry
	off    *Entry
	box    *fyne.Container
}

// NewTapes makes the panel; it is closed.
func NewTapes(h *Host) *Tapes {
	k := &Tapes{h: h, title: look.NewPara("", "", ink.Text), refused: look.NewPara("", "", ink.Text)}
	k.lead = look.NewPara("", words.T("Where each tape is hooked, its length, and how far off it may be (1.5 mm where nothing is typed). A place's own ± is added. Leaving changes nothing."), ink.Second)
	k.more = look.NewButton(words.T("Another tape"), look.Outline, func() { k.add(edit.TapeText{}); k.work() }).Tall(30, look.Row).Padding(9)
	k.datums = look.NewButton(words.T("Datums..."), look.Outline, func() { k.Close(); h.Toggle(DatumsDrawer) }).Tall(30, look.Row).Padding(9)
	k.take = look.NewButton(words.T("Take it"), look.Filled, k.taken).Tall(look.Drawn, look.Row).Padding(14)
	k.leave = look.NewButton(words.T("Leave"), look.Outline, k.Close).Tall(look.Drawn, look.Row).Padding(14)
	k.list = container.New(&look.Stack{Gap: look.Gap})
	k.found = container.New(&look.Stack{Gap: 4})
	k.box = container.New(&look.Stack{Gap: 6, Inset: look.Inset, Above: 8, Below: 8}, k.title, k.lead, k.list, apart(k.more, k.datums), k.refused, k.found)
	k.scroll = container.NewVScroll(k.box)
	foot := container.New(&look.Stack{Inset: look.Inset, Above: 4, Below: 4}, apart(k.take, k.leave))
	k.Object = container.NewStack(look.NewPlate(ink.Panel), container.NewBorder(nil, foot, nil, nil, look.Calm(k.scroll)))
	k.Object.Hide()
	return k
}

// apart lays buttons side by side with room for a finger between them.
func apart(o ...fyne.CanvasObject) *fyne.Container {
	return container.New(layout.NewCustomPaddedHBoxLayout(look.Gap), o...)
}

// IsOpen reports whether the panel stands.
func (k *Tapes) IsOpen() bool { return k.open }

// Open opens it for the held pivot, at ride height.
func (k *Tapes) Open() {
	p, ok := k.h.Doc.Held()
	if !ok || k.open {
		return
	}
	k.open, k.of, k.answers, k.lit, k.framed = true, p, nil, -1, false
	k.far, _ = edit.At(k.h.Doc.Current(), p)
	k.h.Doc.MoveAxle(0, 0)
	k.rows, k.list.Objects = nil, nil
	for _, t := range edit.TapesOf(k.h.Doc.Current(), p) {
		k.add(t)
	}
	for len(k.rows) < leastTapes {
		k.add(edit.TapeText{})
	}
	k.title.Set(words.F("By tapes: %s.", edit.Name(k.h.Doc.Current(), p)), words.T("At ride height."), ink.Text)
	k.work()
	k.h.Taping()
	k.h.focus(k.rows[0].length)
}

// Close leaves; nothing is changed by it.
func (k *Tapes) Close() {
	if !k.open {
		return
	}
	k.open = false
	k.h.Choose(nil)
	k.h.Taping()
}

// places are where a tape may start.
func (k *Tapes) places() []string { return edit.TapePlaces(k.h.Doc.Current(), k.of) }

func (k *Tapes) add(t edit.TapeText) {
	if len(k.rows) >= tapesMost {
		return
	}
	r := &tapeRow{from: t.From}
	if r.from == "" { // the next place no tape starts from yet
		for _, n := range k.places() {
			used := false
			for _, o := range k.rows {
				used = used || o.from == n
			}
			if !used {
				r.from = n
				break
			}
		}
	}
	r.place = look.NewButton("", look.Outline, func() { look.PopUp(k.menu(r), r.place) }).Tall(34, look.Row).Padding(7).Type(look.Small, false).Caret(look.CaretDown)
	field := func(text string) *Entry {
		e := NewEntry(text, k.work, k.Close)
		e.OnLeave = k.work
		return e
	}
	r.length, r.off = field(t.Length).Wide(108), field(t.PlusMinus).Wide(64)
	r.length.SetPlaceHolder(words.T("length"))
	r.off.SetPlaceHolder("± 1.5")
	if k.h.Doc.Unit() == "in" {
		r.off.SetPlaceHolder("±")
	}
	r.box = container.New(tapeLine{}, r.place, look.Calm(r.length), look.Calm(r.off))
	k.rows = append(k.rows, r)
	k.list.Add(r.box)
	k.label(r)
}

// tapeLine lays a tape's row out: the place takes what the fields leave.
type tapeLine struct{}

func (tapeLine) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(300, max(look.Row, o[1].MinSize().Height))
}
func (tapeLine) Layout(o []fyne.CanvasObject, s fyne.Size) {
	x := s.Width
	for i := 2; i >= 1; i-- {
		m := o[i].MinSize()
		x -= m.Width
		o[i].Move(fyne.NewPos(x, (s.Height-m.Height)/2))
		o[i].Resize(m)
		x -= 8
	}
	o[0].Move(fyne.NewPos(0, (s.Height-look.Row)/2))
	o[0].Resize(fyne.NewSize(max(0, x), look.Row))
}

func (k *Tapes) label(r *tapeRow) {
	phrase := r.from
	if phrase == "" {
		phrase = words.T("hooked to")
	}
	r.place.SetText(look.Shorten(phrase, look.Small, false, 150))
}

func (k *Tapes) menu(r *tapeRow) *fyne.Menu {
	m := fyne.NewMenu("")
	for _, n := range k.places() {
		i := fyne.NewMenuItem(n, func() { r.from = n; k.label(r); k.work() })
		i.Checked = n == r.from
		m.Items = append(m.Items, i)
	}
	if len(m.Items) == 0 {
		m.Items = append(m.Items, fyne.NewMenuItem(words.T("No place is known yet: add datums first"), func() { k.datums.Tapped(nil) }))
	}
	return m
}

func (k *Tapes) texts() []edit.TapeText {
	var out []edit.TapeText
	for _, r := range k.rows {
		out = append(out, edit.TapeText{From: r.from, Length: r.length.Text, PlusMinus: r.off.Text})
	}
	return out
}

// Update looks at what changed.
func (k *Tapes) Update(c document.Change) {
	if !k.open || c&(document.SelectionChanged|document.JobChanged|document.ShownChanged) == 0 {
		return
	}
	if p, ok := k.h.Doc.Held(); !ok || p != k.of {
		k.Close()
		return
	}
	k.work()
}

// work finds the answers of what is typed and shows them here and in the views.
func (k *Tapes) work() {
	if !k.open {
		return
	}
	for _, r := range k.rows {
		r.length.was, r.off.was = r.length.Text, r.off.Text
	}
	tapes, err := k.h.Doc.ReadTapes(k.of, k.texts())
	k.answers = nil
	if err == nil {
		k.answers, err = measure.Tapes(tapes)
	}
	phrase := ""
	typed := 0
	for _, r := range k.rows {
		if strings.TrimSpace(r.length.Text) != "" {
			typed++
		}
	}
	switch {
	case len(k.places()) < leastTapes:
		phrase = words.F("Tapes need three places that are known in X, Y and Z; there are %d. Add datums, or mark pivots measured.", len(k.places()))
	case err != nil && (typed >= leastTapes || !strings.HasPrefix(document.Words(err), "Three tapes")):
		phrase = document.Words(err)
	}
	k.refused.Set("", phrase, ink.Text)
	look.Show(k.refused, phrase != "")
	look.Show(k.lead, len(k.answers) == 0) // the answers need the room
	if k.lit >= len(k.answers) || k.lit < 0 {
		k.lit = -1
		best := math.Inf(1)
		for i := range k.answers { // the one nearer to where the pivot was thought to be
			if d := r3.Norm(r3.Sub(k.answers[i].At, k.far)); d < best {
				k.lit, best = i, d
			}
		}
	}
	k.show(tapes)
}

// pickAnswer takes one of the answers as the one meant.
func (k *Tapes) pickAnswer(i int) {
	k.lit = i
	k.work()
}

// show writes the answers and lays them over the views.
func (k *Tapes) show(tapes []measure.Tape) {
	unit := k.h.Doc.Unit()
	k.words = nil
	for len(k.presses) > len(k.answers) {
		k.presses = k.presses[:len(k.presses)-1]
	}
	for i := len(k.presses); i < len(k.answers); i++ {
		l := newPressLine("", "", ink.Text, func() { k.pickAnswer(i) })
		l.seen = func() { reveal(k.scroll, l) }
		k.presses = append(k.presses, l)
	}
	k.found.Objects = nil
	c := &view.Choice{Lit: k.lit, Pick: k.pickAnswer, Leave: k.Close}
	for i := range k.answers {
		a := &k.answers[i]
		lead, text := words.F("Answer %d:", i+1), answerWords(a, unit)
		if off := r3.Norm(r3.Sub(a.At, k.far)); i == k.lit {
			text += words.F(" %s from where it stood.", lengthUnit(off, unit))
		}
		l := k.presses[i]
		l.para.Set(lead, text, ink.Text)
		l.lit = i == k.lit
		l.Refresh()
		k.found.Add(l)
		k.words = append(k.words, lead+" "+text)
		c.Places = append(c.Places, a.At)
		c.Names = append(c.Names, words.F("answer %d", i+1))
	}
	n := 0
	for _, r := range k.rows {
		if strings.TrimSpace(r.length.Text) == "" || n >= len(tapes) {
			continue
		}
		c.From, c.Labels = append(c.From, tapes[n].From), append(c.Labels, r.from)
		n++
	}
	switch len(k.answers) {
	case 0:
		c.Words = words.T("Tapes: type three lengths or more. Escape leaves.")
	case 1:
		c.Words = words.T("Tapes: one place fits. Take it; Escape leaves.")
	default:
		c.Words = words.T("Tapes: two places fit. Press yours, then Take it; Escape leaves.")
	}
	k.take.SetDisabled(k.lit < 0)
	k.more.SetDisabled(len(k.rows) >= tapesMost)
	k.h.Choose(c)
	if len(c.Places) > 0 && !k.framed {
		k.framed = true
		lo, hi := c.Places[0], c.Places[0]
		for _, v := range append(append([]r3.Vec{k.far}, c.Places...), c.From...) {
			lo = r3.Vec{X: math.Min(lo.X, v.X), Y: math.Min(lo.Y, v.Y), Z: math.Min(lo.Z, v.Z)}
			hi = r3.Vec{X: math.Max(hi.X, v.X), Y: math.Max(hi.Y, v.Y), Z: math.Max(hi.Z, v.Z)}
		}
		out := r3.Vec{X: framedRound, Y: framedRound, Z: framedRound}
		k.h.Frame(r3.Sub(lo, out), r3.Add(hi, out))
	}
	k.box.Refresh()
	k.scroll.Refresh()
}

// tenths writes a length to a tenth of a millimetre or a hundredth of an inch, without its unit.
func tenths(mm float64, unit string) string {
	if unit == "in" {
		return num(mm/mmPerInch, 2)
	}
	return num(mm, 1)
}

// answerWords say where an answer is, how far off it may be and how well the tapes fit it.
func answerWords(a *measure.Taped, unit string) string {
	at, off := [3]float64{a.At.X, a.At.Y, a.At.Z}, [3]float64{a.PlusMinus.X, a.PlusMinus.Y, a.PlusMinus.Z}
	var out []string
	for i := range at {
		out = append(out, fmt.Sprintf("%s %s ± %s", edit.Axis(i), length(at[i], unit), tenths(math.Max(off[i], 0.1), unit)))
	}
	phrase := strings.Join(out, ", ") + " " + unit + "."
	if n := len(a.Misfit); n > leastTapes {
		worst := 0
		for i, m := range a.Misfit {
			if math.Abs(m) > math.Abs(a.Misfit[worst]) {
				worst = i
			}
		}
		phrase += words.F(" Misfit %s at most, tape %d.", tenths(a.Worst, unit)+" "+unit, worst+1)
	} else if a.Worst > 0.05 {
		phrase += words.F(" Misfit %s: the tapes fall short of each other.", tenths(a.Worst, unit)+" "+unit)
	}
	if a.Poor >= 0 {
		phrase += words.F(" Poor spread: %s is held badly. Take a tape from %s.", edit.Axis(a.Poor), [3]string{words.T("farther ahead or behind"), words.T("farther to the side"), words.T("higher up or lower down")}[a.Poor])
	}
	return phrase
}

// taken writes the answer that is lit into the job.
func (k *Tapes) taken() {
	if k.lit < 0 || k.lit >= len(k.answers) {
		return
	}
	if err := k.h.Doc.TakeTapes(k.of, k.texts(), k.answers[k.lit]); err != nil {
		k.refused.Set("", document.Words(err), ink.Text)
		look.Show(k.refused, true)
		k.box.Refresh()
		k.scroll.Refresh()
		return
	}
	k.Close()
}

// Lines are the answers in words, and what was refused, for tests and for whoever drives the window from outside.
func (k *Tapes) Lines() []string {
	out := append([]string(nil), k.words...)
	if k.refused.Visible() {
		out = append(out, k.refused.Text())
	}
	return out
}

// Places are where its tapes are hooked, row by row, for whoever drives the window from outside.
func (k *Tapes) Places() []string {
	var out []string
	for _, r := range k.rows {
		out = append(out, r.from)
	}
	return out
}

// Named finds a button or field in it: "Take it", "Leave", "Another tape", "Datums...", "length 1", "± 1", "place 1", "answer 1".
func (k *Tapes) Named(name string) fyne.CanvasObject {
	for _, b := range []*look.Button{k.take, k.leave, k.more, k.datums} {
		if b.Text() == name {
			return b
		}
	}
	for i, r := range k.rows {
		switch name {
		case words.F("length %d", i+1):
			return r.length
		case fmt.Sprintf("± %d", i+1):
			return r.off
		case words.F("place %d", i+1):
			return r.place
		}
	}
	for i, l := range k.presses {
		if name == words.F("answer %d", i+1) {
			return l
		}
	}
	return nil
}
