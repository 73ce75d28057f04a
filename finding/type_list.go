package finding

import (
	"cmp"
	"reflect"
	"slices"
)

// List is the findings of a stage or of a build. The zero value is empty.
type List []Finding

// Add appends findings.
func (l *List) Add(f ...Finding) { *l = append(*l, f...) }

// Worst is the highest severity in the list; false when it is empty.
func (l List) Worst() (Severity, bool) {
	worst := Note
	for _, f := range l {
		worst = max(worst, f.Severity)
	}
	return worst, len(l) > 0
}

// Blocked reports whether a blocker is in the list.
func (l List) Blocked() bool {
	worst, any := l.Worst()
	return any && worst == Blocker
}

// Count is the number of findings of a severity.
func (l List) Count(s Severity) int {
	n := 0
	for _, f := range l {
		if f.Severity == s {
			n++
		}
	}
	return n
}

// Sorted is the list worst first, then by station, place and code, without
// repetitions. The receiver is left alone.
func (l List) Sorted() List {
	out := slices.Clone(l)
	slices.SortStableFunc(out, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(b.Severity, a.Severity),
			cmp.Compare(a.Station, b.Station),
			cmp.Compare(a.At.File, b.At.File),
			cmp.Compare(a.At.Path, b.At.Path),
			cmp.Compare(a.Code, b.Code),
			cmp.Compare(a.Part, b.Part),
		)
	})
	return slices.CompactFunc(out, func(a, b Finding) bool { return reflect.DeepEqual(a, b) })
}
