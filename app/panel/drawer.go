package panel

import (
	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// body is what stands in a drawer.
type body interface {
	object() fyne.CanvasObject
	update(document.Change)
	head() fyne.CanvasObject // beside the title; nil: nothing
	bare() bool              // fills the drawer without a title
}

// DrawerFrame is a drawer: a title, what stands in it, and a way to close it.
type DrawerFrame struct {
	widget.BaseWidget
	ground *look.Plate
	title  *look.Label
	close  *look.Button
	in     body
	kind   Drawer
}

// NewDrawer makes a drawer.
func NewDrawer(h *Host, d Drawer) *DrawerFrame {
	f := &DrawerFrame{ground: look.NewPlate(ink.Panel), kind: d}
	f.title = look.NewLabel(d.String(), look.Body, ink.Text, true)
	f.close = look.NewButton(words.T("Close"), look.Plain, func() { h.Toggle(d) }).Tall(32, look.Row).Caret(look.CaretDown)
	switch d {
	case ChartsDrawer:
		f.in = newCharts(h)
	case WayDrawer:
		f.in = newWay(h)
	case PartsDrawer:
		f.in = newParts(h)
	case HeightsDrawer:
		f.in = newHeights(h)
	case GapsDrawer:
		f.in = newGaps(h)
	case FindingsDrawer:
		f.in = newFindingsBody(h)
	case MeasureDrawer:
		f.in = newMeasure(h)
	case LeftOutDrawer:
		f.in = newLeftOut(h)
	case TankDrawer:
		f.in = newTank(h)
	case LowestDrawer:
		f.in = newLowest(h)
	case TyresDrawer:
		f.in = newTyres(h)
	case RoomDrawer:
		f.in = newRoom(h)
	case DatumsDrawer:
		f.in = newDatums(h)
	case CardDrawer:
		f.in = newJobCard(h)
	case PhotoDrawer:
		f.in = newPhotos(h)
	case TrialsDrawer:
		f.in = newTrials(h)
	case PivotsDrawer:
		f.in = newPivots(h)
	case StandingDrawer:
		f.in = newStanding(h)
	case HolesDrawer:
		f.in = newHoles(h)
	}
	if f.in.bare() {
		f.ground.SetFill(ink.Between)
	}
	f.ExtendBaseWidget(f)
	return f
}

// Update looks at what changed.
func (f *DrawerFrame) Update(c document.Change) { f.in.update(c) }

// Opened tells it that it is seen again.
func (f *DrawerFrame) Opened() {
	look.Wake(f.in.object())
	if o, ok := f.in.(interface{ opened() }); ok {
		o.opened()
	}
}

// Ready tells it that it stands in the window, open.
func (f *DrawerFrame) Ready() {
	if r, ok := f.in.(interface{ ready() }); ok {
		r.ready()
	}
}

// Closed tells what stands in it that it is not seen any more.
func (f *DrawerFrame) Closed() {
	if c, ok := f.in.(interface{ closed() }); ok {
		c.closed()
	}
}

// Lines are the words of the rows in it, for tests and for whoever drives the window from outside.
func (f *DrawerFrame) Lines() []string {
	if l, ok := f.in.(interface{ lines() []string }); ok {
		return l.lines()
	}
	return nil
}

// Named finds a button or field in it by its words; nil where there is none.
func (f *DrawerFrame) Named(name string) fyne.CanvasObject {
	if name == "Close" {
		return f.close
	}
	if l, ok := f.in.(interface {
		named(string) fyne.CanvasObject
	}); ok {
		return l.named(name)
	}
	return nil
}

// CreateRenderer is the toolkit's.
func (f *DrawerFrame) CreateRenderer() fyne.WidgetRenderer {
	f.ExtendBaseWidget(f)
	return &drawerRenderer{f}
}

type drawerRenderer struct{ f *DrawerFrame }

func (r *drawerRenderer) Layout(s fyne.Size) {
	f := r.f
	f.ground.Resize(s)
	bare := f.in.bare()
	look.Show(f.title, !bare)
	look.Show(f.close, !bare)
	top := float32(0)
	if !bare {
		f.title.Move(fyne.NewPos(look.Inset, 0))
		w := f.title.MinSize().Width
		f.title.Resize(fyne.NewSize(w, look.Row))
		m := f.close.MinSize()
		f.close.Move(fyne.NewPos(s.Width-look.Gap-m.Width, 0))
		f.close.Resize(m)
		if h := f.in.head(); h != nil {
			if p, ok := f.in.(*parts); ok {
				p.fit(s.Width - 2*look.Gap - m.Width - look.Inset)
			}
			x := look.Inset + w + 16
			if x+h.MinSize().Width > s.Width-2*look.Gap-m.Width && f.kind == PartsDrawer { // the tabs say what it is
				f.title.Hide()
				x = look.Inset
			}
			h.Move(fyne.NewPos(x, 0))
			h.Resize(fyne.NewSize(s.Width-look.Gap-m.Width-8-x, look.Row))
		}
		top = look.Row
	}
	o := f.in.object()
	o.Move(fyne.NewPos(0, top))
	o.Resize(fyne.NewSize(s.Width, max(0, s.Height-top)))
}
func (r *drawerRenderer) MinSize() fyne.Size { return fyne.NewSize(300, 160) }
func (r *drawerRenderer) Refresh() {
	r.Layout(r.f.Size())
	r.f.ground.Refresh()
}
func (r *drawerRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.f.ground, r.f.in.object()}
	if h := r.f.in.head(); h != nil {
		out = append(out, h)
	}
	return append(out, r.f.title, r.f.close)
}
func (r *drawerRenderer) Destroy() {}
