package solid

import "fmt"

// LoopFault says what is wrong with an outline.
type LoopFault uint8

// The faults of an outline.
const (
	TooFewPoints   LoopFault = iota + 1 // fewer than three points, or no loop at all
	PointNotFinite                      // a coordinate is NaN or infinite
	NegativeRadius                      // a profile point lies beyond the axis
	RepeatedPoint                       // a point equals the one before it
	FoldedBack                          // two edges in a row lie on each other
	Crossing                            // two edges cross or touch
	WrongWay                            // an outer loop runs clockwise, or a hole anticlockwise
	TouchesAxis                         // a profile meets the axis in a single point
)

// LoopError is the first thing wrong with an outline, and where.
type LoopError struct {
	Fault     LoopFault
	Loop      int   // the loop concerned, from 0
	Index     int   // its point, or the edge from that point to the next
	OtherLoop int   // for a crossing, the other edge; else −1
	Other     int   // its index; else −1
	At        Point // x, y; or r, z of a profile
	turned    bool
}

// Station returns the z of the place in a profile of revolution.
func (e *LoopError) Station() float64 { return e.At[1] }

// Error says what is wrong and where, by index and coordinates.
func (e *LoopError) Error() string {
	at := fmt.Sprintf("x %.6g, y %.6g", e.At[0], e.At[1])
	what := "outline"
	if e.turned {
		at = fmt.Sprintf("station %.6g, radius %.6g", e.At[1], e.At[0])
		what = "profile"
	}
	place := fmt.Sprintf("%s loop %d, point %d (%s)", what, e.Loop, e.Index, at)
	switch e.Fault {
	case TooFewPoints:
		return fmt.Sprintf("%s loop %d has fewer than three points", what, e.Loop)
	case PointNotFinite:
		return place + ": coordinate not finite"
	case NegativeRadius:
		return place + ": radius is negative"
	case RepeatedPoint:
		return place + ": repeats the point before it"
	case FoldedBack:
		return place + ": the outline folds back on itself"
	case Crossing:
		return fmt.Sprintf("%s crosses or touches itself near %s: edge %d of loop %d and edge %d of loop %d",
			what, at, e.Index, e.Loop, e.Other, e.OtherLoop)
	case WrongWay:
		return place + ": runs the wrong way (outer loops anticlockwise, holes clockwise)"
	case TouchesAxis:
		return place + ": touches the axis in a single point; keep clear of the axis or follow it"
	default:
		return place + ": unknown fault"
	}
}

func loopError(fault LoopFault, loop, index int, at Point) *LoopError {
	return &LoopError{Fault: fault, Loop: loop, Index: index, OtherLoop: -1, Other: -1, At: at}
}

// Region is a part of a plane: an outer loop, anticlockwise, and holes in it,
// clockwise. Loops are closed without repeating the first point.
type Region struct {
	Outer []Point
	Holes [][]Point
}

// Loops returns the outer loop, then the holes.
func (r Region) Loops() [][]Point {
	return append([][]Point{r.Outer}, r.Holes...)
}

// Check returns nil, or the first thing wrong as a [*LoopError].
func (r Region) Check() error { return checkLoops(r.Loops()) }

// Area returns the area, holes taken off.
func (r Region) Area() float64 {
	var a sum
	for _, l := range r.Loops() {
		a.add(loopArea(l))
	}
	return a.value()
}

// Perimeter returns the length of all edges.
func (r Region) Perimeter() float64 {
	var p sum
	for _, l := range r.Loops() {
		p.add(loopLength(l))
	}
	return p.value()
}

// loopArea returns the signed area (Gauss), positive anticlockwise, measured
// from the first point so that far from the origin nothing is lost.
func loopArea(l []Point) float64 {
	var a sum
	for i := 1; i+1 < len(l); i++ {
		a.add(cross2(l[i].sub(l[0]), l[i+1].sub(l[0])))
	}
	return a.value() / 2
}

func loopLength(l []Point) float64 {
	var s sum
	for i, p := range l {
		s.add(dist2(p, l[(i+1)%len(l)]))
	}
	return s.value()
}
