package job

import (
	"math"
	"reflect"
	"strings"
)

// span is what a number may be: a unit, and bounds that no real job comes near.
type span struct {
	what   string // "a place", said in complaints
	unit   string // "mm", "" for none
	lo, hi float64
	open   bool // lo itself is not allowed
}

func (s *span) holds(v float64) bool {
	return !math.IsNaN(v) && v <= s.hi && (v > s.lo || !s.open && v == s.lo)
}

var (
	place       = &span{"a place", "mm", -1e5, 1e5, false}
	length      = &span{"a length", "mm", 0, 1e5, true}
	lengthOr0   = &span{"a length", "mm", 0, 1e5, false}
	gapWanted   = &span{"a gap", "mm", 0, 1e4, false}
	travel      = &span{"a travel", "mm", -1e4, 1e4, false}
	travelUp    = &span{"a travel", "mm", 0, 1e4, false}
	kilograms   = &span{"a mass", "kg", 0, 1e6, true}
	angle       = &span{"an angle", "deg", -360, 360, false}
	limit       = &span{"a limit", "deg", 0, 180, true}
	tiltLimit   = &span{"a limit", "deg", 0, 90, true}
	rolling     = &span{"an articulation", "deg", 0, 60, false}
	share       = &span{"a share", "", 0, 1, false}
	stiffness   = &span{"a stiffness", "N/mm", 0, 1e9, true}
	steep       = &span{"an angle", "deg", -89, 89, false}
	leaning     = &span{"an angle", "deg", -45, 45, false}
	gauge       = &span{"an angle", "deg", 0, 10, false}
	clocking    = &span{"an angle", "deg", -90, 90, false}
	revolutions = &span{"a speed", "rev/min", 0, MostSpeed, true}
	direction   = &span{"a part of a direction", "", -1e6, 1e6, false}
	anyNumber   = &span{"a number", "", -1e12, 1e12, false}
	version     = &span{"a whole number", "", 1, Version, false}
	plateSize   = &span{"a size of a bracket", "mm", 0, 2000, true}
	plateThick  = &span{"a thickness", "mm", 0, 60, true}
	plateShift  = &span{"a size of a bracket", "mm", -2000, 2000, false}
	holes       = &span{"a whole number", "", 0, MostHoles, false}
)

// field is what is said about one key: its meaning (for the schema), what its numbers may be, which words it may hold, how many items.
type field struct {
	doc      string
	num      *span
	need     bool
	words    []string
	min, max int // items of a list; max 0: maxItems
}

// maxItems bounds every list; only outlines, paths and the lists of parts come anywhere near.
const maxItems = 2000

// need marks a key that must be there.
func need(f field) field { f.need = true; return f }

func text(doc string) field                    { return field{doc: doc} }
func number(s *span, doc string) field         { return field{doc: doc, num: s} }
func oneOf(doc string, words ...string) field  { return field{doc: doc, words: words} }
func list(lo, hi int, s *span, d string) field { return field{doc: d, num: s, min: lo, max: hi} }

const (
	pairDoc      = "True: the left one is given (Y above 0) and its right twin is its mirror in Y."
	nameDoc      = "What it is called; unlike every other part's name. Twins are called this plus \" left\" and \" right\"."
	clearanceDoc = "Gap wanted from this part to any other, mm. Of two parts the larger counts. Left out: 25 for parts in the way and the driveshaft, 40 for tyres, 12 for other movers."
	givenDoc     = "How numbers of this part were come by, keyed by place (\"frame.x\"). One without an entry is a guess."
	measuredDoc  = "Which of its places are measured on the vehicle, by key (\"frame\", \"axle\"); measured ones are not moved by a drag."
)

// fields says everything about every key, by type and key as the file writes it.
var fields = map[string]field{
	"Job.format":    need(oneOf("Marks the file as a job.", Format)),
	"Job.version":   need(number(version, "Version of the file's layout.")),
	"Job.title":     text("Title of the job."),
	"Job.notes":     text("Free notes."),
	"Job.shown":     text("In which units things are shown. The file itself is always mm, kg, N and degrees."),
	"Job.vehicle":   need(text("The vehicle and its loads.")),
	"Job.axle":      text("What is drawn of the axle itself."),
	"Job.driveline": text("The driveshaft between gearbox or transfer case and axle."),
	"Job.links":     list(0, 200, nil, "Links: bars between a pivot on the frame and a pivot on the axle. A Panhard rod is a link across; a torque arm is a near-upright link whose axle pivot sits at the arm's front end."),
	"Job.arms":      list(0, 50, nil, "A-arms (two frame pivots, one at the axle) and radius arms (one frame pivot, two at the axle; at most four of these, twins counted as two)."),
	"Job.rockers":   list(0, MostRockers, nil, "Watt's linkages, at most four."),
	"Job.struts":    list(0, 100, nil, "Spring struts, dampers, air bags."),
	"Job.stops":     list(0, 100, nil, "Bump stops."),
	"Job.straps":    list(0, 100, nil, "Limit straps."),
	"Job.lines":     list(0, 200, nil, "Hoses, looms, cables, breathers between two clips."),
	"Job.sensors":   list(0, 20, nil, "Height sensors with lever and rod."),
	"Job.envelopes": list(0, 500, nil, "Everything in the way that is fixed to the frame: rails, tanks, exhaust, floor."),
	"Job.travel":    text("Travel entered by the user: a limit of the user's, not of metal."),
	"Job.trials":    list(0, 100, nil, "Kept variants. Each key a trial has stands whole in place of the job's own; a missing one is as drawn."),
	"Job.datums":    list(0, 200, nil, "What measurements start from."),
	"Job.brackets":  list(0, 200, nil, "Brackets that hold pivots, made of plates: templates are drawn of them."),
	"Job.keep":      list(0, 200, nil, "What is held while pivots are moved."),
	"Job.setAside":  list(0, 1000, nil, "Findings put aside, with the reason and the figures they had then."),
	"Job.photos":    list(0, 500, nil, "Pictures kept beside the job file."),
	"Job.card":      text("The job card."),
	"Job.before":    text("What was measured before stripping."),
	"Job.asBuilt":   list(0, 500, nil, "Places as they were welded."),
	"Job.holes":     list(0, 200, nil, "Holes that pivots may be bolted in."),
	"Job.stood":     text("How axle and body stood while places on them were measured that are brought to ride height."),

	"Shown.length": oneOf("Lengths are shown in this unit.", "mm", "in"),
	"Shown.force":  oneOf("Forces are shown in this unit.", "N", "lbf"),
	"Shown.mass":   oneOf("Masses are shown in this unit.", "kg", "lb"),

	"Vehicle.wheelbase":   need(number(length, "Wheelbase at design ride height, mm.")),
	"Vehicle.track":       need(number(length, "Track between the wheel centres, mm; wheel centres are at Y = +-track/2.")),
	"Vehicle.tyre":        need(text("The tyres.")),
	"Vehicle.driveShare":  number(share, "This axle's share of the tractive force, 0 to 1; left out: 1."),
	"Vehicle.brakeShare":  number(share, "This axle's share of the braking force, 0 to 1; left out: 0.4."),
	"Vehicle.frontTravel": oneOf("Whether the front moves with this axle (ground level, the default) or stays still.", "with", "still"),
	"Vehicle.loads":       list(0, 50, nil, "States of loading; the first is the one used where none is chosen."),
	"Vehicle.heights":     list(0, 50, nil, "Ride heights the driver can select."),
	"Vehicle.overhang":    text("Where the vehicle comes lowest behind, between and before the axles apart from what is drawn; departure, ramp and approach angles are told by it."),

	"Overhang.rear":         number(lengthOr0, "How far behind this axle's centre, mm. The departure angle is told where it is given."),
	"Overhang.rearHeight":   number(lengthOr0, "How far above the ground that is at design ride height, mm."),
	"Overhang.middle":       number(lengthOr0, "How far ahead of this axle's centre, mm: the lowest place between the axles that is not drawn."),
	"Overhang.middleHeight": number(lengthOr0, "How far above the ground that is at design ride height, mm."),
	"Overhang.front":        number(lengthOr0, "How far ahead of the front axle's centre, mm. The approach angle is told where it is given."),
	"Overhang.frontHeight":  number(lengthOr0, "How far above the ground that is at design ride height, mm."),

	"Tyre.loadedRadius": need(number(length, "Radius under load, mm: the axle centre at ride height is at (0, 0, loadedRadius).")),
	"Tyre.freeRadius":   number(length, "Radius without load, mm; left out: loadedRadius / 0.96."),
	"Tyre.width":        number(length, "Width, mm; left out: no tyre is drawn or checked."),
	"Tyre.shoulder":     number(lengthOr0, "Rounding of the shoulders, mm; left out: 25."),
	"Tyre.clearance":    number(gapWanted, clearanceDoc),

	"Load.name":         need(text("What the load is called; unlike the other loads.")),
	"Load.mass":         need(number(kilograms, "Mass of the whole vehicle, kg.")),
	"Load.cg":           need(number(place, "Centre of gravity, mm: X forward from the rear axle, Y left, Z above the ground. The rear axle carries mass * (1 - X / wheelbase).")),
	"Load.heave":        number(travel, "Wheel travel from design ride height under this load, mm, bump positive; 0 where the height is controlled."),
	"Load.loadedRadius": number(length, "Tyre radius under this load, mm; left out: the tyre's own."),
	"Load.given":        text(givenDoc),

	"Height.name":  need(text("What the height is called; unlike the other heights.")),
	"Height.heave": need(number(travel, "Wheel travel from design ride height, mm: raised is droop, negative.")),

	"Axle.tube":     text("The axle's tube."),
	"Axle.housing":  list(0, 100, nil, "Shapes carried by the axle, together one part called \"Housing\"."),
	"Axle.pinion":   text("The pinion's joint; its axis points forward out of the housing."),
	"Axle.measured": text("The axle's shapes are measured on the vehicle."),

	"AxleTube.outside":   need(number(length, "Outside diameter, mm.")),
	"AxleTube.from":      need(number(place, "Right end in Y, mm.")),
	"AxleTube.to":        need(number(place, "Left end in Y, mm.")),
	"AxleTube.clearance": number(gapWanted, clearanceDoc),

	"Joint.joint":    need(number(place, "Centre of the joint at ride height, mm.")),
	"Joint.axis":     need(number(direction, "Direction of the shaft the joint sits on; need not be of length 1. Output: pointing rearward. Pinion: pointing forward.")),
	"Joint.given":    text(givenDoc),
	"Joint.measured": oneOf(measuredDoc, "joint", "axis"),

	"Driveline.output":        need(text("The output's joint; its axis points rearward.")),
	"Driveline.yokePhase":     number(angle, "Turn of the shaft's rear yoke from its front yoke, deg, right-hand about the direction front to rear; 0: in line."),
	"Driveline.shaftDiameter": number(length, "Diameter, mm; left out: the shaft's gaps are not checked."),
	"Driveline.jointLimit":    number(tiltLimit, "Largest angle of either joint, deg."),
	"Driveline.slip":          text("How far the spline can go from ride height."),
	"Driveline.bearing":       text("Centre bearing: makes the shaft a two-piece one."),
	"Driveline.speed":         number(revolutions, "Shaft speed at which shaft accelerations are told, rev/min."),
	"Driveline.clearance":     number(gapWanted, clearanceDoc),

	"Bearing.joint":     need(number(place, "Centre of the joint behind the bearing, mm. It stays where it is: the front shaft runs from the output's joint to it, the rear shaft, with the slip, from it to the pinion.")),
	"Bearing.yokePhase": number(angle, "Turn of the front shaft's rear yoke from its front yoke, deg, right-hand about the direction front to rear; 0: in line. driveline.yokePhase is the rear shaft's then."),
	"Bearing.given":     text(givenDoc),
	"Bearing.measured":  oneOf(measuredDoc, "joint"),

	"Slip.in":  need(number(travelUp, "Shorter, mm.")),
	"Slip.out": need(number(travelUp, "Longer, mm.")),

	"Tube.outside": need(number(length, "Outside diameter, mm.")),
	"Tube.wall":    number(length, "Wall, mm; left out: solid."),
	"Tube.steel":   text("Steel, free text."),

	"End.kind":            oneOf("bush (rubber or polyurethane), ball (spherical, rod end) or stud (taper ball stud); left out: a ball without limits.", "bush", "ball", "stud"),
	"End.bolt":            number(direction, "Direction of the bolt; need not be of length 1. Left out: across, square to the link."),
	"End.square":          text("Whether the bore lies square to the link. Left out: a bush's is set to its bolt, a ball's and a stud's lies square."),
	"End.misalignment":    number(tiltLimit, "Limit of the tilt between bolt and bore, deg."),
	"End.torsion":         number(limit, "Limit of a bush's twist about its bolt, deg."),
	"End.radialStiffness": number(stiffness, "Square to the bolt, N/mm. Left out: 10 000 for a bush, 100 000 for a ball or stud."),
	"End.axialStiffness":  number(stiffness, "Along the bolt, N/mm. Left out: a quarter of the radial one."),
	"End.bracket":         number(lengthOr0, "Reach of the pivot's own bracket, mm, within which gaps to what it is mounted on do not count. Left out: 80."),

	"End.takes":  number(length, "What the end takes of the link's length: from the pivot's centre to the tube's end, mm, where it screws, at the middle of its thread. The tube is cut to what both ends leave."),
	"End.adjust": number(length, "How far the end screws in, and out, from the middle, mm. Left out: it does not screw."),
	"End.thread": number(length, "Pitch of that thread, mm a turn."),
	"End.hand":   oneOf("Of that thread: right or left; left out: right.", "right", "left"),

	"End.boltOut":    text("The room its bolt needs to be drawn out along itself. It is looked at as the vehicle stands, at full bump and at full droop; it is no gap of the driving axle."),
	"BoltOut.length": need(number(length, "Of the bolt, its head with it, mm.")),
	"BoltOut.across": need(number(length, "Of head, washer or socket, whatever is widest, mm.")),
	"BoltOut.grip":   need(number(lengthOr0, "Over what it clamps, outside to outside, mm; the way out begins there.")),
	"BoltOut.way":    oneOf("Which way it is to come out, of the pivot as given (a pair's right one likewise, mirrored). Left out: either way will do.", "left", "right", "forward", "back", "up", "down"),

	"End.clevis": text("What a rod end sits in, where the head may touch before the ball runs out: the smaller of that and the misalignment limit counts."),

	"Clevis.head":       need(number(length, "Outside diameter of the head, mm.")),
	"Clevis.headWidth":  need(number(length, "Width of the head, mm.")),
	"Clevis.ballWidth":  need(number(length, "Width of the ball, mm, more than the head's.")),
	"Clevis.gap":        number(length, "Gap between the cheeks, mm; left out: the ball's width."),
	"Clevis.edgeRadius": number(lengthOr0, "Radius of the head's edges, mm; left out: square edges."),

	"Link.name":      need(text(nameDoc)),
	"Link.pair":      text(pairDoc),
	"Link.frame":     need(number(place, "Frame pivot at ride height, mm.")),
	"Link.axle":      need(number(place, "Axle pivot at ride height, mm.")),
	"Link.bends":     list(0, 100, place, "Bends of the centre line between the pivots, frame end first, at ride height, mm."),
	"Link.tube":      text("Section of the bar; left out: it has no thickness and no give of its own."),
	"Link.frameEnd":  text("How it is held at the frame."),
	"Link.axleEnd":   text("How it is held at the axle."),
	"Link.clock":     number(clocking, "Turn of the axle end's bore about the link from where it sits at ride height, deg, right-hand about frame to axle. Left out: 0, clocked at ride."),
	"Link.clearance": number(gapWanted, clearanceDoc),
	"Link.given":     text(givenDoc),
	"Link.measured":  oneOf(measuredDoc, "frame", "axle"),

	"Arm.name":      need(text(nameDoc)),
	"Arm.pair":      text(pairDoc),
	"Arm.frame":     need(list(1, 2, place, "Frame pivots at ride height, mm: two for an A-arm, one for a radius arm.")),
	"Arm.axle":      need(list(1, 2, place, "Axle pivots at ride height, mm: one for an A-arm, two for a radius arm.")),
	"Arm.frameEnds": list(0, 2, nil, "How it is held at each frame pivot, in the same order."),
	"Arm.axleEnds":  list(0, 2, nil, "How it is held at each axle pivot, in the same order."),
	"Arm.tube":      text("Section of its bars, from each of the two pivots to the third."),
	"Arm.clearance": number(gapWanted, clearanceDoc),
	"Arm.given":     text(givenDoc),
	"Arm.measured":  oneOf(measuredDoc, "frame", "axle", "frame[0]", "frame[1]", "axle[0]", "axle[1]"),

	"Rocker.name":     need(text(nameDoc)),
	"Rocker.on":       need(oneOf("What the centre piece turns on; the far ends of its rods are on the other.", "axle", "frame")),
	"Rocker.pivot":    need(number(place, "Centre of its bolt at ride height, mm.")),
	"Rocker.axis":     need(number(direction, "Direction of its bolt; need not be of length 1.")),
	"Rocker.rods":     need(list(2, 2, nil, "Its two rods.")),
	"Rocker.given":    text(givenDoc),
	"Rocker.measured": oneOf(measuredDoc, "pivot", "axis", "rods[0].rocker", "rods[0].far", "rods[1].rocker", "rods[1].far"),

	"Rod.name":      need(text("What the rod is called; unlike every other part's name.")),
	"Rod.rocker":    need(number(place, "Its pivot on the rocker at ride height, mm.")),
	"Rod.far":       need(number(place, "Its other pivot at ride height, mm.")),
	"Rod.tube":      text("Section of the rod; left out: no bar is drawn or checked."),
	"Rod.rockerEnd": text("How it is held at the rocker."),
	"Rod.farEnd":    text("How it is held at its far end."),
	"Rod.clearance": number(gapWanted, clearanceDoc),

	"Strut.name":      need(text(nameDoc)),
	"Strut.pair":      text(pairDoc),
	"Strut.frame":     need(number(place, "Frame pivot at ride height, mm.")),
	"Strut.axle":      need(number(place, "Axle pivot at ride height, mm.")),
	"Strut.on":        text("The link or arm it stands on; left out: the axle."),
	"Strut.closed":    number(length, "Shortest length, pivot to pivot, mm."),
	"Strut.open":      number(length, "Longest length, pivot to pivot, mm."),
	"Strut.diameter":  number(length, "Diameter, mm; left out: its gaps are not checked."),
	"Strut.diameters": list(2, 100, length, "An air bag's diameter by its length: pairs of length pivot to pivot and diameter there, mm, lengths rising; straight lines between, the end ones beyond. In place of diameter."),
	"Strut.rate":      number(stiffness, "Spring rate, N/mm."),
	"Strut.tilt":      number(tiltLimit, "Limit of its tilt at either end since ride height, deg."),
	"Strut.clearance": number(gapWanted, clearanceDoc),
	"Strut.bracket":   number(lengthOr0, "Reach of its own brackets at both ends, mm. Left out: 80."),
	"Strut.given":     text(givenDoc),
	"Strut.measured":  oneOf(measuredDoc, "frame", "axle"),

	"Stop.name":     need(text(nameDoc)),
	"Stop.pair":     text(pairDoc),
	"Stop.frame":    need(number(place, "Where it is fixed to the frame, mm.")),
	"Stop.axle":     need(number(place, "The pad it meets on the axle, at ride height, mm.")),
	"Stop.axis":     number(direction, "The way it points, from the frame; need not be of length 1. Left out: straight down."),
	"Stop.touch":    number(length, "Free length along its axis, mm; left out: solid at first touch."),
	"Stop.closed":   need(number(lengthOr0, "Solid length along its axis, mm.")),
	"Stop.face":     number(length, "Radius about its axis within which the pad may land, mm."),
	"Stop.given":    text(givenDoc),
	"Stop.measured": oneOf(measuredDoc, "frame", "axle"),

	"Strap.name":     need(text(nameDoc)),
	"Strap.pair":     text(pairDoc),
	"Strap.frame":    need(number(place, "Frame end at ride height, mm.")),
	"Strap.axle":     need(number(place, "Axle end at ride height, mm.")),
	"Strap.open":     need(number(length, "Length when taut, mm.")),
	"Strap.given":    text(givenDoc),
	"Strap.measured": oneOf(measuredDoc, "frame", "axle"),

	"Line.name":      need(text(nameDoc)),
	"Line.pair":      text(pairDoc),
	"Line.frame":     need(number(place, "Clip on the frame, mm.")),
	"Line.axle":      need(number(place, "Clip on the axle at ride height, mm.")),
	"Line.length":    number(length, "Length of its flexible part between ferrules, mm."),
	"Line.diameter":  number(length, "Diameter, mm; left out: its gaps are not checked."),
	"Line.clearance": number(gapWanted, clearanceDoc),
	"Line.given":     text(givenDoc),
	"Line.measured":  oneOf(measuredDoc, "frame", "axle"),

	"Sensor.name":     need(text(nameDoc)),
	"Sensor.pair":     text(pairDoc),
	"Sensor.shaft":    need(number(place, "Centre of its shaft, on the frame, mm.")),
	"Sensor.axis":     need(number(direction, "Direction of its shaft; need not be of length 1.")),
	"Sensor.lever":    need(number(place, "Where the rod joins the lever at ride height, mm.")),
	"Sensor.far":      need(number(place, "The rod's other end at ride height, mm.")),
	"Sensor.on":       text("What the rod's other end is on: \"axle\" (also when left out) or a link's or arm's name."),
	"Sensor.swing":    number(angle, "How far the lever may turn from ride height, deg, right-hand about the axis: from, to."),
	"Sensor.given":    text(givenDoc),
	"Sensor.measured": oneOf(measuredDoc, "shaft", "axis", "lever", "far"),

	"Envelope.name":      text(nameDoc + " Left out only in axle.housing."),
	"Envelope.pair":      text(pairDoc),
	"Envelope.kind":      need(oneOf("Kind of shape.", "box", "prism", "ball", "tube", "mesh")),
	"Envelope.min":       number(place, "Box: least corner, mm."),
	"Envelope.max":       number(place, "Box: greatest corner, mm."),
	"Envelope.turn":      number(angle, "Box: turned about its centre by R = Rz Ry Rx, deg about X, Y, Z."),
	"Envelope.plane":     oneOf("Prism: plane of the outline: side (X, Z), plan (X, Y) or rear (Y, Z).", "side", "plan", "rear"),
	"Envelope.outline":   list(3, 1000, place, "Prism: corners of a polygon that does not cross itself, in the plane's two axes, mm."),
	"Envelope.from":      number(place, "Prism: lower end on the third axis, mm."),
	"Envelope.to":        number(place, "Prism: upper end on the third axis, mm."),
	"Envelope.centre":    number(place, "Ball: centre, mm."),
	"Envelope.radius":    number(length, "Ball: radius, mm."),
	"Envelope.path":      list(2, 1000, place, "Tube: centre line, mm."),
	"Envelope.outside":   number(length, "Tube: outside diameter, mm."),
	"Envelope.file":      text("Mesh: STL file beside the job file, mm."),
	"Envelope.clearance": number(gapWanted, clearanceDoc),
	"Envelope.vessel":    text("A tank: its gross outside volume is reported."),
	"Envelope.fill":      text("Of a vessel: where it is filled, breathes, is emptied from and is dipped."),
	"Envelope.movable":   text("It could be moved or changed."),
	"Envelope.carries":   list(0, 100, nil, "Names of the links, arms, rockers, struts, stops, straps, lines and sensors mounted on it; the driveshaft as \"Driveshaft\"."),
	"Envelope.given":     text(givenDoc),
	"Envelope.measured":  text("It is measured on the vehicle."),

	"Fill.filler":   number(place, "Lower edge of the filler's neck, mm: the vessel is filled no higher."),
	"Fill.breather": number(place, "Lower end of the breather, mm: the vessel is filled no higher."),
	"Fill.pickup":   number(place, "End of the pick-up, mm: the vessel is emptied no lower."),
	"Fill.dip":      number(place, "Where the dip stick stands, mm; left out: the middle of the vessel in plan."),

	"Travel.bump":         number(travelUp, "Bump in heave, mm."),
	"Travel.droop":        number(travelUp, "Droop in heave, mm, positive."),
	"Travel.articulation": number(rolling, "Articulation either way, deg."),

	"Trial.name":      need(text("What the trial is called; unlike the other trials.")),
	"Trial.note":      text("Free note."),
	"Trial.vehicle":   text("The whole vehicle of this trial."),
	"Trial.axle":      text("The whole axle of this trial."),
	"Trial.driveline": text("The whole driveline of this trial."),
	"Trial.links":     list(0, 200, nil, "All links of this trial; an empty list is none."),
	"Trial.arms":      list(0, 50, nil, "All arms of this trial; an empty list is none."),
	"Trial.rockers":   list(0, MostRockers, nil, "All rockers of this trial; an empty list is none."),
	"Trial.struts":    list(0, 100, nil, "All struts of this trial; an empty list is none."),
	"Trial.stops":     list(0, 100, nil, "All stops of this trial; an empty list is none."),
	"Trial.straps":    list(0, 100, nil, "All straps of this trial; an empty list is none."),
	"Trial.lines":     list(0, 200, nil, "All lines of this trial; an empty list is none."),
	"Trial.sensors":   list(0, 20, nil, "All sensors of this trial; an empty list is none."),
	"Trial.envelopes": list(0, 500, nil, "Everything in the way in this trial; an empty list is nothing."),
	"Trial.travel":    text("The travel entered for this trial."),

	"GivenValue.typed":     text("As it was typed: \"44 3/8\\\"\"."),
	"GivenValue.from":      text("The datum it was taken from."),
	"GivenValue.plusMinus": number(lengthOr0, "How far off it may be, in the number's own unit (mm for places)."),
	"GivenValue.source":    text("Tape, plumb bob, drawing."),
	"GivenValue.taken":     text("What the place was worked out from, where it was measured on an axle or a body that stood otherwise than at ride height."),

	"Taken.how":       need(oneOf("How it stood: the key of stood.", "stands", "hanging", "floor")),
	"Taken.typed":     need(list(3, 3, nil, "Its three numbers as typed, each with its unit: ahead, left, up; on the floor the third is the height above it.")),
	"Taken.from":      list(3, 3, nil, "Hanging: the datum each was taken from, an empty text as the job counts."),
	"Taken.plusMinus": text("How far off each of them may be, as typed, with its unit; left out: 1.5 mm."),
	"Taken.side":      oneOf("Where it was measured on the twin the file does not give.", "right"),

	"Stood.stands":  text("The axle on stands or on the bench."),
	"Stood.hanging": text("The axle under the vehicle, hanging or standing otherwise than at ride height."),
	"Stood.floor":   text("The body over the workshop floor."),

	"Stands.pinion":       number(steep, "Angle of the pinion to the horizontal as it lay, deg, + nose up."),
	"Stands.tilt":         number(leaning, "Angle of the tube to the horizontal as it lay, deg, + left end up; left out: 0."),
	"Stands.pinionAtRide": number(steep, "Angle of the pinion at ride height, deg, + nose up; counts only where the job draws no pinion."),
	"Stands.gauge":        number(gauge, "How far off the angles may be, deg; left out: 0.2."),
	"Stands.given":        text("How these numbers were typed, by key."),

	"Hanging.strut":        text("The struts whose lengths tell where it hung; left out: the two ends of its tube and its pinion angle tell."),
	"Hanging.left":         number(length, "Length of the left one as it hung, pivot to pivot, mm; of a single one, its length."),
	"Hanging.right":        number(length, "Length of the right one, mm; left out: as the left one."),
	"Hanging.leftEnd":      text("Where the middle of the tube's left end was, body axes."),
	"Hanging.rightEnd":     text("Where the middle of its right end was."),
	"Hanging.pinion":       number(steep, "Angle of the pinion to the horizontal as it hung, deg, + nose up."),
	"Hanging.rake":         number(leaning, "Angle of the body's X axis to the horizontal then, deg, + nose up; left out: 0."),
	"Hanging.pinionAtRide": number(steep, "Angle of the pinion at ride height, deg, + nose up; counts only where the job draws no pinion."),
	"Hanging.gauge":        number(gauge, "How far off the angles may be, deg; left out: 0.2."),
	"Hanging.given":        text("How these numbers were typed, by key."),

	"TubeEnd.x": number(place, "Ahead of where the axle centre is at ride height, mm."),
	"TubeEnd.y": number(place, "Left of the middle, mm."),
	"TubeEnd.z": number(place, "Above the ground of ride height, mm."),

	"Floor.datum":           text("The datum the marks are measured from; it has X, Y and Z. Left out: the axle centre as at ride height."),
	"Floor.height":          number(length, "Height of the datum above the floor by the plumb line, mm."),
	"Floor.rake":            number(leaning, "Angle of the rails to the horizontal, deg, + nose up; in place of the two heights."),
	"Floor.rakeRear":        number(length, "Height of a rail above the floor, mm, where it was measured farther back."),
	"Floor.rakeFront":       number(length, "Height of the same edge of it farther ahead, mm."),
	"Floor.rakeOver":        number(length, "How far ahead that is, mm along the floor."),
	"Floor.railAtRide":      number(leaning, "Angle of the rails to body X, deg, + nose up, which they have at ride height; left out: 0."),
	"Floor.lean":            number(leaning, "Angle of the body across to the horizontal, deg, + left side up; in place of the two heights."),
	"Floor.leanLeft":        number(length, "Height of something on the left above the floor, mm."),
	"Floor.leanRight":       number(length, "Height of its like on the right, mm."),
	"Floor.leanOver":        number(length, "How far apart they are, mm along the floor."),
	"Floor.fallForward":     number(place, "How much the floor falls ahead, mm, over fallForwardOver; left out: 0."),
	"Floor.fallForwardOver": number(length, "Over how far, mm level."),
	"Floor.fallLeft":        number(place, "How much the floor falls to the left, mm, over fallLeftOver; left out: 0."),
	"Floor.fallLeftOver":    number(length, "Over how far, mm level."),
	"Floor.gauge":           number(gauge, "How far off the angles may be, deg; left out: 0.2."),
	"Floor.given":           text("How these numbers were typed, by key."),

	"Datum.name":      need(text("What the datum is called; unlike the other datums.")),
	"Datum.at":        number(place, "Where it is, mm."),
	"Datum.axis":      oneOf("The one axis it fixes; left out: all.", "x", "y", "z"),
	"Datum.plusMinus": number(lengthOr0, "How far off it may be, mm."),
	"Datum.note":      text("Free note."),
	"Datum.taken":     text("What its place was worked out from, where it was measured from the floor."),

	"Keep.what":  need(oneOf("What is kept.", "length", "line", "pinion")),
	"Keep.of":    text("The part it is kept for; pinion: the link whose frame end goes up or down for it."),
	"Keep.end":   text("A line: which of the part's pivots stays on it: frame, axle, frame[1], rods[0].far and so on."),
	"Keep.way":   oneOf("The line a pivot stays on, through where it stands; level: it stays at its height.", "level", "upright", "fore-and-aft", "across", "link", "holes"),
	"Keep.along": number(direction, "Direction of that line, with \"link\" and \"holes\"; need not be of length 1."),
	"Keep.from":  number(travel, "Pinion: the travel of both wheels its change counts from, mm."),
	"Keep.to":    number(travel, "Pinion: the travel of both wheels its change counts to, mm."),
	"Keep.value": number(anyNumber, "The value kept: mm; pinion: deg, nose up from the first travel to the second."),

	"SetAside.finding": need(text("Which finding.")),
	"SetAside.trial":   text("In which trial; left out: the job as drawn."),
	"SetAside.reason":  need(text("Why it was put aside.")),
	"SetAside.date":    text("When, year-month-day."),
	"SetAside.numbers": number(anyNumber, "The figures it had then, by name."),

	"Photo.file":       need(text("The picture's file, beside the job file.")),
	"Photo.view":       text("Which view it lies behind: side, rear or plan."),
	"Photo.at":         number(place, "Where the middle of the picture lies along the view's right and up (side X Z, rear -Y Z, plan X Y), mm."),
	"Photo.mmPerPixel": number(length, "How many mm one of its pixels is."),
	"Photo.turn":       number(angle, "How far it is turned against the clock, deg."),
	"Photo.opacity":    number(share, "How strongly it is drawn, 0 to 1; left out: 0.5."),
	"Photo.hidden":     text("It is not drawn just now."),
	"Photo.typed":      text("The length its scale was taken from, as typed."),
	"Photo.note":       text("Free note."),

	"Card.complaint": text("What the owner came in with."),
	"Card.use":       text("What the vehicle is used for."),
	"Card.frontKg":   number(kilograms, "Front axle on the scales, kg."),
	"Card.rearKg":    number(kilograms, "Rear axle on the scales, kg."),
	"Card.tyre":      text("The tyres as measured or as marked: \"265/75R16\", \"loaded radius 388\"."),
	"Card.given":     text("How its numbers were come by, by key: \"frontKg\", \"rearKg\"."),

	"Before.date":   text("When, year-month-day."),
	"Before.note":   text("Free note."),
	"Before.photo":  text("A picture of it, beside the job file."),
	"Before.values": number(anyNumber, "What was measured, mm or deg, by name: "+beforeDoc()+" Other names are kept as they are."),
	"Before.given":  text("How these values were come by, by name."),

	"Holes.of":    need(text("The part whose pivot it is.")),
	"Holes.end":   need(text("Which of its pivots: frame, axle, frame[1], rods[0].far and so on.")),
	"Holes.first": number(place, "The first hole of a row, mm, at ride height."),
	"Holes.step":  number(place, "From each hole of the row to the next, mm."),
	"Holes.count": number(holes, "How many holes the row has."),
	"Holes.at":    list(0, MostHoles, place, "Each hole for itself, mm, instead of a row."),
	"Holes.given": text(givenDoc),

	"Bracket.of":        need(text("The part whose pivot it holds.")),
	"Bracket.end":       need(text("Which of its pivots: frame, axle, frame[1], rods[0].far and so on.")),
	"Bracket.kind":      need(oneOf("tab: one flat plate. pair: two, the bolt in double shear. saddle: two on a plate folded over a rail.", "tab", "pair", "saddle")),
	"Bracket.thickness": need(number(plateThick, "Of the plates, mm.")),
	"Bracket.hole":      need(number(plateSize, "Diameter of the hole for the bolt, mm.")),
	"Bracket.edge":      need(number(plateSize, "From the hole's centre to the plate's edge round it, mm.")),
	"Bracket.base":      need(number(plateSize, "From the hole's centre to the mounting face, mm.")),
	"Bracket.width":     number(plateSize, "Width of the plates at the mounting face, mm. Left out: twice the edge."),
	"Bracket.offset":    number(plateShift, "How far the middle of that width lies beside the hole, mm, + to the right as the template is drawn."),
	"Bracket.gap":       number(plateSize, "Clear between the two plates of a pair or a saddle, mm."),
	"Bracket.steel":     text("What the plates are of, as the bench writes it."),
	"Bracket.pattern":   text("A row of holes past the mounting face, where the plate is bolted on; of a saddle, in each leg."),
	"Bracket.rail":      text("The folded plate of a saddle."),

	"Pattern.count": need(number(holes, "How many holes.")),
	"Pattern.pitch": number(plateSize, "From one hole to the next, mm."),
	"Pattern.hole":  need(number(plateSize, "Their diameter, mm.")),
	"Pattern.in":    need(number(plateSize, "From the mounting face to the row, mm; of a saddle from the leg's free edge.")),
	"Pattern.edge":  number(plateSize, "From the row to the plate's edge past it, mm. Left out: one and a half holes."),

	"Over.width":     need(number(plateSize, "Width of the rail, mm: clear between the legs.")),
	"Over.leg":       need(number(plateSize, "How far the legs reach along the rail's sides, mm.")),
	"Over.along":     number(plateSize, "How long the folded plate is along the rail, mm. Left out: as wide as the plates on it."),
	"Over.thickness": number(plateThick, "Its thickness, mm. Left out: as the plates."),
	"Over.bend":      number(plateSize, "Inside radius of its folds, mm. Left out: its thickness."),

	"AsBuilt.of":    need(text("The part.")),
	"AsBuilt.end":   text("Which of its places."),
	"AsBuilt.at":    need(number(place, "Where it came out, mm.")),
	"AsBuilt.given": text(givenDoc),
}

// member is one key of a type: its Go field and what is said about it.
type member struct {
	key      string
	index    int
	optional bool // left out of the file where there is nothing to say
	field    field
}

// layouts holds the members of every struct type of the file, in writing order.
var layouts = map[reflect.Type][]member{}

func init() { layOut(reflect.TypeFor[Job]()) }

func layOut(t reflect.Type) {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map, reflect.Array:
		layOut(t.Elem())
	case reflect.Struct:
		if _, done := layouts[t]; done {
			return
		}
		layouts[t] = nil
		var ms []member
		for i := range t.NumField() {
			key, option, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
			if key == "-" {
				continue
			}
			ms = append(ms, member{key: key, index: i, optional: option == "omitempty", field: fields[t.Name()+"."+key]})
			layOut(t.Field(i).Type)
		}
		layouts[t] = ms
	}
}
