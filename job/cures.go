package job

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Cures are what the program could do itself about a finding: one value of the build
// to write. They stand here and not in the stages because what may be written depends
// on what is declared, which no stage sees. A cure takes its finding away (a test says
// so); whether another comes is for the trial to show.

// cure is the edit of a finding; false where there is none.
type cure func(c curing, f finding.Finding) (finding.Place, string, bool)

// curing is what cures look at.
type curing struct {
	declared model.Declared
	design   model.Design
}

var cures = map[finding.Code]cure{
	"wall-thin": lengthTo("least", ""),
	"panel-too-thin": func(c curing, f finding.Finding) (finding.Place, string, bool) {
		part := c.part(f.Part)
		text, ok := length(f, "least")
		return finding.Place{File: part.At.File, Path: part.At.Path}.Key("wall"), text, ok && part.ID != ""
	},
	"panel-too-small":  panelLarger,
	"tips-wide":        lengthTo("wide", "across"),
	"leans":            lengthTo("engage", "engage"),
	"floor-weak":       ofStand("wide", "across"),
	"light-flashes":    write("period_s", "0.34"),
	"coats-unplanned":  write("seen", "arm"),
	"piece-too-large":  smaller,
	"parts-apart":      meets,
	"parts-overlap":    meets,
	"bonded-shut-by":   removable,
	"kind-not-here":    leaveOut,
	"no-supply":        supply,
	"opening-on-joint": intoPiece,
	"opening-under-guest": func(c curing, f finding.Finding) (finding.Place, string, bool) {
		high, ok := f.Args["high"].(finding.Number)
		return f.At.Key("clocking_deg"), strconv.FormatFloat(math.Ceil(float64(high)), 'f', 0, 64), ok
	},
	"screw-too-short": write("kind", "tongue"),
}

// Curable are the codes of findings that have a cure, sorted.
func Curable() []finding.Code { return slices.Sorted(maps.Keys(cures)) }

// withCures gives findings their edits.
func withCures(found finding.List, declared model.Declared, design model.Design) finding.List {
	c := curing{declared, design}
	out := slices.Clone(found)
	for i, f := range out {
		if of := cures[f.Code]; of != nil && f.Edit == nil {
			if at, text, ok := of(c, f); ok && at.File != "" {
				out[i] = f.WithEdit(at, text)
			}
		}
	}
	return out
}

// length is an argument as it is written, rounded up to a hundredth.
func length(f finding.Finding, arg string) (string, bool) {
	var x float64
	switch v := f.Args[arg].(type) {
	case finding.Fine:
		x = float64(v)
	case finding.Size:
		x = float64(v)
	case finding.Long:
		x = float64(v)
	default:
		return "", false
	}
	return millimetres(math.Ceil(x*100-1e-6) / 100), x > 0
}

func millimetres(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) + " mm" }

// lengthTo writes an argument at the finding's place, or at a key of it.
func lengthTo(arg, key string) cure {
	return func(_ curing, f finding.Finding) (finding.Place, string, bool) {
		text, ok := length(f, arg)
		if key == "" {
			return f.At, text, ok
		}
		return f.At.Key(key), text, ok
	}
}

// write writes the same whatever the figures.
func write(key, text string) cure {
	return func(_ curing, f finding.Finding) (finding.Place, string, bool) { return f.At.Key(key), text, true }
}

// ofStand writes an argument at a key of the stand.
func ofStand(arg, key string) cure {
	return func(c curing, f finding.Finding) (finding.Place, string, bool) {
		text, ok := length(f, arg)
		if c.design.Stand == nil {
			return finding.Place{}, "", false
		}
		return c.design.Stand.At.Key(key), text, ok
	}
}

// part is a declared part, by the id of it or of one of its copies.
func (c curing) part(id string) model.DeclaredPart {
	for _, p := range c.design.Parts {
		if p.ID == id {
			id = p.Declared
			break
		}
	}
	k := slices.IndexFunc(c.declared.Parts, func(p model.DeclaredPart) bool { return p.ID == id })
	if k < 0 {
		return model.DeclaredPart{}
	}
	return c.declared.Parts[k]
}

// panelLarger makes the smaller side of a panel's opening as large as is needed.
func panelLarger(c curing, f finding.Finding) (finding.Place, string, bool) {
	wide, isWide := f.Args["wide"].(finding.Size)
	high, isHigh := f.Args["high"].(finding.Size)
	text, ok := length(f, "least")
	key := "wide"
	if high < wide {
		key = "high"
	}
	return f.At.Key(key), text, ok && isWide && isHigh
}

// smaller makes the whole build so small that the printer takes it.
func smaller(c curing, f finding.Finding) (finding.Place, string, bool) {
	percent, ok := f.Args["percent"].(finding.Number)
	at := c.declared.Enlarge.At
	switch ratio := c.declared.Enlarge.Ratio; {
	case !ok || percent <= 0 || at.File == "":
		return finding.Place{}, "", false
	case ratio > 0:
		return at.Key("ratio"), strconv.FormatFloat(math.Floor(ratio*float64(percent)*10)/1000, 'f', -1, 64), true
	}
	return at.Key("length"), millimetres(math.Floor(c.declared.Enlarge.Length.MM * float64(percent) / 100)), true
}

// meets lets a part begin where the other ends.
func meets(c curing, f finding.Finding) (finding.Place, string, bool) {
	name, _ := f.Args["other"].(finding.Name)
	other, part := c.part(string(name)), c.part(f.Part)
	return part.At.Key("from"), other.To.Text, other.To.Text != "" && part.ID != ""
}

// removable lets a joint come apart: a declared one, or one that stands nowhere yet.
func removable(c curing, f finding.Finding) (finding.Place, string, bool) {
	name, _ := f.Args["joint"].(finding.Name)
	id := string(name)
	at := finding.Place{File: c.fileOfBuild(), Path: "joints." + id}
	if slices.ContainsFunc(c.declared.Joints, func(j model.DeclaredJoint) bool { return j.ID == id }) {
		return at.Key("removable"), "true", true
	}
	for _, i := range c.design.Interfaces {
		if i.ID == id {
			return at, fmt.Sprintf("{between: [%s, %s], removable: true}", c.part(i.Below).ID, c.part(i.Above).ID), true
		}
	}
	return finding.Place{}, "", false
}

// fileOfBuild is build.yaml, by any place in it.
func (c curing) fileOfBuild() string {
	if c.declared.Enlarge.At.File != "" {
		return c.declared.Enlarge.At.File
	}
	if len(c.declared.Parts) > 0 {
		return c.declared.Parts[0].At.File
	}
	return ""
}

// leaveOut takes the first kind that can be made there.
func leaveOut(_ curing, f finding.Finding) (finding.Place, string, bool) {
	can, _ := f.Args["can"].(finding.Name)
	first, _, _ := strings.Cut(string(can), ",")
	first, _, _ = strings.Cut(first, " and ")
	at := f.At
	if !strings.HasSuffix(at.Path, ".kind") {
		at = at.Key("kind")
	}
	return at, first, first != "" && first != "none" && strings.Count(at.Path, ".") >= 1
}

// supply adds a certified adapter.
func supply(c curing, _ finding.Finding) (finding.Place, string, bool) {
	id := "adapter"
	for n := 2; slices.ContainsFunc(c.declared.Components, func(k model.DeclaredComponent) bool { return k.ID == id }); n++ {
		id = fmt.Sprintf("adapter-%d", n)
	}
	return finding.Place{File: c.fileOfBuild(), Path: "components." + id}, "{kind: adapter-5v3a, reached: outside}", true
}

// intoPiece moves an opening's middle to the nearest place where it lies in one piece.
func intoPiece(c curing, f finding.Finding) (finding.Place, string, bool) {
	low, isLow := f.Args["low"].(finding.Long)
	high, isHigh := f.Args["high"].(finding.Long)
	if !isLow || !isHigh || high < low {
		return finding.Place{}, "", false
	}
	k := slices.IndexFunc(c.declared.Openings, func(o model.DeclaredOpening) bool { return o.At == f.At })
	if k < 0 {
		return finding.Place{}, "", false
	}
	is := c.declared.Openings[k].Station
	// In the middle of what is left where that is little, else just inside.
	to := min(max(float64(f.Station), math.Ceil(float64(low))), math.Floor(float64(high)))
	if to < float64(low) || to > float64(high) {
		to = float64(low+high) / 2
	}
	if ratio := c.ratio(); is.Owner == unit.OfReference && ratio > 0 {
		return f.At.Key("at"), strconv.FormatFloat(math.Round(to/ratio*1000)/1000, 'f', -1, 64) + " ref", true
	}
	return f.At.Key("at"), millimetres(math.Round(to*100) / 100), true
}

// ratio that the build is at.
func (c curing) ratio() float64 {
	if c.declared.Enlarge.Ratio > 0 {
		return c.declared.Enlarge.Ratio
	}
	return 0
}
