package sheet

import (
	"strings"

	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
)

// Column is one column of a table.
type Column struct {
	Head   string
	Right  bool    // figures: they end at the column's right side
	Least  float64 // width at least, units
	Write  bool    // room to write by hand: a box in each row
	Strong bool
}

// Row is one row. A row of one cell in a table of several columns is a head within it.
type Row struct {
	Cells  []string
	Strong bool
}

// Table is rows under heads, over the whole width. Its heads come again on each page.
type Table struct {
	Columns []Column
	Rows    []Row
	Small   bool
	Narrow  bool   // no wider than its cells: on a wide page a row is read across
	Empty   string // what is said where there is no row
}

// Rows makes rows of cells.
func Rows(cells ...[]string) []Row {
	out := make([]Row, len(cells))
	for i, c := range cells {
		out[i] = Row{Cells: c}
	}
	return out
}

const (
	cellGap  = 10.0 // between columns
	rowAir   = 5.0  // of a row, over and under its words together
	writeRow = 24.0 // a row in which a hand writes
	writeBox = 62.0

	together = 0.3 // of a page: a table less tall than this stays whole
	last     = 3   // rows that go to the next page together, at the end of a longer one
)

func (b Table) flow(f *flow) {
	if len(b.Rows) == 0 {
		if b.Empty != "" {
			Para{Words: b.Empty}.flow(f)
		}
		return
	}
	t := setting{Table: b, size: bodySize, lead: bodyLead}
	if b.Small {
		t.size, t.lead = smallSize, smallLead
	}
	t.widths(f.w)
	head := t.wrap(t.heads(), true)
	headTall := t.tall(head, false)
	begin := func(more float64) {
		f.need(headTall + more)
		f.put(headTall, func(p *paper.Pen, x, y float64) {
			t.draw(p, x, y, headTall, head, true, true)
			p.Line(ink.Color(ink.Text, false), Thin, nil, [2]float64{x, y + headTall - 0.5}, [2]float64{x + f.w, y + headTall - 0.5})
		})
	}
	type laid struct {
		lines [][]string
		tall  float64
		span  bool
	}
	rows := make([]laid, len(b.Rows))
	whole := headTall
	for i, r := range b.Rows {
		x := laid{span: len(r.Cells) == 1 && len(b.Columns) > 1}
		if x.span {
			x.lines = [][]string{paper.WrapIn(r.Cells[0], t.size, true, f.w)}
			x.tall = t.lead*float64(len(x.lines[0])) + rowAir + 4
		} else {
			x.lines = t.wrap(r.Cells, r.Strong)
			x.tall = t.tall(x.lines, true)
		}
		rows[i] = x
		whole += x.tall
	}
	if whole < (f.y1-f.y0)*together { // a small one is not torn in two
		f.need(whole + f.after)
	}
	for i, r := range b.Rows {
		span, lines, tall := rows[i].span, rows[i].lines, rows[i].tall
		need := tall
		if span && i+1 < len(b.Rows) {
			need += t.lead + rowAir
		}
		if left := rows[i:]; i > last && len(left) == last {
			need = 8 + f.after
			for _, x := range left {
				need += x.tall
			}
		}
		switch {
		case i == 0:
			begin(need)
		case f.room() < need && !f.fresh():
			f.next()
			begin(0)
		}
		f.put(tall, func(p *paper.Pen, x, y float64) {
			if span {
				for k, l := range lines[0] {
					p.Words(ink.Color(ink.Text, false), l, x, y+4+rowAir/2+t.lead*float64(k), t.size, true)
				}
			} else {
				t.draw(p, x, y, tall, lines, r.Strong, false)
			}
			p.Line(ink.Color(ink.Rule, false), Hair, nil, [2]float64{x, y + tall - 0.5}, [2]float64{x + f.w, y + tall - 0.5})
		})
	}
	f.y += 8
}

// setting is a table with the widths of its columns.
type setting struct {
	Table
	size, lead float64
	wide       []float64
}

func (t *setting) heads() []string {
	out := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		out[i] = c.Head
	}
	return out
}

// widths shares the width out: each column what its longest cell takes if there is room, the rest to the first column of words; else every column its
// longest word, the narrow ones all they want.
func (t *setting) widths(width float64) {
	n := len(t.Columns)
	whole, least := make([]float64, n), make([]float64, n)
	look := func(i int, words string, bold bool) {
		w, _ := paper.Measure(words, t.size, bold)
		whole[i] = max(whole[i], w)
		for _, s := range strings.Fields(words) {
			w, _ := paper.Measure(s, t.size, bold)
			least[i] = max(least[i], w)
		}
	}
	for i, c := range t.Columns {
		// A head of several words may stand on two lines.
		for _, s := range strings.Fields(c.Head) {
			w, _ := paper.Measure(s, t.size, true)
			least[i], whole[i] = max(least[i], w), max(whole[i], w)
		}
		whole[i], least[i] = max(whole[i], c.Least), max(least[i], c.Least)
		if c.Write {
			whole[i], least[i] = max(whole[i], writeBox), max(least[i], writeBox)
		}
	}
	for _, r := range t.Rows {
		if len(r.Cells) == 1 && n > 1 {
			continue
		}
		for i, s := range r.Cells[:min(len(r.Cells), n)] {
			look(i, s, r.Strong || t.Columns[i].Strong)
		}
	}
	room := width - cellGap*float64(n-1)
	sumWhole, sumLeast := 0.0, 0.0
	for i := range n {
		sumWhole += whole[i]
		sumLeast += least[i]
	}
	t.wide = make([]float64, n)
	switch {
	case sumWhole <= room:
		copy(t.wide, whole)
		spare := room - sumWhole
		// Heads on two lines, then on one, as far as what is to spare goes.
		for _, lines := range []int{3, 2, 1} {
			more := make([]float64, n)
			sum := 0.0
			for i, c := range t.Columns {
				more[i] = max(0, headWidth(c.Head, t.size, lines)-t.wide[i])
				sum += more[i]
			}
			if sum > spare {
				break
			}
			for i := range more {
				t.wide[i] += more[i]
			}
			spare -= sum
		}
		first := -1
		for i, c := range t.Columns {
			if !c.Right && !c.Write {
				first = i
				break
			}
		}
		for i := range n {
			switch {
			case first < 0: // figures only
				t.wide[i] += spare / float64(n)
			case i == first:
				t.wide[i] += spare
				if t.Narrow {
					t.wide[i] -= max(0, spare-30)
				}
			}
		}
	case sumLeast <= room:
		// Heads on three lines where the words leave the room.
		more := make([]float64, n)
		sum := 0.0
		for i, c := range t.Columns {
			more[i] = max(least[i], headWidth(c.Head, t.size, 3))
			sum += more[i]
		}
		if sum <= room*0.8 {
			least = more
			for i := range whole {
				whole[i] = max(whole[i], least[i])
			}
		}
		t.level(whole, least, room)
	default:
		for i := range n {
			t.wide[i] = least[i] * room / sumLeast
		}
	}
}

// headWidth is the least width at which bold words stand on so many lines.
func headWidth(words string, size float64, lines int) float64 {
	whole, _ := paper.Measure(words, size, true)
	if lines <= 1 {
		return whole
	}
	lo, hi := 0.0, whole
	for hi-lo > 0.5 {
		mid := (lo + hi) / 2
		wide := 0.0
		list := paper.WrapIn(words, size, true, mid)
		for _, l := range list {
			w, _ := paper.Measure(l, size, true)
			wide = max(wide, w)
		}
		if len(list) <= lines && wide <= mid {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// level gives the narrow columns all they want and the others an equal width, at least their longest word.
func (t *setting) level(whole, least []float64, room float64) {
	const tries = 60 // halvings: far below a thousandth of a unit
	lo, hi := 0.0, room
	for range tries {
		mid := (lo + hi) / 2
		sum := 0.0
		for i := range whole {
			sum += max(least[i], min(whole[i], mid))
		}
		if sum > room {
			hi = mid
		} else {
			lo = mid
		}
	}
	for i := range whole {
		t.wide[i] = max(least[i], min(whole[i], lo))
	}
}

func (t *setting) wrap(cells []string, bold bool) [][]string {
	out := make([][]string, len(t.Columns))
	for i, s := range cells[:min(len(cells), len(t.Columns))] {
		for _, para := range strings.Split(s, "\n") {
			lines := paper.WrapIn(para, t.size, bold || t.Columns[i].Strong, t.wide[i]+0.5)
			if len(lines) == 0 {
				lines = []string{""}
			}
			out[i] = append(out[i], lines...)
		}
	}
	return out
}

func (t *setting) tall(lines [][]string, row bool) float64 {
	n := 1
	for _, l := range lines {
		n = max(n, len(l))
	}
	h := t.lead*float64(n) + rowAir
	if row {
		for _, c := range t.Columns {
			if c.Write {
				h = max(h, writeRow)
			}
		}
	}
	return h
}

func (t *setting) draw(p *paper.Pen, x, y, tall float64, lines [][]string, bold, head bool) {
	most := 0
	for _, l := range lines {
		most = max(most, len(l))
	}
	for i, c := range t.Columns {
		strong := bold || c.Strong
		from := y + rowAir/2
		if head { // heads stand on their rule
			from += t.lead * float64(most-len(lines[i]))
		}
		for k, l := range lines[i] {
			if c.Right {
				right(p, ink.Color(ink.Text, false), l, x+t.wide[i], from+t.lead*float64(k), t.size, strong)
			} else {
				p.Words(ink.Color(ink.Text, false), l, x, from+t.lead*float64(k), t.size, strong)
			}
		}
		if c.Write && !head {
			p.Outline(ink.Color(ink.Second, false), Hair, [][2]float64{{x, y + 3}, {x + t.wide[i], y + 3}, {x + t.wide[i], y + tall - 4}, {x, y + tall - 4}}...)
		}
		x += t.wide[i] + cellGap
	}
}
