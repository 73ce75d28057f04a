package build

import (
	"encoding/json"
	"regexp"
	"strings"
	"unicode"
)

// plainText needs no quotes anywhere in a text: words of letters and digits,
// with a few signs inside that mean nothing to YAML.
var plainText = regexp.MustCompile(`^[\pL][\pL\pN_./+ -]*$`)

// Words that YAML 1.1 or 1.2 takes for something other than text.
var notText = map[string]bool{
	"true": true, "false": true, "yes": true, "no": true, "on": true, "off": true,
	"null": true, "y": true, "n": true,
}

// Quote writes any text as a YAML scalar on one line. Control characters other
// than tab and line feed, which no name holds, become U+FFFD.
func Quote(text string) string {
	if plainText.MatchString(text) && !notText[strings.ToLower(text)] && strings.TrimSpace(text) == text {
		return text
	}
	var b strings.Builder
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(printable(text)); err != nil {
		panic("build: internal error: " + err.Error()) // a string always encodes
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func printable(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\t' && r != '\n' {
			return '\uFFFD'
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}
