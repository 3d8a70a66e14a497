package card

import (
	"axleloft/app/edit"
	"axleloft/app/words"
)

// holeText tells of the held pivot's holes; empty: it has none.
func (c *Card) holeText() string {
	j := c.doc.Current()
	switch n := len(edit.Holes(j, c.of)); {
	case n == 0:
		return ""
	case edit.HoleOf(j, c.of) > 0:
		return words.F("hole %d of %d", edit.HoleOf(j, c.of), n)
	default:
		return words.F("in none of %d holes", n)
	}
}

// holesText is the menu's line for the holes.
func (c *Card) holesText() string {
	if in := c.holeText(); in != "" {
		return words.F("Holes: %s...", in)
	}
	return words.T("Holes...")
}

// AskHoles asks for the held pivot's row of holes.
func (c *Card) AskHoles() {
	if c.AskMany == nil || !c.held {
		return
	}
	of, unit := c.of, c.doc.Unit()
	now := edit.HolesTyped(c.doc.Current(), of)
	labels := make([]string, edit.HoleFields)
	labels[edit.HoleCount] = words.T("How many holes; empty takes them away")
	labels[edit.HoleStands] = words.T("Which hole it stands in; empty: in none")
	labels[edit.HoleStep] = words.F("From each hole to the next: ahead, %s", unit)
	labels[edit.HoleStep+1] = words.F("to the left, %s", unit)
	labels[edit.HoleStep+2] = words.F("up, %s", unit)
	c.AskMany(words.F("Holes of %s", edit.Name(c.doc.Current(), of)), labels, []string{now.Count, now.Stands, now.Step[0], now.Step[1], now.Step[2]}, func(text []string) error {
		t := edit.HoleText{Count: text[edit.HoleCount], Stands: text[edit.HoleStands], Step: [3]string(text[edit.HoleStep:])}
		if t == now {
			return nil
		}
		return c.doc.TypeHoles(of, t)
	})
}
