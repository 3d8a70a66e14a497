package bench

import (
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/measure"

	"fyne.io/fyne/v2"
)

// denominator is the fraction of an inch lengths on the pivot card are shown to.
func (b *Bench) denominator() int {
	n := b.app.Preferences().IntWithFallback(keyFraction, measure.DefaultDenominator)
	if !slices.Contains(measure.Denominators(), n) {
		return measure.DefaultDenominator
	}
	return n
}

// setDenominator keeps the fraction of an inch a hand has chosen.
func (b *Bench) setDenominator(n int) {
	b.app.Preferences().SetInt(keyFraction, n)
	b.card.SetDenominator(n)
}

// unitMenu chooses what lengths are shown and typed in, and the fraction of an inch they are shown to.
func (b *Bench) unitMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	add := func(label string, on bool, f func()) {
		x := fyne.NewMenuItem(label, f)
		x.Checked = on
		m.Items = append(m.Items, x)
	}
	now := b.doc.Unit()
	add(words.T("Millimetres"), now == "mm", func() { b.doc.SetUnit("mm") })
	add(words.T("Inches"), now == "in", func() { b.doc.SetUnit("in") })
	m.Items = append(m.Items, fyne.NewMenuItemSeparator(), b.item("unit"), fyne.NewMenuItemSeparator())
	for _, n := range measure.Denominators() {
		add(words.F("Inches to 1/%d, and what is left over", n), b.denominator() == n, func() { b.setDenominator(n) })
	}
	return m
}

// unitItem is the same in the job's menu, for windows whose bar has no room for it.
func (b *Bench) unitItem() *fyne.MenuItem {
	m := fyne.NewMenuItem(words.T("Lengths"), nil)
	m.ChildMenu = b.unitMenu()
	return m
}
