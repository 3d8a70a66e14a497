package headless

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// whole reads a job, trials included; "-" is standard input.
func (e *env) whole(name string) (j *job.Job, err error) {
	if name == "-" {
		if j, err = job.Read(e.stdin); err != nil {
			return nil, fileFailure(name, err)
		}
		return j, nil
	}
	e.read = append(e.read, name)
	if j, err = job.ReadFile(name); err != nil {
		return nil, fileFailure(name, err)
	}
	j.Folder = filepath.Dir(name)
	for _, file := range job.FilesBeside(j) {
		e.read = append(e.read, filepath.Join(j.Folder, file))
	}
	return j, nil
}

// load reads a job and chooses its trial.
func (e *env) load(c *common) (*job.Job, error) {
	j, err := e.whole(c.Job)
	if err != nil {
		return nil, err
	}
	e.strays = edit.Strays(j)
	if j, err = j.WithTrial(c.Trial); err != nil {
		return nil, fail(wrong, "%v", err)
	}
	// what was set aside in another geometry need not be in this one
	j.SetAside = slices.DeleteFunc(j.SetAside, func(a job.SetAside) bool { return a.Trial != c.Trial })
	return j, nil
}

// fileFailure words what is wrong with a job file: every complaint, a line each.
func fileFailure(name string, err error) error {
	var bad *job.Error
	if !errors.As(err, &bad) {
		return fail(wrong, "%s: %v", name, err)
	}
	var b strings.Builder
	for _, c := range bad.Complaints {
		fmt.Fprintf(&b, "%s: %s\n", name, c)
	}
	return &wrongFile{failure{wrong, b.String()}, bad}
}

// wrongFile is a failure with a list of complaints.
type wrongFile struct {
	failure
	list *job.Error
}

// Unwrap returns the failure with its exit status.
func (w *wrongFile) Unwrap() error { return &w.failure }

// loadMovable loads a job whose axle can be moved.
func (e *env) loadMovable(c *common) (*job.Job, error) {
	j, err := e.load(c)
	if err == nil {
		err = movable(j)
	}
	return j, err
}

// movable refuses a job whose axle cannot be moved: not located is the job's fault, more members than can be moved are ours.
func movable(j *job.Job) error {
	_, err := motion.Compile(j)
	if err == nil {
		return nil
	}
	code := couldNot
	var m *motion.Error
	if errors.As(err, &m) && m.Kind == motion.NotLocated {
		code = wrong
	}
	return fail(code, "%s", motionWords(err))
}

// motionWords is the plain sentence of an error of the solver.
func motionWords(err error) string {
	var m *motion.Error
	if errors.As(err, &m) {
		return m.Words
	}
	return err.Error()
}

// closeEnough is how many mm may lie between gaps found and gaps proved where nothing else is asked for.
const closeEnough = 0.5

// study works the whole job out, its smallest gaps proved to within some mm.
func (e *env) study(j *job.Job, within float64) (*study.Study, error) {
	if s := e.worked[within]; s != nil {
		return s, nil
	}
	const steps = 1000
	p := e.progress(steps, "working out")
	s := study.NewFrom(e.ctx, j, study.Full, study.From{Within: within, Tell: func(done float64) { p.reach(int64(steps * done)) }})
	p.end()
	if s == nil {
		return nil, fail(couldNot, "")
	}
	if e.worked != nil {
		e.worked[within] = s
	}
	return s, nil
}

// strict ends with status 1 where the flag is given and the job has findings.
func (e *env) strict(c *common, j *job.Job, s *study.Study) error {
	if !c.Strict {
		return nil
	}
	if s == nil {
		var err error
		if s, err = e.study(j, closeEnough); err != nil {
			return err
		}
	}
	var n [study.Outside + 1]int
	total := 0
	for i := range s.Findings {
		if f := &s.Findings[i]; f.Serious() {
			n[f.Kind]++
			total++
		}
	}
	if total == 0 {
		return nil
	}
	var parts []string
	for k := study.Hits; k <= study.Tight; k++ {
		if n[k] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[k], strings.ToLower(k.String())))
		}
	}
	return fail(found, "The job has findings: %s. axlesheet check tells them.", strings.Join(parts, ", "))
}

// progress shows long work where standard error is a terminal; nothing before a second has gone by.
type progress struct {
	count      atomic.Int64
	stop, gone chan struct{}
}

// progress starts showing work of n steps, -1 where the number is not known.
func (e *env) progress(n int, what string) *progress {
	p := &progress{}
	f, ok := e.stderr.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return p
	}
	p.stop, p.gone = make(chan struct{}), make(chan struct{})
	go func() {
		defer close(p.gone)
		select {
		case <-p.stop:
			return
		case <-time.After(time.Second):
		}
		bar := progressbar.NewOptions(n, progressbar.OptionSetWriter(f), progressbar.OptionSetDescription(what),
			progressbar.OptionClearOnFinish(), progressbar.OptionSetWidth(30), progressbar.OptionSpinnerType(14))
		for {
			if n < 0 {
				_ = bar.Add(1)
			} else {
				_ = bar.Set64(p.count.Load())
			}
			select {
			case <-p.stop:
				_ = bar.Clear()
				return
			case <-time.After(100 * time.Millisecond):
			}
		}
	}()
	return p
}

// add tells that n more steps are done.
func (p *progress) add(n int) { p.count.Add(int64(n)) }

// reach tells that n steps are done, unless more were already.
func (p *progress) reach(n int64) {
	for was := p.count.Load(); n > was && !p.count.CompareAndSwap(was, n); was = p.count.Load() {
	}
}

// end takes the bar away.
func (p *progress) end() {
	if p.stop != nil {
		close(p.stop)
		<-p.gone
	}
}
