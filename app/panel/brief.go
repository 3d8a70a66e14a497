package panel

import (
	"fmt"
	"slices"
	"strings"

	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// briefRow is the findings in three lines.
type briefRow struct {
	widget.BaseWidget
	h    *Host
	mark *mark
	para *look.Para
	rest *look.Label
	all  *look.Button
	f    *study.Finding

	words string
	parts []string // what else there is
	count int      // of all findings
	role  ink.Role
}

func newBriefRow(h *Host) *briefRow {
	r := &briefRow{h: h, mark: newMark(study.Hits, 1), para: look.NewPara("", "", ink.Text).Most(2), rest: look.NewLabel("", look.Small, ink.Text, false).Shrinks(20)}
	r.all = look.NewButton(words.T("all"), look.Link, func() { h.Toggle(FindingsDrawer) }).Tall(22, 24).Caret(look.CaretUp)
	r.ExtendBaseWidget(r)
	return r
}

func (r *briefRow) Tapped(*fyne.PointEvent) {
	if r.f != nil && r.f.Place {
		r.h.GoThere(r.f)
	}
}

func (r *briefRow) set(s *study.Study, live bool) {
	r.f = s.Worst()
	n := map[study.Kind]int{}
	all := 0
	for i := range s.Findings {
		if f := &s.Findings[i]; f.SetAside == nil {
			n[f.Kind]++
			all++
		}
	}
	phrase, role := words.T("No contact found between the parts drawn."), ink.Text
	if s.RangeNote != "" && len(s.Smallest) == 0 {
		phrase = s.RangeNote
	}
	look.Show(r.mark, r.f != nil)
	if r.f != nil {
		phrase = r.f.Sentence
		r.mark.set(r.f.Kind)
		n[r.f.Kind]--
	} else if s.Refusal != "" {
		phrase = s.Refusal
	}
	if !live {
		role = ink.Second
		phrase = words.F("Was: %s", phrase)
	}
	var parts []string
	for k, w := range [...]string{words.T("hits"), words.T("runs out"), words.T("tight"), words.T("not known"), words.T("outside")} {
		if c := n[study.Kind(k)]; c > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", c, w))
		}
	}
	if r.words == phrase && r.role == role && r.count == all && slices.Equal(r.parts, parts) {
		return
	}
	r.words, r.role, r.count, r.parts = phrase, role, all, parts
	r.all.SetText(words.F("all %d", all))
	r.Refresh()
}

func (r *briefRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	return look.Made(r, &briefRenderer{r})
}

type briefRenderer struct{ r *briefRow }

func (x *briefRenderer) Layout(s fyne.Size) {
	r := x.r
	r.mark.Move(fyne.NewPos(6, 3))
	r.mark.Resize(fyne.NewSize(8, 26))
	r.para.Set("", inLines(r.words, s.Width-24-look.Inset, 2), r.role)
	r.para.Move(fyne.NewPos(24, 1))
	r.para.Resize(fyne.NewSize(s.Width-24-look.Inset, 2*look.Lead))
	m := r.all.MinSize()
	y := float32(2*look.Lead - 2)
	r.all.Move(fyne.NewPos(s.Width-look.Inset-m.Width, y))
	r.all.Resize(m)
	r.rest.Set(r.others(s.Width-24-look.Inset-m.Width-8), r.role)
	r.rest.Move(fyne.NewPos(24, y+1))
	r.rest.Resize(fyne.NewSize(s.Width-24-look.Inset-m.Width-8, 20))
}

// others says what else there is, in the room there is.
func (r *briefRow) others(room float32) string {
	if len(r.parts) == 0 {
		return words.T("nothing else")
	}
	for n := len(r.parts); n > 0; n-- {
		phrase := words.F("then %s", strings.Join(r.parts[:n], ", "))
		if n < len(r.parts) {
			phrase += ", ..."
		}
		if look.Width(phrase, look.Small, false) < room {
			return phrase
		}
	}
	return ""
}

// inLines shortens a sentence to some lines: what stands in brackets goes first, then clause by clause from its end.
func inLines(phrase string, width float32, lines int) string {
	fits := func(s string) bool { return len(look.Wrap(s, look.Small, false, width)) <= lines }
	if fits(phrase) {
		return phrase
	}
	for {
		a := strings.Index(phrase, " (")
		b := strings.Index(phrase, ")")
		if a < 0 || b < a {
			break
		}
		phrase = phrase[:a] + phrase[b+1:]
	}
	for s := strings.TrimSuffix(phrase, "."); ; {
		if fits(s + ".") {
			return s + "."
		}
		i := max(strings.LastIndex(s, "; "), strings.LastIndex(s, ". "))
		if i < 0 {
			return phrase
		}
		s = s[:i]
	}
}

func (x *briefRenderer) MinSize() fyne.Size { return fyne.NewSize(100, 58) }
func (x *briefRenderer) Refresh()           { x.Layout(x.r.Size()); canvas.Refresh(x.r) }
func (x *briefRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.r.mark, x.r.para, x.r.rest, x.r.all}
}
func (x *briefRenderer) Destroy() {}

// checkedRow says what was looked at, and opens what was left out.
type checkedRow struct {
	widget.BaseWidget
	h     *Host
	para  *look.Para
	why   *look.Button
	words string
	short bool
}

func newCheckedRow(h *Host) *checkedRow {
	r := &checkedRow{h: h, para: look.NewPara("", "", ink.Second)}
	r.why = look.NewButton(words.T("which and why"), look.Link, func() { h.Toggle(LeftOutDrawer) }).Tall(22, 24)
	r.para.Tail(r.why.MinSize().Width + 8)
	r.ExtendBaseWidget(r)
	return r
}

func (r *checkedRow) set(s *study.Study, live bool) {
	phrase := s.CheckedWords()
	if !live {
		phrase = words.F("Was checked%s", strings.TrimPrefix(phrase, "Checked"))
	}
	if done, ok := r.h.Doc.Progress(); ok {
		phrase = words.F("Working out %.0f %%. %s", 100*done, phrase)
	}
	if r.words != phrase {
		r.words = phrase
		r.Refresh()
	}
}

// inShort is the line without what its press tells too: how the gaps were looked at.
func inShort(phrase string) string {
	clauses := slices.DeleteFunc(strings.Split(phrase, "; "), func(c string) bool { return strings.HasPrefix(c, "gaps") })
	return strings.Replace(strings.Join(clauses, "; "), " pairs left", " left", 1)
}

// Tapped opens what was left out.
func (r *checkedRow) Tapped(*fyne.PointEvent) { r.h.Toggle(LeftOutDrawer) }

// Text is the words of the line.
func (r *checkedRow) Text() string { return r.words }

func (r *checkedRow) HeightFor(w float32) float32 {
	if r.short {
		return 24
	}
	r.para.Set("", r.words, ink.Second)
	return r.para.HeightFor(w-24-look.Inset) + 12
}

func (r *checkedRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	return look.Made(r, &checkedRenderer{r, &canvas.Rectangle{}})
}

type checkedRenderer struct {
	r    *checkedRow
	line *canvas.Rectangle
}

func (x *checkedRenderer) Layout(s fyne.Size) {
	r := x.r
	x.line.FillColor, x.line.Hidden = look.Color(ink.Rule), r.short
	x.line.Move(fyne.NewPos(look.Inset, 2))
	x.line.Resize(fyne.NewSize(s.Width-2*look.Inset, 1))
	w := s.Width - 24 - look.Inset
	m := r.why.MinSize()
	look.Show(r.why, !r.short)
	if r.short { // the whole line is the press
		r.para.Tail(0).Most(1)
		r.para.Set("", inShort(r.words), ink.Second)
		r.para.Move(fyne.NewPos(24, 0))
		r.para.Resize(fyne.NewSize(w, look.Lead))
		return
	}
	r.why.SetText(words.T("which and why"))
	r.para.Set("", r.words, ink.Second)
	r.para.Most(0).Tail(r.why.MinSize().Width + 8)
	m = r.why.MinSize()
	h := r.para.HeightFor(w)
	r.para.Move(fyne.NewPos(24, 7))
	r.para.Resize(fyne.NewSize(w, h))
	r.why.Move(fyne.NewPos(s.Width-look.Inset-m.Width, 7+h-look.Lead-3))
	r.why.Resize(m)
}
func (x *checkedRenderer) MinSize() fyne.Size { return fyne.NewSize(100, 24) }
func (x *checkedRenderer) Refresh()           { x.Layout(x.r.Size()); canvas.Refresh(x.r) }
func (x *checkedRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.line, x.r.para, x.r.why}
}
func (x *checkedRenderer) Destroy() {}
