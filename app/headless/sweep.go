package headless

import (
	"fmt"
	"io"
	"runtime"
	"strconv"
	"strings"
	"sync"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

const (
	chunk          = 64 // positions a worker takes at a time
	rangePositions = 61 // of a sweep over the range
)

type sweepCmd struct {
	common
	Heave        string `placeholder:"FROM:TO:STEP" help:"Both wheels together, mm, bump positive. With --articulation: every combination of the two."`
	Articulation string `placeholder:"FROM:TO:STEP" help:"Crossed up, deg, left wheel up positive; at ride height without --heave."`
	Poses        string `placeholder:"FILE" help:"Positions from a CSV file with the columns left_mm,right_mm; - reads standard input."`
	Load         string `placeholder:"NAME" help:"The load that anti-squat, anti-lift and roll centre are for; the first one if left out."`
	Speed        string `placeholder:"RPM" help:"The shaft speed, rev/min, that shaft accelerations are told at, instead of the job's own."`
}

// Help is what --help adds.
func (*sweepCmd) Help() string {
	return "Without --heave, --articulation and --poses: the range in heave, 61 positions from full droop to full bump. The end of FROM:TO:STEP is included where a step lands on it; " +
		"at most 100 000 positions. A position that cannot be reached has a row with empty cells (in JSON \"reached\": false) and is told on standard error; the exit status is 3 only where none could be reached."
}

// Run writes the sweep.
func (c *sweepCmd) Run(e *env) error {
	j, err := e.load(&c.common)
	if err != nil {
		return err
	}
	if c.Poses != "" && (c.Heave != "" || c.Articulation != "") {
		return fail(wrong, "--poses tells every position itself; leave out --heave and --articulation, or leave out --poses.")
	}
	if c.Poses == "-" && c.Job == "-" {
		return fail(wrong, "The job and the positions cannot both come from standard input.")
	}
	load, err := chooseLoad(j, c.Load)
	if err != nil {
		return err
	}
	if err := c.turn(j); err != nil {
		return err
	}
	if err := movable(j); err != nil {
		return err
	}
	s := study.Compile(j)
	spots, err := c.spots(e, j, s)
	if err != nil {
		return err
	}
	run := &sweepRun{m: s.Mech, load: load, spots: spots, reached: make([]bool, len(spots)), bar: e.progress(len(spots), "sweeping")}
	err = e.output(c.Out, func(w io.Writer) error {
		defer run.bar.end()
		switch c.Format {
		case "csv":
			return run.csv(e, w)
		case "json":
			return run.json(e, w)
		}
		return run.table(e, w, j, &c.common)
	})
	if err != nil {
		return err
	}
	if err := run.tell(e); err != nil {
		return err
	}
	return e.strict(&c.common, j, nil)
}

// turn gives the job's shaft the speed asked for.
func (c *sweepCmd) turn(j *job.Job) error {
	if c.Speed == "" {
		return nil
	}
	rpm, err := strconv.ParseFloat(strings.TrimSpace(c.Speed), 64)
	if err != nil || !(rpm > 0 && rpm <= job.MostSpeed) {
		return fail(wrong, "--speed takes a shaft speed above 0, up to %s rev/min; it was given %q.", number(job.MostSpeed), c.Speed)
	}
	if j.Driveline == nil || j.Axle == nil || j.Axle.Pinion == nil {
		return fail(wrong, "This job has no driveshaft, so there is nothing to tell at a shaft speed. Leave --speed out, or give driveline and axle.pinion.")
	}
	j.Driveline.Speed = &rpm
	return nil
}

// chooseLoad is the load by its name, the first without one.
func chooseLoad(j *job.Job, name string) (*quantity.Load, error) {
	loads := quantity.Loads(j)
	if name == "" {
		return &loads[0], nil
	}
	var names []string
	for i := range loads {
		if !loads[i].Has {
			continue
		}
		if loads[i].Name == name {
			return &loads[i], nil
		}
		names = append(names, loads[i].Name)
	}
	if len(names) == 0 {
		return nil, fail(wrong, "There is no load called %q: this job gives no loads. Leave --load out.", name)
	}
	return nil, fail(wrong, "There is no load called %q.%s", name, hint(name, names))
}

// hint names the nearest known name, or all of them.
func hint(name string, known []string) string {
	if near := job.Nearest(name, known); near != "" {
		return fmt.Sprintf(" Did you mean %q?", near)
	}
	quoted := make([]string, len(known))
	for i, k := range known {
		quoted[i] = strconv.Quote(k)
	}
	return " Known: " + strings.Join(quoted, ", ") + "."
}

// spots are the positions asked for.
func (c *sweepCmd) spots(e *env, j *job.Job, s *study.Study) ([]spot, error) {
	if c.Poses != "" {
		return e.readPoses(c.Poses)
	}
	heaves, turns := []float64{0}, []float64{0}
	var err error
	if c.Articulation != "" {
		if turns, err = span("--articulation", c.Articulation); err != nil {
			return nil, err
		}
	}
	switch {
	case c.Heave != "":
		if heaves, err = span("--heave", c.Heave); err != nil {
			return nil, err
		}
	case c.Articulation == "":
		s = study.WithRange(j)
		if !s.Bounded() {
			return nil, fail(wrong, "%s Or name the positions: --heave FROM:TO:STEP.", s.RangeNote)
		}
		heaves = heaves[:0]
		from, to := -s.Range.Droop, s.Range.Bump
		for i := range rangePositions {
			heaves = append(heaves, from+(to-from)*float64(i)/(rangePositions-1))
		}
		heaves[rangePositions-1] = to
		e.say("Both wheels together over the range: %d positions from %s to %s.", rangePositions, s.Travels(from, from), s.Travels(to, to))
	}
	return grid(heaves, turns, s.Mech.Track)
}

// sweepRun is one sweep under way.
type sweepRun struct {
	m       *motion.Mechanism
	load    *quantity.Load
	spots   []spot
	reached []bool
	first   string // why the first position that was not reached was not
	bar     *progress
}

// worker solves the positions of one chunk after another.
type worker struct {
	solver *motion.Solver
	pose   motion.Pose
	rates  motion.Rates
	vals   *quantity.Values
}

// chunks solves every position, chunk by chunk on several workers, and hands what render made of each chunk to put in the order asked.
// render is called with a nil *Values where a position was not reached.
func (r *sweepRun) chunks(e *env, render func(b []byte, i int, v *quantity.Values) []byte, put func([]byte) error) error {
	const ahead = 4 // chunks a worker
	n := (len(r.spots) + chunk - 1) / chunk
	workers := min(runtime.GOMAXPROCS(0), n)
	ws := make([]worker, workers)
	for i := range ws {
		ws[i] = worker{solver: r.m.NewSolver(), vals: quantity.NewValues(r.m)}
	}
	texts := make([][]byte, workers*ahead)
	words := make([]string, workers*ahead)
	for at := 0; at < n; at += len(texts) {
		if e.ctx.Err() != nil {
			return e.ctx.Err()
		}
		count := min(len(texts), n-at)
		var wg sync.WaitGroup
		for k := range ws {
			wg.Go(func() {
				for i := k; i < count; i += workers {
					texts[i], words[i] = r.chunk(&ws[k], (at+i)*chunk, texts[i][:0], render)
				}
			})
		}
		wg.Wait()
		for i := range count {
			if r.first == "" {
				r.first = words[i]
			}
			if err := put(texts[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// chunk solves one chunk. Each position is marched to from ride height, so its digits are the same in whatever sweep it stands.
func (r *sweepRun) chunk(w *worker, from int, b []byte, render func([]byte, int, *quantity.Values) []byte) (text []byte, words string) {
	to := min(from+chunk, len(r.spots))
	for i := from; i < to; i++ {
		s := r.spots[i]
		err := w.solver.Solve(s.left, s.right, &w.pose)
		if err == nil {
			err = w.solver.Rates(&w.pose, &w.rates)
		}
		if err != nil {
			if words == "" {
				words = fmt.Sprintf("the first is left %s, right %s mm: %s", number(s.left), number(s.right), motionWords(err))
			}
			b = render(b, i, nil)
			continue
		}
		r.reached[i] = true
		quantity.Eval(r.m, &w.pose, &w.rates, r.load, w.vals)
		b = render(b, i, w.vals)
	}
	r.bar.add(to - from)
	return b, words
}

// tell says how many positions were not reached; an error where none was.
func (r *sweepRun) tell(e *env) error {
	missed := 0
	for _, ok := range r.reached {
		if !ok {
			missed++
		}
	}
	switch {
	case missed == 0:
		return nil
	case missed == len(r.spots):
		return fail(couldNot, "None of the %d positions could be reached; %s", missed, r.first)
	}
	e.say("%d of %d positions could not be reached; %s", missed, len(r.spots), r.first)
	return nil
}
