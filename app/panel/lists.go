package panel

import (
	"context"
	"fmt"
	"strings"
	"sync/atomic"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// findingsBody is all findings in the drawer, where the panel has room for the worst only.
type findingsBody struct {
	h      *Host
	list   *FindingList
	scroll *container.Scroll
	calm   fyne.CanvasObject
}

func newFindingsBody(h *Host) *findingsBody {
	b := &findingsBody{h: h, list: NewFindingList(h)}
	b.scroll = b.list.Scroll
	b.calm = look.Calm(b.scroll)
	return b
}
func (b *findingsBody) object() fyne.CanvasObject { return b.calm }
func (b *findingsBody) head() fyne.CanvasObject   { return nil }
func (b *findingsBody) bare() bool                { return false }
func (b *findingsBody) lines() []string           { return b.list.Texts() }
func (b *findingsBody) update(document.Change) {
	s, _ := b.h.Doc.Study()
	b.list.Update(s, b.h.Doc.Freshness().Live)
	b.scroll.Refresh()
}

// leftOut is which pairs are not compared, and why, and what is only tried at positions.
type leftOut struct {
	h      *Host
	box    *fyne.Container
	scroll *container.Scroll
	calm   fyne.CanvasObject
	of     string
}

func newLeftOut(h *Host) *leftOut {
	l := &leftOut{h: h, box: container.New(&look.Stack{Inset: look.Inset, Gap: 6, Above: 2, Below: 8})}
	l.scroll = container.NewVScroll(l.box)
	l.calm = look.Calm(l.scroll)
	return l
}
func (l *leftOut) object() fyne.CanvasObject { return l.calm }
func (l *leftOut) head() fyne.CanvasObject   { return nil }
func (l *leftOut) bare() bool                { return false }
func (l *leftOut) update(document.Change) {
	s, _ := l.h.Doc.Study()
	key := ""
	if s.Gaps != nil {
		key = fmt.Sprint(s.ProvedWords(), s.Gaps.LeftOut)
	}
	if key == l.of && len(l.box.Objects) > 0 {
		return
	}
	l.of = key
	l.box.Objects = []fyne.CanvasObject{look.NewPara("", strings.TrimSpace(s.ProvedWords()+" "+onlyDrawn), ink.Second)}
	if s.Gaps != nil {
		for _, o := range s.Gaps.LeftOut {
			name := o.A
			if o.B != "" {
				name += " / " + study.Lower(o.B)
			}
			l.box.Add(look.NewPara(name+":", o.Why, ink.Text))
		}
		if len(s.Gaps.LeftOut) == 0 {
			l.box.Add(look.NewPara("", "No pair is left out.", ink.Text))
		}
	}
	l.box.Refresh()
	l.scroll.Refresh()
}
func (l *leftOut) lines() []string {
	var out []string
	for _, o := range l.box.Objects {
		if p, ok := o.(*look.Para); ok {
			out = append(out, p.Text())
		}
	}
	return out
}

// guessed is what is not measured of one pivot or part.
type guessed struct {
	edit.Guess
	words string
}

// gather puts the coordinates of one pivot on one line.
func gather(dst []guessed, list []edit.Guess) []guessed {
	for _, g := range list {
		if n := len(dst); g.IsPivot && n > 0 && dst[n-1].IsPivot && dst[n-1].Pivot == g.Pivot {
			dst[n-1].words += ", " + g.Axis.String()
			continue
		}
		dst = append(dst, guessed{g, g.Name})
	}
	return dst
}

// line is a row's words; the first three are to be measured next.
func (m *toMeasure) line(i int) string {
	if i < 3 {
		return []string{"Measure these three next:  ", "and  ", "and  "}[i] + m.rows[i].words
	}
	return m.rows[i].words
}

// toMeasure lists what nobody has measured yet, what most hangs on first where that is worked out; the first three stand out.
type toMeasure struct {
	h     *Host
	words *look.Label
	list  *look.List
	calm  fyne.CanvasObject
	rows  []guessed
	found behind[[]study.Next]
}

func newMeasure(h *Host) *toMeasure {
	m := &toMeasure{h: h, words: look.NewLabel("", look.Small, ink.Second, false).Shrinks(40)}
	m.found = behind[[]study.Next]{post: h.Post, changed: m.refresh}
	m.list = look.NewList(func() int { return len(m.rows) }, func() fyne.CanvasObject {
		return container.New(&look.Stack{Inset: look.Inset, Above: 7, Below: 7}, look.NewLabel("", look.Body, ink.Text, false).Shrinks(20))
	}, func(i int, o fyne.CanvasObject) {
		if i >= len(m.rows) {
			return
		}
		o.(*fyne.Container).Objects[0].(*look.Label).SetText(m.line(i))
	})
	m.calm = look.Calm(m.list)
	m.list.OnSelected = func(i int) {
		if i < len(m.rows) {
			g := m.rows[i]
			if g.IsPivot {
				h.EditPivot(g.Pivot, g.Axis)
			} else {
				h.ShowPart(g.Part)
			}
		}
		m.list.UnselectAll()
	}
	return m
}
func (m *toMeasure) object() fyne.CanvasObject { return m.calm }
func (m *toMeasure) head() fyne.CanvasObject   { return m.words }
func (m *toMeasure) bare() bool                { return false }
func (m *toMeasure) closed()                   { m.found.drop() }
func (m *toMeasure) opened()                   { m.refresh() }
func (m *toMeasure) update(document.Change)    { m.refresh() }

// ready gives the list the keys: arrows and Enter choose what was measured.
func (m *toMeasure) ready() { m.h.focus(m.list) }

// named finds the list.
func (m *toMeasure) named(name string) fyne.CanvasObject {
	if name == "list" {
		return m.list
	}
	return nil
}

// refresh lists the guesses, and has the order worked out once the fine figures stand.
func (m *toMeasure) refresh() {
	s, _ := m.h.Doc.Study()
	f := m.h.Doc.Freshness()
	c := m.h.Doc.Measured()
	key := ""
	if s != nil && f.Live && f.Full && m.h.Opened() == MeasureDrawer {
		key = fmt.Sprintf("%p", s)
		m.found.ask(key, func(ctx context.Context, _ *atomic.Int64) ([]study.Next, error) { return s.Next(ctx), nil })
	} else {
		m.found.drop()
	}
	if key != "" && m.found.fresh(key) && len(m.found.got) == len(c.Guesses) {
		m.rows = m.rows[:0]
		for i := range m.found.got {
			n := &m.found.got[i]
			m.rows = append(m.rows, guessed{n.Guess, s.NextWords(n)})
		}
		m.words.SetText(words.F("%s; what moves most first. Press one to type what you measured.", c.String()))
	} else {
		m.rows = gather(m.rows[:0], c.Guesses)
		m.words.SetText(words.F("%s; these are still guesses. Press one to type what you measured.", c.String()))
	}
	m.list.Refresh()
}

func (m *toMeasure) lines() []string {
	var out []string
	for i := range m.rows {
		out = append(out, m.line(i))
	}
	return out
}
