package sight

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"time"

	"axleloft/app/document"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"

	"fyne.io/fyne/v2"
	"gonum.org/v1/gonum/spatial/r3"
)

// homes is how many views Home can go back through.
const homes = 50

// Framing is what the eye frames.
type Framing uint8

// The framings: Free is where the hand left it.
const (
	Free Framing = iota
	FitLinks
	FitEverything
)

// Eye is the one scale and the one point in space that the three views share: zooming or panning one moves the others.
// All methods are called from the window's goroutine.
type Eye struct {
	doc     *document.Document
	views   []*View
	at      view.Eye
	framing Framing
	before  []standpoint
	running bool // a run of zooms or pans: one view to go back to
	watch   []func()

	Leave func() // what Escape does where a view has nothing to put back or let go of; nil: nothing

	swing    swing
	every    func(time.Duration, func()) (stop func())
	animated func() bool

	laid  map[string][]view.Laid // what open panels lay over the views, by panel
	laidN int                    // how often that changed

	places *study.Places // where the held pivot could sit; nil: not shown
	choice *view.Choice  // among places, by a press in a view; nil: none

	draft *drafting // a part being drawn by hand; nil: none

	landing landing // what dragged pivots land on

	pair string // of the gap drawn as a dimension: its two parts' names, "" for none

	photos map[string]*loaded // pictures behind the views, by their files
	apart  func(func())       // starts background work
	post   func(func())       // runs a function on the window's goroutine

	near   []document.Pivot // pivots under the last press, nearest first
	nearAt int
}

// standpoint is where the eye looks from.
type standpoint struct {
	at      view.Eye
	framing Framing
	pair    string
}

// NewEye returns an eye that frames the links of a document.
func NewEye(d *document.Document) *Eye {
	return &Eye{doc: d, at: view.Eye{Scale: 0.2}, framing: FitLinks, every: frames, animated: animated, apart: func(f func()) { go f() }, post: fyne.Do}
}

// Watch calls f whenever the eye has moved.
func (e *Eye) Watch(f func()) { e.watch = append(e.watch, f) }

// Framing is what the eye frames now: which of Fit and Fit all stands.
func (e *Eye) Framing() Framing { return e.framing }

// Fit frames the links and what lies within 150 mm of them.
func (e *Eye) Fit() { e.frame(FitLinks) }

// FitAll adds tyres and ground.
func (e *Eye) FitAll() { e.frame(FitEverything) }

func (e *Eye) frame(f Framing) {
	e.remember()
	e.running = false
	e.framing, e.pair = f, ""
	e.reframe()
	e.moved()
}

// Frame frames a box, body axes, mm.
func (e *Eye) Frame(lo, hi r3.Vec) {
	e.remember()
	e.running = false
	e.at, e.framing, e.pair = view.FrameBox(lo, hi, e.sizes()), Free, ""
	e.moved()
}

// Home goes back to the view before.
func (e *Eye) Home() {
	n := len(e.before)
	if n == 0 {
		return
	}
	b := e.before[n-1]
	e.at, e.framing, e.pair = b.at, b.framing, b.pair
	e.before, e.running = e.before[:n-1], false
	e.reframe()
	e.moved()
}

// CanHome reports whether there is a view before.
func (e *Eye) CanHome() bool { return len(e.before) > 0 }

// GoTo puts a place (body axes, mm) in the middle of every view, at about 1 mm a pixel.
func (e *Eye) GoTo(place r3.Vec) {
	e.remember()
	e.running = false
	e.at, e.framing, e.pair = view.GoTo(place), Free, ""
	e.moved()
}

// GoToGap looks at the middle of a pair's gap where the axle now stands (pair: index of the study's Gaps.Pairs), and draws the gap as a
// dimension between its two points until the eye is framed again. It tells whether there is such a gap.
func (e *Eye) GoToGap(pair int) bool {
	now, pos := e.doc.Now(), e.doc.Position()
	if now.Gaps == nil || pair < 0 || pair >= len(now.Gaps.Pairs) || pair >= len(pos.Gaps) {
		return false
	}
	g := &pos.Gaps[pair]
	e.GoTo(r3.Scale(0.5, r3.Add(g.PointA, g.PointB)))
	p := now.Gaps.Pairs[pair]
	e.pair = now.Gaps.Parts[p.A].Name + "/" + now.Gaps.Parts[p.B].Name
	e.moved()
	return true
}

// gap finds the pair of the dimension in a study.
func (e *Eye) gap(s *study.Study) (pair int, ok bool) {
	if e.pair == "" || s.Gaps == nil {
		return 0, false
	}
	for i, p := range s.Gaps.Pairs {
		if s.Gaps.Parts[p.A].Name+"/"+s.Gaps.Parts[p.B].Name == e.pair {
			return i, true
		}
	}
	return 0, false
}

// Lay lays things over the views for a panel, in the place of what it had laid; none: nothing.
func (e *Eye) Lay(panel string, list []view.Laid) {
	if len(list) == 0 && len(e.laid[panel]) == 0 {
		return
	}
	if e.laid == nil {
		e.laid = map[string][]view.Laid{}
	}
	e.laid[panel] = list
	e.laidN++
	for _, v := range e.views {
		v.Refresh()
	}
}

// Laid is all that is laid over the views.
func (e *Eye) Laid() []view.Laid {
	var out []view.Laid
	for _, panel := range slices.Sorted(maps.Keys(e.laid)) {
		out = append(out, e.laid[panel]...)
	}
	return out
}

// length writes a length in the unit shown.
func (e *Eye) length(mm float64) string {
	return view.Length(mm, e.doc.Unit() == "in")
}

// Scale is units a mm.
func (e *Eye) Scale() float64 { return e.at.Scale }

// Centre is the point in the middle of every view, body axes, mm.
func (e *Eye) Centre() r3.Vec { return e.at.At }

func (e *Eye) remember() {
	if len(e.before) == homes {
		e.before = append(e.before[:0], e.before[1:]...)
	}
	e.before = append(e.before, standpoint{e.at, e.framing, e.pair})
}

// run remembers the view once for a whole run of zooms and pans.
func (e *Eye) run() {
	if !e.running {
		e.remember()
		e.running = true
	}
	e.framing = Free
}

// zoom changes the scale about a place of a view.
func (e *Eye) zoom(v *View, x, y, factor float64) {
	s := v.Size()
	to := e.at.ZoomAt(v.plane, view.Size{W: float64(s.Width), H: float64(s.Height)}, x, y, factor)
	if to != e.at {
		e.run()
		e.at = to
		e.moved()
	}
}

// pan moves the picture of a view by units, y down.
func (e *Eye) pan(p view.Plane, dx, dy float64) {
	e.run()
	e.at = e.at.Pan(p, dx, dy)
	e.moved()
}

func (e *Eye) moved() {
	for _, v := range e.views {
		v.eyeMoved()
	}
	for _, f := range e.watch {
		f()
	}
}

// resized frames again when a view has changed its size.
func (e *Eye) resized() {
	if e.framing == Free {
		return
	}
	before := e.at
	e.reframe()
	if before != e.at {
		e.moved()
	}
}

// reframe finds scale and centre of the framing that stands; Free stays.
func (e *Eye) reframe() {
	sizes := e.sizes()
	switch e.framing {
	case FitLinks:
		e.at = view.Fit(e.doc.Now(), sizes)
	case FitEverything:
		e.at = view.FitAll(e.doc.Now(), sizes)
	case Free:
	}
}

// sizes are the views' own, by plane.
func (e *Eye) sizes() (sizes [3]view.Size) {
	for _, v := range e.views {
		s := v.Size()
		sizes[v.plane] = view.Size{W: float64(s.Width), H: float64(s.Height)}
	}
	return sizes
}

// Step is the drag step, mm: the smallest of 1, 2, 5, 10 mm (1/16, 1/8, 1/4, 1/2 in) that is at least one unit on screen.
func (e *Eye) Step() float64 { return view.Step(e.at.Scale, e.doc.Unit() == "in") }

// ScaleText says what a pixel is and what a drag steps by: "1 px is 4.7 mm, drag steps 5 mm".
func (e *Eye) ScaleText() string {
	px := 1 / e.at.Scale
	if e.doc.Unit() == "in" {
		step := [...]string{"1/16", "1/8", "1/4", "1/2"}[int(math.Round(math.Log2(e.Step()/(25.4/16))))]
		return words.F("1 px is %s in, drag steps %s in", short(px/25.4), step)
	}
	return words.F("1 px is %s mm, drag steps %.0f mm", short(px), e.Step())
}

// short writes a number with two figures.
func short(v float64) string {
	switch {
	case v >= 10:
		return fmt.Sprintf("%.0f", v)
	case v >= 1:
		return fmt.Sprintf("%.1f", v)
	default:
		return fmt.Sprintf("%.2f", v)
	}
}

// Near tells which of how many pivots that lie close together is held: "next of 3". count is 1 where there is no other.
func (e *Eye) Near() (index, count int) {
	held, ok := e.doc.Held()
	if !ok || e.nearAt >= len(e.near) || e.near[e.nearAt] != held {
		return 0, 1
	}
	return e.nearAt, len(e.near)
}

// Next takes the next of the pivots that lie close together; it tells whether there was one.
func (e *Eye) Next() bool {
	if _, n := e.Near(); n < 2 {
		return false
	}
	e.nearAt = (e.nearAt + 1) % len(e.near)
	e.doc.Hold(e.near[e.nearAt])
	return true
}

// Where tells where in which view a named thing is, for whoever drives the window from outside: names are those of View.Where.
func (e *Eye) Where(plane view.Plane, name string) (fyne.Position, bool) {
	for _, v := range e.views {
		if v.plane == plane {
			return v.Where(name)
		}
	}
	return fyne.Position{}, false
}
