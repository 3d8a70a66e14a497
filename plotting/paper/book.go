package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"strconv"
	"strings"

	"codeberg.org/go-pdf/fpdf"
	stdfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// Size is a size of paper, mm, upright.
type Size struct {
	Name string
	W, H float64
}

// The sizes of paper there are: ISO 216 and ANSI/ASME Y14.1 A ("Letter").
var (
	A4     = Size{"a4", 210, 297}
	Letter = Size{"letter", 215.9, 279.4}
)

// Large are the sizes of paper for drawings, besides those (ISO 216).
var Large = []Size{{"a3", 297, 420}, {"a2", 420, 594}, {"a1", 594, 841}, {"a0", 841, 1189}}

// SizeOf is the size of paper of a name, A4 for an empty one; more are sizes it may be besides A4 and Letter. The error is a plain sentence.
func SizeOf(name string, more ...Size) (Size, error) {
	if name == "" {
		return A4, nil
	}
	var names []string
	for _, s := range append([]Size{A4, Letter}, more...) {
		if s.Name == name {
			return s, nil
		}
		names = append(names, s.Name)
	}
	last := len(names) - 1
	return Size{}, fmt.Errorf("the paper %q is not known: use %s or %s", name, strings.Join(names[:last], ", "), names[last])
}

// Turned is the same paper lying on its side.
func (s Size) Turned() Size { return Size{s.Name, s.H, s.W} }

// MM is a length of mm in units.
func MM(mm float64) float64 { return mm / 25.4 * 96 }

// Book is a PDF of several pages of one size. Words stay words, in typefaces it carries with it; lines stay lines. Points are written to a hundredth of
// a point (0.0035 mm). One goroutine at a time.
type Book struct {
	doc      *fpdf.Fpdf
	w, h     vg.Length
	pages    int
	pictures int
	alpha    uint8 // of what is drawn now
}

const (
	bookFace = "sheet"
	pointMM  = 72 / 25.4 // points a mm
)

// NewBook returns a book without a page. Title stands in the file's own description.
func NewBook(size Size, title string) *Book {
	b := &Book{w: vg.Length(size.W * pointMM), h: vg.Length(size.H * pointMM)}
	b.doc = fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: float64(b.w), Ht: float64(b.h)}})
	b.doc.SetAutoPageBreak(false, 0)
	b.doc.SetMargins(0, 0, 0)
	b.doc.SetCellMargin(0)
	b.doc.SetTitle(title, true)
	b.doc.SetCreator("Axleloft", true)
	b.doc.SetCatalogSort(true)
	for _, bold := range []bool{false, true} {
		f := Face(12, bold)
		var raw bytes.Buffer
		if _, err := f.Face.WriteSourceTo(nil, &raw); err != nil {
			panic("paper: the embedded typeface cannot be read")
		}
		b.doc.AddUTF8FontFromBytes(bookFace, bookStyle(bold), raw.Bytes())
	}
	return b
}

func bookStyle(bold bool) string {
	if bold {
		return "B"
	}
	return ""
}

// Next begins a page and returns the pen for it, in units from its upper left corner.
func (b *Book) Next() *Pen {
	b.doc.AddPage()
	b.pages++
	b.alpha = 255
	b.doc.SetLineCapStyle("butt")
	b.doc.SetLineJoinStyle("round")
	c := &leaf{b: b, now: state{k: 1, color: color.Black}}
	return NewPen(c, b.h)
}

// Pages is how many pages there are.
func (b *Book) Pages() int { return b.pages }

// Mark puts a line of the file's own list of contents at the page begun last.
func (b *Book) Mark(words string) { b.doc.Bookmark(words, 0, 0) }

// WriteTo writes the book. Nothing can be drawn in it afterwards.
func (b *Book) WriteTo(w io.Writer) (int64, error) {
	var out bytes.Buffer
	if err := b.doc.Output(&out); err != nil {
		return 0, fmt.Errorf("the pages could not be put together: %w", err)
	}
	return out.WriteTo(w)
}

// leaf draws one page of a book for gonum's plots and for pens: y up from the lower left corner.
type leaf struct {
	b     *Book
	now   state
	stack []state
}

// state is what Push keeps: the turn, scale and shift of what is drawn, its colour and its line.
type state struct {
	k, turn float64 // scale, and turn against the clock, rad
	at      vg.Point
	color   color.Color
	width   vg.Length
	dash    []vg.Length
	shift   vg.Length
}

var _ vg.CanvasSizer = (*leaf)(nil)

// Size implements vg.CanvasSizer.
func (l *leaf) Size() (w, h vg.Length) { return l.b.w, l.b.h }

// SetLineWidth implements vg.Canvas.
func (l *leaf) SetLineWidth(w vg.Length) { l.now.width = w }

// SetLineDash implements vg.Canvas.
func (l *leaf) SetLineDash(pattern []vg.Length, offset vg.Length) {
	l.now.dash, l.now.shift = pattern, offset
}

// SetColor implements vg.Canvas.
func (l *leaf) SetColor(c color.Color) {
	if c == nil {
		c = color.Black
	}
	l.now.color = c
}

// Rotate implements vg.Canvas.
func (l *leaf) Rotate(rad float64) { l.now.turn += rad }

// Translate implements vg.Canvas.
func (l *leaf) Translate(p vg.Point) { l.now.at = l.place(p) }

// Scale implements vg.Canvas. Only one scale for both axes is drawn; of two, their mean.
func (l *leaf) Scale(x, y float64) { l.now.k *= math.Sqrt(math.Abs(x * y)) }

// Push implements vg.Canvas.
func (l *leaf) Push() { l.stack = append(l.stack, l.now) }

// Pop implements vg.Canvas.
func (l *leaf) Pop() {
	if n := len(l.stack); n > 0 {
		l.now, l.stack = l.stack[n-1], l.stack[:n-1]
	}
}

// place takes a point to the page.
func (l *leaf) place(p vg.Point) vg.Point {
	sn, cs := math.Sincos(l.now.turn)
	x, y := float64(p.X)*l.now.k, float64(p.Y)*l.now.k
	return vg.Point{X: l.now.at.X + vg.Length(cs*x-sn*y), Y: l.now.at.Y + vg.Length(sn*x+cs*y)}
}

// on takes a point to the page as the file's writer has it, y down.
func (l *leaf) on(p vg.Point) (x, y float64) {
	q := l.place(p)
	return float64(q.X), float64(l.b.h - q.Y)
}

func (l *leaf) ink() {
	c, ok := color.NRGBAModel.Convert(l.now.color).(color.NRGBA)
	if !ok {
		c = color.NRGBA{A: 255}
	}
	d := l.b.doc
	d.SetFillColor(int(c.R), int(c.G), int(c.B))
	d.SetDrawColor(int(c.R), int(c.G), int(c.B))
	d.SetTextColor(int(c.R), int(c.G), int(c.B))
	if c.A != l.b.alpha {
		l.b.alpha = c.A
		d.SetAlpha(float64(c.A)/255, "Normal")
	}
}

// Stroke implements vg.Canvas.
func (l *leaf) Stroke(p vg.Path) {
	if l.now.width <= 0 {
		return
	}
	l.ink()
	d := l.b.doc
	d.SetLineWidth(float64(l.now.width) * l.now.k)
	dash := make([]float64, len(l.now.dash))
	for i, x := range l.now.dash {
		dash[i] = float64(x) * l.now.k
	}
	d.SetDashPattern(dash, float64(l.now.shift)*l.now.k)
	l.path(p, "D")
}

// Fill implements vg.Canvas.
func (l *leaf) Fill(p vg.Path) {
	l.ink()
	l.path(p, "F")
}

func (l *leaf) path(p vg.Path, how string) {
	d := l.b.doc
	var first, last vg.Point
	open, any := false, false
	line := func(to vg.Point) {
		if open {
			d.LineTo(l.on(to))
		} else {
			d.MoveTo(l.on(to))
			first, open = to, true
		}
		last, any = to, true
	}
	for _, c := range p {
		switch c.Type {
		case vg.MoveComp:
			d.MoveTo(l.on(c.Pos))
			first, last, open = c.Pos, c.Pos, true
		case vg.LineComp:
			line(c.Pos)
		case vg.ArcComp:
			line(around(c.Pos, c.Radius, c.Start))
			n := max(1, int(math.Ceil(math.Abs(c.Angle)/(math.Pi/4)))) // a cubic for an eighth of a circle lies within 5e-6 of its radius
			step := c.Angle / float64(n)
			h := c.Radius * vg.Length(4./3*math.Tan(step/4))
			for i := range n {
				a0, a1 := c.Start+float64(i)*step, c.Start+float64(i+1)*step
				p0, p1 := around(c.Pos, c.Radius, a0), around(c.Pos, c.Radius, a1)
				s0, c0 := math.Sincos(a0)
				s1, c1 := math.Sincos(a1)
				l.curve(vg.Point{X: p0.X - h*vg.Length(s0), Y: p0.Y + h*vg.Length(c0)}, vg.Point{X: p1.X + h*vg.Length(s1), Y: p1.Y - h*vg.Length(c1)}, p1)
				last = p1
			}
		case vg.CurveComp:
			if len(c.Control) == 2 {
				l.curve(c.Control[0], c.Control[1], c.Pos)
			} else { // of one control point: the same curve as a cubic
				q := c.Control[0]
				third := func(a, b vg.Point) vg.Point { return vg.Point{X: a.X + (b.X-a.X)*2/3, Y: a.Y + (b.Y-a.Y)*2/3} }
				l.curve(third(last, q), third(c.Pos, q), c.Pos)
			}
			last, any = c.Pos, true
		case vg.CloseComp:
			d.ClosePath()
			last = first
		}
	}
	if any {
		d.DrawPath(how)
	}
}

func around(c vg.Point, r vg.Length, a float64) vg.Point {
	sn, cs := math.Sincos(a)
	return vg.Point{X: c.X + r*vg.Length(cs), Y: c.Y + r*vg.Length(sn)}
}

func (l *leaf) curve(c0, c1, to vg.Point) {
	x0, y0 := l.on(c0)
	x1, y1 := l.on(c1)
	x, y := l.on(to)
	l.b.doc.CurveBezierCubicTo(x0, y0, x1, y1, x, y)
}

// FillString implements vg.Canvas.
func (l *leaf) FillString(f font.Face, at vg.Point, words string) {
	if words == "" || f.Font.Size <= 0 {
		return
	}
	l.ink()
	d := l.b.doc
	d.SetFont(bookFace, bookStyle(f.Font.Weight == stdfont.WeightBold), float64(f.Font.Size)*l.now.k)
	x, y := l.on(at)
	if l.now.turn == 0 {
		d.Text(x, y, words)
		return
	}
	d.TransformBegin()
	d.TransformRotate(l.now.turn*180/math.Pi, x, y)
	d.Text(x, y, words)
	d.TransformEnd()
}

// DrawImage implements vg.Canvas. A picture is upright whatever the turn.
func (l *leaf) DrawImage(rect vg.Rectangle, img image.Image) {
	var buf bytes.Buffer
	if err := png.Encode(&buf, img); err != nil {
		panic("paper: a picture in memory cannot be written as PNG")
	}
	b := l.b
	b.pictures++
	name := "picture" + strconv.Itoa(b.pictures)
	how := fpdf.ImageOptions{ImageType: "png"}
	b.doc.RegisterImageOptionsReader(name, how, &buf)
	x, y := l.on(vg.Point{X: rect.Min.X, Y: rect.Max.Y})
	w, h := float64(rect.Max.X-rect.Min.X)*l.now.k, float64(rect.Max.Y-rect.Min.Y)*l.now.k
	b.doc.ImageOptions(name, x, y, w, h, false, how, 0, "")
}
