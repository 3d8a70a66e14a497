package sheets

import (
	"fmt"
	"io"
	"math"
	"strings"

	"axleloft/app/edit"
	"axleloft/geometry/job"
	"axleloft/geometry/plate"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

// Printer is what the two 100 mm bars of a test print measured, mm: across and up the page. The zero value is a printer that is true.
type Printer struct{ Across, Up float64 }

// factors are what lengths are drawn with so that they come out true.
func (p Printer) factors() (x, y float64) {
	x, y = 1, 1
	if p.Across > 0 {
		x = scaleLong / p.Across
	}
	if p.Up > 0 {
		y = scaleLong / p.Up
	}
	return x, y
}

// MostOff is how far a 100 mm bar may be off for a printer to be corrected, mm: more is a page fitted to the paper.
const MostOff = 5.0

// CheckBar refuses what a 100 mm bar cannot have measured on a page printed at 100 %, mm. The error is a plain sentence.
func CheckBar(mm float64) error {
	if !(math.Abs(mm-scaleLong) <= MostOff) {
		return fmt.Errorf("a 100 mm bar that measures %.1f mm is a page fitted to its paper. Print it at 100 %% and measure again", mm)
	}
	return nil
}

// Template is a bracket full size on paper, to cut out or to pierce through.
type Template struct {
	in      *Input
	name    string // of the pivot
	bracket *job.Bracket
	plates  []plate.Plate
	twin    bool // the other side has the same bracket, mirrored
	printer Printer
}

// NewTemplate is the template of a pivot's bracket; the pivot goes by the name it has on screen. The error is a plain sentence.
func NewTemplate(in *Input, pivot string, printer Printer) (*Template, error) {
	j := in.Study.Job
	_, of := edit.Named(j)
	p, ok := of[pivot]
	if !ok {
		return nil, fmt.Errorf("no pivot is called %q", pivot)
	}
	b := edit.BracketOf(j, p)
	if b == nil {
		return nil, fmt.Errorf("%s has no bracket in this job. Give it one under \"brackets\": of, end, kind (tab, pair or saddle), thickness, hole, edge, base%s", pivot, otherBrackets(j))
	}
	for _, v := range []float64{printer.Across, printer.Up} {
		if v == 0 {
			continue
		}
		if err := CheckBar(v); err != nil {
			return nil, err
		}
	}
	list, err := plate.Of(b)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", pivot, err)
	}
	return &Template{in: in, name: pivot, bracket: b, plates: list, twin: edit.Paired(j, p), printer: printer}, nil
}

// otherBrackets says which brackets a job has, and which of them no pivot goes by: "" where it has none.
func otherBrackets(j *job.Job) string {
	var has []string
	held := map[*job.Bracket]bool{}
	for _, p := range edit.Bracketed(j) {
		p.Side = job.Single
		has, held[edit.BracketOf(j, p)] = append(has, edit.Name(j, p)), true
	}
	out := ""
	if len(has) > 0 {
		out = ". There are brackets for " + strings.Join(has, "; ")
	}
	for i := range j.Brackets {
		if b := &j.Brackets[i]; !held[b] {
			out += fmt.Sprintf(". That for %q, %q is of no pivot: correct its of or end", b.Of, b.End)
		}
	}
	return out
}

var kindWords = map[string]string{"tab": "Flat tab", "pair": "Pair of plates, the bolt in double shear", "saddle": "Saddle over a rail, two plates on it"}

// pieces says how many of a plate are cut.
func (t *Template) pieces(p *plate.Plate) string {
	switch {
	case t.twin && p.Handed:
		return fmt.Sprintf("cut %d, for the two sides: %d of them go in turned over", 2*p.Count, p.Count)
	case t.twin:
		return fmt.Sprintf("cut %d, for the two sides", 2*p.Count)
	}
	return fmt.Sprintf("cut %d", p.Count)
}

func (t *Template) head() sheet.Head {
	h := t.in.head("Template, full size: " + t.name) // pages get apart
	printing := "Print at 100 %, without fitting it to the page, and check both 100 mm bars and the diagonal with a rule before anything is cut."
	if x, y := t.printer.factors(); x != 1 || y != 1 {
		printing = fmt.Sprintf("Drawn %.4f times across and %.4f times up, for one printer only. Print at 100 %%; check both bars and the diagonal before cutting.", x, y)
	}
	h.Extra = []string{printing, "No strength is worked out here: plate, welds and bolts are for those who answer for them."}
	return h
}

// facts are what a bracket is, in words.
func (t *Template) facts() []sheet.Block {
	b, mm := t.bracket, func(v float64) string { return t.in.mm(v) + " " + t.in.unit() }
	list := []sheet.Fact{{Name: "Pivot", Value: t.name}, {Name: "Bracket", Value: kindWords[b.Kind]}, {Name: "Plates", Value: strings.TrimSpace(mm(b.Thickness) + " " + b.Steel)},
		{Name: "Hole for the bolt", Value: mm(b.Hole)}, {Name: "Edge from its centre", Value: fmt.Sprintf("%s, %.2f holes", mm(b.Edge), b.Edge/b.Hole)}, {Name: "Mounting face from it", Value: mm(b.Base)}}
	if b.Gap != nil {
		list = append(list, sheet.Fact{Name: "Clear between plates", Value: mm(*b.Gap)})
	}
	if b.Rail != nil {
		list = append(list, sheet.Fact{Name: "Rail", Value: fmt.Sprintf("%s wide, legs %s", mm(b.Rail.Width), mm(b.Rail.Leg))})
	}
	out := []sheet.Block{sheet.Facts{Facts: list}}
	var pts sheet.Points
	for i := range t.plates {
		p := &t.plates[i]
		pts = append(pts, fmt.Sprintf("%s, %s thick: %s.", p.Name, mm(p.Thickness), t.pieces(p)))
		pts = append(pts, p.Notes...)
	}
	if near := nearEdges(b); near != "" {
		pts = append(pts, near+" EN 1993-1-8, table 3.3, has 1.2 at least for bolts in plates (from memory; a guide to hole spacing, no proof of strength).")
	}
	out = append(out, pts)
	words := "For a printer that is true; if a bar is off, say what both measure (in the preview, or by --printer-x and --printer-y) and print again."
	if x, y := t.printer.factors(); x != 1 || y != 1 {
		words = fmt.Sprintf("Corrected for a printer whose 100 mm bars measured %.2f across and %.2f up: drawn %.4f times across and %.4f times up. Only for that printer and that way of the paper.",
			scaleLong/x, scaleLong/y, x, y)
	}
	return append(out, sheet.Para{Lead: "Printing.", Words: words})
}

// nearEdges says which holes lie nearer to an edge than 1.2 of their diameters, "" where none does. Where the plate is welded to what it stands on, the
// mounting face is no edge of the plate; it counts all the same, for the weld is there.
func nearEdges(b *job.Bracket) string {
	var list []string
	look := func(what string, mm, hole float64) {
		if mm < 1.2*hole {
			list = append(list, fmt.Sprintf("%s %.2f", what, mm/hole))
		}
	}
	look("the round end", b.Edge, b.Hole)
	look("the mounting face", b.Base, b.Hole)
	if n := b.Pattern; n != nil {
		if b.Kind == "saddle" {
			look("the row from the leg's edge", n.In, n.Hole)
		} else {
			look("the row to the edge past it", n.EdgeOrUsual(), n.Hole)
		}
		wide := b.WidthOrUsual()
		if b.Rail != nil {
			wide = b.Along()
		}
		look("the row to the sides", (wide-n.Span())/2, n.Hole)
	}
	if len(list) == 0 {
		return ""
	}
	return "From a hole's centre to the edge, in diameters of the hole: " + strings.Join(list, ", ") + "."
}

// check is the figure a print is checked by: two bars at right angles and the line between their ends.
func (t *Template) check() sheet.Figures {
	d := &cutting{}
	l := scaleLong
	d.bars(0, 0)
	d.line("", sheet.Hair, dashDot, [2]float64{0, l}, [2]float64{l, 0})
	d.word("", l/2, -4, fmt.Sprintf("%.0f mm", l))
	d.word("", 14, l/2+8, fmt.Sprintf("%.0f mm", l))
	d.word("", l/2+18, l/2+4, fmt.Sprintf("diagonal %.1f mm", l*math.Sqrt2))
	return t.figure(d, -8, -8, l+8, l+6, "Measure both bars and the diagonal: 100.0, 100.0 and 141.4 mm.")
}

// bars draws two bars of 100 mm at right angles from a corner, a tick every 10 mm.
func (d *cutting) bars(x, y float64) {
	l := scaleLong
	d.line("", sheet.Thin, nil, [2]float64{x, y + l}, [2]float64{x, y}, [2]float64{x + l, y})
	for i := range 11 {
		at, tick := l*float64(i)/10, 2.0
		if i%5 == 0 {
			tick = 3.5
		}
		d.line("", sheet.Thin, nil, [2]float64{x + at, y}, [2]float64{x + at, y + tick})
		d.line("", sheet.Thin, nil, [2]float64{x, y + at}, [2]float64{x + tick, y + at})
	}
}

// Bars on a page of a plate stand in its margin, beside and under the drawing.
const (
	barBeside = 8.0 // left of the drawing, mm
	barRoom   = 9.0 // under it, mm
)

// barred is figure with both bars beside and under it, so that every page can be checked by itself.
func (t *Template) barred(d *cutting, x0, y0, x1, y1 float64, caption string) sheet.Figures {
	_, ky := t.printer.factors()
	f := t.figure(d, x0, y0, x1, y1, caption)
	drawn := math.Max(f.Tall, paper.MM(scaleLong*ky)) // the drawing begins at the top, the bar up ends there at the highest
	f.Tall = drawn + paper.MM(barRoom)
	draw := f.Figures[0].Draw
	f.Figures[0].Draw = func(p *paper.Pen, box paper.Room) {
		draw(p, box)
		kx, ky := t.printer.factors()
		b := &cutting{}
		b.bars(0, 0)
		b.draw(p, box.X0-paper.MM(barBeside), box.Y0+drawn+paper.MM(barRoom-5)-paper.MM(scaleLong*ky), 0, 0, scaleLong, scaleLong, kx, ky)
		p.Words(ink.Color(ink.Second, false), fmt.Sprintf("both %.0f mm", scaleLong), box.X0-paper.MM(barBeside)+paper.MM(scaleLong*kx)+4, box.Y0+drawn+paper.MM(barRoom-7.5), 8.25, false)
	}
	return f
}

// figure draws part of a flat drawing, full size.
func (t *Template) figure(d *cutting, x0, y0, x1, y1 float64, caption string) sheet.Figures {
	kx, ky := t.printer.factors()
	return sheet.Figures{Tall: paper.MM((y1 - y0) * ky), Figures: []sheet.Figure{{Caption: caption, Draw: func(p *paper.Pen, box paper.Room) {
		d.draw(p, box.X0, box.Y0, x0, y0, x1, y1, kx, ky)
	}}}}
}

// overlap is how much of a drawing two pages next to each other both show, mm.
const overlap = 12.0

// Sheet is a template on pages of a size: what it is and how to check it, then each plate, on as many pages as it takes.
func (t *Template) Sheet(size paper.Size) sheet.Sheet {
	s := sheet.Sheet{Head: t.head(), Blocks: t.facts()}
	s.Blocks = append(s.Blocks, t.check())
	kx, ky := t.printer.factors()
	wide, tall := (size.W-frameWide)/kx, (size.H-frameTall-14-barRoom)/ky // mm of the drawing that a page holds
	for i := range t.plates {
		d, x0, y0, x1, y1 := t.plate(&t.plates[i])
		title := fmt.Sprintf("%s: %s", t.plates[i].Name, t.pieces(&t.plates[i]))
		nx, ny := tiles(x1-x0, wide), tiles(y1-y0, tall)
		if nx*ny == 1 {
			s.Blocks = append(s.Blocks, sheet.Break{}, t.barred(d, x0, y0, x1, y1, title+". Full size."))
			continue
		}
		for r := range ny { // rows from the top, as they are laid
			for c := range nx {
				ax := x0 + float64(c)*(wide-overlap)
				by := y1 - float64(r)*(tall-overlap)
				bx, ay := math.Min(ax+wide, x1), math.Max(by-tall, y0)
				e := d.joins(ax, ay, bx, by, c > 0, c < nx-1, r > 0, r < ny-1)
				s.Blocks = append(s.Blocks, sheet.Break{}, t.barred(e, ax, ay, bx, by, fmt.Sprintf("%s. Full size: row %d of %d, column %d of %d. Lay the crosses of neighbouring pages on each other.", title, r+1, ny, c+1, nx)))
			}
		}
	}
	return s
}

// tiles is how many pages, each showing so much and overlapping the next, a length takes.
func tiles(long, page float64) int {
	if long <= page {
		return 1
	}
	return 1 + int(math.Ceil((long-page)/(page-overlap)-1e-9))
}

// TemplateFormats are the formats a template is written in.
func TemplateFormats() []string { return []string{"dxf", "svg", "pdf"} }

// Write writes a template: as PDF on pages of a size; as SVG on one page as large as it takes; as DXF.
func (t *Template) Write(w io.Writer, format string, size paper.Size) error {
	switch format {
	case "pdf":
		return sheet.Write(w, size, t.Sheet(size))
	case "dxf":
		_, err := t.DXF().WriteTo(w)
		return err
	}
	page := paper.Size{Name: asLarge, W: paper.A4.W, H: paper.A4.H}
	s := sheet.Sheet{Head: t.head(), Blocks: append(t.facts(), t.check())}
	kx, _ := t.printer.factors()
	for i := range t.plates {
		d, x0, y0, x1, y1 := t.plate(&t.plates[i])
		page.W = math.Max(page.W, (x1-x0)*kx+frameWide)
		s.Blocks = append(s.Blocks, t.figure(d, x0, y0, x1, y1, fmt.Sprintf("%s: %s. Full size.", t.plates[i].Name, t.pieces(&t.plates[i]))))
	}
	page = grown(page, s)
	if page.W > mostPaper || page.H > mostPaper {
		return fmt.Errorf("the page is larger than 5 m. Write a dxf")
	}
	return writeOne(w, format, page, s)
}
