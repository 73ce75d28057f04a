package recipe

import "sync"

// Progress is told how far a stage has come: done of total steps. It is called
// by one goroutine at a time when it stands behind a [Meter].
type Progress interface {
	Step(stage string, done, total int)
}

// ProgressFunc is a function as a [Progress].
type ProgressFunc func(stage string, done, total int)

// Step calls f.
func (f ProgressFunc) Step(stage string, done, total int) { f(stage, done, total) }

// Meter counts the steps of stages and tells a [Progress]. For each stage, done
// and total never fall and done never passes total: a stage that is run again,
// or for several ratios at once, adds its steps to those it had. It is safe for
// concurrent use; a nil Meter counts nothing.
type Meter struct {
	mu   sync.Mutex
	to   Progress
	seen map[string]*steps
}

type steps struct{ done, total int }

// NewMeter makes a meter that tells to; nil when there is nobody to tell.
func NewMeter(to Progress) *Meter {
	if to == nil {
		return nil
	}
	return &Meter{to: to, seen: map[string]*steps{}}
}

// Start says that a stage has n steps before it. The function it returns is
// called once a step; calls past n are not counted.
func (m *Meter) Start(stage string, n int) (step func()) {
	if m == nil {
		return func() {}
	}
	m.tell(stage, 0, max(0, n))
	left := n
	return func() {
		m.mu.Lock()
		counts := left > 0
		left--
		m.mu.Unlock()
		if counts {
			m.tell(stage, 1, 0)
		}
	}
}

// tell calls under the lock, so that reports arrive in the order of counting. A
// Progress must not call back.
func (m *Meter) tell(stage string, done, total int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	s := m.seen[stage]
	if s == nil {
		s = &steps{}
		m.seen[stage] = s
	}
	s.done += done
	s.total += total
	m.to.Step(stage, s.done, s.total)
}
