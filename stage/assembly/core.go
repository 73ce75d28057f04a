package assembly

import (
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// rings are the core rings and collars, each fixed in the shell above it, and the
// core on its lowest ring.
func (p *problem) rings() {
	lowest := -1
	for _, s := range p.Division.Seats {
		ring, ok := p.index[s.Ring]
		host, also := p.index[s.Host]
		if !ok || !also {
			continue
		}
		p.seat(ring, host, s.Span.From)
		if lowest < 0 || p.things[ring].low < p.things[lowest].low {
			lowest = ring
		}
	}
	for _, s := range p.Division.Seams {
		collar, ok := p.index[model.PieceID{Kind: model.CollarRing, Part: s.Above.Part, From: s.Above.From}]
		if host, also := p.index[s.Above]; ok && also && s.Male() == stock.MaleOwn {
			p.seat(collar, host, s.Station)
		}
	}
	if p.core < 0 {
		return
	}
	if lowest < 0 {
		lowest = p.firstOnCore()
	}
	if lowest >= 0 {
		p.joints = append(p.joints, joint{
			task:  model.Task{ID: model.FitCore, Kind: model.Join, Name: "put the core into the " + p.things[lowest].name, Bench: coreMinutes, Guess: true},
			keeps: lowest, comes: p.core, bonded: true, station: p.Design.Core.Span.From, at: p.Design.Core.At,
		})
	}
}

func (p *problem) seat(ring, host int, station unit.Length) {
	id := p.things[ring].piece.ID
	name := "glue the core ring into "
	if id.Kind == model.CollarRing {
		name = "glue the collar into the foot of "
	}
	p.joints = append(p.joints, joint{
		task: model.Task{
			ID: model.SeatTask(id), Kind: model.Join, Name: name + p.things[host].name,
			Piece: id.String(), Bench: seatMinutes, Cure: seatHolds, Guess: true,
		},
		keeps: host, comes: ring, bonded: true, station: station, at: p.part(id.Part).At,
	})
}

// firstOnCore is the shell in which the core begins.
func (p *problem) firstOnCore() int {
	best := -1
	core := p.things[p.core]
	for i, t := range p.things {
		low, high := p.along(i)
		if onCore := len(t.rows) > 0 || t.piece != nil && t.piece.OnCore; t.piece == nil || !onCore || high <= core.low || low >= core.high {
			continue
		}
		if first, _ := p.along(max(best, 0)); best < 0 || low < first {
			best = i
		}
	}
	return best
}

// slides are the pieces that the core runs through and that no joint holds to what
// it runs through besides: each is glued to the core.
func (p *problem) slides() {
	if p.core < 0 {
		return
	}
	for i, t := range p.things {
		if t.piece == nil || !t.piece.OnCore {
			continue
		}
		b := p.apart()
		for _, j := range p.joints {
			b = b.united(j.keeps, j.comes)
		}
		if b[i] == b[p.core] {
			continue
		}
		low, _ := p.along(i)
		p.joints = append(p.joints, joint{
			task: model.Task{
				ID: model.SlideTask(t.piece.ID), Kind: model.Join, Name: "slide the " + t.name + " onto the core and glue it",
				Piece: t.piece.ID.String(), Bench: glueMinutes, Cure: stock.GlueFor("").Cure, Guess: true,
			},
			slide: true, keeps: p.core, comes: i, bonded: true, station: unit.Length(low), at: p.part(t.part).At,
		})
	}
}

// stands raises the core onto the stand's post.
func (p *problem) stands() {
	if p.stand < 0 {
		return
	}
	p.joints = append(p.joints, joint{
		task:  model.Task{ID: model.RaiseTask, Kind: model.Raise, Name: "raise it onto the stand", Bench: raiseMinutes, Guess: true},
		keeps: p.stand, comes: p.core, station: p.Design.Core.Span.From, at: p.Design.Stand.At,
	})
}
