package panel

import (
	"context"
	"fmt"
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

// guessed is what is not measured of one pivot or part, and what hangs on it.
type guessed struct {
	edit.Guess
	words, moves string
}

// gather puts the coordinates of one pivot on one line.
func gather(dst []guessed, list []edit.Guess) []guessed {
	for _, g := range list {
		if n := len(dst); g.IsPivot && n > 0 && dst[n-1].IsPivot && dst[n-1].Pivot == g.Pivot {
			dst[n-1].words += ", " + g.Axis.String()
			continue
		}
		dst = append(dst, guessed{g, g.Name, ""})
	}
	return dst
}

// line is a row's first line; the first three are to be measured next.
func (m *toMeasure) line(i int) string {
	switch name := m.rows[i].words; {
	case i == 0 && len(m.rows) > 2:
		return words.F("Measure these three next:  %s", name)
	case i == 0:
		return words.F("Measure next:  %s", name)
	case i < 3:
		return words.F("and  %s", name)
	default:
		return name
	}
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
		return container.New(&look.Stack{Inset: look.Inset, Above: 5, Below: 5}, look.NewLabel("", look.Body, ink.Text, false).Shrinks(20), look.NewLabel("", look.Small, ink.Second, false).Shrinks(20))
	}, func(i int, o fyne.CanvasObject) {
		if i >= len(m.rows) {
			return
		}
		two := o.(*fyne.Container).Objects
		two[0].(*look.Label).SetText(m.line(i))
		two[1].(*look.Label).SetText(m.rows[i].moves)
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
			m.rows = append(m.rows, guessed{n.Guess, n.Short(), s.NextMoves(n)})
		}
		m.words.SetText(words.T("What moves most comes first. Press one to type it."))
	} else {
		m.rows = gather(m.rows[:0], c.Guesses)
		m.words.SetText(words.T("These are still guesses. Press one to type it."))
	}
	m.list.Refresh()
}

func (m *toMeasure) lines() []string {
	var out []string
	for i := range m.rows {
		line := m.line(i)
		if moves := m.rows[i].moves; moves != "" {
			line += ": " + moves
		}
		out = append(out, line)
	}
	return out
}
