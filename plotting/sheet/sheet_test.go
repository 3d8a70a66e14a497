package sheet

import (
	"bytes"
	"fmt"
	"image/color"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"axleloft/plotting/chart"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// example is a sheet with one of each block.
func example() Sheet {
	s := Sheet{Head: Head{Title: "Example sheet", Job: "Three-wheeled cart: one link", Date: "2026-11-26", Units: "lengths in mm, angles in deg", Sum: "a1b2c3d4",
		Inputs: "3 of 44 inputs are guesses", Sketch: true, Extra: []string{"Tighten bush bolts at ride height."}}}
	s.Blocks = append(s.Blocks,
		Heading{Words: "What is to be cut"},
		Para{Lead: "Lower left.", Words: strings.Repeat("Words that go on over more than one line, to see how they are wrapped. ", 4)},
		Para{Words: "Check it on the vehicle.", Caution: true},
		Points{"one", "two, " + strings.Repeat("longer than the first ", 8)},
		Facts{Facts: []Fact{{"Wheelbase", "2800 mm"}, {"Track", "1500 mm"}, {"Tyre, loaded", "375 mm"}, {"Height of the centre of gravity, a guess", "800 mm ±50"}}},
		Heading{Words: "Links", Minor: true},
		Table{Columns: []Column{{Head: "Link"}, {Head: "Centre to centre, mm", Right: true}, {Head: "Found", Write: true}},
			Rows: append([]Row{{Cells: []string{"lower links"}}}, Rows([]string{"Lower left", "851.2", ""}, []string{"Lower right", "851.2", ""})...)},
		Figures{Tall: 200, Figures: []Figure{
			Chart(chart.Spec{Title: "Pinion", Unit: "deg", XTitle: "both wheels, mm", Curves: []chart.Curve{{Name: "full load", X: []float64{-100, 0, 100}, Y: []float64{-1, 2, 4}, Present: true}}}, "A chart."),
			{Caption: "A box.", Draw: func(p *paper.Pen, b paper.Room) {
				p.Outline(color.Black, Thin, [2]float64{b.X0, b.Y0}, [2]float64{b.X1, b.Y0}, [2]float64{b.X1, b.Y1}, [2]float64{b.X0, b.Y1})
			}}}},
	)
	var many []Row
	for i := range 70 {
		many = append(many, Row{Cells: []string{fmt.Sprintf("row %d", i), strings.Repeat("word ", 1+i%30), fmt.Sprint(i * 17)}})
	}
	s.Blocks = append(s.Blocks, Break{}, Heading{Words: "Many rows"}, Table{Columns: []Column{{Head: "Name"}, {Head: "Words"}, {Head: "Figure", Right: true}}, Rows: many, Small: true},
		Sign{"Name", "Signature", "Date"})
	return s
}

func poppler(t *testing.T, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skip("poppler-utils is not installed")
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	require.NoError(t, err, string(out))
	return string(out)
}

func file(t *testing.T, size paper.Size, s ...Sheet) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, size, s...))
	name := filepath.Join(t.TempDir(), "sheet.pdf")
	if dir := os.Getenv("AXLELOFT_SHEETS"); dir != "" { // to look at
		name = filepath.Join(dir, "example-"+size.Name+".pdf")
	}
	require.NoError(t, os.WriteFile(name, b.Bytes(), 0o600))
	return name
}

// Read back by poppler: every page says which it is of how many, and carries the head and the caution; every row is there, in order.
func TestEveryPageHasItsHeadAndFoot(t *testing.T) {
	for _, size := range []paper.Size{paper.A4, paper.Letter} {
		name := file(t, size, example())
		pages := strings.Split(strings.TrimSuffix(poppler(t, "pdftotext", "-layout", name, "-"), "\f"), "\f")
		require.Greater(t, len(pages), 2)
		all := ""
		for i, p := range pages {
			flat := strings.Join(strings.Fields(p), " ")
			assert.Contains(t, flat, fmt.Sprintf("page %d of %d", i+1, len(pages)))
			assert.Contains(t, flat, paper.Caution)
			for _, w := range []string{"Example sheet", "Three-wheeled cart", "as drawn", "2026-11-26", "lengths in mm", "a1b2c3d4", "3 of 44 inputs are guesses", "SKETCH ONLY", "Tighten bush bolts"} {
				assert.Contains(t, flat, w)
			}
			all += flat + " "
		}
		at := 0
		for i := range 70 {
			k := regexp.MustCompile(fmt.Sprintf(`\brow %d\b`, i)).FindStringIndex(all[at:])
			require.NotNil(t, k, "row %d", i)
			at += k[0]
		}
	}
}

// Whatever blocks there are, nothing is put below the foot, and a page that is not the last has something on it.
func TestNothingFlowsOverTheFoot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s Sheet
		words := func() string {
			return strings.TrimSpace(strings.Repeat("word ", rapid.IntRange(0, 400).Draw(t, "words")))
		}
		for range rapid.IntRange(0, 30).Draw(t, "blocks") {
			switch rapid.IntRange(0, 6).Draw(t, "kind") {
			case 0:
				s.Blocks = append(s.Blocks, Heading{Words: words()})
			case 1:
				s.Blocks = append(s.Blocks, Para{Lead: "Lead.", Words: words(), Caution: rapid.Bool().Draw(t, "caution")})
			case 2:
				var rows []Row
				for range rapid.IntRange(0, 40).Draw(t, "rows") {
					rows = append(rows, Row{Cells: []string{words(), "1"}[:rapid.IntRange(1, 2).Draw(t, "cells")]})
				}
				s.Blocks = append(s.Blocks, Table{Columns: []Column{{Head: "a"}, {Head: "b", Right: true}}, Rows: rows})
			case 3:
				s.Blocks = append(s.Blocks, Figures{Tall: rapid.Float64Range(10, 3000).Draw(t, "tall"), Figures: []Figure{{Draw: func(*paper.Pen, paper.Room) {}}}})
			case 4:
				s.Blocks = append(s.Blocks, Points{words(), words()})
			case 5:
				s.Blocks = append(s.Blocks, Facts{Facts: []Fact{{words(), words()}, {"b", "c"}}})
			case 6:
				s.Blocks = append(s.Blocks, Break{})
			}
		}
		for _, g := range lay(paper.A4, &s) {
			if g.n < g.of && len(g.marks) == 0 {
				t.Fatalf("page %d of %d is empty", g.n, g.of)
			}
		}
	})
}

// The end of a long table and the room for signatures under it share a page, however many rows there are.
func TestNoPageIsLeftWithSignaturesAlone(t *testing.T) {
	for n := 1; n < 120; n++ {
		s := Sheet{Head: Head{Title: "Example sheet", Job: "Three-wheeled cart"}, Blocks: []Block{Heading{Words: "Set up by"}}}
		var rows []Row
		for i := range n {
			rows = append(rows, Row{Cells: []string{fmt.Sprint("row ", i), ""}})
		}
		s.Blocks = append(s.Blocks, Table{Columns: []Column{{Head: "At ride height"}, {Head: "Found", Write: true}}, Rows: rows}, Sign{"Name", "Date"})
		pages := Lay(paper.A4, s)
		const head, sign = 1, 1
		on := len(pages[len(pages)-1].marks)
		assert.GreaterOrEqual(t, on, head+min(n, last)+sign, "%d rows, %d pages", n, len(pages))
	}
}
