package headless

import (
	"fmt"
	"io"
	"math"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"
)

type boltsCmd struct{ common }

// Help is what --help adds.
func (*boltsCmd) Help() string {
	return "Each bolt of which the job says what it needs (\"boltOut\" of an end: its length with the head, head or socket across, what it clamps), each way it may go: the gap from the room it takes, drawn straight out along itself, " +
		"to every part but its own member, with both wheels at ride height, at full bump and at full droop; - where a part is in the way. A bolt that comes out in no place, no way, is among the findings of check. Lengths of the table are in the job's unit."
}

// boltPlaces are the three places in files.
var boltPlaces = [3]string{"ride", "bump", "droop"}

// Run writes the ways out of the bolts.
func (c *boltsCmd) Run(e *env) error {
	j, err := e.loadMovable(&c.common)
	if err != nil {
		return err
	}
	s := study.WithRange(j)
	if s.Gaps == nil {
		return fail(wrong, "%s", s.RangeNote)
	}
	list := s.BoltsOut()
	if len(list) == 0 {
		return fail(wrong, "The job says of no bolt what it needs to be drawn out. Give \"boltOut\" at an end: length, across, grip.")
	}
	err = e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return boltsCSV(w, list)
		case "json":
			return boltsJSON(w, list)
		}
		return boltsTable(w, j, c.Trial, list)
	})
	if err != nil {
		return err
	}
	return e.strict(&c.common, j, nil)
}

// boltsCSV writes a row for each bolt, way and place.
func boltsCSV(w io.Writer, list []study.BoltOut) error {
	var rows [][]string
	for i := range list {
		for n := range list[i].Ways {
			way := &list[i].Ways[n]
			for k := range way.At {
				a := &way.At[k]
				rows = append(rows, []string{plain(list[i].Name), way.Way, boltPlaces[k], number(a.Travel), number(a.Gap), plain(a.Part)})
			}
		}
	}
	return writeCSV(w, []string{"bolt", "way", "place", "travel_mm", "gap_mm", "nearest"}, rows)
}

func boltsJSON(w io.Writer, list []study.BoltOut) error {
	var t jsonText
	t.open('{')
	t.key("bolts")
	t.open('[')
	for i := range list {
		for n := range list[i].Ways {
			way := &list[i].Ways[n]
			t.line()
			t.open('{')
			t.keyStr("bolt", list[i].Name)
			t.keyStr("way", way.Way)
			for k := range way.At {
				a := &way.At[k]
				t.key(boltPlaces[k])
				t.open('{')
				t.keyNum("travel", a.Travel)
				t.keyNum("gap", a.Gap)
				t.keyStr("nearest", a.Part)
				t.close('}')
			}
			t.close('}')
		}
	}
	t.close(']')
	t.close('}')
	_, err := w.Write(append(t.b, '\n'))
	return err
}

func boltsTable(w io.Writer, j *job.Job, trial string, list []study.BoltOut) error {
	unit := unitOf(j)
	t := table{heads: [][]string{{"bolt of", "drawn out", "ride height", "nearest", "full bump", "nearest", "full droop", "nearest"}, {"", "", unit, "", unit, "", unit, ""}}, left: []bool{true, true, false, true, false, true, false, true}}
	for i := range list {
		for n := range list[i].Ways {
			way := &list[i].Ways[n]
			row := []string{list[i].Name, study.BoltWord(way.Way)}
			for k := range way.At {
				a := &way.At[k]
				gap := "free"
				switch {
				case math.IsNaN(a.Gap):
					gap = ""
				case !math.IsInf(a.Gap, 0):
					gap = shown(a.Gap, unit)
				}
				row = append(row, gap, a.Part)
			}
			t.rows = append(t.rows, row)
		}
	}
	fmt.Fprintln(w, heading(j, trial))
	if err := t.write(w); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\nBelow 0 the part is in the way by so much. One place where it comes out is enough.\n%s\n", paper.Caution)
	return err
}
