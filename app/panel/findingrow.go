package panel

import (
	"strings"

	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// headRow is a heading between findings, with a rule above.
type headRow struct {
	widget.BaseWidget
	para *look.Para
	rule bool
}

func newHeadRow(phrase string, rule bool) *headRow {
	r := &headRow{rule: rule}
	if rule {
		r.para = look.NewPara(phrase, "", ink.Text)
	} else {
		r.para = look.NewPara("", phrase, ink.Text)
	}
	r.ExtendBaseWidget(r)
	return r
}

func (r *headRow) setText(phrase string) {
	if r.para.Set("", phrase, ink.Text) {
		r.Refresh()
	}
}

func (r *headRow) HeightFor(w float32) float32 { return r.para.HeightFor(w-24-look.Inset) + 9 }

func (r *headRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	return look.Made(r, &headRenderer{r, &canvas.Rectangle{FillColor: look.Color(ink.Edge)}})
}

type headRenderer struct {
	r    *headRow
	line *canvas.Rectangle
}

func (x *headRenderer) Layout(s fyne.Size) {
	x.line.Hidden, x.line.FillColor = !x.r.rule, look.Color(ink.Edge)
	x.line.Move(fyne.NewPos(look.Inset, 3))
	x.line.Resize(fyne.NewSize(s.Width-2*look.Inset, 1.5))
	x.r.para.Move(fyne.NewPos(24, 8))
	x.r.para.Resize(fyne.NewSize(s.Width-24-look.Inset, s.Height-9))
}
func (x *headRenderer) MinSize() fyne.Size           { return fyne.NewSize(40, 28) }
func (x *headRenderer) Refresh()                     { x.Layout(x.r.Size()); canvas.Refresh(x.r) }
func (x *headRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{x.line, x.r.para} }
func (x *headRenderer) Destroy()                     {}

// findingRow is one finding. A press goes there; the words at its end set it aside or bring it back, and show the gap of its pair over the travel.
type findingRow struct {
	widget.BaseWidget
	h       *Host
	f       study.Finding
	live    bool
	mark    *mark
	para    *look.Para
	aside   *look.Button
	chart   *look.Button
	litres  *look.Button // what clearing a tank would cost
	seen    func()       // brings the row into view
	focused bool
	hovered bool
}

var (
	_ fyne.Tappable          = (*findingRow)(nil)
	_ fyne.SecondaryTappable = (*findingRow)(nil)
	_ fyne.Focusable         = (*findingRow)(nil)
	_ desktop.Hoverable      = (*findingRow)(nil)
)

func newFindingRow(h *Host) *findingRow {
	r := &findingRow{h: h, mark: newMark(study.Hits, 1), para: look.NewPara("", "", ink.Text)}
	r.aside = look.NewButton(words.T("set aside"), look.Link, func() {
		if r.f.SetAside != nil {
			h.Tell(h.Doc.BringBack(&r.f))
			return
		}
		look.PopUp(asideMenu(h, &r.f), r.aside)
	}).Type(look.Small, false).Tall(22, 24)
	r.chart = look.NewButton(words.T("map"), look.Link, func() {
		if s, _ := h.Doc.Study(); r.pair(s) {
			h.ShowPair(s.PairNames(r.f.Pair))
		}
	}).Type(look.Small, false).Tall(22, 24)
	r.litres = look.NewButton(words.T("litres"), look.Link, func() {
		if name := r.tank(); name != "" {
			h.ShowTank(name)
		}
	}).Type(look.Small, false).Tall(22, 24)
	r.litres.Hide()
	r.ExtendBaseWidget(r)
	return r
}

// tank is the tank of a finding about one: what clearing it would cost is told in its panel. "" for any other.
func (r *findingRow) tank() string {
	s, _ := r.h.Doc.Study()
	if !r.pair(s) {
		return ""
	}
	a, b := s.PairNames(r.f.Pair)
	for _, e := range s.Tanks() {
		if e.Name == a || e.Name == b {
			return e.Name
		}
	}
	return ""
}

// asideMenu offers the ready reasons, and to type one.
func asideMenu(h *Host, f *study.Finding) *fyne.Menu {
	m := fyne.NewMenu("")
	for _, reason := range edit.ReadyReasons {
		m.Items = append(m.Items, fyne.NewMenuItem(study.Upper(words.T(reason)), func() { h.Tell(h.Doc.SetAside(f, words.T(reason))) }))
	}
	m.Items = append(m.Items, fyne.NewMenuItemSeparator(), fyne.NewMenuItem(words.T("Another reason..."), func() {
		h.Ask(words.T("Set aside"), words.T("Why"), "", func(reason string) error { return h.Doc.SetAside(f, reason) })
	}))
	return m
}

// pair reports whether the finding is of a pair of parts of a study.
func (r *findingRow) pair(s *study.Study) bool {
	return r.f.Pair >= 0 && s.Gaps != nil && r.f.Pair < len(s.Gaps.Pairs)
}

func (r *findingRow) set(f *study.Finding, live bool) {
	r.f, r.live = *f, live
	lead, phrase, role := f.Kind.String(), f.Sentence, ink.Text
	if f.Kind == study.Outside {
		lead = ""
	}
	if !live {
		lead, role = strings.TrimSpace("Was: "+study.Lower(lead)), ink.Second
		phrase += words.T(" Working out.")
	}
	r.aside.SetText(words.T("set aside"))
	r.mark.Show()
	r.mark.set(f.Kind)
	if f.SetAside != nil {
		phrase += words.F(" Set aside: %s.", f.SetAside.Reason)
		role = ink.Second
		r.aside.SetText(words.T("bring back"))
		r.mark.Hide()
	}
	tail := r.aside.MinSize().Width + look.Gap
	if look.Show(r.chart, f.Pair >= 0); f.Pair >= 0 {
		tail += r.chart.MinSize().Width + look.Gap
	}
	if look.Show(r.litres, r.tank() != ""); r.litres.Visible() {
		tail += r.litres.MinSize().Width + look.Gap
	}
	r.para.Tail(tail)
	r.para.Set(lead, phrase, role)
	r.Refresh()
}

// oneLine is the height of a row of one line: its words to press are apart from the next row's.
const oneLine = 32

func (r *findingRow) HeightFor(w float32) float32 {
	return max(r.para.HeightFor(w-24-look.Inset)+8, oneLine)
}

// Tapped goes there and takes the keys, so that what has them can be explained.
func (r *findingRow) Tapped(*fyne.PointEvent) {
	r.h.focus(r)
	if r.f.Place {
		r.h.GoThere(&r.f)
	}
}

// TappedSecondary explains the finding.
func (r *findingRow) TappedSecondary(*fyne.PointEvent) {
	r.h.focus(r)
	r.h.Run("explain")
}
func (r *findingRow) FocusGained()                   { r.focused = true; r.seen(); r.Refresh() }
func (r *findingRow) FocusLost()                     { r.focused = false; r.Refresh() }
func (r *findingRow) TypedRune(rune)                 {}
func (r *findingRow) MouseIn(*desktop.MouseEvent)    { r.hovered = true; r.Refresh() }
func (r *findingRow) MouseMoved(*desktop.MouseEvent) {}
func (r *findingRow) MouseOut()                      { r.hovered = false; r.Refresh() }
func (r *findingRow) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		r.Tapped(nil)
	default:
		look.HandOn(r, e)
	}
}

func (r *findingRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	return look.Made(r, &findingRenderer{r, &canvas.Rectangle{}})
}

type findingRenderer struct {
	r    *findingRow
	back *canvas.Rectangle
}

func (x *findingRenderer) Layout(s fyne.Size) {
	r := x.r
	x.back.FillColor, x.back.StrokeWidth = look.Clear, 0
	if r.hovered && r.f.Place {
		x.back.FillColor = look.Veil(ink.Press, 0x14)
	}
	if r.focused {
		x.back.StrokeColor, x.back.StrokeWidth = look.Color(ink.Press), 2
	}
	x.back.Move(fyne.NewPos(2, 0))
	x.back.Resize(fyne.NewSize(s.Width-4, s.Height))
	r.mark.Move(fyne.NewPos(6, 4))
	r.mark.Resize(fyne.NewSize(8, s.Height-8))
	w := s.Width - 24 - look.Inset
	top := float32(3)
	if s.Height <= oneLine {
		top = 5
	}
	r.para.Move(fyne.NewPos(24, top))
	r.para.Resize(fyne.NewSize(w, r.para.HeightFor(w)))
	m := r.aside.MinSize()
	r.aside.Move(fyne.NewPos(s.Width-look.Inset-m.Width, top+r.para.HeightFor(w)-look.Lead-3))
	r.aside.Resize(m)
	c := r.chart.MinSize()
	r.chart.Move(r.aside.Position().SubtractXY(c.Width+look.Gap, 0))
	r.chart.Resize(c)
	if r.litres.Visible() {
		l := r.litres.MinSize()
		r.litres.Move(r.chart.Position().SubtractXY(l.Width+look.Gap, 0))
		r.litres.Resize(l)
	}
}
func (x *findingRenderer) MinSize() fyne.Size { return fyne.NewSize(100, oneLine) }
func (x *findingRenderer) Refresh()           { x.Layout(x.r.Size()); canvas.Refresh(x.r) }
func (x *findingRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.back, x.r.mark, x.r.para, x.r.litres, x.r.chart, x.r.aside}
}
func (x *findingRenderer) Destroy() {}
