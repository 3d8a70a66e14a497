package document

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Ending is the ending of job files.
const Ending = ".axleloft"

// Errors of Save that the window has an answer to.
var (
	// ErrNoFile: the job has no file yet (or is a demo); ask for a place and call SaveAs.
	ErrNoFile = words.Sentence("This job has no file yet. Choose a place for it.")
	// ErrChanged: somebody else wrote the file since it was opened or saved here; offer SaveForced or SaveAs.
	ErrChanged = words.Sentence("Not saved: somebody else has changed the file since you opened it. Save under another name, or write over it.")
	// ErrElsewhere: another window has the job open; offer SaveAs.
	ErrElsewhere = words.Sentence("Not saved: this job is open in another window. Save under another name, or close it there first.")
)

// File is the job's file, "" where it has none.
func (d *Document) File() string { return d.file }

// IsDemo reports whether it is a demo, "DEMO, not your vehicle".
func (d *Document) IsDemo() bool { return d.demo }

// Dirty reports whether there are changes that are not in the file.
func (d *Document) Dirty() bool { return d.whole != d.saved || d.unit != d.unitIn }

// SavedAt is when the job was last written to its file by this document; zero: never.
func (d *Document) SavedAt() time.Time { return d.savedAt }

// placed tells a job, a copy of one's own, where the files beside it lie.
func (d *Document) placed(j *job.Job) *job.Job {
	if j.Folder = ""; d.file != "" {
		j.Folder = filepath.Dir(d.file)
	}
	return j
}

// toWrite is the job as it goes into a file.
func (d *Document) toWrite() *job.Job {
	if d.unit != d.unitIn {
		return shownIn(d.whole, d.unit)
	}
	return d.whole
}

// Save writes to the document's file; what the file held before is kept beside it, see job.KeepBefore. Errors: ErrNoFile (ask for a place),
// ErrElsewhere (another window has the job: offer SaveAs), ErrChanged (somebody else changed the file: offer SaveForced or SaveAs); any other is a
// plain sentence. On any error the file is as it was and the work is still open.
func (d *Document) Save() error {
	if err := d.mayWrite(); err != nil {
		return err
	}
	if now := fileSum(d.file); now != nil && (d.sum == nil || *now != *d.sum) {
		return ErrChanged
	}
	return d.write(d.file)
}

// SaveForced writes over a file that somebody else changed. Theirs is kept beside it.
func (d *Document) SaveForced() error {
	if err := d.mayWrite(); err != nil {
		return err
	}
	return d.write(d.file)
}

// mayWrite tells whether the document's own file is this document's to write.
func (d *Document) mayWrite() error {
	if d.file == "" || d.demo {
		return ErrNoFile
	}
	if d.taken != "" { // the other window may be gone by now
		if d.holdFile(); d.taken != "" {
			return ErrElsewhere
		}
	}
	return nil
}

// SaveAs writes to a new file; a demo becomes a job of one's own. A missing ending is added. An existing file is written over: ask before. The STL files of its parts are copied beside the new file, never
// over a different one; SaveWords tells of any that could not be, or had to take another name.
func (d *Document) SaveAs(name string) error {
	if strings.TrimSpace(name) == "" {
		return ErrNoFile
	}
	if !strings.EqualFold(filepath.Ext(name), Ending) {
		name += Ending
	}
	full, err := filepath.Abs(name)
	if err != nil {
		return err
	}
	return d.write(full)
}

func (d *Document) write(name string) error {
	d.Commit()
	from, names := "", job.FilesBeside(d.whole)
	if d.file != "" {
		from = filepath.Dir(d.file)
	}
	files, err := bring(from, filepath.Dir(name), names)
	if err != nil {
		return err
	}
	next := renamedIn(d.toWrite(), files.renamed)
	var held *hold
	if name != d.file || d.hold == nil {
		var taken string
		if held, taken = d.holdNamed(name); taken != "" {
			files.undo()
			return words.Errorf("Not saved: %s Choose another name.", taken)
		}
	}
	if d.keeper != nil {
		d.keeper.saving(next)
	}
	kept := job.KeepBefore(name, next)
	if err := job.WriteFile(name, next); err != nil {
		files.undo()
		held.release()
		d.touched()
		return err
	}
	d.rename(files.renamed)
	d.saveWords = files.notes
	if kept != nil {
		d.saveWords = append(d.saveWords, words.F("Saved, but what the file held before could not be kept beside it: %s", strings.TrimPrefix(Words(kept), "Not saved: ")))
	}
	if held != nil || name != d.file {
		d.hold.release()
		d.hold, d.taken = held, ""
	}
	d.file, d.demo = name, false
	d.saved, d.unitIn = d.whole, d.unit
	d.sum = fileSum(name)
	d.savedAt = time.Now()
	if d.keeper != nil {
		d.keeper.saved(d)
	}
	d.lookOut()
	changed := FileChanged
	if filepath.Dir(name) != d.current.Folder && len(names) > 0 {
		d.recompute() // other files may lie beside it
		changed |= JobChanged | StudyChanged
	}
	d.tell(changed)
	return nil
}

// fileSum is a fingerprint of what is in a file; nil where it cannot be read.
func fileSum(name string) *[sha256.Size]byte {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil
	}
	sum := sha256.Sum256(data)
	return &sum
}

// sumWords is a fingerprint as a record holds it.
func sumWords(sum *[sha256.Size]byte) string {
	if sum == nil {
		return ""
	}
	return hex.EncodeToString(sum[:])
}

// sumOf reads what sumWords wrote; nil where that is none.
func sumOf(phrase string) *[sha256.Size]byte {
	data, err := hex.DecodeString(phrase)
	if err != nil || len(data) != sha256.Size {
		return nil
	}
	return (*[sha256.Size]byte)(data)
}

// sameAsFile reports whether a job's bytes are those of a file.
func sameAsFile(autosave, file string) bool {
	a, err := os.ReadFile(autosave)
	if err != nil {
		return false
	}
	b, err := os.ReadFile(file)
	return err == nil && bytes.Equal(a, b)
}

// Words turns any error into one plain sentence for the screen.
func Words(err error) string {
	if err == nil {
		return ""
	}
	var inJob *job.Error
	switch {
	case errors.As(err, &inJob):
		return inJob.Error()
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return words.T("Not saved: the disk is full. Your work is still open here. Save it somewhere else.")
	case errors.Is(err, syscall.EROFS):
		return words.T("Not saved: that disk or folder is read-only. Your work is still open here. Save it somewhere else.")
	case errors.Is(err, fs.ErrPermission):
		return words.T("That file or folder is not yours to use. Choose another place.")
	case errors.Is(err, fs.ErrNotExist):
		return words.T("There is no such file or folder. Choose another one.")
	}
	text := strings.TrimSpace(err.Error())
	if text == "" {
		return words.T("Something went wrong. Nothing was changed.")
	}
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "!") && !strings.HasSuffix(text, "?") {
		text += "."
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// recentCap is how many jobs the recent list holds.
const recentCap = 8

// AddRecent returns the recent list with name in front: newest first, no duplicates, at most 8. The list given is not changed.
func AddRecent(list []string, name string) []string {
	out := []string{}
	if name != "" {
		out = append(out, name)
	}
	for _, n := range list {
		if n != "" && !slices.Contains(out, n) && len(out) < recentCap {
			out = append(out, n)
		}
	}
	return out
}
