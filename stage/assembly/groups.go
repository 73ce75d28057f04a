package assembly

import (
	"slices"

	"scalewright/model"
)

// groups are the pieces that glue makes one thing of.
func (p *problem) groups() []model.Group {
	// The core and the stand are no pieces; what only they hold together still
	// comes apart for the paint.
	whole := p.apart()
	for _, j := range p.joints {
		if !j.bonded || j.keeps == p.core || j.comes == p.core {
			continue
		}
		whole = whole.united(j.keeps, j.comes)
		for _, h := range j.hosts {
			whole = whole.united(j.keeps, h)
		}
	}
	var out []model.Group
	at := map[int]int{}
	for i, t := range p.things {
		if t.piece == nil {
			continue
		}
		g, ok := at[whole[i]]
		if !ok {
			g = len(out)
			at[whole[i]] = g
			out = append(out, model.Group{ID: p.groupName(out, *t.piece)})
		}
		out[g].Pieces = append(out[g].Pieces, t.piece.ID)
	}
	for _, j := range p.joints {
		if g, ok := at[whole[j.comes]]; ok && j.bonded && whole[j.keeps] == whole[j.comes] {
			out[g].Seams = append(out[g].Seams, j.ids...)
		}
	}
	for i := range out {
		slices.Sort(out[i].Seams)
	}
	return out
}

// groupName is the first piece's part; a panel, and a part whose pieces nothing
// glues together, need more.
func (p *problem) groupName(groups []model.Group, piece model.Piece) string {
	name := piece.ID.Part
	for _, g := range groups {
		if g.ID == name {
			return piece.ID.String()
		}
	}
	return name
}
