package formats

import (
	"bufio"
	"errors"
	"fmt"
	"io"
)

// textLines reads a text line by line within limits, and knows where it is.
type textLines struct {
	format  string
	scan    *bufio.Scanner
	number  int   // of the line read last, from 1
	bytes   int64 // read so far
	most    int64 // bytes of the text
	longest int   // bytes of a line
}

func newTextLines(r io.Reader, format string, most int64, longest int) *textLines {
	l := &textLines{format: format, scan: bufio.NewScanner(r), most: most, longest: longest}
	l.scan.Buffer(make([]byte, 0, 4096), longest)
	return l
}

func (l *textLines) fault(format string, args ...any) error {
	return &SyntaxError{Format: l.format, Line: l.number, What: fmt.Sprintf(format, args...)}
}

// next returns the next line without its end, lent until the next call; ok is
// false at the end of the text.
func (l *textLines) next() (line []byte, ok bool, err error) {
	if l.scan.Scan() {
		l.number++
		l.bytes += int64(len(l.scan.Bytes())) + 1
		if l.bytes > l.most {
			return nil, false, &LimitError{l.format, "bytes", l.most}
		}
		return l.scan.Bytes(), true, nil
	}
	switch err := l.scan.Err(); {
	case err == nil:
		return nil, false, nil
	case errors.Is(err, bufio.ErrTooLong):
		l.number++
		return nil, false, l.tooLong()
	default:
		return nil, false, fmt.Errorf("read %s: %w", l.format, err)
	}
}

func (l *textLines) tooLong() error { return l.fault("line longer than %d bytes", l.longest) }

// short keeps a message from repeating a whole broken file.
func short(s string) string {
	const most = 40
	if len(s) > most {
		return s[:most] + "…"
	}
	return s
}
