package paper

import (
	"strings"

	"axleloft/plotting/ink"
)

// Head is the title block of a page.
type Head struct {
	Title string // "Anti-squat, %"
	Notes string // units and signs: "+ resists squat; lengths in mm"
	Job   string
	Trial string // "" for the job as drawn
	Date  string
}

const (
	margin    = 16.0
	titleSize = 20.0
	wordSize  = 15.0
	leading   = 19.0
)

// Room is an upright box, units.
type Room struct{ X0, Y0, X1, Y1 float64 }

// W is its width.
func (r Room) W() float64 { return r.X1 - r.X0 }

// lines are the lines of the block over and under what is drawn, for a page of a width.
func (h *Head) lines(width float64) (over, under []string) {
	trial := h.Trial
	if trial == "" {
		trial = "as drawn"
	}
	first := []string{}
	for _, s := range []struct{ key, words string }{{"job", h.Job}, {"trial", trial}, {"date", h.Date}} {
		if s.words != "" {
			first = append(first, s.key+": "+s.words)
		}
	}
	over = Wrap(strings.Join(first, "; "), wordSize, width)
	if h.Notes != "" {
		over = append(over, Wrap(h.Notes, wordSize, width)...)
	}
	return over, Wrap(Caution, wordSize, width)
}

// Extra is the height the title block and the caution take on a page of a width, margins included.
func (h *Head) Extra(width float64) float64 {
	over, under := h.lines(width - 2*margin)
	return 2*margin + titleSize + 8 + leading*float64(len(over)+len(under)) + 8 + 10
}

// Draw draws the block on a page of a size and returns the room left between its two parts.
func (h *Head) Draw(p *Pen, width, height float64, dark bool) Room {
	text, second := ink.Color(ink.Text, dark), ink.Color(ink.Second, dark)
	over, under := h.lines(width - 2*margin)
	y := margin - 4
	for i, l := range Wrap(h.Title, titleSize, width-2*margin) {
		if i > 0 {
			break // a title is one line; the rest of a very long one is in the job line
		}
		p.Words(text, l, margin, y, titleSize, true)
	}
	y += titleSize + 8
	for _, l := range over {
		p.Words(second, l, margin, y, wordSize, false)
		y += leading
	}
	foot := height - margin - leading*float64(len(under))
	p.Line(ink.Color(ink.Rule, dark), 1, nil, [2]float64{margin, foot - 4}, [2]float64{width - margin, foot - 4})
	for i, l := range under {
		p.Words(second, l, margin, foot+leading*float64(i), wordSize, false)
	}
	return Room{margin, y + 8, width - margin, foot - 10}
}

// Wrap breaks words into lines no wider than a width; a word that is wider stands alone.
func Wrap(words string, size, width float64) []string { return WrapIn(words, size, false, width) }

// WrapIn is Wrap for words that may be bold.
func WrapIn(words string, size float64, bold bool, width float64) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(words) {
		next := w
		if line != "" {
			next = line + " " + w
		}
		if wide, _ := Measure(next, size, bold); wide > width && line != "" {
			out, line = append(out, line), w
			continue
		}
		line = next
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}
