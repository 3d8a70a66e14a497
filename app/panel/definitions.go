package panel

import "axleloft/app/words"

// definition is a reading in the words of the trade: two sentences, what its sign means, whether load and ground matter, what moves it.
type definition struct {
	what, sign, moves, practice string
	load, ground                bool
}

// jointPractice is a joint maker's advice on the angles of a single shaft.
const jointPractice = "At most 3 deg for smooth running, at least 0.5, both joints alike within 1 deg; the largest angle falls with speed, 11.5 deg at 1500 rev/min to 5.0 at 3500: a joint maker's figures."

var definitions = map[string]definition{
	"pinion": {
		what:     words.Mark("How far the pinion points up or down against the chassis. It turns with the axle as the links swing, and the driveshaft joints feel every degree."),
		sign:     words.Mark("Nose up counts up from level."),
		moves:    words.Mark("The difference in height and length between upper and lower links. Equal parallel links keep it still."),
		practice: words.Mark("Change within 6 to 8 deg over the travel, 1 deg over 25 mm either way."),
	},
	"antisquat": {
		what:     words.Mark("How much of the squat under power the links hold up, 100 % being all of it. It is the slope at which the tyre's contact moves back as the axle comes up, times wheelbase over the height of the centre of gravity, times this axle's share of the drive."),
		sign:     words.Mark("More resists squat; under 0 the links pull the tail down."),
		moves:    words.Mark("Slope of the links seen from the side: lift the frame end of the lowers or drop the frame end of the uppers for more."),
		practice: words.Mark("50 to 100 % laden, under 120 % empty, changing gently."),
		load:     true, ground: true,
	},
	"rollsteer": {
		what:     words.Mark("How much the axle steers itself when the body leans: axle steer for each degree of lean. It is the slope of the line the axle rolls about."),
		sign:     words.Mark("Toward oversteer the line rises forward, toward understeer it falls."),
		moves:    words.Mark("Height of the links' frame ends, lowers first, and the height of the Panhard rod against them. It changes with ride height: look at every height."),
		practice: words.Mark("Laden at ride 0 to 5 % toward understeer, at most 2 % toward oversteer; from 5 to 6 % the driver notices."),
		ground:   true,
	},
	"joint": {
		what:  words.Mark("The bush or rod end that is nearest to its limit here, as a share of that limit. A bush counts tilt and twist, whichever is worse; a rod end counts tilt."),
		sign:  words.Mark("100 % is at its limit: beyond it the joint binds."),
		moves: words.Mark("Length of the link, direction of its bolt, and the kind of joint. Tighten bush bolts at ride height."),
	},
	"slip": {
		what:     words.Mark("How far the driveshaft's spline can still go in, and still come out. Its extremes can lie inside the travel, not at its ends."),
		sign:     words.Mark("The bar shows the length against ride: more is longer, drawn out."),
		moves:    words.Mark("How the pinion joint moves fore and aft and how it turns: link lengths against the shaft's length."),
		practice: words.Mark("20 to 25 mm left both ways, and at the longest the splines still engaged by 1.5 of their diameter; the maker's figure first."),
	},
	"sideshift": {
		what:     words.Mark("How far the middle of the axle has moved sideways. A Panhard rod swings on a circle and takes the axle along."),
		sign:     words.Mark("To the left of the vehicle counts up."),
		moves:    words.Mark("A longer rod, and one level at ride height, shift less."),
		practice: words.Mark("Within 10 mm over 75 mm of travel either way."),
	},
	"rollcentre": {
		what:   words.Mark("The height at which a push from the side does not make the body lean. It lies on the line the axle rolls about, in the plane of the wheel centres."),
		sign:   words.Mark("Counted from the ground up."),
		moves:  words.Mark("Height of the Panhard rod, or where the angled links meet."),
		ground: true,
	},
	"antilift": {
		what:  words.Mark("How much the links hold the tail down under braking, 100 % being all of it. It is worked out like anti-squat, with this axle's share of the braking."),
		sign:  words.Mark("More resists lift."),
		moves: words.Mark("The same as anti-squat."),
		load:  true, ground: true,
	},
	"squareness": {
		what:     words.Mark("Left wheelbase less right wheelbase. An axle out of square drives like a crab."),
		sign:     words.Mark("Left longer counts up."),
		moves:    words.Mark("Lengths of the lower links, left against right; crossed up, their slope."),
		practice: words.Mark("Within 3 mm left to right."),
	},
	"steer": {
		what:  words.Mark("How far the axle's own line has turned, seen from above. It is what the tyres feel."),
		sign:  words.Mark("To the left counts up."),
		moves: words.Mark("The same as roll steer and squareness."),
	},
	"shaftfront": {
		what:     words.Mark("The true bend of the driveshaft's front joint, in space, not only seen from the side. Both joints should bend alike or the shaft shakes."),
		sign:     words.Mark("No sign: 0 is straight."),
		moves:    words.Mark("Height of the output, pinion angle and ride height."),
		practice: jointPractice,
	},
	"shaftrear": {
		what:     words.Mark("The true bend of the driveshaft's rear joint, in space, not only seen from the side. Both joints should bend alike or the shaft shakes."),
		sign:     words.Mark("No sign: 0 is straight."),
		moves:    words.Mark("Pinion angle, and how it changes over the travel."),
		practice: jointPractice,
	},
	"shaftbearing": {
		what:  words.Mark("The true bend of the joint behind the centre bearing, in space. The front piece stays where it is; the rear piece swings from this joint."),
		sign:  words.Mark("No sign: 0 is straight."),
		moves: words.Mark("Height of the centre bearing, pinion angle and ride height."),
	},
	"pinionground": {
		what:   words.Mark("How far the pinion points up or down against the ground. With the front staying where it is the whole chassis tips as the tail goes up or down."),
		sign:   words.Mark("Nose up counts up from level."),
		moves:  words.Mark("The pinion against the chassis, and how far the tail is raised or lowered over the wheelbase."),
		ground: true,
	},
	"torsional": {
		what:     words.Mark("How hard the pinion is jerked to and fro twice a turn because its joints do not cancel, at the shaft speed chosen. It grows with the square of the speed and of the angles."),
		sign:     words.Mark("No sign: 0 runs even."),
		moves:    words.Mark("Make the joints bend alike, yokes in line."),
		practice: words.Mark("At most 300 rad/s²: a joint maker's advice. A chart in the manner of SAE AE-7 is drawn for 400."),
	},
	"inertia": {
		what:     words.Mark("How hard the shaft itself is sped up and slowed down twice a turn by the joint that bends most, at the shaft speed chosen. Joints that cancel do not take it away."),
		sign:     words.Mark("No sign: 0 runs even."),
		moves:    words.Mark("Smaller joint angles, or a lower speed."),
		practice: words.Mark("At most 1000 rad/s² at either joint: a joint maker's advice."),
	},
	"forced": {
		what:  words.Mark("There are more links than hold the axle, so away from ride height they fight: this is the member that is stretched or squeezed most here. Only bushes take it; the stiffer they are, the larger the force."),
		sign:  words.Mark("No sign: stretched or squeezed."),
		moves: words.Mark("Links that swing on like arcs fight less. Softer bushes take more; rod ends take nothing."),
	},
	"fluctuation": {
		what:  words.Mark("How much the pinion's speed comes and goes within one turn of an evenly turning shaft. It is what is left when the two joints do not cancel."),
		sign:  words.Mark("No sign: 0 runs even."),
		moves: words.Mark("Make the two joints bend alike, yokes in line."),
	},
	"wheelbase": {
		what:  words.Mark("From the front axle to where this axle stands now. Links swing the axle fore and aft."),
		sign:  words.Mark("More is longer."),
		moves: words.Mark("Slope and length of the lower links."),
	},
}
