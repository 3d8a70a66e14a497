package job

import (
	"fmt"
	"strconv"
	"strings"
)

// Complaint is one thing wrong with a file: where, and a plain sentence that says what, what was expected and what to do.
type Complaint struct {
	Place string // "links[2].frame[1]", "" for the file as a whole
	Line  int    // 1-based line in the file, 0 where unknown
	Text  string
}

// String is the complaint with its line and place in front: "Line 12, links[2].frame[1]: ...".
// The text of an unknown key names the key and where it stands itself.
func (c Complaint) String() string {
	var head string
	named := c.Place == "" || strings.HasPrefix(c.Text, strconv.Quote(lastKey(c.Place))+" is not known")
	switch {
	case c.Line > 0 && named:
		head = fmt.Sprintf("Line %d: ", c.Line)
	case c.Line > 0:
		head = fmt.Sprintf("Line %d, %s: ", c.Line, c.Place)
	case !named:
		head = c.Place + ": "
	}
	return head + c.Text
}

func lastKey(place string) string {
	return place[strings.LastIndexByte(place, '.')+1:]
}

// Error is what Read, Write and their File forms return: every complaint found (at most maxComplaints), in file order.
type Error struct {
	Complaints []Complaint
	File       string // the file's name, "" where only a stream was at hand
	Err        error  // what the machine said, where it was no fault of the job's; else nil
	saving     bool
}

const (
	maxComplaints = 200 // collected
	maxShown      = 20  // written out by Error
)

// Error is the complaints, one a line, at most twenty of them, and what became of the file.
func (e *Error) Error() string {
	var b strings.Builder
	switch {
	case e.saving:
		b.WriteString("Not saved: ")
	case e.File != "":
		b.WriteString(e.File + ": ")
	}
	for i, c := range e.Complaints {
		if i == maxShown {
			more := strconv.Itoa(len(e.Complaints) - i)
			if len(e.Complaints) >= maxComplaints {
				more = "at least " + more
			}
			fmt.Fprintf(&b, "\nand %s more.", more)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(c.String())
	}
	if len(e.Complaints) > 1 {
		b.WriteByte('\n')
	} else {
		b.WriteByte(' ')
	}
	if e.saving {
		b.WriteString("What was on the disk is unchanged.")
	} else {
		b.WriteString("Nothing was loaded and your file is unchanged.")
	}
	return b.String()
}

// Unwrap returns what the machine said, if anything.
func (e *Error) Unwrap() error { return e.Err }

// complaints gathers what is wrong.
type complaints struct {
	list []Complaint
}

func (c *complaints) full() bool { return len(c.list) >= maxComplaints }

func (c *complaints) add(place string, line int, format string, args ...any) {
	if !c.full() {
		c.list = append(c.list, Complaint{Place: place, Line: line, Text: fmt.Sprintf(format, args...)})
	}
}

// figure writes a number as a file does.
func figure(v float64) string {
	if a := abs(v); a >= 1e21 || a != 0 && a < 1e-6 {
		return strings.Replace(strconv.FormatFloat(v, 'g', -1, 64), "e+", "e", 1)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}
