package build

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"

	"scalewright/finding"
)

// Set changes the value at a place, or adds the key where it is not there. Text
// is a scalar as it stands in the file ("2.4 mm", collar; see [Quote]) or a
// list in brackets. Seen is the revision that the caller looked at; when the
// build has moved on, the error is a [Conflict]. The revision after the edit is
// returned: each edit, of build.yaml or shop.yaml, raises the one in build.yaml
// by one. A change that the program could not read again is an [Unreadable].
// Nothing is written when there is an error of these kinds.
func (f *Folder) Set(seen int, at finding.Place, text string) (int, error) {
	return f.Edit(seen, "", Change{Put, at, text})
}

// Insert adds a key, with the keys above it that are not there, or the next
// item of a list; one that is there already is a [CannotEdit].
func (f *Folder) Insert(seen int, at finding.Place, text string) (int, error) {
	return f.Edit(seen, "", Change{Add, at, text})
}

// Remove takes a key or an item out, with the comments on its lines.
func (f *Folder) Remove(seen int, at finding.Place) (int, error) {
	return f.Edit(seen, "", Change{Drop, at, ""})
}

// Edit makes several changes as one step, all or none. Undo knows the step by
// its name; an empty name is made of the first change: "wall of tail".
func (f *Folder) Edit(seen int, name string, changes ...Change) (revision int, err error) {
	if len(changes) == 0 {
		return seen, nil
	}
	if name == "" {
		name = changes[0].name()
	}
	err = f.locked("saving "+name, func() error {
		revision, err = f.edit(seen, name, changes)
		return err
	})
	return revision, err
}

// state is the declaration at the start of a step.
type state struct {
	texts    texts
	found    finding.List
	docs     documents
	revision int // that build.yaml says
	highest  int // that it ever said
	number   int // of the journal's last step
	history  journal
}

// begin reads the state and refuses a caller who saw another. What the maker
// changed in an editor since the last step becomes a step of its own, so that
// undo passes it too.
func (f *Folder) begin(seen int) (state, error) {
	t, err := f.readTexts()
	if err != nil {
		return state{}, err
	}
	s := state{texts: t, docs: documents{}}
	var raw buildFile
	_, raw, s.found = readDeclaration(t, s.docs)
	if raw.Revision < 1 {
		return state{}, unreadable(s.found, s.docs)
	}
	s.revision = raw.Revision
	if s.revision != seen {
		return state{}, &Conflict{Seen: seen, Is: s.revision}
	}
	if s.history, err = f.readJournal(); err != nil {
		return state{}, err
	}
	s.highest = s.revision
	last, ok := s.history.last()
	if !ok {
		return s, nil
	}
	s.highest, s.number = max(s.highest, last.Revision), last.Number
	then, err := f.recall(last.After)
	if err != nil || bytes.Equal(then.build, t.build) && bytes.Equal(then.shop, t.shop) {
		return s, nil // an old text that is gone only costs the outside step
	}
	now, err := f.keep(t, s.revision)
	if err != nil {
		return state{}, err
	}
	s.number++
	outside := step{s.number, opOutside, "changes made outside", s.revision, last.After, now}
	if err := f.commit(outside); err != nil {
		return state{}, err
	}
	s.history, err = f.readJournal()
	return s, err
}

// end writes the texts that a step leads to, with the next revision.
func (f *Folder) end(s state, op, name string, after texts) (int, error) {
	revision := s.highest + 1
	text, err := change(BuildFile, string(after.build), Change{Put, finding.Place{File: BuildFile, Path: "revision"}, strconv.Itoa(revision)})
	if err != nil {
		return 0, err
	}
	after.build = []byte(text)
	before, err := f.keep(s.texts, s.revision)
	if err != nil {
		return 0, err
	}
	now, err := f.keep(after, revision)
	if err != nil {
		return 0, err
	}
	return revision, f.commit(step{s.number + 1, op, name, revision, before, now})
}

func (f *Folder) edit(seen int, name string, changes []Change) (int, error) {
	s, err := f.begin(seen)
	if err != nil {
		return 0, err
	}
	after, err := changed(s.texts, changes)
	if err != nil {
		return 0, err
	}
	if err := worse(s, after); err != nil {
		return 0, err
	}
	return f.end(s, opEdit, name, after)
}

// worse refuses texts with mistakes that were not there before; those that were
// there may be mended one by one.
func worse(s state, after texts) error {
	docs := documents{}
	_, _, found := readDeclaration(after, docs)
	var fresh finding.List
	for _, f := range found {
		if !slices.ContainsFunc(s.found, func(old finding.Finding) bool { return old.Code == f.Code && old.At == f.At }) {
			fresh.Add(f)
		}
	}
	if len(fresh) > 0 {
		return unreadable(fresh, docs)
	}
	return nil
}

// History is what can be undone and done again, by name, the next one first.
type History struct {
	Undo, Redo []string
}

// History reads the journal.
func (f *Folder) History() (History, error) {
	j, err := f.readJournal()
	if err != nil {
		return History{}, err
	}
	undo, redo := j.undoable()
	var h History
	for _, s := range slices.Backward(undo) {
		h.Undo = append(h.Undo, s.Name)
	}
	for _, s := range slices.Backward(redo) {
		h.Redo = append(h.Redo, s.Name)
	}
	return h, nil
}

// Undo takes the last edit back: the texts are what they were, but for the
// revision, which goes up as with every edit, so that nobody who saw the edit
// mistakes what stands now for what stood then. It returns the name of the edit
// and the revision. The error is [ErrNothing] when there is nothing to undo.
func (f *Folder) Undo(seen int) (name string, revision int, err error) {
	return f.walk(seen, opUndo)
}

// Redo does the last edit again that was undone.
func (f *Folder) Redo(seen int) (name string, revision int, err error) {
	return f.walk(seen, opRedo)
}

func (f *Folder) walk(seen int, op string) (name string, revision int, err error) {
	err = f.locked(op, func() error {
		s, err := f.begin(seen)
		if err != nil {
			return err
		}
		undo, redo := s.history.undoable()
		if op == opRedo {
			undo = redo
		}
		if len(undo) == 0 {
			return ErrNothing
		}
		target := undo[len(undo)-1]
		where := target.Before
		if op == opRedo {
			where = target.After
		}
		after, err := f.recall(where)
		if err != nil {
			return fmt.Errorf("%s %s: %w", op, target.Name, err)
		}
		name = target.Name
		revision, err = f.end(s, op, name, after)
		return err
	})
	return name, revision, err
}
