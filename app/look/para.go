package look

import (
	"math"
	"strings"

	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Para is wrapped text of Small size: a bold beginning, then the rest; lines 19 apart. It can leave room at the end of its last line.
type Para struct {
	widget.BaseWidget
	lead, text string
	role       ink.Role
	tail       float32 // room kept free at the end of the last line
	most       int     // lines at most; 0: all
	cut        []spell
	cutAt      float32
}

// spell is one run of words on a line.
type spell struct {
	text string
	bold bool
	x    float32
	line int
}

// NewPara makes a paragraph; lead may be empty.
func NewPara(lead, text string, role ink.Role) *Para {
	p := &Para{lead: lead, text: text, role: role}
	p.ExtendBaseWidget(p)
	return p
}

// Set changes the words; equal words cost nothing. It reports whether they changed.
func (p *Para) Set(lead, text string, role ink.Role) bool {
	if p.lead == lead && p.text == text && p.role == role {
		return false
	}
	p.lead, p.text, p.role, p.cutAt = lead, text, role, 0
	p.Refresh()
	return true
}

// Text is all the words.
func (p *Para) Text() string { return strings.TrimSpace(p.lead + " " + p.text) }

// Tail keeps room free at the end of the last line (on a new one where there is none); returns the paragraph.
func (p *Para) Tail(width float32) *Para { p.tail, p.cutAt = width, 0; return p }

// Most sets the most lines shown; the last then ends with an ellipsis. Returns the paragraph.
func (p *Para) Most(lines int) *Para { p.most, p.cutAt = lines, 0; return p }

// HeightFor is the height at a width.
func (p *Para) HeightFor(width float32) float32 {
	return float32(p.wrap(width)) * Lead
}

// wrap breaks the words into lines and returns how many there are.
func (p *Para) wrap(width float32) int {
	if width == p.cutAt && p.cut != nil {
		return p.lines()
	}
	p.cut, p.cutAt = p.cut[:0], width
	space := Width(" ", Small, false)
	x, line := float32(0), 0
	measure := func() { // the end of the line so far
		if n := len(p.cut); x > 0 && n > 0 && p.cut[n-1].line == line {
			x = p.cut[n-1].x + Width(p.cut[n-1].text, Small, p.cut[n-1].bold)
		}
	}
	put := func(text string, bold bool) {
		for i, para := range strings.Split(text, "\n") {
			if i > 0 {
				x, line = 0, line+1
			}
			for _, w := range strings.Fields(para) {
				ww := Width(w, Small, bold)
				n := len(p.cut)
				if x > 0 && (math.Abs(float64(x+space+ww-width)) < slack || n > 0 && p.cut[n-1].bold != bold) {
					measure()
				}
				if x > 0 && x+space+ww > width {
					x, line = 0, line+1
				}
				if x > 0 && n > 0 && p.cut[n-1].line == line && p.cut[n-1].bold == bold {
					p.cut[n-1].text += " " + w
					x += space + ww
					continue
				}
				if x > 0 {
					x += space
				}
				p.cut = append(p.cut, spell{w, bold, x, line})
				x += ww
			}
		}
	}
	put(p.lead, true)
	put(p.text, false)
	measure()
	if p.most > 0 && line >= p.most {
		var kept []spell
		for _, w := range p.cut {
			if w.line < p.most {
				kept = append(kept, w)
			}
		}
		if n := len(kept); n > 0 {
			last := &kept[n-1]
			last.text = Shorten(last.text+" "+strings.Repeat("w", 200), Small, last.bold, width-p.tail-last.x)
			last.text = strings.TrimRight(strings.TrimSuffix(last.text, "…"), "w ") + "…"
		}
		p.cut, line = kept, p.most-1
	} else if p.tail > 0 && x+p.tail > width {
		line++
		p.cut = append(p.cut, spell{"", false, 0, line})
	}
	return line + 1
}

func (p *Para) lines() int {
	if n := len(p.cut); n > 0 {
		return p.cut[n-1].line + 1
	}
	return 1
}

// CreateRenderer is the toolkit's.
func (p *Para) CreateRenderer() fyne.WidgetRenderer {
	p.ExtendBaseWidget(p)
	return Made(p, &paraRenderer{p: p})
}

type paraRenderer struct {
	p    *Para
	text []*canvas.Text
}

func (r *paraRenderer) Layout(s fyne.Size) {
	r.p.wrap(s.Width)
	c := Color(r.p.role)
	base := float32(14.5)
	for len(r.text) < len(r.p.cut) {
		r.text = append(r.text, Text("", Small, r.p.role, false))
	}
	for i, t := range r.text {
		t.Hidden = i >= len(r.p.cut)
		if t.Hidden {
			continue
		}
		w := &r.p.cut[i]
		t.TextStyle.Bold = w.bold
		Paint(t, w.text, c)
		PlaceLeft(t, w.x, float32(w.line)*Lead+base)
	}
}

func (r *paraRenderer) MinSize() fyne.Size {
	w := r.p.Size().Width
	if w == 0 {
		w = 300
	}
	return fyne.NewSize(40, r.p.HeightFor(w))
}

func (r *paraRenderer) Refresh() {
	r.Layout(r.p.Size())
	canvas.Refresh(r.p)
}

func (r *paraRenderer) Objects() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(r.text))
	for i, t := range r.text {
		out[i] = t
	}
	return out
}
func (r *paraRenderer) Destroy() {}
