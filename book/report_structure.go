package book

import (
	"math"

	"scalewright/model"
)

type structureJSON struct {
	Total   valueJSON    `json:"mass_g"` // without the stand
	Centre  [3]figure    `json:"centre_mm"`
	Lift    figure       `json:"one_person_kg"`
	Weights []weightJSON `json:"weights"`
	Hands   [2]figure    `json:"hands_mm"` // stations where two hands bend the core least
	Carried bendingJSON  `json:"carried"`
	Raised  bendingJSON  `json:"raised"`
	Stand   *standJSON   `json:"stand"` // null without one
}

type weightJSON struct {
	Name   string    `json:"name"`
	Mass   valueJSON `json:"mass_g"`
	Centre [3]figure `json:"centre_mm"`
}

type bendingJSON struct {
	Droop  figure `json:"droop_mm"`
	At     figure `json:"station_mm"`
	Stress figure `json:"stress_mpa"`
	Allows figure `json:"allows_mpa"`
}

type standJSON struct {
	Mass     figure `json:"mass_g"`
	Height   figure `json:"height_mm"`
	Middle   figure `json:"centre_height_mm"`
	Tips     figure `json:"tips_deg"`
	Needs    figure `json:"needs_deg"`
	Push     figure `json:"push_n"`
	PushAt   figure `json:"push_height_mm"`
	PushTips figure `json:"push_tips_n"`
	Sway     figure `json:"sway_mm"`
	Stress   figure `json:"stress_mpa"`
	Allows   figure `json:"allows_mpa"`
	Floor    figure `json:"floor_kg_m2"`
}

func reportStructure(s model.Structure) structureJSON {
	bending := func(b model.Bending) bendingJSON {
		return bendingJSON{figure(b.Droop), figure(b.At), figure(b.Stress), figure(b.Allows)}
	}
	out := structureJSON{
		Total: valueOf(s.Total), Centre: three(s.Centre), Lift: figure(s.Lift),
		Weights: each(s.Weights, func(w model.Weight) weightJSON {
			return weightJSON{w.Name, valueOf(w.Mass), three(w.Centre)}
		}),
		Hands: [2]figure{figure(s.Hands[0]), figure(s.Hands[1])}, Carried: bending(s.Carried), Raised: bending(s.Raised),
	}
	if st := s.Stand; st.Base > 0 {
		out.Stand = &standJSON{
			figure(st.Base), figure(st.Height), figure(st.Middle), figure(st.Tips * 180 / math.Pi), figure(st.Needs * 180 / math.Pi),
			figure(st.Push), figure(st.PushAt), figure(st.PushTips), figure(st.Sway), figure(st.Stress), figure(st.Allows), figure(st.Floor),
		}
	}
	return out
}

func three(v [3]float64) [3]figure { return [3]figure{figure(v[0]), figure(v[1]), figure(v[2])} }
