package card

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
	"axleloft/geometry/motion"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
)

// clocking is what the two ways of clocking a link give, of one study.
type clocking struct {
	of    *study.Study
	link  int // of the mechanism
	known bool
	study.Clocking
}

// hasJoint reports whether the held pivot is an end with a bolt.
func (c *Card) hasJoint() bool {
	_, ok := edit.EndAt(c.doc.Current(), c.of)
	return ok
}

// jointOf finds the joint of a mechanism that a pivot is, -1 where it is none.
func jointOf(m *motion.Mechanism, p document.Pivot) int {
	if m == nil {
		return -1
	}
	same := func(r job.Ref) bool {
		return r.Index == p.Index && (r.Side == p.Side || r.Side == job.Single || p.Side == job.Single && r.Side == job.Left)
	}
	for i := range m.Joints {
		k := &m.Joints[i]
		switch {
		case k.Of == motion.OnLink && p.List == document.Links:
			if far := k.Sub == 1; same(m.Links[k.Member].Ref) && far == (p.End == document.AxleEnd) {
				return i
			}
		case k.Of == motion.OnArm && p.List == document.Arms:
			sub := p.Sub
			if p.End == document.AxleEnd {
				sub += len(m.Arms[k.Member].Frame)
			}
			if same(m.Arms[k.Member].Ref) && k.Sub == sub {
				return i
			}
		case k.Of == motion.OnRocker && p.List == document.Rockers:
			sub := 2 * p.Sub
			if p.End == edit.FarEnd {
				sub++
			}
			if same(m.Rockers[k.Member].Ref) && k.Sub == sub {
				return i
			}
		}
	}
	return -1
}

const (
	jointX  = 70 // where the words of the joint's page begin
	lineOne = 1
	lineTwo = 19
)

// drawJoint draws the joint's page: how its bolt lies, its limits, and how its link is clocked.
func (c *Card) drawJoint(size fyne.Size) {
	g := &c.pool
	j := c.doc.Current()
	text, second := look.Color(ink.Text), look.Color(ink.Second)
	row := func(i int, head, one, two string, right float32) {
		y := float32(head0 + i*line)
		g.Line(look.Inset, y, size.Width-look.Inset, y, 1, look.Color(ink.Rule))
		m := brush.Measure(head, strong)
		g.Text(head, look.Inset, y+(line-m.Height)/2, strong, text)
		room := right - jointX
		if two == "" {
			g.Text(look.Shorten(one, look.Small, false, room), jointX, y+(line-18)/2, small, text)
			return
		}
		g.Text(look.Shorten(one, look.Small, false, room), jointX, y+lineOne, small, text)
		g.Text(look.Shorten(two, look.Small, false, room), jointX, y+lineTwo, small, second)
	}
	edge := size.Width - look.Inset
	end, _ := edit.EndAt(j, c.of)
	m := c.doc.Now().Mech
	at := jointOf(m, c.of)
	row(0, words.T("Bolt"), edit.BoltWords(j, c.of), words.F("%s; turn it by its grip in a view", kindWords(&end)), edge)

	right := edge
	if end.Kind != "bush" {
		w := c.clevis.MinSize()
		c.clevis.Resize(w)
		c.clevis.Move(fyne.NewPos(edge-w.Width, head0+line+(line-w.Height)/2))
		g.Put(c.clevis)
		right -= w.Width + 8
	}
	one, two := limitWords(&end)
	row(1, words.T("Limits"), one, two, right)

	head, one, two := c.clockRow(m, at, edge)
	row(2, head, one, two, edge)
}

// kindWords say how an end is held.
func kindWords(e *job.End) string {
	switch e.Kind {
	case "bush":
		return words.T("bush")
	case "ball":
		return words.T("rod end")
	case "stud":
		return words.T("ball stud")
	}
	return words.T("how it is held is not known")
}

// limitWords say how far an end may tilt and twist: by its maker, and as it is mounted between cheeks; the smaller counts.
func limitWords(e *job.End) (one, two string) {
	deg := func(v float64) string { return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64) + words.T(" deg") }
	if e.Kind == "bush" {
		one = words.T("tilt not given")
		if e.Misalignment != nil {
			one = words.F("tilts up to %s", deg(*e.Misalignment))
		}
		two = words.T("twist not given")
		if e.Torsion != nil {
			two = words.F("twists up to %s", deg(*e.Torsion))
		}
		return one, two
	}
	one = words.T("tilt not given by its maker")
	if e.Misalignment != nil {
		one = words.F("tilts %s by its maker", deg(*e.Misalignment))
	}
	if e.Clevis == nil {
		return one, words.T("its head may touch first")
	}
	mounted := e.Clevis.Limit()
	two = words.F("mounted %s", deg(mounted))
	switch {
	case e.Misalignment == nil || mounted < *e.Misalignment:
		two += words.T(": it counts")
	default:
		two += words.F("; %s counts", strings.TrimSuffix(deg(*e.Misalignment), " deg"))
	}
	return one, two
}

// clockRow puts the two ways of clocking a link as presses, each with what it gives. It tells the row's heading and, where there is nothing to
// clock, what stands in their place: how much of its limit the joint uses at the worst, and where.
func (c *Card) clockRow(m *motion.Mechanism, at int, edge float32) (head, one, two string) {
	s, _ := c.doc.Study()
	fresh := c.doc.Freshness()
	if at < 0 {
		return words.T("Use"), words.T("no figures yet"), ""
	}
	worst, where := words.T("not known: no limit is given"), ""
	if fresh.Live && at < len(s.Extents.Joints) && s.Extents.Joints[at].Known() {
		e := &s.Extents.Joints[at]
		worst, where = words.F("at most %.0f %% of its limit", 100*e.Max), s.Travels(e.MaxLeft, e.MaxRight)
	}
	if m.Joints[at].Of != motion.OnLink {
		return words.T("Use"), worst, where
	}
	if !fresh.Full {
		return words.T("Clock"), words.T("working out"), ""
	}
	c.askClock(s, m.Joints[at].Member)
	k := c.clocked
	switch {
	case k == nil || k.of != s || k.link != m.Joints[at].Member:
		return words.T("Clock"), words.T("working out"), ""
	case !k.known:
		return words.T("Use"), worst, where
	}
	lit := -1
	switch {
	case math.Abs(k.Now.Deg-k.Ride.Deg) < clockTol:
		lit = 0
	case math.Abs(k.Now.Deg-k.Midway.Deg) < clockTol:
		lit = 1
	}
	phrase := []string{words.F("At ride: %s", useWords(k.Ride.Use)), words.F("Midway: %s", useWords(k.Midway.Use))}
	if math.Abs(k.Ride.Deg-k.Midway.Deg) < clockTol { // both are one
		return words.T("Clock"), words.F("at ride is midway too: %s at most", useWords(k.Ride.Use)), ""
	}
	c.clock.Set(phrase, lit)
	w := c.clock.MinSize()
	if jointX+w.Width > edge {
		w.Width = edge - jointX
	}
	c.clock.Resize(w)
	c.clock.Move(fyne.NewPos(jointX, head0+2*line+(line-w.Height)/2))
	c.pool.Put(c.clock)
	if phrase := words.T("at the worst"); jointX+w.Width+8+look.Width(phrase, look.Small, false) <= edge {
		c.pool.Text(phrase, jointX+w.Width+8, head0+2*line+(line-18)/2, small, look.Color(ink.Second))
	}
	return words.T("Clock"), "", ""
}

// clockTol is how near two clock angles are the same, deg.
const clockTol = 0.05

func useWords(use float64) string {
	if math.IsNaN(use) {
		return words.T("not known")
	}
	return fmt.Sprintf("%.0f %%", 100*use)
}

// askClock has the two ways of clocking a link worked out, once a study and link, off the window's goroutine.
func (c *Card) askClock(s *study.Study, link int) {
	if a := c.clockAsk; a.of == s && a.link == link {
		return
	}
	c.clockAsk = clocking{of: s, link: link}
	if c.stopClock != nil {
		c.stopClock()
	}
	ctx, stop := context.WithCancel(context.Background())
	c.stopClock = stop
	c.start(func() {
		k, ok := s.Clock(ctx, link)
		if ctx.Err() != nil {
			return
		}
		c.post(func() {
			c.clocked = &clocking{of: s, link: link, known: ok, Clocking: k}
			c.Refresh()
		})
	})
}

// setClock clocks the held link at ride (0) or midway (1).
func (c *Card) setClock(i int) {
	k := c.clocked
	if !c.held || k == nil || !k.known {
		return
	}
	text := ""
	label := words.T("clock at ride: ")
	if i == 1 {
		text = strconv.FormatFloat(math.Round(k.Midway.Deg*10)/10, 'f', -1, 64)
		label = words.T("clock midway: ")
	}
	part := edit.PartOf(c.of)
	c.refuse(c.doc.Edit(label+edit.PartName(c.doc.Current(), part), "", func(j *job.Job) error { return edit.Set(j, part, "clock", text) }))
}

// refuse says on the card why something was not done.
func (c *Card) refuse(err error) {
	for i := range c.rows {
		c.rows[i].forget()
	}
	if err != nil {
		c.joint = false // the sentence stands beside the numbers
	}
	c.took(edit.X, err)
}

// The sizes asked of a rod end between cheeks, and the keys of their fields.
var clevisKeys = [...]string{"head", "headWidth", "ballWidth", "gap", "edgeRadius"}

// askClevis asks the sizes of what a rod end sits in.
func (c *Card) askClevis() {
	if c.AskMany == nil || !c.held {
		return
	}
	j := c.doc.Current()
	of := c.of
	unit := c.doc.Unit()
	end, ok := edit.EndAt(j, of)
	if !ok {
		return
	}
	show := func(v *float64) string {
		switch {
		case v == nil:
			return ""
		case unit == "in":
			return strconv.FormatFloat(math.Round(*v/measure.Inch*1000)/1000, 'f', -1, 64)
		}
		return strconv.FormatFloat(math.Round(*v*1000)/1000, 'f', -1, 64)
	}
	now := make([]string, len(clevisKeys))
	if k := end.Clevis; k != nil {
		now = []string{show(&k.Head), show(&k.HeadWidth), show(&k.BallWidth), show(k.Gap), show(k.EdgeRadius)}
	}
	labels := []string{words.F("Head, across, %s", unit), words.F("Head, width, %s", unit), words.F("Ball, width, %s", unit), words.T("Between the cheeks; empty: the ball"), words.T("Radius of the head's edges; empty: square")}
	c.AskMany(words.T("Rod end between cheeks"), labels, now, func(text []string) error { return c.setClevis(of, text) })
}

// setClevis takes the sizes as typed, as one step; all empty take the cheeks away.
func (c *Card) setClevis(of document.Pivot, text []string) error {
	j := c.doc.Current()
	key := edit.EndKey(j, of) + ".clevis."
	part := edit.PartOf(of)
	given := 0
	for i := range 3 {
		if strings.TrimSpace(text[i]) != "" {
			given++
		}
	}
	if given > 0 && given < 3 {
		return words.Error("Give the head's size across, its width and the ball's width: from the three comes how far it tilts. All empty takes the cheeks away.")
	}
	return c.doc.Edit(words.F("cheeks of %s", edit.Name(j, of)), "", func(j *job.Job) error {
		if given == 0 {
			return edit.Set(j, part, key+"head", "")
		}
		for i, k := range clevisKeys {
			if err := edit.Set(j, part, key+k, text[i]); err != nil {
				return err
			}
		}
		return nil
	})
}
