package card

import (
	"math"
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/words"

	"fyne.io/fyne/v2"
)

// keepTexts are what the button of the keeps may say, the longest first: what is kept of the held pivot, or how much.
func (c *Card) keepTexts() []string {
	list := edit.KeepWords(c.doc.Current(), c.of)
	if len(list) == 0 {
		return []string{words.T("Keep")}
	}
	return []string{words.F("Keep: %s", strings.Join(list, ", ")), words.F("Keep: %s ...", list[0]), words.F("Keep: %d", len(list))}
}

// wayLabel is a line a pivot may be kept on, as the menu says it.
func wayLabel(w edit.Way) string {
	switch w {
	case edit.WayLevel:
		return words.T("At its height")
	case edit.WayUp:
		return words.T("On an upright line")
	case edit.WayAlong:
		return words.T("On a line fore and aft")
	case edit.WayAcross:
		return words.T("On a line across")
	case edit.WayLink:
		return words.T("On the line its link lies on now")
	}
	return words.T("On the line of its holes")
}

// keepMenu is what can be kept of the held pivot while pivots are moved; what is kept has a tick, and a press on it leaves it.
func (c *Card) keepMenu() *fyne.Menu {
	j, p := c.doc.Current(), c.of
	m := fyne.NewMenu("")
	tick := func(label string, on bool, f func() error) *fyne.MenuItem {
		item := fyne.NewMenuItem(label, func() { c.refuse(f()) })
		item.Checked = on
		return item
	}
	if p.List == document.Links {
		on := edit.KeepsLength(j, p.Index)
		m.Items = append(m.Items, tick(words.T("Length of its link"), on, func() error { return c.doc.SetKeepLength(p.Index, !on) }))
	}
	now := edit.WayOf(j, p)
	for _, w := range edit.Ways(j, p) {
		to := w
		if w == now {
			to = edit.WayNone
		}
		m.Items = append(m.Items, tick(wayLabel(w), w == now, func() error { return c.doc.SetKeepLine(p, to) }))
	}
	if pinion := c.pinionMenu(); pinion != nil {
		m.Items = append(m.Items, fyne.NewMenuItemSeparator(), pinion)
	}
	if len(edit.KeepWords(j, p)) > 0 {
		m.Items = append(m.Items, fyne.NewMenuItemSeparator(), tick(words.T("Keep nothing"), false, func() error { return c.doc.LeaveKeep(p) }))
	}
	return m
}

// pinionMenu offers the links whose frame end can keep the pinion: those that run fore and aft. nil where the job has no pinion, or no such link.
func (c *Card) pinionMenu() *fyne.MenuItem {
	j := c.doc.Current()
	if j.Axle == nil || j.Axle.Pinion == nil {
		return nil
	}
	from, to, ok := c.travels()
	if !ok {
		return nil
	}
	kept, on := edit.KeptPinion(j)
	item := fyne.NewMenuItem(words.T("Pinion's change over the travel, by the height of"), nil)
	item.ChildMenu = fyne.NewMenu("")
	for i := range j.Links {
		l := &j.Links[i]
		if math.Abs(l.Frame[0]-l.Axle[0]) <= math.Abs(l.Frame[1]-l.Axle[1]) {
			continue
		}
		is := on && kept.Link == i
		one := fyne.NewMenuItem(words.F("%s, frame end", l.Name), func() {
			if is {
				c.refuse(c.doc.LeavePinion())
				return
			}
			c.refuse(c.doc.SetKeepPinion(i, from, to))
		})
		one.Checked = is
		item.ChildMenu.Items = append(item.ChildMenu.Items, one)
	}
	if len(item.ChildMenu.Items) == 0 {
		return nil
	}
	return item
}

// travels are the ends of the travel of both wheels together, full droop first; ok is false where there are none.
func (c *Card) travels() (from, to float64, ok bool) {
	s, _ := c.doc.Study()
	if !s.Bounded() {
		return 0, 0, false
	}
	return -s.Range.Droop, s.Range.Bump, s.Range.Bump+s.Range.Droop >= 1
}
