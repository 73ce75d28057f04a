package build

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"path"
	"strings"
)

// The journal of history/ holds every edit with the names of the texts before
// and after it; the texts lie beside it, named for what they hold.
const (
	journalFile = HistoryDir + "/journal.jsonl"
	pendingFile = HistoryDir + "/pending.json"

	// How far back undo goes: whichever is reached first.
	mostEdits   = 1000
	mostHistory = 64 << 20 // bytes of texts
)

// step is one line of the journal.
type step struct {
	Number   int    `json:"number"`
	Op       string `json:"op"` // edit, outside, undo or redo
	Name     string `json:"name"`
	Revision int    `json:"revision"` // after it
	Before   kept   `json:"before"`
	After    kept   `json:"after"`
}

// kept names the texts of both files at one moment; a name is empty where the
// file was not there.
type kept struct {
	Build string `json:"build,omitempty"`
	Shop  string `json:"shop,omitempty"`
}

const (
	opEdit    = "edit"
	opOutside = "outside" // the maker changed the files in an editor
	opUndo    = "undo"
	opRedo    = "redo"
)

// journal is the journal as read.
type journal struct {
	chain chain
	steps []step
}

// readJournal reads what is whole. History is a convenience: a damaged journal
// costs the undo behind the damage and never the build.
func (f *Folder) readJournal() (journal, error) {
	text, err := f.readText(journalFile)
	if err != nil {
		return journal{}, err
	}
	j := journal{chain: readChain(text)}
	for i, body := range j.chain.bodies {
		var s step
		if err := json.Unmarshal(body, &s); err != nil {
			j.chain = j.chain.first(i)
			break
		}
		j.steps = append(j.steps, s)
	}
	return j, nil
}

// undoable and redoable are the edits that can be taken back and done again,
// the next one last. An undo whose edit has been dropped from a long journal
// carries both texts itself.
func (j journal) undoable() (undo, redo []step) {
	pop := func(s []step) []step { return s[:max(0, len(s)-1)] }
	for _, s := range j.steps {
		switch s.Op {
		case opUndo:
			undo = pop(undo)
			redo = append(redo, step{Name: s.Name, Before: s.After, After: s.Before})
		case opRedo:
			redo = pop(redo)
			undo = append(undo, s)
		default:
			undo, redo = append(undo, s), nil
		}
	}
	return undo, redo
}

func (j journal) last() (step, bool) {
	if len(j.steps) == 0 {
		return step{}, false
	}
	return j.steps[len(j.steps)-1], true
}

// keep stores both texts in history/ and names them. A text that is there
// already is not written again.
func (f *Folder) keep(t texts, revision int) (kept, error) {
	var k kept
	if t.build != nil {
		k.Build = fmt.Sprintf("build-%d-%s.yaml", revision, textHash(t.build))
	}
	if t.shop != nil {
		k.Shop = fmt.Sprintf("shop-%s.yaml", textHash(t.shop))
	}
	for name, text := range map[string][]byte{k.Build: t.build, k.Shop: t.shop} {
		if name == "" {
			continue
		}
		file := path.Join(HistoryDir, name)
		if old, err := f.readText(file); err == nil && bytes.Equal(old, text) {
			continue
		}
		if err := f.replace(file, text); err != nil {
			return kept{}, err
		}
	}
	return k, nil
}

func textHash(text []byte) string {
	digest := sha256.Sum256(text)
	return hex.EncodeToString(digest[:8])
}

// recall reads the texts that keep stored.
func (f *Folder) recall(k kept) (texts, error) {
	var t texts
	for name, into := range map[string]*[]byte{k.Build: &t.build, k.Shop: &t.shop} {
		if name == "" {
			continue
		}
		text, err := f.readText(path.Join(HistoryDir, name))
		if err != nil {
			return texts{}, err
		}
		if text == nil {
			return texts{}, fmt.Errorf("history/%s is gone", name)
		}
		*into = text
	}
	return t, nil
}

// commit makes one step true: what comes after it stands in the files, the
// step in the journal. The pending file is the moment of decision: before it is
// there nothing has happened; once it is, the step is carried out even if the
// program dies, see finish.
func (f *Folder) commit(s step) error {
	body, err := json.Marshal(s)
	if err != nil {
		return fmt.Errorf("history: %w", err)
	}
	if err := f.replace(pendingFile, body); err != nil {
		return err
	}
	return f.finish()
}

// finish carries out the pending step. Each part is done only where it is not
// done yet, so it may be begun again.
func (f *Folder) finish() error {
	body, err := f.readText(pendingFile)
	if err != nil || body == nil {
		return err
	}
	var s step
	if err := json.Unmarshal(body, &s); err != nil {
		return fmt.Errorf("history: pending.json is damaged (take it away to go on): %w", err)
	}
	before, err := f.recall(s.Before)
	if err != nil {
		return err
	}
	after, err := f.recall(s.After)
	if err != nil {
		return err
	}
	// The shop first: build.yaml carries the revision, and readers look at it
	// before and after.
	if err := f.turn(ShopFile, before.shop, after.shop); err != nil {
		return err
	}
	if err := f.turn(BuildFile, before.build, after.build); err != nil {
		return err
	}
	if err := f.record(s); err != nil {
		return err
	}
	if err := f.root.Remove(pendingFile); err != nil {
		return fmt.Errorf("history: %w", err)
	}
	return f.syncDir(HistoryDir)
}

// turn puts a file from one text to another; a file that says neither was
// changed by its maker since, who wins.
func (f *Folder) turn(name string, from, to []byte) error {
	now, err := f.readText(name)
	if err != nil {
		return err
	}
	if to == nil || bytes.Equal(now, to) || !bytes.Equal(now, from) {
		return nil
	}
	return f.replace(name, to)
}

// record adds a step to the journal unless it is there, and drops the oldest
// beyond the bounds.
func (f *Folder) record(s step) error {
	j, err := f.readJournal()
	if err != nil {
		return err
	}
	if last, ok := j.last(); ok && last.Number >= s.Number {
		return nil
	}
	body, err := json.Marshal(s)
	if err != nil {
		return fmt.Errorf("history: %w", err)
	}
	line, _ := seal(j.chain.sum, body)
	if err := f.appendLines(journalFile, j.chain.whole(), line); err != nil {
		return err
	}
	j.steps = append(j.steps, s)
	return f.prune(j)
}

// isKeptText reports whether a file of history/ is a text of keep.
func isKeptText(name string) bool {
	return strings.HasSuffix(name, ".yaml") && (strings.HasPrefix(name, "build-") || strings.HasPrefix(name, "shop-"))
}
