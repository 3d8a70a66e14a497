package panel

import (
	"math"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/geometry/vessel"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// dipTable is the tank's tilt and what it holds up to each depth.
type dipTable struct {
	k       *tank
	tilt    [2]float64 // deg: left side up, nose down
	entry   [2]*Entry
	label   [2]*look.Label
	refused *look.Para
	stick   *look.Para // where the dip stick stands
	head    *figureRow
	list    *look.List
	box     *fyne.Container
}

func newDipTable(k *tank) *dipTable {
	t := &dipTable{k: k, head: newFigureRow(true), refused: look.NewPara("", "", ink.Text), stick: look.NewPara("", "", ink.Second)}
	t.refused.Hide()
	var rows []fyne.CanvasObject
	for i, name := range [2]string{words.T("Tilt, left side up"), words.T("Tilt, nose down")} {
		t.label[i] = look.NewLabel(name, look.Small, ink.Text, false).Shrinks(40)
		e := NewEntry("0", nil, nil).Wide(54)
		e.OnSubmitted = func(string) { t.take(i) }
		e.OnLeave = func() { t.take(i) }
		e.escape = func() { e.SetText(plainNumber(t.tilt[i])) }
		t.entry[i] = e
		rows = append(rows, container.New(&fieldLine{}, t.label[i], look.Calm(e), look.NewLabel(words.T("deg"), look.Small, ink.Second, false)))
	}
	rows = append(rows, t.refused, container.New(&look.Stack{Inset: 4}, t.stick), t.head)
	t.list = look.NewList(func() int { return len(k.dips.got.levels) }, func() fyne.CanvasObject { return newFigureRow(false) }, func(i int, o fyne.CanvasObject) {
		if i < len(k.dips.got.levels) {
			o.(*figureRow).set(t.row(&k.dips.got.levels[i]), t.role())
		}
	})
	t.list.HideSeparators = true
	t.list.OnSelected = func(int) { t.list.UnselectAll() }
	t.box = container.NewBorder(container.New(&look.Stack{}, rows...), nil, nil, nil, look.Calm(t.list))
	return t
}

// row is a line of the table.
func (t *dipTable) row(l *vessel.Level) []string {
	depth := num(l.Depth, 0)
	if l.Depth != math.Round(l.Depth) {
		depth = num(l.Depth, 1)
	}
	if t.k.h.Doc.Unit() == "in" {
		depth = num(l.Depth/mmPerInch, 2)
	}
	return []string{depth, study.Litres(l.Before), study.Litres(l.After)}
}

func (t *dipTable) role() ink.Role {
	if _, fresh := t.k.current(); !fresh || t.k.dips.busy {
		return ink.Second
	}
	return ink.Text
}

// take reads a tilt that was typed.
func (t *dipTable) take(i int) {
	v, err := measure.ParseAngle(t.entry[i].Text)
	if err == nil && !(math.Abs(v) <= study.MostTilt) {
		err = words.Errorf("Give a tilt from %s to %s deg: beyond, a depth on a dip stick means nothing.", num(-study.MostTilt, 0), num(study.MostTilt, 0))
	}
	phrase := ""
	if err != nil {
		phrase = document.Words(err)
	} else {
		t.tilt[i] = v
		t.entry[i].was = t.entry[i].Text
	}
	t.refused.Set("", phrase, ink.Text)
	look.Show(t.refused, phrase != "")
	t.box.Refresh()
	t.k.refresh()
}

func (t *dipTable) update(f *tankFound) {
	look.Show(t.box, f != nil && f.t.Vessel.Why == "")
	unit := t.k.h.Doc.Unit()
	if f != nil {
		where := words.T("in the middle")
		if f.t.Vessel.StickGiven() {
			where = words.T("where it is given")
		}
		if t.stick.Set("", words.F("Dip stick %s; depth from the lowest place.", where), ink.Second) {
			t.box.Refresh()
		}
	}
	t.head.set([]string{words.F("Dip %s", unit), words.T("Before L"), words.T("After L")}, ink.Text)
	t.list.Refresh()
}
