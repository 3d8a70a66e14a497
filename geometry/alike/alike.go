// Package alike tells whether two values hold the same, to the last bit, so that what was worked out from one holds for the other.
package alike

import (
	"math"
	"reflect"
	"slices"
)

// Same reports whether two values of one type hold the same: numbers by their bits (NaN is like NaN), pointers and slices by what they lead to, unexported fields too. Fields of
// structs with one of the names in skip do not count, wherever they are. A function or channel is like another only where both are nil. Values that lead back to themselves are not for it.
func Same(a, b any, skip ...string) bool {
	x, y := reflect.ValueOf(a), reflect.ValueOf(b)
	if !x.IsValid() || !y.IsValid() {
		return x.IsValid() == y.IsValid()
	}
	return x.Type() == y.Type() && same(x, y, skip)
}

func same(a, b reflect.Value, skip []string) bool {
	switch a.Kind() {
	case reflect.Float64, reflect.Float32:
		return math.Float64bits(a.Float()) == math.Float64bits(b.Float())
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return a.Int() == b.Int()
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uintptr:
		return a.Uint() == b.Uint()
	case reflect.Bool:
		return a.Bool() == b.Bool()
	case reflect.String:
		return a.String() == b.String()
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() || a.Pointer() == b.Pointer() {
			return a.IsNil() == b.IsNil()
		}
		return same(a.Elem(), b.Elem(), skip)
	case reflect.Interface:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		return a.Elem().Type() == b.Elem().Type() && same(a.Elem(), b.Elem(), skip)
	case reflect.Slice:
		if a.IsNil() != b.IsNil() || a.Len() != b.Len() {
			return false
		}
		return a.Pointer() == b.Pointer() || each(a, b, skip)
	case reflect.Array:
		return each(a, b, skip)
	case reflect.Struct:
		t := a.Type()
		for i := range a.NumField() {
			if !slices.Contains(skip, t.Field(i).Name) && !same(a.Field(i), b.Field(i), skip) {
				return false
			}
		}
		return true
	case reflect.Map:
		if a.IsNil() != b.IsNil() || a.Len() != b.Len() {
			return false
		}
		for k := a.MapRange(); k.Next(); {
			if v := b.MapIndex(k.Key()); !v.IsValid() || !same(k.Value(), v, skip) {
				return false
			}
		}
		return true
	}
	return a.Kind() == reflect.Func && a.IsNil() && b.IsNil()
}

func each(a, b reflect.Value, skip []string) bool {
	for i := range a.Len() {
		if !same(a.Index(i), b.Index(i), skip) {
			return false
		}
	}
	return true
}
