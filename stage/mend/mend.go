package mend

import (
	"context"
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Input is what is made and what is asked for.
type Input struct {
	Kept     []model.Kept
	Parts    []model.Part
	Division model.Division
	Fits     []model.Fit
	Carved   []model.Carved // of Division.Pieces
}

const (
	sameEnd    = 0.05  // mm: ends nearer than this are the same
	sameVolume = 0.002 // of the volume: chords differ by less
	binds      = 0.5   // chance past which a made joint is said to bind
)

// Run compares them.
func Run(_ context.Context, in Input) ([]string, finding.List, error) {
	var found finding.List
	var stays []string
	for _, k := range in.Kept {
		f := in.compare(k)
		found.Add(f...)
		if len(f) == 0 {
			stays = append(stays, k.Label)
		}
	}
	found.Add(in.between()...)
	return stays, found, nil
}

// compare holds one made piece against the build.
func (in Input) compare(k model.Kept) finding.List {
	var found finding.List
	label := finding.Name(k.Label)
	if len(k.Damaged) > 0 {
		found.Add(finding.New("made-damaged", finding.Place{File: k.Damaged[0]}, finding.Args{
			"label": label, "files": finding.Names(k.Damaged...),
		}))
	}
	i := in.index(k.Piece)
	if i < 0 {
		found.Add(finding.New("made-gone", finding.Place{}, finding.Args{"label": label, "piece": finding.Name(k.Piece), "revision": finding.Count(k.Revision)}))
		return found
	}
	piece, carved := in.Division.Pieces[i], in.Carved[i]
	at := in.at(piece.ID.Part)
	say := func(code finding.Code, args finding.Args) {
		args["label"], args["piece"], args["revision"] = label, finding.Name(piece.Name), finding.Count(k.Revision)
		found.Add(finding.New(code, at, args).About(piece.ID.Part).AtStation(piece.Span.From))
	}
	if k.Features != nil {
		now := in.Division.Features(piece.ID)
		had, wants := without(k.Features, now), without(now, k.Features)
		if len(had)+len(wants) > 0 {
			say("made-other-features", finding.Args{"had": finding.Names(had...), "wants": finding.Names(wants...)})
			return found // ends and volume follow from that
		}
	}
	switch {
	case len(k.Damaged) > 0 && k.Reach == (model.Span{}):
	case differ(k.Reach.From, carved.Reach.From, sameEnd) || differ(k.Reach.To, carved.Reach.To, sameEnd):
		say("made-other-length", finding.Args{
			"from": finding.Size(k.Reach.From), "to": finding.Size(k.Reach.To),
			"now": finding.Size(carved.Reach.From), "then": finding.Size(carved.Reach.To),
		})
	case k.Volume > 0 && math.Abs(carved.Volume-k.Volume) > sameVolume*k.Volume:
		say("made-other-shape", finding.Args{
			"was": finding.Number(math.Round(k.Volume / 1000)), "asked": finding.Number(math.Round(carved.Volume / 1000)),
		})
	}
	return found
}

// between says which joints of two made pieces no longer go together: neither side
// can follow the other.
func (in Input) between() finding.List {
	var found finding.List
	for _, f := range in.Fits {
		male, female := in.label(f.Male), in.label(f.Female)
		if male == "" || female == "" {
			continue
		}
		i := in.index(f.Female)
		part := in.Division.Pieces[i].ID.Part
		args := finding.Args{
			"male": finding.Name(male), "female": finding.Name(female), "joint": finding.Name(f.Seam),
			"clearance": finding.Fine(math.Abs(f.Clearance.X)), "doubt": finding.Fine(2 * f.Clearance.U),
		}
		switch {
		case f.Bind > binds:
			found.Add(finding.New("made-binds", in.at(part), args).About(part).AtStation(f.Station))
		case f.Loose > binds:
			found.Add(finding.New("made-rattles", in.at(part), args).About(part).AtStation(f.Station))
		}
	}
	return found
}

// without are the features of one list that the other lacks.
func without(these, those []string) []string {
	var out []string
	for _, f := range these {
		if !slices.Contains(those, f) {
			out = append(out, f)
		}
	}
	return out
}

func differ(a, b unit.Length, by float64) bool { return math.Abs(float64(a-b)) > by }

func (in Input) label(piece string) string {
	for _, k := range in.Kept {
		if k.Piece == piece {
			return k.Label
		}
	}
	return ""
}

func (in Input) index(piece string) int {
	for i, p := range in.Division.Pieces {
		if p.ID.String() == piece {
			return i
		}
	}
	return -1
}

func (in Input) at(part string) finding.Place {
	for _, p := range in.Parts {
		if p.ID == part {
			return p.At
		}
	}
	return finding.Place{}
}
