package book

import (
	"fmt"
	"strings"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/model"
)

const pageDetails = "details"

// details are the joints close to, six a sheet: what is printed has to look like it.
func (b *sheets) details() {
	var seams []model.Seam
	reach := 0.0
	for _, s := range b.r.Division.Seams {
		if s.Below.Kind != model.Slice && len(b.r.Carved) == len(b.r.Prints) {
			seams = append(seams, s)
			reach = max(reach, lane.DetailReach(s))
		}
	}
	if len(seams) == 0 {
		return
	}
	const gap, caption, perSheet = 6.0, 18.0, 6
	var p *sheet
	var y, side, high float64
	var n float64
	for i, s := range seams {
		if i%perSheet == 0 {
			id, words := pageDetails, "Finished pieces cut along the axis, the outside up, the far end to the right; core and post in green. The figure is how deep the joint is."
			if i > 0 {
				id = fmt.Sprintf("%s-%d", pageDetails, i/perSheet+1)
			}
			p = b.add(id, "Joints, close to", false)
			y = p.text(p.body.X, p.body.Y, p.body.W, drawing.SizeHead, bold("Joints, close to")) + 1
			y = p.text(p.body.X, y, p.body.W, drawing.SizeText, plain(words)) + 3
			side = (p.body.W - gap) / 2
			high = (p.body.Y+p.body.H-y)/3 - caption
			n = lane.Reduction(2 * reach / side)
			p.scale = lane.ScaleText(n)
		}
		x := p.body.X + float64(i%2)*(side+gap)
		top := y + float64(i%perSheet/2)*(high+caption)
		if scene := lane.Detail(b.r, s, side, high, n, b.o.System); scene != nil {
			p.scene.Place(scene, drawing.Pt(x, top), fmt.Sprintf("detail-%d-", i))
		}
		p.text(x, top+high+1, side, drawing.SizeText, b.ofJoint(s)...)
	}
}

// ofJoint names a joint, what holds it and how its sides fit.
func (b *sheets) ofJoint(s model.Seam) []drawing.Span {
	below, _ := b.r.Division.Piece(s.Below)
	above, _ := b.r.Division.Piece(s.Above)
	words := []string{fmt.Sprintf(" at %s: %s; %s", b.o.System.Figure(s.Station), s.Kind, heldBy(s))}
	fits := b.r.Fits.Of(s.ID)
	for i, f := range fits {
		if i == 0 {
			words = append(words, fmt.Sprintf("; ⌀ %.2f in %.2f", float64(f.MaleSize.Nominal), float64(f.Bore.Nominal)))
		}
		words = append(words, fmt.Sprintf(", %.2f ± %.2f", f.Clearance.X, 2*f.Clearance.U))
	}
	if len(fits) > 0 {
		words = append(words, " mm to spare")
	}
	return []drawing.Span{bold(below.Name + ", " + above.Name), plain(strings.Join(words, ""))}
}
