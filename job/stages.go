package job

import (
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/calendar"
	"scalewright/stage/enlarge"
	"scalewright/stage/facts"
	"scalewright/stage/inspect"
	"scalewright/stage/measure"
	"scalewright/stage/readings"
	"scalewright/stage/truing"
)

// The stages as the memo knows them. A version is raised whenever the same
// inputs come to mean another result.
var (
	factsStage     = stage[facts.Result]("facts", 6)
	measureStage   = stage[measure.Result]("measure", 32)
	outlineStage   = stage[model.Trace]("outline", 1)
	readingsStage  = stage[readings.Result]("readings", 1)
	enlargeStage   = stage[enlarge.Result]("enlarge", 1)
	truingStage    = stage[truing.Result]("truing", 4)
	shapeStage     = stage[model.Raw]("shape", 4)
	divideStage    = stage[model.Division]("divide", 18)
	placeStage     = stage[model.Places]("place", 9)
	fitStage       = stage[model.Fits]("fit", 11)
	carveStage     = stage[model.Carved]("carve", 11)
	printingStage  = stage[model.Print]("printing", 4)
	inspectStage   = stage[inspect.Result]("inspect", 1)
	effectsStage   = stage[model.Effects]("effects", 2)
	seenStage      = stage[[]model.Surface]("seen", 1)
	finishingStage = stage[model.Finishing]("finishing", 2)
	assemblyStage  = stage[model.Assembly]("assembly", 8)
	calendarStage  = stage[calendar.Result]("calendar", 4)
)

func stage[T any](name string, version int) recipe.Stage[said[T]] {
	return recipe.Stage[said[T]]{Name: name, Version: version, Codec: recipe.Plain[said[T]](solid.Mesh{})}
}
