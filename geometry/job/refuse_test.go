package job_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// refusal reads a text that must be refused.
func refusal(t *testing.T, text string) *job.Error {
	t.Helper()
	j, err := job.Read(strings.NewReader(text))
	require.Nil(t, j)
	var e *job.Error
	require.ErrorAs(t, err, &e)
	require.NotEmpty(t, e.Complaints)
	return e
}

func TestReadRefusesWhatIsNoJob(t *testing.T) {
	const head = `{"format": "axleloft-job", "version": 1, `
	demo := string(assets.Demo("rescue-tender"))
	for _, tc := range []struct{ name, text, want string }{
		{"empty", "", "The file is empty"},
		{"blank", " \n\t\r\n", "The file is empty"},
		{"not JSON", "wheelbase = 3550", "stands where a value was expected"},
		{"a picture", "\x89PNG\r\n\x1a\n", "A value was expected"},
		{"cut short", demo[:len(demo)/2], "cut short"},
		{"cut short in a text", demo[:60], "cut short"},
		{"cut short by one brace", strings.TrimRight(demo, "}\n "), "cut short"},
		{"cut short after a minus", head + `"x": -`, "cut short"},
		{"two jobs", demo + demo, "more after the end of the job"},
		{"a list", "[1, 2]", "a list where a job was expected"},
		{"a number", "12", "a number where a job was expected"},
		{"no format", `{"version": 1}`, `"format" is missing`},
		{"other format", `{"format": "drawing", "version": 1}`, `The format is "drawing"; "axleloft-job" is expected`},
		{"no version", `{"format": "axleloft-job"}`, `"version" is missing`},
		{"newer version", `{"format": "axleloft-job", "version": 2, "unheard": {}}`, "This file has version 2 and this program reads version 1. A newer Axleloft wrote it"},
		{"version in words", `{"format": "axleloft-job", "version": "1"}`, `The version is "1"; the number 1 is expected`},
		{"version 0", `{"format": "axleloft-job", "version": 0}`, "The version is 0"},
		{"version 1.5", `{"format": "axleloft-job", "version": 1.5}`, "The version is 1.5"},
		{"deep lists", head + `"x": ` + strings.Repeat("[", 1_000_000), "nested more than 40 deep"},
		{"deep groups", strings.Repeat(`{"a":`, 1_000_000), "nested more than 40 deep"},
		{"too many values", head + `"x": [` + strings.Repeat("0,", 600_000) + "0]}", "more than 500000 values"},
		{"comma before the brace", head + `"title": "a",}`, "A key in double quotes was expected but }"},
		{"comma before the bracket", head + `"links": [{},]}`, "comma or colon with nothing after it"},
		{"no comma", head + `"title": "a" "notes": "b"}`, "A comma or \"}\" was expected"},
		{"no colon", head + `"title" "a"}`, `After the key "title" a colon was expected`},
		{"bare key", head + `title: "a"}`, "A key in double quotes was expected"},
		{"comment", head + `// my axle` + "\n}", "A key in double quotes was expected"},
		{"single quotes", head + `'title': 'a'}`, "A key in double quotes was expected"},
		{"leading zero", head + `"x": 0123}`, `"0123" is not a number`},
		{"plus sign", head + `"x": +1}`, `"+1" is not a number`},
		{"decimal comma", head + `"x": [1,5.]}`, `"5." is not a number`},
		{"inch mark", head + `"x": 44"}`, `is not a number`},
		{"True", head + `"x": True}`, `"True" stands where`},
		{"line break in a text", head + "\"title\": \"a\nb\"}", "not closed by a double quote"},
		{"no UTF-8", head + "\"title\": \"a\xffb\"}", "no UTF-8 text (0xFF)"},
		{"odd escape", head + `"title": "a\qb"}`, `holds \q`},
		{"half a character", head + `"title": "\ud800"}`, "half a character"},
		{"short escape", head + `"title": "\u12"}`, "without four digits"},
		{"UTF-16", "\xff\xfe{\x00\"\x00", "no UTF-8 text"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			e := refusal(t, tc.text)
			assert.Len(t, e.Complaints, 1)
			assert.Contains(t, e.Error(), tc.want)
			assert.True(t, strings.HasSuffix(e.Error(), " Nothing was loaded and your file is unchanged."), e.Error())
			assert.Less(t, len(e.Error()), 400)
		})
	}
}

// endless is a file without an end; it counts what was taken of it.
type endless struct{ taken int }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	e.taken += len(p)
	return len(p), nil
}

func TestReadIsBounded(t *testing.T) {
	r := &endless{}
	_, err := job.Read(io.LimitReader(r, 100<<20))
	require.ErrorContains(t, err, "larger than 16 MB")
	assert.Less(t, r.taken, 3*job.MaxSize, "it was not read to its end")
}

func TestReadTakesByteOrderMark(t *testing.T) {
	_, err := job.Read(strings.NewReader("\ufeff" + string(assets.Demo("rescue-tender"))))
	assert.NoError(t, err)
}

func TestReadFailingFile(t *testing.T) {
	_, err := job.Read(io.MultiReader(strings.NewReader("{"), failing{}))
	require.ErrorContains(t, err, "could not be read to its end")
	require.ErrorIs(t, err, errBroken)

	dir := t.TempDir()
	_, err = job.ReadFile(filepath.Join(dir, "none.axleloft"))
	require.ErrorContains(t, err, "none.axleloft")
	require.ErrorContains(t, err, "there is no such file or folder. Nothing was loaded")
	require.ErrorIs(t, err, os.ErrNotExist)
	_, err = job.ReadFile(dir)
	require.ErrorContains(t, err, "it is a folder, not a file")

	name := filepath.Join(dir, "bad.axleloft")
	require.NoError(t, os.WriteFile(name, []byte(`{"format": "axleloft-job"}`), 0o600))
	_, err = job.ReadFile(name)
	require.ErrorContains(t, err, "bad.axleloft: Line 1")
}

var errBroken = errors.New("broken cable")

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errBroken }

// change is an edit of a text that must change it.
func change(t *testing.T, text, from, to string) string {
	t.Helper()
	out := strings.Replace(text, from, to, 1)
	require.NotEqual(t, text, out, "nothing like %s", from)
	return out
}

// Each row changes one thing in the job that has every key, and exactly one complaint comes of it, at the right place and line.
func TestReadRefuses(t *testing.T) {
	for _, tc := range []struct{ name, from, to, place, want string }{
		{"unknown key", `"clearance": 15,
      "given"`, `"clearence": 15,
      "given"`, "links[0].clearence", `"clearence" is not known. Did you mean "clearance"? It stands in links[0].`},
		{"key in the wrong case", `"jointLimit"`, `"JointLimit"`, "driveline.JointLimit", `"JointLimit" is not known. Did you mean "jointLimit"?`},
		{"far from any key", `"steel"`, `"qqqqqqqqqq"`, "links[0].tube.qqqqqqqqqq", `"qqqqqqqqqq" is not known. Take it out.`},
		{"unknown key at the top", `"keep"`, `"keeps"`, "keeps", `"keeps" is not known. Did you mean "keep"?`},
		{"key given twice", `"track": 1720,
    "tyre"`, `"track": 1720, "track": 1720,
    "tyre"`, "vehicle.track", `"track" is given twice`},
		{"missing", `"wheelbase": 3580,
`, "\n", "vehicle.wheelbase", `"wheelbase" is missing. Add it: a length above 0, up to 100000 mm.`},
		{"missing name", `"name": "A-arm",`, ``, "arms[0].name", `"name" is missing`},
		{"text for a number", `"wheelbase": 3580`, `"wheelbase": "3580"`, "vehicle.wheelbase", `"3580" is given; a length above 0, up to 100000 mm is expected`},
		{"number for a text", `"use": "orchard"`, `"use": 5`, "card.use", `5 is given; a text in double quotes is expected`},
		{"number for a switch", `"vessel": true`, `"vessel": 1`, "envelopes[1].vessel", `1 is given; true or false is expected`},
		{"list for a group", `"travel": {"bump": 110, "droop": 130, "articulation": 11}`, `"travel": [110, 130]`, "travel", "a list is given; a group in braces is expected"},
		{"group for a list", `"bends": [[600, 500, 470]]`, `"bends": {"file": "a"}`, "links[0].bends", "a group in braces is given; a list in square brackets is expected"},
		{"null", `"rate": 45`, `"rate": null`, "struts[0].rate", "null is given; a stiffness above 0, up to 1000000000 N/mm is expected. Leave the key out"},
		{"two coordinates", `"joint": [340, 0, 470]`, `"joint": [340, 0]`, "axle.pinion.joint", "2 values are given; a list of 3 numbers"},
		{"four coordinates", `"cg": [1950, 0, 830]`, `"cg": [1950, 0, 830, 1]`, "vehicle.loads[0].cg", "4 values are given"},
		{"text for a coordinate", `"frame": [1150, 480, 560]`, `"frame": [1150, "480", 560]`, "links[0].frame[1]", `"480" is given; a place from -100000 to 100000 mm is expected`},
		{"NaN", `"frame": [1150, 480, 560]`, `"frame": [1150, NaN, 560]`, "links[0].frame[1]", "NaN is not a number a job can hold"},
		{"-Infinity", `"wheelbase": 3580`, `"wheelbase": -Infinity`, "vehicle.wheelbase", "-Infinity is not a number"},
		{"1e300", `"frame": [1150, 480, 560]`, `"frame": [1150, 1e300, 560]`, "links[0].frame[1]", "1e300 is given; a place from -100000 to 100000 mm is expected. Check the digits and the unit."},
		{"1e999", `"frame": [1150, 480, 560]`, `"frame": [1150, 1e999, 560]`, "links[0].frame[1]", "1e999 is too large a number"},
		{"zero wheelbase", `"wheelbase": 3580`, `"wheelbase": 0`, "vehicle.wheelbase", "0 is given; a length above 0"},
		{"negative track", `"track": 1720`, `"track": -1720`, "vehicle.track", "-1720 is given"},
		{"zero radius", `"tyre": {"loadedRadius": 500}`, `"tyre": {"loadedRadius": 0}`, "trials[0].vehicle.tyre.loadedRadius", "0 is given; a length above 0"},
		{"free radius below loaded", `"freeRadius": 470`, `"freeRadius": 440`, "vehicle.tyre.freeRadius", "The free radius is 440 and the loaded radius 452 mm"},
		{"shoulder too round", `"shoulder": 25`, `"shoulder": 200`, "vehicle.tyre.shoulder", "at most half the width, 160 mm"},
		{"drive share", `"driveShare": 1,`, `"driveShare": 1.2,`, "vehicle.driveShare", "1.2 is given; a share from 0 to 1 is expected"},
		{"brake share", `"brakeShare": 0.4`, `"brakeShare": -0.1`, "vehicle.brakeShare", "-0.1 is given"},
		{"no height of the overhang", `"rear": 1100, "rearHeight": 540, `, `"rear": 1100, `, "vehicle.overhang.rear", `"rearHeight", its height above the ground, is missing`},
		{"no distance of the overhang", `"front": 820, "frontHeight"`, `"frontHeight"`, "vehicle.overhang.frontHeight", `"front", how far off, is missing`},
		{"middle before the front axle", `"middle": 1500`, `"middle": 3580`, "vehicle.overhang.middle", "it lies between the axles"},
		{"front travel", `"frontTravel": "still"`, `"frontTravel": "stil"`, "vehicle.frontTravel", `"stil" is not known. Did you mean "still"?`},
		{"unit", `"length": "in"`, `"length": "furlong"`, "shown.length", `"furlong" is not known; "mm" or "in" is expected`},
		{"no mass", `"mass": 3150`, `"mass": 0`, "vehicle.loads[0].mass", "0 is given; a mass above 0, up to 1000000 kg"},
		{"CG in the ground", `"cg": [1950, 0, 830]`, `"cg": [1950, 0, 0]`, "vehicle.loads[0].cg[2]", "a height above the ground is expected"},
		{"two loads of a name", `"name": "laden"`, `"name": "unladen"`, "vehicle.loads[1].name", `"unladen" is already the name of vehicle.loads[0]`},
		{"two heights of a name", `"name": "ride"`, `"name": "raised"`, "vehicle.heights[1].name", `"raised" is already the name of vehicle.heights[0]`},
		{"empty load name", `"name": "laden"`, `"name": ""`, "vehicle.loads[1].name", "The name is empty"},
		{"empty name", `"name": "Brake hose"`, `"name": " "`, "lines[0].name", "The name is empty"},
		{"name with a line break", `"name": "Brake hose"`, `"name": "Brake\nhose"`, "lines[0].name", "holds a line break"},
		{"name with a blank", `"name": "Brake hose"`, `"name": "Brake hose "`, "lines[0].name", "begins or ends with a blank"},
		{"name as long as a page", `"name": "Brake hose"`, `"name": "` + strings.Repeat("Brake ", 30) + `hose"`, "lines[0].name", "at most 80 are taken"},
		{"same name in two lists", `"name": "Winch"`, `"name": "Strut"`, "envelopes[2].name", `"Strut" is already the name of struts[0]`},
		{"same name as a twin", `"name": "Winch"`, `"name": "Lower left"`, "envelopes[2].name", `"Lower left" is already the name of links[0]`},
		{"twin like a single", `"name": "Rail",`, `"name": "Tyre",`, "envelopes[0].name", `The twins of "Tyre" are called "Tyre left" and "Tyre right", and "Tyre left" is what the program calls a part of its own`},
		{"the program's own name", `"name": "Winch"`, `"name": "Housing"`, "envelopes[2].name", `"Housing" is what the program calls a part of its own`},
		{"a rod's name", `"name": "Lower rod"`, `"name": "Tank"`, "envelopes[1].name", `"Tank" is already the name of rockers[0].rods[1]`},
		{"two trials of a name", `"trials": [`, `"trials": [{"name": "Another layout"},`, "trials[1].name", `is already the name of trials[0]`},
		{"empty trial name", `"name": "Another layout"`, `"name": ""`, "trials[0].name", "The name is empty"},
		{"zero-length link", `"axle": [60, 560, 400],
      "bends": [[600, 500, 470]]`, `"axle": [1150, 480, 560],
      "bends": [[600, 500, 470]]`, "links[0]", "Its frame end and its axle end are 0 mm apart; at least 1 mm is expected"},
		{"zero-length strut", `"axle": [-90, 560, 380]`, `"axle": [-90, 520, 900]`, "struts[0]", "0 mm apart"},
		{"zero-length strap", `"axle": [40, 560, 470]`, `"axle": [40, 520, 760.5]`, "straps[0]", "0.5 mm apart"},
		{"zero-length hose", `"axle": [30, 250, 560]`, `"axle": [200, 300, 700]`, "lines[0]", "0 mm apart"},
		{"zero-length stop", `"axle": [0, 470, 520]`, `"axle": [0, 470, 690]`, "stops[0]", "0 mm apart"},
		{"zero-length rod", `"far": [-250, 600, 530]`, `"far": [-250, 0, 530]`, "rockers[0].rods[0]", "Its two pivots are 0 mm apart"},
		{"bend on a pivot", `"bends": [[600, 500, 470]]`, `"bends": [[1150, 480, 560]]`, "links[0].bends[0]", "This bend and the point before it are 0 mm apart"},
		{"pair on the centre plane", `"frame": [-90, 520, 900]`, `"frame": [-90, 0, 900]`, "struts[0].frame[1]", "This is one of a pair and lies at Y = 0 mm"},
		{"pair given on the right", `"far": [-200, 420, 480]`, `"far": [-200, -420, 480]`, "sensors[0].far[1]", "lies at Y = -420 mm; the left one is given"},
		{"arm pair on the centre plane", `"axle": [[150, 500, 420], [-150, 500, 430]]`, `"axle": [[150, 500, 420], [-150, 0, 430]]`, "arms[1].axle[1][1]", "lies at Y = 0 mm"},
		{"box pair across the centre plane", `"min": [-900, 400, 640]`, `"min": [-900, -400, 640]`, "envelopes[0]", "mm across the centre plane"},
		{"ball pair across the centre plane", `"kind": "ball", "centre": [1800, 0, 600]`, `"pair": true, "kind": "ball", "centre": [1800, 100, 600]`, "envelopes[2]", "reaches 50 mm across"},
		{"tube pair across the centre plane", `"kind": "tube"`, `"pair": true, "kind": "tube"`, "envelopes[3]", "reaches 398 mm across"},
		{"prism pair across the centre plane", `"kind": "prism"`, `"pair": true, "kind": "prism"`, "envelopes[1]", "reaches 120 mm across"},
		{"outline that crosses itself", `[[600, 520], [1500, 520], [1500, 820], [600, 820]]`, `[[600, 520], [1500, 520], [600, 820], [1500, 820]]`, "envelopes[1].outline[3]", "crosses or touches itself"},
		{"outline that touches itself", `[[600, 520], [1500, 520], [1500, 820], [600, 820]]`, `[[600, 520], [1500, 520], [1500, 820], [900, 520], [600, 820]]`, "envelopes[1].outline[2]", "crosses or touches itself"},
		{"corner given twice", `[[600, 520], [1500, 520], [1500, 820], [600, 820]]`, `[[600, 520], [1500, 520], [1500, 820], [600, 520]]`, "envelopes[1].outline[3]", "given twice in a row"},
		{"two corners", `"outline": [[600, 520], [1500, 520], [1500, 820], [600, 820]]`, `"outline": [[600, 520], [1500, 520]]`, "envelopes[1].outline", "The list has 2 entries; at least 3 are expected"},
		{"flat outline", `[[600, 520], [1500, 520], [1500, 820], [600, 820]]`, `[[600, 520], [1500, 520], [900, 520], [600, 521]]`, "envelopes[1].outline[1]", "crosses or touches itself"},
		{"outline with a bad number", `[[600, 520], [1500, 520]`, `[[600, 520], [1500, 2e5]`, "envelopes[1].outline[1][1]", "200000 is given"},
		{"prism from above to", `"from": -120`, `"from": 330`, "envelopes[1].from", "From is 330 and to is 330 mm"},
		{"prism without a plane", `"plane": "side",`, ``, "envelopes[1].plane", `"plane" is missing; a prism needs plane, outline, from and to`},
		{"unknown plane", `"plane": "side"`, `"plane": "top"`, "envelopes[1].plane", `"top" is not known; "side", "plan" or "rear" is expected`},
		{"unknown shape", `"kind": "tube"`, `"kind": "tub"`, "envelopes[3].kind", `"tub" is not known. Did you mean "tube"?`},
		{"empty kind", `"kind": "tube"`, `"kind": ""`, "envelopes[3].kind", `"" is given; "box", "prism", "ball", "tube" or "mesh" is expected`},
		{"box inside out", `"max": [2600, 470, 820]`, `"max": [2600, 400, 820]`, "envelopes[0].min[1]", "Along Y the box runs from 400 to 400 mm"},
		{"box without max", `"max": [2600, 470, 820],`, ``, "envelopes[0].max", `"max" is missing; a box needs min and max`},
		{"box with a radius", `"turn": [1, 0.5, -2]`, `"turn": [1, 0.5, -2], "radius": 4`, "envelopes[0].radius", `"radius" does not belong to a box`},
		{"ball without radius", `"radius": 150,`, ``, "envelopes[2].radius", `"radius" is missing`},
		{"tube of one point", `[[2200, -300, 560], [900, -330, 600], [300, -360, 780]]`, `[[2200, -300, 560]]`, "envelopes[3].path", "The list has 1 entry; at least 2 are expected"},
		{"tube with a point twice", `[900, -330, 600], [300`, `[2200, -300, 560], [300`, "envelopes[3].path[1]", "This point and the one before it are 0 mm apart"},
		{"mesh elsewhere", `"file": "casting.stl"`, `"file": "../casting.stl"`, "envelopes[4].file", "the name of an STL file beside the job file is expected"},
		{"mesh of another kind", `"file": "casting.stl"`, `"file": "casting.obj"`, "envelopes[4].file", "the name of an STL file"},
		{"photo elsewhere", `"file": "left side.jpg"`, `"file": "/pictures/left side.jpg"`, "photos[0].file", "the name of a file beside the job file is expected"},
		{"housing as a pair", `[{"kind": "ball", "centre": [0, 0, 452]`, `[{"pair": true, "kind": "ball", "centre": [0, 300, 452]`, "axle.housing[0].pair", "A housing entry is no pair"},
		{"axle tube the wrong way round", `"from": -640, "to": 640, "clearance"`, `"from": 640, "to": -640, "clearance"`, "axle.tube.from", "From is 640 and to is -640 mm"},
		{"closed above open", `"closed": 395`, `"closed": 695`, "struts[0].closed", "Closed is 695 and open is 660 mm"},
		{"closed at open", `"closed": 395`, `"closed": 660`, "struts[0].closed", "Closed is 660 and open is 660 mm"},
		{"touch below closed", `"touch": 110`, `"touch": 50`, "stops[0].touch", "Touch is 50 and closed is 55 mm"},
		{"wall above half the outside", `"wall": 6.35`, `"wall": 26`, "links[0].tube.wall", "The wall is 26 mm; it is at most half the outside diameter, 25.4 mm"},
		{"no direction", `"axis": [0, 0, -1]`, `"axis": [0, 0, 0]`, "stops[0].axis", "The direction is [0, 0, 0]"},
		{"no bolt direction", `"bolt": [0, 1, 0],
        "square"`, `"bolt": [0, 0, 0],
        "square"`, "links[0].frameEnd.bolt", "The direction is [0, 0, 0]"},
		{"no rocker direction", `"axis": [1, 0, 0],
      "rods"`, `"axis": [0, 0, 0],
      "rods"`, "rockers[0].axis", "The direction is [0, 0, 0]"},
		{"bolt along its link", `"bolt": [0, 1, 0], "square": false`, `"bolt": [1, 0, 0.1], "square": false`, "links[0].axleEnd.bolt", "deg from the line between the pivots; at least 10 deg is expected"},
		{"output the wrong way", `"axis": [-1, 0, -0.06]`, `"axis": [1, 0, 0.06]`, "driveline.output.axis", "points away from the bearing"},
		{"pinion the wrong way", `"axis": [1, 0, 0.04]`, `"axis": [-1, 0, -0.04]`, "axle.pinion.axis", "points away from the bearing"},
		{"bearing on the output", `"joint": [1050, 0, 520]`, `"joint": [1600, 0, 560.5]`, "driveline.bearing.joint", "The joint behind the bearing is 0.5 mm from the output's joint; at least 1 mm is expected"},
		{"bearing on the pinion", `"joint": [1050, 0, 520]`, `"joint": [340, 0, 470]`, "driveline.bearing.joint", "The joint behind the bearing is 0 mm from the pinion's joint"},
		{"bearing ahead of the output", `"joint": [1050, 0, 520], "yokePhase"`, `"joint": [200, 0, 470], "yokePhase"`, "driveline.bearing.joint", "does not lie between output and pinion"},
		{"bearing's yokes", `520], "yokePhase": 90`, `520], "yokePhase": 400`, "driveline.bearing.yokePhase", "400 is given; an angle from -360 to 360 deg"},
		{"bearing without a joint", `"joint": [1050, 0, 520], `, ``, "driveline.bearing.joint", `"joint" is missing`},
		{"given of no bearing's number", `{"joint.x": {"typed": "1050"}}`, `{"axis.x": {"typed": "1050"}}`, "driveline.bearing.given.axis.x", "is no number of this part"},
		{"shaft that stands", `"speed": 3000`, `"speed": 0`, "driveline.speed", "0 is given; a speed above 0, up to 20000 rev/min"},
		{"clevis of a bush", `{"kind": "stud", "misalignment": 20, "clevis"`, `{"kind": "bush", "misalignment": 20, "clevis"`, "arms[0].axleEnds[0].clevis", "A clevis is given for a bush"},
		{"head as wide as the ball", `"headWidth": 15`, `"headWidth": 21`, "arms[0].axleEnds[0].clevis.headWidth", "The head is 21 and the ball 21 mm wide"},
		{"ball wider than the gap", `"gap": 22`, `"gap": 20.5`, "arms[0].axleEnds[0].clevis.gap", "The gap is 20.5 and the ball 21 mm wide"},
		{"head within the gap", `"head": 38`, `"head": 22`, "arms[0].axleEnds[0].clevis.head", "The head is 22 mm across and the gap 22 mm"},
		{"edges rounder than the head", `"edgeRadius": 0.5`, `"edgeRadius": 8`, "arms[0].axleEnds[0].clevis.edgeRadius", "at most half the head's width, 7.5 mm"},
		{"clevis without a head", `"head": 38, `, ``, "arms[0].axleEnds[0].clevis.head", `"head" is missing`},
		{"clock beyond a quarter turn", `"clock": 4.5`, `"clock": 95`, "links[0].clock", "95 is given; an angle from -90 to 90 deg"},
		{"clock of a link without ends", `"frame": [1150, 480, 570]`, `"clock": 5, "frame": [1150, 480, 570]`, "trials[0].links[0].clock", "has neither frameEnd nor axleEnd"},
		{"bag's lengths out of order", `[[200, 220], [400, 190]]`, `[[200, 220], [200, 190]]`, "struts[1].diameters[1][0]", "This length is 200 mm and the one before it 200 mm"},
		{"bag of no thickness", `[[200, 220], [400, 190]]`, `[[200, 220], [400, 0]]`, "struts[1].diameters[1][1]", "0 is given; a length above 0"},
		{"bag of one length", `[[200, 220], [400, 190]]`, `[[200, 220]]`, "struts[1].diameters", "The list has 1 entry; at least 2 are expected"},
		{"bag with a diameter", `"diameters": [[200`, `"diameter": 200, "diameters": [[200`, "struts[1].diameters", `Both "diameter" and "diameters" are given`},
		{"strut on nothing", `"on": "Lower",
      "closed"`, `"on": "Lowre",
      "closed"`, "struts[0].on", `There is no link or arm called "Lowre" here. Did you mean "Lower"?`},
		{"strut on the other side", `"on": "Lower",
      "closed"`, `"on": "Lower right",
      "closed"`, "struts[0].on", `it stands on "Lower right". Name "Lower left" or the pair, "Lower".`},
		{"strut on a rocker", `"on": "Lower",
      "closed"`, `"on": "Watt's rocker",
      "closed"`, "struts[0].on", `There is no link or arm called "Watt's rocker" here`},
		{"rod along the rocker's bolt", `"far": [-250, -600, 370]`, `"far": [-850, -60, 370]`, "rockers[0].rods[1]", "The rod lies 5.7 deg from the rocker's own bolt"},
		{"sensor's rod along its shaft", `"far": [-200, 420, 480]`, `"far": [-200, 600, 650]`, "sensors[0].far", "The rod lies 2.6 deg from the shaft's own direction"},
		{"bush bolt along its arm", `[{"kind": "bush"}, {"kind": "bush"}]`, `[{"kind": "bush", "bolt": [1, 0, 0]}, {"kind": "bush"}]`, "arms[0].frameEnds[0].bolt", "lies 1.9 deg from the line between the pivots"},
		{"three pairs of radius arms", `{"name": "Radius arm", "pair": true,`, `{"name": "One", "pair": true, "frame": [[1200, 400, 500]], "axle": [[150, 400, 420], [-150, 400, 430]]}, {"name": "Two", "pair": true, "frame": [[1200, 450, 500]], "axle": [[150, 450, 420], [-150, 450, 430]]}, {"name": "Radius arm", "pair": true,`, "arms[3]", "There are 6 radius arms, twins counted as two; at most 4 can be moved. Take 2 out."},
		{"unknown end", `"kind": "stud"`, `"kind": "studs"`, "arms[0].axleEnds[0].kind", `"studs" is not known. Did you mean "stud"?`},
		{"limit of 0", `"misalignment": 8`, `"misalignment": 0`, "links[0].frameEnd.misalignment", "0 is given; a limit above 0, up to 90 deg"},
		{"arm of two pivots", `"axle": [[150, 500, 420], [-150, 500, 430]]`, `"axle": [[150, 500, 420]]`, "arms[1]", "an A-arm has two and one"},
		{"arm of four pivots", `"axle": [[0, 0, 680]]`, `"axle": [[0, 0, 680], [0, 50, 680]]`, "arms[0]", "Two frame pivots and two axle pivots"},
		{"arm in one line", `"axle": [[0, 0, 680]]`, `"axle": [[600, 0, 700]]`, "arms[0]", "Its three pivots lie in one line"},
		{"ends of an arm", `[{"kind": "bush"}, {"kind": "bush"}]`, `[{"kind": "bush"}]`, "arms[0].frameEnds", "1 given for 2 pivots"},
		{"rocker of one rod", `,
        {"name": "Lower rod", "rocker": [-250, 0, 370], "far": [-250, -600, 370]}`, ``, "rockers[0].rods", "The list has 1 entry; at least 2 are expected"},
		{"rocker on nothing", `"on": "axle",
      "pivot"`, `"on": "rear",
      "pivot"`, "rockers[0].on", `"rear" is not known; "axle" or "frame" is expected`},
		{"rod on the rocker's bolt", `"rocker": [-250, 0, 530]`, `"rocker": [-240, 0, 450]`, "rockers[0].rods[0].rocker", "0 mm off the rocker's bolt"},
		{"sensor on nothing", `"on": "Lower",
      "swing"`, `"on": "Lowers",
      "swing"`, "sensors[0].on", `There is no link or arm called "Lowers" here. Did you mean "Lower"?`},
		{"swing the wrong way round", `"swing": [-45, 40]`, `"swing": [45, -40]`, "sensors[0].swing", "The swing is from 45 to -40 deg"},
		{"lever on its shaft", `"lever": [-200, 380, 640]`, `"lever": [-300, 400, 640]`, "sensors[0].lever", "lies on the line of its shaft"},
		{"negative travel", `"droop": 130`, `"droop": -130`, "travel.droop", "-130 is given; a travel from 0"},
		{"articulation", `"articulation": 11`, `"articulation": 75`, "travel.articulation", "75 is given"},
		{"given of no place", `"frame[1].y": {"typed"`, `"frame[2].y": {"typed"`, "arms[0].given.frame[2].y", `"frame[2].y" is no number of this part`},
		{"given of a text", `"given": {"open": {"typed": "660"}}`, `"given": {"name": {"typed": "660"}}`, "struts[0].given.name", `"name" is no number of this part`},
		{"given's number", `"plusMinus": 1.5`, `"plusMinus": -1.5`, "links[0].given.frame.x.plusMinus", "-1.5 is given; a length from 0"},
		{"measured of no place", `"measured": ["frame"]
    }
  ],
  "arms"`, `"measured": ["fram"]
    }
  ],
  "arms"`, "links[0].measured[0]", `"fram" is not known. Did you mean "frame"?`},
		{"two datums of a name", `"datums": [`, `"datums": [{"name": "Rail top"}, `, "datums[1].name", "is already the name of datums[0]"},
		{"no reason", `"reason": "meant to touch"`, `"reason": ""`, "setAside[0].reason", "does not say why"},
		{"keep of nothing known", `"what": "length"`, `"what": "lenght"`, "keep[0].what", `Did you mean "length"?`},
		{"a trial's link", `"frame": [1150, 480, 570]`, `"frame": [60, 560, 400]`, "trials[0].links[0]", "0 mm apart"},
		{"a trial's names", `"struts": [],`, `"struts": [{"name": "Lower", "frame": [0, 0, 0], "axle": [0, 0, 9]}],`, "trials[0].struts[0].name", `"Lower" is already the name of trials[0].links[0]`},
		{"a trial's missing radius", `"tyre": {"loadedRadius": 500}`, `"tyre": {}`, "trials[0].vehicle.tyre.loadedRadius", `"loadedRadius" is missing`},
		{"a trial without a trial's key", `"note": "Nothing`, `"title": "Nothing`, "trials[0].title", `"title" is not known`},
	} {
		t.Run(tc.name, func(t *testing.T) {
			bad := change(t, fullJob, tc.from, tc.to)
			e := refusal(t, bad)
			require.Len(t, e.Complaints, 1, e.Error())
			c := e.Complaints[0]
			assert.Equal(t, tc.place, c.Place)
			assert.Contains(t, c.Text, tc.want)
			assert.Contains(t, c.String(), fmt.Sprintf("Line %d", c.Line))
			// The line is that of the change, or of the start of what holds it.
			at := 1 + strings.Count(fullJob[:strings.Index(fullJob, tc.from)], "\n")
			last := at + strings.Count(tc.from, "\n")
			if strings.ContainsAny(tc.place, ".") && !strings.Contains(tc.want, "missing") && !strings.Contains(tc.want, "already") && !strings.Contains(tc.want, "calls a part") &&
				!strings.Contains(tc.want, "at least") && !strings.Contains(tc.want, "runs from") && !strings.Contains(tc.want, "apart") {
				assert.GreaterOrEqual(t, c.Line, at)
				assert.LessOrEqual(t, c.Line, last)
			}
			assert.Positive(t, c.Line)
		})
	}
}

func TestComplaintsComeTogether(t *testing.T) {
	bad := change(t, fullJob, `"track": 1720`, `"track": 0`)
	bad = change(t, bad, `"closed": 395`, `"closed": 695`)
	bad = change(t, bad, `"steel"`, `"steal"`)
	bad = change(t, bad, `"frame": [1150, 480, 570]`, `"frame": [1150, 480]`)
	e := refusal(t, bad)
	require.Len(t, e.Complaints, 4)
	for i := 1; i < 4; i++ {
		assert.LessOrEqual(t, e.Complaints[i-1].Line, e.Complaints[i].Line, "in the order of the file")
	}
	lines := strings.Split(e.Error(), "\n")
	require.Len(t, lines, 5)
	assert.True(t, strings.HasPrefix(lines[0], "Line 9, vehicle.track: 0 is given"), lines[0])
	assert.Contains(t, lines[1], `"steal" is not known. Did you mean "steel"?`)
	assert.Equal(t, "Nothing was loaded and your file is unchanged.", lines[4])
}

func TestComplaintsAreCapped(t *testing.T) {
	var b strings.Builder
	b.WriteString(`{"format": "axleloft-job", "version": 1, "title": "", "vehicle": {"wheelbase": 1, "track": 1, "tyre": {"loadedRadius": 1}}`)
	for i := range 5000 {
		fmt.Fprintf(&b, ",\n\"key%d\": 1", i)
	}
	b.WriteString("}")
	e := refusal(t, b.String())
	assert.LessOrEqual(t, len(e.Complaints), 200)
	lines := strings.Split(e.Error(), "\n")
	assert.Len(t, lines, 22)
	assert.Equal(t, "and at least 180 more.", lines[20])
}

// The sentence as the screen shows it.
func TestUnknownKeySentence(t *testing.T) {
	bad := change(t, string(assets.Demo("orchard-sprayer")), `"title":`, `"titel":`)
	assert.Equal(t, `Line 4: "titel" is not known. Did you mean "title"? Nothing was loaded and your file is unchanged.`, refusal(t, bad).Error())
}

// A trial that drops a link leaves what stands on it without a place, and says so; rails keep what they carry in another layout.
func TestTrialsAreCheckedAsTheWholeTheyMake(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	j.Sensors = []job.Sensor{{Name: "Sensor", Shaft: job.Point{-300, 380, 640}, Axis: job.Point{0, 1, 0}, Lever: job.Point{-200, 380, 640}, Far: job.Point{-200, 420, 480}, On: "Panhard rod"}}
	require.Nil(t, job.Check(j))
	j.Trials = []job.Trial{{Name: "No rod", Links: j.Clone().Links[:2]}}
	got := job.Check(j)
	require.Len(t, got, 1)
	assert.Equal(t, "sensors[0].on", got[0].Place)

	j.Sensors[0].On = "Lower"
	got = job.Check(j)
	require.NotEmpty(t, got)
	assert.Contains(t, got[0].Text, `"Lower" is a pair. Say which: "Lower left" or "Lower right".`)

	// A part of the job clashes with one of the trial's: told at the trial's.
	j.Sensors = nil
	j.Trials[0].Links[1].Name = "Strut left"
	got = job.Check(j)
	require.Len(t, got, 1)
	assert.Equal(t, "trials[0].links[1].name", got[0].Place)
	assert.Contains(t, got[0].Text, "struts[0]")
}

func TestCheckOfValuesNoFileHolds(t *testing.T) {
	assert.NotEmpty(t, job.Check(&job.Job{}))
	j := demo(t, "rescue-tender")
	j.Links[0].Frame[1] = math.NaN()
	j.Vehicle.Track = math.Inf(1)
	j.Title = "a\xffb"
	got := job.Check(j)
	require.Len(t, got, 3)
	assert.Equal(t, "vehicle.track", got[1].Place)
	assert.Equal(t, "links[0].frame[1]", got[2].Place)
	require.Error(t, job.Write(&bytes.Buffer{}, j))

	for i := range 200 { // whatever is missing, it is told and nothing breaks
		j := demo(t, "rescue-tender")
		hollow(j, i)
		assert.NotPanics(t, func() { job.Check(j); job.Expand(j) })
	}
}

// A shaft of one piece is checked between output and pinion.
func TestShaftOfOnePiece(t *testing.T) {
	one := change(t, fullJob, `"bearing": {"joint": [1050, 0, 520], "yokePhase": 90, "given": {"joint.x": {"typed": "1050"}}, "measured": ["joint"]},
`, "\n")
	_, err := job.Read(strings.NewReader(one))
	require.NoError(t, err)
	for _, tc := range []struct{ from, to, place, want string }{
		{`"axis": [-1, 0, -0.06]`, `"axis": [1, 0, 0.06]`, "driveline.output.axis", "points away from the pinion"},
		{`"axis": [1, 0, 0.04]`, `"axis": [-1, 0, -0.04]`, "axle.pinion.axis", "points away from the output"},
		{`"joint": [1600, 0, 560]`, `"joint": [340, 0, 470]`, "driveline.output.joint", "The shaft's two joints are 0 mm apart"},
	} {
		e := refusal(t, change(t, one, tc.from, tc.to))
		require.Len(t, e.Complaints, 1, e.Error())
		assert.Equal(t, tc.place, e.Complaints[0].Place)
		assert.Contains(t, e.Complaints[0].Text, tc.want)
	}
}
