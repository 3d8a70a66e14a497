package edit

import (
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Drawn is a part in the way as a hand drew it in a view.
type Drawn struct {
	Kind     string   // as the file has it: "box", "prism", "tube", "ball"
	Plane    string   // the view it was drawn in: "side", "plan", "rear"
	Points   []r3.Vec // body axes, mm: two corners of a box, the corners of an outline, points along a pipe, the middle of a ball
	From, To float64  // of a box and an outline: where it begins and ends along the axis the view does not show, mm; of pipe and ball From alone
	Radius   float64  // of a ball, mm
}

// AddDrawn adds a part in the way as it was drawn. typed are what was typed for From and To, of a pipe for From and its outside diameter; an
// empty text takes what was drawn. Ends typed the other way round are taken in order.
func AddDrawn(j *job.Job, d Drawn, typed [2]string) (Part, error) {
	_, _, t := planeAxes(d.Plane)
	axis := axisKeys[t]
	numbers := [2]float64{d.From, d.To}
	for i, text := range typed {
		if typed[i] = strings.TrimSpace(text); typed[i] == "" {
			continue
		}
		v, err := parseLength(j, text)
		if err != nil {
			return Part{}, err
		}
		numbers[i] = v
	}
	along := func(v r3.Vec, third float64) r3.Vec {
		p, _ := inPlane(d.Plane, v)
		return offPlane(d.Plane, p, third)
	}
	var part Part
	var err error
	keys := [2]string{}
	switch {
	case d.Kind == "box" && len(d.Points) == 2, d.Kind == "prism":
		if numbers[0] > numbers[1] {
			numbers[0], numbers[1] = numbers[1], numbers[0]
			typed[0], typed[1] = typed[1], typed[0]
		}
		if d.Kind == "box" {
			part, err = AddBox(j, FreeName(j, words.T("Box")), along(d.Points[0], numbers[0]), along(d.Points[1], numbers[1]))
			keys = [2]string{"min." + axis, "max." + axis}
			break
		}
		var outline []job.Point2
		for _, p := range d.Points {
			q, _ := inPlane(d.Plane, p)
			outline = append(outline, q)
		}
		if err = checkOutline(words.T("The part"), outline); err != nil {
			break
		}
		part, err = AddOutline(j, FreeName(j, words.T("Part")), d.Plane, outline, numbers[0], numbers[1])
		keys = [2]string{"from", "to"}
	case d.Kind == "tube":
		var path []r3.Vec
		for _, p := range d.Points {
			path = append(path, along(p, numbers[0]))
		}
		part, err = AddPipe(j, FreeName(j, words.T("Pipe")), path, numbers[1])
		keys = [2]string{"", "outside"}
	case d.Kind == "ball" && len(d.Points) > 0:
		part, err = AddBall(j, FreeName(j, words.T("Ball")), along(d.Points[0], numbers[0]), d.Radius)
		keys = [2]string{"centre." + axis, ""}
	default:
		err = words.Errorf("Nothing is drawn yet. Press two corners, an outline or points along a pipe.")
	}
	if err != nil {
		return Part{}, err
	}
	e := &j.Envelopes[part.Index]
	for i, key := range keys {
		if key != "" && typed[i] != "" {
			setGiven(&e.Given, key, job.GivenValue{Typed: typed[i]})
		}
	}
	return part, nil
}

// AddBall adds a part in the way by its middle and its radius.
func AddBall(j *job.Job, name string, centre r3.Vec, radius float64) (Part, error) {
	if !(radius >= shortest) {
		return Part{}, words.Errorf("The ball's radius must be at least 1 mm. Draw its rim farther from its middle.")
	}
	return addEnvelope(j, job.Envelope{Name: name, Kind: "ball", Centre: &job.Point{centre.X, centre.Y, centre.Z}, Radius: &radius})
}
