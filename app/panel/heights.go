package panel

import (
	"fmt"
	"image"
	"math"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/geometry/measure"
	"axleloft/plotting/chart"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// heights is every quantity at each height and load: a table, the chosen row as a chart beside it, and in words what a height changes.
type heights struct {
	h      *Host
	note   *look.Label
	table  *heightGrid
	scroll *container.Scroll
	plot   *plotted
	words  *fyne.Container
	read   *container.Scroll
	box    *fyne.Container
	said   string
	own    []float64            // the heights' own travels, without a load's
	cell   [2]fyne.CanvasObject // the two scrolls, calmed
}

func newHeights(h *Host) *heights {
	b := &heights{h: h, note: look.NewLabel("", look.Small, ink.Second, false).Shrinks(40)}
	b.table = newHeightGrid(func() { b.draw() })
	b.table.go_ = func(travel float64) { h.Doc.MoveAxle(travel, travel) }
	b.scroll = container.NewScroll(b.table)
	b.table.seen = func(y, tall float32) { b.show(y, tall) }
	b.plot = newPlotted(h)
	b.words = container.New(&look.Stack{Gap: 4, Inset: 4, Below: 6})
	b.read = container.NewVScroll(b.words)
	b.cell = [2]fyne.CanvasObject{look.Calm(b.scroll), look.Calm(b.read)}
	b.box = container.New(&heightsLayout{b}, b.cell[0], b.plot, b.cell[1])
	return b
}

// heightsLayout puts the table left as wide as it is, the chart right of it and the words under the chart.
type heightsLayout struct{ b *heights }

func (l *heightsLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(500, 160) }
func (l *heightsLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	least := max(250, s.Width*0.32) // of the chart
	w := l.b.table.whole(s.Width - least - look.Inset)
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(max(0, w), max(0, h)))
	}
	show(o[0], l.b.table.t != nil)
	if l.b.table.t == nil {
		put(o[1], look.Inset, 0, s.Width-2*look.Inset, s.Height-4)
		return
	}
	rows := float32(int((s.Height - 4 - gridHead) / gridRow))
	put(o[0], look.Inset, 0, w, min(gridHead+rows*gridRow+2, s.Height-4))
	x := look.Inset + w + look.Gap
	right := s.Width - x - look.Gap
	words := l.b.words.MinSize().Height
	tall := max(s.Height*0.6, min(s.Height, 156), s.Height-words-8)
	put(o[1], x, 0, right, tall-4)
	put(o[2], x, tall, right, wholeLines(l.b.words.Objects, right-8, s.Height-tall-4))
}

// wholeLines is how much of a height paragraphs 4 apart fill without cutting a line in two.
func wholeLines(list []fyne.CanvasObject, width, room float32) float32 {
	fit, at := room, float32(0)
	for _, o := range list {
		t, ok := o.(look.Tall)
		if !ok {
			continue
		}
		end := at + t.HeightFor(width)
		for y := at + look.Lead; y <= end; y += look.Lead {
			if y > room {
				return fit
			}
			fit = y
		}
		at = end + 4
	}
	return room
}

func (b *heights) object() fyne.CanvasObject { return b.box }
func (b *heights) head() fyne.CanvasObject   { return b.note }
func (b *heights) bare() bool                { return false }

// show scrolls till a row of the table can be seen.
func (b *heights) show(y, tall float32) {
	at := b.scroll.Offset
	switch {
	case y < at.Y:
		at.Y = y
	case y+tall > at.Y+b.scroll.Size().Height:
		at.Y = y + tall - b.scroll.Size().Height
	default:
		return
	}
	b.scroll.ScrollToOffset(at)
}

func (b *heights) update(document.Change) {
	d := b.h.Doc
	s, _ := d.Study()
	live := d.Freshness().Live
	t := s.HeightTable()
	b.table.set(t, d.Load(), d.Unit(), !live)
	note := "both wheels at each height and load; heavy figures are outside common practice (no rule, your call)"
	switch {
	case t == nil:
		note = "no figures yet"
	case !live:
		note = "working out; the figures are of the geometry before"
	case s.Mech != nil && s.Mech.FrontStill:
		note = "the front stays still; heavy figures are outside common practice (no rule, your call)"
	}
	b.note.SetText(note)
	var captions []string
	b.own = b.own[:0]
	if t != nil {
		for h := range t.Heights {
			b.own = append(b.own, t.Travel[h][0]-s.Loads[0].Heave)
		}
		captions = t.Captions
		if len(captions) == 0 {
			captions = []string{"No height changes the way the roll steer goes or leaves common practice."}
		}
	}
	if key := fmt.Sprint(live, captions); key != b.said {
		b.said = key
		role := ink.Text
		if !live {
			role = ink.Second
		}
		b.words.Objects = nil
		for _, c := range captions {
			b.words.Add(look.NewPara("", c, role))
		}
		b.words.Refresh()
	}
	b.box.Refresh()
	b.draw()
}

// draw has the chosen row drawn.
func (b *heights) draw() {
	d := b.h.Doc
	spec := heightSpec(b.table.row(), b.table.t, b.own, d.Load(), d.Unit(), b.table.stale)
	if s, _ := d.Study(); b.table.t == nil && s.Refusal != "" {
		spec.Why = s.Refusal
	}
	b.plot.set(spec, b.table.stale)
}

func (b *heights) lines() []string {
	var out []string
	g := b.table
	if g.t == nil {
		return nil
	}
	for i := range g.t.Rows {
		r := &g.t.Rows[i]
		line := rowTitle(r, g.unit)
		for h := range r.Cells {
			for l := range r.Cells[h] {
				line += " | " + cellWords(r, h, l, g.unit)
			}
		}
		out = append(out, line)
	}
	return append(out, g.t.Captions...)
}

func (b *heights) named(name string) fyne.CanvasObject {
	switch name {
	case "table":
		return b.table
	case "chart":
		return b.plot
	}
	return nil
}

// heightSpec is a row as a chart: a line for each load over the heights the driver can choose.
func heightSpec(r *study.HeightRow, t *study.HeightTable, own []float64, load int, unit string, stale bool) chart.Spec {
	if r == nil {
		return chart.Spec{Cursor: math.NaN(), Why: "There is nothing to draw."}
	}
	per, x := 1.0, 1.0
	out := chart.Spec{Title: r.Title, Unit: r.Unit, Up: r.Up, Down: r.Down, Cursor: math.NaN()}
	if unit == "in" {
		x = 1 / mmPerInch
		if r.Unit == "mm" {
			out.Unit, per = unit, x
		}
	}
	if stale {
		out.Title = "was: " + out.Title
	}
	out.XTitle = "height, " + unit + ": − raised, + lowered"
	order := heightOrder(own)
	for l, name := range t.Loads {
		c := chart.Curve{Name: name, Present: l == load}
		same := false
		for _, h := range order {
			c.X = append(c.X, own[h]*x)
			c.Y = append(c.Y, r.Cells[h][l].Value*per)
		}
		for i := range out.Curves { // loads that give the same are one line
			k := &out.Curves[i]
			if equal(k.Y, c.Y) {
				k.Name, k.Present, same = k.Name+", "+name, k.Present || c.Present, true
			}
		}
		if !same {
			out.Curves = append(out.Curves, c)
		}
	}
	if len(out.Curves) == 1 {
		out.Curves[0].Name, out.Curves[0].Present = "", true
	}
	for _, h := range order {
		out.Ticks = append(out.Ticks, chart.Tick{X: own[h] * x, Name: t.Heights[h]})
	}
	if lo, hi := r.BandLo, r.BandHi; !math.IsNaN(lo) || !math.IsNaN(hi) {
		b := chart.Band{Lo: lo * per, Hi: hi * per, Words: r.BandWords}
		if math.IsNaN(lo) {
			b.Lo = math.Inf(-1)
		}
		if math.IsNaN(hi) {
			b.Hi = math.Inf(1)
		}
		out.Bands = append(out.Bands, b)
	}
	return out
}

// heightOrder is the heights by their own travel, that of a load left out.
func heightOrder(own []float64) []int {
	var order []int
	for h := range own {
		i := len(order)
		for i > 0 && own[order[i-1]] > own[h] {
			i--
		}
		order = append(order[:i], append([]int{h}, order[i:]...)...)
	}
	return order
}

func equal(a, b []float64) bool {
	for i := range a {
		if !(math.Abs(a[i]-b[i]) < 1e-6 || math.IsNaN(a[i]) && math.IsNaN(b[i])) {
			return false
		}
	}
	return true
}

// shortTitles stand where a quantity's whole name is too long for the table.
var shortTitles = map[string]string{"shaftfront": "Shaft, front joint", "shaftbearing": "Shaft, bearing joint", "shaftrear": "Shaft, rear joint",
	"rollcentre": "Roll centre", "antilift": "Anti-lift"}

func rowTitle(r *study.HeightRow, unit string) string {
	title, u := r.Title, r.Unit
	if s, ok := shortTitles[r.Key]; ok {
		title = s
	}
	if u == "mm" {
		u = unit
	}
	u, _, _ = strings.Cut(u, " of ")
	return title + ", " + u
}

// sideWords are what + and - are called in a cell.
var sideWords = map[string][2]string{"pinion": {"up", "down"}, "rollsteer": {"over", "under"}, "sideshift": {"left", "right"}, "squareness": {"left", "right"}, "slip": {"out", "in"}}

// cellWords is a figure of the table.
func cellWords(r *study.HeightRow, h, l int, unit string) string {
	v := r.Cells[h][l].Value
	if math.IsNaN(v) {
		return "?"
	}
	side, sided := sideWords[r.Key]
	size := v
	if sided {
		size = math.Abs(v)
	}
	text := ""
	switch {
	case r.Unit == "mm" && unit == "in":
		text = fmt.Sprintf("%.2f", size/mmPerInch)
	case r.Unit == "mm" && (r.Key == "squareness" || r.Key == "gap" && math.Abs(size) < 10):
		text = fmt.Sprintf("%.1f", size)
	case r.Unit == "deg":
		text = fmt.Sprintf("%.1f", size)
	default:
		text = fmt.Sprintf("%.0f", size)
	}
	zero := strings.Trim(text, "-0.") == ""
	text = strings.TrimPrefix(text, "-")
	switch {
	case zero:
	case sided && v > 0:
		text += " " + side[0]
	case sided:
		text += " " + side[1]
	case v < 0:
		text = measure.Minus + text
	}
	return text
}

// heightGrid is the table: a row a quantity, a column each height and load. A press chooses a row; up and down do; a press on a height's name puts
// the axle there.
type heightGrid struct {
	widget.BaseWidget
	t       *study.HeightTable
	load    int
	unit    string
	stale   bool
	at      int
	chosen  func()
	go_     func(travel float64)
	seen    func(y, tall float32)
	pool    brush.Pool
	focused bool
}

var (
	_ fyne.Tappable      = (*heightGrid)(nil)
	_ fyne.Focusable     = (*heightGrid)(nil)
	_ desktop.Cursorable = (*heightGrid)(nil)
)

func newHeightGrid(chosen func()) *heightGrid {
	g := &heightGrid{chosen: chosen}
	g.ExtendBaseWidget(g)
	return g
}

func (g *heightGrid) set(t *study.HeightTable, load int, unit string, stale bool) {
	g.t, g.load, g.unit, g.stale = t, load, unit, stale
	if t != nil {
		g.at = min(g.at, max(0, len(t.Rows)-1))
	}
	g.Refresh()
}

// row is the chosen row; nil where there is none.
func (g *heightGrid) row() *study.HeightRow {
	if g.t == nil || g.at >= len(g.t.Rows) {
		return nil
	}
	return &g.t.Rows[g.at]
}

const (
	gridHead = 62 // height of the three heading lines
	gridRow  = 24
	gridCell = 12 // between two columns
)

// widths are those of the names and of one column.
func (g *heightGrid) widths() (name, column float32) {
	if g.t == nil {
		return 0, 0
	}
	for i := range g.t.Rows {
		r := &g.t.Rows[i]
		name = max(name, look.Width(rowTitle(r, g.unit), look.Small, true))
		for h := range r.Cells {
			for l := range r.Cells[h] {
				column = max(column, look.Width(cellWords(r, h, l, g.unit), look.Small, true))
			}
		}
	}
	for _, l := range g.t.Loads {
		column = max(column, look.Width(l, look.Small, true))
	}
	for h := range g.t.Heights {
		column = max(column, look.Width(g.t.Heights[h], look.Small, true)/float32(max(1, len(g.t.Loads))))
	}
	return name + 12, column + gridCell
}

func (g *heightGrid) MinSize() fyne.Size {
	if g.t == nil {
		return fyne.NewSize(100, gridHead)
	}
	name, column := g.widths()
	return fyne.NewSize(name+column*float32(len(g.t.Heights)*len(g.t.Loads))+8, gridHead+gridRow*float32(len(g.t.Rows))+2)
}

// whole is the width of as many heights as a room holds, and of the names.
func (g *heightGrid) whole(room float32) float32 {
	name, column := g.widths()
	all := g.MinSize().Width
	if all <= room || column == 0 {
		return min(all, room)
	}
	group := column * float32(max(1, len(g.t.Loads))) // all loads of a height
	return name + group*max(1, float32(int((room-name-4)/group))) + 4
}

// Tapped chooses the row pressed, or goes to the height whose heading was pressed.
func (g *heightGrid) Tapped(e *fyne.PointEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(g); c != nil {
		c.Focus(g)
	}
	if g.t == nil {
		return
	}
	if e.Position.Y < gridHead {
		name, column := g.widths()
		if i := int((e.Position.X - name) / column); e.Position.X > name && i < len(g.t.Heights)*len(g.t.Loads) {
			g.go_(g.t.Travel[i/len(g.t.Loads)][i%len(g.t.Loads)])
		}
		return
	}
	g.choose(int((e.Position.Y - gridHead) / gridRow))
}

func (g *heightGrid) choose(i int) {
	if g.t == nil || i < 0 || i >= len(g.t.Rows) {
		return
	}
	g.at = i
	g.Refresh()
	g.seen(gridHead+gridRow*float32(i), gridRow)
	g.chosen()
}

// Cursor is a hand: every row can be pressed.
func (g *heightGrid) Cursor() desktop.Cursor { return desktop.PointerCursor }
func (g *heightGrid) FocusGained()           { g.focused = true; g.Refresh() }
func (g *heightGrid) FocusLost()             { g.focused = false; g.Refresh() }
func (g *heightGrid) TypedRune(rune)         {}
func (g *heightGrid) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyUp:
		g.choose(g.at - 1)
	case fyne.KeyDown:
		g.choose(g.at + 1)
	default:
		look.HandOn(g, e)
	}
}

func (g *heightGrid) CreateRenderer() fyne.WidgetRenderer {
	g.ExtendBaseWidget(g)
	return &heightRenderer{g}
}

type heightRenderer struct{ g *heightGrid }

func (r *heightRenderer) Layout(fyne.Size)             { r.g.draw() }
func (r *heightRenderer) MinSize() fyne.Size           { return r.g.MinSize() }
func (r *heightRenderer) Refresh()                     { r.g.draw(); brush.Repaint(r.g) }
func (r *heightRenderer) Objects() []fyne.CanvasObject { return r.g.pool.Objects() }
func (r *heightRenderer) Destroy()                     {}

func (g *heightGrid) draw() {
	p := &g.pool
	p.Begin()
	size := g.Size()
	p.Rect(0, 0, size.Width, size.Height, 0, 0, nil, look.Color(ink.Ground))
	if g.t == nil {
		return
	}
	t := g.t
	text, second := look.Color(ink.Text), look.Color(ink.Second)
	if g.stale {
		text = second
	}
	plain, bold := brush.Type{Size: look.Small}, brush.Type{Size: look.Small, Bold: true}
	name, column := g.widths()
	right := func(s string, x, y float32, of brush.Type, pressed bool) {
		c := text
		if pressed {
			c = look.Color(ink.Press)
		}
		p.Text(s, x-brush.Measure(s, of).Width, y, of, c)
	}
	nl := len(t.Loads)
	end := name + column*float32(len(t.Heights)*nl)
	for h := range t.Heights {
		x0 := name + column*float32(h*nl)
		title := study.Upper(t.Heights[h])
		w := column * float32(nl)
		m := brush.Measure(title, bold)
		p.Text(title, x0+(w-m.Width)/2+gridCell/2, 2, bold, look.Color(ink.Press))
		if h > 0 {
			p.Line(x0+gridCell/4, 4, x0+gridCell/4, size.Height-2, 1, look.Color(ink.Rule))
		}
		for l := range t.Loads {
			x := x0 + column*float32(l+1)
			of := plain
			if l == g.load {
				of = bold
			}
			right(t.Loads[l], x, 21, of, false)
			travel := lengthSigned(t.Travel[h][l], g.unit)
			p.Text(travel, x-brush.Measure(travel, plain).Width, 40, plain, second)
		}
	}
	p.Text("Both wheels, "+g.unit, 6, 40, plain, second)
	p.Line(0, gridHead-1, end, gridHead-1, 1.5, look.Color(ink.Edge))
	for i := range t.Rows {
		r := &t.Rows[i]
		y := float32(gridHead + i*gridRow)
		if i == g.at {
			p.Rect(0, y, end+4, gridRow, 0, 0, nil, look.Veil(ink.Press, 0x24))
			p.Rect(0, y, 3, gridRow, 0, 0, nil, look.Color(ink.Press))
		}
		of := plain
		if i == g.at {
			of = bold
		}
		p.Text(rowTitle(r, g.unit), 6, y+2, of, text)
		for h := range r.Cells {
			for l := range r.Cells[h] {
				of := plain
				if r.Cells[h][l].Out {
					of = bold
				}
				right(cellWords(r, h, l, g.unit), name+column*float32(h*nl+l+1), y+2, of, false)
			}
		}
		if i > 0 {
			p.Line(0, y, end, y, 1, look.Color(ink.Rule))
		}
	}
	if g.focused {
		p.Rect(0, 0, size.Width, size.Height, 0, 2, look.Color(ink.Press), nil)
	}
}

// lengthSigned is a travel with its sign.
func lengthSigned(mm float64, unit string) string {
	text := fmt.Sprintf("%.0f", math.Abs(mm))
	if unit == "in" {
		text = fmt.Sprintf("%.1f", math.Abs(mm)/mmPerInch)
	}
	switch {
	case strings.Trim(text, "0.") == "":
		return "0"
	case mm < 0:
		return measure.Minus + text
	}
	return "+" + text
}

// plotted is a chart drawn into an image off the window's goroutine; the newest wins.
type plotted struct {
	widget.BaseWidget
	h      *Host
	raster *canvas.Raster
	spec   chart.Spec
	stale  bool
	img    *image.RGBA
	pixels [2]int
	busy   bool
	again  bool
}

func newPlotted(h *Host) *plotted {
	p := &plotted{h: h, spec: chart.Spec{Cursor: math.NaN()}}
	p.raster = canvas.NewRaster(p.picture)
	p.ExtendBaseWidget(p)
	return p
}

func (p *plotted) set(s chart.Spec, stale bool) {
	p.spec, p.stale = s, stale
	p.ask()
	p.Refresh()
}

func (p *plotted) ask() {
	if p.pixels[0] < 20 || p.pixels[1] < 20 || p.Size().Width <= 0 {
		return
	}
	if p.busy {
		p.again = true
		return
	}
	p.busy = true
	s, w, h, k, dark := p.spec, p.pixels[0], p.pixels[1], float64(p.pixels[0])/float64(p.Size().Width), look.Dark()
	go func() {
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		chart.Draw(img, s, dark, k)
		p.h.Post(func() {
			p.busy, p.img = false, img
			if p.again {
				p.again = false
				p.ask()
			}
			p.raster.Refresh()
		})
	}()
}

func (p *plotted) picture(w, h int) image.Image {
	if p.pixels != [2]int{w, h} {
		p.pixels = [2]int{w, h}
		p.h.Post(p.ask)
	}
	if p.img == nil {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	return p.img
}

func (p *plotted) CreateRenderer() fyne.WidgetRenderer {
	p.ExtendBaseWidget(p)
	return &plottedRenderer{p, &canvas.Rectangle{}, &canvas.Rectangle{}}
}

type plottedRenderer struct {
	p            *plotted
	ground, veil *canvas.Rectangle
}

func (r *plottedRenderer) Layout(s fyne.Size) {
	r.ground.FillColor = look.Color(ink.Ground)
	r.veil.FillColor, r.veil.Hidden = look.Veil(ink.Ground, 0x90), !r.p.stale
	for _, o := range []fyne.CanvasObject{r.ground, r.p.raster, r.veil} {
		o.Resize(s)
	}
}
func (r *plottedRenderer) MinSize() fyne.Size { return fyne.NewSize(160, 100) }
func (r *plottedRenderer) Refresh()           { r.Layout(r.p.Size()); canvas.Refresh(r.p) }
func (r *plottedRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.p.raster, r.veil}
}
func (r *plottedRenderer) Destroy() {}
