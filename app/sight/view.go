// Package sight is the three views of the bench as one kind of widget, and the eye they share. A view shows a scene of package view, and turns
// presses, drags, scrolls and keys into moves of pivots, wheels and the eye.
package sight

import (
	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/view"
	"axleloft/plotting/drawing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

var (
	_ fyne.Widget        = (*View)(nil)
	_ fyne.Draggable     = (*View)(nil)
	_ fyne.Focusable     = (*View)(nil)
	_ fyne.Scrollable    = (*View)(nil) // which also cuts what it draws to its box
	_ fyne.Shortcutable  = (*View)(nil)
	_ fyne.Tabbable      = (*View)(nil)
	_ desktop.Mouseable  = (*View)(nil)
	_ desktop.Hoverable  = (*View)(nil)
	_ desktop.Cursorable = (*View)(nil)
)

// View is one of the three views of a document. It is a Fyne widget.
type View struct {
	widget.BaseWidget
	// OnPart is called when a part was pressed, after the document has it selected.
	OnPart func(edit.Part)

	doc    *document.Document
	eye    *Eye
	plane  view.Plane
	cancel func()

	scene   *view.Scene
	stale   bool   // the scene is of another state
	pair    string // of the gap the scene shows
	laid    int    // of the eye what was laid when it was made
	resting bool   // nothing hung on the pointer when it was made
	picture drawing.Picture
	memory  view.Memory // where words stood, so that they do not jump about
	pool    brush.Pool
	over    brush.Pool          // what moves by itself over it
	objects []fyne.CanvasObject // of both
	back    *back               // the photo behind it
	patches []*fills            // one for each area that is no upright rectangle, and for stripes and dots

	patch     patch  // where the held pivot could sit
	patchNote string // what would come of it at the pointer

	points   []view.PointHandle // of the chosen part, as they were last asked for
	litPoint view.PointHandle   // has the arrows
	hasLit   bool
	clear    []fyne.Position // what words at the pointer do not hide

	hand      hand
	lands     *look.Button // what dragged pivots land on
	redraw    *brush.Once
	drawn     fyne.Size // and at how many pixels a unit: what the picture was made for
	drawnAt   float32
	focused   bool
	turning   bool // the arrows turn the held pivot's bolt
	note      string
	modifiers func() fyne.KeyModifier
	frames    int
}

// New returns a view of a document, with an eye it shares with the others.
func New(d *document.Document, eye *Eye, plane view.Plane) *View {
	v := &View{doc: d, eye: eye, plane: plane, stale: true, modifiers: modifiers}
	v.redraw = brush.NewOnce(func() {
		if v.Visible() { // else it is refreshed when it shows again
			v.draw()
			brush.Repaint(v)
		}
	})
	v.hand.lead = brush.NewLead(v.follows)
	v.lands = look.NewButton("", look.Link, func() { look.PopUp(eye.landMenu(), v.lands) }).Padding(6).Tall(24, 26).Caret(look.CaretUp)
	eye.views = append(eye.views, v)
	v.ExtendBaseWidget(v)
	v.cancel = d.Subscribe(func(c document.Change) {
		if c&^document.FileChanged != 0 {
			v.stale = true
			if c&document.SelectionChanged != 0 {
				v.turning, v.note, v.hasLit = false, "", false
			}
			if c&document.JobChanged != 0 && v.hand.grip == nothing { // what this view said was of the job before
				v.note = ""
			}
			v.Refresh()
		}
	})
	return v
}

// Close ends the view's part in its document and its eye.
func (v *View) Close() {
	v.cancel()
	for i, o := range v.eye.views {
		if o == v {
			v.eye.views = append(v.eye.views[:i], v.eye.views[i+1:]...)
			break
		}
	}
	v.eye.swings() // with the last view it ends
}

// Plane is which view it is.
func (v *View) Plane() view.Plane { return v.plane }

// Frames counts how often the view was drawn; a test waits for it to move.
func (v *View) Frames() int { return v.frames }

// MinSize is what a view can do with at least.
func (v *View) MinSize() fyne.Size { return fyne.NewSize(120, 100) }

// Resize sets the size; the eye frames again where it frames something.
func (v *View) Resize(s fyne.Size) {
	if s == v.Size() {
		return
	}
	v.BaseWidget.Resize(s)
	v.eye.resized()
}

// eyeMoved draws again from where the eye now is.
func (v *View) eyeMoved() { v.Refresh() }

// say shows a sentence at the foot of the view; "" takes it away.
func (v *View) say(words string) {
	if v.note != words {
		v.note = words
		v.Refresh()
	}
}

// transform is how the view shows the world now.
func (v *View) transform() view.Transform {
	s := v.Size()
	return v.eye.at.Transform(v.plane, view.Size{W: float64(s.Width), H: float64(s.Height)})
}

// renew makes the scene of the document as it stands.
func (v *View) renew() {
	resting := v.eye.resting()
	if !v.stale && v.scene != nil && v.pair == v.eye.pair && v.laid == v.eye.laidN && v.resting == resting {
		return
	}
	v.stale, v.pair, v.resting, v.laid = false, v.eye.pair, resting, v.eye.laidN
	in := view.Input{
		Plane: v.plane,
		Now:   v.doc.Now(),
		At:    v.doc.Position(),
		Demo:  v.doc.IsDemo(),
		Inch:  v.doc.Unit() == "in",
		Laid:  v.eye.Laid(),
	}
	if p, ok := v.doc.Held(); ok {
		in.Held, in.Turning, in.Grips = &p, v.turning, resting
	}
	if p, ok := v.doc.Selected(); ok {
		in.Selected = &p
	}
	in.Pencils = Pencils(v.doc)
	if study, _ := v.doc.Study(); in.At != nil && in.At.Err == "" && study != nil {
		in.LinksEnd = v.doc.StopWords() != "" || view.AtLinksEnd(study.Range, in.At.Pose.Left, in.At.Pose.Right)
	}
	if pair, ok := v.eye.gap(in.Now); ok {
		in.ShowGap, in.Pair = true, pair
	}
	v.scene = view.New(in)
}

type renderer struct{ v *View }

// CreateRenderer makes the view's renderer; Fyne calls it.
func (v *View) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	return &renderer{v}
}

func (r *renderer) Destroy()                     {}
func (r *renderer) MinSize() fyne.Size           { return r.v.MinSize() }
func (r *renderer) Objects() []fyne.CanvasObject { return r.v.objects }

// Layout draws for another size. The toolkit also calls it in every frame in which a word has got longer: then there is nothing to do.
func (r *renderer) Layout(s fyne.Size) {
	if v := r.v; s != v.drawn || v.pixels() != v.drawnAt {
		v.draw()
	}
}

// Refresh draws before the next frame.
func (r *renderer) Refresh() { r.v.redraw.Ask() }
