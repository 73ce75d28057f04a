package recipe

import (
	"context"
	"errors"
)

// Derived is what became of a build at one ratio, or why nothing did.
type Derived[T any] struct {
	Ratio float64
	Value T
	Err   error
}

// Derive derives a build at each ratio, side by side, and answers in the order
// of the ratios. One that fails does not stop the others: its error, or its
// [Bug], stands beside it. Ratios not come to when ctx was cancelled bear the
// error of ctx.
func Derive[T any](ctx context.Context, ratios []float64, derive func(ctx context.Context, ratio float64) (T, error)) []Derived[T] {
	out := make([]Derived[T], len(ratios))
	begun := make([]bool, len(ratios))
	errs := each(ctx, len(ratios), false, func(i int) (err error) {
		begun[i] = true
		out[i].Value, err = derive(ctx, ratios[i])
		return err
	})
	for i, err := range errs {
		out[i].Ratio = ratios[i]
		if !begun[i] {
			err = ctx.Err()
		}
		if t, ok := errors.AsType[*thrown](err); ok {
			err = t.bug
		}
		if err != nil {
			out[i] = Derived[T]{Ratio: ratios[i], Err: err}
		}
	}
	return out
}
