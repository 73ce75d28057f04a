package finding

// Nearest is the candidate that a mistyped name most likely meant; "" when none
// is near. Distance counts insertions, deletions, substitutions and swaps of
// neighbours (Damerau 1964); at most a third of the letters may differ.
func Nearest(name string, candidates []string) string {
	best, found := max(1, len(name)/3), ""
	for _, c := range candidates {
		if d := distance(name, c); d < best || d == best && found == "" {
			best, found = d, c
		}
	}
	return found
}

func distance(a, b string) int {
	before, last := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row := make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}
