package finishing

import (
	"fmt"
	"math"

	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// route is the tasks being planned.
type route struct {
	Input
	cycles int
	rate   float64 // hours as logged over those estimated
	tasks  []model.Task
}

// plan takes each piece through its first priming and each group through the rest.
func (r *route) plan(surfaces []model.Surface) {
	area := map[model.PieceID]float64{}
	for _, s := range surfaces {
		area[s.Piece] = s.Area / square
		r.piece(s.Piece, s.Area/square)
	}
	for _, g := range r.Division.Groups(r.Mounts) {
		sum := 0.0
		for _, p := range g.Pieces {
			sum += area[p]
		}
		if sum > 0 {
			r.group(g, sum)
		}
	}
}

// name is a piece's name for people.
func (r *route) name(id model.PieceID) string {
	p, _ := r.Division.Piece(id)
	return p.Name
}

// piece is sanded raw, primed and sanded again before it is joined.
func (r *route) piece(id model.PieceID, area float64) {
	piece, name := id.String(), r.name(id)
	raw, primed := "sand."+piece, "prime."+piece
	r.add(model.Task{
		ID: raw, Kind: model.Sand, Name: "sand " + name + " from 120 to 220 grit", Piece: piece,
		After: []string{model.PrintTask(id)}, Bench: r.sanding(area, rawRate),
	})
	r.spray(primed, model.Prime, "prime "+name, piece, "primer", area, passes, []string{raw})
	r.add(model.Task{
		ID: model.PrepTask(id), Kind: model.Sand, Name: "sand the primer of " + name + " to 320 grit", Piece: piece,
		After: []string{primed}, Bench: r.sanding(area, primerRate),
	})
}

// group has its seams filled, goes round the remaining cycles, and is painted.
func (r *route) group(g model.Group, area float64) {
	last := r.joins(g)
	if seams := r.seams(g); seams > 0 {
		putty := stock.MustCoating("putty")
		id := "fill." + g.ID
		r.add(model.Task{
			ID: id, Kind: model.Fill, Name: "fill and sand the seams of " + g.ID, After: last,
			Bench: minutes(seams * seamMinutes * r.rate), Cure: putty.Dry,
		})
		last = []string{id}
	}
	for cycle := 2; cycle <= r.cycles; cycle++ {
		primed, sanded := fmt.Sprintf("prime.%s.%d", g.ID, cycle), fmt.Sprintf("sand.%s.%d", g.ID, cycle)
		r.spray(primed, model.Prime, fmt.Sprintf("prime %s, time %d", g.ID, cycle), "", "primer", area, passes, last)
		r.add(model.Task{
			ID: sanded, Kind: model.Sand, Name: fmt.Sprintf("sand %s to %d grit", g.ID, grit(cycle)), After: []string{primed},
			Bench: r.sanding(area, primerRate),
		})
		last = []string{sanded}
	}
	coats := r.Finish.Colour + r.Finish.Clear
	scuff := "scuff." + g.ID
	if coats == 0 {
		scuff = model.FinishTask(g.ID)
	}
	r.add(model.Task{ID: scuff, Kind: model.Sand, Name: "sand " + g.ID + " wet to 600 grit", After: last, Bench: r.sanding(area, scuffRate)})
	last = []string{scuff}
	for coat := 1; coat <= coats; coat++ {
		what, n := "colour", coat
		if coat > r.Finish.Colour {
			what, n = "clear", coat-r.Finish.Colour
		}
		id := fmt.Sprintf("%s.%s.%d", what, g.ID, n)
		if coat == coats {
			id = model.FinishTask(g.ID)
		}
		r.spray(id, model.Paint, fmt.Sprintf("spray %s on %s, coat %d", what, g.ID, n), "", what, area, 1, last)
		last = []string{id}
	}
}

// grit goes finer with every cycle, never by more than about two: 400, then 600.
func grit(cycle int) int {
	if cycle == 2 {
		return 400
	}
	return 600
}

// joins are the tasks that make a group of pieces; of a single piece the last on
// it.
func (r *route) joins(g model.Group) []string {
	var out []string
	for _, s := range g.Seams {
		out = append(out, model.JoinTask(s))
	}
	for _, m := range r.Mounts {
		for _, p := range g.Pieces {
			if !m.Removable && p.Part == m.Guest {
				out = append(out, model.JoinTask(m.ID))
				break
			}
		}
	}
	for _, p := range g.Pieces {
		out = append(out, model.PrepTask(p))
	}
	return out
}

// seams is the length of the glued seams of a group, m.
func (r *route) seams(g model.Group) float64 {
	sum := 0.0
	for _, id := range g.Seams {
		for _, s := range r.Division.Seams {
			if s.ID == id {
				sum += r.seamLength(s) / 1000
			}
		}
	}
	return sum
}

func (r *route) sanding(area, rate float64) unit.Minutes { return minutes(60 * area / rate * r.rate) }

// spray is a coat: hands on it, then the spraying place is taken until it is dry.
func (r *route) spray(id string, kind model.TaskKind, name, piece, coating string, area float64, times int, after []string) {
	c := stock.MustCoating(coating)
	r.add(model.Task{
		ID: id, Kind: kind, Name: name, Piece: piece, After: after,
		Bench: setUp + minutes(c.Bench*area*float64(times)), Cure: c.Dry, Spray: true,
	})
}

func (r *route) add(t model.Task) {
	t.Guess = true
	r.tasks = append(r.tasks, t)
}

// minutes rounds up, and no bench work is over at once.
func minutes(x float64) unit.Minutes { return unit.Minutes(math.Ceil(math.Max(shortest, x))) }
