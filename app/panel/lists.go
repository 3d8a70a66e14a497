package panel

import (
	"fmt"
	"strings"

	"axleloft/app/document"
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
	l.box.Objects = []fyne.CanvasObject{look.NewPara("", strings.TrimSpace(s.ProvedWords()+" "+words.T(onlyDrawn)), ink.Second)}
	if s.Gaps != nil {
		for _, o := range s.Gaps.LeftOut {
			name := o.A
			if o.B != "" {
				name += " / " + study.Lower(o.B)
			}
			l.box.Add(look.NewPara(name+":", o.Why, ink.Text))
		}
		if len(s.Gaps.LeftOut) == 0 {
			l.box.Add(look.NewPara("", words.T("No pair is left out."), ink.Text))
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
