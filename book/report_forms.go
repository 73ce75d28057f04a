package book

import (
	"scalewright/job"
	"scalewright/model"
)

// formJSON is how a part gets its body; of a stretch of the body nothing is said.
type formJSON struct {
	Form     model.Form    `json:"form,omitempty"`
	CopyOf   string        `json:"copy_of,omitempty"` // as it is declared
	Thick    figure        `json:"thick_mm,omitempty"`
	Model    string        `json:"model,omitempty"`
	Frame    *[3][4]figure `json:"frame,omitempty"` // takes the part's own frame to the build's: see to_build of pieces
	Doubt    figure        `json:"outline_u_mm,omitempty"`
	Finished *bool         `json:"finished,omitempty"`
}

// ownJSON is said of a piece that has a line of its own: its span and reach are
// stations of that line, and these of the build.
type ownJSON struct {
	Own     bool      `json:"own_line,omitempty"`
	OnCore  bool      `json:"on_core,omitempty"`
	InBuild *spanJSON `json:"stations_of_build,omitempty"`
}

func reportForm(p model.Part) formJSON {
	if p.OnBody() {
		return formJSON{}
	}
	t := p.Frame()
	out := formJSON{Form: p.Form, Thick: figure(p.Plate.Thick), Model: p.Import.File, Frame: &[3][4]figure{}, Doubt: figure(p.Doubt), Finished: &p.Finished}
	if p.Declared != p.ID {
		out.CopyOf = p.Declared
	}
	for i := range 3 {
		for k := range 3 {
			out.Frame[i][k] = figure(t.M[i][k])
		}
		out.Frame[i][3] = figure(t.T[i])
	}
	return out
}

func reportOwn(r job.Result, i int) ownJSON {
	piece := r.Division.Pieces[i]
	if !piece.Own || r.Carved[i].Solid.Empty() {
		return ownJSON{}
	}
	b := r.Carved[i].Solid.Bounds()
	return ownJSON{Own: true, OnCore: piece.OnCore, InBuild: &spanJSON{figure(b.Min[2]), figure(b.Max[2])}}
}
