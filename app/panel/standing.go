package panel

import (
	"slices"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// standing is how axle or body stood while places on it were measured, and those places: what they come to at ride height is shown before it is taken.
type standing struct {
	h    *Host
	how  int // of edit.Stoods
	of   document.Pivot
	has  bool           // a pivot is chosen
	mark string         // the datum chosen in its place, over the floor; "" none
	text edit.StoodText // its numbers as typed, which the fields show

	tabs    *look.Segments
	form    *form
	lead    *look.Para // what the numbers are for
	says    *look.Para // how it stood, or what is missing; what a press did
	again   *look.Button
	show    *look.Button // stands the axle where it hung
	pick    *look.Button
	row     *standingRow
	comes   *look.Para
	take    *look.Button
	heads   *look.Label
	list    []*pressLine
	presses *fyne.Container
	right   *fyne.Container
	scroll  *container.Scroll // of how it stood
	beside  *container.Scroll // of the pivot
	box     *fyne.Container
	did     string   // what the last press did
	made    *job.Job // the job that press made
	strayN  int
}

func newStanding(h *Host) *standing {
	k := &standing{h: h, lead: look.NewPara("", "", ink.Second), says: look.NewPara("", "", ink.Text), comes: look.NewPara("", "", ink.Text)}
	k.tabs = look.NewSegments([]string{words.T("On stands"), words.T("As it hung"), words.T("Body and floor")}, 0, k.choose).Compact(10, look.Row, look.Body)
	k.form = newForm(h)
	k.form.set = k.set
	k.again = look.NewButton(words.T("Work them out again"), look.Outline, k.restand).Tall(30, look.Row).Padding(9)
	k.again.Hide()
	k.show = look.NewButton(words.T("Stand it there"), look.Outline, func() {
		if left, right, err := h.Doc.HungAt(); err == nil {
			h.Doc.MoveAxle(left, right)
		}
	}).Tall(30, look.Row).Padding(9)
	k.show.Hide()
	k.presses = apart(k.show, k.again)
	k.pick = look.NewButton("", look.Outline, func() { look.PopUp(k.menu(), k.pick) }).Tall(34, look.Row).Padding(9).Caret(look.CaretDown)
	k.row = newStandingRow(k)
	k.take = look.NewButton(words.T("Take it"), look.Filled, k.taken).Tall(look.Drawn, look.Row).Padding(14)
	k.heads = look.NewLabel("", look.Small, ink.Text, true)
	k.right = container.New(&look.Stack{Gap: 6, Inset: 4, Above: 4, Below: 8})
	k.scroll = container.NewVScroll(container.New(&standingLayout{k: k}, k.lead, k.says, k.presses, k.form.box))
	k.beside = container.NewVScroll(k.right)
	k.form.scroll = k.scroll
	k.form.bring = func(o fyne.CanvasObject) { revealIn(k.scroll, o) }
	k.box = container.New(standingSides{}, look.Calm(k.scroll), look.Calm(k.beside))
	return k
}

func (k *standing) object() fyne.CanvasObject { return k.box }
func (k *standing) head() fyne.CanvasObject   { return k.tabs }
func (k *standing) bare() bool                { return false }
func (k *standing) key() string               { return edit.Stoods[k.how] }
func (k *standing) part() edit.Part           { return edit.Part{List: edit.Standing, Index: k.how} }

// opened takes the pivot in hand along, and how such a one is measured.
func (k *standing) opened() {
	if p, held := k.h.Doc.Held(); held {
		k.follow(p)
	}
	k.write()
}

// ready puts the keys where the next number is missing: how it stood, else the pivot's.
func (k *standing) ready() {
	if k.h.Doc.StoodWhy(k.key()) == nil && k.chosen() {
		k.h.focus(k.row.fields[0])
		return
	}
	for _, c := range k.form.cells {
		if c.entry != nil && c.field.Text == "" {
			k.h.focus(c.entry)
			return
		}
	}
	k.h.focus(k.tabs)
}

func (k *standing) closed() { k.h.Lay("standing", nil) }

func (k *standing) update(c document.Change) {
	if c&^(document.ProgressChanged|document.PositionChanged|document.StudyChanged) == 0 || k.h.Doc.Dragging() { // what is dragged settles first
		return
	}
	if c&document.SelectionChanged != 0 {
		if p, held := k.h.Doc.Held(); held && (!k.has || p != k.of) {
			k.follow(p)
		}
	}
	if c&document.JobChanged != 0 && k.h.Doc.Job() != k.made { // from elsewhere, by Undo: what was said is no more so
		k.did = ""
	}
	if c&document.JobChanged != 0 {
		if t, ok := k.typedOf(); ok && !k.row.typing() {
			k.fill(t)
		}
	}
	k.write()
}

// follow goes over to a pivot, and to how it was measured or can be.
func (k *standing) follow(p document.Pivot) {
	j := k.h.Doc.Current()
	if how, _, ok := edit.StoodOf(j, p); ok {
		k.how = slices.Index(edit.Stoods, how)
	} else if !edit.CanStand(j, p, k.key()) {
		i := slices.IndexFunc(edit.Stoods, func(how string) bool { return edit.CanStand(j, p, how) })
		if i < 0 {
			return
		}
		k.how = i
	}
	k.of, k.has, k.mark, k.did = p, true, "", ""
	k.form.refuse(nil)
	_, t, _ := k.kept(p)
	k.fill(t)
}

// kept is what was typed of a pivot measured as is chosen, in the unit shown where it reads the same.
func (k *standing) kept(p document.Pivot) (how string, t edit.StoodText, ok bool) {
	j := k.h.Doc.Current()
	how, t, ok = edit.StoodOf(j, p)
	if !ok || how != k.key() {
		return how, edit.StoodText{}, false
	}
	k.barely(&t)
	return how, t, true
}

// chosen reports whether a pivot or a datum is chosen.
func (k *standing) chosen() bool { return k.has || k.mark != "" }

// typedOf is what was typed of the pivot or datum chosen; ok is false where it was not measured so.
func (k *standing) typedOf() (t edit.StoodText, ok bool) {
	switch {
	case k.mark != "":
		if t, ok = edit.StoodDatumOf(k.h.Doc.Current(), k.mark); ok {
			k.barely(&t)
		}
	case k.has:
		_, t, ok = k.kept(k.of)
	}
	return t, ok
}

// barely leaves the units out where numbers read the same without.
func (k *standing) barely(t *edit.StoodText) {
	j := k.h.Doc.Current()
	for a := range t.Typed {
		t.Typed[a] = edit.WithoutUnit(j, t.Typed[a])
	}
	t.PlusMinus = edit.WithoutUnit(j, t.PlusMinus)
}

func (k *standing) fill(t edit.StoodText) {
	k.text = t
	k.row.show(t)
}

// choose goes over to another way it may have stood.
func (k *standing) choose(i int) {
	if i == k.how {
		return
	}
	k.how, k.did = i, ""
	k.form.refuse(nil)
	if k.has && !edit.CanStand(k.h.Doc.Current(), k.of, k.key()) {
		k.has = false
	}
	k.mark = ""
	t, _ := k.typedOf()
	k.fill(t)
	k.write()
	k.scroll.ScrollToTop()
}

// set takes one number of how it stood; every place measured so goes along.
func (k *standing) set(part edit.Part, key, text string) error {
	said, err := k.h.Doc.SetStood(edit.Stoods[part.Index], key, text)
	if err == nil {
		k.tell(said)
	}
	return err
}

func (k *standing) restand() {
	said, err := k.h.Doc.Restand(k.key())
	if err != nil {
		said = document.Words(err)
	}
	k.tell(said)
}

// tell says what a press did, till something else changes the job.
func (k *standing) tell(said string) {
	k.did, k.made = said, k.h.Doc.Job()
	k.write()
}

// typed looks at what the fields hold now.
func (k *standing) typed() {
	k.text = k.row.text()
	k.preview()
	k.beside.Content.Refresh()
}

// leads say what the numbers of each way are for.
func standingLead(how string) string {
	switch how {
	case edit.OnStands:
		return words.T("The axle out of the vehicle, on stands or the bench. Read the pinion by the angle gauge, then tape each pivot from the middle of the tube: ahead square to the tube, left, and up, all level or plumb.")
	case edit.Hanging:
		return words.T("The axle under the vehicle, hanging free. Say where it hung, then tape its pivots from the frame. The struts' lengths work through the links as drawn; what these get wrong goes into every place, and the tube's two ends do without them.")
	}
	return words.T("The vehicle on the floor, which may slope, and raked. Drop a plumb bob from each pivot: mark and measure along the floor from the mark under the datum, ahead and square to that to the left, and up the line.")
}

// write brings all of it up to date.
func (k *standing) write() {
	j := k.h.Doc.Current()
	k.tabs.Set(k.tabs.Names(), k.how)
	k.lead.Set("", standingLead(k.key()), ink.Second)
	k.form.show(k.part(), j)
	says, err := k.h.Doc.StoodSays(k.key())
	if err != nil {
		says = document.Words(err)
	}
	k.strayN = 0
	if err == nil {
		n, worst, err := k.h.Doc.Astray(k.key())
		if k.strayN = n; err != nil {
			says += " " + document.Words(err)
		} else if n > 0 {
			says += " " + words.F("Pivots that stand elsewhere than their numbers say since something else has changed: %d, by up to %s.", n, lengthUnit(worst, k.h.Doc.Unit()))
		}
	}
	if k.did != "" {
		says = k.did + " " + says
	}
	k.says.Set("", says, ink.Text)
	look.Show(k.lead, err != nil) // once it is told how it stood, the numbers need the room
	look.Show(k.again, k.strayN > 0)
	look.Show(k.show, err == nil && k.key() == edit.Hanging)
	look.Show(k.presses, k.again.Visible() || k.show.Visible())
	k.presses.Refresh()
	k.writeRight()
	k.scroll.Content.Refresh()
}

func (k *standing) lines() []string {
	out := []string{k.says.Text(), k.pick.Text()}
	for _, c := range k.form.cells {
		out = append(out, c.field.Label+": "+c.field.Text)
	}
	return append(append(out, wordsOf(k.right.Objects)...), k.heads.Text())
}

func (k *standing) named(name string) fyne.CanvasObject {
	switch name {
	case "pivot":
		return k.pick
	case "tabs":
		return k.tabs
	case k.take.Text():
		return k.take
	case k.again.Text():
		return k.again
	case k.show.Text():
		return k.show
	}
	if o := k.row.named(name); o != nil {
		return o
	}
	if l := lineNamed(k.right.Objects, name); l != nil {
		return l
	}
	return k.form.named(name)
}
