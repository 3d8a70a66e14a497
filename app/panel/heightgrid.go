package panel

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

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
	cell    func(row, height, load int) // a figure was pressed; nil: only rows are chosen
	col     int                         // of the figure chosen, where figures can be
	across  func(x, wide float32)       // brings a column into view
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
	was := g.row()
	g.t, g.load, g.unit, g.stale = t, load, unit, stale
	if t != nil {
		g.at = min(g.at, max(0, len(t.Rows)-1))
		if was != nil && len(t.Rows) > 0 && t.Rows[g.at].Title != was.Title { // rows came or went: the chosen one stays chosen
			if i := slices.IndexFunc(t.Rows, func(r study.HeightRow) bool { return r.Title == was.Title }); i >= 0 {
				g.at = i
			}
		}
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
			if to := g.t.Travel[i/len(g.t.Loads)][i%len(g.t.Loads)]; !math.IsNaN(to) {
				g.go_(to)
			}
		}
		return
	}
	if g.cell != nil {
		name, column := g.widths()
		if i := int((e.Position.X - name) / column); e.Position.X > name && i < g.columns() {
			g.col = i
		}
	}
	g.choose(int((e.Position.Y - gridHead) / gridRow))
	g.press()
}

// columns is how many there are.
func (g *heightGrid) columns() int { return len(g.t.Heights) * len(g.t.Loads) }

// press hands on that the chosen figure was pressed.
func (g *heightGrid) press() {
	if g.cell != nil && g.row() != nil && g.columns() > 0 {
		g.col = min(g.col, g.columns()-1)
		g.cell(g.at, g.col/len(g.t.Loads), g.col%len(g.t.Loads))
	}
}

// aim chooses another column.
func (g *heightGrid) aim(by int) {
	if g.t != nil && g.columns() > 0 {
		g.col = max(0, min(g.columns()-1, g.col+by))
		g.Refresh()
		name, column := g.widths()
		if g.across != nil {
			g.across(name+column*float32(g.col), column)
		}
		g.chosen()
	}
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
	case fyne.KeyLeft, fyne.KeyRight:
		if g.cell == nil {
			look.HandOn(g, e)
			return
		}
		g.aim(map[fyne.KeyName]int{fyne.KeyLeft: -1, fyne.KeyRight: 1}[e.Name])
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		if g.cell == nil {
			look.HandOn(g, e)
			return
		}
		g.press()
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
			travel := ""
			if !math.IsNaN(t.Travel[h][l]) {
				travel = lengthSigned(t.Travel[h][l], g.unit)
			}
			p.Text(travel, x-brush.Measure(travel, plain).Width, 40, plain, second)
		}
	}
	p.Text(words.F("Both wheels, %s", g.unit), 6, 40, plain, second)
	p.Line(0, gridHead-1, end, gridHead-1, 1.5, look.Color(ink.Edge))
	for i := range t.Rows {
		r := &t.Rows[i]
		y := float32(gridHead + i*gridRow)
		if i == g.at {
			p.Rect(0, y, end+4, gridRow, 0, 0, nil, look.Veil(ink.Press, 0x24))
			p.Rect(0, y, 3, gridRow, 0, 0, nil, look.Color(ink.Press))
			if g.cell != nil {
				x := name + column*float32(g.col)
				p.Rect(x+gridCell/2, y+1, column-2, gridRow-2, 2, 1.5, look.Color(ink.Press), nil)
			}
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
