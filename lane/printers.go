package lane

import (
	"scalewright/job"
	"scalewright/model"
)

func printerName(r job.Result, id string) string {
	if p, ok := r.Design.Shop.Printer(id); ok && p.Name != "" {
		return p.Name
	}
	return id
}

func standsOn(p model.Piece) string {
	switch p.Direction {
	case model.NoseDown:
		return "its nose"
	case model.Lying:
		return "its face"
	case model.FootDown:
	}
	return "its foot"
}
