package panel

import (
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"sync/atomic"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
	"axleloft/geometry/swept"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"gonum.org/v1/gonum/spatial/r3"
)

// roomStation is where a section lies.
type roomStation struct {
	axis int
	at   float64 // mm
}

// The grids of what is drawn and saved, mm; tests take coarser ones.
var roomStep, roomSolidStep = study.RoomStep, study.RoomSolidStep

// roomFound is the room a part takes, with its sections.
type roomFound struct {
	s     *study.Study
	rooms *study.Rooms
	room  *study.Room
}

// section is one worked out already, of the same study, part and margin; nil where there is none.
func (f *roomFound) section(s *study.Study, name string, margin float64, at roomStation) *swept.Section {
	if f.s != s || f.room.Name != name || f.room.Margin != margin {
		return nil
	}
	for _, c := range f.room.Sections {
		if c.Axis == at.axis && c.At == at.at {
			return c
		}
	}
	return nil
}

const (
	mostStations   = 6
	mostRoomMargin = 500.0 // mm
)

// room is the room a moving part takes over the whole travel: sections at stations, drawn in the views that see them face-on.
type room struct {
	h        *Host
	name     string        // of the part
	margin   float64       // mm counted round it
	stations []roomStation // asked for
	middle   bool          // those through the part's middle stand too, before them
	axis     int           // of the next station
	found    behind[roomFound]
	solid    behind[*swept.Solid] // on its way into a file
	nth      numbered
	kept     bool // what is drawn stays in the views when the panel is closed

	top     *roomHead
	round   *Entry
	station *Entry
	units   [2]*look.Label
	axes    *look.Segments
	add     *look.Button
	ready   [3]*look.Button
	refused *look.Para
	left    *fyne.Container
	right   *fyne.Container
	text    *container.Scroll
	box     *fyne.Container
	said    string
}

func newRoom(h *Host) *room {
	k := &room{h: h, axis: 1, middle: true, refused: look.NewPara("", "", ink.Text)}
	k.found = behind[roomFound]{post: h.Post, changed: k.refresh}
	k.solid = behind[*swept.Solid]{post: h.Post, changed: k.solidCame}
	k.top = newRoomHead(k)
	k.refused.Hide()
	k.left = container.New(&look.Stack{Gap: 6, Inset: 4, Below: 6})
	k.right = container.New(&look.Stack{Below: 8})
	k.round = NewEntry("0", nil, nil).Wide(86)
	k.round.OnSubmitted = func(string) { k.takeMargin() }
	k.round.OnLeave = k.takeMargin
	k.round.escape = k.write
	k.station = NewEntry("", nil, nil).Wide(86)
	k.station.OnSubmitted = func(string) { k.addTyped() }
	k.station.escape = func() { k.station.SetText("") }
	for i := range k.units {
		k.units[i] = look.NewLabel("", look.Small, ink.Second, false)
	}
	k.axes = look.NewSegments([]string{"X", "Y", "Z"}, k.axis, func(i int) { k.axis = i; k.refresh() }).Compact(10, look.Row, look.Small)
	k.add = look.NewButton(words.T("Add"), look.Outline, k.addTyped).Tall(30, look.Row).Padding(9)
	k.ready[0] = look.NewButton(words.T("At its middle"), look.Outline, func() { k.middle = !k.middle; k.refresh() }).Tall(30, look.Row).Padding(9)
	k.ready[1] = look.NewButton(words.T("At held pivot"), look.Outline, k.addHeld).Tall(30, look.Row).Padding(9)
	k.ready[2] = look.NewButton(words.T("Take out the last"), look.Outline, k.takeOut).Tall(30, look.Row).Padding(9)
	apart := layout.NewCustomPaddedHBoxLayout(look.Gap)
	fields := container.New(&look.Stack{Gap: 2, Inset: 4},
		container.New(&fieldLine{}, look.NewLabel(words.T("Gap round it"), look.Small, ink.Text, false).Shrinks(40), look.Calm(k.round), k.units[0]),
		container.New(&fieldLine{}, container.NewHBox(look.NewLabel(words.T("Section at"), look.Small, ink.Text, false), k.axes), look.Calm(k.station), k.units[1]),
		container.New(apart, k.add, k.ready[2]), container.New(apart, k.ready[0], k.ready[1]), k.refused)
	k.text = container.NewVScroll(container.New(&beside{left: container.New(&look.Stack{}, fields, k.left), right: k.right}))
	in := k.text.Content.(*fyne.Container)
	in.Objects = []fyne.CanvasObject{in.Layout.(*beside).left, k.right}
	k.box = container.New(&sides{look.Inset - 4, look.Gap}, look.Calm(k.text))
	h.Doc.Subscribe(func(c document.Change) { // what was kept goes with the geometry it is of
		if c&(document.JobChanged|document.StudyChanged) == 0 || h.Opened() == RoomDrawer {
			return
		}
		if _, fresh := k.current(); !fresh {
			h.Lay("room", nil)
		}
	})
	k.follow()
	return k
}

func (k *room) object() fyne.CanvasObject { return k.box }
func (k *room) head() fyne.CanvasObject   { return k.top.box }
func (k *room) bare() bool                { return false }

// closed ends what only an open panel does.
func (k *room) closed() {
	k.found.drop()
	k.solid.drop()
	if _, fresh := k.current(); !k.kept || !fresh {
		k.h.Lay("room", nil)
	}
}

// names are the moving parts of the study shown.
func (k *room) names(s *study.Study) []string {
	var out []string
	for _, i := range s.Movers() {
		out = append(out, s.Gaps.Parts[i].Name)
	}
	return out
}

// choose shows another part.
func (k *room) choose(name string) {
	if name != k.name {
		k.name, k.stations, k.middle = name, nil, true
		k.text.ScrollToTop()
		k.refresh()
	}
}

// kindOf are the kinds of moving part the lists of a job give.
var kindOf = map[edit.List]clearance.PartKind{edit.Links: clearance.LinkPart, edit.Arms: clearance.ArmPart, edit.Rockers: clearance.RodPart, edit.Struts: clearance.StrutPart, edit.Lines: clearance.LinePart,
	edit.AxleTube: clearance.TubePart, edit.Housing: clearance.HousingPart, edit.Driveline: clearance.ShaftPart, edit.Output: clearance.ShaftPart, edit.Pinion: clearance.ShaftPart, edit.Bearing: clearance.ShaftPart}

// moverOf is the moving part an entry of the job gives, of twins the one of a side or the left one; "" where it gives none.
func moverOf(s *study.Study, p document.Part, side job.Side) string {
	kind, ok := kindOf[p.List]
	if !ok {
		return ""
	}
	one := kind == clearance.TubePart || kind == clearance.HousingPart || kind == clearance.ShaftPart
	name := ""
	for _, i := range s.Movers() {
		if x := &s.Gaps.Parts[i]; x.Kind == kind && (one || x.Ref.Index == p.Index) {
			if name == "" || x.Ref.Side == side {
				name = x.Name
			}
		}
	}
	return name
}

// follow takes the part whose pivot is held, or that is selected.
func (k *room) follow() {
	s, _ := k.h.Doc.Study()
	name := ""
	if p, ok := k.h.Doc.Held(); ok {
		name = moverOf(s, document.Part{List: p.List, Index: p.Index}, p.Side)
	} else if p, ok := k.h.Doc.Selected(); ok {
		name = moverOf(s, p, job.Left)
	}
	if name != "" && name != k.name {
		k.name, k.stations, k.middle = name, nil, true
	}
}

func (k *room) update(c document.Change) {
	if c&document.SelectionChanged != 0 {
		k.follow()
	}
	if c&document.ShownChanged != 0 {
		k.write()
	}
	if c&^(document.PositionChanged) != 0 {
		k.refresh() // nothing here hangs on where the axle stands
	}
}

// write puts the margin into its field.
func (k *room) write() {
	unit := k.h.Doc.Unit()
	text := plainNumber(k.margin)
	if unit == "in" {
		text = num(k.margin/mmPerInch, 3)
	}
	for _, u := range k.units {
		u.SetText(unit)
	}
	if !k.round.focused || k.round.was != text {
		k.round.SetText(text)
		k.round.was = text
	}
	k.refuse("")
}

func (k *room) refuse(phrase string) {
	k.refused.Set("", phrase, ink.Text)
	if k.refused.Visible() != (phrase != "") {
		look.Show(k.refused, phrase != "")
		k.text.Content.Refresh()
	}
}

// typed reads a length.
func (k *room) typed(e *Entry, least, most float64) (float64, bool) {
	unit := measure.Millimetres
	if k.h.Doc.Unit() == "in" {
		unit = measure.Inches
	}
	v, err := measure.Parse(e.Text, unit)
	if err == nil && !(v >= least && v <= most) {
		err = words.Errorf("Give from %s to %s.", lengthUnit(least, k.h.Doc.Unit()), lengthUnit(most, k.h.Doc.Unit()))
	}
	if err != nil {
		k.refuse(document.Words(err))
		return 0, false
	}
	k.refuse("")
	return v, true
}

func (k *room) takeMargin() {
	if v, ok := k.typed(k.round, 0, mostRoomMargin); ok {
		k.round.was = k.round.Text
		k.margin = v
		k.refresh()
	}
}

func (k *room) addTyped() {
	if v, ok := k.typed(k.station, -1e5, 1e5); ok {
		k.station.SetText("")
		k.put(roomStation{k.axis, v})
	}
}

// addHeld adds a section through the held pivot, where it stands at ride height.
func (k *room) addHeld() {
	p, ok := k.h.Doc.Held()
	if !ok {
		return
	}
	if at, ok := edit.At(k.h.Doc.Current(), p); ok {
		k.put(roomStation{k.axis, [3]float64{at.X, at.Y, at.Z}[k.axis]})
	}
}

// count is how many sections stand.
func (k *room) count() int {
	n := len(k.stations)
	if k.middle {
		n += 3
	}
	return n
}

// put adds a section to those shown.
func (k *room) put(st roomStation) {
	switch {
	case slices.Contains(k.stations, st):
	case k.count() >= mostStations:
		k.refuse(words.F("There are %d sections, the most that are drawn. Take one out first.", mostStations))
		return
	default:
		k.stations = append(k.stations, st)
	}
	k.refresh()
}

// takeOut takes the last section away.
func (k *room) takeOut() {
	if n := len(k.stations); n > 0 {
		k.stations = k.stations[:n-1]
	} else {
		k.middle = false
	}
	k.refuse("")
	k.refresh()
}

// key is what the sections are of.
func (k *room) key(s *study.Study) string {
	return fmt.Sprint(k.nth.of(s), " ", k.name, " ", k.margin, " ", k.middle, k.stations)
}

// current is what is worked out, and whether it is of the geometry, part and margin as they stand; nil where there is nothing of this part.
func (k *room) current() (f *roomFound, fresh bool) {
	s, _ := k.h.Doc.Study()
	fresh = k.h.Doc.Freshness().Full && k.found.fresh(k.key(s))
	if k.found.has && (fresh || k.found.got.room.Name == k.name) {
		return &k.found.got, fresh
	}
	return nil, false
}

// want asks for what is not there yet.
func (k *room) want() {
	s, _ := k.h.Doc.Study()
	names := k.names(s)
	if !slices.Contains(names, k.name) {
		k.name = ""
		if len(names) > 0 {
			k.name, k.stations, k.middle = names[0], nil, true
		}
	}
	if k.name == "" || !k.h.Doc.Freshness().Full {
		k.found.drop() // a hand moves something: the processors are the views'
		return
	}
	name, margin, middle, stations, before := k.name, k.margin, k.middle, slices.Clone(k.stations), k.found.got
	k.found.ask(k.key(s), func(ctx context.Context, looked *atomic.Int64) (roomFound, error) {
		f := roomFound{s: s, rooms: before.rooms}
		var err error
		if before.s != s {
			if f.rooms, err = s.Rooms(ctx); err != nil {
				return f, err
			}
		}
		for _, i := range s.Movers() {
			if s.Gaps.Parts[i].Name == name {
				f.room = f.rooms.Of(i, margin)
			}
		}
		if middle {
			for axis, v := range f.room.Middle() {
				stations = slices.Insert(stations, axis, roomStation{axis, math.Round(v)})
			}
		}
		for n, st := range stations {
			if before.room != nil {
				if c := before.section(s, name, margin, st); c != nil {
					f.room.Sections = append(f.room.Sections, c)
					continue
				}
			}
			if err := f.room.Section(ctx, st.axis, st.at, roomStep, func(done, all int) {
				looked.Store(int64(100 * (float64(n) + float64(done)/float64(all)) / float64(len(stations))))
			}); err != nil {
				return f, err
			}
		}
		return f, nil
	})
}

// refresh shows how things stand.
func (k *room) refresh() {
	if k.h.Opened() != RoomDrawer {
		return
	}
	k.want()
	f, fresh := k.current()
	k.top.update(fresh)
	_, held := k.h.Doc.Held()
	k.ready[1].SetDisabled(!held)
	k.ready[2].SetDisabled(k.count() == 0)
	k.ready[0].SetLit(k.middle)
	k.axes.Set([]string{"X", "Y", "Z"}, k.axis)
	k.tell(f, fresh)
	k.lay(f, fresh)
}

// notInRoom says what the room leaves out.
const notInRoom = "Bush give and frame flex are not in it: leave room beyond."

// planesOf are the views that see a section square to X, Y or Z face-on.
var planesOf = [3]view.Plane{view.Rear, view.Side, view.Plan}

var planeWords = [3]string{words.Mark("rear view"), words.Mark("side view"), words.Mark("plan")}

// lay draws the sections over the views.
func (k *room) lay(f *roomFound, fresh bool) {
	if !fresh {
		k.h.Lay("room", nil)
		return
	}
	var out []view.Laid
	for _, c := range f.room.Sections {
		if len(c.Loops) > 0 {
			out = append(out, view.Laid{Name: words.F("room of %s", f.room.Name), Look: view.Taken, Only: true, In: planesOf[c.Axis], Loops: c.Loops,
				Words: words.F("room, %s", study.SectionName(c.Axis, c.At, k.length))})
		}
	}
	k.h.Lay("room", out)
}

func (k *room) length(mm float64) string { return lengthUnit(mm, k.h.Doc.Unit()) }

// fine writes a small length to a tenth of a mm.
func (k *room) fine(mm float64) string {
	if k.h.Doc.Unit() == "in" {
		return num(mm/mmPerInch, 3) + " in"
	}
	return num(mm, 1) + " mm"
}

// tell writes the words and the sections.
func (k *room) tell(f *roomFound, fresh bool) {
	key := fmt.Sprint(fresh, k.found.gotKey, k.found.err, k.found.left, k.name, k.h.Doc.Freshness(), k.h.Doc.Unit())
	if key == k.said {
		return
	}
	k.said = key
	role := ink.Text
	if !fresh {
		role = ink.Second
	}
	k.left.Objects, k.right.Objects = nil, nil
	para := func(phrase string, role ink.Role) { k.left.Add(look.NewPara("", phrase, role)) }
	switch s, _ := k.h.Doc.Study(); {
	case s.Refusal != "":
		para(s.Refusal, ink.Text)
	case k.name == "":
		para(words.T("No moving part of this job has a shape. Give a link its tube, the tyres their width."), ink.Text)
	case k.found.err != nil && !fresh && !k.found.busy:
		para(study.Upper(k.found.err.Error()), ink.Text)
	case f == nil && k.found.left:
		para(words.T("Given up. Press Work out to begin again."), ink.Text)
	case f == nil:
		para(words.T("Working out where it goes over the whole travel."), ink.Second)
	default:
		para(words.F("%s, wherever it goes over the whole travel, its brackets with it. %s", f.room.Title(k.length), f.room.HowWords()), role)
		if len(f.room.Sections) > 0 {
			k.right.Add(newHeadRow(words.T("Sections, drawn blue in long dashes with two dots. A press shows one large:"), false))
		} else {
			k.right.Add(newHeadRow(words.T("No section is asked for."), false))
		}
		for _, c := range f.room.Sections {
			k.line(c, fresh, role)
		}
	}
	para(words.T(notInRoom), ink.Second)
	for _, o := range []fyne.CanvasObject{k.left, k.right, k.text.Content, k.text} {
		o.Refresh()
	}
}

// line lists a section; a press brings the views to it.
func (k *room) line(c *swept.Section, fresh bool, role ink.Role) {
	lead := words.F("%s, in the %s:", study.SectionName(c.Axis, c.At, k.length), words.T(planeWords[c.Axis]))
	lo, hi, ok := study.SectionBox(c)
	if !ok {
		k.right.Add(newPressLine(lead, words.T("It does not come there."), role, nil))
		return
	}
	phrase := study.ExtentWords(c, k.length) + "; " + study.AreaWords(c.Area, k.h.Doc.Unit() == "in") + "; " + k.found.got.room.LargerWords(c.Larger, k.fine) + "."
	press := func() {
		const around = 60.0 // mm
		m := r3.Vec{X: around, Y: around, Z: around}
		k.h.Frame(r3.Sub(lo, m), r3.Add(hi, m))
	}
	if !fresh {
		press = nil
	}
	l := newPressLine(lead, phrase, role, press)
	l.seen = func() { revealIn(k.text, l) }
	k.right.Add(l)
}

// saveMenu offers what can be written.
func (k *room) saveMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	f, fresh := k.current()
	if !fresh {
		return m
	}
	name := words.F("room of %s", f.room.Name)
	args := []string{"swept", "--part", f.room.Name, "--margin=" + plainNumber(f.room.Margin)}
	for _, c := range f.room.Sections {
		args = append(args, "--section="+"xyz"[c.Axis:c.Axis+1]+"="+plainNumber(c.At))
	}
	put := func(label, format string, more ...string) {
		m.Items = append(m.Items, fyne.NewMenuItem(label, func() { k.h.SaveNumbers(name, format, append(slices.Clone(args), more...)...) }))
	}
	put(words.T("Drawing full size, PDF..."), "pdf")
	put(words.T("Drawing full size, SVG..."), "svg")
	put(words.T("Drawing 1:10, PDF..."), "pdf", "--scale=1:10")
	put(words.T("Drawing 1:10, SVG..."), "svg", "--scale=1:10")
	put(words.T("Outlines, CSV..."), "csv")
	m.Items = append(m.Items, fyne.NewMenuItem(words.T("Solid, STL..."), k.makeSolid))
	return m
}

// makeSolid works the solid out; when it is there it is asked where to write it.
func (k *room) makeSolid() {
	f, fresh := k.current()
	if !fresh {
		return
	}
	s, room := f.s, f.room
	k.solid.again()
	k.solid.begin(fmt.Sprint(k.key(s), " solid"), func(ctx context.Context, looked *atomic.Int64) (*swept.Solid, error) {
		return room.Whole(ctx, roomSolidStep, func(done, all int) { looked.Store(int64(100 * done / all)) })
	})
	k.refresh()
}

// solidCame asks where the solid is to be written.
func (k *room) solidCame() {
	k.refresh()
	f, fresh := k.current()
	if k.solid.busy || k.h.Opened() != RoomDrawer {
		return
	}
	if k.solid.err != nil {
		k.h.Tell(k.solid.err)
		return
	}
	if s, _ := k.h.Doc.Study(); fresh && k.solid.fresh(fmt.Sprint(k.key(s), " solid")) {
		solid := k.solid.got
		k.h.SaveFile(words.F("room of %s", f.room.Name), "stl", func(w io.Writer) error { return solid.WriteSTL(w, f.room.Head()) })
	}
}

func (k *room) lines() []string {
	out := []string{k.top.pick.Text(), k.top.note.Text(), k.refused.Text()}
	out = append(out, wordsOf(k.left.Objects)...)
	return append(out, wordsOf(k.right.Objects)...)
}

func (k *room) named(name string) fyne.CanvasObject {
	switch name {
	case "Gap round it":
		return k.round
	case "Section at":
		return k.station
	case "Add":
		return k.add
	case "Part":
		return k.top.pick
	case "Save":
		return k.top.save
	case "Keep drawn":
		return k.top.keep
	case "Give up", "Work out":
		return k.top.stop
	}
	for _, b := range k.ready {
		if b.Text() == name {
			return b
		}
	}
	return lineNamed(k.right.Objects, name)
}
