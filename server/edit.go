package server

import (
	"context"
	"time"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/job"
)

// changesOf reads changes as build takes them.
func changesOf(in []Change) []build.Change {
	var out []build.Change
	for _, c := range in {
		op := build.Put
		switch c.Op {
		case "add":
			op = build.Add
		case "drop":
			op = build.Drop
		}
		text := c.Text
		if c.Free {
			text = build.Quote(text)
		}
		out = append(out, build.Change{Op: op, At: finding.Place{File: c.At.File, Path: c.At.Path}, Text: text})
	}
	return out
}

// onBase runs a write if the files still say what the maker looked at. The names of
// the step come back from it.
func (d *desk) onBase(ctx context.Context, base, why string, wait int, write func(revision int) (string, error)) (Edited, error) {
	d.used()
	name, before, err := d.write(base, why, write)
	if err != nil {
		return Edited{}, d.problemOf(err)
	}
	out := Edited{Name: name}
	done := wait > 0 && d.settled(ctx, time.Duration(wait)*time.Millisecond)
	d.mu.Lock()
	defer d.mu.Unlock()
	out.AsOf = AsOf{Version: d.version, Revision: d.loaded.Revision, State: d.state, Stale: d.shown == nil || d.shown.state != d.state, Since: d.since}
	if done && d.shown != nil && before != nil && d.shown.state == d.state {
		out.Consequences = new(consequences(before, d.shown))
	}
	return out, nil
}

// write holds writing from the look at the version to the files read anew.
func (d *desk) write(base, why string, write func(revision int) (string, error)) (name string, before *shown, err error) {
	d.writing.Lock()
	defer d.writing.Unlock()
	d.refresh()
	d.mu.Lock()
	revision, unread := d.loaded.Revision, d.unread
	before = d.shown
	var conflict *Problem
	if base != d.version {
		conflict = d.conflict(base)
	}
	d.mu.Unlock()
	switch {
	case unread != nil:
		return "", nil, unread
	case conflict != nil:
		return "", nil, conflict
	}
	if name, err = write(revision); err != nil {
		return "", nil, err
	}
	d.read(why, name)
	return name, before, nil
}

func (d *desk) edit(ctx context.Context, e Edit) (Edited, error) {
	changes := changesOf(e.Changes)
	return d.onBase(ctx, e.Base, "edit", e.Wait, func(revision int) (string, error) {
		if _, err := d.folder.Edit(revision, e.Name, changes...); err != nil {
			return "", err
		}
		history, err := d.folder.History()
		if err != nil || len(history.Undo) == 0 {
			return e.Name, err
		}
		return history.Undo[0], nil
	})
}

func (d *desk) undo(ctx context.Context, w Walk) (Edited, error) {
	return d.onBase(ctx, w.Base, "undo", w.Wait, func(revision int) (string, error) {
		name, _, err := d.folder.Undo(revision)
		return name, err
	})
}

func (d *desk) redo(ctx context.Context, w Walk) (Edited, error) {
	return d.onBase(ctx, w.Base, "redo", w.Wait, func(revision int) (string, error) {
		name, _, err := d.folder.Redo(revision)
		return name, err
	})
}

// try derives what an edit would lead to, and writes nothing. The result as it
// stands comes first, so that the two can be compared.
func (d *desk) try(ctx context.Context, e Edit) (Trial, error) {
	now, _, err := d.see(ctx, job.Planned)
	if err != nil {
		return Trial{}, d.problemOf(err)
	}
	// A dimension that is dragged asks many times; who left does not count.
	select {
	case d.trying <- struct{}{}:
		defer func() { <-d.trying }()
	case <-ctx.Done():
		return Trial{}, d.problemOf(ctx.Err())
	}
	loaded, err := d.folder.Try(changesOf(e.Changes)...)
	if err != nil {
		return Trial{}, d.problemOf(err)
	}
	result, err := runJob(ctx, d.inputOf(loaded))
	if err != nil {
		return Trial{}, d.problemOf(err)
	}
	result.Findings = append(result.Findings, loaded.Findings...).Sorted()
	then := newShown(now.state, versionOf(loaded), loaded, result, nil)
	return Trial{Base: now.version, Consequences: consequences(now, then)}, nil
}
