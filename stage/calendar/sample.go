package calendar

import (
	"cmp"
	"context"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"scalewright/sched"
)

// usualSamples leaves the P90 a standard error of √(0.9·0.1/200), 2 points in
// 100.
const usualSamples = 200

// sampled is what came of re-running a plan with other durations.
type sampled struct {
	ends     []int     // makespans, sorted
	critical []float64 // share of samples in which a task a day later moves the end
}

// quantile is the least of the ends by which a share of the samples is done.
func (s sampled) quantile(share float64) int {
	return s.ends[max(0, int(math.Ceil(share*float64(len(s.ends))))-1)]
}

// sample keeps the plan's order and who does what, and draws durations and failed
// prints. Draws depend on the task's id and the sample's number only, so that two
// plans of the same work have the same luck.
func (b *board) sample(ctx context.Context, plan sched.Plan) (sampled, error) {
	n := b.Samples
	if n == 0 {
		n = usualSamples
	}
	list := sched.List{Order: make([]int, len(b.tasks)), Modes: make([]int, len(b.tasks))}
	for i := range list.Order {
		list.Order[i], list.Modes[i] = i, 0
	}
	slices.SortStableFunc(list.Order, func(i, j int) int { return cmp.Compare(plan.Tasks[i].Start(), plan.Tasks[j].Start()) })
	list.Unbounded = true // nobody asks how good the luck could have been
	// A sample may run on past the horizon of plans.
	problem := sched.Problem{Resources: b.problem.Resources, Lags: b.problem.Lags, Horizon: b.problem.Horizon}
	samples := make([]oneSample, n)
	var next atomic.Int64
	var work sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		work.Go(func() { // goroutine k writes samples[k] alone
			for k := int(next.Add(1)) - 1; k < n; k = int(next.Add(1)) - 1 {
				samples[k] = b.oneSample(ctx, problem, list, plan, k)
			}
		})
	}
	work.Wait()
	out := sampled{critical: make([]float64, len(b.tasks))}
	for _, s := range samples {
		if s.bug != nil {
			panic(s.bug) // here, where it is caught
		}
		if s.err != nil {
			return out, s.err
		}
		out.ends = append(out.ends, s.end)
		for i, hangs := range s.hangs {
			if hangs {
				out.critical[i]++
			}
		}
	}
	slices.Sort(out.ends)
	for i := range out.critical {
		out.critical[i] /= float64(n)
	}
	return out, nil
}

// oneSample is what came of one.
type oneSample struct {
	end   int
	hangs []bool // a task a day later moves the end
	err   error
	bug   any // what a fault of ours threw
}

func (b *board) oneSample(ctx context.Context, problem sched.Problem, list sched.List, plan sched.Plan, k int) (out oneSample) {
	defer func() {
		if thrown := recover(); thrown != nil {
			out = oneSample{bug: thrown}
		}
	}()
	problem.Tasks = b.drawn(k, plan)
	got, err := sched.DecodeList(ctx, problem, list)
	if err != nil {
		return oneSample{err: err}
	}
	if got.Tasks == nil { // later than any plan reaches
		return oneSample{end: b.problem.Horizon}
	}
	out = oneSample{end: got.Makespan, hangs: make([]bool, len(b.tasks))}
	for i, spare := range b.spare(problem, got) {
		out.hangs[i] = spare < sched.Day
	}
	return out
}

// drawn are the tasks of one sample, each in its planned mode.
func (b *board) drawn(k int, plan sched.Plan) []sched.Task {
	out := make([]sched.Task, len(b.tasks))
	for i, t := range b.problem.Tasks {
		mode := t.Modes[plan.Tasks[i].Mode]
		s := b.spread[i]
		luck := b.luck(b.tasks[i].ID, k)
		factor := math.Exp(s.own * luck.NormFloat64())
		if s.kind != "" {
			factor *= math.Exp(s.shared * b.luck("all "+string(s.kind), k).NormFloat64())
		}
		phases := slices.Clone(mode.Phases)
		for j := range phases {
			if phases[j].Name != StepCure && phases[j].Name != StepLoad && phases[j].Name != StepClear {
				phases[j].Minutes = max(1, int(math.Round(factor*float64(phases[j].Minutes))))
			}
		}
		var failed []sched.Phase
		for n := 0; n < mostFailures && luck.Float64() < s.fails; n++ {
			failed = append(failed, broken(phases, luck.Float64())...)
		}
		out[i] = sched.Task{Name: t.Name, Modes: []sched.Mode{{Name: mode.Name, Phases: append(failed, phases...)}}}
	}
	return out
}

// broken is an attempt that failed after a share of its run, and keeps the
// printer for the next.
func broken(phases []sched.Phase, share float64) []sched.Phase {
	out := slices.Clone(phases)
	for i, p := range out {
		if p.Name == StepRun {
			out[i].Minutes = max(1, int(math.Round(share*float64(p.Minutes))))
		}
	}
	last := &out[len(out)-1]
	last.Demands = slices.Clone(last.Demands)
	for i := range last.Demands {
		last.Demands[i].Keep = last.Demands[i].Resource == phases[1].Demands[0].Resource
	}
	return out
}

func (b *board) luck(name string, k int) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(b.Seed^h.Sum64(), uint64(k)))
}
