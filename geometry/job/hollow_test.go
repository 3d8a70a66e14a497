package job_test

import (
	"reflect"

	"axleloft/geometry/job"
)

// hollow sets the n-th pointer, list or text it comes to (over and over) to nothing.
func hollow(j *job.Job, n int) {
	var found []reflect.Value
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Pointer:
			found = append(found, v)
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Slice:
			found = append(found, v)
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.String:
			found = append(found, v)
		}
	}
	walk(reflect.ValueOf(j).Elem())
	found[n*7%len(found)].SetZero()
}
