package formats

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

const (
	// maxParts bounds the parts of a package; a 3MF has a handful.
	maxParts = 4096
	// maxRelations bounds the bytes of the relationships part.
	maxRelations = 1 << 20
)

// Read3MF reads a 3MF package of the given size. It understands the core; a
// file that requires an extension is refused, and what an optional one adds is
// skipped. Lengths in another unit are converted to millimetres.
func Read3MF(r io.ReaderAt, size int64, limits Limits) (Model, error) {
	limits = limits.orDefault()
	z, err := zip.NewReader(r, size)
	if err != nil {
		if errors.Is(err, zip.ErrFormat) || errors.Is(err, zip.ErrAlgorithm) || errors.Is(err, io.ErrUnexpectedEOF) {
			return Model{}, &SyntaxError{Format: "3MF", What: "not a complete zip file"}
		}
		return Model{}, fmt.Errorf("read 3MF: %w", err)
	}
	if len(z.File) > maxParts {
		return Model{}, &LimitError{"3MF", "parts", maxParts}
	}
	target, err := modelTarget(z)
	if err != nil {
		return Model{}, err
	}
	f, err := findPart(z, target)
	if err != nil {
		return Model{}, err
	}
	if f.UncompressedSize64 > uint64(limits.Bytes) {
		return Model{}, &LimitError{"3MF", "bytes", limits.Bytes}
	}
	part, err := f.Open()
	if err != nil {
		return Model{}, partFault(f.Name, err)
	}
	defer part.Close()
	return readModel(&guard{r: part, left: limits.Bytes, limit: limits.Bytes}, f.Name, limits)
}

// findPart finds a part by name; names differ only by more than case (ECMA-376
// part 2, 6.2.2.3).
func findPart(z *zip.Reader, name string) (*zip.File, error) {
	var found *zip.File
	for _, f := range z.File {
		if strings.EqualFold(f.Name, name) {
			if found != nil {
				return nil, &SyntaxError{Format: "3MF", Part: name, What: "is in the package twice"}
			}
			found = f
		}
	}
	if found == nil {
		return nil, &SyntaxError{Format: "3MF", Part: name, What: "is missing from the package"}
	}
	return found, nil
}

// modelTarget returns the name of the part that the package says is the model.
func modelTarget(z *zip.Reader) (string, error) {
	f, err := findPart(z, relationsPath)
	if err != nil {
		return "", err
	}
	part, err := f.Open()
	if err != nil {
		return "", partFault(f.Name, err)
	}
	defer part.Close()
	var rels struct {
		List []struct {
			Target string `xml:"Target,attr"`
			Type   string `xml:"Type,attr"`
		} `xml:"Relationship"`
	}
	d := xml.NewDecoder(&guard{r: part, left: maxRelations, limit: maxRelations})
	if err := d.Decode(&rels); err != nil {
		return "", partFault(f.Name, err)
	}
	for _, rel := range rels.List {
		if rel.Type == modelRelation {
			return strings.TrimPrefix(rel.Target, "/"), nil
		}
	}
	return "", &SyntaxError{Format: "3MF", Part: f.Name, What: "names no 3D model"}
}

// partFault tells data that is wrong from a limit and from a disk that fails.
func partFault(part string, err error) error {
	if limit, ok := errors.AsType[*LimitError](err); ok {
		return limit
	}
	if syntax, ok := errors.AsType[*xml.SyntaxError](err); ok {
		return &SyntaxError{Format: "3MF", Part: part, Line: syntax.Line, What: syntax.Msg}
	}
	if _, ok := errors.AsType[*SyntaxError](err); ok {
		return err
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return &SyntaxError{Format: "3MF", Part: part, What: "ends too soon"}
	}
	if errors.Is(err, zip.ErrChecksum) || errors.Is(err, zip.ErrFormat) || errors.Is(err, zip.ErrAlgorithm) {
		return &SyntaxError{Format: "3MF", Part: part, What: err.Error()}
	}
	return fmt.Errorf("read 3MF %s: %w", part, err)
}

// maxToken bounds the text between two '>': an XML decoder holds one tag or one
// text in memory, and only bad faith makes either this long.
const maxToken = 1 << 20

// guard stops a reader that unpacks to more than it should.
type guard struct {
	r           io.Reader
	left, limit int64
	token       int
}

func (g *guard) Read(p []byte) (int, error) {
	if g.left <= 0 {
		// Exactly at the limit the end may still follow.
		var one [1]byte
		if n, err := g.r.Read(one[:]); n == 0 {
			return 0, err
		}
		return 0, &LimitError{"3MF", "bytes", g.limit}
	}
	if int64(len(p)) > g.left {
		p = p[:g.left]
	}
	n, err := g.r.Read(p)
	g.left -= int64(n)
	for _, c := range p[:n] {
		if g.token++; c == '>' {
			g.token = 0
		}
		if g.token > maxToken {
			return 0, &LimitError{"3MF", "bytes in one tag or text", maxToken}
		}
	}
	return n, err
}
