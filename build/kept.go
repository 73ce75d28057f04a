package build

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"path"
	"slices"

	"scalewright/model"
	"scalewright/unit"
)

// sizesFile is what made/ keeps of a piece's sizes.
const sizesFile = "sizes.json"

// sumOf is a file's checksum as piece.json holds it.
func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// kept reads what made/ holds of the pieces that the log calls released, and
// whether it is still what was written.
func (l *loader) kept() error {
	records, err := l.folder.made()
	if err != nil {
		return err
	}
	byLabel := map[string]pieceRecord{}
	for _, k := range records {
		byLabel[k.Label] = k
	}
	for _, e := range l.out.Events {
		if e.Kind != model.Released || e.Label == "" {
			continue
		}
		k, ok := byLabel[e.Label]
		if !ok {
			what := path.Join(MadeDir, e.Label)
			if l.folder.isFolder(what) {
				what = path.Join(what, pieceFile) // it is not a record of ours any more
			}
			l.out.Kept = append(l.out.Kept, model.Kept{Label: e.Label, Piece: e.Piece, Revision: e.Revision, Damaged: []string{what}})
			continue
		}
		kept, err := l.keptPiece(k)
		if err != nil {
			return err
		}
		l.out.Kept = append(l.out.Kept, kept)
	}
	return nil
}

func (l *loader) keptPiece(k pieceRecord) (model.Kept, error) {
	out := model.Kept{Label: k.Label, Piece: k.Piece, Revision: k.Revision, Inside: map[string]unit.Length{}, Outside: map[string]unit.Length{}}
	for _, name := range k.Files {
		data, err := l.folder.root.ReadFile(path.Join(MadeDir, k.Label, name))
		switch {
		case errors.Is(err, fs.ErrNotExist):
			out.Damaged = append(out.Damaged, path.Join(MadeDir, k.Label, name))
			continue
		case err != nil:
			return out, err
		}
		if want, ok := k.Sums[name]; ok && want != sumOf(data) {
			out.Damaged = append(out.Damaged, path.Join(MadeDir, k.Label, name))
			continue
		}
		if name == sizesFile && !readSizes(data, &out) {
			out.Damaged = append(out.Damaged, path.Join(MadeDir, k.Label, name))
		}
	}
	slices.Sort(out.Damaged)
	return out, nil
}

// readSizes fills in what a piece was given; false where the text is not ours.
func readSizes(data []byte, into *model.Kept) bool {
	var sizes struct {
		Reach    model.Span
		Volume   float64
		Features []string
		Fits     []model.Fit
	}
	if json.Unmarshal(data, &sizes) != nil {
		return false
	}
	into.Reach, into.Volume, into.Features = sizes.Reach, sizes.Volume, sizes.Features
	for _, f := range sizes.Fits {
		switch into.Piece {
		case f.Male:
			into.Inside[f.Seam] = f.MaleSize.Nominal
		case f.Female:
			into.Outside[f.Seam] = f.Bore.Nominal
		}
	}
	return true
}
