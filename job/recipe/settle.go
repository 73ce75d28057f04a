package recipe

import (
	"context"
	"fmt"

	"scalewright/finding"
)

// MostReruns is how often decisions are taken anew within one job.
const MostReruns = 2

// Outcome is one run of decisions and judges.
type Outcome[T any] struct {
	Value    T
	Assumed  Assumptions // what the decisions counted on
	Observed Assumptions // what the judges found
}

// Settled is the last run, and what it still leaves open.
type Settled[T any] struct {
	Value T
	Runs  int     // 1 to 1 + reruns
	Unmet []Unmet // empty when every assumption covers what was observed
}

// Settle runs decisions and judges until every assumption covers what was
// observed, at most 1 + reruns times.
//
// run is told what it must assume at least: nothing at first; then all that was
// assumed so far, and what was observed past it. So film, support marks and
// minutes only move to the safer side, and a run may be told more than it would
// need, never less. A direction has no safer side: it is told only where it was
// wrong, and may change once. When nothing may move, Settle stops early; what is
// unmet then stays so.
//
// A run whose decisions count on less than they were told is a bug of ours and
// panics (decisions take their figures from AssumeFilm and its siblings).
func Settle[T any](ctx context.Context, reruns int, run func(ctx context.Context, told Assumptions) (Outcome[T], error)) (Settled[T], error) {
	var told Assumptions
	for runs := 1; ; runs++ {
		if err := ctx.Err(); err != nil {
			return Settled[T]{}, err
		}
		out, err := run(ctx, told.Clone())
		if err != nil {
			return Settled[T]{}, err
		}
		if missed := out.Assumed.Against(told); len(missed) > 0 {
			panic(fmt.Sprintf("recipe: internal error: told %s of %s to be at least %v, assumed %v",
				missed[0].Matter, missed[0].ID, missed[0].Observed, missed[0].Assumed))
		}
		settled := Settled[T]{out.Value, runs, out.Assumed.Against(out.Observed)}
		if len(settled.Unmet) == 0 || runs > reruns || !told.move(out.Assumed, out.Observed) {
			return settled, nil
		}
	}
}

// move takes over what was assumed and observed, and reports whether anything
// moved that was unmet.
func (a *Assumptions) move(assumed, observed Assumptions) bool {
	moved := false
	for _, u := range assumed.Against(observed) {
		switch u.Matter {
		case Film:
			a.ObserveFilm(u.ID, observed.Film[u.ID])
		case Support:
			a.ObserveSupport(u.ID, true)
		case WorkMinutes:
			a.ObserveMinutes(u.ID, observed.Minutes[u.ID])
		case FaceDirection:
			if _, turned := a.Direction[u.ID]; turned {
				continue
			}
			a.ObserveDirection(u.ID, observed.Direction[u.ID])
		}
		moved = true
	}
	for id, x := range assumed.Film {
		a.ObserveFilm(id, x)
	}
	for id, x := range assumed.Support {
		a.ObserveSupport(id, x)
	}
	for id, x := range assumed.Minutes {
		a.ObserveMinutes(id, x)
	}
	return moved
}

// Concern says what an id stands for, to people.
type Concern struct {
	At   finding.Place
	Part string
	Name string // "the seam at 678", "body 2 of 3"
}

// Findings are one finding assumption-not-met for each assumption left open.
func (s Settled[T]) Findings(of func(id string) Concern) finding.List {
	var list finding.List
	for _, u := range s.Unmet {
		c := of(u.ID)
		list.Add(finding.New("assumption-not-met", c.At, finding.Args{
			"what": finding.Name(u.Matter), "name": finding.Name(c.Name),
			"assumed": u.Assumed, "observed": u.Observed,
		}).About(c.Part))
	}
	return list
}
