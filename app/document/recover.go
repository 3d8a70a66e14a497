package document

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"time"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Lost is work found after a program that was killed.
type Lost struct {
	Autosave string    // the file it is in
	File     string    // the job's file, "" where it had none
	Title    string    // the job's title
	When     time.Time // last written
	Demo     bool      // it was a demo, changed
	Later    time.Time // when its file was written, where that was after the work was last kept; else zero
	sum      string    // what the file held when the work was begun, a fingerprint; "": not known
	record   string
}

// FindLost lists work left behind: autosaves in stateDir and beside the given files (the recent list), newest first. Work of a program that still
// runs is not lost. Autosaves that say what their job says, or what another one says, are cleared away, and so is what kills left in stateDir of
// files half written.
func FindLost(stateDir string, files []string) []Lost {
	found := map[string]Lost{}
	alive := map[string]bool{}
	if stateDir != "" {
		names, _ := filepath.Glob(filepath.Join(stateDir, recordPrefix+"*"+recordEnding))
		for _, n := range names {
			f, err := os.OpenFile(n, os.O_RDWR, 0)
			if err != nil {
				continue
			}
			free := lock(f) == nil
			data, err := os.ReadFile(n)
			var r record
			if err != nil || json.NewDecoder(bytes.NewReader(data)).Decode(&r) != nil || r.Autosave == "" {
				if free {
					os.Remove(n)
				}
				f.Close()
				continue
			}
			f.Close()
			if !free {
				alive[r.Autosave] = true
				continue
			}
			found[r.Autosave] = Lost{Autosave: r.Autosave, File: r.File, Demo: r.Demo, sum: r.Sum, record: n}
		}
		sweepState(stateDir)
		left, _ := filepath.Glob(filepath.Join(stateDir, "*"+autosaveEnding))
		for _, n := range left {
			if _, known := found[n]; !known {
				found[n] = Lost{Autosave: n}
			}
		}
	}
	for _, file := range files {
		if full, err := filepath.Abs(file); err == nil {
			file = full
		}
		if n := beside(file); file != "" {
			if _, known := found[n]; !known {
				found[n] = Lost{Autosave: n, File: file}
			}
		}
	}
	var out []Lost
	for n, l := range found {
		info, err := os.Stat(n)
		if alive[n] || err != nil {
			if err != nil && l.record != "" {
				os.Remove(l.record)
			}
			continue
		}
		l.When = info.ModTime()
		if l.File != "" {
			if sameAsFile(n, l.File) {
				_ = Forget(l)
				continue
			}
			if of, err := os.Stat(l.File); err == nil && of.ModTime().After(l.When) {
				l.Later = of.ModTime()
			}
		}
		j, err := job.ReadFile(n)
		if err != nil { // not ours, or spoiled by the disk: nothing to offer, nothing thrown away
			continue
		}
		l.Title = j.Title
		out = append(out, l)
	}
	sort.Slice(out, func(i, k int) bool {
		if !out[i].When.Equal(out[k].When) {
			return out[i].When.After(out[k].When)
		}
		return out[i].Autosave < out[k].Autosave
	})
	return onceOnly(out)
}

// onceOnly clears away what says the same as another of the list: a kill while an autosave moved leaves it in both places. What knows its file stays.
func onceOnly(list []Lost) []Lost {
	return slices.DeleteFunc(list, func(l Lost) bool {
		if l.File != "" || l.record != "" {
			return false
		}
		for _, o := range list {
			if (o.File != "" || o.record != "") && sameAsFile(l.Autosave, o.Autosave) {
				return Forget(l) == nil
			}
		}
		return false
	})
}

// sweepState takes away what kills left in the state folder: files half written, and locks nobody holds.
func sweepState(dir string) {
	list, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range list {
		name := filepath.Join(dir, e.Name())
		id, _, _ := strings.Cut(strings.TrimPrefix(e.Name(), ".job-"), Ending)
		switch {
		case !e.Type().IsRegular():
		case strings.HasPrefix(e.Name(), holdPrefix) && strings.HasSuffix(e.Name(), holdEnding):
			if f, err := os.OpenFile(name, os.O_RDWR, 0); err == nil {
				if lock(f) == nil {
					os.Remove(name)
				}
				f.Close()
			}
		case job.IsLeftOver(e.Name(), "job-"+id+Ending+autosaveEnding):
			if f, err := os.OpenFile(filepath.Join(dir, recordPrefix+id+recordEnding), os.O_RDWR, 0); err == nil { // whoever writes there has it locked
				free := lock(f) == nil
				f.Close()
				if !free {
					continue
				}
			}
			os.Remove(name)
		}
	}
}

// Words is what is offered: `“orchard sprayer”, last kept 2 Jan 10:42`, and whether its file was written since.
func (l Lost) Words() string {
	name := strings.TrimSpace(l.Title)
	if l.File != "" {
		name = strings.TrimSuffix(filepath.Base(l.File), Ending)
	}
	if name == "" {
		name = words.T("New job")
	}
	phrase := words.F("“%s”, last kept %s", name, l.When.Format(words.T("2 Jan 15:04")))
	if !l.Later.IsZero() {
		phrase += words.F(" (its file was written after that, %s, and is not touched by bringing this back)", l.Later.Format(words.T("2 Jan 15:04")))
	}
	return phrase
}

// Recover opens lost work: the job as autosaved, with its own file, not yet saved. The autosave stays till the job is saved or discarded.
func Recover(l Lost, o Options) (*Document, error) {
	j, err := job.ReadFile(l.Autosave)
	if err != nil {
		return nil, err
	}
	d := open(j, l.File, o)
	d.saved = nil // not in any file
	d.demo = l.Demo && l.File == ""
	if l.File != "" { // what the file came to hold since is somebody else's
		if d.sum = sumOf(l.sum); d.sum == nil && l.Later.IsZero() {
			d.sum = fileSum(l.File)
		}
		d.holdFile()
		d.lookOut()
	}
	if d.keeper = newKeeper(d); d.keeper != nil {
		k := d.keeper
		k.disk.Lock()
		k.place = l.Autosave // now this document's: written over, or taken away once the work is kept elsewhere
		k.note(k.place)
		_ = k.write(d.toWrite()) // it is kept where it is
		k.disk.Unlock()
		if l.record != "" {
			os.Remove(l.record)
		}
	}
	return d, nil
}

// Forget throws lost work away.
func Forget(l Lost) error {
	if l.record != "" {
		os.Remove(l.record)
	}
	return os.Remove(l.Autosave)
}
