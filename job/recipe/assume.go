package recipe

import (
	"cmp"
	"maps"
	"slices"

	"scalewright/finding"
	"scalewright/unit"
)

// Assumptions are what decisions count on, or what judges found, each by the
// id of what it is about: an interface, a seam, a piece. An id that is absent
// was not assumed, or not looked at; one that is there with a zero was. The
// zero value is empty.
//
// The safer side: film thicker, support marks there, minutes more. Directions
// have no safer side.
type Assumptions struct {
	Film      map[string]unit.Length  // thickness that coats add to a face
	Support   map[string]bool         // support marks stand on a face
	Minutes   map[string]unit.Minutes // work or printing takes so long
	Direction map[string]string       // which end is printed down
}

// AssumeFilm records what a decision counts on: its own figure, or the thicker
// one it was told. It returns what to count on, as do its siblings.
func (a *Assumptions) AssumeFilm(told Assumptions, id string, own unit.Length) unit.Length {
	return set(&a.Film, id, max(own, told.Film[id]))
}

// AssumeSupport is AssumeFilm for support marks.
func (a *Assumptions) AssumeSupport(told Assumptions, id string, own bool) bool {
	return set(&a.Support, id, own || told.Support[id])
}

// AssumeMinutes is AssumeFilm for durations.
func (a *Assumptions) AssumeMinutes(told Assumptions, id string, own unit.Minutes) unit.Minutes {
	return set(&a.Minutes, id, max(own, told.Minutes[id]))
}

// AssumeDirection is AssumeFilm for print directions; what was told wins.
func (a *Assumptions) AssumeDirection(told Assumptions, id, own string) string {
	return set(&a.Direction, id, cmp.Or(told.Direction[id], own))
}

// ObserveFilm records what a judge found; of several the thickest stands.
func (a *Assumptions) ObserveFilm(id string, found unit.Length) {
	set(&a.Film, id, max(found, a.Film[id]))
}

// ObserveSupport records that a judge found support marks, or none.
func (a *Assumptions) ObserveSupport(id string, found bool) {
	set(&a.Support, id, found || a.Support[id])
}

// ObserveMinutes records what a judge found; of several the longest stands.
func (a *Assumptions) ObserveMinutes(id string, found unit.Minutes) {
	set(&a.Minutes, id, max(found, a.Minutes[id]))
}

// ObserveDirection records the direction that a judge asks for, if it asks for
// one; the last stands.
func (a *Assumptions) ObserveDirection(id, found string) {
	if found != "" {
		set(&a.Direction, id, found)
	}
}

func set[V any](m *map[string]V, id string, v V) V {
	if *m == nil {
		*m = map[string]V{}
	}
	(*m)[id] = v
	return v
}

// Clone is a copy that shares nothing.
func (a Assumptions) Clone() Assumptions {
	return Assumptions{
		maps.Clone(a.Film), maps.Clone(a.Support), maps.Clone(a.Minutes), maps.Clone(a.Direction),
	}
}

// Matter is what an assumption is about.
type Matter string

// The matters, in the order of findings.
const (
	Film          Matter = "film"
	Support       Matter = "support marks"
	WorkMinutes   Matter = "hours"
	FaceDirection Matter = "print direction"
)

// Unmet is an assumption that what was observed goes past.
type Unmet struct {
	Matter   Matter
	ID       string
	Assumed  finding.Arg
	Observed finding.Arg
}

// Against lists the assumptions that do not cover what was observed: by matter,
// then by id. What was observed and not assumed concerns no decision.
func (a Assumptions) Against(observed Assumptions) []Unmet {
	return slices.Concat(
		against(Film, a.Film, observed.Film, func(x, y unit.Length) bool { return x >= y },
			func(x unit.Length) finding.Arg { return finding.Fine(x) }),
		against(Support, a.Support, observed.Support, func(x, y bool) bool { return x || !y }, yesNo),
		against(WorkMinutes, a.Minutes, observed.Minutes, func(x, y unit.Minutes) bool { return x >= y },
			func(x unit.Minutes) finding.Arg { return finding.Span(x) }),
		against(FaceDirection, a.Direction, observed.Direction, func(x, y string) bool { return x == y },
			func(x string) finding.Arg { return finding.Name(x) }),
	)
}

func against[V any](what Matter, assumed, observed map[string]V, covers func(a, o V) bool, arg func(V) finding.Arg) []Unmet {
	var out []Unmet
	for _, id := range slices.Sorted(maps.Keys(assumed)) {
		if o, looked := observed[id]; looked && !covers(assumed[id], o) {
			out = append(out, Unmet{what, id, arg(assumed[id]), arg(o)})
		}
	}
	return out
}

func yesNo(b bool) finding.Arg {
	if b {
		return finding.Name("yes")
	}
	return finding.Name("none")
}
