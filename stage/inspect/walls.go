package inspect

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// A wall may come out thinner than declared by so much of it before a word is said,
// and before it is a caution: what a line's width varies by, and common practice.
const (
	said   = 0.02
	farOff = 0.10
)

// walls says of each part where its wall comes out thinnest, if that is less than
// declared.
func (in Input) walls() finding.List {
	var found finding.List
	for _, part := range in.Parts {
		declared := part.Wall
		if part.Form == model.Flat {
			declared = part.Plate.Thick
		}
		if declared == 0 {
			continue
		}
		least := -1
		for i, c := range in.Carved {
			kind := in.Division.Pieces[i].ID.Kind
			walled := kind == model.Shell || kind == model.Panel || kind == model.CollarRing || kind == model.Slice && part.Form == model.Imported
			if c.Piece.Part == part.ID && walled && c.Wall > 0 && (least < 0 || c.Wall < in.Carved[least].Wall) {
				least = i
			}
		}
		if least < 0 {
			continue
		}
		wall, at := in.Carved[least].Wall, in.Carved[least].WallAt
		short := 1 - float64(wall/declared)
		if short < said {
			continue
		}
		code := finding.Code("wall-under-declared")
		if short >= farOff {
			code = "wall-far-under-declared"
		}
		found.Add(finding.New(code, part.At.Key("wall"), finding.Args{
			"wall": finding.Fine(wall), "declared": finding.Fine(declared),
			"percent": finding.Number(math.Round(1000*short) / 10), "where": finding.Name(in.where(in.Carved[least].Piece, unit.Length(at.Station))),
			"more": finding.Size(math.Ceil(float64(declared*declared/wall)*10-1e-9) / 10),
		}).About(part.ID).AtStation(unit.Length(at.Station)))
	}
	return found
}

// where names the joint that a place of a piece lies in; else it is the piece's own
// wall.
func (in Input) where(id model.PieceID, station unit.Length) string {
	for _, s := range in.Division.Seams {
		if s.Below != id && s.Above != id {
			continue
		}
		if near := s.Engage + model.RootDeep; station >= s.Station-near && station <= s.Station+near {
			return "the joint " + s.ID
		}
	}
	piece, _ := in.Division.Piece(id)
	return piece.Name
}
