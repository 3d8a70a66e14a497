package bench

import (
	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"
)

// box is something asked or told over the window. Its first button has the focus, so Enter takes it; Escape leaves.
type box struct {
	b      *Bench
	title  string
	words  string // what is told, where it is one paragraph
	pop    *widget.PopUp
	leave  func()
	button []*look.Button
	fields []*panel.Entry
	page   *container.Scroll // what scrolls; nil: nothing does
}

// answer is a button of a box.
type answer struct {
	label string
	style look.Style
	run   func() (stay bool) // nil: only closes
}

// box shows a question: a title, something to read or fill in, and buttons from left to right. leave runs where it is left by Escape.
func (b *Bench) box(title string, width float32, body fyne.CanvasObject, leave func(), answers ...answer) *box {
	x := &box{b: b, title: title, leave: leave}
	if p, ok := body.(*look.Para); ok {
		x.words = p.Text()
	}
	row := container.New(layout.NewCustomPaddedHBoxLayout(look.Gap))
	for i := len(answers) - 1; i >= 0; i-- {
		a := answers[i]
		btn := look.NewButton(a.label, a.style, func() {
			if a.run != nil && a.run() {
				return
			}
			x.close()
		}).Tall(look.Drawn, look.Row).Padding(16)
		x.button = append(x.button, btn)
	}
	for i := len(x.button) - 1; i >= 0; i-- {
		row.Add(x.button[i])
	}
	head := look.NewLabel(title, look.Large, ink.Text, true)
	inside := container.New(&look.Stack{Gap: 12, Inset: 20, Above: 16, Below: 14}, head, body, container.NewHBox(row))
	framed := container.NewStack(look.NewPlate(ink.Panel), inside)
	held := container.New(&fixedWidth{width: width}, framed)
	x.pop = widget.NewModalPopUp(held, b.win.Canvas())
	b.boxes = append(b.boxes, x)
	x.pop.Show()
	b.win.Canvas().Focus(x.first())
	return x
}

func (x *box) close() {
	x.pop.Hide()
	for i, o := range x.b.boxes {
		if o == x {
			x.b.boxes = append(x.b.boxes[:i:i], x.b.boxes[i+1:]...)
			break
		}
	}
}

// first is the leftmost answer: what Enter takes.
func (x *box) first() *look.Button { return x.button[len(x.button)-1] }

// turn scrolls what is read by the keys.
func (x *box) turn(key fyne.KeyName) {
	if x.page == nil {
		return
	}
	whole := x.page.Size().Height
	most := max(0, x.page.Content.MinSize().Height-whole)
	at := x.page.Offset.Y
	switch key {
	case fyne.KeyDown:
		at += 2 * look.Lead
	case fyne.KeyUp:
		at -= 2 * look.Lead
	case fyne.KeyPageDown:
		at += whole - look.Lead
	case fyne.KeyPageUp:
		at -= whole - look.Lead
	case fyne.KeyEnd:
		at = most
	case fyne.KeyHome:
		at = 0
	default:
		return
	}
	x.page.ScrollToOffset(fyne.NewPos(0, min(max(0, at), most)))
}

func (x *box) escape() {
	x.close()
	if x.leave != nil {
		x.leave()
	}
}

// resize asks the height again after words changed.
func (x *box) resize() { x.pop.Refresh(); x.pop.Resize(x.pop.MinSize()) }

// fixedWidth is a layout of one object at a width, as high as it must be.
type fixedWidth struct{ width float32 }

func (f *fixedWidth) Layout(o []fyne.CanvasObject, s fyne.Size) { o[0].Resize(s) }
func (f *fixedWidth) MinSize(o []fyne.CanvasObject) fyne.Size {
	o[0].Resize(fyne.NewSize(f.width, o[0].MinSize().Height))
	return fyne.NewSize(f.width, o[0].MinSize().Height)
}

// tell says what went wrong, in a sentence; nothing where nothing did.
func (b *Bench) tell(err error) {
	if err == nil {
		return
	}
	b.say(words.T("That did not work"), document.Words(err))
}

// say tells something.
func (b *Bench) say(title, phrase string) {
	page, scroll := b.readable(phrase)
	b.box(title, sayWidth, page, nil, answer{label: words.T("Close"), style: look.Filled}).page = scroll
}

const sayWidth = 560

// readable is words to read; more than the window has room for scroll.
func (b *Bench) readable(phrase string) (fyne.CanvasObject, *container.Scroll) {
	p := look.NewPara("", phrase, ink.Text)
	return b.scrolled(p, p.HeightFor(sayWidth-56), 300)
}

// scrolled is something to read, so high; more than the window has room for, or than most, scrolls, by the keys too.
func (b *Bench) scrolled(page fyne.CanvasObject, height, most float32) (fyne.CanvasObject, *container.Scroll) {
	most = min(most, max(120, b.win.Canvas().Size().Height-220)) // the window may be made smaller while it stands
	if height <= most {
		return page, nil
	}
	s := container.NewVScroll(container.New(&look.Stack{Inset: 4}, page))
	s.SetMinSize(fyne.NewSize(200, most))
	return look.Calm(s), s
}

// ask asks for one line of text; f's refusal is shown and the question stays.
func (b *Bench) ask(title, label, now string, f func(string) error) {
	refused := look.NewPara("", "", ink.Text)
	refused.Hide()
	var x *box
	var e *panel.Entry
	try := func() bool {
		if err := f(e.Text); err != nil {
			refused.Show()
			refused.Set("", document.Words(err), ink.Text)
			x.resize()
			return true
		}
		return false
	}
	e = panel.NewEntry(now, func() {
		if !try() {
			x.close()
		}
	}, func() { x.escape() })
	body := container.New(&look.Stack{Gap: 4}, look.NewLabel(label, look.Body, ink.Text, false), e, refused)
	x = b.box(title, 460, body, nil, answer{"OK", look.Filled, try}, answer{words.T("Leave it"), look.Outline, nil})
	x.fields = []*panel.Entry{e}
	b.win.Canvas().Focus(e)
}

// cautionText is said once, at the first start, and whenever asked for.
const cautionText = "Axleloft is a geometry aid. It is not a certificate and not a strength check. Check on the vehicle before welding and before driving; local rules and a licensed engineer decide.\n\n" +
	"Work under a vehicle and welded brackets can kill. With the springs out the axle rolls about its links: support the axle as well as the frame. Relieve the pressure in the struts, use rated stands, and never work under a vehicle held by struts."

// caution says it once.
func (b *Bench) caution() {
	if b.app.Preferences().Bool(keyCaution) {
		return
	}
	b.showCaution(func() { b.app.Preferences().SetBool(keyCaution, true) })
}

func (b *Bench) showCaution(read func()) {
	done := func() bool {
		if read != nil {
			read()
		}
		return false
	}
	b.box(words.T("Before you begin"), 600, look.NewPara("", words.T(cautionText), ink.Text), func() { done() }, answer{words.T("I have read this"), look.Filled, done})
}

// explain opens what a reading is.
func (b *Bench) explain(r *panel.Reading, _ fyne.CanvasObject) {
	b.showDefinition(panel.Define(r, b.doc))
}

func (b *Bench) showDefinition(def panel.Definition) {
	const width = 620
	page := def.Page()
	page.Resize(fyne.NewSize(width-56, 10)) // so that it knows its height
	body, scroll := b.scrolled(page, page.MinSize().Height, 480)
	b.box(def.Title, width, body, nil, answer{label: words.T("Close"), style: look.Filled}).page = scroll
}

// explainFocus explains what has the keys.
func (b *Bench) explainFocus() {
	o, _ := b.win.Canvas().Focused().(fyne.CanvasObject)
	if def, ok := panel.Explained(o, b.doc); ok {
		b.showDefinition(def)
		return
	}
	for i, v := range b.views {
		if o == fyne.CanvasObject(v) {
			b.say([]string{words.T("Side view"), words.T("Rear view"), words.T("Plan")}[i], []string{
				words.T("The vehicle from its right side, nose to the right. Arrows move a held pivot forward and back, up and down; without one they move the view."),
				words.T("The vehicle from behind. Drag a tyre and that wheel goes up or down, the other stays; arrows move a held pivot left and right, up and down."),
				words.T("The vehicle from above, nose to the right and its left side up. Arrows move a held pivot forward and back, left and right.")}[i])
			return
		}
	}
	if o == fyne.CanvasObject(b.pad) {
		b.say(words.T("Travel pad"), words.T("Where the axle can go: up is both wheels up, left is the left wheel up. Arrows move the dot, the axle; at the edge it says what stops it."))
		return
	}
	b.say(words.T("What is this?"), words.T("Put the keys on a reading, a finding, a row of Heights, a chart, a view or the travel pad with Tab, then press Ctrl+H: it says what it is, its sign, what is usual and what moves it. A press on a reading, or the right button on a finding, does the same."))
}
