package sheets

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// demos are the jobs the sheets are made of.
var demos = []string{"orchard-sprayer", "rescue-tender", "survey-wagon"}

// input is a demo worked out, and set against nothing.
func input(t *testing.T, demo string, change func(*job.Job)) *Input {
	t.Helper()
	file := assets.Demo(demo)
	j, err := job.Read(bytes.NewReader(file))
	require.NoError(t, err)
	if change != nil {
		change(j)
	}
	s := study.New(context.Background(), j, study.Full)
	require.NotNil(t, s.Mech, s.Refusal)
	return &Input{Study: s, Date: "2026-11-26", Sum: Sum(file), Size: paper.A4}
}

// pages are the words of a sheet's pages, read back by poppler.
func pages(t *testing.T, key string, in *Input) []string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("poppler-utils is not installed")
	}
	r, ok := ReaderOf(key)
	require.True(t, ok)
	s, err := Make(context.Background(), r, in)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, sheet.Write(&b, in.Size, s))
	name := filepath.Join(t.TempDir(), key+".pdf")
	require.NoError(t, os.WriteFile(name, b.Bytes(), 0o600))
	out, err := exec.Command(tool, "-layout", name, "-").CombinedOutput()
	require.NoError(t, err, string(out))
	return strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
}

// flat is a text with its white space made single blanks.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// never are words no sheet may say of a vehicle.
var never = []string{"safe", "legal", "approved", "compliant", "guaranteed"}

// Every sheet of every demo, in mm and in inches: its pages carry what each page must, no figure is a NaN, and no word is one never said.
func TestEverySheetOfEveryDemo(t *testing.T) {
	for _, demo := range demos {
		for _, unit := range []string{"mm", "in"} {
			in := input(t, demo, func(j *job.Job) { j.Shown = &job.Shown{Length: unit} })
			for _, r := range Readers() {
				list := pages(t, r.Key, in)
				if r.Key == "owner" {
					assert.Len(t, list, 1, demo)
				}
				for i, p := range list {
					words := flat(p)
					assert.Contains(t, words, r.Title, "%s %s", demo, r.Key)
					assert.Contains(t, words, paper.Caution)
					assert.Contains(t, words, in.Sum)
					assert.Contains(t, words, "inputs are guesses")
					assert.NotContains(t, words, "NaN", "%s %s page %d", demo, r.Key, i+1)
					assert.NotContains(t, words, "Inf ", "%s %s page %d", demo, r.Key, i+1)
					for _, w := range never {
						assert.NotRegexp(t, `(?i)\b`+w+`\b`, words, "%s %s page %d", demo, r.Key, i+1)
					}
				}
			}
		}
	}
}

// A study that is not finished makes no sheet.
func TestNoSheetOfOldFigures(t *testing.T) {
	in := input(t, demos[0], nil)
	in.Study = study.New(context.Background(), in.Study.Job, study.Live)
	for _, r := range Readers() {
		_, err := Make(context.Background(), r, in)
		assert.ErrorContains(t, err, "worked out")
	}
}

// A trial is set against the job as drawn: the owner's page, one page still, says what changes.
func TestSheetsOfATrial(t *testing.T) {
	in := input(t, "rescue-tender", nil)
	j, err := in.Study.Job.WithTrial("Uppers raised 24")
	require.NoError(t, err)
	in.Before, in.Against, in.Trial = in.Study, "as drawn", "Uppers raised 24"
	in.Study = study.New(context.Background(), j, study.Full)
	list := pages(t, "owner", in)
	require.Len(t, list, 1)
	words := flat(list[0])
	for _, w := range []string{"What changes", "as drawn", "as planned", "Uppers raised 24", "Moves sideways by up to"} {
		assert.Contains(t, words, w)
	}
	words = flat(strings.Join(pages(t, "wander", in), " "))
	assert.Contains(t, words, "The same before: as drawn")
}

// How far off a weighing may be is kilograms in whatever unit lengths stand.
func TestLoadsAreInKilograms(t *testing.T) {
	in := input(t, "rescue-tender", func(j *job.Job) { j.Shown = &job.Shown{Length: "in"} })
	words := flat(pages(t, "engineer", in)[0])
	assert.Contains(t, words, "weighbridge, ±20 kg")
}

func TestOwnersPageNamesSidesFirst(t *testing.T) {
	for name, want := range map[string]string{"Strut left": "the left strut", "Tyre right": "the right tyre", "Tank": "the tank", "Left": "the left", "Rail ahead left": "the left rail ahead"} {
		assert.Equal(t, want, plainly(name))
	}
}

// Rows of holes stand on the bench's sheet, each from the pivot's datum, with the one it is bolted in.
func TestRowsOfHolesOnTheBench(t *testing.T) {
	in := input(t, "orchard-sprayer", func(j *job.Job) {
		for i := range j.Links {
			if l := &j.Links[i]; l.Name == "Lower" {
				first, step := l.Frame, job.Point{0, 0, 35}
				first[2] -= 35
				j.Holes = append(j.Holes, job.Holes{Of: "Lower", End: "frame", First: &first, Step: &step, Count: 3})
			}
		}
	})
	rows := in.holeRows().Rows
	require.Len(t, rows, 3)
	assert.Equal(t, "Lower left, frame end", rows[0].Cells[0])
	for i, z := range []string{"395.0", "430.0", "465.0"} {
		assert.Equal(t, fmt.Sprint(i+1), rows[i].Cells[1])
		assert.Contains(t, rows[i].Cells[4], z)
		assert.Equal(t, i == 1, rows[i].Cells[5] == "bolted here")
	}
	text := strings.Join(pages(t, "bench", in), "\n")
	assert.Contains(t, text, "Rows of holes to choose from")
	assert.Contains(t, text, "bolted here")
	assert.NotContains(t, strings.Join(pages(t, "bench", input(t, "orchard-sprayer", nil)), "\n"), "Rows of holes")
}
