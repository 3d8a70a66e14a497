package bench

import (
	"axleloft/app/look"
	"axleloft/app/pad"
	"axleloft/app/panel"
	"axleloft/app/sight"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
)

// everywhere are the keys that are no action's.
var everywhere = []look.Key{
	{Keys: []fyne.KeyName{fyne.KeyTab}, Does: words.Mark("The next thing that takes keys; with Shift the one before. A frame shows which one has them.")},
	{Keys: []fyne.KeyName{fyne.KeySpace, fyne.KeyReturn}, Does: words.Mark("Press it.")},
	{Keys: []fyne.KeyName{fyne.KeyLeft, fyne.KeyRight}, Does: words.Mark("Choose among buttons in one frame; move a divider; move the axle under a chart.")},
	{Keys: []fyne.KeyName{fyne.KeyEscape}, Does: words.Mark("Leave: a question, a drag, what is open, what is held.")},
}

// keyGroup is keys of one place.
type keyGroup struct {
	where string
	keys  [][2]string // keys and what they do
}

// keyGroups is every key the window knows: those of the actions as their table has them, then those of the views and the pad.
func (b *Bench) keyGroups() []keyGroup {
	hand := func(where string, list []look.Key) keyGroup {
		g := keyGroup{where: where}
		for _, k := range list {
			g.keys = append(g.keys, [2]string{k.Words(), words.T(k.Does)})
		}
		return g
	}
	whole := keyGroup{where: words.T("Shortcuts")}
	for _, a := range b.actions {
		if len(a.keys) > 0 {
			whole.keys = append(whole.keys, [2]string{look.ShortcutWords(a.keys[0]), a.label})
		}
	}
	return []keyGroup{hand(words.T("Getting about"), everywhere), hand(words.T("In a view"), sight.Keys), hand(words.T("On the travel pad"), pad.Keys), hand(words.T("In a list of parts"), panel.ListKeys), whole}
}

// showKeys lists the keys.
func (b *Bench) showKeys() {
	const column, width = 172, 660
	body := container.New(&look.Stack{Gap: 3})
	for i, g := range b.keyGroups() {
		head := look.NewLabel(g.where, look.Body, ink.Text, true)
		if i > 0 {
			body.Add(container.New(&look.Stack{Above: 8}, head))
		} else {
			body.Add(head)
		}
		for _, k := range g.keys {
			body.Add(container.New(&twoColumns{left: column}, look.NewPara(k[0], "", ink.Text), look.NewPara("", k[1], ink.Text)))
		}
	}
	body.Resize(fyne.NewSize(width-56, 0))
	page, scroll := b.scrolled(body, body.MinSize().Height, 2000)
	x := b.box(words.T("Keys"), width, page, nil, answer{label: words.T("Close"), style: look.Filled})
	x.page = scroll
	for _, g := range b.keyGroups() {
		x.words += g.where + ". "
		for _, k := range g.keys {
			x.words += k[0] + ": " + k[1] + " "
		}
	}
}

// twoColumns puts two wrapped texts side by side, the first in a column of a width.
type twoColumns struct{ left, width float32 }

// Layout is the toolkit's.
func (t *twoColumns) Layout(o []fyne.CanvasObject, s fyne.Size) {
	t.width = s.Width
	o[0].Resize(fyne.NewSize(t.left, s.Height))
	o[1].Move(fyne.NewPos(t.left, 0))
	o[1].Resize(fyne.NewSize(s.Width-t.left, s.Height))
}

// MinSize is the toolkit's: the height is that at the width of the last layout.
func (t *twoColumns) MinSize(o []fyne.CanvasObject) fyne.Size {
	w := t.width
	if w == 0 {
		w = 590
	}
	h := float32(0)
	for i, p := range o {
		if tall, ok := p.(look.Tall); ok {
			h = max(h, tall.HeightFor([2]float32{t.left, w - t.left}[i]))
		}
	}
	return fyne.NewSize(t.left+100, h)
}

// plain runs the action that a key alone means, and reports whether there is one.
func (b *Bench) plain(key fyne.KeyName) bool {
	for _, a := range b.actions {
		for _, k := range a.keys {
			if c, ok := k.(*desktop.CustomShortcut); ok && c.Modifier == 0 && c.KeyName == key {
				b.run(a.id)
				return true
			}
		}
	}
	return false
}
