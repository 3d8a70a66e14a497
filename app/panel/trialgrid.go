package panel

import (
	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// trialGrid is trials side by side: a column each, a row a figure. A press chooses a column; left and right do.
type trialGrid struct {
	widget.BaseWidget
	t       *study.Comparison
	at      int // the chosen column
	bench   int // that of what stands on the bench, -1 none
	stale   bool
	room    float32 // the width there is
	chosen  func()
	key     func(fyne.KeyName) bool // what else a key does in a list of trials
	seen    func(y, tall float32)
	across  func(x, wide float32)
	top     float32 // how far it is scrolled down: the names of the trials stay
	pool    brush.Pool
	focused bool

	name, column float32 // widths
	rows         []trialRow
}

// trialRow is a row as it is drawn.
type trialRow struct {
	title, where []string
	cells        []trialCell
	tall         float32
}

type trialCell struct {
	words, at, change []string
	heavy             bool
}

var (
	_ fyne.Tappable      = (*trialGrid)(nil)
	_ fyne.Focusable     = (*trialGrid)(nil)
	_ desktop.Cursorable = (*trialGrid)(nil)
)

func newTrialGrid(chosen func()) *trialGrid {
	g := &trialGrid{chosen: chosen, bench: -1}
	g.ExtendBaseWidget(g)
	return g
}

const (
	trialHead   = 44 // height of the names and what is said under them
	trialLine   = 18
	trialLeast  = 150 // width of a column
	trialMost   = 250
	trialNames  = 176 // width of the figures' names
	trialAround = 10  // between two columns
)

// set shows a comparison.
func (g *trialGrid) set(t *study.Comparison, at, bench int, stale bool) {
	g.t, g.at, g.bench, g.stale = t, at, bench, stale
	g.wrap()
	g.Refresh()
}

// fit takes a width to fill; it reports whether the rows were broken anew.
func (g *trialGrid) fit(room float32) bool {
	if room == g.room {
		return false
	}
	g.room = room
	g.wrap()
	return true
}

// wrap breaks the words of every cell to the width of its column.
func (g *trialGrid) wrap() {
	g.rows = nil
	if g.t == nil || len(g.t.Names) == 0 {
		return
	}
	g.name = trialNames
	g.column = min(trialMost, max(trialLeast, (g.room-g.name-6)/float32(len(g.t.Names))))
	lines := func(s string, w float32, bold bool) []string {
		if s == "" {
			return nil
		}
		return look.Wrap(s, look.Small, bold, w)
	}
	w := g.column - trialAround
	for i := range g.t.Rows {
		r := &g.t.Rows[i]
		row := trialRow{title: lines(r.Title, g.name-trialAround, true), where: lines(r.Where, g.name-trialAround, false)}
		most := len(row.title) + len(row.where)
		for _, c := range r.Cells {
			k := trialCell{heavy: c.Way != study.Neither, at: lines(c.At, w, false)}
			k.words, k.change = lines(c.Words, w, false), lines(c.Change, w, k.heavy)
			row.cells = append(row.cells, k)
			most = max(most, len(k.words)+len(k.at)+len(k.change))
		}
		row.tall = float32(most)*trialLine + 6
		g.rows = append(g.rows, row)
	}
}

func (g *trialGrid) MinSize() fyne.Size {
	if g.t == nil {
		return fyne.NewSize(100, trialHead)
	}
	tall := float32(trialHead)
	for i := range g.rows {
		tall += g.rows[i].tall
	}
	return fyne.NewSize(g.name+g.column*float32(len(g.t.Names))+4, tall+2)
}

// Tapped chooses the column pressed.
func (g *trialGrid) Tapped(e *fyne.PointEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(g); c != nil {
		c.Focus(g)
	}
	if g.t != nil && e.Position.X > g.name {
		g.choose(int((e.Position.X - g.name) / g.column))
	}
}

func (g *trialGrid) choose(i int) {
	if g.t == nil || i < 0 || i >= len(g.t.Names) {
		return
	}
	g.at = i
	g.Refresh()
	if g.across != nil {
		g.across(g.name+g.column*float32(i), g.column)
	}
	g.chosen()
}

// Cursor is a hand: every column can be pressed.
func (g *trialGrid) Cursor() desktop.Cursor { return desktop.PointerCursor }
func (g *trialGrid) FocusGained()           { g.focused = true; g.Refresh() }
func (g *trialGrid) FocusLost()             { g.focused = false; g.Refresh() }
func (g *trialGrid) TypedRune(rune)         {}
func (g *trialGrid) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyLeft:
		g.choose(g.at - 1)
	case fyne.KeyRight:
		g.choose(g.at + 1)
	case fyne.KeyUp:
		g.seen(g.top-3*trialLine, 1)
	case fyne.KeyDown:
		g.seen(g.top+g.Size().Height, 1) // as far as there is more: the scroll holds it
	default:
		if g.key == nil || !g.key(e.Name) {
			look.HandOn(g, e)
		}
	}
}

func (g *trialGrid) CreateRenderer() fyne.WidgetRenderer {
	g.ExtendBaseWidget(g)
	return &trialGridRenderer{g}
}

type trialGridRenderer struct{ g *trialGrid }

func (r *trialGridRenderer) Layout(fyne.Size)             { r.g.draw() }
func (r *trialGridRenderer) MinSize() fyne.Size           { return r.g.MinSize() }
func (r *trialGridRenderer) Refresh()                     { r.g.draw(); brush.Repaint(r.g) }
func (r *trialGridRenderer) Objects() []fyne.CanvasObject { return r.g.pool.Objects() }
func (r *trialGridRenderer) Destroy()                     {}

func (g *trialGrid) draw() {
	p := &g.pool
	p.Begin()
	size := g.Size()
	p.Rect(0, 0, size.Width, size.Height, 0, 0, nil, look.Color(ink.Ground))
	if g.focused {
		defer func() { p.Rect(0, g.top, size.Width, size.Height-g.top, 0, 2, look.Color(ink.Press), nil) }()
	}
	if g.t == nil {
		return
	}
	text, second := look.Color(ink.Text), look.Color(ink.Second)
	if g.stale {
		text = second
	}
	plain, bold := brush.Type{Size: look.Small}, brush.Type{Size: look.Small, Bold: true}
	end := g.name + g.column*float32(len(g.t.Names))
	x := g.name + g.column*float32(g.at)
	p.Rect(x, 0, g.column, size.Height, 0, 0, nil, look.Veil(ink.Press, 0x1c))
	y := float32(trialHead)
	for i := range g.rows {
		r := &g.rows[i]
		at := y + 3
		for _, l := range r.title {
			p.Text(l, 6, at, bold, text)
			at += trialLine
		}
		for _, l := range r.where {
			p.Text(l, 6, at, plain, second)
			at += trialLine
		}
		for k := range r.cells {
			c := &r.cells[k]
			x, at := g.name+g.column*float32(k)+trialAround/2, y+3
			put := func(list []string, of brush.Type, first bool) {
				for _, l := range list {
					col := second
					if first {
						col = text
					}
					p.Text(l, x, at, of, col)
					at += trialLine
				}
			}
			put(c.words, plain, true)
			put(c.at, plain, false)
			of := plain
			if c.heavy {
				of = bold
			}
			put(c.change, of, true)
		}
		if i > 0 {
			p.Line(0, y, end, y, 1, look.Color(ink.Rule))
		}
		y += r.tall
	}
	for k := range g.t.Names {
		x := g.name + g.column*float32(k)
		p.Line(x, g.top+4, x, size.Height-2, 1, look.Color(ink.Rule))
	}
	p.Rect(0, g.top, end, trialHead-1, 0, 0, nil, look.Color(ink.Ground)) // the names stay while the rows go by under them
	p.Rect(x, g.top, g.column, trialHead-1, 0, 0, nil, look.Veil(ink.Press, 0x1c))
	p.Rect(x, g.top, g.column, 3, 0, 0, nil, look.Color(ink.Press))
	for k, n := range g.t.Names {
		x := g.name + g.column*float32(k) + trialAround/2
		p.Text(look.Shorten(n, look.Small, true, g.column-trialAround), x, g.top+4, bold, look.Color(ink.Press))
		said := ""
		switch {
		case k == g.bench:
			said = words.T("on the bench now")
		case k > 0:
			said = words.T("against as drawn")
		}
		p.Text(said, x, g.top+22, plain, second)
	}
	load := g.t.Load
	p.Text(look.Shorten(load, look.Small, false, g.name-12), 6, g.top+22, plain, second)
	p.Line(0, g.top+trialHead-1, end, g.top+trialHead-1, 1.5, look.Color(ink.Edge))
}
