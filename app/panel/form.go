package panel

import (
	"slices"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/photo"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// form shows everything there is to set about a part, made from its list of fields.
type form struct {
	h       *Host
	part    edit.Part
	has     bool
	cells   []*cell
	box     *fyne.Container
	scroll  *container.Scroll
	calm    fyne.CanvasObject
	refused *look.Para
	plate   *fyne.Container
	back    *look.Plate // of plate
	empty   *look.Para
	filling bool // many fields are being set: they are laid out once, at the end
	stirred bool // and have to be

	only  func(*edit.Field) bool                       // the fields that are shown; nil: all
	set   func(part edit.Part, key, text string) error // takes what was typed or chosen; nil: as a field of the part
	bring func(fyne.CanvasObject)                      // brings a field into sight; nil: by the form's own scroll
	opens func()                                       // opens the panel of the tank shown; nil: litres are words
}

// moved lays the fields out again after words changed.
func (f *form) moved() {
	if f.filling {
		f.stirred = true
		return
	}
	f.box.Refresh()
}

// cell is one field on screen.
type cell struct {
	f      *form
	part   edit.Part
	field  edit.Field
	head   *look.Label // heading of the group that begins here
	label  *look.Para
	suffix *look.Label
	entry  *Entry
	calm   fyne.CanvasObject // the entry, without shadows
	yes    *look.Segments
	choose *look.Button
	words  *look.Label  // worked out, cannot be typed
	open   *look.Button // the same, and a press tells more of it
	pick   *look.Button // chooses a file
	wide   bool
}

func newForm(h *Host) *form {
	f := &form{h: h, refused: look.NewPara("", "", ink.Text), empty: look.NewPara("", "", ink.Second)}
	f.back = look.NewPlate(ink.TroubleGround)
	f.plate = container.NewStack(f.back, container.New(&look.Stack{Inset: 8, Above: 4, Below: 4}, f.refused))
	f.plate.Hide()
	f.box = container.New(&formLayout{f: f})
	f.scroll = container.NewVScroll(f.box)
	f.calm = look.Calm(f.scroll)
	return f
}

// none shows a sentence instead of a form.
func (f *form) none(phrase string) {
	f.has = false
	f.cells = nil
	f.empty.Set("", phrase, ink.Second)
	f.box.Objects = []fyne.CanvasObject{f.plate, f.empty}
	f.box.Refresh()
	f.scroll.Refresh()
}

// show shows a part; fields that stand already keep their places, the one being typed in keeps its text.
func (f *form) show(part edit.Part, j *job.Job) {
	fields := edit.Fields(j, part)
	if f.only != nil {
		fields = slices.DeleteFunc(fields, func(x edit.Field) bool { return !f.only(&x) })
	}
	f.filling, f.stirred = true, false
	defer func() { f.filling = false }()
	if f.has && f.part == part && len(fields) == len(f.cells) {
		same := true
		for i := range fields {
			c := f.cells[i].field
			same = same && c.Key == fields[i].Key && c.Unit == fields[i].Unit && c.Group == fields[i].Group
		}
		if same {
			for i := range fields {
				f.cells[i].set(fields[i])
			}
			if f.stirred {
				f.box.Refresh()
			}
			return
		}
	}
	f.has, f.part = true, part
	f.cells = nil
	f.box.Objects = []fyne.CanvasObject{f.plate}
	group := ""
	for i := range fields {
		c := f.cell(fields[i])
		if fields[i].Group != group {
			group = fields[i].Group
			if group != "" {
				c.head = look.NewLabel(group, look.Small, ink.Text, true)
				f.box.Objects = append(f.box.Objects, c.head)
			}
		}
		f.cells = append(f.cells, c)
		f.box.Objects = append(f.box.Objects, c.objects()...)
	}
	f.box.Refresh()
	f.scroll.Offset = fyne.NewPos(0, 0)
	f.scroll.Refresh()
}

func (f *form) cell(x edit.Field) *cell {
	c := &cell{f: f, part: f.part, field: x, label: look.NewPara("", "", ink.Text).Most(2), suffix: look.NewLabel("", look.Small, ink.Second, false)}
	switch x.Unit {
	case edit.Bool:
		c.yes = look.NewSegments([]string{words.T("Yes"), words.T("No")}, 1, func(i int) { c.commit([]string{"yes", "no"}[i]) }).Compact(10, look.Row, look.Small)
	case edit.Choice:
		c.choose = look.NewButton("", look.Outline, func() { look.PopUp(c.menu(), c.choose) }).Tall(30, look.Row).Caret(look.CaretDown)
	case edit.ReadOnly:
		if f.opens != nil && x.Key == "litres" {
			c.open = look.NewButton("", look.Link, f.opens).Type(look.Body, true).Tall(30, look.Row)
			break
		}
		c.words = look.NewLabel("", look.Body, ink.Text, false).Shrinks(20)
	default:
		c.entry = NewEntry("", func() { c.commit(c.entry.Text) }, func() {
			c.entry.SetText(c.field.Text)
			if cv := fyne.CurrentApp().Driver().CanvasForObject(c.entry); cv != nil {
				cv.Unfocus()
			}
		})
		c.entry.OnFocus = func() {
			if f.bring != nil {
				f.bring(c.calm)
				return
			}
			reveal(f.scroll, c.calm)
		}
		c.entry.OnLeave = func() { c.commit(c.entry.Text) }
		if x.Unit == edit.LongText || x.Unit == edit.Points {
			c.entry.MultiLine = true
			c.entry.Wrapping = fyne.TextWrapWord
			c.entry.SetMinRowsVisible(2)
		}
		c.calm = look.Calm(c.entry)
	}
	choose := func(take func(path string) (note string, err error), endings ...string) {
		if f.h.ChooseFile == nil {
			return
		}
		c.pick = look.NewButton(words.T("Choose..."), look.Outline, func() {
			f.h.ChooseFile(func(path string) {
				note, err := take(path)
				f.refuse(err)
				if err == nil && note != "" {
					f.h.Say(words.T("Taken under another name"), note)
				}
			}, endings...)
		}).Tall(30, look.Row)
	}
	switch x.Key {
	case "file":
		choose(func(path string) (string, error) { return f.h.Doc.SetFile(f.part, path) }, ".stl")
	case "before.photo":
		choose(func(path string) (string, error) { return f.h.Doc.SetBeforePhoto(path) }, photo.Endings...)
	}
	c.wide = x.Unit == edit.LongText || x.Unit == edit.Points || x.Unit == edit.NameList || x.Key == "name" || x.Key == "title" || x.Key == "file" || x.Key == "before.photo" || f.part.List == edit.Brackets && x.Unit == edit.Choice
	c.set(x)
	return c
}

func (c *cell) objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{c.label}
	switch {
	case c.yes != nil:
		out = append(out, c.yes)
	case c.choose != nil:
		out = append(out, c.choose)
	case c.words != nil:
		out = append(out, c.words, c.suffix)
	case c.open != nil:
		out = append(out, c.open, c.suffix)
	default:
		out = append(out, c.calm, c.suffix)
	}
	if c.pick != nil {
		out = append(out, c.pick)
	}
	return out
}

// set puts a field's present value in.
func (c *cell) set(x edit.Field) {
	spread := c.spreads()
	c.field = x
	role := ink.Text
	label := x.Label
	if x.Guess {
		label, role = "? "+label, ink.Second
	}
	if c.label.Set("", label, role) {
		c.f.moved()
	}
	c.suffix.SetText(x.Suffix)
	switch {
	case c.yes != nil:
		lit := 1
		if x.Text == "yes" {
			lit = 0
		}
		c.yes.Set([]string{words.T("Yes"), words.T("No")}, lit)
	case c.choose != nil:
		phrase := x.Text
		if x.Unit == edit.Choice && phrase != "" {
			phrase = words.T(phrase)
		}
		if phrase == "" {
			phrase = words.T("none")
			if x.Default != "" {
				phrase = x.Default
			}
		}
		room := float32(entryWidth + suffixRoom - 26)
		if c.wide {
			room = 3 * entryWidth
		}
		c.choose.SetText(look.Shorten(phrase, look.Body, false, room))
	case c.words != nil:
		c.words.SetText(x.Text)
	case c.open != nil:
		c.open.SetText(x.Text)
	default:
		if !c.entry.focused {
			if c.entry.Text != x.Text {
				c.entry.SetText(x.Text)
			}
			c.entry.was = x.Text
		}
		if c.entry.PlaceHolder != x.Default {
			c.entry.SetPlaceHolder(x.Default)
		}
		if spread != c.spreads() {
			c.f.moved()
		}
	}
}

func (c *cell) menu() *fyne.Menu {
	m := fyne.NewMenu("")
	for _, w := range c.field.Choices {
		i := fyne.NewMenuItem(words.T(w), func() { c.commit(w) })
		i.Checked = w == c.field.Text
		m.Items = append(m.Items, i)
	}
	if c.field.Optional {
		none := words.T("none")
		if c.field.Default != "" {
			none = words.F("not given: %s", c.field.Default)
		}
		m.Items = append(m.Items, fyne.NewMenuItem(none, func() { c.commit("") }))
	}
	return m
}

// spreads reports whether the field takes a row of its own: always, or while the words of what stands for it empty need the room.
func (c *cell) spreads() bool {
	return c.wide || c.entry != nil && c.field.Text == "" && look.Width(c.field.Default, look.Body, false) > entryWidth-18
}

// commit hands what was typed or chosen to the document; a refusal is shown over the form and the value stays.
func (c *cell) commit(text string) {
	if text == c.field.Text {
		return
	}
	set := c.f.set
	if set == nil {
		set = c.f.h.Doc.SetField
	}
	err := set(c.part, c.field.Key, text) // of the part it was made for, whichever is shown by now
	c.f.refuse(err)
	if err == nil && c.entry != nil {
		c.field.Text, c.entry.was = text, text
	}
}

// refuse shows why a value was not taken; nil takes the sentence away.
func (f *form) refuse(err error) {
	if err == nil {
		f.say("")
		return
	}
	f.back.Edged(ink.Trouble, 1.5, look.Radius).SetFill(ink.TroubleGround)
	f.write(document.Words(err))
}

// say shows a sentence over the fields; "" takes it away.
func (f *form) say(phrase string) {
	f.back.Edged(ink.Edge, 1, look.Radius).SetFill(ink.RangeGround)
	f.write(phrase)
}

func (f *form) write(phrase string) {
	if phrase == "" && !f.plate.Visible() || phrase != "" && f.plate.Visible() && f.refused.Text() == phrase {
		return
	}
	f.refused.Set("", phrase, ink.Text)
	look.Show(f.plate, phrase != "")
	f.box.Refresh()
	f.scroll.Refresh()
	if phrase != "" {
		f.scroll.ScrollToTop()
	}
}

func (f *form) named(name string) fyne.CanvasObject {
	for _, c := range f.cells {
		if c.pick != nil && c.pick.Text() == name {
			return c.pick
		}
		if c.field.Label != name && c.field.Key != name {
			continue
		}
		switch {
		case c.yes != nil:
			return c.yes
		case c.choose != nil:
			return c.choose
		case c.words != nil:
			return c.words
		case c.open != nil:
			return c.open
		}
		return c.entry
	}
	return nil
}

// formLayout lays fields out in as many columns as there is room for.
type formLayout struct {
	f     *form
	width float32
}

const (
	cellLeast  = 284
	entryWidth = 96
	suffixRoom = 46
	cellHeight = 43
)

func (l *formLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	l.width = s.Width
	l.run(s.Width, true)
}

func (l *formLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	w := l.width
	if w == 0 {
		w = 600
	}
	return fyne.NewSize(260, l.run(w, false))
}

// run goes over the cells, places them if asked, and returns the height they take.
func (l *formLayout) run(width float32, place bool) float32 {
	f := l.f
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		if place {
			o.Move(fyne.NewPos(x, y))
			o.Resize(fyne.NewSize(max(0, w), h))
		}
	}
	label := func(c *cell, x, y, w float32) {
		if place {
			h := c.label.HeightFor(w)
			put(c.label, x, y+(cellHeight-h)/2, w, h)
		}
	}
	y := float32(0)
	if f.plate.Visible() {
		h := f.refused.HeightFor(width-28) + 10
		put(f.plate, 4, y, width-12, h)
		y += h + 6
	}
	if !f.has {
		put(f.empty, 8, y+6, width-20, f.empty.HeightFor(width-20))
		return y + 12 + f.empty.HeightFor(width-20)
	}
	cols := max(1, int(width/cellLeast))
	cw := (width - 12) / float32(cols)
	col := 0
	line := func() {
		if col > 0 {
			col = 0
			y += cellHeight
		}
	}
	for _, c := range f.cells {
		if c.head != nil {
			line()
			put(c.head, 8, y+4, width-20, 20)
			y += 28
		}
		if c.spreads() {
			line()
			h := float32(cellHeight)
			if c.entry != nil && c.entry.MultiLine {
				h = max(h, c.entry.MinSize().Height+4)
			}
			room := min(150, cw*0.5)
			label(c, 8, y, room-6)
			end := width - 20 - suffixRoom
			if c.pick != nil {
				w := c.pick.MinSize().Width
				end = width - 20 - w
				put(c.pick, end+6, y, w, cellHeight)
			}
			if c.choose != nil {
				put(c.choose, 8+room, y, min(c.choose.MinSize().Width, width-20-room), cellHeight)
			} else {
				put(c.calm, 8+room, y+1, end-8-room, h-2)
				put(c.suffix, width-16-suffixRoom, y, suffixRoom, cellHeight)
			}
			y += h
			continue
		}
		x := 8 + float32(col)*cw
		room := cw - 16 - entryWidth - suffixRoom
		label(c, x, y, room-6)
		switch {
		case c.yes != nil:
			put(c.yes, x+room, y, c.yes.MinSize().Width, cellHeight)
		case c.choose != nil:
			put(c.choose, x+room, y, min(max(c.choose.MinSize().Width, entryWidth), entryWidth+suffixRoom), cellHeight)
		case c.open != nil:
			put(c.open, x+room, y, c.open.MinSize().Width, cellHeight)
			put(c.suffix, x+room+entryWidth+6, y, suffixRoom, cellHeight)
		case c.words != nil:
			w := float32(entryWidth)
			if c.field.Suffix == "" {
				w += suffixRoom
			}
			put(c.words, x+room, y, w, cellHeight)
			put(c.suffix, x+room+entryWidth+6, y, suffixRoom, cellHeight)
		default:
			put(c.calm, x+room, y+1, entryWidth, cellHeight-2)
			put(c.suffix, x+room+entryWidth+6, y, suffixRoom, cellHeight)
		}
		if col++; col == cols {
			line()
		}
	}
	line()
	return y + 8
}
