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
	Lifted  []liftedJSON `json:"lifted"`   // what somebody has to lift, heaviest first
	Hands   [2]figure    `json:"hands_mm"` // stations where two hands bend the core least
	Carried bendingJSON  `json:"carried"`
	Stored  bendingJSON  `json:"stored"` // lying there for months
	Raised  bendingJSON  `json:"raised"`
	Stand   *standJSON   `json:"stand"` // null without one
}

type weightJSON struct {
	Name   string    `json:"name"`
	Kind   string    `json:"kind"`
	Mass   valueJSON `json:"mass_g"`
	Centre [3]figure `json:"centre_mm"`
}

type liftedJSON struct {
	Name   string `json:"name"`
	Mass   figure `json:"mass_g"`
	People int    `json:"people"`
}

type bendingJSON struct {
	Droop  figure `json:"droop_mm"`
	At     figure `json:"station_mm"`
	Stress figure `json:"stress_mpa"`
	Allows figure `json:"allows_mpa"`
}

type standJSON struct {
	Mass     figure     `json:"mass_g"`
	Height   figure     `json:"height_mm"`
	Middle   figure     `json:"centre_height_mm"`
	Tips     figure     `json:"tips_deg"`
	Needs    figure     `json:"needs_deg"`
	Push     figure     `json:"push_n"`
	PushAt   figure     `json:"push_height_mm"`
	PushTips figure     `json:"push_tips_n"`
	Sway     figure     `json:"sway_mm"`
	Lean     figure     `json:"lean_mm"` // of the top from plumb, the floor's tilt left out
	Stress   figure     `json:"stress_mpa"`
	Allows   figure     `json:"allows_mpa"`
	InCore   figure     `json:"core_stress_mpa"`
	CoreMay  figure     `json:"core_allows_mpa"`
	Floor    figure     `json:"floor_kg_m2"`
	Rings    *ringsJSON `json:"rings"` // round the post in the core; null where it fits the core itself
}

type ringsJSON struct {
	Outside  figure    `json:"outside_mm"`
	Bore     figure    `json:"bore_mm"`
	Stations [2]figure `json:"stations_mm"`
	Bears    figure    `json:"presses_n"`
}

func reportStructure(s model.Structure) structureJSON {
	bending := func(b model.Bending) bendingJSON {
		return bendingJSON{figure(b.Droop), figure(b.At), figure(b.Stress), figure(b.Allows)}
	}
	out := structureJSON{
		Total: valueOf(s.Total), Centre: three(s.Centre), Lift: figure(s.Lift),
		Weights: each(s.Weights, func(w model.Weight) weightJSON {
			return weightJSON{w.Name, string(w.Kind), valueOf(w.Mass), three(w.Centre)}
		}),
		Lifted: each(s.Lifted, func(l model.Lifted) liftedJSON { return liftedJSON{l.Name, figure(l.Mass), l.People} }),
		Hands:  [2]figure{figure(s.Hands[0]), figure(s.Hands[1])}, Carried: bending(s.Carried), Stored: bending(s.Stored), Raised: bending(s.Raised),
	}
	if st := s.Stand; st.Base > 0 {
		out.Stand = &standJSON{
			Mass: figure(st.Base), Height: figure(st.Height), Middle: figure(st.Middle),
			Tips: figure(st.Tips * 180 / math.Pi), Needs: figure(st.Needs * 180 / math.Pi),
			Push: figure(st.Push), PushAt: figure(st.PushAt), PushTips: figure(st.PushTips),
			Sway: figure(st.Sway), Lean: figure(st.Lean), Stress: figure(st.Stress), Allows: figure(st.Allows),
			InCore: figure(st.CoreStress), CoreMay: figure(st.CoreAllows), Floor: figure(st.Floor),
		}
		if r := st.Rings; r.Outside > 0 {
			out.Stand.Rings = &ringsJSON{figure(r.Outside), figure(r.Bore), [2]figure{figure(r.Stations[0]), figure(r.Stations[1])}, figure(r.Bears)}
		}
	}
	return out
}

func three(v [3]float64) [3]figure { return [3]figure{figure(v[0]), figure(v[1]), figure(v[2])} }
