package pad

import (
	"math"
	"strings"

	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"

	"fyne.io/fyne/v2"
)

// homes are the get-home positions of the geometry as it stands; none till it is worked out.
func (p *Pad) homes() []study.Home {
	if s, _ := p.doc.Study(); p.doc.Freshness().Full {
		return s.GetHome()
	}
	return nil
}

// homeMenu offers the get-home positions: one strut down and the other at its ride length, and both down.
func (p *Pad) homeMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	length := lengthWords(p.doc.Unit())
	for _, h := range p.homes() {
		phrase := study.Upper(h.Name)
		if h.Note != "" {
			item := fyne.NewMenuItem(look.Shorten(phrase+": "+h.Note, look.Body, false, 460), nil)
			item.Disabled = true
			m.Items = append(m.Items, item)
			continue
		}
		item := fyne.NewMenuItem(phrase+": "+study.Lower(wheels(h.Left, h.Right, length)), func() { p.goHome(h) })
		item.Checked = p.home == h.Name
		m.Items = append(m.Items, item)
	}
	if len(m.Items) == 0 {
		phrase := words.T("No struts, so there is no strut to go down")
		if !p.doc.Freshness().Full {
			phrase = words.T("Working out")
		}
		item := fyne.NewMenuItem(phrase, nil)
		item.Disabled = true
		m.Items = append(m.Items, item)
	}
	return m
}

func (p *Pad) goHome(h study.Home) {
	p.StopWalk()
	p.doc.MoveAxle(h.Left, h.Right)
	p.home = h.Name
	p.Refresh()
}

// nextHome goes to the get-home position after the one the axle stands at.
func (p *Pad) nextHome() {
	list := p.homes()
	from := -1
	for i := range list {
		if p.home == list[i].Name {
			from = i
		}
	}
	for k := 1; k <= len(list); k++ {
		if h := list[(from+k)%len(list)]; h.Note == "" {
			p.goHome(h)
			return
		}
	}
}

// leftHome forgets the get-home position gone to once the axle stands elsewhere.
func (p *Pad) leftHome() {
	if p.home == "" {
		return
	}
	list := p.homes()
	for i := range list {
		if list[i].Name == p.home && p.atHome(&list[i]) {
			return
		}
	}
	if len(list) > 0 {
		p.home = ""
	}
}

// atHome reports whether the axle stands at a get-home position.
func (p *Pad) atHome(h *study.Home) bool {
	left, right := p.doc.Travels()
	return h.Note == "" && math.Abs(left-h.Left) < near && math.Abs(right-h.Right) < near
}

// sayMore puts what the position is in place of what is met on the way to it: a get-home position with what the study tells there; where the axle
// is poorly held, that; at ride height, what the lines in the patch are.
func (p *Pad) sayMore(head, rest string, pos *study.Position) (string, string) {
	if pos.Err != "" {
		return head, rest
	}
	if p.onPair() {
		return p.pairSay(pos)
	}
	if m := p.doc.Now().Mech; m != nil && pos.Pose.Held < poorly {
		if phrase := m.PoorlyHeldAt(&pos.Pose); phrase != "" {
			return head, phrase
		}
	}
	if pos.Pose.Left == 0 && pos.Pose.Right == 0 {
		if p.laidCurrent() {
			return head, p.laid.caption(still(p.doc))
		}
		return head, rest
	}
	list := p.homes()
	for i := range list {
		if h := &list[i]; p.home == h.Name && p.atHome(h) {
			_, tells, _ := strings.Cut(h.Words, "): ")
			return study.Upper(h.Name) + ".", wheels(h.Left, h.Right, lengthWords(p.doc.Unit())) + "; " + tells
		}
	}
	return head, rest
}
