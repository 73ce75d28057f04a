package structure

import (
	"math"
	"slices"
	"sort"
	"strings"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// way says which doors and lifts are too small for what is carried through them:
// the build off its stand, taken apart where it comes apart. What turns a corner
// on the way is not known.
func (in Input) way() finding.List {
	if len(in.Carved) == 0 {
		return nil
	}
	whole := body{group: model.Group{Pieces: make([]model.PieceID, len(in.Division.Pieces))}, core: in.Core != nil}
	for i, p := range in.Division.Pieces {
		whole.group.Pieces[i] = p.ID
	}
	e := in.extents()
	all := e.box(whole)
	var found finding.List
	for _, p := range in.Site.Passages {
		if passes(all, p) {
			continue
		}
		worst, lacks := e.sticks(in.Division, in.Mounts, p)
		args := func(box [3]float64) finding.Args {
			return finding.Args{
				"way": finding.Name(p.Name), "long": finding.Long(box[2]), "wide": finding.Long(max(box[0], box[1])),
				"room": finding.Long(p.Wide), "high": finding.Long(p.High),
			}
		}
		if lacks == 0 {
			found.Add(finding.New("way-apart", p.At, args(all)))
			continue
		}
		a := args(worst)
		a["lacks"] = finding.Long(lacks)
		code := finding.Code("way-narrow")
		if joints := e.divides(p); len(joints) > 0 {
			code, a["joints"] = "way-glued", finding.Names(joints...)
		}
		found.Add(finding.New(code, p.At, a))
	}
	return found
}

// sticks is the body that lacks most room in a passage, and how much; 0 where all
// go through.
func (e extents) sticks(d model.Division, mounts []model.Mount, p model.Passage) (worst [3]float64, lacks unit.Length) {
	for _, b := range e.bodies(d, mounts) {
		box := e.box(b)
		if l := lacking(box, p); l > lacks {
			worst, lacks = box, l
		}
	}
	return worst, lacks
}

// divides is the joint that would let everything through if it were removable, or
// the two; none where no two are enough. Only joints between parts: a part's own
// cuts stay glued.
func (e extents) divides(p model.Passage) []string {
	glued := e.gluedJoints()
	helps := func(loose ...string) bool {
		d := e.Division
		d.Seams = slices.Clone(d.Seams)
		for i := range d.Seams {
			d.Seams[i].Removable = d.Seams[i].Removable || slices.Contains(loose, d.Seams[i].ID)
		}
		mounts := slices.Clone(e.Mounts)
		for i := range mounts {
			mounts[i].Removable = mounts[i].Removable || slices.Contains(loose, e.jointOf(mounts[i]))
		}
		_, lacks := e.sticks(d, mounts, p)
		return lacks == 0
	}
	for _, a := range glued {
		if helps(a) {
			return []string{a}
		}
	}
	for i, a := range glued {
		for _, b := range glued[i+1:] {
			if helps(a, b) {
				return []string{a, b}
			}
		}
	}
	return nil
}

// gluedJoints are the ids of the joints between parts that do not come apart.
func (in Input) gluedJoints() []string {
	var out []string
	for _, s := range in.Division.Seams {
		if !s.Removable && s.Below.Part != s.Above.Part {
			out = append(out, s.ID)
		}
	}
	for _, m := range in.Mounts {
		if id := in.jointOf(m); !m.Removable && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}

// jointOf is a mount's joint as declared: the mounts of copies of a part are one
// joint, and each adds its number to the joint's name.
func (in Input) jointOf(m model.Mount) string {
	for _, o := range in.Mounts {
		if o.ID != m.ID && o.At == m.At && m.At != (finding.Place{}) {
			return m.ID[:strings.LastIndexByte(m.ID, '-')]
		}
	}
	return m.ID
}

// lacking is how much wider, higher and deeper a passage would have to be; 0 where
// the box goes through.
func lacking(box [3]float64, p model.Passage) unit.Length {
	if passes(box, p) {
		return 0
	}
	const step = 5 // mm, the least worth saying of a door
	most := int(box[0]+box[1]+box[2]+4*handsRoom)/step + 1
	n := sort.Search(most, func(i int) bool {
		more := unit.Length(step * (i + 1))
		q := p
		q.Wide, q.High = q.Wide+more, q.High+more
		if q.Deep > 0 {
			q.Deep += more
		}
		return passes(box, q)
	})
	return unit.Length(step * (n + 1))
}

// passes reports whether a box goes through a passage: a door lengthwise, either
// way up; a lift standing, lying or leaning in its car.
func passes(box [3]float64, p model.Passage) bool {
	wide, high, deep := float64(p.Wide)-2*handsRoom, float64(p.High)-2*handsRoom, float64(p.Deep)
	sides := slices.Sorted(slices.Values(box[:]))
	if !goesIn(sides[0], sides[1], wide, high) {
		return false
	}
	if deep == 0 {
		return true
	}
	deep -= 2 * handsRoom
	// Leaning in the plane of depth and height, or of width and height, its least
	// side across.
	return sides[0] <= wide && goesIn(sides[1], sides[2], deep, high) ||
		sides[0] <= deep && goesIn(sides[1], sides[2], wide, high)
}

// goesIn reports whether a rectangle a by b goes into one of c by d at some angle.
func goesIn(a, b, c, d float64) bool {
	const steps = 180
	for i := range steps {
		sin, cos := math.Sincos(math.Pi * float64(i) / steps)
		sin, cos = math.Abs(sin), math.Abs(cos)
		if a*cos+b*sin <= c && a*sin+b*cos <= d {
			return true
		}
	}
	return false
}
