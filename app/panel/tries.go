package panel

import (
	"math"
	"strings"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Tries are three things to try on a demo, in a line: each is ticked off by what the document does, whichever way the hand got there.
type Tries struct {
	widget.BaseWidget
	h      *Host
	ground *look.Plate
	text   *look.Label
	Close  *look.Button

	Done     [3]bool
	closed   bool
	begun    *study.Study // the first whole study
	worst    study.Finding
	hit      bool // its worst finding is a hit that can be gone to
	job      *job.Job
	left     float64 // where the axle stood when both wheels last moved
	right    float64
	standing bool
}

const (
	tryMoved = 20.0 // mm of one wheel, the other staying
	tryStays = 1.0  // mm
	tryThere = 0.5  // mm
)

// NewTries makes the line; closed runs when it is closed.
func NewTries(h *Host, closed func()) *Tries {
	t := &Tries{h: h, ground: look.NewPlate(ink.Panel), text: look.NewLabel("", look.Body, ink.Text, false).Shrinks(100)}
	t.Close = look.NewButton(words.T("Close"), look.Plain, func() {
		t.closed = true
		closed()
	}).Tall(26, look.FootBar)
	t.ExtendBaseWidget(t)
	t.Update(^document.Change(0))
	return t
}

// Stands reports whether the line is to be seen.
func (t *Tries) Stands() bool { return !t.closed && t.h.Doc.IsDemo() }

// Update looks at what the document does.
func (t *Tries) Update(document.Change) {
	if !t.Stands() {
		return
	}
	d := t.h.Doc
	if s, _ := d.Study(); t.begun == nil && d.Freshness().Full {
		t.begun, t.job = s, d.Current()
		if f := s.Worst(); f != nil {
			t.worst, t.hit = *f, f.Kind == study.Hits && f.Place
		}
	}
	if p := d.Position(); p != nil && p.Err == "" {
		t.moved(p.Pose.Left, p.Pose.Right)
	}
	if t.begun != nil && !t.Done[2] && d.Freshness().Full && !d.Dragging() && d.Current() != t.job {
		s, _ := d.Study()
		t.Done[2] = t.gone(s)
	}
	t.text.SetText(t.words())
}

// moved sees where the axle stands now.
func (t *Tries) moved(left, right float64) {
	dl, dr := math.Abs(left-t.left), math.Abs(right-t.right)
	switch {
	case !t.standing:
		t.left, t.right, t.standing = left, right, true
	case dl >= tryMoved && dr < tryStays, dr >= tryMoved && dl < tryStays:
		t.Done[1] = true
	case dl >= tryStays && dr >= tryStays:
		t.left, t.right = left, right
	}
	if t.hit && math.Abs(left-t.worst.Left) < tryThere && math.Abs(right-t.worst.Right) < tryThere {
		t.Done[0] = true
	}
}

// gone reports whether the hit it began with is gone.
func (t *Tries) gone(s *study.Study) bool {
	if !t.hit || s.Refusal != "" {
		return false
	}
	for i := range s.Findings {
		if f := &s.Findings[i]; f.Key == t.worst.Key && f.Kind == study.Hits {
			return false
		}
	}
	return true
}

// words are the three things, each with its mark.
func (t *Tries) words() string {
	third := words.T("drag a link's ends till the hit goes: see the price")
	if name, _, ok := strings.Cut(t.worst.What, " / "); ok && t.hit {
		third = words.F("drag the %s's ends till the hit goes: see the price", study.Lower(name))
	}
	if t.Done[2] {
		third = t.price()
	}
	list := []string{words.T("press Go there"), words.T("pull a tyre up in the rear view"), third}
	out := words.T("Three things to try:")
	for i, w := range list {
		mark := "○"
		if t.Done[i] {
			mark = "✓"
		}
		out += "   " + mark + " " + w
	}
	return out
}

// price is what it cost that the hit went: roll steer and roll centre at ride, before and now.
func (t *Tries) price() string {
	now, _ := t.h.Doc.Study()
	a, b := t.begun.At(0, 0), now.At(0, 0)
	if a.Err != "" || b.Err != "" || len(a.Values) == 0 || len(b.Values) == 0 {
		return words.T("the hit is gone")
	}
	u := t.h.Doc.Unit()
	return words.F("the hit is gone. Its price: roll steer %s to %s %%, roll centre %s to %s", num(a.Values[0].RollSteerPct, 1), num(b.Values[0].RollSteerPct, 1),
		length(a.Values[0].RollCentre, u), lengthUnit(b.Values[0].RollCentre, u))
}

// Text is the words of the line.
func (t *Tries) Text() string { return t.text.Text() }

// CreateRenderer is the toolkit's.
func (t *Tries) CreateRenderer() fyne.WidgetRenderer {
	t.ExtendBaseWidget(t)
	return &triesRenderer{t}
}

type triesRenderer struct{ t *Tries }

func (r *triesRenderer) Layout(s fyne.Size) {
	r.t.ground.Resize(s)
	m := r.t.Close.MinSize()
	r.t.Close.Move(fyne.NewPos(s.Width-look.Gap-m.Width, 0))
	r.t.Close.Resize(fyne.NewSize(m.Width, s.Height))
	r.t.text.Move(fyne.NewPos(look.Inset, 0))
	r.t.text.Resize(fyne.NewSize(max(0, s.Width-look.Inset-2*look.Gap-m.Width), s.Height))
}
func (r *triesRenderer) MinSize() fyne.Size { return fyne.NewSize(0, look.FootBar) }
func (r *triesRenderer) Refresh()           { r.Layout(r.t.Size()) }
func (r *triesRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.t.ground, r.t.text, r.t.Close}
}
func (r *triesRenderer) Destroy() {}
