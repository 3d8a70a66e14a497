package panel

import (
	"image/color"
	"math"
	"strings"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Tight is the tight line: the worst finding in its shortest form, readable from across the bench, with Go there beside it.
type Tight struct {
	widget.BaseWidget
	h      *Host
	GoTo   *look.Button
	Start  *look.Button
	mark   *mark
	say    tightWords
	aim    *study.Finding
	latest string
}

// tightWords is what the line says. Kind is "" where there is no finding: then Names is a whole sentence.
type tightWords struct {
	kind          study.Kind
	trouble       bool // a finding stands
	stale         bool
	word, names   string
	number, where string
}

// NewTight makes the line.
func NewTight(h *Host) *Tight {
	t := &Tight{h: h, mark: newMark(study.Hits, 1.8)}
	t.GoTo = look.NewButton(words.T("Go there"), look.Filled, func() {
		if t.aim != nil {
			h.GoThere(t.aim)
		}
	}).Tall(48, 48).Padding(20)
	t.Start = look.NewButton(words.T("Start my job"), look.Bold, h.StartMyJob).Tall(48, 48).Padding(14)
	t.ExtendBaseWidget(t)
	t.Update(^document.Change(0))
	return t
}

// Update looks at what changed.
func (t *Tight) Update(document.Change) {
	d := t.h.Doc
	s, _ := d.Study()
	say, aim := tightLine(s, d.Freshness().Live, d.Unit())
	t.aim = aim
	t.GoTo.Hidden = aim == nil || !aim.Place
	demo := d.IsDemo()
	if say == t.say && demo == !t.Start.Hidden && t.latest != "" {
		return
	}
	t.say, t.Start.Hidden = say, !demo
	t.latest = t.Text()
	t.Refresh()
}

func tightLine(s *study.Study, live bool, unit string) (tightWords, *study.Finding) {
	w := tightWords{stale: !live}
	if f := s.Worst(); f != nil {
		w.kind, w.trouble = f.Kind, true
		w.word, w.names, w.number, w.where = strings.ToUpper(f.Kind.String()), f.What, f.Number, f.Where
		if w.stale && w.number != "" {
			w.number = words.F("was %s", w.number)
		} else if w.stale {
			w.word = words.F("was %s", w.word)
		}
		return w, f
	}
	switch {
	case s.Refusal != "":
		w.trouble, w.kind, w.word, w.names = true, study.RunsOut, words.T("NO FIGURES"), s.Refusal
	case len(s.Smallest) == 0 && s.RangeNote != "":
		w.names = s.RangeNote
	case len(s.Smallest) == 0:
		w.names = words.T("Working out.")
		if live {
			w.names = words.T("Nothing to compare: no two parts drawn can touch.")
		}
	default:
		i := tightest(s)
		p := s.Gaps.Pairs[i]
		w.names = words.F("No contact found between the parts drawn. Tightest: %s / %s, %s.", s.Gaps.Parts[p.A].Name, study.Lower(s.Gaps.Parts[p.B].Name), s.GapWords(i))
		if w.stale {
			w.names = words.F("Was: %s", study.Lower(w.names))
		}
	}
	return w, nil
}

// tightest is the pair with the least smallest gap.
func tightest(s *study.Study) int {
	best, at := math.Inf(1), 0
	for i := range s.Smallest {
		if g := s.Smallest[i].Gap.Gap; g < best {
			best, at = g, i
		}
	}
	return at
}

// Text is the words of the line.
func (t *Tight) Text() string {
	s := t.say
	return strings.Join(strings.Fields(s.word+" "+s.names+" "+s.number+" "+s.where), " ")
}

// CreateRenderer is the toolkit's.
func (t *Tight) CreateRenderer() fyne.WidgetRenderer {
	t.ExtendBaseWidget(t)
	r := &tightRenderer{t: t, top: &canvas.Rectangle{}, bottom: &canvas.Rectangle{}}
	for i := range r.text {
		r.text[i] = look.Text("", look.Huge, ink.Text, i == 0 || i == 2)
	}
	for i := range r.small {
		r.small[i] = look.Text("", look.Small, ink.Text, false)
	}
	return r
}

type tightRenderer struct {
	t           *Tight
	slab        look.Slab
	ground      ink.Role
	top, bottom *canvas.Rectangle
	text        [3]*canvas.Text // kind, names, number
	small       [4]*canvas.Text // where, or the lines of a sentence
}

const leastTight = 22 // letters are not made smaller than this before names are shortened

func (r *tightRenderer) Layout(size fyne.Size) {
	t, say := r.t, &r.t.say
	r.slab.Paint(t, size, look.Color(r.ground))
	r.top.Resize(fyne.NewSize(size.Width, 3))
	r.bottom.Resize(fyne.NewSize(size.Width, 3))
	r.bottom.Move(fyne.NewPos(0, size.Height-3))
	end := size.Width - 8
	for _, b := range []*look.Button{t.Start, t.GoTo} {
		if b.Hidden {
			continue
		}
		w := b.MinSize().Width
		end -= w
		b.Move(fyne.NewPos(end, (size.Height-48)/2))
		b.Resize(fyne.NewSize(w, 48))
		end -= 12
	}
	t.mark.Hidden = !say.trouble
	t.mark.Move(fyne.NewPos(0, 3))
	t.mark.Resize(fyne.NewSize(24, size.Height-6))
	x := float32(40)
	if !say.trouble {
		x = 16
	}
	c := look.Color(ink.Text)
	if say.stale {
		c = look.Color(ink.Second)
	}
	for _, s := range r.small {
		s.Hidden = true
	}
	for _, s := range r.text {
		s.Hidden = true
	}
	if say.number == "" && say.where == "" {
		r.sentence(x, end, c)
		return
	}
	r.line(x, end, c)
}

// line lays out kind, names, number and the two small lines.
func (r *tightRenderer) line(x, end float32, c color.NRGBA) {
	say := &r.t.say
	phrase := [3]string{say.word, say.names, say.number}
	lines := strings.SplitN(say.where, "\n", 2)
	var small float32
	for _, l := range lines {
		small = max(small, look.Width(l, look.Small, false))
	}
	width := func(size float32) float32 {
		w := float32(0)
		for i, s := range phrase {
			if s != "" {
				w += look.Width(s, size, i != 1) + size*0.55
			}
		}
		return w
	}
	size := float32(look.Huge)
	room := end - x
	showSmall := say.where != "" && width(size)+small+8 <= room
	for !showSmall && size > leastTight && width(size) > room {
		size--
	}
	if over := width(size) - room; !showSmall && over > 0 {
		phrase[1] = look.Shorten(phrase[1], size, false, look.Width(phrase[1], size, false)-over)
	}
	for i, t := range r.text {
		if phrase[i] == "" {
			continue
		}
		t.Hidden = false
		t.TextSize = size
		look.Paint(t, phrase[i], c)
		look.PlaceLeft(t, x, 30+size*0.36)
		x += look.Width(phrase[i], size, i != 1) + size*0.55
	}
	if !showSmall {
		return
	}
	x += 4
	for i, l := range lines {
		t := r.small[i]
		t.Hidden, t.TextSize, t.TextStyle.Bold = false, look.Small, false
		look.Paint(t, l, c)
		y := float32(26 + 20*i)
		if len(lines) == 1 {
			y = 36
		}
		look.PlaceLeft(t, x, y)
	}
}

// sentence lays out a kind word and a sentence on one line, or on two smaller ones.
func (r *tightRenderer) sentence(x, end float32, c color.NRGBA) {
	say := &r.t.say
	if say.word != "" {
		t := r.text[0]
		t.Hidden, t.TextSize = false, look.Huge
		look.Paint(t, say.word, c)
		look.PlaceLeft(t, x, 43)
		x += look.Width(say.word, look.Huge, true) + 20
	}
	for size := float32(30); ; size-- {
		lines := look.Wrap(say.names, size, false, end-x)
		most := 1
		if size <= 20 {
			most = 2
		}
		if len(lines) > most && size > look.Small {
			continue
		}
		if len(lines) > 3 {
			lines[2] = look.Shorten(lines[2]+" "+lines[3], size, false, end-x)
			lines = lines[:3]
		}
		step := size * 1.27
		y := 30 + size*0.36 - step*float32(len(lines)-1)/2
		for i, l := range lines {
			t := r.small[i]
			t.Hidden, t.TextSize = false, size
			look.Paint(t, l, c)
			look.PlaceLeft(t, x, y+step*float32(i))
		}
		return
	}
}

func (r *tightRenderer) MinSize() fyne.Size { return fyne.NewSize(0, look.TightBar) }

func (r *tightRenderer) Refresh() {
	say := &r.t.say
	ground, edge := ink.Panel, ink.Rule
	switch {
	case say.trouble && say.kind == study.NotKnown:
		edge = ink.Edge
	case say.trouble:
		ground, edge = ink.TroubleGround, ink.Trouble
	}
	r.ground = ground
	r.top.FillColor, r.bottom.FillColor = look.Color(edge), look.Color(edge)
	if say.stale && say.trouble {
		r.top.FillColor, r.bottom.FillColor = look.Color(ink.Edge), look.Color(ink.Edge)
	}
	r.t.mark.set(say.kind)
	r.Layout(r.t.Size())
	canvas.Refresh(r.t)
}

func (r *tightRenderer) Objects() []fyne.CanvasObject {
	out := append([]fyne.CanvasObject{}, r.slab.Objects()...)
	out = append(out, r.top, r.bottom, r.t.mark)
	for _, t := range r.text {
		out = append(out, t)
	}
	for _, t := range r.small {
		out = append(out, t)
	}
	return append(out, r.t.GoTo, r.t.Start)
}
func (r *tightRenderer) Destroy() {}
