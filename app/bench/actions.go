package bench

import (
	"path/filepath"
	"slices"
	"strings"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/assets"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// action is one thing the window can do: from it come menus, buttons and shortcuts.
type action struct {
	id, label string
	keys      []fyne.Shortcut
	can       func() bool // nil: always
	run       func()
}

func ctrl(k fyne.KeyName, more ...fyne.KeyModifier) fyne.Shortcut {
	m := fyne.KeyModifierShortcutDefault
	for _, x := range more {
		m |= x
	}
	return &desktop.CustomShortcut{KeyName: k, Modifier: m}
}

// table is every action there is.
func (b *Bench) table() []action {
	shift := fyne.KeyModifierShift
	drawer := func(d panel.Drawer) func() { return func() { b.toggle(d) } }
	return []action{
		{"start", words.T("Start my job..."), []fyne.Shortcut{ctrl(fyne.KeyN)}, nil, b.startMyJob},
		{"open", words.T("Open..."), []fyne.Shortcut{ctrl(fyne.KeyO)}, nil, b.openFile},
		{"save", words.T("Save"), []fyne.Shortcut{ctrl(fyne.KeyS)}, nil, func() { b.save(nil) }},
		{"saveas", words.T("Save as..."), []fyne.Shortcut{ctrl(fyne.KeyS, shift)}, nil, func() { b.saveAs(nil) }},
		{"undo", words.T("Undo"), []fyne.Shortcut{&fyne.ShortcutUndo{}}, func() bool { _, ok := b.doc.CanUndo(); return ok || b.eye.Draft() != nil }, b.undo},
		{"redo", words.T("Redo"), []fyne.Shortcut{&fyne.ShortcutRedo{}, ctrl(fyne.KeyZ, shift)}, func() bool { _, ok := b.doc.CanRedo(); return ok }, func() { b.doc.Redo() }},
		{"unit", words.T("mm or inch"), []fyne.Shortcut{ctrl(fyne.KeyU)}, nil, b.otherUnit},
		{"gothere", words.T("Go there"), []fyne.Shortcut{ctrl(fyne.KeyG)}, nil, b.goToWorst},
		{"fit", words.T("Fit"), []fyne.Shortcut{ctrl(fyne.Key0)}, nil, func() { b.eye.Fit() }},
		{"fitall", words.T("Fit all"), []fyne.Shortcut{ctrl(fyne.Key9)}, nil, func() { b.eye.FitAll() }},
		{"home", words.T("Home"), []fyne.Shortcut{ctrl(fyne.KeyHome), ctrl(fyne.KeyB)}, func() bool { return b.eye.CanHome() }, func() { b.eye.Home() }},
		{"charts", words.T("Charts"), []fyne.Shortcut{ctrl(fyne.Key1)}, nil, drawer(panel.ChartsDrawer)},
		{"way", words.T("In the way"), []fyne.Shortcut{ctrl(fyne.Key2)}, nil, drawer(panel.WayDrawer)},
		{"draw", words.T("Draw a part in a view: box, outline, pipe, ball"), []fyne.Shortcut{ctrl(fyne.KeyB, shift)}, nil, func() { b.draw(view.DraftBox) }},
		{"gaps", words.T("All gaps"), []fyne.Shortcut{ctrl(fyne.Key3)}, nil, drawer(panel.GapsDrawer)},
		{"parts", words.T("Parts"), []fyne.Shortcut{ctrl(fyne.Key4)}, nil, drawer(panel.PartsDrawer)},
		{"heights", words.T("Heights"), []fyne.Shortcut{ctrl(fyne.Key8)}, nil, drawer(panel.HeightsDrawer)},
		{"measure", words.T("What to measure next"), []fyne.Shortcut{ctrl(fyne.Key5)}, nil, drawer(panel.MeasureDrawer)},
		{"findings", words.T("Findings"), []fyne.Shortcut{ctrl(fyne.Key6)}, nil, drawer(panel.FindingsDrawer)},
		{"leftout", words.T("Which pairs are left out and why"), []fyne.Shortcut{ctrl(fyne.Key7)}, nil, drawer(panel.LeftOutDrawer)},
		{"tank", words.T("What clearing a tank costs"), []fyne.Shortcut{ctrl(fyne.KeyT)}, nil, drawer(panel.TankDrawer)},
		{"lowest", words.T("Lowest points"), []fyne.Shortcut{ctrl(fyne.KeyL, shift)}, nil, drawer(panel.LowestDrawer)},
		{"tyres", words.T("Another tyre"), []fyne.Shortcut{ctrl(fyne.KeyT, shift)}, nil, drawer(panel.TyresDrawer)},
		{"room", words.T("Room a part takes"), []fyne.Shortcut{ctrl(fyne.KeyR)}, nil, drawer(panel.RoomDrawer)},
		{"datums", words.T("Datums"), []fyne.Shortcut{ctrl(fyne.KeyD)}, nil, drawer(panel.DatumsDrawer)},
		{"card", words.T("Job card"), []fyne.Shortcut{ctrl(fyne.KeyJ)}, nil, drawer(panel.CardDrawer)},
		{"explain", words.T("What is this? Explains what has the keys"), []fyne.Shortcut{ctrl(fyne.KeyH)}, nil, b.explainFocus},
		{"pivots", words.T("All pivots"), []fyne.Shortcut{ctrl(fyne.KeyP)}, nil, drawer(panel.PivotsDrawer)},
		{"standing", words.T("Axle as measured"), []fyne.Shortcut{ctrl(fyne.KeyM)}, nil, drawer(panel.StandingDrawer)},
		{"holes", words.T("Bolt holes"), []fyne.Shortcut{ctrl(fyne.KeyH, shift)}, nil, drawer(panel.HolesDrawer)},
		{"tapes", words.T("Place the held pivot by tapes"), []fyne.Shortcut{ctrl(fyne.KeyD, shift)}, func() bool { _, held := b.doc.Held(); return held }, func() { b.tapes.Open() }},
		{"places", words.T("Where the held pivot could sit"), []fyne.Shortcut{ctrl(fyne.KeyR, shift)}, func() bool { _, held := b.doc.Held(); return held }, func() { b.places.Toggle() }},
		{"photo", words.T("Photo behind a view"), []fyne.Shortcut{ctrl(fyne.KeyI)}, nil, drawer(panel.PhotoDrawer)},
		{"trials", words.T("Trials side by side"), []fyne.Shortcut{ctrl(fyne.KeyE)}, nil, drawer(panel.TrialsDrawer)},
		{"sheets", words.T("Sheets to hand over"), []fyne.Shortcut{ctrl(fyne.KeyP, shift)}, nil, b.showSheets},
		{"keep", words.T("Keep this as a trial"), []fyne.Shortcut{ctrl(fyne.KeyK)}, nil, func() { b.keepTrial(words.T("Keep this as a trial"), b.doc.KeepTrial) }},
		{"apart", words.T("Keep my changes as a trial, put the drawing back"), nil, nil, func() { b.keepTrial(words.T("Keep my changes as a trial, put the drawing back"), b.doc.KeepChanges) }},
		{"positions", words.T("Two positions in one view"), []fyne.Shortcut{ctrl(fyne.KeyE, shift)}, func() bool { return b.doc.HasCorner(document.FullBump) }, b.askPositions},
		{"ground", words.T("Next colours: light, dark, bright workshop"), []fyne.Shortcut{ctrl(fyne.KeyL)}, nil, func() { b.setScheme((look.Scheme() + 1) % ink.Schemes) }},
		{"larger", words.T("Larger text"), []fyne.Shortcut{ctrl(fyne.KeyEqual), ctrl(fyne.KeyEqual, shift), ctrl(fyne.KeyPlus)}, nil, func() { b.nextText(1) }},
		{"smaller", words.T("Smaller text"), []fyne.Shortcut{ctrl(fyne.KeyMinus)}, nil, func() { b.nextText(-1) }},
		{"keys", words.T("Keys"), []fyne.Shortcut{&desktop.CustomShortcut{KeyName: fyne.KeyF1}}, nil, b.showKeys},
		{"quit", words.T("Quit"), []fyne.Shortcut{ctrl(fyne.KeyQ)}, nil, b.onClose},
	}
}

// shortcuts makes the keys of the table, and Escape, reach the window.
func (b *Bench) shortcuts() {
	c := b.win.Canvas()
	for _, a := range b.actions {
		for _, k := range a.keys {
			c.AddShortcut(k, func(fyne.Shortcut) { b.run(a.id) })
		}
	}
	c.SetOnTypedKey(func(e *fyne.KeyEvent) {
		switch n := len(b.boxes); e.Name {
		case fyne.KeyEscape:
			b.escape()
		case fyne.KeyReturn, fyne.KeyEnter:
			if n > 0 {
				b.boxes[n-1].first().Tapped(nil)
			}
		default:
			if n > 0 {
				b.boxes[n-1].turn(e.Name)
				return
			}
			b.plain(e.Name)
		}
	})
}

// run runs an action by its name where it can be run. What is asked comes first: while a question stands only Quit runs.
func (b *Bench) run(id string) {
	if (len(b.boxes) > 0 || b.choosing != nil) && id != "quit" {
		return
	}
	for _, a := range b.actions {
		if a.id == id && (a.can == nil || a.can()) {
			a.run()
		}
	}
}

func (b *Bench) enabled(id string) bool {
	for _, a := range b.actions {
		if a.id == id {
			return a.can == nil || a.can()
		}
	}
	return false
}

// escape closes what is asked, else ends a gesture, else the drawer, else lets go of the pivot.
func (b *Bench) escape() {
	switch _, held := b.doc.Held(); {
	case b.choosing != nil:
		b.choosing.Hide()
	case len(b.boxes) > 0:
		b.boxes[len(b.boxes)-1].escape()
	case b.eye.LeaveDraft():
	case b.tapes.IsOpen():
		b.tapes.Close()
	case b.doc.Dragging():
		b.doc.Cancel()
	case b.open != panel.NoDrawer:
		b.show(panel.NoDrawer)
	case held:
		b.doc.LetGo()
	}
}

func (b *Bench) item(id string) *fyne.MenuItem {
	for _, a := range b.actions {
		if a.id != id {
			continue
		}
		m := fyne.NewMenuItem(a.label, func() { b.run(id) })
		if len(a.keys) > 0 {
			m.Shortcut = a.keys[0]
		}
		m.Disabled = !b.enabled(id)
		return m
	}
	return nil
}

// menu is a menu of the top bar, as things now stand.
func (b *Bench) menu(name string) *fyne.Menu {
	switch name {
	case "Job":
		return b.jobMenu()
	case "Trial":
		return b.trialMenu()
	case "Unit":
		return b.unitMenu()
	default:
		return b.exportMenu()
	}
}

func (b *Bench) jobMenu() *fyne.Menu {
	recent := fyne.NewMenuItem(words.T("Recent"), nil)
	recent.ChildMenu = fyne.NewMenu("")
	for _, name := range b.app.Preferences().StringList(keyRecent) {
		phrase := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name)) + "   " + filepath.Dir(name)
		recent.ChildMenu.Items = append(recent.ChildMenu.Items, fyne.NewMenuItem(look.Shorten(phrase, look.Body, false, 460), func() { b.openNamed(name) }))
	}
	if len(recent.ChildMenu.Items) == 0 {
		recent.ChildMenu, recent.Disabled = nil, true
	}
	demos := fyne.NewMenuItem(words.T("Demo jobs"), nil)
	demos.ChildMenu = fyne.NewMenu("")
	for _, name := range assets.Demos() {
		phrase := strings.ReplaceAll(name, "-", " ")
		demos.ChildMenu.Items = append(demos.ChildMenu.Items, fyne.NewMenuItem(strings.ToUpper(phrase[:1])+phrase[1:], func() {
			b.keepFirst(func() { b.tell(b.openDemo(name)) }, nil)
		}))
	}
	export := fyne.NewMenuItem(words.T("Export"), nil)
	export.ChildMenu = b.exportMenu()
	quit := b.item("quit")
	quit.IsQuit = true
	more := fyne.NewMenuItem(words.T("Work out"), nil)
	more.ChildMenu = fyne.NewMenu("", b.item("tank"), b.item("lowest"), b.item("tyres"), b.item("room"), b.item("places"), b.item("datums"), b.item("standing"), b.item("pivots"), b.item("holes"), b.item("card"), b.item("photo"))
	return fyne.NewMenu("", b.item("start"), b.item("open"), recent, b.item("save"), b.item("saveas"), demos, fyne.NewMenuItemSeparator(), export, more,
		fyne.NewMenuItemSeparator(), b.schemeMenu(), b.textMenu(), b.languageMenu(), b.unitItem(), b.item("keys"), b.item("explain"), fyne.NewMenuItem(words.T("The caution"), func() { b.showCaution(nil) }), fyne.NewMenuItemSeparator(), quit)
}

func (b *Bench) trialMenu() *fyne.Menu {
	d := b.doc
	now := d.Trial()
	choose := func(label, name string) *fyne.MenuItem {
		m := fyne.NewMenuItem(label, func() { b.tell(d.SetTrial(name)) })
		m.Checked = name == now
		return m
	}
	m := fyne.NewMenu("", choose(words.T("As drawn"), ""))
	for _, n := range d.Trials() {
		m.Items = append(m.Items, choose(n, n))
	}
	pencil := fyne.NewMenuItem(words.T("Pencil lines"), nil)
	pencil.ChildMenu = fyne.NewMenu("")
	mark := func(label, name string) {
		x := fyne.NewMenuItem(label, func() { b.togglePencil(name) })
		x.Checked = d.HasPencil(name)
		pencil.ChildMenu.Items = append(pencil.ChildMenu.Items, x)
	}
	mark(words.T("As it stands now, kept grey"), document.AsItWas)
	mark(words.T("As drawn"), "")
	for _, n := range d.Trials() {
		mark(n, n)
	}
	none := fyne.NewMenuItem(words.T("None"), d.ClearPencils)
	none.Checked = len(d.Pencils()) == 0
	pencil.ChildMenu.Items = append(pencil.ChildMenu.Items, fyne.NewMenuItemSeparator(), none)
	m.Items = append(m.Items, fyne.NewMenuItemSeparator(), b.item("keep"), b.item("apart"), b.layoutItem(), pencil, b.item("trials"), b.item("positions"))
	if now != "" {
		m.Items = append(m.Items, fyne.NewMenuItemSeparator(),
			fyne.NewMenuItem(words.T("Take over: make it the job as drawn"), func() { b.tell(d.TakeOver(now)) }),
			fyne.NewMenuItem(words.T("Rename..."), func() {
				b.ask(words.T("Rename the trial"), words.T("Name"), now, func(s string) error { return d.RenameTrial(now, s) })
			}),
			fyne.NewMenuItem(words.T("Remove"), func() { b.tell(d.RemoveTrial(now)) }))
	}
	return m
}

// layoutItem offers a new trial with another layout on the same vehicle.
func (b *Bench) layoutItem() *fyne.MenuItem {
	m := fyne.NewMenuItem(words.T("New trial with another layout"), nil)
	m.ChildMenu = panel.LayoutMenu(b.host, nil)
	return m
}

// togglePencil draws a trial as a pencil line, or takes it away where it is one; the geometry as it stands is drawn anew.
func (b *Bench) togglePencil(name string) {
	if name != document.AsItWas && b.doc.HasPencil(name) {
		b.doc.RemovePencil(name)
		return
	}
	b.tell(b.doc.AddPencil(name))
}

func (b *Bench) keepTrial(title string, keep func(string) error) {
	name := ""
	for i := 1; name == ""; i++ {
		if try := words.F("Trial %d", i); !slices.Contains(b.doc.Trials(), try) {
			name = try
		}
	}
	b.ask(title, words.T("Name"), name, keep)
}

func (b *Bench) otherUnit() {
	if b.doc.Unit() == "mm" {
		b.doc.SetUnit("in")
	} else {
		b.doc.SetUnit("mm")
	}
}

func (b *Bench) goToWorst() {
	s, _ := b.doc.Study()
	if f := s.Worst(); f != nil {
		b.goThere(f)
	}
}
