package formats

import "fmt"

// Limits bounds what a reader accepts. A zero field takes the default.
type Limits struct {
	Triangles int   // in the file; default 10 million
	Bytes     int64 // of text, unpacked; default 1 GiB
}

const (
	defaultTriangles = 10_000_000
	defaultBytes     = 1 << 30
	// maxTriangles keeps half-edges within 32 bits, as solid numbers them.
	maxTriangles = 1<<31/3 - 1
)

func (l Limits) orDefault() Limits {
	if l.Triangles <= 0 {
		l.Triangles = defaultTriangles
	}
	l.Triangles = min(l.Triangles, maxTriangles)
	if l.Bytes <= 0 {
		l.Bytes = defaultBytes
	}
	return l
}

// SyntaxError is a file that isn't what its format says.
type SyntaxError struct {
	Format string // "STL", "OBJ" or "3MF"
	Part   string // the part of a package; else empty
	Line   int    // from 1, of a text; else 0
	Offset int64  // from 0, of a binary file; else 0
	What   string
}

// Error says what is wrong and where.
func (e *SyntaxError) Error() string {
	where := ""
	if e.Part != "" {
		where = " " + e.Part
	}
	switch {
	case e.Line > 0:
		where += fmt.Sprintf(" line %d", e.Line)
	case e.Offset > 0:
		where += fmt.Sprintf(" at byte %d", e.Offset)
	}
	return e.Format + where + ": " + e.What
}

// LimitError is a file larger than the caller's [Limits] allow.
type LimitError struct {
	Format string
	What   string // "triangles", "bytes" …
	Limit  int64
}

// Error names the limit.
func (e *LimitError) Error() string {
	return fmt.Sprintf("%s: more than %d %s", e.Format, e.Limit, e.What)
}
