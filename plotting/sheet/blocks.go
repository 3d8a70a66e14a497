package sheet

import (
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
)

// Heading begins a part of a sheet. It stays with what follows.
type Heading struct {
	Words string
	Minor bool // within a part
}

func (b Heading) flow(f *flow) {
	size, above, below := headSize, 14.0, 6.0
	if b.Minor {
		size, above, below = subSize, 8, 3
	}
	tall := size*1.3 + below
	f.need(above + tall + f.with)
	f.skip(above)
	f.put(tall, func(p *paper.Pen, x, y float64) {
		p.Words(ink.Color(ink.Text, false), fit(b.Words, size, true, f.w), x, y, size, true)
	})
}

// Para is wrapped words: a bold beginning, then the rest.
type Para struct {
	Lead, Words string
	Small       bool
	Caution     bool // with a heavy bar beside it
}

func (b Para) flow(f *flow) {
	size, lead := bodySize, bodyLead
	if b.Small {
		size, lead = smallSize, smallLead
	}
	in := 0.0
	if b.Caution {
		in = 12
	}
	lines := wrapLead(b.Lead, b.Words, size, f.w-in)
	whole := 2 // lines that stay together
	if len(lines) <= 7 {
		whole = len(lines)
	}
	f.need(lead * float64(min(len(lines), whole)))
	role := ink.Text
	if b.Small && !b.Caution {
		role = ink.Second
	}
	for len(lines) > 0 {
		n := max(1, min(len(lines), int(f.room()/lead)))
		if n < len(lines) && len(lines)-n == 1 && n > 2 {
			n-- // no line alone on the next page
		}
		now := lines[:n]
		lines = lines[n:]
		f.put(lead*float64(n), func(p *paper.Pen, x, y float64) {
			if b.Caution {
				p.Line(ink.Color(ink.Text, false), 3, nil, [2]float64{x + 1.5, y + 1}, [2]float64{x + 1.5, y + lead*float64(n) - 1})
			}
			for i, l := range now {
				at := x + in
				if l.bold != "" {
					p.Words(ink.Color(ink.Text, false), l.bold, at, y+lead*float64(i), size, true)
				}
				if l.plain != "" {
					p.Words(ink.Color(role, false), l.plain, at+l.shift, y+lead*float64(i), size, false)
				}
			}
		})
		if len(lines) > 0 {
			f.next()
		}
	}
	f.y += 4
}

// leadLine is a line of words whose beginning is bold.
type leadLine struct {
	bold, plain string
	shift       float64 // where the plain words begin
}

func wrapLead(lead, words string, size, width float64) []leadLine {
	if lead == "" {
		var out []leadLine
		for _, l := range paper.Wrap(words, size, width) {
			out = append(out, leadLine{plain: l})
		}
		return out
	}
	w, _ := paper.Measure(lead+" ", size, true)
	if w > width*0.6 { // a long lead has its own lines
		out := []leadLine{}
		for _, l := range paper.WrapIn(lead, size, true, width) {
			out = append(out, leadLine{bold: l})
		}
		return append(out, wrapLead("", words, size, width)...)
	}
	first, rest := firstLine(words, size, width-w)
	out := []leadLine{{bold: lead, plain: first, shift: w}}
	return append(out, wrapLead("", rest, size, width)...)
}

// firstLine cuts from words what fits a width.
func firstLine(words string, size, width float64) (first, rest string) {
	lines := paper.Wrap(words, size, width)
	if len(lines) == 0 {
		return "", ""
	}
	first = lines[0]
	if w, _ := paper.Measure(first, size, false); w > width {
		return "", words
	}
	for _, l := range lines[1:] {
		if rest != "" {
			rest += " "
		}
		rest += l
	}
	return first, rest
}

// Points are short paragraphs with a dot before each.
type Points []string

func (b Points) flow(f *flow) {
	for _, words := range b {
		lines := paper.Wrap(words, bodySize, f.w-14)
		f.need(bodyLead * float64(len(lines)))
		f.put(bodyLead*float64(len(lines))+2, func(p *paper.Pen, x, y float64) {
			p.Disc(ink.Color(ink.Text, false), x+4, y+8, 1.8)
			for i, l := range lines {
				p.Words(ink.Color(ink.Text, false), l, x+14, y+bodyLead*float64(i), bodySize, false)
			}
		})
	}
	f.y += 4
}

// Fact is a name and what it is.
type Fact struct{ Name, Value string }

// Facts are names and values in columns side by side, read downward.
type Facts struct {
	Facts   []Fact
	Columns int // 0: 2
}

func (b Facts) flow(f *flow) {
	cols := b.Columns
	if cols == 0 {
		cols = 2
	}
	const between = 18.0
	w := (f.w - between*float64(cols-1)) / float64(cols)
	name := 0.0
	for _, x := range b.Facts {
		n, _ := paper.Measure(x.Name, bodySize, false)
		name = max(name, n)
	}
	name = min(name, w*0.55) + 10
	type cell struct {
		name, value []string
		tall        float64
	}
	cells := make([]cell, len(b.Facts))
	for i, x := range b.Facts {
		c := cell{name: paper.Wrap(x.Name, bodySize, name-8), value: paper.Wrap(x.Value, bodySize, w-name)}
		c.tall = bodyLead*float64(max(len(c.name), len(c.value), 1)) + 3
		cells[i] = c
	}
	rows := (len(cells) + cols - 1) / cols
	for r := range rows {
		tall := 0.0
		for c := range cols {
			if i := c*rows + r; i < len(cells) {
				tall = max(tall, cells[i].tall)
			}
		}
		f.need(tall)
		f.put(tall, func(p *paper.Pen, x, y float64) {
			for c := range cols {
				i := c*rows + r
				if i >= len(cells) {
					continue
				}
				at := x + float64(c)*(w+between)
				for k, l := range cells[i].name {
					p.Words(ink.Color(ink.Second, false), l, at, y+bodyLead*float64(k), bodySize, false)
				}
				for k, l := range cells[i].value {
					p.Words(ink.Color(ink.Text, false), l, at+name, y+bodyLead*float64(k), bodySize, false)
				}
				p.Line(ink.Color(ink.Rule, false), Hair, nil, [2]float64{at, y + tall - 2}, [2]float64{at + w, y + tall - 2})
			}
		})
	}
	f.y += 6
}

// Figure is something drawn: figures of a row share the width by their parts.
type Figure struct {
	Caption string
	Part    float64 // of the width; 0: an equal one
	Draw    func(p *paper.Pen, box paper.Room)
}

// Figures stand side by side.
type Figures struct {
	Tall    float64 // of each, without its caption, units
	Figures []Figure
}

func (b Figures) flow(f *flow) {
	const between = 12.0
	sum := 0.0
	for _, g := range b.Figures {
		sum += part(g)
	}
	w := f.w - between*float64(len(b.Figures)-1)
	captions := make([][]string, len(b.Figures))
	lines := 0
	for i, g := range b.Figures {
		captions[i] = paper.Wrap(g.Caption, smallSize, w*part(g)/sum)
		lines = max(lines, len(captions[i]))
	}
	under := smallLead*float64(lines) + 8
	tall := min(b.Tall, f.y1-f.y0-under)
	f.need(tall + under)
	f.put(tall+under, func(p *paper.Pen, x, y float64) {
		for i, g := range b.Figures {
			gw := w * part(g) / sum
			g.Draw(p, paper.Room{X0: x, Y0: y, X1: x + gw, Y1: y + tall})
			for k, l := range captions[i] {
				p.Words(ink.Color(ink.Second, false), l, x, y+tall+3+smallLead*float64(k), smallSize, false)
			}
			x += gw + between
		}
	})
}

func part(g Figure) float64 {
	if g.Part > 0 {
		return g.Part
	}
	return 1
}

// Break begins a page.
type Break struct{}

func (Break) flow(f *flow) {
	if !f.fresh() {
		f.next()
	}
}

// Sign is room for names, signatures and dates, a field each.
type Sign []string

// signTall is the height of a Sign.
const signTall = 66.0

func (b Sign) flow(f *flow) {
	const tall, between = signTall - 8, 14.0
	f.need(signTall)
	w := (f.w - between*float64(len(b)-1)) / float64(len(b))
	f.put(signTall, func(p *paper.Pen, x, y float64) {
		for i, words := range b {
			at := x + float64(i)*(w+between)
			p.Line(ink.Color(ink.Text, false), Thin, nil, [2]float64{at, y + tall - 18}, [2]float64{at + w, y + tall - 18})
			p.Words(ink.Color(ink.Second, false), fit(words, smallSize, false, w), at, y+tall-15, smallSize, false)
		}
	})
}
