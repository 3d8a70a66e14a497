package sheets

import (
	"math"

	"axleloft/app/study"
	"axleloft/plotting/sheet"
)

// bolts is whether each bolt of which the job says what it needs can be drawn out; nil where it says it of none.
func (in *Input) bolts() []sheet.Block {
	list := in.Study.BoltsOut()
	if len(list) == 0 {
		return nil
	}
	t := sheet.Table{Small: true, Columns: []sheet.Column{{Head: "Bolt of", Strong: true}, {Head: "Drawn out"}, {Head: "At ride height"}, {Head: "At full bump"}, {Head: "At full droop"}}}
	for i := range list {
		for n := range list[i].Ways {
			w := &list[i].Ways[n]
			row := []string{"", study.BoltWord(w.Way)}
			if n == 0 {
				row[0] = list[i].Name
			}
			for k := range w.At {
				row = append(row, in.boltAt(&w.At[k]))
			}
			t.Rows = append(t.Rows, sheet.Row{Cells: row})
		}
	}
	return []sheet.Block{t, sheet.Para{Small: true, Words: "The room of its length and its head or socket, straight along the bolt from what it clamps, to every part drawn but its own member, with both wheels at that travel; elsewhere in the travel it is not looked at."}}
}

// boltAt words a bolt's way out with the axle in one place.
func (in *Input) boltAt(a *study.BoltAt) string {
	switch {
	case math.IsNaN(a.Gap):
		return "not known"
	case a.Part == "":
		return "free"
	case a.Free():
		return in.length(a.Gap) + " to spare, " + study.Lower(a.Part)
	}
	return study.Lower(a.Part) + " " + in.length(-a.Gap) + " in the way"
}
