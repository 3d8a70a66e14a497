package job

import (
	"reflect"
	"sort"
	"strings"
)

// ReaderKeys finds, by asking the reader, which keys it takes in each group: every key of every group is tried, and those it calls
// unknown are left out.
func ReaderKeys() map[string][]string {
	tried := map[string]bool{}
	for t := range layouts {
		for i := range t.NumField() {
			key, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
			tried[key] = true
		}
	}
	out := map[string][]string{}
	for t := range layouts {
		for key := range tried {
			b := &binder{}
			n := node{kind: objectNode, keys: []string{key}, at: []int{1}, list: []node{{kind: nullNode}}}
			b.object(&n, reflect.New(t).Elem(), "")
			known := true
			for _, c := range b.list {
				known = known && !strings.Contains(c.Text, "is not known")
			}
			if known {
				out[t.Name()] = append(out[t.Name()], key)
			}
		}
		sort.Strings(out[t.Name()])
	}
	return out
}

// FieldNames are the keys the table of descriptions speaks of, for the test that none is left over.
func FieldNames() (described, used []string) {
	for name := range fields {
		described = append(described, name)
	}
	for t, ms := range layouts {
		for _, m := range ms {
			used = append(used, t.Name()+"."+m.key)
		}
	}
	sort.Strings(described)
	sort.Strings(used)
	return described, used
}
