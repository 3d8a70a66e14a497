package panel

import (
	"strings"

	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// standingNames are what the three numbers of a place are called.
func standingNames(how int) [3]string {
	switch edit.Stoods[how] {
	case edit.Hanging:
		return [3]string{"X", "Y", "Z"}
	case edit.OnFloor:
		return [3]string{words.T("Ahead"), words.T("Left"), words.T("Height")}
	}
	return [3]string{words.T("Ahead"), words.T("Left"), words.T("Up")}
}

// standingRow are the fields of a place's three numbers and their +-; hanging, what each is counted from.
type standingRow struct {
	k      *standing
	labels [4]*look.Label
	fields [4]*Entry
	from   [3]*look.Button
	names  [3]string // of the datums
	box    *fyne.Container
	fill   bool // the fields are being filled: nothing is worked out meanwhile
}

func newStandingRow(k *standing) *standingRow {
	r := &standingRow{k: k}
	var objects []fyne.CanvasObject
	for i := range r.fields {
		r.labels[i] = look.NewLabel("", look.Small, ink.Text, false)
		e := NewEntry("", k.taken, func() {
			t, _ := k.typedOf()
			if t == r.text() {
				k.h.Toggle(StandingDrawer)
				return
			}
			k.fill(t)
			k.typed()
		})
		e.OnChanged = func(string) {
			if !r.fill {
				k.typed()
			}
		}
		e.OnFocus = func() { revealIn(k.beside, r.box) }
		r.fields[i] = e
		objects = append(objects, r.labels[i], look.Calm(e))
	}
	for i := range r.from {
		r.from[i] = look.NewButton("", look.Plain, func() { look.PopUp(r.menu(i), r.from[i]) }).Type(look.Small, false).Padding(4).Tall(26, look.Row).Caret(look.CaretDown)
		objects = append(objects, r.from[i])
	}
	r.box = container.New(standingFields{r}, objects...)
	return r
}

// dress names the fields for a way.
func (r *standingRow) dress(how int) {
	for i, n := range standingNames(how) {
		r.labels[i].SetText(n)
		look.Show(r.from[i], edit.Stoods[how] == edit.Hanging)
		name := r.names[i]
		if name == "" {
			name = []string{words.T("from axle"), words.T("from middle"), words.T("from ground")}[i]
		} else {
			name = words.F("from %s", name)
		}
		r.from[i].SetText(look.Shorten(name, look.Small, false, 96))
	}
	r.labels[3].SetText("± " + r.k.h.Doc.Unit())
	r.fields[3].SetPlaceHolder(tenths(1.5, r.k.h.Doc.Unit()))
	r.box.Refresh()
}

func (r *standingRow) menu(a int) *fyne.Menu {
	m := fyne.NewMenu("")
	put := func(label, name string) {
		i := fyne.NewMenuItem(label, func() {
			r.names[a] = name
			r.dress(r.k.how)
			r.k.typed()
		})
		i.Checked = r.names[a] == name
		m.Items = append(m.Items, i)
	}
	put([]string{words.T("from the axle at ride height, + ahead"), words.T("from the middle, + left"), words.T("above the ground of ride height")}[a], "")
	for _, n := range edit.DatumsFixing(r.k.h.Doc.Current(), edit.Axis(a)) {
		put(words.F("from %s", n), n)
	}
	return m
}

// text is what the fields hold.
func (r *standingRow) text() (t edit.StoodText) {
	for i := range t.Typed {
		t.Typed[i] = r.fields[i].Text
	}
	t.From, t.PlusMinus = r.names, r.fields[3].Text
	return t
}

// show puts numbers into the fields.
func (r *standingRow) show(t edit.StoodText) {
	r.fill = true
	for i, v := range append(t.Typed[:], t.PlusMinus) {
		if r.fields[i].Text != v {
			r.fields[i].SetText(v)
		}
		r.fields[i].was = v
	}
	r.fill = false
	r.names = t.From
	r.dress(r.k.how)
}

// empty reports whether nothing at all is typed.
func (r *standingRow) empty() bool {
	for _, e := range r.fields[:3] {
		if strings.TrimSpace(e.Text) != "" {
			return false
		}
	}
	return true
}

// typing reports whether a hand is at one of the fields.
func (r *standingRow) typing() bool {
	for _, e := range r.fields {
		if e.focused {
			return true
		}
	}
	return false
}

func (r *standingRow) named(name string) fyne.CanvasObject {
	for i, n := range standingNames(r.k.how) {
		switch name {
		case n:
			return r.fields[i]
		case n + " from":
			return r.from[i]
		}
	}
	if name == "±" {
		return r.fields[3]
	}
	return nil
}

// standingFields lays the fields out beside each other, names over them, what they are counted from under them.
type standingFields struct{ r *standingRow }

const (
	standingLabel = 20 // height of a field's name
	standingInset = 8  // as the form's
)

func (l standingFields) MinSize([]fyne.CanvasObject) fyne.Size {
	h := standingLabel + l.r.fields[0].MinSize().Height
	if l.r.from[0].Visible() {
		h += look.Row
	}
	return fyne.NewSize(300, h)
}

func (l standingFields) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := (s.Width - 3*8) / 4
	h := l.r.fields[0].MinSize().Height
	for i := range l.r.fields {
		x := float32(i) * (w + 8)
		o[2*i].Move(fyne.NewPos(x+4, 0))
		o[2*i].Resize(fyne.NewSize(w-4, standingLabel))
		o[2*i+1].Move(fyne.NewPos(x, standingLabel))
		o[2*i+1].Resize(fyne.NewSize(w, h))
		if i < len(l.r.from) {
			l.r.from[i].Move(fyne.NewPos(x, standingLabel+h))
			l.r.from[i].Resize(fyne.NewSize(w+4, look.Row))
		}
	}
}

// standingSides lays how it stood and the pivot beside each other, or under each other where there is no room; each scrolls by itself.
type standingSides struct{}

func (standingSides) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(300, 120) }
func (standingSides) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w, h := s.Width-look.Gap, s.Height-4
	if w < besideFrom {
		upper := h * 0.5
		o[0].Move(fyne.NewPos(0, 0))
		o[0].Resize(fyne.NewSize(w, upper))
		o[1].Move(fyne.NewPos(0, upper+4))
		o[1].Resize(fyne.NewSize(w, h-upper-4))
		return
	}
	left := (w - look.Gap) * 0.5
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(fyne.NewSize(left, h))
	o[1].Move(fyne.NewPos(left+look.Gap, 0))
	o[1].Resize(fyne.NewSize(w-look.Gap-left, h))
}

// standingLayout lays what is said over the numbers of how it stood.
type standingLayout struct {
	k     *standing
	width float32
}

func (l *standingLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	l.width = s.Width
	l.run(s.Width, true)
}

func (l *standingLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	w := l.width
	if w == 0 {
		w = 600
	}
	return fyne.NewSize(200, l.run(w, false))
}

func (l *standingLayout) run(w float32, place bool) (y float32) {
	k := l.k
	put := func(o fyne.CanvasObject, x, w, h float32) {
		if place {
			o.Move(fyne.NewPos(x, y))
			o.Resize(fyne.NewSize(w, h))
		}
	}
	for _, p := range []*look.Para{k.lead, k.says} {
		if p.Visible() {
			h := p.HeightFor(w - standingInset - 4)
			put(p, standingInset, w-standingInset-4, h)
			y += h + 6
		}
	}
	if k.presses.Visible() {
		put(k.presses, standingInset, w-standingInset-4, look.Row)
		y += look.Row + 6
	}
	h := k.form.box.Layout.(*formLayout).run(w, false)
	put(k.form.box, 0, w, h)
	return y + h
}
