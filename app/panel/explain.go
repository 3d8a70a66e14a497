package panel

import (
	"strings"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// findingKind explains a kind of finding: the beginning of its key, what it is with its ground, what moves it, and its drawing.
type findingKind struct {
	key, what, moves, sketch string
}

// findingKinds are tried in turn: longer beginnings stand before shorter ones.
var findingKinds = []findingKind{
	{"gap/", words.Mark("The smallest distance between the surfaces of two parts over the whole travel, crossed up included. Below 0 they overlap; below the gap wanted it is tight."),
		words.Mark("Move a pivot, cut or move the part in the way, or stop the travel earlier. The gap wanted is yours: usual are 25 mm to parts in the way, 40 to a tyre, 12 between links (common practice, no source)."), "gap"},
	{"shaft joint/", words.Mark("A driveshaft joint bends as far as its limit, or further. It is the true bend in space, at the worst place of the travel."),
		words.Mark("Height of the output, pinion angle, a longer shaft, or less droop."), "shaft"},
	{"joint/", words.Mark("A bush or rod end is close to its limit of tilt or twist, or past it, at the worst place of the travel. Past its limit it binds: metal meets metal."),
		words.Mark("A longer link, another direction of its bolt, another kind of joint, or less travel. Tighten bush bolts at ride height."), "joint"},
	{"bolt out/", words.Mark("A bolt that cannot be drawn out along itself, neither at ride height nor at full bump or full droop: something stands where it, its head or the socket has to pass. One that never came out cannot have gone in either."),
		words.Mark("Turn the bolt round or another way, a shorter bolt, or move what stands in its way; or fit it before that part goes in, and set this aside with the reason."), "bolt out"},
	{"joint limits", words.Mark("No limit of tilt or twist is given for some joints, so nobody knows whether they bind. It is not 0 and not enough: it is not known."),
		words.Mark("Type the maker's limits at the link's ends under Parts."), "guess"},
	{"slip/", words.Mark("The driveshaft's spline goes as far in or out as it can, or further. The extremes can lie inside the travel, not at its ends."),
		words.Mark("The shaft's length, where the slip stands at ride, and how the pinion joint moves fore and aft."), "slip"},
	{"line/", words.Mark("How far a hose, loom or breather has to reach between its two clips. Common practice is a tenth more length than its longest reach."),
		words.Mark("Move a clip nearer to what the axle turns about, or fit a longer one. Check with the wheels on."), "hose"},
	{"strut", words.Mark("A strut is closed or fully out before the stop or strap that should end the travel. The strut must not be the stop."),
		words.Mark("A taller stop, a shorter strap, or the strut's mounts."), "strut"},
	{"tilt/", words.Mark("How far a strut's end turns from where it stands at ride. Past what the end allows, it is bent."),
		words.Mark("Mounts that let the strut stand more square to its swing, or an end that tilts further."), "strut"},
	{"face/", words.Mark("The stop lands beside its pad when the axle comes up. It then carries on an edge."),
		words.Mark("Move the stop or the pad to where they meet, or make the pad wider."), "strut"},
	{"no load", words.Mark("No load is given, so there is no centre of gravity and no anti-squat. The links' own figures stand without one."),
		words.Mark("Front and rear kilograms will do: under Parts, or on the job card."), "guess"},
	{"no ", words.Mark("Nothing but the struts ends the travel that way. A strut that is the stop is hammered."),
		words.Mark("Add bump stops and limit straps under Parts."), "strut"},
	{"height", words.Mark("A height the driver can choose lies outside the travel. The axle cannot get there."),
		words.Mark("Struts, stops and straps, or the height itself."), "strut"},
	{"range", words.Mark("Nothing that is given bounds the travel. Without bounds there is no worst place to look for."),
		words.Mark("Give struts a closed and an open length, or enter the travel."), "reach"},
	{"links end", words.Mark("The links themselves stop the axle before a strut or a stop does: they are in line with their pivots. Figures end there."),
		words.Mark("Longer links, or pivots that do not come into line within the travel."), "reach"},
	{"held", words.Mark("The links hold the axle poorly in one direction: a little give in the bushes lets it move far. Good layouts are well above 0.1 of the measure used, 0.2 to 0.3."),
		words.Mark("Spread the links: more angle between them, more height between uppers and lowers."), "held"},
	{"layout", words.Mark("The links leave the axle free, or fight so that it cannot be settled. There are no figures till then."),
		words.Mark("Add what is missing: the sentence names the motion that is free."), "held"},
	{"forced", words.Mark("There are more links than hold the axle, so away from ride height they fight: only the bushes give way. The figures are how far, and how hard."),
		words.Mark("Links that swing on like arcs, softer bushes, or one link fewer."), "forced"},
	{"sensor", words.Mark("A height sensor's lever and rod come near a straight line, out of reach or past the lever's swing. Near straight it may flip over."),
		words.Mark("A longer lever or rod, or another place for its far end."), "sensor"},
	{"file/", words.Mark("A part's file cannot be read, so the part is left out of every gap. Nothing of it is checked."), words.Mark("Put the file beside the job, or choose another."), "guess"},
	{"lean/", words.Mark("How far a strut leans from upright at the worst place of the travel. The more it leans the less of its stroke and force the wheel gets."),
		words.Mark("Mounts more nearly one over the other."), "strut"},
	{"end tilt/", words.Mark("How far a strut's end turns from where it stands at ride. Small bushes take little of it."),
		words.Mark("Mounts that let the strut stand more square to its swing, or ends that tilt further."), "strut"},
	{"triangulation", words.Mark("The angle the pairs of links make in plan: it is what keeps the axle from moving sideways without a rod across. The flatter, the less it holds."),
		words.Mark("Bring the frame ends or the axle ends of a pair closer together."), "held"},
	{"rollsteer", words.Mark("Roll steer lies outside common practice at some height, or changes from one way to the other. Toward oversteer the line the axle rolls about rises forward."),
		words.Mark("Height of the links' frame ends, lowers first, and of the Panhard rod."), "rollsteer"},
}

// outsideOf are the readings that findings outside common practice are of, by the beginning of their key.
var outsideOf = [][2]string{{"antisquat/", "antisquat"}, {"shift", "sideshift"}, {"square", "squareness"}, {"pinion", "pinion"}, {words.Mark("slip left"), "slip"}}

// kindWords are the two sentences of the five kinds, where the key says no more.
var kindWords = map[study.Kind]findingKind{
	study.Hits:     findingKinds[0],
	study.Tight:    findingKinds[0],
	study.RunsOut:  {"", words.Mark("Something is at its end before the travel is: a strut, a joint, a spline, the links. The place it happens is told."), words.Mark("What ends too early, or the travel."), "reach"},
	study.NotKnown: {"", words.Mark("This rests on a number nobody has measured or given. Till then the answer is not known, and is not shown as good."), words.Mark("Measure it, or type what the maker gives."), "guess"},
	study.Outside:  {"", words.Mark("A figure lies outside what the trade usually does. It is no rule: it is your call, and the engineer's."), words.Mark("See the reading of the same name: a press on it says what moves it."), "band"},
}

// DefineFinding is what a finding is.
func DefineFinding(f *study.Finding, d *document.Document) Definition {
	k := kindWords[f.Kind]
	for _, x := range findingKinds {
		if strings.HasPrefix(f.Key, x.key) {
			k = x
			break
		}
	}
	for _, x := range outsideOf {
		if strings.HasPrefix(f.Key, x[0]) {
			r := definitions[x[1]]
			k = findingKind{what: words.T(r.what) + " " + words.T(r.sign), moves: r.moves, sketch: sketchOf[x[1]]}
		}
	}
	def := Definition{Title: f.What, Sketch: k.sketch}
	def.add(words.T("Here"), f.Sentence)
	def.add(words.T("What it is"), words.T(k.what))
	if s, _ := d.Study(); f.Pair >= 0 {
		def.addRests(s, f.Pair)
	}
	if f.Kind == study.Outside {
		def.add(words.T("Common practice"), words.T(kindWords[study.Outside].what))
	}
	def.add(words.T("What moves it"), words.T(k.moves))
	def.add(words.T("Inputs"), guessWords(d))
	return def
}

// defineRow is what a row of the table of heights is.
func defineRow(r *study.HeightRow, d *document.Document) Definition {
	key := r.Key
	if key == "use" {
		key = "joint"
	}
	if list := Readings(d); key != "gap" {
		for i := range list {
			if list[i].Key == key {
				return Define(&list[i], d)
			}
		}
	}
	def := Definition{Title: r.Title, Sketch: "gap"}
	def.add(words.T("What it is"), words.T(findingKinds[0].what))
	def.add(words.T("What moves it"), words.T(findingKinds[0].moves))
	def.add(words.T("Inputs"), guessWords(d))
	return def
}

// chartOfReading are charts that draw what a reading of another name says, chartOfFinding those that draw what a kind of finding is about.
var (
	chartOfReading = map[string]string{"joints": "shaftfront", "shaftacc": "torsional", "use": "joint", "stretch": "forced", "force": "forced"}
	chartOfFinding = map[string]string{"struts": "strut", "lines": "line/", "sensors": "sensor", "gaps": "gap/"}
)

// onChart is how a chart is read.
const onChart = "The upright line is where the axle stands: the arrows move it, and the axle with it. A line for each load or part, the present load drawn wide; a grey band is common practice; long dashes with two dots are a pencil line."

// defineChart is what a chart draws.
func defineChart(key string, d *document.Document) Definition {
	c := chartOf(key)
	def := Definition{Title: c.Title}
	if of, ok := chartOfFinding[key]; ok {
		for _, k := range findingKinds {
			if k.key == of {
				def.Sketch = k.sketch
				def.add(words.T("What it is"), words.T(k.what))
				def.add(words.T("What moves it"), words.T(k.moves))
			}
		}
	} else {
		if of, ok := chartOfReading[key]; ok {
			key = of
		}
		x := definitions[key]
		def.Sketch = sketchOf[key]
		def.add(words.T("What it is"), words.T(x.what))
		def.add(words.T("Sign"), words.T(x.sign))
		if x.ground {
			def.add(words.T("Ground"), groundWords(d.Current()))
		}
		def.add(words.T("What moves it"), words.T(x.moves))
		if x.practice != "" {
			def.add(words.T("Common practice"), words.F("%s No rule, your call.", words.T(x.practice)))
		}
	}
	def.add(words.T("On the chart"), words.T(onChart))
	def.add(words.T("Inputs"), guessWords(d))
	return def
}

func guessWords(d *document.Document) string {
	c := d.Measured()
	return words.F("%d of the %d numbers of this job are still guesses.", c.Total-c.Known, c.Total)
}

// Explained is the explanation of what has the keys; ok is false where it has none of its own.
func Explained(o fyne.CanvasObject, d *document.Document) (def Definition, ok bool) {
	switch x := o.(type) {
	case *readingRow:
		return Define(&x.r, d), true
	case *findingRow:
		return DefineFinding(&x.f, d), true
	case *heightGrid:
		if r := x.row(); r != nil && sketchOf[r.Key] != "" {
			return defineRow(r, d), true
		}
	case *pane:
		return defineChart(x.key(), d), true
	case *gapList:
		if x.at < len(x.g.rows) && x.g.rows[x.at].kind == pairRow {
			return definePair(&x.g.rows[x.at], d), true
		}
	}
	return Definition{}, false
}

func (def *Definition) add(heading, text string) {
	if text != "" {
		def.Lines = append(def.Lines, [2]string{heading, text})
	}
}

// Page is the definition to read, with its drawing.
func (def *Definition) Page() fyne.CanvasObject {
	page := container.New(&look.Stack{Gap: 6})
	if f := sketches[def.Sketch]; f != nil {
		page.Add(newSketch(f()))
	}
	for _, l := range def.Lines {
		page.Add(look.NewPara(l[0]+":", l[1], ink.Text))
	}
	return page
}
