package sight

import (
	"math"
	"strings"
	"time"

	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/app/view"
	"axleloft/geometry/motion"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// A free motion is shown as a swing of about one a second, drawn ten times in it: lines over the picture, nothing else is made again.
const (
	swingPeriod = 1100 * time.Millisecond
	swingFrame  = swingPeriod / 11
	swingTurns  = 3 // of one free motion before the next has its turn, where there are several
)

// swing is the free motion of an axle that nothing holds, while it is shown.
type swing struct {
	stop func() // ends the frames; nil while there are none
	at   int    // frames shown
}

// frames calls f every period on the window's goroutine till stop is called. A driver without a display has none.
func frames(period time.Duration, f func()) (stop func()) {
	if _, ok := fyne.CurrentApp().Driver().(desktop.Driver); !ok {
		return func() {}
	}
	done := make(chan struct{})
	go func() {
		t := time.NewTicker(period)
		defer t.Stop()
		for {
			select {
			case <-done:
				return
			case <-t.C:
				fyne.Do(func() {
					select {
					case <-done: // stopped since
					default:
						f()
					}
				})
			}
		}
	}()
	return func() { close(done) }
}

// loose are the motions nothing stops of the axle as it is drawn.
func (e *Eye) loose() []motion.Free {
	if s := e.doc.Now(); s.Mech == nil {
		return s.Free
	}
	return nil
}

// busy reports whether a hand works in a view or elsewhere on the job.
func (e *Eye) busy() bool {
	if e.doc.Dragging() {
		return true
	}
	for _, v := range e.views {
		if v.hand.grip != nothing {
			return true
		}
	}
	return false
}

// swings starts or ends the showing of a free motion, as the job and the hands want it.
func (e *Eye) swings() {
	w := &e.swing
	list := e.loose()
	if len(list) == 0 || e.busy() || len(e.views) == 0 || !e.animated() {
		if w.stop != nil {
			w.stop()
			w.stop = nil
		}
		return
	}
	if w.stop == nil {
		w.at = 0
		w.stop = e.every(swingFrame, e.swingOn)
	}
}

// animated reports whether the user lets things move by themselves.
func animated() bool { return fyne.CurrentApp().Settings().ShowAnimations() }

// swingOn shows the next frame.
func (e *Eye) swingOn() {
	e.swing.at++
	for _, v := range e.views {
		if v.Visible() {
			v.drawSwing()
			brush.Repaint(v)
		}
	}
}

// shown is the free motion that has its turn, where it is in its swing, and the view that shows most of it; ok is false where the axle is held.
func (e *Eye) shown() (f motion.Free, phases []float64, best *View, ok bool) {
	list := e.loose()
	if len(list) == 0 {
		return f, nil, nil, false
	}
	turns := float64(e.swing.at) * float64(swingFrame) / float64(swingPeriod)
	f = list[int(turns/swingTurns)%len(list)]
	phases = []float64{math.Sin(2 * math.Pi * turns)}
	if e.swing.stop == nil { // it stands still: both ends of its swing
		f, phases = list[0], []float64{-1, 1}
	}
	most := 0.0
	for _, v := range e.views {
		if !v.Visible() {
			continue
		}
		s := v.Size()
		if seen := view.SwingSeen(v.plane, f) * math.Sqrt(float64(s.Width*s.Height)); seen > most {
			most, best = seen, v
		}
	}
	return f, phases, best, true
}

// drawSwing draws the free motion over the picture, and in the view that shows most of it says what it is.
func (v *View) drawSwing() {
	v.over.Begin()
	if v.scene != nil {
		if f, phases, best, ok := v.eye.shown(); ok && !v.eye.busy() {
			s := v.pixels()
			for _, phase := range phases {
				for _, it := range v.scene.Swing(v.transform(), f, phase) {
					if len(phases) > 1 { // another position of what moves
						it.Kind, it.Width = drawing.Dashed, 1.5
					}
					v.itemTo(&v.over, &it, s)
				}
			}
			for i := range v.picture.Items { // no line runs through a word that stands on a plate
				if it := &v.picture.Items[i]; it.Layer == drawing.Names {
					v.itemTo(&v.over, it, s)
				}
			}
			if best == v {
				v.banner(freeWords(v.doc.Now().Refusal))
			}
		}
	}
	v.objects = append(append(v.objects[:0], v.pool.Objects()...), v.over.Objects()...)
}

// freeWords is what nothing stops, of a refusal that goes on with what would cure it.
func freeWords(refusal string) string {
	if i := strings.Index(refusal, ". "); i >= 0 {
		return refusal[:i+1]
	}
	return refusal
}

// banner writes words across the view, under its name.
func (v *View) banner(words string) {
	if words == "" {
		return
	}
	size := v.Size()
	t := brush.Type{Size: look.Body, Bold: true}
	lines := look.Wrap(words, look.Body, true, size.Width-40)
	widest := float32(0)
	for _, l := range lines {
		widest = max(widest, brush.Measure(l, t).Width)
	}
	h := float32(len(lines)) * look.Lead
	x, y := (size.Width-widest)/2, float32(32)
	v.over.Rect(x-10, y-5, widest+20, h+10, look.Radius, 1.5, look.Color(ink.Trouble), look.Color(ink.Ground))
	for i, l := range lines {
		v.over.Text(l, x, y+float32(i)*look.Lead-2, t, look.Color(ink.Text))
	}
}
