package panel

import (
	"slices"
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// datums is the list of what measurements start from: to add, correct and remove, and to check for level and square.
type datums struct {
	h      *Host
	top    *fyne.Container
	add    *look.Button
	square *look.Button
	said   *look.Para
	list   *fyne.Container
	rows   []*pressLine
	gone   []*look.Button
	text   *container.Scroll
	box    *fyne.Container
	now    []edit.DatumText
}

func newDatums(h *Host) *datums {
	k := &datums{h: h, said: look.NewPara("", "", ink.Text)}
	k.add = look.NewButton(words.T("Add a datum..."), look.Outline, k.ask).Tall(30, look.Row).Padding(9)
	k.square = look.NewButton(words.T("Level and square..."), look.Outline, k.askSquare).Tall(30, look.Row).Padding(9)
	k.top = container.New(layout.NewCustomPaddedHBoxLayout(look.Gap), k.add, k.square)
	k.list = container.New(&look.Stack{Gap: look.Gap})
	k.text = container.NewVScroll(container.New(&look.Stack{Gap: 6, Inset: look.Inset, Below: 8}, k.said, k.list))
	k.box = container.New(&sides{0, look.Gap}, look.Calm(k.text))
	k.write()
	k.say("")
	return k
}

func (k *datums) object() fyne.CanvasObject { return k.box }
func (k *datums) head() fyne.CanvasObject   { return k.top }
func (k *datums) bare() bool                { return false }
func (k *datums) closed()                   { k.say("") }
func (k *datums) update(c document.Change) {
	if c&(document.JobChanged|document.ShownChanged) != 0 {
		if k.write() { // changed from elsewhere, by Undo: what was said is no more so
			k.say("")
		}
	}
}

// noDatums is said where there are none.
const noDatums = "A datum is something measurements start from: the floor, a rail's top, a hanger bolt, a punch mark. Give it X, Y and Z, or only the one it fixes. On the pivot card each number may be counted from one, and tapes start from those that have all three. Correct a datum later, and what was counted from it goes along."

// say tells what a press did.
func (k *datums) say(phrase string) {
	if phrase == "" && len(k.now) == 0 {
		phrase = words.T(noDatums)
	}
	k.said.Set("", phrase, ink.Text)
	look.Show(k.said, phrase != "")
	k.text.Content.Refresh()
}

// write brings the list up to date, and reports whether it had to.
func (k *datums) write() bool {
	now := k.h.Doc.DatumTexts()
	if len(now) == len(k.rows) && slices.Equal(now, k.now) {
		return false
	}
	had := len(k.now)
	k.now = now
	for len(k.rows) > len(now) {
		k.rows, k.gone = k.rows[:len(k.rows)-1], k.gone[:len(k.gone)-1]
	}
	for i := len(k.rows); i < len(now); i++ {
		l := newPressLine("", "", ink.Text, func() { k.correct(i) })
		b := look.NewButton(words.T("Remove"), look.Outline, func() { k.remove(i) }).Tall(30, look.Row).Padding(9)
		k.rows, k.gone = append(k.rows, l), append(k.gone, b)
	}
	k.list.Objects = nil
	for i := range now {
		k.rows[i].para.Set(now[i].Name+":", k.line(i), ink.Text)
		row := container.New(datumLine{}, k.rows[i], k.gone[i])
		k.rows[i].seen = func() { bring(k.text, k.list.Position().Y+row.Position().Y, row.Size().Height) }
		k.list.Add(row)
	}
	if (had == 0) != (len(now) == 0) {
		k.say("")
	}
	k.text.Content.Refresh()
	return true
}

// line is a datum in words.
func (k *datums) line(i int) string {
	t, unit := k.now[i], k.h.Doc.Unit()
	var out []string
	for a, v := range []string{t.X, t.Y, t.Z} {
		if v != "" {
			out = append(out, edit.Axis(a).String()+" "+strings.ReplaceAll(v, "-", "−"))
		}
	}
	phrase := strings.Join(out, ", ") + " " + unit
	if len(out) == 1 {
		phrase += words.T(", fixes only that")
	}
	if t.PlusMinus != "" {
		phrase += ", ± " + t.PlusMinus
	}
	if _, ok := edit.StoodDatumOf(k.h.Doc.Current(), t.Name); ok {
		phrase += ", " + edit.StoodWords(edit.OnFloor)
	}
	return words.F("%s. Press to correct.", phrase)
}

// datumLine is words with a button at their right.
type datumLine struct{}

func (datumLine) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(200, o[1].MinSize().Height+2)
}
func (datumLine) Layout(o []fyne.CanvasObject, s fyne.Size) {
	m := o[1].MinSize()
	o[1].Move(fyne.NewPos(s.Width-m.Width, (s.Height-m.Height)/2))
	o[1].Resize(m)
	w := max(0, s.Width-m.Width-8)
	h := s.Height
	if l, ok := o[0].(*pressLine); ok {
		h = min(h, max(28, l.HeightFor(w)))
	}
	o[0].Move(fyne.NewPos(0, (s.Height-h)/2))
	o[0].Resize(fyne.NewSize(w, h))
}

// datumLabels are what is asked of a datum.
func (k *datums) datumLabels() []string {
	unit := k.h.Doc.Unit()
	return []string{words.T("Name"), words.F("X, + ahead of the axle, %s", unit), words.F("Y, + left of the middle, %s", unit), words.F("Z, above the ground, %s", unit), words.F("± %s, if known", unit)}
}

func datumOf(t []string) edit.DatumText {
	return edit.DatumText{Name: strings.TrimSpace(t[0]), X: t[1], Y: t[2], Z: t[3], PlusMinus: t[4]}
}

func (k *datums) ask() {
	k.h.AskMany(words.T("Add a datum: X, Y and Z, or just one"), k.datumLabels(), make([]string, 5), func(t []string) error {
		if err := k.h.Doc.AddDatum(datumOf(t)); err != nil {
			return err
		}
		k.write()
		k.say(words.F("%s: added.", datumOf(t).Name))
		return nil
	})
}

func (k *datums) correct(i int) {
	if i >= len(k.now) {
		return
	}
	t := k.now[i]
	k.h.AskMany(words.F("Correct %s", t.Name), k.datumLabels(), []string{t.Name, t.X, t.Y, t.Z, t.PlusMinus}, func(text []string) error {
		phrase, err := k.h.Doc.CorrectDatum(i, datumOf(text))
		if err != nil {
			return err
		}
		k.write()
		k.say(words.F("%s Undo takes it back in one step.", phrase))
		return nil
	})
}

func (k *datums) remove(i int) {
	if i >= len(k.now) {
		return
	}
	name := k.now[i].Name
	n, err := k.h.Doc.RemoveDatum(i)
	if err != nil {
		k.say(document.Words(err))
		return
	}
	k.write()
	phrase := words.F("%s: removed.", name)
	if n > 0 {
		phrase += words.F(" Numbers counted from it: %d. They stay where they are, counted as the job counts.", n)
	}
	k.say(phrase)
}

// askSquare asks which four datums should lie square, and what the tape says across.
func (k *datums) askSquare() {
	now := make([]string, 6)
	n := 0
	for _, t := range k.now {
		if n < 4 && t.X != "" && t.Y != "" && t.Z != "" {
			now[n] = t.Name
			n++
		}
	}
	unit := k.h.Doc.Unit()
	k.h.AskMany(words.T("Level and square"), []string{words.T("Corner 1, then in order round"), words.T("Corner 2"), words.T("Corner 3"), words.T("Corner 4"), words.F("Diagonal 1 to 3, %s", unit), words.F("Diagonal 2 to 4, %s", unit)}, now, func(t []string) error {
		phrase, err := k.h.Doc.SquareWords([4]string(t[:4]), [2]string(t[4:]))
		if err != nil {
			return err
		}
		k.say(phrase)
		return nil
	})
}

func (k *datums) lines() []string {
	var out []string
	if k.said.Visible() {
		out = append(out, k.said.Text())
	}
	for i := range k.now {
		out = append(out, k.now[i].Name+": "+k.line(i))
	}
	return out
}

func (k *datums) named(name string) fyne.CanvasObject {
	for _, b := range []*look.Button{k.add, k.square} {
		if b.Text() == name {
			return b
		}
	}
	for i := range k.now {
		switch name {
		case k.now[i].Name:
			return k.rows[i]
		case "Remove " + k.now[i].Name:
			return k.gone[i]
		}
	}
	return nil
}
