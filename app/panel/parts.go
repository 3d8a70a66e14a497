package panel

import (
	"fmt"
	"math"
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
)

// shelf is one of the lists the parts drawer shows: its name on screen and what stands in it.
type shelf struct {
	name  string
	lists []edit.List
	short string // where there is little room; "": the name
}

var shelves = []shelf{
	{words.Mark("Links, arms"), []edit.List{edit.Links, edit.Arms, edit.Rockers}, words.Mark("Links")},
	{words.Mark("Struts"), []edit.List{edit.Struts}, ""},
	{words.Mark("Stops"), []edit.List{edit.Stops}, ""},
	{words.Mark("Straps"), []edit.List{edit.Straps}, ""},
	{words.Mark("Lines, sensors"), []edit.List{edit.Lines, edit.Sensors}, words.Mark("Lines")},
	{words.Mark("Loads"), []edit.List{edit.Loads}, ""},
	{words.Mark("Heights"), []edit.List{edit.Heights}, ""},
	{words.Mark("Vehicle"), []edit.List{edit.Vehicle, edit.Travel}, ""},
	{words.Mark("Brackets"), []edit.List{edit.Brackets}, ""},
	{words.Mark("Axle, shaft"), []edit.List{edit.AxleTube, edit.Housing, edit.Driveline, edit.Output, edit.Bearing, edit.Pinion}, words.Mark("Axle")},
}

var wayShelf = []shelf{{words.Mark("In the way"), []edit.List{edit.Envelopes}, ""}}

// parts is a drawer of lists and the form of what is chosen in them.
type parts struct {
	h       *Host
	shelves []shelf
	at      int
	tabs    *look.Segments
	list    *look.List
	calm    fyne.CanvasObject
	rows    []edit.Part
	names   []string
	more    []string // under the names of parts in the way
	add     *look.Button
	remove  *look.Button
	copy    *look.Button
	tank    *look.Button // opens the panel of the chosen tank
	room    *look.Button // opens what room the chosen part takes
	paper   *look.Button // opens the template of the chosen bracket
	plates  *plates      // picture of the chosen bracket, where there is room beside the form
	bracket bool         // one is chosen
	empty   *look.Para
	form    *form
	box     *fyne.Container
	quiet   bool
	shown   int     // chosen row of the list, -1 none
	narrow  bool    // the tabs are called by their short names
	gone    string  // what went out of the job with the part last removed, "" nothing
	undoes  string  // the step that brings it back
	tall    float32 // of the list when its chosen row was last brought into view
}

func newParts(h *Host) *parts { return makeParts(h, shelves) }
func newWay(h *Host) *parts   { return makeParts(h, wayShelf) }

func makeParts(h *Host, s []shelf) *parts {
	p := &parts{h: h, shelves: s}
	p.tabs = look.NewSegments(p.tabNames(), 0, func(i int) { p.turn(i) }).Compact(9, look.Row, look.Small)
	p.list = look.NewList(func() int { return len(p.rows) }, func() fyne.CanvasObject {
		name := look.NewLabel("", look.Body, ink.Text, false).Shrinks(20)
		if !p.way() {
			return container.New(&look.Stack{Inset: 6, Above: 7, Below: 7}, name)
		}
		return container.New(&look.Stack{Inset: 6, Above: 4, Below: 5}, name, look.NewLabel("", look.Small, ink.Second, false).Shrinks(20))
	}, func(i int, o fyne.CanvasObject) {
		if i >= len(p.names) {
			return
		}
		row := o.(*fyne.Container).Objects
		row[0].(*look.Label).SetText(p.names[i])
		if len(row) > 1 {
			row[1].(*look.Label).SetText(p.more[i])
		}
	})
	p.calm = look.Calm(p.list)
	p.list.OnSelected = func(i int) {
		if !p.quiet && i < len(p.rows) {
			p.gone = ""
			h.Doc.Select(p.rows[i])
			h.focus(p.list) // a pressed row has the keys: F2, Delete, Insert
		}
	}
	p.list.OnKey, p.list.OnShortcut, p.list.OnMenu, p.list.Follow = p.key, p.shortcut, p.rowMenu, true
	p.add = look.NewButton(words.T("Add"), look.Filled, func() { look.PopUp(p.addMenu(), p.add) }).Tall(32, look.Row).Caret(look.CaretDown)
	p.remove = look.NewButton(words.T("Remove"), look.Outline, p.takeOut).Tall(32, look.Row).Padding(9)
	p.copy = look.NewButton(words.T("Copy"), look.Outline, p.duplicate).Tall(32, look.Row).Padding(9)
	p.tank = look.NewButton(words.T("Tank"), look.Outline, p.showTank).Tall(32, look.Row).Padding(9)
	p.tank.Hide()
	p.room = look.NewButton(words.T("Room"), look.Outline, func() { h.Toggle(RoomDrawer) }).Tall(32, look.Row).Padding(9)
	p.room.Hide()
	p.paper = look.NewButton(words.T("Full size"), look.Outline, p.showTemplate).Tall(32, look.Row).Padding(9)
	p.paper.Hide()
	p.plates = newPlates()
	p.plates.Hide()
	p.form = newForm(h)
	p.form.opens = p.showTank
	p.box = container.New(&partsLayout{p})
	p.box.Objects = []fyne.CanvasObject{look.NewPlate(ink.Ground), p.calm, p.add, p.copy, p.remove, p.tank, p.room, p.paper, p.form.calm, p.plates}
	return p
}

// tabNames are the lists' names as the tabs show them.
func (p *parts) tabNames() []string {
	var names []string
	for _, x := range p.shelves {
		if p.narrow && x.short != "" {
			names = append(names, words.T(x.short))
		} else {
			names = append(names, words.T(x.name))
		}
	}
	return names
}

// fit is told the room there is beside the way to close the drawer.
func (p *parts) fit(room float32) {
	p.narrow = false
	p.tabs.Compact(9, look.Row, look.Small).Set(p.tabNames(), p.at)
	if p.tabs.MinSize().Width > room {
		p.narrow = true
		p.tabs.Set(p.tabNames(), p.at)
	}
	if p.tabs.MinSize().Width > room { // closer together still
		p.tabs.Compact(4, look.Row, look.Small).Refresh()
	}
}

// partsLayout puts the list left, its buttons under it, the form right.
type partsLayout struct{ p *parts }

const listWidth = 236

func (l *partsLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(500, 120) }
func (l *partsLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	p := l.p
	o[0].Move(fyne.NewPos(look.Inset, 0))
	o[0].Resize(fyne.NewSize(listWidth, s.Height-look.Row-4))
	p.calm.Move(fyne.NewPos(look.Inset, 0))
	p.calm.Resize(fyne.NewSize(listWidth, s.Height-look.Row-4))
	if h := p.list.Size().Height; h != p.tall && p.shown >= 0 {
		p.tall = h
		p.list.ScrollTo(p.shown)
	}
	x := float32(look.Inset)
	for i, b := range []*look.Button{p.add, p.copy, p.remove, p.tank, p.room, p.paper} {
		if !b.Visible() {
			continue
		}
		pad := float32(9)
		if i == 0 {
			pad = 11
		}
		if p.tank.Visible() || p.room.Visible() || p.paper.Visible() { // closer together, so that all four stand under the list
			pad = 4
		}
		w := b.Padding(pad).MinSize().Width
		b.Move(fyne.NewPos(x, s.Height-look.Row-2))
		b.Resize(fyne.NewSize(w, look.Row))
		x += w + look.Gap
	}
	wide := s.Width - look.Inset - listWidth - 2*look.Gap
	w := min(max(platesWide, wide*0.32), 380)
	beside := wide-w-look.Gap >= cellLeast // where there is no room for both, the form stands
	look.Show(p.plates, beside && p.bracket)
	if p.plates.Visible() {
		wide -= w + look.Gap
		p.plates.Move(fyne.NewPos(s.Width-w-look.Gap, 2))
		p.plates.Resize(fyne.NewSize(w, s.Height-6))
	}
	p.form.calm.Move(fyne.NewPos(look.Inset+listWidth+look.Gap, 0))
	p.form.calm.Resize(fyne.NewSize(wide, s.Height))
}

func (p *parts) object() fyne.CanvasObject { return p.box }
func (p *parts) bare() bool                { return false }
func (p *parts) head() fyne.CanvasObject {
	if len(p.shelves) > 1 {
		return p.tabs
	}
	return nil
}

// opened brings the chosen row into view again: the toolkit may have made the list anew, at its top.
func (p *parts) opened() {
	p.tall = 0
	p.box.Refresh()
}

// turn shows another list; its first part is chosen.
func (p *parts) turn(i int) {
	p.at, p.gone = i, ""
	p.read()
	if len(p.rows) > 0 {
		p.h.Doc.Select(p.rows[0])
	} else {
		p.h.Doc.Deselect()
	}
	p.update(document.SelectionChanged)
}

// read reads the entries of the present list.
func (p *parts) read() {
	j := p.h.Doc.Current()
	p.rows, p.names, p.more = p.rows[:0], p.names[:0], p.more[:0]
	for _, l := range p.shelves[p.at].lists {
		for i := range edit.Len(j, l) {
			part := edit.Part{List: l, Index: i}
			p.rows = append(p.rows, part)
			p.names = append(p.names, partWords(j, part))
			if p.way() {
				p.more = append(p.more, wayWords(j, &j.Envelopes[i], p.h.Doc.Unit()))
			}
		}
	}
}

// way reports whether these are the parts in the way.
func (p *parts) way() bool { return p.shelves[0].lists[0] == edit.Envelopes }

// wayWords tells of a part in the way what a tank holds, whether it can move, the gap wanted, and how it is known: "149.9 L, can move, gap 25 mm, ±5 tape".
func wayWords(j *job.Job, e *job.Envelope, unit string) string {
	var out []string
	if v := edit.Litres(j, e); !math.IsNaN(v) {
		out = append(out, fmt.Sprintf("%.1f L", v))
	}
	if e.Movable {
		out = append(out, words.T("can move"))
	} else {
		out = append(out, words.T("cannot move"))
	}
	out = append(out, words.F("gap %s", lengthUnit(e.Gap(), unit)))
	off, source := edit.PartGiven(e)
	known := source
	if !math.IsNaN(off) {
		known = strings.TrimSpace("±" + strings.TrimSuffix(num(off, 1), ".0") + " " + source)
		if unit == "in" {
			known = strings.TrimSpace("±" + num(off/mmPerInch, 2) + " " + source)
		}
	}
	if known != "" {
		out = append(out, known)
	}
	return strings.Join(out, ", ")
}

// partWords is a part's name, and whether it is there twice, or planned.
func partWords(j *job.Job, part edit.Part) string {
	name := edit.PartName(j, part)
	switch part.List {
	case edit.Envelopes:
		e := &j.Envelopes[part.Index]
		if e.Pair {
			name += words.T(", both sides")
		}
		if !edit.IsPartMeasured(j, part) {
			name += words.T(" (planned)")
		}
	default:
		if edit.IsPair(j, part) {
			name += words.T(", both sides")
		}
	}
	return name
}

func (p *parts) update(c document.Change) {
	sel, ok := p.h.Doc.Selected()
	if ok {
		for i, s := range p.shelves {
			for _, l := range s.lists {
				if l == sel.List {
					p.at = i
				}
			}
		}
	}
	p.read()
	p.tabs.Set(p.tabNames(), p.at)
	at := -1
	for i, r := range p.rows {
		if ok && r == sel {
			at = i
		}
	}
	if at < 0 && len(p.rows) > 0 {
		at = 0
	}
	p.shown = at
	p.quiet = true
	p.list.Refresh()
	if at >= 0 {
		p.list.Select(at)
	} else {
		p.list.UnselectAll()
	}
	p.quiet = false
	if at >= 0 {
		p.form.show(p.rows[at], p.h.Doc.Current())
	} else {
		p.form.none(p.nothing())
	}
	p.remove.SetDisabled(at < 0 || !removable(p.rows[at].List))
	p.copy.SetDisabled(at < 0 || !copyable(p.rows[at].List))
	bracket := at >= 0 && p.rows[at].List == edit.Brackets
	if bracket {
		p.plates.show(&p.h.Doc.Current().Brackets[p.rows[at].Index], measure.UnitOf(p.h.Doc.Unit()))
	}
	if bracket != p.bracket {
		p.bracket = bracket
		look.Show(p.paper, bracket)
		look.Show(p.copy, !bracket) // a bracket has no name of its own to be copied under
		p.box.Refresh()
	}
	s, _ := p.h.Doc.Study()
	if room := at >= 0 && moverOf(s, p.rows[at], job.Left) != ""; room != p.room.Visible() {
		look.Show(p.room, room)
		p.box.Refresh()
	}
	if tank := at >= 0 && p.vessel(p.rows[at]); tank != p.tank.Visible() {
		look.Show(p.tank, tank)
		p.box.Refresh()
	}
	p.add.SetDisabled(len(p.addMenu().Items) == 0)
	if step, _ := p.h.Doc.CanUndo(); step != p.undoes {
		p.gone = ""
	}
	p.form.say(p.gone)
}

// nothing is what is said where the list is empty.
func (p *parts) nothing() string {
	return map[string]string{
		"Links, arms":    words.T("No links yet. Add two lower links to begin with."),
		"Struts":         words.T("No struts yet. Struts with a closed and an open length bound the travel."),
		"Stops":          words.T("No bump stops yet. Without them the struts are the stop."),
		"Straps":         words.T("No limit straps yet. Without them the struts are the strap."),
		"Lines, sensors": words.T("No hoses, looms or breathers yet. Add the brake hose: its reach is checked over the whole travel."),
		"Loads":          words.T("No loads yet. Front and rear kilograms will do."),
		"Heights":        words.T("No ride heights yet. Add those the driver can choose."),
		"Brackets":       words.T("No brackets yet. Take a pivot, open the words under its name and choose Bracket; or add one here."),
		"In the way":     words.T("Nothing is in the way yet. Add tanks, rails, crossmembers, the exhaust: only what is drawn is checked."),
	}[p.shelves[p.at].name]
}

func removable(l edit.List) bool { return l != edit.Vehicle && l != edit.Travel }

func copyable(l edit.List) bool {
	switch l {
	case edit.Links, edit.Arms, edit.Rockers, edit.Sensors, edit.Struts, edit.Stops, edit.Straps, edit.Lines, edit.Loads, edit.Heights, edit.Envelopes:
		return true
	}
	return false
}

func (p *parts) addMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	for _, l := range p.shelves[p.at].lists {
		if l == edit.Loads {
			m.Items = append(m.Items, fyne.NewMenuItem(words.T("By front and rear kilograms..."), p.addLoad))
		}
		if (l == edit.Output || l == edit.Pinion) && len(m.Items) > 0 {
			continue // they come with the driveshaft
		}
		if l == edit.Envelopes {
			if draw := drawMenu(p.h); draw != nil {
				m.Items = append(m.Items, draw)
			}
		}
		for _, kind := range edit.Kinds(l) {
			m.Items = append(m.Items, fyne.NewMenuItem(words.T(kind), func() { p.put(l, kind) }))
		}
	}
	return m
}

// vessel reports whether a part is a tank.
func (p *parts) vessel(part edit.Part) bool {
	list := p.h.Doc.Current().Envelopes
	return part.List == edit.Envelopes && part.Index < len(list) && list[part.Index].Vessel
}

// showTank opens the panel of the chosen tank.
func (p *parts) showTank() {
	if part, ok := p.chosen(); ok && p.vessel(part) {
		p.h.ShowTank(p.h.Doc.Current().Envelopes[part.Index].Name)
	}
}

// showTemplate opens the template of the chosen bracket, full size.
func (p *parts) showTemplate() {
	if part, ok := p.chosen(); ok && part.List == edit.Brackets {
		p.h.ShowPaper(edit.PartName(p.h.Doc.Current(), part))
	}
}

// put adds one, chosen at once: a bracket to the held pivot, where it has none yet.
func (p *parts) put(l edit.List, kind string) {
	var part edit.Part
	err := p.h.Doc.Edit(words.F("add %s", study.Lower(kind)), "", func(j *job.Job) error {
		var err error
		if held, ok := p.h.Doc.Held(); ok && l == edit.Brackets && edit.Carries(held) && edit.BracketOf(j, held) == nil {
			part, err = edit.AddBracket(j, held, kind)
		} else {
			part, err = edit.Add(j, l, kind)
		}
		return err
	})
	if err != nil {
		p.h.Tell(err)
		return
	}
	p.h.Doc.Select(part)
}

func (p *parts) addLoad() {
	p.h.AskMany(words.T("A load from the weighbridge"), []string{words.T("Name"), words.T("Front axle weighs, kg"), words.T("Rear axle weighs, kg")}, []string{"", "", ""}, func(v []string) error {
		front, err := kilograms(words.T("Front axle"), v[1])
		if err != nil {
			return err
		}
		rear, err := kilograms(words.T("Rear axle"), v[2])
		if err != nil {
			return err
		}
		var part edit.Part
		err = p.h.Doc.Edit(words.T("add load"), "", func(j *job.Job) error {
			var err error
			part, err = edit.AddLoad(j, strings.TrimSpace(v[0]), front, rear)
			return err
		})
		if err == nil {
			p.h.Doc.Select(part)
		}
		return err
	})
}

func kilograms(what, text string) (float64, error) {
	kg, err := measure.ParseMass(text, measure.Kilograms)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", what, err)
	}
	return kg, nil
}

func (p *parts) chosen() (edit.Part, bool) {
	sel, ok := p.h.Doc.Selected()
	if ok {
		for _, r := range p.rows {
			if r == sel {
				return sel, true
			}
		}
	}
	if len(p.rows) > 0 {
		return p.rows[0], true
	}
	return edit.Part{}, false
}

// key is a key pressed in the list: Insert offers what can be added, F2 goes to the name, Delete removes what is chosen.
func (p *parts) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyInsert:
		if !p.add.Disabled() {
			look.PopUp(p.addMenu(), p.add)
		}
	case fyne.KeyF2:
		if e, ok := p.form.named("name").(*Entry); ok {
			p.h.focus(e)
		}
	case fyne.KeyDelete:
		if part, ok := p.chosen(); ok && removable(part.List) {
			p.takeOut()
		}
	default:
		return false
	}
	return true
}

// ListKeys are the keys of a list of parts.
var ListKeys = []look.Key{
	{Keys: []fyne.KeyName{fyne.KeyUp, fyne.KeyDown}, Does: words.Mark("The part above or below.")},
	{Keys: []fyne.KeyName{fyne.KeyInsert}, Does: words.Mark("Add one: a menu has the kinds.")},
	{Keys: []fyne.KeyName{fyne.KeyF2}, Does: words.Mark("Its name: type another.")},
	{Keys: []fyne.KeyName{fyne.KeyC}, With: words.Mark("Ctrl"), Does: words.Mark("Copy it: the copy stands beside it, or mirrored on the other side.")},
	{Keys: []fyne.KeyName{fyne.KeyUp, fyne.KeyDown}, With: words.Mark("Ctrl"), Does: words.Mark("Move it up or down in the list.")},
	{Keys: []fyne.KeyName{fyne.KeyDelete}, Does: words.Mark("Remove it. What goes with it is said; Undo brings all of it back.")},
}

// shortcut is a key pressed in the list with Ctrl: C copies what is chosen, an arrow moves it in its list.
func (p *parts) shortcut(s fyne.Shortcut) bool {
	if _, ok := s.(*fyne.ShortcutCopy); ok {
		if part, ok := p.chosen(); ok && copyable(part.List) {
			p.duplicate()
		}
		return true
	}
	c, ok := s.(*desktop.CustomShortcut)
	if !ok || c.Modifier != fyne.KeyModifierControl {
		return false
	}
	switch c.KeyName {
	case fyne.KeyUp:
		p.move(-1)
	case fyne.KeyDown:
		p.move(1)
	default:
		return false
	}
	return true
}

// rowMenu is what can be done with the chosen row.
func (p *parts) rowMenu() *fyne.Menu {
	part, ok := p.chosen()
	if !ok {
		return nil
	}
	j := p.h.Doc.Current()
	item := func(phrase string, can bool, f func()) *fyne.MenuItem {
		m := fyne.NewMenuItem(phrase, f)
		m.Disabled = !can
		return m
	}
	return fyne.NewMenu("",
		item(words.T("Rename"), p.form.named("name") != nil, func() { p.key(fyne.KeyF2) }),
		item(words.T("Copy"), copyable(part.List), p.duplicate),
		item(words.T("Up in the list"), edit.Movable(j, part, -1), func() { p.move(-1) }),
		item(words.T("Down in the list"), edit.Movable(j, part, 1), func() { p.move(1) }),
		item(words.T("Remove"), removable(part.List), p.takeOut))
}

// move puts the chosen part one place up or down in its list; a run of moves is one step.
func (p *parts) move(by int) {
	part, ok := p.chosen()
	j := p.h.Doc.Current()
	if !ok || !edit.Movable(j, part, by) {
		return
	}
	name := study.Lower(edit.PartName(j, part))
	err := p.h.Doc.Edit(words.F("order of %s", name), fmt.Sprint("order ", part.List, name), func(j *job.Job) (err error) {
		part, err = edit.Reorder(j, part, by)
		return err
	})
	if err != nil {
		p.h.Tell(err)
		return
	}
	if part.List == edit.Loads { // the load that is shown stays the one that is shown
		switch shown := p.h.Doc.Load(); shown {
		case part.Index:
			p.h.Doc.SetLoad(part.Index - by)
		case part.Index - by:
			p.h.Doc.SetLoad(part.Index)
		}
	}
	p.h.Doc.Select(part)
	p.h.focus(p.list)
}

// takeOut removes what is chosen, and says what goes with it.
func (p *parts) takeOut() {
	part, ok := p.chosen()
	if !ok {
		return
	}
	name := edit.PartName(p.h.Doc.Current(), part)
	step, was := words.F("remove %s", study.Lower(name)), p.h.Doc.Job()
	if err := p.h.Doc.Edit(step, "", func(j *job.Job) error { return edit.Remove(j, part) }); err != nil {
		p.h.Tell(err)
		return
	}
	along := ""
	if part.List != edit.Brackets {
		along = edit.WentAlong(was, p.h.Doc.Job(), name)
	}
	if along != "" {
		along = words.F("%s Undo brings all of it back.", along)
	}
	p.gone, p.undoes = along, step
	if left := edit.Len(p.h.Doc.Current(), part.List); left > 0 { // the row that takes its place is the chosen one
		p.h.Doc.Select(edit.Part{List: part.List, Index: min(part.Index, left-1)})
	} else {
		p.h.Doc.Deselect()
	}
}

func (p *parts) duplicate() {
	part, ok := p.chosen()
	if !ok {
		return
	}
	var made edit.Part
	err := p.h.Doc.Edit(words.F("copy %s", study.Lower(edit.PartName(p.h.Doc.Current(), part))), "", func(j *job.Job) error {
		var err error
		made, err = edit.Duplicate(j, part)
		return err
	})
	if err != nil {
		p.h.Tell(err)
		return
	}
	p.h.Doc.Select(made)
}

func (p *parts) lines() []string { return append([]string{}, p.names...) }

func (p *parts) named(name string) fyne.CanvasObject {
	switch name {
	case "Add":
		return p.add
	case "Copy":
		return p.copy
	case "Remove":
		return p.remove
	case "Tank":
		return p.tank
	case "Room":
		return p.room
	case "Full size":
		return p.paper
	}
	return p.form.named(name)
}
