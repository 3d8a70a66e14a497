// Package sheet lays out what leaves the workshop on paper: blocks of words, tables, charts and drawings that flow over pages with one head and one foot.
//
// Lengths are units of 1/96 inch (paper.MM makes them of mm), y down. One grid: margins of 15 mm, words of 9.5 and 8.25 points, lines of 0.5, 0.25
// and 0.18 mm (ISO 128-2:2020 has 0.18, 0.25, 0.35, 0.5 in its row; from memory). All of it reads in black and white.
package sheet

import (
	"fmt"
	"image"
	"image/color"
	"io"
	"math"

	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// Head is what stands on every page.
type Head struct {
	Title  string   // "Bench sheet"
	Job    string   // the job's title
	Trial  string   // "" for the job as drawn
	Date   string   // 2026-11-26
	Units  string   // "lengths in mm, angles in deg"
	Sum    string   // checksum of the job file
	Inputs string   // "3 of 44 inputs are guesses"
	Sketch bool     // more guesses than measurements: the sheet is a sketch only
	Extra  []string // cautions of this sheet, after the one on every page
}

// Sheet is one reader's paper.
type Sheet struct {
	Head   Head
	Blocks []Block
}

// Block is something that flows: it puts itself on pages.
type Block interface{ flow(f *flow) }

// Widths of lines, units: 0.5, 0.25 and 0.18 mm.
var (
	Thick = paper.MM(0.5)
	Thin  = paper.MM(0.25)
	Hair  = paper.MM(0.18)
)

// Sizes of words, units (points times 4/3), and how far lines stand apart.
const (
	titleSize = 24.0
	headSize  = 16.0
	subSize   = 12.67
	bodySize  = 12.67
	smallSize = 11.0
	bodyLead  = 16.0
	smallLead = 13.5
)

// SketchOnly stands on a sheet of a job that is more guesses than measurements.
const SketchOnly = "SKETCH ONLY: more guesses than measurements"

// margins of a page, units.
var (
	side   = paper.MM(15)
	top    = paper.MM(11)
	bottom = paper.MM(10)
)

// Page is one page, ready to be drawn.
type Page struct {
	Size  paper.Size
	marks []func(*paper.Pen)
	head  *Head
	n, of int
	under []string
}

// flow is a sheet being laid out.
type flow struct {
	size  paper.Size
	head  *Head
	pages []*Page
	x, w  float64 // of the column
	y     float64 // where the next block begins
	y0    float64 // where a page's blocks begin and
	y1    float64 // where they end
	under []string
	with  float64 // height that a heading stays with
	after float64 // height of what must not stand alone after a block
}

// least is the height of the beginning of what follows a heading.
func least(f *flow, next []Block) float64 {
	const lines = 52.0
	if len(next) == 0 {
		return lines
	}
	switch b := next[0].(type) {
	case Heading:
		return 30 + least(f, next[1:])
	case Figures:
		return min(b.Tall+30, f.y1-f.y0-60)
	case Table:
		return 2 * lines
	}
	return lines
}

// Lay lays sheets out, one after the other, each from a page of its own; pages are counted within each sheet.
func Lay(size paper.Size, sheets ...Sheet) []*Page {
	var all []*Page
	for i := range sheets {
		all = append(all, lay(size, &sheets[i])...)
	}
	return all
}

func lay(size paper.Size, s *Sheet) []*Page {
	f := &flow{size: size, head: &s.Head, x: side, w: paper.MM(size.W) - 2*side}
	f.under = paper.Wrap(paper.Caution, smallSize, f.w)
	for _, e := range s.Head.Extra {
		f.under = append(f.under, paper.Wrap(e, smallSize, f.w)...)
	}
	f.y0 = top + f.headTall()
	f.y1 = paper.MM(size.H) - bottom - smallLead*float64(len(f.under)) - 8
	f.next()
	for i, b := range s.Blocks {
		if h, ok := b.(Heading); ok {
			f.with = least(f, s.Blocks[i+1:])
			h.flow(f)
			continue
		}
		f.after = 0
		if i+1 < len(s.Blocks) {
			if _, ok := s.Blocks[i+1].(Sign); ok {
				f.after = signTall
			}
		}
		b.flow(f)
	}
	for i, p := range f.pages {
		p.n, p.of = i+1, len(f.pages)
	}
	return f.pages
}

// next begins a page.
func (f *flow) next() {
	f.pages = append(f.pages, &Page{Size: f.size, head: f.head, under: f.under})
	f.y = f.y0
}

// room is the height left on the page.
func (f *flow) room() float64 { return f.y1 - f.y }

// fresh reports whether nothing is on the page yet.
func (f *flow) fresh() bool { return f.y == f.y0 }

// need begins a page where less than a height is left, unless this one is empty.
func (f *flow) need(h float64) {
	if f.room() < h && !f.fresh() {
		f.next()
	}
}

// put notes something to draw on this page, its upper left corner at the place the flow has come to, and goes on below it.
func (f *flow) put(h float64, draw func(p *paper.Pen, x, y float64)) {
	x, y := f.x, f.y
	page := f.pages[len(f.pages)-1]
	page.marks = append(page.marks, func(p *paper.Pen) { draw(p, x, y) })
	f.y += h
}

// skip leaves room, but not at the head of a page.
func (f *flow) skip(h float64) {
	if !f.fresh() {
		f.y += h
	}
}

func (f *flow) headTall() float64 { return 74 }

// Draw draws a page.
func (g *Page) Draw(p *paper.Pen) {
	w, h := paper.MM(g.Size.W), paper.MM(g.Size.H)
	text, second := ink.Color(ink.Text, false), ink.Color(ink.Second, false)
	d := g.head
	p.Words(text, fit(d.Title, titleSize, true, w-2*side-190), side, top-4, titleSize, true)
	right(p, text, fmt.Sprintf("page %d of %d", g.n, g.of), w-side, top+1, bodySize, false)
	if d.Sketch {
		const words = SketchOnly
		ww, _ := paper.Measure(words, smallSize, true)
		x0, y0 := w-side-ww-12, top+18
		p.Outline(text, Thick, [][2]float64{{x0, y0}, {w - side, y0}, {w - side, y0 + 18}, {x0, y0 + 18}}...)
		p.Words(text, words, x0+6, y0+2, smallSize, true)
	}
	trial := d.Trial
	if trial == "" {
		trial = "as drawn"
	}
	room := w - 2*side
	if d.Sketch {
		room -= 300
	}
	p.Words(text, fit(d.Job+", "+trial, bodySize, true, room), side, top+24, bodySize, true)
	p.Words(second, fit(join(d.Date, d.Units, d.Inputs, sum(d.Sum)), smallSize, false, w-2*side), side, top+42, smallSize, false)
	p.Line(text, Thick, nil, [2]float64{side, top + 60}, [2]float64{w - side, top + 60})
	y := h - bottom - smallLead*float64(len(g.under))
	p.Line(text, Thin, nil, [2]float64{side, y - 4}, [2]float64{w - side, y - 4})
	for i, l := range g.under {
		p.Words(second, l, side, y+smallLead*float64(i), smallSize, false)
	}
	for _, m := range g.marks {
		m(p)
	}
}

func sum(s string) string {
	if s == "" {
		return ""
	}
	return "job file " + s
}

// join puts parts that say something behind one another.
func join(parts ...string) string {
	out := ""
	for _, s := range parts {
		if s == "" {
			continue
		}
		if out != "" {
			out += "; "
		}
		out += s
	}
	return out
}

// fit is words cut, with an ellipsis, to a width.
func fit(words string, size float64, bold bool, width float64) string {
	if w, _ := paper.Measure(words, size, bold); w <= width {
		return words
	}
	r := []rune(words)
	for n := len(r) - 1; n > 0; n-- {
		s := string(r[:n]) + "…"
		if w, _ := paper.Measure(s, size, bold); w <= width {
			return s
		}
	}
	return "…"
}

// right draws words that end at x.
func right(p *paper.Pen, c color.Color, words string, x, y, size float64, bold bool) {
	w, _ := paper.Measure(words, size, bold)
	p.Words(c, words, x-w, y, size, bold)
}

// Write writes sheets as one PDF. All sheets are of one size of paper.
func Write(w io.Writer, size paper.Size, sheets ...Sheet) error {
	title := ""
	if len(sheets) > 0 {
		title = join(sheets[0].Head.Title, sheets[0].Head.Job)
	}
	b := paper.NewBook(size, title)
	var last *Head
	for _, g := range Lay(size, sheets...) {
		p := b.Next()
		if g.head != last {
			b.Mark(g.head.Title)
			last = g.head
		}
		g.Draw(p)
	}
	if b.Pages() == 0 {
		return fmt.Errorf("there is no page to write")
	}
	_, err := b.WriteTo(w)
	return err
}

// Image draws a page as a picture, pixels an inch as given.
func (g *Page) Image(dpi int) image.Image {
	w, h := vg.Length(g.Size.W)*vg.Millimeter, vg.Length(g.Size.H)*vg.Millimeter
	c := vgimg.NewWith(vgimg.UseWH(w, h), vgimg.UseDPI(max(24, dpi)), vgimg.UseBackgroundColor(color.White))
	g.Draw(paper.NewPen(c, h))
	return c.Image()
}

// N is which page of its sheet this is, and how many it has.
func (g *Page) N() (n, of int) { return g.n, g.of }

// Title is the title of the page's sheet.
func (g *Page) Title() string { return g.head.Title }

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
