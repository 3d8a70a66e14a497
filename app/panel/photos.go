package panel

import (
	"math"
	"path/filepath"
	"slices"
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/photo"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"gonum.org/v1/gonum/spatial/r3"
)

// photos is the list of the photos behind the views: to choose, to scale by two points, to level, to move, how strongly each is drawn.
type photos struct {
	h    *Host
	said *look.Para
	rows [3]*photoRow
	text *container.Scroll
	box  *fyne.Container
}

// photoRow is one view's.
type photoRow struct {
	plane   view.Plane
	para    *look.Para
	buttons [8]*look.Button
	line    *fyne.Container
}

// The buttons of a row.
const (
	photoChoose = iota
	photoScale
	photoLevel
	photoMove
	photoFainter
	photoStronger
	photoHide
	photoRemove
)

func newPhotos(h *Host) *photos {
	k := &photos{h: h, said: look.NewPara("", "", ink.Text)}
	list := container.New(&look.Stack{Gap: 6, Inset: look.Inset, Above: 4, Below: 8}, k.said)
	for p := view.Side; p <= view.Plan; p++ {
		r := &photoRow{plane: p, para: look.NewPara("", "", ink.Text)}
		for i, f := range []func(){
			func() { k.choose(r) }, func() { k.scale(r) }, func() { k.level(r) }, func() { k.move(r) },
			func() { k.told(h.Doc.FadePhoto(r.name(), -1)) }, func() { k.told(h.Doc.FadePhoto(r.name(), 1)) },
			func() { k.hide(r) }, func() { k.told(h.Doc.RemovePhoto(r.name())) },
		} {
			label := []string{words.T("Choose..."), words.T("Scale"), words.T("Level"), words.T("Move"), words.T("Fainter"), words.T("Stronger"), words.T("Hide"), words.T("Remove")}[i]
			r.buttons[i] = look.NewButton(label, look.Outline, f).Tall(30, look.Row).Padding(9)
		}
		var o []fyne.CanvasObject
		for _, b := range r.buttons {
			o = append(o, b)
		}
		r.line = apart(o...)
		k.rows[p] = r
		list.Add(r.para)
		list.Add(r.line)
	}
	k.text = container.NewScroll(list)
	k.box = container.New(&sides{0, look.Gap}, look.Calm(k.text))
	k.write()
	k.say("")
	return k
}

func (r *photoRow) name() string { return view.PhotoName(r.plane) }

func (k *photos) object() fyne.CanvasObject { return k.box }
func (k *photos) head() fyne.CanvasObject   { return nil }
func (k *photos) bare() bool                { return false }
func (k *photos) update(c document.Change) {
	if c&(document.JobChanged|document.ShownChanged|document.FileChanged) != 0 {
		k.write()
	}
}

// say tells what a press did; "" what a photo is good for.
func (k *photos) say(text string) {
	if text == "" {
		text = words.T("A photo lies behind its view, to place things by eye: choose one, scale it by two points whose distance you know, level it, move it to where it belongs. A lens shows only what lies in one plane to scale; measure what matters (common practice, no source).")
	}
	k.said.Set("", text, ink.Text)
	k.text.Content.Refresh()
}

// told says what went wrong, or nothing.
func (k *photos) told(err error) {
	if err != nil {
		k.say(document.Words(err))
	} else {
		k.say("")
	}
}

// write brings the rows up to date.
func (k *photos) write() {
	for _, r := range k.rows {
		_, p := k.h.Doc.PhotoPath(r.name())
		lead := study.Upper(words.T(r.name())) + ":"
		line := words.T("no photo.")
		for i, b := range r.buttons {
			look.Show(b, i == photoChoose || p != nil)
		}
		hide := words.T("Hide")
		if p != nil {
			line = p.File
			if p.MmPerPixel != nil {
				line = words.F("%s, %.3g mm a pixel", p.File, *p.MmPerPixel)
			}
			if p.Typed != "" {
				line += words.F(", scaled by %s", p.Typed)
			}
			if p.Turn != nil {
				line += words.F(", turned %.1f deg", *p.Turn)
			}
			line += words.F(", drawn at %.0f %%", 100*edit.Opacity(p))
			if p.Hidden {
				line += words.T(", hidden")
				hide = words.T("Show")
			}
			line += "."
		}
		r.buttons[photoHide].SetText(hide)
		r.para.Set(lead, line, ink.Text)
		r.line.Refresh()
	}
	k.text.Content.Refresh()
}

// choose asks for a picture and puts it where the view now looks, as wide as two thirds of it.
func (k *photos) choose(r *photoRow) {
	k.h.ChooseFile(func(path string) { k.told(k.take(r.plane, path)) }, photo.Endings...)
}

// take puts a picture behind a view; what there is to say of it is said.
func (k *photos) take(p view.Plane, path string) error {
	right, up, wide, _ := k.h.Looks(p)
	note, err := k.h.Doc.AddPhoto(path, view.PhotoName(p), edit.Place2{right, up}, wide*2/3)
	if err == nil && note != "" {
		k.h.Say(words.T("Taken under another name"), note)
	}
	return err
}

// DropPhoto puts a picture dropped on a view behind it.
func DropPhoto(h *Host, p view.Plane, path string) error {
	return (&photos{h: h}).take(p, path)
}

// IsPhoto reports whether a file's name is that of a picture.
func IsPhoto(name string) bool {
	return slices.Contains(photo.Endings, strings.ToLower(filepath.Ext(name)))
}

func (k *photos) hide(r *photoRow) {
	if _, p := k.h.Doc.PhotoPath(r.name()); p != nil {
		k.told(k.h.Doc.HidePhoto(r.name(), !p.Hidden))
	}
}

// back ends the hand's choice in the view and opens the drawer again, with what there is to say.
func (k *photos) back(text string) {
	k.h.Choose(nil)
	if k.h.Opened() != PhotoDrawer {
		k.h.Toggle(PhotoDrawer)
	}
	k.say(text)
}

// points has so many places pressed in a view and hands them on; the drawer makes room meanwhile. first and later say what to press.
func (k *photos) points(r *photoRow, first, later string, nudge func(right, up float64), done func(a, b edit.Place2)) {
	if k.h.Opened() == PhotoDrawer {
		k.h.Toggle(PhotoDrawer)
	}
	c := &view.Choice{Words: first, Lit: -1, Only: true, In: r.plane, Leave: func() { k.back("") }, Nudge: nudge}
	var got []edit.Place2
	c.Point = func(p view.Plane, right, up float64) {
		got = append(got, edit.Place2{right, up})
		if len(got) == 1 {
			c.Words, c.Places, c.Names = later, []r3.Vec{p.Shift(r3.Vec{}, right, up)}, []string{"1"}
			k.h.Choose(c)
			return
		}
		done(got[0], got[1])
	}
	k.h.Choose(c)
}

func (k *photos) scale(r *photoRow) {
	name := r.name()
	k.points(r, words.F("In the %s view: press the first of two points of the photo whose distance you know. Escape leaves.", words.T(name)), words.T("Now the second point. Escape leaves."), nil, func(a, b edit.Place2) {
		k.h.Choose(nil)
		k.h.Ask(words.T("Scale the photo"), words.F("Distance between the two points, %s", k.h.Doc.Unit()), "", func(text string) error {
			if err := k.h.Doc.ScalePhoto(name, a, b, text); err != nil {
				return err
			}
			k.back(words.T("Scaled. Level it next, then move it to where it belongs."))
			return nil
		})
	})
}

func (k *photos) level(r *photoRow) {
	name := r.name()
	k.points(r, words.F("In the %s view: press the first of two points of the photo that lie level, or one over the other. Escape leaves.", words.T(name)), words.T("Now the second point. Escape leaves."), nil, func(a, b edit.Place2) {
		said, err := k.h.Doc.LevelPhoto(name, a, b)
		if err != nil {
			said = document.Words(err)
		}
		k.back(said)
	})
}

func (k *photos) move(r *photoRow) {
	name := r.name()
	nudge := func(right, up float64) {
		k.h.Tell(k.h.Doc.ShiftPhoto(name, edit.Place2{right, up}, "nudge photo "+name))
	}
	k.points(r, words.F("In the %s view: press a point of the photo, then the pivot or place it belongs to; or move it by the arrows. Escape ends it.", words.T(name)), words.T("Now the pivot or place where that point belongs. Escape leaves."), nudge, func(a, b edit.Place2) {
		to, at := k.nearest(r.plane, b)
		said := words.T("Moved.")
		if at != "" {
			said = words.F("Moved to %s.", at)
		}
		if err := k.h.Doc.ShiftPhoto(name, edit.Place2{to[0] - a[0], to[1] - a[1]}, ""); err != nil {
			said = document.Words(err)
		}
		k.back(said)
	})
}

// nearest is the pivot a press takes, as seen in a view at ride height, or the place itself.
func (k *photos) nearest(p view.Plane, at edit.Place2) (to edit.Place2, name string) {
	_, _, _, unit := k.h.Looks(p)
	j := k.h.Doc.Current()
	to = at
	best := view.Reach * unit
	for _, q := range edit.Pivots(j) {
		for _, side := range []job.Side{q.Side, job.Right} {
			if side != q.Side && q.Side != job.Left {
				continue
			}
			q.Side = side
			if v, ok := edit.At(j, q); ok {
				a, b := p.Project(v)
				if d := math.Hypot(a-at[0], b-at[1]); d < best {
					best, to, name = d, edit.Place2{a, b}, edit.Name(j, q)
				}
			}
		}
	}
	return to, name
}

func (k *photos) lines() []string {
	out := []string{k.said.Text()}
	for _, r := range k.rows {
		out = append(out, r.para.Text())
	}
	return out
}

// named finds a button: "Choose... side", "Scale rear".
func (k *photos) named(name string) fyne.CanvasObject {
	for _, r := range k.rows {
		for _, b := range r.buttons {
			if b.Visible() && b.Text()+" "+r.name() == name {
				return b
			}
		}
	}
	return nil
}
