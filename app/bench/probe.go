package bench

import (
	"bufio"
	"encoding/json"
	"fmt"
	"net"
	"os"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/view"

	"fyne.io/fyne/v2"
)

// seen is what whoever looks at the window from outside is told.
type seen struct {
	Frame    int       `json:"frame"` // counts refreshes of the panels
	Title    string    `json:"title"`
	Left     float64   `json:"left"`
	Right    float64   `json:"right"`
	Pad      []string  `json:"pad"`              // words on the travel pad
	Card     []string  `json:"card,omitempty"`   // words on the pivot card
	Pivot    string    `json:"pivot,omitempty"`  // the held one
	At       []float64 `json:"at,omitempty"`     // its place, mm
	Length   float64   `json:"length,omitempty"` // of its link, mm
	Trial    string    `json:"trial"`
	Load     string    `json:"load"`
	Height   string    `json:"height"`
	Unit     string    `json:"unit"`
	Tight    string    `json:"tight"`
	Readings []string  `json:"readings"`
	Findings []string  `json:"findings"`
	Checked  string    `json:"checked"`
	Undo     string    `json:"undo"`
	Redo     string    `json:"redo"`
	Measured string    `json:"measured"`
	Dirty    bool      `json:"dirty"`
	Demo     bool      `json:"demo"`
	File     string    `json:"file"`
	Saved    string    `json:"saved"`
	Scale    string    `json:"scale"`
	Live     bool      `json:"live"` // the figures are of the geometry as it stands
	Full     bool      `json:"full"`
	Drawer   string    `json:"drawer"`
	Lines    []string  `json:"lines,omitempty"`  // of the open drawer
	Asked    []string  `json:"asked,omitempty"`  // titles of what is asked, the last on top
	Told     []string  `json:"told,omitempty"`   // what these say
	Menu     []string  `json:"menu,omitempty"`   // entries of the open menu
	Choosing bool      `json:"choosing"`         // a file is being chosen
	Hooked   []string  `json:"hooked,omitempty"` // where the tapes are hooked, while a pivot is placed by them
	Focus    string    `json:"focus"`
	Dark     bool      `json:"dark"`
	Width    float32   `json:"width"`
	Tall     float32   `json:"tall"`
	Overlays int       `json:"overlays"`
}

// listen answers one question a line on a unix socket: "state", "where NAME", "pace" (what the window's goroutine did since the last such
// question) and "profile FILE" (CPU profile till the next "profile"). Nothing of the job can be changed through it.
func (b *Bench) listen(path string) {
	_ = os.Remove(path)
	l, err := net.Listen("unix", path)
	if err != nil {
		fmt.Fprintln(os.Stderr, "axleloft: no probe:", err)
		return
	}
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			go b.answer(c)
		}
	}()
}

func (b *Bench) answer(c net.Conn) {
	defer c.Close()
	in := bufio.NewScanner(c)
	for in.Scan() {
		line := strings.TrimSpace(in.Text())
		var out any
		fyne.DoAndWait(func() {
			brush.CatchUp()
			if name, ok := strings.CutPrefix(line, "where "); ok {
				if at, ok := b.where(name); ok {
					out = map[string]any{"x": at.X, "y": at.Y}
				} else {
					out = map[string]string{"error": "no " + name}
				}
				return
			}
			if line == "pace" {
				out = b.paceSoFar()
				return
			}
			if file, ok := strings.CutPrefix(line, "profile"); ok {
				out = map[string]string{}
				if err := profile(strings.TrimSpace(file)); err != nil {
					out = map[string]string{"error": err.Error()}
				}
				return
			}
			out = b.state()
		})
		data, err := json.Marshal(out)
		if err != nil {
			data = []byte(`{"error":"` + err.Error() + `"}`)
		}
		if _, err := c.Write(append(data, '\n')); err != nil {
			return
		}
	}
}

func (b *Bench) state() seen {
	d := b.doc
	s := seen{Frame: b.frames, Title: b.win.Title(), Trial: d.Trial(), Unit: d.Unit(), Tight: b.tight.Text(), Readings: b.readings.Texts(), Findings: b.findings.Texts(),
		Checked: b.findings.Checked(), Measured: d.Measured().String(), Dirty: d.Dirty(), Demo: d.IsDemo(), File: d.File(), Saved: b.foot.Saved(), Scale: b.foot.Scale(),
		Drawer: b.open.String(), Dark: look.Dark()}
	if p := d.Position(); p != nil {
		s.Left, s.Right = p.Pose.Left, p.Pose.Right
	}
	j := d.Current()
	s.Pad = b.pad.Texts()
	if p, ok := d.Held(); ok {
		s.Card = b.card.Texts()
		s.Pivot = edit.Name(j, p)
		if at, ok := edit.At(j, p); ok {
			s.At = []float64{at.X, at.Y, at.Z}
		}
		if p.List == edit.Links {
			s.Length = edit.LinkLength(j, p.Index)
		}
	}
	if i := d.Load(); i < len(j.Vehicle.Loads) {
		s.Load = j.Vehicle.Loads[i].Name
	}
	i, words := d.Standing()
	s.Height = words
	if i >= 0 && i < len(j.Vehicle.Heights) {
		s.Height = j.Vehicle.Heights[i].Name
	}
	s.Undo, _ = d.CanUndo()
	s.Redo, _ = d.CanRedo()
	f := d.Freshness()
	s.Live, s.Full = f.Live, f.Full
	if x := b.drawers[b.open]; x != nil {
		s.Lines = x.Lines()
	}
	for _, x := range b.boxes {
		s.Asked = append(s.Asked, x.title)
		s.Told = append(s.Told, x.words)
	}
	if b.tapes.IsOpen() {
		s.Hooked = b.tapes.Places()
	}
	c := b.win.Canvas()
	if o := c.Focused(); o != nil {
		s.Focus = fmt.Sprintf("%T", o)
	}
	s.Menu, s.Choosing = menuWords(c), b.choosing != nil
	s.Width, s.Tall = c.Size().Width, c.Size().Height
	s.Overlays = len(c.Overlays().List())
	return s
}

// where is the middle of a named thing in window pixels: "button Undo", "height Ride", "load Full load", "tyre left", "pad ride",
// "pivot Panhard rod, frame end" (an optional view in front: "plan pivot ..."), "card X", "reading Pinion", "field Outside", "answer OK".
func (b *Bench) where(name string) (fyne.Position, bool) {
	at, ok := b.find(name)
	if !ok {
		return at, false
	}
	k := b.win.Canvas().Scale()
	return fyne.NewPos(at.X*k, at.Y*k), true
}

func (b *Bench) find(name string) (fyne.Position, bool) {
	driver := fyne.CurrentApp().Driver()
	inside := func(o fyne.CanvasObject, p fyne.Position) (fyne.Position, bool) {
		return driver.AbsolutePositionForObject(o).Add(p), true
	}
	middle := func(o fyne.CanvasObject) (fyne.Position, bool) {
		if o == nil || !o.Visible() {
			return fyne.Position{}, false
		}
		return inside(o, fyne.NewPos(o.Size().Width/2, o.Size().Height/2))
	}
	kind, rest, _ := strings.Cut(name, " ")
	for i, v := range []string{"side", "rear", "plan"} {
		if kind == v {
			if rest == "" {
				return middle(b.views[i])
			}
			if p, ok := b.views[i].Where(thing(rest)); ok && b.views[i].Visible() {
				return inside(b.views[i], p)
			}
			return fyne.Position{}, false
		}
	}
	switch kind {
	case "button":
		for _, o := range b.buttons() {
			if o.Text() == rest || strings.HasPrefix(o.Text(), rest+":") || strings.HasPrefix(o.Text(), rest+" ") && rest == "measured" {
				return middle(o)
			}
		}
	case "height", "load":
		s := b.top.Heights
		if kind == "load" {
			s = b.top.Loads
		}
		for i, n := range s.Names() {
			if strings.EqualFold(n, rest) && s.Visible() {
				return inside(s, s.Centre(i))
			}
		}
	case "pad":
		if rest == "ride" {
			rest = "Ride"
		}
		if p, ok := b.pad.Where(rest); ok && b.pad.Visible() {
			return inside(b.pad, p)
		}
	case "tapes":
		if b.tapes.IsOpen() {
			if o := b.tapes.Named(rest); o != nil {
				return middle(o)
			}
		}
	case "card":
		if p, ok := b.card.Where(rest); ok {
			return inside(b.card, p)
		}
	case "reading":
		return middle(b.readings.Row(rest))
	case "field":
		if x := b.drawers[b.open]; x != nil {
			return middle(x.Named(rest))
		}
	case "drawer":
		if x := b.drawers[b.open]; x != nil {
			return middle(x.Named(rest))
		}
	case "answer":
		if n := len(b.boxes); n > 0 {
			for _, o := range b.boxes[n-1].button {
				if o.Text() == rest {
					return middle(o)
				}
			}
		}
	case "ask":
		var i int
		if n := len(b.boxes); n > 0 {
			if _, err := fmt.Sscan(rest, &i); err == nil && i >= 0 && i < len(b.boxes[n-1].fields) {
				return middle(b.boxes[n-1].fields[i])
			}
		}
	case "pivot", "tyre":
		for _, p := range []view.Plane{view.Side, view.Rear, view.Plan} {
			if at, ok := b.eye.Where(p, thing(name)); ok && b.views[p].Visible() && at.X >= 0 && at.Y >= 0 && at.X < b.views[p].Size().Width && at.Y < b.views[p].Size().Height {
				return inside(b.views[p], at)
			}
		}
	}
	return fyne.Position{}, false
}

// thing is what a view calls a pivot ("pivot NAME") or a tyre ("tyre left").
func thing(name string) string {
	if side, ok := strings.CutPrefix(name, "tyre "); ok {
		return "Tyre " + side
	}
	return strings.TrimPrefix(name, "pivot ")
}

// buttons are the buttons of the bars and of the open drawer.
func (b *Bench) buttons() []*look.Button {
	out := []*look.Button{b.top.Job, b.top.Trial, b.top.Unit, b.top.Undo, b.top.Redo, b.top.Export, b.top.Counted, b.tight.GoTo, b.tight.Start, b.tries.Close, b.foot.More, b.foot.Fit, b.foot.FitAll, b.foot.Home}
	for _, d := range b.foot.Drawers {
		out = append(out, d)
	}
	return out
}
