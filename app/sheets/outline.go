package sheets

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"slices"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/plotting/drawing"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

// Outline is one view of a job to be drawn to scale: to lay on the bench, to hand to one who draws on.
type Outline struct {
	in     *Input
	plane  view.Plane
	left   float64 // travel of the wheels, mm
	right  float64
	shapes []view.Shape
	marks  []numbered
	rows   []edit.Pivot // by number, from 1
	// what the drawing covers, mm in the view's axes
	x0, y0, x1, y1 float64
}

// numbered is a pivot in the view with its number in the table.
type numbered struct {
	n  int
	at drawing.Point
}

// viewWords say how a view is seen.
var viewWords = map[view.Plane][2]string{
	view.Side: {"Side view", "seen from the right, nose to the right"},
	view.Rear: {"Rear view", "seen from behind"},
	view.Plan: {"Plan view", "seen from above, nose to the right"},
}

// NewOutline takes a view of a compiled study with the wheels at their travels (mm, bump +). The error is a plain sentence.
func NewOutline(in *Input, p view.Plane, left, right float64) (*Outline, error) {
	if in.Study == nil || in.Study.Mech == nil {
		return nil, fmt.Errorf("no outline is drawn: %s", refusal(in.Study))
	}
	at := in.Study.At(left, right)
	if at.Err != "" {
		return nil, fmt.Errorf("the axle cannot stand with the left wheel at %s and the right one at %s: %s", in.length(left), in.length(right), strings.TrimSuffix(study.Lower(at.Err), "."))
	}
	s := view.New(view.Input{Plane: p, Now: in.Study, At: at, Inch: in.inch()})
	o := &Outline{in: in, plane: p, left: left, right: right, shapes: s.Shapes(), rows: edit.Pivots(in.Study.Job)}
	for _, m := range s.Marks() {
		n := slices.IndexFunc(o.rows, m.Pivot.Same) + 1
		twice := slices.ContainsFunc(o.marks, func(k numbered) bool { return k.n == n && math.Hypot(k.at.X-m.At.X, k.at.Y-m.At.Y) < 0.5 })
		if n > 0 && !twice { // twins seen from the side are one
			o.marks = append(o.marks, numbered{n, m.At})
		}
	}
	o.x0, o.y0, o.x1, o.y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	grow := func(q drawing.Point, r float64) {
		o.x0, o.y0, o.x1, o.y1 = math.Min(o.x0, q.X-r), math.Min(o.y0, q.Y-r), math.Max(o.x1, q.X+r), math.Max(o.y1, q.Y+r)
	}
	ground := math.NaN()
	for _, f := range o.shapes {
		if f.Name == groundName {
			ground = f.Points[0].Y
			continue
		}
		for _, q := range f.Points {
			grow(q, f.Radius)
		}
	}
	for _, m := range o.marks {
		grow(m.at, 0)
	}
	if !(o.x0 <= o.x1) {
		return nil, fmt.Errorf("no outline is drawn: nothing of the job has a place")
	}
	if !math.IsNaN(ground) {
		o.y0 = math.Min(o.y0, ground)
	}
	return o, nil
}

// asLarge is the name of a page without a size of its own.
const asLarge = "as large as it takes"

// groundName is what a scene calls the ground.
const groundName = "Ground"

// Sizes of an outline on paper, mm.
const (
	edge      = 12.0 // round the drawing, for numbers and names
	barTall   = 30.0 // under it, for the scale bars
	mostPaper = 5000.0
	scaleLong = 100.0 // of a scale bar

	usualScale = 0.1 // where none is asked for
)

// scales are the scales drawings are made to (ISO 5455:1979; from memory).
var scales = []float64{1, 1.0 / 2, 1.0 / 5, 1.0 / 10, 1.0 / 20, 1.0 / 50, 1.0 / 100}

// looks are the scales a view is drawn to where a page has other things on it: the usual ones and some between.
var looks = []float64{1, 1.0 / 2, 1.0 / 5, 1.0 / 10, 1.0 / 15, 1.0 / 20, 1.0 / 25, 1.0 / 30, 1.0 / 40, 1.0 / 50, 1.0 / 100}

// closeUp leaves out what lies far from all pivots.
func (o *Outline) closeUp() {
	const near = 150.0 // mm
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, m := range o.marks {
		x0, y0, x1, y1 = math.Min(x0, m.at.X), math.Min(y0, m.at.Y), math.Max(x1, m.at.X), math.Max(y1, m.at.Y)
	}
	if x0 <= x1 {
		o.x0, o.y0, o.x1, o.y1 = math.Max(o.x0, x0-near), math.Max(o.y0, y0-near), math.Min(o.x1, x1+near), math.Min(o.y1, y1+near)
	}
}

// figure is a view of what lies near the pivots, as large as a width and a height (mm) leave room for, its pivots numbered; ok is false where there is none.
func (in *Input) figure(p view.Plane, width, height float64) (f sheet.Figures, ok bool) {
	o, err := NewOutline(in, p, 0, 0)
	if err != nil {
		return f, false
	}
	o.closeUp()
	for _, k := range looks {
		w, h := o.size(k)
		if w > width || h-barTall > height {
			continue
		}
		d := o.draft(k)
		d.bars = false
		caption := fmt.Sprintf("%s, %s, %s; numbers as in the table.", viewWords[p][0], study.ScaleWords(k), viewWords[p][1])
		return sheet.Figures{Tall: d.h, Figures: []sheet.Figure{{Caption: caption, Draw: d.draw}}}, true
	}
	return f, false
}

// size is what an outline takes at a scale, mm on paper, scale bars included.
func (o *Outline) size(scale float64) (w, h float64) {
	return math.Max((o.x1-o.x0)*scale, scaleLong+30) + 2*edge, (o.y1-o.y0)*scale + 2*edge + barTall
}

// frame is what a page's margins, head, foot and the figure's caption take, mm; the foot's words are counted for an upright A4.
const (
	frameWide = 30.0
	frameTall = 62.0
)

// fits reports whether an outline at a scale has room on a page.
func (o *Outline) fits(size paper.Size, scale float64) bool {
	w, h := o.size(scale)
	return w <= size.W-frameWide && h <= size.H-frameTall
}

// Paper is the page an outline stands on: as large as it takes where no size is named, else that size, upright or on its side. scale 0 asks for the
// largest usual one that fits (usualScale where the page is as large as it takes). The error is a plain sentence.
func (o *Outline) Paper(scale float64, size *paper.Size) (paper.Size, float64, error) {
	if size == nil {
		if scale == 0 {
			scale = usualScale
		}
		w, h := o.size(scale)
		page := paper.Size{Name: asLarge, W: math.Max(paper.A4.W, w+frameWide), H: math.Max(paper.A4.H, h+frameTall)}
		if page.W > mostPaper || page.H > mostPaper {
			return page, scale, fmt.Errorf("at %s the page is larger than 5 m. Choose a smaller scale, such as 1:10", study.ScaleWords(scale))
		}
		return page, scale, nil
	}
	ways := []paper.Size{*size, size.Turned()}
	if w, h := o.size(1); w > h {
		slices.Reverse(ways)
	}
	try := scales
	if scale != 0 {
		try = []float64{scale}
	}
	for _, k := range try {
		for _, way := range ways {
			if o.fits(way, k) {
				return way, k, nil
			}
		}
	}
	w, h := o.size(try[len(try)-1])
	words := fmt.Sprintf("at %s the drawing takes %.0f by %.0f mm and does not fit on %s paper", study.ScaleWords(try[len(try)-1]), w, h, size.Name)
	for _, k := range scales {
		if o.fits(ways[0], k) || o.fits(ways[1], k) {
			return *size, 0, fmt.Errorf("%s. %s does, or leave the paper out: the page is then as large as it takes", words, study.ScaleWords(k))
		}
	}
	return *size, 0, fmt.Errorf("%s. Leave the paper out: the page is then as large as it takes", words)
}

// Sheet is an outline on a page at a scale that Paper gave, with the table of its pivots. A page as large as it takes is made taller here, so that the
// table has room on it.
func (o *Outline) Sheet(page paper.Size, scale float64) (sheet.Sheet, paper.Size) {
	s := sheet.Sheet{Head: o.head(scale)}
	d := o.draft(scale)
	_, tall := o.size(scale)
	s.Blocks = []sheet.Block{
		sheet.Figures{Tall: paper.MM(tall), Figures: []sheet.Figure{{Caption: o.caption(), Draw: d.draw}}},
		sheet.Heading{Words: "Pivots", Minor: true}, o.table(),
	}
	if page.Name == asLarge {
		page = grown(page, s)
	}
	return s, page
}

// grown is a page as tall as a sheet takes, at most mostPaper.
func grown(page paper.Size, s sheet.Sheet) paper.Size {
	for page.H < mostPaper && len(sheet.Lay(page, s)) > 1 {
		page.H += 20
	}
	return page
}

// writeOne writes a sheet that takes one page, in a format of single pages.
func writeOne(w io.Writer, format string, page paper.Size, s sheet.Sheet) error {
	p, err := paper.New(format, paper.MM(page.W), paper.MM(page.H), color.White)
	if err != nil {
		return err
	}
	sheet.Lay(page, s)[0].Draw(p.Pen)
	_, err = p.WriteTo(w)
	return err
}

// OutlineFormats are the formats an outline is written in.
func OutlineFormats() []string { return []string{"dxf", "svg", "pdf"} }

// Write writes an outline: as DXF at full size; as SVG or PDF at a scale on a page that Paper allows. The error is a plain sentence or that of the writer.
func (o *Outline) Write(w io.Writer, format string, scale float64, size *paper.Size) error {
	if format == "dxf" {
		if scale == 0 {
			scale = usualScale
		}
		_, err := o.DXF(scale).WriteTo(w)
		return err
	}
	page, scale, err := o.Paper(scale, size)
	if err != nil {
		return err
	}
	s, page := o.Sheet(page, scale)
	if format == "pdf" {
		return sheet.Write(w, page, s)
	}
	return writeOne(w, format, page, s)
}

func (o *Outline) head(scale float64) sheet.Head {
	h := o.in.head(fmt.Sprintf("%s, %s", viewWords[o.plane][0], study.ScaleWords(scale)))
	h.Extra = []string{"Check a scale bar with a rule before measuring from this sheet: print it at 100 %, without fitting it to the page."}
	return h
}

// where words the position the axle is drawn in.
func (o *Outline) where() string {
	if o.left == 0 && o.right == 0 {
		return "at design ride height"
	}
	return "at " + o.in.Study.Travels(o.left, o.right)
}

func (o *Outline) caption() string {
	return fmt.Sprintf("%s, %s. Dash and dot: centre lines. Numbers: pivots, in the table; of a pair both sides have one number.", study.Upper(viewWords[o.plane][1]), o.where())
}

// numberColumn is that of the pivots' numbers.
var numberColumn = sheet.Column{Head: "No.", Right: true}

// table is the pivots by number, where the bench measures them from.
func (o *Outline) table() sheet.Table {
	j := o.in.Study.Job
	u := o.in.unit()
	t := sheet.Table{Small: true, Narrow: true, Columns: []sheet.Column{numberColumn, {Head: "Pivot, at design ride height", Strong: true}, {Head: "X, " + u}, {Head: "Y, " + u}, {Head: "Z, " + u}}}
	for i, p := range o.rows {
		at, ok := edit.At(j, p)
		if !ok || !slices.ContainsFunc(o.marks, func(m numbered) bool { return m.n == i+1 }) {
			continue
		}
		row := []string{fmt.Sprint(i + 1), edit.Name(j, p)}
		for a, v := range [3]float64{at.X, at.Y, at.Z} {
			row = append(row, o.in.from(j, p, edit.Axis(a), v))
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: row})
	}
	return t
}
