// Package bench is the whole window: it puts views, pad, card and panels together, holds the table of actions, opens and saves jobs,
// and asks what must be asked. It works nothing out.
package bench

import (
	"bytes"

	"axleloft/app/brush"
	"axleloft/app/card"
	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/pad"
	"axleloft/app/panel"
	"axleloft/app/sight"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/assets"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"gonum.org/v1/gonum/spatial/r3"
)

// Options are what the program was started with.
type Options struct {
	File     string // job to open, "" for the demo
	StateDir string // where autosaves of jobs without a file live
	Probe    string // path of the socket others may look at the window through; "" none
}

// Bench is the window.
type Bench struct {
	app  fyne.App
	win  fyne.Window
	opts Options
	doc  *document.Document
	host *panel.Host

	stop    func() // ends the subscription
	pending document.Change
	soon    *brush.Once // refresh
	frames  int
	pace    *pace // nil: nobody asked

	eye      *sight.Eye
	views    [3]*sight.View
	pad      *pad.Pad
	card     *card.Card
	top      *panel.Top
	tight    *panel.Tight
	tries    *panel.Tries
	readings *panel.ReadingsPanel
	findings *panel.FindingsPanel
	tapes    *panel.Tapes
	places   *panel.Places
	sit      *look.Button // shows where the held pivot could sit
	foot     *panel.Foot
	drawers  map[panel.Drawer]*panel.DrawerFrame
	open     panel.Drawer
	layout   *arrangement
	root     *fyne.Container

	post   func(func()) // runs a function on the window's goroutine, from any
	atOnce bool         // figures are worked out only where asked: tests

	boxes    []*box             // what is asked, the last on top
	choosing *dialog.FileDialog // open, nil: none
	letGo    bool               // the open job's changes are thrown away with it
	trouble  string             // with keeping the work aside, as it was last told
	actions  []action
}

// New makes the window of an application. It is not shown yet: Start does that.
func New(a fyne.App, o Options) *Bench { return build(a, o, fyne.Do, false) }

func build(a fyne.App, o Options, post func(func()), atOnce bool) *Bench {
	b := &Bench{app: a, opts: o, atOnce: atOnce, layout: newArrangement(a.Preferences())}
	b.post = func(f func()) { post(func() { defer b.timed("posted")(); f() }) }
	openLate()
	look.SetScheme(schemeChosen(a.Preferences()))
	_ = words.Use(a.Preferences().String(keyLanguage)) // one that is no longer there is English
	scaleText(b.textSize())
	a.Settings().SetTheme(look.Theme{})
	b.win = a.NewWindow("Axleloft")
	b.win.SetPadded(false)
	b.win.SetMaster()
	b.actions = b.table()
	b.soon = brush.NewOnce(b.refresh)
	b.win.SetCloseIntercept(b.onClose)
	b.win.SetOnDropped(b.onDropped)
	b.shortcuts()
	k := b.textSize() // larger text makes the window no larger
	b.win.Resize(fyne.NewSize(1366/k, 688/k))
	return b
}

// Window is the window.
func (b *Bench) Window() fyne.Window { return b.win }

// Document is the open job.
func (b *Bench) Document() *document.Document { return b.doc }

// Start opens the job asked for, or the demo, shows the window and asks what must be asked first.
func (b *Bench) Start() {
	var refused error
	if b.opts.File != "" {
		if d, err := document.Open(b.opts.File, b.docOptions()); err == nil {
			b.standAgain(d)
			b.use(d)
			b.remember(d.File())
		} else {
			refused = err
		}
	}
	if b.doc == nil {
		if err := b.openDemo(assets.Demos()[0]); err != nil {
			refused = err
		}
	}
	b.win.Show()
	if b.opts.Probe != "" {
		b.listen(b.opts.Probe)
	}
	if refused != nil {
		b.say(words.T("Not opened"), document.Words(refused))
	}
	b.askLost()
	b.caution()
}

func (b *Bench) docOptions() document.Options {
	o := document.Options{Post: b.post, StateDir: b.opts.StateDir, Autosave: b.opts.StateDir != ""}
	if b.atOnce {
		o.Post = nil
	}
	return o
}

// use puts another document into the window; the old one is closed. The same one again is put into a window made anew.
func (b *Bench) use(d *document.Document) {
	if b.stop != nil {
		b.places.Off()
		if was := b.drawers[b.open]; was != nil {
			was.Closed()
		}
		b.stop()
		b.pad.Close()
		b.card.Close()
		for _, v := range b.views {
			v.Close()
		}
		if d != b.doc {
			b.leave()
		}
	}
	b.doc = d
	b.open = panel.NoDrawer
	b.host = &panel.Host{Against: [2]string{"both", "both"}, Doc: d, Window: b.win, Post: b.post, GoThere: b.goThere, GoPlace: b.goPlace, StartMyJob: b.startMyJob,
		Run: b.run, Enabled: b.enabled, Menu: b.menu, Toggle: b.toggle, Opened: func() panel.Drawer { return b.open }, Tell: b.tell, Ask: b.ask, AskMany: b.askMany,
		ShowPart: b.showPart, ShowPaper: b.showSheet, ShowPair: b.showPair, Explain: b.explain, Lay: func(panel string, list []view.Laid) { b.eye.Lay(panel, list) }, Frame: func(lo, hi r3.Vec) { b.eye.Frame(lo, hi) }, Show: b.showPivot, EditPivot: b.editPivot, ShowPlaces: func(p *study.Places) { b.eye.SetPlaces(p) },
		Choose: func(c *view.Choice) { b.eye.Choose(c) }, Draw: b.draw, Taping: b.arrange,
		ChooseFile: b.chooseFile, Looks: b.looks, Say: b.say, ShowTank: b.showTank, SaveDip: b.saveDip, SaveNumbers: b.saveNumbers, SaveFile: b.export}
	b.eye = sight.NewEye(d)
	b.eye.Land(b.landingKept(), b.keepLanding, b.askOffFace)
	for i, p := range []view.Plane{view.Side, view.Rear, view.Plan} {
		b.views[i] = sight.New(d, b.eye, p)
	}
	b.pad, b.card = pad.New(d), card.New(d)
	b.eye.Leave, b.pad.Leave = b.escape, b.escape
	b.card.AskMany = b.askMany
	b.card.SetDenominator(b.denominator())
	b.card.OnDone = b.cardDone
	b.card.Near, b.card.OnNext = b.eye.Near, func() { b.eye.Next() }
	b.top, b.tight = panel.NewTop(b.host), panel.NewTight(b.host)
	b.tries = panel.NewTries(b.host, func() {
		b.app.Preferences().SetBool(keyTries, true)
		b.arrange()
	})
	b.readings, b.findings = panel.NewReadings(b.host), panel.NewFindings(b.host)
	b.tapes = panel.NewTapes(b.host)
	b.places = panel.NewPlaces(b.host)
	b.sit = look.NewButton(words.T("Could sit"), look.Outline, func() { b.run("places") }).Type(look.Small, true).Tall(26, sitTall).Padding(8)
	b.card.OnPart = b.showPart
	b.card.OnTapes, b.card.OnDatums = func() { b.run("tapes") }, func() { b.show(panel.DatumsDrawer) }
	b.card.OnStood = func() { b.show(panel.StandingDrawer) }
	b.foot = panel.NewFoot(b.host)
	b.foot.ScaleText = b.eye.ScaleText
	b.foot.Framing = func() (bool, bool) {
		return b.eye.Framing() == sight.FitLinks, b.eye.Framing() == sight.FitEverything
	}
	b.foot.CanHome = b.eye.CanHome
	b.foot.RightEdge = func() float32 { return b.layout.rightEdge }
	b.eye.Watch(func() { b.changed(0) })
	b.drawers = map[panel.Drawer]*panel.DrawerFrame{}
	b.layout.b = b
	b.root = container.New(b.layout, b.objects()...)
	b.win.SetContent(b.root)
	b.stop = d.Subscribe(b.changed)
	b.title()
	b.foot.Update(^document.Change(0))
}

// objects are all there is in the window, back to front; Tab goes through them in this order.
func (b *Bench) objects() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, s := range b.layout.seams {
		out = append(out, s)
	}
	for _, v := range b.views {
		out = append(out, v)
	}
	out = append(out, b.sit)
	out = append(out, b.pad, b.card, b.readings.Object, b.findings, b.tapes.Object, b.places.Object)
	for d := panel.ChartsDrawer; d <= panel.LastDrawer; d++ {
		if f := b.drawers[d]; f != nil {
			out = append(out, f)
		}
	}
	out = append(out, b.top, b.tight, b.tries, b.foot)
	for _, d := range b.layout.dividers {
		out = append(out, d)
	}
	return out
}

// changed gathers what changed and looks at it once, before the next frame.
func (b *Bench) changed(c document.Change) {
	b.pending |= c
	b.soon.Ask()
}

// refresh brings every panel up to date with what changed.
func (b *Bench) refresh() {
	defer b.timed("refresh")()
	c := b.pending
	b.pending = 0
	b.frames++
	if c&document.SelectionChanged != 0 {
		b.arrange() // the card comes and goes
	}
	b.tapes.Update(c)
	b.places.Update(c)
	b.top.Update(c)
	b.tries.Update(c)
	b.foot.Update(c)
	if c&document.FileChanged != 0 {
		b.tight.Update(c)
	}
	if c&^(document.FileChanged|document.SelectionChanged) != 0 {
		b.tight.Update(c)
		b.readings.Update(c)
		b.findings.Update(c)
	}
	if d := b.drawers[b.open]; d != nil {
		d.Update(c)
	}
	if c&(document.FileChanged|document.JobChanged) != 0 {
		b.title()
	}
	b.tellOutside()
	b.tellTrouble()
}

// arrange gives every panel its place again. Those that get another size draw themselves; the others stay as they are.
func (b *Bench) arrange() {
	b.layout.Layout(b.root.Objects, b.root.Size())
	brush.Repaint(b.root)
}

func (b *Bench) title() {
	star := ""
	if b.doc.Dirty() {
		star = "*"
	}
	b.win.SetTitle(words.F("%s%s — Axleloft", b.doc.Name(), star))
}

// goThere sets the axle where a finding is, and brings the views to its place.
func (b *Bench) goThere(f *study.Finding) {
	if !f.Place {
		return
	}
	b.goPlace(f.Left, f.Right, f.Pair)
}

// goPlace sets the axle and, for a pair of parts, brings the views to the two points where it is tightest.
func (b *Bench) goPlace(left, right float64, pair int) {
	b.doc.MoveAxle(left, right)
	if pair >= 0 {
		b.eye.GoToGap(pair)
	}
}

// toggle opens a drawer over plan and pad, or closes it.
func (b *Bench) toggle(d panel.Drawer) {
	if b.open == d {
		d = panel.NoDrawer
	}
	b.show(d)
}

func (b *Bench) show(d panel.Drawer) {
	if d != b.open {
		b.unfocusCovered()
	}
	if was := b.drawers[b.open]; was != nil && d != b.open {
		b.open = panel.NoDrawer
		was.Closed()
	}
	fresh := d != b.open
	switch f := b.drawers[d]; {
	case d == panel.NoDrawer:
	case f == nil:
		b.drawers[d] = panel.NewDrawer(b.host, d)
		b.root.Objects = b.objects()
	case d != b.open:
		f.Opened()
	}
	b.open = d
	if f := b.drawers[d]; f != nil {
		f.Update(^document.Change(0))
	}
	b.arrange()
	if f := b.drawers[d]; f != nil && fresh {
		f.Ready()
	}
	b.foot.Update(document.FileChanged)
}

// showPart opens the form of a part in the drawer it belongs to.
func (b *Bench) showPart(p document.Part) {
	b.doc.Select(p)
	if p.List == document.Envelopes {
		b.show(panel.WayDrawer)
	} else {
		b.show(panel.PartsDrawer)
	}
}

// openDemo opens a demo by its short name.
func (b *Bench) openDemo(name string) error {
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	if err != nil {
		return err
	}
	b.use(document.New(j, true, b.docOptions()))
	return nil
}

// Run runs the application till the window is closed.
func (b *Bench) Run() { b.app.Run() }
