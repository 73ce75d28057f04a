package book

import "scalewright/model"

type finishingJSON struct {
	Cycles   int           `json:"cycles"`
	Film     figure        `json:"film_mm"`
	Bench    int           `json:"bench_min"`
	Rate     figure        `json:"rate"` // hours as logged over those estimated
	Money    figure        `json:"money"`
	Currency string        `json:"currency"`
	Limits   []figure      `json:"depth_limits_mm"` // of the classes of surfaces
	Surfaces []surfaceJSON `json:"surfaces"`
	Routes   []routeJSON   `json:"routes"`
	Needs    []needJSON    `json:"needs"`
	Masks    []maskJSON    `json:"masks"`
}

type surfaceJSON struct {
	Piece   string   `json:"piece"`
	Area    figure   `json:"area_mm2"`
	Depth   figure   `json:"depth_mm"`
	Mean    figure   `json:"mean_mm"`
	ByDepth []figure `json:"by_depth_mm2"` // up to each limit, then what is deeper
}

type routeJSON struct {
	Group      string          `json:"group"`
	Area       figure          `json:"area_mm2"`
	Depth      figure          `json:"depth_mm"`
	Cycles     int             `json:"cycles"`
	Film       figure          `json:"film_mm"`
	Filler     figure          `json:"filler_ml"`
	Bench      int             `json:"bench_min"`
	Operations []operationJSON `json:"operations"`
}

type operationJSON struct {
	Does  string `json:"does"`
	Grit  int    `json:"grit,omitempty"`
	Coats int    `json:"passes,omitempty"`
	Tasks int    `json:"tasks"`
	Bench int    `json:"bench_min"`
	Dry   int    `json:"dry_min"`
}

type needJSON struct {
	Coating string `json:"coating"`
	Grit    int    `json:"grit,omitempty"`
	Units   int    `json:"units"`
	Area    figure `json:"coated_m2"`
	Volume  figure `json:"volume_ml"`
	Money   figure `json:"money"`
}

type maskJSON struct {
	What string `json:"what"`
	Why  string `json:"why"`
}

func reportFinishing(f model.Finishing) finishingJSON {
	return finishingJSON{
		Cycles: f.Cycles, Film: figure(f.Film), Bench: int(f.Bench), Rate: figure(f.Rate), Money: figure(f.Money), Currency: f.Currency,
		Limits: figures(model.RoughLimits[:]),
		Surfaces: each(f.Surfaces, func(s model.Surface) surfaceJSON {
			return surfaceJSON{s.Piece.String(), figure(s.Area), figure(s.Depth), figure(s.Mean), figures(s.ByDepth)}
		}),
		Routes: each(f.Routes, reportRoute),
		Needs: each(f.Needs, func(n model.Need) needJSON {
			return needJSON{n.Coating, n.Grit, n.Units, figure(n.Area), figure(n.Volume), figure(n.Money)}
		}),
		Masks: each(f.Masks, func(m model.Mask) maskJSON { return maskJSON{m.What, m.Why} }),
	}
}

func reportRoute(r model.Route) routeJSON {
	return routeJSON{
		Group: r.Group, Area: figure(r.Area), Depth: figure(r.Depth), Cycles: r.Cycles, Film: figure(r.Film),
		Filler: figure(r.Filler), Bench: int(r.Bench),
		Operations: each(r.Operations, func(o model.Operation) operationJSON {
			return operationJSON{o.Does, o.Grit, o.Coats, o.Tasks, int(o.Bench), int(o.Dry)}
		}),
	}
}

func figures[T ~float64](in []T) []figure {
	return each(in, func(x T) figure { return figure(x) })
}
