package sheets

import (
	"context"

	"axleloft/plotting/sheet"
)

// reference is the published figures of joints, bolts and tubes that a bench looks up, each with its source. It says nothing of any vehicle's strength.
func reference(context.Context, *Input) ([]sheet.Block, error) {
	right := func(head string) sheet.Column { return sheet.Column{Head: head, Right: true} }
	ends := sheet.Table{Small: true, Columns: []sheet.Column{right("Bore, mm"), right("Tilt, deg"), right("Head across, mm"), right("Ball width, mm"), right("Head width, mm"), right("Tilt in a plain clevis as wide as the ball, deg")}, Rows: sheet.Rows(
		[]string{"6", "13", none, none, none, none}, []string{"8", "14", none, none, none, none}, []string{"10", "13", "26", "14", "10.5", none}, []string{"12", "13", "30", "16", "12", "7.9"},
		[]string{"14", "16", "34", "19", "13.5", "9.6"}, []string{"16", "15", "38", "21", "15", "9.4"}, []string{"20", "14", "46", "25", "18", "9.0"}, []string{"22", "15", none, none, none, none},
		[]string{"25", "15", none, none, none, none}, []string{"30", "17", none, none, none, none})}
	metric := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Bolt", Strong: true}, right("Stress area, mm²"), right("Proof load 8.8, kN")}, Rows: sheet.Rows(
		[]string{"M10", "58", "33.7"}, []string{"M12", "84.3", "48.9"}, []string{"M14", "115", "66.7"}, []string{"M16", "157", "91.0"}, []string{"M18", "192", none}, []string{"M20", "245", none}, []string{"M22", "303", none}, []string{"M24", "353", none})}
	inch := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Bolt, in", Strong: true}, right("Coarse, in²"), right("Fine, in²")}, Rows: sheet.Rows(
		[]string{"3/8", "0.0775", "0.0878"}, []string{"7/16", "0.1063", "0.1187"}, []string{"1/2", "0.1419", "0.1599"}, []string{"9/16", "0.182", "0.203"}, []string{"5/8", "0.226", "0.256"}, []string{"3/4", "0.334", "0.373"}, []string{"7/8", "0.462", "0.509"}, []string{"1", "0.606", "0.663"})}
	classes := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Class or grade", Strong: true}, right("Proof"), right("Tensile"), right("Yield"), {Head: "Unit"}}, Rows: sheet.Rows(
		[]string{"8.8, M10 to M16", "580", none, none, "MPa"}, []string{"8.8, above M16", "600", none, none, "MPa"}, []string{"10.9", "830", none, none, "MPa"}, []string{"12.9", "970", none, none, "MPa"}, []string{"Grade 5, 1/4 to 1 in", "85", "120", "92", "ksi"}, []string{"Grade 8", "120", "150", "130", "ksi"})}
	tubes := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Tube steel", Strong: true}, right("Yield"), {Head: "Unit"}, {Head: "Source"}}, Rows: sheet.Rows(
		[]string{"1020 drawn over mandrel, ASTM A513 type 5", "60", "ksi", "as printed"}, []string{"1026 drawn over mandrel", "75", "ksi", "one maker's print; the standard's minimum may be lower"}, []string{"4130 normalised", "65", "ksi", "mill data, as printed"}, []string{"4130 stress relieved", "85", "ksi", "mill data, as printed"},
		[]string{"E235+N, EN 10305-1", "235", "MPa", "as printed"}, []string{"E355+N, EN 10305-1", "355", "MPa", "as printed"}, []string{"E355+SR, EN 10305-1", "450", "MPa", "from memory"})}
	return []sheet.Block{
		sheet.Para{Caution: true, Words: "Published figures to look up, no verdict on any vehicle: what a link, bolt or bracket must bear is not worked out here."},
		sheet.Heading{Words: "Rod ends, series K"}, ends,
		sheet.Para{Small: true, Words: "Bore and tilt: series K of ISO 12240-4, one maker's list (as printed); the standard sets no load ratings. Sizes: the same. Tilt in a plain clevis: asin(B / √(D² + C²)) − atan(C / D) for a square-edged head, B ball width, D head across, C head width; the smaller of both counts, as it is mounted. Series E, bore: tilt: 15: 8, 17: 10, 20: 9, 25: 7, 30: 6, 35: 6, 40: 7, 45: 7, 50: 6 (as printed)."},
		sheet.Heading{Words: "Bolts"}, metric, sheet.Para{Small: true, Words: "ISO 898-1 (as printed): stress areas and proof loads of class 8.8."}, classes,
		sheet.Para{Small: true, Words: "Metric: proof stress, ISO 898-1 (as printed); 8.8 to M16 from the proof loads above. Inch: SAE J429, as in Shigley, Mechanical Engineering Design, 9th edition, table 8-9 (as printed)."}, inch,
		sheet.Para{Small: true, Words: "Tensile stress areas of unified threads: the same book (as printed). Edge distance: at least 1.2 times the hole's diameter from its middle, EN 1993-1-8. A fillet weld's throat is 0.707 of its leg."},
		sheet.Heading{Words: "Tubes"}, tubes,
	}, nil
}
