package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/geometry/vessel"
)

// Compared is a job among those laid side by side.
type Compared struct {
	Name  string // of the trial; "as drawn"
	Study *Study // of depth Full
}

// Comparison is several trials side by side: figures, and what differs from the first.
type Comparison struct {
	Names       []string
	Load        string // what the figures are for, "" where the job gives no load
	Rows        []ComparedRow
	Differences [][]Difference // of each from the first; none of the first itself
}

// ComparedRow is one figure of each.
type ComparedRow struct {
	Key, Title, Unit string // Unit as in files: mm, deg, %, L, "" a count or words
	Where            string // "at ride height", "over the whole travel"
	Cells            []ComparedCell
}

// ComparedCell is a figure of one trial.
type ComparedCell struct {
	Value  float64 // NaN where there is none
	Words  string  // as shown, with its unit
	At     string  // the joint or the pair it is of, ""
	Change string  // against the first: "6 mm more, better"; "" for the first itself and where nothing differs
	Way    Way
}

// Way says whether a figure is better or worse than the first one, where one can say so.
type Way int8

// The ways.
const (
	Worse   Way = -1
	Neither Way = 0
	Better  Way = 1
)

// Key is the way's name in files; "" where there is none to tell.
func (w Way) Key() string { return [...]string{"worse", "", "better"}[w+1] }

// comparedBy is how a figure is worked out and compared.
type comparedBy struct {
	key, title, unit, where string
	more                    Way // of more of it
	of                      func(c *compared) (v float64, text, at string)
}

// compared is one trial while it is laid beside the others.
type compared struct {
	s    *Study
	load int
	ride *Position // at ride height with the load
	lost map[string]float64
}

func (c *compared) values() bool {
	return c.ride != nil && c.ride.Err == "" && c.load < len(c.ride.Values)
}

// at reads a figure at ride height.
func (c *compared) at(key string) float64 {
	r, ok := ReadingOf(key)
	if !ok || !c.values() || r.of == nil {
		return math.NaN()
	}
	if key == "antisquat" && !c.s.Loads[c.load].Has {
		return math.NaN()
	}
	return r.of(&c.ride.Values[c.load])
}

// Figures that have no value are told so.
func none() (float64, string, string) { return math.NaN(), words.T("not known"), "" }

func degrees(v float64) string { return measure.Signed(fmt.Sprintf("%.1f", v)) + words.T(" deg") }
func wholes(v float64) string  { return measure.Signed(fmt.Sprintf("%.0f", v)) + " %" }

// sidedWords is a size with the word for its sign; near is what counts as none.
func sidedWords(v, near float64, text func(float64) string, plus, minus, zero string) string {
	switch {
	case math.Abs(v) < near:
		return zero
	case v > 0:
		return text(v) + " " + plus
	default:
		return text(-v) + " " + minus
	}
}

// comparedRows are the figures laid side by side, in their order.
func comparedRows() []comparedBy {
	ride, whole := words.T("at ride height"), words.T("over the whole travel")
	bounded := func(f func(c *compared) (float64, string, string)) func(c *compared) (float64, string, string) {
		return func(c *compared) (float64, string, string) {
			if !c.s.Bounded() {
				return none()
			}
			return f(c)
		}
	}
	there := func(key string, text func(c *compared, v float64) string) func(c *compared) (float64, string, string) {
		return func(c *compared) (float64, string, string) {
			v := c.at(key)
			if math.IsNaN(v) {
				return none()
			}
			return v, text(c, v), ""
		}
	}
	spread := func(of func(x *Extents, load int) *Extent, text func(c *compared, lo, hi float64) string, v func(e *Extent) float64) func(c *compared) (float64, string, string) {
		return bounded(func(c *compared) (float64, string, string) {
			e := of(&c.s.Extents, c.load)
			if e == nil || !e.Known() {
				return none()
			}
			return v(e), text(c, e.Min, e.Max), ""
		})
	}
	width := func(e *Extent) float64 { return e.Max - e.Min }
	length := func(c *compared, v float64) string { return c.s.Length(v) }
	travel := func(v func(s *Study) float64) func(c *compared) (float64, string, string) {
		return bounded(func(c *compared) (float64, string, string) { x := v(c.s); return x, c.s.Length(x), "" })
	}
	crossed := func(right bool) func(c *compared) (float64, string, string) {
		return bounded(func(c *compared) (float64, string, string) {
			k := c.s.Range.LeftUp
			if right {
				k = c.s.Range.RightUp
			}
			if k == nil {
				if a := c.s.Mech.TravelArticulation; !math.IsNaN(a) {
					return deg(a), words.F("%s, as entered", degrees(deg(a))), ""
				}
				return none()
			}
			v := deg(math.Asin(math.Max(-1, math.Min(1, math.Abs(k.Left-k.Right)/c.s.Mech.Track))))
			return v, degrees(v), c.s.Travels(k.Left, k.Right)
		})
	}
	return []comparedBy{
		{"worst", words.T("Worst finding"), "", whole, Worse, (*compared).worst},
		{"hits", words.T("Hits, runs out, tight"), "", whole, Worse, (*compared).counts},
		{"gap", words.T("Tightest gap"), "mm", whole, Better, bounded((*compared).tightest)},
		{"bump", words.T("Both wheels up"), "mm", whole, Neither, travel(func(s *Study) float64 { return s.Range.Bump })},
		{"droop", words.T("Both wheels down"), "mm", whole, Neither, travel(func(s *Study) float64 { return s.Range.Droop })},
		{"crossedleft", words.T("Crossed up, left wheel up"), "deg", whole, Neither, crossed(false)},
		{"crossedright", words.T("Crossed up, right wheel up"), "deg", whole, Neither, crossed(true)},
		{"pinion", words.T("Pinion"), "deg", ride, Neither, there("pinion", func(_ *compared, v float64) string {
			return sidedWords(v, 0.05, degrees, words.T("nose up"), words.T("nose down"), words.T("level"))
		})},
		{"pinionchange", words.T("Pinion changes by"), "deg", whole, Worse, spread(func(x *Extents, _ int) *Extent { return &x.Pinion },
			func(_ *compared, lo, hi float64) string { return degrees(hi - lo) }, width)},
		{"antisquat", words.T("Anti-squat"), "%", ride, Neither, there("antisquat", func(_ *compared, v float64) string { return wholes(v) })},
		{"antisquatrange", words.T("Anti-squat from, to"), "%", whole, Worse, spread(func(x *Extents, load int) *Extent {
			if load >= len(x.AntiSquat) {
				return nil
			}
			return &x.AntiSquat[load]
		}, func(_ *compared, lo, hi float64) string { return words.F("%s to %s", wholes(lo), wholes(hi)) }, width)},
		{"rollcentre", words.T("Roll centre above ground"), "mm", ride, Neither, there("rollcentre", length)},
		{"rollsteer", words.T("Roll steer"), "%", ride, Neither, there("rollsteer", func(_ *compared, v float64) string { return steerWords(v) })},
		{"rollsteerrange", words.T("Roll steer from, to"), "%", whole, Worse, spread(func(x *Extents, _ int) *Extent { return &x.RollSteer },
			func(_ *compared, lo, hi float64) string { return words.F("%s to %s", steerWords(lo), steerWords(hi)) }, width)},
		{"sideshift", words.T("Side shift, at most"), "mm", whole, Worse, bounded(func(c *compared) (float64, string, string) {
			if !c.s.Extents.SideShift.Known() {
				return none()
			}
			v, l, r := c.s.Extents.SideShift.Most()
			return math.Abs(v), c.s.Length(math.Abs(v)), c.s.Travels(l, r)
		})},
		{"slip", words.T("Slip used, in and out"), "mm", whole, Worse, bounded(func(c *compared) (float64, string, string) {
			e := &c.s.Extents.Slip
			if !c.s.Mech.Drive.Has || !e.Known() {
				return none()
			}
			in, out := math.Max(0, -e.Min), math.Max(0, e.Max)
			return in + out, words.F("%s in, %s out", c.s.Length(in), c.s.Length(out)), ""
		})},
		{"use", words.T("Closest joint, of its limit"), "%", whole, Worse, bounded((*compared).joint)},
	}
}

// steerWords is a roll steer with its word.
func steerWords(v float64) string {
	return sidedWords(v, steerLeast, wholes, words.T("oversteer"), words.T("understeer"), words.T("neutral"))
}

// worst is the worst finding: hits come before what runs out, that before what is tight. Its value is how far down that list it stands.
func (c *compared) worst() (float64, string, string) {
	if c.s.Refusal != "" {
		return math.NaN(), c.s.Refusal, ""
	}
	if !c.s.Bounded() {
		return none()
	}
	f := c.s.Worst()
	if f == nil || f.Kind > Tight {
		return 0, words.T("none found between the parts drawn"), ""
	}
	number := ""
	if f.Number != "" {
		number = ", " + f.Number
	}
	return float64(Tight - f.Kind + 1), f.Kind.String() + number, f.What
}

// counts is how many findings of each kind stand, those set aside left out.
func (c *compared) counts() (float64, string, string) {
	if c.s.Refusal != "" || !c.s.Bounded() {
		return none()
	}
	var n [Outside + 1]int
	total := 0
	for i := range c.s.Findings {
		if f := &c.s.Findings[i]; f.Serious() {
			n[f.Kind]++
			total++
		}
	}
	return float64(total), words.F("%d, %d, %d", n[Hits], n[RunsOut], n[Tight]), ""
}

// tightest is the smallest gap of the pair with the least to spare over the range.
func (c *compared) tightest() (float64, string, string) {
	list := c.s.Order()
	if len(list) == 0 || c.s.Smallest == nil {
		return none()
	}
	i := list[0]
	a, b := c.s.PairNames(i)
	v := c.s.Smallest[i].Gap.Gap
	text := c.s.Length(v)
	if v < 0 {
		text = words.F("%s in", c.s.Length(-v))
	}
	return v, text, a + " / " + Lower(b)
}

// joint is the joint closest to its limit over the range.
func (c *compared) joint() (float64, string, string) {
	best, most := -1, math.Inf(-1)
	for i := range c.s.Extents.Joints {
		if e := &c.s.Extents.Joints[i]; e.Known() && e.Max > most {
			best, most = i, e.Max
		}
	}
	if best < 0 {
		return none()
	}
	return 100 * most, wholes(100 * most), JointName(&c.s.Mech.Joints[best])
}

// Compare lays jobs side by side for a load of theirs by its index, the first being what the others are compared with. A vessel's litres are worked out only
// where a moving part comes nearer than is wanted; that may take a while. looked tells now and then how many places of vessels were looked at; it may be nil.
// The error is the context's.
func Compare(ctx context.Context, list []Compared, load int, looked func(int)) (*Comparison, error) {
	out := &Comparison{}
	cols := make([]*compared, len(list))
	for i, x := range list {
		out.Names = append(out.Names, x.Name)
		s := x.Study
		c := &compared{s: s, load: load, lost: map[string]float64{}}
		if s.Mech != nil && load < len(s.Loads) {
			c.ride = s.At(s.Loads[load].Heave, s.Loads[load].Heave)
			if i == 0 && s.Loads[load].Has {
				out.Load = s.Loads[load].Name
			}
		}
		if err := c.tanks(ctx, looked); err != nil {
			return nil, err
		}
		cols[i] = c
		out.Differences = append(out.Differences, nil)
		if i > 0 {
			out.Differences[i] = Differences(list[0].Study.Job, s.Job)
		}
	}
	rows := comparedRows()
	for _, name := range vessels(cols) {
		rows = append(rows, comparedBy{"litres/" + name, words.F("%s loses", name), "L", words.T("over the whole travel"), Worse, func(c *compared) (float64, string, string) {
			v, ok := c.lost[name]
			if !ok || math.IsNaN(v) {
				return none()
			}
			return v, Litres(v) + " L", ""
		}})
	}
	rows = append(rows, comparedBy{"guesses", words.T("Guesses"), "", words.T("of all that is drawn"), Worse, func(c *compared) (float64, string, string) {
		m := edit.Measured(c.s.Job)
		return float64(m.Total - m.Known), words.F("%d of %d", m.Total-m.Known, m.Total), ""
	}})
	for _, r := range rows {
		row := ComparedRow{Key: r.key, Title: r.title, Unit: r.unit, Where: r.where}
		some := false
		for i, c := range cols {
			var k ComparedCell
			k.Value, k.Words, k.At = r.of(c)
			some = some || !math.IsNaN(k.Value)
			if i > 0 {
				k.Change, k.Way = r.change(c, &row.Cells[0], &k)
			}
			row.Cells = append(row.Cells, k)
		}
		if some || r.key == "worst" {
			out.Rows = append(out.Rows, row)
		}
	}
	return out, ctx.Err()
}

// change words how a figure differs from the first one; "" where what is shown does not.
func (r *comparedBy) change(c *compared, first, k *ComparedCell) (string, Way) {
	if k.Words == first.Words && (r.key != "worst" || k.At == first.At) || math.IsNaN(k.Value) || math.IsNaN(first.Value) {
		return "", Neither
	}
	by := k.Value - first.Value
	way := Neither
	switch {
	case by > 0:
		way = r.more
	case by < 0:
		way = -r.more
	}
	text := ""
	switch more := by > 0; {
	case r.key == "worst": // a kind that weighs more, or another one of the same kind
	case r.key == "rollsteer" || r.key == "pinion": // its words say which way
	case by == 0:
	default:
		amount := ""
		switch r.unit {
		case "mm":
			amount = c.s.Length(math.Abs(by))
		case "deg":
			amount = degrees(math.Abs(by))
		case "%":
			amount = wholes(math.Abs(by))
		case "L":
			amount = Litres(math.Abs(by)) + " L"
		default:
			amount = fmt.Sprintf("%.0f", math.Abs(by))
		}
		if !strings.ContainsAny(amount, "123456789") {
			return "", Neither // less than is shown
		}
		spread := r.key == "antisquatrange" || r.key == "rollsteerrange"
		switch {
		case spread && more:
			text = words.T("spreads more")
		case spread:
			text = words.T("spreads less")
		case more:
			text = words.F("%s more", amount)
		default:
			text = words.F("%s less", amount)
		}
		if spread {
			way = Neither
		}
	}
	switch way {
	case Better:
		text = strings.TrimPrefix(text+", "+words.T("better"), ", ")
	case Worse:
		text = strings.TrimPrefix(text+", "+words.T("worse"), ", ")
	case Neither:
		if text == "" {
			text = words.T("another")
		}
	}
	return text, way
}

// vessels names every vessel of any of the jobs once.
func vessels(cols []*compared) []string {
	var out []string
	for _, c := range cols {
		for _, e := range c.s.Tanks() {
			if !slices.Contains(out, e.Name) {
				out = append(out, e.Name)
			}
		}
	}
	return out
}

// tanks works out what the simplest cut that clears the moving parts costs of every vessel; nothing where none comes nearer than is wanted.
func (c *compared) tanks(ctx context.Context, looked func(int)) error {
	if !c.s.Bounded() || c.s.Gaps == nil || c.s.Smallest == nil {
		return nil
	}
	for _, e := range c.s.Tanks() {
		near := false
		for i := range c.s.Smallest {
			a, b := c.s.PairNames(i)
			near = near || (a == e.Name || b == e.Name) && c.s.Smallest[i].Gap.Gap < c.s.Gaps.Pairs[i].Required
		}
		if !near {
			c.lost[e.Name] = 0
			continue
		}
		t, err := c.s.Tank(ctx, e, vessel.Usual, looked)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		c.lost[e.Name] = math.NaN()
		if err == nil && t.Vessel.Why == "" {
			c.lost[e.Name] = t.Vessel.Lost(t.Plan)
		}
	}
	return nil
}
