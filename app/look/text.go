package look

import (
	"image/color"
	"math"
	"strings"

	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Text makes a plain text primitive in a role's colour. Whoever owns it sets its colour again when it refreshes (Paint).
func Text(s string, size float32, role ink.Role, bold bool) *canvas.Text {
	t := canvas.NewText(s, Color(role))
	t.TextSize = size
	t.TextStyle.Bold = bold
	return t
}

// Paint sets a text's words and colour without a refresh of its own, and reports whether anything changed.
func Paint(t *canvas.Text, s string, c color.Color) bool {
	if t.Text == s && t.Color == c {
		return false
	}
	t.Text, t.Color = s, c
	return true
}

// Measure is the size a text takes.
func Measure(s string, size float32, bold bool) fyne.Size {
	return fyne.MeasureText(s, size, fyne.TextStyle{Bold: bold})
}

// Width is the width a text takes.
func Width(s string, size float32, bold bool) float32 { return Measure(s, size, bold).Width }

// Baseline is how far below its top a text's baseline lies.
func Baseline(size float32, bold bool) float32 {
	_, b := fyne.CurrentApp().Driver().RenderedTextSize("M", size, fyne.TextStyle{Bold: bold}, nil)
	return b
}

// PlaceLeft puts a text with its left edge at x and its baseline at y, PlaceRight with its right edge, PlaceMid with its middle.
func PlaceLeft(t *canvas.Text, x, baseline float32) { place(t, x, baseline, 0) }

// PlaceRight puts a text with its right edge at x and its baseline at y.
func PlaceRight(t *canvas.Text, x, baseline float32) { place(t, x, baseline, 1) }

// PlaceMid puts a text with its middle at x and its baseline at y.
func PlaceMid(t *canvas.Text, x, baseline float32) { place(t, x, baseline, 0.5) }

func place(t *canvas.Text, x, baseline, part float32) {
	s := t.MinSize()
	t.Resize(s)
	t.Move(fyne.NewPos(x-part*s.Width, baseline-Baseline(t.TextSize, t.TextStyle.Bold)))
}

// Shorten cuts a text to a width with an ellipsis; a text that fits stays.
func Shorten(s string, size float32, bold bool, width float32) string {
	if Width(s, size, bold) <= width {
		return s
	}
	r := []rune(s)
	lo, hi := 0, len(r)
	for lo < hi {
		m := (lo + hi + 1) / 2
		if Width(strings.TrimRight(string(r[:m]), " ,;")+"…", size, bold) <= width {
			lo = m
		} else {
			hi = m - 1
		}
	}
	return strings.TrimRight(string(r[:lo]), " ,;") + "…"
}

// slack is by how much the widths of words one after the other may be off the width of the line they make: where that matters the line is
// measured. A word comes again and again and its width is remembered; a line is new each time.
const slack = 4

// Wrap breaks a text at spaces into lines of at most a width; a word longer than the width keeps a line to itself.
func Wrap(s string, size float32, bold bool, width float32) []string {
	var lines []string
	space := Width(" ", size, bold)
	for _, para := range strings.Split(s, "\n") {
		line, x := "", float32(0)
		for _, w := range strings.Fields(para) {
			ww := Width(w, size, bold)
			end := x + space + ww
			if line != "" && math.Abs(float64(end-width)) < slack {
				end = Width(line+" "+w, size, bold)
			}
			switch {
			case line == "":
				line, x = w, ww
			case end <= width:
				line, x = line+" "+w, end
			default:
				lines = append(lines, line)
				line, x = w, ww
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// Label is a line of text as a widget: it follows light and dark, and shortens to its width.
type Label struct {
	widget.BaseWidget
	text   string
	size   float32
	role   ink.Role
	bold   bool
	italic bool
	align  fyne.TextAlign
	least  float32
}

// NewLabel makes a line of text.
func NewLabel(s string, size float32, role ink.Role, bold bool) *Label {
	l := &Label{text: s, size: size, role: role, bold: bold, least: -1}
	l.ExtendBaseWidget(l)
	return l
}

// SetText changes the words; equal words cost nothing.
func (l *Label) SetText(s string) { l.Set(s, l.role) }

// Set changes words and role; equal ones cost nothing.
func (l *Label) Set(s string, role ink.Role) {
	if l.text == s && l.role == role {
		return
	}
	l.text, l.role = s, role
	l.Refresh()
}

// SetBold makes the words heavy, or not.
func (l *Label) SetBold(bold bool) {
	if l.bold != bold {
		l.bold = bold
		l.Refresh()
	}
}

// Text is the words.
func (l *Label) Text() string { return l.text }

// Align sets the alignment and returns the label.
func (l *Label) Align(a fyne.TextAlign) *Label { l.align = a; return l }

// Italic sets the letters aslant and returns the label.
func (l *Label) Italic() *Label { l.italic = true; return l }

// Shrinks lets the label be narrower than its words (not less than least); it then ends with an ellipsis. Returns the label.
func (l *Label) Shrinks(least float32) *Label { l.least = least; return l }

// CreateRenderer is the toolkit's.
func (l *Label) CreateRenderer() fyne.WidgetRenderer {
	l.ExtendBaseWidget(l)
	r := &labelRenderer{l: l, t: Text(l.text, l.size, l.role, l.bold)}
	r.t.TextStyle.Italic = l.italic
	return Made(l, r)
}

type labelRenderer struct {
	l *Label
	t *canvas.Text
}

func (r *labelRenderer) Layout(s fyne.Size) {
	words := r.l.text
	if r.l.least >= 0 {
		words = Shorten(words, r.l.size, r.l.bold, s.Width)
	}
	r.t.TextStyle.Bold = r.l.bold
	Paint(r.t, words, Color(r.l.role))
	r.t.Alignment = r.l.align
	h := r.t.MinSize().Height
	r.t.Resize(fyne.NewSize(s.Width, h))
	r.t.Move(fyne.NewPos(0, (s.Height-h)/2))
}

func (r *labelRenderer) MinSize() fyne.Size {
	m := fyne.MeasureText(r.l.text, r.l.size, fyne.TextStyle{Bold: r.l.bold, Italic: r.l.italic})
	if r.l.least >= 0 && m.Width > r.l.least {
		m.Width = r.l.least
	}
	return m
}

func (r *labelRenderer) Refresh() {
	r.Layout(r.l.Size())
	r.t.Refresh()
}

func (r *labelRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.t} }
func (r *labelRenderer) Destroy()                     {}
