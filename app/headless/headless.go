// Package headless is the command axlesheet: what the window computes, from the same code, written as tables, CSV, JSON and chart files.
//
// Lengths in CSV and JSON are mm, forces N, angles degrees, with the shortest digits that read back the same double. A value that does not exist
// is an empty cell or null. Exit status: 0 done; 1 the job has findings and --strict was given; 2 the job or the call is wrong; 3 the solver could not.
package headless

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"

	"axleloft/app/study"

	"github.com/alecthomas/kong"
)

// The exit statuses.
const (
	done     = 0
	found    = 1
	wrong    = 2
	couldNot = 3
)

const description = `Works out a link suspension job without a window.

Results go to standard output, messages to standard error. Exit status: 0 done; 1 the job has findings (hits, runs out, tight, not set aside) and
--strict was given; 2 the job or the call is wrong, an axle that its links do not hold included; 3 the solver could not.

Geometry aid; not a certificate, not a strength check.`

// commands are the sub-commands, one a sheet.
type commands struct {
	Check     checkCmd     `cmd:"" help:"Findings: what hits, runs out or is tight, what is not known, what lies outside common practice."`
	Sweep     sweepCmd     `cmd:"" help:"Quantities over the travel."`
	Clearance clearanceCmd `cmd:"" help:"Smallest gaps over the range, tightest first, and what is proved of them."`
	Limits    limitsCmd    `cmd:"" help:"The range, what stops the axle first in 24 directions, getting home, and extremes over the range."`
	Heights   heightsCmd   `cmd:"" help:"Each quantity at each height and load, and what changes between them."`
	Compare   compareCmd   `cmd:"" help:"The job as drawn and its trials side by side, and in words what differs."`
	Lowest    lowestCmd    `cmd:"" help:"How high everything stands above the ground, ramp, departure and approach angles."`
	Tyres     tyresCmd     `cmd:"" help:"What the next size of tyre up, or chains, would touch and change."`
	Tank      tankCmd      `cmd:"" help:"A tank's litres, what moving parts take of it, the cut that clears them, its dip table."`
	Swept     sweptCmd     `cmd:"" help:"The room a moving part takes over the range: sections, a drawing to scale, a solid as STL."`
	Plot      plotCmd      `cmd:"" help:"Charts over the travel, as PNG, SVG, PDF or CSV."`
	Report    reportCmd    `cmd:"" help:"Sheets to hand over, as PDF: for the owner, the engineer, the tank maker, the bench ..."`
	Links     linksCmd     `cmd:"" help:"What is cut: links centre to centre, tubes, masses, how far the ends screw."`
	Bolts     boltsCmd     `cmd:"" help:"Whether bolts can be drawn out, at ride height, full bump and full droop."`
	Holes     holesCmd     `cmd:"" help:"Every combination of the bolt holes pivots have, each over the whole range, to sort."`
	Places    placesCmd    `cmd:"" help:"Where a pivot could sit: free, tight, runs out, hits, square by square."`
	Outline   outlineCmd   `cmd:"" help:"A view of the whole job drawn to scale, as DXF, SVG or PDF."`
	Template  templateCmd  `cmd:"" help:"The plates of a pivot's bracket full size, as PDF on pages, SVG or DXF."`
	Tables    tablesCmd    `cmd:"" help:"Everything there is as CSV, a file a table, into a folder."`
	Solids    solidsCmd    `cmd:"" help:"The parts in the way, and the room moving parts take, as STL files into a folder."`
	Schema    schemaCmd    `cmd:"" help:"The JSON Schema of job files."`
}

// common are the flags of every sub-command that reads a job and writes figures.
type common struct {
	Job    string `arg:"" help:"The job file; - reads standard input."`
	Format string `enum:"table,csv,json" default:"table" help:"table, csv or json."`
	Out    string `short:"o" placeholder:"FILE" help:"Write the result to FILE, whole or not at all, instead of standard output."`
	Trial  string `placeholder:"NAME" help:"A trial the job keeps, instead of the job as drawn."`
	Strict bool   `help:"Exit 1 where anything hits, runs out or is tight and is not set aside."`
}

// failure is an end with an exit status; Words are sentences, a line each, and may be empty where all has been said.
type failure struct {
	code  int
	words string
}

// Error is the failure's words.
func (f *failure) Error() string { return f.words }

func fail(code int, format string, args ...any) error {
	return &failure{code, fmt.Sprintf(format, args...)}
}

// env is what a sub-command works with.
type env struct {
	ctx            context.Context
	stdin          io.Reader
	stdout, stderr io.Writer

	worked      map[float64]*study.Study // where many tables are of one job and trial: by how near gaps are proved; nil: each call works out its own
	strays      []string                 // sentences about what the job last loaded has for no pivot
	read, wrote []string                 // files this call has read or may read, and those it has written
}

// say writes a message.
func (e *env) say(format string, args ...any) {
	fmt.Fprintf(e.stderr, "axlesheet: "+format+"\n", args...)
}

// leave carries an exit status out of the command line's parser.
type leave int

// Run runs the command with its arguments (without its name) and returns its exit status. It writes files only where the arguments say so.
func Run(args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	e := &env{ctx: ctx, stdin: stdin, stdout: stdout, stderr: stderr}
	defer func() {
		if r := recover(); r != nil {
			l, ok := r.(leave)
			if !ok {
				panic(r)
			}
			code = int(l)
		}
	}()
	parser, err := kong.New(&commands{}, kong.Name("axlesheet"), kong.Description(description), kong.Writers(stdout, stderr),
		kong.Exit(func(code int) { panic(leave(code)) }), kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 110}))
	if err != nil {
		e.say("%v", err)
		return wrong
	}
	var names []string
	for _, n := range parser.Model.Children {
		names = append(names, n.Name)
	}
	switch {
	case len(args) == 0:
		e.say("Which sheet? axlesheet SUB JOB, where SUB is %s. axlesheet --help tells more.", strings.Join(names, ", "))
		return wrong
	case !strings.HasPrefix(args[0], "-") && !slices.Contains(names, args[0]):
		e.say("There is no sub-command called %q.%s", args[0], hint(args[0], names))
		return wrong
	}
	c, err := parser.Parse(joinNegative(args))
	if err != nil {
		e.say("%s. axlesheet --help, or axlesheet SUB --help, tells what there is.", strings.TrimRight(err.Error(), ". "))
		return wrong
	}
	return e.end(c.Run(e))
}

// end says what went wrong, if anything, and turns it into an exit status.
func (e *env) end(err error) int {
	if err == nil {
		return done
	}
	code := wrong
	var f *failure
	if errors.As(err, &f) {
		code = f.code
	}
	if e.ctx.Err() != nil {
		e.say("Stopped. Nothing was written to a file.")
		return couldNot
	}
	if words := err.Error(); words != "" {
		for line := range strings.Lines(words) {
			e.say("%s", strings.TrimSuffix(line, "\n"))
		}
	}
	return code
}

// joinNegative joins "--heave -100:100:5" to "--heave=-100:100:5", so that the minus sign of a number is not read as a flag's.
func joinNegative(args []string) []string {
	out := make([]string, 0, len(args))
	for i := 0; i < len(args); i++ {
		a := args[i]
		if a == "--" {
			return append(out, args[i:]...)
		}
		if strings.HasPrefix(a, "--") && !strings.Contains(a, "=") && i+1 < len(args) && negative(args[i+1]) {
			a += "=" + args[i+1]
			i++
		}
		out = append(out, a)
	}
	return out
}

func negative(s string) bool {
	return len(s) > 1 && s[0] == '-' && (s[1] == '.' || s[1] >= '0' && s[1] <= '9')
}
