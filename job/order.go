package job

import (
	"context"

	"scalewright/finding"
	"scalewright/job/recipe"
	"scalewright/model"
)

// Run derives everything from a build. A blocker stops what follows it; all
// that was found up to there is in the result.
func Run(ctx context.Context, in Input) (Result, error) {
	r := runner{in: in, memo: in.Memo, meter: recipe.NewMeter(in.Progress)}
	r.out.Name, r.out.Revision, r.out.Invented = in.Declared.Name, in.Declared.Revision, in.Declared.Invented
	err := r.inOrder(ctx,
		step{"facts", r.facts},
		step{"outline", r.trace},
		step{"readings", r.readings},
		step{"size", r.enlarge},
		step{"trued", r.trued},
		step{"full size", r.resolve},
		step{"shape", r.shape},
		step{Settled, r.settle}, // divide, fit, carve, printing; again where an assumption failed
		step{"inspect", r.inspect},
		step{"mend", r.mend},
		step{Finished, r.finishing},
		step{Lit, r.effects},
		step{Stood, r.structure},
		step{"order", r.assembly},
		step{Planned, r.calendar},
		step{"try", r.testSlice},
		step{"foresee", r.foresee},
	)
	r.out.Findings = withCures(quiet(r.found, in.Declared.Quiet).Sorted(), in.Declared, r.out.Design)
	r.out.Verdict = verdict(r.out)
	return r.out, err
}

// runner carries one run: what is known so far and what was found.
type runner struct {
	in    Input
	memo  *recipe.Memo
	meter *recipe.Meter
	out   Result
	found finding.List
	raws  []recipe.Key // of out.Raw
	trail recipe.Key   // of out.Trace

	carvedKeys []recipe.Key // of out.Carved
}

// Steps of the order after which more can be shown.
const (
	Settled  = "settle" // pieces, fits, solids and prints are known
	Finished = "finish"
	Lit      = "lights"
	Stood    = "stand"
	Planned  = "plan"
)

// step is one step of the order, by the name that [Input.Reached] hears.
type step struct {
	name string
	do   func(context.Context) error
}

// inOrder runs the steps until a blocker or an error.
func (r *runner) inOrder(ctx context.Context, steps ...step) error {
	for _, s := range steps {
		if err := s.do(ctx); err != nil {
			return err
		}
		if r.found.Blocked() {
			return nil
		}
		if r.in.Reached != nil {
			so := r.out
			so.Findings = withCures(quiet(r.found, r.in.Declared.Quiet).Sorted(), r.in.Declared, so.Design)
			r.in.Reached(s.name, so)
		}
	}
	return nil
}

// said is a stage's result with its findings, as the memo keeps it.
type said[T any] struct {
	Value T
	Found finding.List
}

// remember runs a stage's door by recipe.
func remember[T any](ctx context.Context, r *runner, s recipe.Stage[said[T]], key recipe.Key, door func(context.Context) (T, finding.List, error)) (T, finding.List, error) {
	got, err := recipe.Do(ctx, r.memo, key, s, func(ctx context.Context) (said[T], error) {
		value, found, err := door(ctx)
		for i := range found {
			found[i].Stage = s.Name
		}
		return said[T]{value, found}, err
	})
	return got.Value, got.Found, err
}

// quiet leaves out the cautions and notes that the maker silenced, with a
// reason; a blocker cannot be silenced.
func quiet(found finding.List, wanted []model.Quiet) finding.List {
	var out finding.List
	for _, f := range found {
		silenced := false
		for _, q := range wanted {
			silenced = silenced || q.Code == f.Code && f.Severity < finding.Blocker
		}
		if !silenced {
			out.Add(f)
		}
	}
	return out
}
