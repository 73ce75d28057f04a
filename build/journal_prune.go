package build

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
)

// prune drops the oldest steps beyond the bounds, then the texts that nothing
// names any more. Texts that a made piece names are kept for ever and do not
// count.
func (f *Folder) prune(j journal) error {
	pinned, err := f.pinned()
	if err != nil {
		return err
	}
	first, err := f.firstWithin(j, pinned)
	if err != nil || first == 0 {
		return err
	}
	var text []byte
	sum := ""
	for _, s := range j.steps[first:] {
		body, err := json.Marshal(s)
		if err != nil {
			return fmt.Errorf("history: %w", err)
		}
		var line []byte
		line, sum = seal(sum, body)
		text = append(text, line...)
	}
	if err := f.replace(journalFile, text); err != nil {
		return err
	}
	return f.sweep(j.steps[first:], pinned)
}

// firstWithin is the oldest step that stays.
func (f *Folder) firstWithin(j journal, pinned map[string]bool) (int, error) {
	oldest := j.oldest(f.mostEdits)
	size, counted := 0, map[string]bool{}
	for i := len(j.steps) - 1; i >= oldest; i-- {
		for _, name := range j.steps[i].names() {
			if pinned[name] || counted[name] {
				continue
			}
			counted[name] = true
			info, err := f.root.Stat(path.Join(HistoryDir, name))
			if errors.Is(err, fs.ErrNotExist) {
				continue
			}
			if err != nil {
				return 0, fmt.Errorf("history: %w", err)
			}
			size += int(info.Size())
		}
		if size > f.mostHistory {
			return i + 1, nil
		}
	}
	return oldest, nil
}

// oldest is the step that the last so many undoable edits begin with. Steps
// behind it touch no edit before it, since undo takes the last first. Undoing
// and redoing add lines without adding edits; they are bounded too.
func (j journal) oldest(edits int) int {
	oldest := max(0, len(j.steps)-4*edits)
	undo, _ := j.undoable()
	if len(undo) <= edits {
		return oldest
	}
	number := undo[len(undo)-edits].Number
	return max(oldest, slices.IndexFunc(j.steps, func(s step) bool { return s.Number == number }))
}

// names are the texts that a step refers to.
func (s step) names() []string {
	var out []string
	for _, name := range []string{s.Before.Build, s.Before.Shop, s.After.Build, s.After.Shop} {
		if name != "" {
			out = append(out, name)
		}
	}
	return out
}

// sweep removes texts that neither a step nor a made piece names.
func (f *Folder) sweep(steps []step, pinned map[string]bool) error {
	used := map[string]bool{}
	for _, s := range steps {
		for _, name := range s.names() {
			used[name] = true
		}
	}
	names, err := f.names(HistoryDir)
	if err != nil {
		return err
	}
	for _, name := range names {
		if !isKeptText(name) || used[name] || pinned[name] {
			continue
		}
		if err := f.root.Remove(path.Join(HistoryDir, name)); err != nil {
			return fmt.Errorf("history: %w", err)
		}
	}
	return nil
}

// pinned are the texts that made pieces refer to.
func (f *Folder) pinned() (map[string]bool, error) {
	pieces, err := f.made()
	if err != nil {
		return nil, err
	}
	out := map[string]bool{}
	for _, p := range pieces {
		out[p.Texts.Build], out[p.Texts.Shop] = true, true
	}
	return out, nil
}
