package panel

import (
	"math"

	"axleloft/app/document"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// Reading is one number at the present position, with its extent over the whole travel.
type Reading struct {
	Key, Name, Word string
	Value, Unit     string
	Now             float64 // on the bar; NaN: no mark
	Extent          study.Extent
	HasExtent       bool
	Stale           bool // the extent is of an older geometry
	Lo, Hi          string
	BandLo, BandHi  float64 // common practice; NaN: none on that side
	Limit           float64 // NaN: none
	Under           string  // under the bar
	Ticks           []float64
	Before          float64 // pencil line, NaN: none
	Measured        float64 // before stripping, NaN: not measured
}

// figures is what readings are worked from.
type figures struct {
	d     *document.Document
	s     *study.Study
	load  int
	unit  string
	stale bool
	now   *quantity.Values
	mech  *motion.Mechanism
	pen   *quantity.Values
	laden bool // the present load is the heaviest
	name  string
}

// Readings are the numbers at the present position: the six that stand, then the rest.
func Readings(d *document.Document) []Reading {
	f := figures{d: d, load: d.Load(), unit: d.Unit(), stale: !d.Freshness().Live}
	f.s, _ = d.Study()
	now := d.Now()
	f.mech = now.Mech
	if p := d.Position(); p != nil && p.Err == "" && f.load < len(p.Values) {
		f.now = &p.Values[f.load]
	}
	if p, ok := d.Pencil(); ok && p.At.Err == "" && f.load < len(p.At.Values) {
		f.pen = &p.At.Values[f.load]
	}
	f.laden = true
	for i, l := range now.Loads {
		if i == f.load {
			f.name = l.Name
		}
		if i != f.load && f.load < len(now.Loads) && l.Mass > now.Loads[f.load].Mass {
			f.laden = false
		}
	}
	list := []Reading{f.pinion(), f.antiSquat(), f.rollSteer(), f.joint(), f.slip(), f.sideShift(), f.rollCentre(), f.antiLift(), f.squareness(), f.steer()}
	x := f.extents()
	if f.still() {
		list = append(list, f.pinionGround())
	}
	list = append(list, f.shaft("shaftfront", words.T("Shaft, front joint"), func(v *quantity.Values) float64 { return v.ShaftFrontDeg }, x.ShaftFront))
	if f.mech != nil && f.mech.Drive.TwoPiece {
		list = append(list, f.shaft("shaftbearing", words.T("Shaft, bearing joint"), func(v *quantity.Values) float64 { return v.ShaftBearingDeg }, x.ShaftBearing))
	}
	list = append(list, f.shaft("shaftrear", words.T("Shaft, rear joint"), func(v *quantity.Values) float64 { return v.ShaftRearDeg }, x.ShaftRear), f.fluctuation())
	if f.spins() {
		list = append(list, f.torsional(), f.inertia())
	}
	if f.mech != nil && f.mech.OverLocated {
		list = append(list, f.forced())
	}
	j := d.Current()
	list = append(list, f.wheelbase())
	for i := range list {
		f.asBefore(&list[i], j)
	}
	return byComplaint(list, j)
}

// asBefore puts what was measured before stripping into a reading: a grey tick on its bar, and in words under it.
func (f *figures) asBefore(r *Reading, j *job.Job) {
	v, ok := measuredBefore(r.Key, j)
	if !ok {
		return
	}
	show := tenth
	if r.Unit == f.unit && (r.Key != "squareness" || f.unit == "in") {
		show = f.lengths
	}
	r.Measured = v
	r.Under = words.F("before %s", show(v))
}

func (f *figures) extents() *study.Extents { return &f.s.Extents }

// fill sets what all readings share: mark, ticks at every height, pencil line, ends of the extent in words.
func (f *figures) fill(r *Reading, of func(*quantity.Values) float64, e study.Extent, show func(float64) string) {
	nan := math.NaN()
	r.Now, r.Before, r.Measured = nan, nan, nan
	if r.Limit == 0 {
		r.Limit = nan
	}
	if r.BandLo == 0 && r.BandHi == 0 {
		r.BandLo, r.BandHi = nan, nan
	}
	r.Stale = f.stale
	if f.now != nil {
		r.Now = of(f.now)
	}
	if f.pen != nil {
		r.Before = of(f.pen)
	}
	if f.s.Bounded() && e.Min <= e.Max {
		r.Extent, r.HasExtent = e, true
		r.Lo, r.Hi = show(e.Min), show(e.Max)
	}
	if f.load >= len(f.s.Both.Values) || f.load >= len(f.s.Loads) {
		return
	}
	for _, h := range f.d.Current().Vehicle.Heights {
		if v := f.at(h.Heave+f.s.Loads[f.load].Heave, of); !math.IsNaN(v) {
			r.Ticks = append(r.Ticks, v)
		}
	}
}

// at is a quantity on the way of both wheels, between the positions of the sweep.
func (f *figures) at(travel float64, of func(*quantity.Values) float64) float64 {
	v := f.s.Both.Values[f.load]
	for i := 1; i < len(v); i++ {
		a, b := v[i-1].Heave, v[i].Heave
		if travel >= a && travel <= b && b > a {
			t := (travel - a) / (b - a)
			return of(&v[i-1])*(1-t) + of(&v[i])*t
		}
	}
	return math.NaN()
}

// swept is the extent of a quantity over the two sweeps, where the study keeps none over the whole range.
func (f *figures) swept(of func(*quantity.Values) float64) study.Extent {
	e := study.Extent{Min: math.Inf(1), Max: math.Inf(-1)}
	for _, sweep := range []*study.Sweep{&f.s.Both, &f.s.Crossed} {
		if f.load >= len(sweep.Values) {
			continue
		}
		for i := range sweep.Values[f.load] {
			if v := of(&sweep.Values[f.load][i]); !math.IsNaN(v) {
				e.Min, e.Max = math.Min(e.Min, v), math.Max(e.Max, v)
			}
		}
	}
	return e
}

func whole(v float64) string { return num(v, 0) }
func tenth(v float64) string { return num(v, 1) }

func (f *figures) lengths(v float64) string { return length(v, f.unit) }

// sided is a value without its sign, and the word for the sign.
func (f *figures) sided(v, near float64, pos, neg, none string) (float64, string) {
	switch {
	case math.IsNaN(v):
		return v, ""
	case math.Abs(v) < near:
		return math.Abs(v), none
	case v > 0:
		return v, pos
	default:
		return -v, neg
	}
}

func (f *figures) value(of func(*quantity.Values) float64) float64 {
	if f.now == nil {
		return math.NaN()
	}
	return of(f.now)
}

const commonPractice = "common practice"

func (f *figures) pinion() Reading {
	of := func(v *quantity.Values) float64 { return v.PinionDeg }
	v, word := f.sided(f.value(of), 0.05, words.T("nose up"), words.T("nose down"), words.T("level"))
	r := Reading{Key: "pinion", Name: words.T("Pinion"), Word: word, Value: tenth(v), Unit: words.T("deg")}
	f.fill(&r, of, f.extents().Pinion, tenth)
	if r.HasExtent {
		r.Under = words.F("changes %s in all", tenth(r.Extent.Max-r.Extent.Min))
	}
	return r
}

func (f *figures) antiSquat() Reading {
	of := func(v *quantity.Values) float64 { return v.AntiSquatPct }
	r := Reading{Key: "antisquat", Name: words.T("Anti-squat"), Word: f.onGround(study.Lower(f.name)), Value: whole(f.value(of)), Unit: "%", Under: words.T(commonPractice)}
	r.BandLo, r.BandHi = 50, 100
	if !f.laden {
		r.BandLo, r.BandHi = math.NaN(), 120
	}
	e := study.Extent{Min: 1}
	if f.load < len(f.extents().AntiSquat) {
		e = f.extents().AntiSquat[f.load]
	}
	if f.load < len(f.s.Loads) && !f.s.Loads[f.load].Has {
		r.Word, r.Under = words.T("give a load"), ""
	}
	f.fill(&r, of, e, whole)
	return r
}

func (f *figures) rollSteer() Reading {
	of := func(v *quantity.Values) float64 { return v.RollSteerPct }
	v, word := f.sided(f.value(of), 0.5, words.T("oversteer"), words.T("understeer"), words.T("neutral"))
	r := Reading{Key: "rollsteer", Name: words.T("Roll steer"), Word: f.onGround(word), Value: whole(v), Unit: "%", BandLo: -5, BandHi: 2, Under: words.T(commonPractice)}
	f.fill(&r, of, f.extents().RollSteer, whole)
	return r
}

func (f *figures) joint() Reading {
	of := func(v *quantity.Values) float64 { return 100 * v.WorstBind }
	r := Reading{Key: "joint", Name: words.T("Closest joint"), Word: words.T("of its limit"), Value: whole(f.value(of)), Unit: "%", Limit: 100}
	e := f.extents().Use
	e.Min, e.Max = 100*e.Min, 100*e.Max
	f.fill(&r, of, e, whole)
	if f.now != nil && f.mech != nil && f.now.WorstJoint >= 0 && f.now.WorstJoint < len(f.mech.Joints) {
		r.Under = study.JointName(&f.mech.Joints[f.now.WorstJoint])
	} else if f.mech == nil || f.now == nil {
		r.Value, r.Word, r.Unit, r.Limit = "?", words.T("no figures yet"), "", math.NaN()
	} else {
		r.Value, r.Word, r.Unit, r.Limit = "?", words.T("no limit is given"), "", math.NaN()
	}
	return r
}

// noShaft says in place of a figure of the driveshaft that there is none, and why.
func (f *figures) noShaft() (value, word string) {
	if f.mech == nil {
		return "?", words.T("no figures yet")
	}
	return words.T("none"), words.T("no driveshaft drawn")
}

func (f *figures) slip() Reading {
	of := func(v *quantity.Values) float64 { return v.Slip }
	r := Reading{Key: "slip", Name: words.T("Slip left"), Word: words.T("in and out"), Unit: f.unit, Under: words.T(commonPractice)}
	v := f.value(of)
	if f.mech == nil || !f.mech.Drive.Has {
		r.Value, r.Word = f.noShaft()
		r.Unit, r.Under = "", ""
		f.fill(&r, func(*quantity.Values) float64 { return math.NaN() }, study.Extent{Min: 1}, f.lengths)
		return r
	}
	in, out := f.mech.Drive.SlipIn, f.mech.Drive.SlipOut
	const reserve = 20 // mm left both ways, common practice
	if math.IsNaN(in) || math.IsNaN(out) {
		r.Name, r.Word, r.Value = words.T("Slip"), words.T("how far the spline goes is not given"), f.lengths(v)
	} else {
		r.Value = f.lengths(in+v) + " / " + f.lengths(out-v)
		r.BandLo, r.BandHi = reserve-in, out-reserve
		if r.BandLo >= r.BandHi {
			r.BandLo, r.BandHi = math.NaN(), math.NaN()
		}
	}
	f.fill(&r, of, f.extents().Slip, f.lengths)
	if math.IsNaN(r.BandHi) {
		r.Under = ""
	}
	return r
}

func (f *figures) sideShift() Reading {
	of := func(v *quantity.Values) float64 { return v.Y }
	v, word := f.sided(f.value(of), 0.5, words.T("to the left"), words.T("to the right"), words.T("none"))
	r := Reading{Key: "sideshift", Name: words.T("Side shift"), Word: word, Value: f.lengths(v), Unit: f.unit, BandLo: -10, BandHi: 10, Under: words.T(commonPractice)}
	f.fill(&r, of, f.extents().SideShift, f.lengths)
	return r
}

func (f *figures) rollCentre() Reading {
	of := func(v *quantity.Values) float64 { return v.RollCentre }
	r := Reading{Key: "rollcentre", Name: words.T("Roll centre"), Word: f.onGround(words.T("above the ground")), Value: f.lengths(f.value(of)), Unit: f.unit}
	f.fill(&r, of, f.swept(of), f.lengths)
	return r
}

func (f *figures) antiLift() Reading {
	of := func(v *quantity.Values) float64 { return v.AntiLiftPct }
	r := Reading{Key: "antilift", Name: words.T("Anti-lift"), Word: f.onGround(words.F("braking, %s", study.Lower(f.name))), Value: whole(f.value(of)), Unit: "%"}
	f.fill(&r, of, f.swept(of), whole)
	return r
}

func (f *figures) squareness() Reading {
	of := func(v *quantity.Values) float64 { return v.Squareness }
	v, word := f.sided(f.value(of), 0.05, words.T("left longer"), words.T("right longer"), words.T("square"))
	show := tenth
	if f.unit == "in" {
		show = f.lengths
	}
	r := Reading{Key: "squareness", Name: words.T("Squareness"), Word: word, Value: show(v), Unit: f.unit, BandLo: -3, BandHi: 3, Under: words.T(commonPractice)}
	f.fill(&r, of, f.extents().Squareness, show)
	return r
}

func (f *figures) steer() Reading {
	of := func(v *quantity.Values) float64 { return v.SteerDeg }
	v, word := f.sided(f.value(of), 0.005, words.T("to the left"), words.T("to the right"), words.T("straight"))
	two := func(v float64) string { return num(v, 2) }
	r := Reading{Key: "steer", Name: words.T("Axle steers"), Word: word, Value: two(v), Unit: words.T("deg")}
	f.fill(&r, of, f.swept(of), two)
	return r
}

func (f *figures) shaft(key, name string, of func(*quantity.Values) float64, e study.Extent) Reading {
	r := Reading{Key: key, Name: name, Word: words.T("bends"), Value: tenth(f.value(of)), Unit: words.T("deg")}
	if f.mech != nil && f.mech.Drive.Has {
		if lim := f.mech.Drive.JointLimit; !math.IsNaN(lim) {
			r.Limit = lim * 180 / math.Pi
		}
	} else {
		r.Value, r.Word = f.noShaft()
		r.Unit = ""
	}
	if r.Limit == 0 {
		if most, ok := quantity.PracticeJointAngle(f.rpm()); ok {
			r.BandLo, r.BandHi, r.Under = 0, most, quantity.PracticeFrom
		}
	}
	f.fill(&r, of, e, tenth)
	return r
}

// still reports whether the front stays where it is.
func (f *figures) still() bool { return f.mech != nil && f.mech.FrontStill }

// onGround adds to a word that the front stays where it is, where that is so: the ground then runs from its tyres to this axle's.
func (f *figures) onGround(word string) string {
	if !f.still() {
		return word
	}
	if word == "" {
		return words.T("front still")
	}
	return words.F("%s, front still", word)
}

func (f *figures) fluctuation() Reading {
	of := func(v *quantity.Values) float64 { return v.FluctuationPct }
	two := func(v float64) string { return num(v, 2) }
	r := Reading{Key: "fluctuation", Name: words.T("Pinion speed"), Word: words.T("comes and goes by"), Value: two(f.value(of)), Unit: "%"}
	if f.mech == nil || !f.mech.Drive.Has {
		r.Value, r.Word = f.noShaft()
		r.Unit = ""
	}
	f.fill(&r, of, f.swept(of), two)
	return r
}

func (f *figures) wheelbase() Reading {
	of := func(v *quantity.Values) float64 { return v.Wheelbase }
	r := Reading{Key: "wheelbase", Name: words.T("Wheelbase"), Word: words.T("as the axle stands"), Value: f.lengths(f.value(of)), Unit: f.unit}
	f.fill(&r, of, f.swept(of), f.lengths)
	return r
}

// Definition is what a reading is: two sentences, sign, load, ground, what moves it, and how many of its inputs are guesses.
type Definition struct {
	Title  string
	Sketch string      // its drawing, "" for none
	Lines  [][2]string // heading, words
}

// Define is the definition of a reading.
func Define(r *Reading, d *document.Document) Definition {
	x := definitions[r.Key]
	def := Definition{Title: r.Name, Sketch: sketchOf[r.Key]}
	add := def.add
	now := r.Value
	if r.Unit != "" {
		now += " " + r.Unit
	}
	if r.Word != "" {
		now += ", " + r.Word
	}
	add(words.T("Now"), now+".")
	if r.HasExtent {
		prefix := ""
		if r.Stale {
			prefix = words.T("was ")
		}
		add(words.T("Over the travel"), words.F("%s%s to %s %s, crossed up included.", prefix, r.Lo, r.Hi, r.Unit))
	}
	if !math.IsNaN(r.Measured) {
		add(words.T("Before stripping"), study.Upper(r.Under)+" "+r.Unit+".")
	}
	add(words.T("What it is"), words.T(x.what))
	add(words.T("Sign"), words.T(x.sign))
	if x.load {
		add(words.T("Load"), loadWords(d))
	}
	if x.ground {
		add(words.T("Ground"), groundWords(d.Current()))
	}
	add(words.T("What moves it"), words.T(x.moves))
	if x.practice != "" {
		add(words.T("Common practice"), words.F("%s No rule, your call.", words.T(x.practice)))
	}
	add(words.T("Inputs"), guessWords(d))
	return def
}

func loadWords(d *document.Document) string {
	loads := d.Now().Loads
	i := d.Load()
	if i >= len(loads) || !loads[i].Has {
		return words.T("No load is given. Add one under Parts: front and rear kilograms will do.")
	}
	l := loads[i]
	return words.F("%s: %s kg, centre of gravity %s above the ground at ride, %s ahead of the axle.", study.Upper(l.Name), num(l.Mass, 0), lengthUnit(l.CG.Z, d.Unit()), lengthUnit(l.CG.X, d.Unit()))
}

func groundWords(j *job.Job) string {
	if j.Vehicle.FrontTravel == "still" {
		return words.T("The front stays where it is, so the ground runs from the front tyre to where this axle's tyres now stand.")
	}
	return words.T("Front and rear travel together, so the ground stays level.")
}
