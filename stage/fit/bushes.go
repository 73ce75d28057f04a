package fit

import (
	"math"

	"scalewright/craft/bush"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// bushSpare is how many standard uncertainties the outside of a bush keeps in hand:
// one more than a joint, since glue fills what is left and nobody sees it.
const bushSpare = spare + 1

// bushes are sized to the core's bore, at its narrowest, and for the post, at its
// widest. Its outside is glued; the post slides.
func (w work) bushes() []model.Fit {
	var fits []model.Fit
	for _, p := range w.Division.Pieces {
		if p.ID.Kind != model.Bush {
			continue
		}
		bore := w.coreBore()
		play := bore.Sub(w.offset(p.ID, bore.X, false))
		asked := math.Floor((play.X-leastGlued-bushSpare*play.U)*100) / 100
		in := finish(model.Fit{
			Male: p.ID.String(), Female: "core", MaleSize: w.side(p.ID, asked, false),
			Bore: model.Size{Nominal: unit.Length(bore.X), Actual: bore},
		}, MostLoose+float64(w.Core.Stock.Oval))
		post := widest(w.Stand.Post, "post diameter")
		room := w.offset(p.ID, post.X, true).Sub(post)
		asked = math.Ceil((leastCore+spare*room.U-room.X)*100) / 100
		on := finish(model.Fit{
			Male: "post", Female: p.ID.String(), Bore: w.side(p.ID, asked, true),
			MaleSize: model.Size{Nominal: w.Stand.Post.OD, Actual: post},
		}, MostLoose+float64(w.Stand.Post.Oval))
		for _, f := range []model.Fit{in, on} {
			f.Seam, f.Station, f.Depth = p.ID.String(), p.Span.From, p.Span.Length()
			fits = append(fits, f)
		}
	}
	return fits
}

// coreBore is the narrowest diameter inside the core. Its wall runs over the least of
// the table by up to twice what it does on the mean, anywhere alike.
func (w work) coreBore() unit.Value {
	pipe := w.Core.Stock
	over := float64(pipe.Wall) * (bush.WallsRun - 1)
	wall := unit.Estimate(2*(float64(pipe.Wall)+over), 0, unit.Source{Name: "core wall", U: 2 * over / math.Sqrt(3)})
	return w.coreWidth().Sub(unit.Exact(float64(pipe.Oval))).Sub(wall)
}

// widest is a pipe's widest diameter: the middle of the table's range and half of
// what it is out of round, see coreWidth.
func widest(pipe stock.Pipe, source string) unit.Value {
	middle, half := float64(pipe.OD+pipe.ODMost)/2, float64(pipe.ODMost-pipe.OD)/2
	return unit.Estimate(middle+float64(pipe.Oval)/2, 0, unit.Source{Name: source, U: half / math.Sqrt(3)})
}
