package panel

import (
	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Top is the bar across the top: job, trial, heights, loads, unit, undo and redo, export, how much is measured.
// Where it is narrow it drops the last action, then the word beside the heights, then the unit, then puts heights and loads into menus.
type Top struct {
	widget.BaseWidget
	h       *Host
	ground  *look.Plate
	Job     *look.Button
	Trial   *look.Button
	Heights *look.Segments
	Between *look.Label
	Loads   *look.Segments
	Unit    *look.Button
	Undo    *look.Button
	Last    *look.Label
	Redo    *look.Button
	Export  *look.Button
	Counted *look.Button
	height  *look.Button // heights and loads where there is no room for all of them
	load    *look.Button
}

// NewTop makes the bar.
func NewTop(h *Host) *Top {
	t := &Top{h: h, ground: look.NewPlate(ink.Panel)}
	menu := func(b **look.Button, name string) {
		*b = look.NewButton(name, look.Outline, func() { look.PopUp(h.Menu(name), *b) }).Tall(look.Drawn, look.TopBar).Caret(look.CaretDown)
	}
	menu(&t.Job, words.T("Job"))
	menu(&t.Trial, words.T("Trial"))
	menu(&t.Export, words.T("Export"))
	menu(&t.Unit, words.T("Unit"))
	t.Heights = look.NewSegments(nil, -1, func(i int) { h.Doc.GoHeight(i) }).Compact(12, look.TopBar, look.Body)
	t.Loads = look.NewSegments(nil, -1, func(i int) { h.Doc.SetLoad(i) }).Compact(12, look.TopBar, look.Body)
	t.Between = look.NewLabel("", look.Small, ink.Second, false).Italic()
	run := func(name, action string) *look.Button {
		return look.NewButton(name, look.Outline, func() { h.Run(action) }).Tall(look.Drawn, look.TopBar)
	}
	t.Undo, t.Redo = run(words.T("Undo"), "undo"), run(words.T("Redo"), "redo")
	t.Counted = run("", "measure")
	t.Last = look.NewLabel("", look.Body, ink.Second, false).Shrinks(30)
	t.height = look.NewButton("", look.Outline, func() { look.PopUp(t.heightMenu(), t.height) }).Tall(look.Drawn, look.TopBar).Caret(look.CaretDown)
	t.load = look.NewButton("", look.Outline, func() { look.PopUp(t.loadMenu(), t.load) }).Tall(look.Drawn, look.TopBar).Caret(look.CaretDown)
	t.ExtendBaseWidget(t)
	t.Update(^document.Change(0))
	return t
}

// Update looks at what changed.
func (t *Top) Update(c document.Change) {
	d := t.h.Doc
	trial := d.Trial()
	if trial == "" {
		trial = words.T("as drawn")
	}
	before := t.needs()
	t.Trial.SetText(words.F("Trial: %s", look.Shorten(trial, look.Body, false, 180)))
	j := d.Current()
	var names []string
	for _, h := range j.Vehicle.Heights {
		names = append(names, study.Upper(h.Name))
	}
	standing, phrase := d.Standing()
	t.Heights.Set(names, standing)
	if standing >= 0 || len(names) == 0 {
		phrase = ""
	}
	t.Between.SetText(phrase)
	if standing >= 0 {
		t.height.SetText(names[standing])
	} else {
		t.height.SetText(words.T("Height"))
	}
	names = nil
	for _, l := range j.Vehicle.Loads {
		names = append(names, study.Upper(l.Name))
	}
	t.Loads.Set(names, d.Load())
	if i := d.Load(); i < len(names) {
		t.load.SetText(names[i])
	}
	t.Unit.SetText(d.Unit())
	last, can := d.CanUndo()
	t.Undo.SetDisabled(!can)
	t.Last.SetText(study.Lower(last))
	_, can = d.CanRedo()
	t.Redo.SetDisabled(!can)
	t.Counted.SetText(d.Measured().String())
	if before != t.needs() {
		t.Refresh()
	}
}

func (t *Top) heightMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	for i, h := range t.h.Doc.Current().Vehicle.Heights {
		m.Items = append(m.Items, fyne.NewMenuItem(study.Upper(h.Name), func() { t.h.Doc.GoHeight(i) }))
	}
	return m
}

func (t *Top) loadMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	for i, l := range t.h.Doc.Current().Vehicle.Loads {
		m.Items = append(m.Items, fyne.NewMenuItem(study.Upper(l.Name), func() { t.h.Doc.SetLoad(i) }))
	}
	return m
}

// needs is what the layout hangs on: when it changes the bar is laid out again.
func (t *Top) needs() [7]float32 {
	return [7]float32{t.Trial.MinSize().Width, t.Heights.MinSize().Width, t.Loads.MinSize().Width, t.Between.MinSize().Width,
		look.Width(t.Last.Text(), look.Body, false), t.Counted.MinSize().Width, t.height.MinSize().Width + t.load.MinSize().Width}
}

// CreateRenderer is the toolkit's.
func (t *Top) CreateRenderer() fyne.WidgetRenderer {
	t.ExtendBaseWidget(t)
	return &topRenderer{t}
}

type topRenderer struct{ t *Top }

const (
	lastMost  = 220 // room the last action takes at most, and at least
	lastLeast = 56
	betweens  = 86 // room kept for "between", "past lowered"
)

// Layout fits as much as there is room for.
func (r *topRenderer) Layout(s fyne.Size) {
	t := r.t
	t.ground.Resize(s)
	hasHeights, hasLoads := len(t.Heights.Names()) > 0, len(t.Loads.Names()) > 0
	type step struct{ last, between, unit, segments, loads bool }
	steps := []step{{true, true, true, true, true}, {false, true, true, true, true}, {false, false, true, true, true}, {false, false, false, true, true}, {false, false, false, true, false}, {}}
	lastWidth := float32(0)
	if t.Last.Text() != "" {
		lastWidth = min(look.Width(t.Last.Text(), look.Body, false), lastMost)
	}
	var st step
	for _, st = range steps {
		w := float32(8) + t.Job.MinSize().Width + 8 + t.Trial.MinSize().Width + 16
		if hasHeights {
			if st.segments {
				w += t.Heights.MinSize().Width + 8
			} else {
				w += t.height.MinSize().Width + 8
			}
			if st.between {
				w += max(betweens, t.Between.MinSize().Width)
			}
			w += 8
		}
		if hasLoads {
			if st.loads {
				w += t.Loads.MinSize().Width + 16
			} else {
				w += t.load.MinSize().Width + 16
			}
		}
		if st.unit {
			w += t.Unit.MinSize().Width + 16
		}
		w += t.Undo.MinSize().Width + 8
		if st.last && lastWidth > 0 {
			w += min(lastWidth, lastLeast) + 8
		}
		w += t.Redo.MinSize().Width + 16 + t.Export.MinSize().Width + 8 + t.Counted.MinSize().Width + 8
		if w <= s.Width {
			lastWidth = min(lastWidth, lastLeast+s.Width-w)
			break
		}
	}
	x := float32(8)
	put := func(o fyne.CanvasObject, show bool, width, gap float32) {
		if !show {
			o.Hide()
			return
		}
		o.Show()
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(width, s.Height))
		x += width + gap
	}
	put(t.Job, true, t.Job.MinSize().Width, 8)
	put(t.Trial, true, t.Trial.MinSize().Width, 16)
	put(t.Heights, hasHeights && st.segments, t.Heights.MinSize().Width, 8)
	put(t.height, hasHeights && !st.segments, t.height.MinSize().Width, 8)
	if hasHeights {
		put(t.Between, st.between, max(betweens, t.Between.MinSize().Width), 8)
		if !st.between {
			x += 8
		}
	} else {
		t.Between.Hide()
	}
	put(t.Loads, hasLoads && st.loads, t.Loads.MinSize().Width, 16)
	put(t.load, hasLoads && !st.loads, t.load.MinSize().Width, 16)
	put(t.Unit, st.unit, t.Unit.MinSize().Width, 16)
	put(t.Undo, true, t.Undo.MinSize().Width, 8)
	put(t.Last, st.last && lastWidth > 0, lastWidth, 8)
	put(t.Redo, true, t.Redo.MinSize().Width, 16)
	x = s.Width - 8 - t.Counted.MinSize().Width - 8 - t.Export.MinSize().Width
	put(t.Export, true, t.Export.MinSize().Width, 8)
	put(t.Counted, true, t.Counted.MinSize().Width, 8)
}

func (r *topRenderer) MinSize() fyne.Size { return fyne.NewSize(0, look.TopBar) }
func (r *topRenderer) Refresh()           { r.Layout(r.t.Size()) }
func (r *topRenderer) Objects() []fyne.CanvasObject {
	t := r.t
	return []fyne.CanvasObject{t.ground, t.Job, t.Trial, t.Heights, t.height, t.Between, t.Loads, t.load, t.Unit, t.Undo, t.Last, t.Redo, t.Export, t.Counted}
}
func (r *topRenderer) Destroy() {}
