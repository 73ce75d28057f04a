package job

import (
	"scalewright/finding"
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/stage/calendar"
	"scalewright/stage/enlarge"
	"scalewright/stage/facts"
	"scalewright/stage/measure"
	"scalewright/stage/readings"
	"scalewright/stage/truing"
)

// Input is a build as loaded, and what the job may remember.
type Input struct {
	Declared model.Declared
	Photo    []byte                           // of the reference; empty when its outline is typed
	Marks    model.Marks                      // of the photograph
	Outlines map[string]model.DeclaredOutline // by file name
	Models   map[string][]byte                // mesh files of imported parts and further photographs, by file name
	Events   []model.Event
	Kept     []model.Kept // what made/ holds of released pieces
	Memo     *recipe.Memo
	Progress recipe.Progress
	// Reached is told after each step of the order what is known by then; nil:
	// nobody asks. What it is given is never changed afterwards.
	Reached func(step string, so Result)
	Seed    uint64
}

// Result is all that the stages found out. Faces read it and compute nothing.
// Where a blocker stopped the work, what could not be made is empty.
type Result struct {
	Name      string
	Revision  int
	Invented  string
	Facts     facts.Result
	Measured  *measure.Result // nil when the outline is typed
	Trace     model.Trace     // mm of the reference, readings taken in, as trued
	Readings  readings.Result // what each reading says beside all else
	Trued     truing.Result   // the outline as measured and as trued
	Enlarge   enlarge.Result
	Design    model.Design
	Raw       []model.Raw // of Design.Parts
	Division  model.Division
	Places    model.Places // of components and wires
	Fits      model.Fits
	Carved    []model.Carved // of Division.Pieces
	Prints    []model.Print  // of Division.Pieces
	Structure model.Structure
	Assembly  model.Assembly
	Finishing model.Finishing
	Effects   model.Effects // lights and sound
	Calendar  calendar.Result
	Slice     *model.TestSlice // nil where no joint has sizes
	Verdict   Verdict
	Risks     []model.Risk      // what may go wrong, worst first
	Sizes     []model.Candidate // weighed against one another; none where nobody asked
	Findings  finding.List      // worst first
	Reruns    int               // how often decisions were taken anew
}

// Blocked reports whether a blocker stands in the way.
func (r Result) Blocked() bool { return r.Findings.Blocked() }
