package calendar

import (
	"slices"
	"sort"

	"scalewright/sched"
)

// spare is for each task the minutes by which it may end later and the plan still
// ends when it does: the backward pass of the critical path (Kelley & Walker,
// "Critical-path planning and scheduling", 1959) within the hours that people
// keep. A task's successors are those that wait for it and the next on its printer
// or in the spraying place; that one person has two hands is left out, since an
// evening has room for one more act.
func (b *board) spare(p sched.Problem, plan sched.Plan) []int {
	next := successors(p, plan)
	order := make([]int, len(plan.Tasks))
	for i := range order {
		order[i] = i
	}
	// A successor starts no earlier than its predecessor ends.
	slices.SortStableFunc(order, func(i, j int) int { return plan.Tasks[j].Start() - plan.Tasks[i].Start() })
	latest := make([]int, len(plan.Tasks)) // start
	out := make([]int, len(plan.Tasks))
	for _, i := range order {
		end := plan.Makespan
		for _, k := range next[i] {
			end = min(end, latest[k])
		}
		out[i] = end - plan.Tasks[i].Finish()
		phases := p.Tasks[i].Modes[plan.Tasks[i].Mode].Phases
		for k := len(phases) - 1; k >= 0; k-- {
			end = b.latestStart(p, phases[k], end)
		}
		latest[i] = max(end, plan.Tasks[i].Start())
	}
	return out
}

// successors are, for each task, those that wait for it, and the next that takes a
// resource without hours.
func successors(p sched.Problem, plan sched.Plan) [][]int {
	next := make([][]int, len(p.Tasks))
	for _, l := range p.Lags {
		next[l.From] = append(next[l.From], l.To)
	}
	users := make([][]int, len(p.Resources))
	for i, t := range plan.Tasks {
		taken := map[int]bool{}
		for _, ph := range p.Tasks[i].Modes[t.Mode].Phases {
			for _, d := range ph.Demands {
				if p.Resources[d.Resource].Calendar == nil && !taken[d.Resource] {
					taken[d.Resource] = true
					users[d.Resource] = append(users[d.Resource], i)
				}
			}
		}
	}
	for _, list := range users {
		slices.SortStableFunc(list, func(i, j int) int { return plan.Tasks[i].Start() - plan.Tasks[j].Start() })
		for k := 1; k < len(list); k++ {
			next[list[k-1]] = append(next[list[k-1]], list[k])
		}
	}
	return next
}

// latestStart is the latest start of a phase that ends by a minute.
func (b *board) latestStart(p sched.Problem, ph sched.Phase, end int) int {
	if ph.Work == sched.Elapsed {
		return end - ph.Minutes
	}
	for _, d := range ph.Demands {
		open := p.Resources[d.Resource].Calendar
		if open == nil {
			continue
		}
		if ph.Work == sched.Splittable {
			if at, ok := open.Clock(max(0, open.Work(end)-ph.Minutes)); ok {
				end = at + ph.Minutes
			}
			continue
		}
		hours := b.hours[d.Resource]
		k := sort.Search(len(hours), func(i int) bool { return hours[i].Start >= end }) - 1
		for ; k >= 0; k-- {
			if last := min(end, hours[k].End); last-hours[k].Start >= ph.Minutes {
				end = last
				break
			}
		}
	}
	return end - ph.Minutes
}
