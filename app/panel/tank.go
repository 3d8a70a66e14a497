package panel

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/vessel"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// tankFound is what was worked out of one tank.
type tankFound struct {
	s        *study.Study
	t        *study.Tank
	choices  []tankChoice
	sections []*vessel.Section // of the keep-out through its worst place, square to X, Y and Z
}

// tankDips is a dip table and what can be drawn, for one cut and tilt.
type tankDips struct {
	levels []vessel.Level
	use    vessel.Usable
	known  bool
}

// dipStep is the step of the dip table, mm.
const dipStep = 5.0

// tank is what the moving parts take of a tank, the cuts that clear them, and the dip table.
type tank struct {
	h     *Host
	name  string // of the tank shown
	found behind[tankFound]
	dips  behind[tankDips]
	nth   numbered
	chose string // what the shown cut was chosen for
	shown int    // of the choices
	kind  string // of the shown one, where another than the best was chosen
	kept  bool   // what is drawn stays in the views when the panel is closed

	top    *tankHead
	words  *fyne.Container
	cuts   *fyne.Container
	text   *container.Scroll
	table  *dipTable
	box    *fyne.Container
	lines_ []*pressLine
	said   string
}

func newTank(h *Host) *tank {
	k := &tank{h: h}
	k.found = behind[tankFound]{post: h.Post, changed: k.refresh}
	k.dips = behind[tankDips]{post: h.Post, changed: k.refresh}
	k.top = newTankHead(k)
	k.words = container.New(&look.Stack{Gap: 5, Inset: 4, Below: 6})
	k.cuts = container.New(&look.Stack{Inset: 0, Below: 8})
	k.text = container.NewVScroll(container.New(&beside{left: k.words, right: k.cuts}, k.words, k.cuts))
	k.table = newDipTable(k)
	k.box = container.New(&tankLayout{k}, look.Calm(k.text), k.table.box)
	h.Doc.Subscribe(func(c document.Change) { // what was kept goes with the geometry it is of
		if c&(document.JobChanged|document.StudyChanged) == 0 || h.Opened() == TankDrawer {
			return
		}
		if _, fresh := k.current(); !fresh {
			h.Lay("tank", nil)
		}
	})
	return k
}

func (k *tank) object() fyne.CanvasObject { return k.box }
func (k *tank) head() fyne.CanvasObject   { return k.top.box }
func (k *tank) bare() bool                { return false }

// closed ends what only an open panel does.
func (k *tank) closed() {
	k.found.drop()
	k.dips.drop()
	if _, fresh := k.current(); !k.kept || !fresh {
		k.h.Lay("tank", nil)
		k.said = "" // it is laid again when it is opened again
	}
}

// tanks are the vessels of the study shown, and which stands.
func (k *tank) tanks(s *study.Study) (all []*job.Envelope, at int) {
	all = s.Tanks()
	at = -1
	for i, e := range all {
		if e.Name == k.name {
			at = i
		}
	}
	switch {
	case len(all) == 0:
		k.name = ""
	case at < 0:
		at = tightestTank(s, all)
		k.name = all[at].Name
	}
	return all, at
}

// tightestTank is the one that something comes nearest to.
func tightestTank(s *study.Study, all []*job.Envelope) int {
	if s.Gaps == nil {
		return 0
	}
	for _, i := range s.Order() {
		a, b := s.PairNames(i)
		for n, e := range all {
			if e.Name == a || e.Name == b {
				return n
			}
		}
	}
	return 0
}

// choose shows another tank.
func (k *tank) choose(name string) {
	if name != k.name {
		k.name = name
		k.text.ScrollToTop()
		k.refresh()
	}
}

// follow takes the tank that is selected.
func (k *tank) follow() {
	p, ok := k.h.Doc.Selected()
	j := k.h.Doc.Current()
	if !ok || p.List != document.Envelopes || !j.Envelopes[p.Index].Vessel {
		return
	}
	name := j.Envelopes[p.Index].Name
	if k.name == name || k.name == name+" left" || k.name == name+" right" {
		return
	}
	if j.Envelopes[p.Index].Pair {
		name += " left"
	}
	k.name = name
}

func (k *tank) update(c document.Change) {
	if c&document.SelectionChanged != 0 {
		k.follow()
	}
	if c&^(document.PositionChanged) == 0 {
		return // nothing here hangs on where the axle stands
	}
	k.refresh()
}

// key is what a tank's figures are of.
func (k *tank) key(s *study.Study) string {
	return fmt.Sprint(k.nth.of(s), " ", k.name)
}

// current is what is worked out, and whether it is of the geometry and tank as they stand; nil where there is nothing of this tank.
func (k *tank) current() (f *tankFound, fresh bool) {
	s, _ := k.h.Doc.Study()
	fresh = k.h.Doc.Freshness().Full && k.found.fresh(k.key(s))
	if k.found.has && (fresh || k.found.got.t.Vessel.Name == k.name) {
		return &k.found.got, fresh
	}
	return nil, false
}

// want asks for what is not there yet.
func (k *tank) want() {
	s, _ := k.h.Doc.Study()
	all, at := k.tanks(s)
	if at < 0 || !k.h.Doc.Freshness().Full {
		k.found.drop() // a hand moves something: the processors are the views'
		return
	}
	e, key, unit := all[at], k.key(s), k.h.Doc.Unit()
	k.found.ask(key, func(ctx context.Context, looked *atomic.Int64) (tankFound, error) {
		f := tankFound{s: s}
		var err error
		if f.t, err = s.Tank(ctx, e, vessel.Usual, func(n int) { looked.Store(int64(n)) }); err != nil {
			return f, err
		}
		f.choices = choicesOf(f.t, unit)
		if worst, ok := f.t.Worst(); ok {
			for axis, v := range [3]float64{worst.X, worst.Y, worst.Z} {
				sec, err := f.t.Section(ctx, axis, v)
				if err != nil {
					return f, err
				}
				f.sections = append(f.sections, sec)
			}
		}
		return f, nil
	})
	f, fresh := k.current()
	if !fresh {
		return
	}
	if k.chose != key { // the cut of the same kind at the same faces, where there is one
		k.chose, k.shown = key, max(0, slices.IndexFunc(f.choices, func(c tankChoice) bool { return k.kind != "" && c.kind() == k.kind }))
	}
	var cuts []vessel.Cut
	if k.shown < len(f.choices) {
		cuts = f.choices[k.shown].cuts
	}
	tilt, v := k.table.tilt, f.t.Vessel
	k.dips.ask(fmt.Sprint(key, " ", k.shown, " ", tilt), func(context.Context, *atomic.Int64) (tankDips, error) {
		t := vessel.Tilt{X: tilt[0] * math.Pi / 180, Y: tilt[1] * math.Pi / 180}
		var d tankDips
		d.levels = v.Dip(t, cuts, dipStep)
		d.use, d.known = v.Usable(t, cuts)
		return d, nil
	})
}

// refresh shows how things stand.
func (k *tank) refresh() {
	if k.h.Opened() != TankDrawer {
		return
	}
	k.want()
	f, fresh := k.current()
	k.top.update(fresh)
	if k.tell(f, fresh) {
		k.lay(f, fresh)
		k.table.update(f)
		k.box.Refresh()
	}
}

// show puts another cut into the views and the dip table.
func (k *tank) show(i int) {
	k.shown, k.kind = i, ""
	if i > 0 {
		k.kind = k.found.got.choices[i].kind()
	}
	k.refresh()
}

// lay draws the shown cut and the keep-out over the views.
func (k *tank) lay(f *tankFound, fresh bool) {
	if !fresh {
		k.h.Lay("tank", nil)
		return
	}
	var out []view.Laid
	if k.shown < len(f.choices) {
		for i := range f.choices[k.shown].cuts {
			c := &f.choices[k.shown].cuts[i]
			out = append(out, view.Laid{Name: words.F("cut %s", c.Words), Look: view.CutOff, Bodies: f.t.Vessel.Bodies(c), Words: words.F("loses %s L", study.Litres(c.Litres))})
		}
	}
	planes := [3]view.Plane{view.Rear, view.Side, view.Plan} // that a section square to X, Y or Z is seen in
	for _, s := range f.sections {
		if len(s.Loops) > 0 {
			out = append(out, view.Laid{Name: "keep-out", Look: view.KeptOut, Only: true, In: planes[s.Axis], Loops: s.Loops})
		}
	}
	k.h.Lay("tank", out)
}

// tell writes the words and the cuts; it reports whether anything has changed since it last did.
func (k *tank) tell(f *tankFound, fresh bool) bool {
	s, _ := k.h.Doc.Study()
	key := fmt.Sprint(fresh, k.found.gotKey, k.shown, k.dips.gotKey, k.dips.busy, k.found.busy, k.found.left, k.found.err, k.name, k.wasWords(), k.h.Doc.Unit(), s.Refusal)
	if key == k.said {
		return false
	}
	k.said = key
	role := ink.Text
	if !fresh {
		role = ink.Second
	}
	k.words.Objects, k.cuts.Objects, k.lines_ = nil, nil, nil
	para := func(lead, phrase string, role ink.Role) { k.words.Add(look.NewPara(lead, phrase, role)) }
	switch {
	case f != nil:
		k.tellFound(f, fresh, role, para)
	case k.name == "":
		para("", words.T("This job has no tank. Say of what is in the way that it is a tank or other vessel: its litres, what the moving parts take of it and its dip table are then told here."), ink.Text)
	case k.found.err != nil:
		para("", study.Upper(k.found.err.Error()), ink.Text)
	case s.Refusal != "":
		para("", s.Refusal, ink.Text)
	case k.found.left:
		para("", words.T("Given up. Press Work out to begin again."), ink.Text)
	default:
		para("", words.T("Working out what the moving parts take of it over the whole range."), ink.Second)
	}
	if f == nil || f.t.Vessel.Why != "" {
		para("", words.T(study.TankCaution), ink.Text)
	}
	k.words.Refresh()
	k.cuts.Refresh()
	k.text.Refresh()
	return true
}

// line adds a line that can be pressed to a box.
func (k *tank) line(to *fyne.Container, lead, phrase string, role ink.Role, pressed func()) *pressLine {
	l := newPressLine(lead, phrase, role, pressed)
	l.seen = func() { revealIn(k.text, l) }
	k.lines_ = append(k.lines_, l)
	to.Add(l)
	return l
}
