package card

import (
	"axleloft/app/edit"
	"axleloft/app/words"

	"fyne.io/fyne/v2"
)

// datums is the menu of what a coordinate of the held pivot may be counted from.
func (c *Card) datums(a edit.Axis) *fyne.Menu {
	j := c.doc.Current()
	now, _, _ := edit.DatumOf(j, c.of, a)
	m := fyne.NewMenu("")
	choose := func(phrase, name string) {
		i := fyne.NewMenuItem(phrase, func() { c.countFrom(a, name) })
		i.Checked = name == now
		m.Items = append(m.Items, i)
	}
	choose(axisWords(a), "")
	for _, n := range edit.DatumsFixing(j, a) {
		choose(words.F("from %s", n), n)
	}
	if c.OnDatums != nil {
		m.Items = append(m.Items, fyne.NewMenuItemSeparator(), fyne.NewMenuItem(words.T("Datums..."), c.OnDatums))
	}
	return m
}

// sources is the menu of how a coordinate was come by: ready words, a hand's own, or by tapes.
func (c *Card) sources(a edit.Axis) *fyne.Menu {
	now, given := edit.GivenOf(c.doc.Current(), c.of, a)
	m := fyne.NewMenu("")
	ready := false
	for _, s := range edit.Sources() {
		i := fyne.NewMenuItem(sourceWords(s.Key), func() { c.took(a, c.doc.SetSource(c.of, a, s.Key)) })
		i.Checked = now.Source == s.Key || s.Key == edit.GuessSource && !given
		ready = ready || i.Checked
		m.Items = append(m.Items, i)
	}
	if c.AskMany != nil {
		own := fyne.NewMenuItem(words.T("own words..."), func() {
			c.AskMany(words.T("How it was measured"), []string{words.T("In a few words")}, []string{now.Source}, func(t []string) error { return c.doc.SetSource(c.of, a, t[0]) })
		})
		own.Checked = now.Source != "" && !ready
		m.Items = append(m.Items, own)
	}
	if c.OnTapes != nil {
		m.Items = append(m.Items, fyne.NewMenuItemSeparator(), fyne.NewMenuItem(words.T("By tapes..."), c.OnTapes))
	}
	if c.OnStood != nil {
		m.Items = append(m.Items, fyne.NewMenuItem(words.T("Axle as measured..."), c.OnStood))
	}
	return m
}

// countFrom counts a coordinate from a datum; the pivot stays where it is.
func (c *Card) countFrom(a edit.Axis, name string) {
	c.took(a, c.doc.SetDatum(c.of, a, name))
}
