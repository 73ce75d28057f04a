package solid

import (
	"cmp"
	"slices"
)

// uniteRounds bounds how often shells are united. The union of solids that don't
// pass through themselves has nothing left to unite; of others it may have, and
// where that doesn't end they are left as they were.
const uniteRounds = 4

// tidyShells is step 8.
func (r *repair) tidyShells() error {
	if err := r.dropShells(); err != nil {
		return err
	}
	before, log := r.m, r.log
	for range uniteRounds {
		united, err := r.uniteShells()
		if err != nil || !united {
			return err
		}
		if err := r.dropShells(); err != nil {
			return err
		}
	}
	r.m, r.log = before, log
	return nil
}

// dropShells drops flat shells and copies.
func (r *repair) dropShells() error {
	shells := r.shells()
	gone := make([]bool, len(shells))
	if !r.sound { // in a sound mesh they lie inside others and do no harm
		r.dropFlatShells(shells, gone)
	}
	r.dropCopies(shells, gone)
	if !slices.Contains(gone, true) {
		return nil
	}
	dropped := make([]bool, len(r.m.Triangles))
	for i, s := range shells {
		for _, t := range s.triangles {
			dropped[t] = gone[i]
		}
	}
	r.keep(func(t int) bool { return !dropped[t] })
	return r.compact()
}

// dropFlatShells marks shells without volume, such as two sheets back to back.
func (r *repair) dropFlatShells(shells []repairShell, gone []bool) {
	for i, s := range shells {
		if s.volume == 0 {
			gone[i] = true
			r.log.add(FlatShellDropped, s.at, s.bounds.Size().Length())
		}
	}
}

// dropCopies marks shells that are the same triangles as an earlier one, however
// numbered.
func (r *repair) dropCopies(shells []repairShell, gone []bool) {
	order := make([]int, len(shells))
	for i := range order {
		order[i] = i
	}
	alike := func(i, j int) int {
		a, b := shells[i], shells[j]
		return cmp.Or(
			cmp.Compare(len(a.triangles), len(b.triangles)),
			slices.Compare(a.bounds.Min[:], b.bounds.Min[:]),
			slices.Compare(a.bounds.Max[:], b.bounds.Max[:]))
	}
	slices.SortStableFunc(order, alike)
	for lo := 0; lo < len(order); {
		hi := lo
		for hi < len(order) && alike(order[lo], order[hi]) == 0 {
			hi++
		}
		run := order[lo:hi]
		lo = hi
		if len(run) == 1 {
			continue
		}
		faces := make([][][3]Vec, len(run))
		for x, i := range run {
			faces[x] = r.faces(shells[i])
		}
		for x, i := range run {
			same := func(y int) bool { return !gone[run[y]] && slices.Equal(faces[x], faces[y]) }
			for y := range x {
				if !gone[i] && same(y) {
					gone[i] = true
					r.log.add(ShellCopyDropped, shells[i].at, shells[i].bounds.Size().Length())
				}
			}
		}
	}
}

// faces returns the corners of a shell's triangles, each turned to begin with the
// lowest, in order.
func (r *repair) faces(s repairShell) [][3]Vec {
	compare := func(f, g [3]Vec) int {
		return cmp.Or(slices.Compare(f[0][:], g[0][:]), slices.Compare(f[1][:], g[1][:]), slices.Compare(f[2][:], g[2][:]))
	}
	out := make([][3]Vec, len(s.triangles))
	for i, t := range s.triangles {
		a, b, c := r.m.corners(r.m.Triangles[t])
		out[i] = slices.MinFunc([][3]Vec{{a, b, c}, {b, c, a}, {c, a, b}}, compare)
	}
	slices.SortFunc(out, compare)
	return out
}
