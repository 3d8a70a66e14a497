package edit

import (
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Axis is a body axis.
type Axis uint8

// The axes.
const (
	X Axis = iota
	Y
	Z
)

// Pivots lists every pivot the job has, in file order, each pair once (Side Left; Single where there is no twin).
func Pivots(j *job.Job) []Pivot { panic("not built") }

// At is where the pivot stands at ride height, body axes (mirrored for the right twin); ok is false where the job has no such pivot.
func At(j *job.Job, p Pivot) (at r3.Vec, ok bool) { panic("not built") }

// Name is the pivot in words: "Panhard rod, frame end", "Lower left, axle end", "Pinion joint".
func Name(j *job.Job, p Pivot) string { panic("not built") }

// PartName is the name of an entry: "Tank shelf", "Driveshaft".
func PartName(j *job.Job, part Part) string { panic("not built") }

// IsMeasured reports whether the pivot is there (measured), not planned.
func IsMeasured(j *job.Job, p Pivot) bool { panic("not built") }

// IsPartMeasured is the same of a part in the way (Envelopes) or the axle (AxleTube, Housing).
func IsPartMeasured(j *job.Job, part Part) bool { panic("not built") }

// SetMeasured marks a pivot measured, or frees it.
func SetMeasured(j *job.Job, p Pivot, measured bool) error { panic("not built") }

// SetPartMeasured marks a part in the way (or the axle) measured, or frees it.
func SetPartMeasured(j *job.Job, part Part, measured bool) error { panic("not built") }

// IsGuess reports whether a coordinate is a guess: its pivot is not measured and nobody gave the number.
func IsGuess(j *job.Job, p Pivot, a Axis) bool { panic("not built") }

// GivenOf is how a coordinate was given; ok is false where it was not.
func GivenOf(j *job.Job, p Pivot, a Axis) (g job.GivenValue, ok bool) { panic("not built") }

// SetGiven sets datum, +- and source of a coordinate without moving it; plusMinus NaN leaves that out.
func SetGiven(j *job.Job, p Pivot, a Axis, from string, plusMinus float64, source string) error {
	panic("not built")
}

// Move puts a pivot at a place (ride height, body axes). A measured one refuses. The right twin moves its mirror.
// A link that keeps its length (KeepsLength) is led along its circle: coordinates that were not asked to move stay.
func Move(j *job.Job, p Pivot, to r3.Vec) error { panic("not built") }

// Type sets one coordinate from text: "1127", "44 3/8\"", "3' 8 3/8", "1127+6", "-30". What was typed is kept.
func Type(j *job.Job, p Pivot, a Axis, text string) error { panic("not built") }

// KeepsLength reports whether the link of that entry keeps its length while its pivots are moved.
func KeepsLength(j *job.Job, link int) bool { panic("not built") }

// SetKeepLength turns that on or off.
func SetKeepLength(j *job.Job, link int, keep bool) error { panic("not built") }

// LinkLength is the length between a link's pivots, mm.
func LinkLength(j *job.Job, link int) float64 { panic("not built") }

// Kinds lists what can be added to a list, in words: for Links "Two lower links", "Panhard rod" ...; the first is the usual one.
func Kinds(l List) []string { panic("not built") }

// Add adds one of Kinds(l), a guess placed sensibly for this vehicle, and tells where it went.
func Add(j *job.Job, l List, kind string) (Part, error) { panic("not built") }

// AddLoad adds a load from what the front and the rear axle weigh, kg. Its CG height starts as a guess.
func AddLoad(j *job.Job, name string, front, rear float64) (Part, error) { panic("not built") }

// AddBox adds a part in the way by two opposite corners.
func AddBox(j *job.Job, name string, a, b r3.Vec) (Part, error) { panic("not built") }

// AddOutline adds a part in the way by its outline in a view ("side", "plan" or "rear") between two places on the third axis.
// Corners are in the plane's own axes: side X, Z; plan X, Y; rear Y, Z.
func AddOutline(j *job.Job, name, plane string, outline []job.Point2, from, to float64) (Part, error) {
	panic("not built")
}

// AddPipe adds a part in the way by points along its centre line and its outside diameter.
func AddPipe(j *job.Job, name string, path []r3.Vec, outside float64) (Part, error) {
	panic("not built")
}

// MovePart shifts a part in the way by d; a measured one refuses.
func MovePart(j *job.Job, part Part, d r3.Vec) error { panic("not built") }

// Duplicate copies an entry under a name of its own and tells where the copy went.
func Duplicate(j *job.Job, part Part) (Part, error) { panic("not built") }

// Remove takes an entry out; names in carries lists go with it.
func Remove(j *job.Job, part Part) error { panic("not built") }

// Rename gives an entry another name; carries lists, keeps and set-aside findings follow.
func Rename(j *job.Job, part Part, name string) error { panic("not built") }

// Unlink makes two singles of a pair.
func Unlink(j *job.Job, part Part) error { panic("not built") }

// FreeName is name, or "name 2", "name 3" ... where it is taken.
func FreeName(j *job.Job, name string) string { panic("not built") }

// Unit is what a field's value is.
type Unit uint8

// The units of fields.
const (
	Text Unit = iota
	Length
	Angle
	Mass
	Number    // a plain number; Suffix says of what
	Bool      // "yes" or "no"
	Choice    // one of Choices
	Points    // places, one after the other: "x, y, z; x, y, z"
	LongText  // several lines
	ReadOnly  // worked out, cannot be set: litres, length
	NameList  // names, separated by commas
	Direction // a bolt's direction in words: one of Choices, or degrees turned
)

// Field is one number, word or choice of a part, for a generic form.
type Field struct {
	Key      string // place in the part: "frameEnd.bolt", "tube.wall"
	Group    string // heading it stands under: "Frame end"
	Label    string // "Outside"
	Unit     Unit
	Suffix   string // "mm", "in", "deg", "kg", "N/mm", "L" ... to show behind the value
	Choices  []string
	Optional bool // an empty text takes the value out; Default says what holds then
	Default  string
	Text     string  // the value as shown, in the job's unit; "" where there is none
	Value    float64 // mm, deg, kg ... NaN where there is none or it is no number
	Guess    bool    // nobody measured or gave it
	set      func(string) error
}

// Set changes the job the field was read from.
func (f *Field) Set(text string) error { panic("not built") }

// Fields lists everything there is to set about a part; nil where there is no such part.
func Fields(j *job.Job, part Part) []Field { panic("not built") }

// Set changes one field of a part by its key.
func Set(j *job.Job, part Part, key, text string) error { panic("not built") }

// Count is how much of the job is known.
type Count struct {
	Known, Total int
	Guesses      []Guess
}

// Guess is a thing nobody measured yet: a coordinate of a pivot, or a part in the way.
type Guess struct {
	Pivot   Pivot // where IsPivot
	Axis    Axis
	Part    Part
	IsPivot bool
	Name    string // "Lower, frame end: X", "Tank shelf"
}

// Measured counts what is known: each coordinate of each pivot of links, struts, stops, straps, lines and the two driveshaft joints
// (three each, a pair once) and each part in the way counts one. It is known when its pivot or part is marked measured or somebody gave the number.
func Measured(j *job.Job) Count { panic("not built") }

// ReadyReasons are the ready reasons to set a finding aside.
var ReadyReasons = []string{"will be cut away", "can be moved", "measured on the vehicle, clear", "meant to touch"}

// SetAside puts a finding aside with a reason, its number and the date (2006-01-02).
func SetAside(j *job.Job, finding, trial, reason, date string, number float64) error {
	panic("not built")
}

// BringBack ends that.
func BringBack(j *job.Job, finding, trial string) error { panic("not built") }
