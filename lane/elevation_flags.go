package lane

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/unit"
)

// Flags stand in rows over the elevation; each has its pole down to its station.
const (
	flagRow      = 8.8
	mostFlagRows = 3
	pennantRoom  = 5.2 // mm a pennant takes beside its pole
	polesApart   = 1.4 // mm; nearer flags share a pole
	mostLetters  = 70  // of a flag's sentence
	pennantsHigh = 2   // pennants on one pole, then a count
	pennantStep  = 3.7
)

// pole is the flags at one place: the worst on top, its sentence beside it where
// there is room.
type pole struct {
	flags []flagged
	x     float64
	row   int // from the body upwards
	left  bool
	words [2]string // sentence and remedy; empty: given to the drawer
	wide  float64
	found bool
}

type flagRows struct {
	poles []*pole
	rows  int
}

// packFlags gives the blockers and cautions in view their rows: the worst first,
// then by station. A flag whose sentence finds no room keeps its pennant, on a short
// pole, as notes do.
func packFlags(p *Prepared, v View) flagRows {
	var out flagRows
	for _, f := range p.flags {
		if at := f.finding.Station; at < v.Span.From || at > v.Span.To {
			continue
		}
		x := v.X(f.finding.Station)
		joined := false
		for _, q := range out.poles {
			if math.Abs(q.x-x) < polesApart {
				q.flags, joined = append(q.flags, f), true
				break
			}
		}
		if !joined {
			out.poles = append(out.poles, &pole{flags: []flagged{f}, x: x})
		}
	}
	width := v.paper(1).Width
	for _, q := range out.poles {
		q.words, q.wide = q.flags[0].words(v.System)
		q.wide += q.count()
	}
	// Notes come last: they ask for nothing, keep their pennants and speak in the
	// drawer, so that a clean build has a clean elevation.
	grave := slices.IndexFunc(out.poles, func(q *pole) bool { return q.flags[0].grade == drawing.Note })
	if grave < 0 {
		grave = len(out.poles)
	}
	seatPoles(out.poles[:min(grave, mostSought)], width)
	for i, q := range out.poles {
		if i >= mostSought && i < grave {
			q.pack(out.poles[:i], width)
		}
		if q.found {
			out.rows = max(out.rows, q.row+1)
		} else {
			q.words = [2]string{}
		}
	}
	return out
}

// mostSought are the first flags whose rows are chosen together; later ones take
// what is left.
const mostSought = 5

// seatPoles tries every row and side for a few flags, and keeps the choice that
// gives the worst of them their sentences: a blocker's counts more than all
// cautions', a caution's more than all notes'. Of equal choices it keeps the one
// with the lowest rows.
func seatPoles(poles []*pole, width float64) {
	type seat struct {
		found, left bool
		row         int
	}
	best, bestWorth := make([]seat, len(poles)), -1.0
	now := make([]seat, len(poles))
	var try func(i int, worth float64)
	try = func(i int, worth float64) {
		if i == len(poles) {
			if worth > bestWorth {
				bestWorth = worth
				copy(best, now)
			}
			return
		}
		q := poles[i]
		for row := range mostFlagRows {
			for _, left := range [2]bool{false, true} {
				q.row, q.left, q.found = row, left, true
				if !q.free(poles[:i], width) {
					continue
				}
				now[i] = seat{true, left, row}
				cost := 0.001 * float64(row)
				if left {
					cost += 0.0001
				}
				try(i+1, worth+math.Pow(10, float64(q.flags[0].grade))-cost)
			}
		}
		q.found = false
		now[i] = seat{}
		try(i+1, worth)
	}
	try(0, 0)
	for i, q := range poles {
		q.found, q.left, q.row = best[i].found, best[i].left, best[i].row
	}
}

// rowsHeight is the room of the sentences, over the dimensions; shortHeight that of
// the short poles, under them.
func (f flagRows) rowsHeight() float64 { return flagRow * float64(f.rows) }

func (f flagRows) shortHeight() float64 {
	for _, q := range f.poles {
		if !q.found {
			return shortPole
		}
	}
	return 0
}

// words are a flag's sentence and remedy, cut to what is read at a glance, and how
// wide they are.
func (f flagged) words(u unit.System) ([2]string, float64) {
	w := finding.Writer{System: u}
	out := [2]string{letters(sentenceCase(w.Message(f.finding))), letters(sentenceCase(w.Remedy(f.finding)))}
	return out, max(drawing.Measure(out[0], drawing.Regular, drawing.SizeSmall), drawing.Measure(out[1], drawing.Bold, drawing.SizeSmall))
}

// says is the whole of a flag in words.
func (f flagged) says(u unit.System) string {
	w := finding.Writer{System: u}
	out := sentenceCase(w.Message(f.finding))
	if do := w.Remedy(f.finding); do != "" {
		out += ". " + sentenceCase(do)
	}
	if f.count > 1 {
		out += " (" + strconv.Itoa(f.count) + " times)"
	}
	return out
}

func sentenceCase(s string) string {
	for i, r := range s {
		if i == 0 {
			return strings.ToUpper(string(r)) + s[len(string(r)):]
		}
	}
	return s
}

// letters cuts a sentence to so many letters, at a word's end.
func letters(s string) string {
	rs := []rune(s)
	if len(rs) <= mostLetters {
		return s
	}
	cut := string(rs[:mostLetters])
	if at := strings.LastIndexByte(cut, ' '); at > mostLetters/2 {
		cut = cut[:at]
	}
	return strings.TrimRight(cut, " ,;:") + "…"
}

// more is the number of findings on a pole that have no pennant.
func (q *pole) more() int {
	n := 0
	for k, f := range q.flags {
		n += f.count
		if k < pennantsHigh {
			n--
		}
	}
	return n
}

// count is the room of "+38" beside the pennants.
func (q *pole) count() float64 {
	if q.more() == 0 {
		return 0
	}
	return drawing.Measure("+"+strconv.Itoa(q.more()), drawing.Regular, drawing.SizeSmall) + 1
}

// box is what a pole with its words takes across its row.
func (q *pole) box() (from, to float64) {
	wide := pennantRoom + q.wide
	if q.left {
		return q.x - wide, q.x + 0.4
	}
	return q.x - 0.4, q.x + wide
}

// pack takes the first row and side that are free, where there are any.
func (q *pole) pack(placed []*pole, width float64) {
	for q.row = range mostFlagRows {
		for _, q.left = range [2]bool{false, true} {
			if q.free(placed, width) {
				q.found = true
				return
			}
		}
	}
}

// free reports whether the flag meets no other in its row, nor a pole that runs
// through the row, and its own pole no words on its way down.
func (q *pole) free(placed []*pole, width float64) bool {
	from, to := q.box()
	if from < edge || to > width-edge {
		return false
	}
	for _, o := range placed {
		if !o.found {
			continue
		}
		a, b := o.box()
		switch {
		case o.row == q.row && !(to+1.5 < a || b+1.5 < from),
			o.row > q.row && !(o.x < from-1 || o.x > to+1),
			o.row < q.row && !(q.x < a-1 || q.x > b+1):
			return false
		}
	}
	return true
}

// draw sets the flags of the rows over the figure.
func (f flagRows) draw(g *figure, ceiling float64) {
	base := topRim + f.rowsHeight()
	// Short poles too near to one another would lie over each other's pennants: they
	// are one.
	var short []*pole
	for _, q := range f.poles {
		if q.found {
			q.draw(g, base-flagRow*float64(q.row+1))
			continue
		}
		k := slices.IndexFunc(short, func(o *pole) bool { return math.Abs(o.x-q.x) < pennantRoom+countRoom })
		if k >= 0 {
			short[k].flags = append(short[k].flags, q.flags...)
			continue
		}
		short = append(short, q)
	}
	tops := make([]float64, len(short))
	for i, q := range short {
		q.left = q.x > g.s.Width-edge-pennantRoom-q.count()
		tops[i] = max(ceiling, g.footOf(float64(q.flags[0].finding.Station)).Y-shortPole)
		q.draw(g, tops[i])
	}
	// Counts come when all pennants stand: a count gives way, a pennant does not.
	for _, q := range f.poles {
		if q.found {
			q.letterCount(g, base-flagRow*float64(q.row+1))
		}
	}
	for i, q := range short {
		q.letterCount(g, tops[i])
	}
}

// countRoom is kept beside a short pole's pennants for a count, mm.
const countRoom = 8.0

// shortPole is the height of a pole whose sentence went to the drawer, mm.
const shortPole = drawing.FlagHeight + 1

func (q *pole) draw(g *figure, top float64) {
	from := len(g.s.Items)
	dir, h := 1.0, drawing.Start
	if q.left {
		dir, h = -1, drawing.End
	}
	for k, f := range q.flags {
		if k == pennantsHigh {
			break
		}
		at := float64(f.finding.Station)
		foot := g.footOf(at)
		foot.X = q.x
		mark := drawing.Flag{
			ID: f.id, Foot: foot, Grade: f.grade, Left: q.left, Dot: true,
			Title:  f.finding.Severity.String() + ", " + f.says(g.v.System),
			Height: foot.Y - top - pennantStep*float64(k), Data: anchors(at, at),
		}
		if k > 0 || q.words[0] == "" {
			mark.Data = append(mark.Data, [2]string{"drawer", "true"})
		}
		g.s.Flag(mark)
	}
	x := q.x + dir*pennantRoom
	wordsAfter := dir * q.count() // the count stands between the pennants and the words
	for k, words := range q.words {
		if words == "" {
			continue
		}
		face := drawing.Regular
		if k == 1 {
			face = drawing.Bold
		}
		g.s.Text(drawing.Text{
			At: drawing.Pt(x+wordsAfter, top+1.7+float64(k)*drawing.SizeSmall*1.3), V: drawing.Centre, H: h, String: words, Face: face,
			Size: drawing.SizeSmall, Colour: drawing.Signal, Halo: 0.5,
		})
	}
	g.room.Take(g.s, from)
}

// letterCount says beside the pennants how many findings have none, where that is
// free; the table counts them too.
func (q *pole) letterCount(g *figure, top float64) {
	n := q.more()
	if n == 0 {
		return
	}
	dir, h := 1.0, drawing.Start
	if q.left {
		dir, h = -1, drawing.End
	}
	g.room.Write(g.s, drawing.Text{
		At: drawing.Pt(q.x+dir*pennantRoom, top+1.7), V: drawing.Centre, H: h, String: "+" + strconv.Itoa(n), Size: drawing.SizeSmall, Colour: drawing.Signal, Halo: 0.5,
	}, 0)
}

// footOf is where a flag stands: on the upper edge of the build at its station.
func (g *figure) footOf(station float64) drawing.Point {
	high := g.p.radiusAt(station)
	if len(g.p.profile) == 0 {
		high = g.highest(station)
	}
	q := g.up.at(station, max(high, g.e.skip))
	return drawing.Pt(q.X, max(q.Y, g.up.clip.Y+lineRoom))
}
