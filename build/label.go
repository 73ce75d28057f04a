package build

import (
	"strconv"
	"strings"

	"scalewright/model"
)

// nextLabel is the letter of the part, a new one for a part that has none, and
// the number behind the highest given.
func nextLabel(part string, events []model.Event, pieces []pieceRecord) string {
	letters, highest := map[string]string{}, map[string]int{}
	last := 0
	see := func(part, label string) {
		letter, n := splitLabel(label)
		if n == 0 {
			return
		}
		letters[part] = letter
		highest[letter] = max(highest[letter], n)
		last = max(last, letterNumber(letter))
	}
	for _, e := range events {
		if e.Kind == model.Released {
			part, _, _ := strings.Cut(e.Piece, ".")
			see(part, e.Label)
		}
	}
	for _, k := range pieces {
		see(k.Part, k.Label)
	}
	letter, ok := letters[part]
	if !ok {
		letter = letterOf(last + 1)
	}
	return letter + strconv.Itoa(highest[letter]+1)
}

// splitLabel takes A12 apart; 0 when it is no label.
func splitLabel(label string) (letter string, number int) {
	digits := strings.TrimLeft(label, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	letter = label[:len(label)-len(digits)]
	n, err := strconv.Atoi(digits)
	if err != nil || n < 1 || letter == "" {
		return "", 0
	}
	return letter, n
}

// letterOf counts A … Z, AA, AB … from 1.
func letterOf(n int) string {
	var letters string
	for ; n > 0; n = (n - 1) / 26 {
		letters = string(rune('A'+(n-1)%26)) + letters
	}
	return letters
}

func letterNumber(letters string) int {
	n := 0
	for _, c := range []byte(letters) {
		n = n*26 + int(c-'A'+1)
	}
	return n
}
