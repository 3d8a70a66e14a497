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
	"fyne.io/fyne/v2/widget"
)

// Foot is the bar along the bottom: the drawers, what a pixel is, Fit, Fit all, Home, and whether the work is saved.
type Foot struct {
	widget.BaseWidget
	h       *Host
	ground  *look.Plate
	Drawers [5]*look.Button
	kinds   [5]Drawer
	More    *look.Button // the drawers that have no button of their own
	scale   *look.Label
	words   string // what a pixel is, whole
	Fit     *look.Button
	FitAll  *look.Button
	Home    *look.Button
	saved   *look.Label
	Part    *look.Button // opens the form of the chosen part

	ScaleText func() string          // what a pixel is
	Framing   func() (fit, all bool) // which of the two stands
	CanHome   func() bool
	RightEdge func() float32 // where the right column begins
}

// NewFoot makes the bar.
func NewFoot(h *Host) *Foot {
	f := &Foot{h: h, ground: look.NewPlate(ink.Panel), kinds: [5]Drawer{ChartsDrawer, WayDrawer, GapsDrawer, PartsDrawer, HeightsDrawer}}
	for i, k := range f.kinds {
		f.Drawers[i] = look.NewButton(k.String(), look.Plain, func() { h.Toggle(k) }).Tall(28, look.FootBar).Caret(look.CaretUp)
	}
	f.More = look.NewButton(words.T("More"), look.Plain, func() { look.PopUp(f.more(), f.More) }).Tall(28, look.FootBar).Caret(look.CaretUp)
	f.Part = look.NewButton("", look.Link, func() {
		if p, ok := h.Doc.Selected(); ok {
			h.ShowPart(p)
		}
	}).Tall(28, look.FootBar).Caret(look.CaretUp)
	f.scale = look.NewLabel("", look.Small, ink.Second, false).Shrinks(0)
	plain := func(name, action string) *look.Button {
		return look.NewButton(name, look.Plain, func() { h.Run(action) }).Tall(28, look.FootBar)
	}
	f.Fit, f.FitAll, f.Home = plain(words.T("Fit"), "fit"), plain(words.T("Fit all"), "fitall"), plain(words.T("Home"), "home")
	f.saved = look.NewLabel("", look.Small, ink.Second, false).Shrinks(40)
	f.ExtendBaseWidget(f)
	return f
}

// under reports whether a drawer is opened by the menu of More: it has no button here, and no words among the findings.
func (f *Foot) under(d Drawer) bool {
	return d != NoDrawer && d != FindingsDrawer && d != LeftOutDrawer && !slices.Contains(f.kinds[:], d)
}

// more is the menu of the drawers that have no button, those of which the button has no room first.
func (f *Foot) more() *fyne.Menu {
	m := fyne.NewMenu("")
	put := func(k Drawer) {
		i := fyne.NewMenuItem(k.String(), func() { f.h.Toggle(k) })
		i.Checked = f.h.Opened() == k
		m.Items = append(m.Items, i)
	}
	for i, k := range f.kinds {
		if !f.Drawers[i].Visible() {
			put(k)
		}
	}
	for k := NoDrawer; k <= LastDrawer; k++ {
		if f.under(k) {
			put(k)
		}
	}
	return m
}

// Update looks at what changed: saved state, open drawer, what the views frame.
func (f *Foot) Update(document.Change) {
	open := f.h.Opened()
	for i, k := range f.kinds {
		b := f.Drawers[i]
		b.SetLit(open == k)
		if open == k {
			b.Caret(look.CaretDown)
		} else {
			b.Caret(look.CaretUp)
		}
	}
	f.More.SetLit(f.under(open))
	if f.ScaleText != nil {
		f.words = f.ScaleText()
	}
	if f.Framing != nil {
		fit, all := f.Framing()
		f.Fit.SetUnderlined(fit)
		f.FitAll.SetUnderlined(all)
	}
	if f.CanHome != nil {
		f.Home.SetDisabled(!f.CanHome())
	}
	f.saved.SetText(savedWords(f.h.Doc))
	name := ""
	if p, ok := f.h.Doc.Selected(); ok && open != WayDrawer && open != PartsDrawer {
		name = edit.PartName(f.h.Doc.Current(), p)
	}
	f.Part.SetText(look.Shorten(name, look.Small, true, 160))
	look.Show(f.Part, name != "")
	f.Refresh()
}

// Saved is the words of the saved state.
func (f *Foot) Saved() string { return f.saved.Text() }

// Scale is the words of what a pixel is.
func (f *Foot) Scale() string { return f.words }

func savedWords(d *document.Document) string {
	switch {
	case d.AutosaveTrouble() != "" && d.Dirty():
		return d.AutosaveTrouble()
	case d.IsDemo() && d.Dirty():
		return words.T("Demo, changed. Saving makes a job of your own")
	case d.IsDemo():
		return words.T("Demo")
	case d.File() == "":
		return words.T("Not saved yet")
	case d.Elsewhere() != "":
		return words.T("Open in another window too")
	case d.Dirty():
		return words.T("Changed, not saved")
	case d.SavedAt().IsZero():
		return words.T("Saved")
	}
	return words.F("Saved %s", d.SavedAt().Format("15:04"))
}

// footRoom is what is left for the chosen part and what a pixel is, as long as the words need not be closer together for it.
const footRoom = 210

// CreateRenderer is the toolkit's.
func (f *Foot) CreateRenderer() fyne.WidgetRenderer {
	f.ExtendBaseWidget(f)
	return &footRenderer{f}
}

type footRenderer struct{ f *Foot }

func (r *footRenderer) Layout(s fyne.Size) {
	f := r.f
	f.ground.Resize(s)
	edge := s.Width - 410
	if f.RightEdge != nil {
		edge = f.RightEdge()
	}
	framing := float32(0)
	for _, pad := range [...]float32{11, 7, 4} { // a narrow bar has its words closer together
		framing = 0
		for _, b := range []*look.Button{f.Home, f.FitAll, f.Fit} {
			framing += b.Padding(pad).MinSize().Width + 8
		}
		need := 16 + footRoom + f.More.Padding(pad).MinSize().Width
		for _, b := range f.Drawers {
			need += b.Padding(pad).MinSize().Width + 8
		}
		if need < edge-framing {
			break
		}
	}
	x := float32(8)
	for i, b := range f.Drawers {
		w := b.MinSize().Width
		fits := x+w+8+f.More.MinSize().Width+8 < edge-framing
		look.Show(b, fits || i < 2) // those that have no room are under More too
		if !b.Visible() {
			continue
		}
		b.Move(fyne.NewPos(x, 0))
		b.Resize(fyne.NewSize(w, s.Height))
		x += w + 8
	}
	f.More.Move(fyne.NewPos(x, 0))
	f.More.Resize(fyne.NewSize(f.More.MinSize().Width, s.Height))
	x += f.More.Size().Width + 8
	if f.Part.Text() != "" {
		look.Show(f.Part, x+16+f.Part.MinSize().Width < edge-framing)
	}
	if f.Part.Visible() {
		w := f.Part.MinSize().Width
		f.Part.Move(fyne.NewPos(x+8, 0))
		f.Part.Resize(fyne.NewSize(w, s.Height))
		x += w + 16
	}
	f.saved.Move(fyne.NewPos(edge+look.Inset, 0))
	f.saved.Resize(fyne.NewSize(max(0, s.Width-edge-2*look.Inset), s.Height))
	end := edge - 8
	for _, b := range []*look.Button{f.Home, f.FitAll, f.Fit} {
		w := b.MinSize().Width
		end -= w
		b.Move(fyne.NewPos(end, 0))
		b.Resize(fyne.NewSize(w, s.Height))
		end -= 8
	}
	phrase := f.words
	if look.Width(phrase, look.Small, false)+1 > end-x-8 {
		phrase, _, _ = strings.Cut(phrase, ",")
	}
	f.scale.SetText(phrase)
	w := look.Width(phrase, look.Small, false) + 1
	look.Show(f.scale, phrase != "" && w <= end-x-8)
	f.scale.Move(fyne.NewPos(end-8-w, 0))
	f.scale.Resize(fyne.NewSize(w, s.Height))
}

func (r *footRenderer) MinSize() fyne.Size { return fyne.NewSize(0, look.FootBar) }
func (r *footRenderer) Refresh()           { r.Layout(r.f.Size()) }
func (r *footRenderer) Objects() []fyne.CanvasObject {
	f := r.f
	out := []fyne.CanvasObject{f.ground}
	for _, b := range f.Drawers {
		out = append(out, b)
	}
	return append(out, f.More, f.Part, f.scale, f.Fit, f.FitAll, f.Home, f.saved)
}
func (r *footRenderer) Destroy() {}
