package measure

import "slices"

// bump is a stretch of profile that stands out, and the body's radius at both its ends;
// clear is where it stands out for good.
type bump struct {
	from, to, first, last float64
	clear                 reachOf
}

// bumps lists them: a stretch that stands out of the body over finWindow of the length, opened
// as a mask is (Serra, Image Analysis and Mathematical Morphology, 1982), and its steep edges.
func bumps(prof []station) (out []bump) {
	n := len(prof)
	read := make([]float64, n)
	last := -1
	for k, st := range prof {
		if read[k] = max(st.r, st.most); read[k] == 0 {
			continue
		}
		for i := last + 1; i < k; i++ { // between what was read
			from := k
			if last >= 0 {
				from = last
			}
			read[i] = read[from] + float64(i-from)/float64(max(k-from, 1))*(read[k]-read[from])
		}
		last = k
	}
	wide := int(finWindow * float64(n))
	if wide < 3 {
		return nil
	}
	base := make([]float64, n)
	for k := 0; k+wide <= n; k++ {
		least := slices.Min(read[k : k+wide])
		for i := k; i < k+wide; i++ {
			base[i] = max(base[i], least)
		}
	}
	for i := 0; i < n; i++ {
		j := i
		for j < n && read[j] > finStands*base[j] {
			j++
		}
		if i > 2 && j < n-2 && float64(j-i)*stationStep >= finLeast {
			first, last := i, j-1
			for first > 2 && read[first-1] < read[first]-finSteep*stationStep {
				first--
			}
			for last < n-3 && read[last+1] < read[last]-finSteep*stationStep {
				last++
			}
			out = append(out, bump{prof[first].s, prof[last].s, read[first-1], read[last+1], reachOf{prof[i].s, prof[j-1].s}})
			j = last + 1
		}
		i = j
	}
	return out
}

// body is the body's radius at a station of a bump, straight between its ends.
func (b bump) body(s float64) float64 {
	return b.first + (s-b.from)/(b.to-b.from)*(b.last-b.first)
}

// over reports whether along half of it a stretch stands out of the body straight between its
// ends as well: a cylinder between two cones only stands out of the narrower one.
func (b bump) over(prof []station) bool {
	n, over := 0, 0
	for _, st := range prof {
		if read := max(st.r, st.most); read > 0 && b.clear.lo <= st.s && st.s <= b.clear.hi {
			n++
			if read > finStands*b.body(st.s) {
				over++
			}
		}
	}
	return 2*over >= n
}

// near reports whether a station lies in a bump or so near that a fin's tip may.
func (b bump) near(s float64) bool { return b.from-finSwept < s && s < b.to+finSwept }
