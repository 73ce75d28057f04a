package sched

import "sort"

// profile is the use of one renewable over time, a step function: used[i] units
// from at[i] to at[i+1], the last step for ever. at[0] is the beginning of time
// and neighbouring steps differ.
type profile struct {
	at, used []int
}

const beginning = -far

func newProfile() profile { return profile{at: []int{beginning}, used: []int{0}} }

// step is the index of the step that holds minute t.
func (p *profile) step(t int) int {
	return sort.Search(len(p.at), func(i int) bool { return p.at[i] > t }) - 1
}

// lastOver looks in [a,b) for use above room. It returns the end of the last
// such stretch, which may lie after b: nothing that covers all of [a,b) or more
// to the right can start before it.
func (p *profile) lastOver(a, b, room int) (end int, over bool) {
	if a >= b {
		return 0, false
	}
	for i := p.step(b - 1); i >= 0 && (i+1 == len(p.at) || p.at[i+1] > a); i-- {
		if p.used[i] > room {
			for i+1 < len(p.at) && p.used[i] > room {
				i++
			}
			if p.used[i] > room { // more than there is: never
				return far, true
			}
			return p.at[i], true
		}
	}
	return 0, false
}

// add takes units over [a,b), or gives them back where units is negative.
func (p *profile) add(a, b, units int) {
	if a >= b || units == 0 {
		return
	}
	i, j := p.split(a), p.split(b)
	for k := i; k < j; k++ {
		p.used[k] += units
	}
	p.join(j)
	p.join(i)
}

// split makes a step begin at t and returns its index.
func (p *profile) split(t int) int {
	i := p.step(t)
	if p.at[i] == t {
		return i
	}
	p.at = append(p.at, 0)
	p.used = append(p.used, 0)
	copy(p.at[i+2:], p.at[i+1:])
	copy(p.used[i+2:], p.used[i+1:])
	p.at[i+1], p.used[i+1] = t, p.used[i]
	return i + 1
}

// join drops step i where it does not differ from the one before.
func (p *profile) join(i int) {
	if i > 0 && p.used[i] == p.used[i-1] {
		p.at = append(p.at[:i], p.at[i+1:]...)
		p.used = append(p.used[:i], p.used[i+1:]...)
	}
}
