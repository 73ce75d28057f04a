package main

import (
	"fmt"
	"slices"
	"strings"
)

// figuresToFlags joins a figure below zero to the flag before it, so that
// "--plane -1,0,0,3" is read as "--plane=-1,0,0,3": to the parser a word that
// begins with a dash is a flag.
func figuresToFlags(args []string) []string {
	var out []string
	for i, a := range args {
		if a == "--" {
			return append(out, args[i:]...)
		}
		if n := len(out); negative(a) && n > 0 && strings.HasPrefix(out[n-1], "--") && !strings.Contains(out[n-1], "=") {
			out[n-1] += "=" + a
			continue
		}
		out = append(out, a)
	}
	return out
}

// looseFigure says what to do about a figure below zero that follows no flag.
func looseFigure(args []string) error {
	end := slices.Index(args, "--")
	if end < 0 {
		end = len(args)
	}
	i := slices.IndexFunc(args[:end], negative)
	if i < 0 {
		return nil
	}
	var flags, words []string
	for _, a := range args[:end] {
		if strings.HasPrefix(a, "-") && !negative(a) {
			flags = append(flags, a)
		} else {
			words = append(words, a)
		}
	}
	do := "put -- before the first figure below zero, and flags before the --"
	if len(flags) == 0 {
		first := slices.IndexFunc(words, negative)
		do = fmt.Sprintf("put -- before it: scalewright %s -- %s", strings.Join(words[:first], " "), strings.Join(words[first:], " "))
	}
	return &usageError{fmt.Sprintf("%s begins with a dash, as flags do", args[i]), do}
}

// negative reports whether a word is a figure below zero, or a list of figures
// that begins with one.
func negative(word string) bool {
	rest, dash := strings.CutPrefix(word, "-")
	return dash && rest != "" && strings.ContainsAny(rest[:1], "0123456789.")
}
