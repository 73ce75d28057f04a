package build

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"scalewright/model"
)

// pieceFile describes a made piece; it stands in the folder of each.
const pieceFile = "piece.json"

// Kept is a piece that was released: what its folder in made/ says.
type Kept struct {
	Label    string
	Piece    string // its id
	Part     string
	Revision int      // of the build at release
	Files    []string // in its folder, sorted
	Event    model.Event
}

// pieceRecord is piece.json.
type pieceRecord struct {
	Label    string            `json:"label"`
	Piece    string            `json:"piece"`
	Part     string            `json:"part"`
	Revision int               `json:"revision"`
	Texts    kept              `json:"texts"` // in history/, kept for ever
	Files    []string          `json:"files"`
	Sums     map[string]string `json:"sums,omitempty"` // SHA-256 of each file; older releases have none
	Event    logLine           `json:"event"`          // the line of the log, but for its number
}

// Release is what Folder.Release keeps.
type Release struct {
	Seen  int               // revision that the piece was made of
	Piece model.PieceID     // a shell, collar or ring
	Files map[string][]byte // solid, sizes, settings, by file name
	Event model.Event       // its time, printer and text; the rest is filled in
}

// Release keeps a piece for ever: a folder in made/ under a label of its own,
// then a line in the log. The label is a letter of the part and a number, A1,
// A2, B1 …, the next one free; no label is given twice, whatever becomes of the
// piece. When the build is no longer at the revision seen, the error is a
// [Conflict] and nothing is kept.
func (f *Folder) Release(r Release) (label string, number int, err error) {
	for name := range r.Files {
		if !filepath.IsLocal(name) || path.Clean(name) != name || strings.ContainsAny(name, `\:`) || strings.EqualFold(name, pieceFile) {
			return "", 0, fmt.Errorf("release: %q cannot be the name of a file of a piece", name)
		}
	}
	r.Event.Kind = model.Released
	if err := checkEvent(r.Event); err != nil {
		return "", 0, err
	}
	err = f.locked("releasing "+r.Piece.String(), func() error {
		label, number, err = f.release(r)
		return err
	})
	return label, number, err
}

func (f *Folder) release(r Release) (string, int, error) {
	s, err := f.begin(r.Seen)
	if err != nil {
		return "", 0, err
	}
	events, err := f.soundLog()
	if err != nil {
		return "", 0, err
	}
	pieces, err := f.made()
	if err != nil {
		return "", 0, err
	}
	k := pieceRecord{
		Label: nextLabel(r.Piece.Part, events, pieces), Piece: r.Piece.String(), Part: r.Piece.Part,
		Revision: s.revision, Files: slices.Sorted(maps.Keys(r.Files)), Event: lineOf(r.Event),
	}
	k.Sums = map[string]string{}
	for name, data := range r.Files {
		k.Sums[name] = sumOf(data)
	}
	k.Event.Number, k.Event.Piece, k.Event.Label, k.Event.Revision = 0, k.Piece, k.Label, k.Revision
	if k.Texts, err = f.keep(s.texts, s.revision); err != nil {
		return "", 0, err
	}
	if err := f.writePiece(k, r.Files); err != nil {
		return "", 0, err
	}
	if err := f.logRelease(k); err != nil {
		return "", 0, err
	}
	return k.Label, len(events) + 1, nil
}

// soundLog is the events of a log that is not damaged.
func (f *Folder) soundLog() ([]model.Event, error) {
	text, events, _, found, err := f.fullLog()
	if err != nil {
		return nil, err
	}
	if found.Blocked() {
		return nil, unreadable(found, documents{LogFile: logDocument(text)})
	}
	return events, nil
}

// writePiece writes the folder beside its place and renames it. Its files are
// read-only: a made piece never changes.
func (f *Folder) writePiece(k pieceRecord, files map[string][]byte) error {
	about, err := json.MarshalIndent(k, "", "  ")
	if err != nil {
		return fmt.Errorf("release: %w", err)
	}
	beside, place := temporary(path.Join(MadeDir, k.Label)), path.Join(MadeDir, k.Label)
	if err := f.root.MkdirAll(beside, 0o777); err != nil {
		return fmt.Errorf("release: %w", err)
	}
	all := maps.Clone(files)
	if all == nil {
		all = map[string][]byte{}
	}
	all[pieceFile] = append(about, '\n')
	folders := map[string]bool{beside: true}
	for _, name := range slices.Sorted(maps.Keys(all)) {
		file := path.Join(beside, name)
		folders[path.Dir(file)] = true
		if err := f.root.MkdirAll(path.Dir(file), 0o777); err != nil {
			return fmt.Errorf("release: %w", err)
		}
		if err := f.writeNew(file, all[name], 0o444); err != nil {
			return fmt.Errorf("release: %w", err)
		}
	}
	for _, folder := range slices.Sorted(maps.Keys(folders)) {
		if err := f.syncDir(folder); err != nil {
			return err
		}
	}
	if err := f.root.Rename(beside, place); err != nil {
		return fmt.Errorf("release: %w", err)
	}
	return f.syncDir(MadeDir)
}

// logRelease writes the log line of a made piece.
func (f *Folder) logRelease(k pieceRecord) error {
	_, err := f.append([]model.Event{k.Event.event()})
	return err
}

// Made are the pieces released so far, by label.
func (f *Folder) Made() ([]Kept, error) {
	records, err := f.made()
	var out []Kept
	for _, k := range records {
		out = append(out, Kept{k.Label, k.Piece, k.Part, k.Revision, k.Files, k.Event.event()})
	}
	return out, err
}

// ReadMade reads a file of a made piece.
func (f *Folder) ReadMade(label, name string) ([]byte, error) {
	data, err := f.root.ReadFile(path.Join(MadeDir, label, name))
	if err != nil {
		return nil, fmt.Errorf("read made piece %s: %w", label, err)
	}
	return data, nil
}

// made reads made/. A folder without a description, or with another's, is not
// one of ours and is left alone.
func (f *Folder) made() ([]pieceRecord, error) {
	names, err := f.names(MadeDir)
	if err != nil {
		return nil, err
	}
	var out []pieceRecord
	for _, name := range names {
		if strings.HasPrefix(name, ".") {
			continue
		}
		text, err := f.root.ReadFile(path.Join(MadeDir, name, pieceFile))
		if errors.Is(err, fs.ErrNotExist) || err != nil && !f.isFolder(path.Join(MadeDir, name)) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("read made piece %s: %w", name, err)
		}
		var k pieceRecord
		if json.Unmarshal(text, &k) == nil && k.Label == name {
			out = append(out, k)
		}
	}
	slices.SortFunc(out, func(a, b pieceRecord) int {
		p, m := splitLabel(a.Label)
		q, n := splitLabel(b.Label)
		return cmp.Or(cmp.Compare(len(p), len(q)), cmp.Compare(p, q), cmp.Compare(m, n))
	})
	return out, nil
}

func (f *Folder) isFolder(name string) bool {
	info, err := f.root.Stat(name)
	return err == nil && info.IsDir()
}
