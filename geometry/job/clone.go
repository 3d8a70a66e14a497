package job

import (
	"fmt"
	"reflect"
)

// Clone returns a deep copy; nil stays nil and an empty list stays an empty list.
func (j *Job) Clone() *Job {
	if j == nil {
		return nil
	}
	return deepCopy(reflect.ValueOf(j)).Interface().(*Job)
}

// deepCopy copies a value of the job's types: structs, pointers, slices, arrays, maps of plain keys, and plain values.
func deepCopy(v reflect.Value) reflect.Value {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return v
		}
		c := reflect.New(v.Type().Elem())
		c.Elem().Set(deepCopy(v.Elem()))
		return c
	case reflect.Slice:
		if v.IsNil() {
			return v
		}
		c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		for i := range v.Len() {
			c.Index(i).Set(deepCopy(v.Index(i)))
		}
		return c
	case reflect.Map:
		if v.IsNil() {
			return v
		}
		c := reflect.MakeMapWithSize(v.Type(), v.Len())
		for it := v.MapRange(); it.Next(); {
			c.SetMapIndex(it.Key(), deepCopy(it.Value()))
		}
		return c
	case reflect.Struct:
		c := reflect.New(v.Type()).Elem()
		for i := range v.NumField() {
			c.Field(i).Set(deepCopy(v.Field(i)))
		}
		return c
	default: // numbers, strings, booleans and arrays of numbers copy by value
		return v
	}
}

// WithTrial returns a deep copy of j with the named trial's parts in place of the job's own and no trials;
// "" is the job as drawn. An unknown name is refused with the nearest known one.
func (j *Job) WithTrial(name string) (*Job, error) {
	if name == "" {
		c := j.Clone()
		c.Trials = nil
		return c, nil
	}
	for i := range j.Trials {
		if j.Trials[i].Name == name {
			return j.withTrialAt(i), nil
		}
	}
	if len(j.Trials) == 0 {
		return nil, fmt.Errorf("There is no trial called %q: this job keeps no trials. Leave the trial out to use the job as drawn.", name)
	}
	names := make([]string, len(j.Trials))
	for i := range j.Trials {
		names[i] = j.Trials[i].Name
	}
	if near := nearest(name, names); near != "" {
		return nil, fmt.Errorf("There is no trial called %q. Did you mean %q?", name, near)
	}
	return nil, fmt.Errorf("There is no trial called %q. The job keeps %s.", name, quoteList(names))
}

// withTrialAt returns a deep copy with trial i's parts in place of the job's own and no trials.
func (j *Job) withTrialAt(i int) *Job {
	flat := *j
	flat.Trials = nil
	t := &j.Trials[i]
	to, from := reflect.ValueOf(&flat).Elem(), reflect.ValueOf(t).Elem()
	for _, f := range reflect.VisibleFields(from.Type()) {
		v := from.FieldByIndex(f.Index)
		if k := v.Kind(); (k == reflect.Pointer || k == reflect.Slice) && !v.IsNil() {
			to.FieldByName(f.Name).Set(v)
		}
	}
	return flat.Clone()
}

// deepCopyOf returns a deep copy of one part.
func deepCopyOf[T any](p *T) T { return deepCopy(reflect.ValueOf(p).Elem()).Interface().(T) }
