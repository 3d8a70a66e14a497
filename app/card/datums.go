package card

import (
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/measure"

	"fyne.io/fyne/v2"
)

// datums is the menu of what a coordinate of the held pivot may be counted from, and the other ways to give it.
func (c *Card) datums(a edit.Axis) *fyne.Menu {
	j := c.doc.Current()
	now, _, _ := edit.DatumOf(j, c.of, a)
	m := fyne.NewMenu("")
	choose := func(words, name string) {
		i := fyne.NewMenuItem(words, func() { c.countFrom(a, name) })
		i.Checked = name == now
		m.Items = append(m.Items, i)
	}
	choose(axisWords[a], "")
	for _, n := range edit.DatumsFixing(j, a) {
		choose("from "+n, n)
	}
	m.Items = append(m.Items, fyne.NewMenuItemSeparator(), c.sources(a))
	if c.AskMany != nil {
		m.Items = append(m.Items, fyne.NewMenuItem(words.T("How far off it may be..."), func() { c.askOff(a) }))
	}
	m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	if c.OnTapes != nil {
		m.Items = append(m.Items, fyne.NewMenuItem("By tapes...", c.OnTapes))
	}
	if c.OnDatums != nil {
		m.Items = append(m.Items, fyne.NewMenuItem("Datums...", c.OnDatums))
	}
	return m
}

// sources is the menu of how a coordinate was come by: ready words, or a typed one.
func (c *Card) sources(a edit.Axis) *fyne.MenuItem {
	now, given := edit.GivenOf(c.doc.Current(), c.of, a)
	m := fyne.NewMenuItem(words.T("How it was measured"), nil)
	m.ChildMenu = fyne.NewMenu("")
	for _, s := range edit.Sources() {
		i := fyne.NewMenuItem(words.T(s.Key), func() { c.took(a, c.doc.SetSource(c.of, a, s.Key)) })
		i.Checked = now.Source == s.Key || s.Key == edit.GuessSource && !given
		m.ChildMenu.Items = append(m.ChildMenu.Items, i)
	}
	if c.AskMany != nil {
		m.ChildMenu.Items = append(m.ChildMenu.Items, fyne.NewMenuItem(words.T("Another way..."), func() {
			c.AskMany(words.T("How it was measured"), []string{words.T("In a few words")}, []string{now.Source}, func(t []string) error { return c.doc.SetSource(c.of, a, t[0]) })
		}))
	}
	return m
}

// askOff asks how far off a coordinate may be.
func (c *Card) askOff(a edit.Axis) {
	now, _ := edit.GivenOf(c.doc.Current(), c.of, a)
	text := ""
	if now.PlusMinus != nil {
		text = measure.Typed(*now.PlusMinus, measure.UnitOf(c.doc.Unit()))
	}
	c.AskMany(words.F("How far off %s may be", a), []string{words.F("± %s, empty for not known", c.doc.Unit())}, []string{text}, func(t []string) error { return c.doc.SetPlusMinus(c.of, a, t[0]) })
}

// took shows why something was not taken.
func (c *Card) took(a edit.Axis, err error) {
	c.refused[a] = ""
	if err != nil {
		c.refused[a] = document.Words(err)
	}
	c.Refresh()
}

// countFrom counts a coordinate from a datum; the pivot stays where it is.
func (c *Card) countFrom(a edit.Axis, name string) {
	c.took(a, c.doc.SetDatum(c.of, a, name))
}
