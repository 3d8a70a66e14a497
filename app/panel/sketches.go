package panel

import (
	"axleloft/app/words"
	"axleloft/plotting/ink"
)

// sketches are the drawings by what they show. Side views have the nose to the right, rear views are seen from behind, plans have the nose to the right.
var sketches = map[string]func() *sketch{
	"pinion":      pinionSketch,
	"antisquat":   antiSketch,
	"rollsteer":   rollSteerSketch,
	"rollcentre":  rollCentreSketch,
	"sideshift":   sideShiftSketch,
	"squareness":  squarenessSketch,
	"steer":       steerSketch,
	"shaft":       shaftSketch,
	"slip":        slipSketch,
	"fluctuation": fluctuationSketch,
	"joint":       jointSketch,
	"forced":      forcedSketch,
	"wheelbase":   wheelbaseSketch,
	"gap":         gapSketch,
	"bolt out":    boltOutSketch,
	"strut":       strutSketch,
	"hose":        hoseSketch,
	"sensor":      sensorSketch,
	"held":        heldSketch,
	"reach":       reachSketch,
	"guess":       guessSketch,
	"band":        bandSketch,
}

func ground() *sketch { return new(sketch).line(ink.Edge, 1.5, 20, 116, 400, 116) }

func pinionSketch() *sketch {
	s := new(sketch).line(ink.Edge, 1.5, 110, 80, 350, 80)
	s.ring(ink.Text, 110, 80, 34).line(ink.Text, 4, 110, 80, 230, 44).line(ink.Text, 2, 230, 44, 350, 30)
	return s.arc(110, 80, 110, 0, 16.5).say(240, 72, words.T("+ nose up")).say(240, 100, words.T("level"))
}

func antiSketch() *sketch {
	s := ground().ring(ink.Text, 80, 88, 28).ring(ink.Text, 340, 88, 28)
	s.line(ink.Text, 3, 80, 72, 170, 66).line(ink.Text, 3, 80, 100, 170, 82)
	s.line(ink.Edge, 1, 170, 66, 290, 58).line(ink.Edge, 1, 170, 82, 290, 58)
	s.dot(ink.Text, 290, 58).line(ink.Measure, 2.5, 80, 116, 290, 58, 340, 44)
	s.dot(ink.Text, 200, 30).say(210, 34, words.T("centre of gravity"))
	return s.say(120, 20, words.T("steeper: more")).line(ink.Measure, 1, 150, 26, 190, 85)
}

func rollSteerSketch() *sketch {
	s := new(sketch).line(ink.Edge, 1.5, 60, 64, 380, 64)
	s.line(ink.Edge, 3, 120, 14, 120, 114).line(ink.Text, 4, 104, 16, 136, 112)
	s.line(ink.Text, 6, 92, 14, 116, 18).line(ink.Text, 6, 124, 110, 148, 114)
	s.arc(120, 64, 58, 90, 106).say(164, 30, words.T("the axle turns as the body leans"))
	return s.line(ink.Text, 2.5, 220, 108, 380, 84).say(220, 80, words.T("the line it rolls about")).arrow(360, 110, 360, 90)
}

func rollCentreSketch() *sketch {
	s := ground().line(ink.Text, 7, 90, 60, 90, 116).line(ink.Text, 7, 330, 60, 330, 116)
	s.line(ink.Text, 4, 90, 86, 330, 86).line(ink.Text, 3, 120, 50, 300, 72)
	s.dot(ink.Text, 120, 50).dot(ink.Text, 300, 72).dot(ink.Measure, 210, 61).line(ink.Edge, 1, 210, 12, 210, 116)
	return s.span(222, 62, 222, 115).say(232, 106, words.T("height")).say(216, 42, words.T("roll centre"))
}

func sideShiftSketch() *sketch {
	s := new(sketch).line(ink.Edge, 3, 90, 100, 310, 100).line(ink.Text, 5, 74, 62, 294, 62)
	s.line(ink.Edge, 2, 110, 40, 290, 100).line(ink.Text, 3, 110, 40, 274, 62)
	s.dot(ink.Text, 110, 40).line(ink.Edge, 1, 310, 48, 310, 112).line(ink.Edge, 1, 294, 48, 294, 112)
	return s.arrow(352, 54, 316, 54).arrow(250, 30, 290, 30).say(324, 84, words.T("side shift")).say(120, 30, words.T("rod on the frame"))
}

func squarenessSketch() *sketch {
	s := new(sketch).line(ink.Text, 4, 330, 24, 330, 104).line(ink.Text, 4, 92, 24, 74, 104)
	s.line(ink.Text, 8, 76, 24, 108, 24).line(ink.Text, 8, 58, 104, 90, 104).line(ink.Text, 8, 314, 24, 346, 24).line(ink.Text, 8, 314, 104, 346, 104)
	return s.span(110, 36, 326, 36).span(94, 92, 326, 92).say(170, 54, words.T("left wheelbase")).say(170, 84, words.T("right wheelbase"))
}

func steerSketch() *sketch {
	s := new(sketch).line(ink.Edge, 2, 180, 14, 180, 114).line(ink.Text, 5, 164, 16, 196, 112)
	s.line(ink.Text, 8, 146, 12, 182, 20).line(ink.Text, 8, 178, 108, 214, 116)
	return s.arc(180, 64, 56, 90, 107).arrow(240, 64, 330, 34).say(230, 90, words.T("where it steers to: left is +"))
}

func shaftSketch() *sketch {
	s := new(sketch).line(ink.Text, 4, 30, 96, 120, 92).line(ink.Text, 5, 120, 92, 300, 40).line(ink.Text, 4, 300, 40, 390, 38)
	s.line(ink.Edge, 1, 120, 92, 230, 87).line(ink.Edge, 1, 300, 40, 390, 14).ring(ink.Text, 120, 92, 8).ring(ink.Text, 300, 40, 8)
	s.arc(120, 92, 100, 2.6, 16.1).arc(300, 40, 84, 1.3, 16.1)
	return s.say(132, 114, words.T("rear joint")).say(290, 68, words.T("front joint"))
}

func slipSketch() *sketch {
	s := new(sketch).line(ink.Text, 3, 60, 50, 230, 50, 230, 78, 60, 78, 60, 50).line(ink.Text, 3, 150, 58, 350, 58, 350, 70, 150, 70, 150, 58)
	return s.arrow(146, 100, 66, 100).arrow(154, 100, 226, 100).say(70, 122, words.T("left in")).say(170, 122, words.T("left out")).say(240, 40, words.T("longer is +"))
}

func fluctuationSketch() *sketch {
	s := new(sketch).line(ink.Edge, 1.5, 40, 64, 390, 64).ring(ink.Text, 80, 64, 30).line(ink.Text, 3, 80, 64, 100, 42)
	var wave []float32
	for i := range 41 {
		x := float32(i)
		t := x / 10
		up := float32(1)
		if int(t)%2 == 1 {
			up = -1
		}
		f := t - float32(int(t))
		wave = append(wave, 140+x*6, 64-up*4*f*(1-f)*26)
	}
	s.line(ink.Measure, 2.5, wave...)
	return s.say(150, 112, words.T("faster and slower, twice a turn"))
}

func jointSketch() *sketch {
	s := new(sketch).ring(ink.Text, 110, 64, 34).ring(ink.Text, 110, 64, 12).line(ink.Text, 5, 144, 64, 200, 52)
	s.arc(110, 64, 46, -20, 26).say(60, 122, words.T("a bush twists"))
	s.ring(ink.Text, 290, 64, 22).line(ink.Text, 5, 290, 86, 304, 116).line(ink.Edge, 2, 250, 64, 330, 64).line(ink.Text, 3, 254, 48, 326, 80)
	return s.arc(290, 64, 52, -24, 0).say(330, 112, words.T("and tilts"))
}

func forcedSketch() *sketch {
	s := new(sketch).line(ink.Text, 5, 320, 20, 320, 112).line(ink.Text, 3, 80, 34, 320, 30).line(ink.Text, 3, 80, 96, 320, 100)
	s.dot(ink.Text, 80, 34).dot(ink.Text, 80, 96).arrow(200, 50, 140, 50).arrow(200, 50, 260, 50).arrow(120, 80, 176, 80).arrow(280, 80, 224, 80)
	return s.say(150, 72, "").say(332, 56, words.T("stretched")).say(332, 84, words.T("squeezed"))
}

func wheelbaseSketch() *sketch {
	s := ground().ring(ink.Text, 80, 84, 30).ring(ink.Text, 340, 84, 30)
	return s.span(80, 34, 340, 34).line(ink.Edge, 1, 80, 26, 80, 84).line(ink.Edge, 1, 340, 26, 340, 84).say(180, 56, words.T("wheelbase"))
}

func gapSketch() *sketch {
	s := new(sketch).line(ink.PartLine, 3, 60, 24, 360, 24, 360, 46, 60, 46, 60, 24).line(ink.Text, 6, 60, 104, 360, 92)
	return s.span(210, 48, 210, 94).say(220, 76, words.T("gap, surface to surface"))
}

func boltOutSketch() *sketch {
	s := new(sketch).line(ink.PartLine, 3, 330, 20, 330, 110).line(ink.PartLine, 3, 350, 20, 350, 110).line(ink.PartLine, 3, 330, 20, 350, 20).line(ink.PartLine, 3, 330, 110, 350, 110)
	s.line(ink.Text, 6, 90, 44, 90, 86).line(ink.Text, 6, 150, 44, 150, 86).line(ink.Text, 5, 80, 65, 164, 65).dot(ink.Text, 120, 65)
	s.line(ink.Edge, 1, 164, 52, 372, 52).line(ink.Edge, 1, 164, 78, 372, 78).line(ink.Edge, 1, 372, 52, 372, 78)
	return s.arrow(200, 65, 290, 65).say(176, 96, words.T("the bolt's way out"))
}

func strutSketch() *sketch {
	s := new(sketch).line(ink.Edge, 1.5, 40, 18, 380, 18).line(ink.Text, 8, 90, 20, 96, 60).line(ink.Text, 4, 96, 60, 102, 100)
	s.line(ink.Text, 8, 240, 20, 246, 60).line(ink.Text, 4, 246, 60, 247, 70).line(ink.Edge, 1, 90, 20, 90, 110)
	s.arc(90, 20, 84, -90, -82)
	return s.say(120, 110, words.T("open; it leans")).say(262, 74, words.T("closed"))
}

func hoseSketch() *sketch {
	s := new(sketch).line(ink.Text, 3, 80, 26, 100, 80, 170, 110, 250, 104, 300, 84).dot(ink.Text, 80, 26).dot(ink.Text, 300, 84)
	return s.span(84, 24, 298, 80).say(210, 44, words.T("longest reach, clip to clip"))
}

func sensorSketch() *sketch {
	s := new(sketch).dot(ink.Text, 110, 36).line(ink.Text, 4, 110, 36, 220, 44).line(ink.Text, 3, 220, 44, 230, 110).dot(ink.Text, 220, 44).dot(ink.Text, 230, 110)
	return s.arc(220, 44, 34, 178, 278).say(250, 60, words.T("never near straight"))
}

func heldSketch() *sketch {
	s := new(sketch).line(ink.Text, 6, 210, 16, 210, 112).line(ink.Text, 3, 60, 40, 210, 40).line(ink.Text, 3, 60, 88, 210, 88)
	return s.arrow(236, 64, 236, 26).arrow(236, 64, 236, 102).say(240, 68, words.T("nothing holds it this way"))
}

func reachSketch() *sketch {
	s := new(sketch).dot(ink.Text, 70, 88).line(ink.Text, 4, 70, 88, 210, 56).line(ink.Edge, 2, 70, 88, 212, 88).dot(ink.Text, 210, 56)
	return s.arc(70, 88, 144, -4, 13).line(ink.Trouble, 3, 222, 38, 240, 38).say(250, 44, words.T("no further than this"))
}

func guessSketch() *sketch {
	s := new(sketch).dot(ink.Text, 160, 64).line(ink.Pencil, 2, 120, 34, 200, 34, 200, 94, 120, 94, 120, 34)
	return s.span(120, 108, 200, 108).say(172, 58, "?").say(208, 70, words.T("it may lie anywhere in the box"))
}

func bandSketch() *sketch {
	s := new(sketch).line(ink.Practice, 20, 120, 60, 250, 60).line(ink.Text, 5, 90, 60, 330, 60).line(ink.Press, 8, 300, 46, 300, 74)
	return s.say(120, 100, words.T("common practice")).say(290, 34, words.T("now"))
}

// sketchOf are the drawings of the readings.
var sketchOf = map[string]string{
	"pinion": "pinion", "pinionground": "pinion", "antisquat": "antisquat", "antilift": "antisquat", "rollsteer": "rollsteer", "rollcentre": "rollcentre",
	"sideshift": "sideshift", "squareness": "squareness", "steer": "steer", "shaftfront": "shaft", "shaftrear": "shaft", "shaftbearing": "shaft",
	"slip": "slip", "fluctuation": "fluctuation", "torsional": "fluctuation", "inertia": "fluctuation", "joint": "joint", "use": "joint", "forced": "forced",
	"wheelbase": "wheelbase", "gap": "gap", "spare": "gap",
}
