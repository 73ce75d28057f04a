package sched

import "strings"

import "fmt"

// Status is what is known about a problem.
type Status int

// The statuses. "Feasible" claims nothing about being best.
const (
	// Unknown: the limit was reached with no plan and no proof that there is none.
	Unknown Status = iota
	// Feasible: the plan keeps every constraint; whether a shorter one exists is open.
	Feasible
	// Optimal: the plan keeps every constraint and no plan has a smaller makespan.
	Optimal
	// Infeasible: no plan keeps every constraint; Plan.Because names some that
	// cannot hold together.
	Infeasible
)

// String is the status in lower case.
func (s Status) String() string {
	switch s {
	case Unknown:
		return "unknown"
	case Feasible:
		return "feasible"
	case Optimal:
		return "optimal"
	case Infeasible:
		return "infeasible"
	}
	return fmt.Sprintf("status %d", int(s))
}

// Plan is the answer to a problem.
type Plan struct {
	Status Status
	// Makespan is the latest finish of a Feasible or Optimal plan.
	Makespan int
	// Bound is a minute before which no plan ends; 0 where nothing better is known.
	Bound int
	// Tasks has one placement a task, in the problem's order; nil without a plan.
	Tasks []Placement
	// Because names constraints that cannot hold together, when Infeasible.
	Because []Constraint
	// Placements counts the placements tried: the work done, the same anywhere.
	Placements int
}

// Placement is where one task lies.
type Placement struct {
	Mode   int
	Phases []Span
}

// Start is when the task's first phase starts.
func (pl Placement) Start() int { return pl.Phases[0].Start }

// Finish is when the task's last phase ends.
func (pl Placement) Finish() int { return pl.Phases[len(pl.Phases)-1].End }

// Span is where one phase lies. Work lists the stretches worked, in order and
// apart from each other; it is empty for a phase of no minutes.
type Span struct {
	Start, End int
	Work       []Interval
}

// ConstraintKind names a constraint of the package comment.
type ConstraintKind int

// The kinds of constraint.
const (
	PlanShape    ConstraintKind = iota // one placement a task, one span a phase, a mode that exists
	PhaseOrder                         // a phase starts at or after the end of the one before
	PhaseMinutes                       // the work adds up to the phase's minutes, in its way of working
	ClosedTime                         // work lies in open time, pauses in closed
	PhaseWait                          // the wait before a phase is at most MaxWait
	CapacityUse                        // use of a renewable stays within its capacity
	StockUse                           // use of a consumable stays within its stock
	ReleaseTime                        // a task starts at or after its release
	DeadlineTime                       // a task finishes by its deadline
	HorizonTime                        // a task finishes by the horizon
	LagMin                             // a lag is at least its Min
	LagMax                             // a lag is at most its Max
	MakespanSaid                       // the makespan stated is the latest finish
)

var constraintNames = [...]string{
	"plan shape", "phase order", "phase minutes", "closed time", "phase wait",
	"capacity", "stock", "release", "deadline", "horizon", "least lag", "greatest lag", "makespan",
}

// String names the kind in words.
func (k ConstraintKind) String() string {
	if k < 0 || int(k) >= len(constraintNames) {
		return fmt.Sprintf("constraint %d", int(k))
	}
	return constraintNames[k]
}

// Constraint points at one constraint of a problem. Fields that do not apply
// are -1.
type Constraint struct {
	Kind     ConstraintKind
	Task     int
	Phase    int
	Lag      int
	Resource int
}

// String gives kind and indices, for logs; Describe has the names.
func (c Constraint) String() string {
	var s strings.Builder
	s.WriteString(c.Kind.String())
	for _, f := range []struct {
		word string
		n    int
	}{{"task", c.Task}, {"phase", c.Phase}, {"lag", c.Lag}, {"resource", c.Resource}} {
		if f.n >= 0 {
			s.WriteString(fmt.Sprintf(", %s %d", f.word, f.n))
		}
	}
	return s.String()
}

// Describe is the constraint with the problem's names beside the indices.
func (p Problem) Describe(c Constraint) string {
	s := c.Kind.String()
	if c.Task >= 0 && c.Task < len(p.Tasks) {
		s += fmt.Sprintf(" of task %d (%s)", c.Task, p.Tasks[c.Task].Name)
	}
	if c.Phase >= 0 {
		s += fmt.Sprintf(", phase %d", c.Phase)
	}
	if c.Lag >= 0 && c.Lag < len(p.Lags) {
		l := p.Lags[c.Lag]
		s += fmt.Sprintf(" from task %d (%s) to task %d (%s)", l.From, p.Tasks[l.From].Name, l.To, p.Tasks[l.To].Name)
	}
	if c.Resource >= 0 && c.Resource < len(p.Resources) {
		s += fmt.Sprintf(" of resource %d (%s)", c.Resource, p.Resources[c.Resource].Name)
	}
	return s
}

// constraintOf makes a Constraint with nothing but a kind, for its fields to be set.
func constraintOf(kind ConstraintKind) Constraint {
	return Constraint{Kind: kind, Task: -1, Phase: -1, Lag: -1, Resource: -1}
}
