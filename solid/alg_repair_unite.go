package solid

import "slices"

// leastOverlap is by what share of its volume a group of shells must be less when
// united. Shells that only touch have the volume of their union but for the
// rounding of two sums, units of 2⁻⁵³; this leaves room for bounds a thousand
// times what is in them.
const leastOverlap = 0x1p-40

// uniteShells is the last part of step 8: shells that overlap are united. A shell
// inside another that lies the same way round says twice what the other says
// once, and goes with it; a cavity goes with what it is in.
// It reports whether there were any.
func (r *repair) uniteShells() (united bool, err error) {
	shells := r.shells()
	if len(shells) < 2 {
		return false, nil
	}
	if err := r.nest(shells); err != nil {
		return false, err
	}
	owner := make([]int32, len(shells)) // the shell a cavity is taken out of
	for i := range shells {
		o := int32(i)
		for shells[o].volume < 0 && shells[o].parent >= 0 {
			o = shells[o].parent
		}
		owner[i] = o
	}
	groups := newSets(len(shells))
	if err := r.groupNear(shells, owner, groups); err != nil {
		return false, err
	}
	for i := range shells {
		groups.join(int32(i), owner[i])
		if winds := windings(shells, &shells[i]); shells[i].volume > 0 && winds > 0 {
			groups.join(int32(i), owner[shells[i].parent])
		}
	}
	return r.uniteGroups(shells, owner, groups)
}

// windings returns how often the shells round one wind round it in all.
func windings(shells []repairShell, s *repairShell) int {
	winds := 0
	for _, p := range s.in {
		if shells[p].volume > 0 {
			winds++
		} else {
			winds--
		}
	}
	return winds
}

// groupNear joins the owners of shells whose triangles have boxes that meet.
func (r *repair) groupNear(shells []repairShell, owner []int32, groups sets) error {
	of := make([]int32, len(r.m.Triangles)) // owner of a triangle
	var near []int32                        // triangles of shells whose bounds meet another's
	for i, s := range shells {
		lonely := !slices.ContainsFunc(shells, func(o repairShell) bool {
			return o.triangles[0] != s.triangles[0] && o.bounds.meets(s.bounds)
		})
		for _, t := range s.triangles {
			of[t] = owner[i]
		}
		if !lonely {
			near = append(near, s.triangles...)
		}
	}
	if len(near) == 0 {
		return nil
	}
	tree, err := r.k.Tree(r.ctx, r.m)
	if err != nil {
		return err
	}
	const grain = 1 << 10
	met := make([][][2]int32, (len(near)+grain-1)/grain)
	err = r.k.each(r.ctx, "repair: shells", len(near), grain, func(lo, hi int) {
		var found [][2]int32
		for _, t := range near[lo:hi] {
			a, b, c := r.m.corners(r.m.Triangles[t])
			tree.touching(treeBoxOf(&a, &b, &c), func(u int32) {
				if pair := [2]int32{of[t], of[u]}; pair[0] < pair[1] && !slices.Contains(found, pair) {
					found = append(found, pair)
				}
			})
		}
		met[lo/grain] = found
	})
	if err != nil {
		return err
	}
	for _, found := range met {
		for _, pair := range found {
			groups.join(pair[0], pair[1])
		}
	}
	return nil
}

// uniteGroups unites the solids of each group and puts the union in their place
// where that has less volume than they; otherwise they only touch, and stay.
func (r *repair) uniteGroups(shells []repairShell, owner []int32, groups sets) (united bool, err error) {
	label, n := groups.labels()
	members := make([][]int32, n)
	for i := range shells {
		members[label[i]] = append(members[label[i]], int32(i))
	}
	var out []Mesh
	for _, list := range members {
		solids, err := r.untangled(r.solidsOf(shells, owner, list), &out)
		if err != nil {
			return false, err
		}
		var volume float64
		for _, s := range solids {
			volume += s.Volume()
		}
		if len(solids) > 1 {
			one, err := r.unite(solids)
			if err != nil {
				return false, err
			}
			if one.Closed() && one.Volume() < float64(volume*(1-leastOverlap)) {
				for _, s := range solids {
					r.log.add(ShellUnited, s.Vertices[0], s.Bounds().Size().Length())
				}
				solids, united = []Mesh{one}, true
			}
		}
		out = append(out, solids...)
	}
	if united {
		r.m = Join(out...)
	}
	return united, nil
}

// untangled puts aside the solids of a group that are still faulty, for which the
// mesh is refused at the end, and those that pass through themselves more often than
// they have triangles. Such a tangle bounds nothing a person would call a solid, and
// its union would have as many triangles as it has crossings.
func (r *repair) untangled(solids []Mesh, aside *[]Mesh) ([]Mesh, error) {
	if len(solids) < 2 {
		return solids, nil
	}
	var out []Mesh
	for _, s := range solids {
		pairs, err := r.k.Crossings(r.ctx, s)
		if err != nil {
			return nil, err
		}
		if !s.Closed() || len(pairs) > len(s.Triangles) {
			*aside = append(*aside, s)
		} else {
			out = append(out, s)
		}
	}
	return out, nil
}

// unite returns the union of solids. Rounding may leave a triangle of it flat,
// which the steps for one surface mend. What can't be united is returned as is,
// side by side.
func (r *repair) unite(solids []Mesh) (Mesh, error) {
	one, err := r.k.Union(r.ctx, solids...)
	if err == nil && !one.Closed() {
		mend := &repair{k: r.k, ctx: r.ctx, o: r.o, m: one}
		err = mend.take(mend.mending())
		one = mend.m
	}
	if r.ctx.Err() != nil {
		return Mesh{}, r.ctx.Err()
	}
	if err != nil {
		return Join(solids...), nil
	}
	return one, nil
}

// solidsOf returns each owner among the members of a group with its cavities.
func (r *repair) solidsOf(shells []repairShell, owner, members []int32) []Mesh {
	var out []Mesh
	for _, o := range members {
		if owner[o] != o {
			continue
		}
		var own []int32
		for _, i := range members {
			if owner[i] == o {
				own = append(own, shells[i].triangles...)
			}
		}
		slices.Sort(own)
		out = append(out, r.only(own))
	}
	return out
}
