// Command gaps times, in one run, the proof of the smallest gap of every pair beside sampling the range with the Flexible Collision Library (the program
// gaps.cpp beside it), and tells how much sampling misses. Each job's proof is of all pairs, none left out, to 0.5 mm, the cells of positions included, on one core; so is the sampling.
//
// usage: gaps FCL-PROGRAM BUILD-DIRECTORY JOB...
//
// FCL_STRIDE=n leaves the sampling only every n-th row of the grid; its time is then told as measured and, apart, as that of all rows.
package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"

	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	grid = 201 // positions each way for the library
	runs = 5   // proofs before the sampling, and as many after
)

var toHalf = clearance.Closeness{Width: 0.5, Far: math.Inf(1), Most: 20_000}

func main() {
	if len(os.Args) < 4 {
		fmt.Fprintln(os.Stderr, "usage: gaps FCL-PROGRAM BUILD-DIRECTORY JOB...")
		os.Exit(2)
	}
	stride := 1
	if s := os.Getenv("FCL_STRIDE"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 {
			fmt.Fprintf(os.Stderr, "gaps: FCL_STRIDE is %q; it must be a whole number from 1\n", s)
			os.Exit(2)
		}
		stride = n
	}
	for _, file := range os.Args[3:] {
		if err := compare(os.Args[1], os.Args[2], file, stride); err != nil {
			fmt.Fprintf(os.Stderr, "gaps: %s: %v\n", filepath.Base(file), err)
			os.Exit(1)
		}
	}
}

// bench is a job with its range.
type bench struct {
	m *motion.Mechanism
	c *clearance.Model
	r *limits.Range
}

func compare(program, build, file string, stride int) error {
	b, err := open(file)
	if err != nil {
		return err
	}
	took, err := b.prove(runs)
	if err != nil {
		return err
	}
	found, err := limits.Gaps(context.Background(), b.m, b.c, b.r, toHalf, limits.Search{Grid: 41, Refine: true, Workers: 1})
	if err != nil {
		return err
	}
	name := strings.TrimSuffix(filepath.Base(file), ".axleloft")
	data := filepath.Join(build, name+".places")
	positions, err := b.write(data, stride)
	if err != nil {
		return err
	}
	out, err := exec.Command(program, data).Output()
	if err != nil {
		return fmt.Errorf("%w: %s", err, stderrOf(err))
	}
	var every, boxed float64
	least := make([]float64, len(b.c.Pairs))
	lines := bufio.NewScanner(bytes.NewReader(out))
	for i := -1; i < len(least); i++ {
		if !lines.Scan() {
			return errors.New("the library's program said too little")
		}
		if i < 0 {
			_, err = fmt.Sscan(lines.Text(), &every, &boxed)
		} else {
			_, err = fmt.Sscan(lines.Text(), &least[i])
		}
		if err != nil {
			return err
		}
	}
	again, err := b.prove(runs)
	if err != nil {
		return err
	}
	took = min(took, again)
	kind := "exactly located"
	if b.m.OverLocated {
		kind = "least energy"
	}
	fmt.Printf("%s (%s): %d pairs\n", name, kind, len(b.c.Pairs))
	fmt.Printf("  our proof of all pairs to 0.5 mm, cells included: %6.1f ms (least of %d)\n", 1e3*took, 2*runs)
	tell := func(words string, seconds float64) {
		fmt.Printf("  %s: %6.2f s, %.0f times as long", words, seconds, seconds/took)
		if stride > 1 {
			all := seconds * grid / float64((grid-1)/stride+1)
			fmt.Printf(" for 1 row in %d; of all rows, worked out from that: %.2f s, %.0f times", stride, all, all/took)
		}
		fmt.Println()
	}
	tell(fmt.Sprintf("FCL at %d positions of the range, every gap measured", positions), every)
	tell("the same, pairs passed over whose boxes stand further apart than the least so far", boxed)
	fmt.Print("  sampling missed, at most over the pairs (sampled less found): ")
	var words []string
	for _, n := range []int{15, 41} {
		words = append(words, b.missed(fmt.Sprintf("%d x %d", n, n), b.sample(n), found))
	}
	full := fmt.Sprintf("%d x %d", grid, grid)
	if stride > 1 {
		full += fmt.Sprintf(" (1 row in %d)", stride)
	}
	words = append(words, b.missed(full, least, found))
	fmt.Println(strings.Join(words, "; "))
	return nil
}

func stderrOf(err error) string {
	var e *exec.ExitError
	if errors.As(err, &e) {
		return strings.TrimSpace(string(e.Stderr))
	}
	return ""
}

func open(file string) (*bench, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	j, err := job.Read(f)
	if err != nil {
		return nil, err
	}
	b := &bench{}
	if b.m, err = motion.Compile(j); err != nil {
		return nil, err
	}
	if b.c, err = clearance.Compile(j, b.m); err != nil {
		return nil, err
	}
	b.r, err = limits.Find(b.m, 96)
	return b, err
}

// seconds is what this process has had of the machine so far, collecting garbage included: what else runs is not counted.
func seconds() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic("gaps: no clock: " + err.Error())
	}
	return float64(u.Utime.Sec+u.Stime.Sec) + 1e-6*float64(u.Utime.Usec+u.Stime.Usec)
}

// prove is the least time of some proofs, in seconds.
func (b *bench) prove(n int) (float64, error) {
	least := math.Inf(1)
	for range n {
		start := seconds()
		pairs, why, err := limits.Prove(context.Background(), b.m, b.c, b.r, toHalf, 1)
		took := seconds() - start
		if err != nil {
			return 0, err
		}
		if why != "" {
			return 0, errors.New(why)
		}
		for i := range pairs {
			if pairs[i].Why != "" || pairs[i].Gap.Gap-pairs[i].NotLess > toHalf.Width+1e-6 {
				return 0, fmt.Errorf("%s is not proved to %v mm", b.name(i), toHalf.Width)
			}
		}
		least = min(least, took)
	}
	return least, nil
}

func (b *bench) name(pair int) string {
	p := b.c.Pairs[pair]
	return b.c.Parts[p.A].Name + " / " + b.c.Parts[p.B].Name
}

// missed says how much a sampled minimum is above what is found, at most.
func (b *bench) missed(words string, least []float64, found []limits.Proved) string {
	worst, at := math.Inf(-1), 0
	for i := range least {
		if d := least[i] - found[i].Gap.Gap; d > worst {
			worst, at = d, i
		}
	}
	return fmt.Sprintf("%s %.2f mm (%s)", words, worst, b.name(at))
}

// each goes through n x n positions of the range, every stride-th row: n left travels from the least to the largest, and of each n right travels across the range. Where the outline lies
// within the straight lines between its known places, positions are drawn in to it.
func (b *bench) each(n, stride int, visit func(p *motion.Pose)) {
	lo, hi := b.r.Box()
	s, last := b.m.NewSolver(), b.m.Ride()
	var p motion.Pose
	for i := 0; i < n; i += stride {
		left := lo.Left + (hi.Left-lo.Left)*float64(i)/float64(n-1)
		low, high := b.across(left)
		for k := range n {
			right := low + (high-low)*float64(k)/float64(n-1)
			if s.SolveFrom(&last, left, right, &p) != nil || !b.r.Within(&p) {
				l, r, _ := b.r.Clamp(left, right)
				if s.Solve(l, r, &p) != nil {
					continue
				}
			}
			last = p
			visit(&p)
		}
	}
}

// across is the least and the largest right travel of the outline at a left one.
func (b *bench) across(left float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range b.r.Edge {
		p, q := &b.r.Edge[i], &b.r.Edge[(i+1)%len(b.r.Edge)]
		if (p.Left-left)*(q.Left-left) > 0 {
			continue
		}
		t := 0.0
		if d := q.Left - p.Left; d != 0 {
			t = (left - p.Left) / d
		}
		at := p.Right + t*(q.Right-p.Right)
		low, high = min(low, at), max(high, at)
	}
	return low, high
}

// sample is the least gap of every pair on an n x n grid, by our own distances.
func (b *bench) sample(n int) []float64 {
	least := make([]float64, len(b.c.Pairs))
	for i := range least {
		least[i] = math.Inf(1)
	}
	sc, uses := b.c.NewScratch(), make([]quantity.LinkUse, len(b.m.Links))
	var g clearance.Gap
	b.each(n, 1, func(p *motion.Pose) {
		quantity.Links(b.m, p, uses)
		sc.Place(p, uses)
		for i := range least {
			if sc.AtLeast(i) < least[i] {
				sc.Gap(i, &g)
				least[i] = min(least[i], g.Gap)
			}
		}
	})
	return least
}

// stream writes numbers, all as 64-bit floats.
type stream struct {
	w   io.Writer
	err error
}

func (s *stream) put(v ...float64) {
	if s.err == nil {
		s.err = binary.Write(s.w, binary.LittleEndian, v)
	}
}

func (s *stream) vec(v ...r3.Vec) {
	for _, p := range v {
		s.put(p.X, p.Y, p.Z)
	}
}

// write hands the library's program the shapes once and, of each position, where the axle stands and where each bar between axle and frame runs. It returns how many positions there are.
func (b *bench) write(file string, stride int) (positions int, err error) {
	f, err := os.Create(file)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	buffer := bufio.NewWriterSize(f, 1<<20)
	s := &stream{w: buffer}
	sc, uses := b.c.NewScratch(), make([]quantity.LinkUse, len(b.m.Links))
	place := func(p *motion.Pose) {
		quantity.Links(b.m, p, uses)
		sc.Place(p, uses)
	}
	ride := b.m.Ride()
	place(&ride)
	index := map[*shape.Solid]int{}
	var solids []*shape.Solid
	var bodies []clearance.Body
	var pairs []float64
	of := func(k *shape.Solid, part int) float64 {
		i, known := index[k]
		if !known {
			i = len(solids)
			index[k] = i
			solids, bodies = append(solids, k), append(bodies, b.c.Parts[part].Body)
		}
		return float64(i)
	}
	for i, p := range b.c.Pairs {
		x, y := sc.Sides(i)
		pairs = append(pairs, of(x, p.A), of(y, p.B))
	}
	var places []motion.Pose
	b.each(grid, stride, func(p *motion.Pose) { places = append(places, *p) })
	s.put(float64(len(solids)), float64(len(b.c.Pairs)), float64(len(places)))
	for i, k := range solids {
		s.put(float64(bodies[i]), float64(len(k.Pieces)))
		for n := range k.Pieces {
			p := k.Pieces[n]
			if bodies[i] == clearance.OnAxle { // as seen from the axle
				p.Place(r3.Scale(-1, ride.C), r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, &p)
			}
			if err := s.piece(&p); err != nil {
				return 0, err
			}
		}
	}
	s.put(pairs...)
	for n := range places {
		p := &places[n]
		place(p)
		s.vec(p.C, p.Ex, p.Ey, p.Ez)
		for i, k := range solids {
			if bodies[i] == clearance.Between {
				for n := range k.Pieces {
					s.vec(k.Pieces[n].A, k.Pieces[n].B)
				}
			}
		}
	}
	if s.err == nil {
		s.err = buffer.Flush()
	}
	return len(places), s.err
}

// piece writes a kind, its radius, and what it is.
func (s *stream) piece(p *shape.Piece) error {
	switch p.Kind {
	case shape.Point:
		s.put(0, p.Radius)
		s.vec(p.A)
	case shape.Segment:
		s.put(1, p.Radius)
		s.vec(p.A, p.B)
	case shape.Drum:
		s.put(2, p.Radius)
		s.vec(p.A, p.Axis)
		s.put(p.Half, p.Rho)
	case shape.Polytope:
		v := make([]r3.Vec, len(p.Hull.V))
		for i := range v {
			v[i] = p.Vertex(i)
		}
		if centre, axes, half, ok := box(v, p.Hull); ok {
			s.put(3, p.Radius)
			s.vec(centre, axes[0], axes[1], axes[2])
			s.put(half[:]...)
			break
		}
		s.put(4, p.Radius, float64(len(v)))
		s.vec(v...)
		s.put(float64(len(p.Hull.Faces)))
		for _, loop := range p.Hull.Faces {
			s.put(float64(len(loop)))
			for _, k := range loop {
				s.put(float64(k))
			}
		}
	default:
		return errors.New("meshes are not compared")
	}
	return nil
}

// box tells whether a hull is a box, and how it stands: the library has boxes of their own, which are quicker.
func box(v []r3.Vec, h *shape.Hull) (centre r3.Vec, axes [3]r3.Vec, half [3]float64, ok bool) {
	if len(v) != 8 || len(h.Faces) != 6 {
		return
	}
	n := 0
	for _, e := range h.Edges { // the three at the first corner
		if e[0] != 0 && e[1] != 0 {
			continue
		}
		d := r3.Sub(v[e[0]+e[1]], v[0])
		if n == 3 {
			return
		}
		half[n] = r3.Norm(d) / 2
		axes[n] = r3.Unit(d)
		n++
	}
	if n != 3 || math.Abs(r3.Dot(axes[0], axes[1]))+math.Abs(r3.Dot(axes[1], axes[2]))+math.Abs(r3.Dot(axes[2], axes[0])) > 1e-12 {
		return
	}
	centre = v[0]
	for k := range axes {
		centre = r3.Add(centre, r3.Scale(half[k], axes[k]))
	}
	if r3.Dot(axes[2], r3.Cross(axes[0], axes[1])) < 0 {
		axes[2] = r3.Scale(-1, axes[2])
	}
	// A hull of eight corners and six faces with a square corner may still be no box.
	for _, p := range v {
		d := r3.Sub(p, centre)
		for k := range axes {
			if math.Abs(math.Abs(r3.Dot(d, axes[k]))-half[k]) > 1e-9 {
				return
			}
		}
	}
	return centre, axes, half, true
}
