package study

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/measure"
)

// HeightTable is each quantity at each height the driver can choose and each load: both wheels stand at the height's travel and the load's together.
type HeightTable struct {
	Heights, Loads []string // names; "ride" where the job gives no height, "" where it gives no load
	Travel         [][]float64
	Notes          [][]string // why there are no figures at a height and load, "" where there are; [height][load]
	Rows           []HeightRow
	Captions       []string // in words: where a height changes the way the roll steer goes, leaves common practice, or lies outside the travel
}

// HeightRow is one quantity.
type HeightRow struct {
	Reading
	Cells [][]HeightCell // [height][load]
}

// HeightCell is a quantity at a height and load.
type HeightCell struct {
	Value float64 // NaN where there is none
	At    string  // the joint or the pair it is of, ""
	Out   bool    // outside the band common practice has
}

// tableKeys are the readings of the table, in its order.
var tableKeys = [...]string{"pinion", "pinionground", "antisquat", "antilift", "rollcentre", "rollsteer", "sideshift", "squareness", "shaftfront", "shaftbearing", "shaftrear", "slip", "use", keyGap}

// rideTol is how little a travel may differ from ride height's to count as it, mm.
const rideTol = 0.05

// HeightTable works out the table; it is kept. nil where nothing can be worked out. Safe for concurrent use.
func (s *Study) HeightTable() *HeightTable {
	if s.Mech == nil {
		return nil
	}
	s.heightsOnce.Do(func() { s.heightsKept = s.heightTable() })
	return s.heightsKept
}

// spot is a height's or a load's travel, and its name.
type spot struct {
	name   string
	travel float64
}

// heightSpots are the heights; the ride height alone where the job gives none.
func (s *Study) heightSpots() []spot {
	var out []spot
	if v := s.Job.Vehicle; v != nil {
		for _, h := range v.Heights {
			out = append(out, spot{h.Name, h.Heave})
		}
	}
	if len(out) == 0 {
		out = append(out, spot{"ride", 0})
	}
	return out
}

func (s *Study) heightTable() *HeightTable {
	t := &HeightTable{}
	heights := s.heightSpots()
	at := make([][]*Position, len(heights))
	for i := range s.Loads {
		t.Loads = append(t.Loads, s.Loads[i].Name)
	}
	for h, spot := range heights {
		t.Heights = append(t.Heights, spot.name)
		t.Travel = append(t.Travel, make([]float64, len(s.Loads)))
		t.Notes = append(t.Notes, make([]string, len(s.Loads)))
		at[h] = make([]*Position, len(s.Loads))
		for l := range s.Loads {
			travel := spot.travel + s.Loads[l].Heave
			t.Travel[h][l] = travel
			p := s.At(travel, travel)
			at[h][l] = p
			t.Notes[h][l] = p.Err
		}
	}
	for _, key := range tableKeys {
		if (key == "pinionground" && !s.Mech.FrontStill) || (key == "shaftbearing" && !s.Mech.Drive.TwoPiece) {
			continue
		}
		r, _ := ReadingOf(key)
		row := HeightRow{Reading: r}
		if key == keyGap {
			row.Title = words.T("Tightest gap") // the one with the least to spare
		}
		some := false
		for h := range heights {
			row.Cells = append(row.Cells, make([]HeightCell, len(s.Loads)))
			for l := range s.Loads {
				c := s.cell(&r, at[h][l], l)
				c.Out = c.Value < s.bandLo(&r, l) || c.Value > s.bandHi(&r, l)
				row.Cells[h][l] = c
				some = some || !math.IsNaN(c.Value)
			}
		}
		if some {
			t.Rows = append(t.Rows, row)
		}
	}
	if row, ok := s.lowestRow(at); ok {
		t.Rows = append(t.Rows, row)
	}
	t.Captions = s.captions(t)
	return t
}

// bandLo and bandHi are the band of common practice of a reading for a load: anti-squat has one for the heaviest load and another for the rest.
func (s *Study) bandLo(r *Reading, load int) float64 {
	if r.Key == "antisquat" && load != s.Laden() {
		return math.NaN()
	}
	return r.BandLo
}

func (s *Study) bandHi(r *Reading, load int) float64 {
	if r.Key == "antisquat" && load != s.Laden() {
		return antiSquatEmpty
	}
	return r.BandHi
}

// cell reads a position.
func (s *Study) cell(r *Reading, p *Position, load int) HeightCell {
	if p.Err != "" {
		return HeightCell{Value: math.NaN()}
	}
	v := &p.Values[load]
	if r.of == nil {
		i := s.TightestOf(p.Gaps)
		if i < 0 {
			return HeightCell{Value: math.NaN()}
		}
		a, b := s.PairNames(i)
		return HeightCell{Value: p.Gaps[i].Gap, At: a + " / " + Lower(b)}
	}
	c := HeightCell{Value: r.of(v)}
	if r.Key == "use" && v.WorstJoint >= 0 {
		c.At = JointName(&s.Mech.Joints[v.WorstJoint])
	}
	return c
}

// TightestOf is the pair with the least gap to spare (gap less gap wanted) among the gaps of a position; -1 where nothing is tested.
func (s *Study) TightestOf(gaps []clearance.Gap) int {
	best, least := -1, math.Inf(1)
	for i := range gaps {
		if spare := gaps[i].Gap - s.Gaps.Pairs[i].Required; spare < least {
			best, least = i, spare
		}
	}
	return best
}

// captions says in words what the table shows at a glance.
func (s *Study) captions(t *HeightTable) []string {
	var out []string
	row := func(key string) *HeightRow {
		for i := range t.Rows {
			if t.Rows[i].Key == key {
				return &t.Rows[i]
			}
		}
		return nil
	}
	home := s.home0() // what the others are compared with
	if r := row("rollsteer"); r != nil {
		for h := range t.Heights {
			out = append(out, t.remark(h, func(l int) string {
				v, was := r.Cells[h][l].Value, r.Cells[home][l].Value
				if h == home || !turned(was, v) {
					return ""
				}
				return words.F("roll steer turns toward %s, %s (%s: %s)", towards(v), percent(v), Lower(t.Heights[home]), s.signed(&r.Reading, was))
			})...)
		}
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		switch r.Key {
		case "rollsteer", "antisquat", "sideshift", "squareness":
		default:
			continue
		}
		for h := range t.Heights {
			out = append(out, t.remark(h, func(l int) string {
				c := &r.Cells[h][l]
				if !c.Out || (r.Key == "sideshift" && math.Abs(t.Travel[h][l]) > shiftOver) {
					return ""
				}
				return words.F("%s %s; common practice %s", Lower(r.Title), s.signed(&r.Reading, c.Value, s.bandLo(&r.Reading, l), s.bandHi(&r.Reading, l)), s.bandWords(&r.Reading, l))
			})...)
		}
	}
	for h := range t.Heights {
		out = append(out, t.remark(h, func(l int) string {
			switch travel := t.Travel[h][l]; {
			case t.Notes[h][l] != "":
				return strings.TrimSuffix(t.Notes[h][l], ".")
			case s.Bounded() && (travel > s.Range.Bump+rideTol || travel < -s.Range.Droop-rideTol):
				return words.F("outside the travel: %s, and the axle goes %s up and %s down",
					s.Travels(travel, travel), s.wording().number(s.Range.Bump), s.Length(s.Range.Droop))
			}
			return ""
		})...)
	}
	return out
}

// remark is what there is to say of a height, load by load; loads of which the same is to be said share a line, and all of them need no name.
func (t *HeightTable) remark(h int, say func(load int) string) []string {
	var out []string
	said := map[string]bool{}
	for l := range t.Loads {
		text := say(l)
		if text == "" || said[text] {
			continue
		}
		said[text] = true
		var names []string
		for k := l; k < len(t.Loads); k++ {
			if say(k) == text {
				names = append(names, Lower(t.Loads[k]))
			}
		}
		head := Upper(t.Heights[h])
		if len(names) < len(t.Loads) {
			head += ", " + List(names)
		}
		out = append(out, head+": "+text+".")
	}
	return out
}

// steerLeast is the roll steer under which its direction is not worth a word, %.
const steerLeast = 0.5

func towards(steer float64) string {
	if steer > 0 {
		return words.T("oversteer")
	}
	return words.T("understeer")
}

// percent is a size in whole percent, or with a tenth under 3.
func percent(v float64) string {
	if math.Abs(v) < 2.95 {
		return fmt.Sprintf("%.1f %%", math.Abs(v))
	}
	return fmt.Sprintf("%.0f %%", math.Abs(v))
}

// beyond is percent with as many digits as show that the value lies beyond the bounds it is told beside.
func beyond(v float64, bounds ...float64) string {
	v = math.Abs(v)
	text := percent(v)
	for _, b := range bounds {
		for digits := range 3 {
			if strings.TrimSuffix(text, " %") == strconv.FormatFloat(math.Abs(b), 'f', digits, 64) {
				text = strconv.FormatFloat(v, 'f', digits+1, 64) + " %"
			}
		}
	}
	return text
}

// signed words a value with its unit and the word for its sign; bounds are what it is told beside.
func (s *Study) signed(r *Reading, v float64, bounds ...float64) string {
	text := ""
	switch r.Unit {
	case "mm":
		text = s.Length(math.Abs(v))
	case "%":
		text = beyond(v, bounds...)
	default:
		text = fmt.Sprintf("%.1f %s", math.Abs(v), r.Unit)
	}
	word := r.Up
	if v < 0 {
		word = r.Down
	}
	if r.Key == "antisquat" {
		word = ""
		if v < 0 {
			text = measure.Minus + text
		}
	}
	return strings.TrimSpace(text + " " + word)
}

// bandWords is the band of common practice in words.
func (s *Study) bandWords(r *Reading, load int) string {
	switch lo, hi := s.bandLo(r, load), s.bandHi(r, load); {
	case r.Key == "rollsteer":
		return words.F("%d toward understeer to %d toward oversteer", understeerMost, oversteerMost)
	case math.IsNaN(lo):
		return words.F("under %.0f", hi)
	case lo == -hi:
		return words.F("within %s", s.Length(hi))
	default:
		return words.F("%.0f to %.0f", lo, hi)
	}
}
