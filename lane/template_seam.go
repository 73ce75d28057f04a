package lane

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"scalewright/craft/development"
	"scalewright/drawing"
	"scalewright/model"
	"scalewright/unit"
)

// seams are wrapped round the body at a seam, an edge on it: they show which way
// round the pieces go.
func (t *templates) seams() {
	for _, s := range t.r.Division.Seams {
		if below, _ := t.r.Division.Piece(s.Below); !below.Own {
			t.seam(s)
		}
	}
}

// beside is the paper beside a seam: on the side where the body is straighter.
type beside struct {
	skin      development.Skin
	low, high float64
	off       float64
	piece     string // that it lies on
	other     string
}

// besides are the papers that may lie on either side of a seam.
func (t *templates) besides(seam model.Seam) []beside {
	below, _ := t.r.Division.Piece(seam.Below)
	above, _ := t.r.Division.Piece(seam.Above)
	z := float64(seam.Station)
	var out []beside
	for _, high := range [3]float64{stripHigh, stripHigh * 2 / 3, stripHigh / 3} {
		low, top := max(z-high, float64(below.Span.From)), min(z+high, float64(above.Span.To))
		if skin, off, ok := skinOn(t.outerOf(seam.Below.Part), low, z); ok {
			out = append(out, beside{skin, low, z, off, below.Name, above.Name})
		}
		if skin, off, ok := skinOn(t.outerOf(seam.Above.Part), z, top); ok {
			out = append(out, beside{skin, z, top, off, above.Name, below.Name})
		}
	}
	return out
}

// worth is how badly paper lies: what it stands off first, then how steep it is.
func (b beside) worth() float64 {
	steep := math.Abs(b.skin.From.Radius-b.skin.To.Radius) / (b.high - b.low)
	low := math.Max(0, stripHigh/2-(b.high-b.low)) / stripHigh
	return math.Max(0, b.off-leastOff)*10 + steep + low
}

func (t *templates) seam(seam model.Seam) {
	all := t.besides(seam)
	if len(all) == 0 {
		return
	}
	best := slices.MinFunc(all, func(a, b beside) int { return cmp.Compare(a.worth(), b.worth()) })
	best.skin.Paper = t.paper
	below, _ := t.r.Division.Piece(seam.Below)
	above, _ := t.r.Division.Piece(seam.Above)
	named := below.Name + " and " + above.Name // the id of a provisional cut is for no one's eyes
	z := float64(seam.Station)
	marks := clocked(t.r, seam.Station)
	rows := wrapped(best.skin, best.low, best.high)
	girth := 0.0
	for _, w := range rows {
		w.border()
		w.ticked(z)
		for i, m := range marks {
			if turn := 2 * math.Pi * turnShare(m.angle); w.holds(turn) {
				w.along(turn, best.low, best.high, drawing.CentreLine)
				w.beside(turn, w.from(z, (best.high-best.low)*0.6+3*float64(i%2)), m.name, drawing.SizeSmall)
			}
		}
		w.farEnd(w.clear(marks), best.low+3, best.high-best.low-9)
		girth += w.edgeLength(z)
	}
	nameStrip(rows, z, best.high-best.low, "seam of "+named)
	edge := "upper"
	if best.low == z {
		edge = "lower"
	}
	lay := fmt.Sprintf("Wrap it round %s, its %s edge on the seam to %s, 0° on the body's 0°", best.piece, edge, best.other)
	if len(rows) > 1 {
		lay += "; four quarters, lapped"
	}
	t.add(Template{
		Name: "seam-" + seam.ID, Title: fmt.Sprintf("seam of %s, %s round", named, t.u.Whole(unit.Length(girth))),
		Use: "carry the clocking over", Where: fmt.Sprintf("round %s, %s edge on the seam", best.piece, edge), Lay: lay + offWords(best.off), Figure: stacked(rows),
	})
}

// nameStrip says on the first paper with room for it what a strip is: it loses its
// sheet. The corner farthest from the ticks is tried first.
func nameStrip(rows []*wrap, edge, high float64, words string) {
	const step = math.Pi / 90
	for _, w := range rows {
		for _, deep := range [...]float64{high - 3, high / 2, high * 0.35} {
			for turn := w.left; turn < w.right; turn += step {
				if t := w.text(turn, w.from(edge, deep), words, drawing.SizeSmall); w.s.Clear(t) {
					w.s.Text(t)
					return
				}
			}
		}
	}
}

// from is a station so far from an edge into the paper.
func (w *wrap) from(edge, deep float64) float64 {
	if edge == w.low {
		return edge + deep
	}
	return edge - deep
}

// beside sets words just right of a place.
func (w *wrap) beside(turn, station float64, words string, size float64) {
	w.s.Text(w.text(turn, station, words, size))
}

// text is words that begin just right of a place.
func (w *wrap) text(turn, station float64, words string, size float64) drawing.Text {
	lean := w.lean(turn, station)
	sin, cos := math.Sincos(lean * math.Pi / 180)
	return drawing.Text{At: w.pt(turn, station).Add(drawing.Pt(1.2*cos, 1.2*sin)), V: drawing.Centre, String: words, Size: size, Halo: 0.5, Rotate: lean}
}

// clear is the turn on the paper that is furthest from marks and from lettered ticks.
func (w *wrap) clear(marks []mark) float64 {
	const step = math.Pi / 24
	best, most := w.left+step, -1.0
	for turn := w.left + step; turn < min(w.right, w.left+math.Pi); turn += step {
		room := math.Abs(math.Remainder(turn, math.Pi/4))
		for _, m := range marks {
			room = min(room, math.Abs(math.Remainder(turn-m.angle-step, 2*math.Pi)))
		}
		if room > most+1e-9 {
			best, most = turn, room
		}
	}
	return best
}

// ticked marks the turns into the paper from an edge: every 15°, and lettered every
// 45°.
func (w *wrap) ticked(edge float64) {
	const step = math.Pi / 12
	for i := range 24 {
		turn, tall := float64(i)*step, 3.0
		if !w.holds(turn) {
			continue
		}
		if i%3 == 0 {
			tall = 6
			w.beside(turn, w.from(edge, tall), degrees(turn), drawing.SizeCaption)
		}
		w.along(turn, edge, w.from(edge, tall), drawing.Thin)
	}
}

// edgeLength is how long the paper's middle is round the body at a station.
func (w *wrap) edgeLength(station float64) float64 {
	a, b := w.pt(w.left, station), w.pt(w.right, station)
	sin := math.Abs(w.skin.From.Radius-w.skin.To.Radius) / math.Hypot(w.skin.From.Radius-w.skin.To.Radius, w.skin.To.Station-w.skin.From.Station)
	if sin < 1e-8 {
		return a.Dist(b)
	}
	half := (w.right - w.left) * sin / 2
	return a.Dist(b) * half / math.Sin(half)
}

// masks keep paint off what must stay bare at joints that come apart: the plug and
// its socket.
func (t *templates) masks() {
	if len(t.r.Finishing.Surfaces) == 0 {
		return
	}
	for _, s := range t.r.Division.Seams {
		fits := t.r.Fits.Of(s.ID)
		if !s.Removable || len(fits) == 0 {
			continue
		}
		f := fits[0]
		plug, socket := float64(f.MaleSize.Nominal), float64(f.Bore.Nominal)
		deep := float64(f.Depth)
		if plug <= 0 || socket <= 0 || deep <= 0 {
			continue
		}
		rows := []*wrap{t.maskStrip(plug, deep, false, s.ID+", round the plug"), t.maskStrip(socket, deep, true, s.ID+", inside the socket")}
		t.add(Template{
			Name: "mask-" + s.ID, Title: fmt.Sprintf("masks of %s, %s wide", s.ID, t.u.Whole(f.Depth)),
			Use: "keep paint off the joint", Where: "round the plug, inside the socket", Lay: "One round the plug, one inside the socket, its edge at the seam; hold them with masking tape", Figure: stacked(rows),
		})
	}
}

// maskStrip is a strip as deep as a joint, round it or inside it.
func (t *templates) maskStrip(across, deep float64, inside bool, words string) *wrap {
	skin := development.Skin{
		From: development.Place{Radius: across / 2}, To: development.Place{Station: deep, Radius: across / 2}, Paper: t.paper, Inside: inside,
	}
	w := newWrap(skin, 0, 2*math.Pi, 0, deep, lapped)
	w.border()
	w.letter(math.Pi/2, deep/2, fmt.Sprintf("%s, ⌀ %.1f mm", words, across), 0)
	return w
}

// liners lie inside the wall under a strip of lamps that is wound round it: where
// each lamp sits, ready to be rolled.
func (t *templates) liners() {
	for _, b := range t.r.Places.Bays {
		if b.Wound <= 0 {
			continue
		}
		piece, ok := t.r.Division.Piece(b.Piece)
		if !ok {
			continue
		}
		var cavity []model.Point
		for i, p := range t.r.Design.Parts {
			if p.ID == b.Part && i < len(t.r.Raw) {
				cavity = t.r.Raw[i].Cavity(piece.Direction)
			}
		}
		half := max(linerHigh, float64(b.Size[2])+4) / 2
		z := float64(b.Centre[2])
		low, high := max(z-half, float64(piece.Span.From)), min(z+half, float64(piece.Span.To))
		skin, off, ok := skinOn(cavity, low, high)
		if !ok {
			continue
		}
		// On to the open end, which is seen, as far as the wall is straight.
		if part := t.part(b.Part); part.OpenFoot {
			for from := low; from > float64(piece.Span.From); low = from {
				from = max(from-linerStep, float64(piece.Span.From))
				longer, more, fine := skinOn(cavity, from, high)
				if !fine || more > max(off, leastOff) {
					break
				}
				skin = longer
			}
		}
		skin.Paper, skin.Inside = t.paper, true
		step := 0.0
		pixels := 0
		for _, c := range t.r.Design.Components {
			if c.ID == b.Component {
				step, pixels = float64(c.Kind.Pitch)/float64(b.Wound), c.Pixels
			}
		}
		rows := wrapped(skin, low, high)
		for _, w := range rows {
			w.border()
			w.round(z, drawing.CentreLine)
			for k := range pixels {
				// Further turns of the strip lie beside the first.
				if turn := step * (float64(k) + 0.5); w.holds(turn) {
					w.along(turn, z-3, z+3, drawing.Object)
				}
			}
			w.farEnd(w.left+(w.right-w.left)/8, low+2, high-low-4)
		}
		rows[0].letter(rows[0].left+(rows[0].right-rows[0].left)/4, high-4, b.Component+": this side to the lamps", 0)
		t.add(Template{
			Name: "liner-" + b.Component, Title: fmt.Sprintf("liner for %s in %s", b.Component, b.Part), Use: "line the wall, space the lamps",
			Where: fmt.Sprintf("inside %s, from station %s", piece.Name, t.u.Whole(unit.Length(low))),
			Lay:   fmt.Sprintf("Roll it inside %s, its lower edge at station %s, and glue the lap; the strip sticks along the chain line, a lamp at each stroke", piece.Name, t.u.Whole(unit.Length(low))) + offWords(off), Figure: stacked(rows),
		})
	}
}

// A liner is at least so high, and grows towards an open end by such steps, mm.
const (
	linerHigh = 24.0
	linerStep = 2.0
)
