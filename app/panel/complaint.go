package panel

import (
	"slices"

	"axleloft/app/edit"
	"axleloft/geometry/job"
)

// touched are the readings a complaint touches, the likeliest first (common practice, no source).
var touched = map[string][]string{
	"squats":                   {"antisquat", "pinion"},
	"tail lifts under braking": {"antilift", "antisquat"},
	"steers itself over bumps": {"rollsteer", "sideshift", "steer", "squareness"},
	"wanders":                  {"rollsteer", "squareness", "steer", "sideshift"},
	"rolls in bends":           {"rollcentre", "rollsteer"},
	"vibrates at speed":        {"shaftfront", "shaftrear", "shaftbearing", "torsional", "inertia", "fluctuation", "pinion"},
	"vibrates pulling away":    {"pinion", "shaftrear", "shaftfront", "antisquat", "torsional"},
	"vibrates on the overrun":  {"shaftrear", "pinion", "antilift", "shaftfront", "torsional"},
	"clunks":                   {"slip", "joint", "forced", "shaftrear"},
	"bottoms out":              {"antisquat", "slip", "joint"},
	"tyre rubs":                {"sideshift", "wheelbase", "squareness"},
	"runs crooked":             {"squareness", "steer", "sideshift", "wheelbase"},
	"wears its joints":         {"joint", "forced", "pinion"},
}

// touchedBy are the keys of the readings a job's complaints touch, each once, in the order in which they come first.
func touchedBy(j *job.Job) []string {
	if j.Card == nil {
		return nil
	}
	ready, _ := edit.ComplaintOf(j.Card.Complaint)
	var out []string
	for i := range 7 { // the likeliest of each complaint, then the next
		for _, c := range ready {
			if keys := touched[c]; i < len(keys) && !slices.Contains(out, keys[i]) {
				out = append(out, keys[i])
			}
		}
	}
	return out
}

// byComplaint puts first what the complaint touches; the rest keeps its order.
func byComplaint(list []Reading, j *job.Job) []Reading {
	keys := touchedBy(j)
	if len(keys) == 0 {
		return list
	}
	place := func(r *Reading) int {
		if i := slices.Index(keys, r.Key); i >= 0 {
			return i
		}
		return len(keys)
	}
	slices.SortStableFunc(list, func(a, b Reading) int { return place(&a) - place(&b) })
	return list
}

// measuredBefore is a reading as it was measured before stripping, in the reading's own unit; ok is false where it was not.
func measuredBefore(key string, j *job.Job) (v float64, ok bool) {
	b := j.Before
	switch key {
	case "pinion", "pinionground":
		return b.Value("pinion")
	case "shaftfront":
		return b.Value("jointFront")
	case "shaftrear":
		return b.Value("jointRear")
	case "wheelbase", "squareness":
		left, hasLeft := b.Value("wheelbaseLeft")
		right, hasRight := b.Value("wheelbaseRight")
		switch {
		case hasLeft && hasRight && key == "squareness":
			return left - right, true
		case hasLeft && hasRight:
			return (left + right) / 2, true
		case key == "wheelbase" && hasLeft:
			return left, true
		case key == "wheelbase" && hasRight:
			return right, true
		}
	}
	return 0, false
}
