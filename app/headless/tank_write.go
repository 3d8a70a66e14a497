package headless

import (
	"fmt"
	"io"
	"math"
	"strings"

	"axleloft/geometry/job"
	"axleloft/geometry/vessel"
	"axleloft/plotting/paper"
)

// tankCaution stands on every tank page.
const tankCaution = "Plan a physical stop or guard. Never cut or weld a tank that has held fuel before a specialist has made it gas-free."

// volume words litres with both gallons.
func volume(litres float64) string {
	return fmt.Sprintf("%s L (%s US gal, %s imperial gal)", fixed(litres, 1), fixed(litres/vessel.USGallon, 1), fixed(litres/vessel.ImperialGallon, 1))
}

func (k *tankWork) writer(c *tankCmd, j *job.Job) func(io.Writer) error {
	return func(w io.Writer) error {
		switch {
		case c.Format == "json":
			return k.json(w, c, j)
		case c.Format == "csv" && len(k.sections) > 0:
			return k.sectionsCSV(w)
		case c.Format == "csv" && c.Cuts:
			return k.cutsCSV(w)
		case c.Format == "csv":
			return k.dipCSV(w)
		}
		return k.table(w, c, j)
	}
}

func (k *tankWork) dipCSV(w io.Writer) error {
	var rows [][]string
	for _, l := range k.dip {
		rows = append(rows, []string{number(l.Depth), number(l.Before), number(l.After)})
	}
	return writeCSV(w, []string{"depth_mm", "before_l", "after_l"}, rows)
}

func (k *tankWork) cutsCSV(w io.Writer) error {
	var rows [][]string
	put := func(place string, list []vessel.Cut) {
		for i := range list {
			rows = append(rows, []string{place, list[i].Kind, plain(list[i].Words), number(list[i].Litres), fmt.Sprint(list[i].Folds)})
		}
	}
	put("chosen", k.plan)
	put("all", k.all)
	for i, list := range k.apart {
		put(fmt.Sprint("place ", i+1), list)
	}
	return writeCSV(w, []string{"of", "kind", "cut", "lost_l", "faces"}, rows)
}

func (k *tankWork) sectionsCSV(w io.Writer) error {
	var rows [][]string
	for _, s := range k.sections {
		for n, loop := range s.Loops {
			for _, p := range loop {
				rows = append(rows, []string{"xyz"[s.Axis : s.Axis+1], number(s.At), fmt.Sprint(n + 1), number(p.X), number(p.Y), number(p.Z)})
			}
		}
	}
	return writeCSV(w, []string{"axis", "station_mm", "loop", "x_mm", "y_mm", "z_mm"}, rows)
}

func (k *tankWork) json(w io.Writer, c *tankCmd, j *job.Job) error {
	var t jsonText
	t.open('{')
	t.keyStr("job", j.Title)
	t.keyStr("trial", c.Trial)
	t.keyStr("vessel", k.v.Name)
	t.keyNum("litres", k.v.Litres)
	t.keyNum("usGallons", k.v.Litres/vessel.USGallon)
	t.keyNum("imperialGallons", k.v.Litres/vessel.ImperialGallon)
	t.line()
	t.key("keepOut")
	t.open('{')
	t.keyNum("atLeast", k.keep.Least)
	t.keyNum("atMost", k.keep.Most)
	t.keyBool("proved", k.keep.Proved)
	t.key("by")
	t.open('[')
	for _, p := range k.keep.Parts {
		t.str(k.s.Gaps.Parts[p].Name)
	}
	t.close(']')
	t.close('}')
	t.line()
	t.key("pairs")
	t.open('[')
	for _, i := range k.pairs {
		gapJSON(&t, k.s, i, &k.s.Smallest[i])
	}
	t.close(']')
	t.line()
	t.key("chosen")
	t.open('{')
	t.keyNum("lost", k.v.Lost(k.plan))
	t.keyNum("left", k.v.Litres-k.v.Lost(k.plan))
	t.key("cuts")
	cutsJSON(&t, k.plan)
	t.close('}')
	t.line()
	t.key("cuts")
	cutsJSON(&t, k.all)
	t.line()
	t.key("apart")
	t.open('[')
	for _, list := range k.apart {
		cutsJSON(&t, list)
	}
	t.close(']')
	t.line()
	k.useJSON(&t)
	t.line()
	t.keyNum("tiltX", c.TiltX)
	t.keyNum("tiltY", c.TiltY)
	t.key("dip")
	t.open('[')
	for _, l := range k.dip {
		t.open('{')
		t.keyNum("depth", l.Depth)
		t.keyNum("before", l.Before)
		t.keyNum("after", l.After)
		t.close('}')
	}
	t.close(']')
	t.line()
	t.key("sections")
	t.open('[')
	for _, s := range k.sections {
		t.line()
		t.open('{')
		t.keyStr("axis", "xyz"[s.Axis:s.Axis+1])
		t.keyNum("station", s.At)
		t.key("loops")
		t.open('[')
		for _, loop := range s.Loops {
			t.open('[')
			for _, p := range loop {
				t.open('[')
				for _, v := range vec(p) {
					t.num(v)
				}
				t.close(']')
			}
			t.close(']')
		}
		t.close(']')
		t.close('}')
	}
	t.close(']')
	t.line()
	t.keyStr("caution", tankCaution)
	t.close('}')
	_, err := w.Write(append(t.b, '\n'))
	return err
}

func (k *tankWork) useJSON(t *jsonText) {
	t.key("usable")
	if !k.useKnown {
		t.raw("null")
		return
	}
	t.open('{')
	t.keyNum("before", k.use.Before)
	t.keyNum("after", k.use.After)
	for _, list := range []struct {
		key string
		of  []string
	}{{"given", k.use.Given}, {"inCut", k.use.Cut}} {
		t.key(list.key)
		t.open('[')
		for _, s := range list.of {
			t.str(s)
		}
		t.close(']')
	}
	t.close('}')
}

func cutsJSON(t *jsonText, list []vessel.Cut) {
	t.open('[')
	for i := range list {
		c := &list[i]
		t.line()
		t.open('{')
		t.keyStr("kind", c.Kind)
		t.keyStr("words", c.Words)
		t.keyNum("lost", c.Litres)
		t.keyNum("faces", float64(c.Folds))
		t.key("sizes")
		t.open('[')
		for _, s := range c.Sizes {
			t.open('{')
			t.keyStr("face", s.Face)
			t.keyNum("from", s.From)
			t.keyNum("to", s.To)
			t.close('}')
		}
		t.close(']')
		t.close('}')
	}
	t.close(']')
}

func (k *tankWork) table(w io.Writer, c *tankCmd, j *job.Job) error {
	var b strings.Builder
	unit := unitOf(j)
	fmt.Fprintf(&b, "%s\n%s: %s gross, from its outside shape.\n", heading(j, c.Trial), k.v.Name, volume(k.v.Litres))
	k.gapWords(&b, unit)
	k.keepWords(&b)
	if len(k.plan) > 0 {
		lost := k.v.Lost(k.plan)
		head := "The simple cut that loses least"
		if len(k.plan) > 1 {
			head = "Places apart, a simple cut for each"
		}
		fmt.Fprintf(&b, "\n%s (whole mm in from the tank's outermost faces; all that may be taken lies within):\n", head)
		for i := range k.plan {
			fmt.Fprintf(&b, "  %s. Loses %s L.\n", k.plan[i].Words, fixed(k.plan[i].Litres, 1))
		}
		fmt.Fprintf(&b, "  Loses %s in all, leaves %s.\n", volume(lost), volume(k.v.Litres-lost))
		k.others(&b)
	}
	if k.v.Flat && k.keep.Most > 0 && len(k.plan) == 0 {
		fmt.Fprintln(&b, "\nNo simple cut clears it and leaves anything: move the tank, or what comes near it.")
	}
	if k.useKnown {
		fmt.Fprintf(&b, "\nUsable by %s: %s before, %s after the cut.\n", strings.Join(k.use.Given, ", "), volume(k.use.Before), volume(k.use.After))
		for _, name := range k.use.Cut {
			fmt.Fprintf(&b, "The %s lies in the cut: it must go elsewhere.\n", name)
		}
	}
	for _, s := range k.sections {
		fmt.Fprintf(&b, "\nSection of the keep-out at %c = %s mm, within the tank's outer sizes: ", "XYZ"[s.Axis], fixed(s.At, 1))
		if len(s.Loops) == 0 {
			fmt.Fprintln(&b, "nothing.")
			continue
		}
		fmt.Fprintf(&b, "%s; --format csv has its corners.\n", outlines(len(s.Loops)))
	}
	switch {
	case !k.v.Flat:
		fmt.Fprintln(&b, "\nCuts and dip table are worked out for tanks with flat faces only.")
	default:
		fmt.Fprintf(&b, "\nDip table, tilted %s deg about X (left side up), %s deg about Y (nose down):\n", fixed(c.TiltX, 1), fixed(c.TiltY, 1))
		t := table{heads: [][]string{{"depth", "before", "after"}, {unit, "L", "L"}}, left: make([]bool, 3)}
		for _, l := range k.dip {
			t.rows = append(t.rows, []string{shown(l.Depth, unit), fixed(l.Before, 1), fixed(l.After, 1)})
		}
		if err := t.write(&b); err != nil {
			return err
		}
	}
	fmt.Fprintf(&b, "\n%s\n%s\n%s\n", tankCaution, onlyDrawn, paper.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

// gapWords tell the tightest pairs.
func (k *tankWork) gapWords(b *strings.Builder, unit string) {
	for _, i := range k.pairs {
		g := &k.s.Smallest[i]
		wanted := k.s.Gaps.Pairs[i].Required
		if g.Gap.Gap >= wanted {
			break
		}
		a, other := k.s.PairNames(i)
		if a == k.v.Name {
			a = other
		}
		what := "comes within " + shown(g.Gap.Gap, unit) + " " + unit
		if g.Gap.Gap < 0 {
			what = "hits by " + shown(-g.Gap.Gap, unit) + " " + unit
		}
		fmt.Fprintf(b, "%s %s (%s %s wanted) at %s.\n", a, what, shown(wanted, unit), unit, k.s.Travels(g.Left, g.Right))
	}
}

// keepWords tell what the keep-out takes. The gap is master: litres are no measure of a touch.
func (k *tankWork) keepWords(b *strings.Builder) {
	how := "proved over the whole range, between positions too"
	if !k.keep.Proved {
		how = "at the positions tried"
	}
	if k.keep.Most == 0 {
		fmt.Fprintf(b, "Nothing that moves comes nearer to it than the gap wanted, %s.\n", how)
	} else {
		var by []string
		for _, p := range k.keep.Parts {
			by = append(by, k.s.Gaps.Parts[p].Name)
		}
		fmt.Fprintf(b, "The keep-out of the gap wanted takes from %s to %s L of it (%s), %s.\n",
			fixed(math.Floor(k.keep.Least*100)/100, 2), fixed(math.Ceil(k.keep.Most*100)/100, 2), strings.Join(by, ", "), how)
	}
	for _, i := range k.pairs {
		if k.s.Smallest[i].Gap.Gap < 0 {
			fmt.Fprintln(b, "It is the gap that counts, not the litres: what takes 0.0 L can still touch.")
			return
		}
	}
}

// mostTold is how many other cuts a table lists, faces cut back whole aside.
const mostTold = 5

// others are the cuts not chosen, those of the whole keep-out in one.
func (k *tankWork) others(b *strings.Builder) {
	fmt.Fprintln(b, "Others, each for the whole keep-out:")
	told := 0
	for i := range k.all {
		if len(k.plan) == 1 && k.all[i].Words == k.plan[0].Words {
			continue
		}
		if told++; told > mostTold && k.all[i].Kind != "face" {
			continue // csv and json have them all
		}
		fmt.Fprintf(b, "  %s. Loses %s L.\n", k.all[i].Words, fixed(k.all[i].Litres, 1))
	}
}

func outlines(n int) string {
	if n == 1 {
		return "one outline"
	}
	return fmt.Sprint(n, " outlines")
}
