// Package sheets puts a job's figures on paper, each sheet for the one who reads it: the owner, the certifying engineer, the tank maker, the bench, and
// what the axle and the driveline do. It takes figures from a finished study and puts them into words and tables; laying out is plotting/sheet's.
//
// Sheets are in English. Lengths stand in the unit the job is shown in.
package sheets

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"strconv"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/measure"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"
)

// Input is what sheets are made from.
type Input struct {
	Study   *study.Study // of depth Full, of the trial
	Before  *study.Study // of what it is set against, or nil: of the job as drawn where the study is of a trial
	Trial   string       // "" for the job as drawn
	Against string       // what Before is called: "as drawn"
	Date    string       // 2026-11-26
	Sum     string       // checksum of the job file, see Sum
	Size    paper.Size
	Demo    bool // a job that comes with the program: every page says so
}

// Reader is one who reads a sheet.
type Reader struct {
	Key   string // "owner", as the command has it
	Title string // "For the owner"
	make  func(ctx context.Context, in *Input) ([]sheet.Block, error)
	extra []string // cautions of the sheet's foot
}

// Readers are all there are, in the order of a whole set.
func Readers() []Reader {
	return []Reader{
		{"owner", "For the owner", owner, nil},
		{"engineer", "For the engineer", engineer, nil},
		{"bench", "For the bench", bench, benchCautions},
		{"tank", "For the tank maker", tank, nil},
		{"wander", "Does it steer itself", wander, nil},
		{"driveline", "Driveline", driveline, nil},
		{"charts", "Charts", booklet, nil},
		{"reference", "Joints, bolts, tubes", reference, nil},
	}
}

// ReaderOf is a reader by key.
func ReaderOf(key string) (r Reader, ok bool) {
	for _, r := range Readers() {
		if r.Key == key {
			return r, true
		}
	}
	return Reader{}, false
}

// Make makes a reader's sheet. The error is a plain sentence: why there is none for this job. A cancelled context gives its error.
func Make(ctx context.Context, r Reader, in *Input) (sheet.Sheet, error) {
	if in.Study == nil || in.Study.Mech == nil {
		return sheet.Sheet{}, fmt.Errorf("no sheet is made: %s", refusal(in.Study))
	}
	if in.Study.Depth != study.Full {
		return sheet.Sheet{}, fmt.Errorf("no sheet is made while the figures are older than the drawing; wait till they are worked out")
	}
	blocks, err := r.make(ctx, in)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return sheet.Sheet{}, err
	}
	return sheet.Sheet{Head: in.head(r.Title, r.extra...), Blocks: blocks}, nil
}

func refusal(s *study.Study) string {
	if s == nil {
		return "nothing has been worked out yet."
	}
	return s.Refusal
}

// Sum is the checksum of a job file printed on its sheets: the first twelve digits of the SHA-256 (FIPS 180-4) of its bytes.
func Sum(file []byte) string {
	h := sha256.Sum256(file)
	return hex.EncodeToString(h[:6])
}

func (in *Input) head(title string, extra ...string) sheet.Head {
	j := in.Study.Job
	c := edit.Measured(j)
	guesses := c.Total - c.Known
	name := j.Title
	if in.Demo {
		name += " (DEMO, not your vehicle)"
	}
	inputs := fmt.Sprintf("%d of %d inputs are guesses", guesses, c.Total)
	return sheet.Head{Title: title, Job: name, Trial: in.Trial, Date: in.Date, Units: in.units(), Sum: in.Sum, Inputs: inputs,
		Sketch: guesses > c.Known, Extra: extra}
}

func (in *Input) inch() bool { return in.Study.Job.Shown != nil && in.Study.Job.Shown.Length == "in" }

func (in *Input) units() string {
	if in.inch() {
		return "lengths in inches, angles in deg"
	}
	return "lengths in mm, angles in deg"
}

func (in *Input) unit() string {
	if in.inch() {
		return "in"
	}
	return "mm"
}

// none stands where there is no figure.
const none = "–"

// length is a length with its unit: "1127 mm", "9.4 mm", "44.375 in".
func (in *Input) length(mm float64) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return none
	}
	return in.Study.Length(mm)
}

// mm is a length as a bench measures it, in the job's unit without it: to a tenth of a mm, or thousandths of an inch.
func (in *Input) mm(mm float64) string {
	if in.inch() {
		return number(mm/measure.Inch, 3)
	}
	return number(mm, 1)
}

// fraction is a length to the nearest sixteenth of an inch and what is left over in mm: "44 3/8 in +0.2 mm".
func fraction(mm float64) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return none
	}
	whole, rest := measure.Fraction(mm, measure.DefaultDenominator)
	if rest == "even" {
		return whole
	}
	return whole + " " + rest
}

// number is a figure with so many decimals, a true minus, none where there is none.
func number(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return none
	}
	return measure.Signed(strconv.FormatFloat(v, 'f', decimals, 64))
}

// signed is number with a plus before what is more than nothing.
func signed(v float64, decimals int) string {
	s := number(v, decimals)
	if s != none && v > 0 && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}

const radian = 180 / math.Pi

// extent is the least and the largest of a figure: "−1.2 to 3.4".
func extent(e study.Extent, k float64, decimals int) string {
	if !e.Known() {
		return none
	}
	return number(e.Min*k, decimals) + " to " + number(e.Max*k, decimals)
}

// laden is the load figures are told for where only one is: the heaviest.
func (in *Input) laden() int { return max(0, in.Study.Laden()) }

// stand is the axle at a height and a load.
type stand struct {
	height, load string
	loadAt       int
	travel       float64
	at           *study.Position
	note         string
}

// stands are the axle's places at each height and load, those that cannot be had with their note.
func (in *Input) stands() []stand {
	t := in.Study.HeightTable()
	if t == nil {
		return nil
	}
	var out []stand
	for h := range t.Heights {
		for l := range t.Loads {
			x := stand{height: t.Heights[h], load: t.Loads[l], loadAt: l, travel: t.Travel[h][l], note: t.Notes[h][l]}
			if x.note == "" {
				x.at = in.Study.At(x.travel, x.travel)
			}
			out = append(out, x)
		}
	}
	return out
}

// name is the height and load in words: "Ride, full load".
func (x *stand) name() string {
	if x.load == "" {
		return study.Upper(x.height)
	}
	return study.Upper(x.height) + ", " + study.Lower(x.load)
}

// signedMM is mm with a plus before what is more than nothing.
func (in *Input) signedMM(v float64) string {
	s := in.mm(v)
	if s != none && v > 0 && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}

// chart is a figure of one of the study's charts, at the load told for all.
func (in *Input) chart(key, against, caption string) sheet.Figure {
	c, ok := study.ChartOf(key)
	if !ok {
		panic("sheets: no chart " + key)
	}
	p := in.Study.Spec(c, against, in.laden(), in.unit())
	p.Cursor = math.NaN()
	return sheet.Chart(p, caption)
}
