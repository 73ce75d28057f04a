package book

import (
	"fmt"

	"scalewright/stage/readings"
	"scalewright/unit"
)

// ReadingsJSON is what readings by caliper say beside the photograph, as report.json
// and the measure command have it. Of the reference.
type ReadingsJSON struct {
	Taken []readingJSON `json:"taken"`
	Chi   figure        `json:"chi_squared"` // of those that count
	Count int           `json:"count"`
	Next  *nextJSON     `json:"next"` // null where no further reading would help much
}

type readingJSON struct {
	Kind    string    `json:"kind"`
	Station *figure   `json:"station_mm,omitempty"` // of a diameter
	From    *figure   `json:"from_mm,omitempty"`    // of a length
	To      *figure   `json:"to_mm,omitempty"`
	Read    valueJSON `json:"read_mm"`
	Seen    valueJSON `json:"all_else_mm"`
	Off     figure    `json:"off_doubts"`
	Used    bool      `json:"used"`
	Joint   valueJSON `json:"joint_mm"`
}

type nextJSON struct {
	Kind    string  `json:"kind"`
	Station *figure `json:"station_mm,omitempty"`
	From    *figure `json:"from_mm,omitempty"`
	To      *figure `json:"to_mm,omitempty"`
	Before  figure  `json:"middle_u_before_mm"`
	After   figure  `json:"middle_u_after_mm"`
}

// Readings is a result as it is written.
func Readings(r readings.Result) ReadingsJSON {
	out := ReadingsJSON{Taken: []readingJSON{}, Chi: figure(r.Chi), Count: r.Count}
	for _, t := range r.Taken {
		q := readingJSON{
			Kind: string(t.Reading.Kind), Read: valueOf(unit.Value{X: t.Reading.X, U: t.U}), Seen: valueOf(t.Seen),
			Off: figure(t.Off), Used: t.Used, Joint: valueOf(t.Joint),
		}
		q.Station, q.From, q.To = places(t.Reading.Kind, t.Reading.Station, t.Reading.From, t.Reading.To)
		out.Taken = append(out.Taken, q)
	}
	if n := r.Next; n != nil {
		out.Next = &nextJSON{Kind: string(n.Kind), Before: figure(n.Before), After: figure(n.After)}
		out.Next.Station, out.Next.From, out.Next.To = places(n.Kind, n.Station, n.From, n.To)
	}
	return out
}

func places(kind readings.Kind, station, from, to float64) (at, begin, end *figure) {
	if kind == readings.Length {
		return nil, new(figure(from)), new(figure(to))
	}
	return new(figure(station)), nil, nil
}

// NextReading says which further reading would help most, at full size where a ratio
// is known; empty where none would.
func NextReading(n *readings.Next, ratio float64) string {
	if n == nil {
		return ""
	}
	where := fmt.Sprintf("the diameter at %.1f", n.Station)
	if n.Kind == readings.Length {
		where = fmt.Sprintf("the length from %.1f to %.1f", n.From, n.To)
	}
	of := "of the outline at full size"
	if ratio <= 0 {
		ratio, of = 1, "of the outline"
	}
	return fmt.Sprintf("%s mm of the reference would help most: the doubt %s would fall from ± %.2f to ± %.2f mm, half of all places",
		where, of, 2*n.Before*ratio, 2*n.After*ratio)
}
