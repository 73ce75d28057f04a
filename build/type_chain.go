package build

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"regexp"
)

// chain is a file of JSON lines, each closed by a checksum over the one before
// and itself, so that a line changed, lost or moved shows. Sums are the first
// 16 hexadecimal digits of SHA-256(sum before, line without sum).
type chain struct {
	bodies [][]byte // whole lines, without their sums
	ends   []int    // bytes up to the end of each line
	sum    string   // of the last whole line
	torn   bool     // a line behind the whole ones was being written
	bad    int      // number of the first line that is not as it was written; 0: none
}

var sumTail = regexp.MustCompile(`,"sum":"([0-9a-f]{16})"\}$`)

// seal closes a line that follows sum.
func seal(sum string, body []byte) (line []byte, next string) {
	next = chainSum(sum, body)
	line = append(bytes.Clone(body[:len(body)-1]), `,"sum":"`+next+"\"}\n"...)
	return line, next
}

func chainSum(sum string, body []byte) string {
	digest := sha256.Sum256(append([]byte(sum), body...))
	return hex.EncodeToString(digest[:8])
}

// readChain reads lines up to the first that is damaged. A last line that lacks
// its end is torn: its writer was killed and had acknowledged nothing.
func readChain(text []byte) chain {
	var c chain
	for at := 0; at < len(text); {
		length := bytes.IndexByte(text[at:], '\n')
		if length < 0 {
			c.torn = true
			return c
		}
		line := text[at : at+length]
		at += length + 1
		tail := sumTail.FindSubmatchIndex(line)
		if tail == nil {
			// Some file systems fill a torn end with zeros.
			c.torn = at == len(text) && bytes.IndexByte(line, 0) >= 0
			if !c.torn {
				c.bad = len(c.bodies) + 1
			}
			return c
		}
		body := append(bytes.Clone(line[:tail[0]]), '}')
		sum := string(line[tail[2]:tail[3]])
		if sum != chainSum(c.sum, body) {
			c.bad = len(c.bodies) + 1
			return c
		}
		c.bodies, c.ends, c.sum = append(c.bodies, body), append(c.ends, at), sum
	}
	return c
}

// whole is how many bytes the whole lines take.
func (c chain) whole() int {
	if len(c.ends) == 0 {
		return 0
	}
	return c.ends[len(c.ends)-1]
}
