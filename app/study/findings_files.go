package study

import (
	"fmt"

	"axleloft/app/words"
)

// unread words the parts whose shape is in a file that could not be read: they are not in the way of anything till it can.
func (f *finder) unread() {
	if f.s.Gaps == nil {
		return
	}
	for i := range f.s.Gaps.Unread {
		u := &f.s.Gaps.Unread[i]
		what, of := u.Name, words.T("nothing is measured against it")
		key := "file/" + u.Name
		if u.Housing {
			key = fmt.Sprintf("file/%s/%d", u.Name, u.Ref.Index)
			of = words.T("of the housing only the other shapes are measured")
		}
		f.add(Finding{Kind: NotKnown, Key: key, What: what, Where: words.T("its file"), Number: "?",
			Sentence: words.F("%s: %s. Till then %s.", what, trimStop(u.Why), of), Pair: -1, weight: 15})
	}
}

// trimStop takes the full stop off half a sentence that has one.
func trimStop(s string) string {
	if n := len(s); n > 0 && s[n-1] == '.' {
		return s[:n-1]
	}
	return s
}
