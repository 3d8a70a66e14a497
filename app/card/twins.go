package card

import (
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
)

// twinText tells of the held pivot's twin: none, linked, or unlinked from the other side.
func (c *Card) twinText() string {
	j := c.doc.Current()
	if hasTwin(j, c.of) {
		return words.T("and its twin")
	}
	if other, ok := edit.Unlinked(j, edit.PartOf(c.of)); ok {
		return words.F("unlinked from %s", other)
	}
	return words.T("no twin")
}

// pivotMenu is what can be done with the held pivot itself: with its pair, and its row of holes.
func (c *Card) pivotMenu() *fyne.Menu {
	m := c.twinMenu()
	if len(m.Items) > 0 {
		m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	}
	m.Items = append(m.Items, fyne.NewMenuItem(c.holesText(), c.AskHoles))
	if item := c.bracketItem(); item != nil {
		m.Items = append(m.Items, item)
	}
	return m
}

// bracketItem opens the bracket of the held pivot, or gives it one; nil where it can have none.
func (c *Card) bracketItem() *fyne.MenuItem {
	j := c.doc.Current()
	if c.OnPart == nil || !edit.Carries(c.of) {
		return nil
	}
	if part, ok := edit.BracketPart(j, c.of); ok {
		return fyne.NewMenuItem(words.T("Bracket..."), func() { c.OnPart(part) })
	}
	item := fyne.NewMenuItem(words.T("Give it a bracket"), nil)
	item.ChildMenu = fyne.NewMenu("")
	for _, kind := range edit.BracketKinds() {
		item.ChildMenu.Items = append(item.ChildMenu.Items, fyne.NewMenuItem(kind, func() {
			var part edit.Part
			err := c.doc.Edit(words.F("bracket of %s", edit.Name(j, c.of)), "", func(j *job.Job) (err error) {
				part, err = edit.AddBracket(j, c.of, kind)
				return err
			})
			c.refuse(err)
			if err == nil {
				c.OnPart(part)
			}
		}))
	}
	return item
}

// twinMenu unlinks a pair, or links it again: then it asks whose place holds.
func (c *Card) twinMenu() *fyne.Menu {
	j, part := c.doc.Current(), edit.PartOf(c.of)
	m := fyne.NewMenu("")
	if hasTwin(j, c.of) {
		m.Items = append(m.Items, fyne.NewMenuItem(words.T("Unlink: each side moves by itself"), func() { c.refuse(c.doc.Unlink(part)) }))
		return m
	}
	other, ok := edit.Unlinked(j, part)
	if !ok {
		return m
	}
	m.Items = append(m.Items,
		fyne.NewMenuItem(words.F("Link again: %s holds, %s follows", edit.PartName(j, part), other), func() { c.refuse(c.doc.LinkAgain(part)) }),
		fyne.NewMenuItem(words.F("Link again: %s holds, %s follows", other, edit.PartName(j, part)), func() {
			o, ok := edit.OtherSide(c.doc.Current(), c.of)
			if !ok {
				return
			}
			c.refuse(c.doc.LinkAgain(edit.PartOf(o)))
		}))
	return m
}

// drawTwin writes what the card says of the twin, as a press; it tells how wide that is.
func (c *Card) drawTwin(end string, y, room float32) float32 {
	text := c.twinText()
	if end != "" {
		text = end + ", " + text
	}
	if in := c.holeText(); in != "" && look.Width(text+", "+in, look.Small, false) <= room-20 {
		text += ", " + in
	}
	c.twin.SetText(look.Shorten(text, look.Small, false, room-20))
	m := c.twin.MinSize()
	c.twin.Resize(m)
	c.twin.Move(fyne.NewPos(34-3, y-2))
	c.pool.Put(c.twin)
	return m.Width - 3
}

// newTwin makes the press.
func (c *Card) newTwin() *look.Button {
	return look.NewButton("", look.Plain, func() { look.PopUp(c.pivotMenu(), c.twin) }).Type(look.Small, false).Padding(3).Tall(20, 24).Caret(look.CaretDown)
}
