package server

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"scalewright/build"
	"scalewright/job"
	"scalewright/job/recipe"
)

// deriving is a run under way.
type deriving struct {
	cancel context.CancelFunc
	run    Run
	told   time.Time // when progress was told last
}

// seed of everything that is drawn; the command line has the same.
const seed = 1

// inputOf is the build as the job takes it.
func (d *desk) inputOf(loaded build.Loaded) job.Input {
	return job.Input{
		Declared: loaded.Declared,
		Photo:    loaded.Files[loaded.Declared.Reference.Photo],
		Marks:    loaded.Marks,
		Outlines: loaded.Outlines,
		Models:   loaded.Files,
		Events:   loaded.Events,
		Kept:     loaded.Kept,
		Seed:     seed,
		Memo:     d.memo,
	}
}

// derive cancels the run under way and starts another. The caller holds mu.
func (d *desk) derive() {
	if d.run != nil {
		d.run.cancel()
	}
	if d.closed {
		return
	}
	ctx, cancel := context.WithCancel(d.until)
	d.run = &deriving{cancel: cancel, run: Run{Running: true}}
	d.partial, d.trouble, d.sizes = nil, nil, nil
	run, loaded, version, state := d.run, d.loaded, d.version, d.state
	d.work.Go(func() {
		defer cancel()
		d.deriveNow(ctx, run, loaded, version, state)
	})
}

func (d *desk) deriveNow(ctx context.Context, run *deriving, loaded build.Loaded, version string, state int) {
	began := d.now()
	in := d.inputOf(loaded)
	in.Progress = recipe.ProgressFunc(func(stage string, done, total int) { d.progress(run, state, stage, done, total) })
	reached := map[string]bool{}
	in.Reached = func(step string, so job.Result) {
		reached[step] = true
		if lanes := lanesAfter(step); len(lanes) > 0 {
			so.Findings = append(slices.Clone(so.Findings), loaded.Findings...).Sorted()
			d.reached(run, newShown(state, version, loaded, so, maps.Clone(reached)), step, lanes)
		}
	}
	result, err := runJob(ctx, in)
	result.Findings = append(slices.Clone(result.Findings), loaded.Findings...).Sorted()
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.run != run {
		return // somebody changed the build meanwhile
	}
	d.run, d.partial = nil, nil
	if err != nil {
		if ctx.Err() == nil {
			d.trouble = d.troubleOf(err)
			d.tell(DerivedEvent{AsOf: d.asOf(d.shown), Trouble: d.trouble})
		}
		return
	}
	before := d.shown
	d.shown, d.since = newShown(state, version, loaded, result, nil), ""
	event := DerivedEvent{AsOf: d.asOf(d.shown), Seconds: d.now().Sub(began).Seconds()}
	if before != nil {
		event.Consequences = new(consequences(before, d.shown))
	}
	d.tell(event)
}

// runJob is the job, with a fault of ours made an error: it must not take the server
// with it.
func runJob(ctx context.Context, in job.Input) (job.Result, error) {
	return recipe.Guard("", func() (job.Result, error) { return job.Run(ctx, in) })
}

// progressEvery keeps a listener from drowning.
const progressEvery = 100 * time.Millisecond

func (d *desk) progress(run *deriving, state int, stage string, done, total int) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.run != run {
		return
	}
	run.run = Run{true, stage, done, total}
	if now := d.now(); now.Sub(run.told) >= progressEvery {
		run.told = now
		d.tell(ProgressEvent{state, stage, done, total})
	}
}

func (d *desk) reached(run *deriving, s *shown, step string, lanes []string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.run != run {
		return
	}
	d.partial = s
	d.tell(StageEvent{AsOf: d.asOf(s), Step: step, Lanes: lanes})
}

// troubleOf is what went wrong in words for the page; a fault of ours is told in
// full to the operator only.
func (d *desk) troubleOf(err error) *Trouble {
	d.report(err)
	if _, ok := errors.AsType[*recipe.Bug](err); ok {
		return &Trouble{"a fault of the program stopped the work", "what was shown before stands; take the last edit back, and report the text that the program printed in its terminal"}
	}
	return &Trouble{err.Error(), "the build is as it was; change anything to try again"}
}

// needs says after which step a lane can be drawn.
var needs = map[string]string{
	"elevation": job.Settled, "pieces": job.Settled, "walls": job.Settled, "core": job.Settled,
	"fits": job.Settled, "error": job.Settled, "finish": job.Finished, "lights": job.Lit, "weight": job.Stood,
	"calendar": job.Planned,
}

// lanesAfter are the lanes that a step brings.
func lanesAfter(step string) []string {
	var out []string
	for _, l := range slices.Sorted(maps.Keys(needs)) {
		if needs[l] == step {
			out = append(out, l)
		}
	}
	return out
}

// longestFirst is how long a question waits for the first result of all.
const longestFirst = 60 * time.Second

// see is the newest result that a step is through in. Where there is none at all
// yet, it waits for one.
func (d *desk) see(ctx context.Context, step string) (*shown, AsOf, error) {
	d.used()
	ctx, cancel := context.WithTimeout(ctx, longestFirst)
	defer cancel()
	for {
		d.mu.Lock()
		s := d.shown
		if d.partial.has(step) {
			s = d.partial
		}
		asOf, unread, trouble, running, news := d.asOf(s), d.unread, d.trouble, d.run != nil, d.news
		d.mu.Unlock()
		switch {
		case s != nil:
			return s, asOf, nil
		case unread != nil:
			return nil, asOf, unread
		case trouble != nil:
			return nil, asOf, &Problem{Status: 503, What: trouble.What, Do: trouble.Do}
		case !running:
			return nil, asOf, &Problem{Status: 503, What: "nothing is worked out", Do: "change anything to try again"}
		}
		select {
		case <-news:
		case <-ctx.Done():
			return nil, asOf, &Problem{Status: 503, What: "nothing is worked out yet", Do: "ask again; the first time takes longest"}
		}
	}
}

// settled waits until nothing is being worked out, or no longer than that; false:
// it is still going on.
func (d *desk) settled(ctx context.Context, most time.Duration) bool {
	ctx, cancel := context.WithTimeout(ctx, most)
	defer cancel()
	for {
		d.mu.Lock()
		running, news := d.run != nil, d.news
		d.mu.Unlock()
		if !running {
			return true
		}
		select {
		case <-news:
		case <-ctx.Done():
			return false
		}
	}
}

// versionOf names the two texts as they stand.
func versionOf(l build.Loaded) string {
	h := sha256.New()
	b, s := l.Texts()
	for _, text := range [][]byte{b, s} {
		fmt.Fprintf(h, "%d\n", len(text))
		h.Write(text)
	}
	return fmt.Sprintf("%d-%s", l.Revision, hex.EncodeToString(h.Sum(nil)[:6]))
}

// sumOf names all that a result rests on.
func sumOf(l build.Loaded) string {
	h := sha256.New()
	fmt.Fprintln(h, versionOf(l), len(l.Events), len(l.Kept))
	for _, e := range l.Events {
		fmt.Fprintf(h, "%+v\n", e)
	}
	for _, name := range slices.Sorted(maps.Keys(l.Files)) {
		fmt.Fprintln(h, name, recipe.Content(l.Files[name]))
	}
	for _, k := range l.Kept {
		fmt.Fprintln(h, k.Label, k.Damaged)
	}
	return hex.EncodeToString(h.Sum(nil))
}
