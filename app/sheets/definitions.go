package sheets

import "axleloft/plotting/sheet"

// definitions are what every quantity is, with its sign, as the engineer reads it: one definition each.
func definitions() sheet.Table {
	return sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Quantity", Strong: true}, {Head: "What it is"}, {Head: "Sign, unit"}}, Rows: sheet.Rows(
		[]string{"Frame", "Body axes X forward, Y left, Z up (ISO 8855:2011), fixed to the sprung body. Origin on the ground, on the centre plane, under the rear axle centre at design ride height. Coordinates are where a point is at that height.", "mm"},
		[]string{"Position (pose)", "Travel of a wheel: how far its centre has moved along Z. Heave: the mean of left and right. Articulation: asin((left less right) / track). The axle is one rigid body; the links settle what the two travels leave open.", "mm, bump +; deg, left wheel up +"},
		[]string{"Pinion angle", "atan2(pz, px) of the pinion axis p, pointing forward out of the housing.", "deg, nose up +"},
		[]string{"Anti-squat", "100 p (−vx/vz) L / h of the tyre's contact, taken as fixed to the axle, in the motion of both wheels together: p this axle's share of the tractive force, L the wheelbase and h the height of the vehicle's centre of gravity at the position. Axle inertia neglected. Always of a load.", "%, resists squat +"},
		[]string{"Anti-lift, braking", "The same with this axle's share of the braking force.", "%, resists lift +"},
		[]string{"Roll centre", "By virtual work (SAE J670's roll centre): the height on the axle's centre plane, in the transverse plane of the wheel centres, without lateral velocity in the roll motion (left +1, right −1).", "mm above ground"},
		[]string{"Roll axis", "Where the roll motion has no lateral velocity in the centre plane: its slope wz/wx.", "deg, rising forward +"},
		[]string{"Roll steer", "100 wz/wx of the roll motion: axle steer per axle roll.", "%, toward oversteer +"},
		[]string{"Side shift (lateral shift)", "Y shift of the axle centre since ride height.", "mm, left +"},
		[]string{"Squareness", "−track · ax of the axle's own Y axis a: wheelbase left less right.", "mm, left side longer +"},
		[]string{"Driveshaft joints", "True angle in space between the two shafts of a joint.", "deg"},
		[]string{"Slip", "Joint-to-joint length less that at ride height.", "mm, longer +"},
		[]string{"Speed fluctuation", "Largest ratio of output to input speed within a turn, less 1, over all joints with the yokes' phase, from tan(out) = tan(in) cos(angle) at each.", "%"},
		[]string{"Shaft accelerations", "Torsional w² √(f⁴ + r⁴ − 2 f² r² cos 2d); inertia w² f² and w² r²; f, r the end joints' angles, d the phase error, w the shaft speed (from memory of SAE AE-7).", "rad/s²"},
		[]string{"Tilt of a joint (misalignment)", "Angle between bolt and bore, taken as lines; a link's spin about itself is what suits its ends.", "deg"},
		[]string{"Twist of a bush (torsion)", "Turn of the link about the bolt since ride height, seen along the bolt. Bushes are taken as tightened at ride height.", "deg"},
		[]string{"Of its limit (utilisation)", "The larger of tilt / its limit and twist / its limit; no limit given: not known. Bind: 1 or more.", "%"},
		[]string{"Forced stretch, force", "Of an over-located layout: the position of least strain energy ½ Σ k s²; 1/k = 1/k frame end + 1/k axle end + L/(E A), E 210 000 N/mm².", "mm, N"},
		[]string{"Gap", "Least distance between two parts' surfaces over the whole range; where they overlap, minus the shortest shift that parts them. \"Not less than\" is proved between positions too; \"at the positions tried\" is not.", "mm"},
		[]string{"Strut lean, end turn", "Angle to Z; turn of the strut's direction since ride height, seen from frame and from axle, the larger.", "deg"},
	)}
}
