// Package paper is what every output on paper shares: the typeface that is embedded in the program (so that no machine's fonts matter),
// canvases for PNG, SVG and PDF, the title block and the caution.
//
// Lengths are units of 1/96 inch, from the upper left corner, y down; a PNG has two pixels a unit.
package paper

import (
	"fmt"
	"image/color"
	"io"
	"strings"
	"sync"

	stdfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgpdf"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Caution is printed on every page.
const Caution = "Geometry aid; not a certificate, not a strength check; check on the vehicle before welding and before driving; local rules and a licensed engineer decide."

// Unit is one unit in the lengths of gonum's canvases.
const Unit = vg.Inch / 96

const pngDPI = 192

var fonts = sync.OnceValue(func() *font.Cache { return font.NewCache(liberation.Collection()) })

// Face is the typeface (Liberation Sans, metrics of the usual office sans) at a size in units. Each call makes its own, so faces of two
// goroutines share nothing that is written.
func Face(size float64, bold bool) font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if bold {
		f.Weight = stdfont.WeightBold
	}
	lock.Lock()
	defer lock.Unlock()
	return fonts().Lookup(f, vg.Length(size)*Unit)
}

// lock guards the cache of fonts: looking one up may write to it.
var lock sync.Mutex

// Measure tells the room words take, units.
func Measure(words string, size float64, bold bool) (w, h float64) {
	f := Face(size, bold)
	e := f.Extents()
	return float64(f.Width(words) / Unit), float64((e.Ascent + e.Descent) / Unit)
}

// Formats are the formats a page can be written in.
func Formats() []string { return []string{"png", "svg", "pdf"} }

// Page is a canvas of one format and the means to write it.
type Page struct {
	*Pen
	out io.WriterTo
}

// New returns an empty page of a size in units. The error is a plain sentence.
func New(format string, w, h float64, ground color.Color) (*Page, error) {
	if !(w > 0 && h > 0 && w <= 20000 && h <= 20000) {
		return nil, fmt.Errorf("a page of %.0f by %.0f cannot be drawn: choose a size between 1 and 20000", w, h)
	}
	vw, vh := vg.Length(w)*Unit, vg.Length(h)*Unit
	var p Page
	switch strings.ToLower(format) {
	case "png":
		c := vgimg.NewWith(vgimg.UseWH(vw, vh), vgimg.UseDPI(pngDPI), vgimg.UseBackgroundColor(ground))
		p.Pen, p.out = NewPen(c, vh), vgimg.PngCanvas{Canvas: c}
	case "svg":
		c := vgsvg.NewWith(vgsvg.UseWH(vw, vh))
		p.Pen, p.out = NewPen(outlined{c, nil}, vh), c
		p.Fill(ground, [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}})
	case "pdf":
		c := vgpdf.New(vw, vh)
		c.EmbedFonts(true)
		p.Pen, p.out = NewPen(outlined{c, windows1252}, vh), c
		p.Fill(ground, [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}})
	default:
		return nil, fmt.Errorf("the format %q is not known: use png, svg or pdf", format)
	}
	return &p, nil
}

// WriteTo writes the page.
func (p *Page) WriteTo(w io.Writer) (int64, error) { return p.out.WriteTo(w) }

var _ vg.CanvasSizer = outlined{}

// outlined draws words as the outlines of their letters, all of them or those the format's own words cannot hold.
type outlined struct {
	vg.CanvasSizer
	holds func(words string) bool // nil: none
}

// FillString implements vg.Canvas.
func (o outlined) FillString(f font.Face, at vg.Point, words string) {
	if words == "" {
		return
	}
	// A page holds one typeface as such (the canvas gives the file of a second one the same name): the bold one is drawn.
	if o.holds != nil && f.Font.Weight == stdfont.WeightNormal && o.holds(words) && o.written(f, at, words) {
		return
	}
	if path := letters(f, at, words); len(path) > 0 {
		o.Fill(path)
	}
}

// written writes words as words. It reports false where the canvas cannot have the typeface, which it makes in a temporary folder.
func (o outlined) written(f font.Face, at vg.Point, words string) (ok bool) {
	defer func() {
		if recover() != nil { // the canvas's way to say that the folder cannot be written
			ok = false
		}
	}()
	o.CanvasSizer.FillString(f, at, words)
	return true
}

// windows1252 reports whether the words can be written in the encoding of a PDF's simple fonts.
func windows1252(words string) bool {
	for _, r := range words {
		if r > 0xFF && !strings.ContainsRune("€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ", r) || r < 0x20 || r >= 0x7F && r < 0xA0 {
			return false
		}
	}
	return true
}

// Canvas is the whole page as gonum's plots draw on it.
func (p *Pen) Canvas() draw.Canvas { return draw.New(p.c) }
