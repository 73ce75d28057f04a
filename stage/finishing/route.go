package finishing

import (
	"fmt"
	"math"
	"slices"

	"scalewright/craft/surface"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// work is the routes and tasks being planned.
type work struct {
	Input
	rate   float64 // hours as logged over those estimated
	tasks  []model.Task
	routes []model.Route
	paper  map[int]float64 // m² sanded, by grit
}

// plan takes each piece through its first priming and each group through the rest.
func (w *work) plan(surfaces []model.Surface) {
	w.paper = map[int]float64{}
	seen, route := map[model.PieceID]model.Surface{}, map[model.PieceID]int{}
	for _, s := range surfaces {
		seen[s.Piece] = s
	}
	var groups []model.Group
	for _, g := range w.Division.Groups(w.Mounts) {
		r, stairs := model.Route{Group: g.ID}, 0.0
		for _, p := range g.Pieces {
			s := seen[p]
			r.Area += s.Area
			r.Depth = max(r.Depth, s.Depth)
			stairs += s.Area * float64(s.Mean) / 2 / 1000 // ml: half the depth, as triangles are
			route[p] = len(groups)
		}
		if r.Area == 0 {
			continue
		}
		r.Cycles = surface.Cycles(float64(r.Depth), limits[w.Finish.Grade], taken)
		r.Film, r.Filler = w.film(r.Cycles), w.filler(g, stairs)
		w.routes, groups = append(w.routes, r), append(groups, g)
	}
	for _, s := range surfaces {
		w.piece(&w.routes[route[s.Piece]], s.Piece, s.Area/square)
	}
	for i, g := range groups {
		w.group(&w.routes[i], g, w.routes[i].Area/square)
	}
}

// name is a piece's name for people.
func (w *work) name(id model.PieceID) string {
	p, _ := w.Division.Piece(id)
	return p.Name
}

// piece is sanded raw, primed and sanded again before it is joined.
func (w *work) piece(r *model.Route, id model.PieceID, area float64) {
	piece, name := id.String(), w.name(id)
	raw, primed := "sand."+piece, "prime."+piece
	w.sand(r, "sand each piece raw", 220, area, rawRate, model.Task{
		ID: raw, Name: "sand " + name + " from 120 to 220 grit", Piece: piece, After: []string{model.PrintTask(id)},
	})
	w.paper[120] += area // the coarser of the two
	w.spray(r, "prime each piece", "primer", area, passes, model.Task{
		ID: primed, Kind: model.Prime, Name: "prime " + name, Piece: piece, After: []string{raw},
	})
	w.sand(r, "sand the primer of each piece", 320, area, primerRate, model.Task{
		ID: model.PrepTask(id), Name: "sand the primer of " + name + " to 320 grit", Piece: piece, After: []string{primed},
	})
}

// group has its seams filled, goes round the remaining cycles, and is painted.
func (w *work) group(r *model.Route, g model.Group, area float64) {
	last := w.joins(g)
	if seams := w.seams(g); seams > 0 {
		id := "fill." + g.ID
		w.add(r, model.Operation{Does: "join, then fill and sand the seams"}, model.Task{
			ID: id, Kind: model.Fill, Name: "fill and sand the seams of " + g.ID, After: last,
			Bench: minutes(seams * seamMinutes * w.rate), Cure: stock.MustCoating("putty").Sand,
		})
		last = []string{id}
	}
	for cycle := 2; cycle <= r.Cycles; cycle++ {
		primed, sanded := fmt.Sprintf("prime.%s.%d", g.ID, cycle), fmt.Sprintf("sand.%s.%d", g.ID, cycle)
		w.spray(r, fmt.Sprintf("prime, time %d", cycle), "primer", area, passes, model.Task{
			ID: primed, Kind: model.Prime, Name: fmt.Sprintf("prime %s, time %d", g.ID, cycle), After: last,
		})
		w.sand(r, fmt.Sprintf("sand, time %d", cycle), grit(cycle), area, primerRate, model.Task{
			ID: sanded, Name: fmt.Sprintf("sand %s to %d grit", g.ID, grit(cycle)), After: []string{primed},
		})
		last = []string{sanded}
	}
	coats := w.Finish.Colour + w.Finish.Clear
	scuff := "scuff." + g.ID
	if coats == 0 {
		scuff = model.FinishTask(g.ID)
	}
	w.sand(r, "sand wet", 600, area, scuffRate, model.Task{ID: scuff, Name: "sand " + g.ID + " wet to 600 grit", After: last})
	last = []string{scuff}
	for coat := 1; coat <= coats; coat++ {
		what, n := "colour", coat
		if coat > w.Finish.Colour {
			what, n = "clear", coat-w.Finish.Colour
		}
		id := fmt.Sprintf("%s.%s.%d", what, g.ID, n)
		if coat == coats {
			id = model.FinishTask(g.ID)
		}
		w.spray(r, "spray "+what, what, area, 1, model.Task{
			ID: id, Kind: model.Paint, Name: fmt.Sprintf("spray %s on %s, coat %d", what, g.ID, n), After: last,
		})
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
func (w *work) joins(g model.Group) []string {
	var out []string
	for _, s := range g.Seams {
		out = append(out, model.JoinTask(s))
	}
	for _, p := range g.Pieces {
		out = append(out, model.PrepTask(p))
	}
	return out
}

// seams is the length of the glued seams of a group, m.
func (w *work) seams(g model.Group) float64 {
	sum := 0.0
	for _, id := range g.Seams {
		for _, s := range w.Division.Seams {
			if s.ID == id {
				sum += w.seamLength(s) / 1000
			}
		}
	}
	return sum
}

// sand is hands on an area at a rate, and paper.
func (w *work) sand(r *model.Route, does string, grit int, area, rate float64, t model.Task) {
	t.Kind, t.Bench = model.Sand, minutes(60*area/rate*w.rate)
	w.paper[grit] += area
	w.add(r, model.Operation{Does: does, Grit: grit}, t)
}

// spray is a coat: hands on it, then the spraying place is taken until it is dry.
func (w *work) spray(r *model.Route, does, coating string, area float64, times int, t model.Task) {
	c := stock.MustCoating(coating)
	t.Bench, t.Spray = setUp+minutes(c.Bench*area*float64(times)), true
	t.Cure = c.Dry + unit.Minutes(times-1)*c.Recoat
	if t.Kind == model.Prime {
		t.Cure += c.Sand - c.Dry
	}
	w.add(r, model.Operation{Does: does, Coats: times}, t)
}

// add plans a task, which belongs to an operation of its group's route.
func (w *work) add(r *model.Route, o model.Operation, t model.Task) {
	t.Guess = true
	w.tasks = append(w.tasks, t)
	r.Bench += t.Bench
	i := slices.IndexFunc(r.Operations, func(have model.Operation) bool { return have.Does == o.Does })
	if i < 0 {
		i, r.Operations = len(r.Operations), append(r.Operations, o)
	}
	have := &r.Operations[i]
	have.Tasks, have.Bench, have.Dry = have.Tasks+1, have.Bench+t.Bench, max(have.Dry, t.Cure)
}

// minutes rounds up, and no bench work is over at once.
func minutes(x float64) unit.Minutes { return unit.Minutes(math.Ceil(math.Max(shortest, x))) }
