// Package panel holds what stands round the views: top bar, tight line, readings, findings, bottom bar and the drawers that pull up over
// plan and pad. Panels show what the document holds and hand presses to it or to the window; they work nothing out.
package panel

import (
	"io"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/vessel"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"gonum.org/v1/gonum/spatial/r3"
)

// Host is the window as the panels need it.
type Host struct {
	Doc    *document.Document
	Window fyne.Window
	Post   func(func()) // runs a function on the window's goroutine; from any goroutine

	Against  [2]string // what the two charts run against
	ByHeight [2]bool   // a line for each height instead of each load

	GoThere    func(f *study.Finding)              // sets the axle, brings the views to the place
	GoPlace    func(left, right float64, pair int) // the same for a pair of the gap list, -1: only the axle
	StartMyJob func()                              // asks the six numbers
	Run        func(action string)                 // runs an action of the window's table
	Enabled    func(action string) bool            // whether it can be run now
	Menu       func(name string) *fyne.Menu        // a menu of the top bar: "Job", "Trial", "Unit", "Export"
	Toggle     func(Drawer)                        // opens a drawer, or closes it where it is open
	Opened     func() Drawer                       // the open drawer
	Tell       func(error)                         // says what went wrong, in a sentence
	Ask        func(title, label, now string, f func(string) error)
	AskMany    func(title string, labels, now []string, f func([]string) error)
	ShowPart   func(document.Part)                    // opens the form of a part
	Explain    func(r *Reading, at fyne.CanvasObject) // opens the definition of a reading
	ShowPair   func(a, b string)                      // shows the gap of two parts over the travel, on the pad

	Choose func(*view.Choice)    // lets the hand choose among places in the views; nil ends it
	Draw   func(view.DraftShape) // lets the hand draw a part in the way in the views
	Taping func()                // the panel of the tapes was opened or closed

	Looks       func(p view.Plane) (right, up, wide, perUnit float64)  // what lies in the middle of a view, how much of the world it shows across, and a unit of it, mm
	Lay         func(panel string, list []view.Laid)                   // lays things over the views for a panel
	Frame       func(lo, hi r3.Vec)                                    // brings the views to a box, body axes
	ChooseFile  func(f func(path string), endings ...string)           // asks for a file to open
	ShowPlaces  func(*study.Places)                                    // shades in the views where the held pivot could sit; nil: nothing
	EditPivot   func(p document.Pivot, a edit.Axis)                    // takes a pivot and puts the keys into a coordinate's row of its card
	Show        func(p document.Pivot)                                 // brings the views to a pivot
	Say         func(title, phrase string)                             // tells something
	ShowPaper   func(label string)                                     // opens the sheets with one of them shown
	ShowTank    func(name string)                                      // opens the panel of a tank
	SaveDip     func(tank string, levels []vessel.Level)               // writes a tank's dip table where it is asked for
	SaveNumbers func(name, format string, args ...string)              // writes what the command writes with these arguments
	SaveFile    func(name, format string, write func(io.Writer) error) // asks where, and writes there
}

// Drawer is what can be pulled up over plan and pad.
type Drawer uint8

// The drawers.
const (
	NoDrawer Drawer = iota
	ChartsDrawer
	WayDrawer
	GapsDrawer
	PartsDrawer
	HeightsDrawer
	FindingsDrawer
	MeasureDrawer
	LeftOutDrawer
	TankDrawer
	LowestDrawer
	TyresDrawer
	RoomDrawer
	DatumsDrawer
	TrialsDrawer
	CardDrawer
	PhotoDrawer
	PivotsDrawer
	StandingDrawer
	HolesDrawer

	LastDrawer = HolesDrawer
)

// String is the drawer's name on screen.
func (d Drawer) String() string {
	return [...]string{"", words.T("Charts"), words.T("In the way"), words.T("All gaps"), words.T("Parts"), words.T("Heights"), words.T("Findings"), words.T("What to measure next"), words.T("Which pairs are left out and why"), words.T("Tank"), words.T("Lowest points"), words.T("Another tyre"), words.T("Room a part takes"), words.T("Datums"), words.T("Trials side by side"), words.T("Job card"), words.T("Photo behind a view"), words.T("All pivots"), words.T("Axle as measured"), words.T("Bolt holes")}[d]
}

// focus gives an object the keys, where there is a window.
func (h *Host) focus(o fyne.Focusable) {
	if h.Window != nil {
		h.Window.Canvas().Focus(o)
	}
}

// reveal scrolls till an object in the scroll's content can be seen: where the focus went must be visible.
func reveal(s *container.Scroll, o fyne.CanvasObject) {
	y, h := o.Position().Y, o.Size().Height
	at := s.Offset
	switch {
	case y < at.Y:
		at.Y = y
	case y+h > at.Y+s.Size().Height:
		at.Y = min(y, y+h-s.Size().Height)
	default:
		return
	}
	s.ScrollToOffset(at)
}
