package headless

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"
)

// onlyDrawn is said wherever gaps are.
const onlyDrawn = "Only the parts drawn are checked; wiring, heat, bush give, frame flex and weld size are not, unless entered."

type checkCmd struct{ common }

// Help is what --help adds.
func (*checkCmd) Help() string {
	return "Complaints about the file where it has any (exit status 2), else the findings by kind, worst first: Hits, Runs out, Tight, Not known, Outside common practice (no rule, your call). " +
		"Findings set aside stand in their place with the reason."
}

// Run writes the findings.
func (c *checkCmd) Run(e *env) error {
	j, err := e.load(&c.common)
	var bad *wrongFile
	if errors.As(err, &bad) && c.Format == "json" {
		if werr := e.output(c.Out, func(w io.Writer) error { return writeComplaints(w, bad.list) }); werr != nil {
			return werr
		}
	}
	if err != nil {
		return err
	}
	for _, s := range e.strays {
		e.say("%s", s)
	}
	stuck := movable(j)
	s, err := e.study(j, closeEnough)
	if err != nil {
		return err
	}
	err = e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return checkCSV(w, s)
		case "json":
			return checkJSON(w, j, c.Trial, s)
		}
		return checkTable(w, j, c.Trial, s)
	})
	if err != nil {
		return err
	}
	if stuck != nil {
		return stuck
	}
	return e.strict(&c.common, j, s)
}

func writeComplaints(w io.Writer, list *job.Error) error {
	var t jsonText
	t.open('{')
	t.key("complaints")
	t.open('[')
	for _, c := range list.Complaints {
		t.line()
		t.open('{')
		t.keyStr("place", c.Place)
		if c.Line > 0 {
			t.keyNum("line", float64(c.Line))
		} else {
			t.keyNull("line")
		}
		t.keyStr("text", plain(c.Text))
		t.close('}')
	}
	t.close(']')
	t.close('}')
	_, err := w.Write(append(t.b, '\n'))
	return err
}

func checkTable(w io.Writer, j *job.Job, trial string, s *study.Study) error {
	var b strings.Builder
	fmt.Fprintln(&b, heading(j, trial))
	serious := false
	for k := study.Hits; k <= study.Outside; k++ {
		head := false
		for i := range s.Findings {
			f := &s.Findings[i]
			if f.Kind != k {
				continue
			}
			if !head {
				fmt.Fprintf(&b, "\n%s\n", k)
				head = true
			}
			serious = serious || f.Serious()
			text := f.Sentence
			if f.SetAside != nil {
				text += " Set aside: " + strings.TrimSuffix(f.SetAside.Reason, ".") + "."
			}
			fmt.Fprintf(&b, "  %s\n", text)
		}
	}
	if !serious && s.Bounded() {
		fmt.Fprintln(&b, "\nNothing found that hits, runs out or is tight between the parts drawn.")
	}
	fmt.Fprintln(&b)
	if r := s.RangeWords(); r != "" {
		fmt.Fprintf(&b, "Range: %s.\n", r)
	}
	fmt.Fprintf(&b, "%s.\n", s.CheckedWords())
	if words := s.ProvedWords(); words != "" {
		fmt.Fprintln(&b, words)
	}
	fmt.Fprintf(&b, "%s\n%s\n", onlyDrawn, paper.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

func checkCSV(w io.Writer, s *study.Study) error {
	var rows [][]string
	for i := range s.Findings {
		f := &s.Findings[i]
		left, right, aside := "", "", ""
		if f.Place {
			left, right = number(f.Left), number(f.Right)
		}
		if f.SetAside != nil {
			aside = f.SetAside.Reason
		}
		rows = append(rows, []string{kindWord(f.Kind), f.Key, f.What, plain(f.Number), plain(f.Where), left, right, plain(f.Sentence), plain(aside)})
	}
	return writeCSV(w, []string{"kind", "key", "what", "number", "where", "left_mm", "right_mm", "sentence", "set_aside"}, rows)
}

// kindWord is the kind in files: "hits", "runs out", "tight", "not known", "outside common practice".
func kindWord(k study.Kind) string {
	word, _, _ := strings.Cut(k.String(), " (")
	return strings.ToLower(word)
}

func checkJSON(w io.Writer, j *job.Job, trial string, s *study.Study) error {
	var t jsonText
	t.open('{')
	t.keyStr("job", j.Title)
	t.keyStr("trial", trial)
	t.key("findings")
	t.open('[')
	for i := range s.Findings {
		f := &s.Findings[i]
		t.line()
		t.open('{')
		t.keyStr("kind", kindWord(f.Kind))
		t.keyStr("key", f.Key)
		t.keyStr("what", plain(f.What))
		t.keyStr("number", plain(f.Number))
		t.keyStr("where", plain(f.Where))
		t.keyStr("sentence", plain(f.Sentence))
		if f.Place {
			t.keyNum("left", f.Left)
			t.keyNum("right", f.Right)
		} else {
			t.keyNull("left")
			t.keyNull("right")
		}
		if f.SetAside != nil {
			t.keyStr("setAside", plain(f.SetAside.Reason))
		} else {
			t.keyNull("setAside")
		}
		t.close('}')
	}
	t.close(']')
	t.line()
	rangeJSON(&t, s)
	t.line()
	t.keyStr("checked", plain(s.CheckedWords()))
	t.line()
	proving := s.Proving()
	t.keyBool("proved", proving.Pairs > 0 && proving.Sampled == 0)
	t.close('}')
	_, err := w.Write(append(t.b, '\n'))
	return err
}
