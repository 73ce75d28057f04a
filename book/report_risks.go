package book

import (
	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
)

type riskJSON struct {
	Code    finding.Code `json:"code"`
	Message string       `json:"message"`
	Remedy  string       `json:"remedy"`
	Part    string       `json:"part,omitempty"`
	Chance  figure       `json:"chance"`
	Hours   figure       `json:"hours"` // that it costs where it happens
}

func reportRisks(r job.Result, w finding.Writer) []riskJSON {
	return each(r.Risks, func(risk model.Risk) riskJSON {
		return riskJSON{
			Code: risk.What.Code, Message: w.Message(risk.What), Remedy: w.Remedy(risk.What), Part: risk.What.Part,
			Chance: figure(risk.Chance), Hours: figure(risk.Hours),
		}
	})
}
