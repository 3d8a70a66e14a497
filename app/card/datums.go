package card

import (
	"axleloft/app/document"
	"axleloft/app/edit"

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
	m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	if c.OnTapes != nil {
		m.Items = append(m.Items, fyne.NewMenuItem("By tapes...", c.OnTapes))
	}
	if c.OnDatums != nil {
		m.Items = append(m.Items, fyne.NewMenuItem("Datums...", c.OnDatums))
	}
	return m
}

// countFrom counts a coordinate from a datum; the pivot stays where it is.
func (c *Card) countFrom(a edit.Axis, name string) {
	c.refused[a] = ""
	if err := c.doc.SetDatum(c.of, a, name); err != nil {
		c.refused[a] = document.Words(err)
	}
	c.Refresh()
}
