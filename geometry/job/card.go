package job

import "strings"

// BeforeValue is one thing measured before stripping, under its settled name.
type BeforeValue struct {
	Key, Title string
	Deg        bool   // deg; else mm
	Sign       string // what + means and from where to where it is measured
	Signed     bool   // it may lie below zero
}

// BeforeValues are what is measured before stripping, with the axle on its springs, the vehicle on level ground and loaded as it came in, in the
// order in which one goes round it. Both sides are measured each for itself.
func BeforeValues() []BeforeValue {
	return []BeforeValue{
		{Key: "rideHeightLeft", Title: "Ride height left", Sign: "from the wheel centre straight up to the edge of the arch"},
		{Key: "rideHeightRight", Title: "Ride height right", Sign: "from the wheel centre straight up to the edge of the arch"},
		{Key: "pinion", Title: "Pinion angle", Deg: true, Signed: true, Sign: "+ nose up, to level ground"},
		{Key: "jointFront", Title: "Front joint angle", Deg: true, Sign: "how far it bends, no sign"},
		{Key: "jointRear", Title: "Rear joint angle", Deg: true, Sign: "how far it bends, no sign"},
		{Key: "tyreGapOverLeft", Title: "Tyre gap over, left", Sign: "from the tread straight up to the first thing it meets"},
		{Key: "tyreGapOverRight", Title: "Tyre gap over, right", Sign: "from the tread straight up to the first thing it meets"},
		{Key: "tyreGapInsideLeft", Title: "Tyre gap inside, left", Sign: "from the inner wall across to the first thing it meets"},
		{Key: "tyreGapInsideRight", Title: "Tyre gap inside, right", Sign: "from the inner wall across to the first thing it meets"},
		{Key: "tyreRadiusLeft", Title: "Wheel centre above ground, left", Sign: "the radius under load"},
		{Key: "tyreRadiusRight", Title: "Wheel centre above ground, right", Sign: "the radius under load"},
		{Key: "track", Title: "Track", Sign: "from wheel centre to wheel centre"},
		{Key: "wheelbaseLeft", Title: "Wheelbase left", Sign: "from front to rear wheel centre"},
		{Key: "wheelbaseRight", Title: "Wheelbase right", Sign: "from front to rear wheel centre"},
	}
}

// Value is a value measured before stripping by its name; ok is false where it was not measured. It may be called on nil.
func (b *Before) Value(key string) (v float64, ok bool) {
	if b == nil {
		return 0, false
	}
	v, ok = b.Values[key]
	return v, ok
}

func beforeDoc() string {
	var out []string
	for _, v := range BeforeValues() {
		unit := "mm"
		if v.Deg {
			unit = "deg"
		}
		out = append(out, v.Key+" ("+unit+", "+v.Sign+")")
	}
	return strings.Join(out, ", ") + "."
}
