package server

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"scalewright/build"
	"scalewright/build/keep"
	"scalewright/job"
	"scalewright/job/recipe"
	"scalewright/lane"
	"scalewright/solid"
)

// desk is one build that is worked on: what its files say, what was derived from
// them, and who listens. One goroutine at a time derives; a change cancels it and
// starts anew.
type desk struct {
	id     string
	folder *build.Folder
	memo   *recipe.Memo
	now    func() time.Time
	report func(error) // what only the operator may see in full

	// writing is held from looking at a version to the write that rests on it, and
	// while the files are read anew.
	writing sync.Mutex
	stamp   string // of the files as they were read last

	mu        sync.Mutex
	loaded    build.Loaded // as it could be read last
	version   string       // of loaded
	sum       string       // of all that loaded rests on
	known     []oldText    // the versions before, the latest last
	state     int
	unread    *build.Unreadable // why the files cannot be read now
	trouble   *Trouble
	since     string // name of the first change that shown does not know
	shown     *shown // the last that went through
	partial   *shown // of the run under way
	run       *deriving
	making    bool
	sizes     *sizing
	trying    chan struct{} // holds one: trials come one after another
	listeners map[chan any]bool
	news      chan struct{} // closed at every change of what stands above
	lastUse   time.Time
	closed    bool
	work      sync.WaitGroup
	stop      context.CancelFunc
	until     context.Context
}

// oldText is a version that somebody may still look at.
type oldText struct {
	version     string
	build, shop []byte
}

// mostKnown versions are remembered, to say what differs from them.
const mostKnown = 100

// shown is a result with what it was derived from. It is never changed.
type shown struct {
	state    int
	version  string
	loaded   build.Loaded
	result   job.Result
	reached  map[string]bool // steps that are through; nil: all
	prepared func() *lane.Prepared
	apart    func() []solid.Vec // how far pieces go when the build is pulled apart
	readings readingsKept
}

func newShown(state int, version string, loaded build.Loaded, r job.Result, reached map[string]bool) *shown {
	s := &shown{state: state, version: version, loaded: loaded, result: r, reached: reached}
	s.prepared = sync.OnceValue(func() *lane.Prepared { return lane.Prepare(r) })
	s.apart = sync.OnceValue(func() []solid.Vec { return lane.PulledApart(r) })
	return s
}

// has reports whether a step is through.
func (s *shown) has(step string) bool { return s != nil && (s.reached == nil || s.reached[step]) }

// openDesk opens a build's folder, reads it and begins to derive. What cannot be
// read is no error: the page shows it.
func openDesk(id, dir string, now func() time.Time, report func(error)) (*desk, error) {
	folder, err := build.Open(dir)
	if err != nil {
		return nil, err
	}
	options := recipe.Options{}
	if kept, err := keep.Open(filepath.Join(dir, build.OutDir, build.KeepDir), keep.Options{}); err == nil {
		options.Keeper = kept // without it the stages only work again
	}
	until, stop := context.WithCancel(context.Background())
	d := &desk{
		id: id, folder: folder, memo: recipe.NewMemo(options), now: now, report: report,
		listeners: map[chan any]bool{}, trying: make(chan struct{}, 1), news: make(chan struct{}), lastUse: now(), until: until, stop: stop,
	}
	d.writing.Lock()
	d.read("disk", "")
	d.writing.Unlock()
	d.work.Go(d.watch)
	return d, nil
}

// close ends all work on the build and waits for it.
func (d *desk) close() {
	d.mu.Lock()
	d.closed = true
	for l := range d.listeners {
		close(l)
	}
	clear(d.listeners)
	d.mu.Unlock()
	d.stop()
	d.work.Wait()
	if err := d.folder.Close(); err != nil {
		d.report(err)
	}
}

// watchEvery is how often the files are looked at for what others wrote.
const watchEvery = 400 * time.Millisecond

// watch reads the files again when somebody else wrote them.
func (d *desk) watch() {
	tick := time.NewTicker(watchEvery)
	defer tick.Stop()
	for {
		select {
		case <-d.until.Done():
			return
		case <-tick.C:
		}
		if _, err := recipe.Guard("watch", d.look); err != nil {
			d.report(err)
		}
	}
}

// look reads the files anew where somebody wrote them.
func (d *desk) look() (struct{}, error) {
	d.writing.Lock()
	defer d.writing.Unlock()
	d.refresh()
	return struct{}{}, nil
}

// refresh reads the files where they may have changed. The caller holds writing.
func (d *desk) refresh() {
	if d.folder.Stamp(d.named()...) != d.stamp {
		d.read("disk", "changes made outside")
	}
}

// named are the files that the declaration names.
func (d *desk) named() []string {
	d.mu.Lock()
	defer d.mu.Unlock()
	names := slices.Collect(maps.Keys(d.loaded.Files))
	if d.unread != nil { // what is missing may come
		for _, f := range d.unread.Findings {
			if name, ok := f.Args["file"]; ok {
				names = append(names, fmt.Sprint(name))
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// read reads the files and, where they say something new, derives. The caller
// holds writing.
func (d *desk) read(why, name string) {
	before := d.named()
	d.stamp = d.folder.Stamp(before...) // taken first, so that no write slips past
	loaded, err := d.folder.Load()
	func() {
		d.mu.Lock()
		defer d.mu.Unlock()
		if err != nil {
			d.cannotRead(err, why, name)
		} else {
			d.take(loaded, why, name)
		}
	}()
	if after := d.named(); !slices.Equal(before, after) && d.stamp == d.folder.Stamp(before...) {
		d.stamp = d.folder.Stamp(after...)
	}
}

// cannotRead notes why the files cannot be read. The caller holds mu.
func (d *desk) cannotRead(err error, why, name string) {
	unread, ok := errors.AsType[*build.Unreadable](err)
	if !ok {
		d.trouble = &Trouble{"the files cannot be read: " + err.Error(), "check the disk and who may read there; the page looks again by itself"}
		d.stamp = "" // look again
	} else if d.unread != nil && d.unread.Error() == unread.Error() && len(d.unread.Findings) == len(unread.Findings) {
		return
	} else {
		d.unread = unread
	}
	d.state++
	d.tell(StateEvent{AsOf: d.asOf(d.shown), Why: why, Name: name})
}

// take takes what the files say and derives, where it is new. The caller holds mu.
func (d *desk) take(loaded build.Loaded, why, name string) {
	sum := sumOf(loaded)
	if sum == d.sum && d.unread == nil {
		return
	}
	d.unread = nil
	d.loaded, d.version, d.sum = loaded, versionOf(loaded), sum
	b, s := loaded.Texts()
	d.known = append(d.known, oldText{d.version, b, s})
	d.known = d.known[max(0, len(d.known)-mostKnown):]
	d.state++
	if d.since == "" {
		d.since = name
	}
	d.tell(StateEvent{AsOf: d.asOf(d.shown), Why: why, Name: name})
	d.derive()
}

// asOf says what an answer rests on. The caller holds mu.
func (d *desk) asOf(s *shown) AsOf {
	out := AsOf{Version: d.version, Revision: d.loaded.Revision, State: d.state}
	if s == nil || s.state != d.state || d.unread != nil {
		out.Stale = s != nil
		out.Since = d.since
	}
	if s != nil {
		out.Version, out.Revision, out.State, out.Partial = s.version, s.loaded.Revision, s.state, s.reached != nil
	}
	return out
}

// used notes that somebody asked.
func (d *desk) used() {
	d.mu.Lock()
	d.lastUse = d.now()
	d.mu.Unlock()
}

// changed wakes who waits for news. The caller holds mu.
func (d *desk) changed() {
	close(d.news)
	d.news = make(chan struct{})
}

// mostQueued events wait for a listener; one that takes none is let go, and asks
// anew when it is back.
const mostQueued = 256

// listen hears all events from now on; the first is how things stand.
func (d *desk) listen() (events chan any, leave func()) {
	d.mu.Lock()
	defer d.mu.Unlock()
	events = make(chan any, mostQueued)
	if d.closed {
		close(events)
		return events, func() {}
	}
	events <- StateEvent{AsOf: d.asOf(d.shown), Why: "hello"}
	d.listeners[events] = true
	return events, func() {
		d.mu.Lock()
		defer d.mu.Unlock()
		if d.listeners[events] {
			delete(d.listeners, events)
			close(events)
		}
	}
}

// tell sends an event to all who listen. The caller holds mu.
func (d *desk) tell(event any) {
	for l := range d.listeners {
		select {
		case l <- event:
		default:
			delete(d.listeners, l)
			close(l)
		}
	}
	d.changed()
}
