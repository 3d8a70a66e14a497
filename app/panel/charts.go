package panel

import (
	"image"
	"math"
	"slices"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/chart"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// charts are two charts of one's choice side by side.
type charts struct {
	h     *Host
	panes [2]*pane
	box   *fyne.Container
}

func newCharts(h *Host) *charts {
	c := &charts{h: h}
	c.box = &fyne.Container{Layout: &halves{}}
	for i := range c.panes {
		c.panes[i] = newPane(h, i)
		c.box.Objects = append(c.box.Objects, c.panes[i])
	}
	return c
}

func (c *charts) object() fyne.CanvasObject { return c.box }
func (c *charts) head() fyne.CanvasObject   { return nil }
func (c *charts) bare() bool                { return true }
func (c *charts) update(ch document.Change) {
	for _, p := range c.panes {
		p.update(ch)
	}
}

func (c *charts) lines() []string {
	var out []string
	for _, p := range c.panes {
		line := words.F("%s against %s", p.title.Text(), againstWords(c.h.Against[p.i]))
		for _, d := range p.dots {
			line += " | " + d.Words
		}
		out = append(out, line)
	}
	return out
}

func (c *charts) named(name string) fyne.CanvasObject {
	switch name {
	case "first":
		return c.panes[0]
	case "second":
		return c.panes[1]
	case "first title":
		return c.panes[0].title
	case "second title":
		return c.panes[1].title
	case "first against":
		return c.panes[0].against
	case "second against":
		return c.panes[1].against
	}
	return nil
}

// halves lays two panes out side by side.
type halves struct{}

func (halves) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(400, 160) }
func (halves) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := (s.Width - look.Gap) / 2
	for i, x := range o {
		x.Move(fyne.NewPos(float32(i)*(w+look.Gap), 0))
		x.Resize(fyne.NewSize(w, s.Height))
	}
}

// pane is one chart: drawn into an image off the window's goroutine, the present position as a line over it that moves at once.
// Dragging in it moves the axle along the chart's own line.
type pane struct {
	widget.BaseWidget
	h       *Host
	i       int
	title   *look.Button
	against *look.Button
	way     string // what the button against which is read says where it has room
	raster  *canvas.Raster
	pool    brush.Pool

	busy    bool
	asked   paneAsk // newest
	drawn   paneAsk // what img shows
	again   bool
	img     *image.RGBA
	axes    chart.Axes
	spec    chart.Spec
	dots    []chart.Dot
	stale   bool
	pixels  [2]int
	focused bool
}

// paneAsk is a chart and the image it is drawn into.
type paneAsk struct {
	chartAsk
	dark   bool
	weight float32
	w, h   int
	k      float64
}

var (
	_ fyne.Draggable     = (*pane)(nil)
	_ fyne.Tappable      = (*pane)(nil)
	_ fyne.Focusable     = (*pane)(nil)
	_ desktop.Cursorable = (*pane)(nil)
)

const paneHead = 42

func newPane(h *Host, i int) *pane {
	p := &pane{h: h, i: i}
	p.title = look.NewButton("", look.Plain, func() { look.PopUp(p.chartMenu(), p.title) }).Type(look.Body, true).Tall(32, look.Row).Caret(look.CaretDown).Padding(8)
	p.against = look.NewButton("", look.Outline, func() { look.PopUp(p.againstMenu(), p.against) }).Tall(30, look.Row).Caret(look.CaretDown)
	p.raster = canvas.NewRaster(p.picture)
	p.ExtendBaseWidget(p)
	return p
}

func (p *pane) key() string {
	keys := p.h.Doc.Charts()
	return keys[p.i%len(keys)]
}

// chartGroups gathers charts of one subject in the chooser; the rest stand by themselves.
var chartGroups = []struct {
	words string
	keys  []string
}{
	{words.Mark("Driveshaft"), []string{"joints", "slip", "fluctuation", "shaftacc"}},
	{words.Mark("Joints, and what is forced"), []string{"use", "stretch", "force"}},
	{words.Mark("Struts, lines, sensors"), []string{"struts", "lines", "sensors"}},
}

func (p *pane) chartMenu() *fyne.Menu {
	m := fyne.NewMenu("", fyne.NewMenuItem(words.T("Everything at each height and load"), func() { p.h.Toggle(HeightsDrawer) }), fyne.NewMenuItemSeparator())
	groups := map[string]*fyne.MenuItem{}
	for _, c := range study.Charts() {
		item := fyne.NewMenuItem(c.Title, func() {
			keys := append([]string{}, p.h.Doc.Charts()...)
			for len(keys) <= p.i {
				keys = append(keys, c.Key)
			}
			keys[p.i] = c.Key
			p.h.Doc.SetCharts(keys...)
		})
		item.Checked = c.Key == p.key()
		to := m
		for _, g := range chartGroups {
			if !slices.Contains(g.keys, c.Key) {
				continue
			}
			if groups[g.words] == nil {
				groups[g.words] = fyne.NewMenuItem(words.T(g.words), nil)
				groups[g.words].ChildMenu = fyne.NewMenu("")
				m.Items = append(m.Items, groups[g.words])
			}
			to = groups[g.words].ChildMenu
		}
		to.Items = append(to.Items, item)
	}
	return m
}

func (p *pane) againstMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	for _, a := range study.Against {
		item := fyne.NewMenuItem(words.T(a[1]), func() {
			p.h.Against[p.i] = a[0]
			p.update(document.ShownChanged)
		})
		item.Checked = a[0] == p.h.Against[p.i]
		m.Items = append(m.Items, item)
	}
	each := fyne.NewMenuItem(words.T("A line for each height"), func() {
		p.h.ByHeight[p.i] = !p.h.ByHeight[p.i]
		p.update(document.ShownChanged)
	})
	each.Checked = p.h.ByHeight[p.i]
	each.Disabled = p.h.Against[p.i] == "both" || !chartOf(p.key()).ByHeight
	m.Items = append(m.Items, fyne.NewMenuItemSeparator(), each)
	return m
}

// update asks for a new drawing where anything but the position changed, and moves the cursor.
func (p *pane) update(document.Change) {
	c := chartOf(p.key())
	phrase := c.Title
	if unit := c.Unit; unit != "" {
		if unit == "mm" {
			unit = p.h.Doc.Unit()
		}
		phrase += ", " + unit
	}
	if still := frontStill(p.h.Doc.Now(), p.key()); still != "" {
		phrase += ", " + still
	}
	p.stale = !p.h.Doc.Freshness().Live
	if p.stale {
		phrase = words.F("was: %s", phrase)
	}
	p.title.SetText(phrase)
	against := words.F("against: %s", againstWords(p.h.Against[p.i]))
	if byHeight(p.h, p.key(), p.i) {
		against = words.F("each height: %s", againstWords(p.h.Against[p.i]))
	}
	p.way = against
	p.ask()
	p.Refresh()
}

// ask has the chart drawn where what it shows has changed: one drawing at a time, the newest wins.
func (p *pane) ask() {
	if p.pixels[0] < 20 || p.pixels[1] < 20 || p.Size().Width <= 0 {
		return
	}
	a := paneAsk{chartAsk: askChart(p.h, p.key(), p.i), dark: look.Dark(), weight: look.Weight(), w: p.pixels[0], h: p.pixels[1], k: float64(p.pixels[0]) / float64(p.Size().Width)}
	if a == p.asked {
		return
	}
	p.asked = a
	if p.busy {
		p.again = true
		return
	}
	p.busy = true
	go p.work(a)
}

func (p *pane) work(a paneAsk) {
	s := a.spec()
	s.Title, s.Heavy = "", float64(a.weight)
	img := image.NewRGBA(image.Rect(0, 0, a.w, a.h))
	axes := chart.Draw(img, s, a.dark, a.k)
	p.h.Post(func() {
		p.busy = false
		p.img, p.axes, p.spec, p.drawn = img, axes, s, a
		if p.again {
			p.again, p.busy = false, true
			go p.work(p.asked)
		}
		p.raster.Refresh()
		p.Refresh()
	})
}

// picture gives the raster its image; a new size asks for a new drawing.
func (p *pane) picture(w, h int) image.Image {
	if p.pixels != [2]int{w, h} {
		p.pixels = [2]int{w, h}
		p.h.Post(p.ask)
	}
	if p.img == nil {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	return p.img
}

// Tapped moves the axle to the travel pressed.
func (p *pane) Tapped(e *fyne.PointEvent) {
	p.h.focus(p) // the arrows go on from there
	p.moveTo(e.Position)
}

// Dragged moves the axle along.
func (p *pane) Dragged(e *fyne.DragEvent) { p.moveTo(e.Position) }

// DragEnd is the toolkit's.
func (p *pane) DragEnd() {}

// Cursor is the toolkit's.
func (p *pane) Cursor() desktop.Cursor { return desktop.CrosshairCursor }

func (p *pane) moveTo(at fyne.Position) {
	if p.axes.Empty || p.img == nil {
		return
	}
	p.move(p.axes.X(float64(at.X)) * p.perUnit())
}

func (p *pane) perUnit() float64 {
	if p.h.Doc.Unit() == "in" {
		return mmPerInch
	}
	return 1
}

// move puts the axle at a travel of the chart's own line, mm.
func (p *pane) move(x float64) {
	switch p.h.Against[p.i] {
	case "crossed":
		p.h.Doc.MoveAxle(x, -x)
	case "left":
		p.h.Doc.MoveAxle(x, 0)
	case "right":
		p.h.Doc.MoveAxle(0, x)
	default:
		p.h.Doc.MoveAxle(x, x)
	}
}

// FocusGained is the toolkit's.
func (p *pane) FocusGained() { p.focused = true; p.Refresh() }

// FocusLost is the toolkit's.
func (p *pane) FocusLost() { p.focused = false; p.Refresh() }

// TypedRune does nothing.
func (p *pane) TypedRune(rune) {}

// TypedKey moves the axle by left and right, 1 mm.
func (p *pane) TypedKey(e *fyne.KeyEvent) {
	pos := p.h.Doc.Position()
	if pos == nil || pos.Err != "" {
		look.HandOn(p, e)
		return
	}
	x := study.Travel(p.h.Against[p.i], pos.Pose.Left, pos.Pose.Right)
	switch e.Name {
	case fyne.KeyLeft:
		p.move(x - 1)
	case fyne.KeyRight:
		p.move(x + 1)
	default:
		look.HandOn(p, e)
	}
}

// CreateRenderer is the toolkit's.
func (p *pane) CreateRenderer() fyne.WidgetRenderer {
	p.ExtendBaseWidget(p)
	r := &paneRenderer{p: p, ground: &canvas.Rectangle{}, veil: &canvas.Rectangle{}, ring: &canvas.Rectangle{StrokeWidth: 2}}
	return r
}

type paneRenderer struct {
	p                  *pane
	ground, veil, ring *canvas.Rectangle
	taken              []brush.Box // places that numbers keep off
}

func (r *paneRenderer) Layout(s fyne.Size) {
	p := r.p
	r.ground.FillColor = look.Color(ink.Ground)
	r.ground.Resize(s)
	r.ring.FillColor, r.ring.StrokeColor, r.ring.Hidden = look.Clear, look.Color(ink.Press), !p.focused
	r.ring.Resize(s)
	for _, way := range [...]string{p.way, againstWords(p.h.Against[p.i])} { // a narrow chart has room for the words alone
		p.against.SetText(way)
		if p.title.MinSize().Width+p.against.MinSize().Width+20 <= s.Width {
			break
		}
	}
	m := p.against.MinSize()
	p.against.Move(fyne.NewPos(s.Width-8-m.Width, 1))
	p.against.Resize(m)
	t := p.title.MinSize()
	t.Width = min(t.Width, s.Width-m.Width-20)
	p.title.Move(fyne.NewPos(4, 1))
	p.title.Resize(t)
	p.raster.Move(fyne.NewPos(0, paneHead))
	p.raster.Resize(fyne.NewSize(s.Width, max(0, s.Height-paneHead)))
	r.veil.Move(fyne.NewPos(0, paneHead))
	r.veil.Resize(fyne.NewSize(s.Width, max(0, s.Height-paneHead)))
	r.veil.FillColor, r.veil.Hidden = look.Veil(ink.Ground, 0x90), !p.stale
	r.cursor()
}

// cursor draws the present position: a line, and a dot with its value on every curve.
func (r *paneRenderer) cursor() {
	p := r.p
	p.pool.Begin()
	p.dots = nil
	pos := p.h.Doc.Position()
	against := p.h.Against[p.i]
	if p.img == nil || p.axes.Empty || pos == nil || pos.Err != "" || p.stale || !study.OnLine(against, &pos.Pose) || p.drawn.chartAsk != p.asked.chartAsk {
		return
	}
	x := study.Travel(against, pos.Pose.Left, pos.Pose.Right) / p.perUnit()
	blue, ground := look.Color(ink.Press), look.Color(ink.Ground)
	px, _ := p.axes.At(x, p.axes.YMin)
	if px < p.axes.X0-1 || px > p.axes.X1+1 {
		return
	}
	p.pool.Line(float32(px), float32(p.axes.Y0)+paneHead, float32(px), float32(p.axes.Y1)+paneHead, 1.5, blue)
	p.dots = p.spec.Dots(x)
	value := brush.Type{Size: look.Small, Bold: true}
	phrase := look.Color(ink.Press)
	if look.Dark() {
		phrase = look.Color(ink.Text)
	}
	taken := r.taken[:0]
	for _, w := range p.axes.Words {
		taken = append(taken, brush.Box{X0: w[0], Y0: w[1] + paneHead, X1: w[2], Y1: w[3] + paneHead})
	}
	for _, d := range p.dots {
		if !p.spec.Curves[d.Curve].Pencil {
			_, cy := p.axes.At(d.X, d.Y)
			taken = append(taken, brush.Box{X0: px - 4.5, Y0: cy + paneHead - 4.5, X1: px + 4.5, Y1: cy + paneHead + 4.5})
		}
	}
	for i, d := range p.dots {
		if p.spec.Curves[d.Curve].Pencil {
			continue
		}
		cx, cy := p.axes.At(d.X, d.Y)
		if slices.ContainsFunc(p.dots[:i], func(o chart.Dot) bool {
			_, oy := p.axes.At(o.X, o.Y)
			return o.Words == d.Words && !p.spec.Curves[o.Curve].Pencil && math.Abs(oy-cy) < 4.5
		}) {
			continue // two curves meet: one number says it
		}
		p.pool.Circle(float32(cx), float32(cy)+paneHead, 4.5, 1.5, ground, blue)
		b := r.beside(cx, cy+paneHead, brush.Measure(d.Words, value), taken)
		taken = append(taken, b)
		p.pool.Plate(d.Words, float32(b.X0)+4, float32(b.Y0), value, phrase, ground)
	}
	r.taken = taken
}

// beside is where a number stands beside its dot: within the curves' room, off words and other numbers as far as there is a place.
func (r *paneRenderer) beside(x, y float64, size fyne.Size, taken []brush.Box) brush.Box {
	a := &r.p.axes
	w, h := float64(size.Width)+8, float64(size.Height)
	least, best := math.Inf(1), brush.Box{}
	for k := range 14 {
		dy := 3 + float64(k/2)*h/2
		if k%2 == 1 {
			dy = -dy - h
		}
		for side, x0 := range []float64{x + 6, x - 6 - w} {
			b := brush.Box{X0: x0, Y0: y + dy, X1: x0 + w, Y1: y + dy + h}
			cost := float64(k) + 0.5*float64(side)
			if b.X0 < a.X0 || b.X1 > a.X1 || b.Y0 < a.Y0+paneHead-4 || b.Y1 > a.Y1+paneHead {
				cost += 1000
			}
			for _, t := range taken {
				if b.X0 < t.X1 && t.X0 < b.X1 && b.Y0 < t.Y1 && t.Y0 < b.Y1 {
					cost += 100
				}
			}
			if cost < least {
				least, best = cost, b
			}
		}
	}
	return best
}

func (r *paneRenderer) MinSize() fyne.Size { return fyne.NewSize(200, 140) }
func (r *paneRenderer) Refresh() {
	r.Layout(r.p.Size())
	canvas.Refresh(r.p)
}
func (r *paneRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.ground, r.p.raster, r.veil}
	out = append(out, r.p.pool.Objects()...)
	return append(out, r.p.title, r.p.against, r.ring)
}
func (r *paneRenderer) Destroy() {}
