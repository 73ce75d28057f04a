package recipe

import (
	"maps"
	"sync"
)

// DefaultBytes is what a memo may hold in memory when nothing else is said:
// 256 MiB, a quarter of the 1 GiB that making the demo may take as a whole.
const DefaultBytes = 256 << 20

// Keeper is a store that outlives the program. It answers with just the bytes
// it was given for a key, or not at all: it is for the keeper to see that an
// entry was torn or changed. It is safe for concurrent use.
type Keeper interface {
	Get(key [32]byte) ([]byte, bool)
	Put(key [32]byte, data []byte) error
}

// Options set up a memo.
type Options struct {
	Bytes  int    // most held in memory; 0: DefaultBytes; below 0: nothing
	Keeper Keeper // store on disk; nil: none
}

// Counts say where the results of a stage came from.
type Counts struct {
	Computed int // worked for, to the end
	Memory   int // recalled from memory
	Disk     int // recalled from disk
	Shared   int // worked for by another who asked at the same time
	Failed   int // ended in an error, cancelled or in a bug; kept by nobody
}

// Memo remembers what stages made. It is safe for concurrent use. The zero
// value remembers DefaultBytes in memory; with a nil Memo, [Do] only works.
type Memo struct {
	mu      sync.Mutex
	store   store
	flights map[Key]*flight
	counts  map[string]Counts
	keeper  Keeper
	keepErr error
}

// NewMemo makes a memo.
func NewMemo(o Options) *Memo {
	return &Memo{store: store{most: o.Bytes}, keeper: o.Keeper}
}

// Counts are the counts of each stage since the memo was made or reset.
func (m *Memo) Counts() map[string]Counts {
	m.mu.Lock()
	defer m.mu.Unlock()
	return maps.Clone(m.counts)
}

// ResetCounts begins to count anew. What is remembered stays.
func (m *Memo) ResetCounts() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.counts = nil
}

// Held is how many bytes the memo holds in memory.
func (m *Memo) Held() int {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.store.held
}

// KeepErr is the first error of writing to the keeper, nil when there was none.
// A result that the disk did not take is still a result, so it fails no work.
func (m *Memo) KeepErr() error {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.keepErr
}

// A flight is work under way that others wait for. Its fields but done are
// written before done is closed, and read after.
type flight struct {
	done   chan struct{}
	value  any
	err    error
	gaveUp bool // the worker was cancelled: those who wait try for themselves
}

// begin finds the value of a key, or the flight that is to bring it; mine says
// that it is the caller's to fly.
func (m *Memo) begin(key Key, stage string) (value any, found bool, f *flight, mine bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if value, found = m.store.get(key); found {
		m.count(stage, func(c *Counts) { c.Memory++ })
		return value, true, nil, false
	}
	if f, found = m.flights[key]; found {
		return nil, false, f, false
	}
	f = &flight{done: make(chan struct{}), gaveUp: true}
	if m.flights == nil {
		m.flights = map[Key]*flight{}
	}
	m.flights[key] = f
	return nil, false, f, true
}

// land ends a flight. The value is remembered in the same breath, so that who
// comes next finds one or the other. A flight that was left by a panic or by
// runtime.Goexit still stands at gaveUp.
func (m *Memo) land(key Key, stage string, f *flight, bytes int, fromDisk bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	ok := !f.gaveUp && f.err == nil
	if ok {
		if m.store.most == 0 {
			m.store.most = DefaultBytes
		}
		m.store.put(key, f.value, bytes)
	}
	m.count(stage, func(c *Counts) {
		switch {
		case !ok:
			c.Failed++
		case fromDisk:
			c.Disk++
		default:
			c.Computed++
		}
	})
	delete(m.flights, key)
	close(f.done)
}

func (m *Memo) count(stage string, add func(*Counts)) {
	if m.counts == nil {
		m.counts = map[string]Counts{}
	}
	c := m.counts[stage]
	add(&c)
	m.counts[stage] = c
}

func (m *Memo) countShared(stage string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.count(stage, func(c *Counts) { c.Shared++ })
}

func (m *Memo) keepFailed(err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.keepErr == nil {
		m.keepErr = err
	}
}
