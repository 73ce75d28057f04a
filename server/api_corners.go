package server

import (
	"context"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/build"
	"scalewright/craft/limb"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/measure"
	"scalewright/unit"
)

// byHand fills in what was drawn and placed on the photograph.
func byHand(out *PhotoFacts, r job.Result, ref model.DeclaredReference) {
	m := r.Measured
	if centre, ok := m.Lies.OnMat(r2.Vec{X: float64(out.Width) / 2, Y: float64(out.Height) / 2}); ok && m.Camera.HeightMM > 0 {
		aside, _ := m.Lies.OfMat(r2.Add(centre, r2.Vec{X: 1}))
		out.Scale = hundredth(math.Hypot(aside.X-float64(out.Width)/2, aside.Y-float64(out.Height)/2))
	}
	for i, b := range ref.Brushes {
		out.Strokes = append(out.Strokes, strokeOf(m.Lies, b, i, len(ref.Brushes)))
	}
	if !m.Lies.Shows() {
		return
	}
	for _, side := range sides {
		out.Outline = append(out.Outline, lineOf(m.Lies, r.Trace.Outline, side))
		out.Band = append(out.Band, bandOf(m.Lies, r.Trace, side))
	}
	for _, f := range m.Features {
		out.Features = append(out.Features, featureOf(r, f, ref.Features))
	}
	out.Corners = cornersOf(r, ref)
}

// cornersOf are the corners and arcs that can be moved: those that were measured. What
// was typed is changed where it is typed.
func cornersOf(r job.Result, ref model.DeclaredReference) []Corner {
	out := []Corner{}
	o, m := r.Trace.Outline, r.Measured
	if len(m.Found) != len(o) {
		return out
	}
	for k := range len(o) + 1 {
		for _, arc := range []bool{false, true} {
			if arc && (k == len(o) || o[k].Kind != model.Arc) {
				continue
			}
			at := cornerOf(o, k, arc)
			if typedAt(ref, at.Station) {
				continue
			}
			one := Corner{Corner: k, Arc: arc, At: [2]float64{hundredth(at.Station), hundredth(at.Radius)}, Undo: []Change{}}
			one.Says = fmt.Sprintf("%s at station %.1f, radius %.1f", cornerWord(arc), at.Station, at.Radius)
			shown := true
			for i, side := range sides {
				q, ok := m.Lies.Edge(at.Station, at.Radius, turnAt(o, k, arc), side)
				one.Px[i], shown = px(q), shown && ok
			}
			if n := correctionOf(m, ref, k, arc); n >= 0 {
				one.Moved, one.Undo = true, dropped("reference.corrections", n, len(ref.Corrections))
			}
			if shown {
				out = append(out, one)
			}
		}
	}
	return out
}

func cornerWord(arc bool) string {
	if arc {
		return "middle of the arc"
	}
	return "corner"
}

// typedAt reports whether an outline was typed for a station.
func typedAt(ref model.DeclaredReference, station float64) bool {
	for _, h := range ref.Hidden {
		if h.Outline != "" && h.From.MM <= station && station <= h.To.MM {
			return true
		}
	}
	return false
}

// correctionOf is the number of the correction of a corner; -1: it has none. The last
// one has its way.
func correctionOf(m *measure.Result, ref model.DeclaredReference, k int, arc bool) int {
	for n := len(ref.Corrections) - 1; n >= 0; n-- {
		if c := ref.Corrections[n].Correction; c.Arc == arc && m.Found.Find(c) == k {
			return n
		}
	}
	return -1
}

// dropped takes an item out of a list; the last one takes the list with it.
func dropped(list string, n, of int) []Change {
	path := fmt.Sprintf("%s.%d", list, n)
	if of == 1 {
		path = list
	}
	return []Change{{Op: "drop", At: Place{build.BuildFile, path}}}
}

// appended is the next item of a list; the first one makes the list.
func appended(list string, of int, text string) []Change {
	if of == 0 {
		return []Change{{Op: "put", At: Place{build.BuildFile, list}, Text: "[" + text + "]"}}
	}
	return []Change{{Op: "add", At: Place{build.BuildFile, fmt.Sprintf("%s.%d", list, of)}, Text: text}}
}

type cornerIn struct {
	OnBuild
	InUnits
	Body MoveCorner
}

// seenByHand is what is shown, and what the files declare of the reference now.
func (d *desk) seenByHand(ctx context.Context) (*shown, model.DeclaredReference, error) {
	s, _, err := d.see(ctx, throughAll)
	if err != nil {
		return nil, model.DeclaredReference{}, err
	}
	if s.result.Measured == nil {
		return nil, model.DeclaredReference{}, badRequest("the outline is not of a photograph", "give the build a photograph first")
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	return s, d.loaded.Declared.Reference, nil
}

func moveCorner(ctx context.Context, d *desk, in cornerIn) (MovedCorner, error) {
	s, ref, err := d.seenByHand(ctx)
	if err != nil {
		return MovedCorner{}, err
	}
	m, o := s.result.Measured, s.result.Trace.Outline
	k, arc := in.Body.Corner, in.Body.Arc
	if !m.Lies.Shows() || len(m.Found) != len(o) || k > len(o) || arc && (k == len(o) || o[k].Kind != model.Arc) {
		return MovedCorner{}, badRequest("there is no such corner", "look at the photograph again; the outline has changed")
	}
	h := handOn{m, o, k, arc, in.Body}
	at, caught, ok := h.place()
	if !ok {
		return MovedCorner{}, badRequest("the pixel shows no side of the body", "drag it along the outline")
	}
	return h.moved(at, caught, ref, s.result.Enlarge.Ratio, in.system()), nil
}

// handOn is a corner under the hand.
type handOn struct {
	m   *measure.Result
	o   model.Outline
	k   int
	arc bool
	ask MoveCorner
}

// place is where the corner was moved to, caught by what is near.
func (h handOn) place() (at model.Point, caught string, ok bool) {
	turn := turnAt(h.o, h.k, h.arc)
	switch {
	case h.ask.At != nil:
		at = model.Point{Station: h.ask.At[0], Radius: max(0, h.ask.At[1])}
	case h.ask.Px != nil:
		s, r, ok := h.m.Lies.Corner(r2.Vec{X: h.ask.Px[0], Y: h.ask.Px[1]}, turn, sides[h.ask.Side])
		if !ok {
			return at, "", false
		}
		at = model.Point{Station: s, Radius: max(0, r)}
		at, caught = h.catch(at)
	default:
		at = cornerOf(h.o, h.k, h.arc)
	}
	if !h.arc && (h.k == 0 || h.k == len(h.o)) {
		at.Station = cornerOf(h.m.Found, h.k, false).Station
	}
	return model.Point{Station: hundredth(at.Station), Radius: hundredth(at.Radius)}, caught, true
}

// pxPerMM is how large a millimetre at the body is in the photograph.
func (h handOn) pxPerMM() float64 {
	return h.m.Lies.Camera.F / r3.Norm(r3.Sub(h.m.Lies.Camera.C, h.m.Lies.Origin))
}

// catch moves a place onto what lies near it: each of station and radius onto a
// neighbour's, or the whole of it onto the edge as it was found.
func (h handOn) catch(at model.Point) (model.Point, string) {
	reach := h.ask.Catch / h.pxPerMM()
	if reach <= 0 {
		return at, ""
	}
	var words []string
	if !h.arc {
		station, radius := reach, reach
		var toS, toR *model.Point
		for _, n := range []int{h.k - 1, h.k + 1} {
			if n < 0 || n > len(h.o) {
				continue
			}
			near := cornerOf(h.o, n, false)
			if d := math.Abs(near.Station - at.Station); d <= station && near.Radius != at.Radius {
				station, toS = d, &near
			}
			if d := math.Abs(near.Radius - at.Radius); d <= radius && near.Station != at.Station {
				radius, toR = d, &near
			}
		}
		if toS != nil && toS != toR {
			at.Station = toS.Station
			words = append(words, "a square shoulder")
		}
		if toR != nil && toS != toR {
			at.Radius = toR.Radius
			words = append(words, "the radius of its neighbour")
		}
	}
	if len(words) == 0 {
		if r, ok := h.foundRadius(at.Station); ok && math.Abs(r-at.Radius) <= reach {
			at.Radius = r
			words = append(words, "the edge as it was found")
		}
	}
	return at, strings.Join(words, " and ")
}

// foundRadius is the radius that the photograph's own edge shows at a station.
func (h handOn) foundRadius(station float64) (float64, bool) {
	sum, n := 0.0, 0.0
	for i, points := range h.m.Seen.Sides {
		best, at := seenReach, -1
		for k, p := range points {
			if d := math.Abs(p.Station - station); d < best {
				best, at = d, k
			}
		}
		if at < 0 {
			continue
		}
		q := points[at]
		for _, side := range []limb.Side{sides[i], sides[1-i]} {
			// The edge's own sides go by the axis as it was solved, which may run the other way.
			if _, r, ok := h.m.Lies.Corner(r2.Vec{X: q.Px[0], Y: q.Px[1]}, 0, side); ok && r > 0 {
				sum, n = sum+r, n+1
				break
			}
		}
	}
	if n == 0 {
		return 0, false
	}
	return sum / n, true
}

// seenReach is how far from a station, mm, an edge point still tells of it.
const seenReach = 1.0

// handMM is the doubt of a place put by hand: a pixel under the loupe (common
// practice; a guess until logged), and not less than a caliper's.
func (h handOn) handMM() float64 {
	const caliper = 0.05
	return math.Ceil(max(1/h.pxPerMM(), caliper)/caliper) * caliper
}

// moved is the answer for a place.
func (h handOn) moved(at model.Point, caught string, ref model.DeclaredReference, ratio float64, u unit.System) MovedCorner {
	c := model.Correction{Arc: h.arc, From: cornerOf(h.m.Found, h.k, h.arc), To: at, DoubtMM: h.handMM()}
	next := h.o.Corrected(h.k, c)
	out := MovedCorner{At: [2]float64{at.Station, at.Radius}, Caught: caught, Ghost: [][][2]float64{}, Changes: []Change{}}
	lo, hi := max(h.k-1, 0), min(h.k+1, len(next))
	if h.arc {
		lo, hi = h.k, h.k+1
	}
	for i, side := range sides {
		q, _ := h.m.Lies.Edge(at.Station, at.Radius, turnAt(h.o, h.k, h.arc), side)
		out.Px[i] = px(q)
		out.Ghost = append(out.Ghost, lineOf(h.m.Lies, next[lo:hi], side))
	}
	ds, dr := at.Station-c.From.Station, at.Radius-c.From.Radius
	out.Says = fmt.Sprintf("station %.2f, radius %.2f: %+.2f along and %+.2f out from where it was found, mm of the reference", at.Station, at.Radius, ds, dr)
	if off := math.Hypot(ds, dr) * ratio; off > 0 {
		out.Says += "; " + u.Tenth(unit.Length(off)) + " at full size"
	}
	if trouble, _ := next.Trouble(); trouble != "" {
		out.Trouble = "the outline " + string(trouble) + " then"
		return out
	}
	to := fmt.Sprintf("[%g, %g]", at.Station, at.Radius)
	if n := correctionOf(h.m, ref, h.k, h.arc); n >= 0 {
		path := fmt.Sprintf("reference.corrections.%d.", n)
		out.Changes = []Change{
			{Op: "put", At: Place{build.BuildFile, path + "to"}, Text: to},
			{Op: "put", At: Place{build.BuildFile, path + "doubt_mm"}, Text: fmt.Sprintf("%g", hundredth(c.DoubtMM))},
		}
		return out
	}
	what := "corner"
	if h.arc {
		what = "arc"
	}
	text := fmt.Sprintf("{what: %s, from: [%g, %g], to: %s, doubt_mm: %g}", what, hundredth(c.From.Station), hundredth(c.From.Radius), to, hundredth(c.DoubtMM))
	out.Changes = appended("reference.corrections", len(ref.Corrections), text)
	return out
}
