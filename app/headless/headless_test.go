package headless

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"axleloft/assets"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// run runs the command with a demo job (its short name stands first after the sub-command) and wants status 0.
func run(t *testing.T, sub, demo string, flags ...string) []byte {
	t.Helper()
	var out, msg bytes.Buffer
	args := append([]string{sub, "-"}, flags...)
	code := Run(args, bytes.NewReader(assets.Demo(demo)), &out, &msg)
	require.Zero(t, code, "%v: %s", args, msg.String())
	return out.Bytes()
}

// near is one unit of the last digit the independent figures are printed with, and half of it for their own error.
func near(t *testing.T, want, got float64, digits int, msg string) {
	t.Helper()
	assert.InDelta(t, want, got, 1.0*math.Pow(10, -float64(digits)), msg)
}

// The figures of an independent calculation (poses by least squares or least energy, rates by central differences).
func TestSweepAgainstFigures(t *testing.T) {
	b, err := os.ReadFile("../../testdata/demos/figures.json")
	require.NoError(t, err)
	var all map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(b, &all))
	for _, demo := range assets.Demos() {
		t.Run(demo, func(t *testing.T) {
			var f struct {
				Range struct {
					Bump, Droop     float64
					LeftUp, RightUp [2]float64
				}
				Poses []map[string]any
			}
			require.NoError(t, json.Unmarshal(all[demo], &f))
			require.NotEmpty(t, f.Poses)
			r := f.Range
			for _, p := range f.Poses { // the ends of the range are printed to a tenth there, to a thousandth in the range
				for _, end := range [][2]float64{{r.Bump, r.Bump}, {-r.Droop, -r.Droop}, r.LeftUp, r.RightUp} {
					if math.Abs(p["left"].(float64)-end[0]) < 0.06 && math.Abs(p["right"].(float64)-end[1]) < 0.06 {
						p["left"], p["right"] = end[0], end[1]
					}
				}
			}
			var in strings.Builder
			in.WriteString("left_mm,right_mm\n")
			for _, p := range f.Poses {
				fmt.Fprintf(&in, "%v,%v\n", p["left"], p["right"])
			}
			dir := t.TempDir()
			poses := filepath.Join(dir, "p.csv")
			require.NoError(t, os.WriteFile(poses, []byte(in.String()), 0o600))
			full := rows(t, run(t, "sweep", demo, "--poses", poses, "--load", "full load", "--format", "csv"))
			empty := rows(t, run(t, "sweep", demo, "--poses", poses, "--load", "empty", "--format", "csv"))
			require.Len(t, full, len(f.Poses))
			for i, p := range f.Poses {
				for _, c := range []struct {
					key, column string
					row         map[string]string
					digits      int
				}{
					{"left", "left_mm", full[i], 9}, {"right", "right_mm", full[i], 9},
					{"x", "x_mm", full[i], 3}, {"y", "y_mm", full[i], 3}, {"steer", "steer_deg", full[i], 4},
					{"squareness", "squareness_mm", full[i], 2}, {"pinion", "pinion_deg", full[i], 4},
					{"antiSquatFull", "anti_squat_pct", full[i], 2}, {"antiSquatEmpty", "anti_squat_pct", empty[i], 2},
					{"antiLift", "anti_lift_pct", full[i], 2}, {"rollCentre", "roll_centre_mm", full[i], 2},
					{"rollSteer", "roll_steer_pct", full[i], 3}, {"jointFront", "shaft_front_deg", full[i], 3},
					{"jointRear", "shaft_rear_deg", full[i], 3}, {"slip", "slip_mm", full[i], 3},
					{"fluctuation", "fluctuation_pct", full[i], 4}, {"worstBind", "worst_bind", full[i], 3},
				} {
					got, err := strconv.ParseFloat(c.row[c.column], 64)
					require.NoError(t, err, c.column)
					near(t, p[c.key].(float64), got, c.digits, fmt.Sprintf("%s at %v, %v", c.column, p["left"], p["right"]))
				}
				if math.Abs(p["left"].(float64))+math.Abs(p["right"].(float64)) > 60 { // nearer to ride twins are alike to round-off
					assert.Equal(t, twinless(p["worstAt"].(string)), twinless(full[i]["worst_bind_at"]), "at %v, %v", p["left"], p["right"])
				}
			}
		})
	}
}

// twinless takes the side off a joint's name: in straight travel twins are alike to round-off.
func twinless(s string) string {
	return strings.NewReplacer(" left,", ",", " right,", ",").Replace(s)
}

func rows(t *testing.T, b []byte) []map[string]string {
	t.Helper()
	all, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, r := range all[1:] {
		m := map[string]string{}
		for i, k := range all[0] {
			m[k] = r[i]
		}
		out = append(out, m)
	}
	return out
}

// CSV and JSON of one sweep hold the same doubles, and every key of the shape is there.
func TestSweepJSON(t *testing.T) {
	flags := []string{"--heave", "-50:50:25", "--articulation", "-4:4:4"}
	table := rows(t, run(t, "sweep", "survey-wagon", append(flags, "--format", "csv")...))
	var got struct{ Poses []map[string]any }
	require.NoError(t, json.Unmarshal(run(t, "sweep", "survey-wagon", append(flags, "--format", "json")...), &got))
	require.Len(t, got.Poses, len(table))
	for i, p := range got.Poses {
		assert.Equal(t, true, p["reached"])
		assert.Equal(t, p["left_mm"], p["left"])
		assert.Equal(t, p["right_mm"], p["right"])
		for k, v := range table[i] {
			if strings.Contains(k, ": ") {
				continue
			}
			switch x := p[k].(type) {
			case float64:
				want, err := strconv.ParseFloat(v, 64)
				require.NoError(t, err, k)
				assert.Equal(t, math.Float64bits(want), math.Float64bits(x), k)
			case string:
				assert.Equal(t, v, x, k)
			default:
				assert.Contains(t, p, k)
				assert.Empty(t, v, k)
			}
		}
		link := p["links"].([]any)[0].(map[string]any)
		assert.Equal(t, "Lower left", link["name"])
		for _, k := range []string{"length", "stretch", "force"} {
			assert.IsType(t, 0.0, link[k], k)
		}
		for _, end := range []string{"frameEnd", "axleEnd"} {
			for _, k := range []string{"misalignment", "torsion", "utilisation"} {
				assert.Contains(t, link[end], k)
			}
		}
		stretch, err := strconv.ParseFloat(table[i]["link_stretch_mm: Lower left"], 64)
		require.NoError(t, err)
		assert.Equal(t, stretch, link["stretch"])
		strut := p["struts"].([]any)[0].(map[string]any)
		for _, k := range []string{"name", "length", "lean", "ratioHeave", "ratioRoll"} {
			assert.Contains(t, strut, k)
		}
		line := p["lines"].([]any)[0].(map[string]any)
		assert.Contains(t, line, "name")
		assert.IsType(t, 0.0, line["span"])
	}
}

// strictly decodes JSON into a shape without unknown keys.
func strictly(t *testing.T, b []byte, dst any) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(dst))
}

func TestClearanceJSON(t *testing.T) {
	var got struct {
		Pairs []struct {
			A, B           string
			AtRide, Found  float64
			NotLessThan    *float64
			Left, Right    float64
			PointA, PointB [3]float64
			Required       float64
			Verdict        string
			Proved         *bool
		}
		LeftOut []struct {
			A   string
			B   *string
			Why string
		}
	}
	strictly(t, run(t, "clearance", "rescue-tender", "--format", "json"), &got)
	require.NotEmpty(t, got.Pairs)
	require.NotEmpty(t, got.LeftOut)
	last := math.Inf(-1)
	for _, p := range got.Pairs {
		require.NotNil(t, p.Proved)
		assert.True(t, *p.Proved)
		require.NotNil(t, p.NotLessThan)
		assert.LessOrEqual(t, *p.NotLessThan, p.Found)
		if *p.NotLessThan < 150 {
			assert.LessOrEqual(t, p.Found-*p.NotLessThan, 0.5+1e-6, "%s / %s", p.A, p.B)
		}
		assert.LessOrEqual(t, p.Found, p.AtRide+1e-9)
		assert.GreaterOrEqual(t, p.Found-p.Required, last)
		last = p.Found - p.Required
		want := "clear"
		switch {
		case p.Found < 0:
			want = "overlap"
		case p.Found < p.Required:
			want = "tight"
		}
		assert.Equal(t, want, p.Verdict)
		d := 0.0
		for i := range p.PointA {
			d += (p.PointA[i] - p.PointB[i]) * (p.PointA[i] - p.PointB[i])
		}
		assert.InDelta(t, math.Abs(p.Found), math.Sqrt(d), 1e-3, "the gap lies between its two points: %s / %s", p.A, p.B)
	}
	assert.Equal(t, "Driveshaft", got.Pairs[0].A)
	assert.Equal(t, "Side tank", got.Pairs[0].B)
}

// Where no proof can be had it is said in every format, with why.
func TestGapsWithoutProof(t *testing.T) {
	// Links so nearly in line that they hold the axle poorly.
	loose := strings.NewReplacer("[640, 345, 610]", "[640, 122, 610]", "[1050, 437, 430]", "[1050, 560, 430]").Replace(string(assets.Demo("rescue-tender")))
	say := func(args ...string) string {
		var out, msg bytes.Buffer
		require.Zero(t, Run(args, strings.NewReader(loose), &out, &msg), msg.String())
		return out.String()
	}
	const why = "the links hold the axle poorly"
	table := say("clearance", "-")
	assert.Contains(t, table, "Gaps are found at the positions tried, not proved: "+why)
	assert.Contains(t, table, "; gaps at the positions tried.")
	var got struct {
		Pairs []struct {
			NotLessThan *float64
			Found       float64
			Proved      bool
			Why         string
		}
	}
	require.NoError(t, json.Unmarshal([]byte(say("clearance", "-", "--format", "json")), &got))
	require.NotEmpty(t, got.Pairs)
	for _, p := range got.Pairs {
		assert.Nil(t, p.NotLessThan)
		assert.False(t, p.Proved)
		assert.Contains(t, p.Why, why)
	}
	rows, err := csv.NewReader(strings.NewReader(say("clearance", "-", "--format", "csv"))).ReadAll()
	require.NoError(t, err)
	for _, row := range rows[1:] {
		assert.Empty(t, row[3])
		assert.Equal(t, "false", row[len(row)-2])
		assert.Contains(t, row[len(row)-1], why)
	}
	var check struct{ Proved *bool }
	require.NoError(t, json.Unmarshal([]byte(say("check", "-", "--format", "json")), &check))
	require.NotNil(t, check.Proved)
	assert.False(t, *check.Proved)
}

// met is a thing met and extreme an extreme over the range in limits' JSON.
type (
	met struct {
		What        string
		Left, Right float64
	}
	extreme struct{ Value, Left, Right float64 }
)

func TestLimitsJSON(t *testing.T) {
	type corner struct{ Left, Right float64 }
	var got struct {
		Range struct {
			Bump, Droop     float64
			LeftUp, RightUp *corner
		}
		Ring []struct {
			Angle       float64
			Left, Right float64
			By, Rubber  []met
		}
		GetHome []struct {
			Case, Note, AtRide, WorstBindAt string
			Left, Right, Lean               float64
			On                              []met
			Pinion, Front, Rear, Use        *float64
			Bearing                         *float64
			Tightest                        struct {
				A, B string
				Gap  float64
			}
		}
		Slip struct {
			Shortest, Longest extreme
			LeftIn, LeftOut   float64
		}
		Lines []struct {
			Name              string
			Length            float64
			Shortest, Longest extreme
		}
		Sensors []any
	}
	text := run(t, "limits", "survey-wagon", "--format", "json")
	for long, short := range map[string]string{"pinion_deg": "pinion", "shaft_front_deg": "front", "shaft_bearing_deg": "bearing", "shaft_rear_deg": "rear", "worst_bind_at": "worstBindAt", "worst_bind": "use"} {
		text = bytes.ReplaceAll(text, []byte(`"`+long+`"`), []byte(`"`+short+`"`))
	}
	strictly(t, text, &got)
	require.Len(t, got.GetHome, 3)
	assert.Equal(t, "left strut down", got.GetHome[0].Case)
	assert.Equal(t, "Strut right", got.GetHome[0].AtRide)
	assert.Equal(t, "stop Bump stop left", got.GetHome[0].On[0].What)
	assert.Positive(t, got.GetHome[0].Lean)
	assert.Negative(t, got.GetHome[1].Lean)
	assert.InDelta(t, 88.04, got.GetHome[2].Left, 0.1)
	assert.Nil(t, got.GetHome[0].Bearing)
	assert.NotNil(t, got.GetHome[0].Front)
	assert.Less(t, got.Slip.Shortest.Value, got.Slip.Longest.Value)
	assert.InDelta(t, 30, got.Slip.LeftIn-got.Slip.Shortest.Value, 1e-9) // the file's slip
	assert.InDelta(t, 30, got.Slip.LeftOut+got.Slip.Longest.Value, 1e-9)
	require.Len(t, got.Lines, 1)
	assert.Greater(t, got.Lines[0].Longest.Value, got.Lines[0].Shortest.Value)
	assert.Less(t, got.Lines[0].Longest.Left, 0.0)
	assert.NotNil(t, got.Sensors)
	require.NotNil(t, got.Range.LeftUp)
	require.NotNil(t, got.Range.RightUp)
	assert.Greater(t, got.Range.LeftUp.Left, got.Range.LeftUp.Right)
	require.Len(t, got.Ring, 24)
	for i, r := range got.Ring {
		assert.Equal(t, float64(15*i), r.Angle)
		require.NotEmpty(t, r.By)
		assert.Equal(t, r.By[0].Left, r.Left)
		assert.Equal(t, r.By[0].Right, r.Right)
		for k := 1; k < len(r.By); k++ {
			assert.GreaterOrEqual(t, math.Hypot(r.By[k].Left, r.By[k].Right), math.Hypot(r.By[k-1].Left, r.By[k-1].Right)-0.01)
		}
	}
	assert.Equal(t, "stop Bump stop right", got.Ring[3].By[0].What)
	require.NotEmpty(t, got.Ring[3].Rubber)
	assert.Contains(t, got.Ring[3].Rubber[0].What, "rubber Bump stop")
	assert.Less(t, got.Ring[3].Rubber[0].Left, got.Ring[3].Left)
	assert.InDelta(t, 88.04, got.Ring[3].Left, 0.01)
}

func TestCheckJSON(t *testing.T) {
	var got struct {
		Job, Trial string
		Findings   []struct {
			Kind, Key, What, Number, Where, Sentence string
			Left, Right                              *float64
			SetAside                                 *string
		}
		Range   map[string]any
		Checked string
		Proved  *bool
	}
	strictly(t, run(t, "check", "orchard-sprayer", "--format", "json"), &got)
	require.NotEmpty(t, got.Findings)
	first := got.Findings[0]
	assert.Equal(t, "hits", first.Kind)
	assert.Equal(t, "gap/Panhard rod/Tank shelf", first.Key)
	require.NotNil(t, first.Left)
	assert.InDelta(t, 109.4, *first.Left, 0.2)
	order := []string{"hits", "runs out", "tight", "not known", "outside common practice"}
	at := 0
	for _, f := range got.Findings {
		for at < len(order) && order[at] != f.Kind {
			at++
		}
		require.Less(t, at, len(order), f.Kind)
		assert.NotEmpty(t, f.Sentence)
	}
	require.NotNil(t, got.Proved)
	assert.True(t, *got.Proved)
}

func TestSpan(t *testing.T) {
	for _, tc := range []struct {
		text string
		want []float64
	}{
		{"-10:10:5", []float64{-10, -5, 0, 5, 10}},
		{"10:-10:-10", []float64{10, 0, -10}},
		{"0:10:4", []float64{0, 4, 8}},
		{"3:3:1", []float64{3}},
		{" 1 : 2 : .5 ", []float64{1, 1.5, 2}},
	} {
		got, err := span("--heave", tc.text)
		require.NoError(t, err, tc.text)
		assert.Equal(t, tc.want, got, tc.text)
	}
	many, err := span("--heave", "0:9999.9:0.1")
	require.NoError(t, err)
	assert.Len(t, many, mostPositions)
	assert.Equal(t, 9999.9, many[len(many)-1])
	for _, bad := range []string{"", "1", "1:2", "1:2:3:4", "a:2:1", "0:1:0", "0:1:-1", "1:0:1", "0:inf:1", "0:1:nan", "0:1e300:1", "0:100000:1", "-1e308:1e308:1", "0,5:1:1"} {
		_, err := span("--heave", bad)
		assert.Error(t, err, bad)
	}
}

// However from, step and number are chosen, the end is there and nothing lies beyond it.
func TestSpanProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.Float64Range(-500, 500).Draw(t, "from")
		step := rapid.Float64Range(0.01, 50).Draw(t, "step")
		if rapid.Bool().Draw(t, "down") {
			step = -step
		}
		n := rapid.IntRange(0, 2000).Draw(t, "steps")
		to := from + float64(n)*step
		got, err := span("--heave", number(from)+":"+number(to)+":"+number(step))
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != n+1 || got[0] != from || got[n] != to {
			t.Fatalf("%d positions from %v to %v, want %d from %v to %v", len(got), got[0], got[len(got)-1], n+1, from, to)
		}
	})
}

func TestJoinNegative(t *testing.T) {
	assert.Equal(t, []string{"sweep", "j", "--heave=-5:5:1", "--articulation=-.5:1:.5", "--strict"},
		joinNegative([]string{"sweep", "j", "--heave", "-5:5:1", "--articulation", "-.5:1:.5", "--strict"}))
	assert.Equal(t, []string{"--heave", "--strict"}, joinNegative([]string{"--heave", "--strict"}), "a flag is no number")
	assert.Equal(t, []string{"--heave"}, joinNegative([]string{"--heave"}))
	assert.Equal(t, []string{"--", "--heave", "-1"}, joinNegative([]string{"--", "--heave", "-1"}))
}

// Strings come back from JSON as they went in, and what is written is plain ASCII.
func TestAppendString(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := strings.ToValidUTF8(rapid.String().Draw(t, "s"), "?")
		b := appendString(nil, s)
		var back string
		if err := json.Unmarshal(b, &back); err != nil || back != s {
			t.Fatalf("%q became %q (%v)", s, back, err)
		}
		for _, c := range b {
			if c < 0x20 || c > 0x7e {
				t.Fatalf("%q holds byte %d", b, c)
			}
		}
	})
}

func TestNumber(t *testing.T) {
	assert.Equal(t, "0", number(math.Copysign(0, -1)))
	assert.Equal(t, "", number(math.NaN()))
	assert.Equal(t, "", number(math.Inf(1)))
	assert.Equal(t, "0.1", number(0.1))
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		back, err := strconv.ParseFloat(number(v), 64)
		if err != nil || back != v {
			t.Fatalf("%v became %q", v, number(v))
		}
	})
}

// A full disk or a closed pipe is told, not swallowed.
func TestWriteFails(t *testing.T) {
	for _, sub := range []string{"check", "sweep", "clearance", "limits", "schema"} {
		for _, format := range []string{"table", "csv", "json"} {
			args := []string{sub, "-", "--format", format}
			if sub == "schema" {
				args = args[:1]
			}
			var msg bytes.Buffer
			code := Run(args, bytes.NewReader(assets.Demo("rescue-tender")), fullDisk{}, &msg)
			assert.Equal(t, wrong, code, args)
			assert.Contains(t, msg.String(), "no room", args)
		}
	}
}

// What is no plain file is left alone, by --out too: replacing it would take a device or pipe away.
func TestOutIsNoPlainFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "s")
	l, err := net.Listen("unix", name)
	if err != nil {
		t.Skip(err)
	}
	defer l.Close()
	var out, msg bytes.Buffer
	assert.Equal(t, wrong, Run([]string{"schema", "--out", name}, nil, &out, &msg))
	assert.Contains(t, msg.String(), "is no plain file")
	info, err := os.Stat(name)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeSocket)
}

// A file that fails part-way leaves what was there, and nothing beside it.
func TestOutWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "x.csv")
	require.NoError(t, os.WriteFile(name, []byte("old"), 0o600))
	e := &env{ctx: t.Context()}
	err := e.output(name, func(w io.Writer) error {
		_, err := w.Write(make([]byte, 1<<20))
		require.NoError(t, err)
		return fail(couldNot, "half-way")
	})
	require.EqualError(t, err, "half-way")
	b, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "old", string(b))
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, list, 1)
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, fmt.Errorf("no room") }
