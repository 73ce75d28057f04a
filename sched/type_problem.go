package sched

// Problem is what is to be planned. Tasks, resources and lags are known by
// their index. Solvers never change a problem.
//
// What is done or running when planning again needs nothing more: choose the
// origin before it; a task that is done becomes one mode without demands and a
// Release and Deadline that pin it, a running one keeps the phases it has left.
type Problem struct {
	Resources []Resource
	Tasks     []Task
	Lags      []Lag
	// Horizon is the minute by which everything must be finished. Zero: one so
	// late that it forbids no plan worth having (see DefaultHorizon).
	Horizon int
}

// ResourceKind tells resources that come back from those that are used up.
type ResourceKind int

// The kinds of resource.
const (
	Renewable  ResourceKind = iota // free again after use: person, printer, bench
	Consumable                     // a stock: spools on hand
)

// Resource is something tasks compete for.
type Resource struct {
	Name string
	Kind ResourceKind
	// Capacity is the number of units there are at once, for a consumable the
	// stock for the whole plan.
	Capacity int
	// Calendar is when it may be worked with; nil: always. A consumable has none.
	Calendar *Calendar
}

// Task is one piece of work, done in exactly one of its modes.
type Task struct {
	Name  string
	Modes []Mode
	// Release is the earliest start.
	Release int
	// Deadline is the latest finish; nil: none but the horizon.
	Deadline *int
	// Priority puts a task before others, the larger the earlier: the first key
	// of ByPriority, the tie-breaker of the other rules.
	Priority int
}

// Mode is one way of doing a task: this printer or that, one person or two.
type Mode struct {
	Name   string
	Phases []Phase // at least one, in order
}

// Work says how a phase lies across closed time.
type Work int

// The ways of working, in the package comment's exact meaning.
const (
	Unbroken   Work = iota // in one stretch of open time
	Splittable             // pauses where closed, and only there
	Elapsed                // runs on at any hour
)

// Phase is a stretch of a task with the same demands throughout.
type Phase struct {
	Name    string
	Minutes int // of work, 0 for a mere moment, which then needs no open time
	Work    Work
	Demands []Demand // at most one a resource
	// MaxWait is the longest wait between the end of the phase before and the
	// start of this one; nil: any. The first phase has none.
	MaxWait *int
}

// Demand is what a phase takes of one resource.
type Demand struct {
	Resource int
	Units    int
	// Keep holds the units over the phase's pauses and until the next phase of
	// the task starts. The last phase has nothing to keep them for.
	Keep bool
}

// LagKind names the two moments a lag lies between.
type LagKind int

// The kinds of lag, "from" first.
const (
	FinishStart  LagKind = iota // finish of From to start of To: precedence
	StartStart                  // start of From to start of To
	StartFinish                 // start of From to finish of To
	FinishFinish                // finish of From to finish of To
)

// Lag bounds the clock minutes from a moment of one task to one of another.
type Lag struct {
	From, To int // tasks, not the same
	Kind     LagKind
	Min      int  // may be negative: an overlap that is allowed
	Max      *int // nil: no upper bound
	// FromModes and ToModes list the modes in which the lag binds; nil: all. So
	// a coat may go on within the window in one mode or after sanding in another.
	FromModes, ToModes []int
}
