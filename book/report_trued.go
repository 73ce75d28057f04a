package book

import (
	"fmt"

	"scalewright/model"
	"scalewright/stage/truing"
)

// truedJSON is the outline as measured beside the outline as trued, and what else the
// measurements would bear. Of the reference, but what ends in full_size_mm.
type truedJSON struct {
	Measured  []segmentJSON `json:"measured"` // segments before truing; after it they stand under trace
	Moved     []movedJSON   `json:"moved"`
	Edges     []edgeJSON    `json:"edges"`
	Most      figure        `json:"most_full_size_mm"`
	At        figure        `json:"at_full_size_mm"`
	Proposals ProposalsJSON `json:"proposals"`
}

type movedJSON struct {
	Truth  string `json:"truth"`
	From   figure `json:"from_mm"`
	To     figure `json:"to_mm"`
	By     figure `json:"by_full_size_mm"`
	Doubts figure `json:"doubts"`
}

type edgeJSON struct {
	Station figure `json:"station_mm"`
	Size    figure `json:"size_mm"`
	By      figure `json:"by_full_size_mm"`
}

// ProposalsJSON are truths that the measurements keep and values that look like round
// ones. None is taken by itself.
type ProposalsJSON struct {
	Holds  []holdsJSON `json:"holds"`
	Rounds []roundJSON `json:"looks_like"`
}

type holdsJSON struct {
	Truth   string  `json:"truth"`
	Station figure  `json:"station_mm"`
	Other   *figure `json:"other_mm,omitempty"`
	P       figure  `json:"p"`      // chance that what is true is measured so far off
	Chance  figure  `json:"chance"` // that what is not would pass
}

type roundJSON struct {
	What    string    `json:"what"`
	Station figure    `json:"station_mm"`
	Value   valueJSON `json:"measured_mm"`
	Round   figure    `json:"round_mm"`
	Reads   string    `json:"reads"`
	Times   figure    `json:"times_likelier"`
}

func reportTrued(r truing.Result) truedJSON {
	return truedJSON{
		Measured: each(r.Measured, reportSegment),
		Moved: each(r.Moved, func(m truing.Moved) movedJSON {
			return movedJSON{string(m.Truth), figure(m.From), figure(m.To), figure(m.By), figure(m.Doubts)}
		}),
		Edges: each(r.Edges, func(e truing.Edge) edgeJSON {
			return edgeJSON{figure(e.Station), figure(e.Size), figure(e.By)}
		}),
		Most: figure(r.Most), At: figure(r.At), Proposals: Proposals(r),
	}
}

// Proposals are what report.json and the measure command say of an outline.
func Proposals(r truing.Result) ProposalsJSON {
	return ProposalsJSON{
		Holds: each(r.Holds, func(h truing.Hold) holdsJSON {
			out := holdsJSON{Truth: string(h.Truth), Station: figure(h.Station), P: figure(h.P), Chance: figure(h.Chance)}
			if h.Other > 0 {
				out.Other = new(figure(h.Other))
			}
			return out
		}),
		Rounds: each(r.Rounds, func(q truing.Round) roundJSON {
			return roundJSON{q.What, figure(q.Station), valueOf(q.Value), figure(q.Round), q.Reads, figure(q.Times)}
		}),
	}
}

// SayProposals says each in a line.
func SayProposals(r truing.Result) []string {
	var out []string
	for _, h := range r.Holds {
		switch h.Truth {
		case model.Parallel:
			out = append(out, fmt.Sprintf("the line at %.1f is parallel to the axis", h.Station))
		case model.NoDraft:
			out = append(out, fmt.Sprintf("the line at %.1f has the draft of a moulding, as others have", h.Station))
		case model.Equal:
			out = append(out, fmt.Sprintf("the diameters at %.1f and %.1f are equal", h.Station, h.Other))
		case model.SquareTo:
			out = append(out, fmt.Sprintf("the face at %.1f is square to the axis", h.Station))
		case model.Tangent:
			out = append(out, fmt.Sprintf("the arc at %.1f touches its neighbour at %.1f", h.Station, h.Other))
		case model.Symmetric:
			out = append(out, "both ends are alike")
		case model.AsIs:
		}
	}
	for _, q := range r.Rounds {
		out = append(out, fmt.Sprintf("the %s at %.1f, %.2f ± %.2f mm, looks like %s", q.What, q.Station, q.Value.X, 2*q.Value.U, q.Reads))
	}
	return out
}
