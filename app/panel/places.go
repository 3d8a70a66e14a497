package panel

import (
	"context"
	"fmt"
	"image"
	"sync/atomic"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Places is where the held pivot could sit: what the views shade, in words, with what the marks are. It is worked out off the window's goroutine while it is on.
type Places struct {
	Object fyne.CanvasObject

	h       *Host
	on      bool
	of      document.Pivot
	got     *study.Places // the newest, nil: none
	stale   bool          // something else has changed since
	refused string
	run     behind[*study.Places]
	asked   int // generation
	nth     numbered

	title  *look.Label
	close  *look.Button
	legend *legend
	here   *look.Para
	how    *look.Para
	stack  *look.Stack
	body   *fyne.Container
	scroll *container.Scroll
}

// placesFine is how fine borders are worked out, mm; tests take it coarser.
var placesFine = study.PlaceFine

const placesHead = 30 // height of the heading

// NewPlaces makes the panel; it is off.
func NewPlaces(h *Host) *Places {
	k := &Places{h: h, title: look.NewLabel(words.T("Where it could sit"), look.Body, ink.Text, true), here: look.NewPara("", "", ink.Text), how: look.NewPara("", "", ink.Second)}
	k.run = behind[*study.Places]{post: h.Post, changed: k.came}
	k.close = look.NewButton(words.T("Hide"), look.Link, k.Off).Tall(26, placesHead)
	k.legend = newLegend()
	k.stack = &look.Stack{Gap: 3, Inset: look.Inset, Below: 6}
	k.body = container.New(k.stack, k.legend, k.here, k.how)
	k.scroll = container.NewVScroll(k.body)
	top := container.New(&titleLine{}, k.title, k.close)
	k.Object = container.NewStack(look.NewPlate(ink.Panel), container.NewBorder(top, nil, nil, nil, look.Calm(k.scroll)))
	k.Object.Hide()
	return k
}

// titleLine is a title with a press at its right.
type titleLine struct{}

func (titleLine) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, placesHead) }
func (titleLine) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(look.Inset, 0))
	o[0].Resize(fyne.NewSize(o[0].MinSize().Width, s.Height))
	m := o[1].MinSize()
	o[1].Move(fyne.NewPos(s.Width-look.Inset-m.Width, (s.Height-m.Height)/2))
	o[1].Resize(m)
}

// IsOn reports whether it is shown.
func (k *Places) IsOn() bool { return k.on }

// Height is what it takes of a column so wide.
func (k *Places) Height(width float32) float32 {
	return placesHead + k.stack.HeightFor(k.body.Objects, width)
}

// Toggle turns it on for the held pivot, or off.
func (k *Places) Toggle() {
	p, ok := k.h.Doc.Held()
	if k.on || !ok {
		k.Off()
		return
	}
	k.on, k.of, k.got, k.refused = true, p, nil, ""
	k.run.again()
	k.Update(document.SelectionChanged)
	k.h.Taping()
}

// Off takes it away and gives up what is being worked out.
func (k *Places) Off() {
	if !k.on {
		return
	}
	k.on, k.got = false, nil
	k.asked++
	k.run.giveUp()
	k.run.again()
	k.h.ShowPlaces(nil)
	k.h.Taping()
}

// Update follows what is held and what has changed.
func (k *Places) Update(c document.Change) {
	if !k.on {
		return
	}
	p, ok := k.h.Doc.Held()
	if !ok {
		k.Off()
		return
	}
	if !p.Same(k.of) {
		k.of, k.got, k.refused = p, nil, ""
		k.h.ShowPlaces(nil)
		k.run.again()
	}
	switch {
	case k.h.Doc.Dragging(), !k.h.Doc.Freshness().Full:
		k.asked++
		k.run.drop()
		if c&document.JobChanged != 0 && k.got != nil && !k.h.Doc.Dragging() && k.got.Differs(k.h.Doc.Current()) {
			k.got = nil // nothing older than the geometry is shown as if it were of it
			k.h.ShowPlaces(nil)
		}
		k.stale = true
	default:
		k.ask()
	}
	k.write()
}

// ask has the room worked out for the study as it stands.
func (k *Places) ask() {
	s, _ := k.h.Doc.Study()
	p := k.of
	key := fmt.Sprint(k.nth.of(s), p)
	if k.run.key == key {
		return
	}
	k.asked++
	now := k.asked
	k.run.ask(key, func(ctx context.Context, looked *atomic.Int64) (*study.Places, error) {
		return s.Places(ctx, p, placesFine, func(q *study.Places) {
			looked.Store(int64(q.Looked))
			k.h.Post(func() {
				if k.asked == now && k.on {
					k.take(q)
				}
			})
		})
	})
}

// take shows what there is so far.
func (k *Places) take(q *study.Places) {
	k.got, k.stale = q, false
	k.h.ShowPlaces(q)
	k.write()
}

// came is what is worked out to the end, or refused.
func (k *Places) came() {
	if !k.on {
		return
	}
	if k.run.err != nil {
		k.refused = document.Words(k.run.err)
	} else if k.run.has && k.run.fresh(k.run.key) && k.got != k.run.got {
		k.refused = ""
		k.take(k.run.got)
		return
	}
	k.write()
}

// write puts it into words.
func (k *Places) write() {
	was := k.Height(k.Object.Size().Width)
	k.title.SetText(words.F("Where %s could sit", edit.Name(k.h.Doc.Current(), k.of)))
	here, how := "", ""
	switch {
	case k.refused != "":
		here = k.refused
	case k.got == nil:
		how = words.T("Working out.")
	case k.stale:
		here, how = k.got.HereWords(), words.T("Of where it was before; worked out again when nothing moves.")
	default:
		here, how = k.got.HereWords(), k.got.HowWords()
	}
	role := ink.Text
	if k.stale {
		role = ink.Second
	}
	k.here.Set("", here, role)
	k.how.Set("", how, ink.Second)
	look.Show(k.here, here != "")
	look.Show(k.how, how != "")
	k.legend.set(k.got)
	k.body.Refresh()
	if k.Height(k.Object.Size().Width) != was {
		k.h.Taping()
	}
}

// Texts are its words, for tests and for whoever drives the window from outside.
func (k *Places) Texts() []string {
	if !k.on {
		return nil
	}
	return []string{k.title.Text(), k.here.Text(), k.how.Text()}
}

// Press is the way out of it, for whoever drives the window from outside.
func (k *Places) Press() fyne.CanvasObject { return k.close }

// legend tells what the marks of the states are.
type legend struct {
	widget.BaseWidget
	states []study.PlaceState
}

func newLegend() *legend {
	l := &legend{}
	l.set(nil)
	l.ExtendBaseWidget(l)
	return l
}

// set shows the states there are: those four that always count, and the last where it is met.
func (l *legend) set(p *study.Places) {
	list := []study.PlaceState{study.PlaceFree, study.PlaceTight, study.PlaceHits, study.PlaceRunsOut}
	for m := 0; p != nil && m < len(p.Maps); m++ {
		for i := range p.Maps[m].Cells {
			if p.Maps[m].Cells[i].State == study.PlaceNot && len(list) == 4 {
				list = append(list, study.PlaceNot)
			}
		}
	}
	if len(list) != len(l.states) {
		l.states = list
		l.Refresh()
	}
}

func (l *legend) CreateRenderer() fyne.WidgetRenderer {
	l.ExtendBaseWidget(l)
	r := &legendRenderer{l: l}
	for i := range r.text {
		state := study.PlaceState(i)
		r.text[i] = look.Text("", look.Small, ink.Text, false)
		r.box[i] = canvas.NewRaster(func(w, h int) image.Image {
			img := image.NewNRGBA(image.Rect(0, 0, w, h))
			view.Swatch(img, state, float64(w)/swatchWide, look.Scheme())
			return img
		})
	}
	return look.Made(l, r)
}

const (
	swatchWide = 20
	swatchTall = 14
)

type legendRenderer struct {
	l      *legend
	text   [study.PlaceStates]*canvas.Text
	box    [study.PlaceStates]*canvas.Raster
	scheme ink.Scheme
}

func (r *legendRenderer) Layout(s fyne.Size) {
	x := float32(0)
	for i := range r.text {
		r.text[i].Hidden, r.box[i].Hidden = true, true
	}
	for _, st := range r.l.states {
		t, b := r.text[st], r.box[st]
		t.Hidden, b.Hidden = false, false
		b.Move(fyne.NewPos(x, (s.Height-swatchTall)/2))
		b.Resize(fyne.NewSize(swatchWide, swatchTall))
		look.Paint(t, st.String(), look.Color(ink.Text))
		look.PlaceLeft(t, x+swatchWide+4, s.Height/2+5)
		x += swatchWide + 4 + t.MinSize().Width + 8
	}
}
func (r *legendRenderer) MinSize() fyne.Size { return fyne.NewSize(200, 22) }
func (r *legendRenderer) Refresh() {
	r.Layout(r.l.Size())
	if look.Scheme() != r.scheme {
		r.scheme = look.Scheme()
		for _, b := range r.box {
			b.Refresh()
		}
	}
	canvas.Refresh(r.l)
}
func (r *legendRenderer) Objects() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for i := range r.text {
		out = append(out, r.box[i], r.text[i])
	}
	return out
}
func (r *legendRenderer) Destroy() {}
