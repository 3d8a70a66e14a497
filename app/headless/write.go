package headless

import (
	"bufio"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"unicode/utf8"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// output hands write a place to write to: standard output, or a file that is put in place when all of it is there.
func (e *env) output(file string, write func(w io.Writer) error) error {
	if file == "" {
		w := bufio.NewWriterSize(e.stdout, 1<<16)
		err := write(w)
		if err == nil {
			err = w.Flush()
		}
		var f *failure
		if err == nil || errors.As(err, &f) || e.ctx.Err() != nil {
			return err
		}
		return fail(wrong, "The result was not written whole: %s.", job.MachineWords(err))
	}
	name, err := job.Target(file)
	if err != nil {
		return fail(wrong, "%v", err)
	}
	if err := e.free(file); err != nil {
		return err
	}
	p, err := newPending(name)
	if err != nil {
		return fail(wrong, "%v", job.NotWritten(file, err))
	}
	defer p.discard()
	w := bufio.NewWriterSize(p, 1<<16)
	if err := write(w); err != nil {
		var f *failure
		if errors.As(err, &f) || e.ctx.Err() != nil {
			return err
		}
		return fail(wrong, "%v", job.NotWritten(file, err))
	}
	if err := w.Flush(); err != nil {
		return fail(wrong, "%v", job.NotWritten(file, err))
	}
	if err := p.commit(); err != nil {
		return fail(wrong, "%v", job.NotWritten(file, err))
	}
	e.wrote = append(e.wrote, file)
	return nil
}

// free refuses to write over what this call reads, the job above all, or has just written.
func (e *env) free(file string) error {
	for _, other := range e.read {
		if same(file, other) {
			return fail(wrong, "%s is read by this call, so nothing is written over it. Give another name.", file)
		}
	}
	for _, other := range e.wrote {
		if same(file, other) {
			return fail(wrong, "%s is written already by this call. Give the two results names of their own.", file)
		}
	}
	return nil
}

// same reports whether two names are of one file that is there.
func same(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

// appendNumber writes the shortest digits that read back the same double; nothing where there is no value. Never "-0".
func appendNumber(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return b
	}
	return strconv.AppendFloat(b, v+0, 'g', -1, 64)
}

func number(v float64) string { return string(appendNumber(nil, v)) }

// jsonText builds JSON with its keys in order, numbers as in CSV and null for what has no value.
type jsonText struct {
	b     []byte
	comma bool
}

func (t *jsonText) next() {
	if t.comma {
		t.b = append(t.b, ',', ' ')
	}
	t.comma = true
}

// line starts a new line before the next value.
func (t *jsonText) line() {
	if t.comma {
		t.b = append(t.b, ',')
	}
	t.b = append(t.b, '\n')
	t.comma = false
}

func (t *jsonText) open(c byte) {
	t.next()
	t.b = append(t.b, c)
	t.comma = false
}

func (t *jsonText) close(c byte) {
	t.b = append(t.b, c)
	t.comma = true
}

func (t *jsonText) key(k string) {
	t.next()
	t.b = appendString(t.b, k)
	t.b = append(t.b, ':', ' ')
	t.comma = false
}

func (t *jsonText) raw(s string) {
	t.next()
	t.b = append(t.b, s...)
}

func (t *jsonText) str(s string) {
	t.next()
	t.b = appendString(t.b, s)
}

func (t *jsonText) num(v float64) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		t.raw("null")
		return
	}
	t.next()
	t.b = appendNumber(t.b, v)
}

func (t *jsonText) bool(v bool)                { t.raw(strconv.FormatBool(v)) }
func (t *jsonText) keyNum(k string, v float64) { t.key(k); t.num(v) }
func (t *jsonText) keyStr(k, v string)         { t.key(k); t.str(v) }
func (t *jsonText) keyBool(k string, v bool)   { t.key(k); t.bool(v) }
func (t *jsonText) keyNull(k string)           { t.key(k); t.raw("null") }

// appendString writes a JSON string in plain ASCII.
func appendString(b []byte, s string) []byte {
	const hex = "0123456789abcdef"
	u4 := func(v rune) {
		b = append(b, '\\', 'u', hex[v>>12&15], hex[v>>8&15], hex[v>>4&15], hex[v&15])
	}
	b = append(b, '"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b = append(b, '\\', byte(r))
		case r == '\n':
			b = append(b, '\\', 'n')
		case r == '\t':
			b = append(b, '\\', 't')
		case r < 0x20 || r == 0x7f || r > 0x7f && r < 0x10000:
			u4(r)
		case r >= 0x10000:
			r -= 0x10000
			u4(0xd800 + r>>10)
			u4(0xdc00 + r&0x3ff)
		default:
			b = append(b, byte(r))
		}
	}
	return append(b, '"')
}

// plain is text as CSV and JSON carry it: a plain minus, lines joined.
func plain(s string) string { return strings.ReplaceAll(measure.ASCII(s), "\n", ", ") }

// writeCSV writes rows with a head.
func writeCSV(w io.Writer, head []string, rows [][]string) error {
	out := csv.NewWriter(w)
	if err := out.Write(head); err != nil {
		return err
	}
	if err := out.WriteAll(rows); err != nil {
		return err
	}
	return out.Error()
}

// table is what a person reads: heads of one or two lines, columns aligned, numbers to the right.
type table struct {
	heads [][]string
	left  []bool // columns of words
	rows  [][]string
}

func (t *table) write(w io.Writer) error {
	n := len(t.left)
	wide := make([]int, n)
	all := append(append([][]string{}, t.heads...), t.rows...)
	for _, r := range all {
		for i, s := range r {
			wide[i] = max(wide[i], utf8.RuneCountInString(s))
		}
	}
	var b strings.Builder
	for _, r := range all {
		b.Reset()
		for i := range n {
			s := ""
			if i < len(r) {
				s = r[i]
			}
			pad := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(s))
			if i > 0 {
				b.WriteString("  ")
			}
			if t.left[i] {
				b.WriteString(s + pad)
			} else {
				b.WriteString(pad + s)
			}
		}
		if _, err := io.WriteString(w, strings.TrimRight(b.String(), " ")+"\n"); err != nil {
			return err
		}
	}
	return nil
}

// fixed writes a number with a true minus sign and so many digits, "" where there is none.
func fixed(v float64, digits int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, "-", measure.Minus, 1)
}

// shown writes a length in the job's unit, without it: tenths of a mm, hundredths of an inch.
func shown(mm float64, unit string) string {
	if unit == "in" {
		return fixed(mm/mmPerInch, 2)
	}
	return fixed(mm, 1)
}

// shownDown is shown rounded down, of what is nowhere less.
func shownDown(mm float64, unit string) string {
	digit := 0.1
	if unit == "in" {
		digit = 0.01 * mmPerInch
	}
	return shown(math.Floor(mm/digit+1e-9)*digit, unit)
}

const mmPerInch = 25.4

// unitOf is the unit the job shows lengths in.
func unitOf(j *job.Job) string {
	if j.Shown != nil && j.Shown.Length == "in" {
		return "in"
	}
	return "mm"
}

// heading is the first line of every table: job and trial.
func heading(j *job.Job, trial string) string {
	title := strings.TrimSpace(j.Title)
	if title == "" {
		title = "Job without a title"
	}
	if trial == "" {
		return title + ", as drawn"
	}
	return title + ", trial " + trial
}

// closestJoint names the joint closest to its limit; "" where none is known.
func closestJoint(m *motion.Mechanism, v *quantity.Values) string {
	if v.WorstJoint < 0 {
		return ""
	}
	return study.JointUse(&m.Joints[v.WorstJoint], v.WorstTorsion)
}
