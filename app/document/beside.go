package document

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/shape"
)

// Parts whose shape is in an STL file, and photos, name it bare: it lies beside the job's file. Where the job goes, it goes.

// brought is what was done to take files into a folder.
type brought struct {
	renamed map[string]string // files that had to take another name
	made    []string          // files that were not there before
	notes   []string          // plain sentences
}

// undo takes away again what was brought.
func (b *brought) undo() {
	for _, name := range b.made {
		os.Remove(name)
	}
}

// mostNames are tried for a file whose name is taken.
const mostNames = 100

// put writes data beside a job under a name, or another where a different file has that name, and returns which.
func (b *brought) put(folder, name string, data []byte) (as string, err error) {
	stem, ending := strings.TrimSuffix(name, filepath.Ext(name)), filepath.Ext(name)
	for n := 1; n <= mostNames; n++ {
		as = name
		if n > 1 {
			as = fmt.Sprintf("%s-%d%s", stem, n, ending)
		}
		full := filepath.Join(folder, as)
		switch there, err := os.ReadFile(full); {
		case err == nil && bytes.Equal(there, data):
			return as, nil
		case errors.Is(err, fs.ErrNotExist):
			if err := job.WriteBeside(folder, as, data); err != nil {
				return "", err
			}
			b.made = append(b.made, full)
			return as, nil
		}
	}
	return "", words.Errorf("%q and %d names like it are taken beside the job. Give the file another name.", name, mostNames-1)
}

// bring takes the files of a job from the folder it lay in, "" for none, to another. A file that is missing, or cannot be read, is told and left; where one cannot be written nothing is brought, and that is the error.
func bring(from, to string, names []string) (*brought, error) {
	b := &brought{renamed: map[string]string{}}
	if from == to {
		return b, nil
	}
	for _, name := range names {
		_, err := os.Stat(filepath.Join(to, name))
		there := err == nil
		var data []byte
		err = fs.ErrNotExist
		if from != "" {
			data, err = os.ReadFile(filepath.Join(from, name))
		}
		switch {
		case errors.Is(err, fs.ErrNotExist) && there:
			if from != "" {
				b.notes = append(b.notes, words.F("%q was not beside the job where it was; the file of that name beside it here is used.", name))
			}
			continue
		case errors.Is(err, fs.ErrNotExist):
			b.notes = append(b.notes, words.F("%q is not beside the job: put it there, and it is drawn.", name))
			continue
		case err != nil:
			b.notes = append(b.notes, words.F("%q could not be read, so it is not beside the job here: copy it there.", name))
			continue
		}
		as, err := b.put(to, name, data)
		if err != nil {
			b.undo()
			return nil, err
		}
		if as != name {
			b.renamed[name] = as
			b.notes = append(b.notes, words.F("A different %q lay there already and stays as it is: yours is called %q there, and the job says so.", name, as))
		}
	}
	return b, nil
}

// rename gives the files of every job the document holds, undone ones too, their new names.
func (d *Document) rename(names map[string]string) {
	if len(names) == 0 {
		return
	}
	done := map[*job.Job]*job.Job{}
	as := func(j *job.Job) *job.Job {
		if j == nil {
			return nil
		}
		if c := done[j]; c != nil {
			return c
		}
		done[j] = renamedIn(j, names)
		return done[j]
	}
	d.whole, d.saved, d.opened = as(d.whole), as(d.saved), as(d.opened)
	for i := range d.history.steps {
		s := &d.history.steps[i]
		s.before, s.after = as(s.before), as(s.after)
	}
}

// renamedIn is a job with other names for its files; itself where it has none of them.
func renamedIn(j *job.Job, names map[string]string) *job.Job {
	if !slices.ContainsFunc(job.FilesBeside(j), func(n string) bool { return names[n] != "" }) {
		return j
	}
	c := j.Clone()
	job.EachFile(c, func(file *string) {
		if to := names[*file]; to != "" {
			*file = to
		}
	})
	return c
}

// SaveWords says, in plain sentences, what became of the files beside the job when it was last saved; "" where there is nothing to say.
func (d *Document) SaveWords() string { return strings.Join(d.saveWords, " ") }

// errNoPlace refuses a file while the job is in none.
var errNoPlace = words.Sentence("Save the job first: such a file lies beside the job's own file.")

// takeFile brings an STL file beside the job and returns its name there. note is a plain sentence where that is another name than it had.
func (d *Document) takeFile(path string) (name, note string, err error) {
	return d.takeBeside(path, []string{".stl"}, words.T("an STL file"), func(data []byte) error {
		_, err := shape.ReadSTL(bytes.NewReader(data))
		return err
	})
}

// takeBeside brings a file of some endings beside the job where it can be read, and returns its name there.
func (d *Document) takeBeside(path string, endings []string, what string, read func([]byte) error) (name, note string, err error) {
	if d.file == "" || d.demo {
		return "", "", errNoPlace
	}
	name = filepath.Base(path)
	if !slices.Contains(endings, strings.ToLower(filepath.Ext(name))) {
		return "", "", words.Errorf("%s is not %s. Choose one that ends in %s.", name, what, strings.Join(endings, ", "))
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return "", "", words.Errorf("%s cannot be opened. Choose another file.", name)
	}
	if err := read(data); err != nil {
		return "", "", words.Errorf("%s is not taken. %w", name, err)
	}
	b := &brought{}
	as, err := b.put(filepath.Dir(d.file), name, data)
	if err != nil {
		return "", "", err
	}
	if as != name {
		note = words.F("A different %q lies beside the job already and stays as it is: yours is called %q there.", name, as)
	}
	return as, note, nil
}

// SetFile gives a part the shape in an STL file, which is copied beside the job where it is not there. note, if any, is a plain sentence.
func (d *Document) SetFile(p Part, path string) (note string, err error) {
	name, note, err := d.takeFile(path)
	if err != nil {
		return "", err
	}
	return note, d.SetField(p, "file", name)
}

// AddFile adds a part in the way with the shape in an STL file, which is copied beside the job where it is not there.
func (d *Document) AddFile(path string) (p Part, note string, err error) {
	name, note, err := d.takeFile(path)
	if err != nil {
		return Part{}, "", err
	}
	err = d.Edit(words.T("Add part from file"), "", func(j *job.Job) error {
		var err error
		p, err = edit.AddFile(j, name)
		return err
	})
	return p, note, err
}
