package book

import "scalewright/model"

type assemblyJSON struct {
	Steps  []assemblyStepJSON `json:"steps"` // in an order that works
	Groups []groupJSON        `json:"groups"`
}

type assemblyStepJSON struct {
	Task    string   `json:"task"`
	Joint   string   `json:"joint,omitempty"`
	Name    string   `json:"name"`
	Pieces  []string `json:"pieces"`
	Station figure   `json:"station_mm"`
	Side    string   `json:"side,omitempty"`
	After   []string `json:"after"`
	Shuts   []string `json:"shuts"`   // components that nobody reaches past it
	Through []string `json:"through"` // wires that must hang through it
	Bench   int      `json:"bench_min"`
	Cure    int      `json:"cure_min"`
	Guess   bool     `json:"guess"`
}

type groupJSON struct {
	ID     string   `json:"id"`
	Pieces []string `json:"pieces"`
	Joints []string `json:"joints"`
}

func reportAssembly(a model.Assembly) assemblyJSON {
	same := func(s string) string { return s }
	return assemblyJSON{
		Steps: each(a.Steps, func(s model.AssemblyStep) assemblyStepJSON {
			return assemblyStepJSON{
				Task: s.Task.ID, Joint: s.Joint, Name: s.Task.Name, Pieces: each(s.Pieces, model.PieceID.String),
				Station: figure(s.Station), Side: string(s.Side), After: each(s.Task.After, same),
				Shuts: each(s.Shuts, same), Through: each(s.Through, same),
				Bench: int(s.Task.Bench), Cure: int(s.Task.Cure), Guess: s.Task.Guess,
			}
		}),
		Groups: each(a.Groups, func(g model.Group) groupJSON {
			return groupJSON{g.ID, each(g.Pieces, model.PieceID.String), each(g.Seams, same)}
		}),
	}
}
