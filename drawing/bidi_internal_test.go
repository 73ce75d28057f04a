package drawing

import "testing"

func TestVisual(t *testing.T) {
	// Latin capitals stand for Hebrew letters, as in UAX 9, section 3.4; the
	// first two cases are of the kind shown there.
	hebrew := func(s string) string {
		rs := []rune(s)
		for i, r := range rs {
			if r >= 'A' && r <= 'Z' {
				rs[i] = 'א' + r - 'A'
			}
		}
		return string(rs)
	}
	for _, c := range []struct{ name, in, want string }{
		{"none", "ring 252 mm", "ring 252 mm"},
		{"word", "car means CAR.", "car means RAC."},
		{"number after", "ABC 252 mm", "252 CBA mm"},
		{"two words", "AB CD", "DC BA"},
		{"decimal", "AB 3.2 CD", "DC 3.2 BA"},
		{"brackets", "AB (CD) EF", "FE (DC) BA"},
		{"number first", "252 AB", "252 BA"},
		{"latin between", "AB mm CD", "BA mm DC"},
		{"mark", "Aּ B", "B Aּ"},
	} {
		if got := visual(hebrew(c.in)); got != hebrew(c.want) {
			t.Errorf("visual(%s) = %q, want %q", c.name, got, hebrew(c.want))
		}
	}
}
