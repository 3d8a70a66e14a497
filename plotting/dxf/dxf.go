// Package dxf writes drawings as DXF, the text form of the release of 2000 (AC1015): lines, polylines with arcs, circles, arcs and words on
// layers, in mm, full size. Any drawing program reads it; nothing is read here.
//
// Autodesk, "DXF Reference" for that release: sections, handles, group codes (from memory); what is written is read back and audited by ezdxf in
// a test.
package dxf

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// Line types.
const (
	Whole   = "CONTINUOUS"
	Centre  = "CENTER"  // long dash, dot: ISO 128-2 type 10, for centre lines
	Phantom = "PHANTOM" // long dash, two dots: type 12, for other positions and neighbouring parts
	Dash    = "DASHED"  // type 02
)

// The patterns of the line types, mm on paper: dash positive, gap negative, dot zero.
var patterns = []struct {
	name, words string
	p           []float64
}{
	{Whole, "Solid line", nil},
	{Centre, "Long dash, dot", []float64{12, -1.5, 0.25, -1.5}},
	{Phantom, "Long dash, two dots", []float64{12, -1.5, 0.25, -1.5, 0.25, -1.5}},
	{Dash, "Dash", []float64{6, -1.5}},
}

// Layer is how what lies on it is drawn.
type Layer struct {
	Name   string  // letters, digits and _; told apart without regard to case
	Colour int     // index 1 to 255; 7 is black or white, whichever shows
	Line   string  // a line type
	Width  float64 // of the line, mm; rounded to the widths DXF knows
}

// Align is where words stand about their place.
type Align int

// The places words stand at; each is on the base line.
const (
	Left Align = iota
	Middle
	Right
)

// Point is a place, mm, and for a polyline's corner the bulge of the edge that begins there: the tangent of a quarter of the angle it turns
// through, + anticlockwise; 0 is straight.
type Point struct{ X, Y, Bulge float64 }

// Drawing collects what is drawn. Places are mm, x to the right, y up. Nothing that is not a finite number is drawn.
type Drawing struct {
	layers []Layer
	body   strings.Builder
	handle uint64
	scale  float64
	lo, hi Point
	some   bool
}

// The handles of the tables; those of entities come after.
const firstHandle = 0x100

// New returns an empty drawing. scale is mm on paper for each mm, and serves only the dashes of lines, which are of paper: 0.1 for 1:10.
func New(scale float64, layers ...Layer) *Drawing {
	if !(scale > 0) {
		scale = 1
	}
	return &Drawing{layers: layers, handle: firstHandle, scale: scale, lo: Point{X: math.Inf(1), Y: math.Inf(1)}, hi: Point{X: math.Inf(-1), Y: math.Inf(-1)}}
}

// number writes a number with no more digits than it needs; six decimals are a nanometre.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 6, 64)
	s = strings.TrimRight(s, "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		return "0.0"
	}
	return s
}

func finite(v ...float64) bool {
	for _, x := range v {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

func pair(b *strings.Builder, code int, value string) { fmt.Fprintf(b, "%3d\n%s\n", code, value) }

func (d *Drawing) num(code int, v float64) { pair(&d.body, code, number(v)) }

func (d *Drawing) seen(x, y float64) {
	d.some = true
	d.lo = Point{X: math.Min(d.lo.X, x), Y: math.Min(d.lo.Y, y)}
	d.hi = Point{X: math.Max(d.hi.X, x), Y: math.Max(d.hi.Y, y)}
}

// begin writes what every entity begins with.
func (d *Drawing) begin(kind, layer string, classes ...string) {
	pair(&d.body, 0, kind)
	pair(&d.body, 5, fmt.Sprintf("%X", d.handle))
	d.handle++
	pair(&d.body, 330, handleModel)
	pair(&d.body, 100, "AcDbEntity")
	pair(&d.body, 8, d.known(layer))
	pair(&d.body, 100, classes[0])
}

// known is a layer's name where the drawing has it, else the one every drawing has.
func (d *Drawing) known(layer string) string {
	for _, l := range d.layers {
		if l.Name == layer {
			return layer
		}
	}
	return "0"
}

// Line draws a straight line.
func (d *Drawing) Line(layer string, x1, y1, x2, y2 float64) {
	if !finite(x1, y1, x2, y2) {
		return
	}
	d.begin("LINE", layer, "AcDbLine")
	for i, v := range []float64{x1, y1, 0} {
		d.num(10+10*i, v)
	}
	for i, v := range []float64{x2, y2, 0} {
		d.num(11+10*i, v)
	}
	d.seen(x1, y1)
	d.seen(x2, y2)
}

// Polyline draws a run of lines and arcs, closed back to its first corner or open. Fewer than two corners are nothing.
func (d *Drawing) Polyline(layer string, closed bool, pts ...Point) {
	if len(pts) < 2 {
		return
	}
	for _, p := range pts {
		if !finite(p.X, p.Y, p.Bulge) {
			return
		}
	}
	d.begin("LWPOLYLINE", layer, "AcDbPolyline")
	pair(&d.body, 90, strconv.Itoa(len(pts)))
	flag := "0"
	if closed {
		flag = "1"
	}
	pair(&d.body, 70, flag)
	for i, p := range pts {
		d.num(10, p.X)
		d.num(20, p.Y)
		if p.Bulge != 0 {
			d.num(42, p.Bulge)
			q := pts[(i+1)%len(pts)]
			// the arc lies within half its chord's length times the bulge's larger way round its middle
			reach := math.Hypot(q.X-p.X, q.Y-p.Y) / 2 * math.Max(1, math.Abs(p.Bulge))
			d.seen((p.X+q.X)/2-reach, (p.Y+q.Y)/2-reach)
			d.seen((p.X+q.X)/2+reach, (p.Y+q.Y)/2+reach)
		}
		d.seen(p.X, p.Y)
	}
}

// Circle draws a circle; a radius that is not positive is nothing.
func (d *Drawing) Circle(layer string, x, y, r float64) {
	if !finite(x, y, r) || r <= 0 {
		return
	}
	d.begin("CIRCLE", layer, "AcDbCircle")
	d.round(x, y, r)
}

func (d *Drawing) round(x, y, r float64) {
	for i, v := range []float64{x, y, 0} {
		d.num(10+10*i, v)
	}
	d.num(40, r)
	d.seen(x-r, y-r)
	d.seen(x+r, y+r)
}

// Arc draws an arc anticlockwise from one angle to another, deg from x.
func (d *Drawing) Arc(layer string, x, y, r, from, to float64) {
	if !finite(x, y, r, from, to) || r <= 0 {
		return
	}
	d.begin("ARC", layer, "AcDbCircle")
	d.round(x, y, r)
	pair(&d.body, 100, "AcDbArc")
	d.num(50, from)
	d.num(51, to)
}

// Text writes words of a height (mm, of the drawing's own), turned by deg. What is not ASCII is written by its number, so that no code page matters.
func (d *Drawing) Text(layer string, x, y, height, turned float64, align Align, words string) {
	if words = plain(words); words == "" || !finite(x, y, height, turned) || height <= 0 {
		return
	}
	d.begin("TEXT", layer, "AcDbText")
	for i, v := range []float64{x, y, 0} {
		d.num(10+10*i, v)
	}
	d.num(40, height)
	pair(&d.body, 1, words)
	d.num(50, turned)
	pair(&d.body, 7, "STANDARD")
	if align != Left {
		pair(&d.body, 72, strconv.Itoa(int(align)))
		for i, v := range []float64{x, y, 0} {
			d.num(11+10*i, v)
		}
	}
	pair(&d.body, 100, "AcDbText")
	d.seen(x, y)
	d.seen(x, y+height)
}

// plain is words on one line in ASCII: another letter is written \U+XXXX, as DXF has it. A letter beyond four digits, which it cannot write, is a
// question mark.
func plain(words string) string {
	var b strings.Builder
	for _, r := range strings.Join(strings.Fields(words), " ") {
		switch {
		case r == '\\' || r == '^': // each begins a code of its own
			fmt.Fprintf(&b, `\U+%04X`, r)
		case r >= ' ' && r < 0x7F:
			b.WriteRune(r)
		case r < ' ' || r == 0x7F:
			b.WriteByte(' ')
		case r > 0xFFFF:
			b.WriteByte('?')
		default:
			fmt.Fprintf(&b, `\U+%04X`, r)
		}
	}
	return b.String()
}

// Box is the smallest upright box round all that was drawn (words by their left edge); ok is false where nothing was.
func (d *Drawing) Box() (x0, y0, x1, y1 float64, ok bool) {
	return d.lo.X, d.lo.Y, d.hi.X, d.hi.Y, d.some
}

// WriteTo writes the drawing.
func (d *Drawing) WriteTo(w io.Writer) (int64, error) {
	var b strings.Builder
	d.head(&b)
	d.tables(&b)
	blocks(&b)
	section(&b, "ENTITIES")
	b.WriteString(d.body.String())
	pair(&b, 0, "ENDSEC")
	objects(&b)
	pair(&b, 0, "EOF")
	n, err := io.WriteString(w, b.String())
	return int64(n), err
}
