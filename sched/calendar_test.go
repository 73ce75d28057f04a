package sched_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/sched"
)

func TestNewCalendar(t *testing.T) {
	iv := func(n ...int) []sched.Interval {
		var list []sched.Interval
		for i := 0; i < len(n); i += 2 {
			list = append(list, sched.Interval{Start: n[i], End: n[i+1]})
		}
		return list
	}
	for _, c := range []struct {
		name     string
		in, want []sched.Interval
	}{
		{"none", nil, nil},
		{"empty and reversed", iv(3, 3, 9, 4), nil},
		{"touching", iv(5, 9, 0, 5), iv(0, 9)},
		{"overlapping", iv(0, 6, 4, 9, 5, 7), iv(0, 9)},
		{"apart", iv(7, 9, 0, 5), iv(0, 5, 7, 9)},
	} {
		if diff := cmp.Diff(c.want, sched.NewCalendar(c.in...).Intervals()); diff != "" {
			t.Errorf("NewCalendar(%s) (-want +got):\n%s", c.name, diff)
		}
	}
}

// TestZeroCalendar holds the zero value and nil to what they are said to be.
func TestZeroCalendar(t *testing.T) {
	var never sched.Calendar
	if _, ok := never.Next(0); ok || never.Work(99) != 0 || never.End() != 0 || never.Total() != 0 {
		t.Error("the zero calendar opens")
	}
	if _, ok := never.Clock(1); ok {
		t.Error("the zero calendar has a minute of work")
	}
	var always *sched.Calendar
	if m, ok := always.Next(7); !ok || m != 7 || always.Work(7) != 7 || always.Total() != 0 {
		t.Error("the nil calendar closes")
	}
	if m, ok := always.Clock(7); !ok || m != 7 {
		t.Error("the nil calendar lags")
	}
	if always.Equal(&never) || !always.Equal(nil) || !never.Equal(sched.NewCalendar()) {
		t.Error("nil, never and Equal disagree")
	}
}

// drawCalendar is a calendar over minutes 0 to top with its minute-wise twin.
func drawCalendar(t *rapid.T, label string, top int) (*sched.Calendar, []bool) {
	open := rapid.SliceOfN(rapid.Bool(), top, top).Draw(t, label)
	var list []sched.Interval
	for m, o := range open {
		if o {
			list = append(list, sched.Interval{Start: m, End: m + 1})
		}
	}
	return sched.NewCalendar(list...), open
}

// TestCalendarArithmetic compares every function with counting minutes.
func TestCalendarArithmetic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const top = 24
		a, openA := drawCalendar(t, "a", top)
		b, openB := drawCalendar(t, "b", top)
		both, work := sched.Intersect(a, b), 0
		for m := range top + 2 {
			if got := a.Work(m); got != work {
				t.Fatalf("Work(%d) = %d, want %d", m, got, work)
			}
			next := m
			for next < top && !openA[next] {
				next++
			}
			if got, ok := a.Next(m); ok != (next < top) || ok && got != next {
				t.Fatalf("Next(%d) = %d, %v, want %d", m, got, ok, next)
			}
			if m >= top {
				continue
			}
			if openA[m] {
				work++
				if got, ok := a.Clock(work); !ok || got != m+1 {
					t.Fatalf("Clock(%d) = %d, %v, want %d", work, got, ok, m+1)
				}
			}
			if both.Work(m+1)-both.Work(m) == 1 != (openA[m] && openB[m]) {
				t.Fatalf("Intersect is wrong at minute %d", m)
			}
		}
		if got, ok := a.Clock(work + 1); ok {
			t.Fatalf("Clock(%d) = %d beyond the total", work+1, got)
		}
		if a.Total() != work {
			t.Fatalf("Total = %d, want %d", a.Total(), work)
		}
	})
}

func TestWeekly(t *testing.T) {
	const h = 60
	w := sched.Weekly{
		Hours: []sched.Interval{
			{Start: sched.Monday + 18*h, End: sched.Monday + 21*h},
			{Start: sched.Sunday + 22*h, End: sched.Sunday + 26*h}, // into Monday
		},
		Offset:  sched.Monday + 1*h, // the plan begins Monday 01:00
		Horizon: sched.Week + sched.Day,
		Exceptions: []sched.Exception{
			{Interval: sched.Interval{Start: 17 * h, End: 18 * h}},                            // closed Monday 18 to 19
			{Interval: sched.Interval{Start: sched.Day, End: sched.Day + 10}, Open: true},     // open Tuesday 01:00
			{Interval: sched.Interval{Start: sched.Day + 5, End: sched.Day + 7}},              // but for two minutes
			{Interval: sched.Interval{Start: 9 * sched.Day, End: 10 * sched.Day}, Open: true}, // beyond
		},
	}
	cal, err := w.Calendar()
	if err != nil {
		t.Fatal(err)
	}
	var got strings.Builder
	for _, iv := range cal.Intervals() {
		got.WriteString(iv.String())
	}
	// Counted by hand: minute 0 is Monday 01:00, so Monday 18:00 is 1020.
	want := "[0,60)[1080,1200)[1440,1445)[1447,1450)[9900,10140)[11100,11280)"
	if got.String() != want {
		t.Errorf("Weekly = %s, want %s", got.String(), want)
	}
}

func TestWeeklyRefuses(t *testing.T) {
	for name, w := range map[string]sched.Weekly{
		"offset":    {Offset: sched.Week},
		"horizon":   {Horizon: 1 << 40},
		"negative":  {Horizon: -1},
		"hours":     {Hours: []sched.Interval{{Start: 5, End: 5}}},
		"long":      {Hours: []sched.Interval{{Start: 5, End: sched.Week + 6}}},
		"exception": {Exceptions: []sched.Exception{{}}},
	} {
		if _, err := w.Calendar(); err == nil {
			t.Errorf("Weekly(%s) is taken", name)
		}
	}
}
