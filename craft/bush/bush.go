// Package bush is what fills the room between a stand's post and the core it stands
// in. Lengths in mm; all of it is common practice, a guess until measured.
package bush

import (
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

const (
	WallsRun = 1.06                 // pipe walls run so much over their least
	PostPlay = 1 * unit.Millimetre  // that a post needs on its diameter
	LeastRim = 3 * unit.Millimetre  // the thinnest bush worth making; less is wrapped with tape
	Long     = 20 * unit.Millimetre // of a bush, along the axis
	Least    = 8 * unit.Millimetre  // a shorter one does not hold a post straight
)

// CoreBore is a pipe's bore as it runs.
func CoreBore(core stock.Pipe) unit.Length { return core.OD - 2*WallsRun*core.Wall }

// Fills reports whether there is room for bushes between a post and a core.
func Fills(post, core stock.Pipe) bool {
	return post.OD > 0 && (CoreBore(core)-post.Widest()-PostPlay)/2 >= LeastRim
}

// Spans are where the two bushes stand: the lower one where the post enters the core,
// or just past what a joint takes of the core's inside there, the upper one's far
// face where the post ends.
func Spans(core model.Core, stand model.Stand, taken unit.Length) [2]model.Span {
	low, high := max(core.Span.From, taken), core.Span.From+stand.Engage
	long := min(Long, (high-low)/3)
	return [2]model.Span{{From: low, To: low + long}, {From: high - long, To: high}}
}
