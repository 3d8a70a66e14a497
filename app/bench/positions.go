package bench

import (
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/view"
	"axleloft/app/words"

	"fyne.io/fyne/v2"
)

// positionsMenu offers a second position of the axle to be drawn in the views: two far ones against each other, or one against where the axle stands.
func (b *Bench) positionsMenu() *fyne.Menu {
	d := b.doc
	other, on := d.OtherChosen()
	here, atCorner := d.CornerAt()
	m := fyne.NewMenu("")
	put := func(label string, checked, can bool, run func()) {
		i := fyne.NewMenuItem(label, run)
		i.Checked, i.Disabled = checked, !can
		m.Items = append(m.Items, i)
	}
	both := func(label string, one, two document.Corner) {
		put(label, on && atCorner && here == one && other == two, d.HasCorner(one) && d.HasCorner(two), func() { d.Against(one, two) })
	}
	both(words.T("Full bump against full droop"), document.FullBump, document.FullDroop)
	both(words.T("Left wheel up against right wheel up"), document.LeftUp, document.RightUp)
	m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	for _, c := range []document.Corner{document.Ride, document.FullBump, document.FullDroop, document.LeftUp, document.RightUp} {
		put(words.F("Here against %s", c.Words()), on && other == c && !(atCorner && (here == document.FullBump && c == document.FullDroop || here == document.LeftUp && c == document.RightUp)),
			d.HasCorner(c), func() { d.SetOther(c) })
	}
	m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	put(words.T("One position only"), !on, true, d.ClearOther)
	return m
}

// askPositions opens that menu over the pad.
func (b *Bench) askPositions() { look.PopUp(b.positionsMenu(), b.pad) }

// otherWords says under exported views what the second position is and how far what is held moves to it; "" where there is none.
func (b *Bench) otherWords() string {
	d := b.doc
	c, at, ok := d.Other()
	if !ok {
		return ""
	}
	var held *edit.Pivot
	if p, ok := d.Held(); ok {
		held = &p
	}
	var part *edit.Part
	if p, ok := d.Selected(); ok {
		part = &p
	}
	return words.F("long dash two dots: axle at %s. ", c.Words()) + view.MovedWords(d.Now(), d.Position(), at, held, part) + " "
}
