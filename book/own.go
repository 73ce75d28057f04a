package book

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// ownErrorWords say how far a build without a body may be off.
func ownErrorWords(r job.Result, u unit.System) []drawing.Span {
	var worst model.Part
	for _, p := range r.Design.Parts {
		if p.Doubt > worst.Doubt {
			worst = p
		}
	}
	if worst.Doubt == 0 {
		return []drawing.Span{plain("Outlines and meshes are taken as exact.")}
	}
	return []drawing.Span{
		plain("Largest error at full size: "), bold("±\u00a0" + u.Fine(twice(float64(worst.Doubt)))),
		plain(" at an edge, 95 times in 100, in " + worst.ID + "."),
	}
}

// ownSources say what the shapes of parts rest on that are no stretch of the
// body; copies are said once.
func ownSources(r job.Result, u unit.System) []string {
	var out []string
	said := map[string]bool{}
	for _, p := range r.Design.Parts {
		words := ""
		switch {
		case p.OnBody():
			continue
		case p.Form == model.Imported:
			words = fmt.Sprintf("%s: the mesh %s, × %.4g, taken as exact.", p.ID, p.Import.File, p.Import.Scale)
		case p.Doubt > 0:
			words = fmt.Sprintf("%s: its own outline, typed, good to ± %s at full size (95 times in 100).", p.ID, u.Fine(twice(float64(p.Doubt))))
		default:
			words = p.ID + ": its own outline, typed and taken as exact."
		}
		if key := p.At.File + ":" + p.At.Path; !said[key] {
			said[key] = true
			out = append(out, sentence(words))
		}
	}
	return out
}

// acrossWhat names the width in the title block.
func acrossWhat(r job.Result) string {
	if len(r.Design.Outline) == 0 {
		return "Across"
	}
	return "Across the body"
}
